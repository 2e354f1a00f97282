//! Second pass, the common part: looking up names, positions and words, and noting what is used.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::{Deref, DerefMut};
use std::sync::Arc;

use rayon::prelude::*;

use super::errors;
use super::example::{example, is_fit};
use super::heard::Heard;
use super::model::*;
use super::purposes::Purposes;
use super::shelf::shelved;
use super::spans::{Spans, reach};
use super::troubles::Troubles;
use super::uses::judged_by_use;
use crate::diagnostics::{Diagnostic, nearest, nearest_name};
use crate::language::tree::{Clause, Item, Reference, Setting, Tree, Word};
use crate::source::Span;

/// How many pairs of unknown and known names are compared for "did you mean". A file with so many slips that more
/// would be needed is better served by a quick answer: comparing all with all takes quadratic time.
const MOST_COMPARISONS: usize = 400_000;

/// What is known while clauses are read.
pub(super) struct Resolver {
    pub procedure: Shared,
    pub diagnostics: Vec<Diagnostic>,
    /// What something refers to, of those things of which it is asked.
    used: BTreeSet<Name>,
    /// Things whose own axes couldn't be resolved: their positions are not judged.
    unsound: BTreeSet<Name>,
    troubles: Arc<Troubles>,
    /// What is taken out of the procedure, and where that is said.
    gone: Arc<BTreeMap<String, Span>>,
    unknown: BTreeMap<String, Unknown>,
    /// How often something would have been said if the text could be parsed, or names something that isn't known.
    unsaid: usize,
    /// For each set, the joints it is in.
    pub joints_of: Arc<Vec<Vec<JointId>>>,
    /// The parts that sets and gauges are there for.
    pub purposes: Arc<Purposes>,
}

/// Declarations that a thread takes at once. A test takes so few that every procedure is read in pieces.
pub(super) const BATCH: usize = if cfg!(test) { 3 } else { 256 };

/// What one that read beside others has noted.
struct Noted {
    heard: Vec<Heard>,
    diagnostics: Vec<Diagnostic>,
    unsound: BTreeSet<Name>,
    unknown: BTreeMap<String, Unknown>,
    unsaid: usize,
}

/// The procedure that is made: changed by one alone, read by many.
#[derive(Clone)]
pub(super) struct Shared(Arc<Procedure>);

impl Shared {
    fn new(procedure: Procedure) -> Shared {
        Shared(Arc::new(procedure))
    }

    /// The procedure itself.
    pub(super) fn alone(self) -> Procedure {
        Arc::unwrap_or_clone(self.0)
    }
}

impl Deref for Shared {
    type Target = Procedure;

    fn deref(&self) -> &Procedure {
        &self.0
    }
}

impl DerefMut for Shared {
    fn deref_mut(&mut self) -> &mut Procedure {
        Arc::get_mut(&mut self.0)
            .expect("who reads beside others gives back what it makes, and changes nothing")
    }
}

/// Uses of one unknown name.
struct Unknown {
    wanted: Vec<&'static str>,
    uses: Vec<Span>,
}

/// The file of what comes with the program that would bring such a thing in under this name, and that no text brings in.
fn not_brought_in(trees: &[Tree], wanted: &[&str], name: &str) -> Option<&'static str> {
    let shelf = wanted.iter().find_map(|kind| shelved(kind, name))?;
    let brings = |item: &Item| match item {
        Item::Use(path) => path.value.strip_suffix(".rebuild").unwrap_or(&path.value) == shelf,
        _ => false,
    };
    (!trees.iter().flat_map(|tree| &tree.items).any(brings)).then_some(shelf)
}

impl Resolver {
    pub(super) fn new(procedure: Procedure, troubles: Arc<Troubles>, gone: BTreeMap<String, Span>) -> Self {
        Resolver {
            procedure: Shared::new(procedure),
            diagnostics: Vec::new(),
            used: BTreeSet::new(),
            unsound: BTreeSet::new(),
            troubles,
            gone: Arc::new(gone),
            unknown: BTreeMap::new(),
            unsaid: 0,
            joints_of: Arc::default(),
            purposes: Arc::default(),
        }
    }

