//! What the build and the start use up beside parts and fasteners: paste, sealant, wire, thread-locker, each once, with what it is
//! for. What the shop keeps in stock, as its crib says, isn't ordered. How much is told where somebody has said it or it can be
//! counted; nothing is reckoned.

use std::collections::{BTreeMap, BTreeSet};

use super::super::bench::Bench;
use super::super::kit::total;
use super::super::numbers::kept;
use super::super::questions::columns;
use super::{heading, plain};
use crate::decide::in_stock;
use crate::english::{counted, inner, list, plural};
use crate::plan::{PlacedKind, PlannedAct, PlannedLine, PlannedStep};
use crate::procedure::model::{
    AxisId, Deed, Measure, Naming, PartId, Phase, Pieces, Place, SetId, SupplyId, Wetting,
};
use crate::record::{Date, Goods};
use crate::sheet::{Block, Cell, Form, Table, Text};

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

/// What is used up and not in stock, as a table; nothing where there is none.
pub(super) fn used_up(bench: &Bench) -> Vec<Block> {
    let stock = bench.material.shop.and_then(|shop| in_stock(bench.procedure, &shop.crib));
    let mut uses = uses(bench);
    // What extra work brings stands on the list of what is bought.
    uses.retain(|id, _| {
        let here = stock.as_ref().is_some_and(|stock| stock.contains(id));
        !here && !bench.material.job.extra_parts.iter().any(|(extra, _)| extra == id)
    });
    if uses.is_empty() {
        return Vec::new();
    }
    let said = match stock {
        Some(_) => "The crib has none of these in stock. Their cost is not in the total.",
        None => {
            "What the shop has of these is not known: order what is not there. Their cost is not in the total."
        }
    };
    let rows = uses.iter().map(|(id, uses)| row(bench, *id, uses)).collect();
    let widths = [("What, and what for", 14.0), ("Ordered", 0.5), ("Arrived", 0.5)];
    vec![
        heading("Used up in the build and at the start"),
        Block::Paragraph(Text::plain(said)),
        Block::Table(Table { caption: Text::default(), columns: columns(&widths), rows }),
    ]
}

/// What is left of the build and the start, with what each supply is for in it.
fn uses<'b>(bench: &'b Bench) -> BTreeMap<SupplyId, Uses<'b>> {
    let mut all: BTreeMap<SupplyId, Uses> = BTreeMap::new();
    let phases =
        [Phase::Build, Phase::Start].into_iter().filter_map(|phase| bench.material.plan.phase(phase));
    for planned in phases.flat_map(|plan| &plan.steps).filter(|planned| planned.standing.is_left()) {
        let by_facts = of_facts(bench, planned, &mut all);
        for (id, amount, _) in bench.step(planned).supplies_at(&planned.binding) {
            if amount.is_none() && by_facts.contains(id) {
                continue;
            }
            let uses = all.entry(*id).or_default();
            uses.amounts.push(*amount);
            let title = bench.step(planned).naming.title.as_str();
            if !uses.steps.contains(&title) {
                uses.steps.push(title);
            }
        }
    }
    all
}

/// Notes what goes on the threads, parts and heads of a step, and gives the supplies.
fn of_facts(bench: &Bench, planned: &PlannedStep, all: &mut BTreeMap<SupplyId, Uses>) -> BTreeSet<SupplyId> {
    let mut found = BTreeSet::new();
    for line in &planned.lines {
        let PlannedLine::Act(act) = line else { continue };
        for (id, used) in supplies_of(bench, act) {
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
fn supplies_of(bench: &Bench, act: &PlannedAct) -> Vec<(SupplyId, Used)> {
    match &act.act.deed {
        Deed::Coat { with, .. } => vec![(*with, Used::Threads)],
        Deed::Wet { what, with } => {
            let supply = match with {
                Wetting::Oil => bench.procedure.set(what.id).oil.as_ref().and_then(|oil| oil.with),
                Wetting::Supply(supply) => Some(*supply),
                Wetting::Locker(supply) => *supply,
            };
            supply.into_iter().map(|supply| (supply, Used::Threads)).collect()
        }
        Deed::Lock { what, how, close: true } => {
            let locks = bench.procedure.set(what.id).locked_by.iter().filter(|lock| lock.how == *how);
            locks.filter_map(|lock| Some((lock.supply()?, Used::Heads))).collect()
        }
        _ => Vec::new(),
    }
}

fn row(bench: &Bench, id: SupplyId, uses: &Uses) -> Vec<Cell> {
    let supply = bench.procedure.supply(id);
    let (told, amount) = purposes(bench, uses);
    let mut what = Text::bold(supply.naming.title.clone());
    if let Some(amount) = amount {
        what = what.and(format!(", {amount}"));
    }
    if let Some(sold) = supply.quantity {
        what = what.and(format!(", sold by {}", sold.printed()));
    }
    let order = bench.material.job.orders.get(&Goods::Supply(id));
    let day = |stage: &str, date: Option<Date>| match date {
        Some(date) => plain(date.day_and_month()),
        None => kept(Cell::Day, &["orders", &supply.naming.id, stage], Form::Day),
    };
    vec![
        Cell::Text(what.and(format!(". {}.", told.join(". ")))),
        day("ordered", order.and_then(|order| order.ordered)),
        day("arrived", order.and_then(|order| order.arrived)),
    ]
}

/// What it is for, in words, and how much of it as far as the steps say: `For 12 threads: hub bolts and flywheel bolts`.
fn purposes(bench: &Bench, uses: &Uses) -> (Vec<String>, Option<String>) {
    let procedure = bench.procedure;
    let (mut told, mut amounts) = (Vec::new(), uses.amounts.clone());
    let sets = |at: &At<SetId>| {
        let all = at.iter().map(|(id, places)| {
            let places: Vec<Place> = places.iter().copied().collect();
            let set = procedure.set(*id);
            named(bench, &set.naming, &set.axes, &places, &procedure.set_pieces(*id, &places))
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
            named(bench, &part.naming, &part.axes, &places, &procedure.part_pieces(*id, &places))
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
fn named(bench: &Bench, naming: &Naming, axes: &[AxisId], places: &[Place], pieces: &Pieces) -> String {
    let title = inner(&naming.title);
    let name = if pieces.several() { plural(&title) } else { title };
    if places.len() == bench.procedure.places(axes).count() {
        return name;
    }
    let at: Vec<String> = places.iter().map(|place| bench.place_name(axes, *place)).collect();
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
