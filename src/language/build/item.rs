//! Declarations, steps and groups.

use super::{Builder, Head};
use crate::language::grammar::{Node, Rule, all, find, has, need};
use crate::language::shape::Shape;
use crate::language::tree::{
    Ask, Axis, Group, GroupKind, Hazard, Item, ListedValue, Phase, Setup, State, Step, Word,
};
use crate::source::{Span, Spanned};

impl Builder {
    /// A match of one of the rules of `item`.
    pub(in crate::language) fn item(&self, node: &Node<'_>) -> Item {
        let span = self.span(node);
        match node.as_rule() {
            Rule::use_file => Item::Use(self.quote_in(node)),
            Rule::section => Item::Section { name: self.name_in(node), title: self.title_in(node) },
            Rule::axis => {
                Item::Axis(Axis { name: self.name_in(node), positions: self.axis_positions(node), span })
            }
            Rule::ask => Item::Ask(Ask {
                name: self.name_in(node),
                question: self.quote_in(&need(node, Rule::title)),
                answers: self.names_in(&need(node, Rule::answers), Rule::position),
                span,
            }),
            Rule::setup => Item::Setup(Setup {
                name: self.name_in(node),
                title: self.title_in(node),
                values: self.listed_values(node),
                change: find(node, Rule::change).map(|change| self.amount_in(&change)),
                span,
            }),
            Rule::state => Item::State(State {
                name: self.name_in(node),
                title: self.title_in(node),
                values: self.listed_values(node),
                span,
            }),
            rule => {
                let shape = Shape::of(rule).expect("every other declaration has a head and clauses");
                let head = need(node, shape.head);
                let body = find(node, shape.body).map(|body| need(&body, shape.clauses));
                self.with_clauses(shape, &head, body.as_slice(), span)
            }
        }
    }

    /// A declaration from its head and the runs of sound clauses that were found in its braces.
    pub(in crate::language) fn with_clauses(
        &self,
        shape: &Shape,
        head: &Node<'_>,
        runs: &[Node<'_>],
        span: Span,
    ) -> Item {
        self.from_head(shape, head, self.head(head), runs, span)
    }

    fn from_head(&self, shape: &Shape, node: &Node<'_>, head: Head, runs: &[Node<'_>], span: Span) -> Item {
        let clause = shape.clause;
        match shape.declaration {
            Rule::family => Item::Family(head.with(self.runs(runs, clause, Self::family_clause), span)),
            Rule::tool => Item::Tool(head.with(self.runs(runs, clause, Self::tool_clause), span)),
            Rule::supply => Item::Supply(head.with(self.runs(runs, clause, Self::supply_clause), span)),
            Rule::part => Item::Part(head.with(self.runs(runs, clause, Self::part_clause), span)),
            Rule::fasteners => {
                Item::Fasteners(head.with(self.runs(runs, clause, Self::fasteners_clause), span))
            }
            Rule::joint => Item::Joint(head.with(self.runs(runs, clause, Self::joint_clause), span)),
            Rule::gauge => Item::Gauge(head.with(self.runs(runs, clause, Self::gauge_clause), span)),
            Rule::look => Item::Look(head.with(self.runs(runs, clause, Self::look_clause), span)),
            Rule::temporary => {
                Item::Temporary(head.with(self.runs(runs, clause, Self::temporary_clause), span))
            }
            Rule::ordering_rule => Item::Rule(head.with(self.runs(runs, clause, Self::rule_clause), span)),
            Rule::hazard => Item::Hazard(Hazard {
                name: head.name,
                signal: self.word(&need(node, Rule::signal)),
                kind: all(node, Rule::name)
                    .nth(1)
                    .map(|kind| self.name(&kind))
                    .expect("the grammar demands a kind"),
                clauses: self.runs(runs, clause, Self::hazard_clause),
                span,
            }),
            Rule::group => {
                let steps: Vec<Item> =
                    runs.iter().flat_map(|run| all(run, Rule::step)).map(|step| self.item(&step)).collect();
                self.group(node, head, steps, span)
            }
            _ => Item::Step(Step {
                phase: phase(node),
                name: head.name,
                title: head.title,
                clauses: self.runs(runs, clause, Self::step_clause),
                span,
            }),
        }
    }

    /// A group from its head and its steps, which may have been recovered one by one.
    pub(in crate::language) fn group(
        &self,
        node: &Node<'_>,
        head: Head,
        steps: Vec<Item>,
        span: Span,
    ) -> Item {
        let kind = if has(node, Rule::key_block) { GroupKind::Block } else { GroupKind::Trial };
        let steps = steps
            .into_iter()
            .filter_map(|item| match item {
                Item::Step(step) => Some(step),
                _ => None,
            })
            .collect();
        Item::Group(Group { kind, name: head.name, title: head.title, steps, span })
    }

    fn runs<'i, C>(
        &self,
        runs: &[Node<'i>],
        clause: Rule,
        build: impl Fn(&Self, &Node<'i>) -> C,
    ) -> Vec<Spanned<C>> {
        runs.iter().flat_map(|run| self.clauses(run, clause, &build)).collect()
    }

    fn axis_positions(&self, node: &Node<'_>) -> Vec<Word> {
        let Some(range) = find(node, Rule::axis_range) else {
            return self.names_in(&need(node, Rule::axis_list), Rule::position);
        };
        let ends: Vec<Node<'_>> = all(&range, Rule::count).collect();
        let limits: Vec<u32> = ends.iter().filter_map(|end| end.as_str().parse().ok()).collect();
        match limits.as_slice() {
            [first, last] if first <= last && last - first < LONGEST_AXIS => {
                (*first..=*last).map(|position| self.spanned(&range, position.to_string())).collect()
            }
            _ => {
                let fault = crate::language::errors::bad_range(self.span(&range), range.as_str().trim_end());
                self.faults.borrow_mut().push(fault);
                Vec::new()
            }
        }
    }

    fn listed_values(&self, node: &Node<'_>) -> Vec<ListedValue> {
        all(&need(node, Rule::listed_values), Rule::listed_value)
            .map(|value| {
                let marked = |rule: Rule| all(&value, Rule::value_mark).any(|mark| has(&mark, rule));
                ListedValue {
                    value: self.name(&need(&value, Rule::position)),
                    at_first: marked(Rule::key_first),
                    at_build: marked(Rule::key_build),
                }
            })
            .collect()
    }
}

/// Positions that a range such as `1 .. 3` may have: more is a slip of the finger, not an engine.
const LONGEST_AXIS: u32 = 1000;

fn phase(head: &Node<'_>) -> Phase {
    if has(head, Rule::key_strip) {
        Phase::Strip
    } else if has(head, Rule::key_survey) {
        Phase::Survey
    } else if has(head, Rule::key_build) {
        Phase::Build
    } else {
        Phase::Start
    }
}
