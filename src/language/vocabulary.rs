//! From grammar rules to the words a user knows: what a complaint says was expected, and the words that could have
//! been meant.

use super::grammar::Rule;
use super::shape::Shape;
use crate::diagnostics::nearest;
use crate::english::alternatives;

/// The keyword that this rule matches, if it is the rule of a keyword.
pub(super) fn keyword(rule: Rule) -> Option<String> {
    let name = format!("{rule:?}");
    let word = name.strip_prefix("key_")?;
    Some(if word == "left_hand" { "left-hand".to_owned() } else { word.to_owned() })
}

/// The words of a closed list, if this is the rule of one.
pub(super) fn closed(list: Rule) -> Option<&'static [&'static str]> {
    Some(match list {
        Rule::end => &["front", "rear", "left", "right", "top", "below"],
        Rule::rotation => &["clockwise", "anticlockwise"],
        Rule::tool_kind => &["socket", "spanner", "wrench", "hoist", "puller", "measuring", "other"],
        Rule::set_kind => &["bolt", "stud", "nut", "screw", "hollow", "plug"],
        Rule::mark_kind => &["timing", "balance", "ours"],
        Rule::into_kind => &["iron", "aluminium", "insert", "steel"],
        Rule::lock => &["tab", "split pin", "wire", "stake", "thread-locker"],
        Rule::oiled => &["threads", "faces"],
        Rule::condition => &["fitted", "off", "supported", "tight", "slack", "out", "in"],
        Rule::signal => &["danger", "warning", "caution", "notice"],
        Rule::unit => UNITS,
        _ => return None,
    })
}

/// Every unit.
pub(super) const UNITS: &[&str] = &[
    "mm", "um", "m", "in", "thou", "N", "kN", "lbf", "N.m", "lbf.ft", "lbf.in", "kgf.m", "deg", "turn", "mL",
    "L", "cm3", "g", "kg", "lb", "s", "min", "h", "day", "kPa", "MPa", "bar", "psi", "degC", "degF", "rpm",
    "%", ":1",
];

/// What people write for a unit, and how it is written here.
const OTHER_UNITS: &[(&str, &str)] = &[
    ("nm", "N.m"),
    ("n-m", "N.m"),
    ("newtonmetre", "N.m"),
    ("newtonmetres", "N.m"),
    ("ftlb", "lbf.ft"),
    ("ftlbs", "lbf.ft"),
    ("ft-lb", "lbf.ft"),
    ("ft-lbs", "lbf.ft"),
    ("ft.lb", "lbf.ft"),
    ("ft.lbf", "lbf.ft"),
    ("lb.ft", "lbf.ft"),
    ("lb-ft", "lbf.ft"),
    ("lbft", "lbf.ft"),
    ("inlb", "lbf.in"),
    ("in-lb", "lbf.in"),
    ("in.lb", "lbf.in"),
    ("in.lbf", "lbf.in"),
    ("lb.in", "lbf.in"),
    ("kgm", "kgf.m"),
    ("kg.m", "kgf.m"),
    ("kpm", "kgf.m"),
    ("inch", "in"),
    ("inches", "in"),
    ("millimetre", "mm"),
    ("millimetres", "mm"),
    ("millimeter", "mm"),
    ("millimeters", "mm"),
    ("micron", "um"),
    ("microns", "um"),
    ("thousandths", "thou"),
    ("thous", "thou"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("turns", "turn"),
    ("rev", "turn"),
    ("revs", "turn"),
    ("c", "degC"),
    ("f", "degF"),
    ("litre", "L"),
    ("litres", "L"),
    ("liter", "L"),
    ("liters", "L"),
    ("ltr", "L"),
    ("millilitre", "mL"),
    ("millilitres", "mL"),
    ("cc", "cm3"),
    ("ccm", "cm3"),
    ("gram", "g"),
    ("grams", "g"),
    ("kgs", "kg"),
    ("kilo", "kg"),
    ("kilos", "kg"),
    ("lbs", "lb"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("sec", "s"),
    ("secs", "s"),
    ("second", "s"),
    ("seconds", "s"),
    ("mins", "min"),
    ("minute", "min"),
    ("minutes", "min"),
    ("hr", "h"),
    ("hrs", "h"),
    ("hour", "h"),
    ("hours", "h"),
    ("days", "day"),
    ("d", "day"),
    ("bars", "bar"),
    ("percent", "%"),
    ("newton", "N"),
    ("newtons", "N"),
];

/// The unit whose usual name is nearest to `written`, if it is near enough to be a slip.
pub(super) fn near_unit(written: &str) -> Option<&'static str> {
    let long = |name: &&'static str| name.len() > 1;
    let others = OTHER_UNITS.iter().map(|(other, _)| *other);
    let near = nearest(&written.to_ascii_lowercase(), UNITS.iter().copied().chain(others).filter(long))?;
    meant_unit(near)
}

/// The unit that was meant by `written`, if that can be told. A unit that is right gives itself.
pub(super) fn meant_unit(written: &str) -> Option<&'static str> {
    let small = written.trim_end_matches('.').to_ascii_lowercase();
    if let Some(unit) = UNITS.iter().find(|unit| **unit == written) {
        return Some(unit);
    }
    UNITS
        .iter()
        .find(|unit| unit.to_ascii_lowercase() == small)
        .or_else(|| OTHER_UNITS.iter().find(|(other, _)| *other == small).map(|(_, unit)| unit))
        .copied()
}

