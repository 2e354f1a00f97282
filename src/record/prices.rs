//! Prices of a shop's suppliers: text to [`Prices`], every name resolved. What stands here comes before what the
//! procedure says of prices and suppliers.

use std::collections::BTreeMap;

use super::fields::{Fields, Taker};
use super::names::Names;
use super::read::tree;
use super::yaml::Node;
use super::{Goods, Money, errors};
use crate::diagnostics::Outcome;
use crate::procedure::model::{PartId, Place, Procedure};
use crate::quantity::{Dimension, Quantity};
use crate::source::FileId;

/// What things and work cost. The default knows no price.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prices {
    /// Price of an hour of labour.
    pub labour: Option<Money>,
    /// What can be bought, one piece.
    pub goods: BTreeMap<Goods, Price>,
    /// Work that is sent out, for one part.
    pub work: BTreeMap<(PartId, Place), Price>,
}

/// What one piece, or the work on one part, costs, and from whom it comes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Price {
    /// The price, where it is known.
    pub price: Option<Money>,
    /// Part number.
    pub part_number: Option<String>,
    /// From whom.
    pub supplier: Option<String>,
    /// How long it takes to come.
    pub lead_time: Option<Quantity>,
}

impl Prices {
    /// What stands here of some goods: of that place, else of every place.
    pub fn of(&self, goods: Goods) -> Option<&Price> {
        let everywhere = match goods {
            Goods::Part(id, _) => Goods::Part(id, None),
            Goods::Set(id, _) => Goods::Set(id, None),
            Goods::Supply(_) => goods,
        };
        self.goods.get(&goods).or_else(|| self.goods.get(&everywhere))
    }
}

const EXAMPLE: &str =
    "begin with `goods:`, and below it what is bought, such as `  head_gasket: {price: 46.00 EUR}`";

/// Reads a file of prices. What can't be understood, or is not in the procedure, is complained of and left out.
pub fn read_prices(file: FileId, text: &str, procedure: &Procedure) -> Outcome<Prices> {
    let mut reader = Reader { taker: Taker::default(), names: Names::new(procedure) };
    let prices = match tree(file, text, EXAMPLE) {
        Ok(root) => reader.prices(&root),
        Err(diagnostic) => {
            reader.taker.diagnostics.push(*diagnostic);
            Prices::default()
        }
    };
    let mut diagnostics = reader.taker.diagnostics;
    diagnostics.extend(reader.names.diagnostics);
    Outcome { value: prices, diagnostics }
}

struct Reader<'a> {
    taker: Taker,
    names: Names<'a>,
}

impl Reader<'_> {
    fn prices(&mut self, root: &Node) -> Prices {
        const KEYS: [&str; 4] = ["origin", "labour", "goods", "work"];
        let mut prices = Prices::default();
        let Some(fields) = self.taker.fields("prices", root, "a file of prices", &KEYS) else {
            return prices;
        };
        // `origin` says in words where the prices come from; nothing depends on it.
        self.taker.text_of(&fields, "origin");
        prices.labour = self.taker.money_of(&fields, "labour");
        if let Some(node) = fields.get("goods") {
            let mut seen = BTreeMap::new();
            for (key, value) in self.taker.entries("goods", node, "goods: {head_gasket: {price: 46.00 EUR}}")
            {
                let Some(named) = self.taker.named(key) else { continue };
                let Some(price) = self.price(&key.value, value) else { continue };
                let Some(goods) = self.names.goods(&named) else { continue };
                match seen.insert(goods, key.span) {
                    Some(before) => self.twice(key.span, &key.value, before),
                    None => {
                        prices.goods.insert(goods, price);
                    }
                }
            }
        }
        if let Some(node) = fields.get("work") {
            let mut seen = BTreeMap::new();
            for (key, value) in self.taker.entries("work", node, "work: {cylinder_block: {price: 210 EUR}}") {
                let Some(named) = self.taker.named(key) else { continue };
                let Some(price) = self.price(&key.value, value) else { continue };
                for part in self.names.parts(&named) {
                    match seen.insert(part, key.span) {
                        Some(before) => self.twice(key.span, &key.value, before),
                        None => {
                            prices.work.insert(part, price.clone());
                        }
                    }
                }
            }
        }
        prices
    }

    fn twice(&mut self, span: crate::source::Span, name: &str, before: crate::source::Span) {
        let what = format!("the price of `{name}`");
        self.taker.diagnostics.push(errors::duplicate_reading(span, &what, before));
    }

    fn price(&mut self, key: &str, node: &Node) -> Option<Price> {
        const KEYS: [&str; 4] = ["price", "part_number", "supplier", "lead_time"];
        let taker = &mut self.taker;
        let fields: Fields = taker.fields(key, node, "a price", &KEYS)?;
        Some(Price {
            price: taker.money_of(&fields, "price"),
            part_number: taker.text_of(&fields, "part_number").map(|text| text.value),
            supplier: taker.text_of(&fields, "supplier").map(|text| text.value),
            lead_time: taker
                .quantity_of(&fields, "lead_time", Dimension::DURATION)
                .map(|lead_time| lead_time.value),
        })
    }
}
