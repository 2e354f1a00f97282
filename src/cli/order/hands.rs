//! A phase shared by several people: who does what when, for people and for programs.

use serde::Serialize;

use super::Prepared;
use crate::plan::{Crew, step_of, whole_words};
use crate::procedure::model::Phase;

/// A phase as a schedule, for programs. Times are minutes from the start.
#[derive(Serialize)]
pub(super) struct Shared {
    span: f64,
    one_after_the_other: f64,
    /// No schedule is shorter than this.
    bound: f64,
    /// Steps of which no time is stated.
    untimed: Vec<String>,
    stints: Vec<SharedStint>,
    /// What takes the whole engine.
    alone: Vec<SharedAlone>,
    /// Steps that are held, or behind a held one.
    left_out: Vec<String>,
}

/// What takes the whole engine, for programs.
#[derive(Serialize)]
struct SharedAlone {
    steps: Vec<String>,
    because: String,
    /// The nearest steps behind it that only the written order puts there.
    only_written: Vec<String>,
}

/// A stretch of work or waiting, for programs.
#[derive(Serialize)]
struct SharedStint {
    start: f64,
    end: f64,
    /// Which people, counted from 1; none for a wait.
    people: Vec<usize>,
    steps: Vec<String>,
    title: String,
    /// Steps of others that must be over before it begins.
    not_before: Vec<String>,
}

pub(super) fn report(prepared: &Prepared, phase: Phase, crew: &Crew) -> Shared {
    let plan = prepared.plan.phase(phase);
    let steps = plan.map(|plan| plan.steps.as_slice()).unwrap_or_default();
    let id = |at: &usize| steps[*at].key.id(&prepared.procedure);
    let title =
        |at: &usize| step_of(&prepared.procedure, &prepared.network, steps[*at].source).naming.title.clone();
    let minutes = |seconds: u64| seconds as f64 / 60.0;
    Shared {
        span: minutes(crew.span),
        one_after_the_other: minutes(crew.in_a_row),
        bound: minutes(crew.bound),
        untimed: crew.untimed.iter().map(id).collect(),
        stints: crew
            .stints
            .iter()
            .map(|stint| SharedStint {
                start: minutes(stint.start),
                end: minutes(stint.end),
                people: stint.hands.iter().map(|person| person + 1).collect(),
                steps: stint.steps.iter().map(id).collect(),
                title: stint.steps.first().map(title).unwrap_or_default(),
                not_before: stint.not_before.iter().map(id).collect(),
            })
            .collect(),
        alone: crew
            .alone
            .iter()
            .map(|alone| SharedAlone {
                steps: alone.steps.iter().map(id).collect(),
                because: whole_words(&prepared.procedure, &alone.because),
                only_written: alone.only_written.iter().map(id).collect(),
            })
            .collect(),
        left_out: crew.left_out.iter().map(id).collect(),
    }
}

pub(super) fn text(shared: &Shared) -> String {
    let clock = |minutes: f64| {
        let whole = minutes.ceil() as u64;
        format!("{}:{:02}", whole / 60, whole % 60)
    };
    let mut out = String::new();
    for stint in &shared.stints {
        let people: Vec<String> = stint.people.iter().map(ToString::to_string).collect();
        let who = if people.is_empty() { "wait".to_owned() } else { people.join("+") };
        let ids = stint.steps.join(", ");
        let not_before = match stint.not_before.as_slice() {
            [] => String::new(),
            others => format!("  not before {}", others.join(", ")),
        };
        out += &format!(
            "{:>6} to {:>6}  {who:<5} {}  ({ids}){not_before}\n",
            clock(stint.start),
            clock(stint.end),
            stint.title
        );
    }
    out += &format!(
        "\n{} h, against {} h one step after the other; none is shorter than {} h. An estimate from stated times.\n",
        clock(shared.span),
        clock(shared.one_after_the_other),
        clock(shared.bound)
    );
    if !shared.untimed.is_empty() {
        let count = if shared.untimed.len() == 1 { "it counts" } else { "they count" };
        out += &format!("No time is stated of {}: {count} as taking none.\n", shared.untimed.join(", "));
    }
    if !shared.alone.is_empty() {
        out += "\nThese take the whole of it: nothing else is done at it meanwhile, and what is written before or after \
                them stays there.\n";
    }
    for alone in &shared.alone {
        out += &format!("  {}: {}", alone.steps.join(", "), alone.because);
        if !alone.only_written.is_empty() {
            // An `after` or a need would say it whatever else is moved.
            out += &format!("; no fact puts behind it {}", alone.only_written.join(", "));
        }
        out += "\n";
    }
    if !shared.left_out.is_empty() {
        out += &format!("\nNot on it, being held or behind what is held: {}.\n", shared.left_out.join(", "));
    }
    out
}
