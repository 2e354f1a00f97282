//! Clauses of joint.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, inside, need};
use crate::language::row::Row;
use crate::language::tree::{JointClause, Layout, Point, Word};
use crate::source::Spanned;

clauses! {
    JOINT: joint_clause(self, node) -> JointClause {
        clamps "clamps" once => JointClause::Clamps(self.references_in(node)),
        seen_from "seen from" many => JointClause::SeenFrom {
            view: self.word(&need(node, Rule::end)),
            front: find(node, Rule::front_at).map(|front| self.word(&need(&front, Rule::toward))),
            scope: self.scope_in(node),
        },
        holes_clause "holes" many => JointClause::Holes {
            set: self.reference_in(node),
            layout: self.layout(&need(node, Rule::layout)),
        },
        tighten_clause "tighten" many => JointClause::Tighten { set: self.reference_in(node), tightening: self.tightenings_in(node) },
        gasket "gasket" once => JointClause::Gasket { material: self.quote_in(node), thickness: self.amount_if(node) },
        sequence "sequence" once as if has(node, Rule::to_undo) { "sequence to undo" } else { "sequence" } => JointClause::Sequence {
            to_undo: has(node, Rule::to_undo),
            holes: self.words_in(&need(node, Rule::holes), Rule::hole),
            origin: self.origin_in(node),
        },
        pass_by_pass "pass by pass" once => JointClause::PassByPass,
        critical "critical" once => JointClause::Critical,
        friction "friction" once => JointClause::Friction {
            range: Box::new(self.range(&need(node, Rule::range))),
            origin: self.origin_in(node),
        },
        then_act "then" many => JointClause::Then(Box::new(self.act(&need(node, Rule::later_act)))),
    }
}

impl Builder {
    fn layout(&self, node: &Node<'_>) -> Spanned<Layout> {
        let kind = inside(node);
        let place = || find(&kind, Rule::place).map(|place| self.point_with_unit(&place));
        let mut counts = all(&kind, Rule::count).map(|count| self.count(&count));
        let mut count = || counts.next().expect("the grammar demands as many counts");
        let mut amounts = all(&kind, Rule::amount).map(|amount| self.amount(&amount));
        let mut amount = || amounts.next().expect("the grammar demands as many amounts");
        let layout = by_rule!(kind.as_rule(), {
            points => Layout::Points {
                points: all(&kind, Rule::point).map(|point| self.point(&point)).collect(),
                unit: self.word(&need(&kind, Rule::unit)),
            },
            circle => Layout::Circle {
                count: count(),
                diameter: amount(),
                first: find(&kind, Rule::circle_first).map(|first| self.amount_in(&first)),
                centre: place(),
            },
            grid => Layout::Grid {
                columns: count(),
                rows: count(),
                pitch_x: amount(),
                pitch_y: amount(),
                corner: place(),
            },
        });
        self.spanned(node, layout)
    }

    fn point(&self, node: &Node<'_>) -> Point {
        let mut numbers = all(node, Rule::number).map(|number| self.value(&number));
        let mut next = || numbers.next().expect("the grammar puts two numbers into every point");
        Point { x: next(), y: next(), span: self.span(node) }
    }

    fn point_with_unit(&self, node: &Node<'_>) -> (Point, Word) {
        (self.point(&need(node, Rule::point)), self.word(&need(node, Rule::unit)))
    }
}
