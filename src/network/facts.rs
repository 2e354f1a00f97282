//! Facts at their places: what is over what, what holds what, what belongs to what, with assemblies taken into
//! account, and the numbers of all things that have a value.
//!
//! State is relative to the host: a fact between things of different assemblies holds between the outermost
//! assemblies that don't contain both, and for what is `in place too` also for the thing itself.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use super::answers::{Case, QuestionId};
use super::types::*;
use super::types::{Question, Thing};
use crate::procedure::model::{self, *};
use crate::source::Span;

/// A part or a fastener set at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Piece {
    Part(PartId, Place),
    Set(SetId, Place),
}

/// Something is over something else.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct CoverFact {
    /// The lower piece.
    pub lower: Piece,
    /// Only this class of its holes; none for all.
    pub class: Option<HoleClass>,
    /// The upper piece.
    pub upper: Piece,
    /// Counts when taking apart.
    pub to_strip: bool,
    /// Counts when putting together.
    pub to_build: bool,
    /// Where it is said.
    pub span: Span,
}

/// A set holds a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Hold {
    /// The part.
    pub part: (PartId, Place),
    /// The set.
    pub set: (SetId, Place),
    /// Where it is said.
    pub span: Span,
}

/// A part belongs to an assembly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Membership {
    /// The part.
    pub part: (PartId, Place),
    /// Its host.
    pub host: (PartId, Place),
    /// May be taken out and put in with the host fitted.
    pub in_place_too: bool,
    /// Where it is said.
    pub span: Span,
}

/// Every fact at its places, and the register of things.
pub(super) struct Facts<'a> {
    pub procedure: &'a Procedure,
    pub things: Vec<Thing>,
    pub questions: Vec<Question>,
    index: HashMap<ThingKind, ThingId>,
    question_index: BTreeMap<QuestionKind, QuestionId>,
    covers: Vec<CoverFact>,
    covers_of: BTreeMap<Piece, Vec<usize>>,
    covered_by: BTreeMap<Piece, Vec<usize>>,
    holds: Vec<Hold>,
    holds_of_part: BTreeMap<(PartId, Place), Vec<usize>>,
    holds_of_set: BTreeMap<(SetId, Place), Vec<usize>>,
    hosts: BTreeMap<(PartId, Place), Membership>,
    contents: BTreeMap<(PartId, Place), Vec<Membership>>,
    hole_classes: BTreeMap<SetId, Vec<u32>>,
}

impl<'a> Facts<'a> {
    /// Expands every fact of `procedure`.
    pub fn new(procedure: &'a Procedure) -> Self {
        let mut facts = Facts {
            procedure,
            things: Vec::new(),
            questions: Vec::new(),
            index: HashMap::new(),
            question_index: BTreeMap::new(),
            covers: Vec::new(),
            covers_of: BTreeMap::new(),
            covered_by: BTreeMap::new(),
            holds: Vec::new(),
            holds_of_part: BTreeMap::new(),
            holds_of_set: BTreeMap::new(),
            hosts: BTreeMap::new(),
            contents: BTreeMap::new(),
            hole_classes: BTreeMap::new(),
        };
        facts.collect_hole_classes();
        facts.collect_memberships();
        facts.collect_holds();
        facts.collect_covers();
        facts
    }

    fn collect_hole_classes(&mut self) {
        for (id, set) in self.procedure.sets.numbered() {
            let named: BTreeSet<u32> = set.under.iter().filter_map(|cover| cover.hole).collect();
            if !named.is_empty() {
                self.hole_classes.insert(id, named.into_iter().collect());
            }
        }
    }

    fn collect_memberships(&mut self) {
        for (id, part) in self.procedure.parts.numbered() {
            let Some(within) = &part.within else { continue };
            for place in self.procedure.places(&part.axes) {
                let binding = self.procedure.bound(&part.axes, place);
                // A part sits in one host; a pattern that means several is taken as the first.
                let Some(host) = self.procedure.meant(&within.host, &binding).first().copied() else {
                    continue;
                };
                let membership = Membership {
                    part: (id, place),
                    host,
                    in_place_too: within.in_place_too,
                    span: within.host.span,
                };
                self.hosts.insert(membership.part, membership);
                self.contents.entry(membership.host).or_default().push(membership);
            }
        }
    }

