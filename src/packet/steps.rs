//! The sheets of work: steps in order, section by section, with large numbers, hazards before their acts, figures
//! beside their step, and boxes to tick.

use std::collections::BTreeSet;

use super::again;
use super::already;
use super::bench::Bench;
use super::bench_notes;
use super::fasten_lines::BY_HAND;
use super::hazard::{self, Together, hazard_box};
use super::instruct;
use super::joint_figure::DASHED;
use super::repeated::{ABOUT, Repeat, as_one};
use super::row_by_row::rounds;
use super::stop;
use super::tighten::ONCE_MORE;
use super::titles::block_title;
use super::tools;
use super::tries::tries;
use super::word;
use crate::decide::Torque;
use crate::english::{noun, spaced};
use crate::network::{NodeId, StepSource};
use crate::plan::words::{self, capital, inner, sentence};
use crate::plan::{PlannedLine, PlannedStep, Standing, fastened};
use crate::procedure::model::{
    Deed, FasteningWork, GroupId, GroupKind, HazardId, Local, Phase, SectionId, SetupId, Stance, Step, View,
};
use crate::quantity::Quantity;
use crate::sheet::{Block, Boxes, HazardBox, Lies, Sheet, SheetKind, StepBlock, StepLine, StepRange, Text};

/// A new sheet is begun for a section of at least so many steps, once the sheet before it has as many. Our
/// own choice, no source.
const STEPS_WORTH_A_SHEET: usize = 3;

/// Seconds from which a total is told in hours. Our own choice, no source.
const TOLD_IN_HOURS: f64 = 5_400.0;

/// What the steps of a chapter have told already.
#[derive(Default)]
struct Told {
    hazards: BTreeSet<HazardId>,
    /// Remarks on steps that are told in brief.
    remarks: Vec<StepLine>,
}

/// Blocks of one section that follow each other.
type Run<'b> = (Option<SectionId>, Vec<Together<'b>>);

/// A piece of the work of a phase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Only {
    /// The step of this number.
    Step(usize),
    /// The section of this title, in capitals or small letters.
    Section(String),
}

/// Keeps the blocks of one piece of work.
pub(super) fn keep(bench: &mut Bench, only: &Only) {
    let blocks = std::mem::take(&mut bench.blocks);
    let wanted = |block: &Vec<usize>| {
        let planned = &bench.plan.steps[block[0]];
        match only {
            Only::Step(number) => planned.number == Some(*number),
            Only::Section(title) => {
                let section = bench.network.nodes[planned.node.index()].section;
                section_title(bench, section).to_lowercase() == title.trim().to_lowercase()
            }
        }
    };
    bench.blocks = blocks.into_iter().filter(wanted).collect();
}

/// The titles of the sections of a phase, in the order of work.
pub(super) fn section_titles(bench: &Bench) -> Vec<String> {
    let sections = bench.blocks.iter().map(|block| {
        let planned = &bench.plan.steps[block[0]];
        section_title(bench, bench.network.nodes[planned.node.index()].section)
    });
    let mut titles: Vec<String> = Vec::new();
    for title in sections {
        if !titles.contains(&title) {
            titles.push(title);
        }
    }
    titles
}

