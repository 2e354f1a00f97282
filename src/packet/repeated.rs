//! A step that is done again at each place, with nothing different: one step with a box or a blank for each place. A hold, a
//! table or a map keeps the places apart, as does much that is done at one of them only.

use super::part_lines::FROM;
use crate::procedure::model::StepId;
use crate::sheet::{Boxes, Drawing, Figure, Run, StepBlock, StepLine, Text};

/// Of the lines of work so many in ten may be of one place only. Our own choice, no source.
const APART: usize = 4;

/// How a stretch of work is told.
pub(super) const ABOUT: &str = "about ";

/// What a step repeats, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Repeat {
    /// The step as written.
    pub(super) step: StepId,
    /// The name of the place.
    pub(super) place: String,
}

/// Lines of work as they stand at some of the places, by index.
struct Row {
    line: StepLine,
    at: Vec<usize>,
}

/// Steps that repeat each other as one; none where they differ too much.
pub(super) fn as_one(blocks: &[(StepBlock, Repeat)]) -> Option<StepBlock> {
    let places: Vec<&str> = blocks.iter().map(|(_, repeat)| repeat.place.as_str()).collect();
    let ((first, _), (last, _)) = (blocks.first()?, blocks.last()?);
    let apart = |block: &StepBlock| {
        !block.held_by.is_empty() || !block.reason.0.is_empty() || !block.lines.iter().all(repeats)
    };
    if blocks.len() < 2 || blocks.iter().any(|(block, _)| apart(block)) {
        return None;
    }
    let title =
        blocks[1..].iter().enumerate().try_fold(first.title.clone(), |title, (index, (block, _))| {
            joined(&title, &places[..=index], &block.title, places[index + 1])
        })?;
    let mut rows: Vec<Row> = first.lines.iter().map(|line| Row { line: line.clone(), at: vec![0] }).collect();
    for (index, (block, _)) in blocks.iter().enumerate().skip(1) {
        rows = merged(rows, &block.lines, index, &places);
    }
    let worked = |row: &&Row| matches!(row.line, StepLine::Act { .. });
    let work = rows.iter().filter(worked).count();
    let alone = rows.iter().filter(worked).filter(|row| row.at.len() < blocks.len()).count();
    if alone * 10 > work * APART {
        return None;
    }
    let facts = shared_facts(blocks, &places)?;
    let rows = by_place(rows, &places);
    let columns = format!("Down the boxes of {} first, then of the next.", places[0]);
    let mut lines = vec![StepLine::Note(Text::bold("One after the other: ").and(columns))];
    lines.extend(rows.into_iter().map(|row| told(row, &places)));
    // What is put on stands in the head.
    lines.sort_by_key(|line| !matches!(line, StepLine::PutOn { .. }));
    let mut also = first.also.clone();
    also.extend(blocks[1..].iter().flat_map(|(block, _)| block.also.iter().chain([&block.anchor]).cloned()));
    Some(StepBlock {
        number: format!("{}–{}", first.number, last.number),
        title,
        lines,
        also,
        facts,
        ..first.clone()
    })
}

/// The short facts under the titles as one: where what is said of one thing differs, what is said of it at each place;
/// none where they differ otherwise. What was changed for the first alone is printed as of the last.
fn shared_facts(blocks: &[(StepBlock, Repeat)], places: &[&str]) -> Option<Vec<Text>> {
    let plain = |text: &Text| text.0.iter().map(|run| run.text.as_str()).collect::<String>();
    let (last, _) = blocks.last()?;
    if blocks.iter().any(|(block, _)| block.facts.len() != last.facts.len()) {
        return None;
    }
    let shared = last.facts.iter().enumerate().map(|(index, fact)| {
        let told: Vec<String> = blocks.iter().map(|(block, _)| plain(&block.facts[index])).collect();
        if told.iter().all(|text| *text == told[0]) {
            let each = if told[0].starts_with(ABOUT) { " each" } else { "" };
            return Some(fact.clone().and(each));
        }
        let parted: Option<Vec<(&str, &str)>> = told.iter().map(|text| text.split_once(": ")).collect();
        let parted = parted.filter(|parted| parted.iter().all(|(of, _)| *of == parted[0].0))?;
        let each = parted.iter().zip(places).map(|((_, says), place)| format!("{place} → {says}"));
        Some(Text::plain(format!("{}: {}", parted[0].0, each.collect::<Vec<_>>().join(", "))))
    });
    shared.collect()
}

/// Whether a line may stand once for several places.
fn repeats(line: &StepLine) -> bool {
    match line {
        StepLine::Act { boxes, .. } => matches!(boxes, Boxes::None | Boxes::One),
        StepLine::Torque { boxes, held, .. } => !held && matches!(boxes, Boxes::One | Boxes::Grid(_)),
        StepLine::Reading { blanks, .. } => blanks.len() == 1,
        StepLine::Note(_) | StepLine::If { .. } | StepLine::Hazard(_) | StepLine::PutOn { .. } => true,
        StepLine::Figure(figure) => matches!(figure.drawing, Drawing::Way(_)),
        _ => false,
    }
}

