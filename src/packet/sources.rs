//! Where the numbers of a sheet come from: origins to letters behind the numbers, and the letters told at its foot.

use std::collections::BTreeSet;

use crate::decide::{Decisions, Torque};
use crate::procedure::model::Procedure;
use crate::sheet::{Block, Text};

/// Where numbers come from: a letter behind each number, told at the foot of the sheet, so that all of it fits a page.
#[derive(Debug, Clone, Default)]
pub(super) struct Sources {
    /// What each letter stands for.
    origins: Vec<String>,
    /// Which of them are on the sheet.
    used: BTreeSet<usize>,
}

impl Sources {
    /// Where the torques of a job come from: the same letters on all of its sheets.
    pub(super) fn of_torques(procedure: &Procedure, decisions: &Decisions) -> Self {
        let mut sources = Sources::default();
        for (id, set) in procedure.sets.numbered() {
            let places: Vec<_> = procedure.places(&set.axes).collect();
            for (torque, _) in decisions.torques.at(id, &places) {
                if let Torque::Passes(_, Some(origin)) = torque {
                    sources.place(origin);
                }
            }
        }
        sources
    }

    fn place(&mut self, origin: &str) -> usize {
        self.origins.iter().position(|known| known == origin).unwrap_or_else(|| {
            self.origins.push(origin.to_owned());
            self.origins.len() - 1
        })
    }

    /// ` (a)`; a number without an origin says so itself.
    pub(super) fn mark(&mut self, origin: Option<&String>) -> String {
        let Some(origin) = origin else { return " (source not stated)".to_owned() };
        let at = self.place(origin);
        self.used.insert(at);
        format!(" ({})", letter(at))
    }

    /// ` (a)` of an origin that has a letter; the origin itself where it has none.
    pub(super) fn known(&self, origin: &str) -> String {
        match self.origins.iter().position(|known| known == origin) {
            Some(at) => format!(" ({})", letter(at)),
            None => format!(" ({origin})"),
        }
    }

    /// The letters on the sheet and what they stand for; none if nothing was marked.
    pub(super) fn told(&self) -> Option<Block> {
        self.told_of("From")
    }

    /// The same, behind words that say what comes from there.
    pub(super) fn told_of(&self, what: &str) -> Option<Block> {
        if self.used.is_empty() {
            return None;
        }
        let told: Vec<String> =
            self.used.iter().map(|at| format!("({}) {}", letter(*at), self.origins[*at])).collect();
        Some(Block::Paragraph(Text::plain(format!("{what}: {}.", told.join("; ")))))
    }
}

/// `a` to `z`, then `aa`.
fn letter(at: usize) -> String {
    let last = char::from(b'a' + u8::try_from(at % 26).expect("less than 26"));
    if at < 26 { last.to_string() } else { format!("{}{last}", letter(at / 26 - 1)) }
}