/// The work of a phase: a sheet for each section of some size, small ones together.
pub(super) fn sheets(bench: &Bench) -> Vec<Sheet> {
    let mut runs: Vec<Run> = Vec::new();
    for block in &bench.blocks {
        let steps: Together = block.iter().map(|index| &bench.plan.steps[*index]).collect();
        let section = bench.network.nodes[steps[0].node.index()].section;
        match runs.last_mut() {
            Some((last, run)) if *last == section => run.push(steps),
            _ => runs.push((section, vec![steps])),
        }
    }
    let mut sheets: Vec<Vec<Run>> = Vec::new();
    for run in runs {
        let long = run.1.len() >= STEPS_WORTH_A_SHEET;
        // What a sheet is named after goes on there where a small section came between.
        let goes_on = |sheet: &[Run]| sheet.first().is_some_and(|(section, _)| *section == run.0);
        match sheets.last_mut() {
            Some(sheet)
                if !long
                    || goes_on(sheet)
                    || sheet.iter().map(|(_, blocks)| blocks.len()).sum::<usize>() < STEPS_WORTH_A_SHEET =>
            {
                sheet.push(run);
            }
            _ => sheets.push(vec![run]),
        }
    }
    // Chapters that follow each other and have one name are one.
    let name = |runs: &[Run]| runs[named_after(bench, runs)].0;
    let mut whole: Vec<Vec<Run>> = Vec::new();
    for runs in sheets {
        match whole.last_mut() {
            Some(before) if name(before) == name(&runs) => before.extend(runs),
            _ => whole.push(runs),
        }
    }
    let (sheets, count) = (whole.iter(), whole.len());
    sheets.enumerate().map(|(index, runs)| sheet(bench, runs, index + 1, count)).collect()
}

fn sheet(bench: &Bench, runs: &[Run], index: usize, count: usize) -> Sheet {
    let all: Vec<&Together> = runs.iter().flat_map(|(_, blocks)| blocks).collect();
    let wear = hazard::wear(bench, &all);
    let mut blocks: Vec<Block> = torques_from(bench, &all).into_iter().collect();
    let mut at = 0;
    let mut group = None;
    let mut told = Told::default();
    let named = named_after(bench, runs);
    for (at_run, (section, run)) in runs.iter().enumerate() {
        // The sheet's title names a section that begins it. What is put back on between an author's own steps needs no
        // heading: its steps are named after what they fit.
        if !by_the_author(bench, runs[named].0) && (at_run > 0 || named > 0) {
            blocks.push(Block::Heading {
                level: 2,
                text: Text::plain(section_title(bench, *section)),
                anchor: None,
            });
        }
        let mut alike: Vec<(StepBlock, Repeat)> = Vec::new();
        for steps in run {
            let now = bench.step(steps[0]).group;
            let repeat = repeat_of(bench, steps);
            let goes_on = alike.last().is_some_and(|(_, last)| {
                now == group && repeat.as_ref().is_some_and(|repeat| repeat.step == last.step)
            });
            if !goes_on {
                blocks.extend(repeated(&mut alike));
            }
            if now != group {
                let left = |id: &GroupId| {
                    let mut of_it = bench.open_steps().filter(|step| bench.step(step).group == Some(*id));
                    of_it.any(|step| !in_brief(bench, &vec![step]))
                };
                blocks.extend(now.filter(left).map(|id| group_notice(bench, id)));
                group = now;
            }
            let mut block = step_block(bench, steps, &mut told);
            // Nobody dresses for what is done and told in brief.
            if let Some(items) = wear.get(&at).filter(|_| !in_brief(bench, steps)) {
                block.lines.insert(0, put_on(&all, at, items));
            }
            match repeat {
                Some(repeat) => alike.push((block, repeat)),
                None => blocks.push(Block::Step(block)),
            }
            at += 1;
        }
        blocks.extend(repeated(&mut alike));
    }
    tell_dashes_once(&mut blocks);
    tell_once(&mut blocks);
    let first = all.first().and_then(|steps| steps[0].number).unwrap_or_default();
    let last = all.last().map(|steps| last_number(steps)).unwrap_or_default();
    let steps = StepRange { first, last };
    let title = runs.get(named).map(|(section, _)| section_title(bench, *section)).unwrap_or_default();
    let subtitle = format!("{}, sheet {index} of {count}: {steps}", capital(bench.phase.word()));
    Sheet { steps: Some(steps), ..Sheet::new(SheetKind::Steps, title, subtitle, blocks) }
}

