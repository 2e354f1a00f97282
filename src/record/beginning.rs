//! A procedure to the text of a new record: what is known, and as comments every blank that the procedure asks for.
//!
//! It must not know where the text goes.

use std::fmt::Write;

use super::Occasion;
use crate::procedure::model::{Deed, Gauge, GaugeId, Phase, Procedure};

/// The text of a record of which nothing is known yet, for a procedure that is reached from it by `path`. Every line
/// that asks for something is a comment: the text is a record as it stands.
pub(crate) fn beginning(procedure: &Procedure, path: &str, name: &str) -> String {
    let mut out = String::from(
        "# The record of one job. Take the `# ` before a line away and write behind it; a line over it that ends in a\n\
         # colon comes along. `benchleaf record` writes here too, and `benchleaf check` reads it through.\n",
    );
    line(&mut out, &format!("job: {}", quoted(name)), "number or name of the job");
    line(&mut out, &format!("procedure: {}", quoted(path)), "");
    if let Some(family) = &procedure.family {
        line(&mut out, &format!("family: {}", family.naming.id), "");
        if let Some(edition) = family.edition {
            line(&mut out, &format!("edition: {edition}"), "");
        }
        let stamped: Vec<&str> = family.identify.iter().map(|(place, _)| place.as_str()).collect();
        let stamped =
            if stamped.is_empty() { "what is stamped on it".to_owned() } else { stamped.join("; ") };
        line(&mut out, "# engine_no:", &stamped);
    }
    line(&mut out, "# customer:", "whose it is");
    line(&mut out, "# stand:", "which of the shop's stands it sits on, while it does");
    line(&mut out, "# crib: crib.yaml", "the shop's tools");
    line(&mut out, "# prices: prices.yaml", "");
    out.push_str("# intake:\n");
    for (key, says) in INTAKE {
        line(&mut out, &format!("#   {key}:"), says);
    }
    answers(&mut out, procedure);
    lengths(&mut out, procedure);
    readings(&mut out, procedure);
    looks(&mut out, procedure);
    out
}

/// What is asked when the engine comes in, with what an entry looks like.
const INTAKE: [(&str, &str); 7] = [
    ("received", "2026-03-05"),
    ("hours", "1200 h"),
    ("complaint", "in the owner's words"),
    ("came_with", "[\"a box of pipes\"]"),
    ("missing", "[\"dipstick\"]"),
    ("spend_limit", "500 EUR"),
    ("leave_to_strip", "true, once the owner has said so"),
];

fn line(out: &mut String, text: &str, says: &str) {
    match says {
        "" => writeln!(out, "{text}"),
        _ => writeln!(out, "{text:<40} # {}", says.replace('\n', " ")),
    }
    .expect("a string takes every word");
}

/// A text as YAML reads it back, whatever it holds.
fn quoted(text: &str) -> String {
    serde_json::to_string(text).expect("every text can be quoted")
}

fn answers(out: &mut String, procedure: &Procedure) {
    if procedure.asks.iter().next().is_some() {
        out.push_str("# answers:\n");
    }
    for ask in procedure.asks.iter() {
        let says = format!("{} {}", ask.naming.title, ask.answers.join(" or "));
        line(out, &format!("#   {}:", ask.naming.id), &says);
    }
}

/// Sets of which a length is asked, hole by hole.
fn lengths(out: &mut String, procedure: &Procedure) {
    use crate::procedure::model::Lengths;
    let asked = |said: &Lengths| *said == Lengths::Unknown;
    let sets: Vec<_> =
        procedure.sets.iter().filter(|set| set.lengths.values().any(|said| asked(&said.value))).collect();
    if !sets.is_empty() {
        out.push_str("# lengths:\n");
    }
    for set in sets {
        for place in procedure.places(&set.axes) {
            let name = procedure.placed(&set.naming.id, &set.axes, place);
            line(out, &format!("#   {}: {{A: , B: }}", quoted(&name)), "by hole, such as {A: 35 mm}");
        }
    }
}

/// Where a reading of a gauge may stand, as a record names it: place, station and direction.
fn blanks(procedure: &Procedure, gauge: &Gauge) -> Vec<String> {
    let none = [String::new()];
    let stations: Vec<String> = gauge.stations.iter().map(|(name, _)| format!(" {name}")).collect();
    let directions: Vec<String> = gauge.directions.iter().map(|name| format!(" {name}")).collect();
    let or_none = |list: &[String]| if list.is_empty() { none.to_vec() } else { list.to_vec() };
    let mut blanks = Vec::new();
    for place in procedure.places(&gauge.axes) {
        let name = procedure.placed(&gauge.naming.id, &gauge.axes, place);
        for station in or_none(&stations) {
            blanks.extend(or_none(&directions).iter().map(|way| format!("{name}{station}{way}")));
        }
    }
    blanks
}

/// Whether a step of these phases takes a reading of a gauge.
fn taken(procedure: &Procedure, gauge: GaugeId, phases: &[Phase]) -> bool {
    let takes = |deed: &Deed| matches!(deed, Deed::Gauge(gauges) if gauges.iter().any(|one| one.id == gauge));
    procedure.steps.iter().any(|step| phases.contains(&step.phase) && step.acts().any(|act| takes(&act.deed)))
}

fn readings(out: &mut String, procedure: &Procedure) {
    let phases = |occasion: Occasion| match occasion {
        Occasion::AsFound => &[Phase::Strip, Phase::Survey][..],
        Occasion::AsReturned => &[],
        Occasion::AsBuilt => &[Phase::Build, Phase::Start],
    };
    let mut begun = false;
    for (key, occasion) in Occasion::KEYS {
        let gauges: Vec<&Gauge> = procedure
            .gauges
            .numbered()
            .filter(|(id, gauge)| gauge.formula.is_none() && taken(procedure, *id, phases(occasion)))
            .map(|(_, gauge)| gauge)
            .collect();
        if gauges.is_empty() {
            continue;
        }
        if !begun {
            out.push_str("# readings:\n");
            begun = true;
        }
        writeln!(out, "#   {key}:").expect("a string takes every word");
        for gauge in gauges {
            let unit = gauge.unit.map_or("", |unit| unit.symbol);
            for blank in blanks(procedure, gauge) {
                line(out, &format!("#     {}:", quoted(&blank)), &format!("{unit}; {}", gauge.naming.title));
            }
        }
    }
}

fn looks(out: &mut String, procedure: &Procedure) {
    if procedure.looks.iter().next().is_some() {
        out.push_str("# looks:\n#   as_found:\n");
    }
    for look in procedure.looks.iter() {
        for place in procedure.places(&look.axes) {
            let name = procedure.placed(&look.naming.id, &look.axes, place);
            let says = format!("{}; {}", look.results.join(" or "), look.naming.title);
            line(out, &format!("#     {}:", quoted(&name)), &says);
        }
    }
}
