//! Codes for faults found while names, units and clauses are resolved.

use crate::diagnostics::{Code, Severity};

/// `duplicate-name`.
pub static DUPLICATE_NAME: Code = Code {
    name: "procedure/duplicate-name",
    severity: Severity::Error,
    explanation: "Two declarations or steps have the same id. Declarations and steps share one set of names, \
                  across all files that come in by `use`, so that a name means one thing wherever it stands. \
                  Rename one of them.",
};

/// `unknown-name`.
pub static UNKNOWN_NAME: Code = Code {
    name: "procedure/unknown-name",
    severity: Severity::Error,
    explanation: "A name is used that nothing declares. It may be misspelt, or its declaration may stand in a \
                  file that isn't brought in by `use`.",
};

/// `wrong-kind`.
pub static WRONG_KIND: Code = Code {
    name: "procedure/wrong-kind",
    severity: Severity::Error,
    explanation: "A name is used where another kind of thing is wanted, such as a joint where a part is to be \
                  taken off. The message says what the name is and what is wanted.",
};

/// `unknown-position`.
pub static UNKNOWN_POSITION: Code = Code {
    name: "procedure/unknown-position",
    severity: Severity::Error,
    explanation: "A position in square brackets isn't one of its axis, such as `piston[4]` on an engine whose \
                  axis `cyl` runs from 1 to 3.",
};

/// `wrong-axis`.
pub static WRONG_AXIS: Code = Code {
    name: "procedure/wrong-axis",
    severity: Severity::Error,
    explanation: "A position or an axis in square brackets belongs to another axis than the one that stands \
                  there. Positions are given in the order of the axes in the declaration.",
};

/// `too-many-positions`.
pub static TOO_MANY_POSITIONS: Code = Code {
    name: "procedure/too-many-positions",
    severity: Severity::Error,
    explanation: "More positions are given in square brackets than the thing has axes.",
};

/// `too-many-places`.
pub static TOO_MANY_PLACES: Code = Code {
    name: "procedure/too-many-places",
    severity: Severity::Error,
    explanation: "A thing has so many positions, over all of its axes, that nobody could tick them off. An \
                  axis was probably written with a wrong end.",
};

/// `too-many-values`.
pub static TOO_MANY_VALUES: Code = Code {
    name: "procedure/too-many-values",
    severity: Severity::Error,
    explanation: "A state or setup lists more values, an ask more answers, a gauge more bands or a look more \
                  results than can be told apart: 64. The proof of the order keeps what is possible as one set \
                  of that many. Split the list into two declarations, such as one ask that narrows down another.",
};

/// `unknown-value`.
pub static UNKNOWN_VALUE: Code = Code {
    name: "procedure/unknown-value",
    severity: Severity::Error,
    explanation: "A question, state, setup, gauge or look is compared with something that isn't one of its \
                  answers, values, bands or results.",
};

/// `unknown-word`.
pub static UNKNOWN_WORD: Code = Code {
    name: "procedure/unknown-word",
    severity: Severity::Error,
    explanation: "A word stands where only a few are possible, and it isn't one of them. The help lists them.",
};

/// `duplicate-value`.
pub static DUPLICATE_VALUE: Code = Code {
    name: "procedure/duplicate-value",
    severity: Severity::Error,
    explanation: "A list of positions, answers, values, results or bands names the same one twice.",
};

/// `unturned-value`.
pub static UNTURNED_VALUE: Code = Code {
    name: "procedure/unturned-value",
    severity: Severity::Error,
    explanation: "A setup says with `turns engine` which face of the engine lies uppermost, but not for each of its \
                  values. Figures of joints are turned as the mechanic sees them, so every value is needed.",
};

/// `second-turner`.
pub static SECOND_TURNER: Code = Code {
    name: "procedure/second-turner",
    severity: Severity::Error,
    explanation: "Two setups say with `turns engine` how the engine lies. It lies in one way at a time, so one setup \
                  says it, and figures are turned by that one.",
};

/// `two-starts`.
pub static TWO_STARTS: Code = Code {
    name: "procedure/two-starts",
    severity: Severity::Error,
    explanation: "Two values of a setup or state are marked as the one that holds at the start. Only one can.",
};

/// `use-unreadable`.
pub static USE_UNREADABLE: Code = Code {
    name: "procedure/use-unreadable",
    severity: Severity::Error,
    explanation: "The file named by `use` can't be read. The path is relative to the file that names it.",
};

