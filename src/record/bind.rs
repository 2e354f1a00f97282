//! Names of a record looked up in the procedure: [`Record`] to [`Job`].

use std::collections::BTreeMap;

use super::{
    About, Approval, Done, DoneStep, Goods, Job, LookTaken, Named, Note, Order, Reading, Record, Sent, errors,
};
use crate::diagnostics::{Diagnostic, Outcome};
use crate::procedure::model::{AxisId, Gauge, Lengths, Name, PartId, Place, Procedure, hole_letter};
use crate::source::{Span, Spanned};

/// Looks up every name. What does not exist is complained of, where it stands in the record, and left out.
pub fn bind(record: &Record, procedure: &Procedure) -> Outcome<Job> {
    let mut binder = Binder { procedure, diagnostics: Vec::new() };
    let job = binder.job(record);
    Outcome { value: job, diagnostics: binder.diagnostics }
}

struct Binder<'a> {
    procedure: &'a Procedure,
    diagnostics: Vec<Diagnostic>,
}

impl<'a> Binder<'a> {
    fn complain<T>(&mut self, diagnostic: Diagnostic) -> Option<T> {
        self.diagnostics.push(diagnostic);
        None
    }

    fn job(&mut self, record: &Record) -> Job {
        let text = |text: &Option<Spanned<String>>| text.as_ref().map(|text| text.value.clone());
        let mut job = Job {
            name: text(&record.job),
            engine_no: record.engine_no.clone(),
            customer: text(&record.customer),
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
                says: note.says.as_ref().map(|says| says.value.clone()),
                found: note.found.clone(),
                signature: note.signature.clone(),
                span: note.about.span,
            }));
        }
        for done in &record.done {
            let step = self.done_step(&done.step);
            job.done.extend(step.map(|step| Done {
                step,
                signature: done.signature.clone(),
                fingerprint: done.fingerprint.clone(),
                span: done.step.span,
            }));
        }
        self.lengths(record, &mut job);
        self.goods_and_work(record, &mut job);
        job
    }

    fn answers(&mut self, record: &Record, job: &mut Job) {
        for (question, answer) in &record.answers {
            let Some(Name::Ask(id)) = self.find(question.span, &question.value, "a question", is_ask) else {
                continue;
            };
            let ask = self.procedure.ask(id);
            match ask.answers.iter().position(|known| *known == answer.value) {
                Some(index) => {
                    job.answers.insert(id, Spanned::new(index, answer.span));
                }
                None => {
                    let answers = ask.answers.iter().map(String::as_str);
                    let declared = ask.naming.span;
                    self.diagnostics.push(errors::unknown_answer(answer, &question.value, answers, declared));
                }
            }
        }
    }

    fn readings(&mut self, record: &Record, job: &mut Job) {
        let mut seen = BTreeMap::new();
        for written in &record.readings {
            let named = &written.gauge;
            let Some(Name::Gauge(id)) = self.find(named.span, &named.name, "a gauge", is_gauge) else {
                continue;
            };
            let gauge = self.procedure.gauge(id);
            if let Some((_, formula)) = &gauge.formula {
                self.diagnostics.push(errors::computed(named.span, &named.name, *formula));
                continue;
            }
            let place = self.place(named, &gauge.axes, gauge.naming.span);
            let spot = self.station_and_direction(named, gauge);
            if let Some(expected) = gauge.dimension
                && let Err(error) = written.value.value.expect_dimension(expected)
            {
                let cause = Some(gauge.naming.span);
                self.diagnostics.push(errors::wrong_dimension(written.value.span, &error, cause));
                continue;
            }
            let (Some(place), Some((station, direction))) = (place, spot) else { continue };
            let key = (id, place, station, direction, written.occasion);
            if let Some(before) = seen.insert(key, named.span) {
                let what = format!("the reading `{named}` {}", written.occasion.words());
                self.diagnostics.push(errors::duplicate_reading(named.span, &what, before));
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
                signature: written.signature.clone(),
                span: written.value.span,
            });
        }
    }

    fn looks(&mut self, record: &Record, job: &mut Job) {
        let mut seen = BTreeMap::new();
        for written in &record.looks {
            let named = &written.look;
            let Some(Name::Look(id)) = self.find(named.span, &named.name, "a look", is_look) else {
                continue;
            };
            let look = self.procedure.look(id);
            let place = self.place(named, &look.axes, look.naming.span);
            let place = if self.no_words(named, look.naming.span) { place } else { None };
            let result = look.results.iter().position(|result| *result == written.result.value);
            if result.is_none() {
                let results = look.results.iter().map(String::as_str);
                let declared = look.naming.span;
                self.diagnostics.push(errors::unknown_answer(
                    &written.result,
                    &named.name,
                    results,
                    declared,
                ));
            }
            let (Some(place), Some(result)) = (place, result) else { continue };
            if let Some(before) = seen.insert((id, place, written.occasion), named.span) {
                let what = format!("the look `{named}` {}", written.occasion.words());
                self.diagnostics.push(errors::duplicate_reading(named.span, &what, before));
                continue;
            }
            job.looks.push(LookTaken {
                look: id,
                place,
                occasion: written.occasion,
                result,
                signature: written.signature.clone(),
                span: written.result.span,
            });
        }
    }

    fn about(&mut self, named: &Named) -> Option<About> {
        if named.name.contains(':') {
            return Some(About::Derived(named.to_string()));
        }
        let what = "a part, set, joint or step";
        let name = self.find(named.span, &named.name, what, |name| {
            matches!(name, Name::Part(_) | Name::Set(_) | Name::Joint(_) | Name::Step(_))
        })?;
        let (axes, declared) = self.axes_of(name);
        if !self.no_words(named, declared) {
            return None;
        }
        let place = self.place_if_given(named, axes, declared)?;
        match name {
            Name::Part(id) => Some(About::Part(id, place)),
            Name::Set(id) => Some(About::Set(id, place)),
            Name::Joint(id) => Some(About::Joint(id, place)),
            Name::Step(id) => Some(About::Step(id, place)),
            _ => None,
        }
    }

    fn done_step(&mut self, named: &Named) -> Option<DoneStep> {
        if named.name.contains(':') {
            return Some(DoneStep::Derived(named.to_string()));
        }
        let name = self.find(named.span, &named.name, "a step", |name| matches!(name, Name::Step(_)))?;
        let Name::Step(id) = name else { return None };
        let step = self.procedure.step(id);
        let axes: &[AxisId] = if step.apart { &step.each } else { &[] };
        let declared = step.naming.span;
        if !self.no_words(named, declared) {
            return None;
        }
        self.place_if_given(named, axes, declared).map(|place| DoneStep::Written(id, place))
    }

    fn lengths(&mut self, record: &Record, job: &mut Job) {
        for (named, holes) in &record.lengths {
            let found =
                self.find(named.span, &named.name, "a fastener set", |name| matches!(name, Name::Set(_)));
            let Some(Name::Set(id)) = found else { continue };
            let set = self.procedure.set(id);
            let Some(place) = self.place(named, &set.axes, set.naming.span) else { continue };
            let letters = self.letters(id);
            for (hole, length) in holes {
                if letters.contains(&hole.value) {
                    job.lengths.insert((id, place, hole.value.clone()), length.clone());
                } else {
                    let known = letters.join(", ");
                    let declared = set.naming.span;
                    self.diagnostics.push(errors::unknown_hole(hole, &named.name, &known, declared));
                }
            }
        }
    }

    /// The letters of a set's holes: those of its joints; where none gives holes, of its declared lengths or
    /// as many as it has fasteners.
    fn letters(&self, id: crate::procedure::model::SetId) -> Vec<String> {
        let members = self.procedure.joints.iter().flat_map(|joint| &joint.members);
        let mut letters: Vec<String> = members
            .filter(|member| member.set.id == id)
            .flat_map(|member| member.holes.iter().map(|hole| hole.letter.clone()))
            .collect();
        let set = self.procedure.set(id);
        if let (true, Some((Lengths::ByHole(by_hole), _))) = (letters.is_empty(), &set.lengths) {
            letters.extend(by_hole.iter().map(|(letter, _)| letter.clone()));
        }
        if letters.is_empty() {
            letters.extend((0..set.count).map(hole_letter));
        }
        letters
    }

    fn goods_and_work(&mut self, record: &Record, job: &mut Job) {
        for order in &record.orders {
            let Some(goods) = self.goods(&order.thing) else { continue };
            let bound = Order {
                ordered: order.ordered,
                due: order.due,
                arrived: order.arrived,
                compared: order.compared,
                size: order.size.as_ref().map(|size| size.value),
                quantity: order.quantity,
                supplier: order.supplier.clone(),
                cost: order.cost.clone(),
                span: order.thing.span,
            };
            if let Some(before) = job.orders.insert(goods, bound) {
                let what = format!("the order of `{}`", order.thing);
                self.diagnostics.push(errors::duplicate_reading(order.thing.span, &what, before.span));
            }
        }
        for sent in &record.sent {
            for key in self.parts(&sent.part) {
                let bound = Sent {
                    to: sent.to.clone(),
                    sent: sent.sent,
                    back: sent.back,
                    accepted: sent.accepted,
                    by: sent.by.clone(),
                    span: sent.part.span,
                };
                if let Some(before) = job.sent.insert(key, bound) {
                    let what = format!("the work on `{}`", sent.part);
                    self.diagnostics.push(errors::duplicate_reading(sent.part.span, &what, before.span));
                }
            }
        }
        for approval in &record.approved {
            job.approvals.push(Approval {
                by: approval.by.value.clone(),
                date: approval.date,
                items: approval.items.iter().filter_map(|item| self.goods(item)).collect(),
                up_to: approval.up_to.clone(),
                span: approval.span,
            });
        }
    }

    fn goods(&mut self, named: &Named) -> Option<Goods> {
        let name = self.find(named.span, &named.name, "a part, set or supply", |name| {
            matches!(name, Name::Part(_) | Name::Set(_) | Name::Supply(_))
        })?;
        let (axes, declared) = self.axes_of(name);
        if !self.no_words(named, declared) {
            return None;
        }
        let place = self.place_if_given(named, axes, declared)?;
        match name {
            Name::Part(id) => Some(Goods::Part(id, place)),
            Name::Set(id) => Some(Goods::Set(id, place)),
            Name::Supply(id) => Some(Goods::Supply(id)),
            _ => None,
        }
    }

    /// A part at the place given, or at each of its places.
    fn parts(&mut self, named: &Named) -> Vec<(PartId, Place)> {
        let found = self.find(named.span, &named.name, "a part", |name| matches!(name, Name::Part(_)));
        let Some(Name::Part(id)) = found else { return Vec::new() };
        let part = self.procedure.part(id);
        if !self.no_words(named, part.naming.span) {
            return Vec::new();
        }
        match self.place_if_given(named, &part.axes, part.naming.span) {
            Some(Some(place)) => vec![(id, place)],
            Some(None) => {
                let last = u32::try_from(self.procedure.places(&part.axes)).expect("axes are short");
                (0..last).map(|place| (id, Place(place))).collect()
            }
            None => Vec::new(),
        }
    }

    fn axes_of(&self, name: Name) -> (&'a [AxisId], Span) {
        let procedure = self.procedure;
        match name {
            Name::Part(id) => (&procedure.part(id).axes, procedure.part(id).naming.span),
            Name::Set(id) => (&procedure.set(id).axes, procedure.set(id).naming.span),
            Name::Joint(id) => (&procedure.joint(id).axes, procedure.joint(id).naming.span),
            Name::Step(id) => (&procedure.step(id).each, procedure.step(id).naming.span),
            Name::Supply(id) => (&[], procedure.supply(id).naming.span),
            Name::Gauge(id) => (&procedure.gauge(id).axes, procedure.gauge(id).naming.span),
            Name::Look(id) => (&procedure.look(id).axes, procedure.look(id).naming.span),
            Name::Ask(id) => (&[], procedure.ask(id).naming.span),
            Name::Section(id) => (&[], procedure.section(id).naming.span),
            Name::Axis(id) => (&[], procedure.axis(id).naming.span),
            Name::Setup(id) => (&[], procedure.setup(id).naming.span),
            Name::State(id) => (&[], procedure.state(id).naming.span),
            Name::Tool(id) => (&[], procedure.tool(id).naming.span),
            Name::Temporary(id) => (&procedure.temporary(id).axes, procedure.temporary(id).naming.span),
            Name::Hazard(id) => (&[], procedure.hazard(id).naming.span),
            Name::Rule(id) => (&[], procedure.rule(id).naming.span),
            Name::Group(id) => (&[], procedure.group(id).naming.span),
        }
    }

    /// What `text` names, if it is of the kind wanted.
    fn find(&mut self, span: Span, text: &str, what: &str, wanted: fn(Name) -> bool) -> Option<Name> {
        let found = self.procedure.names.get(text).copied();
        match found {
            Some(name) if wanted(name) => Some(name),
            _ => {
                let names = &self.procedure.names;
                let candidates: Vec<&str> =
                    names.iter().filter(|(_, name)| wanted(**name)).map(|(text, _)| text.as_str()).collect();
                let other = found.map(|name| (name.kind(), self.axes_of(name).1));
                self.complain(errors::unknown_name(span, text, what, candidates.iter().copied(), other))
            }
        }
    }

    /// Complains of words behind a thing that has no stations.
    fn no_words(&mut self, named: &Named, declared: Span) -> bool {
        if named.words.is_empty() {
            return true;
        }
        let message = format!("`{}` has no stations, but `{}` follows it", named.name, named.words.join(" "));
        let help = "take the words away".to_owned();
        self.diagnostics.push(errors::unknown_station(named.span, message, help, declared));
        false
    }

    /// As [`Binder::place`], but naming no position at all means every place.
    fn place_if_given(&mut self, named: &Named, axes: &[AxisId], declared: Span) -> Option<Option<Place>> {
        if named.positions.is_empty() { Some(None) } else { self.place(named, axes, declared).map(Some) }
    }

    /// The place that the positions name.
    fn place(&mut self, named: &Named, axes: &[AxisId], declared: Span) -> Option<Place> {
        let procedure = self.procedure;
        let example = || {
            let first: Vec<&str> = axes
                .iter()
                .filter_map(|axis| procedure.axis(*axis).positions.first())
                .map(String::as_str)
                .collect();
            if first.is_empty() {
                named.name.clone()
            } else {
                format!("{}[{}]", named.name, first.join(", "))
            }
        };
        if named.positions.len() != axes.len() {
            let message = match (named.positions.len(), axes.len()) {
                (0, _) => format!("`{}` stands at several places, and none is given", named.name),
                (_, 0) => format!("`{}` has no positions", named.name),
                (given, wanted) => format!("`{}` has {wanted} positions, and {given} are given", named.name),
            };
            let help = format!("write `{}`", example());
            return self.complain(errors::unknown_place(named.span, message, help, declared));
        }
        let mut place = 0;
        for (axis, position) in axes.iter().zip(&named.positions) {
            let axis = procedure.axis(*axis);
            let Some(at) = axis.positions.iter().position(|known| known == position) else {
                let message = format!("`{}` has no position `{position}`", named.name);
                let help = format!("the positions of `{}` are {}", axis.naming.id, axis.positions.join(", "));
                return self.complain(errors::unknown_place(named.span, message, help, axis.naming.span));
            };
            place = place * axis.positions.len() + at;
        }
        Some(Place(u32::try_from(place).expect("axes are short")))
    }

    /// Station and direction that the words behind a gauge name.
    fn station_and_direction(
        &mut self,
        named: &Named,
        gauge: &Gauge,
    ) -> Option<(Option<usize>, Option<usize>)> {
        let stations: Vec<&str> = gauge.stations.iter().map(|(name, _)| name.as_str()).collect();
        let directions: Vec<&str> = gauge.directions.iter().map(String::as_str).collect();
        let mut words = named.words.iter();
        let station = take(&stations, &mut words);
        let direction = take(&directions, &mut words);
        let rest = words.next();
        if let (Some(station), Some(direction), None) = (station, direction, rest) {
            return Some((station, direction));
        }
        let lists: Vec<String> = [("station", &stations), ("direction", &directions)]
            .iter()
            .filter(|(_, list)| !list.is_empty())
            .map(|(what, list)| format!("a {what} ({})", list.join(", ")))
            .collect();
        let (message, help) = if lists.is_empty() {
            let message =
                format!("`{}` has no stations, but `{}` follows it", named.name, named.words.join(" "));
            (message, "take the words away".to_owned())
        } else {
            let message = format!("`{named}` does not say where `{}` was read", named.name);
            (message, format!("write after it {}", lists.join(" and ")))
        };
        self.complain(errors::unknown_station(named.span, message, help, gauge.naming.span))
    }
}

/// The next word as one of `list`; `Some(None)` for an empty list, none if it is not one of them.
fn take<'w>(list: &[&str], words: &mut impl Iterator<Item = &'w String>) -> Option<Option<usize>> {
    if list.is_empty() {
        return Some(None);
    }
    let word = words.next()?;
    list.iter().position(|known| known == word).map(Some)
}

fn is_ask(name: Name) -> bool {
    matches!(name, Name::Ask(_))
}

fn is_gauge(name: Name) -> bool {
    matches!(name, Name::Gauge(_))
}

fn is_look(name: Name) -> bool {
    matches!(name, Name::Look(_))
}
