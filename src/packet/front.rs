//! The front sheet: which job, which engine, what is decided and what is not, what can hurt, how long it takes. Longer than
//! most: it says a little of everything that the other sheets say, block by block.

use std::collections::BTreeMap;

use super::bench::Bench;
use super::bench_notes;
use super::desk::sizes_found;
use super::hazard;
use super::kit::some_lacking;
use super::questions::columns;
use super::steps::hours;
use super::word;
use crate::decide::{Asked, Identification, by_answer};
use crate::english::{counted, noun, spaced};
use crate::network::QuestionKind;
use crate::plan::words::{capital, list, sentence};
use crate::plan::{PlacedKind, PlannedStep, Standing};
use crate::procedure::model::{
    AskId, Binding, Cases, Deed, HazardId, PartId, PartWork, Phase, Rotation, Sourced,
};
use crate::quantity::{Bound, figure, limit_pair, pair};
use crate::sheet::{Anchor, Block, Cell, Sheet, SheetKind, StepRange, Table, Text};

/// What stands on every front sheet, whatever the job: common practice, no source.
const SAFETY: [&str; 3] = [
    "Nothing unknown has been filled in. A blank is to be measured or asked for; at a hold work stops.",
    "Nobody works under a load, in front of a loaded puller or spring, or alone at a step for two.",
    "If a step can't be done as written: stop, write down what differs, find out why, then go on.",
];

/// What stands under the title of the first page, whichever sheet that is, behind what the whole is called.
const DEFERRAL_AT_LENGTH: &str = "maker's own data comes first, then the law and local codes, then the judgement of \
                        whoever is licensed or trained for the work. Where this packet differs from them, stop and \
                        follow them.";

/// The front sheet of a phase.
pub(super) fn front(bench: &Bench) -> Vec<Sheet> {
    let safety = Block::List { items: SAFETY.iter().map(|text| Text::plain(*text)).collect(), tick: false };
    let mut blocks =
        vec![Block::Facts(job_facts(bench)), Block::Together(vec![heading("Before anything else"), safety])];
    blocks.extend(identity(bench));
    blocks.extend(of_the_engine(bench));
    blocks.extend(answers(bench));
    blocks.extend(hold_list(bench));
    blocks.extend(super::questions::open(bench));
    blocks.extend(otherwise(bench));
    blocks.extend(touched(bench));
    blocks.extend(super::setting::to_have_set(bench));
    blocks.extend(hazards(bench));
    blocks.extend(lifts(bench));
    blocks.extend(order(bench));
    vec![Sheet::new(
        SheetKind::Front,
        bench.family_title(),
        format!("{} packet", capital(bench.phase.word())),
        blocks,
    )]
}

/// Which order the steps stand in: the author's, or the one with the least changing over.
fn order(bench: &Bench) -> Vec<Block> {
    let Some(choice) = &bench.plan.choice else { return Vec::new() };
    let minutes = |tenths: u64| format!("{} min", figure(tenths as f64 / 600.0, 0));
    let (here, written) = (choice.cost.total, choice.author_cost.total);
    // The author's own order needs no words at the bench.
    if choice.as_written || choice.order == choice.author {
        return Vec::new();
    }
    let count = choice.moved.len();
    let moved = format!("{} {} moved", counted(count, "step"), if count == 1 { "is" } else { "are" });
    let words = format!(
        "Chosen for the least changing over: about {} instead of {} as written ({}). {moved}.",
        minutes(here),
        minutes(written),
        choice.standing()
    );
    let estimate = format!(" An estimate; times of changes: {}.", choice.times.origin());
    vec![heading("Order of the steps"), Block::Paragraph(Text::plain(words + &estimate))]
}

/// Puts the deferral, with a warning before it, under the title of the first page. Labels are cut out of theirs: what
/// stands at its foot has to do. `whole` is what the whole is called.
pub(super) fn defer(sheets: &mut [Sheet], warning: &str, whole: &str) {
    if let Some(first) = sheets.first_mut().filter(|sheet| sheet.labels.is_none()) {
        let warning = if warning.is_empty() { String::new() } else { format!("{warning} ") };
        first
            .blocks
            .insert(0, Block::Notice(Text::bold(warning).and(format!("The {whole} {DEFERRAL_AT_LENGTH}"))));
    }
}

