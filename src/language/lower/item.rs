//! Declarations, steps and groups.

use super::Builder;
use super::declaration::Head;
use crate::language::grammar::{Node, Rule, all, find, has, inside, need};
use crate::language::row::{Change as ChangeRules, Shape};
use crate::language::tree::{
    Ask, Axis, Change, Clause, Difference, DifferenceKind, Group, GroupKind, Grouping, Hazard, Item, Lies,
    ListedValue, Phase, Setup, State, Step, Without, Word,
};
use crate::source::Span;
use thin_vec::ThinVec;

impl Builder {
    /// A match of a declaration that may have clauses.
    pub(in crate::language) fn declaration(&self, shape: &Shape, node: &Node<'_>) -> Item {
        let head = need(node, shape.head);
        let run = find(node, shape.body).map(|body| Run {
            base: self.base.get(),
            until: usize::MAX,
            clauses: need(&body, shape.clauses),
        });
        self.item_of_parts(shape, &head, run.as_slice(), Vec::new(), self.span(node))
    }

    /// A match of a declaration without clauses.
    pub(in crate::language) fn plain(&self, node: &Node<'_>) -> Item {
        let span = self.span(node);
        by_rule!(node.as_rule(), {
            changed_plain => Item::Change(Box::new(Change {
                said: self.plain(&last(node)),
                differences: Vec::new(),
                span,
            })),
            without => Item::Without(Without { names: self.names_in(node, Rule::name), span }),
            use_file => Item::Use(self.quote_in(node)),
            section => Item::Section {
                name: self.name_in(node),
                title: self.title_in(node),
                refit: find(node, Rule::refit_title).map(|refit| self.quote_in(&refit)),
                origin: self.origin_in(node),
            },
            axis => Item::Axis(Axis {
                name: self.name_in(node),
                title: self.title_in(node),
                positions: self.axis_positions(node),
                groupings: all(node, Rule::axis_groups).map(|groups| self.grouping(&groups)).collect(),
                span,
            }),
            ask => Item::Ask(Ask {
                name: self.name_in(node),
                question: self.quote_in(&need(node, Rule::title)),
                answers: self.names_in(&need(node, Rule::answers), Rule::position),
                span,
            }),
            setup => Item::Setup(Box::new(Setup {
                name: self.name_in(node),
                title: self.title_in(node),
                values: self.listed_values(node),
                turns_engine: find(node, Rule::turns_engine).map_or_else(ThinVec::new, |turns| {
                    all(&turns, Rule::lies)
                        .map(|lies| Lies {
                            value: self.name(&need(&lies, Rule::position)),
                            face: self.word(&need(&lies, Rule::end)),
                        })
                        .collect()
                }),
                each_person: has(node, Rule::each_person),
                change: find(node, Rule::change).map(|change| self.amount_in(&change)),
                hazard: find(node, Rule::show_hazard).map(|hazard| self.reference_in(&hazard)),
                span,
            })),
            state => Item::State(State {
                name: self.name_in(node),
                title: self.title_in(node),
                values: self.listed_values(node),
                hazards: all(node, Rule::state_hazard)
                    .map(|met| (self.reference_in(&met), self.name(&need(&met, Rule::position))))
                    .collect(),
                span,
            }),
        })
    }