/// The rows with the lines of one more place, those that say the same as one; in the order of both, the longest common
/// run of lines kept together.
fn merged(rows: Vec<Row>, lines: &[StepLine], place: usize, places: &[&str]) -> Vec<Row> {
    let (height, width) = (rows.len(), lines.len());
    let both = |row: usize, line: usize| {
        let at: Vec<&str> = rows[row].at.iter().map(|at| places[*at]).collect();
        one_line(&rows[row].line, &at, &lines[line], places[place])
    };
    // Length of the longest common run behind each pair.
    let mut common = vec![vec![0usize; width + 1]; height + 1];
    for row in (0..height).rev() {
        for line in (0..width).rev() {
            common[row][line] = match both(row, line) {
                Some(_) => common[row + 1][line + 1] + 1,
                None => common[row + 1][line].max(common[row][line + 1]),
            };
        }
    }
    let mut merged = Vec::new();
    let (mut row, mut line) = (0, 0);
    while row < height || line < width {
        let same = (row < height && line < width).then(|| both(row, line)).flatten();
        match same {
            Some(said) => {
                let mut at = rows[row].at.clone();
                at.push(place);
                merged.push(Row { line: said, at });
                row += 1;
                line += 1;
            }
            None if line == width || (row < height && common[row + 1][line] >= common[row][line + 1]) => {
                merged.push(Row { line: rows[row].line.clone(), at: rows[row].at.clone() });
                row += 1;
            }
            None => {
                merged.push(Row { line: lines[line].clone(), at: vec![place] });
                line += 1;
            }
        }
    }
    merged
}

/// Remarks that follow each other, one for each place, as one where they differ in one word alone: `1 → 35, 2 → 36`.
fn by_place(rows: Vec<Row>, places: &[&str]) -> Vec<Row> {
    let mut told: Vec<Row> = Vec::with_capacity(rows.len());
    let mut rest = rows.into_iter().peekable();
    while let Some(row) = rest.next() {
        let mut run = vec![row];
        while let Some(next) = rest.next_if(|next| {
            let remark = |row: &Row| matches!(row.line, StepLine::Note(_)) && row.at.len() == 1;
            remark(&run[0]) && remark(next) && next.at[0] == run[0].at[0] + run.len()
        }) {
            run.push(next);
        }
        match one_remark(&run, places) {
            Some(row) => told.push(row),
            None => told.extend(run),
        }
    }
    told
}

fn one_remark(run: &[Row], places: &[&str]) -> Option<Row> {
    let texts: Vec<&Text> = run
        .iter()
        .filter_map(|row| if let StepLine::Note(text) = &row.line { Some(text) } else { None })
        .collect();
    let (first, others) = texts.split_first()?;
    if others.is_empty() || texts.len() < run.len() || texts.iter().any(|text| text.0.len() != first.0.len())
    {
        return None;
    }
    let mut runs = first.0.clone();
    let mut different = 0;
    for (at, kept) in runs.iter_mut().enumerate() {
        let words: Vec<Vec<&str>> = texts.iter().map(|text| text.0[at].text.split(' ').collect()).collect();
        let alike = |text: &&Text| text.0[at].style == kept.style && text.0[at].link == kept.link;
        if words.iter().any(|also| also.len() != words[0].len()) || !texts.iter().all(alike) {
            return None;
        }
        let mut joined: Vec<String> = Vec::with_capacity(words[0].len());
        for column in 0..words[0].len() {
            let here: Vec<(&str, &str)> = words.iter().map(|words| parted(words[column])).collect();
            if here.iter().all(|word| *word == here[0]) {
                joined.push(words[0][column].to_owned());
                continue;
            }
            if here.iter().any(|(_, stop)| *stop != here[0].1) {
                return None;
            }
            different += 1;
            // What says already where it comes from needs no arrow to it.
            let to = |word: &str| if word.starts_with(FROM) { "" } else { "→ " };
            let each = run
                .iter()
                .zip(&here)
                .map(|(row, (word, _))| format!("{} {}{word}", places[row.at[0]], to(word)));
            joined.push(each.collect::<Vec<_>>().join(", ") + here[0].1);
        }
        kept.text = joined.join(" ");
    }
    let at = run.iter().flat_map(|row| row.at.clone()).collect::<Vec<_>>();
    (different == 1 && at.len() == places.len()).then_some(Row { line: StepLine::Note(Text(runs)), at })
}

