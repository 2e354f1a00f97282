//! Complaints about the command line itself.

use std::path::Path;

use crate::diagnostics::{Diagnostic, Mend};
use crate::diagnostics::{codes::cli as codes, nearest};
use crate::record::Refusal;
use crate::sheet::SheetKind;
use crate::source::{Occupied, Span, reason};

pub(super) fn no_job(what: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, format!("`{what}` is about a job, and no record is named")).write(
        "the record in place of the procedure, which it names; or `--job JOB.yaml` behind the procedure",
    )
}

pub(super) fn job_twice() -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, "a record stands in place of the procedure, and `--job` names another")
        .help("leave one of them out: a record names its procedure")
}

pub(super) fn unknown_complaint(name: &str, nearest: Option<&str>) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::UNKNOWN_COMPLAINT, format!("no complaint is called `{name}`"));
    match nearest {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None => complaint.help("`benchleaf complaint` without a name lists them all"),
    }
}

pub(super) fn unknown_step(name: &str, nearest: Option<&str>) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::UNKNOWN_STEP, format!("no step is called `{name}`"));
    match nearest {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None => complaint
            .help("`benchleaf order PROCEDURE` lists the steps of the strip; `--phase` chooses another"),
    }
}

pub(super) fn too_few_hands(id: &str, hands: u32) -> Diagnostic {
    Diagnostic::new(&codes::TOO_FEW_HANDS, format!("`{id}` needs more than {hands} pairs of hands"))
        .help("give `--hands` the most that any step needs, or more")
}

pub(super) fn which_step(name: &str, positions: &[String]) -> Diagnostic {
    let list: Vec<String> = positions.iter().map(|id| format!("`{id}`")).collect();
    Diagnostic::new(&codes::WHICH_STEP, format!("`{name}` is done position by position"))
        .help(format!("name one: {}", list.join(", ")))
}

pub(super) fn unknown_sheet(name: &str, known: &[SheetKind]) -> Diagnostic {
    let known: Vec<&str> = known.iter().map(|kind| kind.name()).collect();
    let complaint =
        Diagnostic::new(&codes::UNKNOWN_SHEET, format!("no sheet of this phase is called `{name}`"));
    match nearest(name, known.iter().copied()) {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None => complaint.help(format!("the sheets of this phase are {}", known.join(", "))),
    }
}

pub(super) fn nothing_to_print(phase: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::NOTHING_TO_PRINT,
        format!("none of these sheets has anything to say for the {phase}"),
    )
    .help("leave `--sheets` out, or choose another phase with `--phase`")
}

pub(super) fn unknown_drawing(path: &Path) -> Diagnostic {
    Diagnostic::new(
        &codes::UNKNOWN_DRAWING,
        format!("`{}` names no `.svg`, `.graphml` or `.csv` file", path.display()),
    )
    .help("end the name of the file in `.svg` to look at it, in `.graphml` or `.csv` for other programs")
}

pub(super) fn nameless(words: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, format!("no name can be made of `{words}`"))
        .write("a name that begins with a letter from a to z, such as `new \"Dock winch\"`")
}

pub(super) fn there_already(path: &Path) -> Diagnostic {
    Diagnostic::new(&codes::OCCUPIED, format!("`{}` is there already", path.display()))
        .help("give it another name, or take away what stands there")
}

pub(super) fn unwritable(path: &Path, error: &std::io::Error) -> Diagnostic {
    Diagnostic::new(&codes::UNWRITABLE, format!("`{}` can't be written: {}", path.display(), reason(error)))
        .help("check that the folder exists and that you may write in it")
}

/// The standard output took no more.
pub(super) fn unwritten(error: &std::io::Error) -> Diagnostic {
    let reason = reason(error);
    Diagnostic::new(&codes::UNWRITABLE, format!("the answer can't be written whole: {reason}"))
        .help("what was written of it is not all: make room where it goes, and ask again")
}

pub(super) fn occupied(path: &Path, occupied: &Occupied) -> Diagnostic {
    let path = path.display();
    match occupied {
        Occupied::Input(input) => Diagnostic::new(
            &codes::OUTPUT_IS_INPUT,
            format!("`{path}` is `{}`, from which this was made", input.display()),
        )
        .help("name another file to write; nothing was changed"),
        Occupied::NotAFile => {
            Diagnostic::new(&codes::OCCUPIED, format!("`{path}` is no file that can be replaced"))
                .help("name a file to write: this is a folder, a device, a pipe or a link that leads nowhere")
        }
        Occupied::OtherKind => Diagnostic::new(
            &codes::OCCUPIED,
            format!("`{path}` is there already and is another kind of file than what would be written"),
        )
        .help("name another file, or remove that one first; nothing was changed"),
        Occupied::Unreadable(words) => Diagnostic::new(
            &codes::OCCUPIED,
            format!("`{path}` is there already and can't be looked at: {words}"),
        )
        .help("name another file to write"),
    }
}

pub(super) fn not_recorded(span: Span, path: &str, refusal: &Refusal) -> Diagnostic {
    let (words, help) = match refusal {
        Refusal::Present(_) => (
            format!("`{path}` has a value already"),
            "for a reading, look or answer taken anew add `--again`; correct everything else by hand",
        ),
        Refusal::OtherKind(_) => {
            (format!("nothing can be added at `{path}`"), "give the key on this line further keys below it")
        }
        Refusal::Unreadable | Refusal::Unsafe => {
            (format!("`{path}` can't be put into this text safely"), "write it into the record by hand")
        }
    };
    Diagnostic::new(&codes::NOT_RECORDED, words).at(span, "").help(help)
}

pub(super) fn wrong_quantity(option: &str, problem: &str, mend: Mend) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_QUANTITY, format!("`{option}`: {problem}")).mend(mend)
}

pub(super) fn wrong_word(option: &str, problem: &str, mend: Mend) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_WORD, format!("`{option}`: {problem}")).mend(mend)
}

pub(super) fn too_little(problem: &str, mend: Mend) -> Diagnostic {
    Diagnostic::new(&codes::TOO_LITTLE, problem).mend(mend)
}

pub(super) fn unknown_joint(name: &str, known: &[&str]) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::UNKNOWN_JOINT, format!("no joint is called `{name}`"));
    match nearest(name, known.iter().copied()) {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None if known.is_empty() => complaint.help("the procedure declares no joint"),
        None => complaint.help(format!("the joints are {}", known.join(", "))),
    }
}

pub(super) fn joint_not_reckoned(name: &str, problem: &str, mend: Mend) -> Diagnostic {
    Diagnostic::new(&codes::JOINT_NOT_RECKONED, format!("the joint `{name}` can't be reckoned: {problem}"))
        .mend(mend)
}
