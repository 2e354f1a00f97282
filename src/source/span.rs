//! Places in a text: byte spans and the line and column that a person counts.

/// Number of a file in [`Sources`](super::Sources), in the order in which files were first read.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A run of bytes in one file: `start` inclusive, `end` exclusive. Everything that is read carries some, so that a place takes half
/// a word; no file is read that has more bytes than that counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file the bytes are in.
    pub file: FileId,
    start: u32,
    end: u32,
}

impl Span {
    /// The bytes `start..end` of `file`.
    pub fn new(file: FileId, start: usize, end: usize) -> Self {
        let counted = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
        Span { file, start: counted(start), end: counted(end) }
    }

    /// First byte.
    pub fn start(self) -> usize {
        self.start as usize
    }

    /// One past the last byte.
    pub fn end(self) -> usize {
        self.end as usize
    }

    /// The same up to another byte, exclusive.
    pub fn ending(self, end: usize) -> Self {
        Span::new(self.file, self.start(), end)
    }

    /// The smallest span that holds both; `self` if they are in different files.
    pub fn to(self, other: Span) -> Span {
        if self.file != other.file {
            return self;
        }
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Whether all of another run of bytes is in this one.
    pub(crate) fn holds(self, other: Span) -> bool {
        self.file == other.file && self.start <= other.start && other.end <= self.end
    }
}

/// A value together with the place it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Spanned<T> {
    /// What was written.
    pub value: T,
    /// Where it was written.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// `value`, written at `span`.
    pub fn new(value: T, span: Span) -> Self {
        Spanned { value, span }
    }
}

/// A place as people count it: both from 1, columns in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}
