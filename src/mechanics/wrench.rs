//! The torque wrench: its setting with an adapter, the part of its range that is trusted, locking-nut drag and
//! castle nuts.

use std::fmt;

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::{Angle, Length, Ratio, Torque};

/// The adapter formula.
pub(crate) const ADAPTER_SOURCE: Citation = Citation::new(
    "T_set = T · L / (L + A cos α): FAA AC 43.13-1B, US Army TM 1-1500-204-23-9, US Navy NAVEDTRA 14315; the angle US Army TM 9-254 fig. 4-6",
    Seen::Read,
);
/// Accuracy and range.
pub(crate) const RANGE_SOURCE: Citation = Citation::new(
    "±4 % from 20 to 100 % of the range, ±6 % up to 10 N·m (ISO 6789, quoted in a tool maker's manual); most accurate from 25 to 75 % (US Army TM 9-2350-311-20-2)",
    Seen::Read,
);
/// Drag is always added.
pub(crate) const ALWAYS_SOURCE: Citation = Citation::new("FAA AC 43.13-1B para 7-40", Seen::Read);
/// Drag is added from a third of the torque.
pub(crate) const THIRD_SOURCE: Citation = Citation::new("US Army TB 43-0218 §7c", Seen::Read);

/// Why no setting can be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WrenchError {
    /// The wrench has no length.
    NoLength,
    /// The adapter points back as far as the wrench is long, or farther: there is no lever left.
    NoLever,
}

impl fmt::Display for WrenchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            WrenchError::NoLength => "the length of the wrench must be more than nothing",
            WrenchError::NoLever => {
                "the adapter reaches back past the grip, so the wrench has no lever on the fastener"
            }
        })
    }
}

impl std::error::Error for WrenchError {}

/// An adapter or crowfoot on the wrench.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Adapter {
    /// From the centre of the drive to the centre of the fastener.
    pub length: Length,
    /// Between the adapter and the wrench's own axis: 0 straight on, 90° square, 180° straight back.
    pub angle: Angle,
}

/// What to set for a torque at the fastener: T · L / (L + A cos α). `length` is from the centre of the drive to
/// the middle of the grip.
///
/// # Errors
/// There is no lever.
pub(crate) fn setting(torque: Torque, length: Length, adapter: Adapter) -> Result<Torque, WrenchError> {
    if length <= Length::ZERO {
        return Err(WrenchError::NoLength);
    }
    let cosine = adapter.angle.radians().cos();
    // The cosine of a right angle comes out a hair off nought.
    let cosine = if cosine.abs() < 1e-12 { 0.0 } else { cosine };
    let lever = length + adapter.length * cosine;
    if lever <= Length::ZERO {
        return Err(WrenchError::NoLever);
    }
    Ok(torque * (length / lever))
}

/// A setting wrench by the ends of its scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Wrench {
    /// Scale from its first to its last mark.
    pub scale: Band<Torque>,
}

/// How well a wrench does a torque; better first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Suits {
    /// In the middle of its range.
    Well,
    /// Within the part of its range that is trusted.
    Enough,
    /// Not at all: outside the trusted part or off the scale.
    No,
}

impl Wrench {
    /// The part that is trusted: on the scale, and from a fifth of the largest torque upwards.
    pub(crate) fn trusted(&self) -> Band<Torque> {
        Band { low: self.scale.low.max(self.scale.high * 0.2), high: self.scale.high }
    }

    /// How well it does every torque from one end of a band to the other.
    pub(crate) fn suits(&self, torque: Band<Torque>) -> Suits {
        let (trusted, top) = (self.trusted(), self.scale.high);
        if torque.low < trusted.low || torque.high > trusted.high {
            Suits::No
        } else if torque.low >= top * 0.25 && torque.high <= top * 0.75 {
            Suits::Well
        } else {
            Suits::Enough
        }
    }

    /// Error that the standard allows at a torque.
    pub(crate) fn tolerance(&self) -> Ratio {
        let small = self.scale.high <= Torque::from_newton_metres(10.0);
        Ratio::from_percent(if small { 6.0 } else { 4.0 })
    }
}

/// The wrench of a list that does a torque best: the better fit first, then the smaller wrench, then the earlier
/// in the list. `None` if none can do it.
pub(crate) fn choose(wrenches: &[Wrench], torque: Band<Torque>) -> Option<usize> {
    let fit = |index: &usize| {
        let wrench = &wrenches[*index];
        (wrench.suits(torque), wrench.scale.high)
    };
    (0..wrenches.len()).filter(|index| fit(index).0 != Suits::No).min_by(|a, b| {
        let (a, b) = (fit(a), fit(b));
        a.0.cmp(&b.0).then(a.1.base().total_cmp(&b.1.base()))
    })
}

/// What to do about the torque that a locking nut takes before it seats. Two published rules disagree, so the
/// author chooses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DragRule {
    /// Always add it.
    Always,
    /// Add it if it is at least a third of the torque, else ignore it.
    FromAThird,
}

/// What a torque, or the range of a castle nut, becomes with the drag of a locking nut. Whether the drag counts is one
/// decision for both ends, made by the lower one: from there the nut is turned on to the next slot.
pub(crate) fn with_drag(stated: Band<Torque>, drag: Torque, rule: DragRule) -> Band<Torque> {
    if drag < rule.counts_from(stated.low) {
        return stated;
    }
    stated.map(|torque| torque + drag)
}

impl DragRule {
    /// The least drag that is added to a torque, or to a range by its lower end.
    pub(crate) fn counts_from(self, lower_end: Torque) -> Torque {
        match self {
            DragRule::Always => Torque::ZERO,
            DragRule::FromAThird => lower_end / 3.0,
        }
    }

    /// Where the rule comes from.
    pub fn source(self) -> Citation {
        match self {
            DragRule::Always => ALWAYS_SOURCE,
            DragRule::FromAThird => THIRD_SOURCE,
        }
    }
}
