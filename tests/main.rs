//! Every integration test, in one binary. A test file that isn't listed here fails `layering::every_test_file_runs`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    clippy::type_complexity,
    clippy::neg_cmp_op_on_partial_ord,
    clippy::needless_late_init,
    missing_docs,
    reason = "everything in this crate is a test or helps one"
)]

mod cli;
mod expected;
mod layering;
mod network;
mod sequence;
mod quantity;
mod metrology;
mod record;
mod mechanics;
mod packet;
mod page;
mod syntax;
mod plan;
mod procedure;
