//! No two outputs contradict each other, whatever the record says: jobs drawn at random, from a fixed seed, on an invented
//! pump.

use std::fs;
use std::path::Path;

use benchleaf::decide::Verdict;
use benchleaf::model::{Deed, PartWork, Phase, Pieces, Place};
use benchleaf::plan::{PlacedKind, PlannedLine, PlannedStep, Standing};
use benchleaf::sheet::plain_text;
use benchleaf::{Choosing, JobView, Memory, PacketOptions, Request, Workshop};

const PUMP: &str = "procedures/first/harbour_pump.rebuild";
const STRIP: [&str; 10] = [
    "drain_hoses",
    "hoses_off",
    "belt_off",
    "pump_off",
    "cover_off",
    "impeller_out",
    "pulley_off",
    "ring_out",
    "shaft_out",
    "seal_out",
];

/// Numbers that look like chance and are the same each time: a linear congruence with Knuth's constants for 64 bits, from
/// memory.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    fn one_in(&mut self, end: u64) -> bool {
        self.below(end) == 0
    }
}

/// A record of what may be: steps done, looks, notes, lengths, orders.
fn record(dice: &mut Dice) -> String {
    let mut text = "job: \"1\"\nprocedure: harbour_pump.rebuild\n".to_owned();
    let done = [0, 4, 9, 10][dice.below(4) as usize];
    text += "done:\n";
    for step in &STRIP[..done] {
        text += &format!("  {step}: {{by: JS, date: 2026-03-05}}\n");
    }
    if done == 9 && dice.one_in(2) {
        text += "not_done:\n  seal_out: {because: it fell out, by: JS}\n";
    }
    text += "looks:\n  as_found:\n";
    for (look, bad) in [("cover_score", "scored"), ("shaft_track", "grooved")] {
        match dice.below(3) {
            0 => text += &format!("    {look}: smooth\n"),
            1 => text += &format!("    {look}: {bad}\n"),
            _ => {}
        }
    }
    text += "notes:\n  - {about: engine, says: as it is}\n";
    for (thing, count) in [("cover_screws", 4), ("foot_bolts", 3), ("hoses", 2)] {
        if dice.one_in(2) {
            text += &format!("  - {{about: {thing}, found: {{count: {}}}}}\n", dice.below(count + 1));
        }
    }
    if dice.one_in(3) {
        text += "  - {about: cover_screws B, found: {condition: sheared}}\n";
        if dice.one_in(2) {
            text += "settled:\n  cover_screws B: {renew: drilled out}\n";
        }
    }
    if dice.one_in(2) {
        text += "orders:\n  belt: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        if dice.one_in(2) {
            text += "  cover_screws: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        }
    }
    text
}

fn with_view(record: &str, check: impl FnOnce(&Workshop, &JobView)) {
    let procedure = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(PUMP)).unwrap();
    with_view_of(("harbour_pump.rebuild", &procedure), record, check);
}

fn with_view_of((name, procedure): (&str, &str), record: &str, check: impl FnOnce(&Workshop, &JobView)) {
    let files = Memory::new().with(name, procedure).with("job.yaml", record);
    let mut workshop = Workshop::over(files);
    let choosing = Choosing { as_written: true, ..Choosing::default() };
    let request = Request { record: Some(Path::new("job.yaml")), choosing, ..Request::of(name) };
    let view = workshop.job(&request).value.unwrap_or_else(|| panic!("nothing is wrong with it\n{record}"));
    check(&workshop, &view);
}

fn sheet(workshop: &Workshop, view: &JobView, phase: Phase, name: &str) -> String {
    let kinds = benchleaf::sheet_kinds(phase).into_iter().filter(|kind| kind.name() == name);
    let options = PacketOptions { sheets: kinds.collect(), ..PacketOptions::of(phase) };
    plain_text(&view.packet(workshop, &options))
}

