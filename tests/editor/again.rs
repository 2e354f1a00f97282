//! What is said of a text after each key is what a first check says of it, field by field; and what was proved is kept only
//! where nothing that it was found from has changed.

use std::path::{Path, PathBuf};

use super::edited;
use crate::diagnostics::Diagnostic;
use crate::network::connect;
use crate::procedure::model::*;
use crate::procedure::{load, weigh};
use crate::source::{Overlay, Sources};
use crate::tests::expected;
use crate::workshop::{Memory, Workshop};

/// What somebody types in a step, letter by letter; `{part}`, `{set}` and `{step}` stand for names of the text.
const IN_A_STEP: [&str; 12] = [
    "  needs {part} off",
    "  needs {set} out",
    "  after {step}",
    "  before {step}",
    "  take {part}",
    "  undo {set}",
    "  time 5 min",
    "  hands 2",
    "  do \"Look at it.\"",
    "  if \"it sticks\" do \"Warm it.\"",
    "  hold \"Seen by a second person.\"",
    "  -- a remark\n",
];

/// The same in a part.
const IN_A_PART: [&str; 6] =
    ["  under {part}", "  held by {set}", "  price 4.50 EUR", "  mass 3 kg", "  fate renew", "\n\n"];

/// The names behind a word that begins declarations.
fn names<'t>(text: &'t str, word: &str) -> Vec<&'t str> {
    let declared = text.lines().filter_map(|line| line.strip_prefix(word)?.split([' ', '[']).next());
    declared.filter(|name| !name.is_empty()).collect()
}

/// What is typed next, and where: behind the brace that opens a step or a part.
fn typed(text: &str, numbers: &mut Numbers) -> (usize, String) {
    let (words, what): (&[&str], &[&str]) =
        if numbers.below(3) == 0 { (&["part "], &IN_A_PART) } else { (&["strip ", "survey "], &IN_A_STEP) };
    let mut places = vec![text.len()];
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let brace = line.find('{').filter(|_| words.iter().any(|word| line.starts_with(word)));
        places.extend(brace.map(|at| start + at + 1));
        start += line.len();
    }
    let mut typed = what[numbers.below(what.len())].to_owned();
    for (place, word) in [("{part}", "part "), ("{set}", "fasteners "), ("{step}", "strip ")] {
        let names = names(text, word);
        if let Some(name) = names.get(numbers.below(names.len())) {
            typed = typed.replace(place, name);
        }
    }
    (places[numbers.below(places.len())], typed)
}

/// Numbers below others, the same in each run.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % end.max(1) as u64) as usize
    }
}

/// Where each declaration of a text begins, and its end.
fn declarations(text: &str) -> Vec<(usize, usize)> {
    let mut starts = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if line.starts_with(|letter: char| letter.is_ascii_lowercase()) {
            starts.push(at);
        }
        at += line.len();
    }
    let ends = starts.iter().copied().skip(1).chain([text.len()]);
    starts.iter().copied().zip(ends).collect()
}

/// Words that stand in the place of others of their kind: another kind of thing, another unit, another number of positions,
/// another name of a value.
const EXCHANGED: [(&str, &str); 12] = [
    ("part ", "temporary "),
    ("strip ", "survey "),
    ("survey ", "strip "),
    ("fasteners ", "part "),
    (" mm", " kg"),
    (" mm", " in"),
    (" kg", " bar"),
    (" Nm", " deg"),
    ("1 .. 2", "1 .. 3"),
    ("1 .. 4", "1 .. 2"),
    (" yes", " perhaps"),
    ("[1]", "[3]"),
];

/// A text in which something larger has changed: the name of a thing where it is declared, or everywhere; what it is; a unit; how
/// many positions there are; where it stands; whether it stands there once, twice or never.
fn reshaped(text: &str, numbers: &mut Numbers) -> String {
    let found = declarations(text);
    let Some(&(start, end)) = found.get(numbers.below(found.len())) else { return text.to_owned() };
    let mut reshaped = text.to_owned();
    match numbers.below(6) {
        0 | 1 => {
            let name = text[start..end].split([' ', '[', '\n']).nth(1).unwrap_or_default().to_owned();
            if name.is_empty() || !name.starts_with(|letter: char| letter.is_ascii_lowercase()) {
                return reshaped;
            }
            let new = format!("{name}_{}", numbers.below(3));
            if numbers.below(2) == 0 {
                return text.replace(&name, &new);
            }
            let at = start + text[start..end].find(&name).unwrap();
            reshaped.replace_range(at..at + name.len(), &new);
        }
        2 | 3 => {
            let (was, is) = EXCHANGED[numbers.below(EXCHANGED.len())];
            let places: Vec<usize> = text.match_indices(was).map(|(at, _)| at).collect();
            if let Some(at) = places.get(numbers.below(places.len())) {
                reshaped.replace_range(*at..at + was.len(), is);
            }
        }
        _ => {
            let (cut, copied) = (numbers.below(4) > 0, numbers.below(4) > 0);
            let (there, _) = found[numbers.below(found.len())];
            let moved = if copied { &text[start..end] } else { "" };
            if there <= start {
                reshaped.replace_range(start..if cut { end } else { start }, "");
                reshaped.insert_str(there, moved);
            } else {
                reshaped.insert_str(there, moved);
                reshaped.replace_range(start..if cut { end } else { start }, "");
            }
        }
    }
    reshaped
}

