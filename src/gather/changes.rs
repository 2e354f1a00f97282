//! What was filled in beside what the record says, to the changes of its text: what is new is written, what stands there
//! already is left, and what would say otherwise is refused, number by number.

use std::collections::BTreeSet;

use super::printed::{Number, Printed};
use super::typed::Filled;
use super::value::written;
use crate::quantity::Quantity;
use crate::record::{Date, Edit, Put, Written, standing};
use crate::sheet::Form;

/// What ticks a box: what people type, and what forms and spreadsheets have for it.
const TICKS: [&str; 7] = ["x", "✓", "1", "yes", "on", "true", "done"];

/// By whom it was filled in, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Hand {
    /// Initials; without them only what needs none can be written.
    pub by: Option<String>,
    /// The day.
    pub date: Date,
    /// Whether a value is put in place of the one that stands there.
    pub again: bool,
}

/// What is known of the job today.
pub(crate) struct Today<'a> {
    /// The text of the record.
    pub record: &'a str,
    /// The fingerprint of a step in the procedure as it is now; none for one that isn't of the job any more.
    pub mark: &'a dyn Fn(&str) -> Option<String>,
}

/// Something understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Gathered {
    /// Its number.
    pub number: String,
    /// What it is.
    pub what: String,
    /// The value.
    pub value: String,
}

/// What is to be written, and what is to be said of it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Changes {
    /// Changes to the text of the record, in this order.
    pub edits: Vec<Edit>,
    /// What they say.
    pub new: Vec<Gathered>,
    /// What the record says already.
    pub known: Vec<Gathered>,
    /// Steps of which some boxes are ticked and others not.
    pub begun: Vec<String>,
    /// Numbers that are refused, each with why.
    pub refused: Vec<(String, String)>,
}

/// Works out the changes. Steps come first: what is kept with a step needs it to be done.
pub(crate) fn changes(printed: &Printed, filled: &Filled, hand: &Hand, today: &Today) -> Changes {
    let mut made = Changes::default();
    let mut done = done_steps(printed, filled, &mut made);
    done.sort_unstable();
    done.dedup();
    for step in &done {
        finish(printed, filled, step, hand, today, &mut made);
    }
    let mut seen: BTreeSet<usize> = BTreeSet::new();
    // In the order of the sheets, whatever it was filled into: the record is the same from paper, table and screen.
    let mut values: Vec<&(usize, String)> = filled.values.iter().collect();
    values.sort_by_key(|(at, _)| *at);
    for (at, value) in values {
        let number = &printed.numbers[*at];
        if number.form.is_none() {
            if !is_tick(value) {
                made.refused.push((number.number.clone(), format!("`{value}` is no tick: x, or nothing")));
            }
            continue;
        }
        if !seen.insert(*at) {
            made.refused.push((number.number.clone(), "it is filled in twice".to_owned()));
            continue;
        }
        let hand = &hand.at(filled, *at);
        if let Err(why) = put(printed, (number, value), hand, today, &mut made) {
            made.refused.push((number.number.clone(), why));
        }
    }
    made
}

/// Whether what stands at a box ticks it.
fn is_tick(value: &str) -> bool {
    TICKS.iter().any(|tick| value.trim().eq_ignore_ascii_case(tick))
}

impl Hand {
    /// Whose hand filled in what stands at a place: the one that is told of it alone, else this.
    fn at(&self, filled: &Filled, at: usize) -> Hand {
        let signed = filled.signed.get(&at).cloned().unwrap_or_default();
        Hand { by: signed.by.or_else(|| self.by.clone()), date: signed.date.unwrap_or(self.date), ..*self }
    }
}

