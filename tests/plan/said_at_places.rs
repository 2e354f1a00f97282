//! What is said of handling a part or a set at one position, against brute force: random small engines in two banks, whose
//! facts are looked up afresh, position by position, from what the reference says, and compared with the tools, hazards,
//! coats, locks and words of every planned step, written or derived.
//!
//! Nothing of how the tool brings facts to steps is used here: only which things at which places an act is done to is
//! taken from the plan.

use std::cell::Cell;
use std::collections::BTreeSet;

use benchleaf::decide::decide;
use benchleaf::plan::{Choosing, PlanOptions, PlannedAct, PlannedLine, PlannedStep, plan, step_of};
use benchleaf::plan::{Placed, PlacedKind};
use benchleaf::procedure::model::{Deed, FasteningWork, Locking, PartWork, Phase, Place, Procedure, Wetting};
use benchleaf::record::Job;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestError, TestRunner};

use crate::tests::network::connected;

/// What a thing is there for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Once,
    Cyl,
    Bank,
}

/// Behind which position something is said; none: at all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum At {
    All,
    Cyl(usize),
    Bank(usize),
}

/// The bank of each cylinder, by the axis below.
const BANK_OF: [usize; 3] = [0, 1, 0];
const BANKS: [&str; 2] = ["left", "right"];
const WAYS: [&str; 3] = ["off", "on", "both ways"];

impl At {
    /// What can be said of a thing: a cylinder and a bank of a thing for each cylinder, a bank of one for each bank.
    fn fitted(self, kind: Kind) -> At {
        match (kind, self) {
            (Kind::Once, _) | (Kind::Bank, At::Cyl(_)) => At::All,
            (_, at) => at,
        }
    }

    fn text(self) -> String {
        match self {
            At::All => String::new(),
            At::Cyl(cyl) => format!(" at cyl = {}", cyl + 1),
            At::Bank(bank) => format!(" at bank = {}", BANKS[bank]),
        }
    }

    /// Whether it is said of a place of a thing, places being counted from 0 along its axis.
    fn holds(self, kind: Kind, place: usize) -> bool {
        match (self, kind) {
            (At::All, _) => true,
            (At::Cyl(cyl), Kind::Cyl) => cyl == place,
            (At::Bank(bank), Kind::Cyl) => BANK_OF[place] == bank,
            (At::Bank(bank), Kind::Bank) => bank == place,
            _ => false,
        }
    }
}

/// A direction, and which of several tools, hazards or words.
type Said = Vec<(usize, usize, At)>;

#[derive(Debug, Clone)]
struct Thing {
    kind: Kind,
    tools: [Said; 2],
    hazards: [Said; 2],
    /// How the part comes off, and how it goes on: the first that holds counts.
    words: [Vec<At>; 2],
    coats: Vec<At>,
    wires: Vec<At>,
    lockers: Vec<At>,
    sealed: Vec<At>,
    /// How the strip and the build repeat it; a build that nobody wrote is the tool's own.
    each: [usize; 2],
    written: bool,
}

fn counts(way: usize, off: bool) -> bool {
    way == 2 || (way == 0) == off
}

/// How a step is repeated: what may be done for things of a kind. The last has each act once for each bank.
fn each(kind: Kind, choice: usize) -> &'static str {
    match kind {
        Kind::Once => "",
        Kind::Bank => ["", "each bank apart", "each bank together", "split"][choice % 4],
        Kind::Cyl => [
            "",
            "each cyl together",
            "each cyl apart",
            "each bank apart",
            "each cyl of bank together",
            "split",
        ][choice % 6],
    }
}

fn acts(said: &[String], each: &str) -> String {
    let of_bank =
        |bank: &str| said.iter().map(|act| format!("  {act} at bank = {bank}\n")).collect::<String>();
    match each {
        "split" => BANKS.iter().map(|bank| of_bank(bank)).collect(),
        _ => format!("  {each}\n{}", said.iter().map(|act| format!("  {act}\n")).collect::<String>()),
    }
}

