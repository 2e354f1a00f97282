//! The register of codes: each kind of fault once, one file per room, with the paragraph that explains it.

pub mod cli;
pub mod decide;
pub mod language;
pub mod network;
pub mod page;
pub mod procedure;
pub mod record;
pub mod source;

use super::{Code, Severity};

/// Every code, sorted by name.
pub fn all() -> Vec<&'static Code> {
    // One room a line, so that rooms can be added side by side.
    #[rustfmt::skip]
    let rooms: Vec<&[&'static Code]> = vec![
        cli::ALL,
        decide::ALL,
        language::ALL,
        network::ALL,
        page::ALL,
        procedure::ALL,
        record::ALL,
        source::ALL,
    ];
    let mut codes = rooms.concat();
    codes.sort_by_key(|code| code.name);
    codes
}

/// The code that a run exits with that ends with complaints of this kind: 0 for what is no error, 2 for wrong use and
/// files that can't be had, 1 for other faults of the input.
pub fn exit_code(code: &'static Code) -> u8 {
    let wrong_use = [cli::ALL, source::ALL].into_iter().flatten().any(|known| *known == code);
    match code.severity {
        Severity::Error if wrong_use => 2,
        Severity::Error => 1,
        Severity::Warning | Severity::Notice => 0,
    }
}

/// Every code whose name, or the part of it behind the room, is `name`.
pub fn called(name: &str) -> Vec<&'static Code> {
    let fault = |code: &Code| code.name.split_once('/').is_some_and(|(_, fault)| fault == name);
    all().into_iter().filter(|code| code.name == name || fault(code)).collect()
}

/// The code with this name.
pub fn find(name: &str) -> Option<&'static Code> {
    all().into_iter().find(|code| code.name == name)
}