    /// Part or set, then its host, the host of that, and so on. A ring of hosts is cut where it closes.
    fn chain(&self, piece: Piece, set_hosts: &BTreeMap<(SetId, Place), (PartId, Place)>) -> Vec<Piece> {
        let mut chain = vec![piece];
        let mut here = piece;
        loop {
            let host = match here {
                Piece::Part(part, place) => self.hosts.get(&(part, place)).map(|m| m.host),
                Piece::Set(set, place) => set_hosts.get(&(set, place)).copied(),
            };
            match host.map(|(part, place)| Piece::Part(part, place)) {
                Some(next) if !chain.contains(&next) => {
                    chain.push(next);
                    here = next;
                }
                _ => return chain,
            }
        }
    }

    fn in_place_too(&self, piece: Piece) -> bool {
        matches!(piece, Piece::Part(part, place) if self.hosts.get(&(part, place)).is_some_and(|m| m.in_place_too))
    }

    /// The pairs between which a relation of `lower` and `upper` holds.
    fn lifted(
        &self,
        lower: Piece,
        upper: Piece,
        set_hosts: &BTreeMap<(SetId, Place), (PartId, Place)>,
    ) -> Vec<(Piece, Piece)> {
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

    fn collect_holds(&mut self) {
        let mut raw: Vec<Hold> = Vec::new();
        for (id, part) in self.procedure.parts.numbered() {
            for place in self.procedure.places(&part.axes) {
                let binding = self.procedure.bound(&part.axes, place);
                for target in &part.held_by {
                    for (_, set) in self.procedure.meant(target, &binding) {
                        raw.push(Hold { part: (id, place), set: (target.id, set), span: target.span });
                    }
                }
            }
        }
        for joint in &self.procedure.joints {
            for place in self.procedure.places(&joint.axes) {
                let binding = self.procedure.bound(&joint.axes, place);
                for member in &joint.members {
                    let set_axes = &self.procedure.set(member.set.id).axes;
                    for set in self.procedure.matching(set_axes, &member.set.pattern, &binding) {
                        for clamped in joint.held() {
                            for (_, part) in self.procedure.meant(clamped, &binding) {
                                raw.push(Hold {
                                    part: (clamped.id, part),
                                    set: (member.set.id, set),
                                    span: clamped.span,
                                });
                            }
                        }
                    }
                }
            }
        }
        raw.retain(|hold| !self.procedure.set(hold.set.0).stays);
        let set_hosts = self.set_hosts(&raw);
        let mut seen = BTreeSet::new();
        for hold in &raw {
            let (part, set) = (Piece::Part(hold.part.0, hold.part.1), Piece::Set(hold.set.0, hold.set.1));
            for pair in self.lifted(part, set, &set_hosts) {
                let (Piece::Part(p, pp), Piece::Set(s, sp)) = pair else { continue };
                if seen.insert((p, pp, s, sp)) {
                    self.holds_of_part.entry((p, pp)).or_default().push(self.holds.len());
                    self.holds_of_set.entry((s, sp)).or_default().push(self.holds.len());
                    self.holds.push(Hold { part: (p, pp), set: (s, sp), span: hold.span });
                }
            }
        }
    }

    /// A set belongs to the assembly that all parts it holds belong to, if there is one.
    fn set_hosts(&self, holds: &[Hold]) -> BTreeMap<(SetId, Place), (PartId, Place)> {
        let mut hosts: BTreeMap<(SetId, Place), Option<(PartId, Place)>> = BTreeMap::new();
        for hold in holds {
            let host = self.hosts.get(&hold.part).map(|membership| membership.host);
            hosts
                .entry(hold.set)
                .and_modify(|common| *common = common.filter(|h| Some(*h) == host))
                .or_insert(host);
        }
        hosts.into_iter().filter_map(|(set, host)| host.map(|host| (set, host))).collect()
    }

    fn collect_covers(&mut self) {
        let raw_holds: Vec<Hold> = self.holds.clone();
        let set_hosts = self.set_hosts(&raw_holds);
        let procedure = self.procedure;
        let parts = procedure.parts.numbered().map(|(id, part)| (Ok(id), &part.axes, &part.under));
        let sets = procedure.sets.numbered().map(|(id, set)| (Err(id), &set.axes, &set.under));
        let mut found: Vec<CoverFact> = Vec::new();
        for (id, axes, under) in parts.chain(sets) {
            for place in self.procedure.places(axes) {
                let coordinates = procedure.coordinates(axes, place);
                let binding = procedure.bound(axes, place);
                let lower = match id {
                    Ok(part) => Piece::Part(part, place),
                    Err(set) => Piece::Set(set, place),
                };
                for cover in under {
                    let here = cover.at.0.iter().zip(&coordinates).all(|(at, coordinate)| match at {
                        At::Axis => true,
                        At::Position(position) => position == coordinate,
                    });
                    if !here {
                        continue;
                    }
                    let class = match (id, cover.hole) {
                        (Err(set), Some(hole)) => Some(self.class_of(set, hole)),
                        _ => None,
                    };
                    for upper in self.cover_pieces(&cover.by, &binding) {
                        for (lower_piece, upper_piece) in self.lifted(lower, upper, &set_hosts) {
                            found.push(CoverFact {
                                lower: lower_piece,
                                class: class.filter(|_| lower_piece == lower),
                                upper: upper_piece,
                                to_strip: cover.to_strip,
                                to_build: cover.to_build,
                                span: cover.span,
                            });
                        }
                    }
                }
            }
        }
        for fact in found {
            self.covers_of.entry(fact.lower).or_default().push(self.covers.len());
            self.covered_by.entry(fact.upper).or_default().push(self.covers.len());
            self.covers.push(fact);
        }
    }

    fn cover_pieces(&self, by: &CoverThing, binding: &Binding) -> Vec<Piece> {
        let piece = |(id, place)| Piece::Part(id, place);
        match by {
            CoverThing::Part(target) => {
                self.procedure.meant(target, binding).into_iter().map(piece).collect()
            }
            CoverThing::Set(target) => {
                let meant = self.procedure.meant(target, binding).into_iter();
                meant.map(|(id, place)| Piece::Set(id, place)).collect()
            }
        }
    }

    fn class_of(&self, set: SetId, hole: u32) -> HoleClass {
        let at = self.hole_classes.get(&set).and_then(|named| named.iter().position(|named| *named == hole));
        HoleClass(at.map_or(0, |at| u32::try_from(at + 1).expect("a set has few holes")))
    }

    /// The things that a set at a place is: one, and one more for each of its holes that a fact names.
    pub fn set_things(&mut self, set: SetId, place: Place) -> Vec<(HoleClass, ThingId)> {
        let classes = self.hole_classes.get(&set).map_or(0, Vec::len);
        (0..=u32::try_from(classes).expect("a set has few holes"))
            .map(|class| (HoleClass(class), self.thing(ThingKind::Set(set, place, HoleClass(class)))))
            .collect()
    }

    /// What covers a piece (or one class of holes of a set) when taking apart, or when putting together.
    pub fn covers(&self, lower: Piece, class: HoleClass, building: bool) -> impl Iterator<Item = &CoverFact> {
        self.covers_of.get(&lower).into_iter().flatten().map(|index| &self.covers[*index]).filter(
            move |fact| {
                (if building { fact.to_build } else { fact.to_strip })
                    && fact.class.is_none_or(|only| only == class)
            },
        )
    }

    /// What a piece covers when putting together.
    pub fn covered(&self, upper: Piece) -> impl Iterator<Item = &CoverFact> {
        self.covered_by
            .get(&upper)
            .into_iter()
            .flatten()
            .map(|index| &self.covers[*index])
            .filter(|fact| fact.to_build)
    }

    /// The sets that hold a part.
    pub fn holders(&self, part: PartId, place: Place) -> impl Iterator<Item = &Hold> {
        self.holds_of_part.get(&(part, place)).into_iter().flatten().map(|index| &self.holds[*index])
    }

    /// The parts that a set holds.
    pub fn held(&self, set: SetId, place: Place) -> impl Iterator<Item = &Hold> {
        self.holds_of_set.get(&(set, place)).into_iter().flatten().map(|index| &self.holds[*index])
    }

    /// The assembly that a part belongs to.
    pub fn host(&self, part: PartId, place: Place) -> Option<Membership> {
        self.hosts.get(&(part, place)).copied()
    }

    /// What belongs to an assembly.
    pub fn contents(&self, part: PartId, place: Place) -> &[Membership] {
        self.contents.get(&(part, place)).map_or(&[], Vec::as_slice)
    }

    /// Whether a part is above the lifting limit of the procedure.
    pub fn heavy(&self, part: PartId) -> bool {
        self.procedure.part(part).mass.is_some_and(|mass| mass.base() > lifting_limit(self.procedure))
    }

    /// The number of a thing; registered at its first use.
    pub fn thing(&mut self, kind: ThingKind) -> ThingId {
        if let Some(id) = self.index.get(&kind) {
            return *id;
        }
        let id = ThingId(u32::try_from(self.things.len()).expect("far fewer things than that"));
        let start = match kind {
            ThingKind::Part(..) => FITTED,
            ThingKind::Errand(..) => HERE,
            ThingKind::Steady(..) => YES,
            ThingKind::Set(..) => TIGHT,
            ThingKind::Temporary(..) => GONE,
            ThingKind::State(state) => 1 << self.procedure.state(state).at_first,
            ThingKind::Support(..) | ThingKind::Clean(..) | ThingKind::Reading(..) | ThingKind::Seen(..) => {
                NO
            }
            ThingKind::Answered(_) => NO,
        };
        let at_build = match kind {
            ThingKind::State(state) => self.procedure.state(state).at_build.map(|value| 1 << value),
            _ => None,
        };
        self.things.push(Thing { kind, start, at_build });
        self.index.insert(kind, id);
        id
    }

    /// The number of a question; registered at its first use.
    pub fn question(&mut self, kind: QuestionKind) -> QuestionId {
        if let Some(id) = self.question_index.get(&kind) {
            return *id;
        }
        let answers = match kind {
            QuestionKind::Ask(ask) => self.procedure.ask(ask).answers.clone(),
            QuestionKind::Gauge(gauge, _) => {
                self.procedure.gauge(gauge).bands.iter().map(|b| b.name.clone()).collect()
            }
            QuestionKind::Look(look, _) => self.procedure.look(look).results.clone(),
        };
        let id = QuestionId(u32::try_from(self.questions.len()).expect("far fewer questions than that"));
        self.questions.push(Question { kind, answers });
        self.question_index.insert(kind, id);
        id
    }

    /// Answers under which a guard holds; none if it can never hold.
    pub fn case(&mut self, guard: &Guard, binding: &Binding) -> Option<Case> {
        let mut case = Case::always();
        for term in &guard.0 {
            let kind = match &term.question {
                model::Question::Ask(ask) => QuestionKind::Ask(*ask),
                model::Question::Gauge(target) => {
                    let axes = &self.procedure.gauge(target.id).axes;
                    QuestionKind::Gauge(target.id, self.only_place(axes, &target.pattern, binding))
                }
                model::Question::Look(target) => {
                    let axes = &self.procedure.look(target.id).axes;
                    QuestionKind::Look(target.id, self.only_place(axes, &target.pattern, binding))
                }
            };
            let question = self.question(kind);
            case = case.and(&Case::when(question, 1 << term.answer))?;
        }
        Some(case)
    }

    fn only_place(&self, axes: &[AxisId], pattern: &Pattern, binding: &Binding) -> Option<Place> {
        let places = self.procedure.matching(axes, pattern, binding);
        if places.len() == 1 { places.first().copied() } else { None }
    }

    /// What is left of a case outside others, as disjoint cases.
    pub fn outside<'c>(&self, case: Case, others: impl Iterator<Item = &'c Case>) -> Vec<Case> {
        outside(&self.questions, case, others)
    }