    /// Goes on from what was resolved of an earlier text, in which nobody else had anything to say.
    pub(super) fn resumed(
        procedure: Procedure,
        troubles: Arc<Troubles>,
        (joints_of, purposes): (Arc<Vec<Vec<JointId>>>, Arc<Purposes>),
    ) -> Self {
        Resolver { joints_of, purposes, ..Resolver::new(procedure, troubles, BTreeMap::new()) }
    }

    /// Reads each of these, and puts what is made of it in the place of what stood there for want of it: so many at once that all
    /// cores have enough to do, and so few that not all of both are held at the same time.
    pub(super) fn renewed<Id: Number + Send + Sync, D: Sync + ?Sized, M: Spans + Send + Sync>(
        &mut self,
        all: &[(Id, &D)],
        things: fn(&mut Procedure) -> &mut Things<Id, M>,
        read: fn(&mut Resolver, Id, &D) -> M,
    ) -> Vec<Heard> {
        let mut heard = Vec::with_capacity(all.len());
        for some in all.chunks(BATCH * 16) {
            let (made, listened) = self.each_of(some, read);
            let things = things(&mut self.procedure);
            some.iter().zip(made).for_each(|((id, _), entry)| things.put(*id, entry));
            heard.extend(listened);
        }
        heard
    }

    /// What is made of each of these in order, batch after batch, and what was heard of each; none of them looks into another,
    /// and many are read on all cores. What there is to say is said in the same order as one after the other.
    pub(super) fn each_of<Id: Number + Send + Sync, D: Sync + ?Sized, M: Spans + Send + Sync>(
        &mut self,
        all: &[(Id, &D)],
        read: fn(&mut Resolver, Id, &D) -> M,
    ) -> (Vec<Arc<M>>, Vec<Heard>) {
        if all.len() <= BATCH {
            let made = all.iter().map(|(id, declaration)| {
                let (mut made, heard) = self.listen(|resolver| read(resolver, *id, declaration));
                let reach = reach(&mut made);
                (Arc::new(made), Heard { reach, ..heard })
            });
            return made.collect();
        }
        let beside: Vec<(Vec<Arc<M>>, Noted)> = all
            .par_chunks(BATCH)
            .map(|batch| {
                let mut own = self.beside();
                let (made, heard) = own.each_of(batch, read);
                let Resolver { diagnostics, unsound, unknown, unsaid, .. } = own;
                (made, Noted { heard, diagnostics, unsound, unknown, unsaid })
            })
            .collect();
        let (mut every, mut listened) = (Vec::with_capacity(all.len()), Vec::with_capacity(all.len()));
        for (made, noted) in beside {
            every.extend(made);
            listened.extend(noted.heard);
            self.diagnostics.extend(noted.diagnostics);
            self.unsound.extend(noted.unsound);
            self.unsaid += noted.unsaid;
            for (name, Unknown { wanted, uses }) in noted.unknown {
                let known = self.unknown.entry(name).or_insert(Unknown { wanted, uses: Vec::new() });
                known.uses.extend(uses);
            }
        }
        (every, listened)
    }

    /// Reads something by itself: what comes of it, and what was heard.
    pub(super) fn listen<M>(&mut self, read: impl FnOnce(&mut Resolver) -> M) -> (M, Heard) {
        let (used, before) = (std::mem::take(&mut self.used), self.noise());
        let made = read(self);
        let own = std::mem::replace(&mut self.used, used);
        let heard = Heard { used: own.into_iter().collect(), noise: self.noise() - before, reach: None };
        (made, heard)
    }

    /// How often something was said, or would have been.
    pub(super) fn noise(&self) -> usize {
        self.diagnostics.len() + self.unsaid
    }

    /// What is used so far by what was not listened to.
    pub(super) fn used_elsewhere(&self) -> &BTreeSet<Name> {
        &self.used
    }

    /// Adds what things that were listened to refer to.
    pub(super) fn use_too(&mut self, used: impl IntoIterator<Item = Name>) {
        self.used.extend(used);
    }

    /// Whether the axes of everything are known.
    pub(super) fn is_sound(&self) -> bool {
        self.unsound.is_empty()
    }

