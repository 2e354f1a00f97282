//! What only handles things that are taken out, taken out with them: entries of lists, acts and links. What can't be without
//! them (a formula, what a reading is of, a fate) is left, and complained of where names are looked up.

use std::collections::BTreeSet;
use thin_vec::ThinVec;

use crate::language::tree::{
    Act, Clause, Condition, FastenerClause, GaugeClause, Handling, Item, JointClause, LookClause, Objects,
    PartClause, Reference, RuleClause, Step, StepClause, StepReference, SupplyClause, ToolClause, Word,
};

/// Names that are taken out.
struct Gone<'a>(&'a BTreeSet<&'a str>);

/// Takes what only handles these names out of a declaration. Gives the names of steps that are left without an act.
pub(super) fn prune(item: &mut Item, gone: &BTreeSet<&str>) -> Vec<Word> {
    let gone = Gone(gone);
    match item {
        Item::Part(d) => gone.clauses(&mut d.clauses, Gone::part),
        Item::Fasteners(d) => gone.clauses(&mut d.clauses, Gone::set),
        Item::Joint(d) => gone.clauses(&mut d.clauses, Gone::joint),
        Item::Gauge(d) => gone.clauses(&mut d.clauses, |gone, clause| match clause {
            GaugeClause::Needs(needs, _) => gone.conditions(needs),
            _ => true,
        }),
        Item::Look(d) => gone.clauses(&mut d.clauses, |gone, clause| match clause {
            LookClause::Needs(needs, _) => gone.conditions(needs),
            LookClause::MarksOf(parts) => gone.list(parts),
            _ => true,
        }),
        Item::Tool(d) => gone.clauses(&mut d.clauses, |gone, clause| match clause {
            ToolClause::Hazard(hazard) => gone.stays(hazard),
            _ => true,
        }),
        Item::Supply(d) => gone.clauses(&mut d.clauses, |gone, clause| match clause {
            SupplyClause::Hazard(hazard) => gone.stays(hazard),
            _ => true,
        }),
        Item::Rule(d) => gone.clauses(&mut d.clauses, |gone, clause| match clause {
            RuleClause::For(joints) => gone.list(joints),
            RuleClause::Except { joints, .. } => gone.list(joints),
            _ => true,
        }),
        Item::Setup(d) => d.hazard = d.hazard.take().filter(|hazard| gone.stays(hazard)),
        Item::State(d) => d.hazards.retain(|(hazard, _)| gone.stays(hazard)),
        Item::Step(step) => return gone.step(step).into_iter().collect(),
        Item::Group(group) => {
            return group.steps.iter_mut().filter_map(|step| gone.step(step)).collect();
        }
        _ => {}
    }
    Vec::new()
}

impl Gone<'_> {
    fn stays(&self, reference: &Reference) -> bool {
        !self.0.contains(reference.name.value.as_str())
    }

    /// Whether anything is left of a list.
    fn list(&self, list: &mut ThinVec<Reference>) -> bool {
        list.retain(|reference| self.stays(reference));
        !list.is_empty()
    }

    fn conditions(&self, needs: &mut ThinVec<Condition>) -> bool {
        needs.retain(|need| match need {
            Condition::Thing { thing, .. } => self.stays(thing),
            Condition::State(setting) => self.stays(&setting.name),
        });
        !needs.is_empty()
    }

    fn links(&self, links: &mut ThinVec<StepReference>) -> bool {
        links.retain(|link| self.stays(&link.step));
        !links.is_empty()
    }

    fn clauses<C>(&self, clauses: &mut Vec<Clause<C>>, stays: impl Fn(&Self, &mut C) -> bool) {
        clauses.retain_mut(|clause| stays(self, &mut clause.value));
    }

    fn handling(&self, handling: &mut Handling) -> bool {
        match handling {
            Handling::With(_, tools, _) => self.list(tools),
            Handling::Hazard(_, hazard, _) => self.stays(hazard),
            Handling::ComesOff(..) | Handling::GoesOn(..) => true,
        }
    }

    fn part(&self, clause: &mut PartClause) -> bool {
        match clause {
            PartClause::Handling(handling) => self.handling(handling),
            PartClause::Coat { with, .. } => self.stays(with),
            PartClause::Under(covers) => {
                covers.retain(|cover| self.stays(&cover.by));
                !covers.is_empty()
            }
            PartClause::HeldBy(list, _)
            | PartClause::SealedBy(list)
            | PartClause::MatchedWith(list)
            | PartClause::SizedWith(list)
            | PartClause::SizedBy(list) => self.list(list),
            PartClause::Within { host, .. } => self.stays(host),
            PartClause::CrackTest(look) => self.stays(look),
            PartClause::Meshes(gear, _) => self.stays(gear),
            PartClause::Releases(setting) | PartClause::Falls(setting, _) => self.stays(&setting.name),
            _ => true,
        }
    }

    fn set(&self, clause: &mut FastenerClause) -> bool {
        match clause {
            FastenerClause::Handling(handling) => self.handling(handling),
            FastenerClause::Under(covers) => {
                covers.retain(|cover| self.stays(&cover.by));
                !covers.is_empty()
            }
            FastenerClause::Apply(supply, _) => self.stays(supply),
            FastenerClause::Oil { with, .. } => {
                *with = with.take().filter(|supply| self.stays(supply));
                true
            }
            FastenerClause::Then(act) => self.act(act),
            _ => true,
        }
    }

    fn joint(&self, clause: &mut JointClause) -> bool {
        match clause {
            JointClause::Clamps(parts) => self.list(parts),
            JointClause::Holes { set, .. } | JointClause::Tighten { set, .. } => self.stays(set),
            JointClause::Then(act) => self.act(act),
            _ => true,
        }
    }

    /// The name of the step, if it had acts and is left with none.
    fn step(&self, step: &mut Step) -> Option<Word> {
        let acts = |step: &Step| step.clauses.iter().any(|clause| matches!(clause.value, StepClause::Act(_)));
        let had = acts(step);
        self.clauses(&mut step.clauses, Gone::step_clause);
        (had && !acts(step)).then(|| step.name.clone())
    }

    fn step_clause(&self, clause: &mut StepClause) -> bool {
        match clause {
            StepClause::After(links) | StepClause::Before(links) => self.links(links),
            StepClause::StraightAfter { step, .. } => self.stays(&step.step),
            StepClause::Tools(tools, _) => self.list(tools),
            StepClause::Supplies(supplies, _) => {
                supplies.retain(|(supply, _)| self.stays(supply));
                !supplies.is_empty()
            }
            StepClause::With(setups, _) => {
                setups.retain(|(setup, _)| !self.0.contains(setup.value.as_str()));
                !setups.is_empty()
            }
            StepClause::Hazard(hazard, _) => self.stays(hazard),
            StepClause::Needs(needs, _) => self.conditions(needs),
            StepClause::Except { rule, .. } => self.stays(rule),
            StepClause::Act(act) => self.act(act),
            _ => true,
        }
    }

    /// Whether anything is left to be done.
    fn act(&self, act: &mut Act) -> bool {
        match act.kind.objects_mut() {
            Objects::Several(list) => self.list(list),
            Objects::One(thing) => self.stays(thing),
            Objects::None => true,
        }
    }
}
