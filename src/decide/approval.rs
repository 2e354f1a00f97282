//! What of the order list and the machine-shop order the owner has agreed to. The rest is for quote.

use super::lines::{OrderLine, WorkLine, totals};
use crate::quantity::Money;
use crate::record::{Approval, Goods};

/// Whether two names mean the same goods, or one place of them.
fn covers(approved: Goods, goods: Goods) -> bool {
    approved == goods
        || match (approved, goods) {
            (Goods::Part(a, None), Goods::Part(b, _)) => a == b,
            (Goods::Set(a, None), Goods::Set(b, _)) => a == b,
            _ => false,
        }
}

/// An approval covers what it names, or everything where it names nothing; up to its sum, if all that it covers can be
/// priced in its currency and stays within it. What has no price it then covers only by name.
pub(super) fn approve(approvals: &[Approval], lines: &mut [OrderLine], works: &mut [WorkLine]) {
    for approval in approvals {
        let covered = |goods: Goods, cost: Option<&Money>| {
            approval.items.iter().any(|item| covers(*item, goods))
                || (approval.items.is_empty() && (cost.is_some() || approval.up_to.is_none()))
        };
        let bought: Vec<bool> = lines.iter().map(|line| covered(line.goods, line.cost().as_ref())).collect();
        let sent: Vec<bool> = works
            .iter()
            .map(|work| covered(Goods::Part(work.part, Some(work.place)), work.price.as_ref()))
            .collect();
        let of_lines =
            lines.iter().zip(&bought).filter(|(_, covered)| **covered).filter_map(|(line, _)| line.cost());
        let of_works = works
            .iter()
            .zip(&sent)
            .filter(|(_, covered)| **covered)
            .filter_map(|(work, _)| work.price.clone());
        let within = approval.up_to.as_ref().is_none_or(|limit| {
            let sums = totals(of_lines.chain(of_works));
            sums.iter().all(|sum| sum.currency == limit.currency && sum.hundredths <= limit.hundredths)
        });
        if within {
            for (line, covered) in lines.iter_mut().zip(bought) {
                line.approved |= covered;
            }
            for (work, covered) in works.iter_mut().zip(sent) {
                work.approved |= covered;
            }
        }
    }
}