/// Where the torques of some steps come from.
fn torques_from(bench: &Bench, blocks: &[&Together]) -> Option<Block> {
    let mut sources = bench.origins.clone();
    let steps = blocks.iter().flat_map(|steps| steps.iter());
    for act in
        steps.filter(|planned| !in_brief(bench, &vec![planned])).flat_map(|planned| bench.acts(planned))
    {
        use FasteningWork::{Retighten, Tighten};
        // A trial tightens to a torque of its own.
        if !matches!(act.act.deed, Deed::Fasten { work: Tighten | Retighten, to: None, .. }) {
            continue;
        }
        for (id, places) in fastened(bench.procedure, &act.things) {
            for (torque, _) in bench.material.decisions.torques.at(id, &places) {
                if let Torque::Passes(_, Some(origin)) = torque {
                    sources.mark(Some(origin));
                }
            }
        }
    }
    sources.told_of("Torques from")
}

/// What the dashed line of a figure is stands under the first of a chapter.
fn tell_dashes_once(blocks: &mut [Block]) {
    let lines = blocks.iter_mut().flat_map(|block| match block {
        Block::Step(step) => step.lines.as_mut_slice(),
        _ => &mut [],
    });
    let mut told = false;
    for line in lines {
        let StepLine::Figure(figure) = line else { continue };
        let here = figure.caption.0.iter().any(|run| run.text == DASHED);
        if here && told {
            figure.caption.0.retain(|run| run.text != DASHED);
        }
        told |= here;
    }
}

/// What holds of every act of a kind stands in full at the first of a chapter, and in brief at those after it; which way a
/// left-hand thread is turned at every act, in full at the first of a step.
fn tell_once(blocks: &mut [Block]) {
    let mut told: [bool; 2] = [false; 2];
    for block in blocks {
        let Block::Step(step) = block else { continue };
        let mut left_hand: Vec<HazardBox> = Vec::new();
        for line in &mut step.lines {
            match line {
                StepLine::Act { text, .. } => {
                    for (forms, told) in [&BY_HAND[..], &[ONCE_MORE]].into_iter().zip(&mut told) {
                        for [whole, brief] in forms {
                            for run in text.0.iter_mut().filter(|run| run.text.contains(whole)) {
                                if std::mem::replace(told, true) {
                                    run.text = run.text.replace(whole, brief);
                                }
                            }
                        }
                    }
                }
                StepLine::Hazard(hazard) if hazard.turned.is_some() => {
                    if left_hand.contains(hazard) {
                        hazard.told = true;
                    } else {
                        left_hand.push(hazard.clone());
                    }
                }
                _ => {}
            }
        }
    }
}

/// Where the section begins after which a sheet of several is named: one that the author wrote for putting together if it has
/// at least half as many steps as another, else the one with the most, of some with as many the first.
fn named_after(bench: &Bench, runs: &[Run]) -> usize {
    let steps = |at: &usize| {
        let of_it = runs.iter().filter(|(section, _)| *section == runs[*at].0);
        let weight = if by_the_author(bench, runs[*at].0) { 2 } else { 1 };
        weight * of_it.map(|(_, blocks)| blocks.len()).sum::<usize>()
    };
    (0..runs.len()).rev().max_by_key(steps).unwrap_or_default()
}

/// Whether the author wrote steps of the build in a section.
fn by_the_author(bench: &Bench, section: Option<SectionId>) -> bool {
    let of_the_author = |step: &Step| step.section == section && step.phase == Phase::Build;
    bench.phase == Phase::Build && section.is_some() && bench.procedure.steps.iter().any(of_the_author)
}

/// What a step repeats that is done place by place.
fn repeat_of(bench: &Bench, steps: &Together) -> Option<Repeat> {
    let [planned] = steps.as_slice() else { return None };
    let (StepSource::Written(step), [(axis, at)]) = (planned.source, planned.binding.stated.as_slice())
    else {
        return None;
    };
    let place = bench.procedure.axis(*axis).positions.get(usize::from(*at))?.clone();
    Some(Repeat { step, place })
}

/// Steps that follow each other and repeat each other, as one where they may be.
fn repeated(alike: &mut Vec<(StepBlock, Repeat)>) -> Vec<Block> {
    let alike = std::mem::take(alike);
    match as_one(&alike) {
        Some(block) => vec![Block::Step(block)],
        None => alike.into_iter().map(|(block, _)| Block::Step(block)).collect(),
    }
}

