//! No two outputs contradict each other, whatever the record says: jobs drawn at random, from a fixed seed, on an invented
//! pump.

use std::fs;
use std::path::Path;

use benchleaf::decide::{Verdict, machine_shop_order, order_list, part_goes_in, set_goes_in, verdict_text};
use benchleaf::model::{Deed, PartWork, Phase, Pieces, Place};
use benchleaf::plan::{PlacedKind, PlannedLine, PlannedStep, Standing};
use benchleaf::sheet::plain_text;
use benchleaf::{Choosing, JobView, Memory, PacketOptions, Request, Workshop};

use super::random_job::{Dice, ENGINE, PUMP, files, record, record_of_the_twin};

mod steps;

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
    // `2 ×` in a list of goods, `2` elsewhere.
    of_it
        .filter_map(|cells| cells.get(pieces)?.trim_end_matches(['×', '\u{a0}', ' ']).parse::<u32>().ok())
        .sum()
}

/// The same of a list that tells both in one cell: `2 Hose, 0612`.
fn told_in_one(table: &str, thing: &str) -> u32 {
    let rows = table.lines().filter(|line| line.starts_with('|'));
    let cells = rows.flat_map(|row| row.split(" | ").map(|cell| cell.trim_matches(['|', ' '])));
    cells.filter_map(|cell| pieces_of(cell, thing)).sum()
}

/// The same of the handover's list of what was renewed.
fn told_renewed(handover: &str, thing: &str) -> u32 {
    let list = handover.lines().skip_while(|line| !line.starts_with("| Renewed:"));
    let list = list.take_while(|line| line.starts_with('|'));
    told_in_one(&list.collect::<Vec<_>>().join("\n"), thing)
}

