//! Steps: title, what they wait for, hazards before their acts, and a control wherever paper has a box or a blank.

use super::blocks::Writer;
use super::fields::Asked;
use super::hazard::{hazard, signs};
use super::markup::Tag;
use super::words::text;
use crate::sheet::{Blank, Boxes, StepBlock, StepLine, Text};

impl Writer<'_> {
    /// Writes a step. One that waits says so and why; nothing of it can be ticked.
    pub(super) fn step(&mut self, out: &mut String, step: &StepBlock) {
        let held = !step.held_by.is_empty();
        let id = self.claimed(&step.anchor).unwrap_or_else(|| format!("again:{}", self.region()));
        let own = step.anchor.0.strip_prefix("step:").unwrap_or(&step.anchor.0);
        let article = Tag::new("article")
            .with("class", if held { "step waits" } else { "step" })
            .with("id", &id)
            .with("data-step", own)
            .with("aria-labelledby", format!("{id}-title"));
        article.around(out, |out| {
            for also in &step.also {
                if let Some(also) = self.claimed(also) {
                    Tag::new("span").with("id", also).of(out, "");
                }
            }
            let level = self.level + 1;
            Self::heading_tag(level).with("id", format!("{id}-title")).around(out, |out| {
                if !step.number.is_empty() {
                    Tag::new("span").with("class", "count").of(out, &step.number);
                    out.push(' ');
                }
                text(out, &step.title.unnumbered(), &self.places);
            });
            for facts in [&step.facts, &step.tools] {
                if !facts.is_empty() {
                    Tag::new("p").with("class", "facts").around(out, |out| {
                        for (index, fact) in facts.iter().enumerate() {
                            out.push_str(if index > 0 { " · " } else { "" });
                            text(out, fact, &self.places);
                        }
                    });
                }
            }
            self.paragraph(out, "facts", &step.reason);
            if held {
                Tag::new("div").with("class", "wait").with("role", "note").around(out, |out| {
                    for (index, reason) in step.held_by.iter().enumerate() {
                        Tag::new("p").around(out, |out| {
                            match index {
                                0 => Tag::new("strong").of(out, "WAIT for"),
                                _ => out.push_str("and for"),
                            }
                            out.push(' ');
                            text(out, reason, &self.places);
                        });
                    }
                });
            }
            out.push('\n');
            for line in &step.lines {
                self.line(out, line, held);
                out.push('\n');
            }
        });
        out.push('\n');
    }

    fn line(&mut self, out: &mut String, line: &StepLine, held: bool) {
        match line {
            StepLine::Hazard(told) => hazard(out, told, &self.places),
            StepLine::Act { text, boxes } => self.act(out, text, boxes, held),
            StepLine::PutOn { text, equipment } => {
                Tag::new("p").with("class", "wear").around(out, |out| {
                    signs(out, equipment);
                    self::text(out, text, &self.places);
                });
            }
            StepLine::Torque { text, value, condition, held: open, boxes } => {
                self.act_of(out, text, boxes, held || *open, |out| {
                    Tag::new("p").with("class", if *open { "torque open" } else { "torque" }).around(
                        out,
                        |out| {
                            if *open {
                                Tag::new("strong").of(out, "Not known yet: ");
                            }
                            Tag::new("strong").of(out, value);
                            if !open && !condition.is_empty() {
                                out.push(' ');
                                Tag::new("span").of(out, condition);
                            }
                        },
                    );
                });
            }
            StepLine::Reading { text, limit, unit, blanks } => {
                self.reading_head(out, text, limit, held);
                self.blanks(out, unit, blanks);
            }
            StepLine::Readings { text, limit, table } => {
                self.reading_head(out, text, limit, held);
                self.table(out, table);
            }
            StepLine::Figure(shown) => self.figure(out, shown),
            StepLine::Table(table) => self.table(out, table),
            StepLine::If { condition, action } => {
                Tag::new("p").with("class", "remark").around(out, |out| {
                    Tag::new("strong").of(out, "If ");
                    text(out, condition, &self.places);
                    out.push_str(": ");
                    text(out, action, &self.places);
                });
            }
            StepLine::Note(words) => self.paragraph(out, "remark", words),
            StepLine::Hold(words) => {
                let hold = Tag::new("div").with("class", "hold").with("role", "group");
                hold.with("aria-label", "Hold point").around(out, |out| {
                    self.paragraph(out, "", words);
                    let number = Self::numbered(words);
                    let asked = Asked { number: &number, ..Asked::default() };
                    Tag::new("p").around(out, |out| self.fields.signature(out, &asked));
                });
            }
        }
    }

    fn act(&mut self, out: &mut String, text: &Text, boxes: &Boxes, held: bool) {
        self.act_of(out, text, boxes, held, |_| {});
    }

    /// What is done, with more about it, and its boxes; of what waits the words are struck, and there is nothing to tick.
    fn act_of(
        &mut self,
        out: &mut String,
        text: &Text,
        boxes: &Boxes,
        held: bool,
        more: impl FnOnce(&mut String),
    ) {
        let (about, number) = (text.words(), Self::numbered(text));
        let asked = Asked { number: &number, about: &about, ..Asked::default() };
        Tag::new("div").with("class", "act").around(out, |out| {
            if !held && *boxes == Boxes::One {
                self.fields.tick(out, &asked);
            }
            Tag::new("div").around(out, |out| {
                if held {
                    Tag::new("strong").with("class", "mark").of(out, "wait ");
                    Tag::new("s").around(out, |out| self::text(out, text, &self.places));
                } else {
                    self.paragraph(out, "", text);
                }
                more(out);
                match boxes {
                    Boxes::Grid(names) if !held => {
                        Tag::new("div")
                            .with("class", "boxes")
                            .with("role", "group")
                            .with("aria-label", &about)
                            .around(out, |out| {
                                for (index, name) in names.iter().enumerate() {
                                    let number = match names.len() {
                                        1 => number.clone(),
                                        _ => format!("{number}.{}", index + 1),
                                    };
                                    let asked = Asked { number: &number, shown: name, ..asked };
                                    self.fields.tick(out, &asked);
                                }
                            });
                    }
                    Boxes::Results(names, taken, _) if !held => {
                        let group = Tag::new("div").with("class", "boxes").with("role", "radiogroup");
                        group.with("aria-label", format!("{about} {number}")).around(out, |out| {
                            for (index, name) in names.iter().enumerate() {
                                let asked = Asked { shown: name, ticked: *taken == Some(index), ..asked };
                                self.fields.result(out, &asked, index, name);
                            }
                            Tag::new("span").with("class", "no").of(out, &number);
                        });
                    }
                    _ => {}
                }
            });
        });
    }

    fn reading_head(&mut self, out: &mut String, text: &Text, limit: &str, held: bool) {
        self.act(out, text, &Boxes::None, held);
        if !limit.is_empty() {
            Tag::new("p").with("class", "limit").of(out, limit);
        }
    }

    fn blanks(&mut self, out: &mut String, unit: &str, blanks: &[Blank]) {
        // A reading is taken twice where it stands alone, as on paper.
        let again = blanks.len() == 1 && !unit.is_empty();
        Tag::new("div").with("class", "blanks").around(out, |out| {
            for Blank { name, written, field } in blanks {
                Tag::new("span").with("class", "named").around(out, |out| {
                    if !name.is_empty() {
                        Tag::new("span").with("class", "name").of(out, name);
                    }
                    if written.is_empty() {
                        let asked = Asked { number: &field.number, about: name, ..Asked::default() };
                        self.fields.blank(out, &asked, Some(field), unit, again);
                    } else {
                        Tag::new("strong").of(out, written);
                        Tag::new("span").with("class", "no").of(out, &field.number);
                    }
                });
            }
        });
    }
}
