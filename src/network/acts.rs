//! The table of acts: what each needs and what each brings about, as events on things.
//!
//! This file is "What it means" of the language reference, row by row.

use std::convert::Into;

use super::answers::Case;
use super::bench::at_the_bench;
use super::facts::Facts;
use super::few::{Few, Numbered};
use super::types::*;
use super::values::{self, Errand, Fit, Inside, StateValue, Subject, ThingKind, Tightness, Value};
use crate::procedure::model::*;
use crate::procedure::model::{Question, Thing as Worked};
use crate::procedure::{Way, members_in_order};
use crate::source::Span;
use crate::structure::{HoleClass, Piece};

/// Where an act stands: what the events that it makes are marked with.
pub(super) struct Scene<'s> {
    /// The step.
    pub step: &'s Step,
    /// Positions of its axes.
    pub binding: &'s Binding,
    /// Answers under which it is done.
    pub case: &'s Case,
    /// Whether it is inside a trial.
    pub trial: bool,
    /// Which member of the node it is.
    pub member: u32,
}

/// What the whole procedure says that single acts depend on.
pub(super) struct Habits {
    /// Parts that some step sends.
    pub sent: std::collections::BTreeSet<PartId>,
    /// Parts that some step cleans.
    pub cleaned: std::collections::BTreeSet<PartId>,
    /// Parts that some step supports, that are heavy, or that can fall.
    pub supported: std::collections::BTreeSet<PartId>,
    /// Gauges that some step takes.
    pub taken: std::collections::BTreeSet<GaugeId>,
    /// Values of states that parts let go: reaching one is filling.
    pub released: std::collections::BTreeSet<(StateId, usize)>,
    /// Parts that fall when a setup takes a value.
    pub falling: std::collections::BTreeMap<(SetupId, usize), Vec<PartId>>,
    /// Values that setups take at first or in some step.
    pub taken_setups: std::collections::BTreeSet<(SetupId, usize)>,
}

impl Habits {
    /// Reads them off the steps.
    pub(super) fn of(procedure: &Procedure, heavy: impl Fn(PartId) -> bool) -> Habits {
        let mut habits = Habits {
            sent: Default::default(),
            cleaned: Default::default(),
            supported: Default::default(),
            taken: Default::default(),
            released: Default::default(),
            falling: Default::default(),
            taken_setups: procedure.setups.numbered().map(|(id, setup)| (id, setup.at_first)).collect(),
        };
        let stated = procedure.steps.iter().flat_map(|step| &step.setups);
        habits.taken_setups.extend(stated.map(|stance| (stance.setup, stance.value)));
        for act in procedure.steps.iter().flat_map(Step::acts) {
            match &act.deed {
                Deed::Part { work: PartWork::Send, what } => {
                    habits.sent.extend(what.iter().map(|target| target.id));
                }
                Deed::Part { work: PartWork::Support, what } => {
                    habits.supported.extend(what.iter().map(|t| t.id));
                }
                Deed::Clean(what) => habits.cleaned.extend(what.iter().filter_map(|thing| match thing {
                    Worked::Part(target) => Some(target.id),
                    Worked::Set(_) => None,
                })),
                Deed::Gauge(what) => habits.taken.extend(what.iter().map(|target| target.id)),
                _ => {}
            }
        }
        for (id, part) in procedure.parts.numbered() {
            if heavy(id) || !part.falls.is_empty() {
                habits.supported.insert(id);
            }
            for falls in &part.falls {
                let falling = habits.falling.entry((falls.setup, falls.value)).or_default();
                if falling.last() != Some(&id) {
                    falling.push(id);
                }
            }
            habits.released.extend(part.releases.iter().map(|(state, value, _)| (*state, *value)));
        }
        habits
    }
}

/// Writes the events of one step.
pub(super) struct Writer<'f, 'p, 's> {
    pub facts: &'f mut Facts<'p>,
    pub habits: &'f Habits,
    pub scene: Scene<'s>,
    /// Answers under which what is being written counts.
    pub case: Case,
    pub events: Vec<Event>,
    pub act: Option<ActNumber>,
    pub span: Span,
}

