//! Locks and wet threads as acts: what keeps a set from coming loose is opened before it is first turned and closed
//! after its last pass, each with its piece; oil, sealant and thread-locker go on before the threads go in. It must not
//! know in which order steps come.
//!
//! That a tab is bent back, wire cut and a pin drawn before, and that each serves once: common practice, no source.

use std::collections::{BTreeMap, BTreeSet};

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::Reference;
use crate::source::{Span, Spanned};

impl Resolver {
    /// `locked by KIND PIECE`.
    pub(super) fn lock(
        &mut self,
        how: Locking,
        word: &Spanned<String>,
        piece: Option<&Reference>,
        span: Span,
    ) -> Lock {
        let found = match (how, piece) {
            (Locking::Tab | Locking::SplitPin, Some(piece)) => self.target(piece).map(LockPiece::Part),
            (Locking::Wire | Locking::ThreadLocker, Some(piece)) => {
                self.target(piece).map(|Target { id, .. }| LockPiece::Supply(id))
            }
            (Locking::Stake, Some(piece)) => {
                self.complain(errors::stake_has_no_piece(piece.span, word.span));
                None
            }
            (Locking::Stake, None) => None,
            (_, None) => {
                self.complain(errors::lock_without_piece(span, word));
                None
            }
        };
        Lock { how, piece: found, at: Places::default(), span }
    }

    /// A pin goes through what it keeps, so that it comes out first and goes in last; a tab washer lies below the head
    /// and is held by it.
    pub(super) fn place_locks(&mut self) {
        let sets: Vec<(SetId, Lock)> = self
            .procedure
            .sets
            .numbered()
            .flat_map(|(id, set)| set.locked_by.iter().map(move |lock| (id, lock.clone())))
            .collect();
        for (set, lock) in sets {
            let Some(LockPiece::Part(piece)) = lock.piece else { continue };
            if lock.how == Locking::SplitPin {
                let under = &mut self.procedure.sets[set].under;
                let known =
                    |cover: &Cover| matches!(&cover.by, CoverThing::Part(part) if part.id == piece.id);
                if !under.iter().any(known) {
                    under.push(Cover { at: lock.at, ..Cover::by_part(piece, lock.span) });
                }
            } else {
                let mut joints = self.procedure.joints.iter().filter(|joint| joint.has(set));
                let clamped = joints.any(|joint| joint.held().iter().any(|part| part.id == piece.id));
                let held_by = &mut self.procedure.parts[piece.id].held_by;
                if !clamped && !held_by.iter().any(|held| held.what.id == set) {
                    held_by.push(Local::everywhere(Target {
                        id: set,
                        pattern: Pattern::default(),
                        span: lock.span,
                    }));
                }
            }
        }
    }
}

/// What the written steps do to sets and to the pieces of their locks; what a trial does counts for that trial only.
#[derive(Debug, Default)]
pub(crate) struct Written {
    /// When each set is first loosened, before the build and at the start.
    loosened: BTreeMap<(bool, SetId), (Phase, FasteningWork)>,
    /// Sets that come out whole somewhere.
    undone: BTreeSet<SetId>,
    /// Sets that are started by hand or nipped in a phase.
    begun: BTreeSet<(Phase, SetId)>,
    /// The same in a trial.
    tried: BTreeSet<(GroupId, SetId)>,
    /// Parts that are lifted, and that the build fits in steps that nobody wrote, each with the first of the sets that hold it then.
    pub(crate) refit: Refit,
    /// Parts taken and fitted in a phase.
    taken: BTreeSet<(Phase, PartId)>,
    fitted: BTreeSet<(Phase, PartId)>,
}

/// Lifted parts that steps nobody wrote fit, each with the set whose start lets it go.
#[derive(Debug, Default)]
pub(crate) struct Refit {
    /// All of them.
    pub(super) parts: BTreeSet<PartId>,
    /// Those of each set.
    pub(super) by_set: BTreeMap<SetId, Vec<PartId>>,
}

impl FromIterator<(PartId, SetId)> for Refit {
    fn from_iter<I: IntoIterator<Item = (PartId, SetId)>>(held: I) -> Refit {
        let held: BTreeMap<PartId, SetId> = held.into_iter().collect();
        let mut by_set: BTreeMap<SetId, Vec<PartId>> = BTreeMap::new();
        for (part, set) in &held {
            by_set.entry(*set).or_default().push(*part);
        }
        Refit { parts: held.into_keys().collect(), by_set }
    }
}

