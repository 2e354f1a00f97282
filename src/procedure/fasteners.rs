//! Fastener sets, and what they are tightened to.

use super::cases::{Owner, sourced};
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{self, Declaration, FastenerClause, Word};
use crate::mechanics::engagement::NutClass;
use crate::mechanics::wrench::DragRule;
use crate::mechanics::{Class, Thread};
use crate::quantity::{Dimension, Numeral, Quantity, Unit};
use crate::source::{Span, Spanned};

const KINDS: [(&str, FastenerKind); 6] = [
    ("bolt", FastenerKind::Bolt),
    ("stud", FastenerKind::Stud),
    ("nut", FastenerKind::Nut),
    ("screw", FastenerKind::Screw),
    ("hollow", FastenerKind::Hollow),
    ("plug", FastenerKind::Plug),
];

const MATERIALS: [(&str, Into); 4] =
    [("iron", Into::Iron), ("steel", Into::Steel), ("aluminium", Into::Aluminium), ("insert", Into::Insert)];

const LOCKS: [(&str, Locking); 5] = [
    ("tab", Locking::Tab),
    ("split pin", Locking::SplitPin),
    ("wire", Locking::Wire),
    ("stake", Locking::Stake),
    ("thread-locker", Locking::ThreadLocker),
];

/// Grades of stainless steel: known to the trade, without strengths in our tables. From memory: ISO 3506.
const STAINLESS: [&str; 6] = ["A2-50", "A2-70", "A2-80", "A4-50", "A4-70", "A4-80"];

