//! The ledger: every part, fastener set and temporary, where it comes off, where it goes, where it is back.

use super::types::{Placed, PlacedKind, Plan, Standing};
use super::{PlannedLine, verdict, words};
use crate::decide::{Decisions, Verdict};
use crate::procedure::model::{
    Deed, FasteningWork, Part, PartId, PartWork, Phase, Place, Procedure, Reuse, SetId, TemporaryId,
};

/// One thing of the ledger with all its places.
#[derive(Debug, Clone, PartialEq)]
pub struct LedgerLine {
    /// What it is.
    pub kind: PlacedKind,
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Pieces over all its places.
    pub pieces: u32,
    /// Steps that take it off, out or (for a temporary) put it in.
    pub off: Vec<LedgerStep>,
    /// Where it goes meanwhile.
    pub goes: String,
    /// Steps that put it back, or take a temporary out.
    pub back: Vec<LedgerStep>,
    /// What comes back, where that is not simply the same piece.
    pub comes_back: String,
}

/// A step of the ledger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LedgerStep {
    /// Phase.
    pub phase: Phase,
    /// Id.
    pub id: String,
    /// Number in its phase.
    pub number: Option<usize>,
    /// Places of the thing that are done there.
    pub places: usize,
}

/// The ledger of a plan, in declared order: parts, fastener sets, temporaries. Steps that the answers leave out don't
/// count, nor what is undone and done again within a block or trial.
pub fn ledger(procedure: &Procedure, decisions: &Decisions, plan: &Plan) -> Vec<LedgerLine> {
    let parts = (0u32..).map(PartId).zip(&procedure.parts).map(|(id, part)| LedgerLine {
        kind: PlacedKind::Part(id),
        id: part.naming.id.clone(),
        title: part.naming.title.clone(),
        pieces: part.count * places(procedure.places(&part.axes)),
        off: steps(
            plan,
            |deed, things| takes(deed) && has(things, PlacedKind::Part(id)),
            id_of(PlacedKind::Part(id)),
        ),
        goes: part_goes(decisions, id, part),
        back: steps(
            plan,
            |deed, things| fits(deed) && has(things, PlacedKind::Part(id)),
            id_of(PlacedKind::Part(id)),
        ),
        comes_back: part_comes_back(decisions, id),
    });
    let sets = (0u32..).map(SetId).zip(&procedure.sets).map(|(id, set)| {
        let in_joint = |things: &[Placed]| {
            things.iter().any(|placed| match placed.kind {
                PlacedKind::Set(other) => other == id,
                PlacedKind::Joint(joint) => procedure.joint(joint).has(id),
                _ => false,
            })
        };
        let count = |placed: &Placed| match placed.kind {
            PlacedKind::Set(other) => usize::from(other == id) * placed.places.len(),
            PlacedKind::Joint(joint) => usize::from(procedure.joint(joint).has(id)) * placed.places.len(),
            _ => 0,
        };
        let (goes, comes_back) =
            set_words(procedure, set.stays, set.captive, set.reuse.as_ref().map(|(reuse, _)| reuse));
        LedgerLine {
            kind: PlacedKind::Set(id),
            id: set.naming.id.clone(),
            title: set.naming.title.clone(),
            pieces: set.count * places(procedure.places(&set.axes)),
            off: steps(plan, |deed, things| loosens(deed) && in_joint(things), count),
            goes,
            back: steps(plan, |deed, things| tightens(deed) && in_joint(things), count),
            comes_back,
        }
    });
    let temporaries =
        (0u32..).map(TemporaryId).zip(&procedure.temporaries).map(|(id, temporary)| LedgerLine {
            kind: PlacedKind::Temporary(id),
            id: temporary.naming.id.clone(),
            title: temporary.naming.title.clone(),
            pieces: places(procedure.places(&temporary.axes)),
            off: steps(
                plan,
                |deed, _| matches!(deed, Deed::PutIn(target) if target.id == id),
                |p| p.places.len(),
            ),
            goes: temporary.into.clone().unwrap_or_default(),
            back: steps(
                plan,
                |deed, _| matches!(deed, Deed::TakeOut(target) if target.id == id),
                |p| p.places.len(),
            ),
            comes_back: if temporary.may_stay { "may stay in".to_owned() } else { String::new() },
        });
    parts.chain(sets).chain(temporaries).collect()
}

