//! One complaint and what becomes of it: a value with a named code, labels and help, and renderers that
//! turn a list of them into text for a terminal, one line each, or JSON.
//!
//! It knows codes and places, and must not know any stage that finds faults.

pub mod codes;
mod diagnostic;
mod excerpt;
mod files;
mod json;
mod line;
mod near;
mod terminal;
mod text;

pub(crate) use crate::english::Mend;
pub(crate) use diagnostic::Edit;
pub(crate) use diagnostic::{Code, Label, sort};
pub use diagnostic::{Diagnostic, Outcome, Severity};
pub(crate) use files::{told, unreadable};
pub use json::render as render_json;
pub use line::render as render_lines;
pub(crate) use near::{nearest, nearest_name};
pub use terminal::{Look, render as render_terminal};
pub(crate) use text::{harmless, wrapped};
