//! The shop's own file: its tools, its wrenches with their calibration, its habits. Text to [`Crib`].

use super::fields::{Fields, Taker};
use super::read::tree;
use super::yaml::{Node, Value};
use super::{Date, errors};
use crate::diagnostics::Outcome;
use crate::mechanics::{Class, Thread};
use crate::quantity::{Dimension, Quantity, Unit, is_currency};
use crate::source::{FileId, Spanned};

/// What a shop has, whatever engine stands in it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Crib {
    /// What the shop is called, where it is and how it is reached, for the head of what leaves it.
    pub head: ShopHead,
    /// Three letters of the currency of its prices.
    pub currency: Option<String>,
    /// Paper: `a4` or `letter`.
    pub paper: Option<String>,
    /// Units that it measures in: `metric` or `inch`.
    pub units: Option<String>,
    /// Mass above which it lifts with a hoist.
    pub lifting_limit: Option<Quantity>,
    /// Its tools, in written order.
    pub tools: Vec<CribTool>,
    /// What it keeps in stock of what a rebuild uses up, by the names that a procedure or the shop gives it; none where nobody
    /// has said.
    pub supplies: Option<Vec<String>>,
    /// What changes at its bench take, as far as it states them.
    pub changes: Vec<(BenchChange, Quantity)>,
    /// Its own table of torques, for what a procedure leaves to it as `general`.
    pub general_torques: Option<GeneralTorques>,
}

/// What stands at the head of a sheet that leaves the shop, as far as its crib says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ShopHead {
    /// Its name.
    pub name: Option<String>,
    /// Where it is.
    pub address: Option<String>,
    /// How it is reached, and whom to ask for.
    pub contact: Option<String>,
    /// For how many days an estimate holds.
    pub estimate_days: Option<u32>,
}

impl Crib {
    /// The unit in which this shop writes down what a procedure gives in `unit`: lengths in millimetres or inches,
    /// as its instruments are marked; everything else as it is given.
    pub fn measured_in(&self, unit: &'static Unit) -> &'static Unit {
        let wanted = match (self.units.as_deref(), unit.symbol) {
            (Some("inch"), "mm" | "um") => "in",
            (Some("metric"), "in" | "thou") => "mm",
            _ => return unit,
        };
        Unit::find(wanted).unwrap_or(unit)
    }
}

impl Crib {
    /// How far its instruments may themselves be off, by their names.
    pub(crate) fn instrument_errors(&self) -> Vec<(String, Quantity)> {
        self.tools.iter().filter_map(|tool| Some((tool.name.value.clone(), tool.error?))).collect()
    }
}

/// A shop's own table of torques by thread and class.
#[derive(Debug, Clone, PartialEq)]
pub struct GeneralTorques {
    /// Where its values come from, in words.
    pub origin: String,
    /// Thread, class and torque, in written order.
    pub values: Vec<(Thread, Class, Quantity)>,
}

impl GeneralTorques {
    /// The torque for a thread and class; the first that is written counts.
    pub fn value(&self, thread: &Thread, class: Class) -> Option<Quantity> {
        let found = self.values.iter().find(|(known, of_class, _)| known == thread && *of_class == class);
        found.map(|(_, _, torque)| *torque)
    }
}

/// A tool of the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct CribTool {
    /// Its name; the id or the title of a procedure's tool, or the shop's own.
    pub name: Spanned<String>,
    /// Square drive.
    pub drive: Option<Quantity>,
    /// Size.
    pub size: Option<Quantity>,
    /// What it can do, from and to.
    pub range: Option<(Quantity, Quantity)>,
    /// Until when its calibration holds.
    pub calibrated_until: Option<Date>,
    /// How far it may itself be off, to either side, by its certificate.
    pub error: Option<Quantity>,
}

/// Reads a crib. What can't be understood is complained of and left out.
///
/// ```
/// use benchleaf::{Sources, read_crib};
///
/// let yaml = "currency: EUR\ntools:\n  Small torque wrench: {drive: 3/8 in, range: [5 N.m, 30 N.m]}\n";
/// let mut sources = Sources::new();
/// let crib = read_crib(sources.add("crib.yaml", yaml), yaml).value;
/// assert_eq!(crib.currency.as_deref(), Some("EUR"));
/// assert_eq!(crib.tools[0].name.value, "Small torque wrench");
/// ```
pub fn read_crib(file: FileId, text: &str) -> Outcome<Crib> {
    let mut taker = Taker::default();
    let root = tree(file, text, CRIB_EXAMPLE, &mut taker.diagnostics);
    let crib = root.map(|root| crib(&mut taker, &root)).unwrap_or_default();
    Outcome { value: crib, diagnostics: taker.diagnostics }
}