/// `use-cycle`.
pub static USE_CYCLE: Code = Code {
    name: "procedure/use-cycle",
    severity: Severity::Error,
    explanation: "Files that bring each other in by `use` form a circle, so none of them can be read first.",
};

/// `no-family`.
pub static NO_FAMILY: Code = Code {
    name: "procedure/no-family",
    severity: Severity::Error,
    explanation: "The file that a command is given must say which engine family it is for, with `family`. \
                  Files that are only brought in by `use` have none.",
};

/// `second-family`.
pub static SECOND_FAMILY: Code = Code {
    name: "procedure/second-family",
    severity: Severity::Error,
    explanation: "A family is declared twice, or in a file that is brought in by `use`. Only the file that a \
                  command is given has one, once.",
};

/// `no-unit`.
pub static NO_UNIT: Code = Code {
    name: "procedure/no-unit",
    severity: Severity::Error,
    explanation: "A number that measures something has no unit. A bare number is a count; what measures has a \
                  unit, so that nobody tightens to pound-feet what was meant in newton metres.",
};

/// `unknown-unit`.
pub static UNKNOWN_UNIT: Code = Code {
    name: "procedure/unknown-unit",
    severity: Severity::Error,
    explanation: "A unit is not one of the language. Units are written as symbols, such as `N.m`, `lbf.ft`, \
                  `mm`, `thou`, `deg`.",
};

/// `wrong-dimension`.
pub static WRONG_DIMENSION: Code = Code {
    name: "procedure/wrong-dimension",
    severity: Severity::Error,
    explanation: "A quantity measures something else than what is wanted, such as a length where a torque \
                  stands.",
};

/// `not-a-count`.
pub static NOT_A_COUNT: Code = Code {
    name: "procedure/not-a-count",
    severity: Severity::Error,
    explanation: "A whole number of at least one, without unit, is wanted here.",
};

/// `not-a-number`.
pub static NOT_A_NUMBER: Code = Code {
    name: "procedure/not-a-number",
    severity: Severity::Error,
    explanation: "A number can't be read. Numbers are written with a point, without thousands marks or \
                  exponents, or as inch fractions such as `7/16`.",
};

/// `not-positive`.
pub static NOT_POSITIVE: Code = Code {
    name: "procedure/not-positive",
    severity: Severity::Error,
    explanation: "A quantity must be more than nothing, such as a mass, a torque or a length.",
};

/// `range-reversed`.
pub static RANGE_REVERSED: Code = Code {
    name: "procedure/range-reversed",
    severity: Severity::Error,
    explanation: "The lower end of a range is above its upper end.",
};

/// `duplicate-clause`.
pub static DUPLICATE_CLAUSE: Code = Code {
    name: "procedure/duplicate-clause",
    severity: Severity::Error,
    explanation: "A clause that says one thing stands twice in the same declaration or step, so that it isn't \
                  known which one holds.",
};

/// `missing-clause`.
pub static MISSING_CLAUSE: Code = Code {
    name: "procedure/missing-clause",
    severity: Severity::Error,
    explanation: "A declaration lacks something that it can't do without, such as what a joint clamps.",
};

/// `repeated-entry`.
pub static REPEATED_ENTRY: Code = Code {
    name: "procedure/repeated-entry",
    severity: Severity::Warning,
    explanation: "A list names the same thing twice. The second mention changes nothing; it may be a slip for \
                  something else.",
};

/// `unknown-thread`.
pub static UNKNOWN_THREAD: Code = Code {
    name: "procedure/unknown-thread",
    severity: Severity::Error,
    explanation: "A thread designation can't be read. Metric threads are written `M12` or `M12x1.25`, inch \
                  threads `3/8-16 UNC` or `8-32 UNC`.",
};

/// `unusual-thread`.
pub static UNUSUAL_THREAD: Code = Code {
    name: "procedure/unusual-thread",
    severity: Severity::Warning,
    explanation: "A thread designation can be read, but isn't in the tables of standard sizes and pitches. It \
                  may be a slip; if not, its torque can't be compared with what it bears.",
};

/// `unknown-class`.
pub static UNKNOWN_CLASS: Code = Code {
    name: "procedure/unknown-class",
    severity: Severity::Warning,
    explanation: "A property class or grade isn't one whose strength is known, so the torque of the set can't \
                  be compared with what it bears. Metric classes are written like `8.8` or `10.9`, inch grades \
                  like `SAE 5`, nut classes like `8`.",
};

