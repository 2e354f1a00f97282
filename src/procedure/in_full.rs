//! What a text says in short to the same said in full: `like`, origins that are said once for several numbers, and acts
//! done at one position after the other. It must not know what a name means, only where it is declared.

use std::collections::{BTreeMap, BTreeSet};
use std::mem::discriminant;

use super::one_by_one::Positions;
use crate::language::tree::{
    Act, ActKind, Case, Clause, Declaration, FastenerClause, GaugeClause, Handling, Item, JointClause,
    LookClause, Origin, PartClause, Step, StepClause, Tightened, Tightening, Tree, Word,
};

/// Declarations as they were written, with the number of their text and theirs in it.
pub(super) type Written = Vec<((usize, usize), Item)>;

/// Says everything in full, in the order in which declarations come in; gives what was said in short as it was, and the names of
/// what anything is like. What can't be, since a name isn't known before, is left as it is and complained of where it is read.
pub(super) fn say_in_full(trees: &mut [Tree]) -> (Written, BTreeSet<String>) {
    let positions = Positions::of(trees);
    let in_joints = sets_in_joints(trees);
    let mut known = Known { liked: liked(trees), ..Known::default() };
    let mut written = Vec::new();
    for (text, tree) in trees.iter_mut().enumerate() {
        known.section = None;
        for (at, item) in tree.items.iter_mut().enumerate() {
            if known.in_short(item) {
                written.push(((text, at), item.clone()));
            }
            known.item(item, &positions, &in_joints);
        }
    }
    (written, known.liked)
}

/// Puts back what was said in short.
pub(super) fn say_as_written(trees: &mut [Tree], written: Written) {
    for ((text, at), item) in written {
        trees[text].items[at] = item;
    }
}

/// Says in full what is said in short by things that are to be taken out: what is like one of them keeps what it has from it.
pub(super) fn let_go(trees: &mut [Tree], gone: &BTreeSet<&str>) {
    let in_joints = sets_in_joints(trees);
    let mut known = Known { liked: liked(trees), ..Known::default() };
    let mut gone: BTreeSet<String> = gone.iter().map(|name| (*name).to_owned()).collect();
    for item in trees.iter_mut().flat_map(|tree| &mut tree.items) {
        match item {
            Item::Part(part) => {
                kept(part, (&known.liked, &mut known.parts), &gone);
            }
            Item::Fasteners(set) => {
                let Some(own) = kept(set, (&known.liked, &mut known.sets), &gone) else { continue };
                let before = set.clauses.len();
                drop_torques_taken_over(set, own, in_joints.contains(&set.name.value));
                // What is like this one keeps the torque that this one has no more.
                if set.clauses.len() < before {
                    gone.insert(set.name.value.clone());
                }
            }
            Item::Gauge(gauge) => {
                kept(gauge, (&known.liked, &mut known.gauges), &gone);
            }
            Item::Look(look) => {
                kept(look, (&known.liked, &mut known.looks), &gone);
            }
            _ => {}
        }
    }
}

/// What was declared so far and may be taken over, by its name; and the origin that the section at hand says.
#[derive(Default)]
struct Known {
    section: Origin,
    /// What anything is like; of the rest nothing is noted.
    liked: BTreeSet<String>,
    parts: BTreeMap<String, Vec<Clause<PartClause>>>,
    sets: BTreeMap<String, Vec<Clause<FastenerClause>>>,
    gauges: BTreeMap<String, Vec<Clause<GaugeClause>>>,
    looks: BTreeMap<String, Vec<Clause<LookClause>>>,
}

impl Known {
    /// Whether anything of a declaration may have to be said in full.
    fn in_short(&self, item: &Item) -> bool {
        let in_turn = |step: &Step| {
            let turns = |clause: &Clause<StepClause>| match &clause.value {
                StepClause::InTurn { .. } => true,
                StepClause::Act(Act { kind: ActKind::Heat { .. }, .. }) => self.section.is_some(),
                _ => false,
            };
            step.clauses.iter().any(turns)
        };
        match item {
            Item::Part(part) => like(part).is_some(),
            Item::Look(look) => like(look).is_some(),
            Item::Fasteners(set) => self.section.is_some() || like(set).is_some(),
            Item::Joint(_) => self.section.is_some(),
            // The origin of one limit is that of another.
            Item::Gauge(gauge) => {
                like(gauge).is_some() || gauge.clauses.iter().any(|clause| lacks_origin(&clause.value))
            }
            Item::Step(step) => in_turn(step),
            Item::Group(group) => group.steps.iter().any(in_turn),
            _ => false,
        }
    }

