//! Codes for what a record says about an engine.

codes! {
    /// A reading that can't be.
    IMPLAUSIBLE = warning "decide/implausible",
        "The reading lies outside what the procedure calls plausible for this gauge. Often the decimal point slipped, \
         or inches were written as millimetres. The reading counts as not taken, and what hangs on it stays open, \
         until it is corrected or the procedure's `plausible` is.";

    /// A reading of what goes out, beyond its limit.
    LEFT_BEYOND = warning "decide/left-beyond",
        "What was read as it was built lies beyond a limit, and nobody has let it pass by name. The job \
         may be done step by step and still not be one to hand over.";

    /// A reading that is judged by hand without need.
    NOT_IN_DOUBT = warning "decide/not-in-doubt",
        "The record says by hand how a reading or a look is judged, but the reading is clear of every limit, or it can still be \
         taken or looked at. A person settles only what the instrument can't tell, and what nobody can read or see any more.";

    /// A piece is chosen that the reading doesn't ask for.
    OTHER_PIECE = warning "decide/other-piece",
        "The record says that one of the pieces that are sold goes in, and what was read asks for another: the clearance won't \
         be the one that is wanted. A person may choose so, and says why; otherwise it is a slip of the pencil, or a reading was \
         taken again since.";

    /// The number on the engine is not of the family.
    OTHER_ENGINE = warning "decide/other-engine",
        "The procedure says how the number stamped on the engine begins, and the number in the record begins \
         otherwise. Limits and torques of one family may be wrong for another, so every sheet is held until the number \
         is corrected or the right procedure is named.";

    /// Work that went out before it could be ordered.
    SENT_TOO_SOON = warning "decide/sent-too-soon",
        "By the record the part is at the machine shop, while a reading or an answer that decides what is to be done \
         to it is missing, or the new parts that it is to be sized by are not in hand and measured. The machine shop \
         may cut to a size that nothing fits.";

    /// Work that was accepted against its readings.
    ACCEPTED_NOT_GOOD = warning "decide/accepted-not-good",
        "By the record the part has passed the goods-back check, while a reading of it as it came back lies outside what was \
         ordered. It is held all the same, until it is measured again, refused and done again, or a person accepts the \
         reading by name.";

    /// A result that says nothing of what becomes of a part.
    RESULT_WITHOUT_MEANING = warning "decide/result-without-meaning",
        "A part's fate hangs on this result, but it does not begin with a keyword that says what becomes of the part, \
         for example `good`, `sound`, `clean`, `machine`, `grind`, `hone`, `skim`, `renew` or `cracked`; more may \
         follow after an underscore, as in `grind_light`. The reference in grammar/README.md lists them all. A part \
         with another result stays open.";

    /// A result that condemns a part and falls to an `else` by which it goes back.
    FALLS_TO_ELSE = error "decide/falls-to-else",
        "The fate of a part names some results of a gauge or look, and lets another fall to its `else`, which says that the \
         part goes back, though that result says that it won't do: a shaft found `scrap` would be cleaned and fitted. Write a \
         case for each such result.";

    /// Bands that condemn a part as made.
    NEW_ONE_CONDEMNED = error "decide/new-one-condemned",
        "The limits as made lie in a band that says that the part is renewed or machined, so that right ones would be thrown \
         away and worn ones kept. The names of the bands probably stand the wrong way round.";

    /// A step that is done, and that there is not.
    UNKNOWN_STEP = error "decide/unknown-step",
        "The record says that a step is done, and neither the procedure nor the build that the program derives from it \
         has such a step. Derived steps are named like `fit:cylinder_head`. The step may have been renamed since.";

    /// A step that had to be done before one that is done.
    SKIPPED_STEP = error "decide/skipped-step",
        "Steps that are done must be a possible beginning of the work. Here a step is done, and another that has to \
         come before it, and that belongs to this job by its answers, is not. Either it was not written down, or it \
         was left out at the bench: look before you go on.";

    /// Two blocks under way at once.
    HALF_DONE_BLOCK = error "decide/half-done-block",
        "The steps of a block belong together, and nothing comes between them. By the record two blocks are begun and \
         neither is finished, which no order allows. Either a step was not written down, or the work of one block was \
         broken off: look before you go on.";

    /// A step that is done though the answers leave it out.
    DONE_BUT_LEFT_OUT = warning "decide/done-but-left-out",
        "A step was done, and by the answers and readings as they are now it is not part of the job: one of them was \
         changed since. The order of what is left is proved for an engine on which the step was never done, so look \
         whether it fits the engine as it stands.";

    /// One person alone keeps what a second has to answer for too.
    SECOND_NAME = error "decide/second-name",
        "A person may keep a part or fasteners in spite of the procedure, or accept a reading beyond its limit. Where what \
         is kept is cracked, serves once, or is critical, so that its failure endangers people or the engine, a second \
         person has to agree, and is named in the record.";

    /// An estimate comes to more than the owner agreed to.
    OVER_THE_LIMIT = warning "decide/over-the-limit",
        "The owner agreed to a printed estimate up to a sum, and the estimate comes to more than that with its labour. Nothing \
         of it counts as agreed until the owner has been asked.";

    /// The owner agreed to nothing in particular.
    AGREED_TO_NOTHING = warning "decide/agreed-to-nothing",
        "The owner agreed to everything, and by the record no estimate was printed before that. An approval is of one printed estimate or \
         of things that it names: what had a price on that day nobody can say, and what gets one later the owner has not seen. Nothing \
         counts as agreed by it.";

    /// A fastener that is renewed may be one of those that didn't come out.
    COUNTED_TWICE = warning "decide/counted-twice",
        "By the record fewer fasteners of a set came out than the procedure has, and the fastener of one hole is renewed as well. If \
         it is one of those that didn't come out, as one is that sheared off, it is counted twice; if it came out and can't go \
         back, it isn't. A note on the hole tells.";

    /// More of a thing came out than the procedure has.
    TOO_MANY = warning "decide/too-many",
        "By the record more pieces of a part or more fasteners of a set came out than the procedure says there are. Most often that is \
         a slip of the pen. Where it is so, the engine isn't quite of this family: kit, order list and steps count what the \
         procedure says.";

    /// Readings lie at an oversize or undersize that nobody has said the engine has.
    SIZED_BEFORE = warning "decide/sized-before",
        "Every reading of a bore or a journal lies at an oversize or undersize that is sold, or past it, and not near the \
         standard size. An engine that was bored or ground before would be ordered bored or ground again. Until the record says \
         what it has, the part isn't sent out, and nothing is ordered in its size.";

    /// Something was ordered in another size than goes in.
    WRONG_SIZE = warning "decide/wrong-size",
        "A new part goes in in an oversize or undersize, for what it fits was machined or is so already, and the record has it \
         ordered in another size or in none; or it goes with something that has no other size than the standard one, and was \
         ordered in one; or it comes in no sizes at all. It is told when it is ordered, and holds what waits for it when it has \
         come.";
}
