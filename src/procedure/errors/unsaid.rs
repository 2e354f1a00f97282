//! Complaints about what is left unsaid, and about limits that don't go together.

use super::quoted;
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::english::size_in_a_name;
use crate::language::tree::Amount;
use crate::procedure::model::Naming;
use crate::quantity::Quantity;
use crate::source::Span;

pub(in crate::procedure) fn one_answer(asked: &Naming, what: &str, at: Span) -> Diagnostic {
    Diagnostic::new(&codes::ONE_ANSWER, format!("`{}` has one {what}, so it asks nothing", asked.id))
        .at(at, format!("the only {what}"))
        .help(format!("write the other {what}s, or take it out"))
}

pub(in crate::procedure) fn limit_implausible(
    gauge: &Naming,
    limit: Quantity,
    (low, high): (Quantity, Quantity),
    at: Span,
) -> Diagnostic {
    Diagnostic::new(
        &codes::LIMIT_IMPLAUSIBLE,
        format!("a reading of {limit} is within the limits of `{}`, and not plausible", gauge.id),
    )
    .at(at, format!("plausible is {low} to {high}"))
    .at(gauge.span, "declared here")
    .help("widen `plausible`, or correct the limit")
}

pub(in crate::procedure) fn worn_within_made(
    gauge: &Naming,
    worn: Quantity,
    at: Span,
    made: Span,
) -> Diagnostic {
    Diagnostic::new(
        &codes::WORN_WITHIN_MADE,
        format!("`{}` is worn out at {worn}, which a new one may have", gauge.id),
    )
    .at(at, "within the limits as made")
    .at(made, "as made")
    .help("correct one of the two")
}

pub(in crate::procedure) fn begins_above_nought(gauge: &Naming, low: Quantity, at: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::NOT_BEST_AT_NOUGHT,
        format!("`{}` is said to be best at nought, and to be right only from {low}", gauge.id),
    )
    .at(at, "below this it isn't right")
    .at(gauge.span, "declared here")
    .help("take `best at nought` out, if this is a clearance or a fit; else let the limit begin at nought")
}

pub(in crate::procedure) fn clearance_at_nought(gauge: &Naming, formula: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::NOT_BEST_AT_NOUGHT,
        format!("`{}` is what two parts leave between them, which isn't best at nought", gauge.id),
    )
    .at(formula, "worked out from readings of both")
    .at(gauge.span, "declared here")
    .write("`made LOW .. HIGH` in place of `best at nought`: the clearance that they need")
}

pub(in crate::procedure) fn bands_against_worn(
    gauge: &Naming,
    worn: Quantity,
    at: Span,
    bands: Span,
) -> Diagnostic {
    Diagnostic::new(
        &codes::BANDS_AGAINST_WORN,
        format!("no band of `{}` begins or ends at its limit as worn, {worn}", gauge.id),
    )
    .at(bands, "the bands")
    .at(at, "the limit as worn")
    .help("let the band that goes back end at the limit as worn, or correct the limit")
}

pub(in crate::procedure) fn half_bands(gauge: &Naming, outside: &str, at: Span) -> Diagnostic {
    Diagnostic::new(&codes::HALF_BANDS, format!("{outside}, lies in no band of `{}`", gauge.id))
        .at(at, "the bands")
        .write("the band that is missing, such as `renew above 0.05 mm` or `good below 0.05 mm`")
}

pub(in crate::procedure) fn trial_reads_nothing(trial: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::TRIAL_READS_NOTHING, format!("trial `{}` reads nothing", trial.id))
        .at(trial.span, "put together and taken apart for nothing")
        .write("`gauge NAME` or `look NAME` in it, or `block` for `trial`")
}

pub(in crate::procedure) fn pressed_twice(part: &Naming, press: Span, moved: Span, fits: bool) -> Diagnostic {
    let (act, with) = if fits { ("fit", "on with") } else { ("take", "off with") };
    let id = &part.id;
    Diagnostic::new(
        &codes::PRESSED_TWICE,
        format!("`{id}` is pressed, and `{act} {id}` says the same act again"),
    )
    .at(press, "one line on the sheet")
    .at(moved, "and another")
    .write(format!("`{act} {id}` alone, and `{with} PRESS` at the part, with the name of the press"))
}

