//! A thing that work uses up, as a line of the order list: what it is for and how much, as far as anybody says.

use serde_json::{Value as Json, json};

use crate::record::Date;

/// Something that the build or the start uses up and that the shop hasn't got in stock, as far as it says.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct UsedUp {
    /// Name of the supply.
    pub id: String,
    /// Its title.
    pub title: String,
    /// What it is for, each as a sentence without its full stop.
    pub purposes: Vec<String>,
    /// How much of it, in words; none where nobody says.
    pub amount: Option<String>,
    /// How much is in what one buys.
    pub sold: Option<String>,
    /// Whether the shop's crib speaks of supplies, and hasn't got this one.
    pub known_missing: bool,
    /// When it was ordered.
    pub ordered: Option<Date>,
    /// When it is due.
    pub due: Option<Date>,
    /// When it came.
    pub arrived: Option<Date>,
}

impl UsedUp {
    /// What is known of whether the shop has it, as a sentence about all lines of its list.
    pub(crate) fn stock_words(&self) -> &'static str {
        if self.known_missing {
            "The crib has none of these in stock."
        } else {
            "What the shop has of these is not known: order what is not there."
        }
    }

    /// It as a line of the verdict.
    pub(super) fn text(&self) -> String {
        let mut words = vec![format!("{} ({})", self.title, self.id)];
        words.extend(self.amount.clone());
        words.extend(self.sold.as_ref().map(|sold| format!("sold by {sold}")));
        words.extend(self.purposes.iter().cloned());
        let days = [("ordered", self.ordered), ("due", self.due), ("arrived", self.arrived)];
        words.extend(days.into_iter().filter_map(|(what, day)| Some(format!("{what} {}", day?))));
        words.join("; ")
    }

    /// It as a cell of a table of orders, by the column's title, or as a member of a JSON object.
    pub(super) fn cell(&self, column: &str) -> Json {
        let day = |date: Option<Date>| date.map_or(Json::Null, |date| json!(date.to_string()));
        match column {
            "id" => json!(self.id),
            "title" => json!(self.title),
            "quantity" => json!(self.amount),
            "sold_by" => json!(self.sold),
            "ordered" => day(self.ordered),
            "due" => day(self.due),
            "arrived" => day(self.arrived),
            "because" => json!(self.purposes.join(". ")),
            _ => Json::Null,
        }
    }
}
