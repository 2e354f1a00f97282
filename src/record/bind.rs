//! Names of a record looked up in the procedure: [`Record`] to [`Job`]. Longer than most: every list of a record is
//! looked up in the same way, one after the other.

use std::collections::BTreeMap;

use super::names::Names;
use super::{
    About, Approval, Date, Earlier, Estimate, Found, Goods, Job, LookTaken, Named, NotDone, Note, Reading,
    Record, Refused, WrittenLook, WrittenReading, errors,
};
use crate::diagnostics::{Diagnostic, Outcome, codes::record as codes};
use crate::procedure::model::{Gauge, Look, Name, Place, Procedure, SetId, StepKey};
use crate::quantity::{Money, Quantity};
use crate::source::{Span, Spanned};

/// Looks up every name. What does not exist is complained of, where it stands in the record, and left out.
///
/// ```
/// use benchleaf::{Sources, bind_record, parse, read_record, resolve};
///
/// let mut sources = Sources::new();
/// let text = "family pump \"Pump\" { origin \"invented\" }\nask fan \"Is a fan fitted?\" = yes, no\n";
/// let file = sources.add("pump.rebuild", text);
/// let pump = resolve(&[parse(file, text).value]).value;
///
/// let yaml = "job: \"2026-001\"\nprocedure: pump.rebuild\nanswers:\n  fan: perhaps\n";
/// let record = sources.add("job.yaml", yaml);
/// let bound = bind_record(&read_record(record, yaml).value, &pump);
/// assert_eq!(bound.value.name.as_deref(), Some("2026-001"));
/// assert_eq!(bound.diagnostics[0].code.name, "record/unknown-answer");
/// ```
pub fn bind(record: &Record, procedure: &Procedure) -> Outcome<Job> {
    let mut binder = Binder { procedure, names: Names::new(procedure) };
    let job = binder.job(record);
    let names = binder.names;
    let of_other = of_another(record, procedure, &names);
    let mut diagnostics = names.diagnostics;
    if of_other.iter().any(|complaint| complaint.code.name == codes::OTHER_FAMILY.name) {
        // Every name would be told again, and none of them is what is wrong.
        drop_unknown_names(&mut diagnostics);
    }
    diagnostics.extend(of_other);
    Outcome { value: job, diagnostics }
}

/// Drops what is said of names that aren't known, where they follow from a fault that is told by itself.
pub(crate) fn drop_unknown_names(diagnostics: &mut Vec<Diagnostic>) {
    diagnostics.retain(|complaint| complaint.code.name != codes::UNKNOWN_NAME.name);
}

/// Fewest names that aren't known by which a record is taken to be of another engine. Our own choice, no source.
const STRANGERS: usize = 8;

/// What is said of a record that is of another family than the procedure, or of another edition: by its own words, else
/// because most of its names mean nothing here.
fn of_another(record: &Record, procedure: &Procedure, names: &Names) -> Option<Diagnostic> {
    let family = procedure.family.as_ref()?;
    match &record.family {
        Some(written) if written.value != family.naming.id => {
            return Some(errors::other_family(written, &family.naming));
        }
        Some(_) => {}
        None if names.unknown.len() >= STRANGERS && names.unknown.len() * 2 > names.met.len() => {
            let counts = (names.unknown.len(), names.met.len());
            return Some(errors::strange_names(record.procedure.as_ref()?, counts, &family.naming));
        }
        None => {}
    }
    let (written, now) = (record.edition.as_ref()?, family.edition?);
    (written.value != now).then(|| errors::other_edition(written, now, &family.naming))
}

/// What a note names that is about the whole engine.
const ENGINE: &str = "engine";

/// What looks up the names of a record, with what it found wrong.
pub(super) struct Binder<'a> {
    pub(super) procedure: &'a Procedure,
    pub(super) names: Names<'a>,
}