impl Written {
    pub(crate) fn of(procedure: &Procedure) -> Written {
        let mut written = Written::default();
        for step in procedure.steps.iter() {
            if let Some(trial) = step.group.filter(|_| in_trial(procedure, step)) {
                written.tried.extend(started(procedure, step).map(|set| (trial, set)));
                continue;
            }
            for act in step.acts() {
                match &act.deed {
                    Deed::Fasten { work, what, to: None, .. } => {
                        for Target { id, .. } in what.iter().flat_map(|what| sets_of(procedure, what)) {
                            written.fasten(step.phase, *work, id);
                        }
                    }
                    Deed::Part { work: PartWork::Take, what } => {
                        written.taken.extend(what.iter().map(|part| (step.phase, part.id)));
                    }
                    Deed::Part { work: PartWork::Fit, what } => {
                        written.fitted.extend(what.iter().map(|part| (step.phase, part.id)));
                    }
                    _ => {}
                }
            }
        }
        written
    }

    fn fasten(&mut self, phase: Phase, work: FasteningWork, set: SetId) {
        match work {
            FasteningWork::Slacken | FasteningWork::Undo => {
                let key = (phase == Phase::Start, set);
                let first = self.loosened.entry(key).or_insert((phase, work));
                *first = (*first).min((phase, work));
                if work == FasteningWork::Undo {
                    self.undone.insert(set);
                }
            }
            FasteningWork::StartByHand | FasteningWork::Nip => {
                self.begun.insert((phase, set));
            }
            FasteningWork::Tighten | FasteningWork::Retighten => {}
        }
    }
}

/// Brings to a step the acts on the locks of its sets and what goes on their threads. A lock is opened where the set is
/// first loosened, and closed where it is tightened for good; a piece that the author takes or fits is theirs.
pub(super) fn bring_locks(procedure: &Procedure, written: &Written, step: &mut Step) {
    let trial = in_trial(procedure, step);
    let mut wet: Vec<(SetId, Pattern, Scope)> = Vec::new();
    let mut lines: Vec<StepLine> = Vec::new();
    let here = |line: &mut StepLine, scope: &Scope| {
        if let StepLine::Act(act) = line {
            act.scope = Scope { at: scope.at.and(&act.scope.at), when: scope.when.clone() };
        }
    };
    for line in std::mem::take(&mut step.lines) {
        let mut closed = Vec::new();
        if let StepLine::Act(Act { deed: Deed::Fasten { work, what, to, .. }, scope, .. }) = &line {
            let before = lines.len();
            let trial = trial || to.is_some();
            for set in what.iter().flat_map(|what| sets_of(procedure, what)) {
                let group = step.group.filter(|_| in_trial(procedure, step));
                let around = Around { procedure, written, phase: step.phase, trial, group, work: *work };
                if !trial && around.opens(set.id) {
                    around.locks(&set, &scope.at, false, step, &mut lines);
                }
                let wetted = (set.id, set.pattern.clone(), scope.clone());
                if around.goes_in(set.id) && !wet.contains(&wetted) {
                    wet.push(wetted);
                    around.wet(&set, &scope.at, step, &mut lines);
                }
                let for_good = matches!(step.phase, Phase::Build | Phase::Start);
                if !trial && for_good && *work == FasteningWork::Tighten {
                    around.locks(&set, &scope.at, true, step, &mut closed);
                }
            }
            lines[before..].iter_mut().chain(&mut closed).for_each(|line| here(line, scope));
        }
        lines.push(line);
        lines.extend(closed);
    }
    step.lines = lines.into();
}

/// The sets that a step starts by hand or nips.
fn started<'p>(procedure: &'p Procedure, step: &'p Step) -> impl Iterator<Item = SetId> + 'p {
    let started = step.acts().filter_map(|act| match &act.deed {
        Deed::Fasten { work: FasteningWork::StartByHand | FasteningWork::Nip, what, .. } => Some(what),
        _ => None,
    });
    started.flatten().flat_map(|what| sets_of(procedure, what)).map(|target| target.id)
}

struct Around<'p> {
    procedure: &'p Procedure,
    written: &'p Written,
    phase: Phase,
    trial: bool,
    /// The trial that the step belongs to.
    group: Option<GroupId>,
    work: FasteningWork,
}

