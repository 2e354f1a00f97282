//! Opening pressure of an injector by the shims on its spring. How much a shim raises it differs from make to make, so it is
//! an input, read off the bench with two shims.

use super::citation::{Citation, Seen};
use crate::quantity::{Length, Pressure};

/// The sum.
pub(crate) const INJECTOR_SOURCE: Citation = Citation::new(
    "shim = (wanted − read) · step of shim/step of pressure, straight as the spring's rate is",
    Seen::Derived,
);

/// How much thicker the shims must be; below nothing, thinner.
pub(crate) fn shim_change(read: Pressure, wanted: Pressure, step: (Length, Pressure)) -> Length {
    step.0 * ((wanted - read) / step.1)
}