    /// One that knows the same, and has heard nothing yet.
    fn beside(&self) -> Resolver {
        Resolver {
            procedure: self.procedure.clone(),
            diagnostics: Vec::new(),
            used: BTreeSet::new(),
            unsound: self.unsound.clone(),
            troubles: Arc::clone(&self.troubles),
            gone: Arc::clone(&self.gone),
            unknown: BTreeMap::new(),
            unsaid: 0,
            joints_of: Arc::clone(&self.joints_of),
            purposes: Arc::clone(&self.purposes),
        }
    }

    pub(super) fn complain(&mut self, diagnostic: Diagnostic) {
        self.diagnostics.push(diagnostic);
    }

    /// Notes that nothing is said since something couldn't be parsed.
    pub(super) fn hold_back(&mut self) {
        self.unsaid += 1;
    }

    /// Notes that something refers to this.
    fn uses(&mut self, name: Name) {
        if judged_by_use(name).is_some() {
            self.used.insert(name);
        }
    }

    /// Whether anything refers to this, of which it is asked, or may do so where the text couldn't be parsed.
    pub(super) fn is_used(&self, name: Name, id: &str) -> bool {
        self.used.contains(&name) || self.in_trouble(id) || self.troubles.unread
    }

    /// Whether this word stands on a line that couldn't be parsed: what is declared there is known to someone.
    pub(super) fn in_trouble(&self, word: &str) -> bool {
        self.troubles.words.contains(word)
    }

    /// Whether a file that is brought in couldn't be read, so that it isn't known what has a name.
    pub(super) fn any_unread(&self) -> bool {
        self.troubles.unread
    }

    /// Whether anything at all couldn't be parsed.
    pub(super) fn any_trouble(&self) -> bool {
        !self.troubles.lines.is_empty()
    }

    /// Complains that something is missing from `span`, unless it may stand there and couldn't be parsed.
    pub(super) fn complain_of_absence(&mut self, span: Span, diagnostic: Diagnostic) {
        let meets =
            |line: &Span| line.file == span.file && line.start() <= span.end() && span.start() <= line.end();
        if self.troubles.lines.iter().any(meets) {
            self.hold_back();
        } else {
            self.complain(diagnostic);
        }
    }

    /// Complains that something is missing right behind `span`, unless it stands there and couldn't be parsed, or the span is
    /// itself only a part of what couldn't.
    pub(super) fn complain_of_end(&mut self, span: Span, diagnostic: Diagnostic) {
        // One blank, or two, between a number and its unit.
        let follows = |place: &Span| {
            place.file == span.file && place.start() >= span.end() && place.start() <= span.end() + 2
        };
        let holds = |place: &Span| {
            place.file == span.file && place.start() <= span.start() && place.end() >= span.end()
        };
        if self.troubles.places.iter().any(|place| follows(place) || holds(place)) {
            self.hold_back();
        } else {
            self.complain(diagnostic);
        }
    }

    /// The word and place of a declared name.
    pub(super) fn declared(&self, name: Name) -> Word {
        let naming = self.procedure.naming(name);
        Word::new(naming.id.clone(), naming.span)
    }

