//! Whether fasteners go back: once only, as they are, or by a reading.

use std::collections::BTreeMap;

use super::book::Book;
use super::fates::{judged, settled_by_hand};
use super::found::as_found;
use super::in_hand::not_a_fastener;
use super::truth::asked_by;
use super::words::not_there;
use super::{Because, Decisions, Hold, PartDecision, Truth, Verdict};
use crate::procedure::model::{Judge, Place, Reuse, SetId};
use crate::record::Goods;

/// Each set at each of its places.
pub(super) fn sets(book: &Book, decisions: &Decisions) -> BTreeMap<(SetId, Place), PartDecision> {
    let mut found = BTreeMap::new();
    for (id, set) in book.procedure.sets.numbered() {
        for place in book.procedure.places(&set.axes) {
            let bound = book.procedure.bound(&set.axes, place);
            let by_hand = book.job.settled(Goods::Set(id, Some(place)), Goods::Set(id, None));
            let all_the_same = by_hand.filter(|settlement| settlement.all_the_same).map(settled_by_hand);
            let present = decisions.guard(book.procedure, &book.procedure.set_present((id, place)), &bound);
            let not_there = match present {
                Truth::Yes => None,
                Truth::No => {
                    let left_out = Verdict::LeaveOut(not_there(book.procedure));
                    Some(PartDecision::settled(left_out, Because::Silent))
                }
                Truth::Open(asked) => {
                    Some(PartDecision::open(asked.into_iter().map(Hold::Question).collect()))
                }
            };
            let open = set.reuse.chosen_by(&bound).next().is_some();
            let decided = || match set.reuse.at(&bound).map(|said| &said.value) {
                _ if open => PartDecision::open(Vec::new()),
                Some(Reuse::Once) => PartDecision::settled(Verdict::Renew { size: None }, Because::OnceOnly),
                Some(Reuse::By(gauge)) => judged(book, decisions, &[Judge::Gauge(gauge.clone())], &bound),
                Some(Reuse::Unknown) => {
                    by_hand.map_or_else(|| PartDecision::open(Vec::new()), settled_by_hand)
                }
                Some(Reuse::Reusable) => PartDecision::settled(Verdict::GoesBack, Because::Reusable),
                None => PartDecision::settled(Verdict::GoesBack, Because::NothingSaid),
            };
            let decision = not_there.or(all_the_same).unwrap_or_else(decided);
            let count = book.procedure.set_pieces(id, &[place]);
            let mut decision = as_found(book, Goods::Set(id, Some(place)), &count, decision);
            if count.settled().is_none() && !matches!(decision.verdict, Verdict::LeaveOut(_)) {
                let asked = asked_by(book.procedure, &set.count, &bound);
                decision.holds.extend(asked.into_iter().map(Hold::Question));
            }
            let in_hand = [Goods::Set(id, Some(place)), Goods::Set(id, None)];
            let renewed = matches!(decision.verdict, Verdict::Renew { .. });
            if renewed || decision.new_among.pieces() > 0 {
                let came = in_hand.into_iter().find(|goods| decisions.in_hand.contains(goods));
                let lacks = came
                    .map_or(Some(Hold::NotInHand(Goods::Set(id, None))), |goods| not_a_fastener(book, goods));
                decision.holds.extend(lacks);
            }
            found.insert((id, place), decision);
        }
    }
    found
}
