//! Units, conversion, parsing and rounding for print.

use benchleaf::language::parse;
use benchleaf::language::tree::{Item, PartClause};
use benchleaf::quantity::{
    Angle, Bound, Dimension, Force, Length, Mass, Numeral, ParseError, Pressure, Quantity, Ratio,
    Temperature, Torque, Unit, Volume, counterpart, limit_pair, pair, places_in_doubt, range_pair, rounded,
    setting_counterpart, setting_pair, share_of, tells, with_doubt,
};
use benchleaf::source::FileId;
use proptest::prelude::*;

fn quantity(text: &str) -> Quantity {
    Quantity::parse(text).expect("a quantity of the table")
}

/// Exact factors: NIST SP 811 (2008) Appendix B.8 as products of 0.3048 m, 0.45359237 kg and 9.80665 m/s²;
/// the digits were read from the output of scipy.constants 1.17.1 and pint 0.25.3.
const FACTORS: [(&str, f64); 22] = [
    ("1 lbf.ft", 1.355_817_948_331_400_4),
    ("1 lbf.in", 0.112_984_829_027_616_7),
    ("1 kgf.m", 9.806_65),
    ("1 lbf", 4.448_221_615_260_5),
    ("1 psi", 6_894.757_293_168_361),
    ("1 thou", 2.54e-5),
    ("1 in", 0.0254),
    ("1 lb", 0.453_592_37),
    ("1 bar", 1e5),
    ("1 MPa", 1e6),
    ("1 cm3", 1e-6),
    ("1 deg", std::f64::consts::PI / 180.0),
    ("60 rpm", std::f64::consts::TAU),
    ("1 day", 86_400.0),
    ("1 kgf/cm2", 98_066.5),
    ("1 kgf.cm", 0.098_066_5),
    ("1 cN.m", 0.01),
    ("1 N/mm", 1_000.0),
    ("1 lbf/in", 175.126_835_246_476_37),
    ("1 in3", 1.638_706_4e-5),
    ("250 %", 2.5),
    ("2.5:1", 2.5),
];

#[test]
fn factors_are_exact() {
    for (text, expected) in FACTORS {
        let base = quantity(text).base();
        assert!((base / expected - 1.0).abs() < 4e-16, "{text}: {base:e} instead of {expected:e}");
    }
}

#[test]
fn temperature_scales_have_their_offsets() {
    // ISO 1 reference temperature; 32 °F is the melting point of ice by definition of the scale.
    assert!((Temperature::try_from(quantity("20 degC")).unwrap().kelvin() - 293.15).abs() < 1e-9);
    assert!((Temperature::try_from(quantity("68 degF")).unwrap().celsius() - 20.0).abs() < 1e-9);
    assert!(Temperature::try_from(quantity("32 degF")).unwrap().celsius().abs() < 1e-9);
    assert_eq!(pair(quantity("210 degF")).to_string(), "210 °F (99 °C)");
}

#[test]
fn numbers_and_inch_fractions_print_back_as_written() {
    for text in [
        "82 N.m",
        "0.050 mm",
        "7/16 in",
        "1 1/2 in",
        "-5 degC",
        "95.0 lbf.ft",
        "6 L",
        "4 min",
        "0 %",
        "9.4:1",
    ] {
        assert_eq!(quantity(text).to_string(), text);
    }
    assert!((Length::try_from(quantity("7/16 in")).unwrap().mm() - 11.1125).abs() < 1e-12);
    assert!((Length::try_from(quantity("1 1/2 in")).unwrap().mm() - 38.1).abs() < 1e-12);
    assert_eq!(quantity("90deg").printed(), "90°");
    assert_eq!(quantity("82 N.m").printed(), "82 N·m");
    assert_eq!(quantity("9.4 :1").printed(), "9.4:1");
}