/// One line for two; none where they say different things.
fn one_line(line: &StepLine, places: &[&str], other: &StepLine, place: &str) -> Option<StepLine> {
    match (line, other) {
        (StepLine::Act { text, boxes }, StepLine::Act { text: also, boxes: too }) if boxes == too => {
            Some(StepLine::Act { text: joined(text, places, also, place)?, boxes: boxes.clone() })
        }
        (
            StepLine::Torque { text, value, condition, held, boxes },
            StepLine::Torque { text: also, value: same, condition: kept, .. },
        ) if value == same && condition == kept => Some(StepLine::Torque {
            text: joined(text, places, also, place)?,
            value: value.clone(),
            condition: condition.clone(),
            held: *held,
            boxes: boxes.clone(),
        }),
        (
            StepLine::Reading { text, limit, unit, blanks },
            StepLine::Reading { text: also, limit: same, unit: kept, blanks: more },
        ) if limit == same && unit == kept => Some(StepLine::Reading {
            text: joined(text, places, also, place)?,
            limit: limit.clone(),
            unit: unit.clone(),
            blanks: blanks.iter().chain(more).cloned().collect(),
        }),
        (StepLine::Note(text), StepLine::Note(also)) => {
            Some(StepLine::Note(joined(text, places, also, place)?))
        }
        (StepLine::Hazard(hazard), StepLine::Hazard(also)) => {
            let same = hazard.word == also.word
                && hazard.hazard == also.hazard
                && hazard.avoidance == also.avoidance;
            same.then(|| line.clone())
        }
        (StepLine::If { .. }, StepLine::If { .. }) => (line == other).then(|| line.clone()),
        (StepLine::Figure(figure), StepLine::Figure(also)) => {
            let (Drawing::Way(way), Drawing::Way(more)) = (&figure.drawing, &also.drawing) else {
                return None;
            };
            if way.toward != more.toward || way.words != more.words {
                return None;
            }
            let mut way = way.clone();
            way.places.extend(more.places.iter().cloned());
            Some(StepLine::Figure(Figure { drawing: Drawing::Way(way), ..figure.clone() }))
        }
        _ => None,
    }
}

/// Two texts as one where they differ in the names of their places alone, which then stand side by side: `no. 1, 2`.
fn joined(text: &Text, places: &[&str], other: &Text, place: &str) -> Option<Text> {
    if text.0.len() != other.0.len() {
        return None;
    }
    let told = places.join(", ");
    let mut runs = Vec::with_capacity(text.0.len());
    for (run, also) in text.0.iter().zip(&other.0) {
        if run.style != also.style || run.link != also.link {
            return None;
        }
        // What has been joined already counts as one word.
        let whole = if places.len() > 1 { run.text.replace(&told, places[0]) } else { run.text.clone() };
        let (words, others): (Vec<&str>, Vec<&str>) =
            (whole.split(' ').collect(), also.text.split(' ').collect());
        if words.len() != others.len() {
            return None;
        }
        let mut joined: Vec<String> = Vec::with_capacity(words.len());
        for (word, other) in words.into_iter().zip(others) {
            let (core, rest) = parted(word);
            let (core_too, rest_too) = parted(other);
            let (open, core) = core.strip_prefix('(').map_or(("", core), |core| ("(", core));
            let core_too = core_too.strip_prefix(open).unwrap_or(core_too);
            joined.push(if word == other {
                word.to_owned()
            } else if core == places[0] && core_too == place && rest == rest_too {
                format!("{open}{told}, {place}{rest}")
            } else {
                return None;
            });
        }
        runs.push(Run { text: joined.join(" "), ..run.clone() });
    }
    Some(Text(runs))
}

/// A word and the stops behind it.
fn parted(word: &str) -> (&str, &str) {
    let core = word.trim_end_matches(['.', ',', ':', ';', ')']);
    word.split_at(core.len())
}

/// A row with a box for each of its places; of one that isn't at all of them the places stand before it.
fn told(row: Row, places: &[&str]) -> StepLine {
    let Row { line, at } = row;
    let names: Vec<String> = at.iter().map(|at| places[*at].to_owned()).collect();
    let all = at.len() == places.len();
    let before = |text: Text| {
        if all {
            return text;
        }
        let mut prefixed = Text::bold(format!("{}: ", names.join(", ")));
        prefixed.0.extend(text.0);
        prefixed
    };
    match line {
        StepLine::Act { text, boxes: Boxes::One } if names.len() > 1 => {
            StepLine::Act { text: before(text), boxes: Boxes::Grid(names) }
        }
        // As many boxes as it has holes at each place, all with the name of the place.
        StepLine::Torque { text, value, condition, held, boxes } if names.len() > 1 => {
            let each = if let Boxes::Grid(holes) = &boxes { holes.len() } else { 1 };
            let boxes = names.iter().flat_map(|name| std::iter::repeat_n(name.clone(), each)).collect();
            StepLine::Torque { text: before(text), value, condition, held, boxes: Boxes::Grid(boxes) }
        }
        StepLine::Torque { text, value, condition, held, boxes } => {
            StepLine::Torque { text: before(text), value, condition, held, boxes }
        }
        StepLine::Reading { text, limit, unit, blanks } => {
            StepLine::Reading { text: before(text), limit, unit, blanks }
        }
        StepLine::Act { text, boxes } => StepLine::Act { text: before(text), boxes },
        StepLine::Note(text) => StepLine::Note(before(text)),
        other => other,
    }
}
