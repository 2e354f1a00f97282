//! Turning by hand in words: which way, how far, until which cylinder stands where.

use crate::english::spaced;
use crate::plan::PlannedAct;
use crate::plan::PlannedStep;
use crate::procedure::model::{CylinderAt, DeadCentre, Deed, Procedure, Rotation, TurnDirection};
use crate::quantity::{Quantity, Unit};

/// What is told of a turn: `Turn the crankshaft clockwise, seen from the front, 120°, until cylinder 2 is at bottom dead
/// centre.`
pub(super) fn instruction(procedure: &Procedure, step: &PlannedStep, planned: &PlannedAct) -> String {
    let Deed::TurnByHand { direction, angle, to } = &planned.act.deed else { return String::new() };
    let whole = turned(procedure);
    match (to, angle) {
        (Some(to), _) => until(procedure, step, *direction, planned.turned, to),
        (None, Some(angle)) => format!("Turn the {whole} by hand {}, {}.", way(*direction), turns(*angle)),
        (None, None) => format!("Turn the {whole} by hand {}.", way(*direction)),
    }
}

/// What is turned: of an engine the engine, with all that moves in it; of another machine the part that it says is.
fn turned(procedure: &Procedure) -> String {
    let part = procedure.parts.iter().find(|part| part.turned_by_hand).filter(|_| !procedure.fires());
    part.map_or_else(|| procedure.whole().to_owned(), |part| crate::plan::words::inner(&part.naming.title))
}

fn until(
    procedure: &Procedure,
    step: &PlannedStep,
    direction: TurnDirection,
    angle: Option<Quantity>,
    to: &CylinderAt,
) -> String {
    let way = match (direction, procedure.family.as_ref().and_then(|family| family.turns)) {
        // Said as it is seen, so that nobody has to know which way the engine runs.
        (direction, Some((rotation, from))) => {
            let clockwise = match direction {
                TurnDirection::AsItRuns => rotation == Rotation::Clockwise,
                TurnDirection::Clockwise => true,
                TurnDirection::Anticlockwise => false,
            };
            let from = procedure.end_name(from);
            format!("{}, seen from the {from}", if clockwise { "clockwise" } else { "anticlockwise" })
        }
        (direction, None) => way(direction).to_owned(),
    };
    let axis = procedure.axis(to.axis);
    let position = procedure.cylinder(to, &step.binding).map(usize::from);
    let position = position.and_then(|at| axis.positions.get(at)).map_or("", String::as_str);
    let title = crate::plan::words::inner(&axis.naming.title);
    let numbered = position.chars().all(|c| c.is_ascii_digit());
    let cylinder =
        if numbered { format!("{title} {position}") } else { format!("the {} {title}", spaced(position)) };
    let stands = match to.dead_centre {
        DeadCentre::Bottom => "at bottom dead centre",
        DeadCentre::Top => "at top dead centre",
        DeadCentre::Firing => "at top dead centre, firing: both valves shut",
        DeadCentre::Overlap => "at top dead centre, overlapping: exhaust closing, inlet opening",
    };
    match angle {
        Some(angle) if angle.base() == 0.0 => format!(
            "{} is {stands} already: see that it is, or turn the crankshaft {way}, until it is.",
            crate::plan::words::capital(&cylinder)
        ),
        Some(angle) => {
            format!("Turn the crankshaft {way}, by {}, until {cylinder} is {stands}.", turns(angle))
        }
        None => format!("Turn the crankshaft {way}, until {cylinder} is {stands}."),
    }
}

fn way(direction: TurnDirection) -> &'static str {
    match direction {
        TurnDirection::Clockwise => "clockwise",
        TurnDirection::Anticlockwise => "anticlockwise",
        TurnDirection::AsItRuns => "the way it runs",
    }
}

/// An angle in degrees with whole turns beside it.
fn turns(angle: Quantity) -> String {
    let whole = angle.base() / std::f64::consts::TAU;
    let degrees = match Unit::find("deg") {
        Some(unit) if angle.unit().symbol == "turn" => Quantity::from_base(angle.base(), unit, 0),
        _ => angle,
    };
    if whole >= 0.999 && (whole - whole.round()).abs() < 1e-9 {
        let word = if whole.round() == 1.0 { "turn" } else { "turns" };
        return format!("{} {word} ({})", whole.round(), degrees.printed());
    }
    degrees.printed()
}
