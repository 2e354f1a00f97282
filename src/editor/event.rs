//! What the loop waits for: the editor, and the thread that checks beside it.

use std::path::PathBuf;

use lsp_server::Message;

use super::found::Found;
use crate::workshop::JobView;

/// What the loop waits for.
pub(super) enum Event {
    /// The editor says something.
    Said(Message),
    /// The editor has gone.
    Gone,
    /// A desk was checked.
    Found(Box<Found>),
    /// The order of a procedure was worked out for the desk of this revision.
    Planned(u64, PathBuf, Box<Option<JobView>>),
}
