//! What machining and renewal change elsewhere: a reading as found counts no longer once something that it rests on was
//! machined or renewed, and is asked for anew. What it rests on, the procedure declares; see `resting`.

use super::book::{Book, Superseded};
use super::{Change, Decisions, Hold, Verdict};
use crate::procedure::model::{
    Act, Condition, Deed, GaugeId, LookId, PartCondition, PartId, Phase, Place, Step,
};
use crate::record::Occasion;
use crate::structure::PartAt;

/// What happens to a part so that it is no longer as it was found: by its verdict, or because the record sends it out.
pub(super) fn change(book: &Book, decisions: &Decisions, part: PartId, place: Place) -> Option<Change> {
    match decisions.fates.get(&(part, place)).map(|decision| &decision.verdict) {
        Some(Verdict::Renew { .. }) => Some(Change::Renewed(part, place)),
        Some(Verdict::Machine { .. }) => Some(Change::Machined(part, place)),
        Some(Verdict::LeaveOut(_)) => None,
        _ if book.job.sent.contains_key(&(part, place)) => Some(Change::SentOut(part, place)),
        _ => None,
    }
}

/// What takes its value from a reading as found: the nearest thing that it rests on and that is machined or sent out,
/// else a new one of what it measures. Not `except`, of which something else is said.
pub(super) fn spoilt(
    book: &Book,
    decisions: &Decisions,
    (id, place): (GaugeId, Place),
    except: Option<PartAt>,
) -> Option<Change> {
    let rest = book.resting.on(id, place)?;
    let changes = |pieces: &[PartAt]| -> Vec<Change> {
        let pieces = pieces.iter().filter(|piece| Some(**piece) != except);
        pieces.filter_map(|(part, place)| change(book, decisions, *part, *place)).collect()
    };
    let (measured, seat) = (changes(&rest.measured), changes(&rest.seat));
    let machined = measured.iter().chain(&seat).find(|change| !matches!(change, Change::Renewed(..)));
    machined.or(measured.first()).copied()
}

/// What has taken its value from each reading as found, by what is decided so far.
pub(super) fn superseded(book: &Book, decisions: &Decisions) -> Superseded {
    let spoilt = |at| spoilt(book, decisions, at, None).map(|change| (at, change.piece()));
    book.procedure.everywhere().filter_map(spoilt).collect()
}

/// Whether a gauge was read in full after it was machined or renewed.
pub(super) fn read_since(book: &Book, id: GaugeId, place: Place) -> bool {
    [Occasion::AsReturned, Occasion::AsBuilt].into_iter().any(|later| book.grid(id, place, later).is_ok())
}

/// The readings to be taken anew before the building for what a gauge shows, with what makes it necessary; those that a
/// change of `part` itself asks for, its own acceptance asks for.
pub(super) fn to_read_again(
    book: &Book,
    decisions: &Decisions,
    (id, place): (GaugeId, Place),
    part: PartAt,
) -> Vec<Hold> {
    let missing =
        |(input, at): &(GaugeId, Place)| !reads_in_building(book, *input) && !read_since(book, *input, *at);
    let inputs = book.inputs(id, place).into_iter().filter(missing);
    let again = inputs.filter_map(|(input, at)| {
        spoilt(book, decisions, (input, at), Some(part)).map(|change| Hold::ReadAgain(input, at, change))
    });
    again.collect()
}

/// When a reading is taken anew.
pub(super) fn again_on(book: &Book, id: GaugeId, change: Change) -> Occasion {
    match change {
        Change::Renewed(..) => Occasion::AsBuilt,
        _ if reads_in_building(book, id) => Occasion::AsBuilt,
        _ => Occasion::AsReturned,
    }
}

/// Whether a gauge, or one that it is computed from, is read only while the engine is built: what the building shows
/// can't be asked for before it, and the step that reads it holds what comes after.
pub(super) fn comes_later(book: &Book, id: GaugeId, place: Place) -> bool {
    book.inputs(id, place).into_iter().any(|(id, _)| reads_in_building(book, id))
}

/// Whether a gauge is read while the engine is built: a step of the building reads it, or it needs its part fitted and
/// nothing in the survey fits it on trial.
pub(super) fn reads_in_building(book: &Book, id: GaugeId) -> bool {
    let procedure = book.procedure;
    let gauge = procedure.gauge(id);
    let needs_it_fitted = gauge.needs.iter().any(|need| match &need.what {
        Condition::Part(target, PartCondition::Fitted) => {
            gauge.of.as_ref().is_some_and(|of| of.id == target.id)
        }
        _ => false,
    });
    let read =
        |act: &Act| matches!(&act.deed, Deed::Gauge(targets) if targets.iter().any(|target| target.id == id));
    let building = procedure.steps.iter().filter(|step| matches!(step.phase, Phase::Build | Phase::Start));
    let read_in_step = building.flat_map(Step::acts).any(read);
    let then =
        procedure.sets.iter().map(|set| &set.then).chain(procedure.joints.iter().map(|joint| &joint.then));
    let fitted = gauge.taken_off == Some(false) || needs_it_fitted;
    read_in_step || then.flatten().any(read) || fitted && !book.resting.surveyed(id)
}

/// Whether a look belongs to the building and to nothing before it.
pub(super) fn looked_at_in_building(book: &Book, id: LookId) -> bool {
    let looks = |step: &&Step| {
        step.acts().any(
            |act| matches!(&act.deed, Deed::Look(targets) if targets.iter().any(|target| target.id == id)),
        )
    };
    let building = |step: &Step| matches!(step.phase, Phase::Build | Phase::Start);
    let mut steps = book.procedure.steps.iter().filter(looks).peekable();
    steps.peek().is_some() && steps.all(building)
}