impl Binder<'_> {
    fn job(&mut self, record: &Record) -> Job {
        let text = |text: &Option<Spanned<String>>| text.as_ref().map(|text| text.value.clone());
        let mut job = Job {
            name: text(&record.job),
            engine_no: record.engine_no.clone(),
            customer: text(&record.customer),
            promised: record.promised,
            stand: text(&record.stand),
            intake: record.intake.clone(),
            prints: record.prints.clone(),
            handover: record.handover.clone(),
            ..Job::default()
        };
        self.answers(record, &mut job);
        self.readings(record, &mut job);
        self.looks(record, &mut job);
        for note in &record.notes {
            let about = self.about(&note.about);
            job.notes.extend(about.map(|about| Note {
                about,
                says: note.says.clone(),
                found: note.found.clone(),
                signature: note.signature.clone(),
                span: note.span,
            }));
        }
        self.done(record, &mut job);
        self.lengths(record, &mut job);
        self.lengths_of_notes(&mut job);
        self.goods_and_work(record, &mut job);
        let out_of_turn = job.add_steps_outside(self.procedure);
        self.names.diagnostics.extend(out_of_turn);
        job
    }

    fn done(&mut self, record: &Record, job: &mut Job) {
        for done in &record.done {
            if let (Some(day), Some(came)) = (done.signature.date, record.intake.received)
                && day < came
            {
                let step = done.step.to_string();
                self.names.diagnostics.push(errors::done_before_it_came(done.step.span, &step, day, came));
            }
            let wrenches = done.wrenches.iter().filter_map(|(set, _)| set.as_ref());
            let reached = done.reached.iter().filter_map(|(set, _)| set.as_ref());
            for set in wrenches.chain(reached) {
                self.names.number::<SetId>(set.span, &set.value);
            }
            if let Some(step) = self.names.partly(&done.step) {
                job.partly.extend(step.map(|step| done.of(step)));
            } else {
                job.done.extend(self.names.step(&done.step).map(|step| done.of(step)));
            }
        }
        // One that is done at each of its places is done.
        for (id, step) in self.procedure.steps.numbered() {
            let places = self.procedure.places(&step.each);
            let at = |place: Place| job.partly.iter().find(move |done| done.step == (id, place));
            let last = places.map(at).collect::<Option<Vec<_>>>().and_then(|all| all.last().copied());
            let whole = last.map(|last| last.of(StepKey::Written(id, None)));
            job.done.extend(whole);
        }
        for not_done in &record.not_done {
            job.not_done.extend(self.names.step(&not_done.step).map(|step| NotDone {
                step,
                because: not_done.because.clone(),
                signature: not_done.signature.clone(),
                span: not_done.span,
            }));
        }
    }

    fn answers(&mut self, record: &Record, job: &mut Job) {
        for (question, answer) in &record.answers {
            let Some(id) = self.names.number(question.span, &question.value) else { continue };
            let ask = self.procedure.ask(id);
            match ask.answers.iter().position(|known| *known == answer.value) {
                Some(index) => {
                    job.answers.insert(id, Spanned::new(index, answer.span));
                }
                None => {
                    let answers = ask.answers.iter().map(String::as_str);
                    let declared = ask.naming.span;
                    self.names.diagnostics.push(errors::unknown_answer(
                        answer,
                        &question.value,
                        answers,
                        declared,
                    ));
                }
            }
        }
    }

    fn readings(&mut self, record: &Record, job: &mut Job) {
        let mut seen = BTreeMap::new();
        for written in &record.readings {
            let named = &written.gauge;
            let Some(id) = self.names.number(named.span, &named.name) else { continue };
            let gauge = self.procedure.gauge(id);
            if let Some((_, formula)) = &gauge.formula {
                self.names.diagnostics.push(errors::computed(named.span, &named.name, *formula));
                continue;
            }
            let place = self.names.place(named, &gauge.axes, gauge.naming.span);
            let spot = self.names.station_and_direction(named, gauge);
            if let Some(expected) = gauge.dimension
                && let Err(error) = written.value.value.expect_dimension(expected)
            {
                let cause = Some(gauge.naming.span);
                self.names.diagnostics.push(errors::wrong_dimension(written.value.span, &error, cause));
                continue;
            }
            let error = written
                .error
                .as_ref()
                .map(|error| (error, error.value.expect_dimension(written.value.value.dimension())));
            if let Some((error, Err(wrong))) = &error {
                self.names.diagnostics.push(errors::wrong_dimension(
                    error.span,
                    wrong,
                    Some(gauge.naming.span),
                ));
            }
            let (Some(place), Some((station, direction))) = (place, spot) else { continue };
            let key = (id, place, station, direction, written.occasion);
            if let Some(before) = seen.insert(key, named.span) {
                let what = format!("the reading `{named}` {}", written.occasion.words());
                self.names.diagnostics.push(errors::duplicate_reading(named.span, &what, before));
                continue;
            }
            job.readings.push(Reading {
                gauge: id,
                place,
                station,
                direction,
                occasion: written.occasion,
                value: written.value.value,
                instrument: written.instrument.clone(),
                error: error.and_then(|(_, error)| error.ok()),
                signature: written.signature.clone(),
                earlier: self.earlier_readings(written, gauge),
                span: written.value.span,
            });
        }
    }

    fn looks(&mut self, record: &Record, job: &mut Job) {
        let mut seen = BTreeMap::new();
        for written in &record.looks {
            let named = &written.look;
            let Some(id) = self.names.number(named.span, &named.name) else { continue };
            let look = self.procedure.look(id);
            let place = self.names.place(named, &look.axes, look.naming.span);
            let place = if self.names.no_words(named, look.naming.span) { place } else { None };
            let result = look.results.iter().position(|result| *result == written.result.value);
            if result.is_none() {
                let results = look.results.iter().map(String::as_str);
                let declared = look.naming.span;
                self.names.diagnostics.push(errors::unknown_answer(
                    &written.result,
                    &named.name,
                    results,
                    declared,
                ));
            }
            let (Some(place), Some(result)) = (place, result) else { continue };
            let earlier = self.earlier_looks(written, look);
            if let Some(before) = seen.insert((id, place, written.occasion), named.span) {
                let what = format!("the look `{named}` {}", written.occasion.words());
                self.names.diagnostics.push(errors::duplicate_reading(named.span, &what, before));
                continue;
            }
            job.looks.push(LookTaken {
                look: id,
                place,
                occasion: written.occasion,
                result,
                signature: written.signature.clone(),
                earlier,
                span: written.result.span,
            });
        }
    }

    /// What was read before, of the gauge's own dimension.
    fn earlier_readings(&mut self, written: &WrittenReading, gauge: &Gauge) -> Vec<Earlier<Quantity>> {
        let mut found = Vec::new();
        for earlier in &written.earlier {
            let expected = gauge.dimension.unwrap_or_else(|| written.value.value.dimension());
            match earlier.value.value.expect_dimension(expected) {
                Ok(_) => found.extend(earlier.then(|value| Some(value.value))),
                Err(error) => {
                    let cause = Some(gauge.naming.span);
                    let complaint = errors::wrong_dimension(earlier.value.span, &error, cause);
                    self.names.diagnostics.push(complaint);
                }
            }
        }
        found
    }

    /// What was judged before, of the results of the look.
    fn earlier_looks(&mut self, written: &WrittenLook, look: &Look) -> Vec<Earlier<usize>> {
        let mut found = Vec::new();
        for earlier in &written.earlier {
            match look.results.iter().position(|result| *result == earlier.value.value) {
                Some(result) => found.extend(earlier.then(|_| Some(result))),
                None => {
                    let results = look.results.iter().map(String::as_str);
                    let name = written.look.to_string();
                    let complaint = errors::unknown_answer(&earlier.value, &name, results, look.naming.span);
                    self.names.diagnostics.push(complaint);
                }
            }
        }
        found
    }

    fn about(&mut self, named: &Named) -> Option<About> {
        if named.is_derived() {
            return self.names.derived(named).map(About::Step);
        }
        if self.is_engine(named) {
            return Some(About::Engine);
        }
        if let Some((set, place, letter)) = self.hole(named) {
            return letter.map(|letter| About::Hole(set, place, letter));
        }
        let (name, place) = self.names.thing(named, "a part, set, joint, gauge, look or step", |name| {
            matches!(
                name,
                Name::Part(_)
                    | Name::Set(_)
                    | Name::Joint(_)
                    | Name::Gauge(_)
                    | Name::Look(_)
                    | Name::Step(_)
            )
        })?;
        match name {
            Name::Part(id) => Some(About::Part(id, place)),
            Name::Set(id) => Some(About::Set(id, place)),
            Name::Joint(id) => Some(About::Joint(id, place)),
            Name::Gauge(id) => Some(About::Gauge(id, place)),
            Name::Look(id) => Some(About::Look(id, place)),
            Name::Step(id) => Some(About::Step(StepKey::Written(id, place))),
            _ => None,
        }
    }

    /// Whether a name means the whole engine: nothing else is called like that.
    pub(super) fn is_engine(&self, named: &Named) -> bool {
        let known = self.procedure.names.get(&named.name);
        // Of a state nothing is noted, be it called like that.
        let other = known.is_some_and(|name| !matches!(name, Name::State(_)));
        !other && named.name == ENGINE && named.positions.is_empty() && named.words.is_empty()
    }

    /// The hole of a set that `feet_bolts C` names, at one place of the set or at all; none for anything but a set with one
    /// word behind it, and no letter, with a complaint, where the set has no such hole.
    pub(super) fn hole(&mut self, named: &Named) -> Option<(SetId, Option<Place>, Option<String>)> {
        let (Some(Name::Set(id)), [letter]) =
            (self.procedure.names.get(&named.name).copied(), named.words.as_slice())
        else {
            return None;
        };
        let set = self.procedure.set(id);
        let letters = self.procedure.hole_letters(id);
        let place = self.names.place_if_given(named, &set.axes, set.naming.span);
        let known = letters.contains(letter);
        if !known {
            let hole = Spanned::new(letter.clone(), named.span);
            let diagnostic = errors::unknown_hole(&hole, &named.name, &letters.join(", "), set.naming.span);
            self.names.diagnostics.push(diagnostic);
        }
        let letter = place.filter(|_| known).map(|_| letter.clone());
        Some((id, place.flatten(), letter))
    }

    /// A length that a note tells of a set, or of one of its holes, is that of every fastener whose own the record hasn't.
    fn lengths_of_notes(&self, job: &mut Job) {
        for note in job.notes.iter().rev() {
            let Some(length) = note.found.iter().find_map(|found| match found {
                Found::Length(length) => Some(length),
                _ => None,
            }) else {
                continue;
            };
            let (set, place, letters) = match &note.about {
                About::Hole(set, place, letter) => (*set, *place, vec![letter.clone()]),
                About::Set(set, place) => (*set, *place, self.procedure.hole_letters(*set)),
                _ => continue,
            };
            let all = self.procedure.places(&self.procedure.set(set).axes);
            for at in all.filter(|at| place.is_none_or(|place| place == *at)) {
                for letter in &letters {
                    job.lengths.entry((set, at, letter.clone())).or_insert_with(|| length.clone());
                }
            }
        }
    }

    fn lengths(&mut self, record: &Record, job: &mut Job) {
        for (named, holes) in &record.lengths {
            let Some(id) = self.names.number(named.span, &named.name) else { continue };
            let set = self.procedure.set(id);
            let Some(place) = self.names.place(named, &set.axes, set.naming.span) else { continue };
            let letters = self.procedure.hole_letters(id);
            for (hole, length) in holes {
                if letters.contains(&hole.value) {
                    job.lengths.insert((id, place, hole.value.clone()), length.clone());
                } else {
                    let known = letters.join(", ");
                    let declared = set.naming.span;
                    self.names.diagnostics.push(errors::unknown_hole(hole, &named.name, &known, declared));
                }
            }
        }
    }

    /// Days on which one thing came after the other, and none left out but the first, which what was in stock hasn't.
    fn in_turn(&mut self, thing: &Named, days: &[(&str, Option<Date>)]) {
        for (at, pair) in days.windows(2).enumerate() {
            let [(before, earlier), (after, later)] = pair else { continue };
            let name = thing.to_string();
            match (earlier, later) {
                (Some(earlier), Some(later)) if later < earlier => {
                    let days = [(*before, *earlier), (*after, *later)];
                    self.names.diagnostics.push(errors::days_reversed(thing.span, &name, days));
                }
                (None, Some(_)) if at > 0 => {
                    self.names.diagnostics.push(errors::day_missing(thing.span, &name, before, after));
                }
                _ => {}
            }
        }
    }

    /// Complains of what stood before of a thing, if anything did.
    pub(super) fn once(&mut self, thing: &Named, what: &str, before: Option<Span>) {
        let twice =
            before.map(|before| errors::duplicate_reading(thing.span, &format!("{what} `{thing}`"), before));
        self.names.diagnostics.extend(twice);
    }

    fn goods_and_work(&mut self, record: &Record, job: &mut Job) {
        for (thing, order) in &record.orders {
            let Some(goods) = self.names.goods(thing) else { continue };
            let days =
                [("was ordered", order.ordered), ("came", order.arrived), ("was compared", order.compared)];
            self.in_turn(thing, &days[..]);
            self.in_turn(thing, &[("was ordered", order.ordered), ("is due", order.due)]);
            let mut order = order.clone();
            if order.arrived.is_none() {
                order.compared = None;
            }
            let before = job.orders.insert(goods, order);
            self.once(thing, "the order of", before.map(|before| before.span));
        }
        for written in &record.chosen {
            self.choose(written, job);
        }
        for written in &record.settled {
            self.settle(written, job);
        }
        // What is said of one place goes before what is said of all.
        let (everywhere, placed): (Vec<_>, Vec<_>) =
            record.present.iter().partition(|(named, _)| named.positions.is_empty());
        for (named, size) in everywhere.into_iter().chain(placed) {
            self.sized_before(named, size, job);
        }
        for (part, sent) in &record.sent {
            for key in self.names.parts(part) {
                let before = job.sent.insert(key, sent.clone());
                self.once(part, "the work on", before.map(|before| before.span));
            }
        }
        for refused in &record.refused {
            let (because, signature) = (refused.because.clone(), refused.signature.clone());
            let parts = self.names.parts(&refused.part).into_iter();
            job.refused.extend(parts.map(|part| Refused {
                part,
                because: because.clone(),
                signature: signature.clone(),
            }));
        }
        for step in &record.extra.steps {
            let id = self.names.number(step.id.span, &step.id.value);
            job.extra_steps.extend(id.map(|id| (id, step.reason())));
        }
        for part in &record.extra.parts {
            let id = self.names.number(part.id.span, &part.id.value);
            job.extra_parts.extend(id.map(|id| (id, part.clone())));
        }
        for work in &record.extra.work {
            let keys = self.names.parts(&work.part);
            job.extra_work.extend(keys.into_iter().map(|key| (key, work.clone())));
        }
        for estimate in &record.estimates {
            let costs = |names: &mut Names, written: &[(Named, Money)]| -> Vec<(Goods, Money)> {
                let found = written.iter().map(|(named, cost)| (names.goods(named), cost.clone()));
                found.filter_map(|(goods, cost)| Some((goods?, cost))).collect()
            };
            job.estimates.push(Estimate {
                number: estimate.number.clone(),
                date: estimate.date,
                sum: estimate.sum.clone(),
                goods: costs(&mut self.names, &estimate.goods),
                work: costs(&mut self.names, &estimate.work),
            });
        }
        for approval in &record.approved {
            let unknown = approval.estimate.as_ref().filter(|number| job.estimate(&number.value).is_none());
            self.names.diagnostics.extend(unknown.map(|number| {
                let known = job.estimates.iter().map(|estimate| estimate.number.value.as_str()).collect();
                errors::unknown_estimate(number, known)
            }));
            // Who names nothing has the last estimate before him, and what is found later isn't on it.
            let last = || job.estimates.iter().rev().find(|known| known.was_there(approval.date));
            let estimate = match (&approval.estimate, approval.items.as_slice()) {
                (None, []) => last().map(|known| known.number.clone()),
                (named, _) => named.clone(),
            };
            job.approvals.push(Approval {
                by: approval.by.clone(),
                date: approval.date,
                items: approval.items.iter().filter_map(|item| self.names.goods(item)).collect(),
                up_to: approval.up_to.clone(),
                estimate,
                span: approval.span,
            });
        }
    }
}
