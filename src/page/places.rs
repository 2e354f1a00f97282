//! Complaints about what stands on sheets, brought back to where it was read. Sheets carry no places: what a complaint
//! quotes is looked for in the texts of the run, and where it stands more than once, the words around it decide.

use super::{errors, words};
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::page as codes;
use crate::source::{Sources, Span};
use std::collections::BTreeSet;

/// Points complaints of [`super::lay_out`] at the places in `sources` where their words stand. The same fault at the
/// same place, from words that are printed on several sheets, is told once. A complaint about words that no text holds,
/// because the program made them, is kept as it was.
///
/// ```
/// use std::path::Path;
///
/// use benchleaf::model::Phase;
/// use benchleaf::{Memory, PacketOptions, PageSetup, Request, Workshop, lay_out, located};
///
/// let files = Memory::new()
///     .with(
///         "pump.rebuild",
///         "family pump \"Pump\" { origin \"invented\"  invented }\n\
///          part cover \"Cover\" { fate renew }\n\
///          strip cover_off \"Take the cover off\" { take cover }\n",
///     )
///     .with("crib.yaml", "name: \"漢\"\n")
///     .with("job.yaml", "job: \"1\"\nprocedure: pump.rebuild\ncrib: crib.yaml\n");
/// let mut workshop = Workshop::over(files);
/// let request = Request { record: Some(Path::new("job.yaml")), ..Request::of("pump.rebuild") };
/// let view = workshop.job(&request).value.expect("nothing is wrong with it");
/// let packet = view.packet(&workshop, &PacketOptions::of(Phase::Survey));
/// let faults = lay_out(&packet, &PageSetup::default()).diagnostics;
/// assert!(faults.iter().all(|fault| fault.labels.is_empty()));
/// let located = located(faults, workshop.sources());
/// assert_eq!(located.len(), 1);
/// assert_eq!(workshop.sources().file(located[0].labels[0].span.file).path.to_str(), Some("crib.yaml"));
/// ```
pub fn located(diagnostics: Vec<Diagnostic>, sources: &Sources) -> Vec<Diagnostic> {
    let mut told: BTreeSet<(&str, Span)> = BTreeSet::new();
    let mut kept = Vec::with_capacity(diagnostics.len());
    for diagnostic in diagnostics {
        match place(&diagnostic, sources) {
            Some((span, words)) => {
                if told.insert((diagnostic.code.name, span)) {
                    kept.push(diagnostic.at(span, words));
                }
            }
            None => kept.push(diagnostic),
        }
    }
    kept
}

/// What of a text can't be set on a page, each at its place in the text.
pub(crate) fn unsettable(span: Span, text: &str) -> Vec<Diagnostic> {
    let complaint = |refused: &words::Refused| {
        // A letter that was written in pieces is put together first, and has no place of its own.
        let at = text.find(refused.character).map_or(span, |at| {
            let start = span.start() + at;
            Span::new(span.file, start, start + refused.character.len_utf8())
        });
        errors::refused(refused).at(at, "this one")
    };
    words::refused_in(text).iter().map(complaint).collect()
}

fn place(diagnostic: &Diagnostic, sources: &Sources) -> Option<(Span, &'static str)> {
    let mut quoted = diagnostic.message.split('`').skip(1).step_by(2);
    let (first, second) = (quoted.next()?, quoted.next());
    if diagnostic.code == &codes::LABEL_TOO_SMALL {
        return Some((title(first, sources)?, "on a label with all that goes with it"));
    }
    let mut characters = first.chars();
    let (Some(refused), None) = (characters.next(), characters.next()) else { return None };
    Some((character(refused, second.unwrap_or_default(), sources)?, "this one"))
}

/// The place of `refused` whose neighbours on the line are most like those in `around`; of equals the first.
fn character(refused: char, around: &str, sources: &Sources) -> Option<Span> {
    let around = around.trim_matches('…');
    let (wanted_before, wanted_behind) = around.split_once(refused).unwrap_or_default();
    let mut best: Option<(usize, Span)> = None;
    for (id, file) in sources.files() {
        for (at, found) in file.text.match_indices(refused) {
            let end = at + found.len();
            let start = file.text[..at].rfind('\n').map_or(0, |end| end + 1);
            let behind = file.text[end..].lines().next().unwrap_or_default();
            let like = alike(reversed(wanted_before), reversed(&file.text[start..at]))
                + alike(wanted_behind.chars(), words::normalised(behind));
            if best.is_none_or(|(most, _)| like > most) {
                best = Some((like, Span::new(id, at, end)));
            }
        }
    }
    best.map(|(_, span)| span)
}

/// Letters from the last to the first, as they are set.
fn reversed(words: &str) -> impl Iterator<Item = char> {
    let letters: Vec<char> = words::normalised(words).collect();
    letters.into_iter().rev()
}

fn alike(a: impl Iterator<Item = char>, b: impl Iterator<Item = char>) -> usize {
    a.zip(b).take_while(|(a, b)| a == b).count()
}

/// Where most of a title stands: its first words, as many as are found together in double quotes.
fn title(title: &str, sources: &Sources) -> Option<Span> {
    let title = title.trim_end_matches('…');
    let ends = title.char_indices().filter(|(_, c)| *c == ' ').map(|(at, _)| at).chain([title.len()]);
    let mut ends: Vec<usize> = ends.collect();
    while let Some(end) = ends.pop() {
        let words = format!("\"{}", title[..end].trim_end());
        let found = sources.files().find_map(|(id, file)| Some((id, file.text.find(&words)?)));
        if let Some((id, at)) = found {
            return Some(Span::new(id, at + 1, at + words.len()));
        }
    }
    None
}
