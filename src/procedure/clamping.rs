//! A joint of a procedure as the plate on a gasket that `mechanics` computes: its holes, threads, torques and gasket
//! to bolts, loads and orders, with every assumption in words; and the warnings that follow. It is longer than most rooms'
//! files because what is read from a procedure and what is assumed of it belong under one eye.
//!
//! Nothing is assumed of a torque, a thread or a gasket's material; what isn't known comes back as [`NotKnown`].

use std::collections::BTreeMap;
use std::fmt;

use super::errors;
use super::fitted::each_fitted;
use super::model::*;
use super::torques::final_pass;
use super::work_order::{Way, holes, order_of_work, point};
use crate::diagnostics::Diagnostic;
use crate::diagnostics::Mend;
use crate::mechanics::angle::{self, STEEL_MODULUS, Shank};
use crate::mechanics::joint::{self, Bears, Bolt, GasketMaterial, Pass as JointPass, Plate, Risk};
use crate::mechanics::pattern::Point;
use crate::mechanics::torque::{Bearing, Friction, UNSTATED_FRICTION, preload_from};
use crate::mechanics::{Band, Thread, class};
use crate::quantity::{Angle, Force, Length, Quantity, Ratio, stated_figure};
use crate::source::Span;

/// Clamped length assumed where no length is stated, in diameters. Our own estimate, no source; told as an assumption.
const UNSTATED_GRIP: f64 = 4.0;
/// Rounds in which the model undoes what the author undoes bit by bit.
pub(crate) const BIT_BY_BIT: usize = 3;

/// What someone adds to the procedure for one reckoning.
#[derive(Debug, Clone, Default)]
pub(crate) struct Added {
    /// Preload of fasteners whose torque isn't stated.
    pub preload: Option<Force>,
    /// Material of the gasket, and its thickness where it is said.
    pub gasket: Option<(GasketMaterial, Option<Length>)>,
    /// What lies on the gasket, if it bends.
    pub plate: Option<Plate>,
    /// Force of a spring under the part.
    pub spring: Option<Force>,
    /// Passes of sets whose torque the procedure leaves to the shop's own table.
    pub torques: BTreeMap<SetId, Vec<Pass>>,
}

/// What isn't known of a joint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NotKnown {
    /// Where the holes are.
    Holes,
    /// A set's thread, or its values.
    Thread(String),
    /// What a set is tightened to.
    Torque(String),
    /// What the gasket is made of; as the procedure says it, where it says anything.
    Gasket(Option<String>),
}

impl NotKnown {
    /// What makes it known.
    pub(crate) fn mend(&self) -> Mend {
        Mend::Do(match self {
            NotKnown::Holes => "give the joint its `holes`".to_owned(),
            NotKnown::Thread(set) => {
                format!("give `{set}` a `thread` that has values, such as `thread M8x1.25`")
            }
            NotKnown::Torque(_) => {
                "state its torque in the procedure, or add `--preload \"20 kN\"`".to_owned()
            }
            NotKnown::Gasket(_) => format!(
                "add `--gasket` with one of: {}",
                GasketMaterial::ALL.map(GasketMaterial::name).join(", ")
            ),
        })
    }
}

impl fmt::Display for NotKnown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NotKnown::Holes => f.write_str("it doesn't say where the holes of all its fasteners are"),
            NotKnown::Thread(set) => write!(f, "the thread of `{set}` has no values"),
            NotKnown::Torque(set) => write!(f, "no torque of `{set}` is stated"),
            NotKnown::Gasket(Some(words)) => write!(f, "no stiffness is known for a gasket of `{words}`"),
            NotKnown::Gasket(None) => f.write_str("it doesn't say what its gasket is made of"),
        }
    }
}

