//! What to buy and what to send out: the order list and the machine-shop order as data.

use super::words::{goods_name, part_name};
use super::{Decisions, Hold, PartDecision, Verdict};
use crate::procedure::model::{MarkKind, PartId, Place, Procedure, SetId};
use crate::quantity::Quantity;
use crate::record::{Approval, Date, Goods, Job, Money};

/// Something to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// What.
    pub goods: Goods,
    /// Its id.
    pub id: String,
    /// Its title, with the places where it is not for all of them.
    pub title: String,
    /// How many pieces.
    pub quantity: u32,
    /// Oversize or undersize.
    pub size: Option<Quantity>,
    /// What it has to be chosen from, in words.
    pub select_from: Option<String>,
    /// Part number.
    pub catalogue: Option<String>,
    /// Price of one piece.
    pub price: Option<Money>,
    /// From whom.
    pub supplier: Option<String>,
    /// How long it takes to come.
    pub lead_time: Option<Quantity>,
    /// Why it is bought.
    pub because: String,
    /// What must be settled before it can be ordered.
    pub waits_for: Vec<String>,
    /// Whether the owner has agreed to it.
    pub approved: bool,
    /// When it was ordered.
    pub ordered: Option<Date>,
    /// When it should come.
    pub due: Option<Date>,
    /// When it came.
    pub arrived: Option<Date>,
    /// When it was compared with the old one.
    pub compared: Option<Date>,
}

impl OrderLine {
    /// What all pieces cost.
    pub fn cost(&self) -> Option<Money> {
        self.price.as_ref().map(|price| Money {
            hundredths: price.hundredths * i64::from(self.quantity),
            currency: price.currency.clone(),
        })
    }
}

/// What to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderList {
    /// Longest lead time first; those whose lead time nobody has said stand at the end.
    pub lines: Vec<OrderLine>,
    /// What it costs, by currency.
    pub totals: Vec<Money>,
    /// Lines whose price nobody has said.
    pub unpriced: usize,
}

/// Work to send out.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkLine {
    /// The part.
    pub part: PartId,
    /// At which of its places.
    pub place: Place,
    /// Its id with the place.
    pub id: String,
    /// Its title.
    pub title: String,
    /// What is to be done.
    pub what: String,
    /// Sizes to machine to, with tolerance, in words.
    pub sizes: Vec<String>,
    /// Why, with the arithmetic.
    pub because: String,
    /// What to mark before it leaves.
    pub mark: Vec<String>,
    /// What must be settled before the work can be ordered.
    pub waits_for: Vec<String>,
    /// Whether the owner has agreed to it.
    pub approved: bool,
    /// To whom.
    pub to: Option<String>,
    /// When it left.
    pub sent: Option<Date>,
    /// When it came back.
    pub back: Option<Date>,
    /// When it was accepted.
    pub accepted: Option<Date>,
}

/// What to buy, in the order in which it should be ordered. Quantities come from the parts and sets themselves.
pub fn order_list(procedure: &Procedure, job: &Job, decisions: &Decisions) -> OrderList {
    let mut lines = Vec::new();
    let mut parts: Vec<(PartId, Place, &PartDecision)> =
        decisions.fates.iter().map(|((id, place), decision)| (*id, *place, decision)).collect();
    while let Some((id, _, first)) = parts.first().copied() {
        let alike =
            |other: &(PartId, Place, &PartDecision)| other.0 == id && renewed(other.2) == renewed(first);
        let places: Vec<Place> = parts.iter().filter(|other| alike(other)).map(|other| other.1).collect();
        parts.retain(|other| !alike(other));
        let Some(size) = renewed(first) else { continue };
        lines.push(part_line(procedure, job, id, &places, size, first));
    }
    let mut sets: Vec<(SetId, Place, &PartDecision)> =
        decisions.sets.iter().map(|((id, place), decision)| (*id, *place, decision)).collect();
    while let Some((id, _, first)) = sets.first().copied() {
        let alike =
            |other: &(SetId, Place, &PartDecision)| other.0 == id && renewed(other.2) == renewed(first);
        let places: Vec<Place> = sets.iter().filter(|other| alike(other)).map(|other| other.1).collect();
        sets.retain(|other| !alike(other));
        if renewed(first).is_some() {
            lines.push(set_line(procedure, job, id, &places, first));
        }
    }
    approve(&job.approvals, &mut lines);
    let days = |line: &OrderLine| line.lead_time.map_or(f64::NEG_INFINITY, |lead| lead.base());
    lines.sort_by(|a, b| days(b).total_cmp(&days(a)));
    let mut totals: Vec<Money> = Vec::new();
    for cost in lines.iter().filter_map(OrderLine::cost) {
        match totals.iter_mut().find(|total| total.currency == cost.currency) {
            Some(total) => total.hundredths += cost.hundredths,
            None => totals.push(cost),
        }
    }
    totals.sort_by(|a, b| a.currency.cmp(&b.currency));
    let unpriced = lines.iter().filter(|line| line.price.is_none()).count();
    OrderList { lines, totals, unpriced }
}

