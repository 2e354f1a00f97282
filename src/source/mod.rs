//! Files in, files out: turns paths into numbered texts with a line index, and bytes into files.
//!
//! This is the only room that reads or writes files. It must not know what a text means.

mod bytes;
mod clock;
mod disk;
mod files;
mod fresh;
mod lock;
mod output;
mod overlay;
mod span;
mod stamp;
mod words;
mod write;

pub(crate) use bytes::read_bytes;
pub(crate) use clock::days_since_1970;
pub use disk::{Disk, Files, Identity, Memory};
pub(crate) use disk::{ReadFailure, plain};
pub use files::Sources;
pub(crate) use files::{PROCEDURE_ENDING, SourceFile, character_from, character_over};
pub(crate) use fresh::write_fresh;
pub(crate) use lock::Lock;
pub(crate) use output::{Occupied, place_for};
pub(crate) use overlay::{Overlay, place};
pub use span::FileId;
pub(crate) use span::{Span, Spanned};
pub(crate) use stamp::{Stamp, stamp};
pub(crate) use words::reason;
pub use write::write_atomically;
pub(crate) use write::{replace, write_like};