/// Words that people use for what this language calls something else: in braces, then outside.
const OTHER_WORDS: &[(&str, &str)] = &[
    ("remove", "take"),
    ("detach", "take"),
    ("loosen", "slacken"),
    ("unscrew", "undo"),
    ("unbolt", "undo"),
    ("install", "fit"),
    ("refit", "fit"),
    ("replace", "fit"),
    ("torque", "tighten"),
    ("measure", "gauge"),
    ("inspect", "look"),
    ("check", "look"),
    ("photograph", "photo"),
    ("picture", "photo"),
    ("rotate", "turn"),
    ("note", "do"),
    ("say", "do"),
    ("text", "do"),
    ("weight", "mass"),
    ("weighs", "mass"),
    ("requires", "needs"),
    ("need", "needs"),
    ("people", "hands"),
    ("duration", "time"),
    ("takes", "time"),
    ("warning", "hazard"),
    ("danger", "hazard"),
    ("caution", "hazard"),
    ("tool", "tools"),
    ("supply", "supplies"),
    ("consumables", "supplies"),
    ("spanner", "drive"),
    ("socket", "drive"),
    ("grade", "class"),
    ("material", "into"),
    ("bolt", "kind"),
    ("stud", "kind"),
    ("nut", "kind"),
    ("gloves", "wear"),
    ("below", "under"),
    ("beneath", "under"),
    ("covered", "under"),
    ("bolted", "held"),
    ("fixed", "held"),
    ("inside", "within"),
    ("limits", "made"),
    ("step", "strip"),
    ("teardown", "strip"),
    ("disassemble", "strip"),
    ("dismantle", "strip"),
    ("assemble", "build"),
    ("assembly", "build"),
    ("rebuild", "build"),
    ("inspection", "survey"),
    ("bolts", "fasteners"),
    ("studs", "fasteners"),
    ("nuts", "fasteners"),
    ("screws", "fasteners"),
    ("bolt", "fasteners"),
    ("nut", "fasteners"),
    ("stud", "fasteners"),
    ("screw", "fasteners"),
    ("component", "part"),
    ("engine", "family"),
    ("include", "use"),
    ("import", "use"),
    ("question", "ask"),
    ("consumable", "supply"),
    ("measurement", "gauge"),
    ("reading", "gauge"),
    ("flange", "joint"),
    ("warning", "hazard"),
    ("danger", "hazard"),
    ("caution", "hazard"),
    ("chapter", "section"),
    ("positions", "axis"),
    ("cylinders", "axis"),
];

