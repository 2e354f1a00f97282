//! Hazards that are to be expected in a step, and where they stand. The signs are masses, kinds of tool, acts, what seals
//! what, and kinds of part: common practice, no source.

use std::collections::{BTreeMap, BTreeSet};

use super::Judged;
use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::model::*;
use crate::source::Span;

/// What usually brings a hazard with it.
struct Sign {
    /// Index of the act that meets it, among the step's acts.
    act: usize,
    /// Kinds of hazard that answer it, the usual one first.
    kinds: &'static [HazardKind],
    /// A kind that answers it too, but right before the act alone, since further off it is another thing's.
    right_before: Option<HazardKind>,
    /// Whether it counts only that the step names one somewhere, since no act says what the tool is used at.
    anywhere: bool,
    span: Span,
    cause: String,
    /// The thing that is loaded again on its way back, with the hazard under which it came off, where a step says that.
    again: Option<(Name, Option<HazardId>)>,
}

impl Sign {
    /// A sign that nothing but a hazard before the act answers, and that says nothing of a way back.
    fn at(act: usize, kinds: &'static [HazardKind], span: Span, cause: String) -> Self {
        Sign { act, kinds, right_before: None, anywhere: false, span, cause, again: None }
    }
}

const FUEL: &[HazardKind] = &[HazardKind::Hot, HazardKind::FuelJet, HazardKind::Chemical];
const FUEL_UNDER_PRESSURE: &[HazardKind] = &[HazardKind::FuelJet, HazardKind::Pressure, HazardKind::Hot];
/// What a source of energy that is shut off may do to somebody while it isn't, or if it comes back.
pub(super) const ENERGY: &[HazardKind] = &[
    HazardKind::Electric,
    HazardKind::Battery,
    HazardKind::Rotating,
    HazardKind::Pressure,
    HazardKind::FuelJet,
    HazardKind::Hot,
    HazardKind::Chemical,
    HazardKind::AirStart,
    HazardKind::Spring,
    HazardKind::Refrigerant,
    HazardKind::Lifting,
];
/// What old parts may have on them, and some of their kind never have.
const OLD: &[HazardKind] = &[HazardKind::GasketDust, HazardKind::SealResidue, HazardKind::Lead];
const PRESSURE: &[HazardKind] = &[HazardKind::Pressure, HazardKind::Hot, HazardKind::FuelJet];

/// What warns of that which comes out of a part when it is loosened; none where nothing does.
fn comes_out(part: &Part) -> Option<&'static [HazardKind]> {
    match (part.carries.contains(&Carried::Fuel), part.carries.contains(&Carried::Pressure)) {
        (true, true) => Some(FUEL_UNDER_PRESSURE),
        (false, true) => Some(PRESSURE),
        (true, false) => Some(FUEL),
        (false, false) => None,
    }
}

