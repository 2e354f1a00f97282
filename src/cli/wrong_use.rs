//! What the command line's parser refuses, as one of our own complaints.

use std::error::Error;

use clap::error::{ContextKind, ContextValue, ErrorKind};

use super::help::{Asked, placed};
use crate::diagnostics::{Diagnostic, codes::cli as codes, nearest};

/// The complaint about a command line that isn't one.
pub(super) fn complaint(error: &clap::Error, asked: &Asked<'_>) -> Diagnostic {
    let typed = |kind| values(error, kind).into_iter().find(|value| !value.is_empty()).unwrap_or_default();
    // Where one of several is needed, the parser writes them with strokes between.
    let as_typed = |text: &String| {
        let each = text.split('|').map(|one| asked.argument(one).map_or_else(|| one.to_owned(), placed));
        each.collect::<Vec<String>>().join("|")
    };
    let arguments: Vec<String> = values(error, ContextKind::InvalidArg).iter().map(as_typed).collect();
    let argument = arguments.first().map(String::as_str).unwrap_or_default();
    let name =
        if argument.starts_with('-') { argument.split(' ').next().unwrap_or_default() } else { argument };
    let refused = |message: String| Diagnostic::new(&codes::WRONG_USE, message);
    let usage = |wanted: &[String]| format!("`{}`", asked.written(wanted));
    let commands: Vec<&str> = asked.commands().map(clap::Command::get_name).collect();
    let no_command = |name: &str| meant(refused(format!("no command is called `{name}`")), name, &commands);
    match error.kind() {
        ErrorKind::InvalidSubcommand => no_command(&typed(ContextKind::InvalidSubcommand)),
        ErrorKind::MissingSubcommand => {
            let command = asked.command.get_name();
            refused(format!("what `{command}` is to do is missing"))
                .write(format!("one of {}", listed(&commands)))
        }
        ErrorKind::UnknownArgument if argument.starts_with('-') => {
            let options = asked.arguments().filter_map(clap::Arg::get_long);
            let options: Vec<String> = options.map(|long| format!("--{long}")).collect();
            let options: Vec<&str> = options.iter().map(String::as_str).collect();
            let command = asked.command.get_name();
            meant(refused(format!("`{command}` has no option `{argument}`")), argument, &options)
        }
        ErrorKind::UnknownArgument if !commands.is_empty() => no_command(argument),
        ErrorKind::UnknownArgument | ErrorKind::TooManyValues => {
            refused(format!("`{argument}` is one word too many")).write(usage(&[]))
        }
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => {
            let value = typed(ContextKind::InvalidValue);
            let known = values(error, ContextKind::ValidValue);
            let known: Vec<&str> = known.iter().map(String::as_str).collect();
            let message = if value.is_empty() {
                refused(format!("`{name}` has no value behind it"))
            } else {
                refused(format!("`{value}` is no value for `{name}`"))
            };
            match error.source() {
                Some(reason) => message.write(reason.to_string()),
                None if known.is_empty() => message.write(format!("`{argument}`")),
                None => meant(message, &value, &known),
            }
        }
        ErrorKind::MissingRequiredArgument => {
            let verb = if arguments.len() == 1 { "is" } else { "are" };
            let wanted: Vec<String> =
                arguments.iter().filter_map(|one| one.split('|').next()).map(str::to_owned).collect();
            let missing = listed(&arguments).replace('|', "` or `");
            refused(format!("{missing} {verb} missing")).write(usage(&wanted))
        }
        ErrorKind::ArgumentConflict => {
            let others: Vec<String> = values(error, ContextKind::PriorArg).iter().map(as_typed).collect();
            let message = if others.iter().all(|other| other == argument) {
                format!("`{argument}` is given twice")
            } else {
                format!("`{argument}` doesn't go together with {}", listed(&others))
            };
            refused(message).help("leave one of them out")
        }
        ErrorKind::TooFewValues | ErrorKind::WrongNumberOfValues => {
            refused(format!("too few words are given for `{argument}`")).write(usage(&[]))
        }
        ErrorKind::InvalidUtf8 => {
            refused("a word of the command line is no text".to_owned()).help("write it in plain letters")
        }
        _ => refused("this command line can't be read".to_owned()).write(usage(&[])),
    }
}

/// With the known word that is nearest to the one typed or the only one that begins so, or all of them.
fn meant(complaint: Diagnostic, typed: &str, known: &[&str]) -> Diagnostic {
    let mut begun = known.iter().copied().filter(|known| typed.len() > 1 && known.starts_with(typed));
    let only = begun.next().filter(|_| begun.next().is_none());
    match only.or_else(|| nearest(typed, known.iter().copied())) {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None if known.is_empty() => complaint.help("`benchleaf --help` tells what there is"),
        None => complaint.write(format!("one of {}", listed(known))),
    }
}

/// What the parser says of one kind, without the signs that it sets around names.
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
