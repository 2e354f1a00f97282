//! Acts.

use super::Builder;
use crate::language::grammar::{Node, Rule, find, has, inside, need};
use crate::language::tree::{Act, ActKind, Turn};

impl Builder {
    /// A match of `act`.
    pub(super) fn act(&self, node: &Node<'_>) -> Act {
        let node = &inside(node);
        let kind = match node.as_rule() {
            Rule::slacken => ActKind::Slacken(self.references_in(node)),
            Rule::undo => ActKind::Undo(self.references_in(node)),
            Rule::start_by_hand => ActKind::StartByHand(self.references_in(node)),
            Rule::nip => ActKind::Nip(self.references_in(node)),
            Rule::retighten => ActKind::Retighten(self.references_in(node)),
            Rule::tighten => ActKind::Tighten { what: self.references_in(node), to: self.amount_if(node) },
            Rule::take => ActKind::Take(self.references_in(node)),
            Rule::put_back => ActKind::PutBack(self.references_in(node)),
            Rule::fit => ActKind::Fit(self.references_in(node)),
            Rule::support => ActKind::Support(self.references_in(node)),
            Rule::press => ActKind::Press(self.references_in(node)),
            Rule::heat => ActKind::Heat {
                what: self.reference_in(node),
                to: self.amount_in(node),
                origin: self.origin_in(node),
            },
            Rule::send => ActKind::Send(self.references_in(node)),
            Rule::receive => ActKind::Receive(self.references_in(node)),
            Rule::accept => ActKind::Accept(self.references_in(node)),
            Rule::gauge_act => ActKind::Gauge(self.references_in(node)),
            Rule::look_act => ActKind::Look(self.references_in(node)),
            Rule::set => ActKind::Set(self.setting(&need(node, Rule::setting))),
            Rule::put_in => ActKind::PutIn(self.reference_in(node)),
            Rule::take_out => ActKind::TakeOut(self.reference_in(node)),
            Rule::turn => ActKind::TurnByHand {
                direction: turning(&need(node, Rule::turning)),
                angle: self.amount_in(node),
            },
            Rule::photo => ActKind::Photo,
            Rule::mark_act => ActKind::Mark(self.references_in(node)),
            Rule::cap => ActKind::Cap,
            Rule::clean => ActKind::Clean(self.references_in(node)),
            Rule::chase => ActKind::Chase(self.references_in(node)),
            Rule::isolate => ActKind::Isolate,
            Rule::dispose => ActKind::Dispose { into: self.quote_in(node) },
            Rule::wait => ActKind::Wait(self.amount_in(node)),
            _ => ActKind::Words,
        };
        Act { kind, note: find(node, Rule::note).map(|note| self.quote_in(&note)) }
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