/// A joint ready to be computed.
#[derive(Debug, Clone)]
pub(crate) struct Clamping {
    /// With the preloads at the greatest friction: the least.
    pub light: joint::Joint,
    /// With the preloads at the least friction: the greatest.
    pub heavy: joint::Joint,
    /// Letters of the holes, as the bolts stand.
    pub letters: Vec<String>,
    /// Order of release.
    pub release: Vec<usize>,
    /// In how many rounds the procedure undoes it: 1 is in one go.
    pub rounds: usize,
    /// Passes of tightening, larger sizes first.
    pub passes: Vec<JointPass>,
    /// Fasteners that are tightened by torque alone and serve again.
    pub by_torque: Vec<usize>,
    /// The step that undoes it under a hazard of a spring.
    pub spring_step: Option<StepId>,
    /// What was assumed besides the model itself.
    pub assumed: Vec<String>,
}

/// A joint of the procedure as a plate on a gasket.
///
/// # Errors
/// Something that the model needs isn't known.
pub(crate) fn clamping(procedure: &Procedure, id: JointId, added: &Added) -> Result<Clamping, NotKnown> {
    let joint = procedure.joint(id);
    let places = holes(procedure, joint);
    if places.is_empty() || joint.members.iter().any(|member| member.holes.is_empty()) {
        return Err(NotKnown::Holes);
    }
    let mut assumed = Vec::new();
    let members: Vec<Sized> = joint
        .members
        .iter()
        .map(|member| sized(procedure, joint, member, added, &mut assumed))
        .collect::<Result<_, _>>()?;
    let bolts = |preload: fn(&Sized) -> Force| -> Vec<Bolt> {
        let bolt = |hole: &Hole, member: &Sized| Bolt {
            at: point(hole),
            diameter: member.thread.diameter(),
            stiffness: member.stiffness,
            load: preload(member),
            bears: member.bears,
        };
        places.iter().map(|(hole, _, size)| bolt(hole, &members[*size])).collect()
    };
    let (material, thickness) = gasket(procedure, joint, added, &mut assumed)?;
    let largest = members.iter().map(|member| member.thread.diameter()).fold(Length::ZERO, Length::max);
    let points: Vec<Point> = places.iter().map(|(hole, _, _)| point(hole)).collect();
    let light = joint::Joint {
        bolts: bolts(|member| member.preload.low),
        margin: largest,
        material,
        thickness,
        plate: added.plate.unwrap_or(Plate::Rigid),
        springs: added.spring.map(|force| (Point::middle(&points), force)).into_iter().collect(),
    };
    let heavy = joint::Joint { bolts: bolts(|member| member.preload.high), ..light.clone() };
    let undone = undoing(procedure, id);
    let (release, _) = order_of_work(procedure, joint, Way::Release);
    let (tighten, _) = order_of_work(procedure, joint, Way::Tighten);
    Ok(Clamping {
        light,
        heavy,
        letters: places.iter().map(|(hole, _, _)| hole.letter.clone()).collect(),
        release,
        rounds: undone.rounds,
        passes: passes(joint, &places, &members, &tighten),
        by_torque: (0..places.len()).filter(|place| members[places[*place].2].by_torque).collect(),
        spring_step: undone.spring.map(|(step, _)| step),
        assumed,
    })
}

/// One set of the joint as springs.
struct Sized {
    thread: Thread,
    stiffness: crate::quantity::Stiffness,
    preload: Band<Force>,
    bears: Option<Bears>,
    /// Shares of the full load, pass by pass.
    shares: Vec<Ratio>,
    by_torque: bool,
}