/// `hole-count`.
pub static HOLE_COUNT: Code = Code {
    name: "procedure/hole-count",
    severity: Severity::Error,
    explanation: "A joint has another number of holes for a set than the set has fasteners.",
};

/// `unknown-hole`.
pub static UNKNOWN_HOLE: Code = Code {
    name: "procedure/unknown-hole",
    severity: Severity::Error,
    explanation: "A hole letter isn't one of the joint. Holes are lettered A, B, ... in the order in which the \
                  joint lists them, across all of its sets.",
};

/// `holes-coincide`.
pub static HOLES_COINCIDE: Code = Code {
    name: "procedure/holes-coincide",
    severity: Severity::Error,
    explanation: "Two holes of a joint are at the same place.",
};

/// `sequence-holes`.
pub static SEQUENCE_HOLES: Code = Code {
    name: "procedure/sequence-holes",
    severity: Severity::Error,
    explanation: "A stated sequence must name each hole of its joint once.",
};

/// `second-holes`.
pub static SECOND_HOLES: Code = Code {
    name: "procedure/second-holes",
    severity: Severity::Error,
    explanation: "A fastener set has its holes, or its torque, twice in the same joint.",
};

/// `set-without-holes`.
pub static SET_WITHOUT_HOLES: Code = Code {
    name: "procedure/set-without-holes",
    severity: Severity::Error,
    explanation: "A joint says how a set is tightened, but not where the set's holes are, while it lists holes \
                  for other sets.",
};

/// `set-in-two-joints`.
pub static SET_IN_TWO_JOINTS: Code = Code {
    name: "procedure/set-in-two-joints",
    severity: Severity::Error,
    explanation: "A fastener set is named in two joints. Undoing it for the one would open the other, and a torque \
                  said in the one would not be that of the other. Give each joint a set of its own, with its \
                  count. Where the same bolts go through everything, write one joint that clamps all of it.",
};

/// `tighten-in-joint`.
pub static TIGHTEN_IN_JOINT: Code = Code {
    name: "procedure/tighten-in-joint",
    severity: Severity::Error,
    explanation: "A fastener set in a joint carries a `tighten` of its own. The torque of a set in a joint \
                  stands in the joint.",
};

/// `critical-torque`.
pub static CRITICAL_TORQUE: Code = Code {
    name: "procedure/critical-torque",
    severity: Severity::Error,
    explanation: "Something declared `critical` is to be tightened by the general table or by feel. A failure \
                  there endangers people or the engine, so its torque must be stated with its origin, or be \
                  `unknown` until it is found.",
};

/// `no-origin`.
pub static NO_ORIGIN: Code = Code {
    name: "procedure/no-origin",
    severity: Severity::Notice,
    explanation: "A number doesn't say where it comes from. State it with `from \"...\"`, so that whoever \
                  stands at the bench can look it up.",
};

/// `passes-fall`.
pub static PASSES_FALL: Code = Code {
    name: "procedure/passes-fall",
    severity: Severity::Warning,
    explanation: "The passes of a tightening don't rise, or turn by an angle before any torque has brought the \
                  joint together.",
};

/// `no-front`.
pub static NO_FRONT: Code = Code {
    name: "procedure/no-front",
    severity: Severity::Error,
    explanation: "A joint is seen from top, below, left or right, and nothing says where the front of the \
                  engine is in that picture; without it the figure could be read upside down.",
};

/// `torque-too-low`.
pub static TORQUE_TOO_LOW: Code = Code {
    name: "procedure/torque-too-low",
    severity: Severity::Warning,
    explanation: "A stated torque leaves the fasteners with a small fraction of the preload that they are made \
                  for, whatever the friction within its span. It may be meant: then declare the set `soft`. \
                  The loads are estimates.",
};

/// `torque-too-high`.
pub static TORQUE_TOO_HIGH: Code = Code {
    name: "procedure/torque-too-high",
    severity: Severity::Warning,
    explanation: "A stated torque loads the fasteners above nine tenths of their yield, whatever the friction \
                  within its span. The loads are estimates.",
};

/// `torque-into-yield`.
pub static TORQUE_INTO_YIELD: Code = Code {
    name: "procedure/torque-into-yield",
    severity: Severity::Warning,
    explanation: "A stated torque, or a torque with an angle, stretches the fasteners for good, and they are \
                  not declared `once`. The loads are estimates.",
};

