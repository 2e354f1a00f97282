//! Tools of a step against what it drives and tightens, both ways: what nothing drives, a torque beyond every wrench, and
//! tools that nothing in the step uses.

use super::Judged;
use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::handling::{drives, reaches, torques, wants_a_socket};
use crate::procedure::model::*;
use crate::quantity::Quantity;
use crate::source::Span;

impl Judged<'_> {
    /// What is said of the tools of a step: at each of its places by itself, where it is done place by place.
    pub(super) fn tools(&self) -> Vec<Diagnostic> {
        // A file that declares no tool at all is about the order of work; what the crib holds isn't known here.
        if self.procedure.tools.iter().next().is_none() {
            return Vec::new();
        }
        let scoped = self.step.tools.iter().any(|tool| !tool.at.everywhere())
            || self.step.acts().any(|act| !act.scope.at.everywhere());
        if !self.step.apart || !scoped {
            return self.tools_here();
        }
        let each = &self.step.each;
        let places: Vec<Place> = self.procedure.places(each).collect();
        let at = |place: &Place, id: &str| {
            let step = here(self.procedure, self.step, &self.procedure.bound(each, *place));
            Judged { step: &step, id, ..*self }.tools_here()
        };
        let found: Vec<Vec<Diagnostic>> = places.iter().map(|place| at(place, self.id)).collect();
        let same = |a: &Diagnostic, b: &Diagnostic| {
            let shown = |found: &Diagnostic| found.labels.first().map(|label| label.span);
            (a.code.name, &a.message, shown(a)) == (b.code.name, &b.message, shown(b))
        };
        let mut complaints: Vec<Diagnostic> = Vec::new();
        let mut told: Vec<&Diagnostic> = Vec::new();
        for (place, here) in places.iter().zip(&found) {
            for (index, complaint) in here.iter().enumerate() {
                if told.iter().any(|known| same(known, complaint)) {
                    continue;
                }
                told.push(complaint);
                // What is so at every place is told once, without one.
                if found.iter().all(|there| there.iter().any(|other| same(other, complaint))) {
                    complaints.push(complaint.clone());
                    continue;
                }
                let named = format!("{}[{}]", self.id, self.procedure.place_name(each, *place));
                complaints.extend(at(place, &named).into_iter().nth(index));
            }
        }
        complaints
    }

    fn tools_here(&self) -> Vec<Diagnostic> {
        let mut complaints = Vec::new();
        let mut told: Vec<SetId> = Vec::new();
        for (_, work, set, span) in self.driven_sets() {
            if !told.contains(&set) && self.lacks_driver(work, set) {
                told.push(set);
                complaints.push(self.no_driver(set, span));
            }
        }
        complaints.extend(self.spanners_for_torques());
        for (index, work, set, span) in self.driven_sets() {
            if matches!(work, FasteningWork::Tighten | FasteningWork::Retighten) {
                complaints.extend(self.lacks_wrench(index, work, set, span));
            }
        }
        complaints.extend(self.idle_tools());
        complaints
    }

    /// Fasteners that are tightened to a torque where nothing of the step but a spanner drives them: it goes on no torque wrench.
    fn spanners_for_torques(&self) -> Vec<Diagnostic> {
        let mut complaints = Vec::new();
        for (_, work, id, span) in self.driven_sets() {
            let Some(Drive::AcrossFlats(size)) = self.procedure.set(id).drive else { continue };
            let tightened = matches!(work, FasteningWork::Tighten | FasteningWork::Retighten);
            let entry = self.procedure.set(id);
            // What it is driven with it may say itself, as where nothing but an open end gets at it.
            let says = entry.handling.each_tool().any(|(_, tool, _)| drives(self.procedure.tool(tool), size));
            if !tightened || says || !wants_a_socket(self.procedure, id) {
                continue;
            }
            let mut fits = self.listed().filter(|(tool, _)| drives(tool, size)).peekable();
            let Some((spanner, _)) = fits.peek().copied() else { continue };
            if fits.all(|(tool, _)| tool.kind == ToolKind::Spanner) {
                let set = self.procedure.set(id);
                let at = self.place(span, &set.naming);
                complaints.push(errors::spanner_for_torque(set, self.id, at, (spanner, size)));
            }
        }
        complaints
    }

    fn listed(&self) -> impl Iterator<Item = (&Tool, Span)> {
        self.step.listed().map(|(tool, span)| (self.procedure.tool(tool), span))
    }

    /// Sockets and spanners of the step of a size that stands in these words, such as `6 mm hexagon`.
    fn of_size_in<'w>(&'w self, words: &'w str) -> impl Iterator<Item = (&'w Tool, Span)> {
        let drives = |tool: &Tool| matches!(tool.kind, ToolKind::Socket | ToolKind::Spanner);
        self.listed()
            .filter(move |(tool, _)| drives(tool) && tool.size.is_some_and(|size| has_size(words, size)))
    }

    /// Whether the drive of the set is known and no tool of the step fits it.
    fn lacks_driver(&self, work: FasteningWork, set: SetId) -> bool {
        let entry = self.procedure.set(set);
        match &entry.drive {
            None | Some(Drive::ByHand) => false,
            Some(Drive::AcrossFlats(size)) => !self.listed().any(|(tool, _)| drives(tool, *size)),
            // A tool for a drive in words is named by the set.
            Some(Drive::Words(_)) => {
                let off = matches!(work, FasteningWork::Slacken | FasteningWork::Undo);
                !self.procedure.places(&entry.axes).all(|place| {
                    let bound = self.procedure.bound(&entry.axes, place);
                    let mut here = entry.handling.tools.iter().filter_map(|tool| tool.here(&bound));
                    here.any(|(direction, ..)| direction.counts(off))
                })
            }
        }
    }

    fn no_driver(&self, set: SetId, span: Span) -> Diagnostic {
        let entry = self.procedure.set(set);
        let declared: Vec<&str> = match &entry.drive {
            Some(Drive::AcrossFlats(size)) => self
                .procedure
                .tools
                .iter()
                .filter(|tool| drives(tool, *size))
                .map(|tool| tool.naming.id.as_str())
                .collect(),
            Some(Drive::Words(words)) => {
                self.of_size_in(words).map(|(tool, _)| tool.naming.id.as_str()).collect()
            }
            _ => Vec::new(),
        };
        errors::no_driver(entry, self.id, self.place(span, &entry.naming), &declared, self.derived)
    }

    /// A torque for which the step has no wrench, or none that reaches it.
    fn lacks_wrench(&self, act: usize, work: FasteningWork, set: SetId, span: Span) -> Option<Diagnostic> {
        let entry = self.procedure.set(set);
        let trial = self.step.acts().nth(act).and_then(|act| match act.deed {
            Deed::Fasten { to, .. } => to,
            _ => None,
        });
        let mut wanted = trial.map_or_else(|| torques(self.procedure, set), |to| vec![to]);
        if work == FasteningWork::Retighten {
            // Straight to the last pass.
            wanted.drain(..wanted.len().saturating_sub(1));
        }
        let wrench = |tool: &Tool| tool.kind == ToolKind::TorqueWrench;
        let wrenches: Vec<(&Tool, Span)> = self.listed().filter(|(tool, _)| wrench(tool)).collect();
        let beyond =
            wanted.iter().find(|torque| !wrenches.iter().any(|(tool, _)| reaches(tool, **torque)))?;
        let fits = |tool: &&Tool| wrench(tool) && wanted.iter().all(|torque| reaches(tool, *torque));
        let declared: Vec<&str> =
            self.procedure.tools.iter().filter(fits).map(|tool| tool.naming.id.as_str()).collect();
        let at = self.place(span, &entry.naming);
        // Where some wrench reaches each by itself, it is the two together that none does.
        let alone = |torque: &Quantity| {
            self.procedure.tools.iter().any(|tool| wrench(tool) && reaches(tool, *torque))
        };
        let reachable: Vec<Quantity> = if alone(beyond) {
            let mut furthest = wanted.clone();
            furthest.sort_by(|a, b| {
                let away = |torque: &Quantity| (torque.base() - beyond.base()).abs();
                away(b).total_cmp(&away(a))
            });
            furthest
        } else {
            Vec::new()
        };
        Some(match wrenches.first() {
            // A step may have a wrench that was brought for another of its sets.
            Some((wrench, listed)) if !self.derived && self.step.span.holds(*listed) => {
                errors::wrench_out_of_range(entry, wrench, *beyond, (*listed, at), &declared)
            }
            _ => errors::no_wrench(entry, self.id, (*beyond, &reachable), at, &declared, self.derived),
        })
    }

    /// Whether an act of the step may want any tool: words, turning by hand, what is put in for a time.
    fn wants_any_tool(&self) -> bool {
        self.step.acts().any(|act| {
            matches!(
                act.deed,
                Deed::Words
                    | Deed::TurnByHand { .. }
                    | Deed::Isolate
                    | Deed::Chase(_)
                    | Deed::PutIn(_)
                    | Deed::TakeOut(_)
            )
        })
    }

    /// Special tools of no kind in particular that a strip step lists in its own words, where parts come off that go back by
    /// derived steps: those have what is said of the parts. What is in a general kit is at hand anyway, but for what lets a
    /// spring go, such as its pliers.
    pub(super) fn one_way(&self) -> Vec<Diagnostic> {
        let in_group = self.step.group.is_some();
        if self.derived || in_group || self.step.phase != Phase::Strip || self.wants_any_tool() {
            return Vec::new();
        }
        let goes_back = |part: &Part| {
            let stays_out = |fate: &Fate| matches!(fate, Fate::LeaveOut(_));
            !part.fate.as_ref().is_some_and(|choice| choice.fates().all(stays_out))
        };
        let taken: Vec<(PartId, Span)> = self
            .worked_parts()
            .filter(|(_, work, id, _)| {
                *work == PartWork::Take
                    && !self.known.refitted.contains(id)
                    && goes_back(self.procedure.part(*id))
            })
            .map(|(_, _, part, span)| (part, span))
            .collect();
        let spring = |(part, _): &&(PartId, Span)| self.procedure.part(*part).kind == Some(PartKind::Spring);
        let spring = taken.iter().find(spring);
        let Some((part, span)) = spring.or(taken.first()).copied() else { return Vec::new() };
        let said = |tool: ToolId| {
            let parts = self.worked_parts().map(|(_, _, part, _)| &self.procedure.part(part).handling);
            let sets = self.driven_sets().map(|(_, _, set, _)| &self.procedure.set(set).handling);
            parts.chain(sets).any(|handling| handling.each_tool().any(|(_, other, _)| other == tool))
        };
        let listed = self.step.listed().filter(|(_, at)| self.step.span.holds(*at));
        listed
            .map(|(id, at)| (id, self.procedure.tool(id), at))
            .filter(|(id, tool, _)| {
                let for_springs = spring.is_some() && holds_springs(&tool.naming.title);
                tool.kind == ToolKind::Other && (tool.special || for_springs) && !said(*id)
            })
            .map(|(_, tool, at)| {
                errors::tool_one_way(tool, self.id, at, (&self.procedure.part(part).naming, span))
            })
            .collect()
    }

    /// Drivers, wrenches and pullers that the step lists and that none of its acts can use. Words may use anything, turning by
    /// hand and what is put in for a time any socket, and a reading or a blank for a length anything that measures.
    fn idle_tools(&self) -> Vec<Diagnostic> {
        let has = |test: fn(&Deed) -> bool| self.step.acts().any(|act| test(&act.deed));
        if self.derived || self.wants_any_tool() {
            return Vec::new();
        }
        // What is done if something happens may want any tool; a socket only where it speaks of what one turns.
        let any = !self.step.contingencies.is_empty();
        let turns = self.step.contingencies.iter().any(|wrong| {
            let (what, done) = &wrong.what;
            speaks_of_turning(what) || speaks_of_turning(done)
        });
        let driven: Vec<&FastenerSet> =
            self.driven_sets().map(|(_, _, set, _)| self.procedure.set(set)).collect();
        let handled = |tool: ToolId| {
            let parts = self.worked_parts().map(|(_, _, part, _)| &self.procedure.part(part).handling);
            let asks = |handling: &Handling| handling.each_tool().any(|(_, other, _)| other == tool);
            parts.chain(driven.iter().map(|set| &set.handling)).any(asks)
        };
        let idle = |tool: &Tool| match tool.kind {
            ToolKind::Socket | ToolKind::Spanner => {
                // A set that doesn't say its drive may be of any size.
                !turns
                    && tool.size.is_some_and(|size| {
                        !driven.iter().any(|set| match &set.drive {
                            Some(Drive::AcrossFlats(flats)) => flats.base() == size.base(),
                            // What such a set lacks is told where it is driven.
                            Some(Drive::Words(words)) => has_size(words, size),
                            Some(Drive::ByHand) => false,
                            None => true,
                        })
                    })
            }
            ToolKind::TorqueWrench => {
                !any && !has(|deed| matches!(deed, Deed::Gauge(_)))
                    && !self.driven_sets().any(|(_, work, ..)| {
                        matches!(work, FasteningWork::Tighten | FasteningWork::Retighten)
                    })
            }
            ToolKind::Puller => !any && self.worked_parts().next().is_none(),
            ToolKind::Hoist | ToolKind::Measuring | ToolKind::Other => false,
        };
        let listed = self.step.listed().map(|(id, span)| (id, self.procedure.tool(id), span));
        listed
            .filter(|(id, tool, _)| idle(tool) && !handled(*id))
            .map(|(_, tool, span)| errors::idle_tool(tool, self.id, span))
            .collect()
    }
}

