//! Codes for files that can't be had.

codes! {
    /// A file could not be read.
    UNREADABLE = refusal "source/unreadable",
        "The file could not be opened or read. Check that the path is spelt right, that it names a file and not a \
         folder, and that you may read it.";

    /// A file is not text.
    NOT_TEXT = refusal "source/not-text",
        "Procedures and records are plain text in UTF-8. This file holds bytes that are not: it may be a \
         word-processor file, a PDF, or text saved in an old encoding. Save it again as plain UTF-8 text.";

    /// A file is too large.
    TOO_LARGE = refusal "source/too-large",
        "The file is larger than any procedure could be, so it is not read. Check that the right file was named.";

    /// A procedure still has its former ending.
    FORMER_ENDING = refusal "source/former-ending",
        "Names of procedures end in `.rebuild`. This file has the ending that they had before. Rename it, and write \
         the new name where another file brings it in with `use` or a record names it.";
}
