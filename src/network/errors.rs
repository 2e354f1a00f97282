//! One function per complaint of this room, named as its code.

use crate::diagnostics::codes::network as codes;
use crate::diagnostics::{Code, Diagnostic};
use crate::source::Span;

/// Words of a need that is not met, ready to be put into a message.
pub(super) struct Unmet {
    /// A stated link to a step at all of its positions that would put it right.
    pub all_after: Option<String>,
    /// Ids of the steps it shows in, the first to be named.
    pub steps: Vec<String>,
    /// Names of the things needed.
    pub things: Vec<String>,
    /// Values that would do, in words.
    pub wanted: String,
    /// Where the act is said.
    pub act: Span,
    /// Where the fact is said, with words for it.
    pub fact: (Span, String),
    /// Answers under which it shows; empty for all.
    pub answers: Vec<String>,
    /// A step to be added, as it would be typed.
    pub mend: String,
}

impl Unmet {
    fn subject(&self) -> String {
        let more = self.steps.len().saturating_sub(1);
        let first = self.steps.first().map_or("the step", String::as_str);
        if more == 0 { format!("`{first}`") } else { format!("`{first}` and {more} more like it") }
    }

    fn need(&self) -> String {
        let shown: Vec<String> = self.things.iter().take(3).map(|thing| format!("`{thing}`")).collect();
        let more = self.things.len().saturating_sub(3);
        let more = if more == 0 { String::new() } else { format!(" and {more} more") };
        format!("{}{more} {}", shown.join(", "), self.wanted)
    }

    /// Whether it shows at several positions at once, of which no single `after` can speak.
    fn at_several(&self) -> bool {
        self.steps.len() > 1 || self.things.len() > 1
    }

    fn diagnostic(&self, code: &'static Code, message: String) -> Diagnostic {
        let answers = match self.answers.as_slice() {
            [] => String::new(),
            answers => format!(" (when {})", answers.join("; or when ")),
        };
        let label = format!("needs {}", self.need());
        let diagnostic = Diagnostic::new(code, format!("{message}{answers}")).at(self.act, label);
        if self.fact.0 == self.act { diagnostic } else { diagnostic.at(self.fact.0, self.fact.1.clone()) }
    }
}

/// Nothing brings the need about; `later` names a step that does, but only afterwards.
pub(super) fn nothing_frees(code: &'static Code, unmet: &Unmet, later: Option<(&str, Span)>) -> Diagnostic {
    let message = match later {
        Some((step, _)) => format!(
            "{} needs {}, and only `{step}` brings that about, which comes later",
            unmet.subject(),
            unmet.need()
        ),
        None => format!("{} needs {}, and nothing brings that about", unmet.subject(), unmet.need()),
    };
    let diagnostic = unmet.diagnostic(code, message);
    match later {
        Some((step, span)) => diagnostic.at(span, "brought about here").help(format!(
            "move the act out of `{step}` into a step that comes before, such as `{}`",
            unmet.mend
        )),
        None => {
            diagnostic.write(format!("`{}`, in an earlier step or in this one before the act", unmet.mend))
        }
    }
}

/// A part that may fall in a step that doesn't say how the engine stands: the setup, the value at which it falls, another.
pub(super) fn stance_unsaid(unmet: &Unmet, [setup, falls, other]: [&str; 3]) -> Diagnostic {
    let message = format!(
        "{} doesn't say how `{setup}` stands, and in `{falls}` {} could fall",
        unmet.subject(),
        unmet.things.iter().map(|thing| format!("`{thing}`")).collect::<Vec<_>>().join(", ")
    );
    let diagnostic = unmet.diagnostic(&codes::MAY_FALL, message);
    diagnostic.write(format!(
        "`with {setup} {other}` in the step, where it stands so; or `{}` before it",
        unmet.mend
    ))
}

/// Only some allowed orders meet the need. Of what brings it about one step is named, where it does, and how many more there are.
pub(super) fn order_open(
    code: &'static Code,
    unmet: &Unmet,
    (step, span, more): (&str, Span, usize),
    wrong_order: &str,
) -> Diagnostic {
    let others = if more > 0 { format!(" (or {more} more)") } else { String::new() };
    let message = format!(
        "{} needs {}, which `{step}`{others} brings about, but not every allowed order does that first",
        unmet.subject(),
        unmet.need()
    );
    let first = unmet.steps.first().map_or("the step", String::as_str);
    let diagnostic = unmet.diagnostic(code, message).at(span, "brought about here");
    match stated_after(step, first, unmet.at_several()) {
        Some(after) => diagnostic.write(format!("{after}; one order that goes wrong: {wrong_order}")),
        None if unmet.all_after.is_some() => diagnostic.write(format!(
            "{}; one order that goes wrong: {wrong_order}",
            unmet.all_after.as_deref().unwrap_or_default()
        )),
        None => diagnostic.help(format!(
            "no `after` speaks of one position alone, so bring it about in `{first}` before the act: `{}`; one order that \
             goes wrong: {wrong_order}",
            unmet.mend
        )),
    }
}

