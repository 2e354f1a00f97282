//! Complaints about names, positions and values.

use std::path::Path;

use super::quoted;
use crate::diagnostics::codes::procedure as codes;
use crate::diagnostics::{Diagnostic, Mend, told};
use crate::english::alternatives;
use crate::language::tree::{Quote, Word};
use crate::procedure::model::MOST_VALUES;
use crate::source::{ReadFailure, Span};

pub(in crate::procedure) fn duplicate_name(name: &Word, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::DUPLICATE_NAME, format!("`{}` is declared twice", name.value))
        .at(name.span, "declared again here")
        .at(first, "first declared here")
        .help(if name.span.file == first.file {
            format!("rename one of them, such as `{}_2`", name.value)
        } else {
            format!(
                "leave it out here: the other file, which is brought in, has it already; for another thing another name, such \
                 as `{}_2`",
                name.value
            )
        })
}

/// A thing is to be like one that stands behind it, or like itself.
pub(in crate::procedure) fn like_later(word: &Word, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::LIKE_LATER, format!("`{}` isn't declared before this", word.value))
        .at(word.span, "nothing is said of it yet")
        .at(declared, "declared here")
        .help("say it all at the first of those that are alike, and `like` at the later ones")
}

/// `uses`: every place where the name is used, the first at the front.
pub(in crate::procedure) fn unknown_name(
    name: &str,
    uses: &[Span],
    wanted: &[&str],
    nearest: Option<(&str, Span)>,
    declaration: &str,
) -> Diagnostic {
    let complaint = unknown(name, uses, wanted);
    match nearest {
        Some((near, declared)) => {
            let complaint = complaint
                .at(declared, format!("`{near}` is declared here"))
                .write(format!("`{near}`, if that is meant"));
            match uses {
                [only] => complaint.perhaps(*only, near),
                _ => complaint,
            }
        }
        None => {
            let shelved = wanted.iter().any(|kind| matches!(*kind, "a tool" | "a supply" | "a hazard"));
            let others = if shelved { "; `benchleaf shelf` lists what comes with the program" } else { "" };
            complaint.help(format!("declare it: `{declaration}`{others}"))
        }
    }
}

/// A name that isn't declared, and stands in a file that comes with the program and isn't brought in.
pub(in crate::procedure) fn on_the_shelf(
    name: &str,
    uses: &[Span],
    wanted: &[&str],
    shelf: &str,
) -> Diagnostic {
    let complaint = unknown(name, uses, wanted).write(format!(
        "`use \"{shelf}\"` at the head of the file: it comes with the program and has `{name}`"
    ));
    match uses {
        [first, ..] => complaint.perhaps(Span::new(first.file, 0, 0), format!("use \"{shelf}\"\n")),
        [] => complaint,
    }
}

/// What holds a part is said to be its own fit, for which no fasteners are declared.
pub(in crate::procedure) fn held_by_its_fit(name: &str, uses: &[Span]) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::UNKNOWN_NAME, format!("`{name}` is a fit, and no fasteners"));
    let complaint =
        uses.iter().take(1).fold(complaint, |complaint, span| complaint.at(*span, "names what is undone"));
    complaint.help(format!(
        "leave `held by {name}` out: what holds by its fit is free once what lies over it is off. Write `off with PULLER` and `on with \
         TOOL` for what draws it off and drives it home, and `comes off \"...\"` for how it is let go; `within HOST in place too` where \
         it is pressed into another part"
    ))
}

/// The places where a name is used that nothing has.
fn unknown(name: &str, uses: &[Span], wanted: &[&str]) -> Diagnostic {
    const MOST: usize = 4;
    let mut complaint = Diagnostic::new(&codes::UNKNOWN_NAME, format!("nothing is called `{name}`"));
    for (index, span) in uses.iter().take(MOST).enumerate() {
        let text = match index {
            0 => format!("{} is wanted here", alternatives(wanted)),
            MOST_INDEX if uses.len() > MOST => format!("also here, and at {} more places", uses.len() - MOST),
            _ => "also here".to_owned(),
        };
        complaint = complaint.at(*span, text);
    }
    complaint
}

/// Index of the last label that is shown for a use.
const MOST_INDEX: usize = 3;

pub(in crate::procedure) fn wrong_kind(
    name: &Word,
    kind: &str,
    wanted: &[&str],
    declared: Span,
) -> Diagnostic {
    let wanted = alternatives(wanted);
    Diagnostic::new(&codes::WRONG_KIND, format!("`{}` is {kind}; {wanted} is wanted here", name.value))
        .at(name.span, format!("{wanted} is wanted here"))
        .at(declared, format!("declared as {kind} here"))
        .help(format!("name {wanted}"))
}

