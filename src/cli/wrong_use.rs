//! What the command line's parser refuses, as one of our own complaints.

use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::diagnostics::{Diagnostic, Mend, codes::cli as codes};

/// The complaint about a command line that isn't one.
pub(super) fn complaint(error: &clap::Error) -> Diagnostic {
    let all = |kind| values(error, kind);
    let one = |kind| all(kind).into_iter().next();
    let named = one(ContextKind::InvalidArg);
    let value = one(ContextKind::InvalidValue).filter(|value| !value.is_empty());
    let argument = named.clone().unwrap_or_default();
    let message = match error.kind() {
        ErrorKind::InvalidSubcommand => {
            format!("no command is called `{}`", one(ContextKind::InvalidSubcommand).unwrap_or_default())
        }
        ErrorKind::UnknownArgument => format!("`{argument}` means nothing here"),
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => match value {
            Some(value) => format!("`{value}` is nothing that `{argument}` can be"),
            None => format!("`{argument}` stands there without its value"),
        },
        ErrorKind::MissingRequiredArgument => {
            format!("{} not given", listed(&all(ContextKind::InvalidArg)))
        }
        ErrorKind::MissingSubcommand => "it is not said what to do".to_owned(),
        ErrorKind::ArgumentConflict => {
            let others = all(ContextKind::PriorArg);
            if others.is_empty() || others == [argument.clone()] {
                format!("`{argument}` is given twice")
            } else {
                format!("`{argument}` doesn't go together with {}", listed(&others))
            }
        }
        ErrorKind::TooFewValues | ErrorKind::WrongNumberOfValues => {
            format!("`{argument}` has too few words behind it")
        }
        ErrorKind::TooManyValues => format!("`{argument}` has too many words behind it"),
        _ => "this command line can't be read".to_owned(),
    };
    Diagnostic::new(&codes::WRONG_USE, message).mend(mend(error))
}

/// The near name, the values there are, or how the command is written.
fn mend(error: &clap::Error) -> Mend {
    let all = |kind| values(error, kind);
    let near = [ContextKind::SuggestedSubcommand, ContextKind::SuggestedArg, ContextKind::SuggestedValue];
    if let Some(near) = near.into_iter().flat_map(all).next() {
        return Mend::Write(format!("`{near}`, if that is meant"));
    }
    for kind in [ContextKind::ValidValue, ContextKind::ValidSubcommand] {
        let known = all(kind);
        if !known.is_empty() {
            return Mend::Write(format!("one of {}", listed(&known)));
        }
    }
    if let (ErrorKind::ValueValidation, Some(reason)) = (error.kind(), std::error::Error::source(error)) {
        return Mend::Do(reason.to_string());
    }
    let usage = all(ContextKind::Usage).into_iter().next().unwrap_or_default();
    match usage.trim().strip_prefix("Usage: ") {
        Some(usage) => Mend::Write(format!("`{}`", usage.split_whitespace().collect::<Vec<_>>().join(" "))),
        None => Mend::Do("`benchleaf --help` lists the commands".to_owned()),
    }
}

fn values(error: &clap::Error, kind: ContextKind) -> Vec<String> {
    match error.get(kind) {
        Some(ContextValue::String(one)) => vec![one.clone()],
        Some(ContextValue::Strings(all)) => all.clone(),
        Some(ContextValue::StyledStr(text)) => vec![text.to_string()],
        Some(ContextValue::StyledStrs(all)) => all.iter().map(ToString::to_string).collect(),
        _ => Vec::new(),
    }
}

fn listed(words: &[String]) -> String {
    words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
}