/// A step may fall between and undo what is relied on.
pub(super) fn undone_between(
    code: &'static Code,
    unmet: &Unmet,
    wrong: (&str, Span),
    wrong_order: &str,
) -> Diagnostic {
    let (step, span) = wrong;
    let first = unmet.steps.first().map_or("the step", String::as_str);
    let message = format!(
        "{} needs {}, but `{step}` may come before it and undoes that",
        unmet.subject(),
        unmet.need()
    );
    let diagnostic = unmet.diagnostic(code, message).at(span, "undone here");
    match stated_after(first, step, unmet.at_several()) {
        Some(after) => diagnostic.write(format!(
            "{after}, or bring it about again in between with `{}`; one order that goes wrong: {wrong_order}",
            unmet.mend
        )),
        None if unmet.all_after.is_some() => diagnostic.write(format!(
            "{}; one order that goes wrong: {wrong_order}",
            unmet.all_after.as_deref().unwrap_or_default()
        )),
        None => diagnostic.help(format!(
            "no `after` speaks of one position alone, so bring it about again before `{step}` ends, or in `{first}` before the \
             act: `{}`; one order that goes wrong: {wrong_order}",
            unmet.mend
        )),
    }
}

/// What is written in `later` so that it comes after `earlier`; none where only one position of it is meant, which no step
/// that is written once for all of them can say.
fn stated_after(earlier: &str, later: &str, several: bool) -> Option<String> {
    let parted = |id: &str| id.split_once('[').map(|(step, at)| (step.to_owned(), at.to_owned()));
    match (parted(earlier), parted(later)) {
        (_, None) => Some(format!("`after {earlier}` in `{later}`")),
        (None, Some((later, _))) => Some(format!("`after {earlier}` in `{later}`")),
        // Each position after its own.
        (Some((earlier, here)), Some((later, there))) if here == there && !several => {
            Some(format!("`after {earlier}` in `{later}`"))
        }
        (Some(_), Some(_)) => None,
    }
}

/// A step that comes before it in every order undoes what it relies on.
pub(super) fn undone_before(code: &'static Code, unmet: &Unmet, wrong: (&str, Span)) -> Diagnostic {
    let (step, span) = wrong;
    let first = unmet.steps.first().map_or("the step", String::as_str);
    let message =
        format!("{} needs {}, but `{step}` comes before it and undoes that", unmet.subject(), unmet.need());
    unmet.diagnostic(code, message).at(span, "undone here").help(format!(
        "bring it about again in `{first}`, before the act, with `{}`; or take the act out",
        unmet.mend
    ))
}

/// An act before it in the same step, block or trial undoes what it relies on.
pub(super) fn undone_within(code: &'static Code, unmet: &Unmet, earlier: (&str, Span)) -> Diagnostic {
    let (step, span) = earlier;
    let message =
        format!("{} needs {}, but `{step}`, just before it, undoes that", unmet.subject(), unmet.need());
    unmet
        .diagnostic(code, message)
        .at(span, "undone here")
        .help(format!("change the order of the two, or add between them: `{}`", unmet.mend))
}

/// Something is not back, not tight or still in when the job ends; `last` is the step that leaves it so.
pub(super) fn unbalanced_ledger(unmet: &Unmet, last: Option<(&str, Span)>) -> Diagnostic {
    let after = last.map_or(String::new(), |(step, _)| format!(" after `{step}`"));
    let answers = match unmet.answers.as_slice() {
        [] => String::new(),
        answers => format!(" (when {})", answers.join("; or when ")),
    };
    let message = format!("when the job ends, {} must hold, and it may not{answers}", unmet.need());
    let diagnostic = Diagnostic::new(&codes::UNBALANCED_LEDGER, message);
    let diagnostic = match last {
        Some((_, span)) => diagnostic.at(span, "left so here").at(unmet.fact.0, unmet.fact.1.clone()),
        None => diagnostic.at(unmet.fact.0, unmet.fact.1.clone()),
    };
    diagnostic.write(format!("`{}`, in a step{after}", unmet.mend))
}