fn text(things: &[Thing]) -> String {
    let mut text = String::from(
        "family e \"E\" { origin \"invented for a test\" }\n\
         axis cyl \"cylinder\" = 1 .. 3 in bank \"bank\" left 1, 3, right 2\n\
         supply paste0 \"Paste 0\"\nsupply paste1 \"Paste 1\"\nsupply wire \"Wire\"\nsupply locker \"Locker\"\n\
         supply sealant \"Sealant\"\n",
    );
    for number in 0..3 {
        text += &format!("tool t{number} \"Tool {number}\" {{ kind other }}\n");
        text += &format!(
            "hazard h{number} caution damage {{ hazard \"H{number}.\"  avoid \"Mind {number}.\" }}\n"
        );
    }
    for (index, thing) in things.iter().enumerate() {
        let axis = match thing.kind {
            Kind::Once => "",
            Kind::Cyl => "[cyl]",
            Kind::Bank => "[bank]",
        };
        let handled = |of: usize| {
            let tools = thing.tools[of]
                .iter()
                .map(|(way, tool, at)| format!("  {} with t{tool}{}\n", WAYS[*way], at.text()));
            let hazards = thing.hazards[of]
                .iter()
                .map(|(way, hazard, at)| format!("  hazard h{hazard} {}{}\n", WAYS[*way], at.text()));
            tools.chain(hazards).collect::<String>()
        };
        text += &format!(
            "part p{index}{axis} \"Part {index}\" {{\n  held by s{index}  fate reuse\n{}",
            handled(0)
        );
        for (way, words) in ["comes off", "goes on"].iter().zip(&thing.words) {
            for (number, at) in words.iter().enumerate() {
                text += &format!("  {way} \"Words {number}.\"{}\n", at.text());
            }
        }
        for (number, at) in thing.coats.iter().enumerate() {
            text += &format!("  coat with paste{number} \"face {number}\"{}\n", at.text());
        }
        text += "}\n";
        text += &format!(
            "fasteners s{index}{axis} 2 \"Set {index}\" {{\n  thread M8x1.25  reusable  tighten by feel\n{}",
            handled(1)
        );
        for (clause, places) in [
            ("locked by wire wire", &thing.wires),
            ("locked by thread-locker locker", &thing.lockers),
            ("apply sealant", &thing.sealed),
        ] {
            for at in places {
                text += &format!("  {clause}{}\n", at.text());
            }
        }
        text += "}\n";
        let off = [format!("undo s{index}"), format!("take p{index}")];
        text += &format!(
            "strip off{index} \"Off {index}\" {{\n{}}}\n",
            acts(&off, each(thing.kind, thing.each[0]))
        );
        if thing.written {
            let on =
                [format!("fit p{index}"), format!("start by hand s{index}"), format!("tighten s{index}")];
            text += &format!(
                "build on{index} \"On {index}\" {{\n{}}}\n",
                acts(&on, each(thing.kind, thing.each[1]))
            );
        }
    }
    text
}

fn at() -> impl Strategy<Value = At> {
    prop_oneof![1 => Just(At::All), 3 => (0..3usize).prop_map(At::Cyl), 3 => (0..2usize).prop_map(At::Bank)]
}

