//! `reckon pattern`: the order in which fasteners are tightened on a ring, a row, a grid, or a joint of a procedure.

use std::path::PathBuf;

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use super::{Stop, joint};
use crate::cli::wrong_use::whole;
use crate::decide::{by_answer, by_place};
use crate::diagnostics::Mend;
use crate::mechanics::pattern::{self, Layout, Pattern, Point, compare, propose_passes, ring_rule};
use crate::procedure::model::{Joint, Pass, Place, Procedure, Tightening};
use crate::procedure::{Way, holes, order_of_work};
use crate::quantity::Torque;

/// The order of tightening, and of release
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("layout").required(true).args(["ring", "row", "grid", "path"]))]
pub(super) struct PatternForm {
    /// So many fasteners on a ring
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, 200))]
    ring: Option<u32>,
    /// So many in a straight row
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, 200))]
    row: Option<u32>,
    /// Rows and columns: `2x5`
    #[arg(long, value_name = "RxC")]
    grid: Option<String>,
    /// A procedure
    #[arg(value_name = "PROCEDURE", requires = "joint")]
    path: Option<PathBuf>,
    /// One of its joints
    #[arg(value_name = "JOINT")]
    joint: Option<String>,
    /// As the engines have it that have this set, where some engines have another in its place
    #[arg(long, value_name = "SET", requires = "joint")]
    with: Vec<String>,
    /// Final torque, to propose passes for: `95 N.m`
    #[arg(long, allow_hyphen_values = true)]
    torque: Option<String>,
    /// They are turned on by an angle, or into yield
    #[arg(long, requires = "torque")]
    by_angle: bool,
}

impl PatternForm {
    pub(super) fn answer(&self) -> Result<Answer, Stop> {
        let (mut answer, count) = match (self.ring, self.row, &self.grid, &self.path, &self.joint) {
            (Some(count), ..) => (ring(count as usize), count as usize),
            (_, Some(count), ..) => (row(count as usize), count as usize),
            (_, _, Some(text), ..) => {
                let (rows, columns) = rows_and_columns(text)?;
                (grid(rows, columns), rows * columns)
            }
            (_, _, _, Some(path), Some(name)) => {
                let (procedure, id) = joint::find(path, name)?;
                let mut answer = Answer::new("pattern", procedure.joint(id).naming.title.clone());
                answer.given(Line::words("joint", name.clone()));
                let procedure = joint::fitted(&procedure, id, &self.with, &mut answer)?;
                let found = procedure.joint(id);
                let count = found.members.iter().map(|member| member.holes.len()).sum();
                (of_joint(&procedure, found, answer)?, count)
            }
            _ => {
                return Err(typed::too_little(
                    "no layout was given",
                    Mend::doing("add `--ring 12`, `--row 9`, `--grid 2x5`, or a procedure and its joint"),
                )
                .into());
            }
        };
        self.passes(count, &mut answer)?;
        answer.note("the maker's stated sequence beats this one");
        Ok(answer)
    }

    fn passes(&self, count: usize, answer: &mut Answer) -> Asked<()> {
        let Some(text) = &self.torque else { return Ok(()) };
        let torque: Given<Torque> = typed::positive("--torque", text)?;
        answer.given(torque.line("final torque"));
        let plan = propose_passes(torque.value(), count, self.by_angle);
        answer.source(plan.source);
        answer.given_or(
            self.by_angle,
            Line::words(
                "tightened",
                if self.by_angle { "on by an angle, or into yield" } else { "by torque alone" },
            ),
        );
        for (index, share) in plan.shares.iter().enumerate() {
            let name = format!("pass {}, a proposal", index + 1);
            let whole = share.fraction() == 1.0;
            let at = crate::mechanics::Band::exactly(torque.value() * share.fraction());
            // The last pass is the torque that was asked for, as it was asked.
            let line = if whole { torque.line(&name) } else { Line::result(&name, at, torque.unit(), 3) };
            answer.estimate(line);
        }
        if plan.last_circular {
            answer.finding("then once round in plain circular order at the final torque (a proposal)");
        } else if self.by_angle {
            answer.finding("no last circular pass: never on fasteners tightened by angle or into yield");
        }
        Ok(())
    }
}