pub(in crate::procedure) fn repeat_unread(span: Span, gauge: &Naming) -> Diagnostic {
    let id = &gauge.id;
    Diagnostic::new(&codes::REPEAT_UNREAD, format!("`{id}` isn't read in this step"))
        .at(span, "tried again until it is within its limits")
        .at(gauge.span, "declared here")
        .write(format!("`gauge {id}` in this step, before it"))
}

pub(in crate::procedure) fn repeat_without_limits(span: Span, gauge: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::REPEAT_WITHOUT_LIMITS, format!("`{}` has no limits", gauge.id))
        .at(span, "tried again until it is within them")
        .at(gauge.span, "declared here, without")
        .write("`made 6 N .. 10 N from \"...\"` in the gauge, with its own numbers")
}

pub(in crate::procedure) fn repeat_tries(amount: &Amount) -> Diagnostic {
    Diagnostic::new(&codes::REPEAT_TRIES, format!("{} tries are not printed", amount.digits))
        .at(amount.span, "")
        .write("from 2 to 9; what is still beyond its limits then is somebody else's question")
}

pub(in crate::procedure) fn empty_title(naming: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::EMPTY_TITLE, format!("`{}` has an empty title", naming.id))
        .at(naming.span, "nothing would be printed for it")
        .write("its title in the quotes, or leave them out: then its name is printed")
}

pub(in crate::procedure) fn no_fate(part: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::NO_FATE, format!("`{}` comes off, and nothing says what becomes of it", part.id))
        .at(part.span, "it would go back as it is")
        .write("`fate renew`, `fate reuse`, `fate clean then reuse` or another")
}

pub(in crate::procedure) fn never_cleaned(part: &Naming, at: Span) -> Diagnostic {
    Diagnostic::new(&codes::NEVER_CLEANED, format!("`{}` goes back clean, and no step cleans it", part.id))
        .at(at, "said here")
        .write(format!("`clean {}` in a step", part.id))
}

pub(in crate::procedure) fn one_picture(joint: &Naming, seen: Span, part: &Naming, at: &str) -> Diagnostic {
    let message = format!(
        "`{}` is drawn alike at all its places, and `{}` lies otherwise at `{at}`",
        joint.id, part.id
    );
    Diagnostic::new(&codes::ONE_PICTURE, message)
        .at(seen, "one picture for all of them")
        .at(part.span, "its `way`, or when it falls, differs")
        .write(format!(
            "`seen ... at` with each position: as the holes are seen at `{at}`, or there the same once more if they lie alike"
        ))
}

pub(in crate::procedure) fn never_marked(part: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::NEVER_MARKED, format!("`{}` has a mark of ours, and no step makes it", part.id))
        .at(part.span, "declared here")
        .write(format!("`mark {} \"...\"` in the step that takes it off, before that", part.id))
}

pub(in crate::procedure) fn lift_without_mass(part: &Naming) -> Diagnostic {
    Diagnostic::new(
        &codes::LIFT_WITHOUT_MASS,
        format!("`{}` is lifted by a hoist, and its mass isn't said", part.id),
    )
    .at(part.span, "declared here")
    .write("`mass 24 kg`, as it is")
}

pub(in crate::procedure) fn no_reuse(set: &Naming, turned: bool) -> Diagnostic {
    let why = if turned { "is tightened by an angle" } else { "is critical" };
    Diagnostic::new(&codes::NO_REUSE, format!("`{}` {why}, and nothing says whether it may go back", set.id))
        .at(set.span, "declared here")
        .write("`once`, `reusable`, `reuse by GAUGE` or `reuse unknown`")
}

/// What a set leaves unsaid that others of its procedure say.
#[derive(Clone, Copy)]
pub(in crate::procedure) enum Unsaid {
    Reuse,
    Drive,
    Thread,
}

pub(in crate::procedure) fn set_unsaid(set: &Naming, unsaid: Unsaid) -> Diagnostic {
    let id = &set.id;
    let (what, wanted) = match unsaid {
        Unsaid::Reuse => {
            ("whether it may go back", "`once`, `reusable`, `reuse by GAUGE` or `reuse unknown`")
        }
        Unsaid::Drive => ("what drives it", "`drive 13 mm`, `drive \"cross-head\"` or `both ways with TOOL`"),
        Unsaid::Thread => ("its thread", "`thread M8x1.25`"),
    };
    Diagnostic::new(
        &codes::SET_UNSAID,
        format!("nothing says of `{id}` {what}, as other sets of this procedure do"),
    )
    .at(set.span, "declared here")
    .write(wanted)
}

