//! What to buy and what to send out: the order list and the machine-shop order as data.

use super::approval::{approve, approve_within_the_limit};
use super::conditions::{by_answer, by_place};
use super::lines::{NotCalledFor, OrderLine, OrderList, WorkLine, totals};
use super::words::{goods_name, goods_title, part_name};
use super::{Because, Chosen, Decisions, GoesIn, Hold, PartDecision, Verdict, Waits};
use crate::procedure::model::{AxisId, Cases, Mark, MarkKind, Naming, Pieces, Place, Procedure, Sourced};
use crate::quantity::Quantity;
use crate::record::{Goods, Job, Piece, Price, WrittenWork};
use crate::structure::PartAt;

/// What to buy, in the order in which it should be ordered. Quantities come from the parts and sets themselves.
pub(crate) fn order_list(procedure: &Procedure, job: &Job, decisions: &Decisions) -> OrderList {
    let (mut lines, _) = agreed(procedure, job, decisions);
    let days = |line: &OrderLine| line.lead_time.map_or(f64::NEG_INFINITY, |lead| lead.base());
    lines.sort_by(|a, b| days(b).total_cmp(&days(a)));
    let totals = totals(lines.iter().filter_map(OrderLine::cost));
    let unpriced = lines.iter().filter(|line| line.cost().is_none()).count();
    let not_called_for = not_called_for(procedure, job, decisions);
    OrderList { lines, totals, unpriced, not_called_for }
}

