//! What the author of a procedure should change: what was found different at the bench, and what was noted there.

use serde_json::{Value as Json, json};

use super::{shown, words};
use crate::english::noun;
use crate::procedure::model::{Lengths, Place, Procedure, SetId, StepKey};
use crate::quantity::Quantity;
use crate::record::{About, Came, Found, Job};
use crate::source::{Span, Spanned};

/// Something for the author.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct AuthorNote {
    /// Id of the part, set, joint or step, with its place.
    pub about: String,
    /// What the procedure says of it, where it says something.
    pub procedure_says: Option<String>,
    /// What was found or noted.
    pub found: String,
    /// Where the procedure speaks of it; none for a derived step.
    pub declared: Option<Span>,
    /// Who, and when, in words; may be empty.
    pub signed: String,
}

/// Notes in the order of the record, then lengths that differ from the procedure or that it doesn't know.
pub(crate) fn author_notes(procedure: &Procedure, job: &Job) -> Vec<AuthorNote> {
    let mut notes = Vec::new();
    for note in &job.notes {
        let (about, declared) = about(procedure, &note.about);
        let date = note.signature.date.map(|date| date.to_string());
        let signed: Vec<String> = note.signature.by.clone().into_iter().chain(date).collect();
        let mut add = |procedure_says: Option<String>, found: String| {
            notes.push(AuthorNote {
                about: about.clone(),
                procedure_says,
                found,
                declared,
                signed: signed.join(", "),
            });
        };
        for found in &note.found {
            match found {
                Found::Length(length) => {
                    add(said_length(procedure, &note.about), format!("length {}", length.value.printed()));
                }
                Found::Count(count) => add(said_count(procedure, &note.about), count.value.to_string()),
                Found::Thread(thread) => {
                    add(said_thread(procedure, &note.about), format!("thread {}", thread.value));
                }
                Found::Size(size) => add(None, format!("size {}", size.value.printed())),
                Found::Condition(condition) => add(None, format!("found {condition}")),
                Found::Came(Came::Off) => add(None, "came off already".to_owned()),
                Found::Came(Came::Without) => add(None, words::came_without_it(procedure)),
                Found::Added(added) => add(None, format!("added by somebody: {added}")),
            }
        }
        if let Some(says) = &note.says {
            add(None, says.clone());
        }
    }
    notes.extend(lengths(procedure, job));
    notes
}

/// Fasteners of one set and of one length.
struct Alike {
    set: (SetId, Place),
    said: Option<String>,
    found: String,
    holes: Vec<String>,
}

/// Lengths that differ from the procedure or that it doesn't know; holes of one set with the same are told together.
fn lengths(procedure: &Procedure, job: &Job) -> Vec<AuthorNote> {
    let mut told: Vec<Alike> = Vec::new();
    for ((id, place, hole), length) in &job.lengths {
        let lengths = &procedure.set(*id).lengths;
        let said = match lengths.at(&procedure.bound_at((*id, *place))).map(|said| &said.value) {
            Some(Lengths::One(said)) => Some(*said),
            Some(Lengths::ByHole(list)) => {
                list.iter().find(|(letter, _)| letter == hole).map(|(_, length)| *length)
            }
            Some(Lengths::Unknown) | None => None,
        };
        let same = |said: Quantity| (said.base() - length.value.base()).abs() < 1e-9 * said.base().abs();
        // What a note tells has been told.
        if said.is_some_and(same) || told_by_note(job, (*id, *place), length) {
            continue;
        }
        let set = (*id, *place);
        let said = said.map(|said| format!("length {}", said.printed()));
        let found = format!("length {}", length.value.printed());
        let alike =
            told.iter_mut().find(|other| other.set == set && other.said == said && other.found == found);
        match alike {
            Some(alike) => alike.holes.push(hole.clone()),
            None => told.push(Alike { set, said, found, holes: vec![hole.clone()] }),
        }
    }
    let note = |Alike { set: (id, place), said, found, holes }: Alike| {
        let set = procedure.set(id);
        let word = noun(holes.len(), "hole");
        AuthorNote {
            about: format!("{} {word} {}", words::set_name(procedure, id, place), holes.join(", ")),
            procedure_says: said,
            found,
            declared: Some(set.lengths.values().next().map_or(set.naming.span, |said| said.span)),
            signed: String::new(),
        }
    };
    told.into_iter().map(note).collect()
}