/// Seconds of a day, in which it is counted how long an estimate holds.
const DAY: f64 = 86_400.0;

const CRIB_EXAMPLE: &str =
    "begin with `paper: a4` and `tools:`, and below it the tools, such as `  13 mm socket: {size: 13 mm}`";

fn crib(taker: &mut Taker, root: &Node) -> Crib {
    const KEYS: [&str; 13] = [
        "name",
        "address",
        "contact",
        "estimate_holds",
        "currency",
        "paper",
        "units",
        "lifting_limit",
        "tools",
        "supplies",
        "general_torques",
        "changes",
        "origin",
    ];
    let Some(fields) = taker.fields("crib", root, "a crib", &KEYS) else { return Crib::default() };
    // `origin` says in words where the data of a crib comes from; nothing depends on it.
    taker.text_of(&fields, "origin");
    let mut said = |key: &str| taker.text_of(&fields, key).map(|text| text.value);
    let (name, address, contact) = (said("name"), said("address"), said("contact"));
    let holds = taker.quantity_of(&fields, "estimate_holds", Dimension::DURATION);
    let estimate_days = holds.map(|time| (time.value.base() / DAY).round().max(1.0) as u32);
    Crib {
        head: ShopHead { name, address, contact, estimate_days },
        currency: currency(taker, &fields),
        paper: one_of(taker, &fields, "paper", &["a4", "letter"]),
        units: one_of(taker, &fields, "units", &["metric", "inch"]),
        lifting_limit: taker.quantity_of(&fields, "lifting_limit", Dimension::MASS).map(|limit| limit.value),
        tools: fields.get("tools").map_or_else(Vec::new, |node| tools(taker, node)),
        supplies: fields.get("supplies").map(|node| supplies(taker, node)),
        changes: fields.get("changes").map_or_else(Vec::new, |node| changes(taker, node)),
        general_torques: fields.get("general_torques").and_then(|node| general_torques(taker, node)),
    }
}

/// A change at the bench whose time a shop may state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BenchChange {
    /// Same ratchet, other socket.
    Socket,
    /// Another hand tool.
    HandTool,
    /// A torque wrench set, or another one taken.
    TorqueSetting,
    /// Stand or side, where the procedure doesn't say what that takes.
    Setup,
    /// Protective equipment put on.
    Wear,
    /// The hoist rigged.
    Hoist,
    /// The hoist taken away.
    HoistOff,
}

