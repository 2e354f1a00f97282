//! Files in, files out: turns paths into numbered texts with a line index, and bytes into files.
//!
//! This is the only room that reads or writes files. It must not know what a text means.

mod disk;
mod files;
mod lock;
mod output;
mod span;
mod words;
mod write;

pub use disk::{Disk, Files, Memory, ReadFailure};
pub use files::{SourceFile, Sources};
pub use lock::Lock;
pub use output::{Occupied, place_for};
pub use span::{FileId, Span, Spanned};
pub use words::reason;
pub use write::write_atomically;
