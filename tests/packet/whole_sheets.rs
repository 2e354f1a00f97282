//! Whole sheets of random small procedures and records, in mixed units: no limit is printed wider than it was written, no
//! torque on the other side of a wrench's scale, and no reading across a limit that it did not cross.

use proptest::prelude::*;

use super::words_of;
use benchleaf::model::Phase;
use benchleaf::{Only, PacketOptions};

/// A bore or a journal: its limits and a reading of it, as they are written.
#[derive(Debug, Clone)]
struct Gauged {
    grows: bool,
    low: Quantity,
    high: Quantity,
    worn: Quantity,
    read: Quantity,
}

/// A torque as it is written, a range for a castle nut.
#[derive(Debug, Clone)]
struct Tightened {
    low: Quantity,
    high: Option<Quantity>,
}

/// Units in metres and newton metres: exact factors, NIST SP 811 (2008) Appendix B.8.
const UNITS: [(&str, f64); 7] = [
    ("mm", 1e-3),
    ("in", 0.0254),
    ("thou", 2.54e-5),
    ("N·m", 1.0),
    ("lbf·ft", 1.355_817_948_331_400_4),
    ("lbf·in", 0.112_984_829_027_616_7),
    ("kgf·m", 9.806_65),
];

fn factor(unit: &str) -> f64 {
    UNITS.iter().find(|(symbol, _)| *symbol == unit).unwrap().1
}

/// A number with its unit, as a procedure has it, and what it comes to.
#[derive(Debug, Clone)]
struct Quantity {
    text: String,
    unit: &'static str,
    base: f64,
}

impl Quantity {
    fn rounded(base: f64, unit: &'static str, places: usize) -> Quantity {
        let number = format!("{:.places$}", base / factor(unit));
        let base = number.parse::<f64>().unwrap() * factor(unit);
        Quantity { text: format!("{number} {}", unit.replace('·', ".")), unit, base }
    }

    fn base(&self) -> f64 {
        self.base
    }
}

