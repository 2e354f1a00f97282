//! The exact test: for every need, under every combination of answers, in every allowed order.
//!
//! A need "x has a value in V" holds in every allowed order if and only if every step d that leaves a wrong value
//! and is not after the needing step c is followed by some right step w with d < w < c. The value at the start
//! counts as a step before all others. Under answers, a wrong step counts where it is done, and a right one only
//! covers the answers under which it is. A causal link explains an order; it is never the test.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::answers::{Case, TooMany, left_over};
use super::reach::PhaseOrder;
use super::setters::{Instant, Moment, Runs, Setter, Wanted};
use super::traffic::{Stand, Traffic};
use super::types::Thing;
use super::types::*;
use super::values::Values;
use crate::procedure::model::Phase;

/// Most pieces of answers that one need may be split into: bounds time and memory, and past it the need is reported.
const MOST_WORK: u64 = 300_000;

/// The same for all needs together: thirty that take all that one may.
const MOST_ALTOGETHER: u64 = 9_000_000;

/// So many setters looked at for what puts a need right count as one piece: that is about what they cost.
const LOOKS_A_PIECE: usize = 32;

/// In phases so large that what comes before what isn't known at once, so many pairs of nodes are asked for: forty for each of a
/// hundred thousand steps. A thing whose pairs find no room any more is given up on.
const MOST_PAIRS: usize = 4_000_000;

/// So many setters before a need are looked at for one that puts it right.
const LOOKED_BACK: usize = 16;

/// What is so at the start is so under all answers.
static ALWAYS: Case = Case::always();

/// What the test found.
pub(super) struct Verdicts {
    pub faults: Vec<Fault>,
    /// Needs that were given up on: too many answers.
    pub given_up: Vec<(Option<NodeId>, usize)>,
    /// Things that were given up on, with their first need before the job ends: too many acts.
    pub crowded: Vec<(ThingId, Option<(NodeId, usize)>)>,
}

pub(super) struct Proof<'a> {
    pub things: &'a [Thing],
    pub questions: &'a [Question],
    pub nodes: &'a [Node],
    pub orders: &'a mut BTreeMap<Phase, PhaseOrder>,
    /// What must hold when the job ends: thing, values, answers; in the order of the things.
    pub at_end: &'a [(ThingId, Values, Case)],
}

/// What the test may still do.
struct Effort {
    /// Pieces, for all needs together.
    left: u64,
    /// The setters that are looked at for a need: one list for all needs, so that a long one isn't asked for anew each time.
    suspects: Vec<usize>,
    /// What is known for the needs of a thing that want the same.
    wanted: Wanted,
}

impl<'a> Proof<'a> {
    /// Tests every need.
    pub(super) fn test(mut self) -> Verdicts {
        let members: Vec<NodeId> = (0u32..).map(NodeId).take(self.nodes.len()).collect();
        let traffic = Traffic::of(self.things.len(), self.nodes, &members);
        let unasked = self.ask(&traffic);
        let mut verdicts = Verdicts { faults: Vec::new(), given_up: Vec::new(), crowded: Vec::new() };
        let mut effort = Effort { left: MOST_ALTOGETHER, suspects: Vec::new(), wanted: Wanted::default() };
        let mut setters: Vec<Setter<'a>> = Vec::new();
        let mut waiting = 0;
        for thing in (0u32..).map(ThingId).take(self.things.len()) {
            let at_the_end = self.at_end[waiting..].iter().take_while(|(id, ..)| *id == thing).count();
            let ends = waiting..waiting + at_the_end;
            waiting = ends.end;
            let needs = traffic.needs(thing);
            if needs.is_empty() && ends.is_empty() {
                continue;
            }
            if unasked.contains(&thing) {
                verdicts.crowded.push((thing, needs.first().copied()));
                continue;
            }
            self.find_setters(thing, traffic.sets(thing), &mut setters);
            let runs = self.runs(&setters);
            for (node, index) in needs {
                let event = &self.nodes[node.index()].events[*index];
                let Effect::Need(allowed, _) = &event.effect else { continue };
                let here = Some((*node, *index));
                match self.within(&mut effort, thing, (&setters, &runs), here, (*allowed, &event.case)) {
                    Ok(fault) => verdicts.faults.extend(fault),
                    Err(TooMany) => verdicts.given_up.push((Some(*node), *index)),
                }
            }
            for index in ends {
                let (_, allowed, case) = &self.at_end[index];
                match self.within(&mut effort, thing, (&setters, &runs), None, (*allowed, case)) {
                    Ok(fault) => verdicts.faults.extend(fault),
                    Err(TooMany) => verdicts.given_up.push((None, index)),
                }
            }
        }
        verdicts
    }