impl BenchChange {
    /// All of them with what a crib calls them.
    const KEYS: [(&'static str, BenchChange); 7] = [
        ("socket", BenchChange::Socket),
        ("hand_tool", BenchChange::HandTool),
        ("torque_setting", BenchChange::TorqueSetting),
        ("setup", BenchChange::Setup),
        ("wear", BenchChange::Wear),
        ("hoist", BenchChange::Hoist),
        ("hoist_off", BenchChange::HoistOff),
    ];
}

/// `changes: {socket: 5 s, hoist: 6 min}`
fn changes(taker: &mut Taker, node: &Node) -> Vec<(BenchChange, Quantity)> {
    let keys = BenchChange::KEYS.map(|(key, _)| key);
    let Some(fields) = taker.fields("changes", node, "a table of changes", &keys) else {
        return Vec::new();
    };
    let time = |(key, change): (&'static str, BenchChange)| {
        taker.quantity_of(&fields, key, Dimension::DURATION).map(|time| (change, time.value))
    };
    BenchChange::KEYS.into_iter().filter_map(time).collect()
}

fn currency(taker: &mut Taker, fields: &Fields) -> Option<String> {
    let text = taker.text_of(fields, "currency")?;
    let sound = is_currency(&text.value);
    if !sound {
        taker.diagnostics.push(errors::not_money(text.span, &text.value));
    }
    sound.then_some(text.value)
}

fn one_of(taker: &mut Taker, fields: &Fields, key: &str, known: &[&str]) -> Option<String> {
    let text = taker.text_of(fields, key)?;
    if known.contains(&text.value.as_str()) {
        return Some(text.value);
    }
    let place = fields.span.ending(fields.span.start() + 1);
    taker.diagnostics.push(errors::unknown_answer(&text, key, known.iter().copied(), place));
    None
}

fn tools(taker: &mut Taker, node: &Node) -> Vec<CribTool> {
    const KEYS: [&str; 5] = ["drive", "size", "range", "calibrated_until", "error"];
    let mut found = Vec::new();
    for (name, value) in taker.entries("tools", node, "tools: {13 mm socket: {size: 13 mm}}") {
        let mut tool = CribTool {
            name: name.clone(),
            drive: None,
            size: None,
            range: None,
            calibrated_until: None,
            error: None,
        };
        // A tool with nothing to say about it is simply there.
        if value.value != Value::Null {
            let Some(fields) = taker.fields(&name.value, value, "a tool", &KEYS) else { continue };
            tool.drive = taker.quantity_of(&fields, "drive", Dimension::LENGTH).map(|drive| drive.value);
            tool.size = taker.quantity_of(&fields, "size", Dimension::LENGTH).map(|size| size.value);
            tool.range = range(taker, &fields);
            tool.calibrated_until = taker.date_of(&fields, "calibrated_until");
            let error = fields.get("error").and_then(|node| taker.quantity("error", node));
            tool.error = error.map(|error| error.value);
        }
        found.push(tool);
    }
    found
}

/// `supplies: [Clean engine oil, Wire tag]`
fn supplies(taker: &mut Taker, node: &Node) -> Vec<String> {
    let named = taker.list("supplies", node, "supplies: [Clean engine oil, Wire tag]").iter();
    named.filter_map(|name| taker.text("supplies", name)).map(|name| name.value).collect()
}

const GENERAL_EXAMPLE: &str = "general_torques: {origin: \"wall chart\", values: {M8 8.8: 22 N.m}}";

/// `general_torques: {origin: "wall chart", values: {M8 8.8: 22 N.m}}`
fn general_torques(taker: &mut Taker, node: &Node) -> Option<GeneralTorques> {
    let fields = taker.fields("general_torques", node, "a table of torques", &["origin", "values"])?;
    let Some(origin) = taker.text_of(&fields, "origin") else {
        taker.diagnostics.push(errors::wrong_type(
            "general_torques",
            node,
            "a table with its `origin`",
            GENERAL_EXAMPLE,
        ));
        return None;
    };
    let mut values = Vec::new();
    if let Some(node) = fields.get("values") {
        for (name, value) in taker.entries("values", node, GENERAL_EXAMPLE) {
            let Some((thread, class)) = thread_and_class(&name.value) else {
                let expected = "a thread with its class as in `M8 8.8`";
                taker.diagnostics.push(errors::wrong_type(&name.value, value, expected, "M8 8.8: 22 N.m"));
                continue;
            };
            let Some(torque) = taker.quantity(&name.value, value) else { continue };
            match torque.value.expect_dimension(Dimension::TORQUE) {
                Ok(torque) => values.push((thread, class, torque)),
                Err(error) => taker.diagnostics.push(errors::wrong_dimension(torque.span, &error, None)),
            }
        }
    }
    Some(GeneralTorques { origin: origin.value, values })
}

/// `M8 8.8`, `3/8-16 UNC SAE 5`: split where both halves are known.
fn thread_and_class(text: &str) -> Option<(Thread, Class)> {
    text.match_indices(' ').find_map(|(at, _)| {
        let (thread, class) = text.split_at(at);
        Some((Thread::parse(thread).ok()?, Class::parse(class).ok()?))
    })
}

/// `range: [5 N.m, 60 N.m]`
fn range(taker: &mut Taker, fields: &Fields) -> Option<(Quantity, Quantity)> {
    let node = fields.get("range")?;
    let example = "range: [5 N.m, 60 N.m]";
    let list = taker.list("range", node, example);
    let [low, high] = list else {
        if !list.is_empty() {
            taker.diagnostics.push(errors::wrong_type("range", node, "a list of two values", example));
        }
        return None;
    };
    let (low, high) = (taker.quantity("range", low)?, taker.quantity("range", high)?);
    match high.value.expect_dimension(low.value.dimension()) {
        Ok(_) => Some((low.value, high.value)),
        Err(error) => {
            taker.diagnostics.push(errors::wrong_dimension(high.span, &error, Some(low.span)));
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shop_writes_lengths_in_its_own_unit_and_nothing_else() {
        let unit = |symbol: &str| Unit::find(symbol).expect("a unit of the language");
        let shop = |units: &str| Crib { units: Some(units.to_owned()), ..Crib::default() };
        for (units, given, wanted) in [
            ("inch", "mm", "in"),
            ("inch", "um", "in"),
            ("inch", "thou", "thou"),
            ("inch", "N.m", "N.m"),
            ("metric", "in", "mm"),
            ("metric", "mm", "mm"),
        ] {
            assert_eq!(
                shop(units).measured_in(unit(given)).symbol,
                wanted,
                "{given} in a shop that is {units}"
            );
        }
        assert_eq!(Crib::default().measured_in(unit("in")).symbol, "in");
    }
}
