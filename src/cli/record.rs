//! `record`: writes into the record of a job. Names are checked before anything is written, comments and order of the
//! file stay, and two writers at once lose nothing.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Subcommand, ValueEnum};

use super::{checked::together, errors, job, output};
use crate::decide::progress;
use crate::diagnostics::{Diagnostic, Outcome, unreadable};
use crate::network::connect;
use crate::packet::step_marks;
use crate::procedure::model::{AxisId, Name, Procedure};
use crate::quantity::Numeral;
use crate::record::{Crib, Date, Edit, Put, Refusal, Written, edit};
use crate::source::{FileId, Lock, Sources, write_atomically};

/// Write into the record of a job
#[derive(Debug, Args)]
pub struct Record {
    /// The record
    #[arg(value_name = "JOB.yaml")]
    job: PathBuf,
    #[command(subcommand)]
    entry: Entry,
}

/// What is written.
#[derive(Debug, Subcommand)]
enum Entry {
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
    },
    /// A reading was taken
    Reading {
        /// The gauge, its positions, station and direction, and the value: `bore 1 top along "80.02 mm"`
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
    },
    /// A note on a part, set, joint or step
    Note {
        /// What it is about, with its position: `push_rod[2, inlet]`
        about: String,
        /// What is said
        says: String,
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
        /// The length
        length: String,
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
    },
    /// A part that was sent out came back
    Back(Dated),
    /// A part that came back has passed the goods-back check
    Accepted(Dated),
}

/// A thing and a day.
#[derive(Debug, Args)]
struct Dated {
    /// What, with its position as it was written when it was ordered or sent
    thing: String,
    /// Day, as 2026-03-05
    #[arg(long)]
    date: String,
}

/// When and by whom something was judged.
#[derive(Debug, Args)]
struct Taken {
    /// On which occasion
    #[arg(long, value_enum, default_value_t = When::Found)]
    r#as: When,
    /// Initials
    #[arg(long)]
    by: Option<String>,
    /// Day, as 2026-03-05
    #[arg(long)]
    date: Option<String>,
}

/// Occasions of readings and looks.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum When {
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

impl Record {
    pub fn run(&self) -> ExitCode {
        let mut sources = Sources::new();
        let (diagnostics, code) = match self.write(&mut sources) {
            Ok(()) => return ExitCode::SUCCESS,
            Err(diagnostics) => {
                let diagnostics = together(diagnostics);
                let code = output::exit_code(&diagnostics);
                (diagnostics, code)
            }
        };
        output::report(&sources, &output::without_notices(diagnostics), output::Format::Text);
        code
    }

    fn write(&self, sources: &mut Sources) -> Result<(), Vec<Diagnostic>> {
        let _lock = Lock::wait(&self.job).map_err(|error| vec![errors::unwritable(&self.job, &error)])?;
        let file = sources.read(&self.job).map_err(|failure| vec![unreadable(&self.job, &failure)])?;
        let before = job::load_text(sources, file, &self.job, job::Named::default());
        let loaded = match before.value {
            Some(loaded) if output::exit_code(&before.diagnostics) == ExitCode::SUCCESS => loaded,
            _ => return Err(before.diagnostics),
        };
        let mut change = self.entry.edit(&loaded.procedure, &loaded.crib);
        if let (Entry::Done { step, .. }, Put::Value(Written::Fields(fields))) =
            (&self.entry, &mut change.put)
        {
            let network = connect(&loaded.procedure).value;
            let marks = step_marks(sources, &loaded.procedure, &network);
            fields.extend(marks.of(step).map(|mark| ("fingerprint".to_owned(), text(mark))));
        }
        let (after, checked) = changed(sources, &self.job, file, &change)?;
        let mut diagnostics = checked.diagnostics;
        if let (Entry::Done { .. }, Some(loaded)) = (&self.entry, &checked.value) {
            let network = connect(&loaded.procedure).value;
            diagnostics.extend(progress(&loaded.procedure, &network, &loaded.job, &loaded.decisions));
        }
        if output::exit_code(&diagnostics) != ExitCode::SUCCESS {
            return Err(diagnostics);
        }
        write_atomically(&self.job, after.as_bytes())
            .map_err(|error| vec![errors::unwritable(&self.job, &error)])
    }
}

/// The text of a record with a change made, read again as any record is, so that every name and value is checked.
fn changed(
    sources: &mut Sources,
    path: &Path,
    file: FileId,
    change: &Edit,
) -> Result<(String, Outcome<Option<job::Loaded>>), Vec<Diagnostic>> {
    let text = sources.file(file).text.clone();
    let after = edit(&text, change).map_err(|refusal| {
        let line = match refusal {
            Refusal::Present(line) | Refusal::OtherKind(line) => sources.file(file).line_start(line),
            Refusal::Unreadable | Refusal::Unsafe => None,
        };
        vec![errors::not_recorded(file, line.unwrap_or_default(), &change.path.join(" "), &refusal)]
    })?;
    let draft = sources.add(path.to_path_buf(), after.clone());
    let checked = job::load_text(sources, draft, path, job::Named::default());
    Ok((after, checked))
}

