//! What the build and the start use up beside parts and fasteners: paste, sealant, wire, thread-locker, each once, with what it is
//! for. What the shop keeps in stock, as its crib says, isn't ordered. How much is told where somebody has said it or it can be
//! counted; nothing is reckoned.

use std::collections::{BTreeMap, BTreeSet};

use super::occasion::acts;
use super::{PlacedKind, Plan, PlannedAct, PlannedStep, step_of};
use crate::decide::{UsedUp, in_stock};
use crate::english::{counted, inner, list, plural};
use crate::network::Network;
use crate::procedure::model::{
    AxisId, Deed, Measure, Naming, PartId, Phase, Pieces, Place, Procedure, SetId, SupplyId, Wetting,
};
use crate::quantity::{Numeral, Quantity};
use crate::record::{Crib, Goods, Job};

/// Names that a line tells; of more it says how many. Our own choice, no source.
const NAMES_TOLD: usize = 2;

/// Places of things of one kind.
type At<Id> = BTreeMap<Id, BTreeSet<Place>>;

/// What a supply is for.
#[derive(Default)]
struct Uses<'b> {
    /// Fasteners on whose threads it goes.
    threads: At<SetId>,
    /// Fasteners that are wired with it.
    wired: At<SetId>,
    /// Parts that are coated with it.
    coated: At<PartId>,
    /// Titles of steps that list it for something else, each once.
    steps: Vec<&'b str>,
    /// What these say that they use.
    amounts: Vec<Option<Measure>>,
}

/// What is asked.
struct Asking<'b> {
    procedure: &'b Procedure,
    network: &'b Network,
    plan: &'b Plan,
}

/// What is used up and not in stock; all of it where the shop's crib doesn't say what is.
pub(crate) fn used_up(
    procedure: &Procedure,
    network: &Network,
    plan: &Plan,
    job: &Job,
    crib: Option<&Crib>,
) -> Vec<UsedUp> {
    let stock = crib.and_then(|crib| in_stock(procedure, crib));
    let what = Asking { procedure, network, plan };
    let mut uses = uses(&what);
    // What extra work brings stands on the list of what is bought.
    uses.retain(|id, _| {
        let here = stock.as_ref().is_some_and(|stock| stock.contains(id));
        !here && !job.extra_parts.iter().any(|(extra, _)| extra == id)
    });
    let lines = uses.iter().map(|(id, uses)| {
        let supply = procedure.supply(*id);
        let (purposes, amount) = purposes(&what, uses);
        let order = job.orders.get(&Goods::Supply(*id));
        UsedUp {
            id: supply.naming.id.clone(),
            title: supply.naming.title.clone(),
            purposes,
            amount,
            sold: supply.quantity.map(|sold| sold.printed()),
            known_missing: stock.is_some(),
            ordered: order.and_then(|order| order.ordered),
            due: order.and_then(|order| order.due),
            arrived: order.and_then(|order| order.arrived),
        }
    });
    lines.collect()
}

/// What is left of the build and the start, with what each supply is for in it.
fn uses<'b>(what: &Asking<'b>) -> BTreeMap<SupplyId, Uses<'b>> {
    let mut all: BTreeMap<SupplyId, Uses> = BTreeMap::new();
    let phases = [Phase::Build, Phase::Start].into_iter().filter_map(|phase| what.plan.phase(phase));
    for planned in phases.flat_map(|plan| &plan.steps).filter(|planned| planned.standing.is_left()) {
        let by_facts = of_facts(what, planned, &mut all);
        let step = step_of(what.procedure, what.network, planned.source);
        for (id, amount, _) in step.supplies_at(&planned.binding) {
            if amount.is_none() && by_facts.contains(id) {
                continue;
            }
            let uses = all.entry(*id).or_default();
            uses.amounts.push(*amount);
            let title = step.naming.title.as_str();
            if !uses.steps.contains(&title) {
                uses.steps.push(title);
            }
        }
    }
    all
}

/// Notes what goes on the threads, parts and heads of a step, and gives the supplies.
fn of_facts(what: &Asking, planned: &PlannedStep, all: &mut BTreeMap<SupplyId, Uses>) -> BTreeSet<SupplyId> {
    let mut found = BTreeSet::new();
    for act in acts(planned) {
        for (id, used) in supplies_of(what, act) {
            let uses = all.entry(id).or_default();
            for placed in &act.things {
                match (placed.kind, used) {
                    (PlacedKind::Part(part), _) => {
                        uses.coated.entry(part).or_default().extend(&placed.places);
                    }
                    (PlacedKind::Set(set), Used::Threads) => {
                        uses.threads.entry(set).or_default().extend(&placed.places);
                    }
                    (PlacedKind::Set(set), Used::Heads) => {
                        uses.wired.entry(set).or_default().extend(&placed.places);
                    }
                    _ => {}
                }
            }
            found.insert(id);
        }
    }
    found
}

/// Where on a fastener something is used.
#[derive(Clone, Copy)]
enum Used {
    Threads,
    Heads,
}