#[test]
fn what_is_no_quantity_says_why() {
    let nearest = |text: &str| match Quantity::parse(text) {
        Err(ParseError::UnknownUnit { nearest, .. }) => nearest.map(|unit| unit.symbol),
        other => panic!("{text}: {other:?}"),
    };
    for (text, meant) in [
        ("82 Nm", "N.m"),
        ("82 N·m", "N.m"),
        ("60 ft-lb", "lbf.ft"),
        ("60 lb.ft", "lbf.ft"),
        ("50 in.lbs", "lbf.in"),
        ("6 l", "L"),
        ("5 ML", "mL"),
        ("90 degrees", "deg"),
        ("90°", "deg"),
        ("30 µm", "um"),
        ("20 °C", "degC"),
        ("2 Mpa", "MPa"),
        ("1/2\"", "in"),
    ] {
        assert_eq!(nearest(text), Some(meant), "{text}");
    }
    assert_eq!(nearest("3 parsecs"), None);
    for text in ["-300 degC", "-460 degF", "-273.16 degC"] {
        assert!(matches!(Quantity::parse(text), Err(ParseError::TooCold { .. })), "{text}");
    }
    assert!(Quantity::parse("-273.15 degC").is_ok() && Quantity::parse("-300 K").is_ok());
    for text in ["1e5 mm", "1,5 mm", "1/0 in", "5- mm", "1..2 mm", ".5 mm", "--5 mm", "1/2/3 in", "1 2 mm"] {
        assert!(Quantity::parse(text).is_err(), "{text}");
    }
    assert_eq!(Quantity::parse("82"), Err(ParseError::NoUnit { number: "82".into() }));
    assert_eq!(Quantity::parse("N.m"), Err(ParseError::NoNumber { text: "N.m".into() }));
    assert!(Quantity::parse("").is_err());
}

#[test]
fn the_wrong_dimension_names_the_quantity_and_what_was_expected() {
    let error = Length::try_from(quantity("82 N.m")).unwrap_err();
    assert_eq!(error.to_string(), "`82 N.m` is a torque, where a length was expected");
    assert_eq!(error.mend().text(), "give a length in `mm`, `um`, `cm`, `m`, `in`, `thou`");
}

#[test]
fn a_torque_is_not_an_energy() {
    assert_ne!(Dimension::TORQUE, Dimension::FORCE * Dimension::LENGTH);
    assert_eq!(Dimension::TORQUE * Dimension::ANGLE, Dimension::FORCE * Dimension::LENGTH);
}

/// What stands on a sheet. Where a source is named, it prints the pair in a manual for the same torque or
/// length; the rest follow from the rule at the head of `quantity::pair`.
#[test]
fn pairs_claim_neither_too_much_nor_too_little() {
    for (text, expected) in [
        ("82 N.m", "82 N·m (60 lbf·ft)"),
        ("40 N.m", "40 N·m (29.5 lbf·ft)"), // US Army TM 10-3930-669-20, read
        ("41 lbf.ft", "41 lbf·ft (56 N·m)"), // US Army TM 9-2815-255-24, read
        ("30 lbf.ft", "30 lbf·ft (41 N·m)"), // US Army TB 9-2320-273-13&P-1, read
        ("100 lbf.in", "100 lbf·in (11.3 N·m)"), // US Army TB 43-0218 prints 11, read
        ("8 N.m", "8 N·m (5.9 lbf·ft)"),
        ("24 N.m", "24 N·m (17.7 lbf·ft)"),
        ("610 N.m", "610 N·m (450 lbf·ft)"),
        ("10 kgf.m", "10 kgf·m (72 lbf·ft)"),
        ("0.05 mm", "0.05 mm (0.0020 in)"),
        ("0.1 mm", "0.1 mm (0.0039 in)"), // US Army TM 10-3930-653-14&P prints 0.004, read
        ("0.025 mm", "0.025 mm (0.0010 in)"), // US Army TM 5-3805-281-24-2, read
        ("0.107 mm", "0.107 mm (0.0042 in)"), // the same, read
        ("0.002 in", "0.002 in (0.051 mm)"),
        ("0.0135 in", "0.0135 in (0.343 mm)"), // US Army TM 55-1905-223-24-1, read
        ("0.540 in", "0.540 in (13.716 mm)"),  // US Army TM 5-2815-241-34&P prints 13.72, read
        ("2 thou", "2 thou (0.051 mm)"),
        ("7/16 in", "7/16 in (11.113 mm)"),
        ("50 mm", "50 mm (1.9685 in)"),
        ("50.00 mm", "50.00 mm (1.9685 in)"),
        ("1 mm", "1 mm (0.0394 in)"),
        ("0 mm", "0 mm (0 in)"),
        ("38 kg", "38 kg (84 lb)"),
        ("12 kN", "12 kN (2700 lbf)"),
        ("3 bar", "3 bar (44 psi)"),
        ("90 deg", "90°"),
        ("6 L", "6 L"),
    ] {
        assert_eq!(pair(quantity(text)).to_string(), expected, "{text}");
    }
    assert_eq!(rounded(52_345.6, Unit::find("N").unwrap()).to_string(), "52300 N");
    assert_eq!(rounded(73.02, Unit::find("N.m").unwrap()).to_string(), "73 N.m");
}