    /// What gives a thing its values: the start of the job, that of the build, then events as they are written.
    fn find_setters(&self, thing: ThingId, sets: &[Stand], setters: &mut Vec<Setter<'a>>) {
        let Thing { start, at_build, .. } = self.things[thing.index()];
        setters.clear();
        setters.push(Setter { at: Moment::Start, case: &ALWAYS, value: start });
        setters.extend(at_build.map(|value| Setter { at: Moment::BuildStart, case: &ALWAYS, value }));
        setters.extend(sets.iter().filter_map(|(node, index)| {
            let event = &self.nodes[node.index()].events[*index];
            match event.effect {
                Effect::Set(value) => {
                    Some(Setter { at: Moment::At(*node, *index), case: &event.case, value })
                }
                Effect::Need(..) => None,
            }
        }));
    }

    /// Asks for what the test will want to know of phases that are too large to know all of; the things for which there
    /// was no room.
    fn ask(&mut self, traffic: &Traffic) -> BTreeSet<ThingId> {
        let mut unasked = BTreeSet::new();
        for (phase, order) in self.orders.iter_mut() {
            if order.prepare() {
                continue;
            }
            let here = |(node, _): &Stand| (self.nodes[node.index()].phase == *phase).then_some(*node);
            let mut pairs: Vec<(NodeId, NodeId)> = Vec::new();
            for thing in (0u32..).map(ThingId).take(self.things.len()) {
                let setters: Vec<NodeId> = traffic.sets(thing).iter().filter_map(here).collect();
                let needs = traffic.needs(thing).iter().filter_map(here);
                let others: Vec<NodeId> = setters.iter().copied().chain(needs).collect();
                if pairs.len() + 2 * setters.len() * others.len() > MOST_PAIRS {
                    unasked.insert(thing);
                    continue;
                }
                for a in &setters {
                    pairs.extend(others.iter().filter(|b| *b != a).flat_map(|b| [(*a, *b), (*b, *a)]));
                }
            }
            order.ask(pairs.into_iter());
        }
        unasked
    }

    /// Phases, and what is before them, in their order.
    fn rank(&self, moment: Moment) -> u8 {
        match moment {
            Moment::Start => 0,
            Moment::BuildStart => 5,
            Moment::At(node, _) => match self.nodes[node.index()].phase {
                Phase::Strip => 2,
                Phase::Survey => 4,
                Phase::Build => 6,
                Phase::Start => 8,
            },
        }
    }

    fn stand(&self, moment: Moment) -> Instant {
        let rank = self.rank(moment);
        let Moment::At(node, event) = moment else { return (rank, 0, 0) };
        let order = self.orders.get(&self.nodes[node.index()].phase);
        (rank, order.and_then(|order| order.place(node)).unwrap_or_default(), event)
    }

    fn runs(&self, setters: &[Setter]) -> Runs {
        let mut sorted: Vec<(Instant, usize)> =
            setters.iter().enumerate().map(|(number, setter)| (self.stand(setter.at), number)).collect();
        sorted.sort_unstable();
        let mut run: Vec<(usize, usize)> = Vec::with_capacity(sorted.len());
        let mut first = 0;
        for at in 1..=sorted.len() {
            let goes_on = sorted
                .get(at)
                .is_some_and(|(_, next)| self.before(setters[sorted[at - 1].1].at, setters[*next].at));
            if !goes_on {
                run.extend((first..at).map(|_| (first, at - 1)));
                first = at;
            }
        }
        Runs { sorted, run }
    }