/// How many pieces a table with the title in the column `title` and the pieces in the column `pieces` tells of a thing.
fn told(table: &str, thing: &str, (title, pieces): (usize, usize)) -> u32 {
    let rows = table.lines().filter(|line| line.starts_with('|'));
    let cells =
        rows.map(|row| row.split(" | ").map(|cell| cell.trim_matches(['|', ' '])).collect::<Vec<_>>());
    let of_it = cells.filter(|cells| {
        let name = cells.get(title).copied().unwrap_or_default();
        name == thing
            || name
                .strip_prefix(thing)
                .is_some_and(|rest| rest.starts_with(['.', ':', ',', ';']) || rest.starts_with(" for "))
    });
    of_it.filter_map(|cells| cells.get(pieces)?.parse::<u32>().ok()).sum()
}

#[test]
fn what_is_renewed_is_new_on_every_sheet() {
    let mut dice = Dice(18);
    let (mut new, mut lists) = (0, 0);
    for _ in 0..40 {
        let record = record(&mut dice);
        with_view(&record, |workshop, view| {
            let [steps, kit, orders, ledger] =
                ["steps", "kit", "orders", "ledger"].map(|name| sheet(workshop, view, Phase::Build, name));
            for ((id, place), decision) in &view.decisions.fates {
                let part = view.procedure.part(*id);
                let title = part.naming.title.as_str();
                let renewed = matches!(decision.verdict, Verdict::Renew { .. });
                let bought = told(&orders, title, (1, 0));
                assert_eq!(*place, Place(0), "the pump has no axes");
                let wanted = told(&kit, title, (1, 2));
                assert_eq!(wanted, bought, "{title}: kit and order list\n{record}\n{kit}\n{orders}");
                assert!(
                    !renewed || Pieces::from(bought) == view.procedure.part_pieces(*id, &[*place]),
                    "{title}: verdict and order list\n{record}\n{orders}"
                );
                let row =
                    ledger.lines().find(|line| line.contains(&format!("| {title}"))).unwrap_or_default();
                assert_eq!(row.contains("new"), bought > 0, "{title}: {row}\n{record}");
                if renewed {
                    let name = within_a_sentence(title);
                    let many = format!("new {name}s");
                    let told = steps.contains(&format!("new {name}")) || steps.contains(&many);
                    assert!(told, "{title} is new in its step\n{record}\n{steps}");
                    new += 1;
                }
            }
            for (id, set) in view.procedure.sets.numbered() {
                let title = set.naming.title.as_str();
                let (bought, wanted) = (told(&orders, title, (1, 0)), told(&kit, title, (1, 2)));
                assert_eq!(wanted, bought, "{title}: kit and order list\n{record}\n{kit}\n{orders}");
                let row =
                    ledger.lines().find(|line| line.contains(&format!("| {title}"))).unwrap_or_default();
                assert_eq!(row.contains("new"), bought > 0, "{title}: {row}\n{record}");
                let renewed = matches!(view.decisions.sets[&(id, Place(0))].verdict, Verdict::Renew { .. });
                let some = bought > 0 && !renewed;
                assert!(
                    !some || steps.contains(&format!("{bought} NEW of {}", set.count.at_a_place())),
                    "{title}\n{record}\n{steps}"
                );
                lists += usize::from(bought > 0);
            }
        });
    }
    assert!(new > 100 && lists > 20, "the jobs have something to tell: {new}, {lists}");
}

/// A title within a sentence, as far as the pump has such.
fn within_a_sentence(title: &str) -> String {
    let mut letters = title.chars();
    letters
        .next()
        .map(|first| first.to_lowercase().collect::<String>() + letters.as_str())
        .unwrap_or_default()
}