/// The size in which a thing is renewed; none for what is not.
fn renewed(decision: &PartDecision) -> Option<Option<Quantity>> {
    match &decision.verdict {
        Verdict::Renew { size } => Some(*size),
        _ => None,
    }
}

fn pieces(count: u32, places: usize) -> u32 {
    count * u32::try_from(places).expect("axes are short")
}

/// ` for 2, inlet; 3, exhaust` where a thing is not bought for every place.
fn for_places(procedure: &Procedure, axes: &[crate::procedure::model::AxisId], places: &[Place]) -> String {
    if places.len() == procedure.places(axes) {
        return String::new();
    }
    let names: Vec<String> = places.iter().map(|place| procedure.place_name(axes, *place)).collect();
    format!(" for {}", names.join("; "))
}

/// The open questions on which a size hangs.
fn questions(procedure: &Procedure, decision: &PartDecision) -> Vec<String> {
    let open = decision.holds.iter().filter(|hold| matches!(hold, Hold::Question(_)));
    open.map(|hold| hold.words(procedure)).collect()
}

/// A price as the model keeps it, as money.
fn money(price: Option<&(f64, String)>) -> Option<Money> {
    let (amount, currency) = price?;
    Money::parse(&format!("{amount:.2} {currency}"))
}

fn part_line(
    procedure: &Procedure,
    job: &Job,
    id: PartId,
    places: &[Place],
    size: Option<Quantity>,
    decision: &PartDecision,
) -> OrderLine {
    let part = procedure.part(id);
    let every = places.len() == procedure.places(&part.axes);
    let goods = match places {
        [place] if !every => Goods::Part(id, Some(*place)),
        _ => Goods::Part(id, None),
    };
    let line = OrderLine {
        goods,
        id: goods_name(procedure, goods),
        title: format!("{}{}", part.naming.title, for_places(procedure, &part.axes, places)),
        quantity: pieces(part.count, places.len()),
        size,
        select_from: part.select_from.clone(),
        catalogue: part.catalogue.clone(),
        price: money(part.price.as_ref()),
        supplier: part.supplier.as_ref().map(|(name, _)| name.clone()),
        lead_time: part.supplier.as_ref().and_then(|(_, lead)| *lead),
        because: decision.because.clone(),
        waits_for: questions(procedure, decision),
        approved: false,
        ordered: None,
        due: None,
        arrived: None,
        compared: None,
    };
    let keys = places.iter().map(|place| Goods::Part(id, Some(*place))).chain([Goods::Part(id, None)]);
    with_progress(job, keys, line)
}

fn set_line(
    procedure: &Procedure,
    job: &Job,
    id: SetId,
    places: &[Place],
    decision: &PartDecision,
) -> OrderLine {
    let set = procedure.set(id);
    let every = places.len() == procedure.places(&set.axes);
    let goods = match places {
        [place] if !every => Goods::Set(id, Some(*place)),
        _ => Goods::Set(id, None),
    };
    let line = OrderLine {
        goods,
        id: goods_name(procedure, goods),
        title: format!("{}{}", set.naming.title, for_places(procedure, &set.axes, places)),
        quantity: pieces(set.count, places.len()),
        size: None,
        select_from: None,
        catalogue: set.catalogue.clone(),
        price: money(set.price.as_ref()),
        supplier: None,
        lead_time: None,
        because: decision.because.clone(),
        waits_for: questions(procedure, decision),
        approved: false,
        ordered: None,
        due: None,
        arrived: None,
        compared: None,
    };
    let keys = places.iter().map(|place| Goods::Set(id, Some(*place))).chain([Goods::Set(id, None)]);
    with_progress(job, keys, line)
}