    /// The setters, by number, that may leave a wrong value where it matters: not those of a run that begins behind the need in
    /// every order, nor those of one that ends with what puts all of them right before it. They are left in `suspects`.
    fn suspects(
        &self,
        (setters, runs): (&[Setter], &Runs),
        c: Option<Moment>,
        (allowed, case): (Values, &Case),
        (wanted, suspects): (&Wanted, &mut Vec<usize>),
    ) {
        let behind = match c {
            Some(c) => {
                let here = self.stand(c);
                runs.sorted.partition_point(|(stand, _)| *stand < here)
            }
            None => runs.sorted.len(),
        };
        let at = |place: usize| &setters[runs.sorted[place].1];
        // Those behind it from here on.
        let later = match (c, runs.sorted.get(behind)) {
            (Some(c), Some(_)) if self.before(c, at(behind).at) => behind..runs.run[behind].1 + 1,
            _ => behind..behind,
        };
        // What puts right mostly stands next before it.
        let right = (0..behind).rev().take(LOOKED_BACK).find(|place| {
            let w = at(*place);
            allowed.contains(w.value) && case.implies(w.case) && c.is_none_or(|c| self.before(w.at, c))
        });
        let mended = right.map_or(0..0, |right| runs.run[right].0..right);
        let left = [0..mended.start, mended.end..later.start, later.end..runs.sorted.len()];
        wanted.wrong_in(runs, left, suspects);
    }

    /// Whether `a` comes before `b` in every allowed order.
    fn before(&self, a: Moment, b: Moment) -> bool {
        let rank = |moment: Moment| self.rank(moment);
        match (a, b) {
            (Moment::At(x, i), Moment::At(y, j)) if x == y => i < j,
            (Moment::At(x, _), Moment::At(y, _)) if rank(a) == rank(b) => {
                self.orders.get(&self.nodes[x.index()].phase).is_some_and(|order| order.before(x, y))
            }
            _ => rank(a) < rank(b),
        }
    }

    /// Whether, whenever `d` comes before `c`, `w` comes between them: before the end of a node counts as between
    /// for acts of the node that `d` or `c` is in, since no order splits a node.
    fn between(&self, d: Moment, w: Moment, c: Option<Moment>) -> bool {
        let same = |a: Moment, b: Moment| a.node().is_some() && a.node() == b.node();
        let Some(c) = c else { return self.before(d, w) };
        if same(w, c) && same(w, d) {
            return self.before(d, w) && self.before(w, c);
        }
        if same(w, c) {
            return self.before(w, c);
        }
        if same(w, d) {
            return self.before(d, w);
        }
        self.before(d, w) && self.before(w, c)
    }

    /// Judges a need with the work that it may take of what is left for all.
    fn within(
        &self,
        effort: &mut Effort,
        thing: ThingId,
        setters: (&[Setter], &Runs),
        need: Option<(NodeId, usize)>,
        wanted: (Values, &Case),
    ) -> Result<Option<Fault>, TooMany> {
        let allowance = MOST_WORK.min(effort.left);
        let mut work = allowance;
        effort.wanted.turn_to(thing, wanted.0, setters.0, setters.1);
        let found = self.judge(thing, setters, need, wanted, (&mut work, effort));
        effort.left -= if found.is_err() { allowance } else { allowance - work };
        found
    }

