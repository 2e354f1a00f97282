//! The facts that a procedure states of patterns of things, expanded to every place and lifted to assemblies.

use std::collections::{BTreeMap, BTreeSet};

use super::{Cover, Hold, Membership, PartAt, Piece, SetAt, Structure};
use crate::procedure::model::{Binding, CoverThing, Procedure};

/// The assembly that all parts held by a set belong to.
type SetHosts = BTreeMap<SetAt, PartAt>;

impl Structure {
    /// Expands every fact of a procedure.
    pub fn of(procedure: &Procedure) -> Structure {
        let mut structure = Structure::default();
        for (id, set) in procedure.sets.numbered() {
            let named: BTreeSet<u32> = set.under.iter().filter_map(|cover| cover.hole).collect();
            if !named.is_empty() {
                structure.hole_classes.insert(id, named.into_iter().collect());
            }
        }
        structure.collect_memberships(procedure);
        structure.collect_holds(procedure);
        structure.collect_covers(procedure);
        structure.collect_clamped(procedure);
        // Most lists have one entry, and there are very many of them.
        structure
            .covers_of
            .values_mut()
            .chain(structure.covered_by.values_mut())
            .for_each(Vec::shrink_to_fit);
        structure.holders.values_mut().chain(structure.held.values_mut()).for_each(Vec::shrink_to_fit);
        structure.screwed_to.values_mut().chain(structure.below.values_mut()).for_each(Vec::shrink_to_fit);
        structure.contents.values_mut().for_each(Vec::shrink_to_fit);
        structure
    }

    fn collect_memberships(&mut self, procedure: &Procedure) {
        for part in procedure.everywhere() {
            let Some(within) = &procedure.part(part.0).within else { continue };
            // A part sits in one host; a pattern that means several is taken as the first.
            let meant = procedure.meant(&within.host, &procedure.bound_at(part));
            let Some(host) = meant.first().copied() else { continue };
            let (in_place_too, span) = (within.in_place_too, within.host.span);
            let membership = Membership { part, host, in_place_too, span };
            self.hosts.insert(part, membership);
            self.contents.entry(host).or_default().push(membership);
        }
    }

    fn collect_holds(&mut self, procedure: &Procedure) {
        let mut named: Vec<Hold> = Vec::new();
        for part in procedure.everywhere() {
            let bound = procedure.bound_at(part);
            for target in procedure.part(part.0).held_by.iter().filter_map(|held| held.here(&bound)) {
                let sets = procedure.meant(target, &bound).into_iter();
                named.extend(sets.map(|set| Hold { part, set, span: target.span }));
            }
        }
        for at in procedure.everywhere() {
            let (joint, bound) = (procedure.joint(at.0), procedure.bound_at(at));
            for set in joint.members.iter().flat_map(|member| procedure.meant(&member.set, &bound)) {
                for target in joint.held() {
                    let parts = procedure.meant(target, &bound).into_iter();
                    named.extend(parts.map(|part| Hold { part, set, span: target.span }));
                }
            }
        }
        for hold in &named {
            self.screwed_to.entry(hold.set).or_default().push(hold.part);
        }
        named.retain(|hold| !procedure.set(hold.set.0).stays);
        let set_hosts = self.set_hosts(named.iter());
        let mut met = BTreeSet::new();
        for hold in &named {
            let (part, set) = (Piece::Part(hold.part.0, hold.part.1), Piece::Set(hold.set.0, hold.set.1));
            for pair in self.lifted(part, set, &set_hosts) {
                let (Piece::Part(part, at), Piece::Set(set, place)) = pair else { continue };
                let lifted = Hold { part: (part, at), set: (set, place), span: hold.span };
                if met.insert((lifted.part, lifted.set)) {
                    self.holders.entry(lifted.part).or_default().push(lifted);
                    self.held.entry(lifted.set).or_default().push(lifted);
                }
            }
        }
    }

