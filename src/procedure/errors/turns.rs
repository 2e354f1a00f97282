//! Complaints about turning the engine by hand.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::english::{counted, list};
use crate::language::tree::Word;
use crate::procedure::model::Cycle;
use crate::quantity::Quantity;
use crate::source::Span;

pub(in crate::procedure) fn no_firing_order(at: Span, family: Span, lacks: &str) -> Diagnostic {
    Diagnostic::new(&codes::FIRING_ORDER, "nothing says when the cylinders fire")
        .at(at, "where it stands follows from that")
        .at(family, "the family says it")
        .write(format!("`{lacks}`, as it is with this one, in the family"))
}

pub(in crate::procedure) fn firing_order_of_others(
    at: Span,
    order: &str,
    axis: &Word,
    positions: &str,
) -> Diagnostic {
    Diagnostic::new(
        &codes::FIRING_ORDER,
        format!("the firing order is {order}, and the positions of `{}` are {positions}", axis.value),
    )
    .at(at, "not a cylinder of the firing order")
    .at(axis.span, format!("`{}` is declared here", axis.value))
    .help(
        "name every cylinder in the firing order once, by its position, or turn to a position of their axis",
    )
}

pub(in crate::procedure) fn firing_intervals_count(
    at: Span,
    cylinders: usize,
    intervals: usize,
) -> Diagnostic {
    Diagnostic::new(
        &codes::FIRING_ORDER,
        format!("{} for {}", counted(intervals, "firing interval"), counted(cylinders, "cylinder")),
    )
    .at(at, "one stands behind each cylinder of the firing order")
    .help("write an angle for each cylinder, from its firing to that of the next, or leave them out if they are even")
}

pub(in crate::procedure) fn firing_intervals_sum(at: Span, sum: f64, cycle: Cycle) -> Diagnostic {
    let whole = match cycle {
        Cycle::TwoStroke => "360 deg, the cycle of a two-stroke",
        Cycle::FourStroke => "720 deg, the cycle of a four-stroke",
    };
    Diagnostic::new(&codes::FIRING_ORDER, format!("the firing intervals add up to {} deg", sum.round()))
        .at(at, format!("not {whole}"))
        .help(format!("correct them so that they add up to {whole}"))
}

pub(in crate::procedure) fn which_cylinder(at: Span, axis: &Word, first: &str) -> Diagnostic {
    Diagnostic::new(&codes::WHICH_CYLINDER, format!("nothing says to which `{}` it is turned", axis.value))
        .at(at, "the step isn't done for each of them apart")
        .write(format!("`{} {first}`, or `each {} apart` in the step", axis.value, axis.value))
}

pub(in crate::procedure) fn one_top(at: Span) -> Diagnostic {
    Diagnostic::new(&codes::ONE_TOP, "a two-stroke has one top")
        .at(at, "it fires each time")
        .write("`top`")
        .mended(at, "top")
}

pub(in crate::procedure) fn turned_part(at: Span) -> Diagnostic {
    Diagnostic::new(&codes::TURNED_PART, "nothing says what is turned when it is turned by hand")
        .at(at, "how far is reckoned from where it stood, as long as it wasn't out")
        .write("`turned by hand` in the part that is the crankshaft")
}

pub(in crate::procedure) fn same_turn_each(
    at: Span,
    angle: Quantity,
    axis: &Word,
    (from, wanted): &(String, String),
    brought: Option<&str>,
) -> Diagnostic {
    let axis = &axis.value;
    let brought = match brought {
        Some(brought) => format!("`{axis}` {brought}"),
        None => "no cylinder".to_owned(),
    };
    Diagnostic::new(
        &codes::SAME_TURN_EACH,
        format!(
            "{angle} from `{axis}` {from} at the bottom brings {brought} there, and the step goes on with \
             `{axis}` {wanted}"
        ),
    )
    .at(at, "the same turn for each")
    .write(format!("`turn to {axis} bottom` (or `top`), and the angle follows from the firing order"))
}

/// Two gears are said to meet more than once.
pub(in crate::procedure) fn meets_again(gears: [&str; 2], first: Span, again: Span) -> Diagnostic {
    let message = format!("`{}` and `{}` are said to run in each other twice", gears[0], gears[1]);
    Diagnostic::new(&codes::MESHES_TWICE, message)
        .at(again, "said again here")
        .at(first, "said first here")
        .help("take one of them out: what is said at one gear holds of both")
}

/// A gear meets two others at one mark.
pub(in crate::procedure) fn marked_alike(gear: &str, mark: &str, first: Span, again: Span) -> Diagnostic {
    Diagnostic::new(&codes::MESHES_TWICE, format!("`{gear}` meets two gears at \u{201c}{mark}\u{201d}"))
        .at(again, "the same mark")
        .at(first, "marks another meeting here")
        .help("write what stands on the gears, such as `at \"A\"` here and `at \"B\"` there")
}

pub(in crate::procedure) fn marks_apart(
    at: Span,
    look: Span,
    turned: f64,
    teeth: &[String],
    meet: u64,
) -> Diagnostic {
    let turns = |turns: f64| {
        let turns = (turns * 100.0).round() / 100.0;
        if turns == 1.0 { "1 turn".to_owned() } else { format!("{turns} turns") }
    };
    let meet = turns(meet as f64);
    Diagnostic::new(&codes::MARKS_APART, format!("the marks can't meet after {}", turns(turned)))
        .at(at, format!("with {} teeth they meet after every {meet}", list(teeth)))
        .at(look, "looks at the marks")
        .help(format!(
            "turn {meet} before it, or prove the timing by something else, such as dead centre and valve lift"
        ))
}