/// A text as it stands after each of some keys: something typed letter by letter, with slips taken back; or one of the coarser
/// edits.
fn states(shipped: &str, numbers: &mut Numbers) -> Vec<String> {
    let mut states = Vec::new();
    let mut text = shipped.to_owned();
    for _ in 0..1 + numbers.below(2) {
        match numbers.below(4) {
            0 => {
                text = edited(&text, numbers.0);
                states.push(text.clone());
                continue;
            }
            // Such changes follow each other: what a first one has broken is mended or broken further.
            1 => {
                for _ in 0..3 {
                    text = reshaped(&text, numbers);
                    states.push(text.clone());
                }
                continue;
            }
            _ => {}
        }
        let (mut at, typed) = typed(&text, numbers);
        for letter in typed.chars() {
            if numbers.below(9) == 0 {
                text.insert(at, 'x');
                states.push(text.clone());
                text.remove(at);
                states.push(text.clone());
            }
            text.insert(at, letter);
            at += letter.len_utf8();
            states.push(text.clone());
        }
    }
    states
}

fn told(diagnostics: &[Diagnostic]) -> String {
    diagnostics.iter().map(|diagnostic| format!("{diagnostic:#?}\n")).collect()
}

/// Checks so many states of a shipped text again and for the first time; how often what was proved could be said again, and how
/// often what was resolved could be taken up.
fn same_complaints(path: &str, seed: u64, count: usize) -> (usize, usize) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let mut sources = Sources::new();
    let file = sources.read(&path).unwrap();
    let shipped = sources.file(file).text.clone();
    let mut numbers = Numbers(seed);
    let mut memory = Memory::default();
    let mut left = count;
    while left > 0 {
        for text in [shipped.clone()].into_iter().chain(states(&shipped, &mut numbers)).take(left) {
            left -= 1;
            let mut open = Overlay::default();
            open.put(&path, &text);
            let mut workshop = Workshop::remembering(open.clone(), memory);
            let again = workshop.check_again(&path);
            memory = workshop.remembered();
            let first = Workshop::over(open).check(&path);
            assert_eq!(told(&again.diagnostics), told(&first.diagnostics), "{}:\n{text}", path.display());
            let models = (again.value.as_deref(), first.value.as_ref().map(|checked| &checked.procedure));
            assert_eq!(format!("{:?}", models.0), format!("{:?}", models.1), "{}:\n{text}", path.display());
        }
    }
    (memory.said_again, memory.resumed())
}

#[test]
fn a_thousand_edits_checked_again_are_complained_of_as_at_first() {
    let (mut said_again, mut resumed) = (0, 0);
    for (path, seed, count) in [
        ("procedures/first/harbour_pump.rebuild", 11, 330),
        ("procedures/first/coolant_pump.rebuild", 12, 330),
        ("procedures/first/two_cylinder.rebuild", 13, 240),
        ("procedures/first/harbour_pump_e.rebuild", 14, 100),
        ("procedures/cawdale2.rebuild", 15, 25),
    ] {
        let (said, taken_up) = same_complaints(path, seed, count);
        said_again += said;
        resumed += taken_up;
    }
    assert!(said_again > 100, "{said_again}");
    assert!(resumed > 300, "{resumed}");
}

/// What is not compared, as the list of the model's fields has it.
const NOT_COMPARED: &str = "Procedure.differing Procedure.of Procedure.names Sourced.origin Family.edition Family.summary Family.origin \
Family.identify Family.key_data Tool.stand_ins Supply.quantity Supply.open_time Supply.cure_time Hazard.hazard \
Hazard.consequence Hazard.avoidance Hazard.wear Part.way Part.marks Part.sized_with Part.sized_by \
Part.select_from Part.catalogue Part.price Part.supplier FastenerSet.catalogue FastenerSet.price Gauge.unit \
Gauge.dimension Gauge.difference Gauge.stations Gauge.directions Gauge.made Gauge.worn Gauge.best_at_nought \
Gauge.noted_only Gauge.plausible Gauge.instrument Gauge.error Gauge.sold Gauge.sizes Gauge.old_centre \
Look.by Departure.because Step.time Step.refit_time Step.contingencies Repeat.work Act.note Act.told";

