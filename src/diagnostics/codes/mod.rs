//! The register of codes: each kind of fault once, one file per room, with the paragraph that explains it.

pub mod cli;
pub mod decide;
pub mod language;
pub mod network;
pub mod page;
pub mod procedure;
pub mod record;
pub mod source;

use super::Code;

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

/// The code with this name.
pub fn find(name: &str) -> Option<&'static Code> {
    all().into_iter().find(|code| code.name == name)
}