impl Resolver {
    pub(super) fn set_clauses(
        &mut self,
        id: SetId,
        declaration: &Declaration<FastenerClause>,
    ) -> FastenerSet {
        let mut set = self.procedure.set(id).clone();
        let owner = Owner::Thing(Name::Set(id));
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                FastenerClause::Like(word) => self.like(Name::Set(id), word),
                FastenerClause::Handling(clause) => self.handling(Name::Set(id), &mut set.handling, clause),
                FastenerClause::Kind(word) => {
                    set.kind = self.word(word, "a kind of fastener", &KINDS).unwrap_or(set.kind);
                }
                FastenerClause::Thread(thread) => {
                    let (known, diameter) = self.thread(thread);
                    set.diameter = diameter;
                    set.thread = Some(designation(thread, known));
                }
                FastenerClause::Class(class) => {
                    set.class = Some(designation(class, None));
                }
                FastenerClause::Drive(tree::Drive::AcrossFlats(amount)) => {
                    set.drive = self.positive(amount, Dimension::LENGTH).map(Drive::AcrossFlats);
                }
                FastenerClause::Drive(tree::Drive::ByHand) => set.drive = Some(Drive::ByHand),
                FastenerClause::Drive(tree::Drive::Words(text)) => {
                    set.drive = Some(Drive::Words(text.value.clone()));
                }
                FastenerClause::Lengths(lengths) if several_at_once(lengths) => {
                    self.complain(errors::several_lengths(clause.span, lengths));
                }
                FastenerClause::Lengths(lengths) => {
                    set.lengths = self.cases_or(&owner, lengths, Lengths::Unknown, |resolver, case| {
                        resolver.lengths(id, &case.value)
                    });
                }
                FastenerClause::Stays => set.stays = true,
                FastenerClause::Then(act) => set.then.extend(self.act(act, clause.span, &[])),
                FastenerClause::Engagement(amount) => {
                    set.engagement = self.positive(amount, Dimension::LENGTH);
                }
                FastenerClause::StandOut(amount) => set.stand_out = self.positive(amount, Dimension::LENGTH),
                FastenerClause::Blind => set.blind = true,
                FastenerClause::ToWater => set.to_water = true,
                FastenerClause::ToOil => set.to_oil = true,
                FastenerClause::Into(word) => set.into = self.word(word, "a material", &MATERIALS),
                FastenerClause::LeftHand => set.left_hand = true,
                FastenerClause::Captive => set.captive = true,
                FastenerClause::LockedBy { how: word, piece, scope } => {
                    let Some(at) = self.places(Name::Set(id), &scope.at) else { continue };
                    if let Some(how) = self.word(word, "a way of locking", &LOCKS) {
                        set.locked_by
                            .push(Lock { at, ..self.lock(how, word, piece.as_deref(), clause.span) });
                    }
                }
                FastenerClause::Reuse(reuse) => {
                    set.reuse = self.cases_or(&owner, reuse, Reuse::Unknown, |resolver, case| {
                        resolver.reuse(&case.value)
                    });
                }
                FastenerClause::Under(covers) => {
                    let covers = self.covers(Name::Set(id), covers);
                    set.under.extend(covers);
                }
                // Read before the joints, whose holes may lie at one place where no engine has both.
                FastenerClause::Present(..) => {}
                FastenerClause::Oil { places, with } => {
                    let places = self.list(places, "place");
                    if with.is_none() {
                        self.complain(errors::oil_not_named(clause.span));
                    }
                    let with = with.as_ref().and_then(|with| self.target(with)).map(|Target { id, .. }| id);
                    set.oil = Some(Box::new(Oiling { places, with, span: clause.span }));
                }
                FastenerClause::Dry => set.dry = true,
                FastenerClause::Apply(reference, scope) => {
                    let Some(at) = self.places(Name::Set(id), &scope.at) else { continue };
                    if let Some((Name::Supply(supply), _)) = self.thing(reference, &["a supply"]) {
                        set.apply.push(Local { what: (supply, reference.span), at });
                    }
                }
                FastenerClause::Soft => set.soft = true,
                FastenerClause::Drag { when_large } => {
                    set.drag = Some(if *when_large { DragRule::FromAThird } else { DragRule::Always });
                }
                FastenerClause::Critical => set.critical = true,
                FastenerClause::Friction { range, origin } => {
                    self.needs_origin(origin, clause.span, "a coefficient of friction");
                    set.friction =
                        self.friction(range).map(|value| Box::new(sourced(value, origin, clause.span)));
                }
                FastenerClause::Tighten(tightening) => {
                    if let Some(joint) = self.joints_of(id).first().copied() {
                        let joint = self.declared(Name::Joint(joint));
                        self.complain(errors::tighten_in_joint(clause.span, &declaration.name, &joint));
                    }
                    set.tightening = self.tightening(id, tightening);
                }
                FastenerClause::Catalogue(texts) => {
                    set.catalogue = self.cases(&owner, texts, |_, text| Some(text.value.value.clone()));
                }
                FastenerClause::Price(amount) => set.price = self.price(amount),
            }
        }
        let handled = declaration.clauses.iter().filter_map(|clause| match &clause.value {
            FastenerClause::Handling(handling) => Some((clause.span, &**handling)),
            _ => None,
        });
        self.idle_words(Name::Set(id), &handled.collect::<Vec<_>>(), &set.handling);
        if let ([_, second, ..], Some(joint)) = (set.count.0.as_slice(), self.joints_of(id).first()) {
            let joint = self.declared(Name::Joint(*joint));
            self.complain(errors::count_in_joint(second.0.span, &declaration.name, &joint));
        }
        self.class(&mut set);
        set.under.shrink_to_fit();
        set
    }

    fn reuse(&mut self, reuse: &tree::Reuse) -> Option<Reuse> {
        Some(match reuse {
            tree::Reuse::Once => Reuse::Once,
            tree::Reuse::Reusable => Reuse::Reusable,
            tree::Reuse::Unknown => Reuse::Unknown,
            tree::Reuse::By(gauge) => Reuse::By(self.target(gauge)?),
        })
    }

    /// A thread, and its nominal diameter.
    fn thread(&mut self, thread: &Spanned<String>) -> (Option<Thread>, Option<Quantity>) {
        if let Some(diameter) = pipe_diameter(&thread.value) {
            return (None, Some(diameter));
        }
        match Thread::parse(&thread.value) {
            Ok(known) => {
                let metric = known.series().is_metric();
                let (unit, places) = if metric { ("mm", 2) } else { ("in", 4) };
                let diameter = Unit::find(unit).and_then(|unit| known.diameter().in_unit(unit, places).ok());
                (Some(known), diameter)
            }
            Err(error) => {
                let diameter = nominal_diameter(&thread.value);
                self.complain(match diameter {
                    Some(_) => errors::unusual_thread(thread, &error),
                    None => errors::unknown_thread(thread, &error),
                });
                (None, diameter)
            }
        }
    }

    /// Finds the class of a set whose kind and thread are read. Complains of one whose strength isn't known, or that
    /// doesn't exist for the thread.
    fn class(&mut self, set: &mut FastenerSet) {
        let thread = set.thread();
        let Some(class) = &mut set.class else { return };
        if STAINLESS.contains(&class.written.as_str()) {
            return;
        }
        let nut = (set.kind == FastenerKind::Nut).then(|| NutClass::parse(&class.written)).flatten();
        if let Some(nut) = nut {
            class.known = Some(Grade::Nut(nut));
            return;
        }
        let strength = Class::parse(&class.written).and_then(|bolt| {
            class.known = Some(Grade::Bolt(bolt));
            thread.map_or(Ok(()), |thread| bolt.strength(&thread).map(|_| ()))
        });
        if let Err(error) = strength {
            self.complain(errors::unknown_class(class.span, &error));
        }
    }

    fn lengths(&mut self, set: SetId, lengths: &tree::Lengths) -> Option<Lengths> {
        match lengths {
            tree::Lengths::Unknown => Some(Lengths::Unknown),
            tree::Lengths::One(amount) => self.positive(amount, Dimension::LENGTH).map(Lengths::One),
            tree::Lengths::ByHole(lengths) => {
                let letters: Vec<Word> = lengths.iter().map(|(letter, _)| letter.clone()).collect();
                self.list(&letters, "hole");
                let by_hole = lengths.iter().map(|(letter, amount)| {
                    let hole = self.hole_of_set(set, letter);
                    let length = self.positive(amount, Dimension::LENGTH);
                    hole.zip(length).map(|(_, length)| (letter.value.clone(), length))
                });
                Some(Lengths::ByHole(by_hole.collect::<Vec<_>>().into_iter().flatten().collect()))
            }
        }
    }

    /// What a set is tightened to, each with its origin.
    pub(super) fn tightening(
        &mut self,
        set: SetId,
        cases: &[tree::Case<tree::Tightened>],
    ) -> Cases<Sourced<Tightening>> {
        let owner = Owner::Thing(Name::Set(set));
        let mut stated = self.cases_or(&owner, cases, Tightening::Unknown, |resolver, case| {
            Some(match &case.value.to {
                tree::Tightening::Unknown => Tightening::Unknown,
                tree::Tightening::General => Tightening::General,
                tree::Tightening::ByFeel => Tightening::ByFeel,
                tree::Tightening::Passes(passes) => {
                    resolver.needs_origin(&case.origin, case.span, "a torque");
                    let found: Vec<Option<Pass>> = passes.iter().map(|pass| resolver.pass(pass)).collect();
                    let found = found.into_iter().collect::<Option<Vec<Pass>>>()?;
                    resolver.rising_passes(passes, &found);
                    Tightening::Passes(found)
                }
            })
        });
        let lowered: Vec<(Span, &tree::Less)> =
            cases.iter().filter_map(|case| Some((case.span, case.value.less.as_ref()?))).collect();
        stated.change(|stated| {
            let less = lowered.iter().find(|(span, _)| *span == stated.span);
            // What isn't known is no lower, whether the author says so or no case tells.
            if let Some((_, less)) = less.filter(|_| stated.value != Tightening::Unknown) {
                self.lower(stated, less);
            }
        });
        stated
    }

    fn pass(&mut self, pass: &tree::Pass) -> Option<Pass> {
        let (low, high) = self.torque_or_angle(&pass.amount)?;
        Some(if low.dimension() == Dimension::ANGLE {
            Pass::Angle(low, high)
        } else {
            Pass::Torque(low, high)
        })
    }

    /// Complains of torques that fall, and of an angle that nothing comes before.
    fn rising_passes(&mut self, written: &[tree::Pass], passes: &[Pass]) {
        let span = |index: usize| {
            let amount = &written[index].amount;
            amount.high.as_ref().map_or(amount.low.span, |high| amount.low.span.to(high.span))
        };
        if matches!(passes.first(), Some(Pass::Angle(..))) {
            self.complain(errors::angle_first(span(0)));
        }
        let mut before: Option<(usize, f64)> = None;
        for (index, pass) in passes.iter().enumerate() {
            if let Pass::Torque(low, _) = pass {
                // Once more round at the same torque is good practice: a gasket gives, and the first bolts with it.
                if let Some((earlier, _)) = before.filter(|(_, torque)| low.base() < *torque) {
                    self.complain(errors::passes_fall(span(index), span(earlier)));
                }
                before = Some((index, low.base()));
            }
        }
    }
}