/// What the record says of the order of a line.
fn with_progress(job: &Job, keys: impl Iterator<Item = Goods>, mut line: OrderLine) -> OrderLine {
    for order in keys.filter_map(|goods| job.orders.get(&goods)) {
        line.ordered = line.ordered.or(order.ordered);
        line.due = line.due.or(order.due);
        line.arrived = line.arrived.or(order.arrived);
        line.compared = line.compared.or(order.compared);
        line.size = line.size.or(order.size);
        line.supplier = line.supplier.take().or_else(|| order.supplier.clone());
    }
    line
}

/// Whether two names mean the same goods, or one place of them.
fn covers(approved: Goods, goods: Goods) -> bool {
    approved == goods
        || match (approved, goods) {
            (Goods::Part(a, None), Goods::Part(b, _)) => a == b,
            (Goods::Set(a, None), Goods::Set(b, _)) => a == b,
            _ => false,
        }
}

/// An approval covers what it names, or everything where it names nothing; up to its sum, if all that it covers
/// can be priced in its currency and stays within it. What has no price it covers only by name.
fn approve(approvals: &[Approval], lines: &mut [OrderLine]) {
    for approval in approvals {
        let named = |line: &OrderLine| approval.items.iter().any(|item| covers(*item, line.goods));
        let covered = |line: &OrderLine| {
            named(line) || (approval.items.is_empty() && (line.price.is_some() || approval.up_to.is_none()))
        };
        let within = approval.up_to.as_ref().is_none_or(|limit| {
            let costs: Vec<Money> =
                lines.iter().filter(|line| covered(line)).filter_map(OrderLine::cost).collect();
            let same = costs.iter().all(|cost| cost.currency == limit.currency);
            same && costs.iter().map(|cost| cost.hundredths).sum::<i64>() <= limit.hundredths
        });
        if within {
            let agreed: Vec<bool> = lines.iter().map(covered).collect();
            for (line, agreed) in lines.iter_mut().zip(agreed) {
                line.approved |= agreed;
            }
        }
    }
}

/// What to send out, in declared order. A size that hangs on parts or readings waits, and says for what.
pub fn machine_shop_order(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<WorkLine> {
    let mut lines = Vec::new();
    for ((id, place), decision) in &decisions.fates {
        let Verdict::Machine { what, to } = &decision.verdict else { continue };
        let part = procedure.part(*id);
        let marks = part.marks.iter().filter(|mark| mark.kind == MarkKind::Ours);
        let work = job.sent.get(&(*id, *place));
        let waits = decision.holds.iter().filter(|hold| {
            matches!(
                hold,
                Hold::Question(_)
                    | Hold::NotInHand(_)
                    | Hold::WrongSize(..)
                    | Hold::NothingInSize(_)
                    | Hold::NewPartUnmeasured(..)
            )
        });
        let approved = job.approvals.iter().any(|approval| {
            approval.items.iter().any(|item| covers(*item, Goods::Part(*id, Some(*place))))
                || (approval.items.is_empty() && approval.up_to.is_none())
        });
        lines.push(WorkLine {
            part: *id,
            place: *place,
            id: part_name(procedure, *id, *place),
            title: part.naming.title.clone(),
            what: what.clone(),
            sizes: to.iter().map(|size| size.words(procedure)).collect(),
            because: decision.because.clone(),
            mark: marks.map(|mark| mark.text.clone()).collect(),
            waits_for: waits.map(|hold| hold.words(procedure)).collect(),
            approved,
            to: work.and_then(|work| work.to.clone()),
            sent: work.and_then(|work| work.sent),
            back: work.and_then(|work| work.back),
            accepted: work.and_then(|work| work.accepted),
        });
    }
    lines
}
