//! Complaints about fasteners and joints.

use super::quantities::written;
use super::quoted;
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::english::{counted, noun};
use crate::language::tree::{Case, Lengths, Word};
use crate::mechanics::{ClassError, ThreadError};
use crate::procedure::model::{FastenerSet, Naming, hole_letter};
use crate::source::{Span, Spanned};

pub(in crate::procedure) fn unknown_thread(thread: &Spanned<String>, error: &ThreadError) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_THREAD, error.to_string())
        .at(thread.span, "a thread designation is wanted here")
        .mend(error.mend())
}

pub(in crate::procedure) fn unusual_thread(thread: &Spanned<String>, error: &ThreadError) -> Diagnostic {
    Diagnostic::new(&codes::UNUSUAL_THREAD, error.to_string())
        .at(thread.span, "not in the tables")
        .mend(error.mend())
}

/// Lengths of one set of which nothing says in which holes they are.
pub(in crate::procedure) fn several_lengths(at: Span, lengths: &[Case<Lengths>]) -> Diagnostic {
    let amounts = lengths.iter().filter_map(|case| match &case.value {
        Lengths::One(amount) => Some(written(amount)),
        _ => None,
    });
    let by_hole: Vec<String> =
        (0u32..).zip(amounts).map(|(hole, length)| format!("{} {length}", hole_letter(hole))).collect();
    let meant = format!("lengths {}", by_hole.join(", "));
    Diagnostic::new(&codes::SEVERAL_LENGTHS, "several lengths, and nothing says which hole has which")
        .at(at, "")
        .write(format!("`{meant}`, each hole with its letter and the length that is in it"))
        .perhaps(at, meant)
}

pub(in crate::procedure) fn unknown_class(class: Span, error: &ClassError) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_CLASS, error.to_string())
        .at(class, "its strength is not known")
        .mend(error.mend())
}

pub(in crate::procedure) fn hole_count(
    layout: Span,
    holes: usize,
    set: &Word,
    fasteners: usize,
) -> Diagnostic {
    Diagnostic::new(
        &codes::HOLE_COUNT,
        format!("{} for {} of `{}`", counted(holes, "hole"), counted(fasteners, "fastener"), set.value),
    )
    .at(layout, counted(holes, "hole"))
    .at(set.span, counted(fasteners, "fastener"))
    .help("give each fastener one hole, or correct the count")
}

pub(in crate::procedure) fn unknown_hole(
    letter: &Word,
    place: Span,
    joint: &str,
    last: Option<&str>,
) -> Diagnostic {
    let complaint =
        Diagnostic::new(&codes::UNKNOWN_HOLE, format!("`{joint}` has no hole `{}`", letter.value))
            .at(letter.span, "no such hole")
            .at(place, "its holes are listed here");
    match last {
        Some("A") => complaint.help("its only hole is `A`"),
        Some(last) => {
            complaint.help(format!("its holes are `A` to `{last}`, in the order in which they are listed"))
        }
        None => complaint.help("give the joint its holes first: `holes SET at (0,0) mm`"),
    }
}

pub(in crate::procedure) fn hole_of_other_set(letter: &Word, set: &Word, letters: &[String]) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_HOLE, format!("hole `{}` is not one of `{}`", letter.value, set.value))
        .at(letter.span, "a hole of another set")
        .at(set.span, "the set is declared here")
        .help(format!("its holes are {}", quoted(letters)))
}

pub(in crate::procedure) fn no_holes(at: Span, thing: &Word) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_HOLE, format!("`{}` has no holes that could be named", thing.value))
        .at(at, "names a hole")
        .at(thing.span, "declared here")
        .help("only a fastener set that has its holes in a joint can name one")
}

pub(in crate::procedure) fn holes_coincide(later: Span, earlier: Span, a: &str, b: &str) -> Diagnostic {
    let complaint =
        Diagnostic::new(&codes::HOLES_COINCIDE, format!("holes `{a}` and `{b}` are at the same place"));
    let complaint = if later == earlier {
        complaint.at(later, format!("`{a}` and `{b}` are here"))
    } else {
        complaint.at(later, format!("`{b}` is here")).at(earlier, format!("`{a}` is here"))
    };
    complaint.help("correct one of the two places")
}

pub(in crate::procedure) fn sequence_repeats(again: &Word, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::SEQUENCE_HOLES, format!("hole `{}` stands twice in the sequence", again.value))
        .at(again.span, "named again here")
        .at(first, "first named here")
        .help("name each hole once")
}

pub(in crate::procedure) fn sequence_misses(clause: Span, missing: &[String]) -> Diagnostic {
    Diagnostic::new(
        &codes::SEQUENCE_HOLES,
        format!("the sequence leaves out {} {}", noun(missing.len(), "hole"), quoted(missing)),
    )
    .at(clause, "must name each hole once")
    .write(format!("`{}` where it belongs", missing.join(", ")))
}

