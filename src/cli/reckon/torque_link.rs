//! How torque and preload of a bolt hang together over the span of their friction, and what a preload passes: proof, yield,
//! breaking.

use super::answer::{Answer, Line};
use crate::mechanics::torque::{self, Bearing, Friction};
use crate::mechanics::{Band, Class, Strength, Thread, class};
use crate::quantity::{Bound, Force, Ratio, Torque, limit_figure};

/// How torque and preload hang together, from the easiest turning to the hardest.
pub(super) enum Link {
    Long { friction: Band<Ratio>, head: Option<Band<Ratio>>, bearing: Bearing },
    Short(Band<Ratio>),
}

impl Link {
    pub(super) fn torque(&self, thread: &Thread, preload: Band<Force>) -> Band<Torque> {
        let at = |hard: bool, preload: Force| match self {
            Link::Long { bearing, .. } => torque::torque_for(thread, preload, self.friction(hard), *bearing),
            Link::Short(k) => torque::torque_by_nut_factor(thread, preload, end(*k, hard)),
        };
        Band { low: at(false, preload.low), high: at(true, preload.high) }
    }

    pub(super) fn preload(&self, thread: &Thread, applied: Band<Torque>) -> Band<Force> {
        let at = |hard: bool, applied: Torque| match self {
            Link::Long { bearing, .. } => {
                torque::preload_from(thread, applied, self.friction(hard), *bearing)
            }
            Link::Short(k) => torque::preload_by_nut_factor(thread, applied, end(*k, hard)),
        };
        Band { low: at(true, applied.low), high: at(false, applied.high) }
    }

    pub(super) fn friction(&self, hard: bool) -> Friction {
        match self {
            Link::Long { friction, head, .. } => {
                Friction { thread: end(*friction, hard), head: end(head.unwrap_or(*friction), hard) }
            }
            Link::Short(k) => Friction::everywhere(end(*k, hard)),
        }
    }
}

fn end(band: Band<Ratio>, hard: bool) -> Ratio {
    if hard { band.high } else { band.low }
}

/// What a torque that is right for hard turning brings where it turns easily.
pub(super) fn overshoot(thread: &Thread, link: &Link, torque: Torque, answer: &mut Answer) -> Force {
    let slick = link.preload(thread, Band::exactly(torque)).high;
    answer.estimate(Line::result("preload from that where it is slick", Band::exactly(slick), "kN", 3));
    slick
}

/// The proof load, and what shares of it the preloads are.
pub(super) fn shares(
    thread: &Thread,
    preload: Band<Force>,
    strength: Option<(Class, Strength)>,
    answer: &mut Answer,
) {
    let Some((_, strength)) = strength else { return };
    let proof = class::proof_load(thread, &strength);
    answer.estimate(Line::result("proof load", Band::exactly(proof), "kN", 3));
    answer.estimate(Line::ratio("share of the proof load", preload.low / proof, preload.high / proof, 2));
}

/// What preloads pass, each at the easy or the hard end of the friction: breaking, yield or proof. Said on every way into
/// a torque, for the worst that is passed, and whether both ends agree.
pub(super) fn beyond(
    thread: &Thread,
    link: &Link,
    loads: [(Force, bool); 2],
    strength: Option<(Class, Strength)>,
    answer: &mut Answer,
) {
    let Some((_, strength)) = strength else {
        answer.note("no class was given, so whether the bolt bears it is not reckoned: add `--class`");
        return;
    };
    let twisted = |hard: bool| match link {
        // By the nut factor the twist isn't known apart, so only pull is compared.
        Link::Short(_) => class::yield_load(thread, &strength),
        Link::Long { bearing, .. } => {
            let whole = Ratio::from_percent(100.0);
            torque::at_share_of_yield(thread, &strength, link.friction(hard), *bearing, whole).preload
        }
    };
    let breaking = |_| class::ultimate_load(thread, &strength);
    let proof = |_| class::proof_load(thread, &strength);
    let twist = if matches!(link, Link::Long { .. }) { " under pull and twist" } else { "" };
    let limits: [(&dyn Fn(bool) -> Force, String); 3] = [
        (&breaking, "the load at which the weakest bolt of the class breaks".to_owned()),
        (&twisted, format!("the load at which the weakest bolt of the class yields{twist}")),
        (&proof, "the proof load".to_owned()),
    ];
    for (limit, what) in limits {
        let passed: Vec<Force> =
            loads.iter().filter(|(load, hard)| *load > limit(*hard)).map(|(_, hard)| limit(*hard)).collect();
        let Some(least) = passed.iter().copied().reduce(Force::min) else { continue };
        let verb = if passed.len() == loads.len() { "passes" } else { "may pass" };
        let kilonewtons = limit_figure(least.kilonewtons(), 1, Bound::Most);
        answer.finding(format!("the preload {verb} {what}, {kilonewtons} kN: it is not to be set"));
        return;
    }
}
