//! The extra work of a job, from the tree of a record: steps, parts, tools and machine-shop lines that the procedure hasn't
//! got; and as declarations in the language, so that a step of one job is a step like any other. What those mean is not known
//! here.

use super::fields::{Fields, Taker};
use super::yaml::Node;
use super::{ExtraPart, ExtraStep, Named, Signature, WrittenExtra, WrittenWork, errors};
use crate::quantity::Dimension;
use crate::source::{Span, Spanned};

const EXAMPLE: &str = "extra: {steps: {insert: {title: \"Fit an insert\", phase: strip, after: sump_off, do: [\"Drill it.\"]}}}";

pub(super) fn extra(taker: &mut Taker, top: &Fields) -> WrittenExtra {
    const KEYS: [&str; 4] = ["steps", "parts", "tools", "work"];
    let fields = top.get("extra").and_then(|node| taker.fields("extra", node, "`extra`", &KEYS));
    let Some(fields) = fields else { return WrittenExtra::default() };
    WrittenExtra {
        steps: each(taker, &fields, "steps", step),
        parts: each(taker, &fields, "parts", part),
        tools: each(taker, &fields, "tools", |taker, id, node| {
            taker.text(&id.value, node).map(|title| (id.clone(), title))
        }),
        work: each(taker, &fields, "work", work),
    }
}

/// What stands under a key, each by its id.
fn each<T>(
    taker: &mut Taker,
    fields: &Fields,
    key: &str,
    read: fn(&mut Taker, &Spanned<String>, &Node) -> Option<T>,
) -> Vec<T> {
    let Some(node) = fields.get(key) else { return Vec::new() };
    let entries = taker.entries(key, node, EXAMPLE);
    entries.into_iter().filter_map(|(id, node)| read(taker, id, node)).collect()
}

/// An id of the job's own, which the language can take.
fn own_id(taker: &mut Taker, id: &Spanned<String>) -> Option<Spanned<String>> {
    let letters = |text: &str| text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
    if letters(&id.value) && id.value.starts_with(|c: char| c.is_ascii_lowercase()) {
        return Some(id.clone());
    }
    taker.diagnostics.push(errors::not_an_id(id));
    None
}

fn step(taker: &mut Taker, id: &Spanned<String>, node: &Node) -> Option<ExtraStep> {
    const KEYS: [&str; 14] = [
        "title", "phase", "after", "before", "do", "tools", "parts", "hands", "time", "hold", "hazards",
        "why", "by", "date",
    ];
    let fields = taker.fields(&id.value, node, "an extra step", &KEYS)?;
    let id = own_id(taker, id)?;
    for (key, example) in [("title", "title: \"Fit an M8 insert\""), ("do", "do: [\"Drill it out.\"]")] {
        if fields.get(key).is_none() {
            taker.diagnostics.push(errors::missing_key(id.span, key, "the extra step", example));
        }
    }
    let named = |taker: &mut Taker, key: &str| -> Vec<Named> {
        let texts = taker.texts_of(&fields, key);
        texts.iter().filter_map(|text| taker.named(text)).collect()
    };
    let (after, before) = (named(taker, "after"), named(taker, "before"));
    let derived = after.iter().chain(&before).any(Named::is_derived);
    let phase = match taker.text_of(&fields, "phase") {
        Some(phase) => phase,
        // Steps that are derived are steps of the build.
        None if derived => Spanned::new("build".to_owned(), id.span),
        None => {
            let example = "phase: strip";
            taker.diagnostics.push(errors::missing_key(id.span, "phase", "the extra step", example));
            return None;
        }
    };
    if !PHASES.contains(&phase.value.as_str()) {
        taker.diagnostics.push(errors::unknown_answer(&phase, "phase", PHASES, id.span));
        return None;
    }
    Some(ExtraStep {
        title: taker.text_of(&fields, "title")?,
        phase,
        after,
        before,
        acts: taker.texts_of(&fields, "do"),
        tools: taker.texts_of(&fields, "tools"),
        parts: taker.texts_of(&fields, "parts"),
        hazards: taker.texts_of(&fields, "hazards"),
        hands: taker.count_of(&fields, "hands"),
        time: taker.quantity_of(&fields, "time", Dimension::DURATION),
        hold: taker.text_of(&fields, "hold"),
        why: taker.plain_of(&fields, "why"),
        signature: taker.signature(&fields),
        id,
    })
}

const PHASES: [&str; 4] = ["strip", "survey", "build", "start"];

fn part(taker: &mut Taker, id: &Spanned<String>, node: &Node) -> Option<ExtraPart> {
    const KEYS: [&str; 6] = ["title", "count", "price", "part_number", "supplier", "lead_time"];
    let fields = taker.fields(&id.value, node, "an extra part", &KEYS)?;
    let id = own_id(taker, id)?;
    if fields.get("title").is_none() {
        let example = "title: \"M8 insert\"";
        taker.diagnostics.push(errors::missing_key(id.span, "title", "the extra part", example));
    }
    Some(ExtraPart {
        title: taker.text_of(&fields, "title")?,
        count: taker.count_of(&fields, "count").map_or(1, |count| count.value),
        price: taker.money_of(&fields, "price"),
        part_number: taker.plain_of(&fields, "part_number"),
        supplier: taker.plain_of(&fields, "supplier"),
        lead_time: taker.quantity_of(&fields, "lead_time", Dimension::DURATION).map(|time| time.value),
        id,
    })
}