/// A trial of the build in a ring.
pub(super) struct TrialInRing {
    /// The trial.
    pub(super) trial: String,
    /// A part that it takes off again.
    pub(super) part: String,
    /// The step of the author's that fits such a part for good and isn't said to come after the trial, if there is one.
    pub(super) own: Option<String>,
}

/// A part that would fall between the step of the build that fits it and the one that fastens it, in a ring.
pub(super) struct FallInRing {
    /// The part.
    pub(super) part: String,
    /// Sets that are started by hand to hold it.
    pub(super) sets: Vec<String>,
    /// What is then tightened: these, or their joint.
    pub(super) tightened: Vec<String>,
}

/// Links in a ring, each with its words; a trial of the build among them, or what would fall.
pub(super) fn contradiction(
    steps: &[String],
    links: &[(Span, String)],
    trial: Option<TrialInRing>,
    fall: Option<FallInRing>,
) -> Diagnostic {
    let ring: Vec<String> = steps.iter().chain(steps.first()).map(|step| format!("`{step}`")).collect();
    let message = format!("these steps each have to come before the next: {}", ring.join(", then "));
    let diagnostic = Diagnostic::new(&codes::CONTRADICTION, message);
    let diagnostic =
        links.iter().fold(diagnostic, |diagnostic, (span, words)| diagnostic.at(*span, words.clone()));
    match trial {
        Some(TrialInRing { trial, own: Some(own), .. }) => {
            diagnostic.write(format!("`after {trial}` in `{own}`: nothing else says which of the two comes first"))
        }
        Some(TrialInRing { trial, part, own: None }) => diagnostic.help(format!(
            "write a `build` step of your own that fits `{part}` for good, with `after {trial}` in it: the steps that the \
             build derives know nothing of a trial"
        )),
        None => match fall {
            Some(FallInRing { part, sets, tightened }) => diagnostic.help(format!(
                "write a `build` step of your own with `fit {part}`, `support {part}`, `start by hand {}` and \
                 `tighten {}`: in the steps that the build derives it would fall before it is fastened",
                sets.join(", "),
                tightened.join(", ")
            )),
            None => diagnostic.help("one of these lines is not true, or one of the steps must be written as two"),
        },
    }
}

/// A link that leads back into an earlier phase.
pub(super) fn phase_order(first: &str, then: &str, span: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::PHASE_ORDER,
        format!("`{first}` can't come before `{then}`: its phase comes later"),
    )
    .at(span, "stated here")
    .help("take this link away; the phases run strip, survey, build, start")
}

/// A joint rule that is not kept.
pub(super) fn rule_departed(first: &str, then: &str, undoing: bool, place: Span, fact: Span) -> Diagnostic {
    let what = if undoing {
        "the smaller fasteners of a joint are undone before the larger"
    } else {
        "the larger fasteners of a joint are tightened before the smaller"
    };
    let message = if first == then {
        format!("`{first}` departs from the rule that {what}")
    } else {
        format!("`{first}` has to come before `{then}` by the rule that {what}, and can't")
    };
    let diagnostic = Diagnostic::new(&codes::RULE_DEPARTED, message).at(place, "departs from the rule here");
    let diagnostic =
        if fact == place { diagnostic } else { diagnostic.at(fact, "the joint is declared here") };
    diagnostic.help(format!("change the order, or write `except house_rules because \"...\"` in `{then}`"))
}

/// A single-use set tightened again before the build.
pub(super) fn single_use_back(step: &str, set: &str, act: Span, declared: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::SINGLE_USE_BACK,
        format!("`{step}` tightens `{set}`, which may be tightened once only"),
    )
    .at(act, "tightened again here")
    .at(declared, "declared `once` here")
    .help(format!("put the step inside a `trial`, or write `nip {set}`"))
}

/// A trial that ends otherwise than it began.
pub(super) fn trial_leaves(
    trial: &str,
    thing: &str,
    value: &str,
    span: Span,
    act: Span,
    mend: &str,
) -> Diagnostic {
    Diagnostic::new(&codes::TRIAL_LEAVES, format!("the trial `{trial}` leaves `{thing}` {value}"))
        .at(act, format!("left {value} here"))
        .at(span, "a trial leaves only readings")
        .write(format!("`{mend}`, at the end of the trial"))
}

/// Too many combinations of answers.
pub(super) fn too_many_answers(step: &str, span: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::TOO_MANY_ANSWERS,
        format!("`{step}` depends on more combinations of answers than can be tried"),
    )
    .at(span, "not proved")
    .help("let fewer questions decide on what this act needs, or write the work as separate steps")
}

