//! `reckon stretch`: how far a bolt stretches, what a stretch says of its load, and what it has kept for good.

use clap::Args;

use super::answer::{Answer, Line};
use super::judged;
use super::thread::words;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::angle::{self, STEEL_MODULUS, Shank};
use crate::mechanics::{Band, Strength, Thread, class, stretch};
use crate::quantity::{Force, Length};

/// Stretch of a bolt and its load; what it has kept for good
#[derive(Debug, Args)]
pub(super) struct StretchForm {
    /// `M10`, `7/16-20 UNF`
    #[arg(value_name = "THREAD")]
    thread: String,
    /// Clamped length
    #[arg(long, allow_hyphen_values = true)]
    grip: String,
    /// Plain shank within the grip; not stated, none
    #[arg(long, allow_hyphen_values = true)]
    shank: Option<String>,
    /// Property class or grade
    #[arg(long)]
    class: Option<String>,
    /// Load wanted: `40 kN`
    #[arg(long, conflicts_with = "tight", allow_hyphen_values = true)]
    preload: Option<String>,
    /// Length before it was tightened
    #[arg(long, allow_hyphen_values = true)]
    before: Option<String>,
    /// Length when it is tight
    #[arg(long, requires = "before", allow_hyphen_values = true)]
    tight: Option<String>,
    /// Length after it was let go
    #[arg(long, requires = "before", allow_hyphen_values = true)]
    after: Option<String>,
    /// Stretch that the maker allows: `0.343 mm .. 0.470 mm`
    #[arg(long, requires = "tight")]
    limits: Option<String>,
    /// Most that it may have kept for good, by its maker
    #[arg(long, requires = "after", allow_hyphen_values = true)]
    most_set: Option<String>,
}

/// Share of the clamped length that a bolt is believed to stretch; the least elongation after fracture of class 12.9 is
/// 8 %, ISO 898-1, from memory.
const MOST_STRETCH: f64 = 0.1;