impl Writer<'_, '_, '_> {
    /// Every event of the step, in the order of its acts.
    pub(super) fn write(mut self) -> Vec<Event> {
        let step = self.scene.step;
        self.span = step.naming.span;
        self.step_needs(step);
        for (index, act) in (0u32..).zip(step.acts()) {
            self.act = Some(ActNumber::of(index));
            self.span = act.span;
            self.write_act(act);
            self.case = self.scene.case.clone();
        }
        self.events
    }

    /// What is said of a part that the engine hasn't got, or of a set that holds none, is dropped.
    fn push(&mut self, kind: ThingKind, effect: Effect, span: Span, case: Case) {
        let (member, act) = (self.scene.member, self.act);
        let thing = self.facts.thing(kind);
        let absent = match kind {
            ThingKind::Part(part, place)
            | ThingKind::Errand(part, place)
            | ThingKind::Support(part, place)
            | ThingKind::Steady(part, place)
            | ThingKind::Clean(part, place) => self.facts.absent(part, place),
            ThingKind::Set(set, place, _) => self.facts.absent_set(set, place),
            _ => Vec::new(),
        };
        if absent.is_empty() {
            return self.events.push(Event { member, act, case, thing, effect, span });
        }
        for case in self.facts.outside(case, absent.iter()) {
            self.events.push(Event { member, act, case, thing, effect: effect.clone(), span });
        }
    }

    /// Writes what an act on something needs and brings about under the answers under which that is there.
    fn where_present(&mut self, absent: &[Case], mut act: impl FnMut(&mut Self)) {
        if absent.is_empty() {
            return act(self);
        }
        let whole = self.case.clone();
        for piece in self.facts.outside(whole.clone(), absent.iter()) {
            self.case = piece;
            act(self);
        }
        self.case = whole;
    }

    fn set<D: Numbered>(&mut self, subject: Subject<D>, value: D) {
        self.push(subject.kind(), Effect::Set(Value::of(value)), self.span, self.case.clone());
    }

    fn need<D: Numbered>(
        &mut self,
        subject: Subject<D>,
        allowed: impl Into<Few<D>>,
        reason: Reason,
        fact: Span,
    ) {
        self.need_in(self.case.clone(), subject, allowed, Why { reason, fact });
    }

    /// A need that counts under other answers than what is being written.
    fn need_in<D: Numbered>(
        &mut self,
        case: Case,
        subject: Subject<D>,
        allowed: impl Into<Few<D>>,
        why: Why,
    ) {
        self.push(subject.kind(), Effect::Need(subject.values(allowed), why), self.span, case);
    }

    /// A need that is dropped for a part that is left out.
    fn need_fitted(&mut self, part: PartId, place: Place, reason: Reason, fact: Span) {
        let left_out = self.facts.left_out(part, place);
        let why = Why { reason, fact };
        if left_out.is_empty() {
            return self.need_in(self.case.clone(), values::part(part, place), Fit::Fitted, why);
        }
        for piece in self.facts.outside(self.case.clone(), left_out.iter()) {
            self.need_in(piece, values::part(part, place), Fit::Fitted, why.clone());
        }
    }

    fn need_piece_off(&mut self, piece: Piece, reason: Reason, fact: Span) {
        match piece {
            Piece::Part(part, place) => self.need(values::part(part, place), Fit::Off, reason, fact),
            Piece::Set(set, place) => {
                for (_, holes) in self.facts.set_things(set, place) {
                    self.need(holes, Tightness::Out, reason, fact);
                }
            }
        }
    }

    fn covers_off(&mut self, piece: Piece, class: HoleClass, building: bool) {
        let covers: Vec<(Piece, Span)> =
            self.facts.structure.covers(piece, class, building).map(|fact| (fact.upper, fact.span)).collect();
        for (upper, span) in covers {
            self.need_piece_off(upper, Reason::Under, span);
        }
    }

    fn step_needs(&mut self, step: &Step) {
        self.question_needs((&step.when, &Case::always()), self.scene.binding, step.naming.span);
        for condition in step.needs.iter().filter_map(|need| need.here(self.scene.binding)) {
            self.condition(condition, &self.scene.binding.clone(), Reason::Needs, None);
        }
        let procedure = self.facts.procedure;
        let falling = &self.habits.falling;
        let at_the_bench =
            !falling.is_empty() && at_the_bench(procedure, &self.facts.structure, step, self.scene.binding);
        for ((setup, value), parts) in falling {
            // Where nothing says how the engine stands, it may stand as the step before it left it.
            let stands = stands(procedure, step, self.scene.binding, *setup);
            let may_be = match stands {
                Some(stance) => stance.value == *value,
                // What is done beside it changes nothing of that.
                None if at_the_bench => false,
                None => self.habits.taken_setups.contains(&(*setup, *value)),
            };
            if !may_be {
                continue;
            }
            self.span = stands.map_or(step.naming.span, |stance| stance.span);
            for id in parts {
                for place in procedure.places(&procedure.part(*id).axes) {
                    let mut falls = procedure.falls((*id, place));
                    if let Some(falls) = falls.find(|falls| (falls.setup, falls.value) == (*setup, *value)) {
                        self.need(values::steady(*id, place), true, Reason::Steady, falls.span);
                    }
                }
            }
        }
        self.span = step.naming.span;
        if step.phase == Phase::Start && !self.scene.trial {
            self.temporaries_out();
        }
    }

    /// What decides whether something is done at all must have been read before it.
    fn question_needs(&mut self, (when, within): (&Guard, &Case), binding: &Binding, back_to: Span) {
        for term in &when.0 {
            let others = Guard(when.0.iter().filter(|other| *other != term).cloned().collect());
            let case = self.facts.case(&others, binding);
            let Some(case) = case.and_then(|case| within.and(&case)) else { continue };
            let (gauges, looks) = match &term.question {
                Question::Ask(_) => continue,
                Question::Gauge(target) => (readings(self.facts.procedure, target, binding), vec![]),
                Question::Look(target) => (vec![], self.facts.procedure.meant(target, binding)),
            };
            let kinds = gauges
                .into_iter()
                .map(|(gauge, place)| QuestionKind::Gauge(gauge, Some(place)))
                .chain(looks.into_iter().map(|(look, place)| QuestionKind::Look(look, Some(place))));
            for kind in kinds.collect::<Vec<_>>() {
                let question = self.facts.question(kind);
                let why = Why { reason: Reason::Question, fact: term.span };
                self.span = term.span;
                self.need_in(case.clone(), values::answered(question), true, why);
                self.span = back_to;
            }
        }
    }

    fn condition(&mut self, condition: &Condition, binding: &Binding, reason: Reason, fact: Option<Span>) {
        let procedure = self.facts.procedure;
        match condition {
            Condition::Part(target, wanted) => {
                let at = fact.unwrap_or(target.span);
                for (_, place) in procedure.meant(target, binding) {
                    match wanted {
                        PartCondition::Fitted => self.need_fitted(target.id, place, reason, at),
                        PartCondition::Off => self.need(values::part(target.id, place), Fit::Off, reason, at),
                        PartCondition::Supported => {
                            self.need(values::support(target.id, place), true, reason, at);
                        }
                    }
                }
            }
            Condition::Set(target, wanted) => {
                let allowed = match wanted {
                    SetCondition::Tight => Tightness::Tight,
                    SetCondition::Slack => Tightness::Slack,
                    SetCondition::Out => Tightness::Out,
                };
                let at = fact.unwrap_or(target.span);
                for (_, place) in procedure.meant(target, binding) {
                    for (_, holes) in self.facts.set_things(target.id, place) {
                        self.need(holes, allowed, reason, at);
                    }
                }
            }
            Condition::Temporary(target, inside) => {
                let at = fact.unwrap_or(target.span);
                for (_, place) in procedure.meant(target, binding) {
                    let wanted = if *inside { Inside::In } else { Inside::Gone };
                    self.need(values::temporary(target.id, place), wanted, reason, at);
                }
            }
            Condition::State(state, value, span) => {
                self.need(values::state(*state), StateValue(*value), reason, fact.unwrap_or(*span));
            }
        }
    }

    fn temporaries_out(&mut self) {
        let procedure = self.facts.procedure;
        for (id, temporary) in procedure.temporaries.numbered() {
            if !temporary.may_stay {
                for place in procedure.places(&temporary.axes) {
                    let it = values::temporary(id, place);
                    self.need(it, Inside::Gone, Reason::Temporary, temporary.naming.span);
                }
            }
        }
    }

    fn write_act(&mut self, act: &Act) {
        let procedure = self.facts.procedure;
        let Some(binding) = procedure.narrowed(self.scene.binding, &act.scope.at) else { return };
        if !act.scope.when.0.is_empty() {
            let case = self.facts.case(&act.scope.when, &binding);
            // Under answers that exclude each other it is never done.
            let Some(case) = case.and_then(|case| self.case.and(&case)) else { return };
            self.question_needs((&act.scope.when, self.scene.case), &binding, act.span);
            self.case = case;
        }
        match &act.deed {
            Deed::Fasten { work, what, .. } => {
                for (set, place, span) in fastened(procedure, *work, what, &binding) {
                    let absent = self.facts.absent_set(set, place);
                    self.where_present(&absent, |writer| writer.fasten(*work, set, place, span));
                }
            }
            Deed::Part { work, what } => {
                for target in what {
                    for (_, place) in procedure.meant(target, &binding) {
                        let absent = self.facts.absent(target.id, place);
                        self.where_present(&absent, |writer| {
                            writer.part(*work, target.id, place, target.span);
                        });
                    }
                }
            }
            Deed::Clean(what) => {
                for thing in what {
                    let Worked::Part(target) = thing else { continue };
                    for (_, place) in procedure.meant(target, &binding) {
                        self.set(values::clean(target.id, place), true);
                    }
                }
            }
            Deed::Gauge(what) => {
                for target in what {
                    for (_, place) in procedure.meant(target, &binding) {
                        self.gauge(target.id, place, target.span);
                    }
                }
            }
            Deed::Look(what) => {
                for target in what {
                    for (_, place) in procedure.meant(target, &binding) {
                        self.look(target.id, place, target.span);
                    }
                }
            }
            Deed::Set(state, value) => {
                if self.habits.released.contains(&(*state, *value)) {
                    self.temporaries_out();
                }
                self.set(values::state(*state), StateValue(*value));
            }
            Deed::PutIn(target) => self.temporary(target, Inside::Gone, Inside::In, &binding),
            Deed::TakeOut(target) => self.temporary(target, Inside::In, Inside::Gone, &binding),
            Deed::TurnByHand { .. } => self.temporaries_out(),
            Deed::Heat { .. }
            | Deed::Coat { .. }
            | Deed::Wet { .. }
            | Deed::Lock { .. }
            | Deed::Lift { .. }
            | Deed::Mark(_)
            | Deed::Chase(_)
            | Deed::Photo
            | Deed::Cap
            | Deed::Isolate
            | Deed::Dispose(_)
            | Deed::Wait(_)
            | Deed::Words => {}
        }
    }

    fn temporary(&mut self, target: &Target<TemporaryId>, from: Inside, to: Inside, binding: &Binding) {
        let procedure = self.facts.procedure;
        for (_, place) in procedure.meant(target, binding) {
            let it = values::temporary(target.id, place);
            self.need(it, from, Reason::Itself, target.span);
            self.set(it, to);
        }
    }

    fn fasten(&mut self, work: FasteningWork, set: SetId, place: Place, span: Span) {
        use Tightness::{Out, Slack, Tight};
        let piece = Piece::Set(set, place);
        let (from, to, building) = match work {
            FasteningWork::Slacken => (Tight.into(), Slack, false),
            FasteningWork::Undo => (Tight | Slack, Out, false),
            FasteningWork::StartByHand => (Out.into(), Slack, true),
            FasteningWork::Nip => (Slack | Out, Slack, true),
            FasteningWork::Tighten => (Slack | Out, Tight, true),
            // One fastener at a time is slack for a moment: the set holds all the while.
            FasteningWork::Retighten => (Tight.into(), Tight, true),
        };
        for (class, holes) in self.facts.set_things(set, place) {
            self.need(holes, from, Reason::Itself, span);
            self.covers_off(piece, class, building);
        }
        let held: Vec<((PartId, Place), Span)> =
            self.facts.structure.held((set, place)).iter().map(|hold| (hold.part, hold.span)).collect();
        for ((part, at), fact) in &held {
            match work {
                FasteningWork::Slacken | FasteningWork::Undo => self.releases(*part),
                // Nipping only needs the way to be free: what it holds may have been put back or not moved at all.
                FasteningWork::Nip | FasteningWork::Retighten => {}
                FasteningWork::Tighten if self.scene.trial => {}
                FasteningWork::StartByHand | FasteningWork::Tighten => {
                    self.need_fitted(*part, *at, Reason::HeldBy, *fact);
                }
            }
        }
        if !self.scene.trial {
            self.values_known(work, set, place, span);
        }
        if work == FasteningWork::Retighten {
            return;
        }
        for (_, holes) in self.facts.set_things(set, place) {
            self.set(holes, to);
        }
        for ((part, at), _) in held {
            let procedure = self.facts.procedure;
            if procedure.falls((part, at)).next().is_none() {
                continue;
            }
            let mut stances = self.scene.step.setups_at(self.scene.binding);
            let would_fall =
                stances.any(|stance| procedure.falls((part, at)).any(|falls| falls.when(stance)));
            match work {
                FasteningWork::Undo if !would_fall => self.set(values::steady(part, at), false),
                FasteningWork::Nip | FasteningWork::Tighten => self.set(values::steady(part, at), true),
                _ => {}
            }
        }
    }

    /// What chooses the length must have been read before a set is started, what chooses its torque and whether it may go
    /// back before it is tightened.
    fn values_known(&mut self, work: FasteningWork, set: SetId, place: Place, span: Span) {
        let procedure = self.facts.procedure;
        let bound = procedure.bound_at((set, place));
        let entry = procedure.set(set);
        let choosing: Vec<&Guard> = match work {
            FasteningWork::StartByHand => entry.lengths.chosen_by(&bound).collect(),
            FasteningWork::Tighten => {
                procedure.tightening(set).chosen_by(&bound).chain(entry.reuse.chosen_by(&bound)).collect()
            }
            FasteningWork::Retighten => procedure.tightening(set).chosen_by(&bound).collect(),
            FasteningWork::Slacken | FasteningWork::Undo | FasteningWork::Nip => return,
        };
        let within = self.case.clone();
        for guard in choosing {
            self.question_needs((guard, &within), &bound, span);
        }
    }

    fn releases(&mut self, part: PartId) {
        let procedure = self.facts.procedure;
        for (state, value, fact) in &procedure.part(part).releases {
            let all = Few::first(procedure.state(*state).values.len());
            let others = all.except(StateValue(*value).into());
            self.need(values::state(*state), others, Reason::Releases, *fact);
        }
    }

    fn part(&mut self, work: PartWork, part: PartId, place: Place, span: Span) {
        let itself = values::part(part, place);
        let errand = values::errand(part, place);
        match work {
            PartWork::Take => {
                self.need(itself, Fit::Fitted, Reason::Itself, span);
                self.held_out(part, place);
                self.covers_off(Piece::Part(part, place), HoleClass(0), false);
                self.host_off(part, place);
                if self.facts.heavy(part) {
                    let fact = self.facts.procedure.part(part).naming.span;
                    self.need(values::support(part, place), true, Reason::Supported, fact);
                }
                self.releases(part);
                self.set(itself, Fit::Off);
                self.supports(part, place, false, true);
            }
            PartWork::Fit if !self.scene.trial => {
                self.need(itself, Fit::Off, Reason::Itself, span);
                self.covers_off(Piece::Part(part, place), HoleClass(0), true);
                self.underneath_in(part, place);
                for inside in self.facts.structure.contents((part, place)).to_vec() {
                    if !inside.in_place_too {
                        self.need_fitted(inside.part.0, inside.part.1, Reason::Within, inside.span);
                    }
                }
                self.host_off(part, place);
                self.back_from_errand(part, place);
                self.judged(part, place);
                self.set(itself, Fit::Fitted);
                self.supports(part, place, false, false);
            }
            PartWork::Fit | PartWork::PutBack => {
                self.need(itself, Fit::Off, Reason::Itself, span);
                self.covers_off(Piece::Part(part, place), HoleClass(0), true);
                self.set(itself, Fit::Fitted);
                self.supports(part, place, false, false);
            }
            PartWork::Support => {
                self.need_fitted(part, place, Reason::Itself, span);
                self.supports(part, place, true, true);
            }
            PartWork::Send => {
                self.need(itself, Fit::Off, Reason::Itself, span);
                self.need(errand, Errand::Here, Reason::Errand, span);
                for gauge in self.gauges_of(part, place) {
                    self.need(values::reading(gauge.0, gauge.1), true, Reason::Reading, span);
                }
                if self.habits.cleaned.contains(&part) && self.fate_cleans(part) {
                    self.need(values::clean(part, place), true, Reason::Clean, span);
                }
                self.crack_tested(part, place);
                self.set(errand, Errand::Sent);
                for gauge in self.gauges_of(part, place) {
                    self.set(values::reading(gauge.0, gauge.1), false);
                }
            }
            PartWork::Receive => {
                self.need(errand, Errand::Sent, Reason::Errand, span);
                self.set(errand, Errand::Back);
            }
            PartWork::Accept => {
                self.need(errand, Errand::Back, Reason::Errand, span);
                for gauge in self.gauges_of(part, place) {
                    self.need(values::reading(gauge.0, gauge.1), true, Reason::Reading, span);
                }
                self.set(errand, Errand::Accepted);
            }
            PartWork::Press => {}
        }
    }

    fn supports(&mut self, part: PartId, place: Place, support: bool, steady: bool) {
        if self.habits.supported.contains(&part) {
            self.set(values::support(part, place), support);
            if self.facts.procedure.falls((part, place)).next().is_some() {
                self.set(values::steady(part, place), steady);
            }
        }
    }

    fn held_out(&mut self, part: PartId, place: Place) {
        let holds: Vec<((SetId, Place), Span)> =
            self.facts.structure.holders((part, place)).iter().map(|hold| (hold.set, hold.span)).collect();
        for ((set, at), fact) in holds {
            let captive = self.facts.procedure.set(set).captive;
            let allowed = if captive { Tightness::Slack | Tightness::Out } else { Tightness::Out.into() };
            for (_, holes) in self.facts.set_things(set, at) {
                self.need(holes, allowed, Reason::HeldBy, fact);
            }
        }
    }

    fn host_off(&mut self, part: PartId, place: Place) {
        if let Some(host) = self.facts.structure.host((part, place))
            && !host.in_place_too
        {
            self.need(values::part(host.host.0, host.host.1), Fit::Off, Reason::Within, host.span);
        }
    }

    fn underneath_in(&mut self, part: PartId, place: Place) {
        let lower: Vec<(Piece, Option<HoleClass>, Span)> = self
            .facts
            .structure
            .covered(Piece::Part(part, place))
            .map(|fact| (fact.lower, fact.class, fact.span))
            .collect();
        for (piece, class, fact) in lower {
            match piece {
                Piece::Part(below, at) => self.need_fitted(below, at, Reason::Under, fact),
                Piece::Set(below, at) => {
                    for (its_class, holes) in self.facts.set_things(below, at) {
                        if class.is_none_or(|only| only == its_class) {
                            self.need(holes, Tightness::Tight, Reason::Under, fact);
                        }
                    }
                }
            }
        }
    }

    /// What was sent must be accepted; what is to be sent must have been.
    fn back_from_errand(&mut self, part: PartId, place: Place) {
        let fact = self.facts.procedure.part(part).fate.as_ref().map_or(self.span, |fate| fate.span);
        let errand = values::errand(part, place);
        let must_go = self.facts.fate_cases(part, place, |fate| matches!(fate, Fate::Send(_)));
        for case in &must_go {
            if let Some(case) = case.and(&self.case) {
                self.need_in(case, errand, Errand::Accepted, Why { reason: Reason::Errand, fact });
            }
        }
        if self.habits.sent.contains(&part) {
            self.need(errand, Errand::Here | Errand::Accepted, Reason::Errand, fact);
        }
    }

    /// A part whose fate a reading decides is fitted only after that reading, under the answers that leave it to it.
    fn judged(&mut self, part: PartId, place: Place) {
        let procedure = self.facts.procedure;
        let Some(choice) = &procedure.part(part).fate else { return };
        let binding = procedure.bound_at((part, place));
        let fates = choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise);
        for fate in fates {
            let Fate::By(judges) = fate else { continue };
            let cases = self.facts.fate_cases(part, place, |other| std::ptr::eq(other, fate));
            let cases: Vec<Case> = cases.iter().filter_map(|case| case.and(&self.case)).collect();
            for kind in judges.iter().flat_map(|judge| judge_questions(procedure, judge, &binding)) {
                let question = self.facts.question(kind);
                for case in &cases {
                    let why = Why { reason: Reason::Question, fact: choice.span };
                    self.need_in(case.clone(), values::answered(question), true, why);
                }
            }
        }
        self.crack_tested(part, place);
    }

    fn crack_tested(&mut self, part: PartId, place: Place) {
        let procedure = self.facts.procedure;
        let Some(target) = &procedure.part(part).crack_test else { return };
        let binding = procedure.bound_at((part, place));
        for (_, at) in procedure.meant(target, &binding) {
            self.need(values::seen(target.id, at), true, Reason::Reading, target.span);
        }
    }

    fn fate_cleans(&self, part: PartId) -> bool {
        let choice = &self.facts.procedure.part(part).fate;
        choice.as_ref().is_some_and(|choice| {
            choice
                .cases
                .iter()
                .map(|(fate, _)| fate)
                .chain(&choice.otherwise)
                .any(|fate| *fate == Fate::CleanThenReuse)
        })
    }

    /// Readings of a part that can be taken while it is off and that some step takes.
    fn gauges_of(&self, part: PartId, place: Place) -> Vec<(GaugeId, Place)> {
        let procedure = self.facts.procedure;
        let mut found = Vec::new();
        for (id, gauge) in procedure.gauges.numbered() {
            if gauge.formula.is_some() || gauge.taken_off == Some(false) || !self.habits.taken.contains(&id) {
                continue;
            }
            for at in procedure.places(&gauge.axes) {
                if procedure.measured((id, at)).contains(&(part, place)) {
                    found.push((id, at));
                }
            }
        }
        found
    }

    fn gauge(&mut self, gauge: GaugeId, place: Place, span: Span) {
        let procedure = self.facts.procedure;
        let what = procedure.gauge(gauge);
        let binding = procedure.bound(&what.axes, place);
        for condition in what.needs.iter().filter_map(|need| need.here(&binding)) {
            self.condition(condition, &binding, Reason::Needs, None);
        }
        self.taken(what.of.as_ref(), what.taken_off, &binding);
        if what.formula.is_none() {
            self.not_away(what.of.as_ref(), &binding);
        }
        if what.formula.is_some() {
            for (input, at) in procedure.readings_behind(gauge, place) {
                self.need(values::reading(input, at), true, Reason::Reading, span);
            }
        } else {
            self.set(values::reading(gauge, place), true);
            let question = self.facts.question(QuestionKind::Gauge(gauge, Some(place)));
            self.set(values::answered(question), true);
        }
    }

    fn look(&mut self, look: LookId, place: Place, _span: Span) {
        let procedure = self.facts.procedure;
        let what = procedure.look(look);
        let binding = procedure.bound(&what.axes, place);
        for condition in what.needs.iter().filter_map(|need| need.here(&binding)) {
            self.condition(condition, &binding, Reason::Needs, None);
        }
        self.taken(what.of.as_ref(), what.taken_off, &binding);
        self.not_away(what.of.as_ref(), &binding);
        self.set(values::seen(look, place), true);
        let question = self.facts.question(QuestionKind::Look(look, Some(place)));
        self.set(values::answered(question), true);
    }

    /// What is at the machine shop can't be measured.
    fn not_away(&mut self, of: Option<&Target<PartId>>, binding: &Binding) {
        let Some(of) = of.filter(|of| self.habits.sent.contains(&of.id)) else { return };
        for (_, place) in self.facts.procedure.meant(of, binding) {
            let here = Few::from(Errand::Here) | Errand::Back.into() | Errand::Accepted.into();
            self.need(values::errand(of.id, place), here, Reason::Errand, of.span);
        }
    }

    fn taken(&mut self, of: Option<&Target<PartId>>, off: Option<bool>, binding: &Binding) {
        let procedure = self.facts.procedure;
        let (Some(of), Some(off)) = (of, off) else { return };
        for (_, place) in procedure.meant(of, binding) {
            if off {
                self.need(values::part(of.id, place), Fit::Off, Reason::Needs, of.span);
            } else {
                self.need_fitted(of.id, place, Reason::Needs, of.span);
            }
        }
    }
}

