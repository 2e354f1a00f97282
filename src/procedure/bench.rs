//! The bench: axes, questions, setups, states, tools, supplies, temporaries and hazards.

use super::errors;
use super::joints::VIEWS;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{
    self, Declaration, HazardClause, ListedValue, SupplyClause, TemporaryClause, ToolClause,
};
use crate::quantity::{Dimension, Quantity};
use crate::source::Span;

const SIGNALS: [(&str, Signal); 4] = [
    ("danger", Signal::Danger),
    ("warning", Signal::Warning),
    ("caution", Signal::Caution),
    ("notice", Signal::Notice),
];

/// Values of a setup or state with the marked ones.
struct Values {
    values: Vec<String>,
    at_first: Option<(usize, Span)>,
    at_build: Option<usize>,
}

impl Resolver {
    pub(super) fn axis(&mut self, id: AxisId, declaration: &tree::Axis) {
        let positions = self.list(&declaration.positions, "position");
        self.procedure.axes[id].positions = positions;
        for grouping in &declaration.groupings {
            self.grouping(id, declaration, grouping);
        }
    }

    /// Groups of an axis, each the position of an axis of their own: every position is in one of them.
    fn grouping(&mut self, id: AxisId, axis: &tree::Axis, grouping: &tree::Grouping) {
        let names: Vec<tree::Word> = grouping.groups.iter().map(|(group, _)| group.clone()).collect();
        let groups = self.list(&names, "group");
        // A second thing of that name was complained of.
        let Some(Name::Axis(by)) = self.procedure.names.get(&grouping.name.value).copied() else { return };
        if self.declared(Name::Axis(by)).span != grouping.name.span {
            return;
        }
        let positions = self.procedure.axis(id).positions.clone();
        let mut of: Vec<Option<(u16, Span)>> = vec![None; positions.len()];
        for (group, members) in &grouping.groups {
            let number =
                groups.iter().position(|name| *name == group.value).and_then(|at| u16::try_from(at).ok());
            for member in members {
                let Some(at) = self.value(Name::Axis(id), "position", &positions, member) else { continue };
                match of[at] {
                    Some((_, first)) => self.complain(errors::duplicate_value(member, "position", first)),
                    None => of[at] = number.map(|number| (number, member.span)),
                }
            }
        }
        let missing: Vec<&str> =
            positions.iter().zip(&of).filter(|(_, of)| of.is_none()).map(|(name, _)| name.as_str()).collect();
        if !missing.is_empty() {
            self.complain(errors::ungrouped(&grouping.name, &axis.name, &missing));
        }
        self.procedure.axes[by].positions = groups;
        let of = of.into_iter().map(|of| of.map_or(0, |(group, _)| group)).collect();
        self.procedure.axes[id].groupings.push(Grouping { by, of });
    }

    pub(super) fn ask(&mut self, id: AskId, declaration: &tree::Ask) {
        let answers = self.alternatives(&declaration.answers, "answer");
        self.procedure.asks[id].answers = answers;
    }

    fn values(&mut self, listed: &[ListedValue]) -> Values {
        let words: Vec<tree::Word> = listed.iter().map(|listed| listed.value.clone()).collect();
        let values = self.alternatives(&words, "value");
        let index = |listed: &ListedValue| values.iter().position(|value| *value == listed.value.value);
        let mut marked = |mark: &str, is_marked: fn(&ListedValue) -> bool| {
            let mut found = listed.iter().filter(|listed| is_marked(listed));
            let first = found.next()?;
            for second in found {
                self.complain(errors::two_starts(&second.value, &first.value, mark));
            }
            Some((index(first)?, first.value.span))
        };
        let at_first = marked("(at first)", |listed| listed.at_first);
        let at_build = marked("(at build)", |listed| listed.at_build).map(|(index, _)| index);
        Values { values, at_first, at_build }
    }

