//! Stress areas, property classes, proof and ultimate loads; engagement.

use benchleaf::english::Mend;
use benchleaf::mechanics::class::{Class, ClassError, proof_load, ultimate_load};
use benchleaf::mechanics::thread::{Series, Thread, ThreadError};

use super::{Known, Row, Source, compare};

fn thread(text: &str) -> Thread {
    Thread::parse(text).expect("a thread of the table")
}

/// Coarse threads: pitch, stress area, proof loads and least ultimate loads of 8.8, 10.9 and 12.9 in newtons.
const COARSE: [(&str, f64, f64, [f64; 3], [f64; 3]); 8] = [
    ("M5", 0.8, 14.2, [8_230.0, 11_800.0, 13_800.0], [11_350.0, 14_800.0, 17_300.0]),
    ("M6", 1.0, 20.1, [11_600.0, 16_700.0, 19_500.0], [16_100.0, 20_900.0, 24_500.0]),
    ("M8", 1.25, 36.6, [21_200.0, 30_400.0, 35_500.0], [29_200.0, 38_100.0, 44_600.0]),
    ("M10", 1.5, 58.0, [33_700.0, 48_100.0, 56_300.0], [46_400.0, 60_300.0, 70_800.0]),
    ("M12", 1.75, 84.3, [48_900.0, 70_000.0, 81_800.0], [67_400.0, 87_700.0, 103_000.0]),
    ("M16", 2.0, 157.0, [91_000.0, 130_000.0, 152_000.0], [125_000.0, 163_000.0, 192_000.0]),
    ("M20", 2.5, 245.0, [147_000.0, 203_000.0, 238_000.0], [203_000.0, 255_000.0, 299_000.0]),
    ("M24", 3.0, 353.0, [212_000.0, 293_000.0, 342_000.0], [293_000.0, 367_000.0, 431_000.0]),
];
const COARSE_SOURCE: Source =
    Source { document: "ISO 898-1 tables 4 and 5 (three fastener suppliers' copies)", known: Known::Read };
const HARD: [Class; 3] = [Class::Iso8_8, Class::Iso10_9, Class::Iso12_9];

#[test]
fn coarse_stress_areas_and_pitches() {
    compare(
        &COARSE_SOURCE,
        0.004,
        COARSE.iter().map(|(name, _, area, ..)| Row {
            input: (*name).into(),
            expected: *area,
            computed: thread(name).stress_area().square_mm(),
        }),
    );
    for (name, pitch, ..) in COARSE {
        assert!((thread(name).pitch().mm() - pitch).abs() < 1e-12, "{name}");
        assert_eq!(thread(name).series(), Series::MetricCoarse);
    }
}

/// The standard's own rounding moves a cell by up to 0.5 % (M6 8.8: 20.1 × 580 = 11 658, printed 11 600), and its
/// areas are rounded to three digits where ours are not (M6: 20.12), which adds up to 0.12 %.
#[test]
fn coarse_proof_and_ultimate_loads() {
    compare(
        &COARSE_SOURCE,
        0.0065,
        COARSE.iter().flat_map(|(name, _, _, proof, ultimate)| {
            HARD.into_iter().enumerate().flat_map(move |(column, class)| {
                let (thread, strength) = (thread(name), class.strength(&thread(name)).expect("in range"));
                [
                    Row {
                        input: format!("{name} {class} proof"),
                        expected: proof[column],
                        computed: proof_load(&thread, &strength).newtons(),
                    },
                    Row {
                        input: format!("{name} {class} ultimate"),
                        expected: ultimate[column],
                        computed: ultimate_load(&thread, &strength).newtons(),
                    },
                ]
            })
        }),
    );
}

#[test]
fn fine_stress_areas() {
    let source = Source { document: "ISO 898-1 table 6 as recalled, same formula", known: Known::FromMemory };
    let rows = [
        ("M8x1", 39.2),
        ("M10x1", 64.5),
        ("M10x1.25", 61.2),
        ("M12x1.25", 92.1),
        ("M12x1.5", 88.1),
        ("M14x1.5", 125.0),
        ("M16x1.5", 167.0),
        ("M18x1.5", 216.0),
        ("M20x1.5", 272.0),
        ("M22x1.5", 333.0),
        ("M24x2", 384.0),
    ];
    compare(
        &source,
        0.004,
        rows.into_iter().map(|(name, expected)| Row {
            input: name.into(),
            expected,
            computed: thread(name).stress_area().square_mm(),
        }),
    );
}

