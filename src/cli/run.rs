//! Runs of values as they are typed behind the name of a gauge, a look or a set, in the order of the sheet: `lash 0.30
//! 0.35 - 0.40`, `bore 2 top 74.13 74.16`, `sump_bolts 20*3 35`.

use super::errors;
use super::meant;
use crate::diagnostics::Diagnostic;
use crate::gather::{quantity, word};
use crate::procedure::model::{AxisId, Name, Procedure};
use crate::quantity::{Numeral, Quantity, Unit};
use crate::record::{Crib, Named};

/// What can be run over: each place by the words of its address, and the key that it has in a record.
struct Places {
    /// Words of the address, most general first, and the key.
    all: Vec<(Vec<String>, String)>,
    /// How a value is written: its unit, or its words.
    values: Values,
}

enum Values {
    In(String),
    Of(Vec<String>),
}

impl Values {
    /// The text of a value in a record; none for what is no value.
    fn text(&self, typed: &str) -> Option<String> {
        match self {
            Values::In(unit) => quantity(typed, unit).ok(),
            Values::Of(words) => word(typed, words).ok(),
        }
    }
}

/// Keys and values of a run. None where it is no run that can be read: then what was typed is taken as it stands, and the
/// record says what is wrong with it.
///
/// # Errors
/// There are more values than places.
pub(super) fn readings(
    procedure: &Procedure,
    crib: &Crib,
    words: &[String],
) -> Result<Option<Vec<(String, String)>>, Diagnostic> {
    let [first, rest @ ..] = words else { return Ok(None) };
    let first = meant::thing(procedure, first);
    let Some(named) = Named::typed(&first) else { return Ok(None) };
    let places = match procedure.names.get(&named.name) {
        Some(Name::Gauge(id)) => {
            let gauge = procedure.gauge(*id);
            let stations: Vec<String> = gauge.stations.iter().map(|(name, _)| name.clone()).collect();
            let unit = gauge.unit.map(|unit| crib.measured_in(unit).symbol.to_owned());
            Places {
                all: places(procedure, &named.name, &gauge.axes, &[stations, gauge.directions.clone()]),
                values: Values::In(unit.unwrap_or_default()),
            }
        }
        Some(Name::Look(id)) => {
            let look = procedure.look(*id);
            let all = places(procedure, &named.name, &look.axes, &[]);
            Places { all, values: Values::Of(look.results.clone()) }
        }
        _ => return Ok(None),
    };
    let typed = named.positions.iter().chain(&named.words).cloned();
    run(&places, &first, typed.chain(rest.iter().cloned()).collect())
}

/// Hole letters and lengths of a run over the holes of a set.
///
/// # Errors
/// There are more values than holes.
pub(super) fn lengths(
    procedure: &Procedure,
    words: &[String],
) -> Result<Option<Vec<(String, String)>>, Diagnostic> {
    let [first, rest @ ..] = words else { return Ok(None) };
    let first = meant::thing(procedure, first);
    let name = Named::typed(&first).map(|named| named.name).unwrap_or_default();
    let Some(Name::Set(id)) = procedure.names.get(&name) else { return Ok(None) };
    let letters = procedure.hole_letters(*id);
    let all = letters.iter().map(|letter| (vec![letter.clone()], letter.clone())).collect();
    run(&Places { all, values: Values::In("mm".to_owned()) }, &first, rest.to_vec())
}

/// Every place of a thing in the order of its sheet: positions, then each of the lists of words behind them.
fn places(
    procedure: &Procedure,
    id: &str,
    axes: &[AxisId],
    behind: &[Vec<String>],
) -> Vec<(Vec<String>, String)> {
    let mut all = Vec::new();
    for place in procedure.places(axes) {
        let name = procedure.place_name(axes, place);
        let at: Vec<String> = name.split(", ").filter(|word| !word.is_empty()).map(str::to_owned).collect();
        let key = if name.is_empty() { id.to_owned() } else { format!("{id}[{name}]") };
        all.push((at, key));
    }
    for words in behind.iter().filter(|words| !words.is_empty()) {
        let with = |(at, key): &(Vec<String>, String)| {
            let (at, key) = (at.clone(), key.clone());
            let one =
                move |word: &String| ([at.clone(), vec![word.clone()]].concat(), format!("{key} {word}"));
            words.iter().map(one).collect::<Vec<_>>()
        };
        all = all.iter().flat_map(with).collect();
    }
    all
}

fn run(places: &Places, name: &str, typed: Vec<String>) -> Result<Option<Vec<(String, String)>>, Diagnostic> {
    let mut words: Vec<String> = typed.iter().flat_map(|word| address_words(word)).collect();
    // A unit at the end is that of every bare number before it.
    let unit = words.last().filter(|word| Unit::find(word).is_some()).cloned();
    if unit.is_some() {
        words.pop();
    }
    let depth = places.all.first().map_or(0, |(at, _)| at.len());
    let mut address: Vec<String> = Vec::new();
    for word in &words {
        let fits = |(at, _): &(Vec<String>, String)| {
            at.starts_with(&address)
                && at.get(address.len()).is_some_and(|known| known.eq_ignore_ascii_case(word))
        };
        // The last word is a value, whatever it looks like.
        if address.len() == depth || address.len() + 1 == words.len() {
            break;
        }
        let Some((at, _)) = places.all.iter().find(|place| fits(place)) else { break };
        address.push(at[address.len()].clone());
    }
    let values = &words[address.len()..];
    let whole = address.len() == depth;
    // A whole number before others that have a point is a position that there isn't, and no value.
    let pointed = |word: &String| word.contains(['.', ',']);
    let digits = |word: &String| word.bytes().all(|byte| byte.is_ascii_digit());
    if !whole && values.len() > 1 && digits(&values[0]) && values[1..].iter().any(pointed) {
        return Ok(None);
    }
    let start = places.all.iter().position(|(at, _)| at.starts_with(&address)).unwrap_or_default();
    let rest = places.all[start..].iter().take_while(|(at, _)| whole || at.starts_with(&address));
    let mut rest = rest;
    let mut made = Vec::new();
    for typed in values {
        let (value, count) =
            match typed.rsplit_once('*').map(|(value, count)| (value, count.parse::<usize>())) {
                Some((value, Ok(count))) if count <= places.all.len() => (value, count),
                _ => (typed.as_str(), 1),
            };
        let text = match &unit {
            Some(unit) if Numeral::parse(&value.replace(',', ".")).is_some() => {
                let text = format!("{} {unit}", value.replace(',', "."));
                Quantity::parse(&text).is_ok().then_some(text)
            }
            _ => places.values.text(value),
        };
        if text.is_none() && value != "-" {
            return Ok(None);
        }
        for _ in 0..count {
            let Some((_, key)) = rest.next() else { return Err(errors::too_many_values(name, typed)) };
            made.extend(text.clone().map(|text| (key.clone(), text)));
        }
    }
    Ok((!made.is_empty()).then_some(made))
}

/// `2,inlet` typed as one word is two of an address; a comma in a number is its point.
fn address_words(word: &str) -> Vec<String> {
    let number = word.starts_with(|c: char| c.is_ascii_digit() || "-.,\u{2212}".contains(c))
        && word.chars().all(|c| c.is_ascii_digit() || "-.,*/\u{2212}".contains(c))
        && word.split(',').count() <= 2;
    if number || Quantity::parse(word).is_ok() {
        return vec![word.to_owned()];
    }
    word.split([',', ' ']).filter(|part| !part.is_empty()).map(str::to_owned).collect()
}
