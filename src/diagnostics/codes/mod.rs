//! The register of codes: each kind of fault once, one file per room, with the paragraph that explains it.

use super::Code;

/// Declares the codes of a room and the list of them all: `ITEM = error "room/fault", "paragraph";`. The word is the
/// kind, a function of [`Code`].
macro_rules! codes {
    ($($(#[$doc:meta])* $item:ident = $kind:ident $name:literal, $explanation:literal;)*) => {
        $($(#[$doc])* pub static $item: crate::diagnostics::Code =
            crate::diagnostics::Code::$kind($name, $explanation);)*

        /// All codes of this room.
        pub static ALL: &[&crate::diagnostics::Code] = &[$(&$item),*];
    };
}

pub mod cli;
pub mod decide;
pub mod language;
pub mod network;
pub mod page;
pub mod procedure;
pub mod record;
pub mod source;
pub mod workshop;

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
        workshop::ALL,
    ];
    let mut codes = rooms.concat();
    codes.sort_by_key(|code| code.name);
    codes
}

/// Every code whose name, or the part of it behind the room, is `name`.
pub fn called(name: &str) -> Vec<&'static Code> {
    let fault = |code: &Code| code.name.split_once('/').is_some_and(|(_, fault)| fault == name);
    all().into_iter().filter(|code| code.name == name || fault(code)).collect()
}
