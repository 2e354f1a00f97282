//! Work that a step does again and again, each time after the engine has been turned on: what is done is told once, and each
//! turn has a table below it with a row for each place and a column for each act. How wide a column is it must not know.

use super::already;
use super::bench::Bench;
use super::instruct;
use super::questions::columns;
use super::tries::tries;
use crate::english::capital;
use crate::plan::{Placed, PlannedAct, PlannedLine, PlannedStep};
use crate::procedure::model::Deed;
use crate::sheet::{Blank, Boxes, Cell, StepLine, Table, Text};

/// Acts behind a turn that have a column each; more find no room beside each other. Our own choice, no source.
const MOST: usize = 5;

/// How wide the column of a reading is beside that of a box. Our own choice, no source.
const READING: f64 = 3.0;

/// The lines of the rounds that begin with the first of some planned lines, and how many of these they tell; none where no
/// such rounds begin there.
pub(super) fn rounds(
    bench: &Bench,
    planned: &PlannedStep,
    rest: &[PlannedLine],
) -> Option<(usize, Vec<StepLine>)> {
    let turns = |line: &PlannedLine| matches!(line, PlannedLine::Act(act) if turned_to(act));
    rest.first().filter(|first| turns(first))?;
    let length = 1 + rest[1..].iter().position(turns)?;
    let first = acts(&rest[..length])?;
    let alike = |round: &&[PlannedLine]| {
        acts(round).is_some_and(|acts| acts.iter().zip(&first).all(|(act, of_first)| same(act, of_first)))
    };
    let rounds: Vec<Vec<&PlannedAct>> =
        rest.chunks_exact(length).take_while(alike).filter_map(acts).collect();
    if rounds.len() < 2 || !(3..=MOST + 1).contains(&length) {
        return None;
    }
    let told: Option<Vec<Vec<StepLine>>> = rounds
        .iter()
        .map(|round| {
            round.iter().map(|act| only_line(bench, planned, act)).collect::<Option<Vec<StepLine>>>()
        })
        .collect();
    let told = told?;
    let mut lines = vec![StepLine::Note(Text::bold("Row by row: ").and("turn, then from left to right."))];
    for (at, line) in told[0].iter().enumerate().skip(1) {
        let everywhere = PlannedAct {
            things: rounds.iter().flat_map(|round| round[at].things.iter().cloned()).fold(Vec::new(), joined),
            ..first[at].clone()
        };
        lines.extend(told_once(letter(at), line, only_line(bench, planned, &everywhere)));
    }
    for round in &told {
        lines.push(round[0].clone());
        lines.push(StepLine::Table(by_row(round)?));
    }
    Some((rounds.len() * length, lines))
}

/// Whether an act turns the engine until a cylinder stands where it is to stand.
fn turned_to(act: &PlannedAct) -> bool {
    matches!(act.act.deed, Deed::TurnByHand { to: Some(_), .. })
}

/// The acts of a round; none where anything else is told in it.
fn acts(round: &[PlannedLine]) -> Option<Vec<&PlannedAct>> {
    round.iter().map(|line| if let PlannedLine::Act(act) = line { Some(act) } else { None }).collect()
}

/// Whether two acts do the same, each at its places.
fn same(act: &PlannedAct, other: &PlannedAct) -> bool {
    let deeds = match (&act.act.deed, &other.act.deed) {
        (Deed::Fasten { work, to, .. }, Deed::Fasten { work: also, to: too, .. }) => {
            work == also && to == too
        }
        (deed, also) => std::mem::discriminant(deed) == std::mem::discriminant(also),
    };
    let kinds = |act: &PlannedAct| act.things.iter().map(|placed| placed.kind).collect::<Vec<_>>();
    deeds && act.act.note == other.act.note && kinds(act) == kinds(other)
}

/// Things with more places of one of them.
fn joined(mut things: Vec<Placed>, more: Placed) -> Vec<Placed> {
    match things.iter_mut().find(|known| known.kind == more.kind) {
        Some(known) => known.places.extend(more.places),
        None => things.push(more),
    }
    things
}