/// `2x5`
fn rows_and_columns(text: &str) -> Asked<(usize, usize)> {
    let parts = text.split_once(['x', '×']);
    let number = |part: &str| part.trim().parse::<usize>().ok().filter(|number| (1..=40).contains(number));
    parts.and_then(|(rows, columns)| Some((number(rows)?, number(columns)?))).ok_or_else(|| {
        let problem = format!("`{text}` doesn't say rows and columns");
        typed::wrong_word(
            "--grid",
            &problem,
            Mend::write("rows, an `x` and columns, each from 1 to 40: `2x5`"),
        )
    })
}

fn started(title: String, pattern: &Pattern) -> Answer {
    let mut answer = Answer::new("pattern", title);
    answer.given(Line::words("layout", pattern.layout.name()));
    let rule = match pattern.layout {
        Layout::Ring => ring_rule(pattern.order.len()),
        Layout::Row => "from the middle outwards, right and left in turn",
        _ => "from the middle outwards in a spiral, sides alternating",
    };
    answer.formula(rule, pattern.source);
    answer
}

fn in_order(numbers: impl IntoIterator<Item = usize>) -> String {
    numbers.into_iter().map(|number| number.to_string()).collect::<Vec<_>>().join(" ")
}

fn ring(count: usize) -> Answer {
    let holes: Vec<Point> = (0..count)
        .map(|place| {
            let angle = std::f64::consts::TAU * place as f64 / count as f64;
            Point::from_mm(100.0 * angle.sin(), 100.0 * angle.cos())
        })
        .collect();
    let order = pattern::ring_positions(count);
    let source = pattern::RING_SOURCE;
    let pattern = Pattern { order, layout: Layout::Ring, source };
    debug_assert!(count < 3 || pattern::tightening(&holes).order == pattern.order);
    let mut answer = started(format!("Ring of {count}"), &pattern);
    answer.assume(Line::words("holes", "all of one size, evenly on one circle"));
    let positions: Vec<usize> = pattern.order.iter().map(|place| place + 1).collect();
    answer.tabled(Line::words("tighten, positions counted clockwise", in_order(positions.iter().copied())));
    answer.tabled(Line::words("release, the reverse", in_order(positions.iter().rev().copied())));
    let labels = in_order(pattern.numbers());
    answer.tabled(Line::words("number at each position, clockwise", labels));
    answer
}

fn row(count: usize) -> Answer {
    let holes: Vec<Point> = (0..count).map(|place| Point::from_mm(30.0 * place as f64, 0.0)).collect();
    let pattern = pattern::tightening(&holes);
    let mut answer = started(format!("Row of {count}"), &pattern);
    answer.assume(Line::words("holes", "all of one size, evenly on one line"));
    drawn(&mut answer, &pattern, count);
    answer
}

fn grid(rows: usize, columns: usize) -> Answer {
    let holes: Vec<Point> = (0..rows * columns)
        .map(|place| {
            let (row, column) = (place / columns, place % columns);
            Point::from_mm(60.0 * column as f64, -60.0 * row as f64)
        })
        .collect();
    let pattern = pattern::tightening(&holes);
    let mut answer = started(format!("Grid of {rows} rows and {columns} columns"), &pattern);
    answer.assume(Line::words("holes", "all of one size, as far apart across as down"));
    drawn(&mut answer, &pattern, columns);
    answer
}

/// The numbers as they lie, row by row from the top, and for release.
fn drawn(answer: &mut Answer, pattern: &Pattern, columns: usize) {
    let numbers = pattern.numbers();
    let count = numbers.len();
    let reversed: Vec<usize> = numbers.iter().map(|number| count + 1 - number).collect();
    answer.tabled(Line::words("tighten, numbers as they lie, row by row", in_order(numbers.iter().copied())));
    answer.tabled(Line::words("release, the reverse", in_order(reversed.iter().copied())));
    for row in numbers.chunks(columns) {
        answer.drawn(row.iter().map(|number| format!("{number:>3}")).collect());
    }
}