/// What so many acts need and change that not every pair of them is looked at.
pub(super) fn too_many_acts(thing: &str, span: Span) -> Diagnostic {
    Diagnostic::new(&codes::TOO_MANY_ACTS, format!("more acts need and change {thing} than can be looked at"))
        .at(span, "not proved")
        .help("write the work as several procedures, or take steps out of this one")
}

/// A step that is never done.
pub(super) fn never_done(step: &str, span: Span) -> Diagnostic {
    Diagnostic::new(&codes::NEVER_DONE, format!("`{step}` is never done: its answers exclude each other"))
        .at(span, "these can't hold together")
        .help("leave one of the answers out, or write two steps")
}

/// An act that is never done.
pub(super) fn act_never_done(span: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::NEVER_DONE,
        "this act is never done: its answers exclude each other or those of its step",
    )
    .at(span, "not under any answers")
    .help("leave one of the answers out, or write two acts")
}

/// An `after` or `before` that follows from the facts.
pub(super) fn after_implied(first: &str, then: &str, span: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::AFTER_IMPLIED,
        format!("that `{first}` comes before `{then}` already follows from the facts"),
    )
    .at(span, "not needed")
    .help(format!("leave it out; `benchleaf why` shows the reason: `benchleaf why PROCEDURE {first} {then}`"))
}

/// A formula uses a reading that no step takes.
pub(super) fn reading_never_taken(formula: &str, reading: &str, used: Span, declared: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::READING_MISSING,
        format!("`{formula}` is computed from `{reading}`, which no step takes"),
    )
    .at(used, "used here")
    .at(declared, "declared here")
    .write(format!("`gauge {reading}`, in a survey step"))
}

/// A set that holds nothing.
pub(super) fn holds_nothing(set: &str, span: Span) -> Diagnostic {
    Diagnostic::new(&codes::HOLDS_NOTHING, format!("nothing says what `{set}` holds"))
        .at(span, "holds nothing")
        .write(format!("`held by {set}` in the part that it holds, or name it in a joint"))
}

/// A part that something is to become of, and that no step takes off.
pub(super) fn never_comes_off(part: &str, span: Span, fate: Span) -> Diagnostic {
    Diagnostic::new(&codes::NEVER_COMES_OFF, format!("`{part}` never comes off"))
        .at(span, "no step takes it")
        .at(fate, "but this is to become of it")
        .write(format!("`take {part}`, in the step where it comes off"))
}

/// A set that no step loosens.
pub(super) fn never_loosened(set: &str, span: Span) -> Diagnostic {
    Diagnostic::new(&codes::NEVER_LOOSENED, format!("no step loosens `{set}`"))
        .at(span, "never loosened")
        .write(format!("`undo {set}` in a step, or `stays` here"))
}

/// A set that is tightened, and that nothing puts in before.
pub(super) fn not_started(set: &str, tightened: Span) -> Diagnostic {
    let before = Span::new(tightened.file, tightened.start(), tightened.start());
    Diagnostic::new(
        &codes::NOT_STARTED,
        format!("`{set}` came out, and nothing puts it in before it is tightened"),
    )
    .at(tightened, "tightened here")
    .write(format!("`start by hand {set}` before it"))
    .perhaps(before, format!("start by hand {set}  "))
}

/// A temporary that is in while a set is undone, and never while it is tightened.
pub(super) fn not_held_again(temporary: &str, set: &str, put_in: Span, undone: Span) -> Diagnostic {
    let message =
        format!("`{temporary}` is in while `{set}` is undone, and no step of the build puts it in again");
    Diagnostic::new(&codes::NOT_HELD_AGAIN, message)
        .at(put_in, "put in here")
        .at(undone, "undone with it in")
        .write(format!(
            "`put in {temporary}` before `tighten {set}`, in a step of the build, and `take out {temporary}` behind it"
        ))
}

/// A gauge or look that no step takes.
pub(super) fn never_taken(name: &str, act: &str, span: Span) -> Diagnostic {
    Diagnostic::new(&codes::NEVER_TAKEN, format!("no step takes `{name}`"))
        .at(span, "never taken")
        .write(format!("`{act} {name}`, in a step"))
}

/// A stated angle that brings other cylinders, or none, to where one is to stand.
pub(super) fn turn_misses(at: Span, last: Span, wanted: &str, brought: &[String]) -> Diagnostic {
    let brings = match brought {
        [] => "no cylinder".to_owned(),
        brought => brought.join(" and "),
    };
    Diagnostic::new(&codes::TURN_MISSES, format!("the angle doesn't bring {wanted} to where it is to stand"))
        .at(at, format!("brings {brings} there"))
        .at(last, "from here")
        .help("leave the angle out: it follows from the firing order and from where the crankshaft stood")
}