fn thing() -> impl Strategy<Value = Thing> {
    let said = || prop::collection::vec((0..3usize, 0..3usize, at()), 0..3);
    let places = |most: usize| prop::collection::vec(at(), 0..most);
    (
        prop_oneof![1 => Just(Kind::Once), 4 => Just(Kind::Cyl), 2 => Just(Kind::Bank)],
        ([said(), said()], [said(), said()]),
        [places(3), places(3)],
        (places(3), places(2), places(2), places(2)),
        [0..6usize, 0..6usize],
        any::<bool>(),
    )
        .prop_map(|(kind, (tools, hazards), words, (coats, wires, lockers, sealed), each, written)| {
            let said = |said: Said| {
                let mut known: Said = Vec::new();
                for (way, what, at) in said {
                    let at = at.fitted(kind);
                    // One thing is said of twice nowhere.
                    if !known.iter().any(|(_, other, _)| *other == what) {
                        known.push((way, what, at));
                    }
                }
                known
            };
            let places = |places: Vec<At>| {
                let mut known: Vec<At> = Vec::new();
                for at in places.into_iter().map(|at| at.fitted(kind)) {
                    // What is said of all positions leaves none for what follows it.
                    if !known.contains(&at) && !known.contains(&At::All) {
                        known.push(at);
                    }
                }
                known
            };
            // Two coats lie on each other, so that each is said of what it is said of.
            Thing {
                kind,
                tools: tools.map(said),
                hazards: hazards.map(said),
                words: words.map(places),
                coats: places(coats),
                wires: places(wires),
                lockers: places(lockers),
                sealed: places(sealed),
                each,
                written,
            }
        })
}

/// The things of an act, each with whether it is the set or the part of its number, and its places.
fn things(procedure: &Procedure, act: &PlannedAct) -> Vec<(bool, usize, Vec<usize>)> {
    let number = |id: &str| id[1..].parse::<usize>().unwrap();
    let all = act.things.iter().filter_map(|Placed { kind, places }| {
        let (set, id) = match kind {
            PlacedKind::Part(id) => (false, &procedure.part(*id).naming.id),
            PlacedKind::Set(id) => (true, &procedure.set(*id).naming.id),
            _ => return None,
        };
        Some((set, number(id), places.iter().map(|Place(place)| *place as usize).collect()))
    });
    all.collect()
}

/// Things that are handled at places, each with the way: off or on.
type Met = (bool, bool, usize, usize);

/// What an act handles: whether off, whether a set, its number, its place.
fn handled(procedure: &Procedure, act: &PlannedAct) -> Vec<Met> {
    let off = match &act.act.deed {
        Deed::Part { work: PartWork::Take, .. } => true,
        Deed::Part { work: PartWork::Fit, .. } => false,
        Deed::Fasten { work: FasteningWork::Undo | FasteningWork::Slacken, .. } => true,
        Deed::Fasten { .. } => false,
        _ => return Vec::new(),
    };
    let all = things(procedure, act).into_iter();
    all.flat_map(|(set, number, places)| places.into_iter().map(move |place| (off, set, number, place)))
        .collect()
}

/// What of a list is said of a thing that is met.
fn said_of<'t>(world: &'t [Thing], list: impl Fn(&'t Thing) -> &'t [Said; 2], met: &Met) -> BTreeSet<usize> {
    let (off, set, number, place) = *met;
    let thing = &world[number];
    let said = list(thing)[usize::from(set)].iter();
    said.filter(|(way, _, at)| counts(*way, off) && at.holds(thing.kind, place))
        .map(|(_, what, _)| *what)
        .collect()
}

