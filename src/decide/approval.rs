//! What of the order list and the machine-shop order the owner has agreed to. The rest is for quote.

use super::errors;
use super::lines::{OrderLine, WorkLine, totals};
use crate::diagnostics::Diagnostic;
use crate::quantity::Money;
use crate::record::{Approval, Estimate, Goods, Job};

/// What of an estimate had a price: goods, or work.
type Quoted = fn(&Estimate) -> &[(Goods, Money)];

/// Whether two names mean the same goods, or one place of them.
fn covers(approved: Goods, goods: Goods) -> bool {
    approved == goods
        || match (approved, goods) {
            (Goods::Part(a, None), Goods::Part(b, _)) => a == b,
            (Goods::Set(a, None), Goods::Set(b, _)) => a == b,
            _ => false,
        }
}

/// An approval covers what it names, at no more than the last estimate before it said; of a printed estimate, what had a price in
/// that and costs no more now. One that names neither covers nothing: nobody knows what had a price then. What has no price it
/// covers only by name. With a limit it covers something only if all of it stays within; an estimate with its labour.
pub(super) fn approve(job: &Job, lines: &mut [OrderLine], works: &mut [WorkLine]) {
    for approval in &job.approvals {
        let estimate = approval.estimate.as_ref().map(|number| job.estimate(&number.value));
        if over_the_limit(job, approval) || estimate == Some(None) {
            continue;
        }
        let covered = |goods: Goods, cost: Option<&Money>, quoted: Quoted| {
            let named = approval.items.iter().any(|item| covers(*item, goods));
            match estimate.flatten() {
                Some(estimate) => {
                    (named || approval.items.is_empty())
                        && cost.is_some_and(|cost| within(quoted(estimate), goods, cost))
                }
                None => named && cost.is_none_or(|cost| !is_dearer(job, approval, goods, (cost, quoted))),
            }
        };
        let bought: Vec<bool> = lines
            .iter()
            .map(|line| covered(line.goods, line.cost().as_ref(), |estimate| &estimate.goods))
            .collect();
        let sent: Vec<bool> = works
            .iter()
            .map(|work| {
                covered(Goods::Part(work.part, Some(work.place)), work.price.as_ref(), |estimate| {
                    &estimate.work
                })
            })
            .collect();
        let of_lines =
            lines.iter().zip(&bought).filter(|(_, covered)| **covered).filter_map(|(line, _)| line.cost());
        let of_works = works
            .iter()
            .zip(&sent)
            .filter(|(_, covered)| **covered)
            .filter_map(|(work, _)| work.price.clone());
        let within = estimate.is_some()
            || approval.up_to.as_ref().is_none_or(|limit| {
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

/// Whether a thing costs more than the last estimate said that was printed before an approval and had it: whoever named it had seen
/// that price.
fn is_dearer(job: &Job, approval: &Approval, goods: Goods, (cost, quoted): (&Money, Quoted)) -> bool {
    let mut seen = job.estimates.iter().rev().filter(|known| known.was_there(approval.date)).map(quoted);
    let has_it = |list: &&[(Goods, Money)]| list.iter().any(|(known, _)| covers(*known, goods));
    seen.find(has_it).is_some_and(|list| !within(list, goods, cost))
}

/// What the owner lets be spent without being asked covers what was in a printed estimate that comes to no more with its labour,
/// and costs no more now. The first such estimate of which something is covered is enough.
pub(super) fn approve_within_the_limit(job: &Job, lines: &mut [OrderLine], works: &mut [WorkLine]) {
    for estimate in within_the_limit(job) {
        for line in lines.iter_mut() {
            let cost = line.cost();
            line.approved |= cost.is_some_and(|cost| within(&estimate.goods, line.goods, &cost));
        }
        for work in works.iter_mut() {
            let goods = Goods::Part(work.part, Some(work.place));
            let covered = work.price.as_ref().is_some_and(|cost| within(&estimate.work, goods, cost));
            work.approved |= covered;
        }
    }
}

/// The estimates that come to no more than the owner lets be spent without being asked.
pub(crate) fn within_the_limit(job: &Job) -> impl Iterator<Item = &Estimate> {
    let limit = job.intake.spend_limit.as_ref();
    job.estimates.iter().filter(move |estimate| {
        limit
            .zip(estimate.sum.as_ref())
            .is_some_and(|(limit, sum)| sum.currency == limit.currency && sum.hundredths <= limit.hundredths)
    })
}

/// Whether a thing was in an estimate, and costs no more than it did there.
pub(crate) fn within(quoted: &[(Goods, Money)], goods: Goods, cost: &Money) -> bool {
    quoted.iter().any(|(known, agreed)| {
        covers(*known, goods) && agreed.currency == cost.currency && cost.hundredths <= agreed.hundredths
    })
}

/// Whether the estimate that was agreed to comes to more than the limit beside it, or to a sum that can't be compared.
fn over_the_limit(job: &Job, approval: &Approval) -> bool {
    let estimate = approval.estimate.as_ref().and_then(|number| job.estimate(&number.value));
    let sum = estimate.and_then(|estimate| estimate.sum.as_ref());
    approval
        .up_to
        .as_ref()
        .zip(sum)
        .is_some_and(|(limit, sum)| sum.currency != limit.currency || sum.hundredths > limit.hundredths)
}

/// Complains of each approval that covers nothing, since it names neither a thing nor an estimate, and none was printed before it.
pub(super) fn of_nothing(job: &Job) -> Vec<Diagnostic> {
    let bare =
        job.approvals.iter().filter(|approval| approval.estimate.is_none() && approval.items.is_empty());
    bare.map(|approval| errors::agreed_to_nothing(approval.span, &approval.by)).collect()
}

/// Complains of each approval that covers nothing, since what was estimated comes to more than its limit.
pub(super) fn over_limits(job: &Job) -> Vec<Diagnostic> {
    let over = job.approvals.iter().filter(|approval| over_the_limit(job, approval));
    let found = over.filter_map(|approval| {
        let number = approval.estimate.as_ref()?;
        let estimate = job.estimate(&number.value)?;
        Some(errors::over_the_limit(number, approval.up_to.as_ref()?, estimate.sum.as_ref()?))
    });
    found.collect()
}
