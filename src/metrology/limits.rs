//! Limits as made and as worn.

use super::{Fit, Measured, Standing, band_of, same};

/// On which side wear takes a size out of its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// It grows: a bore, a clearance.
    Grows,
    /// It shrinks: a journal, a free length.
    Shrinks,
}

/// What a size is as made, in base units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Made {
    /// Between these; none at an end is open.
    Within(Option<f64>, Option<f64>),
    /// It is how far something is off, which is best at nought: none is stated, and any lies above it.
    FromNought,
}

impl Made {
    /// From and to; none at an end is open.
    pub(crate) fn range(self) -> (Option<f64>, Option<f64>) {
        match self {
            Made::Within(low, high) => (low, high),
            Made::FromNought => (None, Some(0.0)),
        }
    }
}

/// Limits of one size, in base units.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Limits {
    /// As made.
    pub made: Option<Made>,
    /// As worn.
    pub worn: Option<f64>,
}

/// How far a size has gone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wear {
    /// Within the limits as made.
    AsMade,
    /// Outside those, within the limit as worn.
    WithinWorn,
    /// Beyond the limit as worn, or where there is none, beyond those as made.
    Beyond,
    /// On the other side of the limits as made than the one to which it wears: oversized already, or not the
    /// part that the limits are of.
    WrongSide,
    /// So near a limit that the instrument can't tell.
    MeasureAgain,
    /// The limits don't say.
    Unknown,
}

impl Limits {
    /// The side to which it wears, where the limits tell.
    pub(crate) fn side(&self) -> Option<Side> {
        let worn = self.worn?;
        match self.made?.range() {
            (_, Some(high)) if worn >= high => Some(Side::Grows),
            (Some(low), _) if worn <= low => Some(Side::Shrinks),
            _ => None,
        }
    }

    /// The same of a size that was bored or ground before, by so much with its sign.
    pub(crate) fn moved(self, by: f64) -> Limits {
        let made = self.made.map(|made| match made {
            Made::Within(low, high) => Made::Within(low.map(|low| low + by), high.map(|high| high + by)),
            Made::FromNought => Made::FromNought,
        });
        Limits { made, worn: self.worn.map(|worn| worn + by) }
    }

    /// How far `value` has gone. Without a limit as worn, a size outside those as made is beyond them on
    /// whichever side.
    pub(crate) fn wear(&self, value: Measured) -> Wear {
        let Some((made_low, made_high)) = self.made.map(Made::range) else { return Wear::Unknown };
        // Of one size, how far it may be off isn't stated: as made is what can't be told from it.
        if let (Some(nominal), true) = (made_low, made_low == made_high)
            && (same(nominal, value.value) || value.low < nominal && nominal < value.high)
        {
            return Wear::AsMade;
        }
        let made = Fit { low: made_low, high: made_high };
        let under = Fit { low: None, high: made_low };
        let over = Fit { low: made_high, high: None };
        let bands: Vec<(Fit, Wear)> = match (self.worn, self.side()) {
            (Some(worn), Some(Side::Grows)) => vec![
                (under, Wear::WrongSide),
                (made, Wear::AsMade),
                (Fit { low: made_high, high: Some(worn) }, Wear::WithinWorn),
                (Fit { low: Some(worn), high: None }, Wear::Beyond),
            ],
            (Some(worn), Some(Side::Shrinks)) => vec![
                (Fit { low: None, high: Some(worn) }, Wear::Beyond),
                (Fit { low: Some(worn), high: made_low }, Wear::WithinWorn),
                (made, Wear::AsMade),
                (over, Wear::WrongSide),
            ],
            (Some(_), None) => return Wear::Unknown,
            (None, _) => vec![(under, Wear::Beyond), (made, Wear::AsMade), (over, Wear::Beyond)],
        };
        // A band beyond an open end, or between equal limits, holds nothing.
        let bands: Vec<(Fit, Wear)> = bands
            .into_iter()
            .filter(|(band, _)| (band.low.is_some() || band.high.is_some()) && band.low != band.high)
            .collect();
        // Exactly on a limit is allowed by it, on both sides: the band that allows comes first.
        let allowed = |wear: Wear| matches!(wear, Wear::AsMade | Wear::WithinWorn);
        if value.low == value.high {
            let holds = |band: &Fit| {
                band.low.is_none_or(|low| value.value >= low)
                    && band.high.is_none_or(|high| value.value <= high)
            };
            let held: Vec<Wear> =
                bands.iter().filter(|(band, _)| holds(band)).map(|(_, wear)| *wear).collect();
            let best = held.iter().copied().find(|wear| *wear == Wear::AsMade);
            let best = best.or_else(|| held.iter().copied().find(|wear| allowed(*wear)));
            return best.or(held.first().copied()).unwrap_or(Wear::Unknown);
        }
        let ranges: Vec<Fit> = bands.iter().map(|(band, _)| *band).collect();
        match band_of(&ranges, value) {
            Standing::In(index) => bands[index].1,
            // As made or merely worn: it goes back either way.
            Standing::Between(indices) if indices.iter().all(|index| allowed(bands[*index].1)) => {
                Wear::WithinWorn
            }
            Standing::Between(_) => Wear::MeasureAgain,
            Standing::Outside => Wear::Unknown,
        }
    }
}