impl Judged<'_> {
    /// Hazards that are missing, or that stand behind what they warn of.
    pub(super) fn hazards(&self) -> Vec<Diagnostic> {
        let mut complaints = Vec::new();
        // The kind of each hazard with its place and the number of acts before it.
        let mut shown: Vec<(HazardKind, usize, &Local<HazardId>, Span)> = Vec::new();
        let scopes: Vec<&Scope> = self.step.acts().map(|act| &act.scope).collect();
        let mut acts = 0;
        for line in &self.step.lines {
            match line {
                StepLine::Hazard(hazard, span) => {
                    shown.push((self.procedure.hazard(hazard.what).kind, acts, hazard, *span));
                }
                StepLine::Act(_) => acts += 1,
                StepLine::Hold(..) => {}
            }
        }
        // Before an act that is done at some places only a hazard is shown there only.
        let within = |before: usize, act: usize| match (scopes.get(before), scopes.get(act)) {
            (Some(shown), Some(met)) => shown.always() || shown == met,
            _ => true,
        };
        let reaches = |said: &Places, before: usize, act: usize| {
            within(before, act)
                && (said.everywhere()
                    || scopes.get(act).is_none_or(|met| *said == met.at)
                    || scopes.len() <= before)
        };
        // What is brought to a step behind its own acts (a lift let down, a lock closed) is no act that it warns of.
        let own = self.step.acts().enumerate().filter(|(_, act)| !act.deed.is_brought());
        let own = own.map(|(index, _)| index + 1);
        let own = own.last().unwrap_or(acts);
        let behind_all = shown.iter().filter(|(_, before, ..)| *before >= own);
        let mut moved: Vec<Span> = Vec::new();
        for (.., hazard, span) in behind_all {
            moved.push(*span);
            let id = &self.procedure.hazard(hazard.what).naming.id;
            complaints.push(errors::hazard_behind(id, *span, "no act follows it", None));
        }
        let mut told: Vec<HazardKind> = Vec::new();
        for sign in self.signs() {
            let answers = |(kind, before, hazard, _): &&(HazardKind, usize, &Local<HazardId>, Span)| {
                let near = sign.right_before == Some(*kind) && *before == sign.act;
                let usual = sign.kinds.contains(kind) && (sign.anywhere || *before <= sign.act);
                (near || usual) && (sign.anywhere || reaches(&hazard.at, *before, sign.act))
            };
            let one_by_one = shown.iter().filter(|(kind, before, ..)| {
                sign.kinds.contains(kind) && *before <= sign.act && within(*before, sign.act)
            });
            if shown.iter().any(|entry| answers(&entry))
                || self.at_each_position(one_by_one.map(|(_, _, hazard, _)| &hazard.at))
                || told.contains(&sign.kinds[0])
            {
                continue;
            }
            told.push(sign.kinds[0]);
            match shown.iter().find(|(kind, ..)| sign.kinds.contains(kind)) {
                Some((.., span)) if moved.contains(span) => {}
                Some((_, before, hazard, span)) if *before > sign.act => {
                    let id = &self.procedure.hazard(hazard.what).naming.id;
                    let act = (sign.span, sign.cause.as_str());
                    complaints.push(errors::hazard_behind(id, *span, "shown only from here on", Some(act)));
                }
                _ => {
                    let declared = self.meant(&sign);
                    if let Some((thing, _)) = sign.again {
                        let thing = (&*self.procedure.naming(thing).id, matches!(thing, Name::Part(_)));
                        complaints.push(errors::loaded_again(
                            sign.span,
                            &sign.cause,
                            self.id,
                            thing,
                            &declared,
                        ));
                        continue;
                    }
                    let wanted = errors::Wanted {
                        kind: sign.kinds[0].word(),
                        or_another: sign.kinds == ENERGY,
                        may_be_free: sign.kinds.iter().all(|kind| OLD.contains(kind)),
                    };
                    complaints.push(errors::hazard_expected(
                        sign.span,
                        &sign.cause,
                        self.id,
                        wanted,
                        &declared,
                    ));
                }
            }
        }
        complaints
    }

    /// Whether positions that something is said of, each by itself, are together all of their axis.
    fn at_each_position<'p>(&self, said: impl Iterator<Item = &'p Places>) -> bool {
        let mut positions: BTreeMap<AxisId, BTreeSet<u16>> = BTreeMap::new();
        for places in said {
            if let [(axis, at, _)] = places.0.as_slice() {
                positions.entry(*axis).or_default().insert(*at);
            }
        }
        positions.iter().any(|(axis, at)| at.len() == self.procedure.axis(*axis).positions.len())
    }

    /// The hazards that a sign may mean: those first that other steps show before an act of the same kind.
    fn meant(&self, sign: &Sign) -> Vec<&str> {
        if let Some((_, Some(hazard))) = sign.again {
            return vec![self.procedure.hazard(hazard).naming.id.as_str()];
        }
        let of_kind = |hazard: &HazardId| self.procedure.hazard(*hazard).kind == sign.kinds[0];
        let mut meant: Vec<HazardId> = self.procedure.hazards.ids().filter(of_kind).collect();
        let deed = self.step.acts().nth(sign.act).map(|act| std::mem::discriminant(&act.deed));
        let shown_there = |hazard: &HazardId| {
            let mut pairs = self.procedure.steps.iter().flat_map(|step| step.lines.windows(2));
            pairs.any(|pair| match pair {
                [StepLine::Hazard(shown, _), StepLine::Act(act)] => {
                    shown.what == *hazard && Some(std::mem::discriminant(&act.deed)) == deed
                }
                _ => false,
            })
        };
        meant.sort_by_key(|hazard| !shown_there(hazard));
        meant.iter().map(|hazard| self.procedure.hazard(*hazard).naming.id.as_str()).collect()
    }

    fn signs(&self) -> Vec<Sign> {
        let mut signs = Vec::new();
        for (act, work, id, named) in self.worked_parts() {
            let part = self.procedure.part(id);
            let span = self.place(named, &part.naming);
            let mut add = |kinds, cause: &str| {
                let cause = format!("`{}` (\"{}\") {cause}", part.naming.id, part.naming.title);
                signs.push(Sign::at(act, kinds, span, cause));
            };
            let moves = [
                PartWork::Take,
                PartWork::Fit,
                PartWork::PutBack,
                PartWork::Support,
                PartWork::Send,
                PartWork::Receive,
            ];
            if self.procedure.is_heavy(part) && moves.contains(&work) {
                add(&[HazardKind::Lifting], "is above the lifting limit");
            }
            if work != PartWork::Take || part.harmless {
                continue;
            }
            if part.kind == Some(PartKind::Spring) {
                add(&[HazardKind::Spring], "is taken off");
            }
            if let Some(kinds) = comes_out(part) {
                add(kinds, "is taken off");
            }
            // What was fitted new is not old when it comes off again.
            if self.step.phase != Phase::Strip || !self.may_be_new(part) {
                continue;
            }
            if self.known.seals.contains(&id) || part.kind == Some(PartKind::Gasket) {
                add(&[HazardKind::GasketDust, HazardKind::SealResidue], "is an old gasket");
            } else if part.kind == Some(PartKind::Seal) {
                add(&[HazardKind::SealResidue], "is an old seal");
            } else if part.kind == Some(PartKind::Bearing) {
                add(&[HazardKind::Lead], "is an old bearing");
            }
        }
        signs.extend(self.freed_springs());
        signs.extend(self.loaded_again());
        signs.extend(self.opened_unions());
        signs.extend(self.changed_states());
        signs.extend(self.pullers());
        for (index, act) in self.step.acts().enumerate() {
            match act.deed {
                Deed::Heat { .. } => {
                    let cause = "a part is heated".to_owned();
                    signs.push(Sign::at(index, &[HazardKind::Hot], act.span, cause));
                }
                Deed::Isolate => {
                    let cause = "an energy is shut off".to_owned();
                    signs.push(Sign::at(index, ENERGY, act.span, cause));
                }
                _ => {}
            }
        }
        for (tool, span) in self.tools_of(ToolKind::Hoist) {
            let cause = format!("`{}` is used", self.procedure.tool(tool).naming.id);
            signs.push(Sign { anywhere: true, ..Sign::at(0, &[HazardKind::Lifting], span, cause) });
        }
        signs.sort_by_key(|sign| sign.act);
        signs
    }

    /// What holds a force as it comes off and has it again as it goes back: springs, and what comes off under a hazard of that
    /// kind, whether a step says so or the thing itself. What says that it is met on the way back isn't asked, nor what hurts
    /// nobody.
    fn loaded_again(&self) -> Vec<Sign> {
        let fitted = self.worked_parts().filter(|(_, work, ..)| *work == PartWork::Fit);
        let parts = fitted.filter_map(|(act, _, id, span)| {
            let part = self.procedure.part(id);
            let loaded = part.kind == Some(PartKind::Spring) && !self.let_go_by_another(id);
            let asked = !part.harmless && !self.loads(&part.handling);
            asked.then(|| self.again(act, Name::Part(id), span, loaded)).flatten()
        });
        let tightened = self.driven_sets().filter(|(_, work, ..)| *work == FasteningWork::Tighten);
        let sets = tightened.filter_map(|(act, _, id, span)| {
            let asked = !self.loads(&self.procedure.set(id).handling);
            asked.then(|| self.again(act, Name::Set(id), span, false)).flatten()
        });
        parts.chain(sets).collect()
    }

    fn again(&self, act: usize, thing: Name, named: Span, loaded: bool) -> Option<Sign> {
        let handling = match thing {
            Name::Part(id) => Some(&self.procedure.part(id).handling),
            Name::Set(id) => Some(&self.procedure.set(id).handling),
            _ => None,
        };
        let own = handling.and_then(|handling| self.springs(handling, true).next());
        let hazard = self.known.loaded.get(&thing).copied().or(own);
        if !loaded && hazard.is_none() {
            return None;
        }
        let naming = self.procedure.naming(thing);
        let cause =
            format!("`{}` (\"{}\") comes off under load, and goes back under load", naming.id, naming.title);
        let (kinds, span) = (&[HazardKind::Spring], self.place(named, naming));
        Some(Sign { again: Some((thing, hazard)), ..Sign::at(act, kinds, span, cause) })
    }

    /// The hazards of a stored force that a thing says are met when it comes off, or when it goes on.
    fn springs<'h>(&self, handling: &'h Handling, off: bool) -> impl Iterator<Item = HazardId> + use<'_, 'h> {
        let met = handling.each_hazard().filter(move |(to, ..)| to.counts(off)).map(|(_, hazard, _)| hazard);
        met.filter(|hazard| self.procedure.hazard(*hazard).kind == HazardKind::Spring)
    }

    /// Whether a thing says that a stored force is met when it goes on.
    fn loads(&self, handling: &Handling) -> bool {
        self.springs(handling, false).next().is_some()
    }

    /// Whether it is what lies over a spring, or what holds it, that loads it and says so.
    fn let_go_by_another(&self, spring: PartId) -> bool {
        let mut next = vec![spring];
        let mut met = BTreeSet::from([spring]);
        while let Some(id) = next.pop() {
            let part = self.procedure.part(id);
            let sets = part.held_by.iter().map(|held| &self.procedure.set(held.what.id).handling);
            if sets.into_iter().any(|handling| self.loads(handling)) {
                return true;
            }
            for cover in &part.under {
                let CoverThing::Part(over) = &cover.by else { continue };
                let entry = self.procedure.part(over.id);
                if self.loads(&entry.handling) {
                    return true;
                }
                if entry.kind == Some(PartKind::Spring) && met.insert(over.id) {
                    next.push(over.id);
                }
            }
        }
        false
    }

    /// Sets that hold a spring, where they are undone.
    fn freed_springs(&self) -> Vec<Sign> {
        let undone = self.driven_sets().filter(|(_, work, ..)| *work == FasteningWork::Undo);
        undone
            .filter_map(|(act, _, set, span)| {
                let spring = self.procedure.part(*self.known.springs.get(&set)?);
                let cause = format!("`{}` holds `{}`", self.procedure.set(set).naming.id, spring.naming.id);
                Some(Sign::at(act, &[HazardKind::Spring], span, cause))
            })
            .collect()
    }

    /// Sets that hold what carries fuel or stands under pressure, where they are loosened, or tightened once more with it there.
    fn opened_unions(&self) -> Vec<Sign> {
        let loosens = [FasteningWork::Slacken, FasteningWork::Undo, FasteningWork::Retighten];
        let loosened = self.driven_sets().filter(|(_, work, ..)| loosens.contains(work));
        loosened
            .filter_map(|(act, _, set, span)| {
                let part = self.procedure.part(*self.known.unions.get(&set)?);
                let cause = format!("`{}` holds `{}`", self.procedure.set(set).naming.id, part.naming.id);
                Some(Sign::at(act, comes_out(part)?, span, cause))
            })
            .collect()
    }

    /// States that hold back what some part carries, where they are changed.
    fn changed_states(&self) -> Vec<Sign> {
        let mut signs = Vec::new();
        for (act, done) in self.step.acts().enumerate() {
            let Deed::Set(state, value) = &done.deed else { continue };
            signs.extend(self.may_run_away((act, done.span), (*state, *value)));
            signs.extend(self.let_in_again((act, done.span), (*state, *value)));
            for (part, released) in self.known.released.get(state).into_iter().flatten() {
                let part = self.procedure.part(*part);
                let let_out = value != released;
                for carried in &part.carries {
                    // Fuel under pressure is let out as fuel.
                    if *carried == Carried::Pressure && part.carries.contains(&Carried::Fuel) {
                        continue;
                    }
                    let kinds: &[HazardKind] = match carried {
                        Carried::Fuel => FUEL,
                        Carried::Current => {
                            &[HazardKind::Battery, HazardKind::Electric, HazardKind::Rotating]
                        }
                        Carried::Coolant if let_out => &[HazardKind::Pressure, HazardKind::Hot],
                        Carried::Oil if let_out => &[HazardKind::Chemical, HazardKind::Hot],
                        Carried::Pressure if let_out => PRESSURE,
                        Carried::Coolant | Carried::Oil | Carried::Pressure => continue,
                    };
                    let state = &self.procedure.state(*state).naming.id;
                    let cause =
                        format!("`{state}` is changed, which holds back what `{}` carries", part.naming.id);
                    signs.push(Sign::at(act, kinds, done.span, cause));
                }
            }
        }
        signs
    }

    /// A state set to a value that has things turning, of an engine that injects its fuel: it may run on its own oil.
    fn may_run_away(&self, (act, span): (usize, Span), (state, value): (StateId, usize)) -> Option<Sign> {
        let injects = self.procedure.part(self.known.injects?);
        let state = self.procedure.state(state);
        let met = |kind: HazardKind| {
            let here = state.hazards.iter().filter(|(_, of, _)| *of == value);
            here.into_iter().any(|(hazard, ..)| self.procedure.hazard(*hazard).kind == kind)
        };
        // What the state itself says is shown before every act that sets it.
        let runs = met(HazardKind::Rotating) && !met(HazardKind::Runaway);
        let cause = format!(
            "`{} = {}` sets it running, and `{}` holds fuel under pressure",
            state.naming.id, state.values[value], injects.naming.id
        );
        runs.then_some(Sign::at(act, &[HazardKind::Runaway], span, cause))
    }

    /// A state set back that was set where an energy was shut off; and the first that the start sets, if nothing in the whole start
    /// warns of what comes to life.
    fn let_in_again(&self, (act, span): (usize, Span), (state, value): (StateId, usize)) -> Option<Sign> {
        let entry = self.procedure.state(state);
        let put_off = self.known.shut_off.iter().any(|(off, _)| *off == state);
        let back = put_off && !self.known.shut_off.contains(&(state, value));
        // What the state itself says is shown before every act that sets it.
        let said = entry.hazards.iter().filter(|(_, of, _)| *of == value);
        let said = said.into_iter().any(|(hazard, ..)| ENERGY.contains(&self.procedure.hazard(*hazard).kind));
        let (id, value) = (&entry.naming.id, &entry.values[value]);
        let cause = if back && !said {
            format!("`{id} = {value}` lets in again what was shut off")
        } else if self.known.silent_start == Some(span) {
            format!(
                "`{id} = {value}` is of the start, and nothing in the start warns of what runs or is live then"
            )
        } else {
            return None;
        };
        Some(Sign::at(act, ENERGY, span, cause))
    }

    /// Pullers in use, each at the act that it is for: that of the part which asks for it, else the first on a part.
    fn pullers(&self) -> Vec<Sign> {
        let first = self.worked_parts().map(|(act, ..)| act).next().unwrap_or(0);
        let sign = |(tool, span): (ToolId, Span)| {
            let asks = |part: PartId| {
                self.procedure.part(part).handling.each_tool().any(|(_, other, _)| other == tool)
            };
            let act = self.worked_parts().find(|(_, _, part, _)| asks(*part)).map_or(first, |(act, ..)| act);
            let cause = format!("`{}` is a puller", self.procedure.tool(tool).naming.id);
            // What presses a spring together is declared as a puller too.
            let right_before = Some(HazardKind::Spring);
            Sign { right_before, ..Sign::at(act, &[HazardKind::Puller], span, cause) }
        };
        self.tools_of(ToolKind::Puller).map(sign).collect()
    }

    fn tools_of(&self, kind: ToolKind) -> impl Iterator<Item = (ToolId, Span)> {
        let tools = self.step.listed();
        tools.filter(move |(tool, _)| self.procedure.tool(*tool).kind == kind)
    }

    /// Whether the old one may be thrown away, or nothing is said of that.
    fn may_be_new(&self, part: &Part) -> bool {
        let Some(choice) = &part.fate else { return true };
        choice.fates().any(|fate| matches!(fate, Fate::Renew | Fate::By(_)))
    }
}
