//! What the command line's parser refuses, as one of our own complaints.

use std::error::Error;

use clap::error::{ContextKind, ContextValue, ErrorKind};

use super::help::Asked;
use crate::diagnostics::{Diagnostic, codes::cli as codes, nearest};

/// The complaint about a command line that isn't one.
pub(super) fn complaint(error: &clap::Error, asked: &Asked<'_>) -> Diagnostic {
    let arguments = values(error, ContextKind::InvalidArg);
    let argument = arguments.first().map(String::as_str).unwrap_or_default();
    let value = values(error, ContextKind::InvalidValue).into_iter().find(|value| !value.is_empty());
    let others = values(error, ContextKind::PriorArg);
    let refused = |message: String| Diagnostic::new(&codes::WRONG_USE, message);
    let usage = || format!("`{}`", asked.written());
    match error.kind() {
        ErrorKind::InvalidSubcommand => {
            let name = values(error, ContextKind::InvalidSubcommand).concat();
            let names: Vec<&str> = asked.commands().map(clap::Command::get_name).collect();
            meant(refused(format!("no command is called `{name}`")), &name, &names)
        }
        ErrorKind::UnknownArgument if argument.starts_with('-') => {
            let options = asked.arguments().filter_map(clap::Arg::get_long);
            let options: Vec<String> = options.map(|long| format!("--{long}")).collect();
            let options: Vec<&str> = options.iter().map(String::as_str).collect();
            let name = asked.command.get_name();
            meant(refused(format!("`{name}` has no option `{argument}`")), argument, &options)
        }
        ErrorKind::UnknownArgument | ErrorKind::TooManyValues => {
            refused(format!("`{argument}` is one word too many")).write(usage())
        }
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => match value {
            Some(value) => {
                let message = refused(format!("`{value}` is nothing that `{argument}` can be"));
                let known = values(error, ContextKind::ValidValue);
                let known: Vec<&str> = known.iter().map(String::as_str).collect();
                match error.source() {
                    Some(reason) => message.write(reason.to_string()),
                    None => meant(message, &value, &known),
                }
            }
            None => refused(format!("`{argument}` has no value behind it")).write(usage()),
        },
        ErrorKind::MissingRequiredArgument => {
            let verb = if arguments.len() == 1 { "is" } else { "are" };
            refused(format!("{} {verb} missing", listed(&arguments))).write(usage())
        }
        ErrorKind::ArgumentConflict if others.is_empty() || others.iter().all(|other| other == argument) => {
            refused(format!("`{argument}` is given twice")).help("leave one of them out")
        }
        ErrorKind::ArgumentConflict => {
            refused(format!("`{argument}` doesn't go together with {}", listed(&others)))
                .help("leave one of them out")
        }
        ErrorKind::TooFewValues | ErrorKind::WrongNumberOfValues => {
            refused(format!("`{argument}` has too few words behind it")).write(usage())
        }
        ErrorKind::InvalidUtf8 => {
            refused("a word of the command line is no text".to_owned()).help("write it in plain letters")
        }
        _ => refused("this command line can't be read".to_owned()).write(usage()),
    }
}

/// With the known word that is nearest to the one typed, or all of them.
fn meant(complaint: Diagnostic, typed: &str, known: &[&str]) -> Diagnostic {
    match nearest(typed, known.iter().copied()) {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None if known.is_empty() => complaint.help("leave it out"),
        None => complaint.write(format!("one of {}", listed(known))),
    }
}

fn values(error: &clap::Error, kind: ContextKind) -> Vec<String> {
    let plain = |text: &String| text.replace(['<', '>'], "");
    match error.get(kind) {
        Some(ContextValue::String(one)) => vec![plain(one)],
        Some(ContextValue::Strings(all)) => all.iter().map(plain).collect(),
        _ => Vec::new(),
    }
}

fn listed(words: &[impl AsRef<str>]) -> String {
    words.iter().map(|word| format!("`{}`", word.as_ref())).collect::<Vec<_>>().join(", ")
}

/// A whole number from `low` to `high`, or what to write.
pub(super) fn whole<N: TryFrom<u32>>(low: u32, high: u32) -> impl Fn(&str) -> Result<N, String> + Clone {
    move |text| {
        let number = text.parse().ok().filter(|number| (low..=high).contains(number));
        let number = number.and_then(|number| N::try_from(number).ok());
        number.ok_or_else(|| format!("a whole number from {low} to {high}"))
    }
}
