//! Codes for what is wrong with the order of work.

codes! {
    /// A need that nothing brings about.
    NOTHING_FREES = error "network/nothing-frees",
        "An act needs something that no earlier step brings about: a part is taken while a set that holds it is never \
         undone, a gauge is put on a face that is never uncovered, a part is fitted that never came off. Add the act \
         that is missing, or correct the fact (`under`, `held by`, `within`, `needs`) if it is not true.";

    /// A need that only some orders meet.
    ORDER_OPEN = error "network/order-open",
        "An act needs something that a step brings about, but the order is not settled: some orders that the procedure \
         allows do the act too early. Where the facts leave a choice, the author settles it: write `after` in the step \
         that has to wait.";

    /// A step may fall between and undo what another relies on.
    UNDONE_BETWEEN = error "network/undone-between",
        "A step relies on something, and another step, which may come just before it, undoes that. Say which comes \
         first with `after` or `before`, or bring it about again in between.";

    /// Links that go round in a ring.
    CONTRADICTION = error "network/contradiction",
        "Steps that each have to come before the next, and the last before the first: the work can't be done in any \
         order. Every link of the shortest such ring is shown with the line that says so; one of them is not true, or \
         one of the steps has to be written as two.";

    /// A link that leads back into an earlier phase.
    PHASE_ORDER = error "network/phase-order",
        "The phases run strip, survey, build, start. A step can't come before one of an earlier phase, or after one of \
         a later phase.";

    /// A joint rule not kept.
    RULE_DEPARTED = error "network/rule-departed",
        "Fasteners of a joint are undone smaller first and tightened larger first, so that the small ones never carry \
         the whole joint. The order stated here does the opposite. If the maker's sheet asks for it, write `except \
         house_rules because \"...\"` in the step, or give the joint the maker's `sequence` with its origin.";

    /// A part taken while what it holds back is there.
    STATE_RELEASED = error "network/state-released",
        "Taking this part, or loosening what holds it, lets go what a state holds back: fluid runs out, a spring flies \
         off. The state must have another value first: drain it, let the spring down.";

    /// The last set of a heavy part undone without support.
    UNSUPPORTED = error "network/unsupported",
        "The last fasteners of a part that is heavy, or that would fall, are undone while nothing carries it. Support \
         it in the step before, with `support PART`.";

    /// A part can fall in this setup.
    MAY_FALL = error "network/may-fall",
        "In this position of the stand a part could fall out: its fasteners are undone or not yet nipped. Take it, nip \
         or tighten what holds it, or support it before the stand is turned. A step that doesn't say how the engine stands \
         finds it as the step before left it, which may be this position: say it with `with`.";

    /// A temporary is still in.
    TEMPORARY_IN = error "network/temporary-in",
        "Something that must come out again (a locking pin, a plug, a rag) is in, or may still be in, when the engine \
         is turned, filled or started. Take it out before, or say `may stay` where it is declared.";

    /// A part sent out and fitted without being accepted.
    NOT_ACCEPTED = error "network/not-accepted",
        "A part that goes out to be machined is fitted only after it came back and was accepted: `send`, `receive`, \
         measure again, `accept`. Nor can it be measured or looked at while it is away.";

    /// A decision before its reading.
    DECIDED_TOO_SOON = error "network/decided-too-soon",
        "Whether this step is done, or what becomes of this part, is decided by a reading or a look that has not been \
         taken by then. Take it in an earlier step.";

    /// A reading that is needed and not taken.
    READING_MISSING = error "network/reading-missing",
        "A reading is needed here and not taken by then: a part is sent out before it was measured as found, accepted \
         before it was measured as returned, or a value is computed from a reading that no step takes.";

    /// Something is not back at the end.
    UNBALANCED_LEDGER = error "network/unbalanced-ledger",
        "When the job ends, everything that came off must be back or left out for a stated reason, every set tight, \
         and no temporary left in. This one is not.";

    /// A single-use set tightened again.
    SINGLE_USE_BACK = error "network/single-use-back",
        "These fasteners may be tightened once only. They are tightened again before the build, where no new ones are \
         fitted. Do it inside a `trial`, which old fasteners serve for, or nip them only.";

    /// A trial that does not take apart what it put together.
    TRIAL_LEAVES = error "network/trial-leaves",
        "A trial leaves only readings: everything that it fits or tightens it also takes apart again, so that it ends \
         as it began.";

    /// Too many combinations of answers.
    TOO_MANY_ANSWERS = error "network/too-many-answers",
        "There are so many combinations of answers on which this act depends that they can't all be tried. Let it \
         depend on fewer questions at once.";

    /// Too many acts on one thing.
    TOO_MANY_ACTS = error "network/too-many-acts",
        "In a phase of more than sixteen thousand steps, thousands of acts need or change the same thing, and not every \
         pair of them can be looked at. What isn't looked at isn't proved, so nothing is printed. Work on an engine has \
         a hundredth of it.";

    /// A step whose answers exclude each other.
    NEVER_DONE = warning "network/never-done",
        "The answers in this `when` exclude each other, so the step is never done.";

    /// An `after` that the facts imply.
    AFTER_IMPLIED = notice "network/after-implied",
        "What is said here already follows from the physical facts. It does no harm, but a link that is stated and not \
         needed hides the reason.";

    /// A set that holds nothing.
    HOLDS_NOTHING = warning "network/holds-nothing",
        "Bolts, nuts and screws are there to hold something. No `held by` and no joint says what these hold, so \
         nothing waits for them. Plugs, hollow bolts and studs may hold nothing.";

    /// A part that is to be renewed, sent or judged and never comes off.
    NEVER_COMES_OFF = warning "network/never-comes-off",
        "Something is to become of this part, but no step takes it off. Add `take PART` to the step where it comes \
         off, or leave its fate out.";

    /// A set that no step touches.
    NEVER_LOOSENED = warning "network/never-loosened",
        "No step loosens these fasteners, and they are not declared as staying. Add `undo SET`, say `stays` for studs \
         that are left in place, or leave the set out.";

    /// A set that nothing puts in.
    NOT_STARTED = warning "network/not-started",
        "These fasteners come out in the strip, and a step of the build tightens them, but no step says that they are put \
         in: the sheet would go from the part straight to the torque. Add `start by hand SET` before `tighten SET`, in the \
         step that puts the part on.";

    /// A temporary that is not put in again.
    NOT_HELD_AGAIN = notice "network/not-held-again",
        "A pin, a bar or another temporary is put in before these fasteners are undone: most often it holds still what they \
         would turn. They are tightened in the build, and no step there puts it in. Write that step, with `put in`, the \
         `tighten` and `take out`, or put it in with a step of its own before.";

    /// A gauge or look that no step takes.
    NEVER_TAKEN = warning "network/never-taken",
        "This reading or look is declared, and no step takes it. Add `gauge NAME` or `look NAME` to a step, or leave \
         it out.";

    /// A turn by an angle that doesn't reach what it is for.
    TURN_MISSES = error "network/turn-misses",
        "The engine is turned by a stated angle until a cylinder stands somewhere. From where the crankshaft stood before, \
         in the order as written, that angle doesn't bring this cylinder there: with the firing order 1, 3, 2, for one, \
         the bottom of cylinder 2 follows 120 degrees behind that of cylinder 1, not 240.";
}
