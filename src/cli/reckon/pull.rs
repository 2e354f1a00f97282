//! `reckon pull`: a pull at a radius as a torque, and the pull for a torque, such as preload of bearings by string.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::mechanics::turning;
use crate::quantity::{Force, Length, Torque};

/// Torque of a pull at a radius, or the pull for a torque
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("asked").required(true).args(["pull", "torque"]))]
pub(super) struct PullForm {
    /// Pull on the string or the lever: `18 N`, or its range
    #[arg(long, allow_hyphen_values = true)]
    pull: Option<String>,
    /// Torque wanted, or its range
    #[arg(long, allow_hyphen_values = true)]
    torque: Option<String>,
    /// Radius at which it pulls, square to it
    #[arg(long, allow_hyphen_values = true)]
    radius: String,
}

impl PullForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("pull", "Pull and torque");
        let radius: Given<Length> = typed::positive("--radius", &self.radius)?;
        answer.given(radius.line("radius r"));
        answer.formula("T = F · r", turning::PULL_SOURCE);
        if let Some(text) = &self.pull {
            let pull: Given<Force> = typed::range("--pull", text)?;
            answer.given(pull.line("pull F"));
            let torque = turning::torque_of(pull.band, radius.value());
            answer.estimate(Line::result("torque T", torque, "N.m", 3));
        }
        if let Some(text) = &self.torque {
            let torque: Given<Torque> = typed::range("--torque", text)?;
            answer.given(torque.line("torque T"));
            let pull = torque
                .band
                .map(|torque| Force::from_newtons(torque.newton_metres() / radius.value().metres()));
            answer.estimate(Line::result("pull F", pull, "N", 3));
        }
        answer.note("pulled square to the radius, and read while it turns steadily, not as it starts");
        Ok(answer)
    }
}