/// Numbers of the steps that are done: those named, and those of which every box is ticked.
fn done_steps(printed: &Printed, filled: &Filled, made: &mut Changes) -> Vec<u64> {
    let mut done = filled.done.clone();
    let ticked: BTreeSet<usize> =
        filled.values.iter().map(|(at, _)| *at).filter(|at| printed.numbers[*at].form.is_none()).collect();
    let mut told: Vec<&str> = Vec::new();
    for at in &ticked {
        let Number { step: Some(id), also, .. } = &printed.numbers[*at] else { continue };
        if std::mem::replace(&mut told, vec![id]).contains(&id.as_str()) {
            continue;
        }
        let boxes = printed.numbers.iter().enumerate();
        let boxes = boxes.filter(|(_, number)| number.form.is_none() && number.step.as_ref() == Some(id));
        let (all, on): (usize, usize) =
            boxes.fold((0, 0), |(all, on), (at, _)| (all + 1, on + usize::from(ticked.contains(&at))));
        // Several steps that are told as one have their boxes together.
        let ids: Vec<&String> = std::iter::once(id).chain(also).collect();
        let steps = printed.steps.iter().filter(|step| ids.contains(&&step.id));
        let numbers: Vec<u64> = steps.filter_map(|step| step.number).collect();
        if all == on {
            done.extend(numbers);
        } else if let Some(step) = numbers.first().filter(|_| !numbers.iter().all(|step| done.contains(step)))
        {
            made.begun.push(format!("step {step}: {on} of {all} boxes are ticked, so it is not done yet"));
        }
    }
    done
}

/// Marks every step of a number as done, by whoever ticked the last of its boxes.
fn finish(printed: &Printed, filled: &Filled, number: &u64, hand: &Hand, today: &Today, made: &mut Changes) {
    let of_number = |id: &str| printed.steps.iter().any(|step| step.id == id && step.number == Some(*number));
    let boxes = filled.values.iter().map(|(at, _)| *at).filter(|at| {
        let box_of = &printed.numbers[*at];
        let mut steps = box_of.step.iter().chain(&box_of.also);
        box_of.form.is_none() && steps.any(|id| of_number(id))
    });
    // The day on which it was done is the last one; of one day, what stands last on the sheet.
    let last = boxes.map(|at| (hand.at(filled, at).date, at)).max();
    let hand = &last.map_or_else(|| hand.clone(), |(_, at)| hand.at(filled, at));
    for step in printed.steps.iter().filter(|step| step.number == Some(*number)) {
        let place = standing(today.record, &["done".to_owned(), step.id.clone()]);
        let told = Gathered { number: number.to_string(), what: step.id.clone(), value: "done".to_owned() };
        if !place.texts.is_empty() {
            made.known.push(told);
            continue;
        }
        match (outdated(printed, &step.id, today), &hand.by) {
            (Some(why), _) => made.refused.push((number.to_string(), why)),
            (None, None) => made.refused.push((number.to_string(), "nobody says who did it".to_owned())),
            (None, Some(by)) => {
                let mut fields = vec![field("by", by), field("date", &hand.date.to_string())];
                fields.extend((today.mark)(&step.id).map(|mark| field("fingerprint", &mark)));
                made.edits.push(Edit { path: place.keys, put: Put::Value(Written::Fields(fields)) });
                made.new.push(told);
            }
        }
    }
}

/// Why what stands at a step can't be taken over, because the step is no longer what was printed.
fn outdated(printed: &Printed, id: &str, today: &Today) -> Option<String> {
    let then = printed.steps.iter().find(|step| step.id == id)?.fingerprint.as_ref()?;
    match (today.mark)(id) {
        None => Some(format!("its step `{id}` is not of this job any more")),
        Some(now) if now != *then => Some(format!("its step `{id}` has changed since this was printed")),
        Some(_) => None,
    }
}

