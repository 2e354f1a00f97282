//! The clauses of a change put into the declaration that it changes.

use std::collections::BTreeMap;

use super::super::errors;
use super::super::model::Differing;
use super::{quoted, title};
use crate::diagnostics::Diagnostic;
use crate::language::tree::{
    Change, Clause, Declaration, Difference, DifferenceKind, FamilyClause, FastenerClause, GaugeClause,
    HazardClause, Item, JointClause, LookClause, PartClause, RuleClause, StepClause, SupplyClause,
    TemporaryClause, ToolClause, Word,
};
use crate::language::{begins_with, same_words};
use crate::source::Span;

/// What a layer has said, so that it says nothing twice.
#[derive(Default)]
pub(super) struct Told {
    /// What it takes out.
    pub out: BTreeMap<String, Span>,
    /// Facts by the name of their thing, with where they are changed.
    facts: BTreeMap<(String, String), Span>,
}

/// A change that is being put into its declaration.
pub(super) struct Changing<'a> {
    pub said: &'a dyn Fn(Span) -> String,
    pub told: &'a mut Told,
    pub of_job: bool,
    pub differing: &'a mut Vec<Differing>,
    pub diagnostics: &'a mut Vec<Diagnostic>,
}

/// What clauses of a kind speak of, where a declaration may have several of the kind but one of each thing.
pub(super) trait Speaks: Clone + PartialEq {
    /// The clauses of a declaration that has clauses of this kind.
    fn clauses_of(item: &Item) -> Option<&Vec<Clause<Self>>>;

    /// What the clause speaks of.
    fn of(&self) -> Option<String> {
        None
    }

    /// Where clauses stand in order: what is done, and what belongs to a place between two acts.
    fn in_order(&self) -> bool {
        false
    }
}

macro_rules! clauses_of {
    ($kind:ident) => {
        fn clauses_of(item: &Item) -> Option<&Vec<Clause<Self>>> {
            match item {
                Item::$kind(declaration) => Some(&declaration.clauses),
                _ => None,
            }
        }
    };
}

impl Speaks for PartClause {
    clauses_of!(Part);
}
impl Speaks for FastenerClause {
    clauses_of!(Fasteners);
}
impl Speaks for GaugeClause {
    clauses_of!(Gauge);
}
impl Speaks for LookClause {
    clauses_of!(Look);
}
impl Speaks for HazardClause {
    clauses_of!(Hazard);
}
impl Speaks for RuleClause {
    clauses_of!(Rule);
}
impl Speaks for SupplyClause {
    clauses_of!(Supply);
}
impl Speaks for ToolClause {
    clauses_of!(Tool);
}
impl Speaks for TemporaryClause {
    clauses_of!(Temporary);
}

impl Speaks for JointClause {
    clauses_of!(Joint);

    fn of(&self) -> Option<String> {
        match self {
            JointClause::Tighten { set, .. } => Some(format!("tighten {}", set.name.value)),
            JointClause::Holes { set, .. } => Some(format!("holes {}", set.name.value)),
            _ => None,
        }
    }
}

impl Speaks for FamilyClause {
    clauses_of!(Family);

    fn of(&self) -> Option<String> {
        match self {
            FamilyClause::Capacity { name, .. } => Some(format!("capacity {}", name.value)),
            FamilyClause::Data { name, .. } => Some(format!("data {}", name.value)),
            FamilyClause::Identify { place, .. } => Some(format!("identify {}", place.value)),
            _ => None,
        }
    }
}

impl Speaks for StepClause {
    clauses_of!(Step);

    fn in_order(&self) -> bool {
        matches!(
            self,
            StepClause::Act(_) | StepClause::Hazard(..) | StepClause::Hold(..) | StepClause::If { .. }
        )
    }
}

/// What a clause speaks of: its name, where it may stand once, or what only one of its kind may speak of.
pub(super) fn subject<C: Speaks>(clause: &Clause<C>) -> Option<String> {
    clause.once.map(str::to_owned).or_else(|| clause.value.of())
}