fn sized(
    procedure: &Procedure,
    joint: &Joint,
    member: &Member,
    added: &Added,
    assumed: &mut Vec<String>,
) -> Result<Sized, NotKnown> {
    let set = procedure.set(member.set.id);
    let name = &set.naming.id;
    let thread = set.thread().ok_or_else(|| NotKnown::Thread(name.clone()))?;
    let strength = set.strength();
    let grip = grip(set, &thread);
    if grip.is_none() {
        assumed.push(format!("`{name}`: no length is stated; a clamped length of {UNSTATED_GRIP} diameters"));
    }
    let grip = grip.unwrap_or(thread.diameter() * UNSTATED_GRIP);
    let stiffness = angle::bolt_stiffness(&thread, Shank::threaded(grip), STEEL_MODULUS);
    let stated = match procedure.tightening(member.set.id).only().map(|stated| &stated.value) {
        Some(Tightening::Passes(passes)) => Some(passes),
        Some(Tightening::ByFeel | Tightening::Unknown) => None,
        Some(Tightening::General) | None => added.torques.get(&member.set.id),
    };
    let stated = stated.and_then(|passes| Some((passes, final_pass(passes)?)));
    let Some((passes, (torque, turned))) = stated else {
        let preload = added.preload.ok_or_else(|| NotKnown::Torque(name.clone()))?;
        return Ok(Sized {
            thread,
            stiffness,
            preload: Band::exactly(preload),
            bears: strength.map(|strength| Bears::of(&thread, &strength)),
            shares: vec![Ratio::from_percent(100.0)],
            by_torque: true,
        });
    };
    let stated = set.friction.as_ref().or(joint.friction.as_ref());
    let friction = stated.map_or(UNSTATED_FRICTION, |stated| {
        Band::between(Ratio::from_fraction(stated.value.0), Ratio::from_fraction(stated.value.1))
    });
    let [low, high] = [friction.low, friction.high].map(|end| stated_figure(end.fraction(), 2));
    assumed.push(
        match stated.map(|stated| stated.origin.as_deref().unwrap_or("a source that is not stated")) {
            Some(origin) => format!("`{name}`: friction {low} to {high}, from {origin}"),
            None => format!("`{name}`: no friction is stated; from {low} to {high}"),
        },
    );
    let at = |torque, mu| preload_from(&thread, torque, Friction::everywhere(mu), Bearing::hexagon(&thread));
    let members = angle::member_stiffness(thread.diameter(), grip, STEEL_MODULUS);
    let gain = angle::elastic_gain(thread.pitch(), turned, angle::in_row(stiffness, members));
    // No bolt holds more than its yield load for long.
    let capped =
        |force: Force| strength.map_or(force, |strength| force.min(class::yield_load(&thread, &strength)));
    let preload = Band {
        low: capped(at(torque.low, friction.high) + gain),
        high: capped(at(torque.high, friction.low) + gain),
    };
    Ok(Sized {
        thread,
        stiffness,
        preload,
        bears: strength.map(|strength| Bears::of(&thread, &strength)),
        shares: shares(passes),
        by_torque: turned == Angle::ZERO && set.reuse.values().all(|reuse| reuse.value != Reuse::Once),
    })
}

/// Clamped length of a bolt: its length less one diameter that engages.
fn grip(set: &FastenerSet, thread: &Thread) -> Option<Length> {
    let long = |length: &Quantity| Length::try_from(*length).ok();
    let lengths: Vec<Length> = match &set.lengths.only()?.value {
        Lengths::Unknown => return None,
        Lengths::One(length) => vec![long(length)?],
        Lengths::ByHole(lengths) => lengths.iter().map(|(_, length)| long(length)).collect::<Option<_>>()?,
    };
    let shortest = lengths.into_iter().reduce(Length::min)?;
    let engaged = set.engagement.and_then(|depth| Length::try_from(depth).ok()).unwrap_or(thread.diameter());
    Some((shortest - engaged).max(thread.diameter() * 0.5))
}

/// Share of the final torque at each pass of torque; an angle after it belongs to the last.
fn shares(passes: &[Pass]) -> Vec<Ratio> {
    let torques: Vec<f64> = passes
        .iter()
        .filter_map(|pass| match pass {
            Pass::Torque(low, high) => Some(high.unwrap_or(*low).base()),
            Pass::Angle(..) => None,
        })
        .collect();
    let last = torques.last().copied().unwrap_or(1.0);
    torques.iter().map(|torque| Ratio::from_fraction(torque / last)).collect()
}

