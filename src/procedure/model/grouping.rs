//! Places put together by what is so at each. It must not know what that is.

use super::Place;

/// Places by what is so at each, in the order in which it is first met.
pub(crate) fn grouped<T: PartialEq>(
    places: impl IntoIterator<Item = Place>,
    at: impl Fn(Place) -> T,
) -> Vec<(T, Vec<Place>)> {
    let mut groups: Vec<(T, Vec<Place>)> = Vec::new();
    for place in places {
        let here = at(place);
        match groups.iter_mut().find(|(known, _)| *known == here) {
            Some((_, places)) => places.push(place),
            None => groups.push((here, vec![place])),
        }
    }
    groups
}
