//! Codes for what is found on the way through, between the rooms.

codes! {
    /// A folder holds nothing to check.
    NO_PROCEDURE = refusal "workshop/no-procedure",
        "A folder was named, and no file below it declares an engine family. Files that are only brought in by others, \
         such as lists of tools, are checked with the procedures that use them.";

    /// A file that a record names can't be had.
    NAMED_FILE = refusal "workshop/named-file",
        "A record names its procedure, and may name the shop's crib and a file of prices, each as it is reached from the \
         record's own folder. At that place there is no such file, or it can't be read. Often the record was copied into \
         another folder without what it names.";

    /// A record stands where a procedure may, and another was given.
    TWO_RECORDS = refusal "workshop/two-records",
        "A record may be named in place of the procedure, for it names that itself. Then no other record can be given: \
         which of the two is meant can't be told.";

    /// A step that is done has changed since.
    DONE_STEP_CHANGED = warning "workshop/done-step-changed",
        "The record says that a step is done, and with which fingerprint. The procedure now says something else of \
         that step or of what it handles: what was done may not be what is asked for any more.";

    /// A step that is done has a fingerprint that tells nothing.
    FORMER_FINGERPRINT = warning "workshop/former-fingerprint",
        "The record says with which fingerprint a step was done, and an edition of the program wrote it that took \
         fingerprints in another way. It can't be compared with the step as it is now, so nothing is said of whether \
         that has changed. Fingerprints that are written from now on can be.";
}