    pub(super) fn setup_values(&mut self, id: SetupId, declaration: &tree::Setup) {
        let values = self.values(&declaration.values);
        let uppermost = self.uppermost(id, &values.values, declaration);
        let change =
            declaration.change.as_ref().and_then(|change| self.positive(change, Dimension::DURATION));
        let hazard = declaration.hazard.as_ref().and_then(|hazard| self.target(hazard));
        let setup = &mut self.procedure.setups[id];
        setup.hazard = hazard.map(|Target { id, span, .. }| (id, span));
        setup.values = values.values;
        setup.uppermost = uppermost;
        setup.at_first = values.at_first.map_or(0, |(index, _)| index);
        setup.each_person = declaration.each_person;
        setup.change = change;
    }

    /// The face that lies uppermost at each of the values; empty where the setup doesn't say or says it wrongly.
    fn uppermost(&mut self, id: SetupId, values: &[String], declaration: &tree::Setup) -> Vec<View> {
        if declaration.turns_engine.is_empty() {
            return Vec::new();
        }
        let other = self.procedure.setups.iter().find(|setup| !setup.uppermost.is_empty());
        if let Some(other) = other {
            let complaint = errors::second_turner(&declaration.name, &other.naming);
            self.complain(complaint);
        }
        let mut faces: Vec<Option<View>> = vec![None; values.len()];
        let mut sound = true;
        for lies in &declaration.turns_engine {
            let value = self.value(Name::Setup(id), "value", values, &lies.value);
            let face = self.word(&lies.face, "a face of the engine", &VIEWS);
            match (value, face) {
                (Some(value), Some(_)) if faces[value].is_some() => {
                    let first = declaration.turns_engine.iter().find(|l| l.value.value == lies.value.value);
                    let span = first.map_or(lies.value.span, |first| first.value.span);
                    self.complain(errors::duplicate_value(&lies.value, "value", span));
                }
                (Some(value), face) => faces[value] = face,
                (None, _) => sound = false,
            }
            sound &= face.is_some();
        }
        // A value that was misspelt or turned to no known face has been complained of.
        for (value, _) in values.iter().zip(&faces).filter(|(_, face)| sound && face.is_none()) {
            let listed = declaration.values.iter().find(|listed| listed.value.value == *value);
            if let Some(listed) = listed {
                self.complain(errors::unturned_value(&declaration.name, &listed.value));
            }
        }
        faces.into_iter().collect::<Option<_>>().unwrap_or_default()
    }

    pub(super) fn state_values(&mut self, id: StateId, declaration: &tree::State) {
        let values = self.values(&declaration.values);
        let state = &mut self.procedure.states[id];
        let first = declaration.values.first().map(|listed| (0, listed.value.span));
        if let Some((index, span)) = values.at_first.or(first) {
            state.at_first = index;
            state.start_span = span;
        }
        state.values = values.values;
        state.at_build = values.at_build;
        for (hazard, value) in &declaration.hazards {
            let known = self.procedure.state(id).values.clone();
            let met = self.target(hazard).zip(self.value(Name::State(id), "value", &known, value));
            let span = hazard.span.to(value.span);
            self.procedure.states[id].hazards.extend(met.map(|(target, value)| (target.id, value, span)));
        }
    }

