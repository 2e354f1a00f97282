//! No two outputs contradict each other, whatever the record says: jobs drawn at random, from a fixed seed, on an invented
//! pump.

use std::fs;
use std::path::Path;

use benchleaf::decide::Verdict;
use benchleaf::model::{Deed, PartWork, Phase, Place};
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
    let files = Memory::new().with("harbour_pump.rebuild", &procedure).with("job.yaml", record);
    let mut workshop = Workshop::over(files);
    let choosing = Choosing { as_written: true, ..Choosing::default() };
    let request =
        Request { record: Some(Path::new("job.yaml")), choosing, ..Request::of("harbour_pump.rebuild") };
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
        name == thing || name.strip_prefix(thing).is_some_and(|rest| rest.starts_with(['.', ':', ',', ';']))
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
                    !renewed || bought == part.count,
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
                    !some || steps.contains(&format!("{bought} NEW of {}", set.count)),
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
