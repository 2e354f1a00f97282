//! Tree to domain model: names resolved across files, units and dimensions checked. It must not know how a
//! procedure will be ordered or printed.

pub mod model;
