//! The register of codes: each kind of fault once, one file per room, with the paragraph that explains it.

pub mod page;
pub mod record;
pub mod source;

use super::Code;

/// Every code, sorted by name.
pub fn all() -> Vec<&'static Code> {
    let mut codes: Vec<&'static Code> = [page::ALL, record::ALL, source::ALL].concat();
    codes.sort_by_key(|code| code.name);
    codes
}

/// The code with this name.
pub fn find(name: &str) -> Option<&'static Code> {
    all().into_iter().find(|code| code.name == name)
}
