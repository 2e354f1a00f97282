//! A clause in the words of the bench: things by their titles, units as they are printed, and what it means for whoever stands
//! there in the place of the words of the language, where those are short for it.

use crate::cli::prepared::Prepared;
use crate::language::{Part, Said, spelled};
use crate::plan::words::inner;
use crate::quantity::Unit;
use crate::source::FileId;

/// Words that a clause begins with, and what is said in their place; the longer before the shorter.
const SAID: &[(&str, &str)] = &[
    ("tighten by feel", "tighten by feel"),
    ("tighten unknown", "its torque is unknown"),
    ("tighten as the general table", "tighten by the general table"),
    ("once", "serves once: a new one each time"),
    ("reusable", "may be used again"),
    ("reuse unknown", "whether it may be used again is unknown"),
    ("mass", "weighs"),
    ("under", "lies under"),
    ("within", "sits within"),
    ("dry", "goes on dry"),
    ("oil", "oil on"),
    ("apply", "goes on with"),
    ("coat with", "goes on with"),
    ("made", "as made"),
    ("worn", "worn limit"),
    ("bands", "judged:"),
    ("fate", "becomes:"),
    ("hazard", "warning:"),
    ("consequence", "what happens"),
    ("avoid", "to avoid it"),
    ("wear", "to wear"),
    ("after", "not before"),
    ("before", "before"),
    ("straight after", "at once after"),
    ("time", "takes about"),
    ("refit time", "takes on the way back about"),
    ("tools", "tools:"),
    ("supplies", "supplies:"),
    ("needs", "only with"),
    ("with", "stands"),
    ("gauge", "read"),
    ("look", "look at"),
    ("take", "take off"),
    ("put back", "put back for now"),
    ("nip", "nip, not to the torque:"),
    ("do", ""),
    ("hold", "stop until somebody else has seen"),
    ("when", "only when"),
    ("strip only", "not on the way back"),
];

/// What a declaration is called at the bench, with its name.
pub(super) fn titled(prepared: &Prepared, said: &Said) -> String {
    let procedure = &prepared.procedure;
    match procedure.names.get(&said.name) {
        Some(name) if said.word != "family" => {
            let naming = procedure.naming(*name);
            format!("{} ({})", naming.title, naming.id)
        }
        _ if said.word == "family" => "What it is".to_owned(),
        _ => format!("{} {}", said.word, said.name).trim_end().to_owned(),
    }
}

/// A clause of a declaration, as it is told at the bench.
pub(super) fn spoken(prepared: &Prepared, said: &Said, clause: &str) -> String {
    let before = format!("{} {} {} {{ ", said.word, said.name, said.head);
    let text = format!("{before}{clause} }}\n");
    let (words, _) = spelled(FileId::default(), &text);
    let mut out = String::new();
    let mut at = before.len();
    for word in words.iter().filter(|word| word.span.start() >= before.len()) {
        out += &text[at..word.span.start()];
        let written = &text[word.span.start()..word.span.end()];
        at = word.span.end();
        match word.part {
            Part::Used => match prepared.procedure.names.get(written) {
                Some(name) => out += &inner(&prepared.procedure.naming(*name).title),
                None => out += &written.replace('_', " "),
            },
            Part::Unit => out += Unit::find(written).map_or(written, |unit| unit.printed),
            Part::Text if out.trim_end().ends_with("from") => {
                out.truncate(out.trim_end().len() - "from".len());
                out += &format!("({})", written.trim_matches('"'));
            }
            Part::Text => {
                let text = written.trim_matches('"');
                // What stands alone in quotes is a sentence of its own.
                let colon = if out.trim().is_empty() || out.ends_with(": ") { "" } else { ": " };
                out = format!("{}{colon}{text}", out.trim_end());
            }
            _ => out += written,
        }
    }
    out += text[at..].trim_end().strip_suffix('}').unwrap_or_default().trim_end();
    in_place_of_its_words(said, clause, out.trim())
}

/// The same with what its first words mean.
fn in_place_of_its_words(said: &Said, clause: &str, out: &str) -> String {
    let whole = |words: &str, text: &str| {
        text.strip_prefix(words).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', ',', ':']))
    };
    let longest = |(words, _): &&(&str, &str)| whole(words, clause) && whole(words, out);
    let found = SAID.iter().filter(longest).max_by_key(|(words, _)| words.len());
    match found {
        // In a set the torque is its own.
        None if said.word == "fasteners" && whole("tighten", clause) => {
            out.replacen("tighten", "tighten to", 1)
        }
        None => out.to_owned(),
        Some((words, spoken)) => {
            let rest = out[words.len()..].trim_start_matches([' ', ':']);
            let space = if spoken.is_empty() || rest.is_empty() { "" } else { " " };
            let colon = if out[words.len()..].starts_with(':') && !spoken.is_empty() { ":" } else { "" };
            format!("{spoken}{}{space}{rest}", if spoken.ends_with(':') { "" } else { colon })
        }
    }
}