/// The line of an act that is done whole and told in one; none otherwise.
fn only_line(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Option<StepLine> {
    let whole = act.given.is_none()
        && tries(bench, planned, act).is_empty()
        && already::split(bench, planned, act) == (None, Some(act.clone()));
    let mut lines = instruct::lines(bench, planned, act).into_iter();
    let line = lines.next().filter(|_| whole)?;
    lines.next().is_none().then_some(line)
}

/// The letter of a column.
fn letter(at: usize) -> String {
    char::from(b'a' + u8::try_from(at - 1).unwrap_or_default()).to_string()
}

/// What is done in a column, told above the tables; of a reading with what it has to be at all its places.
fn told_once(letter: String, line: &StepLine, everywhere: Option<StepLine>) -> Vec<StepLine> {
    let lettered = |text: &Text| {
        let mut lettered = Text::bold(format!("{letter}\u{a0} "));
        lettered.0.extend(text.0.iter().cloned());
        lettered
    };
    match line {
        StepLine::Torque { text, value, condition, held, .. } => vec![StepLine::Torque {
            text: lettered(text),
            value: value.clone(),
            condition: condition.clone(),
            held: *held,
            boxes: Boxes::None,
        }],
        StepLine::Act { text, .. } => vec![StepLine::Act { text: lettered(text), boxes: Boxes::None }],
        StepLine::Reading { text, limit, .. } => {
            let limit = match everywhere {
                Some(StepLine::Reading { limit, .. }) => limit,
                _ => limit.clone(),
            };
            let told = StepLine::Act { text: lettered(text), boxes: Boxes::None };
            let limit = (!limit.is_empty()).then(|| StepLine::Note(Text::plain(capital(&limit))));
            std::iter::once(told).chain(limit).collect()
        }
        _ => Vec::new(),
    }
}

/// The table of a round: a row for each of its places, a column for each act behind the turn. None where its acts aren't all
/// at the same places, or have more to tell than boxes and blanks.
fn by_row(round: &[StepLine]) -> Option<Table> {
    let named = |line: &StepLine| match line {
        StepLine::Act { boxes: Boxes::Grid(names), .. }
        | StepLine::Torque { boxes: Boxes::Grid(names), .. } => Some(names.clone()),
        StepLine::Reading { blanks, .. } => Some(blanks.iter().map(|blank| blank.name.clone()).collect()),
        _ => None,
    };
    let names: Vec<String> = round[1..].iter().find_map(named)?;
    let mut headings = vec![(String::new(), 1.0)];
    let mut rows: Vec<Vec<Cell>> =
        names.iter().map(|name| vec![Cell::Text(Text::bold(name.clone()))]).collect();
    for (at, line) in round.iter().enumerate().skip(1) {
        if named(line).is_some_and(|here| here != names) {
            return None;
        }
        let (heading, share) = match line {
            StepLine::Act { text, boxes: Boxes::One | Boxes::Grid(_) } => (first_word(text), 1.0),
            StepLine::Torque { held: false, boxes: Boxes::Grid(_), .. } => ("Tight".to_owned(), 1.0),
            StepLine::Reading { text, .. } => (headed(text), READING),
            _ => return None,
        };
        headings.push((format!("{} {heading}", letter(at)), share));
        for (index, row) in rows.iter_mut().enumerate() {
            row.push(match line {
                StepLine::Reading { blanks, unit, .. } => blank(&blanks[index], unit),
                _ => Cell::Tick,
            });
        }
    }
    let headings: Vec<(&str, f64)> = headings.iter().map(|(words, share)| (words.as_str(), *share)).collect();
    Some(Table { caption: Text::default(), columns: columns(&headings), rows })
}

fn blank(blank: &Blank, unit: &str) -> Cell {
    let cell = match blank.written.as_str() {
        "" => Cell::Blank(unit.to_owned()),
        written => Cell::Text(Text::bold(written)),
    };
    cell.belonging(blank.field.clone())
}

/// The first word of an instruction: what is done.
fn first_word(text: &Text) -> String {
    text.words().split(' ').next().unwrap_or_default().to_owned()
}

/// What a reading is called: the bold beginning of what is told of it.
fn headed(text: &Text) -> String {
    text.0.first().map(|run| run.text.clone()).unwrap_or_default()
}