/// Where the engine is not of this family, every sheet begins with that; labels, which could get onto parts, are not printed.
pub(super) fn hold_other_engine(sheets: &mut [Sheet], bench: &Bench) {
    if bench.material.decisions.identification != Identification::Differs {
        return;
    }
    let notice = Text::bold("HOLD. ").and(format!(
        "Everything waits for {}. Nothing on this sheet is done, ordered or sent out.",
        Identification::right_procedure(bench.procedure)
    ));
    for sheet in sheets {
        if sheet.labels.take().is_some() {
            sheet.blocks.clear();
        }
        sheet.blocks.insert(0, Block::Notice(notice.clone()));
    }
}

/// Adds to the front sheet, if it is printed, what the packet holds.
pub(super) fn list_contents(sheets: &mut [Sheet]) {
    let items = sheets
        .iter()
        .enumerate()
        .filter(|(_, sheet)| sheet.kind != SheetKind::Front)
        .map(|(index, sheet)| {
            let words = match sheet.steps {
                Some(StepRange { first, last }) if first == last => format!("{first} {}", sheet.title),
                Some(StepRange { first, last }) => format!("{first} to {last} {}", sheet.title),
                None => sheet.title.clone(),
            };
            (words, Anchor::of_sheet(index))
        })
        .collect();
    if let Some(front) = sheets.iter_mut().find(|sheet| sheet.kind == SheetKind::Front) {
        front.blocks.push(heading("What is in this packet"));
        front.blocks.push(Block::Contents(items));
    }
}

/// Adds to the front sheet, if it is printed, which sheets differ from the last print of this phase.
pub(super) fn tell_changes(sheets: &mut [Sheet], bench: &Bench, now: &[(String, String)], whole: bool) {
    let phase = bench.phase.word();
    let earlier = bench.material.job.prints.iter().rev().find(|print| {
        !print.sheets.is_empty() && print.phase.as_ref().is_none_or(|printed| printed.value == phase)
    });
    let Some(print) = earlier else { return };
    let old = |name: &str| print.sheets.iter().find(|(known, _)| known == name).map(|(_, mark)| mark);
    let mut items = Vec::new();
    for (name, mark) in now {
        match old(name) {
            Some(before) if before == mark => {}
            Some(_) => items.push(Text::bold(capital(name)).and(": changed. Throw the old one away.")),
            None => items.push(Text::bold(capital(name)).and(": new.")),
        }
    }
    // A packet of some sheets only says nothing of those that were not asked for.
    for (name, _) in print.sheets.iter().filter(|_| whole) {
        if !now.iter().any(|(known, _)| known == name) {
            items.push(Text::bold(capital(name)).and(": no longer in the packet. Throw it away."));
        }
    }
    let date = print.date.map(|date| format!(" of {date}")).unwrap_or_default();
    let print = format!("the last print{date} (fingerprint {})", print.fingerprint.value);
    let mut blocks = vec![heading("Changed since the last print")];
    if items.is_empty() {
        blocks.push(Block::Paragraph(Text::plain(format!("No sheet differs from {print}."))));
    } else {
        blocks.push(Block::Paragraph(Text::plain(format!("These sheets differ from {print}:"))));
        blocks.push(Block::List { items, tick: true });
    }
    if let Some(front) = sheets.iter_mut().find(|sheet| sheet.kind == SheetKind::Front) {
        front.blocks.extend(blocks);
    }
}

fn heading(text: &str) -> Block {
    Block::Heading { level: 2, text: Text::plain(text), anchor: None }
}

