//! Joints: what is clamped, where the holes are, how each set is tightened.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::cases::{Owner, sourced};
use super::errors;
use super::layouts::MOST_HOLES;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{self, Clause, Declaration, JointClause, Word};
use crate::quantity::Dimension;
use crate::source::{Span, Spanned};

pub(super) const VIEWS: [(&str, View); 6] = [
    ("top", View::Top),
    ("below", View::Below),
    ("front", View::Front),
    ("rear", View::Rear),
    ("left", View::Left),
    ("right", View::Right),
];

const FRONTS: [(&str, Front); 4] =
    [("left", Front::Left), ("right", Front::Right), ("up", Front::Up), ("down", Front::Down)];

/// A joint while its clauses are read.
struct Draft<'a> {
    joint: Joint,
    /// Where the holes of each member are said, and where its torque is.
    said: Vec<(Span, Option<Span>)>,
    declaration: &'a Declaration<JointClause>,
}

impl Resolver {
    pub(super) fn joint_clauses(&mut self, id: JointId, declaration: &Declaration<JointClause>) {
        let mut draft = Draft { joint: self.procedure.joint(id).clone(), said: Vec::new(), declaration };
        // Holes first: torques and sequences speak of them, wherever they stand.
        let mut holes_known = true;
        let mut seen = Vec::new();
        for clause in &declaration.clauses {
            if let JointClause::Holes { set, layout } = &clause.value {
                holes_known &= self.holes(&mut draft, set, layout);
            }
        }
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                JointClause::Holes { .. } => {}
                JointClause::Clamps(parts) => {
                    draft.joint.clamps = parts.iter().filter_map(|part| self.target(part)).collect();
                    if parts.len() < 2 {
                        let complaint = errors::one_clamp(clause.span, &declaration.name);
                        self.complain_of_absence(declaration.span, complaint);
                    }
                }
                JointClause::SeenFrom { view, front, scope } => {
                    let value = (view, front.as_ref());
                    seen.push(tree::Case { value, scope: scope.clone(), origin: None, span: clause.span });
                }
                JointClause::Gasket { material, thickness } => {
                    let thickness = thickness.as_ref().and_then(|t| self.positive(t, Dimension::LENGTH));
                    draft.joint.gasket = Some((material.value.clone(), thickness));
                }
                JointClause::Tighten { set, tightening } => {
                    self.tighten_member(&mut draft, set, tightening, clause.span);
                }
                JointClause::Sequence { to_undo, holes, origin } => {
                    self.needs_origin(origin, clause.span, "a sequence");
                    let order =
                        if holes_known { self.sequence(&draft.joint, holes, clause.span) } else { None };
                    let order = order.map(|order| sourced(order, origin, clause.span));
                    if *to_undo {
                        draft.joint.undo_sequence = order;
                    } else {
                        draft.joint.tighten_sequence = order;
                    }
                }
                JointClause::Then(act) => draft.joint.then.extend(self.act(act, clause.span, &[])),
                JointClause::PassByPass => draft.joint.pass_by_pass = true,
                JointClause::Critical => draft.joint.critical = true,
                JointClause::Friction { range, origin } => {
                    self.needs_origin(origin, clause.span, "a coefficient of friction");
                    draft.joint.friction =
                        self.friction(range).map(|value| Box::new(sourced(value, origin, clause.span)));
                }
            }
        }
        draft.joint.seen =
            self.cases(&Owner::Thing(Name::Joint(id)), &seen, |resolver, case| resolver.seen(case.value));
        let clauses = &declaration.clauses;
        if !clauses.iter().any(|clause| matches!(clause.value, JointClause::Clamps(_))) {
            let example = "clamps PART, BASE";
            let complaint = errors::missing_clause("joint", &declaration.name, "clamps", example);
            self.complain_of_absence(declaration.span, complaint);
        }
        let speaks_of_sets = |clause: &Clause<JointClause>| {
            matches!(clause.value, JointClause::Holes { .. } | JointClause::Tighten { .. })
        };
        if !clauses.iter().any(speaks_of_sets) {
            let example = "holes SET at (0,0) (40,0) mm";
            let complaint = errors::missing_clause("joint", &declaration.name, "holes", example);
            self.complain_of_absence(declaration.span, complaint);
        }
        self.one_torque(&draft);
        self.whole_sets(&draft);
        self.procedure.joints[id] = draft.joint;
    }

    /// A set has one torque: where a joint names it by position, the same for each. The first one that differs, or
    /// that is left without, is told for each set.
    fn one_torque(&mut self, draft: &Draft) {
        let said = || draft.joint.members.iter().zip(&draft.said);
        let mut told = BTreeSet::new();
        for (member, (holes, tightened)) in said() {
            let id = member.set.id;
            let stated = said().find(|(other, _)| other.set.id == id && !other.tightening.is_empty());
            let Some((other, (_, Some(first)))) = stated else { continue };
            let value = |member: &Member| {
                let cases = member.tightening.0.iter();
                cases.map(|(stated, scope)| (stated.value.clone(), scope.clone())).collect::<Vec<_>>()
            };
            if value(member) != value(other) && told.insert(id) {
                let set = &self.procedure.set(id).naming.id;
                self.complain(errors::two_torques(set, *tightened, *holes, *first));
            }
        }
    }

    /// A joint names all of a set, if it names any: the rest would have the torque of a joint that it isn't in.
    fn whole_sets(&mut self, draft: &Draft) {
        let mut told = BTreeSet::new();
        for (member, (span, _)) in draft.joint.members.iter().zip(&draft.said) {
            let id = member.set.id;
            let entry = self.procedure.set(id);
            let named = |place: &Place| {
                let own = draft.joint.members.iter().filter(|other| other.set.id == id);
                let mut meant = own.flat_map(|other| self.procedure.meant(&other.set, &Binding::default()));
                meant.any(|(_, at)| at == *place)
            };
            let missing = self.procedure.places(&entry.axes).find(|place| !named(place));
            let Some(missing) = missing.filter(|_| told.insert(id)) else { continue };
            let left_out =
                format!("{}[{}]", entry.naming.id, self.procedure.place_name(&entry.axes, missing));
            let complaint = errors::set_in_part(&entry.naming.id.clone(), &left_out, *span);
            self.complain(complaint);
        }
    }

    fn seen(&mut self, (view, front): (&Word, Option<&Word>)) -> Option<Seen> {
        let found = self.word(view, "a side to look from", &VIEWS)?;
        let sides = self.procedure.family.as_ref().and_then(|family| family.sides_seen_from);
        // Facing the side that is on the right as seen from the rear, the front is to one's right.
        let upright = match (found, sides) {
            (View::Right, Some(End::Rear)) | (View::Left, Some(End::Front)) => Some("right"),
            (View::Left, Some(End::Rear)) | (View::Right, Some(End::Front)) => Some("left"),
            _ => None,
        };
        let of_an_end = matches!(found, View::Front | View::Rear);
        if front.is_none() && !of_an_end {
            self.complain_of_absence(view.span, errors::no_front(view, upright, self.procedure.whole()));
        }
        match front {
            Some(front) if of_an_end => {
                self.complain(errors::impossible_front(view, front, self.procedure.whole()));
            }
            Some(front) => {
                let other = upright.filter(|_| matches!(front.value.as_str(), "left" | "right"));
                if let Some(upright) = other.filter(|upright| *upright != front.value) {
                    self.complain(errors::upside_down(view, front, upright, self.procedure.whole()));
                }
            }
            None => {}
        }
        let front = front.and_then(|front| self.word(front, "a place of the front", &FRONTS));
        Some(Seen { view: found, front })
    }

    /// Places the holes of one set; whether the letters that follow can be relied on.
    fn holes(
        &mut self,
        draft: &mut Draft,
        reference: &tree::Reference,
        layout: &Spanned<tree::Layout>,
    ) -> bool {
        let set = self.target(reference);
        let places = self.layout(&layout.value);
        let (Some(set), Some(places)) = (set, places) else { return false };
        let entry = self.procedure.set(set.id);
        let at_joint = self.procedure.places(&draft.joint.axes).map(|place| {
            let bound = self.procedure.bound(&draft.joint.axes, place);
            (entry.count.at_a_place().most() as usize)
                .saturating_mul(self.procedure.meant(&set, &bound).len())
        });
        // A group may have more of them than another.
        let wanted: Vec<usize> = at_joint.collect();
        let other = wanted.iter().copied().find(|wanted| *wanted != places.len());
        // That the number itself differs is told where it is said.
        let other = other.filter(|_| entry.count.0.len() < 2);
        if let Some(wanted) = other {
            let word = self.declared(Name::Set(set.id));
            self.complain(errors::hole_count(layout.span, places.len(), &word, wanted));
            return false;
        }
        let same = |member: &Member| member.set.id == set.id && member.set.pattern == set.pattern;
        if let Some(index) = draft.joint.members.iter().position(same) {
            let first = draft.said[index].0;
            self.complain(errors::second_holes("its holes", "holes", &reference.name, layout.span, first));
            return false;
        }
        let next = draft.joint.members.iter().map(|member| member.holes.len()).sum::<usize>();
        let holes = places.into_iter().enumerate().map(|(offset, (x, y))| {
            let index = u32::try_from(next + offset).expect("layouts are bounded");
            Hole { index, letter: hole_letter(index), x, y }
        });
        let member = Member { set, holes: holes.collect(), tightening: Cases::default(), absent: Vec::new() };
        self.coinciding(draft, &member, layout.span);
        draft.joint.members.push(member);
        draft.said.push((layout.span, None));
        true
    }

    /// Complains of holes at the same place, to a thousandth of a millimetre.
    fn coinciding(&mut self, draft: &Draft, new: &Member, span: Span) {
        let key = |hole: &Hole| ((hole.x.base() * 1e6).round() as i64, (hole.y.base() * 1e6).round() as i64);
        let mut taken: BTreeMap<(i64, i64), (&str, Span)> = BTreeMap::new();
        let both = |member: &Member| !self.procedure.never_both(member.set.id, new.set.id);
        for (member, (said, _)) in draft.joint.members.iter().zip(&draft.said).filter(|(m, _)| both(m)) {
            taken.extend(member.holes.iter().map(|hole| (key(hole), (hole.letter.as_str(), *said))));
        }
        for hole in &new.holes {
            if let Some((other, said)) = taken.insert(key(hole), (&hole.letter, span)) {
                self.complain(errors::holes_coincide(span, said, other, &hole.letter));
            }
        }
    }

    fn tighten_member(
        &mut self,
        draft: &mut Draft,
        reference: &tree::Reference,
        tightening: &[tree::Case<tree::Tightened>],
        span: Span,
    ) {
        let Some(set) = self.target(reference) else { return };
        let value = self.tightening(set.id, tightening);
        let whole = reference.positions.is_empty();
        let meant: Vec<usize> = (0..draft.joint.members.len())
            .filter(|index| {
                let member = &draft.joint.members[*index];
                member.set.id == set.id && (whole || member.set.pattern == set.pattern)
            })
            .collect();
        let lists_holes =
            draft.declaration.clauses.iter().any(|clause| matches!(clause.value, JointClause::Holes { .. }));
        if meant.is_empty() && lists_holes {
            let named = |clause: &Clause<JointClause>| matches!(&clause.value, JointClause::Holes { set, .. } if set.name.value == reference.name.value);
            // Holes that were complained of are not missing.
            if !draft.declaration.clauses.iter().any(named) {
                let complaint = errors::set_without_holes(&reference.name, &draft.declaration.name);
                self.complain_of_absence(draft.declaration.span, complaint);
            }
            return;
        }
        if meant.is_empty() {
            // A joint without any layout: naming the torque of a set puts the set in the joint.
            draft.joint.members.push(Member {
                set,
                holes: Vec::new(),
                tightening: value,
                absent: Vec::new(),
            });
            draft.said.push((span, Some(span)));
            return;
        }
        for index in meant {
            match draft.said[index].1 {
                Some(first) => {
                    self.complain(errors::second_holes(
                        "its torque",
                        "tighten",
                        &reference.name,
                        span,
                        first,
                    ));
                }
                None => {
                    draft.said[index].1 = Some(span);
                    draft.joint.members[index].tightening.clone_from(&value);
                }
            }
        }
    }

    /// The author's sequence as hole indices: each hole once.
    fn sequence(&mut self, joint: &Joint, letters: &[Word], span: Span) -> Option<Vec<u32>> {
        let count = joint.members.iter().map(|member| member.holes.len()).sum::<usize>();
        let last = count.checked_sub(1).and_then(|last| u32::try_from(last).ok()).map(hole_letter);
        let mut order = Vec::new();
        let mut first: BTreeMap<u32, Span> = BTreeMap::new();
        let mut sound = true;
        for letter in letters {
            let Some(index) = hole_index(&letter.value).filter(|index| (*index as usize) < count) else {
                let place = joint.naming.span;
                self.complain(errors::unknown_hole(letter, place, &joint.naming.id, last.as_deref()));
                sound = false;
                continue;
            };
            if let Some(earlier) = first.get(&index) {
                self.complain(errors::sequence_repeats(letter, *earlier));
                sound = false;
                continue;
            }
            first.insert(index, letter.span);
            order.push(index);
        }
        // A letter that is wrong or doubled leaves another one out: one complaint is enough.
        if sound && order.len() < count {
            let all = 0..u32::try_from(count).expect("layouts are bounded");
            let missing: Vec<String> =
                all.filter(|index| !first.contains_key(index)).map(hole_letter).collect();
            self.complain(errors::sequence_misses(span, &missing));
            sound = false;
        }
        sound.then_some(order)
    }

    /// Notes in which joints each set is, for what sets say of their holes. A set is in one joint: in two it would
    /// have two torques, and undoing it for the one would open the other.
    pub(super) fn index_joints(&mut self) {
        let mut joints_of = vec![Vec::new(); self.procedure.sets.len()];
        let mut first: BTreeMap<SetId, (JointId, Span)> = BTreeMap::new();
        let mut complaints = Vec::new();
        for (index, joint) in self.procedure.joints.iter().enumerate() {
            let id = JointId(u32::try_from(index).expect("as many as were declared"));
            for member in &joint.members {
                let joints = &mut joints_of[member.set.id.index()];
                if joints.last() != Some(&id) {
                    joints.push(id);
                    let (earlier, span) = *first.entry(member.set.id).or_insert((id, member.set.span));
                    if earlier != id {
                        let set = self.procedure.set(member.set.id);
                        let earlier = &self.procedure.joint(earlier).naming.id;
                        let names = (set, earlier.as_str(), joint.naming.id.as_str());
                        complaints.push(errors::set_in_two_joints(
                            names,
                            member.holes.len(),
                            member.set.span,
                            span,
                        ));
                    }
                }
            }
        }
        self.joints_of = Arc::new(joints_of);
        self.diagnostics.extend(complaints);
    }

    /// The joints that a set is in.
    pub(super) fn joints_of(&self, set: SetId) -> &[JointId] {
        self.joints_of.get(set.index()).map_or(&[], Vec::as_slice)
    }

    /// The index of a hole of a set, in its joint, or within the set if it is in none.
    pub(super) fn hole_of_set(&mut self, set: SetId, letter: &Word) -> Option<u32> {
        let word = self.declared(Name::Set(set));
        let joints = self.joints_of(set).to_vec();
        let members = joints.iter().flat_map(|joint| &self.procedure.joint(*joint).members);
        let holes: Vec<&Hole> =
            members.filter(|member| member.set.id == set).flat_map(|member| &member.holes).collect();
        let index = hole_index(&letter.value);
        if holes.is_empty() {
            let count = self.procedure.set(set).count.at_a_place().most();
            let found = index.filter(|index| *index < count);
            if found.is_none() {
                let last = count.min(MOST_HOLES).checked_sub(1).map(hole_letter);
                self.complain(errors::unknown_hole(letter, word.span, &word.value, last.as_deref()));
            }
            return found;
        }
        let found = holes.iter().find(|hole| hole.letter == letter.value).map(|hole| hole.index);
        if found.is_none() {
            let letters: Vec<String> = holes.iter().map(|hole| hole.letter.clone()).collect();
            self.complain(errors::hole_of_other_set(letter, &word, &letters));
        }
        found
    }

    /// Complains where what is critical is tightened by table or feel; runs when all parts and sets are known.
    pub(super) fn critical_torques(&mut self) {
        let mut complaints = Vec::new();
        for joint in &self.procedure.joints {
            // The base carries the joint, but isn't what comes off when its fasteners fail.
            let critical_part = joint
                .held()
                .iter()
                .map(|part| self.procedure.part(part.id))
                .find(|part| part.critical)
                .map(|part| &part.naming);
            for member in &joint.members {
                let set = self.procedure.set(member.set.id);
                let own = set.critical.then_some(&set.naming);
                let because = own.or(joint.critical.then_some(&joint.naming)).or(critical_part);
                complaints.extend(member.tightening.values().filter_map(|stated| careless(stated, because)));
            }
        }
        for set in self.procedure.sets.iter().filter(|set| set.critical) {
            complaints
                .extend(set.tightening.values().filter_map(|stated| careless(stated, Some(&set.naming))));
        }
        for part in self.procedure.parts.iter().filter(|part| part.critical) {
            for held in &part.held_by {
                let set = self.procedure.set(held.what.id);
                if !set.critical {
                    complaints.extend(
                        set.tightening.values().filter_map(|stated| careless(stated, Some(&part.naming))),
                    );
                }
            }
        }
        self.diagnostics.extend(complaints);
    }
}

/// The complaint about a critical thing tightened by table or feel.
fn careless(
    tightening: &Sourced<Tightening>,
    because: Option<&Naming>,
) -> Option<crate::diagnostics::Diagnostic> {
    let because = because?;
    let way = match tightening.value {
        Tightening::General => "by the general table",
        Tightening::ByFeel => "by feel",
        Tightening::Passes(_) | Tightening::Unknown => return None,
    };
    let what = format!("`{}`", because.id);
    Some(errors::critical_torque(tightening.span, way, &what, because.span))
}

/// The index of a hole letter: A is 0, Z is 25, AA is 26.
fn hole_index(letter: &str) -> Option<u32> {
    let mut index: u32 = 0;
    for byte in letter.bytes() {
        if !byte.is_ascii_uppercase() {
            return None;
        }
        index = index.checked_mul(26)?.checked_add(u32::from(byte - b'A') + 1)?;
    }
    index.checked_sub(1)
}