/// Both ends to the same step, and in the second unit inward; the numbers follow from 25.4 mm to the inch and 1.3558 N·m to
/// the pound-force foot.
#[test]
fn a_limit_is_never_wider_in_the_second_unit() {
    for (low, high, expected) in [
        ("52 mm", "52.019 mm", "52.000 to 52.019 mm (2.04725 to 2.04799 in)"),
        ("2 in", "2.001 in", "2.000 to 2.001 in (50.800 to 50.825 mm)"),
        ("3 in", "3.002 in", "3.000 to 3.002 in (76.20 to 76.25 mm)"),
        ("80 mm", "80.02 mm", "80.00 to 80.02 mm (3.14961 to 3.15039 in)"),
        ("0.70 mm", "0.90 mm", "0.70 to 0.90 mm (0.0276 to 0.0354 in)"),
        ("45 N.m", "59 N.m", "45 to 59 N·m (33.2 to 43.5 lbf·ft)"),
        ("40 N.m", "60 N.m", "40 to 60 N·m (29.6 to 44.2 lbf·ft)"),
        ("80 degC", "90 degC", "80 to 90 °C (176 to 194 °F)"),
        ("10 K", "20 K", "10 to 20 K"),
    ] {
        assert_eq!(range_pair(quantity(low), quantity(high)).to_string(), expected);
    }
    for (limit, bound, expected) in [
        ("51.9 mm", Bound::Least, "51.9 mm (2.0434 in)"),
        ("51.9 mm", Bound::Most, "51.9 mm (2.0433 in)"),
        ("1.99 in", Bound::Least, "1.99 in (50.546 mm)"),
        ("0.04 mm", Bound::Most, "0.04 mm (0.00157 in)"),
        ("25 kg", Bound::Most, "25 kg (55 lb)"),
        ("120 degC", Bound::Most, "120 °C (248 °F)"),
    ] {
        assert_eq!(limit_pair(quantity(limit), Some(bound)).to_string(), expected);
    }
}

