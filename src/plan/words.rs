//! Words for things: one or many with their article, things at their place.

pub(crate) use crate::english::{alternatives, capital, inner, list, plural, sentence};

use crate::procedure::model::{AxisId, Naming, Pieces, Place, Places, Procedure};

/// The thing with its article: `the cylinder head`.
pub(crate) fn the(title: &str) -> String {
    format!("the {}", inner(title))
}

/// One or many with the article: `the cylinder head`, `the 8 head nuts`.
pub(crate) fn the_many(title: &str, count: impl Into<Pieces>) -> String {
    let count = count.into();
    if count.settled() == Some(1) { the(title) } else { format!("the {}", many(title, count)) }
}

/// One or many with their number: `head nut`, `8 head nuts`, `6 or 8 head nuts`.
pub(crate) fn many(title: &str, count: impl Into<Pieces>) -> String {
    let count = count.into();
    if count.settled() == Some(1) { inner(title) } else { format!("{count} {}", plural(&inner(title))) }
}

/// A thing with its place: `Cylinder bore 2`, `Valve stem 1, inlet`; `Cylinder head (left)`, where the place is a word and would
/// be read as one with the title; without one, its title.
pub(crate) fn at_place(
    procedure: &Procedure,
    naming: &Naming,
    axes: &[AxisId],
    place: Option<Place>,
) -> String {
    let name = place.map(|place| procedure.place_name(axes, place)).unwrap_or_default();
    if name.is_empty() {
        naming.title.clone()
    } else if name.starts_with(|first: char| first.is_ascii_digit()) {
        format!("{} {name}", naming.title)
    } else {
        format!("{} ({name})", naming.title)
    }
}

/// ` at bank left` where something is so at some positions only; nothing where it is so everywhere.
pub(crate) fn only_at(procedure: &Procedure, at: &Places) -> String {
    if at.everywhere() {
        return String::new();
    }
    let named = at.0.iter().map(|(axis, at, _)| {
        let axis = procedure.axis(*axis);
        format!("{} {}", inner(&axis.naming.title), axis.positions[usize::from(*at)])
    });
    format!(" at {}", named.collect::<Vec<String>>().join(", "))
}

/// The id of a thing at a place, as a record names it: `bore[2]`, `valve[1, inlet]`.
pub(crate) fn id_at(procedure: &Procedure, naming: &Naming, axes: &[AxisId], place: Place) -> String {
    let name = procedure.place_name(axes, place);
    if name.is_empty() { naming.id.clone() } else { format!("{}[{name}]", naming.id) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_bend_as_the_trade_says_them() {
        assert_eq!(the_many("Head nut", 8), "the 8 head nuts");
        assert_eq!(the("TDC pin"), "the TDC pin");
        assert_eq!(the("Woodruff key"), "the Woodruff key");
        assert_eq!(the("M14 stud"), "the M14 stud");
        assert_eq!(many("Valve with spring", 6), "6 valves with spring");
        assert_eq!(many("Main bearing shell half", 8), "8 main bearing shell halves");
        assert_eq!(many("Rocker assembly", 3), "3 rocker assemblies");
        assert_eq!(many("Pulley", 2), "2 pulleys");
        assert_eq!(many("Glass", 2), "2 glasses");
        assert_eq!(many("Edge bolt, left side", 3), "3 edge bolts, left side");
        assert_eq!(many("Pivot and slot bolt", 2), "2 pivot and slot bolts");
        assert_eq!(the("V-belt"), "the V-belt");
    }
}
