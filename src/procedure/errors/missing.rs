//! Complaints about what a step lacks of what its acts and things ask for.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::english::{one_of, size_in_a_name};
use crate::procedure::model::{Drive, FastenerSet, Naming, Part, Tool};
use crate::quantity::Quantity;
use crate::source::Span;

/// Which hazard is wanted.
pub(in crate::procedure) struct Wanted {
    /// The word of its kind.
    pub kind: &'static str,
    /// Others may do as well: nobody but the author knows which it is.
    pub or_another: bool,
    /// Whether the part may be one that has nothing of the kind, which its author can say.
    pub may_be_free: bool,
}

/// A step as its author knows it: one that the build gets by itself has a name that nobody wrote.
fn step_told(step: &str) -> String {
    if step.contains(':') {
        format!("the step that the build gets by itself, `{step}`,")
    } else {
        format!("`{step}`")
    }
}

/// The hazards declared are of the kind that is wanted.
pub(in crate::procedure) fn hazard_expected(
    at: Span,
    cause: &str,
    step: &str,
    Wanted { kind, or_another, may_be_free }: Wanted,
    declared: &[&str],
) -> Diagnostic {
    let other = if or_another { " or whatever it can do" } else { "" };
    let free = if may_be_free {
        "; of a part that has none of it, say so at the part: `harmless \"...\"`, with why"
    } else {
        ""
    };
    let message =
        format!("{cause}, and {} names no hazard of kind `{kind}`{other} before that", step_told(step));
    let complaint =
        Diagnostic::new(&codes::HAZARD_EXPECTED, message).at(at, "the hazard is to be expected here");
    if declared.is_empty() {
        complaint.help(format!(
            "declare `hazard NAME warning {kind} {{ ... }}`, or bring in `use \"shared/hazards\"`, which `benchleaf shelf` lists; and \
             name it in the step, `hazard NAME`, or at the thing that brings it, `hazard NAME off`{free}"
        ))
    } else {
        let lines: Vec<String> = declared.iter().map(|id| format!("hazard {id}")).collect();
        complaint.help(format!(
            "write {} before that act, or at the thing that brings it, with `off`, `on` or `both ways` behind it{free}",
            one_of(&lines)
        ))
    }
}

/// `thing` came off under a hazard of a stored force, and goes back without one.
pub(in crate::procedure) fn loaded_again(
    at: Span,
    cause: &str,
    step: &str,
    (thing, is_part): (&str, bool),
    declared: &[&str],
) -> Diagnostic {
    let message = format!("{cause}, and {} names no hazard of kind `spring` before that", step_told(step));
    let complaint = Diagnostic::new(&codes::HAZARD_EXPECTED, message).at(at, "met on the way back too");
    if declared.is_empty() {
        return complaint.help(format!(
            "declare `hazard NAME warning spring {{ ... }}` and name it in `{thing}`: `hazard NAME both ways`"
        ));
    }
    let lines: Vec<String> = declared.iter().map(|id| format!("hazard {id} both ways")).collect();
    let free = if is_part { "; where it goes back without load, `harmless \"...\"` with why" } else { "" };
    complaint.write(format!("{} in `{thing}`{free}", one_of(&lines)))
}

/// A setup that turns the whole with its heavy parts, without a hazard of its change.
pub(in crate::procedure) fn turns_what_is_heavy(setup: &Naming, whole: &str) -> Diagnostic {
    let message = format!(
        "`{}` turns the {whole} with parts above the lifting limit, and names no hazard of kind `lifting`",
        setup.id
    );
    Diagnostic::new(&codes::HAZARD_EXPECTED, message)
        .at(setup.span, "whoever turns it meets it")
        .write("`hazard NAME` in it")
}

/// A hazard behind what it warns of: the act that it stands behind, with what that does, where it isn't the last line.
pub(in crate::procedure) fn hazard_behind(
    hazard: &str,
    at: Span,
    seen: &str,
    act: Option<(Span, &str)>,
) -> Diagnostic {
    let message = match act {
        Some((_, cause)) => format!("hazard `{hazard}` stands behind the act that it warns of: {cause}"),
        None => format!("hazard `{hazard}` stands behind the last act of its step"),
    };
    let complaint = Diagnostic::new(&codes::HAZARD_BEHIND, message).at(at, seen);
    let complaint = match act {
        Some((span, _)) => complaint.at(span, "the act"),
        None => complaint,
    };
    complaint.help("write it before the act that it warns of")
}