/// A second opinion over all kinds, a million ranges, limits and readings: the printed text is read back, and held against
/// the exact amounts.
#[test]
fn nothing_printed_is_wider_than_its_limit_or_across_it() {
    let mut state: u64 = 0x9e37_79b9_7f4a_7c15;
    let mut random = move |below: u64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state % below
    };
    let number = |text: &str| text.parse::<f64>().unwrap();
    let mut narrower = 0;
    for _ in 0..400_000 {
        let unit = &Unit::all()[random(Unit::all().len() as u64) as usize];
        let (places, more) = (random(5) as u8, random(3) as u8);
        let step = 10f64.powi(-i32::from(places));
        let start = random(100_000) as f64 * step;
        let width = (1 + random(5_000)) as f64 * step / 10f64.powi(i32::from(more));
        let low = Quantity::new(Numeral::rounded(start, places), unit);
        let high = Quantity::new(Numeral::rounded(start + width, places + more), unit);
        let range = range_pair(low, high);
        let decimals = |text: &str| text.split_once('.').map_or(0, |(_, after)| after.len());
        if let Some(second) = &range.secondary {
            let other = counterpart(high).unwrap().unit();
            let (a, b) = second.strip_suffix(&other.behind()).unwrap().split_once(" to ").unwrap();
            let (exact_low, exact_high) = (other.number_for(low.base()), other.number_for(high.base()));
            let slack = 1e-11 * exact_high.abs();
            assert!(
                number(a) >= exact_low - slack && number(b) <= exact_high + slack,
                "{low} {high}: {range}"
            );
            assert!(number(a) <= number(b) && decimals(a) == decimals(b), "{low} {high}: {range}");
            narrower += 1;
        }
        let (a, b) = range.primary.split_once(" to ").unwrap();
        let b = b.strip_suffix(":1").unwrap_or(b).trim_end_matches(|c: char| !c.is_ascii_digit());
        assert_eq!(decimals(a), decimals(b), "{range}");
    }
    assert!(narrower > 200_000, "{narrower}");
    for _ in 0..300_000 {
        let unit = &Unit::all()[random(Unit::all().len() as u64) as usize];
        let places = random(6) as u8;
        let limit = Quantity::new(
            Numeral::rounded(random(100_000) as f64 / 10f64.powi(i32::from(places)), places),
            unit,
        );
        for bound in [Bound::Least, Bound::Most] {
            let Some(second) = limit_pair(limit, Some(bound)).secondary else { continue };
            let other = counterpart(limit).unwrap().unit();
            let shown = number(second.strip_suffix(&other.behind()).unwrap());
            let exact = other.number_for(limit.base());
            let slack = 1e-11 * exact.abs();
            let within = match bound {
                Bound::Least => shown >= exact - slack,
                Bound::Most => shown <= exact + slack,
            };
            assert!(within, "{limit} {bound:?}: {second}");
        }
    }
    for _ in 0..100_000 {
        // A setting between the ends of two scales, and often on one.
        let units: Vec<&Unit> =
            Unit::all().iter().filter(|unit| unit.dimension == Dimension::TORQUE).collect();
        let unit = units[random(units.len() as u64) as usize];
        let setting = Quantity::new(Numeral::rounded((1 + random(4_000)) as f64 / 10.0, 1), unit);
        let way = random(3);
        let mut end = |bound: Bound, side: f64| {
            let on = random(3) == 0;
            let own = units[random(units.len() as u64) as usize];
            let off = 1.0 + side * (1 + random(300)) as f64 / 1e4;
            let places = random(3) as u8;
            let coarse = Numeral::rounded(own.number_for(setting.base() * off), places).value();
            (if on { setting.base() } else { own.to_base(coarse) }, bound)
        };
        let limits = match way {
            0 => vec![end(Bound::Most, 1.0)],
            1 => vec![end(Bound::Least, -1.0)],
            _ => vec![end(Bound::Least, -1.0), end(Bound::Most, 1.0)],
        };
        let on = |limit: f64| (limit - setting.base()).abs() <= 1e-9 * limit.abs();
        // Of two scales that meet in the setting one has to be left, and what isn't on a scale has no place there.
        let held = |(limit, bound): &(f64, Bound)| match bound {
            Bound::Most => setting.base() <= *limit || on(*limit),
            Bound::Least => setting.base() >= *limit || on(*limit),
        };
        if !limits.iter().all(held) || limits.iter().filter(|(limit, _)| on(*limit)).count() > 1 {
            continue;
        }
        let Some(shown) = setting_counterpart(setting, &limits) else { continue };
        for (limit, bound) in &limits {
            let (shown, slack) = (shown.base(), 2e-9 * limit.abs());
            let stays = match bound {
                Bound::Most => shown <= limit + slack,
                Bound::Least => shown >= limit - slack,
            };
            assert!(stays, "{setting} is shown as {shown} against {limit} {bound:?}");
        }
        assert!((shown.base() / setting.base() - 1.0).abs() < 0.014, "{setting} is shown as {shown}");
    }
    for _ in 0..300_000 {
        // What is computed from readings, so that it lies between their steps, and its doubt.
        let unit = &Unit::all()[random(Unit::all().len() as u64) as usize];
        let number = (random(2_000_001) as f64 - 1_000_000.0) / (1 + random(9_999)) as f64;
        let doubt = (1 + random(999)) as f64 / 10f64.powi(random(6) as i32);
        if doubt <= 1e-8 * number.abs() {
            continue;
        }
        let (value, off) = (unit.to_base(number), doubt * unit.scale());
        let places = places_in_doubt(value, off, Some(unit), random(4) as u8);
        let printed = with_doubt(value, off, Some(unit), places);
        let (shown, rest) = printed.split_once(" ± ").unwrap();
        let rest = rest.strip_suffix(&unit.behind()).unwrap();
        let (shown, most) = (shown.parse::<f64>().unwrap(), rest.parse::<f64>().unwrap());
        let slack = 1e-6 * doubt + 1e-9 * number.abs();
        assert!(
            shown - most <= number - doubt + slack && shown + most >= number + doubt - slack,
            "{number} ± {doubt}: {printed}"
        );
        assert!((shown - number).abs() <= 0.26 * doubt + slack, "{number} ± {doubt}: {printed}");
    }
    for _ in 0..300_000 {
        // A reading on or near a limit, in thousandths and their parts.
        let limit = random(100_000) as f64 / 1000.0;
        let off = (random(200_001) as f64 - 100_000.0) / 10f64.powi(3 + random(4) as i32);
        let reading = limit + if random(4) == 0 { 0.0 } else { off };
        let places = tells(reading, random(4) as u8, &[limit]);
        let shown = Numeral::rounded(reading, places).value();
        let against = |value: f64| {
            if (value - limit).abs() <= 1e-9 * limit.max(value.abs()) {
                0
            } else if value > limit {
                1
            } else {
                -1
            }
        };
        assert_eq!(against(shown), against(reading), "{reading} against {limit} shown as {shown}");
    }
}

