//! Gears that run in each other, as circles in the order in which they mesh, with what they are marked with where they meet.
//! A diagram: it shows which gear meets which, not where they lie.

use std::collections::BTreeSet;
use std::f64::consts::TAU;

use super::bench::{Bench, Meeting};
use crate::plan::words::inner;
use crate::plan::{PlannedAct, PlannedStep};
use crate::procedure::model::{Deed, PartId, PartWork, Procedure};
use crate::sheet::{Drawing, Figure, Shape, ShapesDrawing, Text};

/// Radius of the largest gear in millimetres, and the least of one that can be read.
const RADII: (f64, f64) = (11.0, 4.5);
/// Radius of gears of which nobody has said how many teeth each has.
const UNSIZED: f64 = 8.0;
/// Half the height of a mark, half the width of one of its letters, and the white space round it.
const MARK: (f64, f64, f64) = (1.6, 1.15, 0.4);
/// Half the length of the line across the place where two gears meet.
const TOUCH: f64 = 1.4;

/// Gears that run in each other, directly or through others.
struct Train<'p> {
    procedure: &'p Procedure,
    /// The gears, each but the first behind one that it meets.
    gears: Vec<PartId>,
    meetings: Vec<Meeting<'p>>,
}

/// The gears in mesh before the act that first sets them or looks at their marks, in a step that proves the timing; where no
/// look does, in the step that fits the gear which says what it runs in.
pub(super) fn figure(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Option<Figure> {
    if bench.meetings.is_empty() {
        return None;
    }
    let procedure = bench.procedure;
    let first = bench.acts(planned).find_map(|act| Some((act, sets(bench, act)?)));
    let (found, gear) = first.filter(|(found, _)| found.number == act.number)?;
    let looked_at: Vec<PartId> = looked_at(procedure, bench.acts(planned).map(|act| &act.act.deed));
    let begin = looked_at.first().copied().unwrap_or(gear);
    let train = Train::of(bench, begin)?;
    let proved = train.gears.iter().any(|gear| looked_at.contains(gear));
    let proved_elsewhere = || {
        let anywhere = looked_at_anywhere(procedure);
        train.gears.iter().any(|gear| anywhere.contains(gear))
    };
    let says = |gear: PartId| !procedure.part(gear).meshes.is_empty();
    let fitted = matches!(found.act.deed, Deed::Part { work: PartWork::Fit, .. });
    (proved || (fitted && says(gear) && !proved_elsewhere())).then(|| train.figure()).flatten()
}

/// A gear in mesh that the act fits, or at the mark of which it looks.
fn sets(bench: &Bench, act: &PlannedAct) -> Option<PartId> {
    let meets = |gear: &PartId| bench.meetings.iter().any(|(a, b, _)| a == gear || b == gear);
    match &act.act.deed {
        Deed::Part { work: PartWork::Fit, what, .. } => what.iter().map(|part| part.id).find(meets),
        deed => looked_at(bench.procedure, [deed].into_iter()).into_iter().find(meets),
    }
}

/// The gears at the marks of which some deeds look.
fn looked_at<'d>(procedure: &Procedure, deeds: impl Iterator<Item = &'d Deed>) -> Vec<PartId> {
    let looks = deeds.flat_map(|deed| match deed {
        Deed::Look(looks) => looks.as_slice(),
        _ => &[],
    });
    looks.flat_map(|look| &procedure.look(look.id).marks_of).map(|gear| gear.id).collect()
}

fn looked_at_anywhere(procedure: &Procedure) -> BTreeSet<PartId> {
    let steps = procedure.steps.iter();
    looked_at(procedure, steps.flat_map(|step| step.acts()).map(|act| &act.deed)).into_iter().collect()
}