#[test]
fn fine_proof_loads() {
    let source = Source { document: "ISO 898-1 table 7 as recalled", known: Known::FromMemory };
    let rows = [
        ("M10x1.25", [35_500.0, 50_800.0, 59_400.0]),
        ("M12x1.25", [53_400.0, 76_400.0, 89_300.0]),
        ("M12x1.5", [51_100.0, 73_100.0, 85_500.0]),
        ("M16x1.5", [96_900.0, 139_000.0, 162_000.0]),
    ];
    compare(
        &source,
        0.006,
        rows.into_iter().flat_map(|(name, loads)| {
            HARD.into_iter().zip(loads).map(move |(class, expected)| Row {
                input: format!("{name} {class}"),
                expected,
                computed: proof_load(&thread(name), &class.strength(&thread(name)).expect("in range"))
                    .newtons(),
            })
        }),
    );
}

/// Rows that the gathered tables leave out; the coarse areas of M14, M18, M22, M27, M30, M36 and of the small
/// sizes, and proof loads to 8.8, as recalled from ISO 898-1.
#[test]
fn rows_left_out_of_the_tables() {
    let source = Source { document: "ISO 898-1 tables 4 and 5 as recalled", known: Known::FromMemory };
    let rows = [
        ("M3", 5.03, 2_920.0),
        ("M4", 8.78, 5_100.0),
        ("M7", 28.9, 16_800.0),
        ("M14", 115.0, 66_700.0),
        ("M18", 192.0, 115_000.0),
        ("M22", 303.0, 182_000.0),
        ("M27", 459.0, 275_000.0),
        ("M30", 561.0, 337_000.0),
        ("M33", 694.0, 416_000.0),
        ("M36", 817.0, 490_000.0),
        ("M39", 976.0, 586_000.0),
        ("M1.6", 1.27, 737.0),
        ("M2", 2.07, 1_200.0),
        ("M2.5", 3.39, 1_966.0),
    ];
    compare(
        &source,
        0.006,
        rows.into_iter().flat_map(|(name, area, proof)| {
            let bolt = thread(name);
            let strength = Class::Iso8_8.strength(&bolt).expect("in range");
            [
                Row {
                    input: format!("{name} area"),
                    expected: area,
                    computed: bolt.stress_area().square_mm(),
                },
                Row {
                    input: format!("{name} 8.8 proof"),
                    expected: proof,
                    computed: proof_load(&bolt, &strength).newtons(),
                },
            ]
        }),
    );
}

#[test]
fn class_8_8_changes_above_16_mm() {
    let strength = |name: &str| Class::Iso8_8.strength(&thread(name)).expect("in range");
    assert_eq!(strength("M16").proof.megapascals().round(), 580.0);
    assert_eq!(strength("M18").proof.megapascals().round(), 600.0);
    assert_eq!(strength("M18").yielding.megapascals().round(), 660.0);
    assert!(matches!(Class::Iso9_8.strength(&thread("M20")), Err(ClassError::OutOfRange { .. })));
}

/// Ratio of proof stress to yield stress, EN ISO 898-1 in a copy of a fastener supplier's, read.
#[test]
fn proof_stress_against_yield() {
    let source = Source { document: "EN ISO 898-1, mechanical properties (copy)", known: Known::Read };
    let rows = [
        ("4.6", 0.94),
        ("5.8", 0.90),
        ("6.8", 0.92),
        ("8.8", 0.91),
        ("9.8", 0.90),
        ("10.9", 0.88),
        ("12.9", 0.88),
    ];
    compare(
        &source,
        0.006,
        rows.into_iter().map(|(class, expected)| {
            let strength =
                Class::parse(class).and_then(|class| class.strength(&thread("M10"))).expect("in range");
            Row { input: class.into(), expected, computed: strength.proof / strength.yielding }
        }),
    );
}