fn job_facts(bench: &Bench) -> Vec<(Text, Text)> {
    let fact = |name: &str, value: String| (Text::plain(name), Text::plain(value));
    let job = bench.material.job;
    let mut facts = Vec::new();
    let name = job.name.clone().unwrap_or_else(|| "none: printed without a job record".to_owned());
    facts.push((Text::plain("Job"), Text::bold(name)));
    if let Some(family) = &bench.procedure.family {
        if let Some(summary) = &family.summary {
            facts.push(fact(&capital(bench.procedure.whole()), summary.clone()));
        }
        let origin = family.origin.as_ref().map(|origin| format!(" ({origin})")).unwrap_or_default();
        facts.push(fact("Procedure", format!("{}{origin}", bench.edition_line())));
        if let Some(below) = &bench.procedure.of {
            let words = format!("{}; what differs is on a sheet of its own", super::differing::named(below));
            facts.push(fact("Differs from", words));
        }
        let mut ends: Vec<String> = Vec::new();
        if let Some(end) = family.number_one {
            ends.push(format!("number one at the {}", family.end_name(end)));
        }
        if let Some((rotation, end)) = family.turns {
            let way = match rotation {
                Rotation::Clockwise => "clockwise",
                Rotation::Anticlockwise => "anticlockwise",
            };
            ends.push(format!("turns {way}, seen from the {}", family.end_name(end)));
        }
        if !ends.is_empty() {
            facts.push(fact("Ends", capital(&ends.join("; "))));
        }
    }
    let number = job.engine_no.as_ref().map(|number| number.value.clone());
    facts.push(fact(
        &format!("{} no.", capital(bench.procedure.whole())),
        number.unwrap_or_else(|| "not in the record".to_owned()),
    ));
    let of_job = bench.procedure.differing.iter().filter(|one| one.of_job).count();
    if of_job > 0 {
        let words = format!("{} of the procedure, for this job alone", counted(of_job, "change"));
        facts.push(fact("Changed", words));
    }
    facts.push(fact("Work", work_line(bench)));
    facts.push(fact("Time", time_line(bench)));
    facts
}

fn work_line(bench: &Bench) -> String {
    let open = Bench::pieces(bench.left_steps());
    let left_out = Bench::pieces(bench.steps().filter(|step| matches!(step.standing, Standing::NotDone(_))));
    let done = Bench::pieces(bench.steps()) - open - left_out;
    let held = Bench::pieces(bench.steps().filter(|step| matches!(step.standing, Standing::Held(_))));
    let people = bench.left_steps().map(|step| bench.step(step).hands).max().unwrap_or(1);
    let mut line = counted(open, "step");
    if done > 0 || left_out > 0 {
        line += " left";
    }
    if held > 0 {
        line += &format!(", {held} of them held");
    }
    if done > 0 {
        line += &format!(", {done} done");
    }
    if left_out > 0 {
        line += &format!(", {left_out} not to be done");
    }
    let mut two: Vec<String> = bench
        .left_steps()
        .filter(|step| bench.step(step).hands > 1)
        .filter_map(|step| step.number.map(|number| number.to_string()))
        .collect();
    two.dedup();
    if people > 1 {
        line += &format!("; {people} people at {} {}", noun(two.len(), "step"), list(&two));
    }
    line
}

fn time_line(bench: &Bench) -> String {
    match hours(bench) {
        (None, _) => "not stated".to_owned(),
        (Some(total), 0) => {
            let own = bench.procedure.differing.iter().any(|one| one.own_time().is_some());
            let changed = if own { " with the changes of this job" } else { "" };
            format!("{} in all, as the procedure{changed} states it", total.printed())
        }
        (Some(total), silent) => format!("{} where stated; {silent} steps state none", total.printed()),
    }
}

/// How the engine is known to be of this family, with room to write what it reads.
fn identity(bench: &Bench) -> Vec<Block> {
    let Some(family) = bench.procedure.family.as_ref().filter(|family| !family.identify.is_empty()) else {
        return Vec::new();
    };
    let whole = bench.procedure.whole();
    let row = |(place, reads): &(String, Cases<Sourced<String>>)| {
        let reads =
            by_answer(bench.procedure, reads.each(&Binding::default()), |reads| format!("{}…", reads.value));
        vec![
            Cell::Text(Text::plain(capital(place))),
            Cell::Text(Text::bold(reads)),
            Cell::Blank(String::new()),
            Cell::Tick,
        ]
    };
    vec![
        heading(&format!("Is it this {whole}?")),
        Block::Table(Table {
            caption: Text::plain(format!(
                "Read the {whole}, not the paperwork. If it reads otherwise, stop: this packet is not for it."
            )),
            columns: columns(&[
                ("Where it is stamped", 4.0),
                ("Must begin with", 2.0),
                ("It reads", 3.0),
                ("Agrees", 1.0),
            ]),
            rows: family.identify.iter().map(row).collect(),
        }),
    ]
}

