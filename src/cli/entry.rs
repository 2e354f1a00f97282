//! What `record` can write: its arguments, and the change to the record's text that they mean. Nothing is checked here.

use clap::{Args, Subcommand, ValueEnum};

use super::added::{Extra, fields, text};
use crate::procedure::model::{AxisId, Name, Procedure};
use crate::quantity::{Numeral, Unit};
use crate::record::{Crib, Edit, Named, Put, Written};

/// What is written.
#[derive(Debug, Subcommand)]
pub(super) enum Entry {
    /// A step is done
    Done {
        /// The step, with its position where it is done at several: `lift_piston[2]`
        step: String,
        /// Initials
        #[arg(long)]
        by: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: String,
        /// How long it took, all people together, such as "40 min"
        #[arg(long)]
        time: Option<String>,
        /// Who checked what the step holds for, and signed
        #[arg(long)]
        second: Option<String>,
        /// With which wrench it was tightened
        #[arg(long)]
        wrench: Option<String>,
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
        /// Who says so
        #[arg(long)]
        by: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: Option<String>,
    },
    /// A reading was taken
    Reading {
        /// The gauge, its positions, station and direction, and the value: `bore 1 top along 80.02 mm`
        #[arg(required = true, num_args = 2.., value_name = "GAUGE [PLACE] VALUE")]
        words: Vec<String>,
        #[command(flatten)]
        taken: Taken,
        /// What it was read with, if not with the gauge's own instrument
        #[arg(long)]
        with: Option<String>,
    },
    /// A condition was judged
    Look {
        /// The look, its positions, and the result: `push_rod_ends 2 inlet good`
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
    /// A fastener's length as it came out
    Length {
        /// The set, with its position
        set: String,
        /// The hole
        hole: String,
        /// The length: `45 mm`
        #[arg(required = true, num_args = 1..=2)]
        length: Vec<String>,
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
        /// Who chose it
        #[arg(long)]
        by: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: String,
    },
    /// A size that the engine was bored or ground to before
    Present {
        /// The gauge, with its position where only one is meant
        gauge: String,
        /// By how much it is over or under: `0.25 mm`
        #[arg(required = true, num_args = 1..=2)]
        size: Vec<String>,
    },
    /// Extra work of this job: a step, a part, a tool, work that is sent out
    Add {
        #[command(subcommand)]
        what: Extra,
    },
    /// The owner has agreed
    Approved {
        /// To what; everything that has a price if nothing is named
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
    /// A part, set or supply was ordered
    Ordered {
        /// What, with its position where only one place of it is bought: `piston[2]`
        thing: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: String,
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
    /// A part was sent out
    Sent {
        /// The part, with its position
        part: String,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: String,
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

/// A thing and a day.
#[derive(Debug, Args)]
pub(super) struct Dated {
    /// What, with its position as it was written when it was ordered or sent
    thing: String,
    /// Day, as 2026-03-05
    #[arg(long)]
    date: String,
}

/// When and by whom something was judged.
#[derive(Debug, Args)]
pub(super) struct Taken {
    /// On which occasion
    #[arg(long, value_enum, default_value_t = When::Found)]
    r#as: When,
    /// In place of what stands there: measured or looked at again
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
    /// What happens to what was judged: put there, or in place of what is.
    fn put(&self, written: Written) -> Put {
        if self.again { Put::Instead(written) } else { Put::Value(written) }
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
    /// The change to the text of the record.
    pub(super) fn edit(&self, procedure: &Procedure, crib: &Crib) -> Edit {
        let (path, put): (Vec<&str>, Put) = match self {
            Entry::Done { step, by, date, time, second, wrench, photographs, out_of_order } => {
                let mut done = fields(&[
                    ("by", Some(by)),
                    ("date", Some(date)),
                    ("time", time.as_deref()),
                    ("second", second.as_deref()),
                    ("wrench", wrench.as_deref()),
                    ("out_of_order", out_of_order.as_deref()),
                ]);
                if !photographs.is_empty() {
                    done.push(("photographs".to_owned(), Written::List(photographs.clone())));
                }
                (vec!["done", step], Put::Value(Written::Fields(done)))
            }
            Entry::NotDone { step, because, by, date } => {
                let said = fields(&[("because", Some(because)), ("by", Some(by)), ("date", date.as_deref())]);
                (vec!["not_done", step], Put::Value(Written::Fields(said)))
            }
            Entry::Reading { words, taken, with } => {
                let words = with_value_in_one(words);
                let (name, value) = named(procedure, &words);
                let value = with_unit((procedure, crib), &words, value);
                let rest =
                    [("with", with.as_deref()), ("by", taken.by.as_deref()), ("date", taken.date.as_deref())];
                let put = taken.put(with_fields("value", &value, &rest));
                return Edit { path: vec!["readings".to_owned(), taken.r#as.key().to_owned(), name], put };
            }
            Entry::Look { words, taken } => {
                let (name, result) = named(procedure, words);
                let rest = [("by", taken.by.as_deref()), ("date", taken.date.as_deref())];
                let put = taken.put(with_fields("result", result, &rest));
                return Edit { path: vec!["looks".to_owned(), taken.r#as.key().to_owned(), name], put };
            }
            Entry::Answer { ask, answer, again: true } => (vec!["answers", ask], Put::Instead(text(answer))),
            Entry::Answer { ask, answer, .. } => (vec!["answers", ask], Put::Value(text(answer))),
            Entry::Note { about, says, length, count, thread, size, condition, came, added, by, date } => {
                let mut note = fields(&[("about", Some(about)), ("says", says.as_deref())]);
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
                note.extend(fields(&[("by", by.as_deref()), ("date", date.as_deref())]));
                (vec!["notes"], Put::Item(Written::Fields(note)))
            }
            Entry::Chosen { part, piece, why, by, date } => {
                let piece = piece.join(" ");
                let chosen = fields(&[
                    ("piece", Some(&piece)),
                    ("why", why.as_deref()),
                    ("by", Some(by)),
                    ("date", Some(date)),
                ]);
                (vec!["chosen", part], Put::Value(Written::Fields(chosen)))
            }
            Entry::Present { gauge, size } => (vec!["present", gauge], Put::Value(text(&size.join(" ")))),
            Entry::Settled { thing, word, why, by, date, second, risk } => {
                let put = match why {
                    Some(why) => {
                        let said = vec![(word.clone(), text(why))];
                        let beside = fields(&[
                            ("by", by.as_deref()),
                            ("date", date.as_deref()),
                            ("second", second.as_deref()),
                            ("risk", risk.as_deref()),
                        ]);
                        Written::Fields([said, beside].concat())
                    }
                    None => text(word),
                };
                (vec!["settled", thing], Put::Value(put))
            }
            Entry::Approved { items, by, date, up_to, estimate } => {
                let mut approval = fields(&[("by", Some(by)), ("date", date.as_deref())]);
                if !items.is_empty() {
                    approval.push(("items".to_owned(), Written::List(items.clone())));
                }
                approval.extend(fields(&[("up_to", up_to.as_deref()), ("estimate", estimate.as_deref())]));
                (vec!["approved"], Put::Item(Written::Fields(approval)))
            }
            Entry::Add { what } => {
                let ([kind, id], written) = what.edit();
                (vec!["extra", kind, id], Put::Value(written))
            }
            Entry::Length { set, hole, length } => {
                (vec!["lengths", set, hole], Put::Value(text(&length.join(" "))))
            }
            Entry::Ordered { thing, date, due, supplier, quantity, size } => {
                let order = fields(&[
                    ("ordered", Some(date)),
                    ("due", due.as_deref()),
                    ("supplier", supplier.as_deref()),
                    ("quantity", quantity.as_deref()),
                    ("size", size.as_deref()),
                ]);
                (vec!["orders", thing], Put::Value(Written::Fields(order)))
            }
            Entry::Sent { part, date, to, again } => {
                let sent = Written::Fields(fields(&[("to", to.as_deref()), ("sent", Some(date))]));
                (vec!["sent", part], if *again { Put::Instead(sent) } else { Put::Value(sent) })
            }
            Entry::Refused { part, because, by, date } => {
                let refused = fields(&[
                    ("part", Some(part)),
                    ("because", Some(because)),
                    ("by", Some(by)),
                    ("date", Some(date)),
                ]);
                (vec!["refused"], Put::Item(Written::Fields(refused)))
            }
            Entry::Arrived(of) => (vec!["orders", &of.thing, "arrived"], Put::Value(text(&of.date))),
            Entry::Compared(of) => (vec!["orders", &of.thing, "compared"], Put::Value(text(&of.date))),
            Entry::Back(of) => (vec!["sent", &of.thing, "back"], Put::Value(text(&of.date))),
            Entry::Accepted(of) => (vec!["sent", &of.thing, "accepted"], Put::Value(text(&of.date))),
        };
        Edit { path: path.into_iter().map(str::to_owned).collect(), put }
    }
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
