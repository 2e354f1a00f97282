//! What was not on the engine when it was taken apart: what came off before, and what it came without. What follows from it, it
//! must not know.

use std::collections::BTreeMap;

use crate::procedure::model::Procedure;
use crate::record::{About, Came, Found, Goods, Job};

/// Parts and sets that were off before the engine was taken apart, or weren't with it, each at its place.
pub(super) fn came(procedure: &Procedure, job: &Job) -> BTreeMap<Goods, Came> {
    let mut found = BTreeMap::new();
    for note in &job.notes {
        let told = note.found.iter().find_map(|found| match found {
            Found::Came(came) => Some(Some(*came)),
            // None came out: there was none to take off.
            Found::Count(count) => Some((count.value == 0).then_some(Came::Without)),
            _ => None,
        });
        let Some(came) = told else { continue };
        // What was noted last is in force.
        let mut tell = |goods: Goods| match came {
            Some(came) => {
                found.insert(goods, came);
            }
            None => {
                found.remove(&goods);
            }
        };
        match note.about {
            About::Part(id, at) => {
                let places = procedure.places(&procedure.part(id).axes);
                let meant = places.filter(|place| at.is_none_or(|at| at == *place));
                meant.for_each(|place| tell(Goods::Part(id, Some(place))));
            }
            About::Set(id, at) => {
                let places = procedure.places(&procedure.set(id).axes);
                let meant = places.filter(|place| at.is_none_or(|at| at == *place));
                meant.for_each(|place| tell(Goods::Set(id, Some(place))));
            }
            _ => {}
        }
    }
    found
}