/// The word of this language for `written`, among `words`: the same in small letters, the nearest, or what people
/// otherwise call it.
pub(super) fn meant_word<'w>(written: &str, words: &[&'w str]) -> Option<&'w str> {
    let small = written.to_ascii_lowercase();
    let same = words.iter().find(|word| **word == small && **word != written).copied();
    let other = || {
        let others = OTHER_WORDS.iter().filter(|(other, _)| *other == small);
        others.filter_map(|(_, meant)| words.iter().find(|word| *word == meant)).next().copied()
    };
    same.or_else(other).or_else(|| nearest(&small, words.iter().copied()))
}

/// A number as it could stand behind this word.
pub(super) fn example_number(word: &str) -> &'static str {
    match word {
        "mass" | "limit" => "`2 kg`",
        "time" | "wait" | "change" | "within" => "`25 min`",
        "drive" | "size" => "`13 mm`",
        "range" => "`20 N.m .. 120 N.m`",
        "tighten" => "`30 N.m`",
        "hands" | "edition" => "`2`",
        "quantity" => "`80 mL`",
        "price" => "`12.50 EUR`",
        "friction" => "`0.10 .. 0.16`",
        "clockwise" | "anticlockwise" | "runs" => "`90 deg`",
        _ => "`40 mm`",
    }
}

/// The first words of the clauses of a declaration, in the order of the grammar. A test holds this to the grammar.
pub(super) fn clause_words(shape: &Shape) -> &'static [&'static str] {
    match shape.declaration {
        Rule::family => &[
            "capacity", "data", "identify", "edition", "summary", "origin", "invented", "number", "turns",
            "left", "firing", "lifting",
        ],
        Rule::tool => &["drive", "size", "range", "special", "or", "kind"],
        Rule::supply => &["quantity", "open", "cure"],
        Rule::part => &[
            "under",
            "held",
            "within",
            "fate",
            "sealed",
            "mass",
            "lift",
            "way",
            "worn",
            "mark",
            "falls",
            "present",
            "matched",
            "sized",
            "select",
            "releases",
            "critical",
            "crack",
            "catalogue",
            "price",
            "supplier",
        ],
        Rule::fasteners => &[
            "thread",
            "class",
            "drive",
            "kind",
            "lengths",
            "length",
            "once",
            "reusable",
            "reuse",
            "into",
            "under",
            "oil",
            "tighten",
            "to",
            "blind",
            "stays",
            "engagement",
            "stand",
            "left-hand",
            "captive",
            "locked",
            "dry",
            "apply",
            "soft",
            "drag",
            "critical",
            "friction",
            "then",
            "catalogue",
            "price",
        ],
        Rule::joint => &[
            "clamps", "seen", "holes", "tighten", "gasket", "sequence", "pass", "critical", "friction",
            "then",
        ],
        Rule::gauge => &[
            "of",
            "unit",
            "stations",
            "directions",
            "made",
            "worn",
            "plausible",
            "instrument",
            "taken",
            "needs",
            "is",
            "bands",
            "sizes",
        ],
        Rule::look => &["of", "results", "by", "taken", "needs"],
        Rule::temporary => &["into", "may"],
        Rule::hazard => &["hazard", "consequence", "avoid", "wear"],
        Rule::ordering_rule => &["undo", "tighten", "for", "except"],
        Rule::group => &["strip", "survey", "build", "start"],
        _ => &[
            "take",
            "undo",
            "slacken",
            "fit",
            "put",
            "tighten",
            "nip",
            "retighten",
            "start",
            "gauge",
            "look",
            "set",
            "photo",
            "mark",
            "cap",
            "clean",
            "support",
            "do",
            "turn",
            "wait",
            "press",
            "heat",
            "send",
            "receive",
            "accept",
            "chase",
            "isolate",
            "dispose",
            "tools",
            "hazard",
            "hands",
            "time",
            "after",
            "with",
            "when",
            "each",
            "supplies",
            "if",
            "needs",
            "hold",
            "before",
            "straight",
            "strip",
            "except",
        ],
    }
}

