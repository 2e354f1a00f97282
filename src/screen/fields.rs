//! What is ticked and written: one control for each, with the number that it has on paper, and a name that is read aloud.

use std::collections::BTreeMap;

use super::markup::Tag;
use crate::gather::{Number, Printed};
use crate::sheet::{Field, Form};

/// What the numbers of a packet mean, and how many controls were made.
pub(super) struct Fields<'a> {
    meanings: BTreeMap<&'a str, &'a Number>,
    made: usize,
}

/// Something to fill in.
#[derive(Default)]
pub(super) struct Asked<'a> {
    /// Its number; empty for what is only ticked off here.
    pub number: &'a str,
    /// What it is, where the number doesn't say.
    pub about: &'a str,
    /// Words shown beside it.
    pub shown: &'a str,
    /// Whether it is ticked already.
    pub ticked: bool,
}

impl<'a> Fields<'a> {
    /// What the plan of a packet says.
    pub(super) fn of(printed: &'a Printed) -> Self {
        Fields {
            meanings: printed.numbers.iter().map(|number| (number.number.as_str(), number)).collect(),
            made: 0,
        }
    }

    fn next(&mut self) -> String {
        self.made += 1;
        format!("f{}", self.made)
    }

    fn meaning(&self, number: &str) -> Option<&'a Number> {
        self.meanings.get(number).copied()
    }

    /// What is read aloud: what it is, and its number.
    fn name(&self, asked: &Asked) -> String {
        let what = self.meaning(asked.number).map_or(asked.about, |meaning| meaning.what.as_str());
        let mut name = what.trim().to_owned();
        for more in [asked.shown, asked.number] {
            if !name.ends_with(more) {
                name = format!("{name} {more}").trim().to_owned();
            }
        }
        name
    }

    /// A box to tick.
    pub(super) fn tick(&mut self, out: &mut String, asked: &Asked) {
        let id = self.next();
        let name = self.name(asked);
        Tag::new("label").with("class", "box").around(out, |out| {
            Tag::new("input")
                .with("type", "checkbox")
                .with("id", &id)
                .with("data-n", if asked.ticked { "" } else { asked.number })
                .with("aria-label", name)
                .flag("checked disabled", asked.ticked)
                .alone(out);
            if !asked.shown.is_empty() {
                Tag::new("span").of(out, asked.shown);
            }
            number(out, asked.number);
        });
    }

    /// One of several results; those of one number exclude each other.
    pub(super) fn result(&mut self, out: &mut String, asked: &Asked, index: usize, shown: &str) {
        let id = self.next();
        let word = match self.meaning(asked.number).and_then(|meaning| meaning.form.as_ref()) {
            Some(Form::Word(words)) => words.get(index).cloned().unwrap_or_default(),
            _ => shown.to_owned(),
        };
        let what = self.meaning(asked.number).map_or(asked.about, |meaning| meaning.what.as_str());
        Tag::new("label").with("class", "box").around(out, |out| {
            Tag::new("input")
                .with("type", "radio")
                .with("id", &id)
                .with("name", format!("r {}", asked.number))
                .with("data-n", asked.number)
                .with("value", &word)
                .with("aria-label", format!("{} {} {}", what.trim(), word.replace('_', " "), asked.number))
                .flag("checked", asked.ticked)
                .alone(out);
            if !asked.shown.is_empty() {
                Tag::new("span").of(out, asked.shown);
            }
        });
    }

    /// A blank to write in, with its unit behind it; with `again` a second one beside it for the reading that checks the first.
    pub(super) fn blank(
        &mut self,
        out: &mut String,
        asked: &Asked,
        field: Option<&Field>,
        unit: &str,
        again: bool,
    ) {
        let id = self.next();
        let name = self.name(asked);
        let form = self.meaning(asked.number).and_then(|meaning| meaning.form.as_ref());
        let entry = field.and_then(|field| field.entry.as_ref());
        let spoken = format!("{name} {unit}").trim().to_owned();
        Tag::new("span").with("class", "blank").around(out, |out| {
            match form {
                Some(Form::Word(words)) => {
                    let select = Tag::new("select").with("id", &id).with("data-n", asked.number);
                    select.with("aria-label", &spoken).around(out, |out| {
                        Tag::new("option").with("value", "").of(out, "–");
                        for word in words {
                            Tag::new("option").with("value", word).of(out, &word.replace('_', " "));
                        }
                    });
                }
                _ => {
                    let (kind, mode) = match form {
                        Some(Form::Quantity(_)) => ("text", "decimal"),
                        Some(Form::Count) => ("text", "numeric"),
                        Some(Form::Day) => ("date", "text"),
                        _ => ("text", "text"),
                    };
                    let mut input = Tag::new("input")
                        .with("type", kind)
                        .with("id", &id)
                        .with("data-n", asked.number)
                        .with("inputmode", mode)
                        .with("autocomplete", "off")
                        .with("aria-label", &spoken)
                        .with("aria-describedby", format!("{id}s"));
                    if let Some((low, high)) = entry.and_then(|entry| entry.plausible) {
                        input = input.with("data-low", low).with("data-high", high);
                    }
                    input.alone(out);
                }
            }
            if again {
                let second = format!("{id}again");
                Tag::new("input")
                    .with("type", "text")
                    .with("id", &second)
                    .with("data-again", &id)
                    .with("inputmode", "decimal")
                    .with("autocomplete", "off")
                    .with("placeholder", "again")
                    .with("aria-label", format!("{spoken}, read again"))
                    .alone(out);
            }
            if !unit.is_empty() {
                Tag::new("span").with("class", "unit").with("aria-hidden", "true").of(out, unit);
            }
            number(out, asked.number);
            Tag::new("span").with("class", "slip").with("id", format!("{id}s")).of(out, "");
        });
    }

    /// A name to be signed with at a hold point.
    pub(super) fn signature(&mut self, out: &mut String, asked: &Asked) {
        let id = self.next();
        Tag::new("label").with("for", &id).of(out, "Seen by");
        Tag::new("input")
            .with("type", "text")
            .with("id", &id)
            .with("data-n", asked.number)
            .flag("data-hold", true)
            .with("autocomplete", "off")
            .with("aria-label", format!("Seen by, at the hold point {}", asked.number))
            .with("aria-describedby", format!("{id}s"))
            .alone(out);
        number(out, asked.number);
        Tag::new("span").with("class", "slip").with("id", format!("{id}s")).of(out, "");
    }
}

/// The number beside a control, as on paper.
fn number(out: &mut String, number: &str) {
    if !number.is_empty() {
        Tag::new("span").with("class", "no").of(out, number);
    }
}