pub(in crate::procedure) fn no_driver(
    set: &FastenerSet,
    step: &str,
    at: Span,
    declared: &[&str],
    derived: bool,
) -> Diagnostic {
    let id = &set.naming.id;
    let (drive, flats) = match &set.drive {
        Some(Drive::AcrossFlats(size)) => (size.to_string(), true),
        Some(Drive::Words(words)) => (format!("\"{words}\""), false),
        Some(Drive::ByHand) | None => (String::new(), false),
    };
    let message = if flats {
        format!("no tool of `{step}` drives `{id}`, drive {drive}")
    } else {
        format!("nothing says what drives `{id}`, drive {drive}, in `{step}`")
    };
    let complaint = Diagnostic::new(&codes::NO_DRIVER, message).at(at, format!("driven by {drive}"));
    let complaint = if derived { complaint } else { complaint.at(set.naming.span, "declared here") };
    if !flats {
        return match declared {
            [tool, ..] => complaint.write(format!("`both ways with {tool}` in `{id}`")),
            [] => complaint.write(format!(
                "`both ways with TOOL` in `{id}`, with the tool that fits it; `drive by hand` where fingers do"
            )),
        };
    }
    let number = size_in_a_name(&drive);
    match declared {
        [] => complaint.write(format!(
            "`tool socket_{number} \"{drive} socket\" {{ kind socket  size {drive} }}`{}",
            if derived { String::new() } else { format!(", and `tools socket_{number}` in the step") }
        )),
        fits => {
            let lines: Vec<String> = fits.iter().map(|tool| format!("tools {tool}")).collect();
            complaint.write(format!("{} in the step", one_of(&lines)))
        }
    }
}

/// What is tightened to a torque, and driven by a spanner only.
pub(in crate::procedure) fn spanner_for_torque(
    set: &FastenerSet,
    step: &str,
    at: Span,
    (spanner, size): (&Tool, Quantity),
) -> Diagnostic {
    let (id, number) = (&set.naming.id, size_in_a_name(&size.to_string()));
    Diagnostic::new(
        &codes::NO_DRIVER,
        format!("`{id}` is tightened to a torque in `{step}`, and only `{}`, a spanner, drives it", spanner.naming.id),
    )
    .at(at, "no spanner goes on a torque wrench")
    .write(format!(
        "`tool socket_{number} \"{size} socket\" {{ kind socket  size {size} }}`, which then comes with the torque by itself; what is \
         screwed onto a pipe says `stays`"
    ))
}

pub(in crate::procedure) fn no_wrench(
    set: &FastenerSet,
    step: &str,
    (torque, all): (Quantity, &[Quantity]),
    at: Span,
    declared: &[&str],
    derived: bool,
) -> Diagnostic {
    let id = &set.naming.id;
    let which = if derived { "declared torque wrench" } else { "torque wrench of the step" };
    let other = all.iter().find(|pass| pass.base() != torque.base());
    let message = match other {
        // One that holds a pass alone may be there; another can't be set while the joint stands half drawn.
        Some(other) => {
            format!("no one {which} has both the {torque} and the {other} of `{id}` in `{step}` in its range")
        }
        None => format!("no {which} reaches the {torque} of `{id}` in `{step}`"),
    };
    let complaint = Diagnostic::new(&codes::NO_WRENCH, message).at(at, format!("tightened to {torque}"));
    match declared {
        [] => complaint.write(
            "the torque as the sheet has it, if that figure is a slip; else `tool NAME \"Torque wrench\" { kind wrench  range LOW .. \
             HIGH }`, with a range that holds it"
                .to_owned(),
        ),
        fits => {
            let lines: Vec<String> = fits.iter().map(|tool| format!("tools {tool}")).collect();
            complaint.write(format!("{} in the step", one_of(&lines)))
        }
    }
}

/// The places are those of the wrench in the step's list, and of what is tightened.
pub(in crate::procedure) fn wrench_out_of_range(
    set: &FastenerSet,
    wrench: &Tool,
    torque: Quantity,
    (listed, tightened): (Span, Span),
    declared: &[&str],
) -> Diagnostic {
    let range = wrench.range.map_or_else(String::new, |(low, high)| format!(", {low} to {high}"));
    let complaint = Diagnostic::new(
        &codes::WRENCH_OUT_OF_RANGE,
        format!("`{}`{range}, can't be set to the {torque} of `{}`", wrench.naming.id, set.naming.id),
    )
    .at(listed, "out of its range")
    .at(tightened, format!("tightened to {torque}"));
    match declared {
        [] => complaint.help("declare a torque wrench whose range holds the torque, and list it"),
        fits => complaint.write(format!("{} in the list of tools", one_of(fits))),
    }
}

