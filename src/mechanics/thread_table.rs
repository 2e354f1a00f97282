//! Which pitches belong to which diameters: ISO 261 for metric threads, ASME B1.1 for inch threads.
//! Both from memory.

/// A metric diameter and its pitches in millimetres.
pub(super) struct MetricRow {
    pub size: &'static str,
    pub diameter: f64,
    pub coarse: Option<f64>,
    pub fine: &'static [f64],
}

/// An inch size and its threads per inch.
pub(super) struct InchRow {
    pub size: &'static str,
    pub diameter: f64,
    pub coarse: f64,
    pub fine: f64,
    pub extra_fine: Option<f64>,
    pub special: Option<f64>,
}

const fn metric(size: &'static str, diameter: f64, coarse: Option<f64>, fine: &'static [f64]) -> MetricRow {
    MetricRow { size, diameter, coarse, fine }
}

const fn inch(size: &'static str, diameter: f64, coarse: f64, fine: f64) -> InchRow {
    InchRow { size, diameter, coarse, fine, extra_fine: None, special: None }
}

/// The same with an extra fine pitch.
const fn inch_to(size: &'static str, diameter: f64, coarse: f64, fine: f64, extra_fine: f64) -> InchRow {
    InchRow { size, diameter, coarse, fine, extra_fine: Some(extra_fine), special: None }
}

/// ISO 261, from memory.
#[rustfmt::skip]
pub(super) static METRIC: [MetricRow; 32] = [
    metric("M1.6",  1.6, Some(0.35), &[0.2]),
    metric("M2",    2.0, Some(0.4),  &[0.25]),
    metric("M2.2",  2.2, Some(0.45), &[0.25]),
    metric("M2.5",  2.5, Some(0.45), &[0.35]),
    metric("M3",    3.0, Some(0.5),  &[0.35]),
    metric("M3.5",  3.5, Some(0.6),  &[0.35]),
    metric("M4",    4.0, Some(0.7),  &[0.5]),
    metric("M5",    5.0, Some(0.8),  &[0.5]),
    metric("M6",    6.0, Some(1.0),  &[0.75]),
    metric("M7",    7.0, Some(1.0),  &[0.75]),
    metric("M8",    8.0, Some(1.25), &[1.0, 0.75]),
    metric("M9",    9.0, Some(1.25), &[1.0, 0.75]),
    metric("M10",  10.0, Some(1.5),  &[1.25, 1.0, 0.75]),
    metric("M11",  11.0, Some(1.5),  &[1.0, 0.75]),
    metric("M12",  12.0, Some(1.75), &[1.5, 1.25, 1.0]),
    metric("M14",  14.0, Some(2.0),  &[1.5, 1.25, 1.0]),
    metric("M15",  15.0, None,       &[1.5, 1.0]),
    metric("M16",  16.0, Some(2.0),  &[1.5, 1.0]),
    metric("M18",  18.0, Some(2.5),  &[2.0, 1.5, 1.0]),
    metric("M20",  20.0, Some(2.5),  &[2.0, 1.5, 1.0]),
    metric("M22",  22.0, Some(2.5),  &[2.0, 1.5, 1.0]),
    metric("M24",  24.0, Some(3.0),  &[2.0, 1.5, 1.0]),
    metric("M25",  25.0, None,       &[2.0, 1.5, 1.0]),
    metric("M26",  26.0, None,       &[1.5]),
    metric("M27",  27.0, Some(3.0),  &[2.0, 1.5, 1.0]),
    metric("M28",  28.0, None,       &[2.0, 1.5, 1.0]),
    metric("M30",  30.0, Some(3.5),  &[3.0, 2.0, 1.5, 1.0]),
    metric("M32",  32.0, None,       &[2.0, 1.5]),
    metric("M33",  33.0, Some(3.5),  &[3.0, 2.0, 1.5]),
    metric("M35",  35.0, None,       &[1.5]),
    metric("M36",  36.0, Some(4.0),  &[3.0, 2.0, 1.5]),
    metric("M39",  39.0, Some(4.0),  &[3.0, 2.0, 1.5]),
];

/// ASME B1.1, from memory.
#[rustfmt::skip]
pub(super) static INCH: [InchRow; 20] = [
    inch("No. 4",  0.112,  40.0, 48.0),
    inch("No. 5",  0.125,  40.0, 44.0),
    inch("No. 6",  0.138,  32.0, 40.0),
    inch("No. 8",  0.164,  32.0, 36.0),
    inch("No. 10", 0.190,  24.0, 32.0),
    inch_to("No. 12", 0.216,  24.0, 28.0, 32.0),
    inch_to("1/4",    0.25,   20.0, 28.0, 32.0),
    inch_to("5/16",   0.3125, 18.0, 24.0, 32.0),
    inch_to("3/8",    0.375,  16.0, 24.0, 32.0),
    inch_to("7/16",   0.4375, 14.0, 20.0, 28.0),
    inch_to("1/2",    0.5,    13.0, 20.0, 28.0),
    inch_to("9/16",   0.5625, 12.0, 18.0, 24.0),
    inch_to("5/8",    0.625,  11.0, 18.0, 24.0),
    inch_to("3/4",    0.75,   10.0, 16.0, 20.0),
    inch_to("7/8",    0.875,   9.0, 14.0, 20.0),
    InchRow {
        size: "1", diameter: 1.0, coarse: 8.0, fine: 12.0, extra_fine: Some(20.0), special: Some(14.0),
    },
    inch_to("1 1/8",  1.125,   7.0, 12.0, 18.0),
    inch_to("1 1/4",  1.25,    7.0, 12.0, 18.0),
    inch_to("1 3/8",  1.375,   6.0, 12.0, 18.0),
    inch_to("1 1/2",  1.5,     6.0, 12.0, 18.0),
];
