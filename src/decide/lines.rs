//! Lines of the order list and of the machine-shop order, and what they cost.

use super::{Because, Waits};
use crate::procedure::model::{PartId, Pieces, Place};
use crate::quantity::{Money, Quantity};
use crate::record::{Date, Goods, Order};

/// Something to buy.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OrderLine {
    /// What.
    pub goods: Goods,
    /// Its id.
    pub id: String,
    /// Its title, with the places where it is not for all of them.
    pub title: String,
    /// How many pieces.
    pub quantity: Pieces,
    /// Oversize or undersize.
    pub size: Option<Quantity>,
    /// What it has to be chosen from, in words; none once it is chosen.
    pub select_from: Option<String>,
    /// Which of the graded pieces, and why.
    pub chosen: Option<(String, String)>,
    /// Part number.
    pub catalogue: Option<String>,
    /// Price of one piece.
    pub price: Option<Money>,
    /// From whom.
    pub supplier: Option<String>,
    /// How long it takes to come.
    pub lead_time: Option<Quantity>,
    /// Why it is bought.
    pub because: Because,
    /// What must be settled before it can be ordered.
    pub waits_for: Waits,
    /// Whether the owner has agreed to it.
    pub approved: bool,
    /// What all pieces cost, by the order itself; goes before the price.
    pub charged: Option<Money>,
    /// How many were ordered, where that is fewer than are needed.
    pub too_few: Option<u32>,
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
    pub(crate) fn cost(&self) -> Option<Money> {
        let list = self.price.as_ref().zip(self.quantity.settled()).map(|(price, quantity)| Money {
            hundredths: price.hundredths * i64::from(quantity),
            currency: price.currency.clone(),
        });
        self.charged.clone().or(list)
    }
}

/// What to buy.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OrderList {
    /// Longest lead time first; those whose lead time nobody has said stand at the end.
    pub lines: Vec<OrderLine>,
    /// What it costs, by currency.
    pub totals: Vec<Money>,
    /// Lines whose price nobody has said.
    pub unpriced: usize,
    /// What was ordered though nothing asks for it.
    pub not_called_for: Vec<NotCalledFor>,
}

/// Goods that were ordered, and that the job doesn't ask for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NotCalledFor {
    /// Their id.
    pub id: String,
    /// Their title, with the place if they are for one.
    pub title: String,
    /// Whether it isn't settled yet if they are needed.
    pub unsettled: bool,
    /// What the record says of them.
    pub order: Order,
}

impl NotCalledFor {
    /// How far the order has got, with days as they are to be printed.
    pub(crate) fn stages(&self, day: impl Fn(Date) -> String) -> Vec<String> {
        let Order { ordered, due, arrived, compared, .. } = &self.order;
        let stages = [("ordered", ordered), ("due", due), ("arrived", arrived), ("compared", compared)];
        stages.iter().filter_map(|(word, date)| date.map(|date| format!("{word} {}", day(date)))).collect()
    }

    /// What follows.
    pub(crate) fn words(&self) -> &'static str {
        if self.unsettled {
            "whether it is needed isn't settled yet"
        } else {
            "nothing in this job asks for it: back to the supplier, or into stock"
        }
    }
}

/// Work to send out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WorkLine {
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
    pub because: Because,
    /// What to mark before it leaves.
    pub mark: Vec<String>,
    /// What must be settled before the work can be ordered; that it is for quote, the line says by itself.
    pub waits_for: Waits,
    /// Whether the owner has agreed to it.
    pub approved: bool,
    /// What the work costs.
    pub price: Option<Money>,
    /// How long it takes.
    pub lead_time: Option<Quantity>,
    /// To whom.
    pub to: Option<String>,
    /// When it left.
    pub sent: Option<Date>,
    /// When it came back.
    pub back: Option<Date>,
    /// When it was accepted.
    pub accepted: Option<Date>,
    /// Why it was refused as it came back, where it hasn't gone out again since.
    pub refused: Option<String>,
}

/// Sums by currency, in the order of the currencies.
pub(crate) fn totals(costs: impl Iterator<Item = Money>) -> Vec<Money> {
    let mut totals: Vec<Money> = Vec::new();
    for cost in costs {
        match totals.iter_mut().find(|total| total.currency == cost.currency) {
            Some(total) => total.hundredths += cost.hundredths,
            None => totals.push(cost),
        }
    }
    totals.sort_by(|a, b| a.currency.cmp(&b.currency));
    totals
}
