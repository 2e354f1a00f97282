//! Sheets and their blocks to markup, in the order of the packet.

use super::fields::{Asked, Fields};
use super::figure::figure;
use super::hazard::hazard;
use super::markup::Tag;
use super::words::{Places, id, text};
use crate::sheet::{Anchor, Block, Drawing, Figure, LabelBlock, Packet, Sheet, StepLine, Text};

/// Writes the sheets of a packet.
pub(super) struct Writer<'a> {
    packet: &'a Packet,
    pub(super) fields: Fields<'a>,
    /// Places that links can lead to.
    pub(super) places: Places,
    /// Level of the last heading.
    pub(super) level: u8,
    regions: usize,
    /// Places that stand in the text by now.
    claimed: Places,
}

impl<'a> Writer<'a> {
    pub(super) fn new(packet: &'a Packet, fields: Fields<'a>) -> Self {
        let mut places = Places::new();
        for (index, sheet) in packet.sheets.iter().enumerate() {
            places.insert(Anchor::of_sheet(index));
            sheet.blocks.iter().for_each(|block| note(&mut places, block));
        }
        Writer { packet, fields, places, level: 1, regions: 0, claimed: Places::new() }
    }

    /// All sheets.
    pub(super) fn sheets(&mut self) -> String {
        let mut out = String::new();
        let packet = self.packet;
        for (index, sheet) in packet.sheets.iter().enumerate() {
            self.sheet(&mut out, index, sheet);
        }
        out
    }

    fn sheet(&mut self, out: &mut String, index: usize, sheet: &Sheet) {
        self.level = 1;
        let id = format!("sheet:{index}");
        let section = Tag::new("section").with("id", &id).with("aria-labelledby", format!("{id}-title"));
        section.around(out, |out| {
            Tag::new("h2").with("id", format!("{id}-title")).of(out, &sheet.title);
            if !sheet.subtitle.is_empty() {
                Tag::new("p").of(out, &sheet.subtitle);
            }
            out.push('\n');
            sheet.blocks.iter().for_each(|block| self.block(out, block));
        });
        out.push('\n');
    }

    /// A number by which regions of like names are told apart.
    pub(super) fn region(&mut self) -> usize {
        self.regions += 1;
        self.regions
    }

    /// The id of a place where it comes first: an id stands but once in a text.
    pub(super) fn claimed(&mut self, anchor: &Anchor) -> Option<String> {
        self.claimed.insert(anchor.clone()).then(|| id(anchor))
    }

    pub(super) fn figure(&mut self, out: &mut String, shown: &Figure) {
        let anchor = match &shown.drawing {
            Drawing::Joint(joint) => joint.anchor.as_ref(),
            _ => None,
        };
        let id = anchor.and_then(|anchor| self.claimed(anchor));
        figure(out, shown, id.as_deref(), &self.places);
    }

    /// The tag of a heading: the title of the packet stands above that of a sheet.
    pub(super) fn heading_tag(level: u8) -> Tag {
        Tag::new(match level {
            0 | 1 => "h2",
            2 => "h3",
            3 => "h4",
            _ => "h5",
        })
    }

    pub(super) fn paragraph(&self, out: &mut String, class: &str, words: &Text) {
        if words.words().trim().is_empty() {
            return;
        }
        let tag = if class.is_empty() { Tag::new("p") } else { Tag::new("p").with("class", class) };
        tag.around(out, |out| text(out, words, &self.places));
    }

    fn block(&mut self, out: &mut String, block: &Block) {
        match block {
            Block::Heading { level, text, anchor } => {
                let level = (*level).clamp(2, 3);
                self.level = level;
                let tag = Self::heading_tag(level);
                let tag = match anchor.as_ref().and_then(|anchor| self.claimed(anchor)) {
                    Some(id) => tag.with("id", id),
                    None => tag,
                };
                tag.around(out, |out| self::text(out, text, &self.places));
            }
            Block::Paragraph(text) => self.paragraph(out, "", text),
            Block::Notice(text) => self.paragraph(out, "notice", text),
            Block::List { items, tick: true } => {
                for item in items {
                    let (about, number) = (item.words(), Self::numbered(item));
                    Tag::new("div").with("class", "act").around(out, |out| {
                        self.fields.tick(out, &Asked { number: &number, about: &about, ..Asked::default() });
                        self.paragraph(out, "", item);
                    });
                }
            }
            Block::List { items, tick: false } => {
                Tag::new("ul").around(out, |out| {
                    for item in items {
                        Tag::new("li").around(out, |out| text(out, item, &self.places));
                    }
                });
            }
            Block::Contents(entries) => {
                Tag::new("ul").around(out, |out| {
                    for (words, to) in entries {
                        Tag::new("li").around(out, |out| {
                            text(out, &Text::default().and_link(words, to.clone()), &self.places);
                        });
                    }
                });
            }
            Block::Facts(facts) => {
                Tag::new("dl").around(out, |out| {
                    for (name, value) in facts {
                        Tag::new("dt").around(out, |out| text(out, name, &self.places));
                        Tag::new("dd").around(out, |out| text(out, value, &self.places));
                    }
                });
            }
            Block::Table(table) | Block::Halves(table) => self.table(out, table),
            Block::Hazard(told) => hazard(out, told, &self.places),
            Block::Step(step) => self.step(out, step),
            Block::Figure(shown) => self.figure(out, shown),
            Block::Lines { label, .. } => {
                let (about, number) = (label.words(), Self::numbered(label));
                Tag::new("div").with("class", "lines").around(out, |out| {
                    self.paragraph(out, "", label);
                    let asked = Asked { number: &number, about: &about, ..Asked::default() };
                    self.fields.blank(out, &asked, None, "", false);
                });
            }
            Block::Together(blocks) => blocks.iter().for_each(|block| self.block(out, block)),
            Block::Label(label) => self.label(out, label),
        }
        out.push('\n');
    }

    /// A label is cut out of paper; here it tells what stands on it.
    fn label(&mut self, out: &mut String, label: &LabelBlock) {
        let tag = Tag::new("div").with("class", "tag");
        let tag = match label.anchor.as_ref().and_then(|anchor| self.claimed(anchor)) {
            Some(id) => tag.with("id", id),
            None => tag,
        };
        tag.around(out, |out| {
            let title = match &label.step {
                Some(step) => Text::default().and_bold_link(&label.title, step.clone()),
                None => Text::bold(&label.title),
            };
            self.paragraph(out, "", &title);
            for line in label.lines.iter().chain([&label.number]).filter(|line| !line.is_empty()) {
                Tag::new("p").of(out, line);
            }
        });
    }
}

/// Notes the places that links to a block can lead to.
fn note(places: &mut Places, block: &Block) {
    match block {
        Block::Heading { anchor, .. } => places.extend(anchor.clone()),
        Block::Label(label) => places.extend(label.anchor.clone()),
        Block::Together(blocks) => blocks.iter().for_each(|block| note(places, block)),
        Block::Step(step) => {
            places.insert(step.anchor.clone());
            places.extend(step.also.iter().cloned());
            for line in &step.lines {
                if let StepLine::Figure(figure) = line {
                    note_figure(places, &figure.drawing);
                }
            }
        }
        Block::Figure(figure) => note_figure(places, &figure.drawing),
        _ => {}
    }
}

fn note_figure(places: &mut Places, drawing: &Drawing) {
    if let Drawing::Joint(joint) = drawing {
        places.extend(joint.anchor.clone());
    }
}
