//! First pass: every declared name with its number, and each declaration as it stands before its clauses are read.

use super::blank;
use super::errors;
use super::model::*;
use crate::diagnostics::Diagnostic;
use crate::english::spaced;
use crate::language::tree::{self, Item, Quote, Tree, Word};
use crate::source::FileId;

/// A declaration of the tree beside each entry of the model, at the same index.
#[derive(Default)]
pub(super) struct Declared<'a> {
    pub families: Vec<&'a tree::Declaration<tree::FamilyClause>>,
    /// None for groups, which are declared with the axis that they group.
    pub axes: Arena<AxisId, Option<&'a tree::Axis>>,
    pub asks: Arena<AskId, &'a tree::Ask>,
    pub setups: Arena<SetupId, &'a tree::Setup>,
    pub states: Arena<StateId, &'a tree::State>,
    pub tools: Arena<ToolId, &'a tree::Declaration<tree::ToolClause>>,
    pub supplies: Arena<SupplyId, &'a tree::Declaration<tree::SupplyClause>>,
    pub parts: Arena<PartId, &'a tree::Declaration<tree::PartClause>>,
    pub sets: Arena<SetId, &'a tree::Declaration<tree::FastenerClause>>,
    pub joints: Arena<JointId, &'a tree::Declaration<tree::JointClause>>,
    pub gauges: Arena<GaugeId, &'a tree::Declaration<tree::GaugeClause>>,
    pub looks: Arena<LookId, &'a tree::Declaration<tree::LookClause>>,
    pub temporaries: Arena<TemporaryId, &'a tree::Declaration<tree::TemporaryClause>>,
    pub hazards: Arena<HazardId, &'a tree::Hazard>,
    pub rules: Arena<RuleId, &'a tree::Declaration<tree::RuleClause>>,
    pub steps: Arena<StepId, &'a tree::Step>,
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
    section: Option<SectionId>,
}

/// Collects the names of `trees`, in the order in which their declarations come in; only `root` has a family.
pub(super) fn collect(trees: &[Tree], root: FileId) -> Collected<'_> {
    let empty =
        Collected { declared: Declared::default(), procedure: Procedure::default(), diagnostics: Vec::new() };
    let mut collector = Collector { out: empty, section: None };
    collector.make_room(trees);
    for tree in trees {
        collector.section = None;
        for item in &tree.items {
            collector.item(item, tree.file == root);
        }
    }
    collector.out
}

/// The declarations of trees in which no name is taken twice and the family stands where it belongs, by their numbers.
pub(super) fn declared(trees: &[Tree]) -> Declared<'_> {
    let mut declared = Declared::default();
    for item in trees.iter().flat_map(|tree| &tree.items) {
        declared.list(item);
    }
    declared
}

impl<'a> Declared<'a> {
    fn list(&mut self, item: &'a Item) {
        match item {
            Item::Use(_) | Item::Change(_) | Item::Without(_) | Item::Section { .. } => {}
            Item::Family(d) => self.families.push(d),
            Item::Axis(d) => {
                self.axes.push(Some(d));
                for _ in &d.groupings {
                    self.axes.push(None);
                }
            }
            Item::Ask(d) => {
                self.asks.push(d);
            }
            Item::Setup(d) => {
                self.setups.push(d);
            }
            Item::State(d) => {
                self.states.push(d);
            }
            Item::Tool(d) => {
                self.tools.push(d);
            }
            Item::Supply(d) => {
                self.supplies.push(d);
            }
            Item::Part(d) => {
                self.parts.push(d);
            }
            Item::Fasteners(d) => {
                self.sets.push(d);
            }
            Item::Joint(d) => {
                self.joints.push(d);
            }
            Item::Gauge(d) => {
                self.gauges.push(d);
            }
            Item::Look(d) => {
                self.looks.push(d);
            }
            Item::Temporary(d) => {
                self.temporaries.push(d);
            }
            Item::Hazard(d) => {
                self.hazards.push(d);
            }
            Item::Rule(d) => {
                self.rules.push(d);
            }
            Item::Step(step) => {
                self.steps.push(step);
            }
            Item::Group(group) => {
                for step in &group.steps {
                    self.steps.push(step);
                }
            }
        }
    }
}

/// The title as written, or the id with spaces.
pub(super) fn naming(name: &Word, title: Option<&Quote>) -> Naming {
    let title = title.map_or_else(|| spaced(&name.value), |title| title.value.clone());
    Naming { id: name.value.clone(), title, span: name.span }
}