fn last_number(steps: &Together) -> usize {
    steps.last().and_then(|step| step.number).unwrap_or_default()
}

/// A section as a heading: in the build one that the author wrote for taking apart has its title for the way back.
fn section_title(bench: &Bench, section: Option<SectionId>) -> String {
    let Some(id) = section else { return capital(bench.phase.word()) };
    let declared = bench.procedure.section(id);
    if bench.phase != Phase::Build || by_the_author(bench, section) {
        return declared.naming.title.clone();
    }
    declared.refit.clone().unwrap_or_else(|| format!("Refit: {}", inner(&declared.naming.title)))
}

fn put_on(blocks: &[&Together], at: usize, items: &[(String, usize)]) -> StepLine {
    // Things worn for the same stretch are said in one breath.
    let mut stretches: Vec<(usize, Vec<String>)> = Vec::new();
    for (item, last) in items {
        match stretches.iter_mut().find(|(end, _)| end == last) {
            Some((_, names)) => names.push(item.clone()),
            None => stretches.push((*last, vec![item.clone()])),
        }
    }
    stretches.sort();
    let mut text = Text::bold("Put on: ");
    for (index, (last, names)) in stretches.iter().enumerate() {
        let number = last_number(blocks[*last]);
        let until =
            if *last == at { "for this step".to_owned() } else { format!("until step {number} is done") };
        let comma = if index == 0 { "" } else { "; " };
        text = text.and(format!("{comma}{} {until}", words::list(names)));
    }
    let equipment = items.iter().map(|(item, _)| item.clone()).collect();
    StepLine::PutOn { text: text.and("."), equipment }
}

fn group_notice(bench: &Bench, id: GroupId) -> Block {
    let group = bench.procedure.group(id);
    let count = bench.open_steps().filter(|step| bench.step(step).group == Some(id)).count();
    let title = &group.naming.title;
    let words = match group.kind {
        GroupKind::Block => {
            format!(" The next {count} steps belong together: nothing else comes between them.")
        }
        GroupKind::Trial => {
            let next = if count == 1 { "step is".to_owned() } else { format!("{count} steps are") };
            format!(
                " The next {next} a trial: it is put together, read and taken apart again. Old fasteners serve; \
                 nothing counts as fitted."
            )
        }
    };
    Block::Notice(Text::bold(format!("{title}.")).and(words))
}

/// Whether steps that are done are told by their titles alone.
fn in_brief(bench: &Bench, steps: &Together) -> bool {
    bench.in_brief && steps.iter().all(|planned| planned.standing == Standing::Done)
}