#[test]
fn what_the_front_sheet_lets_go_has_nothing_open() {
    let mut dice = Dice(19);
    let (mut free, mut held) = (0, 0);
    for _ in 0..40 {
        let record = record(&mut dice);
        with_view(&record, |workshop, view| {
            for phase in [Phase::Strip, Phase::Build] {
                let front = sheet(workshop, view, phase, "front");
                let plan = view.plan.phase(phase).unwrap();
                let waits =
                    plan.steps.iter().filter(|step| matches!(step.standing, Standing::Held(_))).count();
                let nothing = front.contains("Nothing is held");
                assert!(!nothing || waits == 0, "{record}\n{front}");
                assert_eq!(waits > 0, front.contains("Holds. "), "{record}\n{front}");
                let earlier = view.plan.phases.iter().filter(|earlier| earlier.phase < phase);
                let left =
                    |step: &&PlannedStep| matches!(step.standing, Standing::Present | Standing::Held(_));
                let behind = earlier.flat_map(|earlier| &earlier.steps).filter(left).count();
                assert!(!nothing || behind == 0, "an earlier phase is not done\n{record}\n{front}");
                let follows = record.contains("orders:");
                for step in plan.steps.iter().filter(|step| step.standing == Standing::Present) {
                    for line in &step.lines {
                        let PlannedLine::Act(act) = line else { continue };
                        let Deed::Part { work: PartWork::Fit, .. } = act.act.deed else { continue };
                        for placed in &act.things {
                            let PlacedKind::Part(id) = placed.kind else { continue };
                            for place in placed.places.iter().filter(|_| follows) {
                                let decision = &view.decisions.fates[&(id, *place)];
                                assert!(decision.holds.is_empty(), "{:?}\n{record}", decision.holds);
                                free += 1;
                            }
                        }
                    }
                }
                held += waits;
                // Numbers are those of the steps of this job, from 1 on, on the sheets as on the screen.
                let numbers: Vec<usize> = plan.steps.iter().filter_map(|step| step.number).collect();
                assert!(
                    numbers.windows(2).all(|pair| pair[0] == pair[1] || pair[0] + 1 == pair[1]),
                    "{numbers:?}"
                );
                assert_eq!(numbers.first(), Some(&1));
            }
        });
    }
    assert!(free > 20 && held > 20, "both are met: {free}, {held}");
}

/// A block with two cylinders, all of it invented: readings with sizes, what goes in by place, fasteners with lengths.
const ENGINE: &str = "family twin \"Twin\" { origin \"invented for tests\" }
axis cyl = 1 .. 2
section top \"Top\"
part head \"Head\" { held by head_bolts  fate by flatness }
part gasket \"Gasket\" { kind gasket  under head  fate renew }
part piston[cyl] \"Piston\" { under head, gasket  worn in  select from \"standard, 0.25 mm over, 0.50 mm over\"
    fate renew when wear = bore, else by skirt_look }
part rings[cyl] \"Ring set\" { within piston  sized with piston  fate renew }
part block \"Block\" { under head, gasket, piston  fate send \"bore\" when wear = bore, renew when wear = scrap, else reuse }
fasteners head_bolts 4 \"Head bolt\" { thread M8x1.25  length 40 mm  reusable  tighten by feel }
gauge bore[cyl] \"Bore\" { of block  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn 80.10 mm from \"invented\"
    instrument \"bore gauge\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
gauge skirt[cyl] \"Skirt\" { of piston[cyl]  unit mm  made 79.94 mm .. 79.96 mm from \"invented\" }
gauge play[cyl] \"Play\" { of piston[cyl]  is bore[cyl] - skirt[cyl]  made 0.04 mm .. 0.08 mm from \"invented\" }
gauge wear \"Wear\" { of block  is max(bore) - 80.00 mm
    bands keep 0 mm .. 0.10 mm, bore 0.10 mm .. 0.45 mm, scrap above 0.45 mm from \"invented\" }
gauge flatness \"Flatness\" { of head  unit mm  instrument \"straight edge\" resolution 0.01 mm
    bands good 0 mm .. 0.08 mm, skim 0.08 mm .. 0.20 mm, renew above 0.20 mm from \"invented\" }
