//! What `record` can write: its arguments, and the change to the record's text that they mean. Nothing is checked here.

use clap::{Args, Subcommand, ValueEnum};

use super::added::{Extra, fields, text};
use super::phases::PhaseName;
use super::{errors, meant, run};
use crate::diagnostics::Diagnostic;
use crate::gather;
use crate::procedure::model::{AxisId, Name, Phase, Procedure};
use crate::quantity::{Numeral, Unit};
use crate::record::{Crib, Date, Edit, Named, Put, Written};

/// What is written.
#[derive(Debug, Subcommand)]
pub(super) enum Entry {
    /// Who is writing, until the day is over: kept in the shop's file, so that nothing else has to say so
    By {
        /// Initials
        initials: String,
        /// The day that is written down, if not today: 2026-03-05, 5.3
        day: Option<String>,
        /// The same
        #[arg(long, conflicts_with = "day")]
        date: Option<String>,
    },
    /// Take the last entry back
    Undo,
    /// Steps are done
    Done {
        /// By number on paper, id or title: `1-9 12 open_head`, `lift_piston[2]`; by several people, or on several days,
        /// with who and when behind them: `1-9 by HK on 5.3 10 12 by RT`
        #[arg(required = true, value_name = "STEP")]
        steps: Vec<String>,
        #[command(flatten)]
        who: Who,
        /// The phase whose numbers are meant, if not the one at work
        #[arg(long, value_enum)]
        phase: Option<PhaseName>,
        /// How long it took, all people together, such as "40 min"
        #[arg(long)]
        time: Option<String>,
        /// Who checked what the step holds for, and signed
        #[arg(long)]
        second: Option<String>,
        /// At what o'clock it was finished, as 14:30
        #[arg(long)]
        at: Option<String>,
        /// With which wrench it was tightened
        #[arg(long)]
        wrench: Option<String>,
        /// What it was tightened to in the end, such as "31 N.m"
        #[arg(long)]
        reached: Option<String>,
        /// A photograph that was taken, by number or name of the file
        #[arg(long = "photograph", value_name = "NAME")]
        photographs: Vec<String>,
        /// Why it was done though steps before it were not
        #[arg(long, value_name = "WHY")]
        out_of_order: Option<String>,
    },
    /// A step is left out, or can't be done any more
    NotDone {
        /// The step, with its position where it is done at several
        step: String,
        /// Why
        because: String,
        #[command(flatten)]
        who: Who,
    },
    /// Readings were taken
    Reading {
        /// The gauge, its positions, station and direction, and the value: `bore 1 top along 80.02 mm`; or values in the
        /// order of the sheet: `lash 0.30 0,35 - 0.40`
        #[arg(required = true, num_args = 2.., value_name = "GAUGE [PLACE] VALUE", allow_negative_numbers = true)]
        words: Vec<String>,
        #[command(flatten)]
        taken: Taken,
        /// What it was read with, if not with the gauge's own instrument
        #[arg(long)]
        with: Option<String>,
    },
    /// Conditions were judged
    Look {
        /// The look, its positions, and the result: `push_rod_ends 2 inlet good`; or results in the order of the sheet
        #[arg(required = true, num_args = 2.., value_name = "LOOK [PLACE] RESULT")]
        words: Vec<String>,
        #[command(flatten)]
        taken: Taken,
    },
    /// A question is answered
    Answer {
        /// The question
        ask: String,
        /// The answer
        answer: String,
        /// In place of the answer that stands there
        #[arg(long)]
        again: bool,
    },
    /// A note on a part, set, hole, joint, reading, look, step or the engine
    Note {
        /// What it is about, with its position: `push_rod[2, inlet]`, `"feet_bolts C"`, `engine`
        about: String,
        /// What is said; may be left out where something was found different
        says: Option<String>,
        /// Its length, found different from the procedure
        #[arg(long)]
        length: Option<String>,
        /// How many there are, found different from the procedure
        #[arg(long)]
        count: Option<String>,
        /// Its thread, found different from the procedure
        #[arg(long)]
        thread: Option<String>,
        /// Its size, found different from the procedure
        #[arg(long)]
        size: Option<String>,
        /// Its condition, where it can't simply go back: `sheared`
        #[arg(long)]
        condition: Option<String>,
        /// It was `off` already, or the engine came `without` it
        #[arg(long)]
        came: Option<String>,
        /// What somebody has added there
        #[arg(long)]
        added: Option<String>,
        /// Initials
        #[arg(long)]
        by: Option<String>,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: Option<String>,
    },
    /// Lengths of fasteners as they came out
    Length {
        /// The set, the hole and the length: `sump_bolts D 35 mm`; or lengths from a hole on: `sump_bolts 20*3 35`
        #[arg(required = true, num_args = 2.., value_name = "SET [HOLE] LENGTH")]
        words: Vec<String>,
    },
    /// What becomes of a part or set that the procedure leaves open, or all the same; or what a reading is that the
    /// instrument leaves in doubt
    Settled {
        /// The part, set or gauge, with its position where only one is meant
        thing: String,
        /// What becomes of it: goes_back, clean_and_back, renew, leave_out or declined; of a reading its band, or good
        word: String,
        /// Why
        why: Option<String>,
        /// Who says so
        #[arg(long, requires = "why")]
        by: Option<String>,
        /// Day, as 2026-03-05
        #[arg(long, requires = "why")]
        date: Option<String>,
        /// Who says so too
        #[arg(long, requires = "by")]
        second: Option<String>,
        /// What may come of it, and is accepted
        #[arg(long, requires = "why")]
        risk: Option<String>,
    },
    /// Which of the pieces that are sold goes in
    Chosen {
        /// The part, with its position where only one is meant
        part: String,
        /// The piece: `1.2 mm`
        #[arg(required = true, num_args = 1..=2)]
        piece: Vec<String>,
        /// Why, where it isn't the one that the reading asks for
        #[arg(long)]
        why: Option<String>,
        #[command(flatten)]
        who: Who,
    },
    /// A size that the engine was bored or ground to before
    Present {
        /// The gauge, with its position where only one is meant
        gauge: String,
        /// By how much it is over or under: `0.25 mm`
        #[arg(required = true, num_args = 1..=2)]
        size: Vec<String>,
    },
    /// The file of what is different in the procedure for this job alone
    Changes {
        /// The file, from the folder of the record: `pump1.changes.rebuild`
        file: String,
        /// In place of the one that stands there
        #[arg(long)]
        again: bool,
    },
    /// Extra work of this job: a step, a part, a tool, work that is sent out
    Add {
        #[command(subcommand)]
        what: Extra,
    },
    /// The owner has agreed
    Approved {
        /// To what; what had a price in the last printed estimate if nothing is named
        items: Vec<String>,
        /// Who
        #[arg(long)]
        by: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: Option<String>,
        /// Up to what sum, such as "1800 EUR"
        #[arg(long)]
        up_to: Option<String>,
        /// Number of the printed estimate: what is new since, or dearer, is not covered
        #[arg(long, value_name = "NUMBER")]
        estimate: Option<String>,
    },
    /// Parts, sets or supplies were ordered
    Ordered {
        /// What, with its position where only one place of it is bought: `piston[2]`
        #[arg(required = true, value_name = "THING")]
        things: Vec<String>,
        /// Day, as 2026-03-05; else today
        #[arg(long)]
        date: Option<String>,
        /// When it should come, as 2026-03-12
        #[arg(long)]
        due: Option<String>,
        /// From whom
        #[arg(long)]
        supplier: Option<String>,
        /// How many pieces
        #[arg(long)]
        quantity: Option<String>,
        /// Its oversize or undersize, such as "0.25 mm"
        #[arg(long)]
        size: Option<String>,
    },
    /// What was ordered has come
    Arrived(Dated),
    /// What came was compared with the old one and found right
    Compared(Dated),
    /// Parts were sent out
    Sent {
        /// The parts, with their positions
        #[arg(required = true, value_name = "PART")]
        parts: Vec<String>,
        /// Day, as 2026-03-05; else today
        #[arg(long)]
        date: Option<String>,
        /// To whom
        #[arg(long)]
        to: Option<String>,
        /// Sent out anew, since it was refused: in place of what stands there
        #[arg(long)]
        again: bool,
    },
    /// A part that was sent out came back
    Back(Dated),
    /// A part that came back has not passed the goods-back check, and goes out again
    Refused {
        /// The part, with its position
        part: String,
        /// Why
        because: String,
        /// Initials
        #[arg(long)]
        by: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: String,
    },
    /// A part that came back has passed the goods-back check
    Accepted(Dated),
}