/// Goods that were ordered, and that nothing of this job asks for, or nothing yet.
fn not_called_for(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<NotCalledFor> {
    let goes_in = |goods: Goods| -> Vec<GoesIn> {
        match goods {
            Goods::Part(id, place) => {
                let all = decisions.fates.iter();
                let of_it = all.filter(|((of, at), _)| *of == id && place.is_none_or(|place| place == *at));
                of_it.map(|(_, decision)| GoesIn::by(decision)).collect()
            }
            Goods::Set(id, place) => {
                let all = decisions.sets.iter();
                let of_it = all.filter(|((of, at), _)| *of == id && place.is_none_or(|place| place == *at));
                of_it.map(|(_, decision)| GoesIn::by(decision)).collect()
            }
            Goods::Supply(id) if job.extra_parts.iter().any(|(own, _)| *own == id) => vec![GoesIn::New(None)],
            Goods::Supply(_) => Vec::new(),
        }
    };
    let orders = job.orders.iter().filter_map(|(goods, order)| {
        // What sealants and oils are needed no list of pieces says.
        let goes_in = Some(goes_in(*goods)).filter(|found| !found.is_empty())?;
        (!goes_in.iter().any(GoesIn::any_new)).then(|| NotCalledFor {
            id: goods_name(procedure, *goods),
            title: goods_title(procedure, *goods),
            unsettled: goes_in.contains(&GoesIn::Unsettled),
            order: order.clone(),
        })
    });
    orders.collect()
}

/// What to send out, in declared order. A size that hangs on parts or readings waits, and says for what.
pub(crate) fn machine_shop_order(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<WorkLine> {
    agreed(procedure, job, decisions).1
}

/// Holds what is still to be sent out, once an estimate was printed, until the owner has agreed to one that covers it: what no
/// estimate covers is for quote, and stays here.
pub(super) fn wait_for_the_owner(procedure: &Procedure, job: &Job, decisions: &mut Decisions) {
    if job.estimates.is_empty() {
        return;
    }
    let works = machine_shop_order(procedure, job, decisions);
    for line in works.into_iter().filter(|line| !line.approved && line.sent.is_none()) {
        if let Some(decision) = decisions.fates.get_mut(&(line.part, line.place)) {
            decision.holds.push(Hold::NotAgreed);
        }
    }
}

/// Both lists with what the owner has agreed to: an approval up to a sum has to cover both.
fn agreed(procedure: &Procedure, job: &Job, decisions: &Decisions) -> (Vec<OrderLine>, Vec<WorkLine>) {
    let mut lines = bought(procedure, job, decisions);
    let mut works = sent_out(procedure, job, decisions);
    approve(job, &mut lines, &mut works);
    approve_within_the_limit(job, &mut lines, &mut works);
    let first = decisions.of_the_engine(procedure);
    let waits = lines.iter_mut().map(|line| &mut line.waits_for);
    for waits in waits.chain(works.iter_mut().map(|line| &mut line.waits_for)) {
        waits.behind(&first);
    }
    (lines, works)
}

/// A thing at each of its places, with what was decided of it.
type Decided<'a, Id> = Vec<(Id, Place, &'a PartDecision)>;

/// Things that are bought alike, and as one of several pieces or by one order, at which places, and one of their decisions; the
/// others are left out.
fn bought_alike<Id: Copy + PartialEq, Piece: PartialEq>(
    mut all: Decided<'_, Id>,
    piece: impl Fn(Id, Place) -> Piece,
) -> Vec<(Id, Vec<Place>, &'_ PartDecision)> {
    let mut groups = Vec::new();
    while let Some((id, place, first)) = all.first().copied() {
        let (goes_in, chosen) = (GoesIn::by(first), piece(id, place));
        let alike = |other: &(Id, Place, &PartDecision)| {
            other.0 == id && GoesIn::by(other.2) == goes_in && piece(id, other.1) == chosen
        };
        let places = all.iter().filter(|other| alike(other)).map(|other| other.1).collect();
        all.retain(|other| !alike(other));
        if goes_in.any_new() {
            groups.push((id, places, first));
        }
    }
    groups
}

fn bought(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<OrderLine> {
    let parts = decisions.fates.iter().map(|((id, place), decision)| (*id, *place, decision)).collect();
    // What was ordered for one place alone comes by itself.
    let days = |goods: Goods| {
        job.orders.get(&goods).map(|order| (order.ordered, order.due, order.arrived, order.compared))
    };
    let piece =
        |id, place| (decisions.piece((id, place)).map(str::to_owned), days(Goods::Part(id, Some(place))));
    let parts = bought_alike(parts, piece).into_iter().map(|(id, places, decision)| {
        let part = procedure.part(id);
        let stated = Price {
            price: part.price.clone(),
            part_number: part_number(procedure, &part.axes, &places, &part.catalogue),
            supplier: part.supplier.as_deref().map(|(name, _)| name.clone()),
            lead_time: part.supplier.as_deref().and_then(|(_, lead)| *lead),
            pieces: Vec::new(),
        };
        let chosen = places.iter().find_map(|place| match decisions.chosen.get(&(id, *place)) {
            Some(Chosen::Piece { piece, because }) => Some((piece.clone(), because.clone())),
            _ => None,
        });
        let (axes, all) = (part.axes.as_slice(), procedure.part_pieces(id, &places));
        let wanted = Wanted { naming: &part.naming, axes, all, stated, decision, chosen };
        let line = line(procedure, job, wanted, &places, &|place| Goods::Part(id, place));
        let select_from = part.select_from.clone().filter(|_| line.chosen.is_none());
        OrderLine { select_from, ..line }
    });
    let sets = decisions.sets.iter().map(|((id, place), decision)| (*id, *place, decision)).collect();
    let sets = bought_alike(sets, |id, place| days(Goods::Set(id, Some(place)))).into_iter().map(
        |(id, places, decision)| {
            let set = procedure.set(id);
            let part_number = part_number(procedure, &set.axes, &places, &set.catalogue);
            let stated = Price { price: set.price.clone(), part_number, ..Price::default() };
            let (axes, all) = (set.axes.as_slice(), procedure.set_pieces(id, &places));
            let wanted = Wanted { naming: &set.naming, axes, all, stated, decision, chosen: None };
            line(procedure, job, wanted, &places, &|place| Goods::Set(id, place))
        },
    );
    let extra = job.extra_parts.iter().map(|(id, part)| {
        let why = job
            .extra_steps
            .iter()
            .find(|(step, _)| procedure.step(*step).supplies.iter().any(|supply| supply.what.0 == *id));
        let why =
            why.map_or_else(String::new, |(step, _)| format!(": {}", procedure.step(*step).naming.title));
        let because = Because::found(vec![format!("extra work{why}")]);
        let decision = PartDecision::settled(Verdict::Renew { size: None }, because);
        let stated = Price {
            price: part.price.clone(),
            part_number: part.part_number.clone(),
            supplier: part.supplier.clone(),
            lead_time: part.lead_time,
            pieces: Vec::new(),
        };
        let (naming, axes, all) = (&procedure.supply(*id).naming, [].as_slice(), Pieces::from(part.count));
        let wanted = Wanted { naming, axes, all, stated, decision: &decision, chosen: None };
        line(procedure, job, wanted, &[Place(0)], &|_| Goods::Supply(*id))
    });
    parts.chain(sets).chain(extra).collect()
}

/// The number in the catalogue of what is bought for some places; each with its condition while open answers choose.
pub(crate) fn part_number(
    procedure: &Procedure,
    axes: &[AxisId],
    places: &[Place],
    numbers: &Cases<Sourced<String>>,
) -> Option<String> {
    let words = by_place(procedure, axes, places, |place| {
        by_answer(procedure, numbers.each(&procedure.bound(axes, place)), |number| number.value.clone())
    });
    Some(words).filter(|words| !words.is_empty())
}

/// The size in which a thing is renewed; none for what is not.
fn renewed(decision: &PartDecision) -> Option<Quantity> {
    match &decision.verdict {
        Verdict::Renew { size } => *size,
        _ => None,
    }
}

/// ` for 2, inlet; 3, exhaust` where a thing is not bought for every place.
fn for_places(procedure: &Procedure, axes: &[AxisId], places: &[Place]) -> String {
    if places.len() == procedure.places(axes).len() {
        return String::new();
    }
    let names: Vec<String> = places.iter().map(|place| procedure.place_name(axes, *place)).collect();
    format!(" for {}", names.join("; "))
}

/// Something to buy, as it is declared and decided.
struct Wanted<'a> {
    naming: &'a Naming,
    axes: &'a [AxisId],
    /// How many there are at all of its places.
    all: Pieces,
    /// What the procedure says of its price.
    stated: Price,
    decision: &'a PartDecision,
    /// The piece that goes in, and why, where it is chosen from several.
    chosen: Option<(String, String)>,
}

/// One line of the list, for some of a thing's places. What a file of prices says goes before the procedure.
fn line(
    procedure: &Procedure,
    job: &Job,
    wanted: Wanted,
    places: &[Place],
    at: &dyn Fn(Option<Place>) -> Goods,
) -> OrderLine {
    let Wanted { naming, axes, all, stated, decision, chosen } = wanted;
    let every = places.len() == procedure.places(axes).len();
    let goods = match places {
        [place] if !every => at(Some(*place)),
        _ => at(None),
    };
    let goes_in = GoesIn::by(decision);
    let size = renewed(decision);
    let size = size.or_else(|| places.iter().find_map(|place| size_ordered(job, at, *place)));
    let priced = job.prices.of(goods).cloned().unwrap_or_default();
    let piece = size.map(Piece::Size).or_else(|| chosen.as_ref().map(|(piece, _)| Piece::of(piece)));
    let priced = piece.map_or(priced.clone(), |piece| priced.of_piece(&piece));
    let line = OrderLine {
        goods,
        id: goods_name(procedure, goods),
        title: match &goes_in {
            GoesIn::SomeNew(among) => format!(
                "{}{}: {}",
                naming.title,
                for_places(procedure, axes, places),
                among.because.join("; ")
            ),
            _ => format!("{}{}", naming.title, for_places(procedure, axes, places)),
        },
        quantity: goes_in.new_pieces(all, places.len()),
        size,
        select_from: None,
        chosen,
        catalogue: priced.part_number.or(stated.part_number),
        price: priced.price.or(stated.price),
        supplier: priced.supplier.or(stated.supplier),
        lead_time: priced.lead_time.or(stated.lead_time),
        because: match &goes_in {
            GoesIn::SomeNew(among) => Because::found(among.because.clone()),
            _ => decision.because.clone(),
        },
        waits_for: Waits::of(procedure, decision.before_ordering()),
        approved: false,
        charged: None,
        too_few: None,
        ordered: None,
        due: None,
        arrived: None,
        compared: None,
    };
    let keys = places.iter().map(|place| at(Some(*place))).chain([at(None)]);
    with_progress(job, keys, line)
}

/// The size in which a thing was ordered for one of its places, or for all of them.
fn size_ordered(job: &Job, at: &dyn Fn(Option<Place>) -> Goods, place: Place) -> Option<Quantity> {
    let orders = [at(Some(place)), at(None)].into_iter().filter_map(|goods| job.orders.get(&goods));
    orders.into_iter().find_map(|order| order.size)
}

/// What the record says of the order of a line.
fn with_progress(job: &Job, keys: impl Iterator<Item = Goods>, mut line: OrderLine) -> OrderLine {
    let mut ordered = None;
    for order in keys.filter_map(|goods| job.orders.get(&goods)) {
        line.ordered = line.ordered.or(order.ordered);
        line.due = line.due.or(order.due);
        line.arrived = line.arrived.or(order.arrived);
        line.compared = line.compared.or(order.compared);
        // From whom it was ordered is known better than from whom it can be had.
        line.supplier = order.supplier.clone().or_else(|| line.supplier.take());
        if let Some(cost) = &order.cost {
            line.charged = totals(line.charged.take().into_iter().chain([cost.clone()])).into_iter().next();
        }
        if let Some(quantity) = order.quantity {
            ordered = Some(ordered.unwrap_or(0) + quantity);
        }
    }
    line.too_few = ordered.filter(|ordered| *ordered < line.quantity.least());
    line
}

fn sent_out(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<WorkLine> {
    let mut lines = Vec::new();
    for ((id, place), decision) in &decisions.fates {
        let Verdict::Machine { what, to } = &decision.verdict else { continue };
        let part = procedure.part(*id);
        let bound = procedure.bound(&part.axes, *place);
        let ours = |mark: &&Mark| mark.kind == MarkKind::Ours && mark.at.hold(&bound);
        let marks = part.marks.iter().filter(ours);
        let work = job.sent.get(&(*id, *place));
        let waits = decision.before_sending().filter(|hold| !matches!(hold, Hold::NotAgreed));
        let priced = job.prices.work.get(&(*id, *place)).cloned().unwrap_or_default();
        lines.push(WorkLine {
            part: *id,
            place: *place,
            id: part_name(procedure, *id, *place),
            title: part.naming.title.clone(),
            what: what.clone(),
            sizes: to.iter().map(|size| size.words(procedure)).collect(),
            because: decision.because.clone(),
            mark: marks.map(|mark| mark.text.clone()).collect(),
            waits_for: Waits::of(procedure, waits),
            approved: false,
            price: priced.price,
            lead_time: priced.lead_time,
            to: work.and_then(|work| work.to.clone()).or(priced.supplier),
            sent: work.and_then(|work| work.sent),
            back: work.and_then(|work| work.back),
            accepted: work.and_then(|work| work.accepted),
            refused: decision.refused().map(str::to_owned),
        });
    }
    for ((id, place), extra) in &job.extra_work {
        add_extra((procedure, job, decisions), &mut lines, (*id, *place), extra);
    }
    lines
}

/// Extra work on a part: on the line of what is done to it anyhow, else on one of its own.
fn add_extra(
    (procedure, job, decisions): (&Procedure, &Job, &Decisions),
    lines: &mut Vec<WorkLine>,
    (part, place): PartAt,
    extra: &WrittenWork,
) {
    if let Some(line) = lines.iter_mut().find(|line| (line.part, line.place) == (part, place)) {
        line.what = format!("{}; {}", line.what, extra.what);
        // What one of the two costs is no price of both.
        let both = line.price.take().into_iter().chain(extra.price.clone());
        line.price = match totals(both.clone()).as_slice() {
            [sum] if both.count() == 2 => Some(sum.clone()),
            _ => None,
        };
        return;
    }
    let declared = procedure.part(part);
    let bound = procedure.bound(&declared.axes, place);
    let ours = |mark: &&Mark| mark.kind == MarkKind::Ours && mark.at.hold(&bound);
    let marks = declared.marks.iter().filter(ours);
    let work = job.sent.get(&(part, place));
    lines.push(WorkLine {
        part,
        place,
        id: part_name(procedure, part, place),
        title: declared.naming.title.clone(),
        what: extra.what.clone(),
        sizes: Vec::new(),
        because: Because::found(vec!["extra work of this job".to_owned()]),
        mark: marks.map(|mark| mark.text.clone()).collect(),
        waits_for: Waits::default(),
        approved: false,
        price: extra.price.clone(),
        lead_time: extra.lead_time,
        to: work.and_then(|work| work.to.clone()).or(extra.to.clone()),
        sent: work.and_then(|work| work.sent),
        back: work.and_then(|work| work.back),
        accepted: work.and_then(|work| work.accepted),
        refused: decisions.fates.get(&(part, place)).and_then(PartDecision::refused).map(str::to_owned),
    });
}