/// What is noted of the whole engine.
fn of_the_engine(bench: &Bench) -> Vec<Block> {
    let mut items = bench_notes::of_the_engine(bench);
    items.extend(word::of_the_engine(bench));
    items.extend(sizes_found(bench).into_iter().map(|line| Text::bold("Already: ").and(line)));
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading(&format!("Noted of this {}", bench.procedure.whole())), Block::List { items, tick: false }]
}

/// What has been decided; at the start, where everything else is built, only what a step of it hangs on.
fn answers(bench: &Bench) -> Vec<Block> {
    let told = |id: &AskId| bench.phase != Phase::Start || hangs_on(bench, *id);
    let asks: Vec<_> = bench.procedure.asks.numbered().filter(|(id, _)| told(id)).collect();
    if asks.is_empty() {
        return Vec::new();
    }
    let rows = asks.into_iter().map(|(id, ask)| {
        let answer =
            bench.material.decisions.answer(Asked::Ask(id)).and_then(|answer| ask.answers.get(answer));
        let answer = answer.map_or_else(|| Text::plain("open"), |answer| Text::bold(spaced(answer)));
        vec![Cell::Text(Text::plain(ask.naming.title.clone())), Cell::Text(answer)]
    });
    vec![
        heading("What has been decided"),
        Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("Question", 5.0), ("Answer", 2.0)]),
            rows: rows.collect(),
        }),
    ]
}

/// Whether a step of the phase, or an act of one, is done under some answers to a question only.
fn hangs_on(bench: &Bench, ask: AskId) -> bool {
    let network = bench.network;
    network.nodes.iter().filter(|node| node.phase == bench.phase).any(|node| {
        let members = node.members.iter().map(|member| &member.case);
        let mut cases = members.chain(node.events.iter().map(|event| &event.case));
        cases.any(|case| {
            let mut kinds = case.terms().map(|(id, _)| network.questions[id.0 as usize].kind);
            kinds.any(|kind| kind == QuestionKind::Ask(ask))
        })
    })
}

fn hold_list(bench: &Bench) -> Vec<Block> {
    let before: Vec<Text> = bench.plan.before.iter().map(|before| Text::plain(before.words())).collect();
    let Some(first) = bench.steps().find(|step| matches!(step.standing, Standing::Held(_))) else {
        let told =
            if before.is_empty() && bench.left_steps().next().is_none() && bench.steps().next().is_some() {
                let nothing =
                    Text::bold("Nothing is left: ").and("every step of this packet is done or left out.");
                vec![Block::Paragraph(nothing)]
            } else if before.is_empty() {
                let nothing = if some_lacking(bench) {
                    Text::bold("Nothing is held, ")
                        .and("but the kit has tools that are missing or out of date.")
                } else {
                    Text::bold("Nothing is held: ").and("every step of this packet can be worked.")
                };
                vec![Block::Paragraph(nothing)]
            } else {
                let holds = Text::bold("Not begun before this. ").and("No step waits for anything else.");
                vec![Block::Notice(holds), Block::List { items: before, tick: true }]
            };
        return [vec![heading("What is held")], told].concat();
    };
    // A piece of work waits where any of its acts does: so its sheet says.
    let waits =
        |step: &&PlannedStep| matches!(step.standing, Standing::Held(_)) || !step.waits_for.is_empty();
    let waiting = Bench::pieces(bench.left_steps().filter(waits));
    let free = Bench::pieces(bench.left_steps()) - waiting;
    let number = first.number.unwrap_or_default();
    let waits = if free == 1 { "doesn't" } else { "don't" };
    let before_it = || bench.left_steps().filter(|step| step.number.unwrap_or_default() < number);
    let (so_far, last) = (Bench::pieces(before_it()), before_it().last());
    let how_far = match (free, last) {
        (0, _) => "Every step that is left waits for something.".to_owned(),
        (free, Some(last)) => {
            let last = last.number.unwrap_or_default();
            let up_to_it = match so_far {
                1 => format!("Step {last} can be done"),
                _ => format!("Work can go on in order up to step {last}"),
            };
            let later = match free.saturating_sub(so_far) {
                0 => String::new(),
                1 => ", and one later step".to_owned(),
                more => format!(", and {more} later ones"),
            };
            format!("{up_to_it}{later}; the rest wait.")
        }
        (free, None) => {
            let first = if number > 1 { "next" } else { "first" };
            format!("The {first} step waits; {} {waits} wait for anything.", counted(free, "step"))
        }
    };
    let mut blocks = vec![heading("What is held")];
    if !before.is_empty() {
        blocks.push(Block::Notice(Text::bold("Not begun before this.")));
        blocks.push(Block::List { items: before, tick: true });
    }
    // What is waited for stands below, with room for what is found.
    blocks.push(Block::Notice(Text::bold("Holds. ").and(how_far)));
    blocks
}

