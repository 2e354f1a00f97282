//! Codes for what a record says about an engine.

use crate::diagnostics::{Code, Severity};

/// A reading that can't be.
pub static IMPLAUSIBLE: Code = Code {
    name: "decide/implausible",
    severity: Severity::Warning,
    explanation: "The reading lies outside what the procedure calls plausible for this gauge. Often the decimal point \
                  slipped, or inches were written as millimetres. The reading counts as not taken, and what hangs on \
                  it stays open, until it is corrected or the procedure's `plausible` is.",
};

/// The number on the engine is not of the family.
pub static OTHER_ENGINE: Code = Code {
    name: "decide/other-engine",
    severity: Severity::Warning,
    explanation: "The procedure says how the number stamped on the engine begins, and the number in the record begins \
                  otherwise. Limits and torques of one family may be wrong for another, so every sheet is held until \
                  the number is corrected or the right procedure is named.",
};

/// Work that went out before it could be ordered.
pub static SENT_TOO_SOON: Code = Code {
    name: "decide/sent-too-soon",
    severity: Severity::Warning,
    explanation: "By the record the part is at the machine shop, while a reading or an answer that decides what is to \
                  be done to it is missing, or the new parts that it is to be sized by are not in hand and measured. \
                  The machine shop may cut to a size that nothing fits.",
};

/// A result that says nothing of what becomes of a part.
pub static RESULT_WITHOUT_MEANING: Code = Code {
    name: "decide/result-without-meaning",
    severity: Severity::Warning,
    explanation: "A part's fate hangs on this result, but its name does not say what becomes of the part. Names that \
                  do are, for example, `good`, `sound`, `clean`, `machine`, `grind`, `hone`, `skim`, `renew`, \
                  `cracked`; more words may follow after an underscore, as in `grind_light`. A part with another \
                  result stays open.",
};

/// A step that is done, and that there is not.
pub static UNKNOWN_STEP: Code = Code {
    name: "decide/unknown-step",
    severity: Severity::Error,
    explanation: "The record says that a step is done, and neither the procedure nor the build that the program \
                  derives from it has such a step. Derived steps are named like `fit:cylinder_head`. The step may \
                  have been renamed since.",
};

/// A step that had to be done before one that is done.
pub static SKIPPED_STEP: Code = Code {
    name: "decide/skipped-step",
    severity: Severity::Error,
    explanation: "Steps that are done must be a possible beginning of the work. Here a step is done, and another that \
                  has to come before it, and that belongs to this job by its answers, is not. Either it was not \
                  written down, or it was left out at the bench: look before you go on.",
};

/// Two blocks under way at once.
pub static HALF_DONE_BLOCK: Code = Code {
    name: "decide/half-done-block",
    severity: Severity::Error,
    explanation: "The steps of a block belong together, and nothing comes between them. By the record two blocks are \
                  begun and neither is finished, which no order allows. Either a step was not written down, or the \
                  work of one block was broken off: look before you go on.",
};

/// A step that is done though the answers leave it out.
pub static DONE_BUT_LEFT_OUT: Code = Code {
    name: "decide/done-but-left-out",
    severity: Severity::Warning,
    explanation: "A step was done, and by the answers and readings as they are now it is not part of the job: one of \
                  them was changed since. The order of what is left is proved for an engine on which the step was \
                  never done, so look whether it fits the engine as it stands.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &IMPLAUSIBLE,
    &OTHER_ENGINE,
    &SENT_TOO_SOON,
    &RESULT_WITHOUT_MEANING,
    &UNKNOWN_STEP,
    &SKIPPED_STEP,
    &HALF_DONE_BLOCK,
    &DONE_BUT_LEFT_OUT,
];
