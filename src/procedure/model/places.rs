//! Places of a procedure: which a pattern means, and where axes and the groups of their positions stand.

use super::{At, AxisId, Binding, Pattern, Place, Places, Procedure, Sited, Target};

impl Procedure {
    /// Every place of a thing with these axes, in order; one for none.
    pub fn places(&self, axes: &[AxisId]) -> impl ExactSizeIterator<Item = Place> + use<> {
        (0..axes.iter().map(|axis| self.length(*axis)).product()).map(Place)
    }

    /// Every thing of a kind at each of its places, in declared order.
    pub fn everywhere<Id: Sited>(&self) -> impl Iterator<Item = (Id, Place)> {
        Id::all(self).flat_map(|id| self.places(id.axes(self)).map(move |place| (id, place)))
    }

    fn length(&self, axis: AxisId) -> u32 {
        u32::try_from(self.axis(axis).positions.len())
            .expect("a thing stands at some thousand places at most")
    }

    /// The positions along `axes` of place number `place` (the last axis runs fastest).
    pub fn coordinates(&self, axes: &[AxisId], place: Place) -> Vec<u16> {
        let mut rest = place.0;
        let mut out = vec![0; axes.len()];
        for (slot, axis) in out.iter_mut().zip(axes).rev() {
            let length = self.length(*axis);
            *slot = u16::try_from(rest % length).expect("an axis has at most a few hundred positions");
            rest /= length;
        }
        out
    }

    /// Axes bound to the positions of one place, and the groups that those are in.
    pub fn bound(&self, axes: &[AxisId], place: Place) -> Binding {
        let stated = axes.iter().copied().zip(self.coordinates(axes, place));
        stated.fold(Binding::default(), |bound, (axis, at)| self.bound_too(bound, axis, at))
    }

    /// A binding with one more axis, and the groups that its position is in.
    fn bound_too(&self, mut bound: Binding, axis: AxisId, at: u16) -> Binding {
        bound.stated.push((axis, at));
        let groupings = self.axis(axis).groupings.iter();
        bound.implied.extend(groupings.map(|grouping| (grouping.by, grouping.of[usize::from(at)])));
        bound
    }

    /// What is left of a binding at these places; none where it stands elsewhere.
    pub fn narrowed(&self, bound: &Binding, places: &Places) -> Option<Binding> {
        let mut narrow = bound.clone();
        for (axis, at, _) in &places.0 {
            match narrow.position(*axis) {
                Some(here) if here != *at => return None,
                Some(_) => {}
                None if self.among(*axis, &narrow).contains(at) => {
                    narrow = self.bound_too(narrow, *axis, *at);
                }
                None => return None,
            }
        }
        Some(narrow)
    }

    /// The positions of an axis that a binding leaves: the one at which it stands, those of the group that it stands
    /// in, or all.
    fn among(&self, axis: AxisId, bound: &Binding) -> Vec<u16> {
        if let Some(at) = bound.position(axis) {
            return vec![at];
        }
        let entry = self.axis(axis);
        let within = |at: &u16| {
            entry.groupings.iter().all(|grouping| {
                bound.position(grouping.by).is_none_or(|group| grouping.of[usize::from(*at)] == group)
            })
        };
        (0..).take(entry.positions.len()).filter(within).collect()
    }

    /// Where the axes of a thing stand at one of its places, for what it says of other things.
    pub fn bound_at<Id: Sited>(&self, (id, place): (Id, Place)) -> Binding {
        self.bound(id.axes(self), place)
    }

    /// The place at which all of `axes` are bound; none while one is not.
    pub fn place(&self, axes: &[AxisId], bound: &Binding) -> Option<Place> {
        let at =
            |place: u32, axis: &AxisId| Some(place * self.length(*axis) + u32::from(bound.position(*axis)?));
        axes.iter().try_fold(0, at).map(Place)
    }

    /// Of positions, those along which a step repeats, or the groups of its repeats that they are in: along any other axis it
    /// is one step for all of them.
    pub fn along(&self, each: &[AxisId], at: &Places) -> Places {
        let here = at.0.iter().filter_map(|(axis, position, span)| {
            let tells_group =
                |other: &AxisId| self.axis(*other).groupings.iter().any(|grouping| grouping.by == *axis);
            if each.iter().any(|other| other == axis || tells_group(other)) {
                return Some((*axis, *position, *span));
            }
            let mut groupings = self.axis(*axis).groupings.iter();
            let group = groupings.find(|grouping| each.contains(&grouping.by))?;
            Some((group.by, *group.of.get(usize::from(*position))?, *span))
        });
        Places(here.collect())
    }