/// `thread-strips`.
pub static THREAD_STRIPS: Code = Code {
    name: "procedure/thread-strips",
    severity: Severity::Warning,
    explanation: "A stated torque pulls harder than the tapped thread holds at its stated engagement. The \
                  loads are estimates.",
};

/// `release-beyond-proof`.
pub static RELEASE_BEYOND_PROOF: Code = Code {
    name: "procedure/release-beyond-proof",
    severity: Severity::Warning,
    explanation: "While a joint is undone as the procedure says, a fastener still in comes to bear more than its \
                  proof load, whatever the friction within its span: the gasket springs up where it is let go and \
                  pulls on those that hold. It is computed as a plate on a gasket, an estimate; \
                  `benchleaf reckon release` shows it with its assumptions. Nothing is reordered.",
};

/// `spring-in-one-go`.
pub static SPRING_IN_ONE_GO: Code = Code {
    name: "procedure/spring-in-one-go",
    severity: Severity::Warning,
    explanation: "A joint is undone under a hazard of a spring, and its fasteners come out one after the other in \
                  one go: the last of them carry the whole spring, and let it fly when they run out of thread. Let \
                  it down bit by bit, with long guide bolts or a clamp, and say so.",
};

/// `short-engagement`.
pub static SHORT_ENGAGEMENT: Code = Code {
    name: "procedure/short-engagement",
    severity: Severity::Warning,
    explanation: "The thread engages less than is common practice for the material it is tapped into: one \
                  diameter in steel, one and a half in iron, two in aluminium.",
};

/// `bands-gap`.
pub static BANDS_GAP: Code = Code {
    name: "procedure/bands-gap",
    severity: Severity::Warning,
    explanation: "Two neighbouring bands of a gauge leave values between them that have no result.",
};

/// `bands-overlap`.
pub static BANDS_OVERLAP: Code = Code {
    name: "procedure/bands-overlap",
    severity: Severity::Warning,
    explanation: "Two bands of a gauge share values, so that a reading could have two results.",
};

/// `no-bands`.
pub static NO_BANDS: Code = Code {
    name: "procedure/no-bands",
    severity: Severity::Error,
    explanation: "A gauge is used as a question, but has no bands that could be its answers.",
};

/// `formula-dimension`.
pub static FORMULA_DIMENSION: Code = Code {
    name: "procedure/formula-dimension",
    severity: Severity::Error,
    explanation: "A formula adds, subtracts or compares things that measure something different, or its result \
                  isn't what the gauge's unit measures.",
};

/// `formula-circle`.
pub static FORMULA_CIRCLE: Code = Code {
    name: "procedure/formula-circle",
    severity: Severity::Error,
    explanation: "Computed gauges need each other, so none of them can be computed first.",
};

/// `no-gauge-unit`.
pub static NO_GAUGE_UNIT: Code = Code {
    name: "procedure/no-gauge-unit",
    severity: Severity::Error,
    explanation: "A gauge that is read has no unit, so a reading could mean anything.",
};

/// `links-itself`.
pub static LINKS_ITSELF: Code = Code {
    name: "procedure/links-itself",
    severity: Severity::Error,
    explanation: "Something is said to be before, after, under, within or matched with itself.",
};

/// `not-apart`.
pub static NOT_APART: Code = Code {
    name: "procedure/not-apart",
    severity: Severity::Error,
    explanation: "A position of a step is named, but the step isn't done `apart`: it is one step for all \
                  positions.",
};

/// `idle-axis`.
pub static IDLE_AXIS: Code = Code {
    name: "procedure/idle-axis",
    severity: Severity::Warning,
    explanation: "A step is to be done for each position of an axis, but nothing it does has that axis, so the \
                  positions would all be the same work.",
};

/// `trial-only`.
pub static TRIAL_ONLY: Code = Code {
    name: "procedure/trial-only",
    severity: Severity::Error,
    explanation: "A torque beside `tighten` in a step is a trial torque. Outside a trial the torque stands in \
                  the joint or the set, so that it is stated once.",
};

/// `empty-step`.
pub static EMPTY_STEP: Code = Code {
    name: "procedure/empty-step",
    severity: Severity::Warning,
    explanation: "A step says nothing that is to be done.",
};

