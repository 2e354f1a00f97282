//! Prices of a shop's suppliers: text to [`Prices`], every name resolved. What stands here comes before what the
//! procedure says of prices and suppliers.

use std::collections::BTreeMap;

use super::fields::{Fields, Taker};
use super::names::Names;
use super::read::tree;
use super::yaml::Node;
use super::{Goods, errors};
use crate::diagnostics::Outcome;
use crate::procedure::model::{PartId, Place, Procedure};
use crate::quantity::{Dimension, Money, Quantity};
use crate::source::{FileId, Span};

/// What things and work cost. The default knows no price.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prices {
    /// Price of an hour of labour.
    pub labour: Option<Money>,
    /// Tax on top of all prices, a ratio; none where nobody says.
    pub tax: Option<Quantity>,
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
    /// What differs for single pieces of a part that is bought in sizes or grades.
    pub pieces: Vec<(Piece, Price)>,
}

/// One of the pieces that a part is chosen from.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// An oversize or undersize.
    Size(Quantity),
    /// A grade by its name, such as `standard` or `two_notches`.
    Named(String),
}

impl Piece {
    /// The piece that a word means: a length is a size, everything else a name.
    pub fn of(word: &str) -> Piece {
        match Quantity::parse(word) {
            Ok(size) if size.dimension() == Dimension::LENGTH => Piece::Size(size),
            _ => Piece::Named(word.replace(' ', "_")),
        }
    }

    /// Whether it is the same piece, in whatever unit or with whatever spaces it is written.
    pub(super) fn is(&self, other: &Piece) -> bool {
        match (self, other) {
            // Sizes in different units may be the same.
            (Piece::Size(a), Piece::Size(b)) => (a.base() - b.base()).abs() <= 1e-9 * a.base().abs(),
            (Piece::Named(a), Piece::Named(b)) => a == b,
            _ => false,
        }
    }
}

