//! The tests of the rooms, compiled into the library, since rooms are private: what only a test calls is told as dead
//! code, and a test may look behind the façade. What a user or another crate sees is tested from outside, in `main.rs`.
//! A test file that isn't listed here or there fails `layering::every_test_file_runs`.
#![allow(
    unreachable_pub,
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    clippy::type_complexity,
    clippy::neg_cmp_op_on_partial_ord,
    clippy::needless_late_init,
    clippy::duplicate_mod,
    missing_docs,
    reason = "everything in this module is a test or helps one"
)]

mod agree;
pub(crate) mod expected;
mod gather;
mod layering;
mod mechanics;
mod metrology;
mod network;
mod plan;
mod procedure;
mod quantity;
mod random_job;
mod record;
mod screen;
mod sequence;
mod syntax;