fn places(count: usize) -> u32 {
    u32::try_from(count).expect("places are few")
}

fn takes(deed: &Deed) -> bool {
    matches!(deed, Deed::Part { work: PartWork::Take, .. })
}

fn fits(deed: &Deed) -> bool {
    matches!(deed, Deed::Part { work: PartWork::Fit, .. })
}

fn loosens(deed: &Deed) -> bool {
    matches!(deed, Deed::Fasten { work: FasteningWork::Undo | FasteningWork::Slacken, .. })
}

fn tightens(deed: &Deed) -> bool {
    matches!(deed, Deed::Fasten { work: FasteningWork::Tighten, .. })
}

fn has(things: &[Placed], kind: PlacedKind) -> bool {
    things.iter().any(|placed| placed.kind == kind)
}

fn id_of(kind: PlacedKind) -> impl Fn(&Placed) -> usize {
    move |placed| if placed.kind == kind { placed.places.len() } else { 0 }
}

/// Steps with an act that `wanted` accepts, each once.
fn steps(
    plan: &Plan,
    wanted: impl Fn(&Deed, &[Placed]) -> bool,
    count: impl Fn(&Placed) -> usize,
) -> Vec<LedgerStep> {
    let mut found: Vec<LedgerStep> = Vec::new();
    for (phase, step) in plan.steps().filter(|(_, step)| step.standing != Standing::Absent && !step.trial) {
        for line in &step.lines {
            let PlannedLine::Act(act) = line else { continue };
            if wanted(&act.act.deed, &act.things) && found.last().is_none_or(|last| last.id != step.id) {
                let places = act.things.iter().map(&count).sum();
                found.push(LedgerStep {
                    phase: phase.phase,
                    id: step.id.clone(),
                    number: step.number,
                    places,
                });
            }
        }
    }
    found
}

fn part_goes(decisions: &Decisions, id: PartId, part: &Part) -> String {
    let rack = if part.worn_in { "rack" } else { "bagged" };
    match verdict(decisions, id, Place(0)) {
        Verdict::Open => format!("{}: to be judged", if part.worn_in { "rack" } else { "kept" }),
        Verdict::Renew { .. } => "kept, to compare".to_owned(),
        Verdict::GoesBack => rack.to_owned(),
        Verdict::CleanAndBack if part.worn_in => "wash, rack".to_owned(),
        Verdict::CleanAndBack => "wash".to_owned(),
        Verdict::Machine { what, .. } => format!("out: {what}"),
        Verdict::Keep => "kept until settled".to_owned(),
        Verdict::LeaveOut(why) => format!("left out: {why}"),
    }
}

fn part_comes_back(decisions: &Decisions, id: PartId) -> String {
    match verdict(decisions, id, Place(0)) {
        Verdict::Renew { .. } => "new".to_owned(),
        Verdict::Machine { .. } => "when accepted".to_owned(),
        Verdict::LeaveOut(_) => "not at all".to_owned(),
        Verdict::Open | Verdict::Keep => "to settle".to_owned(),
        Verdict::GoesBack | Verdict::CleanAndBack => "same".to_owned(),
    }
}

fn set_words(procedure: &Procedure, stays: bool, captive: bool, reuse: Option<&Reuse>) -> (String, String) {
    let goes = if stays {
        "stays in"
    } else if captive {
        "stays with its part"
    } else {
        "bagged"
    };
    let comes_back = match reuse {
        Some(Reuse::Once) => "new".to_owned(),
        Some(Reuse::Unknown) => "to settle".to_owned(),
        Some(Reuse::By(gauge)) => {
            format!("to settle, by {}", words::inner(&procedure.gauge(gauge.id).naming.title))
        }
        Some(Reuse::Reusable) | None => "same".to_owned(),
    };
    (goes.to_owned(), comes_back)
}