fn designation<T>(written: &Spanned<String>, known: Option<T>) -> Designation<T> {
    Designation { written: written.value.clone(), known, span: written.span }
}

/// Outside diameters of pipe threads in millimetres, by their size: ISO 228-1, to which ISO 7-1 and ASME B1.20.1 come
/// within half a millimetre. From memory; they only say which of two threads is the larger.
const PIPES: [(&str, &str); 10] = [
    ("1/8", "9.728"),
    ("1/4", "13.157"),
    ("3/8", "16.662"),
    ("1/2", "20.955"),
    ("5/8", "22.911"),
    ("3/4", "26.441"),
    ("1", "33.249"),
    ("1 1/4", "41.910"),
    ("1 1/2", "47.803"),
    ("2", "59.614"),
];

/// The outside diameter of a pipe thread such as `G 1/4` or `1/8-27 NPT`; none of another thread. Its strength isn't known.
fn pipe_diameter(designation: &str) -> Option<Quantity> {
    let parallel = ["Rc", "Rp", "R", "G"].iter().find_map(|letter| designation.strip_prefix(letter));
    let tapered = || {
        let (size, series) = designation.split_once('-')?;
        (series.ends_with("NPT") || series.ends_with("NPTF")).then_some(size)
    };
    let size = parallel.or_else(tapered)?.trim();
    let (_, diameter) = PIPES.iter().find(|(pipe, _)| *pipe == size)?;
    Some(Quantity::new(Numeral::parse(diameter)?, Unit::find("mm")?))
}

/// The nominal diameter of a thread that isn't in the tables, as far as the designation says it.
fn nominal_diameter(designation: &str) -> Option<Quantity> {
    let (number, unit) = match designation.trim().strip_prefix('M') {
        Some(rest) => (rest.split(['x', '×']).next()?, "mm"),
        None => (designation.trim().split('-').next()?, "in"),
    };
    let numeral = Numeral::parse(number.trim()).filter(|numeral| numeral.value() > 0.0)?;
    Some(Quantity::new(numeral, Unit::find(unit)?))
}

/// Whether several lengths are said of the same fasteners, and of no hole.
fn several_at_once(lengths: &[tree::Case<tree::Lengths>]) -> bool {
    lengths.len() > 1
        && lengths.iter().all(|case| {
            let everywhere = case.scope.at.is_empty() && case.scope.when.is_empty();
            matches!(&case.value, tree::Lengths::One(amount) if amount.unit.is_some()) && everywhere
        })
}