fn of_joint(procedure: &Procedure, joint: &Joint, mut answer: Answer) -> Asked<Answer> {
    let name = &joint.naming.id;
    let places = holes(procedure, joint);
    if places.len() < 2 {
        let problem = "fewer than two of its holes have a place";
        let complaint =
            crate::cli::errors::joint_not_reckoned(name, problem, Mend::doing("give the joint its `holes`"));
        return Err(Box::new(complaint));
    }
    let points: Vec<Point> =
        places.iter().map(|(hole, _, _)| Point::from_mm(hole.x.base() * 1e3, hole.y.base() * 1e3)).collect();
    let house = pattern::tightening(&points);
    for member in &joint.members {
        let set = procedure.set(member.set.id);
        let letters: Vec<&str> = member.holes.iter().map(|hole| hole.letter.as_str()).collect();
        let thread = set.thread.as_ref().map_or("thread not stated", |thread| &thread.written);
        answer.given(Line::words(&set.naming.id, format!("{thread} at {}", letters.join(" "))));
    }
    answer.given(Line::words("layout of all holes", house.layout.name()));
    let letters = |order: &[usize]| -> String {
        order.iter().map(|place| places[*place].0.letter.as_str()).collect::<Vec<_>>().join(" ")
    };
    let (tighten, stated) = order_of_work(procedure, joint, Way::Tighten);
    let (release, undoing_stated) = order_of_work(procedure, joint, Way::Release);
    answer.tabled(Line::words("tighten", letters(&tighten)));
    answer.tabled(Line::words("release", letters(&release)));
    match &stated {
        Some(origin) => {
            answer.given(Line::words("sequence stated by", origin.clone()));
            if let Some(comparison) = compare(&tighten, &points).filter(|_| joint.members.len() == 1) {
                let verb = if comparison.same { "is " } else { "" };
                answer.finding(format!("the stated sequence takes each hole once, and {verb}{comparison}"));
            } else {
                answer.finding("the stated sequence takes each hole once");
            }
            answer.tabled(Line::words(
                "house pattern, for comparison",
                letters(&house_order(procedure, joint)),
            ));
        }
        None => {
            answer.formula("larger sizes first when tightening, smaller first when undoing; each size by its own pattern", pattern::SPIRAL_SOURCE);
            for (size, source) in sources(&places) {
                answer.formula(
                    &format!("holes of {size}: from the middle outwards or crosswise, as they lie"),
                    source,
                );
            }
        }
    }
    if let Some(origin) = undoing_stated.filter(|origin| Some(origin) != stated.as_ref()) {
        answer.given(Line::words("sequence to undo stated by", origin));
    }
    for member in &joint.members {
        let set = procedure.set(member.set.id);
        let tightening = procedure.tightening(member.set.id);
        let places: Vec<Place> = procedure.places(&set.axes).collect();
        let words = by_place(procedure, &set.axes, &places, |place| {
            let bound = procedure.bound_at((member.set.id, place));
            by_answer(procedure, tightening.each(&bound), |stated| said(&stated.value))
        });
        let words = if words.is_empty() { "not known".to_owned() } else { words };
        answer.given(Line::words(&format!("{} to", set.naming.id), words));
    }
    Ok(answer)
}

/// The order without the author's own.
fn house_order(procedure: &Procedure, joint: &Joint) -> Vec<usize> {
    let plain = Joint { tighten_sequence: None, undo_sequence: None, ..joint.clone() };
    order_of_work(procedure, &plain, Way::Tighten).0
}

/// Each size of the joint with the source of its pattern.
fn sources(
    places: &[(&crate::procedure::model::Hole, &crate::procedure::model::FastenerSet, usize)],
) -> Vec<(String, crate::mechanics::Citation)> {
    let mut found: Vec<(String, Vec<Point>)> = Vec::new();
    for (hole, set, _) in places {
        let size =
            set.thread.as_ref().map_or_else(|| "unknown size".to_owned(), |thread| thread.written.clone());
        let point = Point::from_mm(hole.x.base() * 1e3, hole.y.base() * 1e3);
        match found.iter_mut().find(|(known, _)| *known == size) {
            Some((_, points)) => points.push(point),
            None => found.push((size, vec![point])),
        }
    }
    found.into_iter().map(|(size, points)| (size, pattern::tightening(&points).source)).collect()
}

/// What is said of a torque.
fn said(tightening: &Tightening) -> String {
    match tightening {
        Tightening::Passes(passes) => {
            let pass = |pass: &Pass| match pass {
                Pass::Torque(low, None) | Pass::Angle(low, None) => low.printed(),
                Pass::Torque(low, Some(high)) | Pass::Angle(low, Some(high)) => {
                    format!("{} to {}", low.numeral(), high.printed())
                }
            };
            passes.iter().map(pass).collect::<Vec<_>>().join(", then ")
        }
        Tightening::General => "the shop's own table".to_owned(),
        Tightening::ByFeel => "by feel".to_owned(),
        Tightening::Unknown => "not known".to_owned(),
    }
}