impl<'a> Collector<'a> {
    /// What there is most of takes as much room as it needs: a list that grows takes up to twice that.
    fn make_room(&mut self, trees: &[Tree]) {
        let (mut parts, mut sets, mut steps) = (0, 0, 0);
        for item in trees.iter().flat_map(|tree| &tree.items) {
            match item {
                Item::Part(_) => parts += 1,
                Item::Fasteners(_) => sets += 1,
                Item::Step(_) => steps += 1,
                _ => {}
            }
        }
        // All of those have names, and few others do.
        self.out.procedure.names.make_room(parts + sets + steps);
        self.out.procedure.parts.reserve(parts);
        self.out.procedure.sets.reserve(sets);
        self.out.procedure.steps.reserve(steps);
    }

    /// Enters a name, unless it is taken.
    fn enter(&mut self, word: &Word, name: Name) -> bool {
        let procedure = &mut self.out.procedure;
        if let Some(first) = procedure.names.get(&word.value) {
            let first = procedure.naming(*first).span;
            self.out.diagnostics.push(errors::duplicate_name(word, first));
            return false;
        }
        procedure.names.enter(&word.value, name);
        true
    }

    fn item(&mut self, item: &'a Item, in_root: bool) {
        /// Enters a declaration in both lists under one number.
        macro_rules! declare {
            ($declaration:expr, $title:expr, $field:ident, $name:ident, $blank:ident) => {{
                let id = self.out.procedure.$field.next();
                if self.enter(&$declaration.name, Name::$name(id)) {
                    let naming = naming(&$declaration.name, $title);
                    self.out.procedure.$field.push(blank::$blank(naming));
                    self.out.declared.$field.push($declaration);
                }
            }};
        }
        match item {
            // What is changed has been put in its place before.
            Item::Use(_) | Item::Change(_) | Item::Without(_) => {}
            Item::Section { name, title, refit, origin: _ } => {
                let id = self.out.procedure.sections.next();
                if self.enter(name, Name::Section(id)) {
                    self.out.procedure.sections.push(Section {
                        naming: naming(name, title.as_ref()),
                        refit: refit.as_ref().map(|refit| refit.value.clone()),
                    });
                    self.section = Some(id);
                }
            }
            Item::Family(d) => self.family(d, in_root),
            Item::Axis(d) => {
                self.axis(&d.name, d.title.as_ref(), Some(d));
                for grouping in &d.groupings {
                    self.axis(&grouping.name, grouping.title.as_ref(), None);
                }
            }
            Item::Ask(d) => declare!(d, Some(&d.question), asks, Ask, ask),
            Item::Setup(d) => declare!(d, d.title.as_ref(), setups, Setup, setup),
            Item::State(d) => declare!(d, d.title.as_ref(), states, State, state),
            Item::Tool(d) => declare!(d, d.title.as_ref(), tools, Tool, tool),
            Item::Supply(d) => declare!(d, d.title.as_ref(), supplies, Supply, supply),
            Item::Part(d) => declare!(d, d.title.as_ref(), parts, Part, part),
            Item::Fasteners(d) => declare!(d, d.title.as_ref(), sets, Set, set),
            Item::Joint(d) => declare!(d, d.title.as_ref(), joints, Joint, joint),
            Item::Gauge(d) => declare!(d, d.title.as_ref(), gauges, Gauge, gauge),
            Item::Look(d) => declare!(d, d.title.as_ref(), looks, Look, look),
            Item::Temporary(d) => {
                declare!(d, d.title.as_ref(), temporaries, Temporary, temporary);
            }
            Item::Hazard(d) => declare!(d, None, hazards, Hazard, hazard),
            Item::Rule(d) => declare!(d, d.title.as_ref(), rules, Rule, rule),
            Item::Step(step) => {
                self.step(step, None);
            }
            Item::Group(group) => self.group(group),
        }
    }

    fn axis(&mut self, name: &'a Word, title: Option<&Quote>, declaration: Option<&'a tree::Axis>) {
        let id = self.out.procedure.axes.next();
        if self.enter(name, Name::Axis(id)) {
            self.out.procedure.axes.push(blank::axis(naming(name, title)));
            self.out.declared.axes.push(declaration);
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
        let id = self.out.procedure.steps.next();
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
        let id = self.out.procedure.groups.next();
        let entered = self.enter(&group.name, Name::Group(id));
        if entered {
            let naming = naming(&group.name, group.title.as_ref());
            let entry = Group { naming, kind: group.kind, steps: Vec::new(), span: group.span };
            self.out.procedure.groups.push(entry);
        }
        for step in &group.steps {
            let number = self.step(step, entered.then_some(id));
            if let (true, Some(number)) = (entered, number) {
                self.out.procedure.groups[id].steps.push(number);
            }
        }
    }
}