/// What stands in a planned step against what is said of the things that it handles. Gives how much was compared.
fn compared(
    world: &[Thing],
    procedure: &Procedure,
    step: &PlannedStep,
    tools: BTreeSet<usize>,
    supplies: BTreeSet<String>,
) -> usize {
    let acts: Vec<(usize, &PlannedAct)> = step
        .lines
        .iter()
        .enumerate()
        .filter_map(|(at, line)| match line {
            PlannedLine::Act(act) => Some((at, act)),
            _ => None,
        })
        .collect();
    let met: Vec<(usize, Met)> = acts
        .iter()
        .flat_map(|(at, act)| handled(procedure, act).into_iter().map(move |met| (*at, met)))
        .collect();
    let wanted: BTreeSet<usize> =
        met.iter().flat_map(|(_, met)| said_of(world, |thing| &thing.tools, met)).collect();
    assert_eq!(tools, wanted, "tools");

    // A hazard stands before the first act that meets it, and only where one does.
    let number = |id: &str| id[1..].parse::<usize>().unwrap();
    let shown: Vec<(usize, usize)> = step
        .lines
        .iter()
        .enumerate()
        .filter_map(|(at, line)| match line {
            PlannedLine::Hazard(hazard) => Some((at, number(&procedure.hazard(*hazard).naming.id))),
            _ => None,
        })
        .collect();
    let mut first: Vec<(usize, usize)> = Vec::new();
    for (at, met) in &met {
        for hazard in said_of(world, |thing| &thing.hazards, met) {
            if !first.iter().any(|(_, known)| *known == hazard) {
                first.push((*at, hazard));
            }
        }
    }
    for (at, hazard) in &first {
        assert!(shown.iter().any(|(line, what)| what == hazard && line < at), "hazard {hazard} before {at}");
    }
    for (_, hazard) in &shown {
        assert!(first.iter().any(|(_, met)| met == hazard), "nobody meets hazard {hazard}");
    }

    // Coats, wires, lockers and sealant lie where they are said to.
    let places_of = |wanted: &dyn Fn(&Deed) -> bool| -> BTreeSet<(usize, usize)> {
        let all = acts.iter().filter(|(_, act)| wanted(&act.act.deed));
        let all = all.flat_map(|(_, act)| things(procedure, act));
        all.flat_map(|(_, number, places)| places.into_iter().map(move |place| (number, place))).collect()
    };
    let said_at = |set: bool, off: bool, list: &dyn Fn(&Thing) -> Vec<At>| -> BTreeSet<(usize, usize)> {
        let here = met.iter().filter(|(_, (way, is_set, ..))| (*way, *is_set) == (off, set));
        let here = here.filter(|(_, (_, _, number, place))| {
            let thing = &world[*number];
            list(thing).iter().any(|at| at.holds(thing.kind, *place))
        });
        here.map(|(_, (_, _, number, place))| (*number, *place)).collect()
    };
    for coat in 0..2 {
        let paste = |deed: &Deed| match deed {
            Deed::Coat { with, .. } => procedure.supply(*with).naming.id == format!("paste{coat}"),
            _ => false,
        };
        let said = said_at(false, false, &|thing| thing.coats.get(coat).copied().into_iter().collect());
        assert_eq!(places_of(&paste), said, "paste {coat}");
    }
    let wire = |closed: bool| move |deed: &Deed| matches!(deed, Deed::Lock { how: Locking::Wire, close, .. } if *close == closed);
    assert_eq!(places_of(&wire(false)), said_at(true, true, &|thing| thing.wires.clone()), "wire cut");
    let tightened: BTreeSet<(usize, usize)> =
        places_of(&|deed| matches!(deed, Deed::Fasten { work: FasteningWork::Tighten, .. }));
    let wires: BTreeSet<(usize, usize)> =
        said_at(true, false, &|thing| thing.wires.clone()).intersection(&tightened).copied().collect();
    assert_eq!(places_of(&wire(true)), wires, "wire closed");
    for (what, wet, list) in [
        (
            "locker",
            (|deed: &Deed| matches!(deed, Deed::Wet { with: Wetting::Locker(_), .. })) as fn(&Deed) -> bool,
            (|thing: &Thing| thing.lockers.clone()) as fn(&Thing) -> Vec<At>,
        ),
        (
            "sealant",
            |deed: &Deed| matches!(deed, Deed::Wet { with: Wetting::Supply(_), .. }),
            |thing: &Thing| thing.sealed.clone(),
        ),
    ] {
        assert_eq!(places_of(&wet), said_at(true, false, &list), "{what}");
    }

    // What is used up is listed by the steps that use it, and by no other.
    let mut used: BTreeSet<String> = BTreeSet::new();
    for (at, name) in [(0, "paste0"), (1, "paste1")] {
        let coated = said_at(false, false, &|thing| thing.coats.get(at).copied().into_iter().collect());
        used.extend((!coated.is_empty()).then(|| name.to_owned()));
    }
    used.extend((!wires.is_empty()).then(|| "wire".to_owned()));
    for (name, list) in [
        ("locker", (|thing: &Thing| thing.lockers.clone()) as fn(&Thing) -> Vec<At>),
        ("sealant", |thing: &Thing| thing.sealed.clone()),
    ] {
        used.extend((!said_at(true, false, &list).is_empty()).then(|| name.to_owned()));
    }
    assert_eq!(supplies, used, "supplies");

    // The words of a part at each of its places: the first that hold there.
    let mut words = 0;
    for (_, act) in &acts {
        let off = match &act.act.deed {
            Deed::Part { work: PartWork::Take, .. } => true,
            Deed::Part { work: PartWork::Fit, .. } => false,
            _ => continue,
        };
        // An act of one part at several places may name each of them.
        let all = things(procedure, act);
        let Some((_, number, _)) = all.first() else { continue };
        let number = *number;
        {
            let places = all.iter().flat_map(|(.., places)| places.iter().copied());
            let thing = &world[number];
            let mut told: Vec<(Option<usize>, Vec<&str>)> = Vec::new();
            for place in places {
                let own = thing.words[usize::from(!off)].iter().position(|at| at.holds(thing.kind, place));
                let name = match thing.kind {
                    Kind::Once => "",
                    Kind::Cyl => ["1", "2", "3"][place],
                    Kind::Bank => ["Left", "Right"][place],
                };
                match told.iter_mut().find(|(known, _)| *known == own) {
                    Some((_, names)) => names.push(name),
                    None => told.push((own, vec![name])),
                }
                words += usize::from(own.is_some());
            }
            let line = |(words, names): &(Option<usize>, Vec<&str>)| {
                let words = format!("Words {}.", (*words)?);
                Some(match told.len() {
                    1 => words,
                    _ => format!("{}: {words}", names.join(" and ")),
                })
            };
            let wanted: Vec<String> = told.iter().filter_map(line).collect();
            let wanted = (!wanted.is_empty()).then(|| wanted.join(" "));
            assert_eq!(act.act.note, wanted, "words of p{number}");
        }
    }
    wanted.len() + first.len() + words + tightened.len()
}

