//! Of which things it is asked whether anything names them.

use super::model::Name;

/// What a thing is called that should be named somewhere; none for what may well not be.
pub(super) fn judged_by_use(name: Name) -> Option<&'static str> {
    match name {
        Name::Axis(_) => Some("axis"),
        Name::Ask(_) => Some("question"),
        Name::Setup(_) => Some("setup"),
        Name::State(_) => Some("state"),
        Name::Tool(_) => Some("tool"),
        Name::Supply(_) => Some("supply"),
        Name::Temporary(_) => Some("temporary"),
        Name::Hazard(_) => Some("hazard"),
        // One that no step takes stays on, and says or is told what it sits on.
        Name::Part(_) => Some("part"),
        // Sets, joints and readings that no step touches are judged by what is done to them, and rules hold
        // without being named.
        Name::Section(_)
        | Name::Set(_)
        | Name::Joint(_)
        | Name::Gauge(_)
        | Name::Look(_)
        | Name::Rule(_)
        | Name::Step(_)
        | Name::Group(_) => None,
    }
}