/// `what` it has twice, by `clause`.
pub(in crate::procedure) fn second_holes(
    what: &str,
    clause: &str,
    set: &Word,
    again: Span,
    first: Span,
) -> Diagnostic {
    Diagnostic::new(&codes::SECOND_HOLES, format!("`{}` has {what} twice in this joint", set.value))
        .at(again, "again here")
        .at(first, "first here")
        .help(format!("keep one `{clause}` for each set"))
}

/// The set, its `tighten` that differs or, where it has none, its holes, and the `tighten` before.
pub(in crate::procedure) fn two_torques(
    set: &str,
    tightened: Option<Span>,
    holes: Span,
    first: Span,
) -> Diagnostic {
    let (what, place) = match tightened {
        Some(again) => ("two torques in this joint", (again, "another torque here")),
        None => ("a torque for a part of it only", (holes, "no torque for these")),
    };
    Diagnostic::new(&codes::TWO_TORQUES, format!("`{set}` has {what}"))
        .at(place.0, place.1)
        .at(first, "its torque")
        .write(format!(
            "`tighten {set} ...` once, for all of them; or, where they really differ, make two sets, each \
             with its own count"
        ))
}

pub(in crate::procedure) fn set_in_part(set: &str, left_out: &str, named: Span) -> Diagnostic {
    Diagnostic::new(&codes::SET_IN_PART, format!("`{set}` is in this joint, but `{left_out}` is not"))
        .at(named, "named here")
        .help(format!(
            "name all of it, such as `tighten {set} ...`; or make a set of its own for what belongs elsewhere"
        ))
}

pub(in crate::procedure) fn one_clamp(clause: Span, joint: &Word) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_CLAUSE, format!("joint `{}` clamps one part to nothing", joint.value))
        .at(clause, "the last part is the base, which the others are held to")
        .help("name the base as well: `clamps PART, BASE`")
}

pub(in crate::procedure) fn set_without_holes(set: &Word, joint: &Word) -> Diagnostic {
    Diagnostic::new(
        &codes::SET_WITHOUT_HOLES,
        format!("`{}` is tightened in `{}`, but has no holes there", set.value, joint.value),
    )
    .at(set.span, "has no holes in this joint")
    .at(joint.span, "the joint")
    .write(format!("`holes {} at (0,0) mm`, with a place for each", set.value))
}

/// The set, and the joints that name it `first` and `again`.
pub(in crate::procedure) fn set_in_two_joints(
    (set, earlier, later): (&FastenerSet, &str, &str),
    holes: usize,
    again: Span,
    first: Span,
) -> Diagnostic {
    Diagnostic::new(
        &codes::SET_IN_TWO_JOINTS,
        format!("`{}` is in two joints, `{earlier}` and `{later}`", set.naming.id),
    )
    .at(again, format!("undoing it here would open `{earlier}` as well"))
    .at(first, "its first joint")
    .help(format!(
        "give each joint a set of its own, such as `fasteners {}_of_{later} {} \"{}\"`; or, where the same \
         ones go through everything, write one joint and name all of it in `clamps`",
        set.naming.id,
        if holes > 0 { holes } else { set.count.at_a_place().most() as usize },
        set.naming.title
    ))
}

/// A set of a joint of which there are more at some places, or under some answers, than at others.
pub(in crate::procedure) fn count_in_joint(at: Span, set: &Word, joint: &Word) -> Diagnostic {
    let message = format!("`{}` is in joint `{}`, and how many there are differs", set.value, joint.value);
    Diagnostic::new(&codes::COUNT_IN_JOINT, message)
        .at(at, "another number")
        .at(joint.span, "its joint, whose holes are drawn")
        .help(format!(
            "write those that aren't always there as a set of their own, such as `fasteners more_{} 2 {{ present \
             when ... }}`, with its own `holes` in the joint",
            set.value
        ))
}

pub(in crate::procedure) fn tighten_in_joint(at: Span, set: &Word, joint: &Word) -> Diagnostic {
    Diagnostic::new(
        &codes::TIGHTEN_IN_JOINT,
        format!("`{}` is in joint `{}` and states a torque of its own", set.value, joint.value),
    )
    .at(at, "belongs in the joint")
    .at(joint.span, "its joint")
    .help(format!("move it there: `tighten {} ...`", set.value))
}

pub(in crate::procedure) fn critical_torque(at: Span, way: &str, what: &str, because: Span) -> Diagnostic {
    Diagnostic::new(&codes::CRITICAL_TORQUE, format!("{what} is critical and can't be tightened {way}"))
        .at(at, "not enough for what is critical")
        .at(because, "declared critical here")
        .help("state the torque with its origin, such as `45 N.m from \"...\"`, or write `unknown` until it is found")
}

pub(in crate::procedure) fn no_origin(at: Span, what: &str) -> Diagnostic {
    Diagnostic::new(&codes::NO_ORIGIN, format!("{what} doesn't say where it comes from"))
        .at(at, "no origin")
        .write("`from \"...\"`: the book, sheet or person that says so")
}