impl<'p> Train<'p> {
    /// The gears that run together with one, that one first; none where they run in a ring, which no row shows.
    fn of(bench: &Bench<'p>, begin: PartId) -> Option<Train<'p>> {
        let mut train = Train { procedure: bench.procedure, gears: vec![begin], meetings: Vec::new() };
        let mut next = 0;
        while let Some(gear) = train.gears.get(next).copied() {
            next += 1;
            for meeting @ (a, b, mark) in bench.meetings.iter().copied() {
                let other = if a == gear { b } else { a };
                if (a != gear && b != gear) || train.meetings.iter().any(|known| same(known, &meeting)) {
                    continue;
                }
                if train.gears.contains(&other) {
                    return None;
                }
                train.gears.push(other);
                train.meetings.push((gear, other, mark));
            }
        }
        (train.gears.len() > 1).then_some(train)
    }

    fn figure(&self) -> Option<Figure> {
        let teeth: Option<Vec<u32>> =
            self.gears.iter().map(|gear| self.procedure.part(*gear).teeth).collect();
        let most = teeth.iter().flatten().copied().max().unwrap_or(1);
        let sized = |teeth: &u32| RADII.0 * f64::from(*teeth) / f64::from(most.max(1));
        let radii: Option<Vec<f64>> = teeth.map(|teeth| teeth.iter().map(sized).collect());
        let radii = radii.filter(|radii| radii.iter().all(|radius| *radius >= RADII.1));
        let told = if radii.is_some() { "Sized by their teeth" } else { "Not to scale" };
        let radii = radii.unwrap_or_else(|| vec![UNSIZED; self.gears.len()]);
        let middles = self.middles(&radii);
        let circles: Vec<((f64, f64), f64)> = middles.into_iter().zip(radii).collect();
        for (index, a) in circles.iter().enumerate() {
            let meets =
                |other: usize| self.meetings.iter().any(|meeting| self.between(meeting, index, other));
            let apart = |(other, b): (usize, &((f64, f64), f64))| {
                meets(other) || distance(a.0, b.0) > a.1 + b.1 + MARK.2
            };
            if !circles.iter().enumerate().skip(index + 1).all(apart) {
                return None;
            }
        }
        let shapes = self.shapes(&circles)?;
        let names: Vec<String> = self
            .gears
            .iter()
            .enumerate()
            .map(|(at, gear)| format!("{} {}", at + 1, self.name(*gear)))
            .collect();
        let pairs: Vec<String> = self
            .meetings
            .iter()
            .map(|(a, b, mark)| format!("{} meets {} at {mark}", self.name(*a), self.name(*b)))
            .collect();
        Some(Figure {
            caption: Text::bold("Gears in mesh: ")
                .and(format!("{}. {told}; which meets which, not where they lie.", names.join(", "))),
            alternative: format!("Gears in mesh: {}.", pairs.join("; ")),
            drawing: Drawing::Shapes(shapes),
        })
    }

    /// `idler gear, 35 teeth`.
    fn name(&self, gear: PartId) -> String {
        let part = self.procedure.part(gear);
        let teeth = part.teeth.map(|teeth| format!(" ({teeth} teeth)")).unwrap_or_default();
        format!("{}{teeth}", inner(&part.naming.title))
    }

    fn at(&self, gear: PartId) -> usize {
        self.gears.iter().position(|known| *known == gear).unwrap_or_default()
    }

    fn between(&self, (a, b, _): &Meeting, one: usize, other: usize) -> bool {
        let ends = (self.at(*a), self.at(*b));
        ends == (one, other) || ends == (other, one)
    }

    /// Where each gear stands: the one that meets most in the middle, the others round it and beyond.
    fn middles(&self, radii: &[f64]) -> Vec<(f64, f64)> {
        let met = |gear: usize| -> Vec<usize> {
            let beside = self.meetings.iter().filter_map(|(a, b, _)| match (self.at(*a), self.at(*b)) {
                (a, b) if a == gear => Some(b),
                (a, b) if b == gear => Some(a),
                _ => None,
            });
            beside.collect()
        };
        let mut root = 0;
        for gear in 1..self.gears.len() {
            if met(gear).len() > met(root).len() {
                root = gear;
            }
        }
        let mut middles: Vec<Option<(f64, f64)>> = vec![None; self.gears.len()];
        middles[root] = Some((0.0, 0.0));
        // A gear, and the direction in which those that it meets stand, in parts of a turn.
        let mut open = vec![(root, None)];
        while let Some((gear, from)) = open.pop() {
            let Some(own) = middles[gear] else { continue };
            let mut beyond: Vec<usize> =
                met(gear).into_iter().filter(|other| middles[*other].is_none()).collect();
            // The smallest of them stands below, where it takes least of the height.
            beyond.sort_by(|a, b| radii[*b].total_cmp(&radii[*a]));
            let count = beyond.len();
            for (index, other) in beyond.into_iter().enumerate() {
                let direction = match from {
                    None => around(index, count),
                    Some(from) => from + (index as f64 - (count as f64 - 1.0) / 2.0) * 0.22,
                };
                let (reach, angle) = (radii[gear] + radii[other], direction * TAU);
                middles[other] = Some((own.0 + reach * angle.cos(), own.1 + reach * angle.sin()));
                open.push((other, Some(direction)));
            }
        }
        middles.into_iter().map(Option::unwrap_or_default).collect()
    }

    /// The circles with their numbers, and each mark beside the place where it meets its own; none where one finds no room.
    fn shapes(&self, circles: &[((f64, f64), f64)]) -> Option<ShapesDrawing> {
        let mut shapes: Vec<Shape> = Vec::new();
        for (middle, radius) in circles {
            shapes.push(Shape::Circle { middle: *middle, radius: *radius, heavy: false });
        }
        let words = |at: (f64, f64), words: &str| Shape::Words {
            at,
            words: words.to_owned(),
            bold: true,
            around: true,
        };
        for (index, (middle, _)) in circles.iter().enumerate() {
            shapes.push(words(*middle, &(index + 1).to_string()));
        }
        let mut reach: Vec<(f64, f64)> = Vec::new();
        let mut marks: Vec<((f64, f64), (f64, f64))> = Vec::new();
        for (a, b, mark) in &self.meetings {
            let own = [self.at(*a), self.at(*b)];
            let (a, b) = (circles[own[0]], circles[own[1]]);
            let far = distance(a.0, b.0);
            let along = ((b.0.0 - a.0.0) / far, (b.0.1 - a.0.1) / far);
            let touch = (a.0.0 + along.0 * a.1, a.0.1 + along.1 * a.1);
            let end = |way: f64| (touch.0 + along.0 * way * TOUCH, touch.1 + along.1 * way * TOUCH);
            shapes.push(Shape::Line { from: end(-1.0), to: end(1.0), heavy: true, dashed: false });
            let half = (mark.chars().count() as f64 * MARK.1 + MARK.2, MARK.0 + MARK.2);
            let aside = (-along.1, along.0);
            let tries = (4..60).flat_map(|step| [f64::from(step), -f64::from(step)]).map(|step| step * 0.5);
            let places = tries.map(|far| (touch.0 + aside.0 * far, touch.1 + aside.1 * far));
            let free = |at: &(f64, f64)| {
                let beside = |(other, size): &((f64, f64), (f64, f64))| {
                    (at.0 - other.0).abs() >= half.0 + size.0 || (at.1 - other.1).abs() >= half.1 + size.1
                };
                let gap = |index: usize| distance(*at, circles[index].0) - circles[index].1;
                // No other gear stands nearer to it than the two that meet there.
                let far = gap(own[0]).max(gap(own[1]));
                let nearest = (0..circles.len()).all(|index| own.contains(&index) || gap(index) > far);
                nearest && circles.iter().all(|circle| clear(*at, half, *circle)) && marks.iter().all(beside)
            };
            let at = places.into_iter().find(free)?;
            marks.push((at, half));
            shapes.push(words(at, mark));
            reach.extend([(at.0 - half.0, at.1 - half.1), (at.0 + half.0, at.1 + half.1)]);
        }
        for ((x, y), radius) in circles {
            reach.extend([(x - radius, y - radius), (x + radius, y + radius)]);
        }
        let edge = |pick: fn(&(f64, f64)) -> f64| {
            let all = || reach.iter().map(pick);
            (all().fold(f64::INFINITY, f64::min) - 1.0, all().fold(f64::NEG_INFINITY, f64::max) + 1.0)
        };
        let ((left, right), (low, high)) = (edge(|at| at.0), edge(|at| at.1));
        let moved = |(x, y): (f64, f64)| (x - left, y - low);
        let shapes = shapes.into_iter().map(|shape| match shape {
            Shape::Circle { middle, radius, heavy } => Shape::Circle { middle: moved(middle), radius, heavy },
            Shape::Line { from, to, heavy, dashed } => {
                Shape::Line { from: moved(from), to: moved(to), heavy, dashed }
            }
            Shape::Words { at, words, bold, around } => Shape::Words { at: moved(at), words, bold, around },
            other => other,
        });
        let shapes = shapes.collect();
        Some(ShapesDrawing { width: right - left, height: high - low, full_size: false, shapes })
    }
}

/// Whether two meetings are of the same gears.
fn same((a, b, _): &Meeting, (c, d, _): &Meeting) -> bool {
    (a, b) == (c, d) || (a, b) == (d, c)
}

/// Directions of gears round one in parts of a turn: abreast first, which takes least of the page's height.
fn around(index: usize, count: usize) -> f64 {
    match count {
        1 => 0.0,
        2 | 4 => [0.5, 0.0, 0.25, 0.75][index],
        3 => [0.444, 0.056, 0.75][index],
        _ => index as f64 / count as f64,
    }
}

fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// Whether a mark of half this width and height stands clear of a circle.
fn clear(at: (f64, f64), half: (f64, f64), (middle, radius): ((f64, f64), f64)) -> bool {
    let nearest = |at: f64, half: f64, middle: f64| middle.clamp(at - half, at + half);
    distance((nearest(at.0, half.0, middle.0), nearest(at.1, half.1, middle.1)), middle) >= radius
}
