//! What a user of the program and a user of the library see, in one binary. The rooms themselves are tested from
//! `rooms.rs`.
#![allow(
    unreachable_pub,
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
mod packet;
mod page;
mod random_job;
mod third_party;
