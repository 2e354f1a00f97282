//! Lints of safety: what usually brings a hazard with it, heavy parts without a hook, new parts without a way round.
//!
//! The signs are masses, kinds of tool and words in titles: common practice, no source.

use super::collect::Declared;
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{JointClause, PartClause};
use crate::quantity::{Mass, Quantity};
use crate::source::Span;

/// What one person may be asked to lift where the family states no limit: the load constant of the revised NIOSH
/// lifting equation, 23 kg (NIOSH 94-110).
const UNSTATED_LIMIT: Mass = Mass::from_kilograms(23.0);

/// Kinds of hazard that can answer a sign, and the sign itself.
struct Sign {
    kinds: &'static [HazardKind],
    find: fn(&Resolver, &Declared) -> Option<(Span, String)>,
}

const SIGNS: [Sign; 7] = [
    Sign {
        kinds: &[HazardKind::Lifting],
        find: |resolver, declared| {
            let heavy = resolver.heavy_parts(declared).next()?;
            Some((heavy.1, format!("`{}` is above the lifting limit", heavy.0.naming.id)))
        },
    },
    Sign {
        kinds: &[HazardKind::Spring],
        find: |resolver, _| resolver.taken_part(&["spring", "springs", "circlip", "circlips"]),
    },
    Sign {
        kinds: &[HazardKind::Puller, HazardKind::Spring],
        find: |resolver, _| {
            let tools = resolver.procedure.steps.iter().flat_map(|step| &step.tools);
            let puller =
                tools.copied().find(|(tool, _)| resolver.procedure.tool(*tool).kind == ToolKind::Puller);
            puller.map(|(tool, span)| {
                (span, format!("`{}` is a puller", resolver.procedure.tool(tool).naming.id))
            })
        },
    },
    Sign {
        kinds: &[HazardKind::Pressure, HazardKind::Hot],
        find: |resolver, _| resolver.taken_part(&["pressure"]),
    },
    Sign {
        kinds: &[HazardKind::FuelJet],
        find: |resolver, _| resolver.taken_part(&["injector", "injectors", "injection"]),
    },
    Sign {
        kinds: &[HazardKind::GasketDust],
        find: |resolver, _| resolver.taken_part(&["gasket", "gaskets"]),
    },
    Sign {
        kinds: &[HazardKind::Hot],
        find: |resolver, _| {
            let acts = resolver.procedure.steps.iter().flat_map(Step::acts);
            acts.filter(|act| matches!(act.deed, Deed::Heat { .. }))
                .map(|act| (act.span, "a part is heated".to_owned()))
                .next()
        },
    },
];

impl Resolver {
    /// All lints of this file.
    pub(super) fn safety_lints(&mut self, declared: &Declared) {
        let named: Vec<HazardKind> = self
            .procedure
            .steps
            .iter()
            .flat_map(Step::hazards)
            .map(|hazard| self.procedure.hazard(hazard).kind)
            .collect();
        let mut complaints = Vec::new();
        for sign in &SIGNS {
            // Where something couldn't be parsed, a hazard may stand there.
            if self.any_trouble() || sign.kinds.iter().any(|kind| named.contains(kind)) {
                continue;
            }
            if let Some((span, cause)) = (sign.find)(self, declared) {
                complaints.push(errors::hazard_expected(span, &cause, sign.kinds[0].word()));
            }
        }
        let limit = self.lifting_limit();
        for (part, mass) in self.heavy_parts(declared).filter(|(part, _)| part.lift_at.is_none()) {
            let word = crate::source::Spanned::new(part.naming.id.clone(), part.naming.span);
            complaints.push(errors::no_lift_at(&word, mass, &limit));
        }
        for (part, declaration) in self.procedure.parts.iter().zip(&declared.parts) {
            let marked = declaration.clauses.iter().find(|clause| marks_direction(&clause.value));
            if let (Some(marked), true, true) = (marked, part.way.is_empty(), may_be_renewed(part)) {
                complaints.push(errors::new_part_way(&declaration.name, marked.span));
            }
        }
        self.diagnostics.extend(complaints);
    }