/// How many pieces words like `2 Hose, 0612` or `2 × Hose, 0612` tell of a thing.
fn pieces_of(words: &str, thing: &str) -> Option<u32> {
    let words = words.replace('\u{a0}', " ").replacen(" × ", " ", 1);
    let (pieces, name) = words.split_once(' ')?;
    let rest = name.strip_prefix(thing)?;
    let whole = rest.is_empty() || rest.starts_with(['.', ':', ',', ';']) || rest.starts_with(" for ");
    if whole { pieces.parse().ok() } else { None }
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
                let wanted = told_in_one(&kit, title);
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
                let (bought, wanted) = (told(&orders, title, (1, 0)), told_in_one(&kit, title));
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
                let (bought, wanted) = (told(&orders, title, (1, 0)), told_in_one(&kit, title));
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

/// A job drawn at random with all of its files, as they stand in memory.
fn with_files(files: &[(&'static str, String)], check: impl FnOnce(&Workshop, &JobView)) {
    let memory = files.iter().fold(Memory::new(), |memory, (name, text)| memory.with(*name, text.clone()));
    let mut workshop = Workshop::over(memory);
    let choosing = Choosing { as_written: true, ..Choosing::default() };
    let opened = workshop.job(&Request { choosing, ..Request::of("job.yaml") });
    let view = opened.value.unwrap_or_else(|| panic!("{:?}\n{files:?}", opened.diagnostics));
    check(&workshop, &view);
}

/// What a line of a list has to hold for, on the desk sheets as on the screen.
#[test]
fn lists_verdict_and_handover_tell_the_same_pieces() {
    let mut dice = Dice(21);
    let (mut renewed, mut held, mut variants, mut own) = (0, 0, 0, 0);
    for _ in 0..60 {
        let drawn = files(&mut dice);
        let record = drawn.last().unwrap().1.clone();
        variants += usize::from(record.contains("twin_e"));
        own += usize::from(record.contains("changes:"));
        with_files(&drawn, |workshop, view| {
            let (procedure, decisions) = (&view.procedure, &view.decisions);
            let [steps, kit, orders, ledger] =
                ["steps", "kit", "orders", "ledger"].map(|name| sheet(workshop, view, Phase::Build, name));
            let [estimate, machining] =
                ["estimate", "machining"].map(|name| sheet(workshop, view, Phase::Survey, name));
            let handover = sheet(workshop, view, Phase::Start, "handover");
            let verdict = verdict_text(procedure, &view.job, decisions, Some(&[]));
            let lists = order_list(procedure, &view.job, decisions);
            let work = machine_shop_order(procedure, &view.job, decisions);
            let things = procedure.parts.numbered().map(|(id, part)| {
                let places: Vec<Place> = procedure.places(&part.axes).collect();
                let pieces = places.iter().map(|place| {
                    let all = procedure.part_pieces(id, &[*place]);
                    part_goes_in(decisions, id, *place).new_pieces(all, 1).settled().unwrap()
                });
                (part.naming.title.clone(), pieces.sum::<u32>())
            });
            let sets = procedure.sets.numbered().map(|(id, set)| {
                let places: Vec<Place> = procedure.places(&set.axes).collect();
                let pieces = places.iter().map(|place| {
                    let all = procedure.set_pieces(id, &[*place]);
                    set_goes_in(decisions, id, *place).new_pieces(all, 1).settled().unwrap()
                });
                (set.naming.title.clone(), pieces.sum::<u32>())
            });
            for (title, new) in things.chain(sets) {
                let on = |sheet: &str, columns| told(sheet, &title, columns);
                assert_eq!(on(&orders, (1, 0)), new, "{title}: verdict and order list\n{record}\n{orders}");
                assert_eq!(told_in_one(&kit, &title), new, "{title}: verdict and kit\n{record}\n{kit}");
                assert_eq!(
                    told_renewed(&handover, &title),
                    new,
                    "{title}: verdict and handover\n{record}\n{handover}"
                );
                let row = ledger.lines().find(|line| line.contains(&format!("| {title}")));
                let row = row.unwrap_or_else(|| panic!("{title} is in the ledger\n{record}\n{ledger}"));
                assert_eq!(row.contains("new"), new > 0, "{title}: {row}\n{record}");
                let name = within_a_sentence(&title);
                let plural = format!("{name}s");
                let said = [
                    format!("new {name}"),
                    format!("{new} NEW of"),
                    ": NEW".to_owned(),
                    format!("{new} new {plural}"),
                ];
                let told = said.iter().any(|said| steps.contains(said));
                assert!(new == 0 || told, "{title} is new in its step\n{record}\n{steps}");
                renewed += new;
            }
            // What a list holds, it holds on paper and on the screen, and says for what.
            let waiting = lists.lines.iter().filter(|line| !line.waits_for.is_empty()).count();
            assert_eq!(orders.matches("HOLD: first ").count(), waiting, "{record}\n{orders}");
            assert!(!orders.contains("HOLD: first ."), "{record}\n{orders}");
            let out = work.iter().filter(|line| !line.waits_for.is_empty()).count();
            assert_eq!(
                machining.matches("HOLD. Do not start. Waits for ").count(),
                out,
                "{record}\n{machining}"
            );
            assert!(!machining.contains("Waits for ."), "{record}\n{machining}");
            assert_eq!(verdict.matches("HOLD: ").count(), waiting + out, "{record}\n{verdict}");
            held += waiting + out;
            for line in &work {
                assert!(estimate.contains(line.title.as_str()), "{}\n{record}\n{estimate}", line.title);
                assert!(handover.contains(line.title.as_str()), "{}\n{record}\n{handover}", line.title);
            }
            // Counts of steps are those of the plan, phase by phase, and add up.
            for plan in &view.plan.phases {
                let front = sheet(workshop, view, plan.phase, "front");
                let count = |which: &dyn Fn(&Standing) -> bool| {
                    let mut numbers: Vec<Option<usize>> = plan
                        .steps
                        .iter()
                        .filter(|step| which(&step.standing))
                        .map(|step| step.number)
                        .collect();
                    numbers.dedup();
                    numbers.len()
                };
                let left = count(&|standing| matches!(standing, Standing::Present | Standing::Held(_)));
                let done = count(&|standing| *standing == Standing::Done);
                let passed = count(&|standing| matches!(standing, Standing::NotDone(_)));
                let work =
                    front.lines().find(|line| line.contains("Work:") || line.contains("Work ")).unwrap_or("");
                let words = if left == 1 { "1 step".to_owned() } else { format!("{left} steps") };
                assert!(work.contains(&words), "{words}: {work}\n{record}");
                assert_eq!(work.contains(&format!(", {done} done")), done > 0, "{work}\n{record}");
                assert_eq!(
                    work.contains(&format!(", {passed} not to be done")),
                    passed > 0,
                    "{work}\n{record}"
                );
                // Every note stands on some sheet.
            }
            for note in &view.job.notes {
                let Some(says) = &note.says else { continue };
                assert!(handover.contains(says.as_str()), "{says}\n{handover}");
            }
        });
    }
    assert!(renewed > 300 && held > 20, "the jobs have something to tell: {renewed}, {held}");
    assert!(variants > 10 && own > 5, "some of them by what differs: {variants}, {own}");
}

#[test]
fn each_new_piece_of_a_shipped_job_is_new_on_order_list_kit_ledger_and_handover() {
    let mut compared = 0;
    for job in ["brackwater3.ready", "cawdale2.ready", "hallowmere4.bodged.ready", "skerryvane180.ready"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("procedures/{job}.job.yaml"));
        let mut workshop = Workshop::new();
        let view = workshop.job(&Request::of(&path)).value.unwrap();
        let (procedure, decisions) = (&view.procedure, &view.decisions);
        let plain = |phase, name| {
            sheet(&workshop, &view, phase, name).replace('\u{a0}', " ").replace('\u{2011}', "-")
        };
        let [kit, orders, ledger] = ["kit", "orders", "ledger"].map(|name| plain(Phase::Build, name));
        let handover = plain(Phase::Start, "handover");
        let parts = procedure.parts.numbered().map(|(id, part)| {
            let pieces = procedure.places(&part.axes).map(|place| {
                let all = procedure.part_pieces(id, &[place]);
                part_goes_in(decisions, id, place).new_pieces(all, 1).settled()
            });
            (&part.naming.title, pieces.sum::<Option<u32>>())
        });
        let sets = procedure.sets.numbered().map(|(id, set)| {
            let pieces = procedure.places(&set.axes).map(|place| {
                let all = procedure.set_pieces(id, &[place]);
                set_goes_in(decisions, id, place).new_pieces(all, 1).settled()
            });
            (&set.naming.title, pieces.sum::<Option<u32>>())
        });
        let things: Vec<(&String, Option<u32>)> = parts.chain(sets).collect();
        for (title, new) in &things {
            // Where a longer title begins with it a list can't tell them apart for this test.
            let longer = |other: &&String| *other != *title && other.starts_with(title.as_str());
            let Some(new) = new.filter(|_| !things.iter().any(|(other, _)| longer(other))) else { continue };
            // What has come stands in one cell, what is to come in a row.
            let ordered = told(&orders, title, (1, 0)) + told_in_one(&orders, title);
            assert_eq!(ordered, new, "{job}: {title}: verdict and order list");
            assert_eq!(told_in_one(&kit, title), new, "{job}: {title}: verdict and kit");
            assert_eq!(told_renewed(&handover, title), new, "{job}: {title}: verdict and handover");
            // What stays on its part all the time has no row of its own.
            let row = ledger.lines().find(|line| line.contains(&format!("| {title}")));
            let told_new = row.is_some_and(|row| row.contains("new"));
            assert!(new == 0 || told_new, "{job}: {title}: {row:?}");
            compared += new;
        }
    }
    assert!(compared > 150, "{compared}");
}
