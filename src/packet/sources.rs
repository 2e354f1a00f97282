//! Where the numbers of a sheet come from: origins to letters behind the numbers, and the letters told at its foot.

use crate::sheet::{Block, Text};

/// Where numbers come from: a letter behind each number, told at the foot of the sheet, so that all of it fits a page.
#[derive(Default)]
pub(super) struct Sources(Vec<String>);

impl Sources {
    /// ` (a)`; a number without an origin says so itself.
    pub(super) fn mark(&mut self, origin: Option<&String>) -> String {
        let Some(origin) = origin else { return " (source not stated)".to_owned() };
        let at = self.0.iter().position(|known| known == origin).unwrap_or_else(|| {
            self.0.push(origin.clone());
            self.0.len() - 1
        });
        format!(" ({})", letter(at))
    }

    /// The letters and what they stand for; none if nothing was marked.
    pub(super) fn told(&self) -> Option<Block> {
        if self.0.is_empty() {
            return None;
        }
        let told: Vec<String> =
            self.0.iter().enumerate().map(|(at, origin)| format!("({}) {origin}", letter(at))).collect();
        Some(Block::Paragraph(Text::plain(format!("From: {}.", told.join("; ")))))
    }
}

/// `a` to `z`, then `aa`.
fn letter(at: usize) -> String {
    let last = char::from(b'a' + u8::try_from(at % 26).expect("less than 26"));
    if at < 26 { last.to_string() } else { format!("{}{last}", letter(at / 26 - 1)) }
}