    fn collect_covers(&mut self, procedure: &Procedure) {
        let set_hosts = self.set_hosts(self.held.values().flatten());
        let parts = procedure.everywhere().map(|(id, place)| {
            let part = procedure.part(id);
            (Piece::Part(id, place), &part.axes, place, &part.under)
        });
        let sets = procedure.everywhere().map(|(id, place)| {
            let set = procedure.set(id);
            (Piece::Set(id, place), &set.axes, place, &set.under)
        });
        for (lower, axes, place, under) in parts.chain(sets) {
            let bound = procedure.bound(axes, place);
            for cover in under {
                if !cover.at.hold(&bound) {
                    continue;
                }
                let class = match (lower, cover.hole) {
                    (Piece::Set(set, _), Some(hole)) => Some(self.class_of(set, hole)),
                    _ => None,
                };
                for upper in covering(procedure, &cover.by, &bound) {
                    if let (Piece::Part(part, at), Piece::Part(over, over_at)) = (lower, upper) {
                        self.below.entry((over, over_at)).or_default().push((part, at));
                    }
                    for (lifted, upper) in self.lifted(lower, upper, &set_hosts) {
                        let found = Cover {
                            lower: lifted,
                            class: class.filter(|_| lifted == lower),
                            upper,
                            to_strip: cover.to_strip,
                            to_build: cover.to_build,
                            span: cover.span,
                        };
                        self.covers_of.entry(lifted).or_default().push(found);
                        self.covered_by.entry(upper).or_default().push(found);
                    }
                }
            }
        }
    }

    fn collect_clamped(&mut self, procedure: &Procedure) {
        for at in procedure.everywhere() {
            let (joint, bound) = (procedure.joint(at.0), procedure.bound_at(at));
            let clamped: Vec<Vec<PartAt>> =
                joint.clamps.iter().map(|target| procedure.meant(target, &bound)).collect();
            for (at, upper) in clamped.iter().enumerate() {
                for piece in upper {
                    self.below.entry(*piece).or_default().extend(clamped[at + 1..].iter().flatten());
                }
            }
        }
    }

    /// A set belongs to the assembly that all parts it holds belong to, if there is one.
    fn set_hosts<'h>(&self, holds: impl Iterator<Item = &'h Hold>) -> SetHosts {
        let mut hosts: BTreeMap<SetAt, Option<PartAt>> = BTreeMap::new();
        for hold in holds {
            let host = self.hosts.get(&hold.part).map(|membership| membership.host);
            hosts
                .entry(hold.set)
                .and_modify(|common| *common = common.filter(|known| Some(*known) == host))
                .or_insert(host);
        }
        hosts.into_iter().filter_map(|(set, host)| host.map(|host| (set, host))).collect()
    }

    /// Part or set, then its host, the host of that, and so on. A ring of hosts is cut where it closes.
    fn chain(&self, piece: Piece, set_hosts: &SetHosts) -> Vec<Piece> {
        let mut chain = vec![piece];
        let mut seen = BTreeSet::from([piece]);
        let mut here = piece;
        loop {
            let host = match here {
                Piece::Part(part, place) => self.hosts.get(&(part, place)).map(|within| within.host),
                Piece::Set(set, place) => set_hosts.get(&(set, place)).copied(),
            };
            match host.map(|(part, place)| Piece::Part(part, place)) {
                Some(next) if seen.insert(next) => {
                    chain.push(next);
                    here = next;
                }
                _ => return chain,
            }
        }
    }

    fn in_place_too(&self, piece: Piece) -> bool {
        matches!(piece, Piece::Part(part, place) if self.host((part, place)).is_some_and(|m| m.in_place_too))
    }

    /// The pairs between which a relation of `lower` and `upper` holds.
    fn lifted(&self, lower: Piece, upper: Piece, set_hosts: &SetHosts) -> Vec<(Piece, Piece)> {
        let low = self.chain(lower, set_hosts);
        let up = self.chain(upper, set_hosts);
        let meeting =
            low.iter().enumerate().find_map(|(i, piece)| up.iter().position(|p| p == piece).map(|j| (i, j)));
        let (i, j) = meeting.unwrap_or((low.len(), up.len()));
        if i == 0 || j == 0 {
            // One is the assembly that the other belongs to: the fact is about these two.
            return vec![(lower, upper)];
        }
        let mut pairs = vec![(low[i - 1], up[j - 1])];
        // Everything on the way up that may be taken out with its host fitted is bound as well.
        pairs.extend(
            low[..i - 1].iter().filter(|piece| self.in_place_too(**piece)).map(|piece| (*piece, up[j - 1])),
        );
        pairs
    }
}

fn covering(procedure: &Procedure, by: &CoverThing, bound: &Binding) -> Vec<Piece> {
    match by {
        CoverThing::Part(target) => {
            let meant = procedure.meant(target, bound).into_iter();
            meant.map(|(part, place)| Piece::Part(part, place)).collect()
        }
        CoverThing::Set(target) => {
            let meant = procedure.meant(target, bound).into_iter();
            meant.map(|(set, place)| Piece::Set(set, place)).collect()
        }
    }
}
