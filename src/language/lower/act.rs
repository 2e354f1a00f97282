//! Acts.

use super::Builder;
use crate::language::grammar::{Node, Rule, find, has, inside, need};
use crate::language::row::Row;
use crate::language::tree::{Act, ActKind, Amount, Scope, Turn, TurnTarget};
use crate::source::Spanned;

clauses! {
    ACTS: act_kind(self, node) -> ActKind {
        take "take" many => ActKind::Take(self.references_in(node)),
        undo "undo" many => ActKind::Undo {
            what: self.references_in(node),
            bit_by_bit: has(node, Rule::bit_by_bit),
        },
        slacken "slacken" many => ActKind::Slacken(self.references_in(node)),
        fit "fit" many => ActKind::Fit(self.references_in(node)),
        take_out "take out" many => ActKind::TakeOut(Box::new(self.reference_in(node))),
        put_in "put in" many => ActKind::PutIn(Box::new(self.reference_in(node))),
        put_back "put back" many => ActKind::PutBack(self.references_in(node)),
        tighten "tighten" many => ActKind::Tighten { what: self.references_in(node), to: self.amount_if(node).map(Box::new) },
        nip "nip" many => ActKind::Nip(self.references_in(node)),
        retighten "retighten" many => ActKind::Retighten(self.references_in(node)),
        start_by_hand "start by hand" many => ActKind::StartByHand(self.references_in(node)),
        gauge_act "gauge" many => ActKind::Gauge(self.references_in(node)),
        look_act "look" many => ActKind::Look(self.references_in(node)),
        set "set" many => ActKind::Set(Box::new(self.setting(&need(node, Rule::setting)))),
        photo "photo" many => ActKind::Photo,
        mark_act "mark" many => ActKind::Mark(self.references_in(node)),
        cap "cap" many => ActKind::Cap,
        clean "clean" many => ActKind::Clean(self.references_in(node)),
        support "support" many => ActKind::Support(self.references_in(node)),
        words "do" many => ActKind::Words,
        turn "turn" many => ActKind::TurnByHand {
            direction: find(node, Rule::turning).map(|way| turning(&way)),
            angle: find(node, Rule::turns_until).map(|turns| self.turns(&turns)).or_else(|| self.amount_if(node)).map(Box::new),
            to: find(node, Rule::turn_target).map(|target| Box::new(self.turn_target(&target))),
        },
        wait "wait" many => ActKind::Wait(Box::new(self.amount_in(node))),
        press "press" many => ActKind::Press(self.references_in(node)),
        heat "heat" many => ActKind::Heat {
            what: Box::new(self.reference_in(node)),
            to: Box::new(self.amount_in(node)),
            origin: self.origin_in(node),
        },
        send "send" many => ActKind::Send(self.references_in(node)),
        receive "receive" many => ActKind::Receive(self.references_in(node)),
        accept "accept" many => ActKind::Accept(self.references_in(node)),
        chase "chase" many => ActKind::Chase(self.references_in(node)),
        isolate "isolate" many => ActKind::Isolate,
        dispose "dispose" many => ActKind::Dispose { into: self.quote_in(node) },
    }
}

impl Builder {
    /// A match of `act`, or of one that follows a tightening.
    pub(super) fn act(&self, node: &Node<'_>) -> Act {
        let node = &inside(node);
        let (_, kind) = self.act_kind(node);
        let note = find(node, Rule::note).map(|note| self.quote_in(&note));
        Act { kind, note, scope: Scope::default() }
    }

    /// An act of a step, with where it is done.
    pub(super) fn acted(&self, node: &Node<'_>) -> Act {
        let mut act = self.act(&need(node, Rule::act));
        act.scope = self.scope_in(node);
        if let Some(behind) = find(node, Rule::note).map(|note| self.quote_in(&note)) {
            act.note = Some(match act.note {
                Some(note) => Spanned::new(format!("{} {}", note.value, behind.value), note.span),
                None => behind,
            });
        }
        act
    }
}

impl Builder {
    /// `2 turn`, before `to`.
    fn turns(&self, node: &Node<'_>) -> Amount {
        let number = need(node, Rule::number);
        Amount {
            value: self.value(&number),
            digits: number.as_str().to_owned(),
            unit: Some(self.word(&need(node, Rule::turn_unit))),
            span: self.span(node),
        }
    }

    fn turn_target(&self, node: &Node<'_>) -> TurnTarget {
        let cylinder = find(node, Rule::cylinder);
        TurnTarget {
            axis: self.name_in(node),
            cylinder: cylinder.map(|cylinder| self.name(&need(&cylinder, Rule::position))),
            dead_centre: self.phrase(&need(node, Rule::dead_centre)),
            span: self.span(node),
        }
    }
}

fn turning(node: &Node<'_>) -> Turn {
    if has(node, Rule::key_clockwise) {
        Turn::Clockwise
    } else if has(node, Rule::key_anticlockwise) {
        Turn::Anticlockwise
    } else {
        Turn::AsItRuns
    }
}