pub(in crate::procedure) fn passes_fall(pass: Span, before: Span) -> Diagnostic {
    Diagnostic::new(&codes::PASSES_FALL, "a pass is lower than the one before it")
        .at(pass, "this pass")
        .at(before, "the pass before it")
        .help("list passes in the order in which they are done, none lower than the last")
}

pub(in crate::procedure) fn angle_first(pass: Span) -> Diagnostic {
    Diagnostic::new(&codes::PASSES_FALL, "an angle is the first pass")
        .at(pass, "turned by an angle before any torque")
        .help("begin with the torque from which the angle counts, such as `30 N.m, 90 deg`")
}

/// `upright` is where the front lies in the picture if the engine stands upright, where that follows from the family.
pub(in crate::procedure) fn no_front(view: &Word, upright: Option<&str>, whole: &str) -> Diagnostic {
    let complaint = Diagnostic::new(
        &codes::NO_FRONT,
        format!("nothing says where the front of the {whole} is, seen from `{}`", view.value),
    )
    .at(view.span, "the figure could be read the wrong way round");
    match upright {
        Some(upright) => {
            let end = Span::new(view.span.file, view.span.end(), view.span.end());
            complaint
                .write(format!(
                    "`seen from {}, front {upright}`, if the {whole} is drawn upright",
                    view.value
                ))
                .perhaps(end, format!(", front {upright}"))
        }
        None => complaint.write(format!("`seen from {}, front left` (or right, up, down)", view.value)),
    }
}

/// The front of the engine at a side of a picture that is seen from the front or the rear.
pub(in crate::procedure) fn impossible_front(view: &Word, front: &Word, whole: &str) -> Diagnostic {
    let lies = if view.value == "front" { "faces whoever looks" } else { "lies behind what is seen" };
    let clause = Span::new(view.span.file, view.span.end(), front.span.end());
    Diagnostic::new(
        &codes::IMPOSSIBLE_FRONT,
        format!(
            "seen from `{}`, the front of the {whole} {lies}: it is at no edge of the picture",
            view.value
        ),
    )
    .at(front.span, "it isn't there")
    .at(view.span, "seen from here")
    .write(format!("`seen from {}` alone; or, if that is wrong, from where it is seen", view.value))
    .perhaps(clause, "")
}

/// The front of the engine where it lies only if the engine stands on its head.
pub(in crate::procedure) fn upside_down(view: &Word, front: &Word, upright: &str, whole: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::UPSIDE_DOWN,
        format!("seen from `{}`, the {whole} that stands upright has its front to the {upright}", view.value),
    )
    .at(front.span, "so it stands on its head in this picture")
    .write(format!("`front {upright}`, unless it is drawn upside down"))
    .perhaps(front.span, upright)
}

/// Part `upper` is named above `base` in what a joint clamps; `cause` says, at its place, that `base` comes off first.
/// `turned` is the list the other way round, where it can be written.
pub(in crate::procedure) fn clamps_reversed(
    joint: &Naming,
    (base, at): (&str, Span),
    cause: (Span, String),
    turned: Option<(Span, String)>,
) -> Diagnostic {
    let complaint = Diagnostic::new(
        &codes::CLAMPS_REVERSED,
        format!("`{base}` is the last that `{}` clamps, the base that stays, and comes off first", joint.id),
    )
    .at(at, "named last, as if all else came off it")
    .at(cause.0, cause.1);
    match turned {
        Some((span, list)) => {
            complaint.write(format!("`clamps {list}`: from the top down, the base last")).perhaps(span, list)
        }
        None => complaint.help("name in `clamps` what comes off first, and the base that stays last"),
    }
}

pub(in crate::procedure) fn lock_without_piece(clause: Span, word: &Spanned<String>) -> Diagnostic {
    let (kind, such) = match word.value.as_str() {
        "tab" => ("the part that is its tab washer", "pulley_tab"),
        "split pin" => ("the part that is its split pin", "nut_pin"),
        "wire" => ("the supply of wire", "lock_wire"),
        _ => ("the supply of thread-locker", "thread_locker"),
    };
    Diagnostic::new(&codes::LOCK_WITHOUT_PIECE, format!("`locked by {}` doesn't say with which", word.value))
        .at(clause, "no piece")
        .write(format!("`locked by {} {such}`, with {kind}", word.value))
}

pub(in crate::procedure) fn stake_has_no_piece(piece: Span, word: Span) -> Diagnostic {
    Diagnostic::new(&codes::STAKE_HAS_NO_PIECE, "staking uses nothing up")
        .at(piece, "a piece for it")
        .at(word, "the metal itself is the lock")
        .write("`locked by stake` alone")
}

pub(in crate::procedure) fn oil_not_named(clause: Span) -> Diagnostic {
    Diagnostic::new(&codes::OIL_NOT_NAMED, "nothing says with which oil")
        .at(clause, "oiled with what?")
        .write("`oil threads, faces with clean_oil`, with the supply that it is")
}
