//! A stretch that the grammar does not match: what is wrong with it.

use super::build::Builder;
use super::errors;
use super::grammar::Failure;
use crate::diagnostics::Diagnostic;

/// Complains of the furthest place that was reached in `piece`.
pub(super) fn recover(builder: &Builder, piece: &str, failure: Failure, faults: &mut Vec<Diagnostic>) {
    match failure {
        Failure::TooMuch => faults.push(errors::too_large(builder.place(0, 0), "this declaration")),
        Failure::Mismatch { at, expected } => {
            let found = piece[at..].split_whitespace().next().unwrap_or("the end");
            let rules: Vec<String> = expected.iter().map(|rule| format!("{rule:?}")).collect();
            faults.push(errors::unexpected(builder.place(at, at + found.len()), found, &rules.join(" or ")));
        }
    }
}
