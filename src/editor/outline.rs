//! What a text is made of, as an editor shows it beside the text: its declarations below their sections, what can be folded, the
//! part that each word plays; and the order of work that follows.

use lsp_types::{DocumentSymbol, FoldingRange, FoldingRangeKind, SemanticToken, SymbolKind};
use serde_json::{Value, json};

use super::desk::Desk;
use super::found::{Found, Root};
use super::places::{place, range};
use super::told::location;
use crate::language::{Outlined, Part, spelled};
use crate::network::StepSource;
use crate::source::FileId;

/// The parts that words play, in the order in which the protocol's numbers count them.
pub(super) const LEGEND: [&str; 8] =
    ["keyword", "variable", "property", "number", "type", "string", "comment", "function"];

/// Declarations below the section that they belong to, steps below their group.
pub(super) fn symbols(text: &str) -> Vec<DocumentSymbol> {
    let (_, outlined) = spelled(FileId::default(), text);
    let mut top: Vec<DocumentSymbol> = Vec::new();
    let mut in_section = false;
    for one in &outlined {
        let made = symbol(text, one);
        let section = one.word == "section";
        if section || !in_section && one.depth == 0 {
            in_section |= section;
            top.push(made);
            continue;
        }
        let Some(parent) = top.last_mut() else { continue };
        // What stands in a section stretches it; what stands in a group is below the group.
        parent.range.end = parent.range.end.max(made.range.end);
        let below = parent.children.get_or_insert_default();
        match below.last_mut() {
            Some(group) if one.depth > 0 && in_section => group.children.get_or_insert_default().push(made),
            _ => below.push(made),
        }
    }
    top
}

#[expect(deprecated, reason = "the protocol's own type has a field that it no longer wants")]
fn symbol(text: &str, one: &Outlined) -> DocumentSymbol {
    let selection = one.name.unwrap_or(one.span);
    let name = one.name.map_or(one.word.as_str(), |name| &text[name.start()..name.end()]).to_owned();
    let kind = match one.word.as_str() {
        "section" | "family" => SymbolKind::NAMESPACE,
        "strip" | "survey" | "build" | "start" => SymbolKind::FUNCTION,
        "block" | "trial" => SymbolKind::MODULE,
        "part" => SymbolKind::OBJECT,
        "fasteners" => SymbolKind::ARRAY,
        "joint" => SymbolKind::STRUCT,
        "gauge" | "look" => SymbolKind::NUMBER,
        "hazard" => SymbolKind::EVENT,
        "use" => SymbolKind::FILE,
        _ => SymbolKind::CONSTANT,
    };
    let detail = if one.title.is_empty() { one.word.clone() } else { format!("{}: {}", one.word, one.title) };
    DocumentSymbol {
        name: if name.is_empty() { one.word.clone() } else { name },
        detail: Some(detail),
        kind,
        tags: None,
        deprecated: None,
        range: range(text, one.span.start(), one.span.end()),
        selection_range: range(text, selection.start(), selection.end()),
        children: None,
    }
}

/// Whatever goes over several lines: declarations, and comments below each other.
pub(super) fn folds(text: &str) -> Vec<FoldingRange> {
    let (words, outlined) = spelled(FileId::default(), text);
    let mut folds: Vec<FoldingRange> = Vec::new();
    let mut fold = |start: u32, end: u32, kind: Option<FoldingRangeKind>| {
        if end > start {
            folds.push(FoldingRange { start_line: start, end_line: end, kind, ..FoldingRange::default() });
        }
    };
    for one in &outlined {
        fold(place(text, one.span.start()).line, place(text, one.span.end()).line, None);
    }
    let mut lines = words
        .iter()
        .filter(|word| word.part == Part::Comment)
        .map(|word| place(text, word.span.start()).line)
        .peekable();
    while let Some(start) = lines.next() {
        let mut end = start;
        while lines.next_if_eq(&(end + 1)).is_some() {
            end += 1;
        }
        fold(start, end, Some(FoldingRangeKind::Comment));
    }
    folds
}

/// The part that each word plays, each place counted from the one before, as the protocol wants it.
pub(super) fn colours(text: &str) -> Vec<SemanticToken> {
    let (words, _) = spelled(FileId::default(), text);
    let mut tokens = Vec::new();
    let (mut line, mut start) = (0, 0);
    for word in words {
        let at = range(text, word.span.start(), word.span.end());
        if at.start.line != at.end.line {
            continue;
        }
        let token_type = match word.part {
            Part::Fixed => 0,
            Part::Used => 1,
            Part::Local => 2,
            Part::Number => 3,
            Part::Unit => 4,
            Part::Text => 5,
            Part::Comment => 6,
            Part::Declared => 7,
        };
        let delta_line = at.start.line - line;
        let delta_start = if delta_line == 0 { at.start.character - start } else { at.start.character };
        let length = at.end.character - at.start.character;
        tokens.push(SemanticToken { delta_line, delta_start, length, token_type, token_modifiers_bitset: 0 });
        (line, start) = (at.start.line, at.start.character);
    }
    tokens
}

/// The steps of a procedure in their order, phase by phase.
pub(super) fn order(found: &Found, desk: &Desk, root: &Root) -> Value {
    let Some(view) = &root.view else { return Value::Null };
    let steps: Vec<Value> = view
        .plan
        .steps()
        .map(|(plan, step)| {
            let made = crate::plan::step_of(&view.procedure, &view.network, step.source);
            let written = match step.source {
                StepSource::Written(_) => location(found, desk, made.naming.span),
                StepSource::Derived(_) => None,
            };
            json!({
                "phase": plan.phase.word(),
                "number": step.number,
                "step": step.key.id(&view.procedure),
                "title": made.naming.title,
                "location": written,
            })
        })
        .collect();
    Value::Array(steps)
}
