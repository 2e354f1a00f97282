//! First pass: every declared name with its number, and each declaration as it stands before its clauses are read.

use std::collections::BTreeMap;

use super::blank;
use super::errors;
use super::model::*;
use crate::diagnostics::Diagnostic;
use crate::language::tree::{self, Item, Quote, Tree, Word};
use crate::source::Span;

/// A declaration of the tree beside each entry of the model, at the same index.
#[derive(Default)]
pub(super) struct Declared<'a> {
    pub families: Vec<&'a tree::Declaration<tree::FamilyClause>>,
    pub axes: Vec<&'a tree::Axis>,
    pub asks: Vec<&'a tree::Ask>,
    pub setups: Vec<&'a tree::Setup>,
    pub states: Vec<&'a tree::State>,
    pub tools: Vec<&'a tree::Declaration<tree::ToolClause>>,
    pub supplies: Vec<&'a tree::Declaration<tree::SupplyClause>>,
    pub parts: Vec<&'a tree::Declaration<tree::PartClause>>,
    pub sets: Vec<&'a tree::Declaration<tree::FastenerClause>>,
    pub joints: Vec<&'a tree::Declaration<tree::JointClause>>,
    pub gauges: Vec<&'a tree::Declaration<tree::GaugeClause>>,
    pub looks: Vec<&'a tree::Declaration<tree::LookClause>>,
    pub temporaries: Vec<&'a tree::Declaration<tree::TemporaryClause>>,
    pub hazards: Vec<&'a tree::Hazard>,
    pub rules: Vec<&'a tree::Declaration<tree::RuleClause>>,
    pub steps: Vec<&'a tree::Step>,
}

/// What the first pass yields.
pub(super) struct Collected<'a> {
    /// Declarations by number.
    pub declared: Declared<'a>,
    /// The model with every name in it, and defaults for every clause.
    pub procedure: Procedure,
    /// Duplicates, and families where none belongs.
    pub diagnostics: Vec<Diagnostic>,
}

struct Collector<'a> {
    out: Collected<'a>,
    spans: BTreeMap<&'a str, Span>,
    section: Option<SectionId>,
}

/// Collects the names of `trees`, in the order in which their declarations come in; the root stands last.
pub(super) fn collect(trees: &[Tree]) -> Collected<'_> {
    let empty =
        Collected { declared: Declared::default(), procedure: Procedure::default(), diagnostics: Vec::new() };
    let mut collector = Collector { out: empty, spans: BTreeMap::new(), section: None };
    for (index, tree) in trees.iter().enumerate() {
        collector.section = None;
        for item in &tree.items {
            collector.item(item, index + 1 == trees.len());
        }
    }
    collector.out
}

/// The title as written, or the id with spaces.
fn naming(name: &Word, title: Option<&Quote>) -> Naming {
    let title = title.map_or_else(|| name.value.replace('_', " "), |title| title.value.clone());
    Naming { id: name.value.clone(), title, span: name.span }
}

/// The number that the next entry of a list gets.
fn next<T>(list: &[T]) -> u32 {
    u32::try_from(list.len()).expect("a file of 64 MiB holds fewer declarations")
}

impl<'a> Collector<'a> {
    /// Enters a name, unless it is taken.
    fn enter(&mut self, word: &'a Word, name: Name) -> bool {
        if let Some(first) = self.spans.get(word.value.as_str()) {
            self.out.diagnostics.push(errors::duplicate_name(word, *first));
            return false;
        }
        self.spans.insert(&word.value, word.span);
        self.out.procedure.names.insert(word.value.clone(), name);
        true
    }

