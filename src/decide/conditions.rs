//! Conditions in words: under which answers something is done or counts, at which places, and which questions it still
//! hangs on.

use std::collections::BTreeSet;

use crate::english::{list, spaced};
use crate::procedure::model::{AxisId, Guard, GuardTerm, Naming, Place, Procedure, Question, grouped};

/// A condition as it is printed before what hangs on it: `Stretch of the studs: short`.
pub(crate) fn given_words(procedure: &Procedure, when: &Guard) -> String {
    let term = |term: &GuardTerm| {
        let (naming, answer) = asked(procedure, term);
        let colon = if let Question::Ask(_) = term.question { "" } else { ":" };
        format!("{}{colon} {answer}", naming.title)
    };
    when.0.iter().map(term).collect::<Vec<_>>().join("; ")
}

/// Any of some conditions, before what is so under them: `If “Which nuts are fitted?” is early, or if ...`.
pub(crate) fn if_any(procedure: &Procedure, any: &[Guard]) -> String {
    let all = |guard: &Guard| {
        let terms = guard.0.iter().map(|term| {
            let (naming, answer) = asked(procedure, term);
            format!("\u{201c}{}\u{201d} is {answer}", naming.title)
        });
        terms.collect::<Vec<_>>().join(" and ")
    };
    format!("If {}", any.iter().map(all).collect::<Vec<_>>().join(", or if "))
}

/// The questions that something hangs on: `it hangs on “Which nuts are fitted?”`.
pub(crate) fn hangs_on<'g>(procedure: &Procedure, guards: impl IntoIterator<Item = &'g Guard>) -> String {
    let mut names: Vec<String> = Vec::new();
    for term in guards.into_iter().flat_map(|guard| &guard.0) {
        let name = format!("\u{201c}{}\u{201d}", asked(procedure, term).0.title);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    format!("it hangs on {}", list(&names))
}

/// Values of which open answers choose the first that holds, each behind its condition: `if “Which nuts are fitted?” is
/// early: 31 N·m; otherwise: 42 N·m`. One that hangs on none stands alone.
pub(crate) fn by_answer<'c, T: 'c>(
    procedure: &Procedure,
    cases: impl IntoIterator<Item = (&'c T, &'c Guard)>,
    say: impl Fn(&T) -> String,
) -> String {
    let told = cases.into_iter().enumerate().map(|(index, (value, when))| {
        let terms = when.0.iter().map(|term| {
            let (naming, answer) = asked(procedure, term);
            format!("\u{201c}{}\u{201d} is {answer}", naming.title)
        });
        match (index, terms.collect::<Vec<_>>().as_slice()) {
            (0, []) => say(value),
            (_, []) => format!("otherwise: {}", say(value)),
            (_, terms) => format!("if {}: {}", terms.join(" and "), say(value)),
        }
    });
    told.collect::<Vec<_>>().join("; ")
}

/// What is said of some places; where it differs, each behind the places of which it is said: `inlet: as made 0.20 mm`.
pub(crate) fn by_place(
    procedure: &Procedure,
    axes: &[AxisId],
    places: &[Place],
    say: impl Fn(Place) -> String,
) -> String {
    let groups = grouped(places.iter().copied(), say);
    if let [(words, _)] = groups.as_slice() {
        return words.clone();
    }
    let stated = groups.iter().filter(|(words, _)| !words.is_empty());
    let named = stated.map(|(words, places)| format!("{}: {words}", shared_name(procedure, axes, places)));
    named.collect::<Vec<_>>().join("; ")
}

/// The positions along the one axis that tells these places from all others, else the names of the places.
pub(crate) fn shared_name(procedure: &Procedure, axes: &[AxisId], places: &[Place]) -> String {
    let position = |place: Place, at: usize| procedure.coordinates(axes, place)[at];
    for (at, axis) in axes.iter().enumerate() {
        let here: BTreeSet<u16> = places.iter().map(|place| position(*place, at)).collect();
        let all = procedure.places(axes).filter(|place| here.contains(&position(*place, at)));
        if all.count() == places.len() {
            let names = &procedure.axis(*axis).positions;
            let names: Vec<String> = here.iter().map(|at| spaced(&names[usize::from(*at)])).collect();
            return list(&names);
        }
    }
    // `2 inlet`: commas part the places from each other.
    let name = |place: &Place| procedure.place_name(axes, *place).replace(", ", " ");
    list(&places.iter().map(name).collect::<Vec<_>>())
}

/// What a term asks, and the answer that it demands.
fn asked<'p>(procedure: &'p Procedure, term: &GuardTerm) -> (&'p Naming, String) {
    let (naming, answer) = match &term.question {
        Question::Ask(id) => {
            let ask = procedure.ask(*id);
            (&ask.naming, &ask.answers[term.answer])
        }
        Question::Gauge(target) => {
            let gauge = procedure.gauge(target.id);
            (&gauge.naming, &gauge.bands[term.answer].name)
        }
        Question::Look(target) => {
            let look = procedure.look(target.id);
            (&look.naming, &look.results[term.answer])
        }
    };
    (naming, spaced(answer))
}
