//! `reckon lift`: a mass against the revised NIOSH equation and the shop's own limit.

use clap::{Args, ValueEnum};

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::mechanics::lifting::{self, Grip, Lift, Lifter, Recommended, SetDown, Stretch, System};
use crate::quantity::{Angle, Length, Mass};

/// Who or what should lift a mass
#[derive(Debug, Args)]
pub(super) struct LiftForm {
    /// What it weighs: `38 kg`
    #[arg(long, allow_hyphen_values = true)]
    mass: String,
    /// From the middle between the ankles to the hands, level: `40 cm`
    #[arg(long, allow_hyphen_values = true)]
    reach: String,
    /// Height of the hands above the floor at the start; not stated, 75 cm or 30 in, which is best
    #[arg(long, allow_hyphen_values = true)]
    height: Option<String>,
    /// How far it is moved up or down; not stated, 25 cm or 10 in, which is best
    #[arg(long, allow_hyphen_values = true, conflicts_with = "to_height")]
    travel: Option<String>,
    /// How far the body is twisted; not stated, not at all
    #[arg(long, allow_hyphen_values = true)]
    twist: Option<String>,
    /// Lifts in a minute; not stated, 0.2 or fewer
    #[arg(long, allow_hyphen_values = true)]
    per_minute: Option<String>,
    /// How long lifting goes on; not stated, up to an hour
    #[arg(long, value_enum)]
    hours: Option<Hours>,
    /// How well it can be gripped; not stated, well
    #[arg(long, value_enum)]
    grip: Option<HandHold>,
    /// Reach of the hands where it is set down
    #[arg(long, requires = "to_height", conflicts_with = "travel", allow_hyphen_values = true)]
    to_reach: Option<String>,
    /// Height of the hands where it is set down
    #[arg(long, requires = "to_reach", allow_hyphen_values = true)]
    to_height: Option<String>,
    /// How far the body is twisted where it is set down; not stated, as at the start
    #[arg(long, requires = "to_reach", conflicts_with = "travel", allow_hyphen_values = true)]
    to_twist: Option<String>,
    /// The shop's own limit for one person; it counts where it is lower
    #[arg(long, allow_hyphen_values = true)]
    shop_limit: Option<String>,
}

/// How long lifting goes on, as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Hours {
    /// Up to one hour
    #[value(name = "1")]
    One,
    /// Up to two hours
    #[value(name = "2")]
    Two,
    /// Up to eight hours
    #[value(name = "8")]
    Eight,
}

/// How well it can be gripped, as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum HandHold {
    /// Handles or good hand-holds
    Good,
    /// Hand-holds less than good
    Fair,
    /// Bulky, sharp or without hand-holds
    Poor,
}

