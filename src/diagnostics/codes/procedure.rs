//! Codes for faults found while names, units and clauses are resolved.

codes! {
    /// `duplicate-name`.
    DUPLICATE_NAME = error "procedure/duplicate-name",
        "Two declarations or steps have the same id. Declarations and steps share one set of names, across all files \
         that come in by `use`, so that a name means one thing wherever it stands. Rename one of them.";

    /// `like-later`.
    LIKE_LATER = error "procedure/like-later",
        "A thing is said to be like one that is declared behind it, or like itself. `like` takes over what was said of \
         another thing before: the first of those that are alike says it all.";

    /// `unknown-name`.
    UNKNOWN_NAME = error "procedure/unknown-name",
        "A name is used that nothing declares. It may be misspelt, or its declaration may stand in a file that isn't \
         brought in by `use`.";

    /// `wrong-kind`.
    WRONG_KIND = error "procedure/wrong-kind",
        "A name is used where another kind of thing is wanted, such as a joint where a part is to be taken off. The \
         message says what the name is and what is wanted.";

    /// `unknown-position`.
    UNKNOWN_POSITION = error "procedure/unknown-position",
        "A position in square brackets isn't one of its axis, such as `piston[4]` on an engine whose axis `cyl` runs \
         from 1 to 3.";

    /// `wrong-axis`.
    WRONG_AXIS = error "procedure/wrong-axis",
        "A position or an axis in square brackets belongs to another axis than the one that stands there. Positions \
         are given in the order of the axes in the declaration.";

    /// `ungrouped`.
    UNGROUPED = error "procedure/ungrouped",
        "An axis is in groups, and some of its positions are in none of them. What stands once for each group, such as \
         the head of a bank, would belong to no cylinder of those.";

    /// `axis-and-groups`.
    AXIS_AND_GROUPS = error "procedure/axis-and-groups",
        "A thing or a step has an axis and the groups of the same axis. A position tells the group that it is in, so \
         that most pairs of the two would be places that don't exist.";

    /// `too-many-positions`.
    TOO_MANY_POSITIONS = error "procedure/too-many-positions",
        "More positions are given in square brackets than the thing has axes.";

    /// `too-many-places`.
    TOO_MANY_PLACES = error "procedure/too-many-places",
        "A thing has so many positions, over all of its axes, that nobody could tick them off. An axis was probably \
         written with a wrong end.";

    /// `too-many-values`.
    TOO_MANY_VALUES = error "procedure/too-many-values",
        "A state or setup lists more values, an ask more answers, a gauge more bands or a look more results than can \
         be told apart: 64. The proof of the order keeps what is possible as one set of that many. Split the list into \
         two declarations, such as one ask that narrows down another.";

    /// `unknown-value`.
    UNKNOWN_VALUE = error "procedure/unknown-value",
        "A question, state, setup, gauge or look is compared with something that isn't one of its answers, values, \
         bands or results.";

    /// `unknown-word`.
    UNKNOWN_WORD = error "procedure/unknown-word",
        "A word stands where only a few are possible, and it isn't one of them. The help lists them.";

    /// `duplicate-value`.
    DUPLICATE_VALUE = error "procedure/duplicate-value",
        "A list of positions, answers, values, results or bands names the same one twice.";

    /// `unturned-value`.
    UNTURNED_VALUE = error "procedure/unturned-value",
        "A setup says with `turns engine` which face of the engine lies uppermost, but not for each of its values. \
         Figures of joints are turned as the mechanic sees them, so every value is needed.";

    /// `figures-not-turned`.
    FIGURES_NOT_TURNED = notice "procedure/figures-not-turned",
        "Joints say from which side they are seen and steps change a setup that everybody at the engine shares, but no \
         setup says with `turns engine` which face lies uppermost. If that setup turns the engine over, the holes in \
         the figures don't lie as the mechanic sees them. Say how the engine lies at each value; where no setup turns \
         it, nothing is amiss.";

    /// `second-turner`.
    SECOND_TURNER = error "procedure/second-turner",
        "Two setups say with `turns engine` how the engine lies. It lies in one way at a time, so one setup says it, \
         and figures are turned by that one.";

    /// `two-starts`.
    TWO_STARTS = error "procedure/two-starts",
        "Two values of a setup or state are marked as the one that holds at the start. Only one can.";

    /// `use-unreadable`.
    USE_UNREADABLE = error "procedure/use-unreadable",
        "The file named by `use` can't be read. The path is relative to the file that names it.";

    /// `use-cycle`.
    USE_CYCLE = error "procedure/use-cycle",
        "Files that bring each other in by `use` form a circle, so none of them can be read first.";

    /// `no-family`.
    NO_FAMILY = error "procedure/no-family",
        "The file that a command is given must say which engine family it is for, with `family`. Files that are only \
         brought in by `use` have none.";

    /// `not-a-procedure`.
    NOT_A_PROCEDURE = error "procedure/not-a-procedure",
        "A command was given another kind of file, or `use` names one: it doesn't begin with the word of a declaration, and \
         next to nothing in it could be understood. What is wrong in it line by line is not told.";

    /// `second-family`.
    SECOND_FAMILY = error "procedure/second-family",
        "A family is declared twice, or in a file that is brought in by `use`. Only the file that a command is given \
         has one, once.";

    /// `no-unit`.
    NO_UNIT = error "procedure/no-unit",
        "A number that measures something has no unit. A bare number is a count; what measures has a unit, so that \
         nobody tightens to pound-feet what was meant in newton metres.";

    /// `unknown-unit`.
    UNKNOWN_UNIT = error "procedure/unknown-unit",
        "A unit is not one of the language. Units are written as symbols, such as `N.m`, `lbf.ft`, `mm`, `thou`, \
         `deg`.";

    /// `wrong-dimension`.
    WRONG_DIMENSION = error "procedure/wrong-dimension",
        "A quantity measures something else than what is wanted, such as a length where a torque stands.";

    /// `not-a-count`.
    NOT_A_COUNT = error "procedure/not-a-count",
        "A whole number of at least one, without unit, is wanted here.";

    /// `out-of-reason`.
    OUT_OF_REASON = error "procedure/out-of-reason",
        "A count, a time or a choice lies beyond anything that a bench knows: more than ten thousand of one thing, longer than \
         a year, or a fate that hangs on more than ten thousand combinations of answers. It is a slip, and it would take \
         hours to go through.";

    /// `not-a-number`.
    NOT_A_NUMBER = error "procedure/not-a-number",
        "A number can't be read. Numbers are written with a point, without thousands marks or exponents, or as inch \
         fractions such as `7/16`.";

    /// `not-positive`.
    NOT_POSITIVE = error "procedure/not-positive",
        "A quantity must be more than nothing, such as a mass, a torque or a length.";

    /// `not-money`.
    NOT_MONEY = error "procedure/not-money",
        "A price is a number with at most two places and the three letters of the currency, such as `12.50 EUR`. It is \
         not less than nothing, below a million million, and never rounded: what is ordered by it has to come to the \
         sum that was written.";

    /// `range-reversed`.
    RANGE_REVERSED = error "procedure/range-reversed",
        "The lower end of a range is above its upper end.";

    /// `duplicate-clause`.
    DUPLICATE_CLAUSE = error "procedure/duplicate-clause",
        "A clause that says one thing stands twice in the same declaration or step, so that it isn't known which one \
         holds.";

    /// `missing-clause`.
    MISSING_CLAUSE = error "procedure/missing-clause",
        "A declaration lacks something that it can't do without, such as what a joint clamps.";

    /// `repeated-entry`.
    REPEATED_ENTRY = warning "procedure/repeated-entry",
        "A list names the same thing twice. The second mention changes nothing; it may be a slip for something else.";

    /// `unknown-thread`.
    UNKNOWN_THREAD = error "procedure/unknown-thread",
        "A thread designation can't be read. Metric threads are written `M12` or `M12x1.25`, inch threads `3/8-16 UNC` \
         or `8-32 UNC`, pipe threads `G 1/4` or `1/8-27 NPT`.";

    /// `unusual-thread`.
    UNUSUAL_THREAD = warning "procedure/unusual-thread",
        "A thread designation can be read, but isn't in the tables of standard sizes and pitches. It may be a slip; if \
         not, its torque can't be compared with what it bears.";

    /// `unknown-class`.
    UNKNOWN_CLASS = warning "procedure/unknown-class",
        "A property class or grade isn't one whose strength is known, so the torque of the set can't be compared with \
         what it bears. Metric classes are written like `8.8` or `10.9`, inch grades like `SAE 5`, nut classes like \
         `8`.";

    /// `hole-count`.
    HOLE_COUNT = error "procedure/hole-count",
        "A joint has another number of holes for a set than the set has fasteners.";

    /// `unknown-hole`.
    UNKNOWN_HOLE = error "procedure/unknown-hole",
        "A hole letter isn't one of the joint. Holes are lettered A, B, ... in the order in which the joint lists \
         them, across all of its sets.";

    /// `holes-coincide`.
    HOLES_COINCIDE = error "procedure/holes-coincide",
        "Two holes of a joint are at the same place.";

    /// `sequence-holes`.
    SEQUENCE_HOLES = error "procedure/sequence-holes",
        "A stated sequence must name each hole of its joint once.";

    /// `second-holes`.
    SECOND_HOLES = error "procedure/second-holes",
        "A fastener set has its holes, or its torque, twice in the same joint.";

    /// `set-without-holes`.
    SET_WITHOUT_HOLES = error "procedure/set-without-holes",
        "A joint says how a set is tightened, but not where the set's holes are, while it lists holes for other sets.";

    /// `set-in-two-joints`.
    SET_IN_TWO_JOINTS = error "procedure/set-in-two-joints",
        "A fastener set is named in two joints. Undoing it for the one would open the other, and a torque said in the \
         one would not be that of the other. Give each joint a set of its own, with its count. Where the same bolts go \
         through everything, write one joint that clamps all of it.";

    /// `two-torques`.
    TWO_TORQUES = error "procedure/two-torques",
        "A fastener set that a joint names by position has one torque at one position and another, or none, at \
         another. A set is of fasteners that are tightened alike: write its torque once, or make two sets.";

    /// `set-in-part`.
    SET_IN_PART = error "procedure/set-in-part",
        "A joint names a fastener set at some of its positions and leaves others out. Those would be in no joint, and \
         would seem to have its torque. Name the whole set, or make a set of its own for the others.";

    /// `lock-without-piece`.
    LOCK_WITHOUT_PIECE = warning "procedure/lock-without-piece",
        "A tab, split pin, wire or thread-locker keeps a set from coming loose, and no part or supply is named that does \
         it. What isn't named is neither in the kit nor on the order list, and the sheet can't say which it is. Name the \
         part of a tab washer or pin, the supply of wire or thread-locker.";

    /// `stake-has-no-piece`.
    STAKE_HAS_NO_PIECE = error "procedure/stake-has-no-piece",
        "Staking uses nothing up: the metal of the fastener or of its seat is the lock. A part or supply behind `locked \
         by stake` has no meaning.";

    /// `oil-not-named`.
    OIL_NOT_NAMED = warning "procedure/oil-not-named",
        "Threads or faces are oiled, and no supply says with what. It isn't in the kit then, and nobody at the bench \
         knows whether engine oil or something else is meant; a torque holds for one of them only.";

    /// `tighten-in-joint`.
    TIGHTEN_IN_JOINT = error "procedure/tighten-in-joint",
        "A fastener set in a joint carries a `tighten` of its own. The torque of a set in a joint stands in the joint.";

    /// `critical-torque`.
    CRITICAL_TORQUE = error "procedure/critical-torque",
        "Something declared `critical` is to be tightened by the general table or by feel. A failure there endangers \
         people or the engine, so its torque must be stated with its origin, or be `unknown` until it is found.";

    /// `no-origin`.
    NO_ORIGIN = notice "procedure/no-origin",
        "A number doesn't say where it comes from. State it with `from \"...\"`, so that whoever stands at the bench \
         can look it up.";

    /// `not-lowered`.
    NOT_LOWERED = error "procedure/not-lowered",
        "A torque that is set lower by a rule must be a stated torque, without an angle behind it, and be lowered by at \
         most half. How far an angle turns doesn't hang on what is on the threads, so such rules say nothing of it.";

    /// `passes-fall`.
    PASSES_FALL = warning "procedure/passes-fall",
        "The passes of a tightening fall, or turn by an angle before any torque has brought the joint together.";

    /// `no-front`.
    NO_FRONT = error "procedure/no-front",
        "A joint is seen from top, below, left or right, and nothing says where the front of the engine is in that \
         picture; without it the figure could be read upside down.";

    /// `impossible-front`.
    IMPOSSIBLE_FRONT = error "procedure/impossible-front",
        "A joint is seen from the front or the rear, and its picture is said to have the front of the engine at a side. Seen so, \
         the front faces whoever looks, or lies behind what is seen.";

    /// `upside-down`.
    UPSIDE_DOWN = notice "procedure/upside-down",
        "A joint is seen from the left or the right, and the front of the engine is said to lie in its picture where it lies only \
         if the engine stands on its head. Which side is which follows from `left and right seen from` of the family. It may be \
         drawn so; more often left and right were mixed up, and the holes would be told the wrong way round.";

    /// `clamps-reversed`.
    CLAMPS_REVERSED = warning "procedure/clamps-reversed",
        "A joint names what it clamps from the top down, and its last part is the base that stays; other facts say that this part \
         comes off before one that is named above it. The order of taking apart would follow from the wrong one.";

    /// `torque-too-low`.
    TORQUE_TOO_LOW = warning "procedure/torque-too-low",
        "A stated torque leaves the fasteners with a small fraction of the preload that they are made for, whatever \
         the friction within its span. It may be meant: then declare the set `soft`. The loads are estimates.";

    /// `torque-too-high`.
    TORQUE_TOO_HIGH = warning "procedure/torque-too-high",
        "A stated torque loads the fasteners above nine tenths of their yield, whatever the friction within its span. \
         The loads are estimates.";

    /// `torque-into-yield`.
    TORQUE_INTO_YIELD = warning "procedure/torque-into-yield",
        "A stated torque, or a torque with an angle, stretches the fasteners for good, and they are not declared \
         `once`. The loads are estimates.";

    /// `thread-strips`.
    THREAD_STRIPS = warning "procedure/thread-strips",
        "A stated torque pulls harder than the tapped thread holds at its stated engagement. The loads are estimates.";

    /// `release-beyond-proof`.
    RELEASE_BEYOND_PROOF = warning "procedure/release-beyond-proof",
        "While a joint is undone as the procedure says, a fastener still in comes to bear more than its proof load, \
         whatever the friction within its span: the gasket springs up where it is let go and pulls on those that hold. \
         It is computed as a plate on a gasket, an estimate; `benchleaf reckon release` shows it with its assumptions. \
         Nothing is reordered.";

    /// `spring-in-one-go`.
    SPRING_IN_ONE_GO = warning "procedure/spring-in-one-go",
        "A joint is undone under a hazard of a spring, and its fasteners come out one after the other in one go: the \
         last of them carry the whole spring, and let it fly when they run out of thread. Let it down bit by bit, with \
         long guide bolts or a clamp, and say so.";

    /// `short-engagement`.
    SHORT_ENGAGEMENT = warning "procedure/short-engagement",
        "The thread engages less than is common practice for the material it is tapped into: one diameter in steel, \
         one and a half in iron, two in aluminium.";

    /// `bands-gap`.
    BANDS_GAP = warning "procedure/bands-gap",
        "Two neighbouring bands of a gauge leave values between them that have no result.";

    /// `bands-overlap`.
    BANDS_OVERLAP = warning "procedure/bands-overlap",
        "Two bands of a gauge share values, so that a reading could have two results.";

    /// `sold-and-bands`.
    SOLD_AND_BANDS = error "procedure/sold-and-bands",
        "A gauge that chooses among the pieces that a part is sold in has these for its bands: a reading can't come to a piece \
         and to another result as well.";

    /// `sold-for-nothing`.
    SOLD_FOR_NOTHING = error "procedure/sold-for-nothing",
        "A gauge lists the pieces that a part is sold in, but it isn't said of which part, or its size isn't worked out. What \
         goes in is the piece that comes nearest to the size that follows from readings: the shim that was in, and the play, and \
         less the play that is wanted.";

    /// `sold-too-far-apart`.
    SOLD_TOO_FAR_APART = warning "procedure/sold-too-far-apart",
        "The piece may be off by less than half the step to the next one, so that readings are possible for which no piece \
         serves. Where that is how they are sold, there is an engine that can't be put right with them.";

    /// `other-bands`.
    OTHER_BANDS = error "procedure/other-bands",
        "A gauge lists its bands for several positions, and one list has a band that another hasn't. What a reading \
         may come to is the same question everywhere, so each list names the same bands; their edges may differ.";

    /// `several-lengths`.
    SEVERAL_LENGTHS = error "procedure/several-lengths",
        "Fasteners of one set differ in length, and the lengths stand side by side without the holes that they are in. \
         A long bolt in a short hole breaks what is behind it, so each hole is named by its letter, and behind it the \
         length of what goes in it: `lengths A 25 mm, B 40 mm`.";

    /// `idle-case`.
    IDLE_CASE = warning "procedure/idle-case",
        "A clause has several values, each with where and under which answers it holds, and one of them never counts: \
         the first that holds is the one that counts, and another stands before it that holds whenever it does; or no \
         engine for which it would hold has the thing.";

    /// `no-count`.
    NO_COUNT = error "procedure/no-count",
        "How many there are of a thing is said for some positions or answers only. Without a number nothing can be laid \
         out, counted back or ordered: say how many there are otherwise with `else` at the end.";

    /// `count-in-joint`.
    COUNT_IN_JOINT = error "procedure/count-in-joint",
        "How many there are of a fastener set differs by position or by answer, and the set is in a joint. Each of its \
         holes is drawn where it is, so that a number isn't enough: write those that some engines haven't got as a set of \
         their own with `present when`, and its holes with it.";

    /// `no-case`.
    NO_CASE = warning "procedure/no-case",
        "A clause has several values, each with where and under which answers it holds, and at some position or under \
         some answers none does. There nothing is said: no limit is printed and none is judged by, and what needs the \
         value is held; so is a part of which nothing is said what becomes of it. Say what holds for the others with `else` at the end.";

    /// `no-bands`.
    NO_BANDS = error "procedure/no-bands",
        "A gauge is used as a question, or decides what becomes of a part, but has no bands that could be its answers. Of its \
         limits only one as worn decides what becomes of a part, where those as made tell to which side of it a size wears: \
         up to it the part goes back, beyond it it is renewed.";

    /// `formula-dimension`.
    FORMULA_DIMENSION = error "procedure/formula-dimension",
        "A formula adds, subtracts or compares things that measure something different, or its result isn't what the \
         gauge's unit measures.";

    /// `too-cold`.
    TOO_COLD = error "procedure/too-cold",
        "A temperature lies below the absolute nought, -273.15 degC. Often the sign or a digit slipped.";

    /// `points-combined`.
    POINTS_COMBINED = error "procedure/points-combined",
        "A formula adds or multiplies temperatures on a scale, or takes one from a difference. Degrees on a scale that doesn't \
         begin at nothing can only be compared and taken from each other; how far they lie apart is written in `K`.";

    /// `formula-circle`.
    FORMULA_CIRCLE = error "procedure/formula-circle",
        "Computed gauges need each other, so none of them can be computed first.";

    /// `no-gauge-unit`.
    NO_GAUGE_UNIT = error "procedure/no-gauge-unit",
        "A gauge that is read has no unit, so a reading could mean anything.";

    /// `links-itself`.
    LINKS_ITSELF = error "procedure/links-itself",
        "Something is said to be before, after, under, within, in mesh or matched with itself.";

    /// `covered-in-circle`.
    COVERED_IN_CIRCLE = error "procedure/covered-in-circle",
        "Things lie under each other in a circle, so that none of them could come off first. One of the lines is the wrong \
         way round, or says what is only beside.";

    /// `not-apart`.
    NOT_APART = error "procedure/not-apart",
        "A position of a step is named, but the step isn't done `apart`: it is one step for all positions.";

    /// `idle-axis`.
    IDLE_AXIS = warning "procedure/idle-axis",
        "A step is to be done for each position of an axis, but nothing it does has that axis, so the positions would \
         all be the same work.";

    /// `late-when`.
    LATE_WHEN = error "procedure/late-when",
        "A `when` stands behind an act of the step and belongs to no act itself. Whoever reads the step from the top \
         has done the first acts before the condition is met. What is for the whole step stands before its first act; \
         what is for one act stands right behind that act.";

    /// `trial-only`.
    TRIAL_ONLY = error "procedure/trial-only",
        "A torque beside `tighten` in a step is a trial torque. Outside a trial the torque stands in the joint or the \
         set, so that it is stated once.";

    /// `empty-step`.
    EMPTY_STEP = warning "procedure/empty-step",
        "A step says nothing that is to be done.";

    /// `unused`.
    UNUSED = warning "procedure/unused",
        "Something is declared that nothing uses. It may be left over, or the step that needs it may have been \
         forgotten.";

    /// `long-instruction`.
    LONG_INSTRUCTION = notice "procedure/long-instruction",
        "An instruction has more than 20 words. Short sentences are read right by someone with oily hands and a torch.";

    /// `two-actions`.
    TWO_ACTIONS = notice "procedure/two-actions",
        "An instruction seems to hold two actions. One action each can be ticked off each.";

    /// `no-family-origin`.
    NO_FAMILY_ORIGIN = warning "procedure/no-family-origin",
        "The family doesn't say where its data comes from.";

    /// `hazard-expected`.
    HAZARD_EXPECTED = warning "procedure/hazard-expected",
        "Something in a step usually brings a hazard of this kind with it, and the step names none before that act: the \
         hazard of another step isn't on the sheet when this one is read. The lint goes by masses, kinds of tool, acts, \
         what seals what, and what a part says of its kind, of what it carries and of the state that holds that back: common practice, no source. An engine \
         with fuel under pressure that a state sets running may run away. What is true of a thing wherever it is handled \
         is said at the thing, `hazard small_spring both ways`; what hurts nobody says so, `harmless \"copper\"`.";

    /// `hazard-behind`.
    HAZARD_BEHIND = warning "procedure/hazard-behind",
        "A hazard stands behind the act that it warns of, or behind all acts of its step. It is printed where it stands, \
         so it would be read when the act is done.";

    /// `no-driver`.
    NO_DRIVER = warning "procedure/no-driver",
        "A step slackens, undoes or tightens fasteners, and none of its tools drives them: neither one that it lists nor \
         one that the set asks for. Whoever stands at the engine would have to walk back for it, or use what doesn't fit. \
         For a drive in words, such as \"cross-head\", the set names the tool: `both ways with screwdriver`. A step that the \
         build derives takes a declared socket or spanner of that size.";

    /// `no-wrench`.
    NO_WRENCH = warning "procedure/no-wrench",
        "A step tightens to a torque, and no torque wrench of its list reaches it; a step that the build derives takes the \
         declared wrench with the narrowest range that does. Without a wrench the torque is a guess.";

    /// `wrench-out-of-range`.
    WRENCH_OUT_OF_RANGE = warning "procedure/wrench-out-of-range",
        "A step tightens to a torque that lies outside the range of the torque wrench that it lists, so the wrench can't be \
         set to it.";

    /// `idle-tool`.
    IDLE_TOOL = warning "procedure/idle-tool",
        "A step lists a driver, a torque wrench or a puller that none of its acts can use. It may be the wrong size, or an \
         act may have been forgotten. Steps with an instruction in words, a turn by hand or something put in for a time are not \
         judged: what those use can't be known. Beside a contingency sockets and spanners are, unless it speaks of what \
         they turn.";

    /// `no-instrument`.
    NO_INSTRUMENT = warning "procedure/no-instrument",
        "A step takes a reading whose instrument is named in words, and none of its tools is called by them: the kit hasn't \
         got it, and whoever stands at the engine has to walk for it. The words of the instrument are compared with the \
         titles of the tools, without those that every instrument has. A file that declares nothing to measure with isn't \
         asked.";

    /// `no-hoist`.
    NO_HOIST = warning "procedure/no-hoist",
        "A part above the lifting limit is taken off or fitted, and the step has no tool of kind `hoist`. Where a derived step can't say how it is done, write a build step that fits the \
         part.";

    /// `hoist-too-weak`.
    HOIST_TOO_WEAK = error "procedure/hoist-too-weak",
        "A hoist says how much it carries, `range 0 kg .. 250 kg`, and a part of the step is heavier than that.";

    /// `hung`.
    HUNG = warning "procedure/hung",
        "A part of 5 kg or more is taken off by one person who also undoes what holds it, and nothing carries it then: the \
         last fastener comes out with one hand at the spanner and the part on the other. The limit is common practice and \
         has no source; above the lifting limit the order of work itself asks for a support.";

    /// `nothing-on-it`.
    NOTHING_ON_IT = warning "procedure/nothing-on-it",
        "A part that runs in oil goes back (it is worn in, sized or selected, or its kind is `seal`, `bearing` or \
         `running`), and nothing says what goes on it before it is fitted. Dry, \
         it may be ruined in the first seconds. Say what it is coated with, and where, or that it goes on `dry`.";

    /// `coated-hot`.
    COATED_HOT = warning "procedure/coated-hot",
        "A part is heated to go on, and is to be coated before that. Oil and grease run off what is hot, smoke, and may catch \
         fire. It goes on dry, and is oiled or greased once it has cooled, as an act of its own.";

    /// `released-into-danger`.
    RELEASED_INTO_DANGER = warning "procedure/released-into-danger",
        "What a part `releases` is the value of a state at which something is held back: the part may come off only when the \
         state has another. Here the danger is said to be at that other value, so the part would come off under it.";

    /// `sets-nothing`.
    SETS_NOTHING = warning "procedure/sets-nothing",
        "A step of the strip or the survey sets a state to the value that it has at first, and none sets another before. The first \
         value is wrong, and what waits for that step doesn't wait.";

    /// `never-back`.
    NEVER_BACK = warning "procedure/never-back",
        "The strip changes a state which a part holds back, as where a fluid is let out, and neither the build nor the start, which \
         there is, sets it again: the machine would be started empty.";

    /// `left-live`.
    LEFT_LIVE = warning "procedure/left-live",
        "The last that the start does with a state leaves it at a value at which a danger is met: running, live, under pressure. It \
         isn't what it came in with.";

    /// `one-answer`.
    ONE_ANSWER = warning "procedure/one-answer",
        "An ask has one answer, a look one result, or a gauge one band. Whoever is asked has no choice, and what hangs on it \
         is decided before anybody looks. The others were probably forgotten.";

    /// `limit-implausible`.
    LIMIT_IMPLAUSIBLE = warning "procedure/limit-implausible",
        "A gauge calls implausible what its own limits allow. The reading of a right part would be taken for a slip of the \
         pencil and not be counted.";

    /// `no-limit`.
    NO_LIMIT = notice "procedure/no-limit",
        "A reading is taken that has no limit, no bands and no sizes, and that nothing is computed from. Whoever takes it \
         learns nothing from it. If the limit isn't known, say so: then it is printed as an open question.";

    /// `worn-within-made`.
    WORN_WITHIN_MADE = warning "procedure/worn-within-made",
        "The limit as worn lies between the limits as made, so that a new part could be worn out. One of the two is wrong.";

    /// `not-best-at-nought`.
    NOT_BEST_AT_NOUGHT = error "procedure/not-best-at-nought",
        "A gauge says that nought is the best that it can show, as it is of what is merely off: a flatness, a run-out, an \
         ovality. A clearance or a fit has a least value as well, without which it seizes or can't be put together: where its \
         limits or bands begin above nought, or where it is worked out between two parts, nought isn't best.";

    /// `bands-against-worn`.
    BANDS_AGAINST_WORN = warning "procedure/bands-against-worn",
        "A gauge has a limit as worn and bands, and no band begins or ends at that limit: the verdict goes by the bands, and \
         the sheet shows the limit. They would say two things of one part.";

    /// `half-bands`.
    HALF_BANDS = warning "procedure/half-bands",
        "The bands of a gauge leave out what is as made, what lies above all of them, or what lies below. Such a reading has \
         no result, and what hangs on it stays open however often it is measured. The pieces of a choice, of which only so \
         many are sold, are not judged.";

    /// `trial-reads-nothing`.
    TRIAL_READS_NOTHING = warning "procedure/trial-reads-nothing",
        "A trial is put together to measure and comes apart again, and nothing in it is measured or looked at.";

    /// `of-another`.
    OF_ANOTHER = warning "procedure/of-another",
        "A look, or a reading taken with the part off, is of one part, and what becomes of another goes by it, while the \
         first doesn't go by it. It is written down of the one and decides on the other.";

    /// `fitted-twice`.
    FITTED_TWICE = warning "procedure/fitted-twice",
        "A part that is renewed goes in new in the build, and a step of the start fits it again: two are wanted, and one is on \
         the order list. Where the piece of the build goes back, `put back` says so.";

    /// `tightened-empty`.
    TIGHTENED_EMPTY = warning "procedure/tightened-empty",
        "A trial starts, nips or tightens fasteners, and fits what they hold only afterwards: what is measured then was not \
         clamped.";

    /// `read-loose`.
    READ_LOOSE = warning "procedure/read-loose",
        "A trial measures below a part that it has fitted, and none of its lines tightens what holds that part. A \
         clearance under a loose cap, or a bore with a cap that isn't drawn down, is larger than it will be: tighten to \
         the trial torque first. Where it is meant to be loose, the gauge says so.";

    /// `empty-title`.
    EMPTY_TITLE = warning "procedure/empty-title",
        "Something has an empty title. The title is what people read on paper.";

    /// `no-fate`.
    NO_FATE = warning "procedure/no-fate",
        "A part comes off, other parts of the file say what becomes of them, and this one doesn't. It would go back as it is, \
         without a line on the order list or in the verdict, also if it is a gasket.";

    /// `never-cleaned`.
    NEVER_CLEANED = notice "procedure/never-cleaned",
        "A part is to go back clean, and no step cleans it, so nobody is told to and nothing waits for it.";

    /// `one-picture`.
    ONE_PICTURE = warning "procedure/one-picture",
        "A joint is drawn alike at all of its places, such as both banks, though a part that it clamps lies another way round at \
         one of them. Its map there may be the mirror image of the holes, and an order of tightening read off a mirrored map cracks \
         castings. Say for each position how it is seen.";

    /// `never-marked`.
    NEVER_MARKED = warning "procedure/never-marked",
        "A part is declared with a mark of ours, and no step makes it. When it goes back, nobody knows its place or which way \
         round it was.";

    /// `lift-without-mass`.
    LIFT_WITHOUT_MASS = warning "procedure/lift-without-mass",
        "A part says where it is lifted, and not what it weighs: whether the hoist carries it, and how many people it takes, \
         can't be told.";

    /// `no-reuse`.
    NO_REUSE = warning "procedure/no-reuse",
        "Fasteners that are critical or tightened by an angle don't say whether they may go back. They would count as \
         reusable without anybody having said so.";

    /// `tool-one-way`.
    TOOL_ONE_WAY = notice "procedure/tool-one-way",
        "A step that takes parts off lists a tool, and the steps that put them back are derived: those have the tools that the \
         parts and fasteners themselves ask for, and so not this one. `off with` says that it is for taking off only.";

    /// `critical-open`.
    CRITICAL_OPEN = warning "procedure/critical-open",
        "Fasteners that are critical, or stand in a critical joint, say nothing of their torque, not even that it is unknown. They \
         can't be tightened by feel or by a general table, and every step that tightens them is held.";

    /// `set-unsaid`.
    SET_UNSAID = notice "procedure/set-unsaid",
        "Fasteners that a step turns don't say something that others of the procedure say: whether they may go back, so that \
         they are never ordered; what drives them, so that no tool is brought to the step; the thread that their torque \
         is for, so that it can't be compared with what they bear; how long they are, so that those of two lengths may be \
         mixed up; or what they are tightened to, so that every step that tightens them is held.";

    /// `one-for-all`.
    ONE_FOR_ALL = notice "procedure/one-for-all",
        "What is computed has the same limits as made at all positions, while a reading that it is computed from is made \
         otherwise at some: a clearance that is right for an inlet valve would be told of an exhaust valve too.";

    /// `key-data-differ`.
    KEY_DATA_DIFFER = warning "procedure/key-data-differ",
        "A line of the key data has the title of a reading, with one of its positions or without, and another value than that \
         reading's limit as made there. One packet would tell both: a valve would be set to one and judged by the other.";

    /// `odd-head`.
    ODD_HEAD = notice "procedure/odd-head",
        "The hexagon of a bolt, nut or screw is much narrower or wider than such a thread has: less than 1.35 or more than 2.1 \
         times its diameter. The socket would not fit, or the torque is for another thread.";

    /// `wide-angle`.
    WIDE_ANGLE = warning "procedure/wide-angle",
        "A pass turns a fastener on by more than a whole turn, which nobody can read off an angle gauge. A figure was probably \
         mistyped.";

    /// `long-fastener`.
    LONG_FASTENER = notice "procedure/long-fastener",
        "A fastener is more than 60 times as long as its thread is thick. A unit may be wrong. The limit is common practice and \
         has no source.";

    /// `wide-joint`.
    WIDE_JOINT = warning "procedure/wide-joint",
        "A hole lies more than 3 m from the middle of its joint's picture. Metres were probably written for millimetres.";

    /// `no-lift-at`.
    NO_LIFT_AT = error "procedure/no-lift-at",
        "A part is heavier than the lifting limit, and nothing says where the hoist is hooked.";

    /// `new-part-way`.
    NEW_PART_WAY = notice "procedure/new-part-way",
        "The old part is marked with its direction, and a new one may go in, which comes without that mark. Nothing \
         says which way round the new one goes.";

    /// `firing-order`.
    FIRING_ORDER = error "procedure/firing-order",
        "An act turns the engine until a cylinder stands somewhere, and the family doesn't say rightly when its cylinders \
         fire: `cycle` (four-stroke or two-stroke) and a `firing order` that names every cylinder once are needed, and \
         `firing intervals` where they don't fire evenly. From these follows how far it is turned.";

    /// `which-cylinder`.
    WHICH_CYLINDER = error "procedure/which-cylinder",
        "An act turns the engine until a cylinder stands somewhere, and doesn't say which. Only in a step that is done for \
         each cylinder apart may that be left out: it is the step's own.";

    /// `one-top`.
    ONE_TOP = error "procedure/one-top",
        "The engine is a two-stroke, whose cylinders fire each time they are at the top: there are no two tops to tell \
         apart.";

    /// `turned-part`.
    TURNED_PART = warning "procedure/turned-part",
        "How far the engine is turned is reckoned from where it stood. That is lost when the crankshaft is out, and no part \
         says that it is the crankshaft.";

    /// `same-turn-each`.
    SAME_TURN_EACH = warning "procedure/same-turn-each",
        "A step that is done for each cylinder apart turns the engine by the same angle each time. With this firing order \
         that brings another cylinder to the same place than the one the step goes on with.";

    /// `marks-apart`.
    MARKS_APART = error "procedure/marks-apart",
        "Timing marks of gears meet again only when every gear has made whole turns. The numbers of teeth say that after \
         the stated turns of the crankshaft this is not so: a right engine would fail the look.";

    /// `meshes-twice`.
    MESHES_TWICE = error "procedure/meshes-twice",
        "Of two gears it is said twice that they run in each other, or one gear meets two others at the same mark. Whoever sets \
         the timing goes by these marks, so each meeting is said once, at one of its gears, and has a mark of its own.";

    /// `hazard-never-met`.
    HAZARD_NEVER_MET = warning "procedure/hazard-never-met",
        "A hazard is met while a state has a value, and the state neither starts with it nor does any step set it. Nobody \
         would ever be warned.";

    /// `nothing-to-change`.
    NOTHING_TO_CHANGE = error "procedure/nothing-to-change",
        "A declaration is changed or taken out in a file that differs from no other procedure. Only a family that is `of` \
         another, and the changes of one job, have something to change.";

    /// `change-unknown`.
    CHANGE_UNKNOWN = error "procedure/change-unknown",
        "What is changed or taken out is not declared by the procedure that this one is of. It may be misspelt, or an \
         edition of the other procedure has renamed it or left it out.";

    /// `changed-kind`.
    CHANGED_KIND = error "procedure/changed-kind",
        "A thing is changed as another kind of thing than it is, such as a set of fasteners as a part.";

    /// `changed-twice`.
    CHANGED_TWICE = error "procedure/changed-twice",
        "Two changes say something of the same fact: two values of one clause, or a change of what is taken out. Which of \
         them holds can't be told.";

    /// `declared-anew`.
    DECLARED_ANEW = error "procedure/declared-anew",
        "Something is declared under a name that the procedure that this one is of has given to something. To change that, \
         `change` stands before the declaration.";

    /// `no-such-clause`.
    NO_SUCH_CLAUSE = error "procedure/no-such-clause",
        "A change takes out or replaces a clause, or puts something beside it, and the declaration has no such clause. It may \
         be misspelt, or an edition of the other procedure says something else there now.";

    /// `clause-not-one`.
    CLAUSE_NOT_ONE = error "procedure/clause-not-one",
        "The words by which a change names a clause fit several clauses of the declaration.";

    /// `changes-nothing`.
    CHANGES_NOTHING = warning "procedure/changes-nothing",
        "A change says what the other procedure says anyway. It does no harm today, and hides what a later edition changes.";

    /// `base-edition`.
    BASE_EDITION = warning "procedure/base-edition",
        "The procedure that this one is of has another edition than the one that the changes were written against. What it \
         says may have been altered under a change that replaces it.";

    /// `revised-unknown`.
    REVISED_UNKNOWN = warning "procedure/revised-unknown",
        "A family says what an edition changed, and names something that it doesn't declare. Whoever builds on it couldn't be \
         told where.";

    /// `revised-later`.
    REVISED_LATER = error "procedure/revised-later",
        "A family says what an edition changed that is later than its own. Whoever builds on it is told by the `edition`, and \
         would not be.";

    /// `pressed-twice`.
    PRESSED_TWICE = warning "procedure/pressed-twice",
        "A step presses a part and takes or fits it as well: the sheet would have two lines and two boxes for one act.";

    /// `repeat-unread`.
    REPEAT_UNREAD = error "procedure/repeat-unread",
        "A step is repeated until a reading is within its limits, and doesn't take that reading. The loop would have no end.";

    /// `repeat-without-limits`.
    REPEAT_WITHOUT_LIMITS = error "procedure/repeat-without-limits",
        "A step is repeated until a reading is within its limits, and that gauge states none: neither `made` nor `worn`.";

    /// `repeat-tries`.
    REPEAT_TRIES = error "procedure/repeat-tries",
        "A step is tried again once at least and so often that its sheet has room for all tries: from 2 to 9 times.";

    /// `no-base-edition`.
    NO_BASE_EDITION = notice "procedure/no-base-edition",
        "A family is of another one, and doesn't say against which edition of it the changes were written. When that is \
         edited, nobody will be told.";

    /// `no-family-below`.
    NO_FAMILY_BELOW = error "procedure/no-family-below",
        "The file that a family is `of` has no family itself: it is no procedure that could differ.";

    /// `emptied-step`.
    EMPTIED_STEP = error "procedure/emptied-step",
        "What is taken out was all that a step handles. A step without an act would still be printed, with its tools, its time \
         and its warnings.";

    /// `still-named`.
    STILL_NAMED = error "procedure/still-named",
        "Something is taken out, and something that stays can't be without it: a formula, what a reading is of, a fate, a \
         condition. Where it is only handled, or stands in a list, it goes by itself.";
}
