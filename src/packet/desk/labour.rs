//! Labour on the estimate: what was worked and what is left, in hours of one person, and what they come to.

use super::super::bench::{Bench, capital_phase};
use super::super::steps::in_hours;
use super::{plain, titled};
use crate::network::NodeId;
use crate::plan::{PlannedStep, Standing, line_of};
use crate::procedure::model::Phase;
use crate::quantity::{Money, Quantity};
use crate::sheet::{Block, Cell, Text};

/// Work of one phase, in seconds of one person.
#[derive(Default)]
struct Worked {
    seconds: f64,
    /// Steps whose time nobody has said.
    silent: usize,
    /// What strip steps have been counted for the steps that undo them.
    mirrors: Vec<NodeId>,
    /// Entries of the record whose time has been counted, by their places in it.
    entries: Vec<usize>,
}

impl Worked {
    /// A step as it was worked, where the record has its time, else as the procedure states it: once for each pair of hands.
    fn count(&mut self, bench: &Bench, planned: &PlannedStep) {
        let mut entries = bench.material.job.done.iter().enumerate();
        let entry = entries.find(|(_, done)| done.step.meets(&planned.key));
        if let Some((entry, time)) = entry.and_then(|(entry, done)| Some((entry, done.time?))) {
            if !self.entries.contains(&entry) {
                self.entries.push(entry);
                self.seconds += time.base();
            }
            return;
        }
        // What undoes one strip step takes its time once, however many steps that is.
        if let Some(node) = bench.mirrored(planned) {
            if self.mirrors.contains(&node) {
                return;
            }
            self.mirrors.push(node);
        }
        let step = bench.step(planned);
        match step.time {
            Some(time) => self.seconds += time.base() * f64::from(step.hands.max(1)),
            None => self.silent += 1,
        }
    }

    fn cells(&self, steps: usize) -> [Cell; 2] {
        let time = in_hours(self.seconds).map_or_else(String::new, Quantity::printed);
        let silent = match self.silent {
            0 => "",
            _ if time.is_empty() => "not stated",
            _ => ", and more that is not stated",
        };
        [plain(steps.to_string()), plain(time + silent)]
    }
}

/// The hours of the job as far as they are known: steps done and steps left, in seconds of one person.
fn of_phase(bench: &Bench) -> [(usize, Worked); 2] {
    let done: Vec<&PlannedStep> = bench.steps().filter(|step| step.standing == Standing::Done).collect();
    let left: Vec<&PlannedStep> = bench.steps().filter(|step| step.standing.is_left()).collect();
    [done, left].map(|steps| {
        let mut worked = Worked::default();
        steps.iter().for_each(|planned| worked.count(bench, planned));
        (Bench::pieces(steps.into_iter()), worked)
    })
}

/// Seconds of one person in all phases, done and left.
fn phases(bench: &Bench) -> Vec<(Phase, [(usize, Worked); 2])> {
    let all = [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];
    all.map(|phase| (phase, of_phase(&Bench::new(bench.material, phase, false)))).into()
}

/// What is left of a phase in seconds of one person, and the steps whose time nobody has said.
pub(in crate::packet) fn left(bench: &Bench) -> (f64, usize) {
    let [_, (_, left)] = of_phase(bench);
    (left.seconds, left.silent)
}

/// Hours worked so far, as far as they are known.
pub(super) fn worked(bench: &Bench) -> Option<Quantity> {
    in_hours(phases(bench).iter().map(|(_, [(_, done), _])| done.seconds).sum())
}

/// What the hours worked and left come to; none where an hour has no price or no hours are stated.
pub(super) fn cost(bench: &Bench) -> Option<Money> {
    let seconds: f64 =
        phases(bench).iter().flat_map(|(_, both)| both).map(|(_, worked)| worked.seconds).sum();
    let rate = bench.material.job.prices.labour.as_ref().filter(|_| seconds > 0.0)?;
    let hundredths = (rate.hundredths as f64 * seconds / 3600.0).round() as i64;
    Some(Money { hundredths, currency: rate.currency.clone() })
}

/// The times that are this job's own, and not the procedure's, each with where it is said.
fn own_times(bench: &Bench) -> Option<Block> {
    let of_times = bench.procedure.differing.iter().filter_map(|one| {
        let said = one.own_time()?;
        let naming = bench.procedure.names.get(&one.id).map(|name| &bench.procedure.naming(*name).title);
        let title = naming.unwrap_or(&one.title);
        Some(format!("{title}, {said} ({})", line_of(bench.material.sources, one.at)))
    });
    let told: Vec<String> = of_times.collect();
    (!told.is_empty()).then(|| {
        let words = format!("Times of this job's own, and not of the procedure: {}.", told.join("; "));
        Block::Paragraph(Text::plain(words))
    })
}

/// Hours by phase, and what they come to where an hour has a price.
pub(super) fn labour(bench: &Bench) -> Vec<Block> {
    let rows = phases(bench)
        .iter()
        .filter(|(_, [(done, _), (left, _)])| done + left > 0)
        .map(|(phase, [(done, worked), (left, to_work)])| {
            [vec![plain(capital_phase(*phase))], worked.cells(*done).into(), to_work.cells(*left).into()]
                .concat()
        })
        .collect();
    let caption = "Hours of one person: what two do together counts twice. What is done counts as the record has it, else, \
                   as what is left, at the times that the procedure states; waiting is in them.";
    let widths =
        [("Work", 2.0), ("Steps done", 1.6), ("Worked", 2.6), ("Steps left", 1.6), ("Still to work", 2.6)];
    let mut blocks = titled("Labour", Text::plain(caption), &widths, rows);
    blocks.extend(own_times(bench));
    if let (Some(rate), Some(cost)) = (&bench.material.job.prices.labour, cost(bench)) {
        let words = format!("At {rate} an hour these hours come to {cost}.");
        blocks.push(Block::Paragraph(Text::plain(words)));
    }
    blocks
}