pub(in crate::procedure) fn idle_tool(tool: &Tool, step: &str, at: Span) -> Diagnostic {
    let id = &tool.naming.id;
    Diagnostic::new(&codes::IDLE_TOOL, format!("nothing in `{step}` uses `{id}`"))
        .at(at, "listed here")
        .help("take it out of the list, or write the act that it is for")
}

/// A tool that a step lists in which a part comes off, and of which nothing says whether the part goes on with it.
pub(in crate::procedure) fn tool_one_way(
    tool: &Tool,
    step: &str,
    at: Span,
    (part, taken): (&Naming, Span),
) -> Diagnostic {
    let (tool, part) = (&tool.naming.id, &part.id);
    Diagnostic::new(
        &codes::TOOL_ONE_WAY,
        format!(
            "`{tool}` is used in `{step}`, and nothing says whether what comes off there goes on with it too"
        ),
    )
    .at(at, "not asked for on the way back")
    .at(taken, "comes off here")
    .write(format!("`both ways with {tool}` in `{part}`, or `off with {tool}` if only taking off needs it"))
}

/// A gauge whose instrument, in its own words, is no tool of the step that reads it.
pub(in crate::procedure) fn no_instrument(
    (gauge, instrument): (&Naming, &str),
    step: &str,
    at: Span,
    declared: &[&str],
) -> Diagnostic {
    let message =
        format!("`{}` is read with \"{instrument}\", and `{step}` hasn't the tool for it", gauge.id);
    let complaint = Diagnostic::new(&codes::NO_INSTRUMENT, message).at(at, "read here");
    match declared {
        [] => complaint.write(format!(
            "`tool NAME \"{instrument}\" {{ kind measuring }}`, and `tools NAME` in the step"
        )),
        tools => {
            let lines: Vec<String> = tools.iter().map(|tool| format!("tools {tool}")).collect();
            complaint.write(format!("{} in the step", one_of(&lines)))
        }
    }
}

pub(in crate::procedure) fn no_hoist(
    part: &Part,
    step: &str,
    mass: Quantity,
    at: Span,
    derived: bool,
) -> Diagnostic {
    let id = &part.naming.id;
    let complaint = Diagnostic::new(
        &codes::NO_HOIST,
        format!("`{id}`, {mass}, is above the lifting limit, and `{step}` has no hoist"),
    )
    .at(at, "too heavy for hands");
    if derived {
        complaint.write(format!(
            "`both ways with HOIST` in `{id}`, or a `build` step that fits it with `tools HOIST`"
        ))
    } else {
        complaint.write("`tools HOIST`, with a tool of `kind hoist`")
    }
}

pub(in crate::procedure) fn hoist_too_weak(
    hoist: &Tool,
    part: &Part,
    most: Quantity,
    mass: Quantity,
    at: Span,
) -> Diagnostic {
    Diagnostic::new(
        &codes::HOIST_TOO_WEAK,
        format!("`{}` carries {most}, and `{}` weighs {mass}", hoist.naming.id, part.naming.id),
    )
    .at(at, "too weak")
    .at(part.naming.span, format!("{mass}"))
    .help("list one that carries it")
}

pub(in crate::procedure) fn hung(part: &Part, step: &str, mass: Quantity, at: Span) -> Diagnostic {
    let id = &part.naming.id;
    Diagnostic::new(
        &codes::HUNG,
        format!("`{id}`, {mass}, is let go by its last fastener in `{step}`, and one person undoes that"),
    )
    .at(at, "nothing is said to carry it")
    .write(format!(
        "`support {id}` before what holds it is undone, or `hands 2`; where it stands by itself, on what: `support {id} \"It stands \
         on the frame.\"`"
    ))
}

/// What is heated at one place and coated for going on.
pub(in crate::procedure) fn coated_hot(part: &Part, heated: Span, coat: Span, step: &str) -> Diagnostic {
    let id = &part.naming.id;
    Diagnostic::new(
        &codes::COATED_HOT,
        format!("`{id}` is heated in `{step}` and coated before it goes on: what it is coated with runs off or burns"),
    )
    .at(heated, "heated here")
    .at(coat, "coated before every fit")
    .write(format!("`dry` in `{id}` in place of the coat, and in the step, behind `fit {id}`, `do \"Let it cool, then grease it.\"`"))
}

pub(in crate::procedure) fn nothing_on_it(part: &Part, cause: &str) -> Diagnostic {
    let id = &part.naming.id;
    Diagnostic::new(
        &codes::NOTHING_ON_IT,
        format!("`{id}` {cause}, and nothing says what it is coated with when it goes on"),
    )
    .at(part.naming.span, "declared here")
    .write(format!("`coat with OIL \"where\"` in `{id}`, or `dry`"))
}