impl std::fmt::Display for Quantity {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

/// A length of some micrometres in one of the units of a bench, as it would be written in it.
fn length(micrometres: f64, unit: usize) -> Quantity {
    let (symbol, places) = [("mm", 3), ("in", 4), ("mm", 2), ("thou", 1)][unit];
    Quantity::rounded(micrometres * 1e-6, symbol, places)
}

fn torque(newton_metres: f64, unit: usize) -> Quantity {
    let (symbol, places) = [("N·m", 0), ("lbf·ft", 0), ("N·m", 1), ("kgf·m", 1)][unit];
    Quantity::rounded(newton_metres, symbol, places)
}

fn gauged() -> impl Strategy<Value = Gauged> {
    let sizes = (20_000.0..90_000.0_f64, 30.0..80.0_f64, 60.0..300.0_f64, -50.0..450.0_f64);
    (sizes, any::<bool>(), 0..4_usize, 0..4_usize, 0..4_usize).prop_map(|(sizes, grows, a, b, c)| {
        let (size, width, wear, at) = sizes;
        let (low, high) = (length(size, a), length(size + width, a));
        let (worn, read) =
            if grows { (size + width + wear, size + width + at) } else { (size - wear, size - at) };
        Gauged { grows, low, high, worn: length(worn, b), read: length(read, c) }
    })
}

fn tightened() -> impl Strategy<Value = Tightened> {
    (8.0..180.0_f64, 0..4_usize, any::<bool>()).prop_map(|(low, unit, range)| Tightened {
        low: torque(low, unit),
        high: range.then(|| torque(low * 1.4 + 3.0, unit)),
    })
}

/// The largest torque of the wrench that is declared; an awkward one in the other unit.
const WRENCH: &str = "tool wrench \"Torque wrench\" { kind wrench  drive 1/2 in  range 5 N.m .. 400 N.m }
tool little \"Little torque wrench\" { kind wrench  drive 3/8 in  range 5 lbf.ft .. 44 lbf.ft }
";

fn procedure(gauges: &[Gauged], torques: &[Tightened]) -> String {
    let mut text = format!(
        "family e \"E\" {{ edition 1  origin \"invented\"  invented }}\n{WRENCH}part lid \"Lid\" {{ fate reuse }}\n"
    );
    let mut measured = String::new();
    for (index, one) in gauges.iter().enumerate() {
        let Gauged { low, high, worn, .. } = one;
        text += &format!(
            "part piece_{index} \"Piece {index}\" {{ under lid  fate by size_{index} }}\ngauge size_{index} \"Size {index}\" {{ of piece_{index}  unit {}  made {low} .. {high} from \"invented\"  worn {worn} from \
             \"invented\"  instrument \"gauge\" resolution 0.001 mm }}\n",
            one.low.unit
        );
        measured += &format!("gauge size_{index}  ");
    }
    let (mut undone, mut held) = (String::new(), Vec::new());
    for (index, Tightened { low, high }) in torques.iter().enumerate() {
        let high = high.as_ref().map_or(String::new(), |high| format!(" .. {high}"));
        text += &format!(
            "fasteners nuts_{index} 2 \"Nut of set {index}\" {{ kind nut  thread M10x1.5  class 8  drive 17 mm  reusable  tighten {low}{high} from \"invented\" }}\n"
        );
        undone += &format!("undo nuts_{index}  ");
        held.push(format!("nuts_{index}"));
    }
    text = text.replace("\"Lid\" {", &format!("\"Lid\" {{ held by {} ", held.join(", ")));
    let taken: String = (0..gauges.len()).map(|index| format!("take piece_{index}  ")).collect();
    text + &format!(
        "strip off \"Off\" {{ {undone} take lid  {taken} }}\nsurvey measure \"Measure\" {{ {measured} }}\n"
    )
}

fn record(gauges: &[Gauged]) -> String {
    let readings = gauges.iter().enumerate().map(|(index, one)| format!("    size_{index}: {}\n", one.read));
    format!(
        "job: \"1\"\nprocedure: e.rebuild\ndone: {{off: {{by: HK, date: 2026-03-05}}, measure: {{by: HK, date: 2026-03-05}}}}\nreadings:\n  as_found:\n{}",
        readings.collect::<String>()
    )
}

/// Numbers with their printed unit in a text, as amounts in base units: `50.00 to 50.02 mm` has two.
fn amounts(text: &str) -> Vec<f64> {
    let mut found: Vec<(f64, Option<f64>)> = Vec::new();
    for word in text.replace(['(', ')', ',', ';', '\u{a0}'], " ").split_whitespace() {
        if let Ok(number) = word.parse::<f64>() {
            found.push((number, None));
        } else if let Some((_, factor)) = UNITS.iter().find(|(symbol, _)| *symbol == word) {
            for (_, open) in found.iter_mut().rev().take_while(|(_, known)| known.is_none()) {
                *open = Some(*factor);
            }
        }
    }
    found.iter().map(|(number, factor)| number * factor.unwrap_or(f64::NAN)).collect()
}

/// What stands behind a word up to the end of the bracket with the second unit.
fn behind<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let rest = &text[text.find(word)? + word.len()..];
    Some(rest.find(')').map_or(rest, |end| &rest[..end]))
}