    fn item(&mut self, item: &mut Item, positions: &Positions, in_joints: &BTreeSet<String>) {
        match item {
            Item::Section { origin, .. } => self.section.clone_from(origin),
            Item::Part(part) => take_over(part, (&self.liked, &mut self.parts)),
            Item::Fasteners(set) => {
                let own = set.clauses.len();
                take_over(set, (&self.liked, &mut self.sets));
                drop_torques_taken_over(set, own, in_joints.contains(&set.name.value));
                for clause in &mut set.clauses {
                    match &mut clause.value {
                        FastenerClause::Tighten(cases) => torques(cases, &self.section),
                        FastenerClause::Friction { origin, .. } => fill(origin, &self.section),
                        _ => {}
                    }
                }
            }
            Item::Joint(joint) => {
                for clause in &mut joint.clauses {
                    match &mut clause.value {
                        JointClause::Tighten { tightening, .. } => torques(tightening, &self.section),
                        JointClause::Friction { origin, .. } | JointClause::Sequence { origin, .. } => {
                            fill(origin, &self.section);
                        }
                        _ => {}
                    }
                }
            }
            Item::Gauge(gauge) => {
                take_over(gauge, (&self.liked, &mut self.gauges));
                limits(gauge, &self.section);
            }
            Item::Look(look) => take_over(look, (&self.liked, &mut self.looks)),
            Item::Step(step) => self.step(step, positions),
            Item::Group(group) => group.steps.iter_mut().for_each(|step| self.step(step, positions)),
            _ => {}
        }
    }

    fn step(&self, step: &mut Step, positions: &Positions) {
        for clause in &mut step.clauses {
            if let StepClause::Act(Act { kind: ActKind::Heat { origin, .. }, .. }) = &mut clause.value {
                fill(origin, &self.section);
            }
        }
        positions.one_by_one(&mut step.clauses);
    }
}

/// A clause that may be taken over from one thing to another of its kind.
trait Shared: Clone {
    /// What the thing is like, if this clause says that.
    fn like(&self) -> Option<&Word>;
    /// Whether this says of the one what `other` says of the other.
    fn answers(&self, other: &Self) -> bool {
        discriminant(self) == discriminant(other)
    }
}

impl Shared for PartClause {
    fn like(&self) -> Option<&Word> {
        if let PartClause::Like(word) = self { Some(word) } else { None }
    }
    fn answers(&self, other: &Self) -> bool {
        match (self, other) {
            (PartClause::Handling(own), PartClause::Handling(other)) => same_handling(own, other),
            // Coated or dry: the one is instead of the other.
            (PartClause::Dry(_) | PartClause::Coat { .. }, PartClause::Dry(_) | PartClause::Coat { .. }) => {
                true
            }
            _ => discriminant(self) == discriminant(other),
        }
    }
}

impl Shared for FastenerClause {
    fn like(&self) -> Option<&Word> {
        if let FastenerClause::Like(word) = self { Some(word) } else { None }
    }
    fn answers(&self, other: &Self) -> bool {
        use FastenerClause::{Dry, Oil};
        match (self, other) {
            (FastenerClause::Handling(own), FastenerClause::Handling(other)) => same_handling(own, other),
            (Dry | Oil { .. }, Dry | Oil { .. }) => true,
            _ => discriminant(self) == discriminant(other),
        }
    }
}

impl Shared for GaugeClause {
    fn like(&self) -> Option<&Word> {
        if let GaugeClause::Like(word) = self { Some(word) } else { None }
    }
}

impl Shared for LookClause {
    fn like(&self) -> Option<&Word> {
        if let LookClause::Like(word) = self { Some(word) } else { None }
    }
}

/// A tool or a hazard of another direction is another fact.
fn same_handling(own: &Handling, other: &Handling) -> bool {
    match (own, other) {
        (Handling::With(own, ..), Handling::With(other, ..)) => own == other,
        (Handling::Hazard(own, ..), Handling::Hazard(other, ..)) => own == other,
        _ => discriminant(own) == discriminant(other),
    }
}

/// Takes over what is said of the thing that this one is like and not of this one, and notes all of it if something is like
/// this one.
fn take_over<C: Shared>(
    declaration: &mut Declaration<C>,
    (liked, known): (&BTreeSet<String>, &mut BTreeMap<String, Vec<Clause<C>>>),
) {
    if let Some(there) = like(declaration).and_then(|word| known.get(&word.value)) {
        let own = &declaration.clauses;
        let unsaid = |clause: &&Clause<C>| {
            clause.value.like().is_none() && !own.iter().any(|own| own.value.answers(&clause.value))
        };
        let more: Vec<Clause<C>> = there.iter().filter(unsaid).cloned().collect();
        declaration.clauses.extend(more);
    }
    if liked.contains(&declaration.name.value) {
        known.entry(declaration.name.value.clone()).or_insert_with(|| declaration.clauses.clone());
    }
}

