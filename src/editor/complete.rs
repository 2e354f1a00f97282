//! What may be written at a place, as an editor offers it.

use std::collections::BTreeMap;
use std::path::Path;

use lsp_types::{
    CompletionItem, CompletionItemKind, CompletionList, CompletionResponse, Documentation, Position,
};

use super::found::Found;
use super::places::byte;
use crate::language::{units, wanted};
use crate::procedure::model::{Name, Procedure};
use crate::source::FileId;

/// Names that are offered at once. Nobody reads through more, and to send more takes longer than a key.
const MOST_NAMES: usize = 400;

/// Everything that fits at a place; what is typed of it already is left to the editor. Of very many names those that go with
/// what is typed: the editor then asks again at the next key.
pub(super) fn complete(found: &Found, path: &Path, text: &str, position: Position) -> CompletionResponse {
    let at = byte(text, position);
    let begun = text[..at]
        .rfind(|c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '.'))
        .map_or(0, |last| last + text[last..].chars().next().map_or(1, char::len_utf8));
    let wanted = wanted(FileId::default(), text, begun);
    let mut items: Vec<CompletionItem> = Vec::new();
    if wanted.unit {
        items.extend(units().map(|unit| item(unit, CompletionItemKind::UNIT, None, None)));
    }
    let mut is_incomplete = false;
    if wanted.name {
        let mut names: BTreeMap<&str, (&Procedure, Name)> = BTreeMap::new();
        for procedure in found.roots_of(path).filter_map(|root| root.procedure.as_deref()) {
            let fitting =
                procedure.names.iter().filter(|(_, name)| fits(&wanted.clause, &wanted.owner, *name));
            for (id, name) in fitting {
                names.entry(id).or_insert((procedure, name));
            }
        }
        is_incomplete = names.len() > MOST_NAMES;
        let typed = &text[begun..at];
        let (begins, others): (Vec<_>, Vec<_>) = names
            .into_iter()
            .filter(|(id, _)| !is_incomplete || goes_with(typed, id))
            .partition(|(id, _)| id.starts_with(typed));
        for (id, (procedure, name)) in begins.into_iter().chain(others).take(MOST_NAMES) {
            let detail = format!("{}: {}", name.kind(), procedure.naming(name).title);
            items.push(item(id, CompletionItemKind::REFERENCE, Some(detail), None));
        }
    }
    let units: Vec<&str> = units().collect();
    for (word, help) in wanted.words.iter().filter(|(word, _)| !units.contains(&word.as_str())) {
        items.push(item(word, CompletionItemKind::KEYWORD, None, *help));
    }
    if is_incomplete {
        CompletionResponse::List(CompletionList { is_incomplete, items })
    } else {
        CompletionResponse::Array(items)
    }
}

/// Whether the letters that are typed stand in a name, one after the other.
fn goes_with(typed: &str, name: &str) -> bool {
    let mut letters = name.chars();
    typed.chars().all(|wanted| letters.any(|letter| letter == wanted))
}

fn item(label: &str, kind: CompletionItemKind, detail: Option<String>, help: Option<&str>) -> CompletionItem {
    CompletionItem {
        label: label.to_owned(),
        kind: Some(kind),
        detail,
        documentation: help.map(|help| Documentation::String(help.to_owned())),
        ..CompletionItem::default()
    }
}

/// Whether a clause speaks of things of this kind; every kind where it isn't known which.
fn fits(clause: &str, owner: &str, name: Name) -> bool {
    let part = matches!(name, Name::Part(_));
    let fastened = matches!(name, Name::Set(_) | Name::Joint(_));
    match clause {
        "take" | "fit" | "put back" | "press" | "support" | "send" | "receive" | "accept" | "clean"
        | "within" | "sealed by" | "matched with" | "meshes" | "sized with" | "of" | "clamps" => part,
        "undo" | "slacken" | "nip" | "retighten" | "start by hand" | "held by" => fastened,
        "tighten" if owner == "joint" => matches!(name, Name::Set(_)),
        "tighten" => fastened,
        "holes" => matches!(name, Name::Set(_)),
        "under" => part || matches!(name, Name::Set(_)),
        "tools" | "off with" | "on with" | "both ways with" => matches!(name, Name::Tool(_)),
        "supplies" | "apply" | "coat with" => matches!(name, Name::Supply(_)),
        "hazard" => matches!(name, Name::Hazard(_)),
        "gauge" => matches!(name, Name::Gauge(_)),
        "look" => matches!(name, Name::Look(_)),
        "after" | "before" | "straight after" | "except" => {
            matches!(name, Name::Step(_) | Name::Section(_) | Name::Group(_))
        }
        "with" => matches!(name, Name::Setup(_)),
        "set" | "releases" => matches!(name, Name::State(_)),
        "each" => matches!(name, Name::Axis(_)),
        "put in" | "take out" => matches!(name, Name::Temporary(_)),
        "when" | "present when" => matches!(name, Name::Ask(_)),
        _ => true,
    }
}