/// The words that may go on from a place where this rule was tried, as far as they are fixed words.
pub(super) fn choices(rule: Rule) -> Vec<String> {
    if let Some(word) = keyword(rule) {
        return vec![word];
    }
    if let Some(words) = closed(rule) {
        return words.iter().map(|word| (*word).to_owned()).collect();
    }
    let words: &[&str] = match rule {
        Rule::act => &clause_words_of_step()[..27],
        Rule::fate => &["renew", "reuse", "clean", "by", "send", "size", "keep", "leave"],
        Rule::layout => &["at", "circle", "grid"],
        Rule::tightening => &["unknown", "general", "by"],
        Rule::amount_or_unknown | Rule::range_or_unknown => &["unknown"],
        Rule::turning => &["clockwise", "anticlockwise", "as"],
        Rule::one_way => &["to"],
        Rule::rule_side => &["smaller", "larger"],
        Rule::origin => &["from"],
        _ => return Vec::new(),
    };
    words.iter().map(|word| (*word).to_owned()).collect()
}

fn clause_words_of_step() -> &'static [&'static str] {
    Shape::of(Rule::step).map_or(&[], clause_words)
}

/// What was expected, in the words of a user. Nothing for what goes without saying.
pub(super) fn phrase(rule: Rule) -> Option<String> {
    if let Some(word) = keyword(rule) {
        return Some(format!("`{word}`"));
    }
    let text = match rule {
        Rule::name | Rule::position | Rule::reference | Rule::references | Rule::step_name | Rule::cover => {
            "a name"
        }
        Rule::quote | Rule::quotes | Rule::note | Rule::title => "a text in quotes",
        Rule::count => "a whole number",
        Rule::number | Rule::amount | Rule::range | Rule::span => "a number with its unit",
        Rule::amount_or_unknown | Rule::range_or_unknown => "a number with its unit, or `unknown`",
        Rule::unit => "a unit",
        Rule::currency => "a currency such as `EUR`",
        Rule::price => "a price such as `12.50 EUR`",
        Rule::hole | Rule::holes => "the letter of a hole, such as `A`",
        Rule::thread => "a thread such as `M12x1.25` or `3/8-16 UNC`",
        Rule::class => "a class such as `10.9` or `SAE 5`",
        Rule::comma => "`,`",
        Rule::equals => "`=`",
        Rule::dots => "`..`",
        Rule::point | Rule::points | Rule::place => "a point such as `(96, 0)`",
        Rule::setting | Rule::settings => "a name, `=` and its value",
        Rule::need => "a name and its condition, such as `cylinder_head off` or `coolant = drained`",
        Rule::station => "a station such as `top 10 mm`",
        Rule::band => "a band such as `good 0 mm .. 0.05 mm`",
        Rule::formula | Rule::term | Rule::factor | Rule::call => "a reading or a number",
        Rule::sum_sign | Rule::product_sign => "a sign such as `+` or `*`",
        Rule::fate => "a fate such as `renew` or `clean then reuse`",
        Rule::layout => "where the holes are: `at (0, 0) ... mm`, `circle` or `grid`",
        Rule::tightening | Rule::passes => "a torque such as `30 N.m`, or `general`, `by feel`, `unknown`",
        Rule::lengths => "a length such as `40 mm`",
        Rule::length_at => "a hole and its length, such as `A 40 mm`",
        Rule::turning => "`clockwise`, `anticlockwise` or `as it runs`",
        Rule::rule_side => "`smaller`, `larger` or the name of a set",
        Rule::origin => "`from` and where the number comes from",
        Rule::listed_value => "a value",
        Rule::value_mark => "`(at first)`",
        Rule::axis_range | Rule::axis_list => "positions such as `1 .. 3` or `inlet, exhaust`",
        Rule::in_place => "`in place`",
        Rule::axes | Rule::positions => "`[`",
        Rule::end
        | Rule::rotation
        | Rule::tool_kind
        | Rule::set_kind
        | Rule::mark_kind
        | Rule::into_kind
        | Rule::lock
        | Rule::oiled
        | Rule::condition
        | Rule::signal => return closed(rule).map(one_of),
        _ => return None,
    };
    Some(text.to_owned())
}