/// One step as it stands on a sheet, or several that undo one strip step: their hazards are told once.
fn step_block(bench: &Bench, steps: &Together, chapter: &mut Told) -> StepBlock {
    let first = steps[0];
    let step = bench.step(first);
    let mut lines: Vec<StepLine> = Vec::new();
    let words = |planned| {
        let noted = bench_notes::lines(bench, planned).into_iter().chain(again::lines(bench, planned));
        noted.chain(word::lines(bench, planned))
    };
    // What is done of measuring and looking stands among the results, unless the piece of work alone is printed.
    let in_brief = in_brief(bench, steps);
    for (index, line) in steps.iter().flat_map(|planned| words(planned)).enumerate() {
        // A note on what several of them handle is told once; who did it at each.
        let told = in_brief && index > 0 && chapter.remarks.contains(&line);
        if !told && !lines.contains(&line) {
            chapter.remarks.extend(in_brief.then(|| line.clone()));
            lines.push(line);
        }
    }
    let mut told: Vec<HazardId> = Vec::new();
    let whole = steps.iter().filter(|_| !in_brief);
    let mut left = 0;
    for (planned, rest) in whole
        .flat_map(|planned| (0..planned.lines.len()).map(move |index| (planned, &planned.lines[index..])))
    {
        // What a round tells isn't told line by line.
        if left > 0 {
            left -= 1;
            continue;
        }
        if let Some((count, told)) = rounds(bench, planned, rest) {
            lines.extend(told);
            left = count - 1;
            continue;
        }
        match (planned, &rest[0]) {
            (_, PlannedLine::Hazard(id)) if steps.len() > 1 && told.contains(id) => {}
            (planned, PlannedLine::Hazard(id)) if already::idle_hazards(bench, planned).contains(id) => {}
            (_, PlannedLine::Hazard(id)) => {
                told.push(*id);
                let before = !chapter.hazards.insert(*id);
                lines.push(StepLine::Hazard(hazard_box(bench.procedure.hazard(*id), before)));
            }
            (_, PlannedLine::SetUp(setup, value)) => lines.push(setting_up(bench, *setup, *value)),
            (_, PlannedLine::Hold(text)) => {
                lines.push(StepLine::Hold(Text::bold("Hold point: ").and(sentence(text))));
            }
            (planned, PlannedLine::Act(act)) => {
                let (told, left) = already::split(bench, planned, act);
                lines.extend(told.filter(|told| lines.last() != Some(told)));
                if let Some(act) = &left {
                    lines.extend(instruct::lines(bench, planned, act));
                    lines.extend(tries(bench, planned, act));
                }
            }
        }
    }
    // What is so at one position only is told in the steps that work there.
    let here =
        |wrong: &&Local<(String, String)>| steps.iter().any(|planned| wrong.here(&planned.binding).is_some());
    let wrong: Vec<&(String, String)> =
        step.contingencies.iter().filter(here).filter(|_| !in_brief).map(|wrong| &wrong.what).collect();
    let on_the_card = stop::told_by_the_card(bench, wrong.len());
    let told = |(condition, action): &(String, String)| StepLine::If {
        condition: Text::plain(condition.clone()),
        action: Text::plain(sentence(action)),
    };
    match on_the_card {
        Some(line) => lines.push(line),
        None => lines.extend(wrong.into_iter().map(told)),
    }
    let mut held_by: Vec<Text> = Vec::new();
    if let Standing::Held(holds) = &first.standing {
        for text in holds.iter().map(|hold| bench.hold_text(hold, hold.text.clone())) {
            if !held_by.contains(&text) {
                held_by.push(text);
            }
        }
    }
    StepBlock {
        number: first.number.unwrap_or_default().to_string(),
        title: Text::plain(block_title(bench, steps)),
        anchor: bench.anchor(first),
        also: Vec::new(),
        lies: lying(bench, steps).filter(|_| !in_brief),
        facts: if in_brief { Vec::new() } else { facts(bench, steps) },
        tools: if in_brief { Vec::new() } else { tools::told(bench, steps) },
        reason: waiting(bench, steps),
        held_by,
        lines,
    }
}

/// How the engine lies in a step, where the step says so.
fn lying(bench: &Bench, steps: &Together) -> Option<Lies> {
    let stated = tools::together(bench, steps);
    let mut setups = stated.setups_at(&steps[0].binding);
    let said = setups.any(|stance| !bench.procedure.setup(stance.setup).uppermost.is_empty());
    bench.lie(steps[0]).filter(|_| said).and_then(|lie| lies(bench, lie.uppermost))
}

/// How the engine lies with a face uppermost.
fn lies(bench: &Bench, uppermost: View) -> Option<Lies> {
    let seen_from = bench.procedure.family.as_ref().and_then(|family| family.sides_seen_from);
    Some(match (uppermost, seen_from) {
        (View::Top, _) => Lies::Upright,
        (View::Below, _) => Lies::Inverted,
        (View::Front, _) => Lies::FrontUp,
        (View::Rear, _) => Lies::RearUp,
        // From the end that the sides are named from, left is to the left: where it lies above, the top has gone right.
        (View::Left, Some(_)) => Lies::TopRight,
        (View::Right, Some(_)) => Lies::TopLeft,
        (View::Left | View::Right, None) => return None,
    })
}

