//! Complaints about torques and engagements. Every figure in them is an estimate and says so.

use super::quantities::written;
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::language::tree::Amount;
use crate::mechanics::assess::{Finding, Verdict};
use crate::procedure::model::{FastenerSet, Hazard, Joint, Naming};
use crate::quantity::{Bound, Length, figure_against, limit_figure, stated_figure};
use crate::source::Span;

/// Where the torque of a set is said, or belongs.
pub(in crate::procedure) struct Home<'a> {
    /// The set.
    pub set: &'a Naming,
    /// The joint that it is in.
    pub joint: Option<&'a Naming>,
    /// Where a torque of it is said already.
    pub said: Option<Span>,
    /// Behind the last clause of the declaration that it belongs in; none where that has no clause.
    pub end: Option<Span>,
}

/// `at_act` are the words of the torque at the act; `home` is where it belongs, if one set alone is tightened.
pub(in crate::procedure) fn trial_only(to: &Amount, at_act: Span, home: Option<Home<'_>>) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::TRIAL_ONLY, "a trial torque stands outside a trial")
        .at(to.span, "only steps in a `trial { }` have one");
    let written = written(to);
    let Some(Home { set, joint, said, end }) = home else {
        return complaint.write(format!(
            "`tighten {written} from \"where it stands\"` in each of the `fasteners`, or in their `joint` with the name of the set"
        ));
    };
    let (clause, place) = match joint {
        Some(joint) => (format!("tighten {} {written}", set.id), joint),
        None => (format!("tighten {written}"), set),
    };
    match said {
        Some(said) => complaint
            .at(said, format!("what `{}` is tightened to is said here", set.id))
            .help("leave it out at the act: what is said once there stands at every step that tightens it")
            .perhaps(at_act, ""),
        None => {
            let complaint = complaint
                .at(place.span, "it belongs here, once for every step that tightens it")
                .write(format!("`{clause} from \"where it stands\"` in `{}`", place.id));
            match end {
                Some(end) => complaint.perhaps(end, format!("  {clause}")),
                None => complaint,
            }
        }
    }
}

pub(in crate::procedure) fn torque_finding(set: &FastenerSet, stated: Span, finding: &Finding) -> Diagnostic {
    let id = &set.naming.id;
    let thread = set.thread.as_ref().map_or("", |thread| &thread.written);
    let class = set.class.as_ref().map_or("", |class| &class.written);
    let (code, says, help) = match finding.verdict {
        Verdict::FarTooLow => (
            &codes::TORQUE_TOO_LOW,
            "far too low",
            "check the figure and its unit; if it is meant, add `soft` to the set".to_owned(),
        ),
        Verdict::AboveNinety => (
            &codes::TORQUE_TOO_HIGH,
            "above 90 % of yield",
            "check the figure, its unit and the class; if friction is known, state it: `friction 0.12`"
                .to_owned(),
        ),
        Verdict::IntoYield => (
            &codes::TORQUE_INTO_YIELD,
            "into yield",
            "check the figure and the class; if the fasteners are meant to yield, add `once` to the set"
                .to_owned(),
        ),
        Verdict::Strips => (
            &codes::THREAD_STRIPS,
            "more than the tapped thread holds",
            "check the figure, and `into` and `engagement` of the set".to_owned(),
        ),
    };
    let complaint =
        Diagnostic::new(code, format!("the torque of `{id}` is {says} for {thread}, class {class}"))
            .at(stated, finding.to_string());
    let complaint = match &set.class {
        Some(class) => complaint.at(class.span, "its class"),
        None => complaint,
    };
    complaint.help(help)
}

pub(in crate::procedure) fn lowered_too_far(share: &Amount, most: f64) -> Diagnostic {
    Diagnostic::new(&codes::NOT_LOWERED, format!("a torque is lowered by {}", share.digits))
        .at(share.span, format!("more than {} %", stated_figure(most * 100.0, 0)))
        .help("give the share that is taken off, such as `less 10 %`; for another torque, state that one")
}

pub(in crate::procedure) fn nothing_to_lower(less: Span, stated: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOT_LOWERED, "what is set lower is no stated torque")
        .at(less, "lowered here")
        .at(stated, "no number is stated")
        .help("state the torque, or leave `less` out")
}

pub(in crate::procedure) fn angle_lowered(less: Span, stated: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOT_LOWERED, "what is set lower is turned on by an angle")
        .at(less, "lowered here")
        .at(stated, "it has an angle")
        .help("state the torque and the angle that the maker gives for such threads, without `less`")
}

pub(in crate::procedure) fn short_engagement(set: &FastenerSet, material: &str, least: Length) -> Diagnostic {
    let written = set.engagement.map_or_else(String::new, |depth| depth.to_string());
    Diagnostic::new(
        &codes::SHORT_ENGAGEMENT,
        format!(
            "`{}` engages {written}, less than {} mm in {material}",
            set.naming.id,
            limit_figure(least.mm(), 0, Bound::Least)
        ),
    )
    .at(set.naming.span, "declared here")
    .help("check `engagement` and `into`; where the hole is no deeper, an insert or a stud holds more")
}

pub(in crate::procedure) fn release_beyond_proof(
    joint: &Joint,
    undone: Option<Span>,
    peak: f64,
    rounds_help: bool,
) -> Diagnostic {
    let id = &joint.naming.id;
    let says = format!("a fastener of `{id}` would pass its proof load while the others come out");
    let complaint = Diagnostic::new(&codes::RELEASE_BEYOND_PROOF, says);
    let figure = format!("up to {} times its proof load (estimate)", figure_against(peak, 1, &[1.0]));
    let complaint = match undone {
        Some(span) => complaint.at(span, figure).at(joint.naming.span, "its gasket and torques"),
        None => complaint.at(joint.naming.span, figure),
    };
    complaint.help(if rounds_help {
        format!("undo it in rounds, which lowers the load: `undo {id} bit by bit`, or `slacken {id}` first")
    } else {
        format!(
            "rounds alone don't lower it by this reckoning: see `benchleaf reckon release PROCEDURE {id}`"
        )
    })
}

pub(in crate::procedure) fn spring_in_one_go(joint: &Joint, undone: Span, hazard: &Hazard) -> Diagnostic {
    let id = &joint.naming.id;
    let says = format!("`{id}` is undone in one go under the spring of `{}`", hazard.naming.id);
    Diagnostic::new(&codes::SPRING_IN_ONE_GO, says)
        .at(undone, "the last fasteners carry all of it")
        .at(hazard.naming.span, "the spring")
        .help(format!("say how it is let down: `undo {id} bit by bit`, or `slacken {id}` first"))
}