/// Things and a day.
#[derive(Debug, Args)]
pub(super) struct Dated {
    /// What, with its position as it was written when it was ordered or sent
    #[arg(required = true, value_name = "THING")]
    things: Vec<String>,
    /// Day, as 2026-03-05; else today
    #[arg(long)]
    date: Option<String>,
}

/// Who did something that somebody has to answer for.
#[derive(Debug, Args)]
pub(super) struct Who {
    /// Initials; else whose sitting it is
    #[arg(long)]
    by: Option<String>,
    /// Day, as 2026-03-05; else that of the sitting, or today
    #[arg(long)]
    date: Option<String>,
}

/// Tells the ids of the steps that a word means.
pub(super) type StepsOf<'a> = dyn Fn(&str, Option<Phase>) -> Result<Vec<String>, Vec<Diagnostic>> + 'a;

/// What an entry is written with.
pub(super) struct Context<'a> {
    /// The procedure.
    pub procedure: &'a Procedure,
    /// The shop's crib.
    pub crib: &'a Crib,
    /// Who writes, where that is known.
    pub by: Option<String>,
    /// The day.
    pub date: String,
    /// Ids of the steps that a word means.
    pub steps: &'a StepsOf<'a>,
    /// The fingerprint of a step.
    pub mark: &'a dyn Fn(&str) -> Option<String>,
}