look skirt_look[cyl] \"Skirt\" { of piston[cyl]  results good, scored }
strip head_off \"Head off\" { undo head_bolts  take head  take gasket  gauge flatness }
strip pistons_out \"Piston out\" { each cyl together  take piston  take rings }
strip block_down \"Block down\" { take block }
survey measure \"Measure\" { gauge bore, skirt  look skirt_look }
survey send_head \"Send the head out\" { when flatness = skim  after measure  send head }
survey head_back \"Head back\" { when flatness = skim  receive head  gauge flatness  accept head }
survey send_block \"Send the block out\" { when wear = bore  after measure  send block }
survey block_back \"Block back\" { when wear = bore  receive block  gauge bore  accept block }
";

/// A record of the twin: what it is bored to already, readings about it, lengths, counts, a step half done or out of order,
/// extra work, goods.
fn record_of_the_twin(dice: &mut Dice) -> String {
    let mut text = "job: \"1\"\nprocedure: twin.rebuild\n".to_owned();
    let present = [0.0, 0.25][dice.below(2) as usize];
    if present > 0.0 {
        text += "present: {bore: 0.25 mm}\n";
    }
    text += "readings:\n  as_found:\n";
    for cyl in 1..=2 {
        let bore = 80.0 + present + [0.015, 0.06, 0.16][dice.below(3) as usize];
        text +=
            &format!("    \"bore[{cyl}]\": {bore:.3} mm\n    \"skirt[{cyl}]\": {:.3} mm\n", 79.95 + present);
    }
    text += &format!("    flatness: {} mm\n", ["0.02", "0.12", "0.30"][dice.below(3) as usize]);
    text += "looks:\n  as_found:\n";
    for cyl in 1..=2 {
        let look = if dice.one_in(3) { "scored" } else { "good" };
        text += &format!("    \"skirt_look[{cyl}]\": {look}\n");
    }
    match dice.below(4) {
        0 => {}
        1 => {
            text += "done:\n  head_off: {by: HK, date: 2026-03-05}\n  \"pistons_out[2]\": {by: HK, date: 2026-03-05}\n";
        }
        2 => text += "done:\n  pistons_out: {by: HK, date: 2026-03-05, out_of_order: no head on it}\n",
        _ => {
            text +=
                "done:\n  head_off: {by: HK, date: 2026-03-05}\n  pistons_out: {by: HK, date: 2026-03-05}\n";
        }
    }
    text += "notes:\n  - {about: engine, says: as it is}\n";
    if dice.one_in(2) {
        text += &format!("  - {{about: head_bolts, found: {{count: {}}}}}\n", dice.below(5));
    }
    if dice.one_in(3) {
        text += "  - {about: \"piston[2]\", found: {came: without}}\n";
    }
    if dice.one_in(2) {
        text += "lengths:\n  head_bolts: {B: 45 mm}\n";
    }
    if dice.one_in(2) {
        text += "extra:\n  parts: {insert: {title: M8 insert, count: 2}}\n  steps:\n    fit_insert: {title: Fit an insert, \
                 after: fit:gasket, do: [Wind it in.], parts: [insert]}\n";
    }
    if dice.one_in(2) {
        text += "orders:\n  gasket: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        if dice.one_in(2) {
            text += "  insert: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        }
    }
    // What is named must be there.
    if text.contains("extra:") {
        text
    } else {
        text.replace("  insert: {ordered: 2026-03-05, arrived: 2026-03-06}\n", "")
    }
}