/// How a setup stands in a step as far as it is said: there, or in an earlier step of its block.
pub(super) fn stands<'s>(
    procedure: &'s Procedure,
    step: &'s Step,
    bound: &Binding,
    setup: SetupId,
) -> Option<&'s Stance> {
    let own = step.setups_at(bound).find(|stance| stance.setup == setup);
    own.or_else(|| {
        let members = &procedure.group(step.group?).steps;
        let place = members.iter().position(|id| procedure.step(*id).naming == step.naming)?;
        let earlier = members[..place].iter().rev().flat_map(|id| &procedure.step(*id).setups);
        earlier.into_iter().find(|stance| stance.setup == setup)
    })
}

/// The questions whose answers a judge of a part gives, seen from that part.
fn judge_questions(procedure: &Procedure, judge: &Judge, binding: &Binding) -> Vec<QuestionKind> {
    match judge {
        Judge::Gauge(target) => {
            let inputs = readings(procedure, target, binding);
            inputs.into_iter().map(|(gauge, at)| QuestionKind::Gauge(gauge, Some(at))).collect()
        }
        Judge::Look(target) => {
            let at = procedure.meant(target, binding).into_iter();
            at.map(|(look, at)| QuestionKind::Look(look, Some(at))).collect()
        }
    }
}