pub(in crate::procedure) fn unknown_position(
    position: &Word,
    axis: &Word,
    positions: &[String],
) -> Diagnostic {
    Diagnostic::new(
        &codes::UNKNOWN_POSITION,
        format!("`{}` has no position `{}`", axis.value, position.value),
    )
    .at(position.span, "no such position")
    .at(axis.span, "the axis is declared here")
    .write(format!("{}, or `{}` for the position the step is at", quoted(positions), axis.value))
}

pub(in crate::procedure) fn wrong_axis(
    position: &Word,
    belongs_to: &str,
    wanted: &str,
    thing: &Word,
    shape: &str,
) -> Diagnostic {
    Diagnostic::new(
        &codes::WRONG_AXIS,
        format!("`{}` belongs to `{belongs_to}`; `{}` has `{wanted}` here", position.value, thing.value),
    )
    .at(position.span, format!("a position of `{wanted}` is wanted here"))
    .at(thing.span, format!("declared with `{shape}` here"))
    .help(format!("give positions in the order `{shape}`"))
}

pub(in crate::procedure) fn too_many_positions(extra: Span, thing: &Word, axes: usize) -> Diagnostic {
    let has = match axes {
        0 => "has no axis".to_owned(),
        1 => "has one axis".to_owned(),
        _ => format!("has {axes} axes"),
    };
    Diagnostic::new(&codes::TOO_MANY_POSITIONS, format!("`{}` {has}", thing.value))
        .at(extra, "one position too many")
        .at(thing.span, "declared here")
        .mend(if axes == 0 {
            Mend::write(format!("`{}` without brackets", thing.value))
        } else {
            Mend::doing(format!("leave out what stands behind position {axes}"))
        })
}

pub(in crate::procedure) fn axis_not_here(axis: &Word, thing: &Word, shape: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_AXIS, format!("`{}` is no axis of `{}`", axis.value, thing.value))
        .at(axis.span, "not one of its axes")
        .at(thing.span, format!("declared as `{shape}` here"))
        .help(format!("name an axis of `{}`, or leave this out", thing.value))
}

/// Positions of an axis that no group has.
pub(in crate::procedure) fn ungrouped(groups: &Word, axis: &Word, missing: &[&str]) -> Diagnostic {
    let names = missing.join(", ");
    Diagnostic::new(&codes::UNGROUPED, format!("no `{}` has {names}", groups.value))
        .at(groups.span, format!("every position of `{}` is in one of its groups", axis.value))
        .write(format!("{names} behind the `{}` in which it is", groups.value))
}

/// A thing or a step along an axis and along the groups of the same axis.
pub(in crate::procedure) fn axis_and_groups(axis: &Word, groups: &Word) -> Diagnostic {
    Diagnostic::new(
        &codes::AXIS_AND_GROUPS,
        format!("each `{}` is in one `{}` only", axis.value, groups.value),
    )
    .at(groups.span, format!("told by `{}`", axis.value))
    .at(axis.span, "")
    .help(format!("leave `{}` out: a position of `{}` tells which it is", groups.value, axis.value))
}

/// `at AXIS = ...` behind an act of something that is not along that axis, in a step that isn't either.
pub(in crate::procedure) fn act_along_no_axis(axis: &Word) -> Diagnostic {
    Diagnostic::new(
        &codes::WRONG_AXIS,
        format!("neither the step nor what it works on stands along `{}`", axis.value),
    )
    .at(axis.span, "not one of their axes")
    .help(format!("do the step `each {} apart`, or leave this out", axis.value))
}

/// `each AXIS of GROUPS`, where the groups are those of no axis that is named.
pub(in crate::procedure) fn no_groups_of(of: &Word, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_AXIS, format!("`{}` are groups of none of these axes", of.value))
        .at(of.span, "not a way in which one of them is grouped")
        .at(declared, "declared here")
        .help(format!("name the axis that is `in {}`", of.value))
}

pub(in crate::procedure) fn too_many_places(thing: &Word, places: usize, most: usize) -> Diagnostic {
    Diagnostic::new(&codes::TOO_MANY_PLACES, format!("`{}` has {places} positions", thing.value))
        .at(thing.span, format!("more than {most}"))
        .help("shorten its axes")
}

/// `what` is what is listed, such as `answer`; `word` the first of them that is one too many.
pub(in crate::procedure) fn too_many_values(word: &Word, what: &str, count: usize) -> Diagnostic {
    Diagnostic::new(
        &codes::TOO_MANY_VALUES,
        format!("{count} {what}s are listed, and {MOST_VALUES} can be told apart"),
    )
    .at(word.span, format!("{what} {} of {count}", MOST_VALUES + 1))
    .help(format!("keep to {MOST_VALUES}, or split what is listed into two declarations"))
}