fn gasket(
    procedure: &Procedure,
    joint: &Joint,
    added: &Added,
    assumed: &mut Vec<String>,
) -> Result<(GasketMaterial, Option<Length>), NotKnown> {
    if let Some(gasket) = added.gasket {
        return Ok(gasket);
    }
    if let Some((words, thickness)) = &joint.gasket {
        let material = GasketMaterial::named(words).ok_or_else(|| NotKnown::Gasket(Some(words.clone())))?;
        let thickness = thickness.and_then(|thickness| Length::try_from(thickness).ok());
        return Ok((material, thickness.filter(|thickness| *thickness > Length::ZERO)));
    }
    let seals = |part: &Target<PartId>| {
        procedure.parts.iter().flat_map(|sealed| &sealed.sealed_by).any(|seal| seal.id == part.id)
    };
    if joint.clamps.iter().any(seals) {
        return Err(NotKnown::Gasket(None));
    }
    assumed.push("no gasket is declared: metal on metal, as stiff as steel".to_owned());
    Ok((GasketMaterial::Steel, None))
}

/// Passes as lists of acts: all passes of a larger size before the first of a smaller, unless pass by pass.
fn passes(
    joint: &Joint,
    places: &[(&Hole, &FastenerSet, usize)],
    members: &[Sized],
    order: &[usize],
) -> Vec<JointPass> {
    let round = |which: &dyn Fn(usize) -> bool, round: usize| -> JointPass {
        let share = |place: usize| members[places[place].2].shares.get(round).copied();
        order
            .iter()
            .filter(|place| which(**place))
            .filter_map(|place| Some((*place, share(*place)?)))
            .collect()
    };
    let rounds = members.iter().map(|member| member.shares.len()).max().unwrap_or(0);
    let mut sizes: Vec<Length> = Vec::new();
    for place in order {
        let size = members[places[*place].2].thread.diameter();
        if !sizes.contains(&size) {
            sizes.push(size);
        }
    }
    // An author's sequence that mixes sizes is worked as it stands.
    let mixed = joint.pass_by_pass || joint.tighten_sequence.is_some();
    let groups: Vec<Option<Length>> = if mixed { vec![None] } else { sizes.into_iter().map(Some).collect() };
    let mut found = Vec::new();
    for group in groups {
        let which =
            |place: usize| group.is_none_or(|size| members[places[place].2].thread.diameter() == size);
        found.extend((0..rounds).map(|number| round(&which, number)).filter(|pass| !pass.is_empty()));
    }
    found
}

/// How the procedure undoes a joint.
pub(super) struct Undoing {
    /// In how many rounds.
    pub rounds: usize,
    /// The step that undoes it under a hazard of a spring, with the hazard.
    pub spring: Option<(StepId, HazardId)>,
    /// The act that undoes it.
    pub act: Option<Span>,
}

/// Whether the procedure undoes the joint bit by bit.
pub(crate) fn undone_in_rounds(procedure: &Procedure, id: JointId) -> bool {
    undoing(procedure, id).rounds >= BIT_BY_BIT
}

/// Looks through the strip for what slackens and undoes the joint or its sets.
pub(super) fn undoing(procedure: &Procedure, id: JointId) -> Undoing {
    let joint = procedure.joint(id);
    let mut found = Undoing { rounds: 1, spring: None, act: None };
    let meant = |what: &Fastening| match what {
        Fastening::Joint(target) => target.id == id,
        Fastening::Set(target) => joint.members.iter().any(|member| member.set.id == target.id),
    };
    for (index, step) in procedure.steps.iter().enumerate() {
        if step.phase != Phase::Strip {
            continue;
        }
        let mut spring = None;
        for line in &step.lines {
            let act = match line {
                StepLine::Hazard(hazard, _) => {
                    if procedure.hazard(hazard.what).kind == HazardKind::Spring {
                        spring = Some(hazard.what);
                    }
                    continue;
                }
                StepLine::Hold(..) => continue,
                StepLine::Act(act) => act,
            };
            let Deed::Fasten { work, what, bit_by_bit, .. } = &act.deed else { continue };
            if !what.iter().any(meant) {
                continue;
            }
            match work {
                FasteningWork::Slacken => found.rounds = found.rounds.max(2),
                FasteningWork::Undo => {
                    found.act = found.act.or(Some(act.span));
                    if *bit_by_bit {
                        found.rounds = found.rounds.max(BIT_BY_BIT);
                    }
                    let step = StepId(u32::try_from(index).expect("as many as were declared"));
                    found.spring = found.spring.or(spring.map(|hazard| (step, hazard)));
                }
                _ => {}
            }
        }
    }
    found
}