impl Changing<'_> {
    /// Changes a declaration. Both are of one kind.
    pub(super) fn change(&mut self, item: &mut Item, change: &Change) {
        let before = item.clone();
        let noted = (self.differing.len(), self.diagnostics.len());
        self.put(item, &before, change);
        if noted == (self.differing.len(), self.diagnostics.len()) {
            self.diagnostics.push(errors::changes_nothing(change.span, before.span()));
        }
    }

    fn put(&mut self, item: &mut Item, before: &Item, change: &Change) {
        match (item, &change.said) {
            (Item::Tool(d), Item::Tool(said)) => self.declaration(before, d, said, change),
            (Item::Supply(d), Item::Supply(said)) => self.declaration(before, d, said, change),
            (Item::Part(d), Item::Part(said)) => self.declaration(before, d, said, change),
            (Item::Fasteners(d), Item::Fasteners(said)) => self.declaration(before, d, said, change),
            (Item::Joint(d), Item::Joint(said)) => self.declaration(before, d, said, change),
            (Item::Gauge(d), Item::Gauge(said)) => self.declaration(before, d, said, change),
            (Item::Look(d), Item::Look(said)) => self.declaration(before, d, said, change),
            (Item::Temporary(d), Item::Temporary(said)) => self.declaration(before, d, said, change),
            (Item::Rule(d), Item::Rule(said)) => self.declaration(before, d, said, change),
            (Item::Hazard(d), Item::Hazard(said)) => {
                self.head(
                    before,
                    change,
                    (&d.signal.value, &d.kind.value) != (&said.signal.value, &said.kind.value),
                );
                (d.signal, d.kind) = (said.signal.clone(), said.kind.clone());
                self.clauses(before, &mut d.clauses, &said.clauses, change);
            }
            (Item::Step(step), Item::Step(said)) => {
                if said.title.is_some() {
                    self.head(before, change, true);
                    step.title.clone_from(&said.title);
                }
                self.clauses(before, &mut step.clauses, &said.clauses, change);
            }
            (Item::Group(group), Item::Group(said)) => {
                if said.title.is_some() {
                    self.head(before, change, true);
                    group.title.clone_from(&said.title);
                }
                for step in &said.steps {
                    self.note(before, None, Some(step.span), step.span);
                }
                group.steps.extend(said.steps.iter().cloned());
            }
            // What has no braces is said anew as a whole.
            (item, said) => {
                if self.first(before, "", change.span) {
                    self.note(before, Some(before.span()), Some(change.span), change.span);
                    *item = said.clone();
                }
            }
        }
    }

    fn declaration<C: Speaks>(
        &mut self,
        before: &Item,
        declaration: &mut Declaration<C>,
        said: &Declaration<C>,
        change: &Change,
    ) {
        let counted = !said.count.is_empty();
        let titled = said.title.is_some();
        let axes = !said.axes.is_empty() && !same_axes(&said.axes, &declaration.axes);
        if counted {
            declaration.count.clone_from(&said.count);
        }
        if titled {
            declaration.title.clone_from(&said.title);
        }
        if axes {
            declaration.axes.clone_from(&said.axes);
        }
        self.head(before, change, counted || titled || axes);
        // What the change doesn't say again stays.
        if let Some(is) =
            self.differing.last_mut().filter(|_| counted || titled || axes).and_then(|one| one.is.as_mut())
        {
            let axes: Vec<&str> = declaration.axes.iter().map(|axis| axis.value.as_str()).collect();
            let axes = if axes.is_empty() { String::new() } else { format!("[{}]", axes.join(", ")) };
            let count = declaration.count.first().zip(declaration.count.last());
            let count = count.map(|(first, last)| format!(" {}", (self.said)(first.span.to(last.span))));
            let title = declaration.title.as_ref().map(|title| format!(" {}", (self.said)(title.span)));
            let (word, name) = (before.word(), &declaration.name.value);
            is.words =
                format!("{word} {name}{axes}{}{}", count.unwrap_or_default(), title.unwrap_or_default());
        }
        self.clauses(before, &mut declaration.clauses, &said.clauses, change);
    }

    /// Notes what stands before the braces, where it is said anew.
    fn head(&mut self, item: &Item, change: &Change, anew: bool) {
        if anew && self.first(item, "its head", change.span) {
            self.note(item, item.head(), change.said.head(), change.span);
        }
    }

    fn clauses<C: Speaks>(
        &mut self,
        item: &Item,
        clauses: &mut Vec<Clause<C>>,
        said: &[Clause<C>],
        change: &Change,
    ) {
        let there = C::clauses_of(item).cloned().unwrap_or_default();
        for difference in &change.differences {
            let Some(named) = self.find(item, &there, difference) else { continue };
            let put = C::clauses_of(&difference.put).cloned().unwrap_or_default();
            let was = named.span;
            let replaces = matches!(difference.kind, DifferenceKind::Without | DifferenceKind::InsteadOf);
            if replaces && !self.first(item, &format!("{was:?}"), difference.span) {
                continue;
            }
            let Some(at) = clauses.iter().position(|clause| clause.span == was) else {
                let first = self.told.facts.get(&(id(item), format!("{was:?}"))).copied();
                let said = item.name().zip(first);
                self.diagnostics
                    .extend(said.map(|(word, first)| errors::changed_twice(word, difference.span, first)));
                continue;
            };
            if replaces {
                if let Some(subject) = subject(named) {
                    self.told.facts.insert((id(item), subject), difference.span);
                }
                let is = put.first().zip(put.last()).map(|(first, last)| first.span.to(last.span));
                self.note(item, Some(was), is, difference.span);
                clauses.splice(at..=at, put);
            } else {
                for clause in &put {
                    self.note(item, None, Some(clause.span), clause.span);
                }
                let at = if difference.kind == DifferenceKind::AheadOf { at } else { at + 1 };
                clauses.splice(at..at, put);
            }
        }
        for clause in said {
            self.clause(item, clauses, clause, said);
        }
    }

    /// A clause that takes the place of the one that speaks of the same, or else comes to the others.
    fn clause<C: Speaks>(
        &mut self,
        item: &Item,
        clauses: &mut Vec<Clause<C>>,
        clause: &Clause<C>,
        said: &[Clause<C>],
    ) {
        let own = |other: &Clause<C>| said.iter().any(|said| said.span == other.span);
        if let Some(subject) = subject(clause) {
            // Said twice in one change: the second is complained of as in any declaration.
            let again =
                clauses.iter().any(|other| own(other) && self::subject(other).as_ref() == Some(&subject));
            if !again && !self.first(item, &subject, clause.span) {
                return;
            }
            let same = |other: &Clause<C>| !own(other) && self::subject(other).as_ref() == Some(&subject);
            if let Some(at) = clauses.iter().position(same) {
                let was = clauses[at].span;
                if same_words(&(self.said)(was), &(self.said)(clause.span)) {
                    self.diagnostics.push(errors::changes_nothing(clause.span, was));
                }
                self.note(item, Some(was), Some(clause.span), clause.span);
                clauses[at] = clause.clone();
                return;
            }
        } else if let Some(same) = clauses
            .iter()
            .find(|other| !own(other) && same_words(&(self.said)(other.span), &(self.said)(clause.span)))
            && !clause.value.in_order()
        {
            self.diagnostics.push(errors::changes_nothing(clause.span, same.span));
            return;
        }
        self.note(item, None, Some(clause.span), clause.span);
        let first_act = clauses.iter().position(|other| other.value.in_order());
        match first_act {
            Some(at) if !clause.value.in_order() => clauses.insert(at, clause.clone()),
            _ => clauses.push(clause.clone()),
        }
    }

    /// The one clause that a difference names: the one that says just this, or else the only one that begins so.
    fn find<'c, C: Speaks>(
        &mut self,
        item: &Item,
        clauses: &'c [Clause<C>],
        difference: &Difference,
    ) -> Option<&'c Clause<C>> {
        let named = (self.said)(difference.named);
        let texts: Vec<String> = clauses.iter().map(|clause| (self.said)(clause.span)).collect();
        let whole = |at: &usize| same_words(&texts[*at], &named);
        let begins = |at: &usize| begins_with(&texts[*at], &named);
        let mut found: Vec<usize> = (0..clauses.len()).filter(whole).collect();
        if found.is_empty() {
            found = (0..clauses.len()).filter(begins).collect();
        }
        match found.as_slice() {
            [at] => clauses.get(*at),
            [] => {
                let words = |text: &str| text.split(' ').next().unwrap_or_default().to_owned();
                let near = (0..clauses.len()).find(|at| words(&texts[*at]) == words(&named));
                let near = near.map(|at| (texts[at].as_str(), clauses[at].span));
                let thing = title(item);
                let declared = item.name().map_or_else(|| item.span(), |word| word.span);
                self.diagnostics.push(errors::no_such_clause(
                    difference.named,
                    &named,
                    &thing,
                    near,
                    declared,
                ));
                None
            }
            several => {
                let spans: Vec<Span> = several.iter().map(|at| clauses[*at].span).collect();
                self.diagnostics.push(errors::clause_not_one(difference.named, &named, &spans));
                None
            }
        }
    }

    /// Whether the layer says this of the thing for the first time; complains if not.
    fn first(&mut self, item: &Item, fact: &str, span: Span) -> bool {
        match self.told.facts.insert((id(item), fact.to_owned()), span) {
            None => true,
            Some(first) => {
                let word = item.name().cloned();
                self.diagnostics.extend(word.map(|word| errors::changed_twice(&word, span, first)));
                false
            }
        }
    }

    fn note(&mut self, item: &Item, was: Option<Span>, is: Option<Span>, at: Span) {
        self.differing.push(Differing {
            of_job: self.of_job,
            word: item.word(),
            id: id(item),
            title: title(item),
            was: was.map(|span| quoted(self.said, span)),
            is: is.map(|span| quoted(self.said, span)),
            whole: false,
            at,
        });
    }
}

