//! Complaints about the command line itself.

use std::path::Path;

use crate::diagnostics::{Diagnostic, Mend};
use crate::diagnostics::{codes::cli as codes, nearest};
use crate::english::one_of;
use crate::record::Refusal;
use crate::sheet::SheetKind;
use crate::source::{Occupied, Span, reason};

pub(super) fn no_job(what: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, format!("`{what}` is about a job, and no record is named")).write(
        "the record in place of the procedure, which it names; or `--job JOB.yaml` behind the procedure",
    )
}

pub(super) fn nothing_to_compare(path: &Path) -> Diagnostic {
    Diagnostic::new(
        &codes::WRONG_USE,
        format!("`{}` is no record, and nothing to hold it against is named", path.display()),
    )
    .write("a second procedure behind it, or the record of a job alone: `compare JOB.yaml`")
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

pub(super) fn unknown_piece(piece: &str, sections: &[String]) -> Diagnostic {
    let complaint =
        Diagnostic::new(&codes::UNKNOWN_PIECE, format!("this phase has no section, step or sheet `{piece}`"));
    match nearest(piece, sections.iter().map(String::as_str)) {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")),
        None => {
            let sections: Vec<String> = sections.iter().map(|title| format!("`{title}`")).collect();
            complaint.help(format!("the sections that are left are {}", sections.join(", ")))
        }
    }
}

pub(super) fn paper_on_a_screen(option: &str, path: &Path) -> Diagnostic {
    let message = format!("`{option}` is about paper, and `{}` is for a screen", path.display());
    Diagnostic::new(&codes::WRONG_USE, message).help("leave it out, or let the file's name end in `.pdf`")
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

pub(super) fn ends_otherwise(path: &Path, endings: &[&str]) -> Diagnostic {
    let endings: Vec<String> = endings.iter().map(|ending| format!(".{ending}")).collect();
    let message = format!(
        "the name of `{}` says that it is another kind of file than what would be written",
        path.display()
    );
    Diagnostic::new(&codes::ENDS_OTHERWISE, message)
        .help(format!("let the name end in {}; nothing was written", one_of(&endings)))
}

pub(super) fn nameless(words: &str) -> Diagnostic {
    let message = match words {
        "" => "an empty name names nothing".to_owned(),
        words => format!("no name can be made of `{words}`"),
    };
    Diagnostic::new(&codes::WRONG_USE, message)
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

pub(super) fn nothing_to_undo(path: &Path) -> Diagnostic {
    Diagnostic::new(
        &codes::NOTHING_TO_UNDO,
        format!("`{}` has no last entry that can be taken back", path.display()),
    )
    .help("only the last twenty entries of `record` or `gather` can be, the last first, and only until the record is changed by hand")
}

pub(super) fn nobody() -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, "nobody says who did it")
        .write("`--by INITIALS`, or once for the whole day `benchleaf record JOB by INITIALS`")
}

pub(super) fn no_entry(line: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, format!("`{line}` is no entry of a record"))
        .help("it is typed as it stands behind the record: `benchleaf record --help` lists the entries")
}

pub(super) fn wrong_day(typed: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_WORD, format!("`{typed}` is not a day"))
        .write("a day such as 2026-03-05, or 5.3 for the fifth of March of this year")
}

pub(super) fn no_such_step(typed: &str, why: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_STEP, format!("no step is meant by `{typed}`: {why}"))
        .help("a step is named by its number on paper, its id or its title; `--phase` says in which phase")
}

pub(super) fn too_many_values(what: &str, typed: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, format!("`{typed}` is one value too many for `{what}`"))
        .help("a run has one value a place, in the order of the sheet; `-` stands for one not taken yet")
}

pub(super) fn not_gathered(number: &str, why: &str) -> Diagnostic {
    let words = if number.is_empty() { why.to_owned() } else { format!("{number}: {why}") };
    Diagnostic::new(&codes::NOT_GATHERED, words)
        .help("nothing was written; leave it out or mend it, or see `benchleaf complaint not-gathered`")
}

pub(super) fn unreadable_packet(path: &Path, error: &std::io::Error) -> Diagnostic {
    Diagnostic::new(&codes::NOT_GATHERED, format!("`{}` can't be read: {}", path.display(), reason(error)))
        .help("name a packet that `benchleaf packet` wrote")
}

pub(super) fn no_records(folder: &Path) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_USE, format!("no record of a job lies in `{}`", folder.display())).help(
        "name the folder in which the records are, each a file that ends in `.yaml` and names its procedure",
    )
}

pub(super) fn no_packet(path: &Path) -> Diagnostic {
    Diagnostic::new(&codes::NOT_GATHERED, format!("`{}` is no packet with its plan in it", path.display()))
        .help("name a file that `benchleaf packet` wrote; one that was scanned or printed to a file has lost its plan")
}

pub(super) fn which_record(job: &str, found: usize) -> Diagnostic {
    let words = match found {
        0 => format!("no record of the job `{job}` lies beside this packet or here"),
        many => format!("{many} records of the job `{job}` lie beside this packet or here"),
    };
    Diagnostic::new(&codes::NOT_GATHERED, words).write("`--job JOB.yaml`")
}

pub(super) fn other_job(printed: &str, record: &str) -> Diagnostic {
    let words = format!("the packet is of the job `{printed}`, and the record of `{record}`");
    Diagnostic::new(&codes::NOT_GATHERED, words).help("name the record of the same job with `--job`")
}

pub(super) fn to_be_asked(slips: usize) -> Diagnostic {
    let words = match slips {
        1 => "one value can hardly be right, and nothing was written".to_owned(),
        many => format!("{many} values can hardly be right, and nothing was written"),
    };
    Diagnostic::new(&codes::NOT_GATHERED, words).help("correct them, or say `--yes` if they are as read")
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

/// The talk with an editor broke off.
pub(super) fn editor_left(words: &str) -> Diagnostic {
    Diagnostic::new(&codes::EDITOR_LEFT, format!("the talk with the editor ended: {words}"))
        .help("start it from an editor that speaks the language server protocol, with the command `benchleaf editor`")
}