/// What stands behind `but` in that list.
fn not_compared() -> Vec<String> {
    let list = include_str!("../../src/procedure/alike.rs");
    let list = &list[list.find("\nstructs! {").unwrap()..list.find("\nvariants! {").unwrap()];
    let mut found = Vec::new();
    for (at, _) in list.match_indices(" but {") {
        let before = &list[..at];
        let open = before.rfind('{').unwrap();
        let name = before[..open].split_whitespace().last().unwrap().split('<').next().unwrap();
        let fields = &list[at + " but {".len()..];
        let fields = fields[..fields.find('}').unwrap()].split(',').map(str::trim);
        found.extend(fields.filter(|field| !field.is_empty()).map(|field| format!("{name}.{field}")));
    }
    found
}

#[test]
fn what_is_not_compared_is_what_is_left_out_here() {
    let known: Vec<&str> = NOT_COMPARED.split_whitespace().collect();
    assert_eq!(not_compared(), known, "put it into `bared` too");
}

/// The procedure without all that is not compared between two readings.
fn bared(procedure: &Procedure) -> Procedure {
    let mut bared = procedure.clone();
    bared.differing.clear();
    bared.of = None;
    if let Some(family) = &mut bared.family {
        family.edition = None;
        family.summary = None;
        family.origin = None;
        family.identify.clear();
        family.key_data.clear();
    }
    for tool in bared.tools.iter_mut() {
        tool.stand_ins.clear();
    }
    for supply in bared.supplies.iter_mut() {
        (supply.quantity, supply.open_time, supply.cure_time) = (None, None, None);
    }
    for hazard in bared.hazards.iter_mut() {
        (hazard.hazard, hazard.consequence, hazard.avoidance) = Default::default();
        hazard.wear.clear();
    }
    for part in bared.parts.iter_mut() {
        part.way = Cases::default();
        part.marks = Seldom::new();
        part.sized_with = Seldom::new();
        part.sized_by = Seldom::new();
        part.select_from = None;
        part.catalogue = Cases::default();
        (part.price, part.supplier) = (None, None);
    }
    for set in bared.sets.iter_mut() {
        set.catalogue = Cases::default();
        set.price = None;
        set.tightening.0.iter_mut().for_each(|(said, _)| said.origin = None);
    }
    for member in bared.joints.iter_mut().flat_map(|joint| &mut joint.members) {
        member.tightening.0.iter_mut().for_each(|(said, _)| said.origin = None);
    }
    for gauge in bared.gauges.iter_mut() {
        (gauge.unit, gauge.dimension, gauge.plausible, gauge.instrument) = (None, None, None, None);
        gauge.stations.clear();
        gauge.directions.clear();
        (gauge.made, gauge.worn) = (Cases::default(), Cases::default());
        (gauge.error, gauge.sold, gauge.sizes) = (None, None, None);
        (gauge.difference, gauge.best_at_nought, gauge.noted_only, gauge.old_centre) = Default::default();
    }
    for look in bared.looks.iter_mut() {
        look.by = None;
    }
    for step in bared.steps.iter_mut() {
        (step.time, step.refit_time) = (None, None);
        step.contingencies = Seldom::new();
        step.repeats.iter_mut().for_each(|repeat| repeat.work.clear());
        step.departures.iter_mut().for_each(|departure| departure.because.clear());
        for line in &mut step.lines {
            match line {
                StepLine::Act(act) => (act.note, act.told) = Default::default(),
                StepLine::Hold(hold, _) => hold.what.clear(),
                StepLine::Hazard(..) => {}
            }
        }
    }
    bared
}

/// Every procedure that has something wrong with its order or its joints, and those that are shipped.
fn procedures() -> Vec<PathBuf> {
    let mut paths = expected::files(&expected::folder("diagnostics/network"), "rebuild");
    paths.extend(expected::files(&expected::folder("diagnostics/procedure"), "rebuild"));
    paths.extend(expected::files(&expected::folder("../procedures"), "rebuild"));
    paths.extend(expected::files(&expected::folder("../procedures/first"), "rebuild"));
    paths
}

#[test]
fn what_is_not_compared_bears_on_no_complaint_about_order_or_joints() {
    let mut proved = 0;
    for path in procedures() {
        let loaded = load(&mut Sources::new(), &path);
        if loaded.has_errors() {
            continue;
        }
        let Some(procedure) = loaded.value else { continue };
        let found = |procedure: &Procedure| {
            let mut found = weigh(procedure);
            found.extend(connect(procedure).diagnostics);
            told(&found)
        };
        assert_eq!(found(&bared(&procedure)), found(&procedure), "{}", path.display());
        proved += 1;
    }
    assert!(proved > 100, "{proved}");
}
