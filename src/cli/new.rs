//! `new`: a procedure to begin with, complete and checked; or the record of a job with every blank.

use std::ffi::OsString;
use std::io::ErrorKind;
use std::path::{Component, Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Subcommand, ValueEnum};

use super::prepared::prepare;
use super::{errors, output};
use crate::english::{alternatives, inner};
use crate::record::beginning;
use crate::source::{plain, write_fresh};
use crate::workshop::{Request, is_record};

/// Begin a procedure that can be checked and printed as it is, or the record of a job
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(super) struct New {
    #[command(subcommand)]
    what: Option<What>,
    /// What the family is called, such as "Dock winch"; before it may stand a folder
    #[arg(required = true, value_name = "NAME")]
    name: Option<OsString>,
    /// The example that it begins with
    #[arg(long, value_enum, default_value_t = Like::Machine)]
    like: Like,
}

#[derive(Debug, Subcommand)]
enum What {
    Job(NewJob),
}

/// Begin the record of a job, beside its procedure
#[derive(Debug, Args)]
struct NewJob {
    /// The procedure
    #[arg(value_name = "PROCEDURE")]
    procedure: PathBuf,
    /// Number or name of the job
    #[arg(long, value_name = "WORDS")]
    name: Option<String>,
    /// The file to write; otherwise the procedure's name with `.job.yaml`
    #[arg(short, long, value_name = "JOB.yaml")]
    output: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Like {
    /// Any machine: a guard, a wheel and a shaft
    Machine,
    /// A cover, what is under it, and a look at it
    Pump,
    /// Two cylinders, valve gear, a head joint, readings
    Engine,
    /// Two shafts in a split housing
    Gearbox,
}

impl Like {
    /// What the example in it is, as it stands behind `with`.
    fn example(self) -> &'static str {
        match self {
            Like::Machine => "a small machine",
            Like::Pump => "a small pump",
            Like::Engine => "the top end of an engine",
            Like::Gearbox => "a gearbox with two shafts",
        }
    }

    /// How each other example is asked for.
    fn others(self) -> String {
        let others = Like::value_variants().iter().filter(|like| **like != self);
        let names =
            others.filter_map(|like| Some(format!("`--like {}`", like.to_possible_value()?.get_name())));
        alternatives(&names.collect::<Vec<_>>())
    }

    /// The text, and the family that it is of.
    fn text(self) -> (&'static str, &'static str) {
        match self {
            Like::Machine => {
                (include_str!("../../procedures/begin/machine.rebuild"), "family machine \"Machine\"")
            }
            Like::Pump => (include_str!("../../procedures/begin/pump.rebuild"), "family pump \"Pump\""),
            Like::Engine => {
                (include_str!("../../procedures/begin/engine.rebuild"), "family engine \"Engine\"")
            }
            Like::Gearbox => {
                (include_str!("../../procedures/begin/gearbox.rebuild"), "family gearbox \"Gearbox\"")
            }
        }
    }
}

impl New {
    pub(super) fn run(&self) -> ExitCode {
        match (&self.what, &self.name) {
            (Some(What::Job(job)), _) => job.run(),
            (None, Some(name)) => begin(Path::new(name), self.like),
            (None, None) => output::refuse(&errors::nameless("")),
        }
    }
}

/// What sheets call the whole in the examples: in place of it stands the name that was given.
const CALLED: [&str; 3] = ["machine", "pump", "gearbox"];

/// Begins a procedure.
fn begin(name: &Path, like: Like) -> ExitCode {
    let words = name.file_name().map(|words| words.to_string_lossy().into_owned()).unwrap_or_default();
    let words = words.strip_suffix(".rebuild").unwrap_or(&words);
    let Some((id, title)) = named(words) else { return output::refuse(&errors::nameless(words)) };
    let (text, family) = like.text();
    let text = text.replacen(family, &format!("family {id} \"{title}\""), 1);
    let text = CALLED.iter().fold(text, |text, called| {
        text.replacen(&format!("    called \"{called}\""), &format!("    called \"{}\"", inner(&title)), 1)
    });
    let path = name.with_file_name(format!("{id}.rebuild"));
    let shown = path.display();
    let next = format!(
        "{shown}: written, with {} as the example: its first lines say what to change first.\n\
         For another example take it away and add {} to the command.\n\
         It is complete as it is: `benchleaf check {shown}` reads it through,\n\
         `benchleaf packet {shown} -o packet.pdf` prints it,\n\
         `benchleaf new job {shown}` begins a job.\n",
        like.example(),
        like.others(),
    );
    write(&path, &text, &next)
}

/// An id and a title of the words that something is called by.
fn named(words: &str) -> Option<(String, String)> {
    let mut id = String::new();
    for letter in words.chars() {
        match letter.to_ascii_lowercase() {
            letter if letter.is_ascii_alphanumeric() => id.push(letter),
            _ if id.is_empty() || id.ends_with('_') => {}
            _ => id.push('_'),
        }
    }
    let id = id.trim_end_matches('_').to_owned();
    if !id.starts_with(|letter: char| letter.is_ascii_alphabetic()) {
        return None;
    }
    let spaced: String =
        words.chars().map(|letter| if matches!(letter, '_' | '"' | '\\') { ' ' } else { letter }).collect();
    let spaced = spaced.trim();
    let mut letters = spaced.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().collect::<String>()).unwrap_or_default();
    Some((id, format!("{first}{}", letters.as_str())))
}

impl NewJob {
    fn run(&self) -> ExitCode {
        let prepared = match prepare(&Request::of(&self.procedure)) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        let path = self.output.clone().unwrap_or_else(|| self.procedure.with_extension("job.yaml"));
        if !is_record(&path) {
            return output::refuse(&errors::ends_otherwise(&path, &["yaml", "yml"]));
        }
        let title = prepared.procedure.family.as_ref().map_or("", |family| family.naming.title.as_str());
        let name = self.name.as_deref().unwrap_or(title);
        let text = beginning(&prepared.procedure, &from(&path, &self.procedure), name);
        let shown = path.display();
        let next = format!(
            "{shown}: written. `benchleaf check {shown}` reads it through,\n\
             `benchleaf packet {shown} -o packet.pdf` prints the first sheets.\n"
        );
        write(&path, &text, &next)
    }
}

/// A procedure's path as reached from a record: relative to the folder of the record wherever it can be, so that both may be
/// moved together.
fn from(record: &Path, procedure: &Path) -> String {
    let whole = |path: &Path| std::path::absolute(path).map(|path| plain(&path));
    let (Ok(record), Ok(procedure)) = (whole(record), whole(procedure)) else {
        return procedure.display().to_string();
    };
    let folder: Vec<Component> =
        record.parent().map(|folder| folder.components().collect()).unwrap_or_default();
    let names: Vec<Component> = procedure.components().collect();
    let shared = folder.iter().zip(&names).take_while(|(one, other)| one == other).count();
    if shared == 0 {
        return procedure.display().to_string();
    }
    let up = folder[shared..].iter().map(|_| "..".to_owned());
    let down = names[shared..].iter().map(|name| name.as_os_str().to_string_lossy().into_owned());
    // As it is read on every system.
    up.chain(down).collect::<Vec<_>>().join("/")
}

/// Writes a file that isn't there yet, and says what comes next.
fn write(path: &Path, text: &str, next: &str) -> ExitCode {
    match write_fresh(path, text.as_bytes()) {
        Ok(()) => {
            output::print(next);
            ExitCode::SUCCESS
        }
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            output::refuse(&errors::there_already(path))
        }
        Err(error) => output::refuse(&errors::unwritable(path, &error)),
    }
}