/// What was done in another order, left out, or can't be done any more.
fn otherwise(bench: &Bench) -> Vec<Block> {
    let mut items = Vec::new();
    for (phase, step) in bench.material.plan.steps().filter(|(phase, _)| phase.phase <= bench.phase) {
        let number = step.number.map(|number| number.to_string()).unwrap_or_default();
        let title = format!("{} {number}, {}", capital(phase.phase.word()), bench.step_title(step));
        match &step.standing {
            Standing::NotDone(because) => {
                items.push(Text::bold(title).and(format!(": not done: {because}.")));
            }
            Standing::Done => {
                let done = bench_notes::done(bench, step).and_then(|done| done.out_of_order.as_ref());
                let signed = bench_notes::done(bench, step).map(|done| bench_notes::signed(&done.signature));
                let signed = signed.unwrap_or_default();
                items.extend(
                    done.map(|why| Text::bold(title).and(format!(": done out of order: {why}{signed}."))),
                );
            }
            Standing::Present | Standing::Absent | Standing::Held(_) => {}
        }
    }
    if items.is_empty() {
        return Vec::new();
    }
    let words = format!(
        "What is left was proved for the order as it is written. Hold each step against the {} as it stands before it is worked.",
        bench.procedure.whole()
    );
    let notice = Block::Notice(Text::bold("Not done as written. ").and(words));
    vec![heading("Not done as written"), notice, Block::List { items, tick: false }]
}

/// Steps that are done, but that the procedure has changed since.
fn touched(bench: &Bench) -> Vec<Block> {
    let touched = bench.material.touched;
    let steps = bench.material.plan.phases.iter().flat_map(|phase| &phase.steps);
    let items: Vec<Text> = steps
        .filter(|planned| touched.contains(&planned.key))
        .map(|planned| Text::bold(bench.step_title(planned)).and(": read it again before going on."))
        .collect();
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading("Done, but changed since"), Block::List { items, tick: true }]
}

fn hazards(bench: &Bench) -> Vec<Block> {
    let mut at: BTreeMap<HazardId, Vec<&PlannedStep>> = BTreeMap::new();
    for planned in bench.open_steps() {
        for hazard in hazard::hazards_of(bench, planned) {
            let steps = at.entry(hazard).or_default();
            if steps.last().is_none_or(|last| last.key != planned.key) {
                steps.push(planned);
            }
        }
    }
    if at.is_empty() {
        return Vec::new();
    }
    let mut list: Vec<(HazardId, Vec<&PlannedStep>)> = at.into_iter().collect();
    // The gravest first; within a word, as they are met.
    list.sort_by_key(|(id, steps)| {
        (bench.procedure.hazard(*id).signal, steps.first().and_then(|step| step.number))
    });
    let mut wear: Vec<String> = Vec::new();
    for (id, _) in &list {
        for item in &bench.procedure.hazard(*id).wear {
            if !wear.contains(item) {
                wear.push(item.clone());
            }
        }
    }
    let rows = list
        .iter()
        .map(|(id, steps)| {
            let hazard = bench.procedure.hazard(*id);
            vec![
                Cell::Text(Text::bold(hazard::word(hazard.signal))),
                Cell::Text(Text::plain(sentence(&hazard.hazard))),
                Cell::Text(bench.step_numbers(steps)),
            ]
        })
        .collect();
    let mut blocks = vec![
        heading("What can hurt"),
        Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("", 1.5), ("Hazard", 6.0), ("Steps", 2.0)]),
            rows,
        }),
    ];
    if !wear.is_empty() {
        blocks.push(Block::Paragraph(Text::bold("Protective equipment to have at the bench: ").and(
            format!("{}. The sheets say where each is put on and where it may come off.", wear.join(", ")),
        )));
    }
    blocks
}

