//! One constructor per complaint of this room, named as its code.

mod clauses;
mod differing;
mod joints;
mod lints;
mod missing;
mod names;
mod quantities;
mod readings;
mod states;
mod torques;
mod turns;
mod unsaid;

pub(super) use clauses::*;
pub(super) use differing::*;
pub(super) use joints::*;
pub(super) use lints::*;
pub(super) use missing::*;
pub(super) use names::*;
pub(super) use quantities::*;
pub(super) use readings::*;
pub(super) use states::*;
pub(super) use torques::*;
pub(super) use turns::*;
pub(super) use unsaid::*;

use crate::english::alternatives;

/// Words in backticks, joined as a choice; a long list is cut.
fn quoted<S: AsRef<str>>(words: &[S]) -> String {
    const MOST: usize = 20;
    let mut shown: Vec<String> = words.iter().take(MOST).map(|word| format!("`{}`", word.as_ref())).collect();
    if words.len() > MOST {
        shown.push(format!("{} more", words.len() - MOST));
    }
    alternatives(&shown)
}