/// Sets of one file, at least one, of which nothing says how long they are, while it is said of others.
pub(in crate::procedure) fn no_length(sets: &[&Naming]) -> Diagnostic {
    let message = format!("no length of {} is said, as it is of other sets", listed(sets));
    at_each(Diagnostic::new(&codes::SET_UNSAID, message), sets, "with which others may it be mixed up?")
        .write("`length 30 mm` in it, with its own number, or `length unknown`: then each has a blank on the sheet")
}

/// Sets of one file, at least one, of which nothing says what they are tightened to, while it is said of others; `joint` is the
/// first one's.
pub(in crate::procedure) fn no_torque(sets: &[&Naming], joint: Option<&Naming>) -> Diagnostic {
    let message = format!(
        "no torque of {} is said, as it is of other sets: every step that tightens it is held",
        listed(sets)
    );
    let complaint = at_each(Diagnostic::new(&codes::SET_UNSAID, message), sets, "its torque isn't said");
    let others = "with its own number, or `by feel`, `general` or `unknown`";
    match joint {
        Some(joint) => complaint.at(joint.span, "its joint").write(format!(
            "`tighten {} 30 N.m from \"where it stands\"` in `{}`, {others}",
            sets[0].id, joint.id
        )),
        None => complaint.write(format!("`tighten 30 N.m from \"where it stands\"` in it, {others}")),
    }
}

/// What is critical and says nothing of its torque, with its joint if it has one.
pub(in crate::procedure) fn critical_open(set: &Naming, joint: Option<&Naming>) -> Diagnostic {
    let id = &set.id;
    let complaint = Diagnostic::new(
        &codes::CRITICAL_OPEN,
        format!("`{id}` is critical and says no torque: every step that tightens it is held"),
    )
    .at(set.span, "its torque isn't said");
    let unknown = "or `unknown` in place of the number, where nobody has it yet";
    match joint {
        Some(joint) => complaint.at(joint.span, "its joint").write(format!(
            "`tighten {id} 30 N.m from \"where it stands\"` in `{}`, with its own number, {unknown}",
            joint.id
        )),
        None => complaint.write(format!(
            "`tighten 30 N.m from \"where it stands\"` in it, with its own number, {unknown}"
        )),
    }
}

/// Names of things as a choice; of many the first ones.
fn listed(things: &[&Naming]) -> String {
    let names: Vec<&str> = things.iter().map(|thing| thing.id.as_str()).collect();
    quoted(&names)
}

/// Points at where each is declared; at the last of the first few it is said how many more there are.
fn at_each(complaint: Diagnostic, things: &[&Naming], text: &str) -> Diagnostic {
    const MOST: usize = 4;
    things.iter().take(MOST).enumerate().fold(complaint, |complaint, (index, thing)| {
        let more = things.len().saturating_sub(MOST);
        let text = match index {
            0 => text.to_owned(),
            index if index + 1 == MOST && more > 0 => format!("nor here, nor at {more} more"),
            _ => "nor here".to_owned(),
        };
        complaint.at(thing.span, text)
    })
}

pub(in crate::procedure) fn one_for_all(gauge: &Naming, input: &Naming, at: Span) -> Diagnostic {
    let message = format!(
        "`{}` has one limit at all positions, and `{}`, which it is computed from, is made otherwise at others",
        gauge.id, input.id
    );
    Diagnostic::new(&codes::ONE_FOR_ALL, message)
        .at(at, "for all of them")
        .at(input.span, "differs by position")
        .help("state it by position, `made LOW .. HIGH at port = inlet, LOW .. HIGH at port = exhaust`")
}

/// A line of the key data that says otherwise than the limit as made of the gauge of that title.
pub(in crate::procedure) fn key_data_differ(
    gauge: &Naming,
    (name, low, high, said): (&str, Quantity, Quantity, Span),
    made: Span,
) -> Diagnostic {
    let value = if low.base() == high.base() { format!("{low}") } else { format!("{low} to {high}") };
    let message = format!("the key data say {value} of \"{name}\", and `{}` is made otherwise", gauge.id);
    Diagnostic::new(&codes::KEY_DATA_DIFFER, message)
        .at(made, "made otherwise there")
        .at(said, "said here")
        .help("state the same at both, by position where positions differ: both are printed")
}