#[test]
fn symbols_are_distinct_and_found() {
    for (index, unit) in Unit::all().iter().enumerate() {
        assert_eq!(Unit::find(unit.symbol), Some(unit));
        assert!(Unit::all()[..index].iter().all(|other| other.symbol != unit.symbol), "{}", unit.symbol);
    }
}

#[test]
fn every_unit_is_known_to_the_language_and_to_the_command_line() {
    for unit in Unit::all() {
        let written = Quantity::new(Numeral::rounded(5.0, 0), unit);
        assert_eq!(Quantity::parse(&written.to_string()), Ok(written));
        // Behind the unit stands the next clause, which is no part of it.
        let text = format!("part piston {{ mass {written} critical mass {written}\n critical }}");
        let parsed = parse(FileId(0), &text);
        assert!(parsed.diagnostics.is_empty(), "{text}: {:?}", parsed.diagnostics);
        let [Item::Part(part)] = parsed.value.items.as_slice() else { panic!("{text}") };
        let units: Vec<Option<&str>> = part
            .clauses
            .iter()
            .map(|clause| match &clause.value {
                PartClause::Mass(amount) => amount.unit.as_ref().map(|unit| unit.value.as_str()),
                _ => None,
            })
            .collect();
        assert_eq!(units, [Some(unit.symbol), None, Some(unit.symbol), None], "{text}");
    }
}

#[test]
fn a_slip_is_told_in_the_same_words_everywhere() {
    for (slip, unit) in Unit::spellings().skip(Unit::all().len()) {
        assert_eq!(Unit::nearest(slip), Some(unit), "{slip}");
        let ParseError::UnknownUnit { nearest, .. } = Quantity::parse(&format!("5 {slip}")).unwrap_err()
        else {
            panic!("{slip}")
        };
        assert_eq!(nearest, Some(unit), "{slip}");
        // Signs that no text holds outside of quotes are told as such by the language.
        if slip.chars().all(|letter| letter.is_ascii_alphanumeric()) {
            let [fault] =
                parse(FileId(0), &format!("part piston {{ mass 5 {slip} }}")).diagnostics.try_into().unwrap();
            assert_eq!(fault.code.name, "language/unknown-unit", "{slip}");
            let said = format!("{:?}", fault.mend);
            assert!(said.contains(&format!("`{}`", unit.symbol)), "{slip}: {said}");
        }
    }
}

