//! Which step of the work is meant: one that the procedure has, or one that is derived for the build. A key is written
//! out here and nowhere else; `record` reads it back.

use super::{GaugeId, JointId, LookId, Name, Naming, PartId, Place, Procedure, SetId, StateId, StepId};

/// One step, at one place where it is done apart.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepKey {
    /// A step of the procedure; with the place of its axes where one of several is meant.
    Written(StepId, Option<Place>),
    /// A step that the build derives.
    Derived(DerivedKey),
}

/// A step that the build derives. Whether there is one only the network knows.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct DerivedKey {
    /// What it does.
    pub work: DerivedWork,
    /// Names of the positions that all of its places share, or of each of its places; empty for all there are.
    pub at: Vec<Vec<String>>,
    /// From 1; steps that differ only in their answers are numbered.
    pub number: usize,
}

/// What a derived step does to what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum DerivedWork {
    Set(StateId),
    Open(PartId),
    Fit(PartId),
    TightenJoint(JointId),
    TightenSet(SetId),
    Gauge(GaugeId),
    Look(LookId),
}

impl DerivedWork {
    /// The words that stand before what is worked on.
    pub const WORDS: [&'static str; 6] = ["set", "open", "fit", "tighten", "gauge", "look"];

    /// The work that a word of [`DerivedWork::WORDS`] means on what is named; none if it can't be done to that.
    pub fn on(word: &str, name: Name) -> Option<DerivedWork> {
        let all = |name: Name| match name {
            Name::State(state) => vec![DerivedWork::Set(state)],
            Name::Part(part) => vec![DerivedWork::Open(part), DerivedWork::Fit(part)],
            Name::Joint(joint) => vec![DerivedWork::TightenJoint(joint)],
            Name::Set(set) => vec![DerivedWork::TightenSet(set)],
            Name::Gauge(gauge) => vec![DerivedWork::Gauge(gauge)],
            Name::Look(look) => vec![DerivedWork::Look(look)],
            _ => Vec::new(),
        };
        all(name).into_iter().find(|work| work.word() == word)
    }

    fn word(self) -> &'static str {
        match self {
            DerivedWork::Set(_) => "set",
            DerivedWork::Open(_) => "open",
            DerivedWork::Fit(_) => "fit",
            DerivedWork::TightenJoint(_) | DerivedWork::TightenSet(_) => "tighten",
            DerivedWork::Gauge(_) => "gauge",
            DerivedWork::Look(_) => "look",
        }
    }

    fn naming(self, procedure: &Procedure) -> &Naming {
        match self {
            DerivedWork::Set(id) => &procedure.state(id).naming,
            DerivedWork::Open(id) | DerivedWork::Fit(id) => &procedure.part(id).naming,
            DerivedWork::TightenJoint(id) => &procedure.joint(id).naming,
            DerivedWork::TightenSet(id) => &procedure.set(id).naming,
            DerivedWork::Gauge(id) => &procedure.gauge(id).naming,
            DerivedWork::Look(id) => &procedure.look(id).naming,
        }
    }
}

impl DerivedKey {
    /// As it is written, such as `fit:push_rod[2, inlet]`.
    pub fn id(&self, procedure: &Procedure) -> String {
        let mut id = format!("{}:{}", self.work.word(), self.work.naming(procedure).id);
        if !self.at.is_empty() {
            let places: Vec<String> = self.at.iter().map(|names| names.join(", ")).collect();
            id += &format!("[{}]", places.join("; "));
        }
        if self.number > 1 {
            id += &format!(":{}", self.number);
        }
        id
    }
}

impl StepKey {
    /// As it is written in a record and on the command line, such as `pull_piston[2]`.
    pub fn id(&self, procedure: &Procedure) -> String {
        match self {
            StepKey::Derived(key) => key.id(procedure),
            StepKey::Written(step, place) => {
                let step = procedure.step(*step);
                let id = &step.naming.id;
                place.map_or_else(
                    || id.clone(),
                    |place| format!("{id}[{}]", procedure.place_name(&step.each, place)),
                )
            }
        }
    }

    /// Whether they mean the same step: one without a place means it at every place.
    pub fn meets(&self, other: &StepKey) -> bool {
        match (self, other) {
            (StepKey::Written(_, a), StepKey::Written(_, b)) => {
                self.repeats(other) && (a == b || a.is_none() || b.is_none())
            }
            _ => self == other,
        }
    }

    /// Whether they mean one step, wherever it is done.
    pub fn repeats(&self, other: &StepKey) -> bool {
        match (self, other) {
            (StepKey::Written(a, _), StepKey::Written(b, _)) => a == b,
            (StepKey::Derived(a), StepKey::Derived(b)) => a.work == b.work,
            _ => false,
        }
    }
}