/// What one act uses up.
fn supplies_of(asking: &Asking, act: &PlannedAct) -> Vec<(SupplyId, Used)> {
    match &act.act.deed {
        Deed::Coat { with, .. } => vec![(*with, Used::Threads)],
        Deed::Wet { what, with } => {
            let supply = match with {
                Wetting::Oil => asking.procedure.set(what.id).oil.as_ref().and_then(|oil| oil.with),
                Wetting::Supply(supply) => Some(*supply),
                Wetting::Locker(supply) => *supply,
            };
            supply.into_iter().map(|supply| (supply, Used::Threads)).collect()
        }
        Deed::Lock { what, how, close: true } => {
            let locks = asking.procedure.set(what.id).locked_by.iter().filter(|lock| lock.how == *how);
            locks.filter_map(|lock| Some((lock.supply()?, Used::Heads))).collect()
        }
        _ => Vec::new(),
    }
}

/// What it is for, in words, and how much of it as far as the steps say: `For 12 threads: hub bolts and flywheel bolts`.
fn purposes(what: &Asking, uses: &Uses) -> (Vec<String>, Option<String>) {
    let procedure = what.procedure;
    let (mut told, mut amounts) = (Vec::new(), uses.amounts.clone());
    let sets = |at: &At<SetId>| {
        let all = at.iter().map(|(id, places)| {
            let places: Vec<Place> = places.iter().copied().collect();
            let set = procedure.set(*id);
            named(what, &set.naming, &set.axes, &places, &procedure.set_pieces(*id, &places))
        });
        let pieces = at.iter().map(|(id, places)| {
            procedure.set_pieces(*id, &places.iter().copied().collect::<Vec<Place>>()).settled()
        });
        (some_of(all.collect(), "set"), pieces.sum::<Option<u32>>())
    };
    for (at, one, of) in [(&uses.threads, "thread", "the threads of "), (&uses.wired, "fastener", "")] {
        if at.is_empty() {
            continue;
        }
        let (names, pieces) = sets(at);
        let purpose = if one == "thread" { "For" } else { "To wire" };
        told.push(match pieces {
            Some(pieces) => format!("{purpose} {}: {names}", counted(pieces as usize, one)),
            None => format!("{purpose} {of}{names}"),
        });
    }
    if !uses.coated.is_empty() {
        let parts = uses.coated.iter().map(|(id, places)| {
            let places: Vec<Place> = places.iter().copied().collect();
            let part = procedure.part(*id);
            named(what, &part.naming, &part.axes, &places, &procedure.part_pieces(*id, &places))
        });
        told.push(format!("To coat {}", some_of(parts.collect(), "part")));
    }
    // What its facts say of it says more than the steps that list it too.
    if told.is_empty() {
        let titles = uses.steps.iter().map(|title| format!("\u{201c}{title}\u{201d}")).collect();
        told.push(format!("For {}", some_of(titles, "step")));
    } else {
        amounts.push(None);
    }
    let stated = amounts.iter().any(Option::is_some);
    (told, stated.then(|| total(&amounts)))
}

/// A thing within a sentence, at its places where it isn't meant everywhere.
fn named(what: &Asking, naming: &Naming, axes: &[AxisId], places: &[Place], pieces: &Pieces) -> String {
    let title = inner(&naming.title);
    let name = if pieces.several() { plural(&title) } else { title };
    if places.len() == what.procedure.places(axes).count() {
        return name;
    }
    let name_at = |place: &Place| what.procedure.place_name(axes, *place).replace(", ", " ");
    let at: Vec<String> = places.iter().map(name_at).collect();
    format!("{name} {}", list(&at))
}

/// The first names, and how many there are beside them.
fn some_of(mut names: Vec<String>, one: &str) -> String {
    let more = names.len().saturating_sub(NAMES_TOLD);
    if more > 1 {
        names.truncate(NAMES_TOLD);
        names.push(format!("{more} more {one}s"));
    }
    // Names have commas of their own.
    let comma = names.iter().any(|name| name.contains(','));
    match names.split_last() {
        Some((last, first)) if comma && !first.is_empty() => format!("{}; and {last}", first.join("; ")),
        _ => list(&names),
    }
}

/// The sum of amounts; where some are not stated it says so.
pub(crate) fn total(amounts: &[Option<Measure>]) -> String {
    let mut count = 0.0;
    let mut measured: Option<(f64, Quantity)> = None;
    let mut silent = 0;
    for amount in amounts {
        match amount {
            Some(Measure::Count(number)) => count += number.value(),
            Some(Measure::Amount(quantity)) => {
                let (sum, first) = measured.unwrap_or((0.0, *quantity));
                measured = Some((sum + quantity.base(), first));
            }
            None => silent += 1,
        }
    }
    let mut parts = Vec::new();
    if count > 0.0 {
        parts.push(Numeral::rounded(count, u8::from(count.fract() != 0.0)).to_string());
    }
    if let Some((sum, first)) = measured {
        let number = first.unit().number_for(sum);
        let exact = |places: &i32| {
            let shifted = number * 10_f64.powi(*places);
            (shifted - shifted.round()).abs() < 1e-6
        };
        let places = (0..2).find(exact).unwrap_or(2);
        parts.push(Quantity::from_base(sum, first.unit(), places as u8).printed());
    }
    if parts.is_empty() {
        "as needed".to_owned()
    } else if silent > 0 {
        format!("{} and more", parts.join(" and "))
    } else {
        parts.join(" and ")
    }
}