#[test]
fn a_job_with_places_sizes_and_extra_work_agrees() {
    let mut dice = Dice(20);
    let (mut sized, mut own, mut held) = (0, 0, 0);
    for _ in 0..30 {
        let record = record_of_the_twin(&mut dice);
        with_view_of(("twin.rebuild", ENGINE), &record, |workshop, view| {
            let [steps, kit, orders, ledger, front] = ["steps", "kit", "orders", "ledger", "front"]
                .map(|name| sheet(workshop, view, Phase::Build, name));
            for (id, part) in view.procedure.parts.numbered() {
                let title = part.naming.title.as_str();
                let (bought, wanted) = (told(&orders, title, (1, 0)), told(&kit, title, (1, 2)));
                assert_eq!(wanted, bought, "{title}: kit and order list\n{record}\n{kit}\n{orders}");
                let places = view.procedure.places(&part.axes);
                let renewed = places.filter(|place| {
                    matches!(view.decisions.fates[&(id, *place)].verdict, Verdict::Renew { .. })
                });
                let renewed: Vec<Place> = renewed.collect();
                assert_eq!(
                    bought,
                    part.count.at_a_place().times(renewed.len()).settled().unwrap(),
                    "{title}: verdict and order list\n{record}\n{orders}"
                );
                let row =
                    ledger.lines().find(|line| line.contains(&format!("| {title}"))).unwrap_or_default();
                assert_eq!(row.contains("new"), bought > 0, "{title}: {row}\n{record}");
                for place in renewed {
                    let Verdict::Renew { size } = view.decisions.fates[&(id, place)].verdict else {
                        continue;
                    };
                    if let Some(size) = size {
                        let size = format!("size {}", size.printed());
                        assert!(
                            orders.contains(&size) && steps.contains(&size),
                            "{title} {size}\n{record}\n{steps}"
                        );
                        sized += 1;
                    }
                }
            }
            // Rings go onto the pistons that are there: theirs is the size that the bore is, or is machined to.
            let size = |title: &str, place: u32| {
                let id = view.procedure.parts.numbered().find(|(_, part)| part.naming.id == title).unwrap().0;
                match view.decisions.fates[&(id, Place(place))].verdict {
                    Verdict::Renew { size } => size.map(|size| size.printed()),
                    _ => None,
                }
            };
            let bored = record.contains("present:");
            for place in 0..2 {
                assert!(
                    !bored || size("rings", place).is_some(),
                    "rings of an engine bored before\n{record}"
                );
                let piston = size("piston", place);
                assert!(piston.is_none() || piston == size("rings", place), "{record}");
            }
            if record.contains("extra:") {
                assert_eq!(told(&orders, "M8 insert", (1, 0)), 2, "{orders}");
                assert!(kit.contains("| M8 insert | 2"), "{kit}");
                assert!(ledger.contains("M8 insert:\u{a0}2"), "{ledger}");
                let came = record.contains("  insert: {ordered");
                let waits = record.contains("orders:") && !came;
                assert_eq!(front.contains("M8 insert: not in hand"), waits, "{record}\n{front}");
                own += 1;
            }
            for phase in [Phase::Strip, Phase::Survey, Phase::Build] {
                let front = sheet(workshop, view, phase, "front");
                let plan = view.plan.phase(phase).unwrap();
                let waits =
                    plan.steps.iter().filter(|step| matches!(step.standing, Standing::Held(_))).count();
                assert!(!front.contains("Nothing is held") || waits == 0, "{record}\n{front}");
                held += waits;
            }
            // A casting that the machine-shop order holds stays here.
            let survey = view.plan.phase(Phase::Survey).unwrap();
            let machining = sheet(workshop, view, Phase::Survey, "machining");
            let sends = survey.steps.iter().filter(|step| step.key.id(&view.procedure).starts_with("send"));
            let waits = sends.filter(|step| matches!(step.standing, Standing::Held(_))).count();
            assert_eq!(machining.matches("HOLD.").count(), waits, "{record}\n{machining}");
        });
    }
    assert!(sized > 20 && own > 8 && held > 20, "the jobs have something to tell: {sized}, {own}, {held}");
}