    /// The names of a place, such as `2, inlet`; empty for a thing without axes.
    pub fn place_name(&self, axes: &[AxisId], place: Place) -> String {
        let names: Vec<&str> = axes
            .iter()
            .zip(self.coordinates(axes, place))
            .map(|(axis, at)| self.axis(*axis).positions[usize::from(at)].as_str())
            .collect();
        names.join(", ")
    }

    /// The id of a thing with its place, as it is written: `push_rod[2, inlet]`.
    pub fn placed(&self, id: &str, axes: &[AxisId], place: Place) -> String {
        if axes.is_empty() { id.to_owned() } else { format!("{id}[{}]", self.place_name(axes, place)) }
    }

    /// Every place of a thing with `axes` that `pattern` means when the axes in `bound` stand at one position.
    pub fn matching(&self, axes: &[AxisId], pattern: &Pattern, bound: &Binding) -> Vec<Place> {
        let mut places = vec![0];
        for (index, axis) in axes.iter().enumerate() {
            let length = self.length(*axis);
            let meant: Vec<u16> = match pattern.0.get(index) {
                Some(At::Position(at)) => vec![*at],
                Some(At::Group(by, group)) => {
                    let mut here = self.among(*axis, bound);
                    here.retain(|at| self.group_of(*axis, *by, *at) == Some(*group));
                    here
                }
                Some(At::Axis) | None => self.among(*axis, bound),
            };
            places = places
                .iter()
                .flat_map(|place| meant.iter().map(move |at| place * length + u32::from(*at)))
                .collect();
        }
        places.into_iter().map(Place).collect()
    }

    /// The group of `by` that a position of an axis is in.
    pub fn group_of(&self, axis: AxisId, by: AxisId, at: u16) -> Option<u16> {
        let grouping = self.axis(axis).groupings.iter().find(|grouping| grouping.by == by)?;
        grouping.of.get(usize::from(at)).copied()
    }

    /// The positions of a thing with the axes `own` that another speaks of with `said`, where that other, with `axes`,
    /// is meant at `meant`: what it shares with that stands where that stands, as far as nothing else is said.
    pub fn carried(&self, meant: &Pattern, axes: &[AxisId], said: &Pattern, own: &[AxisId]) -> Pattern {
        let stands = |(axis, at): (AxisId, At), wanted: AxisId| match at {
            _ if axis == wanted => Some(at),
            At::Position(at) => match self.group_of(axis, wanted, at) {
                Some(group) => Some(At::Position(group)),
                None => self
                    .axis(wanted)
                    .groupings
                    .iter()
                    .any(|group| group.by == axis)
                    .then_some(At::Group(axis, at)),
            },
            At::Group(by, group) if by == wanted => Some(At::Position(group)),
            At::Group(..) | At::Axis => None,
        };
        let at = |(index, wanted): (usize, &AxisId)| match said.0.get(index) {
            Some(At::Axis) | None => {
                let other = axes.iter().copied().zip(meant.0.iter().copied());
                other.filter_map(|other| stands(other, *wanted)).next().unwrap_or(At::Axis)
            }
            Some(fixed) => *fixed,
        };
        Pattern(own.iter().enumerate().map(at).collect())
    }

    /// Whether what is said `at` some positions is said of a place that a target names, in an act that is done `here`.
    pub fn meets<Id: Sited>(&self, target: &Target<Id>, here: &Places, at: &Places) -> bool {
        let both = here.and(at);
        let meets = |place: (Id, Place)| self.narrowed(&self.bound_at(place), &both).is_some();
        at.everywhere() || self.meant(target, &Binding::default()).into_iter().any(meets)
    }

    /// What a target means, at each place that it means, when the axes in `bound` stand at one position.
    pub fn meant<Id: Sited>(&self, target: &Target<Id>, bound: &Binding) -> Vec<(Id, Place)> {
        let places = self.matching(target.id.axes(self), &target.pattern, bound);
        places.into_iter().map(|place| (target.id, place)).collect()
    }
}