impl StretchForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let thread = typed::thread(&self.thread)?;
        let grip: Given<Length> = typed::positive("--grip", &self.grip)?;
        let mut answer = Answer::new("stretch", format!("Stretch of {thread}"));
        answer.given(Line::words("thread", words(&thread)));
        answer.given(grip.line("grip"));
        let shank = self.shank(grip.value(), &mut answer)?;
        let strength = typed::maybe(self.class.as_ref(), |text| typed::strength(text, &thread))?;
        if let Some((class, _)) = &strength {
            answer.given(Line::words("class", class.to_string()));
            answer.source(class.source());
        }
        let strength = strength.map(|(_, strength)| strength);
        answer.formula("ΔL = F/k_b", stretch::STRETCH_SOURCE);
        answer.source(angle::BOLT_SOURCE);
        let before = typed::maybe(self.before.as_ref(), |text| typed::positive::<Length>("--before", text))?;
        if let Some(before) = &before {
            answer.given(before.line("length before"));
            if before.value() < grip.value() {
                answer.assume(Line::words(
                    "lengths",
                    "readings of a stretch gauge: the bolt itself can't be shorter than its grip",
                ));
            }
        }
        let mut asked = false;
        if let Some(text) = &self.preload {
            let load: Given<Force> = typed::range("--preload", text)?;
            answer.given(load.line("load wanted"));
            let long = load.band.map(|load| stretch::stretch(&thread, shank, STEEL_MODULUS, load));
            answer.estimate(Line::result("stretch for it", long, "mm", 3));
            against(&thread, load.band, strength.as_ref(), &mut answer);
            asked = true;
        }
        if let (Some(before), Some(text)) = (&before, &self.tight) {
            let tight: Given<Length> = typed::positive("--tight", text)?;
            answer.given(tight.line("length when tight"));
            self.tight(&thread, shank, tight.value() - before.value(), strength.as_ref(), &mut answer)?;
            asked = true;
        }
        if let (Some(before), Some(text)) = (&before, &self.after) {
            let after: Given<Length> = typed::positive("--after", text)?;
            answer.given(after.line("length after"));
            self.set(after.value() - before.value(), &mut answer)?;
            asked = true;
        }
        if !asked {
            return Err(typed::too_little(
                "neither a load nor a length when tight or after was given",
                Mend::doing("add `--preload \"40 kN\"`, or `--before` with `--tight` or `--after`"),
            ));
        }
        answer.assume(Line::words("bolt of", "steel, measured both times at one temperature"));
        Ok(answer)
    }

    fn shank(&self, grip: Length, answer: &mut Answer) -> Asked<Shank> {
        let plain =
            typed::maybe(self.shank.as_ref(), |text| typed::not_below_nothing::<Length>("--shank", text))?;
        let Some(plain) = plain else {
            answer.assume(Line::words("plain shank", "none: threaded all the way"));
            return Ok(Shank::threaded(grip));
        };
        answer.given(plain.line("plain shank"));
        if plain.value() > grip {
            let mend = Mend::doing("give the length of plain shank within the grip");
            return Err(typed::wrong("--shank", "the plain shank is not a part of the grip", mend));
        }
        Ok(Shank { plain: plain.value(), free_thread: grip - plain.value() })
    }

    fn tight(
        &self,
        thread: &Thread,
        shank: Shank,
        long: Length,
        strength: Option<&Strength>,
        answer: &mut Answer,
    ) -> Asked<()> {
        if long < Length::ZERO {
            let mend = Mend::doing("measure both again");
            return Err(typed::wrong("--tight", "it is shorter when tight than before", mend));
        }
        if long > (shank.plain + shank.free_thread) * MOST_STRETCH {
            let mend = Mend::doing("measure both again, and mind the unit");
            return Err(typed::wrong("--tight", "a bolt breaks before it stretches so far", mend));
        }
        let limits = typed::maybe(self.limits.as_ref(), |text| typed::range::<Length>("--limits", text))?;
        let ends: Vec<Length> =
            limits.iter().flat_map(|limits| [limits.band.low, limits.band.high]).collect();
        answer.estimate(Line::against("stretch", Band::exactly(long), "mm", 3, &ends));
        let load = stretch::load(thread, shank, STEEL_MODULUS, long);
        answer.estimate(Line::result("load of that, if it is elastic", Band::exactly(load), "kN", 3));
        against(thread, Band::exactly(load), strength, answer);
        let Some(limits) = limits else { return Ok(()) };
        answer.given(limits.line("stretch allowed"));
        answer.source(stretch::LIMITS_SOURCE);
        answer.finding(if judged::beyond(long, limits.band.high) {
            "it is stretched more than allowed: renew it"
        } else if judged::beyond(limits.band.low, long) {
            "it is stretched less than asked for: tighten it once more, and renew it if that doesn't mend it"
        } else {
            "the stretch lies within its limits"
        });
        Ok(())
    }

    fn set(&self, kept: Length, answer: &mut Answer) -> Asked<()> {
        if kept < -judged::ROUGHLY_NOTHING {
            let mend = Mend::doing("measure both again");
            return Err(typed::wrong("--after", "it is shorter than before it was tightened", mend));
        }
        let most = typed::maybe(self.most_set.as_ref(), |text| {
            typed::not_below_nothing::<Length>("--most-set", text)
        })?;
        let ends: Vec<Length> = most.iter().map(Given::value).collect();
        answer.estimate(Line::against("kept for good", Band::exactly(kept), "mm", 3, &ends));
        match most {
            Some(most) => {
                answer.given(most.line("may have kept"));
                answer.finding(if judged::beyond(kept, most.value()) {
                    "it has kept more than allowed: renew it"
                } else {
                    "what it has kept is allowed"
                });
            }
            None if judged::beyond(kept, Length::ZERO) => {
                answer
                    .finding("it has been beyond its proof load: renew it, unless its maker allows so much");
            }
            None => answer.finding("it has kept nothing, as far as was measured"),
        }
        Ok(())
    }
}

/// A load against proof and yield of the class.
fn against(thread: &Thread, load: Band<Force>, strength: Option<&Strength>, answer: &mut Answer) {
    let Some(strength) = strength else {
        answer.note("no class was given, so whether the bolt bears it is not reckoned: add `--class`");
        return;
    };
    let (proof, yields) = (class::proof_load(thread, strength), class::yield_load(thread, strength));
    answer.estimate(Line::result("proof load", Band::exactly(proof), "kN", 3));
    if load.high > class::ultimate_load(thread, strength) {
        answer
            .finding("the weakest bolt of the class breaks before it: no such stretch or load is to be set");
    } else if load.high > yields {
        answer.finding("beyond yield: it is no longer elastic, and the load is less than reckoned");
    } else if load.high > proof {
        answer.finding("beyond the proof load");
    }
}