/// How the engine is set anew.
fn setting_up(bench: &Bench, id: SetupId, value: usize) -> StepLine {
    let setup = bench.procedure.setup(id);
    let title = words::the(&setup.naming.title);
    let value = setup.values.get(value).map(|value| spaced(value)).unwrap_or_default();
    let text = if setup.uppermost.is_empty() {
        format!("{}: change to {value}.", capital(&title))
    } else {
        format!("Turn {title}: {value}. Pin it.")
    };
    StepLine::Act { text: Text::bold(text), boxes: Boxes::One }
}

/// What the step waits for beyond its own questions: held steps that come before it in every order.
fn waiting(bench: &Bench, steps: &Together) -> Text {
    let waits: BTreeSet<usize> = steps.iter().flat_map(|planned| planned.waits_for.iter().copied()).collect();
    let waits: Vec<&PlannedStep> = waits.into_iter().map(|index| &bench.plan.steps[index]).collect();
    if waits.is_empty() {
        return Text::default();
    }
    let mut text = Text::plain(format!("Not before {} ", noun(waits.len(), "step")));
    text.0.extend(bench.step_numbers(&waits).0);
    text.and(if waits.len() == 1 { ", which waits" } else { ", which wait" })
}

/// Where and with whom, and how long: of steps that undo one strip step what any of them asks for.
fn facts(bench: &Bench, steps: &Together) -> Vec<Text> {
    let procedure = bench.procedure;
    let step = tools::together(bench, steps);
    let mut facts = Vec::new();
    for Stance { setup, value, .. } in step.setups_at(&steps[0].binding) {
        let changed = steps.iter().any(|planned| planned.changes.contains(&(*setup, *value)));
        let setup = procedure.setup(*setup);
        let value = setup.values.get(*value).map(|value| spaced(value)).unwrap_or_default();
        let title = format!("{}: ", setup.naming.title);
        facts.push(if changed { Text::plain(title).and_bold(value) } else { Text::plain(title + &value) });
    }
    if step.hands > 1 {
        facts.push(Text::bold(format!("{} people", step.hands)));
    }
    // What undoes one strip step takes its time once: it is told at the first of its numbers.
    let told_before = bench.mirrored(steps[0]).is_some_and(|node| {
        let mut before = bench.open_steps().take_while(|step| step.number != steps[0].number);
        before.any(|step| bench.mirrored(step) == Some(node))
    });
    if let Some(time) = step.time.filter(|_| !told_before) {
        facts.push(Text::plain(format!("{ABOUT}{}", time.printed())));
    }
    for time in steps.iter().flat_map(|planned| super::setting::times(bench, planned)) {
        if !facts.contains(&time) {
            facts.push(time);
        }
    }
    for mark in steps.iter().flat_map(|planned| super::differing::marks(bench, planned)) {
        if !facts.contains(&mark) {
            facts.push(mark);
        }
    }
    facts
}

/// Total of the stated times, and how many steps state none.
pub(super) fn hours(bench: &Bench) -> (Option<Quantity>, usize) {
    let mut seconds = 0.0;
    let mut silent: BTreeSet<Option<usize>> = BTreeSet::new();
    let mut mirrors: Vec<NodeId> = Vec::new();
    for planned in bench.left_steps() {
        // What undoes one strip step takes its time once, however many steps that is.
        if let Some(node) = bench.mirrored(planned) {
            if mirrors.contains(&node) {
                continue;
            }
            mirrors.push(node);
        }
        match bench.step(planned).time {
            Some(time) => seconds += time.base(),
            None => {
                silent.insert(planned.number);
            }
        }
    }
    (in_hours(seconds), silent.len())
}

/// A stretch of work as it is told; none of nothing.
pub(super) fn in_hours(seconds: f64) -> Option<Quantity> {
    let long = seconds >= TOLD_IN_HOURS;
    let unit = crate::quantity::Unit::find(if long { "h" } else { "min" });
    unit.filter(|_| seconds > 0.0).map(|unit| Quantity::from_base(seconds, unit, u8::from(long)))
}
