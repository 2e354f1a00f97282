//! Parts: what covers and holds them, and what becomes of them.

use super::cases::{Owner, many_answers};
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{self, Amount, Declaration, PartClause, Reference, Way, Word};
use crate::quantity::{Dimension, Money};
use crate::source::{Span, Spanned};

const KINDS: [(&str, PartKind); 5] = [
    ("gasket", PartKind::Gasket),
    ("seal", PartKind::Seal),
    ("spring", PartKind::Spring),
    ("bearing", PartKind::Bearing),
    ("running", PartKind::Running),
];

const CARRIED: [(&str, Carried); 5] = [
    ("fuel", Carried::Fuel),
    ("pressure", Carried::Pressure),
    ("coolant", Carried::Coolant),
    ("oil", Carried::Oil),
    ("current", Carried::Current),
];

const MARK_KINDS: [(&str, MarkKind); 3] =
    [("timing", MarkKind::Timing), ("balance", MarkKind::Balance), ("ours", MarkKind::Ours)];

/// More combinations of answers than this are not gone through for what becomes of one part. Our own line, no source.
const MOST_COMBINATIONS: u32 = 10_000;

impl Resolver {
    pub(super) fn part_clauses(&mut self, id: PartId, declaration: &Declaration<PartClause>) -> Part {
        let mut part = self.procedure.part(id).clone();
        let name = &declaration.name;
        let own = Name::Part(id);
        let mut ways: Vec<(Span, Places)> = Vec::new();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                PartClause::Kind(word) => part.kind = self.word(word, "a kind of part", &KINDS),
                PartClause::Carries(words) => {
                    let carried =
                        words.iter().filter_map(|word| self.word(word, "what it carries", &CARRIED));
                    part.carries.extend(carried);
                }
                PartClause::Handling(clause) => self.handling(own, &mut part.handling, clause),
                PartClause::Coat { with, place, scope } => {
                    let place = place.as_ref().map(|place| place.value.clone());
                    let Some(at) = self.places(own, &scope.at) else { continue };
                    let coat =
                        self.target(with).map(|Target { id, span, .. }| Coat { with: id, place, at, span });
                    part.handling.coats.extend(coat);
                }
                PartClause::Dry(scope) => part.handling.dry.extend(self.places(own, &scope.at)),
                PartClause::Harmless(_) => part.harmless = true,
                PartClause::Under(covers) => {
                    let covers = self.covers(Name::Part(id), covers);
                    part.under.extend(covers);
                }
                PartClause::HeldBy(sets, scope) => {
                    let Some(at) = self.places(own, &scope.at) else { continue };
                    let held = sets.iter().flat_map(|holder| self.holders(holder));
                    part.held_by.extend(held.map(|what| Local { what, at: at.clone() }));
                }
                PartClause::Within { host, in_place_too } => {
                    self.not_itself(name, host, "within");
                    part.within =
                        self.target(host).map(|host| Box::new(Within { host, in_place_too: *in_place_too }));
                }
                PartClause::SealedBy(parts) => {
                    part.sealed_by.extend(parts.iter().filter_map(|part| self.target(part)));
                }
                PartClause::Mass(amount) => part.mass = self.positive(amount, Dimension::MASS),
                PartClause::LiftAt(text) => part.lift_at = Some(text.value.clone()),
                PartClause::Falls(setting, scope) => {
                    let falls = self.setup(&setting.name.name, &setting.value);
                    let span = setting.name.span.to(setting.value.span);
                    let at = self.places(own, &scope.at);
                    part.falls.extend(falls.zip(at).map(|((setup, value), at)| Falls {
                        setup,
                        value,
                        at,
                        span,
                    }));
                }
                // Read before all that counts only where the part is there.
                PartClause::Present(..) => {}
                PartClause::WornIn => part.worn_in = true,
                PartClause::Way(text, scope) => {
                    let at = self.places(own, &scope.at);
                    ways.extend(at.as_ref().map(|at| (clause.span, at.clone())));
                    part.way
                        .0
                        .extend(at.map(|at| (text.value.clone(), Scope { at, when: Guard::default() })));
                }
                PartClause::Mark { kind, text, scope } => {
                    let at = self.places(own, &scope.at);
                    if let Some((kind, at)) = self.word(kind, "a kind of mark", &MARK_KINDS).zip(at) {
                        part.marks.push(Mark { kind, text: text.value.clone(), at });
                    }
                }
                PartClause::MatchedWith(parts) => {
                    for other in parts {
                        self.not_itself(name, other, "matched with");
                        part.matched_with.extend(self.target(other));
                    }
                }
                PartClause::SizedWith(parts) => {
                    for other in parts {
                        self.not_itself(name, other, "sized with");
                        part.sized_with.extend(self.target(other));
                    }
                }
                PartClause::SizedBy(gauges) => {
                    part.sized_by.extend(gauges.iter().filter_map(|gauge| self.target(gauge)));
                }
                PartClause::SelectFrom(text) => part.select_from = Some(text.value.clone()),
                PartClause::Releases(setting) => {
                    let span = setting.name.span.to(setting.value.span);
                    let released = self.state(setting).map(|(state, value)| (state, value, span));
                    part.releases.extend(released);
                }
                PartClause::Like(word) => self.like(Name::Part(id), word),
                PartClause::TurnedByHand(words) => {
                    if let Some(words) = words {
                        self.instruction(words);
                    }
                    part.turned_by_hand = true;
                    part.turning_words = words.as_ref().map(|words| words.value.clone());
                }
                PartClause::Teeth(amount) => part.teeth = self.count(amount, "teeth"),
                PartClause::Meshes(gear, mark) => {
                    self.not_itself(name, gear, "in mesh with");
                    let mesh = |gear| Mesh { gear, mark: mark.value.clone(), span: clause.span };
                    part.meshes.extend(self.target(gear).map(mesh));
                }
                PartClause::Critical => part.critical = true,
                PartClause::CrackTest(look) => part.crack_test = self.target(look).map(Box::new),
                PartClause::Fate(fate) => part.fate = Some(self.fate_choice(fate, clause.span)),
                PartClause::Catalogue(texts) => {
                    part.catalogue = self.cases(&Owner::Thing(Name::Part(id)), texts, |_, text| {
                        Some(text.value.value.clone())
                    });
                }
                PartClause::Price(amount) => part.price = self.price(amount),
                PartClause::Supplier { name, lead_time } => {
                    let time = lead_time.as_ref().and_then(|time| self.positive(time, Dimension::DURATION));
                    part.supplier = Some(Box::new((name.value.clone(), time)));
                }
            }
        }
        let ways: Vec<(Span, &Places)> = ways.iter().map(|(span, at)| (*span, at)).collect();
        self.idle_cases(own, &ways);
        let handled = declaration.clauses.iter().filter_map(|clause| match &clause.value {
            PartClause::Handling(handling) => Some((clause.span, &**handling)),
            _ => None,
        });
        self.idle_words(own, &handled.collect::<Vec<_>>(), &part.handling);
        if let Some(choice) = &part.fate {
            self.judge_fate(id, choice);
        }
        // Most parts have one entry in each, and there are very many parts.
        part.under.shrink_to_fit();
        part.held_by.shrink_to_fit();
        part
    }

    /// Complains where a thing names itself as a whole; another of its positions may be meant.
    fn not_itself(&mut self, own: &Word, other: &Reference, relation: &str) {
        if own.value == other.name.value && other.positions.is_empty() {
            self.complain(errors::links_itself(own, relation, other.span));
        }
    }

    /// What covers a part or a set.
    pub(super) fn covers(&mut self, covered: Name, covers: &[tree::Cover]) -> Vec<Cover> {
        covers.iter().filter_map(|cover| self.cover(covered, cover)).collect()
    }

    fn cover(&mut self, covered: Name, cover: &tree::Cover) -> Option<Cover> {
        let own = self.declared(covered);
        self.not_itself(&own, &cover.by, "under");
        let span = cover.by.span;
        let by = match self.thing(&cover.by, &["a part", "a fastener set"]) {
            Some((Name::Part(id), pattern)) => Some(CoverThing::Part(Target { id, pattern, span })),
            Some((Name::Set(id), pattern)) => Some(CoverThing::Set(Target { id, pattern, span })),
            _ => None,
        };
        let hole = cover.hole.as_ref().map(|hole| self.covered_hole(covered, hole));
        let at = self.places(covered, &cover.at);
        let way = cover.way.as_ref().map(|way| way.value);
        Some(Cover {
            by: by?,
            to_strip: way != Some(Way::ToBuild),
            to_build: way != Some(Way::ToStrip),
            hole: match hole {
                Some(hole) => Some(hole?),
                None => None,
            },
            at: at?,
            span,
        })
    }

    fn covered_hole(&mut self, covered: Name, letter: &Word) -> Option<u32> {
        match covered {
            Name::Set(set) => self.hole_of_set(set, letter),
            _ => {
                let thing = self.declared(covered);
                self.complain(errors::no_holes(letter.span, &thing));
                None
            }
        }
    }

    /// A price with its currency, which stands where a unit does.
    pub(super) fn price(&mut self, amount: &Amount) -> Option<Money> {
        let currency = amount.unit.as_ref().map_or("", |unit| &unit.value);
        let money = Money::new(amount.value, currency);
        if money.is_none() {
            self.complain(errors::not_money(amount));
        }
        money
    }

    fn fate_choice(&mut self, fate: &tree::Fate, span: Span) -> FateChoice {
        match fate {
            tree::Fate::Choice { cases, otherwise } => {
                let mut resolved = Vec::new();
                for (fate, settings) in cases {
                    let guard = self.guard(settings);
                    // A condition that can't be read must not turn into "always".
                    let whole = guard.0.len() == settings.len();
                    if let (Some(fate), true) = (self.fate(fate), whole) {
                        resolved.push((fate, guard));
                    }
                }
                let guards: Vec<&Guard> = resolved.iter().map(|(_, guard)| guard).collect();
                if many_answers(&self.procedure, &guards, MOST_COMBINATIONS) {
                    self.complain(errors::too_many_answers(span, MOST_COMBINATIONS));
                    return FateChoice { cases: Vec::new().into(), otherwise: None, span };
                }
                let otherwise = otherwise.as_deref().and_then(|fate| self.fate(fate));
                FateChoice { cases: resolved.into(), otherwise, span }
            }
            _ => {
                let otherwise = self.fate(&Spanned::new(fate.clone(), span));
                FateChoice { cases: Vec::new().into(), otherwise, span }
            }
        }
    }

    /// A single fate; a choice within a choice has no spelling.
    fn fate(&mut self, fate: &Spanned<tree::Fate>) -> Option<Fate> {
        Some(match &fate.value {
            tree::Fate::Renew => Fate::Renew,
            tree::Fate::Reuse => Fate::Reuse,
            tree::Fate::CleanThenReuse => Fate::CleanThenReuse,
            tree::Fate::By(judges) => {
                let judges: Vec<Judge> = judges.iter().filter_map(|judge| self.judge(judge)).collect();
                if judges.is_empty() {
                    return None;
                }
                Fate::By(judges)
            }
            tree::Fate::Send(text) => Fate::Send(text.value.clone()),
            tree::Fate::SizeByPartsInHand => Fate::SizeByPartsInHand,
            tree::Fate::KeepUntilSettled => Fate::KeepUntilSettled,
            tree::Fate::LeaveOut(text) => Fate::LeaveOut(text.value.clone()),
            tree::Fate::Choice { otherwise, .. } => {
                return otherwise.as_deref().and_then(|fate| self.fate(fate));
            }
        })
    }

    fn judge(&mut self, reference: &Reference) -> Option<Judge> {
        let span = reference.span;
        match self.thing(reference, &["a gauge", "a look"])? {
            (Name::Gauge(id), pattern) => {
                if !self.procedure.limits_judge(id) {
                    self.must_have_bands(id, span)?;
                }
                Some(Judge::Gauge(Target { id, pattern, span }))
            }
            (Name::Look(id), pattern) => Some(Judge::Look(Target { id, pattern, span })),
            _ => None,
        }
    }
}