fn work(taker: &mut Taker, id: &Spanned<String>, node: &Node) -> Option<WrittenWork> {
    const KEYS: [&str; 4] = ["what", "price", "to", "lead_time"];
    let part = taker.named(id)?;
    let fields = taker.fields(&id.value, node, "extra work on a part", &KEYS)?;
    if fields.get("what").is_none() {
        let example = "what: \"fit an insert\"";
        taker.diagnostics.push(errors::missing_key(id.span, "what", "the extra work", example));
    }
    Some(WrittenWork {
        what: taker.plain_of(&fields, "what")?,
        price: taker.money_of(&fields, "price"),
        to: taker.plain_of(&fields, "to"),
        lead_time: taker.quantity_of(&fields, "lead_time", Dimension::DURATION).map(|time| time.value),
        part,
    })
}

/// Declarations in the language, and where in the record each of their words was said.
#[derive(Debug, Clone, Default)]
pub(crate) struct Declarations {
    /// The text.
    pub(crate) text: String,
    /// Where a word begins in the text, and where it was said.
    said: Vec<(usize, Span)>,
}

impl Declarations {
    /// The place in the record of what stands at a place in the text.
    pub(crate) fn in_record(&self, at: usize) -> Option<Span> {
        self.said.iter().rev().find(|(start, _)| *start <= at).or(self.said.first()).map(|(_, span)| *span)
    }

    fn word(&mut self, text: &str, said: Span) {
        self.said.push((self.text.len(), said));
        self.text.push_str(text);
    }

    fn quote(&mut self, said: &Spanned<String>) {
        let escaped = said.value.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', " ");
        self.word(&format!("\"{escaped}\""), said.span);
    }

    /// Parts and supplies of a step; of a part of the job's own all there are, where no amount is said.
    fn supplies(&mut self, names: &[Spanned<String>], own: &[ExtraPart]) {
        let all = |name: &Spanned<String>| {
            let part = own.iter().find(|part| part.id.value == name.value);
            part.map_or_else(
                || name.clone(),
                |part| Spanned::new(format!("{} {}", name.value, part.count), name.span),
            )
        };
        let names: Vec<_> = names.iter().map(all).collect();
        self.listed("supplies", &names);
    }

    fn listed(&mut self, clause: &str, names: &[Spanned<String>]) {
        for (index, name) in names.iter().enumerate() {
            self.text.push_str(if index == 0 { clause } else { "," });
            self.text.push(' ');
            self.word(&name.value, name.span);
        }
        self.text.push_str(if names.is_empty() { "" } else { "\n" });
    }

    fn step(&mut self, step: &ExtraStep, own: &[ExtraPart]) {
        self.word(&step.phase.value, step.phase.span);
        self.text.push(' ');
        self.word(&step.id.value, step.id.span);
        self.text.push(' ');
        self.quote(&step.title);
        self.text.push_str(" {\n");
        for (clause, links) in [("after", &step.after), ("before", &step.before)] {
            let written = links.iter().filter(|link| !link.is_derived());
            let names: Vec<_> = written.map(|link| Spanned::new(link.to_string(), link.span)).collect();
            self.listed(clause, &names);
        }
        self.listed("tools", &step.tools);
        self.supplies(&step.parts, own);
        if let Some(hands) = &step.hands {
            self.text.push_str("hands ");
            self.word(&format!("{}\n", hands.value), hands.span);
        }
        if let Some(time) = &step.time {
            self.text.push_str("time ");
            self.word(&format!("{}\n", time.value), time.span);
        }
        for hazard in &step.hazards {
            self.text.push_str("hazard ");
            self.word(&format!("{}\n", hazard.value), hazard.span);
        }
        for act in &step.acts {
            self.text.push_str("do ");
            self.quote(act);
            self.text.push('\n');
        }
        if let Some(hold) = &step.hold {
            self.text.push_str("hold ");
            self.quote(hold);
            self.text.push('\n');
        }
        self.text.push_str("}\n");
    }
}

impl WrittenExtra {
    /// What the steps, tools and parts are in the language; none where there are none. A part is a supply there: it was not
    /// on the engine, and nothing comes off or goes back.
    pub(crate) fn declarations(&self) -> Option<Declarations> {
        let mut out = Declarations::default();
        let tools = self.tools.iter().map(|(id, title)| ("tool ", id, title));
        let parts = self.parts.iter().map(|part| ("supply ", &part.id, &part.title));
        for (kind, id, title) in tools.chain(parts) {
            out.text.push_str(kind);
            out.word(&id.value, id.span);
            out.text.push(' ');
            out.quote(title);
            out.text.push('\n');
        }
        self.steps.iter().for_each(|step| out.step(step, &self.parts));
        Some(out).filter(|out| !out.text.is_empty())
    }
}

/// Who asked for an extra step and why, as it is told.
impl ExtraStep {
    /// `the stud sheared (HK, 2026-03-05)`; none where nobody says.
    pub(crate) fn reason(&self) -> Option<String> {
        let Signature { by, date } = &self.signature;
        let signed: Vec<String> = by.iter().cloned().chain(date.map(|date| date.to_string())).collect();
        let signed = if signed.is_empty() { String::new() } else { format!(" ({})", signed.join(", ")) };
        self.why.as_ref().map(|why| format!("{why}{signed}"))
    }
}