/// Words as a choice: "`a`, `b` or `c`".
pub(super) fn one_of<W: AsRef<str>>(words: &[W]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{}`", word.as_ref())).collect();
    alternatives(&quoted)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::grammar::read;

    /// Alternatives of a rule as the grammar files have them.
    fn alternatives(grammar: &str, rule: &str) -> Vec<String> {
        let start =
            grammar.lines().find(|line| line.split_whitespace().next() == Some(rule) && line.contains('='));
        let body = start.unwrap().split_once('{').unwrap().1.trim().trim_end_matches('}');
        body.split(" | ").map(|word| word.trim().to_owned()).collect()
    }

    fn first_words(grammar: &str, rule: &str) -> Vec<String> {
        let line = grammar
            .lines()
            .find(|line| line.split_whitespace().next() == Some(rule) && line.contains('='))
            .unwrap();
        let body = line.split_once('{').unwrap().1.trim();
        let first =
            body.trim_start_matches('(').split(" ~ ").next().unwrap().trim_end_matches([')', '}', ' ']);
        first
            .split(" | ")
            .map(|key| key.trim().trim_end_matches(')').trim_start_matches("key_").to_owned())
            .collect()
    }

    #[test]
    fn clause_words_are_those_of_the_grammar() {
        let grammar = [
            include_str!("../../grammar/parts.pest"),
            include_str!("../../grammar/joints.pest"),
            include_str!("../../grammar/readings.pest"),
            include_str!("../../grammar/rules.pest"),
            include_str!("../../grammar/steps.pest"),
        ]
        .concat();
        for shape in Shape::all().filter(|shape| shape.declaration != Rule::group) {
            let mut words: Vec<String> = Vec::new();
            for alternative in alternatives(&grammar, &format!("{:?}", shape.clause)) {
                let parts =
                    if alternative == "act" { alternatives(&grammar, "act") } else { vec![alternative] };
                for part in parts {
                    for word in first_words(&grammar, &part) {
                        let word = if word == "left_hand" { "left-hand".to_owned() } else { word };
                        if !words.contains(&word) {
                            words.push(word);
                        }
                    }
                }
            }
            assert_eq!(clause_words(shape), words, "{:?}", shape.declaration);
        }
    }

    #[test]
    fn closed_lists_are_those_of_the_grammar() {
        let grammar = include_str!("../../grammar/words.pest");
        for (rule, name) in [
            (Rule::end, "end"),
            (Rule::rotation, "rotation"),
            (Rule::tool_kind, "tool_kind"),
            (Rule::set_kind, "set_kind"),
            (Rule::mark_kind, "mark_kind"),
            (Rule::into_kind, "into_kind"),
            (Rule::lock, "lock"),
            (Rule::oiled, "oiled"),
            (Rule::condition, "condition"),
            (Rule::signal, "signal"),
            (Rule::unit, "unit"),
        ] {
            let line = grammar.lines().find(|line| line.split_whitespace().next() == Some(name)).unwrap();
            let listed = line.split('"').skip(1).step_by(2).filter(|word| {
                !["clockwise", "anticlockwise", "as ", "."].contains(word) || rule == Rule::rotation
            });
            let mut listed: Vec<&str> = listed.collect();
            let mut known = closed(rule).unwrap().to_vec();
            listed.sort_unstable();
            known.sort_unstable();
            assert_eq!(known, listed);
            for word in known {
                assert_eq!(read(rule, word).unwrap().as_str(), word);
            }
        }
    }

    #[test]
    fn every_other_unit_names_a_unit() {
        for (other, unit) in OTHER_UNITS {
            assert!(UNITS.contains(unit) && !UNITS.contains(other), "{other}");
        }
    }
}