/// The readings behind what a target means of gauges.
pub(super) fn readings(
    procedure: &Procedure,
    target: &Target<GaugeId>,
    binding: &Binding,
) -> Vec<(GaugeId, Place)> {
    let meant = procedure.meant(target, binding).into_iter();
    let mut found: Vec<(GaugeId, Place)> =
        meant.flat_map(|(gauge, place)| procedure.readings_behind(gauge, place)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// The sets that an act works on, in the order in which it does: a joint's in rule order.
pub(super) fn fastened(
    procedure: &Procedure,
    work: FasteningWork,
    what: &[Fastening],
    binding: &Binding,
) -> Vec<(SetId, Place, Span)> {
    let mut found = Vec::new();
    for fastening in what {
        match fastening {
            Fastening::Set(target) => {
                for (_, place) in procedure.meant(target, binding) {
                    found.push((target.id, place, target.span));
                }
            }
            Fastening::Joint(target) => {
                let joint = procedure.joint(target.id);
                let members = members_in_order(procedure, joint, Way::of(work));
                for place in procedure.matching(&joint.axes, &target.pattern, binding) {
                    let own = procedure.bound(&joint.axes, place);
                    for member in &members {
                        for (_, at) in procedure.meant(&member.set, &own) {
                            found.push((member.set.id, at, target.span));
                        }
                    }
                }
            }
        }
    }
    found
}