    fn judge(
        &self,
        thing: ThingId,
        (setters, runs): (&[Setter], &Runs),
        need: Option<(NodeId, usize)>,
        (allowed, case): (Values, &Case),
        (work, effort): (&mut u64, &mut Effort),
    ) -> Result<Option<Fault>, TooMany> {
        let c = need.map(|(node, index)| Moment::At(node, index));
        let all = |question: super::answers::QuestionId| self.questions[question.0 as usize].all();
        let mut cases: Vec<Case> = Vec::new();
        let mut wrong = None;
        let mut mended: Option<&Setter> = None;
        let mut seen = 0;
        let Effort { suspects, wanted, .. } = effort;
        self.suspects((setters, runs), c, (allowed, case), (wanted, suspects));
        let unreached = c.is_some_and(|c| self.is_unreached(setters, wanted, c));
        let looked_at = Cell::new(suspects.len());
        for place in suspects.iter().copied() {
            let d = &setters[place];
            // Once a step spoils it under all answers, no other can say more.
            if wrong.is_some_and(|seen| seen != Moment::Start)
                && cases.iter().any(|known| case.implies(known))
            {
                break;
            }
            if c.is_some_and(|c| self.before(c, d.at)) {
                continue;
            }
            let Some(both) = d.case.and(case) else { continue };
            let puts_right =
                |w: &Setter| allowed.contains(w.value) && w.case.meets(&both) && self.between(d.at, w.at, c);
            // What puts it right mostly is what put the last one right, or stands next to what spoils it.
            if mended.is_some_and(|w: &Setter| both.implies(w.case) && puts_right(w)) {
                continue;
            }
            let looks = looked_at.take();
            *work = work.checked_sub((looks / LOOKS_A_PIECE) as u64).ok_or(TooMany)?;
            looked_at.set(looks % LOOKS_A_PIECE);
            let elsewhere = c.filter(|_| unreached).map(|c| {
                let phase = |node: NodeId| self.rank(Moment::At(node, 0)).cmp(&self.rank(c));
                wanted.right_elsewhere(setters, &phase, [c.node(), d.at.node()], place)
            });
            let everywhere = elsewhere.is_none().then(|| wanted.right_from(place));
            let rights = elsewhere
                .into_iter()
                .flatten()
                .chain(everywhere.into_iter().flatten())
                .map(|number| &setters[number])
                .inspect(|_| looked_at.set(looked_at.get() + 1))
                .filter(|w| puts_right(w))
                .inspect(|w| mended = Some(w))
                .map(|w| w.case);
            let left = left_over(&both, rights, all, work)?;
            seen += looked_at.get();
            if !left.is_empty() {
                // A step that leaves the wrong value says more than the value at the start.
                if wrong.is_none_or(|seen| seen == Moment::Start) {
                    wrong = Some(d.at);
                }
                cases.extend(left);
            }
        }
        wanted.looked_at += seen;
        let Some(wrong) = wrong else { return Ok(None) };
        Ok(Some(Fault {
            node: need.map(|(node, _)| node),
            event: need.map_or(0, |(_, event)| event),
            thing,
            allowed,
            right: self.right(setters, wanted, need.map(|(own, _)| own), &cases),
            wrong: wrong.node(),
            cases: irredundant(cases, all),
        }))
    }

    /// Whether nothing of its phase is sure to put a need right before it. It is asked once so much was looked at for needs that
    /// want the same that going through the phase once costs no more.
    fn is_unreached(&self, setters: &[Setter], wanted: &mut Wanted, c: Moment) -> bool {
        let Some(node) = c.node() else { return false };
        let phase = self.nodes[node.index()].phase;
        let Some(order) = self.orders.get(&phase) else { return false };
        if let Some(reached) = wanted.is_reached(phase, node) {
            return !reached;
        }
        if wanted.looked_at <= order.nodes.len() {
            return false;
        }
        let right = wanted.nodes(setters);
        let right = right.iter().copied().filter(|node| self.nodes[node.index()].phase == phase);
        wanted.keep_reached(phase, order.reached(right));
        wanted.is_reached(phase, node) == Some(false)
    }

    /// The nodes that could bring the right value under one of these answers, but the one that needs it.
    fn right(
        &self,
        setters: &[Setter],
        wanted: &mut Wanted,
        own: Option<NodeId>,
        cases: &[Case],
    ) -> Arc<[NodeId]> {
        let all = wanted.nodes(setters);
        let under_all = cases.iter().any(Case::is_always);
        if under_all && own.is_none_or(|own| all.binary_search(&own).is_err()) {
            return all;
        }
        let serves = |w: &Setter| cases.iter().any(|case| w.case.meets(case));
        let right = wanted.right_from(0).map(|number| &setters[number]).filter(|w| serves(w));
        let mut right: Vec<NodeId> =
            right.filter_map(|w| w.at.node()).filter(|node| own != Some(*node)).collect();
        right.sort();
        right.dedup();
        right.into()
    }
}

/// The same answers without repeats, joined where two are one question apart.
fn irredundant(
    cases: Vec<Case>,
    all: impl Fn(super::answers::QuestionId) -> super::answers::Answers + Copy,
) -> Vec<Case> {
    let mut kept: Vec<Case> = Vec::new();
    let mut waiting = cases;
    while let Some(case) = waiting.pop() {
        if kept.iter().any(|other| case.implies(other)) {
            continue;
        }
        match kept.iter().position(|other| case.or(other).is_some()) {
            Some(at) => {
                let other = kept.remove(at);
                waiting.extend(case.or(&other).map(|joined| joined.tidied(all)));
            }
            None => kept.push(case),
        }
    }
    kept.sort();
    kept
}