fn put(
    printed: &Printed,
    (number, typed): (&Number, &str),
    hand: &Hand,
    today: &Today,
    made: &mut Changes,
) -> Result<(), String> {
    if let Some(why) = number.step.as_deref().and_then(|id| outdated(printed, id, today)) {
        return Err(why);
    }
    let form = number.form.as_ref().unwrap_or(&Form::Text);
    let value = written(form, typed, hand.date)?;
    let told = Gathered { number: number.number.clone(), what: number.what.clone(), value: value.clone() };
    if number.keys.is_empty() {
        return note(number, &value, hand, today, (made, told));
    }
    let place = standing(today.record, &number.keys);
    // What is asked at two numbers is written once.
    let pending = made.edits.iter().find(|change| change.path == place.keys && !matches!(form, Form::Item));
    if let Some(Put::Value(other) | Put::Instead(other) | Put::Again(_, other)) =
        pending.map(|change| &change.put)
    {
        return match said(other) {
            Some(text) if same_value(text, &value) => {
                made.known.push(told);
                Ok(())
            }
            text => Err(format!("{} is filled in elsewhere for the same", text.unwrap_or_default())),
        };
    }
    let stands = |text: &String| same_value(text, &value);
    if matches!(form, Form::Item) {
        if place.texts.iter().any(stands) {
            made.known.push(told);
        } else {
            made.edits.push(Edit { path: place.keys, put: Put::Item(Written::Text(value)) });
            made.new.push(told);
        }
        return Ok(());
    }
    let written = match (number.keys[0].as_str(), &hand.by) {
        ("readings", Some(by)) => signed("value", &value, by, hand.date),
        ("looks", Some(by)) => signed("result", &value, by, hand.date),
        _ => Written::Text(value.clone()),
    };
    let put = match place.texts.first() {
        Some(text) if stands(text) => {
            made.known.push(told);
            return Ok(());
        }
        Some(text) if !hand.again => return Err(format!("the record says {text} there")),
        Some(_) => match number.keys[0].as_str() {
            "readings" => Put::Again("value", written),
            "looks" => Put::Again("result", written),
            _ => Put::Instead(written),
        },
        None => Put::Value(written),
    };
    made.edits.push(Edit { path: place.keys, put });
    made.new.push(told);
    Ok(())
}

/// What has no place of its own in the record is kept as a note on its step, or on the engine.
fn note(
    number: &Number,
    value: &str,
    hand: &Hand,
    today: &Today,
    (made, told): (&mut Changes, Gathered),
) -> Result<(), String> {
    let says = format!("{}: {value}", number.what);
    if standing(today.record, &["notes".to_owned()]).texts.contains(&says) {
        made.known.push(told);
        return Ok(());
    }
    let about = number.step.as_deref().unwrap_or("engine");
    let mut fields = vec![field("about", about), field("says", &says)];
    fields.extend(hand.by.as_ref().map(|by| field("by", by)));
    fields.push(field("date", &hand.date.to_string()));
    made.edits.push(Edit { path: vec!["notes".to_owned()], put: Put::Item(Written::Fields(fields)) });
    made.new.push(told);
    Ok(())
}

/// The value of what is to be written.
fn said(written: &Written) -> Option<&str> {
    match written {
        Written::Text(text) => Some(text),
        Written::Fields(fields) => fields.iter().find_map(|(key, value)| match value {
            Written::Text(text) if ["value", "result"].contains(&key.as_str()) => Some(text.as_str()),
            _ => None,
        }),
        Written::List(_) | Written::Items(_) => None,
    }
}

fn field(key: &str, value: &str) -> (String, Written) {
    (key.to_owned(), Written::Text(value.to_owned()))
}

fn signed(key: &str, value: &str, by: &str, date: Date) -> Written {
    Written::Fields(vec![field(key, value), field("by", by), field("date", &date.to_string())])
}

/// Whether two texts say the same: the same words, or the same quantity.
fn same_value(one: &str, other: &str) -> bool {
    let base =
        |text: &str| Quantity::parse(text).ok().map(|quantity| (quantity.dimension(), quantity.base()));
    one == other
        || match (base(one), base(other)) {
            (Some((one_of, one)), Some((other_of, other))) => {
                one_of == other_of && (one - other).abs() <= 1e-9 * one.abs().max(other.abs())
            }
            _ => false,
        }
}