/// Writes into a record that a packet was printed: when, of which phase, with which fingerprints.
///
/// # Errors
/// The record can't be read or written, or would no longer be sound.
pub fn record_print(
    sources: &mut Sources,
    path: &Path,
    (date, phase): (Date, &str),
    fingerprint: &str,
    sheets: &[(String, String)],
) -> Result<(), Vec<Diagnostic>> {
    let _lock = Lock::wait(path).map_err(|error| vec![errors::unwritable(path, &error)])?;
    let file = sources.read(path).map_err(|failure| vec![unreadable(path, &failure)])?;
    let marks = sheets.iter().map(|(name, mark)| (name.clone(), text(mark))).collect();
    let print = vec![
        ("date".to_owned(), text(&date.to_string())),
        ("phase".to_owned(), text(phase)),
        ("fingerprint".to_owned(), text(fingerprint)),
        ("sheets".to_owned(), Written::Fields(marks)),
    ];
    let change = Edit { path: vec!["prints".to_owned()], put: Put::Item(Written::Fields(print)) };
    let (after, checked) = changed(sources, path, file, &change)?;
    if output::exit_code(&checked.diagnostics) != ExitCode::SUCCESS {
        return Err(checked.diagnostics);
    }
    write_atomically(path, after.as_bytes()).map_err(|error| vec![errors::unwritable(path, &error)])
}

fn text(text: &str) -> Written {
    Written::Text(text.to_owned())
}

/// The fields that are there.
fn fields(list: &[(&str, Option<&str>)]) -> Vec<(String, Written)> {
    let given = list.iter().filter_map(|(key, value)| value.map(|value| ((*key).to_owned(), text(value))));
    given.collect()
}

/// A value with fields beside it, or alone where there are none.
fn with_fields(key: &str, value: &str, rest: &[(&str, Option<&str>)]) -> Put {
    let rest = fields(rest);
    if rest.is_empty() {
        return Put::Value(text(value));
    }
    Put::Value(Written::Fields([vec![(key.to_owned(), text(value))], rest].concat()))
}

impl Entry {
    /// The change to the text of the record.
    fn edit(&self, procedure: &Procedure, crib: &Crib) -> Edit {
        let (path, put): (Vec<&str>, Put) = match self {
            Entry::Done { step, by, date } => {
                let done = fields(&[("by", Some(by)), ("date", Some(date))]);
                (vec!["done", step], Put::Value(Written::Fields(done)))
            }
            Entry::Reading { words, taken, with } => {
                let (name, value) = named(procedure, words);
                let value = with_unit((procedure, crib), words, value);
                let rest =
                    [("with", with.as_deref()), ("by", taken.by.as_deref()), ("date", taken.date.as_deref())];
                let put = with_fields("value", &value, &rest);
                return Edit { path: vec!["readings".to_owned(), taken.r#as.key().to_owned(), name], put };
            }
            Entry::Look { words, taken } => {
                let (name, result) = named(procedure, words);
                let rest = [("by", taken.by.as_deref()), ("date", taken.date.as_deref())];
                let put = with_fields("result", result, &rest);
                return Edit { path: vec!["looks".to_owned(), taken.r#as.key().to_owned(), name], put };
            }
            Entry::Answer { ask, answer } => (vec!["answers", ask], Put::Value(text(answer))),
            Entry::Note { about, says, by, date } => {
                let note = fields(&[
                    ("about", Some(about)),
                    ("says", Some(says)),
                    ("by", by.as_deref()),
                    ("date", date.as_deref()),
                ]);
                (vec!["notes"], Put::Item(Written::Fields(note)))
            }
            Entry::Length { set, hole, length } => (vec!["lengths", set, hole], Put::Value(text(length))),
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
            Entry::Sent { part, date, to } => {
                let sent = fields(&[("to", to.as_deref()), ("sent", Some(date))]);
                (vec!["sent", part], Put::Value(Written::Fields(sent)))
            }
            Entry::Arrived(of) => (vec!["orders", &of.thing, "arrived"], Put::Value(text(&of.date))),
            Entry::Compared(of) => (vec!["orders", &of.thing, "compared"], Put::Value(text(&of.date))),
            Entry::Back(of) => (vec!["sent", &of.thing, "back"], Put::Value(text(&of.date))),
            Entry::Accepted(of) => (vec!["sent", &of.thing, "accepted"], Put::Value(text(&of.date))),
        };
        Edit { path: path.into_iter().map(str::to_owned).collect(), put }
    }
}

/// `bore 1 top along 80.02 mm` as the name `bore[1] top along` and the value. A name that has its positions in
/// brackets already is left as it is.
fn named<'a>(procedure: &Procedure, words: &'a [String]) -> (String, &'a str) {
    let (Some(first), Some(value)) = (words.first(), words.last()) else { return (String::new(), "") };
    let middle = &words[1..words.len() - 1];
    let axes: &[AxisId] = match procedure.names.get(first.as_str()) {
        Some(Name::Gauge(id)) => &procedure.gauge(*id).axes,
        Some(Name::Look(id)) => &procedure.look(*id).axes,
        _ => &[],
    };
    let middle: Vec<&str> =
        middle.iter().flat_map(|word| word.split([',', ' '])).filter(|word| !word.is_empty()).collect();
    let (positions, rest) = middle.split_at(axes.len().min(middle.len()));
    let mut name = first.clone();
    if !positions.is_empty() {
        name.push_str(&format!("[{}]", positions.join(", ")));
    }
    for word in rest {
        name.push_str(&format!(" {word}"));
    }
    (name, value)
}

/// A bare number gets the unit in which this shop writes its gauge down, which is the one on the sheet.
fn with_unit((procedure, crib): (&Procedure, &Crib), words: &[String], value: &str) -> String {
    let name = words.first().map_or("", |word| word.split(['[', ' ']).next().unwrap_or_default());
    let Some(Name::Gauge(id)) = procedure.names.get(name) else { return value.to_owned() };
    match procedure.gauge(*id).unit {
        Some(unit) if Numeral::parse(value).is_some() => {
            format!("{} {}", value.trim(), crib.measured_in(unit).symbol)
        }
        _ => value.to_owned(),
    }
}
