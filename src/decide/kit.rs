//! The procedure's tools and supplies against the shop's crib: what is there, what stands in, what is missing or out of date.

use std::collections::BTreeSet;

use crate::english::{same_words, spaced};
use crate::procedure::model::{Procedure, SupplyId, Tool, ToolId, ToolKind};
use crate::quantity::Quantity;
use crate::record::{Crib, CribTool, Date};

/// How a tool of the procedure stands in this shop.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum InCrib {
    /// It is there, under this name of the shop's.
    Have(String),
    /// It is there, but its calibration ran out on this day.
    OutOfDate(String, Date),
    /// Something else does, on a condition.
    StandIn {
        /// The shop's name of it.
        name: String,
        /// On what condition.
        condition: Option<String>,
    },
    /// It is not there.
    Missing,
}

/// Every tool of the procedure. `today` is the day for which calibrations are judged; without one none is out of date.
pub(crate) fn kit_in_crib(procedure: &Procedure, crib: &Crib, today: Option<Date>) -> Vec<(ToolId, InCrib)> {
    procedure.tools.numbered().map(|(id, tool)| (id, standing(tool, crib, today))).collect()
}

/// The supplies of the procedure that the shop keeps in stock; nothing where its crib doesn't speak of supplies.
pub(crate) fn in_stock(procedure: &Procedure, crib: &Crib) -> Option<BTreeSet<SupplyId>> {
    let kept = crib.supplies.as_ref()?;
    let names = |id: SupplyId| {
        let naming = &procedure.supply(id).naming;
        kept.iter().any(|name| same_words(name, &spaced(&naming.id)) || same_words(name, &naming.title))
    };
    Some(procedure.supplies.numbered().map(|(id, _)| id).filter(|id| names(*id)).collect())
}

fn standing(tool: &Tool, crib: &Crib, today: Option<Date>) -> InCrib {
    let mut out_of_date = None;
    for candidate in crib.tools.iter().filter(|candidate| is(candidate, tool)) {
        let name = candidate.name.value.clone();
        match (candidate.calibrated_until, today) {
            (Some(until), Some(today)) if until < today => out_of_date = Some(InCrib::OutOfDate(name, until)),
            _ => return InCrib::Have(name),
        }
    }
    let stand_in = tool.stand_ins.iter().find_map(|(words, condition)| {
        let candidate = crib.tools.iter().find(|candidate| same_words(&candidate.name.value, words))?;
        Some(InCrib::StandIn { name: candidate.name.value.clone(), condition: condition.clone() })
    });
    out_of_date.or(stand_in).unwrap_or(InCrib::Missing)
}

/// Whether a tool of the shop is the one that is asked for: by its name, or for a socket, spanner or torque wrench
/// by what it fits. A special tool is known by its name alone.
fn is(candidate: &CribTool, tool: &Tool) -> bool {
    let name = &candidate.name.value;
    let fits = |wanted: Option<Quantity>, found: Option<Quantity>| match (wanted, found) {
        (Some(wanted), Some(found)) => (wanted.base() - found.base()).abs() <= 1e-9 * wanted.base().abs(),
        (Some(_), None) => false,
        (None, _) => true,
    };
    if same_words(name, &spaced(&tool.naming.id)) || same_words(name, &tool.naming.title) {
        return covers(candidate.range, tool.range) != Some(false);
    }
    let word = match tool.kind {
        ToolKind::Socket => "socket",
        // An open-ended spanner of the same size doesn't do the work of a ring.
        ToolKind::Spanner if !same_sort(name, &tool.naming.title) => return false,
        ToolKind::Spanner => "spanner",
        ToolKind::TorqueWrench => "torque wrench",
        _ => return false,
    };
    let named = name.to_lowercase().contains(word);
    let known = tool.size.is_some() || tool.range.is_some();
    named
        && known
        && !tool.special
        && fits(tool.size, candidate.size)
        && fits(tool.drive, candidate.drive)
        && covers(candidate.range, tool.range) != Some(false)
        && (tool.range.is_none() || candidate.range.is_some())
}

/// Whether one spanner is of the sort of another: whatever says what its ends are like is said of the other too. A
/// combination spanner has a ring and an open end (common practice, no source).
fn same_sort(has: &str, wanted: &str) -> bool {
    let has = has.to_lowercase();
    let ends = |word: &&str| word.chars().all(|letter| letter.is_alphabetic() || letter == '-');
    wanted.to_lowercase().split_whitespace().filter(ends).filter(|word| !matches!(*word, "mm" | "in")).all(
        |word| has.contains(word) || (has.contains("combination") && matches!(word, "ring" | "open-ended")),
    )
}

/// Whether a range reaches over another; none where one of them is not known.
fn covers(has: Option<(Quantity, Quantity)>, wanted: Option<(Quantity, Quantity)>) -> Option<bool> {
    let ((low, high), (wanted_low, wanted_high)) = (has?, wanted?);
    let same = low.dimension() == wanted_low.dimension();
    Some(
        same && low.base() <= wanted_low.base() * (1.0 + 1e-9)
            && high.base() >= wanted_high.base() * (1.0 - 1e-9),
    )
}
