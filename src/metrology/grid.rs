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
    pub(crate) fn out_of_round(&self) -> Option<Measured> {
        Measured::max(&self.spreads(|spot| spot.station))
    }

    /// Taper: the largest difference between stations in one direction. None unless some direction was read at
    /// two stations.
    ///
    /// Definition: difference of diameter between bottom and top (same source). Taken over all stations it also
    /// shows a bore worn most in the middle.
    pub(crate) fn taper(&self) -> Option<Measured> {
        Measured::max(&self.spreads(|spot| spot.direction))
    }

    /// Largest less smallest in each group of at least two.
    fn spreads(&self, group: impl Fn(Spot) -> usize) -> Vec<Measured> {
        let mut groups: BTreeMap<usize, Vec<Measured>> = BTreeMap::new();
        for (spot, reading) in &self.readings {
            groups.entry(group(*spot)).or_default().push(*reading);
        }
        groups.values().filter(|group| group.len() > 1).filter_map(|group| Measured::spread(group)).collect()
    }
}