impl LiftForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("lift", "Lifting by hand");
        let mass: Given<Mass> = typed::positive("--mass", &self.mass)?;
        answer.given(mass.alone("mass"));
        let (lift, end) = self.lift(&mut answer)?;
        let shop =
            typed::maybe(self.shop_limit.as_ref(), |text| typed::positive::<Mass>("--shop-limit", text))?;
        if let Some(shop) = &shop {
            answer.given(shop.line("the shop's own limit, one person"));
        }
        answer.source(lifting::FREQUENCY_SOURCE);
        answer.source(lifting::COUPLING_SOURCE);
        let start = lifting::recommended(&lift);
        multipliers(lift.system, "", &start, &mut answer);
        let mut found = start;
        if let Some(end) = end {
            let set_down = lifting::recommended_at_end(&lift, &end);
            multipliers(lift.system, "set down: ", &set_down, &mut answer);
            if set_down.weight < start.weight {
                found = set_down;
                answer.finding("setting it down governs: the place it goes to is the worse one");
            }
        } else {
            answer.note(
                "the end of the lift is not reckoned, and where it must be set down with care it often governs: add \
                 `--to-reach` and `--to-height`",
            );
        }
        let advice = lifting::advise(mass.value(), &found, shop.map(|shop| shop.value()));
        let unit = mass.unit();
        let unit = if matches!(unit, "lb") { "lb" } else { "kg" };
        let held = mass.value();
        let limit = |name, most| Line::at_most_for(name, most, unit, 3, held);
        answer.estimate(limit("recommended for one person, at most", found.weight));
        answer.estimate(limit("limit for one person", advice.limits.low));
        answer.estimate(limit("limit for two people", advice.limits.high));
        if advice.lifting_index.is_finite() {
            // Up, so that a mass above the limit never shows the index of one on it.
            let index = (advice.lifting_index * 100.0 - 1e-6).ceil() / 100.0;
            answer.estimate(Line::ratio("lifting index LI = mass/RWL", index, index, 2));
        }
        answer.source(lifting::TWO_PEOPLE_SOURCE);
        answer.finding(match advice.lifter {
            Lifter::OnePerson => "one person may lift it".to_owned(),
            other => format!("lift it with {other}"),
        });
        if advice.shop_decides {
            answer.finding("the shop's own limit is the lower one and decides");
        }
        if found.weight == Mass::ZERO {
            answer.finding("out of the equation's limits: not to be lifted by hand like this");
        }
        let least = |metric, inch| if lift.system == System::Metric { metric } else { inch };
        let counted = [
            (lift.system.counts_as_nearest(lift.reach), "so near a reach", least("25 cm", "10 in")),
            (lift.system.counts_as_nearest(lift.travel.abs()), "so short a way", least("25 cm", "10 in")),
            (lift.per_minute < lifting::FEWEST, "so seldom", "0.2 lifts a minute"),
        ];
        for (_, what, least) in counted.iter().filter(|(counts, ..)| *counts) {
            answer.note(format!("{what} counts as {least}, as the source has it"));
        }
        answer.note("what is assumed is the best case: anything else lowers the limits");
        answer.note("two people together at most two thirds of the sum of their limits (common practice)");
        answer.note("not for one hand, seated or kneeling work, cramped space, unstable loads, carrying or fast lifts");
        Ok(answer)
    }

    /// The lift as understood, with what is assumed, which is the best case, and where it is set down.
    fn lift(&self, answer: &mut Answer) -> Asked<(Lift, Option<SetDown>)> {
        let reach: Given<Length> = typed::positive("--reach", &self.reach)?;
        let system = if matches!(reach.unit(), "in" | "thou") { System::Inch } else { System::Metric };
        answer.given(reach.line("reach of the hands H"));
        let (knuckles, shortest) = match system {
            System::Metric => ("75 cm", "25 cm"),
            System::Inch => ("30 in", "10 in"),
        };
        let mut taken = |option: &str, name: &str, given: Option<&String>, best: &str| -> Asked<Length> {
            let found: Given<Length> = typed::quantity(option, given.map_or(best, |text| text))?;
            answer.given_or(given.is_some(), found.line(name));
            Ok(found.value())
        };
        let height = taken("--height", "height of the hands V", self.height.as_ref(), knuckles)?;
        let (travel, end_at) = match &self.to_height {
            Some(text) => {
                let end = taken("--to-height", "height of the hands, set down", Some(text), "")?;
                ((end - height).abs(), Some(end))
            }
            None => (taken("--travel", "travel D", self.travel.as_ref(), shortest)?, None),
        };
        let mut turned = |option: &str, name: &str, given: Option<&String>| -> Asked<Angle> {
            let found: Given<Angle> = typed::quantity(option, given.map_or("0 deg", |text| text))?;
            answer.given_or(given.is_some(), found.line(name));
            Ok(found.value())
        };
        let twist = turned("--twist", "twist A", self.twist.as_ref())?;
        let end = match (end_at, &self.to_reach) {
            (Some(height), Some(text)) => {
                let end_twist = match &self.to_twist {
                    Some(text) => turned("--to-twist", "twist, set down", Some(text))?,
                    None => twist,
                };
                let reach: Given<Length> = typed::positive("--to-reach", text)?;
                answer.given(reach.line("reach of the hands, set down"));
                if self.to_twist.is_none() {
                    answer.assume(Line::words("twist, set down", "as at the start"));
                }
                Some(SetDown { reach: reach.value(), height, twist: end_twist })
            }
            _ => None,
        };
        let typed_rate = typed::maybe(self.per_minute.as_ref(), |text| typed::ratio("--per-minute", text))?;
        let per_minute = typed_rate.map_or(0.2, |rate| rate.high.fraction());
        answer.given_or(typed_rate.is_some(), Line::stated("lifts in a minute F", per_minute, per_minute, 1));
        let (hours, grip) = (self.hours.unwrap_or(Hours::One), self.grip.unwrap_or(HandHold::Good));
        answer.given_or(self.hours.is_some(), Line::words("hours, up to", possible(hours)));
        answer.given_or(self.grip.is_some(), Line::words("grip", possible(grip)));
        let stretch = match hours {
            Hours::One => Stretch::OneHour,
            Hours::Two => Stretch::TwoHours,
            Hours::Eight => Stretch::EightHours,
        };
        let grip = match grip {
            HandHold::Good => Grip::Good,
            HandHold::Fair => Grip::Fair,
            HandHold::Poor => Grip::Poor,
        };
        let reach = reach.value();
        Ok((Lift { system, reach, height, travel, twist, per_minute, stretch, grip }, end))
    }
}

/// The six multipliers, each with its formula in the form that is used.
fn multipliers(system: System, place: &str, found: &Recommended, answer: &mut Answer) {
    let (load, horizontal, vertical, distance) = match system {
        System::Metric => ("23 kg", "25 cm/H", "1 − 0.003 |V − 75 cm|", "0.82 + 4.5 cm/D"),
        System::Inch => ("51 lb", "10 in/H", "1 − 0.0075 |V − 30 in|", "0.82 + 1.8 in/D"),
    };
    if place.is_empty() {
        answer.formula(&format!("RWL = {load} · HM · VM · DM · AM · FM · CM"), lifting::EQUATION_SOURCE);
    }
    for (name, part) in [
        (format!("horizontal HM = {horizontal}"), found.horizontal),
        (format!("vertical VM = {vertical}"), found.vertical),
        (format!("distance DM = {distance}"), found.distance),
        ("asymmetry AM = 1 − 0.0032 A".to_owned(), found.asymmetry),
        ("frequency FM, by table".to_owned(), found.frequency),
        ("coupling CM, by table".to_owned(), found.coupling),
    ] {
        answer.estimate(Line::ratio(&format!("{place}{name}"), part.fraction(), part.fraction(), 2));
    }
}

/// A choice as it is typed.
fn possible(choice: impl ValueEnum) -> String {
    choice.to_possible_value().map(|value| value.get_name().to_owned()).unwrap_or_default()
}