#[test]
fn what_is_said_at_a_position_stands_there_and_nowhere_else() {
    let in_all = Cell::new(0);
    let mut runner = TestRunner::new(Config { cases: 400, ..Config::default() });
    let run = runner.run(&prop::collection::vec(thing(), 1..3), |world| {
        let text = text(&world);
        let (procedure, network, ..) = connected(&text);
        let decisions = decide(&procedure, &network.structure, &Job::default()).value;
        let options = PlanOptions { recorded: false, choosing: Choosing::default() };
        let planned = plan(&procedure, &network, &decisions, options);
        for phase in [Phase::Strip, Phase::Build] {
            for step in planned.phase(phase).into_iter().flat_map(|phase| &phase.steps) {
                let source = step_of(&procedure, &network, step.source);
                let tools = source.tools_at(&step.binding);
                let tools = tools.map(|tool| procedure.tool(tool).naming.id[1..].parse().unwrap()).collect();
                let supplies = source.supplies_at(&step.binding);
                let supplies =
                    supplies.map(|(supply, ..)| procedure.supply(*supply).naming.id.clone()).collect();
                in_all.set(in_all.get() + compared(&world, &procedure, step, tools, supplies));
            }
        }
        Ok(())
    });
    if let Err(TestError::Fail(why, world)) = run {
        panic!("{why}\n{}", text(&world));
    }
    assert!(in_all.get() > 2_000, "little was compared: {}", in_all.get());
}
