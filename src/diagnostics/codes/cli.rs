//! Codes for command lines that can't be carried out.

codes! {
    /// A command line that the program can't read.
    WRONG_USE = refusal "cli/wrong-use",
        "A command or an option is misspelt, lacks its value, has one that it can't have, or is missing. `benchleaf \
         --help` lists the commands, `benchleaf COMMAND --help` what may stand behind each.";

    /// `complaint` was asked about a name that no complaint has.
    UNKNOWN_COMPLAINT = refusal "cli/unknown-complaint",
        "A name was asked for that no complaint has. Names are written like `procedure/unknown-name`; the part behind \
         the stroke will do.";

    /// A step was named that there is not.
    UNKNOWN_STEP = refusal "cli/unknown-step",
        "A step was named that the procedure doesn't have. Steps are named by their id, derived ones like \
         `fit:cylinder_head`.";

    /// A schedule was asked for with fewer hands than a step needs.
    TOO_FEW_HANDS = refusal "cli/too-few-hands",
        "Some step can't be done by so few people, so there is no schedule for them.";

    /// A step was named that is done at several positions.
    WHICH_STEP = refusal "cli/which-step",
        "The step is done apart at each position of an axis, so each position is a step of its own with its own place \
         in the order. Name one, such as `pull_piston[2]`.";

    /// A sheet was named that the phase doesn't have.
    UNKNOWN_SHEET = refusal "cli/unknown-sheet",
        "A sheet was asked for that the packet of this phase doesn't have. Sheets are named by short words such as \
         `front`, `kit` or `steps`, separated by commas.";

    /// A piece of work was named that the phase doesn't have.
    UNKNOWN_PIECE = refusal "cli/unknown-piece",
        "One piece of the work was asked for with `--only`: the title of a section, the number of a step that is left, or \
         the name of a sheet. The phase has none of that name.";

    /// The sheets asked for are all empty.
    NOTHING_TO_PRINT = refusal "cli/nothing-to-print",
        "None of the sheets asked for has any content, so there would be a file without a page. A sheet of open \
         questions, for instance, is only printed where something is open.";

    /// The talk with an editor broke off.
    EDITOR_LEFT = refusal "cli/editor-left",
        "`benchleaf editor` is started by an editor and speaks the language server protocol with it over standard input \
         and output. What came in was no message of that protocol, or the editor left without saying so.";

    /// A drawing of a kind that can't be made.
    UNKNOWN_DRAWING = refusal "cli/unknown-drawing",
        "The order can be drawn as SVG, to look at, or written for other programs, as GraphML or as a table of its links \
         (CSV). The ending of the file's name says which.";

    /// A file whose name says that it is something else.
    ENDS_OTHERWISE = refusal "cli/ends-otherwise",
        "Sheets are written as PDF, for paper, or as HTML, for a screen, tables as CSV, and the ending of the file's name \
         says which. A file with another ending would be taken for what it isn't by whoever opens it, and is often a slip \
         for the name of another file.";

    /// A file could not be written.
    UNWRITABLE = refusal "cli/unwritable",
        "The file could not be written. What was there before is untouched.";

    /// A change to a record was refused.
    NOT_RECORDED = refusal "cli/not-recorded",
        "The record already has a value where one was to be written, or is written in such a way that the change can't \
         be made without touching something else. Nothing was changed. A reading, a look or an answer that is taken \
         anew replaces the old one with `--again`; everything else is corrected by hand.";

    /// There is no last entry to take back.
    NOTHING_TO_UNDO = refusal "cli/nothing-to-undo",
        "`record JOB undo` takes back the last entry that `record` or `gather` wrote, and each time the one before it, up to \
         twenty. There is none, or the record was changed by hand since, so that going back would lose that. Nothing was changed.";

    /// What was filled in on paper can't be taken over.
    NOT_GATHERED = error "cli/not-gathered",
        "Something filled in on a sheet can't be taken into the record, and so nothing of it was: all or nothing. The \
         number may not be on these sheets; its step may have changed, or left the job, since they were printed; the \
         value may be no value of its kind; or the record says something else there already, which only `--again` \
         replaces. A value that can hardly be right, such as one whose decimal point slipped, is asked about: `--yes` \
         takes it as it is.";

    /// What was to be written would have replaced what it was made from.
    OUTPUT_IS_INPUT = refusal "cli/output-is-input",
        "The file to write is one of those that were read: the procedure, a file that it brings in, the record, the \
         prices or the crib, under this name or another that leads to the same file. Nothing was changed. Name another \
         file.";

    /// What stands where something was to be written isn't replaced.
    OCCUPIED = refusal "cli/occupied",
        "At the path to write stands something that this program doesn't replace: a folder, a device, a pipe, a link \
         that leads nowhere, or a file of another kind, such as a text where a PDF is to be written. Nothing was \
         changed. Name another file, or remove what stands there.";

    /// A quantity on the command line that can't be used.
    WRONG_QUANTITY = refusal "cli/wrong-quantity",
        "A quantity was typed that can't be read, measures something else than what the option asks for, or is out of \
         all reason, such as a length below nothing. The complaint names the option and what dimension was expected. \
         Quantities are written as in a procedure, in quotes: `\"82 N.m\"`.";

    /// A thread, class, metal or fit on the command line that isn't known.
    WRONG_WORD = refusal "cli/wrong-word",
        "A thread, class, metal, condition or fit was typed that has no values here, or none at this size. Nothing is \
         reckoned for what isn't in a table.";

    /// A reckoning that lacks an input.
    TOO_LITTLE = refusal "cli/too-little-given",
        "What was typed doesn't settle what is to be reckoned, or leaves open a choice that is yours, such as which of \
         two published rules to follow. Nothing is assumed in its place.";

    /// A joint was named that there is not.
    UNKNOWN_JOINT = refusal "cli/unknown-joint",
        "A joint was named that the procedure doesn't have. Joints are named by their id.";

    /// A joint of which too little is known to reckon with it.
    JOINT_NOT_RECKONED = refusal "cli/joint-not-reckoned",
        "Patterns and loads of a joint follow from the places of its holes, the threads and torques of its fasteners \
         and the material of its gasket. One of them isn't known, or the forces don't balance. State it in the \
         procedure, or give it with an option. Nothing is assumed in its place.";
}
