//! Titles of steps: the number large beside the words, and both again where a step goes on over a page end.

use super::{Composer, SMALL};
use super::{LEFT, NUMBERS};
use crate::page::draw;
use crate::page::fonts::{self, Face};
use crate::page::pages::{Group, Item, Mark, Role};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::{StepBlock, StepLine, Text};

/// Size of a step's number.
const LARGE: f32 = 26.0;
/// Type of titles.
const TITLE: Type = Type::bold(16.0, 20.0);
/// Type of the title that is repeated when a step goes on.
const CONTINUED: Type = Type::bold(13.0, 17.0);
/// Height of the title that is repeated when a step goes on.
pub(super) const CONTINUED_HEIGHT: f32 = 25.0;
/// White space between a title and what is remarked behind it.
const APART: f32 = 12.0;
/// Size of the end of a range of numbers, and how far below its beginning it stands.
const RANGE_SIZE: f32 = 16.0;
const RANGE_END: f32 = 17.0;

impl Composer<'_> {
    pub(super) fn step_title(&mut self, step: &StepBlock, level: u8, width: f32) -> Vec<Piece> {
        let element = self.element(Role::Heading(level));
        let number = self.characters.line(&step.number);
        // The number is a part of the heading, so it has to be in an element without children.
        let (number_element, title_element) =
            (self.child(Role::Span, Some(element)), self.child(Role::Span, Some(element)));
        let room = if step.lies.is_some() { width - draw::LYING - 6.0 } else { width };
        let mut pieces = self.text_pieces(title_element, &step.title, TITLE, LEFT, room);
        if pieces.is_empty() {
            pieces.push(Piece::new(0.0, TITLE.leading));
        }
        let baseline = TITLE.baseline() + 1.5;
        // The end of a range stands below its beginning, where both would be small beside each other.
        let below = pieces.len() > 1 || !step.facts.is_empty() || !step.tools.is_empty();
        let (begin, end) = match number.split_once('–').filter(|_| below && number_size(&number) < LARGE) {
            Some((begin, end)) => (begin.to_owned(), format!("–{end}")),
            None => (number, String::new()),
        };
        // Invisible, but it parts the number from the title when the text is taken out of the page.
        let spaced = |words: &str, last: bool| if last { format!("{words} ") } else { words.to_owned() };
        let sized = [
            (spaced(&begin, end.is_empty()), begin, baseline, LARGE),
            (spaced(&end, true), end, baseline + RANGE_END, RANGE_SIZE),
        ];
        if let Some(first) = pieces.first_mut() {
            let mut items = Vec::new();
            for (spaced, words, baseline, largest) in sized.iter().filter(|(_, words, ..)| !words.is_empty())
            {
                let size = number_size(words).min(*largest);
                if let Some(Item::Text(mut run)) = draw::text(0.0, *baseline, Face::Bold, size, spaced) {
                    run.width = fonts::width(Face::Bold, size, words);
                    items.push(Item::Text(run));
                }
            }
            if !items.is_empty() {
                let mark = Mark::Element(number_element);
                first.groups.insert(0, Group { mark, items });
            }
            if let Some(lies) = step.lies {
                // What is under the title says the same in words.
                first.add(Mark::Artefact, draw::lying(lies, LEFT + width - draw::LYING, -7.0));
            }
            first.above = 12.0;
            first.anchors.push(step.anchor.clone());
            first.anchors.extend(step.also.iter().cloned());
            let title = step.title.words();
            first.bookmark = Some((level, format!("{} {title}", step.number).trim().to_string()));
            // Figures taller than the line of the title stand out above it.
            first.shift(0.0, 4.0);
            first.height += 4.0;
        }
        pieces
    }

    /// Puts such words at the right end of the title's line; whether they have room there.
    pub(super) fn behind_title(
        &mut self,
        step: &StepBlock,
        words: &Text,
        title: &mut [Piece],
        width: f32,
    ) -> bool {
        let facts = self.set(words, SMALL, width);
        let end = LEFT + width - if step.lies.is_some() { draw::LYING + 6.0 } else { 0.0 };
        let [only] = title else { return false };
        let x = end - facts.width();
        let words = only.groups.iter().filter(|group| matches!(group.mark, Mark::Element(_)));
        let items = words.flat_map(|group| &group.items).map(|item| item.bounds());
        let reach = items.map(|area| area.x + area.width).fold(0.0, f32::max);
        if facts.lines.len() != 1 || reach + APART > x {
            return false;
        }
        let element = self.element(Role::Paragraph);
        let y = 4.0 + TITLE.baseline() - SMALL.baseline();
        self.put(only, element, &facts, &facts.lines, x, y);
        true
    }

    /// A step of which only remarks are told: its number and title, and behind them or below them what is remarked.
    pub(super) fn brief_step(&mut self, step: &StepBlock, level: u8, width: f32) -> Vec<Piece> {
        let heading = self.element(Role::Heading(level));
        let number = self.characters.line(&step.number);
        let (number_element, title_element) =
            (self.child(Role::Span, Some(heading)), self.child(Role::Span, Some(heading)));
        let title = self.set(&step.title, CONTINUED, width);
        let mut first = Piece::new(8.0, title.height().max(CONTINUED.leading));
        let size = number_size(&number).min(CONTINUED.size);
        let words = draw::text(0.0, CONTINUED.baseline(), Face::Bold, size, &format!("{number} "));
        first.add(Mark::Element(number_element), words.into_iter().collect());
        self.put(&mut first, title_element, &title, &title.lines, LEFT, 0.0);
        first.anchors.push(step.anchor.clone());
        first.anchors.extend(step.also.iter().cloned());
        first.bookmark = Some((level, format!("{} {}", step.number, step.title.words()).trim().to_string()));
        let mut pieces = vec![first];
        for line in &step.lines {
            let StepLine::Note(note) = line else { continue };
            let element = self.element(Role::Paragraph);
            let behind = title.width() + APART;
            let said = self.set(note, SMALL, width);
            if pieces.len() == 1
                && title.lines.len() == 1
                && said.lines.len() == 1
                && behind + said.width() <= width
            {
                let y = CONTINUED.baseline() - SMALL.baseline();
                if let Some(first) = pieces.first_mut().filter(|first| first.reach() <= LEFT + behind) {
                    self.put(first, element, &said, &said.lines, LEFT + behind, y);
                    continue;
                }
            }
            let lines = self.text_pieces(element, note, SMALL, LEFT, width);
            pieces.extend(lines);
        }
        let parts = pieces.len() - 1;
        pieces[..parts].iter_mut().for_each(|piece| piece.with_next = true);
        pieces
    }

    /// What stands on top of the next page when a step is longer than one.
    pub(super) fn continued(&mut self, step: &StepBlock, width: f32) -> Piece {
        // Of a range the beginning is enough to know it by.
        let number = self.characters.line(step.number.split('–').next().unwrap_or_default());
        let mut piece = self.gone_on(&step.title, LEFT, width);
        let baseline = CONTINUED.baseline() + 2.0;
        let size = number_size(&number).min(20.0);
        piece.add(Mark::Artefact, draw::text(0.0, baseline, Face::Bold, size, &number).into_iter().collect());
        piece
    }

    /// What stands last on a page where something is cut.
    pub(super) fn goes_on(&mut self, what: &str, x: f32, width: f32) -> Piece {
        const BEHIND: &str = " goes on on the next page.";
        let room = width - fonts::width(Face::Bold, SMALL.size, BEHIND);
        let what = fonts::shortened(Face::Bold, SMALL.size, &self.characters.line(what), room);
        let words = what + BEHIND;
        let mut piece = Piece::new(3.0, SMALL.leading);
        let x = x + width - fonts::width(Face::Bold, SMALL.size, &words);
        let words = draw::text(x, SMALL.baseline(), Face::Bold, SMALL.size, &words);
        piece.add(Mark::Artefact, words.into_iter().collect());
        piece
    }

    /// A title again where what is below it goes on.
    pub(super) fn gone_on(&mut self, title: &Text, x: f32, width: f32) -> Piece {
        let title = self.characters.line(&title.words());
        let title = fonts::shortened(Face::Bold, CONTINUED.size, &title, width - 80.0);
        let mut piece = Piece::new(0.0, CONTINUED_HEIGHT);
        let baseline = CONTINUED.baseline() + 2.0;
        let end = x + fonts::width(Face::Bold, CONTINUED.size, &title) + 5.0;
        let words = [
            draw::text(x, baseline, Face::Bold, CONTINUED.size, &title),
            draw::text(end, baseline, Face::Regular, SMALL.size, "continued"),
        ];
        piece.add(Mark::Artefact, words.into_iter().flatten().collect());
        piece
    }
}

/// Whether only remarks are told of a step, as of one that is done.
pub(super) fn in_brief(step: &StepBlock) -> bool {
    let remarks = step.lines.iter().all(|line| matches!(line, StepLine::Note(_)));
    let silent = step.facts.is_empty() && step.tools.is_empty() && step.reason.0.is_empty();
    remarks && silent && !step.lines.is_empty() && step.held_by.is_empty() && step.lies.is_none()
}

/// Size at which a number fits its column.
fn number_size(number: &str) -> f32 {
    let width = fonts::width(Face::Bold, LARGE, number);
    if width <= NUMBERS { LARGE } else { fonts::of_scale(LARGE * NUMBERS / width) }
}

/// What is told of a step before its tools: where, with whom, how long, and what it waits for.
pub(super) fn told_first(step: &StepBlock) -> Vec<Text> {
    let reason = Some(&step.reason).filter(|reason| !reason.0.is_empty());
    step.facts.iter().chain(reason).cloned().collect()
}

pub(super) fn joined(facts: &[Text]) -> Text {
    let mut all = Text::default();
    for (index, fact) in facts.iter().enumerate() {
        if index > 0 {
            all = all.and(" · ");
        }
        all.0.extend(fact.0.iter().cloned());
    }
    all
}
