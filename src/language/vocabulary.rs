//! From grammar rules to the words a user knows: what a complaint says was expected, and the words that could have
//! been meant.

use super::grammar::Rule;
use super::lower::{ACTS, FATES};
use super::row::Row;
use crate::diagnostics::nearest;
use crate::english::one_of;
use crate::quantity::Unit;

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
        Rule::toward => &["left", "right", "up", "down"],
        Rule::cycle_kind => &["two-stroke", "four-stroke"],
        Rule::dead_centre => &["bottom", "top"],
        Rule::rotation => &["clockwise", "anticlockwise"],
        Rule::tool_kind => &["socket", "spanner", "wrench", "hoist", "puller", "measuring", "other"],
        Rule::part_kind => &["gasket", "seal", "spring", "bearing", "running"],
        Rule::carried => &["coolant", "current", "fuel", "oil", "pressure"],
        Rule::set_kind => &["bolt", "stud", "nut", "screw", "hollow", "plug"],
        Rule::mark_kind => &["timing", "balance", "ours"],
        Rule::into_kind => &["iron", "aluminium", "insert", "steel"],
        Rule::lock => &["tab", "split pin", "wire", "stake", "thread-locker"],
        Rule::oiled => &["threads", "faces"],
        Rule::condition => &["fitted", "off", "supported", "tight", "slack", "out", "in"],
        Rule::signal => &["danger", "warning", "caution", "notice"],
        _ => return None,
    })
}

/// The unit that was meant by `written`: one that is known by that name, or whose usual name is near enough for a slip.
pub(super) fn meant_unit(written: &str) -> Option<&'static str> {
    let small = written.to_ascii_lowercase();
    let near = || {
        let long = |spelling: &&str| spelling.len() > 1;
        let near = nearest(&small, Unit::spellings().map(|(spelling, _)| spelling).filter(long))?;
        Unit::nearest(near)
    };
    Unit::nearest(written).or_else(near).map(|unit| unit.symbol)
}

/// What this language calls a thing, and what people call it otherwise. A word that means one thing in braces and
/// another outside stands in both rows.
const OTHER_WORDS: &[(&str, &[&str])] = &[
    ("take", &["remove", "detach"]),
    ("slacken", &["loosen"]),
    ("undo", &["unscrew", "unbolt"]),
    ("fit", &["install", "refit", "replace"]),
    ("tighten", &["torque"]),
    ("gauge", &["measure", "measurement", "reading"]),
    ("look", &["inspect", "check"]),
    ("photo", &["photograph", "picture"]),
    ("turn", &["rotate"]),
    ("do", &["note", "say", "text"]),
    ("mass", &["weight", "weighs"]),
    ("needs", &["requires", "need"]),
    ("hands", &["people"]),
    ("time", &["duration", "takes"]),
    ("hazard", &["warning", "danger", "caution"]),
    ("tools", &["tool"]),
    ("supplies", &["supply", "consumables"]),
    ("drive", &["spanner", "socket"]),
    ("class", &["grade"]),
    ("into", &["material"]),
    ("kind", &["bolt", "stud", "nut"]),
    ("wear", &["gloves"]),
    ("under", &["below", "beneath", "covered"]),
    ("held", &["bolted", "fixed"]),
    ("within", &["inside"]),
    ("made", &["limits"]),
    ("strip", &["step", "teardown", "disassemble", "dismantle"]),
    ("build", &["assemble", "assembly", "rebuild"]),
    ("survey", &["inspection"]),
    ("fasteners", &["bolts", "studs", "nuts", "screws", "bolt", "nut", "stud", "screw"]),
    ("part", &["component"]),
    ("family", &["engine"]),
    ("use", &["include", "import"]),
    ("ask", &["question"]),
    ("supply", &["consumable"]),
    ("joint", &["flange"]),
    ("section", &["chapter"]),
    ("axis", &["positions", "cylinders"]),
];

/// The word of this language for `written`, among `words`: the same in small letters, the nearest, or what people
/// otherwise call it.
pub(super) fn meant_word<'w>(written: &str, words: &[&'w str]) -> Option<&'w str> {
    let small = written.to_ascii_lowercase();
    let same = words.iter().find(|word| **word == small && **word != written).copied();
    let other = || {
        let mut rows = OTHER_WORDS.iter().filter(|(_, others)| others.contains(&small.as_str()));
        rows.find_map(|(meant, _)| words.iter().find(|word| *word == meant)).copied()
    };
    same.or_else(other).or_else(|| nearest(&small, words.iter().copied()))
}

/// A number as it could stand behind this word.
pub(super) fn example_number(word: &str) -> &'static str {
    match word {
        "mass" | "limit" => "`2 kg`",
        "less" => "`10 %`",
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

/// The words that may go on from a place where this rule was tried, as far as they are fixed words.
pub(super) fn choices(rule: Rule) -> Vec<String> {
    if let Some(word) = keyword(rule) {
        return vec![word];
    }
    let words: &[&str] = match rule {
        Rule::unit => return Unit::all().iter().map(|unit| unit.symbol.to_owned()).collect(),
        Rule::act | Rule::acted => {
            return ACTS.iter().flat_map(Row::first_words).map(str::to_owned).collect();
        }
        Rule::fate => return FATES.iter().flat_map(Row::first_words).map(str::to_owned).collect(),
        Rule::layout => &["at", "circle", "grid"],
        Rule::tightening | Rule::tightenings | Rule::tightening_case => &["unknown", "general", "by"],
        Rule::amount_or_unknown | Rule::range_or_unknown | Rule::amount_case | Rule::range_case => {
            &["unknown"]
        }
        Rule::turning => &["clockwise", "anticlockwise", "as"],
        Rule::one_way => &["to"],
        Rule::rule_side => &["smaller", "larger"],
        Rule::origin => &["from"],
        list => closed(list).unwrap_or_default(),
    };
    words.iter().map(|word| (*word).to_owned()).collect()
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
        Rule::quote | Rule::quotes | Rule::text_case | Rule::note | Rule::title => "a text in quotes",
        Rule::count => "a whole number",
        Rule::number | Rule::amount | Rule::range | Rule::span | Rule::limits => "a number with its unit",
        Rule::amount_or_unknown | Rule::range_or_unknown | Rule::amount_case | Rule::range_case => {
            "a number with its unit, or `unknown`"
        }
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
        Rule::tightening | Rule::tightenings | Rule::tightening_case | Rule::passes => {
            "a torque such as `30 N.m`, or `general`, `by feel`, `unknown`"
        }
        Rule::lengths | Rule::length | Rule::length_case => "a length such as `40 mm`",
        Rule::length_at => "a hole and its length, such as `A 40 mm`",
        Rule::turning => "`clockwise`, `anticlockwise` or `as it runs`",
        Rule::rule_side => "`smaller`, `larger` or the name of a set",
        Rule::origin => "`from` and where the number comes from",
        Rule::listed_value => "a value",
        Rule::value_mark => "`(at first)`",
        Rule::axis_range | Rule::axis_list => "positions such as `1 .. 3` or `inlet, exhaust`",
        Rule::in_place => "`in place`",
        Rule::axes | Rule::positions => "`[`",
        Rule::turns_until => "a number with its unit",
        Rule::turn_target => "`to`, a cylinder and where it is to stand, such as `to cyl 2 bottom`",
        Rule::end
        | Rule::toward
        | Rule::cycle_kind
        | Rule::dead_centre
        | Rule::rotation
        | Rule::tool_kind
        | Rule::part_kind
        | Rule::carried
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