impl Price {
    /// What holds for one piece, by its size or the name of its grade; what is said of every piece stands where nothing
    /// is said of this one.
    pub fn of_piece(&self, piece: &Piece) -> Price {
        let own = self.pieces.iter().find(|(other, _)| other.is(piece)).map(|(_, price)| price);
        let own = own.cloned().unwrap_or_default();
        Price {
            price: own.price.or_else(|| self.price.clone()),
            part_number: own.part_number.or_else(|| self.part_number.clone()),
            supplier: own.supplier.or_else(|| self.supplier.clone()),
            lead_time: own.lead_time.or(self.lead_time),
            pieces: Vec::new(),
        }
    }
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

/// The piece that is of no oversize or undersize.
const STANDARD: &str = "standard";

const EXAMPLE: &str =
    "begin with `goods:`, and below it what is bought, such as `  head_gasket: {price: 46.00 EUR}`";

/// Reads a file of prices. What can't be understood, or is not in the procedure, is complained of and left out.
///
/// ```
/// use benchleaf::{Prices, Sources, parse, read_prices, resolve};
///
/// let mut sources = Sources::new();
/// let text = "family pump \"Pump\" { origin \"invented\" }\npart cover \"Cover\" { fate renew }\n";
/// let file = sources.add("pump.rebuild", text);
/// let pump = resolve(&[parse(file, text).value]).value;
///
/// let yaml = "origin: invented\ngoods:\n  cover: {price: 24.00 EUR}\n";
/// let priced = read_prices(sources.add("prices.yaml", yaml), yaml, &pump);
/// assert!(priced.diagnostics.is_empty());
/// assert_ne!(priced.value, Prices::default());
///
/// let unknown = "goods:\n  lid: {price: 24.00 EUR}\n";
/// assert!(read_prices(sources.add("others.yaml", unknown), unknown, &pump).has_errors());
/// ```
pub fn read_prices(file: FileId, text: &str, procedure: &Procedure) -> Outcome<Prices> {
    let mut reader = Reader { taker: Taker::default(), names: Names::new(procedure) };
    let root = tree(file, text, EXAMPLE, &mut reader.taker.diagnostics);
    let prices = root.map(|root| reader.prices(&root)).unwrap_or_default();
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
        const KEYS: [&str; 5] = ["origin", "labour", "tax", "goods", "work"];
        let mut prices = Prices::default();
        let Some(fields) = self.taker.fields("prices", root, "a file of prices", &KEYS) else {
            return prices;
        };
        // `origin` says in words where the prices come from; nothing depends on it.
        self.taker.text_of(&fields, "origin");
        prices.labour = self.taker.money_of(&fields, "labour");
        prices.tax = self.taker.quantity_of(&fields, "tax", Dimension::RATIO).map(|tax| tax.value);
        if let Some(node) = fields.get("goods") {
            let mut seen = BTreeMap::new();
            for (key, value) in self.taker.entries("goods", node, "goods: {head_gasket: {price: 46.00 EUR}}")
            {
                let Some(named) = self.taker.named(key) else { continue };
                let Some(goods) = self.names.goods(&named) else { continue };
                let Some(price) = self.price(&key.value, value, Some(goods)) else { continue };
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
                let Some(price) = self.price(&key.value, value, None) else { continue };
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

    fn twice(&mut self, span: Span, name: &str, before: Span) {
        let what = format!("the price of `{name}`");
        self.taker.diagnostics.push(errors::duplicate_reading(span, &what, before));
    }

    /// A price; of goods also what its pieces cost.
    fn price(&mut self, key: &str, node: &Node, goods: Option<Goods>) -> Option<Price> {
        const KEYS: [&str; 5] = ["price", "part_number", "supplier", "lead_time", "pieces"];
        let known = if goods.is_some() { &KEYS[..] } else { &KEYS[..4] };
        let taker = &mut self.taker;
        let fields: Fields = taker.fields(key, node, "a price", known)?;
        let mut price = Price {
            price: taker.money_of(&fields, "price"),
            part_number: taker.plain_of(&fields, "part_number"),
            supplier: taker.plain_of(&fields, "supplier"),
            lead_time: taker
                .quantity_of(&fields, "lead_time", Dimension::DURATION)
                .map(|lead_time| lead_time.value),
            pieces: Vec::new(),
        };
        if let (Some(goods), Some(node)) = (goods, fields.get("pieces")) {
            price.pieces = self.pieces(key, node, goods);
        }
        Some(price)
    }

    fn pieces(&mut self, key: &str, node: &Node, goods: Goods) -> Vec<(Piece, Price)> {
        let mut pieces: Vec<(Piece, Price)> = Vec::new();
        let mut seen: Vec<(Piece, Span)> = Vec::new();
        for (word, value) in self.taker.entries("pieces", node, "pieces: {0.25 mm: {price: 69.00 EUR}}") {
            let piece = Piece::of(&word.value);
            if let Piece::Named(name) = &piece {
                let (grades, declared) = grades(self.names.procedure, goods);
                if !grades.contains(&name.as_str()) {
                    let unknown = errors::unknown_piece(word, key, grades, declared);
                    self.taker.diagnostics.push(unknown);
                    continue;
                }
            }
            if let Some((_, before)) = seen.iter().find(|(other, _)| other.is(&piece)) {
                let what = format!("the price of `{key}` in `{}`", word.value);
                self.taker.diagnostics.push(errors::duplicate_reading(word.span, &what, *before));
                continue;
            }
            seen.push((piece.clone(), word.span));
            pieces.extend(self.price(&word.value, value, None).map(|price| (piece, price)));
        }
        pieces
    }
}

/// The names of the grades that something can be bought in, and where it is declared: the bands of the gauges of a part
/// name them.
fn grades(procedure: &Procedure, goods: Goods) -> (Vec<&str>, Span) {
    let declared = match goods {
        Goods::Part(id, _) => procedure.part(id).naming.span,
        Goods::Set(id, _) => procedure.set(id).naming.span,
        Goods::Supply(id) => procedure.supply(id).naming.span,
    };
    let Goods::Part(id, _) = goods else { return (vec![STANDARD], declared) };
    let gauges = procedure.gauges.iter().filter(|gauge| gauge.of.as_ref().is_some_and(|of| of.id == id));
    let bands = gauges.flat_map(|gauge| &gauge.bands).map(|band| band.name.as_str());
    ([STANDARD].into_iter().chain(bands).collect(), declared)
}