    /// A declaration from its head and the runs of sound clauses that stand in its braces. The steps of a block may
    /// be given one by one. Places of the head are meant in the text at hand.
    pub(in crate::language) fn item_of_parts(
        &self,
        shape: &Shape,
        node: &Node<'_>,
        runs: &[Run<'_>],
        steps: Vec<Step>,
        span: Span,
    ) -> Item {
        if let Some(change) = shape.change
            && let Some(plain) = Shape::of(change.of)
        {
            let said = self.item_of_parts(plain, node, runs, steps, span);
            let differences = self.differences(plain, change, node, runs);
            return Item::Change(Box::new(Change { said, differences, span }));
        }
        let head = self.head(node);
        let clause = shape.clause;
        by_rule!(shape.declaration, {
            family => Item::Family(head.with(self.runs(runs, clause, Self::family_clause), span)),
            tool => Item::Tool(head.with(self.runs(runs, clause, Self::tool_clause), span)),
            supply => Item::Supply(head.with(self.runs(runs, clause, Self::supply_clause), span)),
            part => Item::Part(head.with(self.runs(runs, clause, Self::part_clause), span)),
            fasteners => Item::Fasteners(head.with(self.runs(runs, clause, Self::fasteners_clause), span)),
            joint => Item::Joint(head.with(self.runs(runs, clause, Self::joint_clause), span)),
            gauge => Item::Gauge(head.with(self.runs(runs, clause, Self::gauge_clause), span)),
            look => Item::Look(head.with(self.runs(runs, clause, Self::look_clause), span)),
            temporary => Item::Temporary(head.with(self.runs(runs, clause, Self::temporary_clause), span)),
            ordering_rule => Item::Rule(head.with(self.runs(runs, clause, Self::rule_clause), span)),
            hazard => {
                let kind = all(node, Rule::name).nth(1).map(|kind| self.name(&kind));
                Item::Hazard(Hazard {
                    name: head.name,
                    signal: self.word(&need(node, Rule::signal)),
                    kind: kind.expect("the grammar demands a kind"),
                    clauses: self.runs(runs, clause, Self::hazard_clause),
                    span,
                })
            },
            group => {
                let kind = if has(node, Rule::key_block) { GroupKind::Block } else { GroupKind::Trial };
                let mut steps = steps;
                for run in runs {
                    self.start_at(run.base);
                    steps.extend(all(&run.clauses, Rule::step).map(|step| self.step(&step)));
                }
                steps.sort_by_key(|step| step.span.start());
                Item::Group(Group { kind, name: head.name, title: head.title, steps, span })
            },
            step => Item::Step(self.step_from(node, head, runs, span)),
        })
    }

    /// What a changed declaration takes out of the one that it changes, and puts into it at a place.
    fn differences(
        &self,
        plain: &Shape,
        change: ChangeRules,
        head: &Node<'_>,
        runs: &[Run<'_>],
    ) -> Vec<Difference> {
        let Some(rule) = change.difference else { return Vec::new() };
        let mut built = Vec::new();
        for run in runs {
            let sound = all(&run.clauses, rule).filter(|node| node.as_span().end() <= run.until);
            for node in sound {
                self.start_at(run.base);
                let kind = by_rule!(inside(&node).as_rule(), {
                    key_without => DifferenceKind::Without,
                    key_instead => DifferenceKind::InsteadOf,
                    key_ahead => DifferenceKind::AheadOf,
                    key_behind => DifferenceKind::Behind,
                });
                let (named, span) = (self.span(&need(&node, plain.clause)), self.span(&node));
                let alone = Run { base: run.base, until: usize::MAX, clauses: node.clone() };
                let clause = self.item_of_parts(plain, head, &[alone], Vec::new(), span);
                let clauses = find(&node, change.clauses);
                let put = clauses.map(|clauses| Run { base: run.base, until: usize::MAX, clauses });
                let put = self.item_of_parts(plain, head, put.as_slice(), Vec::new(), span);
                built.push(Difference { kind, named, clause, put, span });
            }
        }
        built
    }

    /// A match of `step`.
    fn step(&self, node: &Node<'_>) -> Step {
        let head = need(node, Rule::step_head);
        let run = find(node, Rule::step_body).map(|body| Run {
            base: self.base.get(),
            until: usize::MAX,
            clauses: need(&body, Rule::step_clauses),
        });
        self.step_from(&head, self.head(&head), run.as_slice(), self.span(node))
    }

    fn step_from(&self, node: &Node<'_>, head: Head, runs: &[Run<'_>], span: Span) -> Step {
        Step {
            phase: phase(node),
            name: head.name,
            title: head.title,
            clauses: self.runs(runs, Rule::step_clause, Self::step_clause),
            span,
        }
    }

    /// Each clause of the runs, made by `lower` of what stands inside it.
    fn runs<'i, C>(
        &self,
        runs: &[Run<'i>],
        clause: Rule,
        lower: impl Fn(&Self, &Node<'i>) -> (Option<&'static str>, C),
    ) -> Vec<Clause<C>> {
        let mut built = Vec::new();
        for run in runs {
            self.start_at(run.base);
            let sound = all(&run.clauses, clause).filter(|node| node.as_span().end() <= run.until);
            built.extend(sound.map(|node| {
                let (once, value) = lower(self, &inside(&node));
                Clause { value, once, span: self.span(&node) }
            }));
        }
        built.shrink_to_fit();
        built
    }

    fn axis_positions(&self, node: &Node<'_>) -> ThinVec<Word> {
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
                self.found.borrow_mut().faults.push(fault);
                ThinVec::new()
            }
        }
    }

    fn grouping(&self, node: &Node<'_>) -> Grouping {
        let group = |group: Node<'_>| {
            let mut words = self.names_in(&group, Rule::position).into_iter();
            (words.next().expect("the grammar names every group"), words.collect())
        };
        Grouping {
            name: self.name_in(node),
            title: self.title_in(node),
            groups: all(node, Rule::axis_group).map(group).collect(),
        }
    }

    fn listed_values(&self, node: &Node<'_>) -> ThinVec<ListedValue> {
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

/// The last thing inside.
fn last<'i>(node: &Node<'i>) -> Node<'i> {
    node.clone().into_inner().last().expect("the grammar puts a declaration behind `change`")
}

/// A run of sound clauses: a match of one of the `*_clauses` rules.
#[derive(Debug)]
pub(in crate::language) struct Run<'i> {
    /// Where the text it was matched in starts in the file.
    pub base: usize,
    /// Clauses that end behind this byte of the text are left out.
    pub until: usize,
    /// The match.
    pub clauses: Node<'i>,
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