/// When and by whom something was judged.
#[derive(Debug, Args)]
pub(super) struct Taken {
    /// On which occasion
    #[arg(long, value_enum, default_value_t = When::Found)]
    r#as: When,
    /// Measured or looked at again: this one counts, and what stands there is kept as the earlier one
    #[arg(long)]
    again: bool,
    /// Initials
    #[arg(long)]
    by: Option<String>,
    /// Day, as 2026-03-05
    #[arg(long)]
    date: Option<String>,
}

impl Taken {
    /// What happens to what was judged: put there, or before what is, which is kept as taken earlier.
    fn put(&self, key: &'static str, written: Written) -> Put {
        if self.again { Put::Again(key, written) } else { Put::Value(written) }
    }
}

/// Occasions of readings and looks.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum When {
    /// As it came out of the engine
    Found,
    /// As it came back from the machine shop
    Returned,
    /// As it goes in
    Built,
}

impl When {
    fn key(self) -> &'static str {
        match self {
            When::Found => "as_found",
            When::Returned => "as_returned",
            When::Built => "as_built",
        }
    }
}

/// A value with fields beside it, or alone where there are none.
fn with_fields(key: &str, value: &str, rest: &[(&str, Option<&str>)]) -> Written {
    let rest = fields(rest);
    if rest.is_empty() {
        return text(value);
    }
    Written::Fields([vec![(key.to_owned(), text(value))], rest].concat())
}

impl Entry {
    /// Who did it, and when, as it was typed; none of an entry that nobody signs.
    pub(super) fn signature(&self) -> (Option<&str>, Option<&str>) {
        match self {
            Entry::Done { who, .. } | Entry::NotDone { who, .. } | Entry::Chosen { who, .. } => {
                (who.by.as_deref(), who.date.as_deref())
            }
            Entry::Reading { taken, .. } | Entry::Look { taken, .. } => {
                (taken.by.as_deref(), taken.date.as_deref())
            }
            Entry::Note { by, date, .. } => (by.as_deref(), date.as_deref()),
            Entry::Ordered { date, .. } | Entry::Sent { date, .. } => (None, date.as_deref()),
            Entry::Arrived(of) | Entry::Compared(of) | Entry::Back(of) | Entry::Accepted(of) => {
                (None, of.date.as_deref())
            }
            _ => (None, None),
        }
    }

    /// Whether it is asked who signs for it.
    pub(super) fn is_signed(&self) -> bool {
        match self {
            Entry::Done { steps, who, .. } => {
                who.by.is_none() && stretches(steps).iter().any(|stretch| stretch.by.is_none())
            }
            Entry::NotDone { who, .. } | Entry::Chosen { who, .. } => who.by.is_none(),
            _ => false,
        }
    }

