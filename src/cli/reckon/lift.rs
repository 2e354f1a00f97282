//! `reckon lift`: a mass against the revised NIOSH equation and the shop's own limit.

use clap::{Args, ValueEnum};

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::mechanics::Band;
use crate::mechanics::lifting::{self, Grip, Lift, Lifter, Stretch};
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
    /// Height of the hands above the floor at the start
    #[arg(long, default_value = "75 cm", allow_hyphen_values = true)]
    height: String,
    /// How far it is moved up or down
    #[arg(long, default_value = "25 cm", allow_hyphen_values = true)]
    travel: String,
    /// How far the body is twisted
    #[arg(long, default_value = "0 deg", allow_hyphen_values = true)]
    twist: String,
    /// Lifts in a minute
    #[arg(long, default_value = "0.2", allow_hyphen_values = true)]
    per_minute: String,
    /// How long lifting goes on
    #[arg(long, value_enum, default_value_t = Hours::One)]
    hours: Hours,
    /// How well it can be gripped
    #[arg(long, value_enum, default_value_t = HandHold::Good)]
    grip: HandHold,
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
        let mass: Given<Mass> = typed::positive("--mass", &self.mass)?;
        let reach: Given<Length> = typed::positive("--reach", &self.reach)?;
        let height: Given<Length> = typed::quantity("--height", &self.height)?;
        let travel: Given<Length> = typed::quantity("--travel", &self.travel)?;
        let twist: Given<Angle> = typed::quantity("--twist", &self.twist)?;
        let per_minute = typed::ratio("--per-minute", &self.per_minute)?.high.fraction();
        let lift = Lift {
            reach: reach.value(),
            height: height.value(),
            travel: travel.value(),
            twist: twist.value(),
            per_minute,
            stretch: match self.hours {
                Hours::One => Stretch::OneHour,
                Hours::Two => Stretch::TwoHours,
                Hours::Eight => Stretch::EightHours,
            },
            grip: match self.grip {
                HandHold::Good => Grip::Good,
                HandHold::Fair => Grip::Fair,
                HandHold::Poor => Grip::Poor,
            },
        };
        let mut answer = Answer::new("lift", "Lifting by hand");
        answer.given(mass.line("mass"));
        answer.given(reach.line("reach of the hands H"));
        answer.given(height.line("height of the hands V"));
        answer.given(travel.line("travel D"));
        answer.given(twist.line("twist A"));
        answer.given(Line::ratio("lifts in a minute F", per_minute, per_minute, 1));
        let (hours, grip) = (possible(self.hours), possible(self.grip));
        answer.given(Line::words("hours, up to", hours));
        answer.given(Line::words("grip", grip));
        let shop =
            typed::maybe(self.shop_limit.as_ref(), |text| typed::positive::<Mass>("--shop-limit", text))?;
        if let Some(shop) = &shop {
            answer.given(shop.line("the shop's own limit, one person"));
        }
        answer.formula("RWL = 23 kg · HM · VM · DM · AM · FM · CM", lifting::EQUATION_SOURCE);
        answer.source(lifting::FREQUENCY_SOURCE);
        answer.source(lifting::COUPLING_SOURCE);
        let found = lifting::recommended(&lift);
        for (name, part) in [
            ("horizontal HM = 25 cm/H", found.horizontal),
            ("vertical VM = 1 − 0.003 |V − 75 cm|", found.vertical),
            ("distance DM = 0.82 + 4.5 cm/D", found.distance),
            ("asymmetry AM = 1 − 0.0032 A", found.asymmetry),
            ("frequency FM, by table", found.frequency),
            ("coupling CM, by table", found.coupling),
        ] {
            answer.estimate(Line::ratio(name, part.fraction(), part.fraction(), 2));
        }
        let advice = lifting::advise(mass.value(), &found, shop.map(|shop| shop.value()));
        answer.estimate(Line::result("recommended for one person", Band::exactly(found.weight), "kg", 2));
        answer.estimate(Line::result("limit for one and for two people", advice.limits, "kg", 2));
        if advice.lifting_index.is_finite() {
            let index = advice.lifting_index;
            answer.estimate(Line::ratio("lifting index LI = mass/RWL", index, index, 1));
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
        answer.note("two people together at most two thirds of the sum of their limits (common practice)");
        answer.note("not for one hand, seated or kneeling work, cramped space, unstable loads, carrying or fast lifts");
        Ok(answer)
    }
}

/// A choice as it is typed.
fn possible(choice: impl ValueEnum) -> String {
    choice.to_possible_value().map(|value| value.get_name().to_owned()).unwrap_or_default()
}