    /// What a name stands for, if it is of a wanted kind; kinds are those of [`Name::kind`].
    pub(super) fn lookup(&mut self, word: &Word, wanted: &[&'static str]) -> Option<Name> {
        match self.procedure.names.get(&word.value).copied() {
            Some(name) => {
                self.uses(name);
                if wanted.contains(&name.kind()) {
                    return Some(name);
                }
                let declared = self.declared(name).span;
                self.complain(errors::wrong_kind(word, name.kind(), wanted, declared));
                None
            }
            None if self.in_trouble(&word.value) || self.troubles.unread => {
                self.unsaid += 1;
                None
            }
            None => {
                self.unsaid += 1;
                let unknown = self
                    .unknown
                    .entry(word.value.clone())
                    .or_insert_with(|| Unknown { wanted: wanted.to_vec(), uses: Vec::new() });
                unknown.uses.push(word.span);
                None
            }
        }
    }

    /// Complains of every unknown name once. What was probably meant counts as used.
    pub(super) fn report_unknown(&mut self, trees: &[Tree]) {
        let unknown = std::mem::take(&mut self.unknown);
        let cost = 2 * self.procedure.names.len();
        let mut comparisons = 0;
        for (name, Unknown { wanted, uses }) in unknown {
            if let Some(out) = self.gone.get(&name).copied() {
                self.complain(errors::still_named(&name, &uses, out));
                continue;
            }
            comparisons += cost;
            // However many names there are, the first slip gets its suggestion.
            let affordable = comparisons <= MOST_COMPARISONS.max(cost);
            let near = affordable.then(|| self.nearest_name(&name, &wanted)).flatten();
            let near = near.map(|near| {
                self.uses(near);
                self.declared(near)
            });
            let near = near.as_ref().map(|word| (word.value.as_str(), word.span));
            if let (None, Some(shelf)) = (near, not_brought_in(trees, &wanted, &name)) {
                self.complain(errors::on_the_shelf(&name, &uses, &wanted, shelf));
                continue;
            }
            if near.is_none() && wanted.contains(&"a fastener set") && is_fit(&name) {
                self.complain(errors::held_by_its_fit(&name, &uses));
                continue;
            }
            let declaration = example(wanted.first().unwrap_or(&"a part"), &name);
            self.complain(errors::unknown_name(&name, &uses, &wanted, near, &declaration));
        }
    }

    /// The nearest name of a wanted kind, or else of any kind.
    fn nearest_name(&self, name: &str, wanted: &[&str]) -> Option<Name> {
        let names = &self.procedure.names;
        let fits = names.iter().filter(|(_, known)| wanted.contains(&known.kind()));
        let near = nearest_name(name, fits.map(|(id, _)| id))
            .or_else(|| nearest_name(name, names.iter().map(|(id, _)| id)))?;
        names.get(near).copied()
    }

    /// Axes in the header of a declaration; `name` is then judged by them.
    pub(super) fn axes(&mut self, name: Name, words: &[Word]) -> Vec<AxisId> {
        const MOST_PLACES: usize = 10_000;
        let mut axes: Vec<AxisId> = Vec::new();
        for word in words {
            match self.lookup(word, &["an axis"]) {
                Some(Name::Axis(id)) if axes.contains(&id) => {
                    let first = words.iter().find(|other| other.value == word.value).unwrap_or(word).span;
                    self.complain(errors::duplicate_value(word, "axis", first));
                }
                Some(Name::Axis(id)) => axes.push(id),
                _ => {
                    self.unsound.insert(name);
                }
            }
        }
        self.not_both(words, &mut axes);
        let lengths = axes.iter().map(|axis| self.procedure.axis(*axis).positions.len());
        let places = lengths.fold(1, usize::saturating_mul);
        if places > MOST_PLACES {
            let thing = self.declared(name);
            self.complain(errors::too_many_places(&thing, places, MOST_PLACES));
            self.unsound.insert(name);
            axes.clear();
        }
        axes
    }

    /// Leaves out groups of an axis that stands there too, and complains of them.
    fn not_both(&mut self, words: &[Word], axes: &mut Vec<AxisId>) {
        let word = |resolver: &Self, axis: AxisId| {
            let id = &resolver.procedure.axis(axis).naming.id;
            words.iter().find(|word| word.value == *id).cloned()
        };
        for axis in axes.clone() {
            let groupings: Vec<AxisId> =
                self.procedure.axis(axis).groupings.iter().map(|grouping| grouping.by).collect();
            for by in groupings.into_iter().filter(|by| axes.contains(by)).collect::<Vec<_>>() {
                axes.retain(|other| *other != by);
                if let (Some(axis), Some(groups)) = (word(self, axis), word(self, by)) {
                    self.complain(errors::axis_and_groups(&axis, &groups));
                }
            }
        }
    }

    /// The axes of a thing.
    pub(super) fn axes_of(&self, name: Name) -> &[AxisId] {
        match name {
            Name::Part(id) => &self.procedure.part(id).axes,
            Name::Set(id) => &self.procedure.set(id).axes,
            Name::Joint(id) => &self.procedure.joint(id).axes,
            Name::Gauge(id) => &self.procedure.gauge(id).axes,
            Name::Look(id) => &self.procedure.look(id).axes,
            Name::Temporary(id) => &self.procedure.temporary(id).axes,
            Name::Step(id) => &self.procedure.step(id).each,
            _ => &[],
        }
    }

    /// The name of a thing with its axes, as in its declaration.
    pub(super) fn shape(&self, name: Name) -> String {
        let axes = self.axes_of(name);
        let ids: Vec<&str> = axes.iter().map(|axis| self.procedure.axis(*axis).naming.id.as_str()).collect();
        let id = self.declared(name).value;
        if ids.is_empty() { id } else { format!("{id}[{}]", ids.join(", ")) }
    }

    /// Which positions of `name` the words in brackets mean.
    pub(super) fn pattern(&mut self, name: Name, positions: &[Word]) -> Option<Pattern> {
        if positions.is_empty() || self.unsound.contains(&name) {
            return Some(Pattern::default());
        }
        let axes = self.axes_of(name).to_vec();
        if let Some(extra) = positions.get(axes.len()) {
            let thing = self.declared(name);
            self.complain(errors::too_many_positions(extra.span, &thing, axes.len()));
            return None;
        }
        let mut at = Vec::with_capacity(positions.len());
        for (word, axis) in positions.iter().zip(&axes) {
            // One complaint for each use: positions that changed places are one slip.
            at.push(self.position(name, &axes, *axis, word)?);
        }
        Some(Pattern(at.into()))
    }

    fn position(&mut self, name: Name, axes: &[AxisId], axis: AxisId, word: &Word) -> Option<At> {
        let here = self.procedure.axis(axis);
        if here.naming.id == word.value {
            self.uses(Name::Axis(axis));
            return Some(At::Axis);
        }
        if let Some(index) = position_of(here, &word.value) {
            self.uses(Name::Axis(axis));
            return Some(At::Position(index));
        }
        let mut groups = here.groupings.iter().map(|grouping| grouping.by);
        let group = groups.find_map(|by| Some((by, position_of(self.procedure.axis(by), &word.value)?)));
        if let Some((by, index)) = group {
            self.uses(Name::Axis(axis));
            self.uses(Name::Axis(by));
            return Some(At::Group(by, index));
        }
        let wanted = here.naming.id.clone();
        let other = axes
            .iter()
            .map(|other| self.procedure.axis(*other))
            .find(|other| other.naming.id == word.value || position_of(other, &word.value).is_some())
            .map(|other| other.naming.id.clone())
            .or_else(|| match self.procedure.names.get(&word.value) {
                Some(Name::Axis(_)) => Some(word.value.clone()),
                _ => None,
            });
        if let Some(other) = other {
            let thing = self.declared(name);
            let shape = self.shape(name);
            self.complain(errors::wrong_axis(word, &other, &wanted, &thing, &shape));
        } else {
            let declared = self.declared(Name::Axis(axis));
            let positions = self.procedure.axis(axis).positions.clone();
            self.complain(errors::unknown_position(word, &declared, &positions));
        }
        None
    }

    /// A use of a thing of one of the wanted kinds, with its positions.
    pub(super) fn thing(
        &mut self,
        reference: &Reference,
        wanted: &[&'static str],
    ) -> Option<(Name, Pattern)> {
        let name = self.lookup(&reference.name, wanted)?;
        Some((name, self.pattern(name, &reference.positions)?))
    }

    /// `like NAME`: another thing of the same kind, declared before this one; what is said of it was taken over already.
    pub(super) fn like(&mut self, own: Name, word: &Word) {
        let Some(there) = self.lookup(word, &[own.kind()]) else { return };
        if there >= own {
            let declared = self.declared(there).span;
            self.complain(errors::like_later(word, declared));
        }
    }

    /// A use of a thing of one kind.
    pub(super) fn target<I: Kind>(&mut self, reference: &Reference) -> Option<Target<I>> {
        let (name, pattern) = self.thing(reference, &[I::WORDS])?;
        Some(Target { id: I::named(name)?, pattern, span: reference.span })
    }

    /// Index of `value` among the values of `owner`.
    pub(super) fn value(&mut self, owner: Name, what: &str, known: &[String], value: &Word) -> Option<usize> {
        let found = known.iter().position(|known| *known == value.value);
        // An owner without any values was complained of where it is declared.
        if found.is_none() && !known.is_empty() {
            let near = nearest(&value.value, known.iter().map(String::as_str));
            let owner = self.declared(owner);
            self.complain(errors::unknown_value(value, &owner, what, known, near));
        }
        found
    }

    /// `STATE = VALUE`.
    pub(super) fn state(&mut self, setting: &Setting) -> Option<(StateId, usize)> {
        let (name, _) = self.thing(&setting.name, &["a state"])?;
        let Name::State(id) = name else { return None };
        let known = self.procedure.state(id).values.clone();
        Some((id, self.value(name, "value", &known, &setting.value)?))
    }

    /// `SETUP = VALUE`, or `SETUP VALUE` in a step.
    pub(super) fn setup(&mut self, setup: &Word, value: &Word) -> Option<(SetupId, usize)> {
        let name = self.lookup(setup, &["a setup"])?;
        let Name::Setup(id) = name else { return None };
        let known = self.procedure.setup(id).values.clone();
        Some((id, self.value(name, "value", &known, value)?))
    }

    /// One of a fixed list of words.
    pub(super) fn word<T: Copy>(&mut self, word: &Word, what: &str, known: &[(&str, T)]) -> Option<T> {
        let found = known.iter().find(|(known, _)| *known == word.value).map(|(_, value)| *value);
        if found.is_none() {
            let words: Vec<&str> = known.iter().map(|(word, _)| *word).collect();
            let near = nearest(&word.value, words.iter().copied());
            self.complain(errors::unknown_word(word, what, &words, near));
        }
        found
    }

    /// The words of a list as texts, each once.
    pub(super) fn list(&mut self, words: &[Word], what: &str) -> Vec<String> {
        let mut first: BTreeMap<&str, Span> = BTreeMap::new();
        let mut out = Vec::new();
        for word in words {
            match first.get(word.value.as_str()) {
                Some(span) => {
                    let complaint = errors::duplicate_value(word, what, *span);
                    self.complain(complaint);
                }
                None => {
                    first.insert(&word.value, word.span);
                    out.push(word.value.clone());
                }
            }
        }
        out
    }

    /// The values of what has one of them at a time, as texts; complains where there are more than are told apart.
    pub(super) fn alternatives(&mut self, words: &[Word], what: &str) -> Vec<String> {
        let values = self.list(words, what);
        if let Some(extra) = values.get(MOST_VALUES)
            && let Some(word) = words.iter().find(|word| word.value == *extra)
        {
            self.complain(errors::too_many_values(word, what, values.len()));
        }
        values
    }
}

fn position_of(axis: &Axis, word: &str) -> Option<u16> {
    axis.positions.iter().position(|known| known == word).and_then(|index| u16::try_from(index).ok())
}

impl Resolver {
    /// These clauses; of those that may stand once, the first. Complains of the others.
    pub(super) fn distinct<'c, C>(&mut self, clauses: &'c [Clause<C>]) -> Vec<&'c Clause<C>> {
        // Few clauses stand in one declaration, and all of these names are our own.
        let mut seen: Vec<(&str, Span)> = Vec::new();
        let mut distinct = Vec::with_capacity(clauses.len());
        for clause in clauses {
            let before = seen.iter().find(|(name, _)| clause.once == Some(name)).copied();
            match before {
                Some((name, before)) => self.complain(errors::duplicate_clause(name, clause.span, before)),
                None => {
                    seen.extend(clause.once.map(|name| (name, clause.span)));
                    distinct.push(clause);
                }
            }
        }
        distinct
    }
}

/// Watches that what may stand once stands once.
#[derive(Default)]
pub(super) struct Seen(BTreeMap<String, Span>);

impl Seen {
    /// Whether this is the first of its name; complains if not.
    pub(super) fn first(&mut self, resolver: &mut Resolver, clause: &str, span: Span) -> bool {
        self.once(resolver, clause, span, errors::duplicate_clause)
    }

    /// Whether this is the first of its name; else `twice` is what is complained of: the name, where, and where before.
    pub(super) fn once(
        &mut self,
        resolver: &mut Resolver,
        name: &str,
        span: Span,
        twice: fn(&str, Span, Span) -> Diagnostic,
    ) -> bool {
        let before = self.0.get(name).copied();
        match before {
            Some(before) => resolver.complain(twice(name, span, before)),
            None => drop(self.0.insert(name.to_owned(), span)),
        }
        before.is_none()
    }
}