    /// Answers under which every part that a set holds is left out.
    pub fn nothing_to_hold(&mut self, (set, place): (SetId, Place)) -> Vec<Case> {
        self.of_all_held((set, place), Facts::left_out)
    }

    /// Answers under which something holds of every part that a set holds; none for a set that holds nothing.
    fn of_all_held(
        &mut self,
        (set, place): (SetId, Place),
        cases_of: impl Fn(&mut Self, PartId, Place) -> Vec<Case>,
    ) -> Vec<Case> {
        let held: Vec<(PartId, Place)> = self.held(set, place).map(|hold| hold.part).collect();
        let both =
            |a: Vec<Case>, b: Vec<Case>| a.iter().flat_map(|a| b.iter().filter_map(|b| a.and(b))).collect();
        held.into_iter().map(|(part, at)| cases_of(self, part, at)).reduce(both).unwrap_or_default()
    }

    /// Answers under which a part is left out.
    pub fn left_out(&mut self, part: PartId, place: Place) -> Vec<Case> {
        let mut cases = self.absent(part, place);
        cases.extend(self.fate_cases(part, place, |fate| matches!(fate, Fate::LeaveOut(_))));
        cases
    }

    /// Answers under which the engine hasn't got the part, as disjoint cases.
    pub fn absent(&mut self, part: PartId, place: Place) -> Vec<Case> {
        let procedure = self.procedure;
        let part = procedure.part(part);
        if part.present.0.is_empty() {
            return Vec::new();
        }
        let binding = procedure.bound(&part.axes, place);
        let present = self.case(&part.present, &binding);
        self.outside(Case::always(), present.iter())
    }