/// Joints with more holes than this are not computed while checking: it would make checking slow.
pub(super) const MOST_HOLES: usize = 64;

/// What a release comes to, as the procedure does it; an estimate.
#[derive(Debug, Clone)]
pub(crate) struct ReleaseRisk {
    /// Greatest share of a proof load at the greatest friction, where one is known.
    pub peak_proof: Option<Ratio>,
    /// Whether three rounds would lower the greatest load.
    pub rounds_help: bool,
}

/// Rounds by less than this share of the first load don't help.
const LOWERED: f64 = 0.05;

/// Computes the release of a joint as the procedure does it. None where something isn't known, the joint has very
/// many holes, or no equilibrium; and none where the whole span of friction doesn't agree that the risk is at least
/// this, which spares most joints most of the work.
pub(crate) fn release_risk(
    procedure: &Procedure,
    id: JointId,
    added: &Added,
    at_least: Risk,
) -> Option<ReleaseRisk> {
    let holes: usize = procedure.joint(id).members.iter().map(|member| member.holes.len()).sum();
    if !(3..=MOST_HOLES).contains(&holes) {
        return None;
    }
    let clamped = clamping(procedure, id, added).ok()?;
    // Both lie alike: what differs is how hard their fasteners pull.
    let ground = joint::Ground::of(&clamped.light);
    let course =
        |joint: &joint::Joint, rounds| joint::course_in_rounds(joint, &ground, &clamped.release, rounds).ok();
    let as_bad = |course: &joint::Course| course.risk >= at_least;
    let light = course(&clamped.light, clamped.rounds).filter(as_bad)?;
    let heavy = course(&clamped.heavy, clamped.rounds).filter(as_bad)?;
    let eased = course(&clamped.heavy, clamped.rounds.max(BIT_BY_BIT)).map_or(heavy.peak, |eased| eased.peak);
    Some(ReleaseRisk { peak_proof: light.peak_proof, rounds_help: eased < heavy.peak - LOWERED })
}

/// Warns where a fastener would pass its proof load while the others come out, and where a spring is let go at once.
/// Without a stated friction it warns only if the whole span agrees.
pub(super) fn release_warnings(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut complaints = Vec::new();
    for id in procedure.joints.ids() {
        let engines = each_fitted(procedure, id);
        // What holds of some engines is told once.
        complaints.extend(engines.iter().find_map(|procedure| spring_warning(procedure, id)));
        complaints.extend(engines.iter().find_map(|procedure| proof_warning(procedure, id)));
    }
    complaints
}

fn spring_warning(procedure: &Procedure, id: JointId) -> Option<Diagnostic> {
    let joint = procedure.joint(id);
    let undone = undoing(procedure, id);
    let pieces = joint.members.iter().map(|member| procedure.set(member.set.id).count.at_a_place().most());
    let several = pieces.sum::<u32>() > 1;
    match (undone.spring, undone.act, undone.rounds, several) {
        (Some((_, hazard)), Some(act), 1, true) => {
            Some(errors::spring_in_one_go(joint, act, procedure.hazard(hazard)))
        }
        _ => None,
    }
}

fn proof_warning(procedure: &Procedure, id: JointId) -> Option<Diagnostic> {
    let found = release_risk(procedure, id, &Added::default(), Risk::BeyondProof)?;
    let (share, act) = (found.peak_proof?.fraction(), undoing(procedure, id).act);
    Some(errors::release_beyond_proof(procedure.joint(id), act, share, found.rounds_help))
}