    fn item(&mut self, item: &'a Item, in_root: bool) {
        /// Enters a declaration in both lists under one number.
        macro_rules! declare {
            ($declaration:expr, $title:expr, $field:ident, $name:ident, $id:ident, $blank:ident) => {{
                let id = $id(next(&self.out.procedure.$field));
                if self.enter(&$declaration.name, Name::$name(id)) {
                    let naming = naming(&$declaration.name, $title);
                    self.out.procedure.$field.push(blank::$blank(naming));
                    self.out.declared.$field.push($declaration);
                }
            }};
        }
        match item {
            Item::Use(_) => {}
            Item::Section { name, title } => {
                let id = SectionId(next(&self.out.procedure.sections));
                if self.enter(name, Name::Section(id)) {
                    self.out.procedure.sections.push(Section { naming: naming(name, title.as_ref()) });
                    self.section = Some(id);
                }
            }
            Item::Family(d) => self.family(d, in_root),
            Item::Axis(d) => declare!(d, d.title.as_ref(), axes, Axis, AxisId, axis),
            Item::Ask(d) => declare!(d, Some(&d.question), asks, Ask, AskId, ask),
            Item::Setup(d) => declare!(d, d.title.as_ref(), setups, Setup, SetupId, setup),
            Item::State(d) => declare!(d, d.title.as_ref(), states, State, StateId, state),
            Item::Tool(d) => declare!(d, d.title.as_ref(), tools, Tool, ToolId, tool),
            Item::Supply(d) => declare!(d, d.title.as_ref(), supplies, Supply, SupplyId, supply),
            Item::Part(d) => declare!(d, d.title.as_ref(), parts, Part, PartId, part),
            Item::Fasteners(d) => declare!(d, d.title.as_ref(), sets, Set, SetId, set),
            Item::Joint(d) => declare!(d, d.title.as_ref(), joints, Joint, JointId, joint),
            Item::Gauge(d) => declare!(d, d.title.as_ref(), gauges, Gauge, GaugeId, gauge),
            Item::Look(d) => declare!(d, d.title.as_ref(), looks, Look, LookId, look),
            Item::Temporary(d) => {
                declare!(d, d.title.as_ref(), temporaries, Temporary, TemporaryId, temporary);
            }
            Item::Hazard(d) => declare!(d, None, hazards, Hazard, HazardId, hazard),
            Item::Rule(d) => declare!(d, d.title.as_ref(), rules, Rule, RuleId, rule),
            Item::Step(step) => {
                self.step(step, None);
            }
            Item::Group(group) => self.group(group),
        }
    }

    /// The family's name shares no namespace: a family may be called as one of its parts is.
    fn family(&mut self, declaration: &'a tree::Declaration<tree::FamilyClause>, in_root: bool) {
        let first = self.out.procedure.family.as_ref().map(|family| family.naming.span);
        if !in_root || first.is_some() {
            self.out.diagnostics.push(errors::second_family(&declaration.name, first));
            return;
        }
        let naming = naming(&declaration.name, declaration.title.as_ref());
        self.out.procedure.family = Some(blank::family(naming));
        self.out.declared.families.push(declaration);
    }

    fn step(&mut self, step: &'a tree::Step, group: Option<GroupId>) -> Option<StepId> {
        let id = StepId(next(&self.out.procedure.steps));
        if !self.enter(&step.name, Name::Step(id)) {
            return None;
        }
        let naming = naming(&step.name, step.title.as_ref());
        let mut entry = Step::blank(naming, step.phase, step.span);
        entry.section = self.section;
        entry.group = group;
        self.out.procedure.steps.push(entry);
        self.out.declared.steps.push(step);
        Some(id)
    }

    /// A group whose name is taken still gives its steps their place, but is no group.
    fn group(&mut self, group: &'a tree::Group) {
        let id = GroupId(next(&self.out.procedure.groups));
        let entered = self.enter(&group.name, Name::Group(id));
        if entered {
            let naming = naming(&group.name, group.title.as_ref());
            let entry = Group { naming, kind: group.kind, steps: Vec::new(), span: group.span };
            self.out.procedure.groups.push(entry);
        }
        for step in &group.steps {
            let number = self.step(step, entered.then_some(id));
            if let (true, Some(number)) = (entered, number) {
                self.out.procedure.groups[id.index()].steps.push(number);
            }
        }
    }
}
