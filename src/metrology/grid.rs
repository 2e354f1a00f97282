//! Readings of one thing at stations along it and in directions across it.

use std::collections::BTreeMap;

use super::Measured;

/// Where a reading was taken; equal numbers are the same station or direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Spot {
    /// Number of the station; nought where there is only one.
    pub station: usize,
    /// Number of the direction; nought where there is only one.
    pub direction: usize,
}

/// How far readings of one thing lie apart, and the two that lie furthest apart, the larger first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Unlike {
    /// Largest less smallest.
    pub spread: Measured,
    /// These two, and where they were taken.
    pub ends: [(Spot, Measured); 2],
}

impl Unlike {
    fn among(readings: &[(Spot, Measured)]) -> Option<Unlike> {
        let by = |a: &&(Spot, Measured), b: &&(Spot, Measured)| a.1.value.total_cmp(&b.1.value);
        let ends = [*readings.iter().rev().max_by(by)?, *readings.iter().min_by(by)?];
        let values: Vec<Measured> = readings.iter().map(|(_, reading)| *reading).collect();
        Some(Unlike { spread: Measured::spread(&values)?, ends })
    }
}

/// Readings of one thing.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Grid {
    readings: BTreeMap<Spot, Measured>,
}

impl Grid {
    /// Puts a reading at its place, instead of what stood there.
    pub(crate) fn insert(&mut self, spot: Spot, reading: Measured) {
        self.readings.insert(spot, reading);
    }

    /// All readings, by station and then by direction.
    pub(crate) fn values(&self) -> Vec<Measured> {
        self.readings.values().copied().collect()
    }

    /// Each reading with where it was taken, by station and then by direction.
    pub(crate) fn spots(&self) -> impl Iterator<Item = (Spot, Measured)> {
        self.readings.iter().map(|(spot, reading)| (*spot, *reading))
    }

    /// Out-of-round: the largest difference between diameters at one station. None unless some station was read
    /// in two directions.
    ///
    /// Definition: largest less smallest diameter in one plane, at least two diameters 90° apart (Aviation
    /// Maintenance Technician Handbook, engine overhaul, "Dimensional Inspection", read in a
    /// reprint).
    pub(crate) fn out_of_round(&self) -> Option<Unlike> {
        self.most_unlike(|spot| spot.station)
    }

    /// Taper: the largest difference between stations in one direction. None unless some direction was read at
    /// two stations.
    ///
    /// Definition: difference of diameter between bottom and top (same source). Taken over all stations it also
    /// shows a bore worn most in the middle.
    pub(crate) fn taper(&self) -> Option<Unlike> {
        self.most_unlike(|spot| spot.direction)
    }

    /// Largest less smallest in the group of at least two where that is most.
    fn most_unlike(&self, group: impl Fn(Spot) -> usize) -> Option<Unlike> {
        let mut groups: BTreeMap<usize, Vec<(Spot, Measured)>> = BTreeMap::new();
        for (spot, reading) in self.spots() {
            groups.entry(group(spot)).or_default().push((spot, reading));
        }
        let all: Vec<Unlike> = groups
            .values()
            .filter(|group| group.len() > 1)
            .filter_map(|group| Unlike::among(group))
            .collect();
        let spreads: Vec<Measured> = all.iter().map(|unlike| unlike.spread).collect();
        let spread = Measured::max(&spreads)?;
        let most = all.into_iter().rev().max_by(|a, b| a.spread.value.total_cmp(&b.spread.value))?;
        Some(Unlike { spread, ..most })
    }
}
