//! Names: which one stands at a place, where it is declared, where it is used, and all of those written anew.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use lsp_types::{Location, Position, TextEdit, WorkspaceEdit};

use super::desk::Desk;
use super::found::Found;
use super::places::{byte, range};
use super::told::{location, uri};
use crate::language::{Part, Spelled, spelled, spelled_at};
use crate::source::{FileId, Span, place};

/// A name as it stands in a text.
pub(super) struct At {
    /// The name.
    pub name: String,
    /// Where it stands.
    pub span: Span,
}

/// The name at a place of a text.
pub(super) fn at(text: &str, position: Position) -> Option<At> {
    let byte = byte(text, position);
    let words = spelled_at(FileId::default(), text, byte);
    let word =
        words.iter().find(|word| is_name(word) && word.span.start() <= byte && byte <= word.span.end())?;
    Some(At { name: text[word.span.start()..word.span.end()].to_owned(), span: word.span })
}

fn is_name(word: &Spelled) -> bool {
    matches!(word.part, Part::Declared | Part::Used)
}

/// Where the name at a place is declared.
pub(super) fn declared(
    found: &Found,
    desk: &Desk,
    path: &Path,
    text: &str,
    position: Position,
) -> Option<Location> {
    let at = at(text, position)?;
    let (_, procedure, name) = found.named(path, &at.name)?;
    location(found, desk, procedure.naming(name).span)
}

/// Every place of a name in the files that are read together with one, by path.
fn uses(found: &Found, path: &Path, name: &str) -> Vec<(PathBuf, String, Vec<Spelled>)> {
    let mut files: Vec<PathBuf> = Vec::new();
    for root in found.roots_of(path) {
        for file in root.procedure.iter().flat_map(|procedure| &procedure.files) {
            let path = found.sources().file(*file).path.clone();
            if !files.iter().any(|known| place(known) == place(&path)) {
                files.push(path);
            }
        }
    }
    let of_file = |path: PathBuf| {
        let (id, file) = found.file(&path)?;
        let text = file.text.clone();
        let (mut words, _) = spelled(id, &text);
        words.retain(|word| is_name(word) && &text[word.span.start()..word.span.end()] == name);
        Some((path, text, words))
    };
    files.into_iter().filter_map(of_file).filter(|(_, _, words)| !words.is_empty()).collect()
}

/// Where the name at a place is used; with its declaration where that is wanted.
pub(super) fn references(
    found: &Found,
    desk: &Desk,
    path: &Path,
    text: &str,
    position: Position,
    declaration: bool,
) -> Vec<Location> {
    let Some(at) = at(text, position).filter(|at| found.named(path, &at.name).is_some()) else {
        return Vec::new();
    };
    let mut places = Vec::new();
    for (path, text, words) in uses(found, path, &at.name) {
        let Some(uri) = uri(desk, &path) else { continue };
        let wanted = words.iter().filter(|word| declaration || word.part != Part::Declared);
        places.extend(wanted.map(|word| Location {
            uri: uri.clone(),
            range: range(&text, word.span.start(), word.span.end()),
        }));
    }
    places
}

/// Records of jobs beside a procedure that speak of the name at a place, each with its lines, in words. They say what was
/// found and done under that name on a day, and are signed for: no editor writes them anew.
pub(super) fn in_records(found: &Found, path: &Path, text: &str, position: Position) -> Vec<String> {
    let Some(at) = at(text, position).filter(|at| found.named(path, &at.name).is_some()) else {
        return Vec::new();
    };
    let folders: BTreeSet<PathBuf> =
        found.roots_of(path).filter_map(|root| root.path.parent().map(Path::to_path_buf)).collect();
    let whole = |line: &str| {
        let mut words = line.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_'));
        words.any(|word| word == at.name)
    };
    let mut told = Vec::new();
    for record in folders.iter().flat_map(|folder| found.sources().records_in(folder)) {
        let Ok(text) = found.sources().text_at(&record) else { continue };
        let lines: Vec<String> = text
            .lines()
            .enumerate()
            .filter(|(_, line)| whole(line))
            .map(|(at, _)| (at + 1).to_string())
            .collect();
        if !lines.is_empty() {
            let name = record.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let many = if lines.len() > 1 { "lines" } else { "line" };
            told.push(format!(
                "{name} speaks of `{}` in {many} {} and is left as it is: a record says what was found under that name; \
                 `benchleaf check {name}` shows what it can no longer find",
                at.name,
                lines.join(", ")
            ));
        }
    }
    told
}

/// Every place of the name written anew, in all files that are read together; none where the new name is no name, is taken, or
/// would be written into a file that comes with the program.
///
/// # Errors
/// Why not, in words.
pub(super) fn renamed(
    found: &Found,
    desk: &Desk,
    path: &Path,
    text: &str,
    position: Position,
    new: &str,
) -> Result<WorkspaceEdit, String> {
    let at = at(text, position).ok_or("no name stands here")?;
    let (_, procedure, _) =
        found.named(path, &at.name).ok_or_else(|| format!("nothing is called `{}`", at.name))?;
    let letters = |new: &str| {
        new.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_')
    };
    if !letters(new) || !new.starts_with(|c: char| c.is_ascii_lowercase()) {
        return Err(format!("`{new}` is no name: small letters, digits and `_`, and a letter first"));
    }
    if procedure.names.contains(new) {
        return Err(format!("something is called `{new}` already"));
    }
    // The protocol gives edits by address.
    #[expect(clippy::mutable_key_type, reason = "an address is never changed once it is a key")]
    let mut changes = std::collections::HashMap::new();
    for (path, text, words) in uses(found, path, &at.name) {
        let here = uri(desk, &path).ok_or("a file has no address")?;
        let edits = words.iter().map(|word| TextEdit {
            range: range(&text, word.span.start(), word.span.end()),
            new_text: new.to_owned(),
        });
        changes.insert(here, edits.collect());
    }
    Ok(WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() })
}