fn id(item: &Item) -> String {
    item.name().map(|word| word.value.clone()).unwrap_or_default()
}

fn same_axes(one: &[Word], other: &[Word]) -> bool {
    one.iter().map(|word| &word.value).eq(other.iter().map(|word| &word.value))
}

/// Clauses of a declaration that are gone, or say less, after something was taken out: of which declaration or step, where they
/// stand, and whether anything is left of them.
pub(super) fn shortened(before: &Item, after: &Item) -> Vec<(Item, Span, bool)> {
    fn held<C: PartialEq>(before: &[Clause<C>], after: &[Clause<C>]) -> Vec<(Span, bool)> {
        let left = |clause: &Clause<C>| after.iter().find(|other| other.span == clause.span);
        let changed = before.iter().filter_map(|clause| match left(clause) {
            Some(other) if other.value == clause.value => None,
            Some(_) => Some((clause.span, true)),
            None => Some((clause.span, false)),
        });
        changed.collect()
    }
    let spans = match (before, after) {
        (Item::Part(a), Item::Part(b)) => held(&a.clauses, &b.clauses),
        (Item::Fasteners(a), Item::Fasteners(b)) => held(&a.clauses, &b.clauses),
        (Item::Joint(a), Item::Joint(b)) => held(&a.clauses, &b.clauses),
        (Item::Gauge(a), Item::Gauge(b)) => held(&a.clauses, &b.clauses),
        (Item::Look(a), Item::Look(b)) => held(&a.clauses, &b.clauses),
        (Item::Tool(a), Item::Tool(b)) => held(&a.clauses, &b.clauses),
        (Item::Supply(a), Item::Supply(b)) => held(&a.clauses, &b.clauses),
        (Item::Rule(a), Item::Rule(b)) => held(&a.clauses, &b.clauses),
        (Item::Step(a), Item::Step(b)) => held(&a.clauses, &b.clauses),
        (Item::Group(a), Item::Group(b)) => {
            let steps = a.steps.iter().zip(&b.steps);
            return steps
                .flat_map(|(a, b)| {
                    let of = |(span, left)| (Item::Step(a.clone()), span, left);
                    held(&a.clauses, &b.clauses).into_iter().map(of)
                })
                .collect();
        }
        _ => Vec::new(),
    };
    spans.into_iter().map(|(span, left)| (before.clone(), span, left)).collect()
}