    pub(super) fn tool(&mut self, id: ToolId, declaration: &Declaration<ToolClause>) {
        let mut tool = self.procedure.tool(id).clone();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                ToolClause::Hazard(hazard) => {
                    tool.hazards.extend(self.target(hazard).map(|Target { id, span, .. }| (id, span)));
                }
                ToolClause::Drive(amount) => tool.drive = self.positive(amount, Dimension::LENGTH),
                ToolClause::Size(amount) => tool.size = self.positive(amount, Dimension::LENGTH),
                ToolClause::Range(range) => tool.range = self.tool_range(range, declaration),
                ToolClause::Special => tool.special = true,
                ToolClause::Kind(word) => {
                    tool.kind =
                        self.word(word, "a kind of tool", &ToolKind::WORDS).unwrap_or(ToolKind::Other);
                }
                ToolClause::StandIn { tool: other, condition } => {
                    let condition = condition.as_ref().map(|condition| condition.value.clone());
                    tool.stand_ins.push((other.value.clone(), condition));
                }
            }
        }
        self.procedure.tools[id] = tool;
    }

    /// The range of a torque wrench is in torques; that of another tool in whatever it measures.
    fn tool_range(
        &mut self,
        range: &tree::AmountRange,
        declaration: &Declaration<ToolClause>,
    ) -> Option<(Quantity, Quantity)> {
        let says_wrench = declaration
            .clauses
            .iter()
            .any(|clause| matches!(&clause.value, ToolClause::Kind(word) if word.value == "wrench"));
        if says_wrench {
            return self.full_range(range, Dimension::TORQUE);
        }
        match self.measure_range(range)? {
            (Measure::Amount(low), Some(Measure::Amount(high))) => Some((low, high)),
            (Measure::Amount(low), _) => Some((low, low)),
            (Measure::Count(_), _) => {
                self.complain(errors::no_unit(&range.low, None));
                None
            }
        }
    }

    pub(super) fn supply(&mut self, id: SupplyId, declaration: &Declaration<SupplyClause>) {
        let mut supply = self.procedure.supply(id).clone();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                SupplyClause::Hazard(hazard) => {
                    supply.hazards.extend(self.target(hazard).map(|Target { id, span, .. }| (id, span)));
                }
                SupplyClause::Quantity(amount) => supply.quantity = self.measure(amount),
                SupplyClause::OpenTime(amount) => {
                    supply.open_time = self.positive(amount, Dimension::DURATION);
                }
                SupplyClause::CureTime(amount) => {
                    supply.cure_time = self.positive(amount, Dimension::DURATION);
                }
            }
        }
        self.procedure.supplies[id] = supply;
    }

    pub(super) fn temporary_clauses(&mut self, id: TemporaryId, declaration: &Declaration<TemporaryClause>) {
        let mut temporary = self.procedure.temporary(id).clone();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                TemporaryClause::Into(place) => temporary.into = Some(place.value.clone()),
                TemporaryClause::MayStay => temporary.may_stay = true,
            }
        }
        self.procedure.temporaries[id] = temporary;
    }

    pub(super) fn hazard(&mut self, id: HazardId, declaration: &tree::Hazard) {
        let signal = self.word(&declaration.signal, "a signal word", &SIGNALS);
        let kind = self.word(&declaration.kind, "a kind of hazard", &HazardKind::WORDS);
        let mut hazard = self.procedure.hazard(id).clone();
        hazard.signal = signal.unwrap_or(hazard.signal);
        hazard.kind = kind.unwrap_or(hazard.kind);
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                HazardClause::Hazard(text) => hazard.hazard.clone_from(&text.value),
                HazardClause::Consequence(text) => hazard.consequence.clone_from(&text.value),
                HazardClause::Avoid(text) => hazard.avoidance.clone_from(&text.value),
                HazardClause::Wear(texts) => {
                    hazard.wear = texts.iter().map(|text| text.value.clone()).collect();
                }
            }
        }
        // A box on a sheet that doesn't say what threatens, or how to be safe, warns of nothing.
        for (missing, clause) in
            [(hazard.hazard.is_empty(), "hazard"), (hazard.avoidance.is_empty(), "avoid")]
        {
            if missing {
                let example = format!("{clause} \"...\"");
                let complaint = errors::missing_clause("hazard", &declaration.name, clause, &example);
                self.complain_of_absence(declaration.span, complaint);
            }
        }
        self.procedure.hazards[id] = hazard;
    }
}

impl Resolver {
    /// Warns of hazards that wait for a value which a state never has.
    pub(super) fn state_hazards(&mut self) {
        let mut never = Vec::new();
        for (id, state) in self.procedure.states.numbered() {
            for (_, value, span) in &state.hazards {
                let set = |act: &Act| act.deed == Deed::Set(id, *value);
                let starts = state.at_first == *value || state.at_build == Some(*value);
                if !starts && !self.procedure.steps.iter().flat_map(Step::acts).any(set) {
                    never.push(errors::hazard_never_met(*span, &state.naming.id, &state.values[*value]));
                }
            }
        }
        never.into_iter().for_each(|complaint| self.complain(complaint));
    }
}