/// How a number stands to a limit; what is equal but for the arithmetic is on it.
fn side(value: f64, limit: f64) -> i32 {
    let slack = 1e-9 * limit.abs();
    i32::from(value > limit + slack) - i32::from(value < limit - slack)
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_on_a_sheet_is_wider_than_it_was_written(
        gauges in prop::collection::vec(gauged(), 1..4),
        torques in prop::collection::vec(tightened(), 1..4),
    ) {
        let procedure = procedure(&gauges, &torques);
        let of = |phase| words_of(("e.rebuild", &procedure), &record(&gauges), &PacketOptions { all: true, ..PacketOptions::of(phase) });
        // The step alone has its limits in both units; among the others it is told in brief, its reading among the results.
        let alone = PacketOptions { all: true, only: Some(Only::Step(1)), ..PacketOptions::of(Phase::Survey) };
        let alone = words_of(("e.rebuild", &procedure), &record(&gauges), &alone);
        let (survey, build) = (alone + &of(Phase::Survey), of(Phase::Build));
        for (index, one) in gauges.iter().enumerate() {
            let title = format!("Size {index}");
            let mut lines = survey.lines().filter(|line| line.contains(&title) && line.contains("as made "));
            let line = lines.next().unwrap_or_else(|| panic!("no limits of {title} in\n{survey}"));
            let made = amounts(behind(line, "as made ").unwrap());
            prop_assert!(made.len() >= 4, "{line}");
            let (low, high) = (one.low.base(), one.high.base());
            prop_assert!(same(made[0], low) && same(made[1], high), "{line}");
            prop_assert!(side(made[2], low) >= 0 && side(made[3], high) <= 0, "wider: {line}");
            let worn = amounts(behind(line, "worn limit ").unwrap());
            prop_assert!(worn.len() >= 2 && same(worn[0], one.worn.base()), "{line}");
            let beyond = side(worn[1], one.worn.base());
            prop_assert!(if one.grows { beyond <= 0 } else { beyond >= 0 }, "wider: {line}");
            // Wherever the reading is shown, it stands to each limit as it was read.
            let mut seen = 0;
            for line in survey.lines().filter(|line| line.contains(&title)) {
                let begins = format!("{title} = ");
                let working = line.split(begins.as_str()).skip(1).map(|shown| {
                    let shown = shown.replace([':', ';', ','], " ");
                    let unit = shown.split_whitespace().find(|word| UNITS.iter().any(|(unit, _)| unit == word));
                    format!("{} {}", shown.split_whitespace().next().unwrap_or_default(), unit.unwrap_or("mm"))
                });
                let blank = line.split_once("):  ").map(|(_, blank)| blank.to_owned());
                for shown in working.chain(blank) {
                    let Some(value) = amounts(&shown).first().copied() else { continue };
                    seen += 1;
                    for limit in [low, high, one.worn.base()] {
                        prop_assert_eq!(side(value, limit), side(one.read.base(), limit), "{}", line);
                    }
                }
            }
            prop_assert!(seen > 0, "no reading of {title} in\n{survey}");
        }
        for (index, Tightened { low, high }) in torques.iter().enumerate() {
            let title = format!("uts of set {index} (a): ");
            let told = build.lines().filter_map(|line| Some((line, amounts(behind(line, &title)?))));
            let paired = |shown: &[f64]| shown.len() >= 2 && shown.iter().all(|amount| amount.is_finite());
            let found = told.into_iter().find(|(_, shown)| paired(shown));
            let (line, shown) = found.unwrap_or_else(|| panic!("no torque of {title} in\n{build}"));
            match high {
                Some(high) => {
                    prop_assert!(shown.len() >= 4 && same(shown[0], low.base()) && same(shown[1], high.base()), "{line}");
                    prop_assert!(side(shown[2], low.base()) >= 0 && side(shown[3], high.base()) <= 0, "wider: {line}");
                }
                None => {
                    prop_assert!(shown.len() >= 2 && same(shown[0], low.base()), "{line}");
                    // A third of ±4 %, and on no other side of an end of a wrench's scale.
                    prop_assert!((shown[1] / low.base() - 1.0).abs() <= 0.04 / 3.0 + 1e-9, "{line}");
                    let ends = [("N·m", 5.0), ("N·m", 400.0), ("lbf·ft", 5.0), ("lbf·ft", 44.0)].map(|(unit, end)| factor(unit) * end);
                    for end in ends.into_iter().filter(|end| side(low.base(), *end) != 0) {
                        prop_assert_eq!(side(shown[1], end), side(low.base(), end), "{}", line);
                    }
                }
            }
        }
    }
}