/// Parts that are supported or lifted, with their mass and where the hoist is hooked.
fn lifts(bench: &Bench) -> Vec<Block> {
    // Each part with every step that lifts it, by the people who are there.
    let mut found: BTreeMap<(PartId, u32), Vec<&PlannedStep>> = BTreeMap::new();
    for planned in bench.open_steps() {
        let hands = bench.step(planned).hands;
        for act in bench.acts(planned) {
            if !matches!(
                act.act.deed,
                Deed::Part { work: PartWork::Support | PartWork::Take | PartWork::Fit, .. }
            ) {
                continue;
            }
            for placed in &act.things {
                if let PlacedKind::Part(id) = placed.kind {
                    let part = bench.procedure.part(id);
                    if part.mass.is_some() || part.lift_at.is_some() {
                        let hands = if part.lift_at.is_some() { 1 } else { hands };
                        let steps = found.entry((id, hands)).or_default();
                        if !steps.iter().any(|known| known.key == planned.key) {
                            steps.push(planned);
                        }
                    }
                }
            }
        }
    }
    let stated = bench.procedure.family.as_ref().and_then(|family| family.lifting_limit);
    // The shop may lift less than the procedure allows, never more.
    let own = bench.material.shop.and_then(|shop| shop.crib.lifting_limit);
    let lower = own.filter(|own| stated.is_none_or(|stated| own.base() < stated.base()));
    let limit = lower.or(stated);
    let mut rows: Vec<(Option<usize>, Vec<Cell>)> = Vec::new();
    for ((id, hands), steps) in found {
        let part = bench.procedure.part(id);
        let heavy = match (part.mass, limit) {
            (Some(mass), Some(limit)) => mass.base() > limit.base(),
            _ => part.lift_at.is_some(),
        };
        let how = match (&part.lift_at, heavy) {
            (Some(at), _) => format!("hoist, at {at}"),
            (None, true) => "hoist, where is not stated".to_owned(),
            (None, false) => format!("by hand, {} at the step", people(hands)),
        };
        let mass = part.mass.map_or_else(|| "not stated".to_owned(), |mass| pair(mass).to_string());
        rows.push((
            steps.first().and_then(|planned| planned.number),
            vec![
                Cell::Text(Text::plain(part.naming.title.clone())),
                Cell::Text(if heavy { Text::bold(mass) } else { Text::plain(mass) }),
                Cell::Text(Text::plain(how)),
                Cell::Text(bench.step_numbers(&steps)),
            ],
        ));
    }
    if rows.is_empty() {
        return Vec::new();
    }
    rows.sort_by_key(|(number, _)| *number);
    let caption = match limit {
        Some(limit) if lower.is_some() => {
            format!(
                "Above {} by hoist: this shop's own limit, which goes before the procedure's.",
                limit_pair(limit, Some(Bound::Most))
            )
        }
        Some(limit) => format!(
            "Above {} by hoist: the limit that the procedure sets. A lower limit of the shop goes first.",
            limit_pair(limit, Some(Bound::Most))
        ),
        None => String::new(),
    };
    vec![
        heading("Lifts"),
        Block::Table(Table {
            caption: Text::plain(caption),
            columns: columns(&[("Part", 4.2), ("Mass", 1.9), ("How", 4.4), ("Steps", 0.8)]),
            rows: rows.into_iter().map(|(_, row)| row).collect(),
        }),
    ]
}

fn people(hands: u32) -> String {
    if hands == 1 { "1 person".to_owned() } else { format!("{hands} people") }
}