pub(in crate::procedure) fn unknown_value(
    value: &Word,
    owner: &Word,
    what: &str,
    known: &[String],
    nearest: Option<&str>,
) -> Diagnostic {
    let complaint =
        Diagnostic::new(&codes::UNKNOWN_VALUE, format!("`{}` has no {what} `{}`", owner.value, value.value))
            .at(value.span, format!("not one of `{}`", owner.value))
            .at(owner.span, "declared here")
            .write(match nearest {
                Some(near) => format!("`{near}`, if that is meant"),
                None => quoted(known),
            });
    match nearest {
        Some(near) => complaint.perhaps(value.span, near),
        None => complaint,
    }
}

pub(in crate::procedure) fn unknown_word(
    word: &Word,
    what: &str,
    known: &[&str],
    nearest: Option<&str>,
) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::UNKNOWN_WORD, format!("`{}` is not {what}", word.value))
        .at(word.span, format!("{what} is wanted here"))
        .write(match nearest {
            Some(near) => format!("`{near}`, if that is meant"),
            None => quoted(known),
        });
    match nearest {
        Some(near) => complaint.perhaps(word.span, near),
        None => complaint,
    }
}

pub(in crate::procedure) fn duplicate_value(word: &Word, what: &str, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::DUPLICATE_VALUE, format!("{what} `{}` is listed twice", word.value))
        .at(word.span, "listed again here")
        .at(first, "first listed here")
        .help("leave one of them out")
}

pub(in crate::procedure) fn two_starts(second: &Word, first: &Word, mark: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::TWO_STARTS,
        format!("`{}` and `{}` are both marked `{mark}`", first.value, second.value),
    )
    .at(second.span, format!("also marked `{mark}`"))
    .at(first.span, "marked here")
    .help(format!("keep `{mark}` on the value that holds then"))
}

pub(in crate::procedure) fn unturned_value(setup: &Word, value: &Word) -> Diagnostic {
    Diagnostic::new(
        &codes::UNTURNED_VALUE,
        format!("`{}` turns the whole, but doesn't say how it lies when `{}`", setup.value, value.value),
    )
    .at(value.span, "no face is said to lie uppermost")
    .help(format!("add to `turns engine =` a part such as `{} up top`", value.value))
}

pub(in crate::procedure) fn second_turner(
    second: &Word,
    first: &crate::procedure::model::Naming,
) -> Diagnostic {
    Diagnostic::new(
        &codes::SECOND_TURNER,
        format!("`{}` and `{}` both turn the whole", first.id, second.value),
    )
    .at(second.span, "also turns it")
    .at(first.span, "turns it")
    .help("keep `turns engine` on the setup that holds it")
}

pub(in crate::procedure) fn use_unreadable(path: &Quote, failure: &ReadFailure) -> Diagnostic {
    let told = told(failure);
    let mend = match failure {
        ReadFailure::Unreadable(_) => "the path is relative to the folder of this file".to_owned(),
        _ => told.mend,
    };
    Diagnostic::new(&codes::USE_UNREADABLE, format!("`{}` {}", path.value, told.words))
        .at(path.span, "brought in here")
        .help(mend)
}

pub(in crate::procedure) fn use_cycle(path: &Quote, circle: &[String], earlier: Option<Span>) -> Diagnostic {
    let complaint = Diagnostic::new(
        &codes::USE_CYCLE,
        format!("`{}` brings itself in: {}", path.value, circle.join(" uses ")),
    )
    .at(path.span, "closes the circle");
    let complaint = match earlier {
        Some(span) => complaint.at(span, "and was brought in here"),
        None => complaint,
    };
    complaint.help(format!("take out `use \"{}\"`", path.value))
}

pub(in crate::procedure) fn no_family(start: Span) -> Diagnostic {
    Diagnostic::new(&codes::NO_FAMILY, "the file declares no family")
        .at(start, "")
        .help("begin it with `family NAME \"Title\" { }`, or check the file that brings this one in by `use`")
}

/// Another kind of file.
pub(in crate::procedure) fn not_a_procedure(path: &Path, start: Span) -> Diagnostic {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    Diagnostic::new(&codes::NOT_A_PROCEDURE, format!("`{name}` is no procedure"))
        .at(start, "nothing is declared here")
        .help(
            "name a file that ends in `.rebuild` and begins with a declaration, such as `family NAME \"Title\" { }`; the \
             record of a job ends in `.yaml`",
        )
}

pub(in crate::procedure) fn second_family(name: &Word, first: Option<Span>) -> Diagnostic {
    let complaint = match first {
        Some(first) => Diagnostic::new(&codes::SECOND_FAMILY, format!("`{}` is a second family", name.value))
            .at(name.span, "declared here")
            .at(first, "the first is declared here"),
        None => Diagnostic::new(
            &codes::SECOND_FAMILY,
            format!("family `{}` stands in a file that is brought in by `use`", name.value),
        )
        .at(name.span, "only the root file has a family"),
    };
    complaint.help("keep one family, in the file that the command is given")
}