    /// Answers under which a set is absent: the engine has none of the parts that it holds.
    pub fn absent_set(&mut self, set: SetId, place: Place) -> Vec<Case> {
        self.of_all_held((set, place), Facts::absent)
    }

    /// Answers under which a part's fate is one of those that `wanted` picks, as disjoint cases.
    pub fn fate_cases(&mut self, part: PartId, place: Place, wanted: impl Fn(&Fate) -> bool) -> Vec<Case> {
        let procedure = self.procedure;
        let part = procedure.part(part);
        let Some(choice) = &part.fate else { return Vec::new() };
        let binding = procedure.bound(&part.axes, place);
        let mut rest = vec![Case::always()];
        let mut chosen = Vec::new();
        for (fate, guard) in &choice.cases {
            let Some(case) = self.case(guard, &binding) else { continue };
            if wanted(fate) {
                chosen.extend(rest.iter().filter_map(|piece| piece.and(&case)));
            }
            rest = rest.into_iter().flat_map(|piece| self.outside(piece, [&case].into_iter())).collect();
        }
        if choice.otherwise.as_ref().is_some_and(wanted) {
            chosen.extend(rest);
        }
        chosen
    }
}

/// What is left of a case outside others, as disjoint cases.
pub(super) fn outside<'c>(
    questions: &[Question],
    case: Case,
    others: impl Iterator<Item = &'c Case>,
) -> Vec<Case> {
    let all = |question: QuestionId| questions[question.0 as usize].all();
    others
        .fold(vec![case], |pieces, other| pieces.iter().flat_map(|piece| piece.without(other, all)).collect())
}

/// Mass in kilograms above which a part is lifted by a hoist. Without a limit of the family's own it is the load
/// constant of the revised NIOSH equation (DHHS (NIOSH) 94-110): 23 kg.
pub fn lifting_limit(procedure: &Procedure) -> f64 {
    procedure.family.as_ref().and_then(|family| family.lifting_limit).map_or(23.0, |limit| limit.base())
}
