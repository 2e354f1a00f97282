//! Codes for what can't be set on paper.

codes! {
    /// A character has no glyph.
    MISSING_GLYPH = error "page/missing-glyph",
        "The fonts that packets are printed with have no picture for this character, so it would come out as an empty \
         box, and somebody at the bench would have to guess. Write it in words instead. All European letters, Greek, \
         Cyrillic and the usual signs of the trade (° × · ⌀ ± ½ ≤ ≥ µ Ω) are there.";

    /// A script needs more than one letter after the other.
    UNSUPPORTED_SCRIPT = error "page/unsupported-script",
        "Packets are set from left to right, one letter after the other. Scripts that run from right to left, join \
         their letters, or have thousands of signs would come out wrong or not at all, and a wrong word on a bench \
         sheet is worse than none. Write the text in the Latin, Greek or Cyrillic alphabet.";

    /// A label can't hold its words.
    LABEL_TOO_SMALL = warning "page/label-too-small",
        "A cut-out label holds a part's title, its place, which way round it goes, the job and a number. Type is made \
         smaller until all of it fits; this label's words don't fit even so, and the last of them are not printed. \
         Shorten the title of the part, or print on larger labels.";
}