/// `unused`.
pub static UNUSED: Code = Code {
    name: "procedure/unused",
    severity: Severity::Warning,
    explanation: "Something is declared that nothing uses. It may be left over, or the step that needs it may \
                  have been forgotten.",
};

/// `long-instruction`.
pub static LONG_INSTRUCTION: Code = Code {
    name: "procedure/long-instruction",
    severity: Severity::Notice,
    explanation: "An instruction has more than 20 words. Short sentences are read right by someone with oily \
                  hands and a torch.",
};

/// `two-actions`.
pub static TWO_ACTIONS: Code = Code {
    name: "procedure/two-actions",
    severity: Severity::Notice,
    explanation: "An instruction seems to hold two actions. One action each can be ticked off each.",
};

/// `no-family-origin`.
pub static NO_FAMILY_ORIGIN: Code = Code {
    name: "procedure/no-family-origin",
    severity: Severity::Warning,
    explanation: "The family doesn't say where its data comes from.",
};

/// `hazard-expected`.
pub static HAZARD_EXPECTED: Code = Code {
    name: "procedure/hazard-expected",
    severity: Severity::Warning,
    explanation: "Something in the procedure usually brings a hazard of this kind with it, and no step names \
                  one. The lint goes by masses, kinds of tool and words in titles: common practice, no source.",
};

/// `no-lift-at`.
pub static NO_LIFT_AT: Code = Code {
    name: "procedure/no-lift-at",
    severity: Severity::Error,
    explanation: "A part is heavier than the lifting limit, and nothing says where the hoist is hooked.",
};

/// `new-part-way`.
pub static NEW_PART_WAY: Code = Code {
    name: "procedure/new-part-way",
    severity: Severity::Notice,
    explanation: "The old part is marked with its direction, and a new one may go in, which comes without that \
                  mark. Nothing says which way round the new one goes.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &DUPLICATE_NAME,
    &UNKNOWN_NAME,
    &WRONG_KIND,
    &UNKNOWN_POSITION,
    &WRONG_AXIS,
    &TOO_MANY_POSITIONS,
    &TOO_MANY_PLACES,
    &TOO_MANY_VALUES,
    &UNKNOWN_VALUE,
    &UNKNOWN_WORD,
    &DUPLICATE_VALUE,
    &TWO_STARTS,
    &UNTURNED_VALUE,
    &SECOND_TURNER,
    &USE_UNREADABLE,
    &USE_CYCLE,
    &NO_FAMILY,
    &SECOND_FAMILY,
    &NO_UNIT,
    &UNKNOWN_UNIT,
    &WRONG_DIMENSION,
    &NOT_A_COUNT,
    &NOT_A_NUMBER,
    &NOT_POSITIVE,
    &RANGE_REVERSED,
    &DUPLICATE_CLAUSE,
    &MISSING_CLAUSE,
    &REPEATED_ENTRY,
    &UNKNOWN_THREAD,
    &UNUSUAL_THREAD,
    &UNKNOWN_CLASS,
    &HOLE_COUNT,
    &UNKNOWN_HOLE,
    &HOLES_COINCIDE,
    &SEQUENCE_HOLES,
    &SECOND_HOLES,
    &SET_WITHOUT_HOLES,
    &TIGHTEN_IN_JOINT,
    &SET_IN_TWO_JOINTS,
    &CRITICAL_TORQUE,
    &NO_ORIGIN,
    &PASSES_FALL,
    &NO_FRONT,
    &TORQUE_TOO_LOW,
    &TORQUE_TOO_HIGH,
    &TORQUE_INTO_YIELD,
    &THREAD_STRIPS,
    &SHORT_ENGAGEMENT,
    &RELEASE_BEYOND_PROOF,
    &SPRING_IN_ONE_GO,
    &BANDS_GAP,
    &BANDS_OVERLAP,
    &NO_BANDS,
    &FORMULA_DIMENSION,
    &FORMULA_CIRCLE,
    &NO_GAUGE_UNIT,
    &LINKS_ITSELF,
    &NOT_APART,
    &IDLE_AXIS,
    &TRIAL_ONLY,
    &EMPTY_STEP,
    &UNUSED,
    &LONG_INSTRUCTION,
    &TWO_ACTIONS,
    &NO_FAMILY_ORIGIN,
    &HAZARD_EXPECTED,
    &NO_LIFT_AT,
    &NEW_PART_WAY,
];