fn told_by_note(job: &Job, set: (SetId, Place), length: &Spanned<Quantity>) -> bool {
    let of_it = |about: &About| match about {
        About::Set(id, at) | About::Hole(id, at, _) => *id == set.0 && at.is_none_or(|at| at == set.1),
        _ => false,
    };
    let tells = |found: &Found| matches!(found, Found::Length(told) if told.span == length.span);
    job.notes.iter().any(|note| of_it(&note.about) && note.found.iter().any(tells))
}

fn about(procedure: &Procedure, about: &About) -> (String, Option<Span>) {
    let (naming, axes, place) = match about {
        About::Part(id, place) => (&procedure.part(*id).naming, &procedure.part(*id).axes, place),
        About::Set(id, place) => (&procedure.set(*id).naming, &procedure.set(*id).axes, place),
        About::Joint(id, place) => (&procedure.joint(*id).naming, &procedure.joint(*id).axes, place),
        About::Hole(id, place, letter) => {
            let set = procedure.set(*id);
            let name =
                place.map_or_else(|| set.naming.id.clone(), |place| words::set_name(procedure, *id, place));
            return (format!("{name} hole {letter}"), Some(set.naming.span));
        }
        About::Gauge(id, place) => (&procedure.gauge(*id).naming, &procedure.gauge(*id).axes, place),
        About::Look(id, place) => (&procedure.look(*id).naming, &procedure.look(*id).axes, place),
        About::Engine => return ("engine".to_owned(), None),
        About::Step(key) => {
            let declared = match key {
                StepKey::Written(id, _) => Some(procedure.step(*id).naming.span),
                StepKey::Derived(_) => None,
            };
            return (key.id(procedure), declared);
        }
    };
    let name = place
        .map_or_else(|| naming.id.clone(), |place: Place| shown::named(procedure, &naming.id, axes, place));
    (name, Some(naming.span))
}

fn said_length(procedure: &Procedure, about: &About) -> Option<String> {
    let About::Set(id, place) = about else { return None };
    let lengths = &procedure.set(*id).lengths;
    let said = match place {
        Some(place) => lengths.at(&procedure.bound_at((*id, *place))),
        None => lengths.only(),
    };
    match said.map(|said| &said.value) {
        Some(Lengths::One(length)) => Some(format!("length {}", length.printed())),
        Some(Lengths::ByHole(_)) => Some("lengths by hole".to_owned()),
        Some(Lengths::Unknown) | None => None,
    }
}

fn said_count(procedure: &Procedure, about: &About) -> Option<String> {
    match about {
        About::Part(id, Some(place)) => Some(procedure.part_pieces(*id, &[*place]).to_string()),
        About::Part(id, None) => Some(procedure.part(*id).count.at_a_place().to_string()),
        About::Set(id, Some(place)) => Some(procedure.set_pieces(*id, &[*place]).to_string()),
        About::Set(id, None) => Some(procedure.set(*id).count.at_a_place().to_string()),
        _ => None,
    }
}

fn said_thread(procedure: &Procedure, about: &About) -> Option<String> {
    let About::Set(id, _) = about else { return None };
    procedure.set(*id).thread.as_ref().map(|thread| format!("thread {}", thread.written))
}

/// As text, one note a line; `place` says where in a file a span is.
pub(crate) fn notes_text(notes: &[AuthorNote], place: impl Fn(Span) -> String) -> String {
    let mut out = String::new();
    for note in notes {
        let declared = note.declared.map_or_else(|| "derived by the program".to_owned(), &place);
        let said = note
            .procedure_says
            .as_ref()
            .map_or(String::new(), |said| format!(" (the procedure says {said})"));
        let signed = if note.signed.is_empty() { String::new() } else { format!(" [{}]", note.signed) };
        out.push_str(&format!("{declared}: {}: {}{said}{signed}\n", note.about, note.found));
    }
    out
}

/// As one JSON array. Ends with a newline.
pub(crate) fn notes_json(notes: &[AuthorNote], place: impl Fn(Span) -> String) -> String {
    let array: Json = notes
        .iter()
        .map(|note| {
            json!({
                "about": note.about,
                "found": note.found,
                "procedure_says": note.procedure_says,
                "declared": note.declared.map(&place),
                "signed": note.signed,
            })
        })
        .collect();
    format!("{array:#}\n")
}
