//! Warnings that only follow from an error in a declaration: what couldn't be read there is not missing. It must not know what
//! any of them is about.

use std::collections::BTreeSet;

use super::collect::Declared;
use super::resolver::Resolver;
use crate::diagnostics::codes::procedure as codes;
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// What is said of steps for want of a tool that fits, or because a tool fits nothing.
const OF_TOOLS: [&str; 4] =
    [codes::NO_DRIVER.name, codes::NO_WRENCH.name, codes::WRENCH_OUT_OF_RANGE.name, codes::IDLE_TOOL.name];

/// Places at which an error is told, in order.
struct Faults(Vec<Span>);

impl Faults {
    fn of(diagnostics: &[Diagnostic]) -> Faults {
        let errors = diagnostics.iter().filter(|diagnostic| diagnostic.severity() == Severity::Error);
        let mut places: Vec<Span> = errors.filter_map(|error| Some(error.labels.first()?.span)).collect();
        places.sort_unstable_by_key(|span| (span.file, span.start()));
        Faults(places)
    }

    /// Whether one of them stands within `span`.
    fn within(&self, span: Span) -> bool {
        let from = self.0.partition_point(|fault| (fault.file, fault.start()) < (span.file, span.start()));
        self.0.get(from).is_some_and(|fault| fault.file == span.file && fault.end() <= span.end())
    }
}

impl Resolver {
    /// Takes out warnings and notices that show a thing whose declaration has an error, and those of tools where a tool has one.
    pub(super) fn consequences(&mut self, declared: &Declared) {
        let faults = Faults::of(&self.diagnostics);
        if faults.0.is_empty() {
            return;
        }
        let bad = |span: &Span| faults.within(*span);
        let mut spoilt: BTreeSet<Span> = BTreeSet::new();
        macro_rules! names_of {
            ($($things:ident)*) => {$(
                spoilt.extend(declared.$things.iter().filter(|d| bad(&d.span)).map(|d| d.name.span));
            )*};
        }
        names_of!(tools);
        let no_tool_fits = !spoilt.is_empty();
        names_of!(sets parts joints gauges looks);
        self.diagnostics.retain(|told| {
            let follows = told.labels.iter().any(|label| spoilt.contains(&label.span));
            let of_tools = no_tool_fits && OF_TOOLS.contains(&told.code.name);
            told.severity() == Severity::Error || !(follows || of_tools)
        });
    }
}