proptest! {
    #[test]
    fn conversions_round_trip(value in -1e6..1e6f64, index in 0..Unit::all().len()) {
        let unit = &Unit::all()[index];
        let back = unit.number_for(unit.to_base(value));
        prop_assert!((back - value).abs() <= 1e-9 + 1e-12 * value.abs(), "{} {}: {}", value, unit.symbol, back);
    }

    #[test]
    fn what_is_written_reads_back(digits in 0..1_000_000u32, places in 0..6u8, index in 0..Unit::all().len()) {
        let value = f64::from(digits) / 10f64.powi(i32::from(places));
        let written = Quantity::new(Numeral::rounded(value, places), &Unit::all()[index]);
        prop_assert_eq!(Quantity::parse(&written.to_string()), Ok(written));
    }

    #[test]
    fn the_second_unit_is_near_the_first(digits in 1..100_000u32, places in 0..4u8, index in 0..Unit::all().len()) {
        let value = f64::from(digits) / 10f64.powi(i32::from(places));
        let first = Quantity::new(Numeral::rounded(value, places), &Unit::all()[index]);
        if let Some(second) = counterpart(first) {
            prop_assert_eq!(second.dimension(), first.dimension());
            // Half a step of the finest that is shown, or the share by which rounding may move a value.
            let finest = match second.unit().symbol { "in" => 0.00005, "mm" => 0.0005, "degC" | "degF" => 0.5, _ => 0.0 };
            let shift = (second.base() - first.base()).abs();
            let allowed = (finest * second.unit().scale()).max(0.04 / 3.0 * first.base().abs());
            prop_assert!(shift <= allowed * 1.000_001, "{} became {}", first, second);
        }
    }

    #[test]
    fn kinds_keep_their_amount(value in 0.001..1e4f64) {
        let near = |a: f64| (a / value - 1.0).abs() < 1e-12;
        prop_assert!(near(Length::from_mm(value).mm()) && near(Length::from_inches(value).inches()));
        prop_assert!(near(Torque::from_pound_force_inches(value).pound_force_feet() * 12.0));
        prop_assert!(near(Force::from_pounds_force(value).pounds_force()) && near(Mass::from_pounds(value).pounds()));
        prop_assert!(near(Pressure::from_psi(value).psi()) && near(Angle::from_degrees(value).turns() * 360.0));
        prop_assert!(near(Volume::from_litres(value).cubic_centimetres() / 1e3));
        prop_assert!(near(Ratio::from_percent(value).percent()));
    }
}

/// A torque at the end of a scale: 62 N·m is 45.73 lbf·ft, which the nearest whole number would put beyond a wrench that ends
/// at 45.8; 60 N·m (44.25) would be put on one that begins at 44.
#[test]
fn a_setting_in_a_second_unit_stays_on_its_side_of_a_limit() {
    let most = |text: &str| (quantity(text).base(), Bound::Most);
    let least = |text: &str| (quantity(text).base(), Bound::Least);
    for (setting, limits, expected) in [
        ("62 N.m", vec![], "62 N·m (46 lbf·ft)"),
        ("62 N.m", vec![most("45.8 lbf.ft")], "62 N·m (45.7 lbf·ft)"),
        ("60 N.m", vec![least("44 lbf.ft")], "60 N·m (44.3 lbf·ft)"),
        ("60 N.m", vec![most("44.3 lbf.ft"), least("44 lbf.ft")], "60 N·m (44.25 lbf·ft)"),
        // On the end of a scale itself it stays on the scale: 60 N·m is 44.254 lbf·ft, 62 N·m 45.729.
        ("60 N.m", vec![most("60 N.m")], "60 N·m (44 lbf·ft)"),
        ("60 N.m", vec![least("60 N.m")], "60 N·m (44.3 lbf·ft)"),
        ("62 N.m", vec![most("62 N.m")], "62 N·m (45.7 lbf·ft)"),
        ("62 N.m", vec![least("62 N.m")], "62 N·m (46 lbf·ft)"),
    ] {
        assert_eq!(setting_pair(quantity(setting), &limits).to_string(), expected, "{limits:?}");
    }
}

/// What is left of a torque that is set lower, to three digits and never above: 95 − 10 % is 85.5; 155 − 10 % is 139.5.
#[test]
fn a_share_of_a_torque_is_rounded_to_the_side_that_is_allowed() {
    for (stated, percent, bound, expected) in [
        ("95 N.m", 90.0, Bound::Most, "85.5 N·m"),
        ("80 N.m", 90.0, Bound::Most, "72 N·m"),
        ("155 N.m", 90.0, Bound::Most, "139 N·m"),
        ("155 N.m", 90.0, Bound::Least, "140 N·m"),
        ("1250 N.m", 90.0, Bound::Most, "1120 N·m"),
        ("7.5 N.m", 70.0, Bound::Most, "5.25 N·m"),
        ("33 lbf.in", 70.0, Bound::Most, "23.1 lbf·in"),
    ] {
        let found = share_of(quantity(stated), Ratio::from_percent(percent), bound);
        assert_eq!(found.printed(), expected, "{stated}, {percent} %, {bound:?}");
    }
}