/// The same for a thing that is like one of those `gone`, and no longer says so: gives how many clauses are its own. What
/// others say is only noted.
fn kept<C: Shared>(
    declaration: &mut Declaration<C>,
    (liked, known): (&BTreeSet<String>, &mut BTreeMap<String, Vec<Clause<C>>>),
    gone: &BTreeSet<String>,
) -> Option<usize> {
    let goes = |clause: &Clause<C>| clause.value.like().is_some_and(|word| gone.contains(&word.value));
    let Some(at) = declaration.clauses.iter().position(goes) else {
        if liked.contains(&declaration.name.value) {
            take_over(&mut declaration.clone(), (liked, known));
        }
        return None;
    };
    let own = declaration.clauses.len() - 1;
    take_over(declaration, (liked, known));
    declaration.clauses.remove(at);
    Some(own)
}

/// What a set in a joint is tightened to stands in the joint: of its clauses those from `own` on are taken over.
fn drop_torques_taken_over(set: &mut Declaration<FastenerClause>, own: usize, joined: bool) {
    let mut place = 0..;
    set.clauses.retain(|clause| {
        let taken_over = place.next().is_some_and(|place| place >= own);
        !(joined && taken_over && matches!(clause.value, FastenerClause::Tighten(_)))
    });
}

/// What a thing is like, if it says so.
fn like<C: Shared>(declaration: &Declaration<C>) -> Option<&Word> {
    declaration.clauses.iter().find_map(|clause| clause.value.like())
}

/// The names of all things that others are like.
fn liked(trees: &[Tree]) -> BTreeSet<String> {
    let items = trees.iter().flat_map(|tree| &tree.items);
    let words = items.filter_map(|item| match item {
        Item::Part(part) => like(part),
        Item::Fasteners(set) => like(set),
        Item::Gauge(gauge) => like(gauge),
        Item::Look(look) => like(look),
        _ => None,
    });
    words.map(|word| word.value.clone()).collect()
}

fn sets_in_joints(trees: &[Tree]) -> BTreeSet<String> {
    let joints = trees.iter().flat_map(|tree| &tree.items).filter_map(|item| match item {
        Item::Joint(joint) => Some(joint),
        _ => None,
    });
    let holes = joints.flat_map(|joint| &joint.clauses).filter_map(|clause| match &clause.value {
        JointClause::Holes { set, .. } => Some(set.name.value.clone()),
        _ => None,
    });
    holes.collect()
}

fn fill(origin: &mut Origin, from: &Origin) {
    if origin.is_none() {
        origin.clone_from(from);
    }
}

/// Torques that are stated; one that is general, by feel or unknown comes from nowhere.
fn torques(cases: &mut [Case<Tightened>], section: &Origin) {
    let stated = cases.iter_mut().filter(|case| matches!(case.value.to, Tightening::Passes(_)));
    stated.for_each(|case| fill(&mut case.origin, section));
}

/// Whether a number of a gauge doesn't say itself where it comes from.
fn lacks_origin(clause: &GaugeClause) -> bool {
    match clause {
        GaugeClause::Made(cases) => cases.iter().any(|case| case.origin.is_none()),
        GaugeClause::Worn(cases) => cases.iter().any(|case| case.origin.is_none()),
        GaugeClause::Bands { origin, .. }
        | GaugeClause::Sold { origin, .. }
        | GaugeClause::Sizes { origin, .. } => origin.is_none(),
        _ => false,
    }
}

/// An origin behind one of the limits of a gauge is that of those before it that name none; the rest have the section's.
fn limits(gauge: &mut Declaration<GaugeClause>, section: &Origin) {
    let mut later = section.clone();
    for clause in gauge.clauses.iter_mut().rev() {
        let origins: Vec<&mut Origin> = match &mut clause.value {
            GaugeClause::Made(cases) => cases.iter_mut().map(|case| &mut case.origin).collect(),
            GaugeClause::Worn(cases) => {
                cases.iter_mut().filter(|case| case.value.is_some()).map(|case| &mut case.origin).collect()
            }
            GaugeClause::Bands { origin, .. }
            | GaugeClause::Sold { origin, .. }
            | GaugeClause::Sizes { origin, .. } => vec![origin],
            _ => continue,
        };
        for origin in origins.into_iter().rev() {
            fill(origin, &later);
            later.clone_from(origin);
        }
    }
}