    /// The changes to the text of the record.
    ///
    /// # Errors
    /// A step is named that there isn't, or a run has too many values.
    pub(super) fn edits(&self, context: &Context) -> Result<Vec<Edit>, Vec<Diagnostic>> {
        let Context { procedure, crib, by, date, .. } = context;
        let by = by.as_deref();
        // Without initials a day is written only where it was typed.
        let day = |typed: &Option<String>| (typed.is_some() || by.is_some()).then_some(date.as_str());
        match self {
            Entry::Done {
                steps,
                who: _,
                phase,
                time,
                second,
                at: hour,
                wrench,
                reached,
                photographs,
                out_of_order,
            } => {
                let mut edits = Vec::new();
                let phase = phase.map(PhaseName::phase);
                let mut ids: Vec<(String, Option<&str>, String)> = Vec::new();
                for stretch in stretches(steps) {
                    let on = match stretch.on {
                        Some(typed) => context.day(typed)?,
                        None => date.clone(),
                    };
                    for step in stretch.steps {
                        let meant = (context.steps)(step, phase)?.into_iter();
                        ids.extend(meant.map(|id| (id, stretch.by.or(by), on.clone())));
                    }
                }
                ids.dedup_by(|one, other| one.0 == other.0);
                for (id, by, date) in ids {
                    let mut done = fields(&[
                        ("by", by),
                        ("date", Some(&date)),
                        ("at", hour.as_deref()),
                        ("time", time.as_deref()),
                        ("second", second.as_deref()),
                        ("wrench", wrench.as_deref()),
                        ("reached", reached.as_deref()),
                        ("out_of_order", out_of_order.as_deref()),
                    ]);
                    if !photographs.is_empty() {
                        done.push(("photographs".to_owned(), Written::List(photographs.clone())));
                    }
                    done.extend((context.mark)(&id).map(|mark| ("fingerprint".to_owned(), text(&mark))));
                    edits.push(at(&["done", &id], Put::Value(Written::Fields(done))));
                }
                return Ok(edits);
            }
            Entry::Reading { words, taken, with } => {
                let run = run::readings(procedure, crib, words).map_err(|wrong| vec![wrong])?;
                let values = run.unwrap_or_else(|| {
                    let words = with_value_in_one(words);
                    let (name, value) = named(procedure, &words);
                    vec![(name, with_unit((procedure, crib), &words, value))]
                });
                let rest = [("with", with.as_deref()), ("by", by), ("date", day(&taken.date))];
                let one = |(name, value): (String, String)| {
                    at(
                        &["readings", taken.r#as.key(), &name],
                        taken.put("value", with_fields("value", &value, &rest)),
                    )
                };
                return Ok(values.into_iter().map(one).collect());
            }
            Entry::Look { words, taken } => {
                let run = run::readings(procedure, crib, words).map_err(|wrong| vec![wrong])?;
                let results = run.unwrap_or_else(|| {
                    let (name, result) = named(procedure, words);
                    vec![(name, result.to_owned())]
                });
                let rest = [("by", by), ("date", day(&taken.date))];
                let one = |(name, result): (String, String)| {
                    at(
                        &["looks", taken.r#as.key(), &name],
                        taken.put("result", with_fields("result", &result, &rest)),
                    )
                };
                return Ok(results.into_iter().map(one).collect());
            }
            Entry::Length { words } => {
                let run = run::lengths(procedure, words).map_err(|wrong| vec![wrong])?;
                let set = meant::thing(procedure, &words[0]);
                let lengths = run.unwrap_or_else(|| {
                    let hole = words.get(1).cloned().unwrap_or_default();
                    vec![(hole, words.get(2..).unwrap_or_default().join(" "))]
                });
                let one = |(hole, length): (String, String)| {
                    at(&["lengths", &set, &hole], Put::Value(text(&length)))
                };
                return Ok(lengths.into_iter().map(one).collect());
            }
            Entry::Ordered { things, date: _, due, supplier, quantity, size } => {
                let order = fields(&[
                    ("ordered", Some(date)),
                    ("due", in_full(due, date).as_deref()),
                    ("supplier", supplier.as_deref()),
                    ("quantity", quantity.as_deref()),
                    ("size", size.as_deref()),
                ]);
                let order = Put::Value(Written::Fields(order));
                return Ok(each(procedure, things, |thing| at(&["orders", thing], order.clone())));
            }
            Entry::Sent { parts, date: _, to, again } => {
                let sent = Written::Fields(fields(&[("to", to.as_deref()), ("sent", Some(date))]));
                let put = if *again { Put::Instead(sent) } else { Put::Value(sent) };
                return Ok(each(procedure, parts, |part| at(&["sent", part], put.clone())));
            }
            Entry::Arrived(of) => return Ok(of.stage(context, "orders", "arrived")),
            Entry::Compared(of) => return Ok(of.stage(context, "orders", "compared")),
            Entry::Back(of) => return Ok(of.stage(context, "sent", "back")),
            Entry::Accepted(of) => return Ok(of.stage(context, "sent", "accepted")),
            _ => {}
        }
        Ok(self.edit(context).into_iter().collect())
    }

    /// The one change that every other entry is; none for what changes no record.
    fn edit(&self, context: &Context) -> Option<Edit> {
        let Context { procedure, by, date: day, .. } = context;
        let by_now = by.as_deref();
        let thing = |typed: &str| meant::thing(procedure, typed);
        let (path, put): (Vec<String>, Put) = match self {
            Entry::NotDone { step, because, .. } => {
                let step = (context.steps)(step, None).ok().and_then(|ids| ids.into_iter().next());
                let said = fields(&[("because", Some(because)), ("by", by_now), ("date", Some(day))]);
                (vec!["not_done".to_owned(), step?], Put::Value(Written::Fields(said)))
            }
            Entry::Answer { ask, answer, again } => {
                let put = if *again { Put::Instead(text(answer)) } else { Put::Value(text(answer)) };
                (vec!["answers".to_owned(), ask.clone()], put)
            }
            Entry::Note { about, says, length, count, thread, size, condition, came, added, by: _, date } => {
                let about = thing(about);
                let mut note = fields(&[("about", Some(&about)), ("says", says.as_deref())]);
                let found = fields(&[
                    ("length", length.as_deref()),
                    ("count", count.as_deref()),
                    ("thread", thread.as_deref()),
                    ("size", size.as_deref()),
                    ("condition", condition.as_deref()),
                    ("came", came.as_deref()),
                    ("added", added.as_deref()),
                ]);
                if !found.is_empty() {
                    note.push(("found".to_owned(), Written::Fields(found)));
                }
                let day = (date.is_some() || by_now.is_some()).then_some(day.as_str());
                note.extend(fields(&[("by", by_now), ("date", day)]));
                (vec!["notes".to_owned()], Put::Item(Written::Fields(note)))
            }
            Entry::Chosen { part, piece, why, .. } => {
                let piece = piece.join(" ");
                let chosen = fields(&[
                    ("piece", Some(&piece)),
                    ("why", why.as_deref()),
                    ("by", by_now),
                    ("date", Some(day)),
                ]);
                (vec!["chosen".to_owned(), thing(part)], Put::Value(Written::Fields(chosen)))
            }
            Entry::Present { gauge, size } => {
                (vec!["present".to_owned(), thing(gauge)], Put::Value(text(&size.join(" "))))
            }
            Entry::Settled { thing: about, word, why, by, date, second, risk } => {
                let put = match why {
                    Some(why) => {
                        let said = vec![(word.clone(), text(why))];
                        let beside = fields(&[
                            ("by", by.as_deref()),
                            ("date", in_full(date, day).as_deref()),
                            ("second", second.as_deref()),
                            ("risk", risk.as_deref()),
                        ]);
                        Written::Fields([said, beside].concat())
                    }
                    None => text(word),
                };
                (vec!["settled".to_owned(), thing(about)], Put::Value(put))
            }
            Entry::Approved { items, by, date, up_to, estimate } => {
                let mut approval = fields(&[("by", Some(by)), ("date", in_full(date, day).as_deref())]);
                if !items.is_empty() {
                    approval.push(("items".to_owned(), Written::List(items.clone())));
                }
                approval.extend(fields(&[("up_to", up_to.as_deref()), ("estimate", estimate.as_deref())]));
                (vec!["approved".to_owned()], Put::Item(Written::Fields(approval)))
            }
            Entry::Changes { file, again } => {
                let put = if *again { Put::Instead(text(file)) } else { Put::Value(text(file)) };
                (vec!["changes".to_owned()], put)
            }
            Entry::Add { what } => {
                let ([kind, id], written) = what.edit();
                (vec!["extra".to_owned(), kind.to_owned(), id.to_owned()], Put::Value(written))
            }
            Entry::Refused { part, because, by, date } => {
                let refused = fields(&[
                    ("part", Some(&thing(part))),
                    ("because", Some(because)),
                    ("by", Some(by)),
                    ("date", Some(date)),
                ]);
                (vec!["refused".to_owned()], Put::Item(Written::Fields(refused)))
            }
            _ => return None,
        };
        Some(Edit { path, put })
    }
}

/// Steps that are done by one person on one day.
struct Stretch<'a> {
    steps: Vec<&'a str>,
    by: Option<&'a str>,
    on: Option<&'a str>,
}

/// `1-9 by HK on 5.3 10 12 by RT`: a day holds for what comes behind it too, until another is named.
fn stretches(words: &[String]) -> Vec<Stretch<'_>> {
    let mut made: Vec<Stretch> = Vec::new();
    let mut rest = words.iter().map(String::as_str);
    let mut closed = true;
    while let Some(word) = rest.next() {
        match (word, made.last_mut()) {
            ("by", Some(last)) => (last.by, closed) = (rest.next(), true),
            ("on", Some(last)) => (last.on, closed) = (rest.next(), true),
            (step, Some(last)) if !closed => last.steps.push(step),
            (step, last) => {
                let on = last.and_then(|last| last.on);
                made.push(Stretch { steps: vec![step], by: None, on });
                closed = false;
            }
        }
    }
    made
}