impl Around<'_> {
    /// Whether this is the work that first loosens the set.
    fn opens(&self, set: SetId) -> bool {
        let first = self.written.loosened.get(&(self.phase == Phase::Start, set));
        self.phase != Phase::Build && first == Some(&(self.phase, self.work))
    }

    /// Whether this is the work with which the threads go in.
    fn goes_in(&self, set: SetId) -> bool {
        match self.work {
            FasteningWork::StartByHand | FasteningWork::Nip => true,
            FasteningWork::Tighten => match self.group {
                Some(trial) => !self.written.tried.contains(&(trial, set)),
                None => {
                    self.written.undone.contains(&set) && !self.written.begun.contains(&(self.phase, set))
                }
            },
            FasteningWork::Slacken | FasteningWork::Undo | FasteningWork::Retighten => false,
        }
    }

    fn wet(&self, target: &Target<SetId>, here: &Places, step: &mut Step, lines: &mut Vec<StepLine>) {
        let set = self.procedure.set(target.id);
        let everywhere = Places::default();
        let oil = set.oil.iter().map(|oil| (Wetting::Oil, oil.with, oil.span, &everywhere));
        let applied = set.apply.iter().map(|applied| {
            let (supply, span) = applied.what;
            (Wetting::Supply(supply), Some(supply), span, &applied.at)
        });
        let lockers = set.locked_by.iter().filter(|lock| lock.how == Locking::ThreadLocker).map(|lock| {
            let supply = lock.supply();
            (Wetting::Locker(supply), supply, lock.span, &lock.at)
        });
        // What sets hard goes on for good only.
        let hard = applied.chain(lockers).filter(|_| !self.trial);
        let meant =
            |(.., at): &(Wetting, Option<SupplyId>, Span, &Places)| self.procedure.meets(target, here, at);
        for (with, supply, span, at) in oil.chain(hard).filter(meant) {
            let at = self.left_to_say(target, at);
            self.use_up(step, supply, (span, &here.and(at)));
            lines.push(act(Deed::Wet { what: target.clone(), with }, at, span));
        }
    }

    /// Of positions, those that a target doesn't tell itself: none where all that it names are there.
    fn left_to_say<'a>(&self, target: &Target<SetId>, at: &'a Places) -> &'a Places {
        const EVERYWHERE: &Places = &Places(Seldom::new());
        let named = !target.pattern.0.iter().all(|at| *at == At::Axis);
        let there = |place| self.procedure.narrowed(&self.procedure.bound_at(place), at).is_some();
        let all = self.procedure.meant(target, &Binding::default());
        if named && all.into_iter().all(there) { EVERYWHERE } else { at }
    }

    fn use_up(&self, step: &mut Step, supply: Option<SupplyId>, (span, at): (Span, &Places)) {
        let Some(supply) = supply else { return };
        let at = self.procedure.along(step.repeats(), at);
        step.bring_supply((supply, None, span), &at);
    }

    fn locks(
        &self,
        target: &Target<SetId>,
        here: &Places,
        close: bool,
        step: &mut Step,
        lines: &mut Vec<StepLine>,
    ) {
        let set = self.procedure.set(target.id);
        let meant = |lock: &&Lock| self.procedure.meets(target, here, &lock.at);
        for lock in set.locked_by.iter().filter(meant) {
            let at = self.left_to_say(target, &lock.at);
            match (lock.how, &lock.piece) {
                (Locking::ThreadLocker, _) => {}
                (Locking::SplitPin, Some(LockPiece::Part(pin))) => {
                    let (done, work) = if close {
                        (&self.written.fitted, PartWork::Fit)
                    } else {
                        (&self.written.taken, PartWork::Take)
                    };
                    if !done.contains(&(self.phase, pin.id)) {
                        let axes = &self.procedure.part(pin.id).axes;
                        let pattern = self.procedure.carried(&target.pattern, &set.axes, &pin.pattern, axes);
                        let what = vec![Target { id: pin.id, pattern, span: lock.span }];
                        lines.push(act(Deed::Part { work, what: what.into() }, at, lock.span));
                    }
                }
                (how, _) => {
                    if close {
                        self.use_up(step, lock.supply(), (lock.span, &here.and(&lock.at)));
                    }
                    lines.push(act(Deed::Lock { what: target.clone(), how, close }, at, lock.span));
                }
            }
        }
    }
}

fn act(deed: Deed, at: &Places, span: Span) -> StepLine {
    StepLine::Act(Act::of(deed, Scope { at: at.clone(), when: Guard::default() }, span))
}

/// Whether a step is put together only to be measured.
pub(super) fn in_trial(procedure: &Procedure, step: &Step) -> bool {
    step.group.is_some_and(|group| procedure.group(group).kind == GroupKind::Trial)
}

/// The sets that an act on a set or a joint is about, at the places that it means.
pub(super) fn sets_of(procedure: &Procedure, fastening: &Fastening) -> Vec<Target<SetId>> {
    match fastening {
        Fastening::Set(target) => vec![target.clone()],
        Fastening::Joint(target) => {
            let joint = procedure.joint(target.id);
            let of_member = |member: &Member| {
                let axes = &procedure.set(member.set.id).axes;
                let pattern = procedure.carried(&target.pattern, &joint.axes, &member.set.pattern, axes);
                Target { id: member.set.id, pattern, span: target.span }
            };
            joint.members.iter().map(of_member).collect()
        }
    }
}