/// A look or a reading of one part by which another goes, and that one not.
pub(in crate::procedure) fn of_another(
    judge: &Naming,
    (of, at): (&Naming, Span),
    decides: &Naming,
) -> Diagnostic {
    let message = format!(
        "`{}` is of `{}`, which doesn't go by it, and what becomes of `{}` goes by it",
        judge.id, of.id, decides.id
    );
    Diagnostic::new(&codes::OF_ANOTHER, message)
        .at(at, "of this one")
        .at(decides.span, "goes by it")
        .write(format!("`of {}` here, or `fate by {}` in `{}`", decides.id, judge.id, of.id))
}

pub(in crate::procedure) fn odd_head(set: &Naming, flats: Quantity, narrow: bool) -> Diagnostic {
    let far = if narrow { "narrow" } else { "wide" };
    let complaint = Diagnostic::new(
        &codes::ODD_HEAD,
        format!("a hexagon of {flats} is {far} for the thread of `{}`", set.id),
    )
    .at(set.span, "declared here");
    if !narrow {
        return complaint.help("check thread and drive against a bolt; where it is so, nothing is amiss");
    }
    let key = size_in_a_name(&flats.to_string());
    complaint.help(format!(
        "check thread and drive against a bolt; where a key goes into it, say so in words and name the key: \
         `drive \"{flats} hexagon\"  both ways with hex_{key}`"
    ))
}

pub(in crate::procedure) fn wide_angle(set: &Naming, angle: Quantity, at: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::WIDE_ANGLE,
        format!("`{}` is turned on by {angle}, more than a whole turn", set.id),
    )
    .at(at, "more than 360 deg")
    .help("check the figure; where it is meant, split it into passes of less than a turn")
}

pub(in crate::procedure) fn long_fastener(set: &Naming, length: Quantity, at: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::LONG_FASTENER,
        format!("`{}` is {length} long, more than 60 times its thread", set.id),
    )
    .at(at, "very long")
    .help("check the figure and its unit")
}

pub(in crate::procedure) fn wide_joint(joint: &Naming, far: Quantity, at: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::WIDE_JOINT,
        format!("a hole of `{}` lies {far} from the middle of its picture", joint.id),
    )
    .at(at, "more than 3 m away")
    .help("check the unit: holes are mostly given in mm")
}

pub(in crate::procedure) fn tightened_empty(
    trial: &Naming,
    part: &str,
    at: Span,
    fitted: Span,
) -> Diagnostic {
    Diagnostic::new(&codes::TIGHTENED_EMPTY, format!("trial `{}` tightens before it fits `{part}`", trial.id))
        .at(at, "nothing is clamped yet")
        .at(fitted, "fitted only here")
        .help("change the order of the two")
}

pub(in crate::procedure) fn read_loose(
    trial: &Naming,
    (gauge, read): (&str, Span),
    (part, fitted): (&str, Span),
    set: &str,
) -> Diagnostic {
    Diagnostic::new(
        &codes::READ_LOOSE,
        format!("trial `{}` reads `{gauge}` with `{part}` on, and nothing in it tightens `{set}`", trial.id),
    )
    .at(read, "read with it loose")
    .at(fitted, "fitted here")
    .write(format!(
        "`tighten {set} to TORQUE` before it, or `needs {set} slack` in the gauge, if it is read so"
    ))
}

pub(in crate::procedure) fn fitted_twice(part: &Naming, step: &str, at: Span) -> Diagnostic {
    let id = &part.id;
    Diagnostic::new(
        &codes::FITTED_TWICE,
        format!("`{step}` fits a new `{id}`, and the order list has those of the build only"),
    )
    .at(at, "fitted a second time")
    .at(part.span, "renewed once")
    .write(format!("`put back {id}`, where the same piece goes back"))
}

pub(in crate::procedure) fn no_limit(gauge: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::NO_LIMIT, format!("nothing says within which limits `{}` is right", gauge.id))
        .at(gauge.span, "read, and judged by nothing")
        .write("`made LOW .. HIGH`, `worn LIMIT` or `bands`; `worn unknown` where nobody knows; `noted only` where nothing is judged by it")
}