#[test]
fn inch_stress_areas() {
    let source = Source {
        document: "ASME B1.1 / Shigley table 8-2 as recalled; formula FED-STD-H28/2B (1b) read",
        known: Known::FromMemory,
    };
    let rows = [
        ("1/4-20 UNC", 0.0318),
        ("1/4-28 UNF", 0.0364),
        ("5/16-18 UNC", 0.0524),
        ("5/16-24 UNF", 0.0580),
        ("3/8-16 UNC", 0.0775),
        ("3/8-24 UNF", 0.0878),
        ("7/16-14 UNC", 0.1063),
        ("7/16-20 UNF", 0.1187),
        ("1/2-13 UNC", 0.1419),
        ("1/2-20 UNF", 0.1599),
        ("9/16-12 UNC", 0.182),
        ("9/16-18 UNF", 0.203),
        ("5/8-11 UNC", 0.226),
        ("5/8-18 UNF", 0.256),
        ("3/4-10 UNC", 0.334),
        ("3/4-16 UNF", 0.373),
        ("7/8-9 UNC", 0.462),
        ("7/8-14 UNF", 0.509),
        ("1-8 UNC", 0.606),
        ("1-12 UNF", 0.663),
        // Left out of the gathered table; as recalled from the same.
        ("No. 8-32 UNC", 0.0140),
        ("No. 8-36 UNF", 0.01474),
        ("No. 10-24 UNC", 0.0175),
        ("No. 10-32 UNF", 0.0200),
        ("No. 4-40 UNC", 0.00604),
        ("No. 4-48 UNF", 0.00661),
        ("No. 5-40 UNC", 0.00796),
        ("No. 6-32 UNC", 0.00909),
        ("No. 6-40 UNF", 0.01015),
        ("1 3/8-6 UNC", 1.155),
        ("1 3/8-12 UNF", 1.315),
        ("1/4-32 UNEF", 0.0379),
        ("3/8-32 UNEF", 0.0932),
        ("1/2-28 UNEF", 0.170),
    ];
    compare(
        &source,
        0.003,
        rows.into_iter().map(|(name, expected)| Row {
            input: name.into(),
            expected,
            computed: thread(name).stress_area().square_inches(),
        }),
    );
}

#[test]
fn inch_grades_step_with_size() {
    let source = Source { document: "SAE J429 (a fastener supplier's copy)", known: Known::Read };
    let rows = [
        ("SAE 2", "3/4-10", [55_000.0, 57_000.0, 74_000.0]),
        ("SAE 2", "7/8-9", [33_000.0, 36_000.0, 60_000.0]),
        ("SAE 5", "1-8", [85_000.0, 92_000.0, 120_000.0]),
        ("SAE 5", "1 1/8-7", [74_000.0, 81_000.0, 105_000.0]),
        ("SAE 8", "1-1/2-6", [120_000.0, 130_000.0, 150_000.0]),
    ];
    compare(
        &source,
        1e-12,
        rows.into_iter().flat_map(|(grade, name, expected)| {
            let strength =
                Class::parse(grade).and_then(|class| class.strength(&thread(name))).expect("in range");
            let computed = [strength.proof, strength.yielding, strength.tensile].map(|stress| stress.psi());
            expected.into_iter().zip(computed).map(move |(expected, computed)| Row {
                input: format!("{grade} {name}"),
                expected,
                computed,
            })
        }),
    );
}

#[test]
fn designations_parse_and_print() {
    for (text, printed) in [
        ("M8", "M8"),
        ("M8x1.25", "M8"),
        ("M8x1", "M8x1"),
        ("M12 x 1.25", "M12x1.25"),
        ("M12×1.25", "M12x1.25"),
        ("M14", "M14"),
        ("M3.5", "M3.5"),
        ("3/8-16 UNC", "3/8-16 UNC"),
        ("3/8-16", "3/8-16 UNC"),
        ("3/8-24", "3/8-24 UNF"),
        ("8-32 UNC", "No. 8-32 UNC"),
        ("#10-32", "No. 10-32 UNF"),
        ("1-14", "1-14 UNS"),
        ("1 1/8-7", "1 1/8-7 UNC"),
    ] {
        assert_eq!(thread(text).to_string(), printed, "{text}");
    }
    for thread in Thread::all() {
        assert_eq!(Thread::parse(&thread.to_string()), Ok(thread));
    }
}

#[test]
fn what_is_no_thread_says_why() {
    for text in ["", "M", "Mx1", "8", "M8x", "G1/4", "half", "M1e1", "3/8 UNC", "M-8"] {
        assert!(matches!(Thread::parse(text), Err(ThreadError::NoDesignation { .. })), "{text}");
    }
    assert!(matches!(Thread::parse("M13"), Err(ThreadError::NoSuchSize { .. })));
    assert!(matches!(Thread::parse("2-4 UNC"), Err(ThreadError::NoSuchSize { .. })));
    let slip = Thread::parse("M12x1.2").expect_err("not a pitch of M12");
    assert_eq!(slip.mend().text(), "known are M12, M12x1.5, M12x1.25, M12x1");
    let series = Thread::parse("3/8-16 UNF").expect_err("16 is the coarse pitch");
    assert_eq!(series.mend(), Mend::write("`3/8-16 UNC`"));
}
