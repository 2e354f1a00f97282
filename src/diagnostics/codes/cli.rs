//! Codes for command lines that can't be carried out.

use crate::diagnostics::{Code, Severity};

/// A command line that the program can't read.
pub static WRONG_USE: Code = Code {
    name: "cli/wrong-use",
    severity: Severity::Error,
    explanation: "A command or an option is misspelt, lacks its value, has one that it can't have, or is missing. \
                  `benchleaf --help` lists the commands, `benchleaf COMMAND --help` what may stand behind each.",
};

/// A folder holds nothing to check.
pub static NO_PROCEDURE: Code = Code {
    name: "cli/no-procedure",
    severity: Severity::Error,
    explanation: "A folder was named, and no file below it declares an engine family. Files that are only brought \
                  in by others, such as lists of tools, are checked with the procedures that use them.",
};

/// `complaint` was asked about a name that no complaint has.
pub static UNKNOWN_COMPLAINT: Code = Code {
    name: "cli/unknown-complaint",
    severity: Severity::Error,
    explanation: "A name was asked for that no complaint has. Names are written like `procedure/unknown-name`; the part \
                  behind the stroke will do.",
};

/// A step was named that there is not.
pub static UNKNOWN_STEP: Code = Code {
    name: "cli/unknown-step",
    severity: Severity::Error,
    explanation: "A step was named that the procedure doesn't have. Steps are named by their id, derived ones like \
                  `fit:cylinder_head`.",
};

/// A schedule was asked for with fewer hands than a step needs.
pub static TOO_FEW_HANDS: Code = Code {
    name: "cli/too-few-hands",
    severity: Severity::Error,
    explanation: "Some step can't be done by so few people, so there is no schedule for them.",
};

/// A step that is done has changed since.
pub static DONE_STEP_CHANGED: Code = Code {
    name: "cli/done-step-changed",
    severity: Severity::Warning,
    explanation: "The record says that a step is done, and with which fingerprint. The procedure now says something \
                  else of that step or of what it handles: what was done may not be what is asked for any more.",
};

/// A step was named that is done at several positions.
pub static WHICH_STEP: Code = Code {
    name: "cli/which-step",
    severity: Severity::Error,
    explanation: "The step is done apart at each position of an axis, so each position is a step of its own with its \
                  own place in the order. Name one, such as `pull_piston[2]`.",
};

/// A sheet was named that the phase doesn't have.
pub static UNKNOWN_SHEET: Code = Code {
    name: "cli/unknown-sheet",
    severity: Severity::Error,
    explanation: "A sheet was asked for that the packet of this phase doesn't have. Sheets are named by short words \
                  such as `front`, `kit` or `steps`, separated by commas.",
};

/// The sheets asked for are all empty.
pub static NOTHING_TO_PRINT: Code = Code {
    name: "cli/nothing-to-print",
    severity: Severity::Error,
    explanation: "None of the sheets asked for has any content, so there would be a file without a page. A sheet of \
                  open questions, for instance, is only printed where something is open.",
};

/// A drawing of a kind that can't be made.
pub static UNKNOWN_DRAWING: Code = Code {
    name: "cli/unknown-drawing",
    severity: Severity::Error,
    explanation: "The order can be drawn as SVG, to look at, or written as GraphML or as a table of its links (CSV), for other programs. The ending of the file's \
                  name says which.",
};

/// A file could not be written.
pub static UNWRITABLE: Code = Code {
    name: "cli/unwritable",
    severity: Severity::Error,
    explanation: "The file could not be written. What was there before is untouched.",
};

/// A change to a record was refused.
pub static NOT_RECORDED: Code = Code {
    name: "cli/not-recorded",
    severity: Severity::Error,
    explanation: "The record already has a value where one was to be written, or is written in such a way that the \
                  change can't be made without touching something else. Nothing was changed. A reading, a look or an \
                  answer that is taken anew replaces the old one with `--again`; everything else is corrected by hand.",
};

/// What was to be written would have replaced what it was made from.
pub static OUTPUT_IS_INPUT: Code = Code {
    name: "cli/output-is-input",
    severity: Severity::Error,
    explanation: "The file to write is one of those that were read: the procedure, a file that it brings in, the record, \
                  the prices or the crib, under this name or another that leads to the same file. Nothing was changed. \
                  Name another file.",
};

/// What stands where something was to be written isn't replaced.
pub static OCCUPIED: Code = Code {
    name: "cli/occupied",
    severity: Severity::Error,
    explanation: "At the path to write stands something that this program doesn't replace: a folder, a device, a pipe, a \
                  link that leads nowhere, or a file of another kind, such as a text where a PDF is to be written. \
                  Nothing was changed. Name another file, or remove what stands there.",
};

/// A quantity on the command line that can't be used.
pub static WRONG_QUANTITY: Code = Code {
    name: "cli/wrong-quantity",
    severity: Severity::Error,
    explanation: "A quantity was typed that can't be read, measures something else than what the option asks for, or \
                  is out of all reason, such as a length below nothing. The complaint names the option and what \
                  dimension was expected. Quantities are written as in a procedure, in quotes: `\"82 N.m\"`.",
};

/// A thread, class, metal or fit on the command line that isn't known.
pub static WRONG_WORD: Code = Code {
    name: "cli/wrong-word",
    severity: Severity::Error,
    explanation: "A thread, class, metal, condition or fit was typed that has no values here, or none at this size. \
                  Nothing is reckoned for what isn't in a table.",
};

/// A reckoning that lacks an input.
pub static TOO_LITTLE: Code = Code {
    name: "cli/too-little-given",
    severity: Severity::Error,
    explanation: "What was typed doesn't settle what is to be reckoned, or leaves open a choice that is yours, such as \
                  which of two published rules to follow. Nothing is assumed in its place.",
};

/// A joint was named that there is not.
pub static UNKNOWN_JOINT: Code = Code {
    name: "cli/unknown-joint",
    severity: Severity::Error,
    explanation: "A joint was named that the procedure doesn't have. Joints are named by their id.",
};

/// A joint of which too little is known to reckon with it.
pub static JOINT_NOT_RECKONED: Code = Code {
    name: "cli/joint-not-reckoned",
    severity: Severity::Error,
    explanation: "Patterns and loads of a joint follow from the places of its holes, the threads and torques of its \
                  fasteners and the material of its gasket. One of them isn't known, or the forces don't balance. \
                  State it in the procedure, or give it with an option. Nothing is assumed in its place.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &WRONG_USE,
    &NO_PROCEDURE,
    &UNKNOWN_COMPLAINT,
    &UNKNOWN_STEP,
    &WHICH_STEP,
    &DONE_STEP_CHANGED,
    &TOO_FEW_HANDS,
    &UNKNOWN_SHEET,
    &NOTHING_TO_PRINT,
    &UNKNOWN_DRAWING,
    &UNWRITABLE,
    &OUTPUT_IS_INPUT,
    &OCCUPIED,
    &NOT_RECORDED,
    &WRONG_QUANTITY,
    &WRONG_WORD,
    &TOO_LITTLE,
    &UNKNOWN_JOINT,
    &JOINT_NOT_RECKONED,
];
