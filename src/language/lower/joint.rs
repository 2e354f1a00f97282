//! Clauses of joint.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, inside, need};
use crate::language::tree::{JointClause, Layout, Point, Word};
use crate::source::Spanned;

impl Builder {
    pub(super) fn joint_clause(&self, node: &Node<'_>) -> JointClause {
        match node.as_rule() {
            Rule::clamps => JointClause::Clamps(self.references_in(node)),
            Rule::seen_from => JointClause::SeenFrom {
                view: self.word(&need(node, Rule::end)),
                front: find(node, Rule::front_at).map(|front| self.word(&need(&front, Rule::end))),
            },
            Rule::holes_clause => JointClause::Holes {
                set: self.reference_in(node),
                layout: self.layout(&need(node, Rule::layout)),
            },
            Rule::gasket => {
                JointClause::Gasket { material: self.quote_in(node), thickness: self.amount_if(node) }
            }
            Rule::tighten_clause => {
                JointClause::Tighten { set: self.reference_in(node), tightening: self.tightening_in(node) }
            }
            Rule::sequence => JointClause::Sequence {
                to_undo: has(node, Rule::to_undo),
                holes: self.words_in(&need(node, Rule::holes), Rule::hole),
                origin: self.origin_in(node),
            },
            Rule::pass_by_pass => JointClause::PassByPass,
            Rule::critical => JointClause::Critical,
            Rule::then_act => JointClause::Then(self.act(&need(node, Rule::later_act))),
            _ => JointClause::Friction {
                range: self.range(&need(node, Rule::range)),
                origin: self.origin_in(node),
            },
        }
    }

    fn layout(&self, node: &Node<'_>) -> Spanned<Layout> {
        let kind = inside(node);
        let counts: Vec<_> = all(&kind, Rule::count).map(|count| self.count(&count)).collect();
        let amounts: Vec<_> = all(&kind, Rule::amount).map(|amount| self.amount(&amount)).collect();
        let place = find(&kind, Rule::place).map(|place| self.point_with_unit(&place));
        let layout = match (kind.as_rule(), counts.as_slice(), amounts.as_slice()) {
            (Rule::circle, [count], [diameter]) => Layout::Circle {
                count: count.clone(),
                diameter: diameter.clone(),
                first: find(&kind, Rule::circle_first).map(|first| self.amount_in(&first)),
                centre: place,
            },
            (Rule::grid, [columns, rows], [pitch_x, pitch_y]) => Layout::Grid {
                columns: columns.clone(),
                rows: rows.clone(),
                pitch_x: pitch_x.clone(),
                pitch_y: pitch_y.clone(),
                corner: place,
            },
            _ => Layout::Points {
                points: all(&kind, Rule::point).map(|point| self.point(&point)).collect(),
                unit: self.word(&need(&kind, Rule::unit)),
            },
        };
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