impl Context<'_> {
    /// A day as it is typed, as the record writes it.
    fn day(&self, typed: &str) -> Result<String, Vec<Diagnostic>> {
        let day = Date::parse(&self.date).and_then(|today| gather::day(typed, today));
        day.map(|day| day.to_string()).ok_or_else(|| vec![errors::wrong_day(typed)])
    }
}

impl Dated {
    /// A day of each of the things.
    fn stage(&self, context: &Context, list: &str, stage: &str) -> Vec<Edit> {
        each(context.procedure, &self.things, |thing| {
            at(&[list, thing, stage], Put::Value(text(&context.date)))
        })
    }
}

fn at(path: &[&str], put: Put) -> Edit {
    Edit { path: path.iter().map(|key| (*key).to_owned()).collect(), put }
}

/// A change for each of some things.
fn each(procedure: &Procedure, things: &[String], change: impl Fn(&str) -> Edit) -> Vec<Edit> {
    things.iter().map(|thing| change(&meant::thing(procedure, thing))).collect()
}

/// The words with a number and the unit behind it as one, as they are without quotes at the end of a line.
fn with_value_in_one(words: &[String]) -> Vec<String> {
    match words {
        [before @ .., number, unit] if Unit::find(unit).is_some() && Numeral::parse(number).is_some() => {
            [before, &[format!("{number} {unit}")]].concat()
        }
        _ => words.to_vec(),
    }
}

