//! What a step is made of, as one text in a form of its own that is only ever hashed: deeds, values, hazards and the
//! author's own texts. It must not know how any of it is said on a sheet: no word of the program's goes into it but the
//! tags below, which nobody reads. Ids stay out too, since nothing hangs on them.
//!
//! Every struct of the model is taken apart whole, so that a new field can't be passed over. A change to what is told
//! here, or to how, is a new [`super::step_marks::EDITION`].

use crate::procedure::model::Cases;
use crate::procedure::model::*;
use crate::quantity::Quantity;

/// The facts of a step where its axes stand as `binding` says. The title of a derived step is the program's, and left out.
pub(super) fn step_facts(procedure: &Procedure, key: &StepKey, step: &Step, binding: &Binding) -> String {
    let mut facts = Facts { procedure, binding, text: String::new() };
    if let StepKey::Written(..) = key {
        facts.word(&step.naming.title);
    }
    facts.step(step);
    facts.text
}

struct Facts<'p> {
    procedure: &'p Procedure,
    binding: &'p Binding,
    text: String,
}

impl Facts<'_> {
    /// A word with its length, so that two lists of words never make one text.
    fn word(&mut self, word: &str) {
        self.text.push_str(&format!("{}:{word};", word.len()));
    }

    /// A number, or one of an enumeration.
    fn value(&mut self, value: impl std::fmt::Debug) {
        self.word(&format!("{value:?}"));
    }

    fn amount(&mut self, amount: &Quantity) {
        self.word(&amount.to_string());
    }

    fn each<'t, T: 't>(&mut self, list: impl IntoIterator<Item = &'t T>, tell: impl Fn(&mut Self, &'t T)) {
        self.text.push('(');
        for one in list {
            tell(self, one);
            self.text.push(',');
        }
        self.text.push(')');
    }

    fn amounts<'t>(&mut self, amounts: impl IntoIterator<Item = &'t Quantity>) {
        self.each(amounts, Self::amount);
    }

    fn words<'t>(&mut self, words: impl IntoIterator<Item = &'t String>) {
        self.each(words, |facts, word| facts.word(word));
    }

    fn origin(&mut self, origin: &Origin) {
        self.words(origin);
    }

    fn at<Id: Sited>(&mut self, target: &Target<Id>) {
        let Target { id, pattern: _, span: _ } = target;
        for (_, place) in self.procedure.meant(target, self.binding) {
            self.word(&self.procedure.place_name(id.axes(self.procedure), place));
        }
    }

    /// Where one of several values holds; nothing where it holds everywhere.
    fn places(&mut self, places: &Places) {
        for (axis, at, _) in &places.0 {
            self.word(&self.procedure.axis(*axis).positions[usize::from(*at)]);
        }
    }

    /// Where and under which answers one of several values counts; nothing where it always does.
    fn scope(&mut self, scope: &Scope) {
        let Scope { at, when } = scope;
        self.places(at);
        for GuardTerm { question, answer, span: _ } in &when.0 {
            let title = match question {
                Question::Ask(id) => &self.procedure.ask(*id).naming.title,
                Question::Gauge(target) => &self.procedure.gauge(target.id).naming.title,
                Question::Look(target) => &self.procedure.look(target.id).naming.title,
            };
            self.word(title);
            self.value(answer);
        }
    }

    /// How many there are: one number where that is all that is said.
    fn count(&mut self, count: &Cases<Sourced<u32>>) {
        match count.only() {
            Some(only) => return self.value(only.value),
            None if count.is_empty() => return self.value(1_u32),
            None => {}
        }
        self.each(&count.0, |facts, (Sourced { value, origin: _, span: _ }, scope)| {
            facts.value(value);
            facts.scope(scope);
        });
    }

    fn step(&mut self, step: &Step) {
        // Where a step stands in the order, and under which answers it is done, is not what is done in it.
        let Step {
            naming: _,
            phase: _,
            section: _,
            group: _,
            after: _,
            before: _,
            after_derived: _,
            before_derived: _,
            straight_after: _,
            when: _,
            when_span: _,
            each: _,
            by_group: _,
            apart: _,
            tools,
            supplies,
            setups,
            hands,
            time,
            refit_time: _,
            needs,
            strip_only: _,
            contingencies,
            repeats,
            departures,
            lines,
            span: _,
        } = step;
        let procedure = self.procedure;
        let binding = self.binding;
        self.each(tools.iter().filter_map(|tool| tool.here(binding)), |facts, (tool, _)| {
            facts.tool(procedure.tool(*tool));
        });
        self.each(
            supplies.iter().filter_map(|supply| supply.here(binding)),
            |facts, (supply, measure, _)| {
                facts.supply(procedure.supply(*supply));
                facts.each(measure, |facts, measure| facts.measure(measure));
            },
        );
        let here: Vec<&Stance> = setups.iter().filter(|stance| stance.at.hold(self.binding)).collect();
        self.each(here, |facts, Stance { setup, value, at: _, span: _ }| {
            let Setup { naming, values, uppermost, at_first: _, change: _, each_person: _, hazard: _ } =
                procedure.setup(*setup);
            facts.word(&naming.title);
            facts.word(&values[*value]);
            facts.each(uppermost.get(*value), |facts, view| facts.value(view));
        });
        self.value(hands);
        self.amounts(time);
        self.each(needs.iter().filter_map(|need| need.here(binding)), Self::condition);
        self.each(contingencies.iter().filter_map(|wrong| wrong.here(binding)), |facts, (when, then)| {
            facts.word(when);
            facts.word(then);
        });
        // Where nothing is repeated nothing is told of it.
        for Repeat { until, at_most, work, span: _ } in repeats {
            self.word("repeat");
            self.word(&procedure.gauge(*until).naming.title);
            self.value(at_most);
            self.word(work);
        }
        self.each(departures, |facts, Departure { rule: _, because, span: _ }| facts.word(because));
        let here = lines.iter().filter(|line| match line {
            StepLine::Act(act) => procedure.narrowed(self.binding, &act.scope.at).is_some(),
            StepLine::Hazard(hazard, _) => hazard.here(self.binding).is_some(),
            StepLine::Hold(hold, _) => hold.here(self.binding).is_some(),
        });
        let here: Vec<&StepLine> = here.collect();
        self.each(here, |facts, line| match line {
            StepLine::Hazard(hazard, _) => facts.hazard(procedure.hazard(hazard.what)),
            StepLine::Hold(text, _) => {
                facts.word("hold");
                facts.word(&text.what);
            }
            StepLine::Act(act) => facts.act(act),
        });
    }

    fn tool(&mut self, tool: &Tool) {
        let Tool { naming, kind, drive, size, range, special, stand_ins, hazards: _ } = tool;
        self.word(&naming.title);
        self.value(kind);
        self.amounts(drive);
        self.amounts(size);
        self.each(range, |facts, (low, high)| facts.amounts([low, high]));
        self.value(special);
        self.each(stand_ins, |facts, (stand_in, note)| {
            facts.word(stand_in);
            facts.words(note);
        });
    }

    fn supply(&mut self, supply: &Supply) {
        let Supply { naming, quantity: _, open_time, cure_time, hazards: _ } = supply;
        self.word(&naming.title);
        self.amounts(open_time);
        self.amounts(cure_time);
    }

    fn measure(&mut self, measure: &Measure) {
        match measure {
            Measure::Count(count) => self.word(&count.to_string()),
            Measure::Amount(amount) => self.amount(amount),
        }
    }

    fn hazard(&mut self, hazard: &Hazard) {
        let Hazard { naming: _, signal, kind, hazard, consequence, avoidance, wear } = hazard;
        self.value(signal);
        self.value(kind);
        self.words([hazard, consequence, avoidance]);
        self.words(wear);
    }

    fn condition(&mut self, condition: &Condition) {
        let procedure = self.procedure;
        match condition {
            Condition::Part(target, wanted) => {
                self.word(&procedure.part(target.id).naming.title);
                self.at(target);
                self.value(wanted);
            }
            Condition::Set(target, wanted) => {
                self.word(&procedure.set(target.id).naming.title);
                self.at(target);
                self.value(wanted);
            }
            Condition::Temporary(target, inside) => {
                self.word(&procedure.temporary(target.id).naming.title);
                self.at(target);
                self.value(inside);
            }
            Condition::State(state, value, _) => self.state(procedure.state(*state), *value),
        }
    }

    fn state(&mut self, state: &State, value: usize) {
        let State { naming, values, at_first: _, at_build: _, hazards: _, start_span: _ } = state;
        self.word(&naming.title);
        self.word(&values[value]);
    }

    /// Where something is said of some positions only.
    fn somewhere(&mut self, at: &Places) {
        if !at.everywhere() {
            self.places(at);
        }
    }

    fn act(&mut self, act: &Act) {
        // Under which answers it is done is not what is done.
        let Act { deed, note, told, scope: Scope { at, when: _ }, span: _ } = act;
        self.words(note);
        for Local { what, at } in told {
            self.word(what);
            self.places(at);
        }
        self.places(at);
        let procedure = self.procedure;
        match deed {
            Deed::Fasten { work, what, to, bit_by_bit } => {
                self.value((work, bit_by_bit));
                self.each(what, |facts, fastening| match fastening {
                    Fastening::Set(target) => {
                        facts.set(procedure.set(target.id), *work);
                        facts.at(target);
                        let members = procedure.joints.iter().flat_map(|joint| &joint.members);
                        facts.each(members.filter(|member| member.set.id == target.id), |facts, member| {
                            facts.member(member, *work);
                        });
                    }
                    Fastening::Joint(target) => {
                        facts.joint(procedure.joint(target.id), *work);
                        facts.at(target);
                    }
                });
                self.amounts(to);
            }
            Deed::Part { work, what } => {
                self.value(work);
                self.each(what, |facts, target| {
                    facts.part(procedure.part(target.id));
                    facts.at(target);
                });
            }
            Deed::Heat { what, to, origin } => {
                self.word("heat");
                self.part(procedure.part(what.id));
                self.at(what);
                self.amount(to);
                self.origin(origin);
            }
            Deed::Coat { what, with, place } => {
                self.word("coat");
                self.part(procedure.part(what.id));
                self.at(what);
                self.supply(procedure.supply(*with));
                self.each(place, |facts, place| facts.word(place));
            }
            Deed::Wet { what, with } => {
                self.word("wet");
                self.set(procedure.set(what.id), FasteningWork::StartByHand);
                self.at(what);
                match with {
                    Wetting::Oil => {}
                    Wetting::Supply(supply) | Wetting::Locker(Some(supply)) => {
                        self.supply(procedure.supply(*supply));
                    }
                    Wetting::Locker(None) => self.word("locker"),
                }
            }
            Deed::Lock { what, how, close } => {
                self.value((how, close));
                self.set(procedure.set(what.id), FasteningWork::Undo);
                self.at(what);
            }
            Deed::Lift { what, work } => {
                self.value(work);
                self.part(procedure.part(what.id));
                self.at(what);
            }
            Deed::Clean(what) => self.things("clean", what),
            Deed::Mark(what) => self.things("mark", what),
            Deed::Chase(what) => {
                self.word("chase");
                self.each(what, |facts, target| {
                    facts.set(procedure.set(target.id), FasteningWork::Undo);
                    facts.at(target);
                });
            }
            Deed::Gauge(what) => {
                self.word("gauge");
                self.each(what, |facts, target| {
                    facts.gauge(procedure.gauge(target.id));
                    facts.at(target);
                });
            }
            Deed::Look(what) => {
                self.word("look");
                self.each(what, |facts, target| {
                    facts.look(procedure.look(target.id));
                    facts.at(target);
                });
            }
            Deed::Set(state, value) => {
                self.word("set");
                self.state(procedure.state(*state), *value);
            }
            Deed::PutIn(target) => self.temporary("in", target),
            Deed::TakeOut(target) => self.temporary("out", target),
            Deed::TurnByHand { direction, angle, to } => {
                self.word("turn");
                self.value(direction);
                self.amounts(angle);
                self.each(to, |facts, target| {
                    let CylinderAt { axis, cylinder, dead_centre, span: _ } = &**target;
                    let own = || facts.binding.position(*axis);
                    let at = match cylinder {
                        At::Position(at) => Some(*at),
                        At::Axis | At::Group(..) => own(),
                    };
                    facts.value((at, dead_centre));
                });
            }
            Deed::Photo => self.word("photo"),
            Deed::Cap => self.word("cap"),
            Deed::Isolate => self.word("isolate"),
            Deed::Dispose(what) => {
                self.word("dispose");
                self.word(what);
            }
            Deed::Wait(time) => {
                self.word("wait");
                self.amount(time);
            }
            Deed::Words => self.word("words"),
        }
    }

    fn things(&mut self, deed: &str, what: &[Thing]) {
        let procedure = self.procedure;
        self.word(deed);
        self.each(what, |facts, thing| match thing {
            Thing::Part(target) => {
                facts.part(procedure.part(target.id));
                facts.at(target);
            }
            Thing::Set(target) => {
                facts.set(procedure.set(target.id), FasteningWork::Undo);
                facts.at(target);
            }
        });
    }

    fn temporary(&mut self, deed: &str, target: &Target<TemporaryId>) {
        let Temporary { naming, axes: _, count: _, into, may_stay: _ } = self.procedure.temporary(target.id);
        self.word(deed);
        self.word(&naming.title);
        self.words(into);
        self.at(target);
    }

    fn part(&mut self, part: &Part) {
        // What covers and holds a part, what it runs in, what it costs and what is to become of it is not done in the step.
        // What a thing says of its handling stands in the lines of the steps that handle it.
        let Part {
            naming,
            handling: _,
            kind: _,
            carries: _,
            harmless: _,
            axes: _,
            count,
            under: _,
            held_by: _,
            within: _,
            sealed_by,
            mass,
            lift_at,
            falls: _,
            present: _,
            worn_in,
            way,
            marks,
            matched_with,
            sized_with,
            sized_by: _,
            select_from,
            releases: _,
            turned_by_hand: _,
            turning_words: _,
            teeth: _,
            meshes: _,
            critical,
            crack_test: _,
            fate: _,
            catalogue: _,
            price: _,
            supplier: _,
        } = part;
        let procedure = self.procedure;
        self.word(&naming.title);
        self.count(count);
        self.amounts(mass);
        self.words(lift_at);
        self.value(worn_in);
        self.each(&way.0, |facts, (way, scope)| {
            facts.word(way);
            facts.scope(scope);
        });
        self.each(marks, |facts, Mark { kind, text, at }| {
            facts.value(kind);
            facts.word(text);
            facts.somewhere(at);
        });
        for others in [sealed_by, matched_with, sized_with] {
            self.each(others, |facts, target| facts.word(&procedure.part(target.id).naming.title));
        }
        self.words(select_from);
        self.value(critical);
    }

    /// A set as it is worked on: what it is tightened to is no part of undoing it.
    fn set(&mut self, set: &FastenerSet, work: FasteningWork) {
        let FastenerSet {
            naming,
            handling: _,
            axes: _,
            count,
            kind,
            thread,
            diameter: _,
            class,
            drive,
            lengths,
            stays: _,
            engagement,
            stand_out,
            blind,
            to_water,
            to_oil,
            into,
            left_hand,
            captive,
            locked_by,
            reuse,
            present: _,
            under: _,
            oil,
            dry,
            apply,
            soft,
            drag,
            critical,
            friction,
            then: _,
            tightening,
            catalogue: _,
            price: _,
        } = set;
        let procedure = self.procedure;
        self.word(&naming.title);
        self.count(count);
        self.value(kind);
        self.each(thread, |facts, thread| facts.word(&thread.written));
        self.each(class, |facts, class| facts.word(&class.written));
        self.each(drive, |facts, drive| match drive {
            Drive::AcrossFlats(size) => facts.amount(size),
            Drive::Words(words) => facts.word(words),
            Drive::ByHand => facts.word("by hand"),
        });
        self.each(&lengths.0, |facts, (Sourced { value, origin: _, span: _ }, scope)| {
            match value {
                Lengths::Unknown => {}
                Lengths::One(length) => facts.amount(length),
                Lengths::ByHole(lengths) => facts.each(lengths, |facts, (hole, length)| {
                    facts.word(hole);
                    facts.amount(length);
                }),
            }
            facts.scope(scope);
        });
        let locks: Vec<Locking> = locked_by.iter().map(|lock| lock.how).collect();
        self.value((blind, to_water, to_oil, into, left_hand, captive, locks, soft, critical));
        if loosens(work) {
            return;
        }
        self.amounts(engagement);
        self.amounts(stand_out);
        self.each(&reuse.0, |facts, (Sourced { value, origin: _, span: _ }, scope)| {
            match value {
                Reuse::Once => facts.word("once"),
                Reuse::Reusable => facts.word("reusable"),
                Reuse::By(target) => facts.word(&procedure.gauge(target.id).naming.title),
                Reuse::Unknown => {}
            }
            facts.scope(scope);
        });
        self.each(oil, |facts, oil| {
            facts.words(&oil.places);
            facts.each(&oil.with, |facts, with| facts.supply(procedure.supply(*with)));
        });
        self.value(dry);
        self.each(apply, |facts, Local { what: (supply, _), at }| {
            facts.supply(procedure.supply(*supply));
            facts.somewhere(at);
        });
        self.value(drag);
        self.friction(friction);
        self.tightening(tightening);
    }

    fn friction(&mut self, friction: &Option<Box<Sourced<(f64, f64)>>>) {
        self.each(friction, |facts, friction| {
            let Sourced { value, origin, span: _ } = &**friction;
            facts.value(value);
            facts.origin(origin);
        });
    }

    fn tightening(&mut self, tightening: &Cases<Sourced<Tightening>>) {
        self.each(&tightening.0, |facts, (Sourced { value, origin, span: _ }, scope)| {
            match value {
                Tightening::Passes(passes) => facts.each(passes, |facts, pass| {
                    let (kind, low, high) = match pass {
                        Pass::Torque(low, high) => ("torque", low, high),
                        Pass::Angle(low, high) => ("angle", low, high),
                    };
                    facts.word(kind);
                    facts.amount(low);
                    facts.amounts(high);
                }),
                Tightening::Unknown => facts.word("unknown"),
                Tightening::General => facts.word("general"),
                Tightening::ByFeel => facts.word("by feel"),
            }
            facts.origin(origin);
            facts.scope(scope);
        });
    }

    fn member(&mut self, member: &Member, work: FasteningWork) {
        let Member { set: _, holes, tightening, absent: _ } = member;
        self.each(holes, |facts, Hole { index, letter, x, y }| {
            facts.value(index);
            facts.word(letter);
            facts.amounts([x, y]);
        });
        if !loosens(work) {
            self.tightening(tightening);
        }
    }

    fn joint(&mut self, joint: &Joint, work: FasteningWork) {
        let Joint {
            naming,
            axes: _,
            clamps,
            seen,
            members,
            gasket,
            tighten_sequence,
            undo_sequence,
            pass_by_pass,
            critical,
            friction,
            then: _,
        } = joint;
        let procedure = self.procedure;
        self.word(&naming.title);
        self.each(clamps, |facts, target| facts.word(&procedure.part(target.id).naming.title));
        let first = seen.values().next().map(|seen| seen.value);
        self.value((first.map(|seen| seen.view), first.and_then(|seen| seen.front), critical));
        for (Sourced { value, .. }, scope) in seen.0.iter().filter(|_| seen.0.len() > 1) {
            self.value((value.view, value.front));
            self.scope(scope);
        }
        self.each(members, |facts, member| {
            facts.set(procedure.set(member.set.id), work);
            facts.member(member, work);
        });
        let sequence = if loosens(work) { undo_sequence } else { tighten_sequence };
        self.each(sequence, |facts, Sourced { value, origin, span: _ }| {
            facts.value(value);
            facts.origin(origin);
        });
        self.each(gasket, |facts, (gasket, thickness)| {
            facts.word(gasket);
            facts.amounts(thickness);
        });
        if !loosens(work) {
            self.value(pass_by_pass);
            self.friction(friction);
        }
    }

    fn gauge(&mut self, gauge: &Gauge) {
        let Gauge {
            naming,
            axes: _,
            of,
            unit,
            dimension: _,
            difference: _,
            stations,
            directions,
            made,
            worn,
            best_at_nought,
            noted_only: _,
            plausible,
            instrument,
            error,
            taken_off: _,
            needs,
            formula,
            bands,
            edges,
            sold,
            sizes,
            old_centre,
        } = gauge;
        let procedure = self.procedure;
        self.word(&naming.title);
        self.each(of, |facts, target| facts.word(&procedure.part(target.id).naming.title));
        self.each(unit, |facts, unit| facts.word(unit.symbol));
        self.each(stations, |facts, (station, depth)| {
            facts.word(station);
            facts.amounts(depth);
        });
        self.words(directions);
        self.each(&made.0, |facts, (Sourced { value: (low, high), origin, span: _ }, scope)| {
            facts.amount(low);
            facts.amounts(high);
            facts.origin(origin);
            facts.scope(scope);
        });
        self.each(&worn.0, |facts, (Sourced { value, origin, span: _ }, scope)| {
            facts.amounts(value);
            facts.origin(origin);
            facts.scope(scope);
        });
        self.each(plausible, |facts, (low, high)| facts.amounts([low, high]));
        self.each(instrument, |facts, (instrument, resolution)| {
            facts.word(instrument);
            facts.amounts(resolution);
        });
        if let Some(Sourced { value, origin, span: _ }) = error {
            self.amount(value);
            self.origin(origin);
        }
        self.each(needs, |facts, need| {
            facts.places(&need.at);
            facts.condition(&need.what);
        });
        self.each(formula, |facts, (formula, _)| facts.formula(formula));
        if edges.is_empty() {
            self.words([]);
            self.origin(&None);
        }
        for (Sourced { value, origin, span: _ }, scope) in &edges.0 {
            let ends: Vec<(&Band, &Edges)> = bands.iter().zip(value).collect();
            self.each(&ends, |facts, (Band { name, span: _ }, Edges { low, high })| {
                facts.word(name);
                facts.amounts(low);
                facts.amounts(high);
            });
            self.origin(origin);
            self.scope(scope);
        }
        self.each(sizes, |facts, Sourced { value: (sizes, step), origin, span: _ }| {
            facts.amounts(sizes);
            facts.amounts(step);
            facts.origin(origin);
        });
        if let Some(Sourced { value: (pieces, within), origin, span: _ }) = sold {
            self.amounts(pieces);
            self.amount(within);
            self.origin(origin);
        }
        if *best_at_nought {
            self.word("best at nought");
        }
        if *old_centre {
            self.word("on old centre");
        }
    }

    fn formula(&mut self, formula: &Formula) {
        match formula {
            Formula::Amount(amount) => self.amount(amount),
            Formula::Count(count) => self.value(count),
            Formula::Reading(target) => self.word(&self.procedure.gauge(target.id).naming.title),
            Formula::Operation { operator, left, right } => {
                self.value(operator);
                self.formula(left);
                self.formula(right);
            }
            Formula::Call { function, arguments } => {
                self.value(function);
                self.each(arguments, Self::formula);
            }
        }
    }

    fn look(&mut self, look: &Look) {
        let Look { naming, axes: _, of, marks_of: _, results, by, taken_off: _, needs } = look;
        let procedure = self.procedure;
        self.word(&naming.title);
        self.each(of, |facts, target| facts.word(&procedure.part(target.id).naming.title));
        self.words(results);
        self.words(by);
        self.each(needs, |facts, need| {
            facts.places(&need.at);
            facts.condition(&need.what);
        });
    }
}

/// Whether a set only comes loose by it.
fn loosens(work: FasteningWork) -> bool {
    matches!(work, FasteningWork::Slacken | FasteningWork::Undo)
}