/// Whether words tell this size, as `6 mm hexagon` does 6 mm and `16 mm hexagon` doesn't.
fn has_size(words: &str, size: Quantity) -> bool {
    let in_a_number = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '/');
    words.match_indices(&size.to_string()).any(|(at, _)| !words[..at].ends_with(in_a_number))
}

/// Words in titles of tools that let a spring go and put it on again. Common practice, no source.
const OF_SPRINGS: [&str; 4] = ["pliers", "compressor", "expander", "hook"];

fn holds_springs(title: &str) -> bool {
    title.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| OF_SPRINGS.contains(&word))
}

/// Words of what a driver turns, and of turning it.
const TURNED: [&str; 21] = [
    "nut", "nuts", "bolt", "bolts", "screw", "screws", "plug", "plugs", "stud", "studs", "union", "unions",
    "thread", "threads", "socket", "spanner", "slacken", "undo", "tighten", "turn", "crank",
];

fn speaks_of_turning(text: &str) -> bool {
    let text = text.to_lowercase();
    text.split(|c: char| !c.is_alphanumeric()).any(|word| TURNED.contains(&word))
}

/// A step as it is done where its axes stand as `bound` says.
fn here(procedure: &Procedure, step: &Step, bound: &Binding) -> Step {
    let mut here = step.clone();
    here.tools =
        step.tools.iter().filter_map(|tool| tool.here(bound)).copied().map(Local::everywhere).collect();
    here.lines.retain(|line| match line {
        StepLine::Act(act) => procedure.narrowed(bound, &act.scope.at).is_some(),
        StepLine::Hazard(..) | StepLine::Hold(..) => true,
    });
    here
}