/// `bore 1 top along 80.02 mm` as the name `bore[1] top along` and the value. A name that has its positions in
/// brackets already is left as it is.
fn named<'a>(procedure: &Procedure, words: &'a [String]) -> (String, &'a str) {
    let (Some(first), Some(value)) = (words.first(), words.last()) else { return (String::new(), "") };
    let Some(mut named) = Named::typed(first) else { return (first.clone(), value) };
    let axes: &[AxisId] = match procedure.names.get(&named.name) {
        _ if !named.positions.is_empty() => &[],
        Some(Name::Gauge(id)) => &procedure.gauge(*id).axes,
        Some(Name::Look(id)) => &procedure.look(*id).axes,
        _ => &[],
    };
    let middle = words[1..words.len() - 1].iter().flat_map(|word| word.split([',', ' ']));
    let mut middle = middle.filter(|word| !word.is_empty()).map(str::to_owned);
    named.positions.extend(middle.by_ref().take(axes.len()));
    named.words.extend(middle);
    (named.to_string(), value)
}

/// A bare number gets the unit in which this shop writes its gauge down, which is the one on the sheet.
fn with_unit((procedure, crib): (&Procedure, &Crib), words: &[String], value: &str) -> String {
    let name = words.first().and_then(|word| Named::typed(word)).map(|named| named.name);
    let bare = Numeral::parse(value).is_some();
    let Some(Name::Gauge(id)) = name.and_then(|name| procedure.names.get(&name)) else {
        // That there is no such gauge is what is to be told, and not that the value has no unit.
        return if bare { format!("{} mm", value.trim()) } else { value.to_owned() };
    };
    match procedure.gauge(*id).unit {
        Some(unit) if bare => {
            format!("{} {}", value.trim(), crib.measured_in(unit).symbol)
        }
        _ => value.to_owned(),
    }
}

/// A day as the record has it: without its year it is in that of `today`. What is no day stands as it was typed, and the record
/// says what is wrong with it.
fn in_full(typed: &Option<String>, today: &str) -> Option<String> {
    let typed = typed.as_ref()?;
    let day = Date::parse(today).and_then(|today| gather::day(typed, today));
    Some(day.map_or_else(|| typed.clone(), |day| day.to_string()))
}
