//! Texts as they are being written, to what an editor shows beside them: over standard input and output, in the open
//! protocol that editors speak.
//!
//! `serve` is the loop: it reads messages, keeps the open texts (`desk`), and answers from what was last found out
//! (`found`) by a thread that checks beside it (`checking`). What belongs to a text that has changed since is never shown.
//! Each kind of answer has a file. The room must not know command lines, and finds nothing out by itself: everything it
//! says comes from `language` and the workshop.

mod answers;
mod checking;
mod complete;
mod desk;
mod event;
mod found;
mod hover;
mod names;
mod outline;
mod places;
mod serve;
#[cfg(test)]
#[path = "../../tests/editor/mod.rs"]
mod tests;
mod told;

pub(crate) use serve::serve;
