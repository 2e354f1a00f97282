//! The arithmetic of readings: published worked examples, and laws that hold for all readings.

mod laws;
mod published;