    /// Complains, once, where joints say from which side they are seen and steps change a setup that all share, but no
    /// setup says how the engine lies then: figures of joints stay as they are declared.
    pub(super) fn figures_turned(&mut self, declared: &Declared) {
        if declared.setups.iter().any(|setup| !setup.turns_engine.is_empty()) {
            return;
        }
        let seen =
            declared.joints.iter().flat_map(|joint| &joint.clauses).find_map(|clause| {
                matches!(clause.value, JointClause::SeenFrom { .. }).then_some(clause.span)
            });
        let shared = |stance: &Stance| {
            let setup = self.procedure.setup(stance.setup);
            let other = !setup.each_person && stance.value != setup.at_first;
            other.then_some((setup, stance.value, stance.span))
        };
        let changed = self.procedure.steps.iter().flat_map(|step| &step.setups).find_map(shared);
        if let (Some(seen), Some((setup, value, span))) = (seen, changed) {
            let complaint = errors::figures_not_turned(seen, setup, &setup.values[value], span);
            self.complain(complaint);
        }
    }

    /// The limit as it is told.
    fn lifting_limit(&self) -> String {
        let stated = self.procedure.family.as_ref().and_then(|family| family.lifting_limit);
        match stated {
            Some(limit) => limit.to_string(),
            None => format!("{} kg (NIOSH 94-110; the family states none)", UNSTATED_LIMIT.kilograms()),
        }
    }

    /// Parts above the lifting limit, with the place of their mass.
    fn heavy_parts<'a>(&'a self, declared: &'a Declared) -> impl Iterator<Item = (&'a Part, Span)> {
        let stated = self.procedure.family.as_ref().and_then(|family| family.lifting_limit);
        let limit = stated.map_or(UNSTATED_LIMIT.base(), Quantity::base);
        self.procedure.parts.iter().zip(&declared.parts).filter_map(move |(part, declaration)| {
            part.mass.filter(|mass| mass.base() > limit)?;
            let clause =
                declaration.clauses.iter().find(|clause| matches!(clause.value, PartClause::Mass(_)))?;
            Some((part, clause.span))
        })
    }

    /// The first part taken off in some step whose title has one of these words.
    fn taken_part(&self, words: &[&str]) -> Option<(Span, String)> {
        let acts = self.procedure.steps.iter().flat_map(Step::acts);
        let taken = acts.filter_map(|act| match &act.deed {
            Deed::Part { work: PartWork::Take, what } => Some(what),
            _ => None,
        });
        let found = taken.flatten().find(|target| {
            let title = self.procedure.part(target.id).naming.title.to_lowercase();
            title.split(|c: char| !c.is_alphanumeric()).any(|word| words.contains(&word))
        })?;
        let part = &self.procedure.part(found.id).naming;
        Some((found.span, format!("`{}` (\"{}\") is taken off", part.id, part.title)))
    }
}

/// Words in a mark of ours that tell a direction.
const DIRECTIONS: [&str; 10] =
    ["front", "rear", "arrow", "up", "upwards", "top", "down", "downwards", "round", "forward"];

/// Whether a mark that we make on the old part tells its direction: a new part comes without it.
fn marks_direction(clause: &PartClause) -> bool {
    let PartClause::Mark { kind, text } = clause else { return false };
    let text = text.value.to_lowercase();
    kind.value == "ours" && text.split(|c: char| !c.is_alphanumeric()).any(|word| DIRECTIONS.contains(&word))
}

fn may_be_renewed(part: &Part) -> bool {
    part.fate.as_ref().is_some_and(|choice| {
        let mut fates = choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise);
        fates.any(|fate| matches!(fate, Fate::Renew | Fate::By(_)))
    })
}
