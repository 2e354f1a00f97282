//! `reckon release`: what the fasteners of a joint bear while it is undone, and how evenly it is tightened.

use std::collections::BTreeMap;
use std::path::PathBuf;

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use super::{Stop, joint};
use crate::cli::errors;
use crate::cli::wrong_use::whole;
use crate::diagnostics::Mend;
use crate::mechanics::Band;
use crate::mechanics::joint::{
    Followed, GasketMaterial, MODEL_SOURCE, NoEquilibrium, Plate, REACH_SOURCE, ReleaseReport, Risk,
    modulus_of, plate_metals, study_passes, study_release,
};
use crate::procedure::clamping::{Added, Clamping, clamping};
use crate::procedure::model::{JointId, Procedure};
use crate::quantity::{Force, Length, figure};

/// Loads on the fasteners of a joint while it is released and tightened
#[derive(Debug, Args)]
pub(super) struct ReleaseForm {
    /// A procedure
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// One of its joints
    #[arg(value_name = "JOINT")]
    joint: String,
    /// Rounds to compare with undoing in one go; not stated, three
    #[arg(long, value_parser = whole::<u8>(2, 10))]
    rounds: Option<u8>,
    /// Material of the gasket: `steel`, `hard fibre`, `paper`, `soft fibre`, `cork`
    #[arg(long)]
    gasket: Option<String>,
    /// Thickness of that gasket as fitted: `1.2 mm`
    #[arg(long, requires = "gasket", allow_hyphen_values = true)]
    gasket_thickness: Option<String>,
    /// Preload of fasteners whose torque is not stated: `20 kN`
    #[arg(long, allow_hyphen_values = true)]
    preload: Option<String>,
    /// Force of a spring under the part: `300 N`
    #[arg(long, allow_hyphen_values = true)]
    spring: Option<String>,
    /// Thickness of a cover that bends: `3 mm`
    #[arg(long, requires = "cover_metal", allow_hyphen_values = true)]
    cover_thickness: Option<String>,
    /// Metal of a cover that bends: `aluminium`
    #[arg(long, requires = "cover_thickness")]
    cover_metal: Option<String>,
    /// As the engines have it that have this set, where some engines have another in its place
    #[arg(long, value_name = "SET")]
    with: Vec<String>,
}

/// The thickest gasket that is believed. Our own bound, no source.
const THICKEST_GASKET: Length = Length::from_mm(20.0);

impl ReleaseForm {
    pub(super) fn answer(&self) -> Result<Answer, Stop> {
        let (procedure, id) = joint::find(&self.path, &self.joint)?;
        let mut answer = Answer::new("release", format!("Release of {}", procedure.joint(id).naming.title));
        answer.given(Line::words("joint", self.joint.clone()));
        let procedure = joint::fitted(&procedure, id, &self.with, &mut answer)?;
        let added = self.added(&mut answer)?;
        let clamped = clamping(&procedure, id, &added).map_err(|unknown| {
            Box::new(errors::joint_not_reckoned(&self.joint, &unknown.to_string(), unknown.mend()))
        })?;
        match clamped.heavy.followed() {
            Followed::Well | Followed::AtMost => {}
            Followed::Alone if clamped.heavy.springs.is_empty() => {
                alone(&clamped, &mut answer);
                return Ok(answer);
            }
            Followed::Alone | Followed::Not => {
                let problem = "so thin a cover bends more finely than this model follows, and its fasteners stand too near \
                               each other, or a spring pushes, to count each as on its own";
                let mend = "leave `--cover-thickness` out to see it as a part that doesn't bend; nothing is told between";
                return Err(Stop::from(Box::new(errors::joint_not_reckoned(
                    &self.joint,
                    problem,
                    Mend::doing(mend),
                ))));
            }
        }
        let unbalanced = |none: NoEquilibrium| {
            let mend = "give more of its holes, or the fasteners that hold it while these come out";
            Stop::from(Box::new(errors::joint_not_reckoned(
                &self.joint,
                &none.to_string(),
                Mend::doing(mend),
            )))
        };
        self.release(&procedure, id, &clamped, &mut answer).map_err(unbalanced)?;
        tighten(&clamped, &mut answer).map_err(unbalanced)?;
        for assumed in &clamped.assumed {
            answer.note(format!("assumed: {assumed}"));
        }
        answer
            .note("a class from a model of springs, not a safe number; nothing here reorders the procedure");
        Ok(answer)
    }

    fn added(&self, answer: &mut Answer) -> Asked<Added> {
        let gasket = typed::maybe(self.gasket.as_ref(), |text| {
            GasketMaterial::named(text).ok_or_else(|| {
                let known = GasketMaterial::ALL.map(GasketMaterial::name).join(", ");
                let problem = format!("no gasket of `{text}` is known");
                typed::wrong_word("--gasket", &problem, Mend::doing(format!("materials known are {known}")))
            })
        })?;
        if let Some(gasket) = gasket {
            answer.given(Line::words("gasket", gasket.name()));
        }
        let thickness = typed::maybe(self.gasket_thickness.as_ref(), |text| {
            typed::positive::<Length>("--gasket-thickness", text)
        })?;
        if let Some(thickness) = &thickness {
            if thickness.value() > THICKEST_GASKET {
                let mend =
                    Mend::doing("mind the unit: gaskets are some tenths of a millimetre to a few thick");
                return Err(typed::wrong("--gasket-thickness", "no gasket is so thick", mend));
            }
            answer.given(thickness.line("thickness of the gasket"));
        }
        let preload =
            typed::maybe(self.preload.as_ref(), |text| typed::positive::<Force>("--preload", text))?;
        if let Some(preload) = &preload {
            answer.given(preload.line("preload where no torque is stated"));
        }
        let spring = typed::maybe(self.spring.as_ref(), |text| typed::positive::<Force>("--spring", text))?;
        if let Some(spring) = &spring {
            answer.given(spring.line("spring under the part"));
        } else {
            answer.assume(Line::words("spring under the part", "none"));
        }
        Ok(Added {
            gasket: gasket.map(|gasket| (gasket, thickness.map(|thickness| thickness.value()))),
            preload: preload.map(|preload| preload.value()),
            spring: spring.map(|spring| spring.value()),
            plate: self.plate(answer)?,
            torques: BTreeMap::new(),
        })
    }

    fn plate(&self, answer: &mut Answer) -> Asked<Option<Plate>> {
        let (Some(thickness), Some(metal)) = (&self.cover_thickness, &self.cover_metal) else {
            return Ok(None);
        };
        let thickness: Given<Length> = typed::positive("--cover-thickness", thickness)?;
        let modulus = modulus_of(metal.trim()).ok_or_else(|| {
            let known: Vec<&str> = plate_metals().collect();
            let problem = format!("no metal is called `{}` here", metal.trim());
            typed::wrong_word(
                "--cover-metal",
                &problem,
                Mend::doing(format!("metals known are {}", known.join(", "))),
            )
        })?;
        answer.given(thickness.line("thickness of the cover"));
        answer.given(Line::words("metal of the cover", metal.trim()));
        Ok(Some(Plate::Thin { thickness: thickness.value(), modulus }))
    }

    fn release(
        &self,
        procedure: &Procedure,
        id: JointId,
        clamped: &Clamping,
        answer: &mut Answer,
    ) -> Result<(), NoEquilibrium> {
        let rounds = usize::from(self.rounds.unwrap_or(3));
        answer.given_or(self.rounds.is_some(), Line::words("rounds compared", rounds.to_string()));
        let light = study_release(&clamped.light, &clamped.release, rounds)?;
        let heavy = study_release(&clamped.heavy, &clamped.release, rounds)?;
        let letters: Vec<&str> = clamped.release.iter().map(|bolt| clamped.letters[*bolt].as_str()).collect();
        answer.given(Line::words("order of release", letters.join(" ")));
        answer.formula(
            "F_i = k_i (u_i + t_i) where it pulls, R_j = −g_j u_j where it presses, in balance",
            MODEL_SOURCE,
        );
        let loads = |pick: fn(Force, Force) -> Force| {
            let joints = [&clamped.light, &clamped.heavy];
            joints.iter().flat_map(|joint| &joint.bolts).map(|bolt| bolt.load).reduce(pick)
        };
        if let Some((low, high)) = loads(Force::min).zip(loads(Force::max)) {
            answer.estimate(Line::result("loads when work starts", Band { low, high }, "kN", 2));
        }
        let phi = heavy.stiffness_ratio;
        answer.estimate(Line::ratio("stiffness ratio φ", phi.low.fraction(), phi.high.fraction(), 3));
        let errs_high = clamped.heavy.followed() == Followed::AtMost;
        let both = |name: &str, pick: &dyn Fn(&ReleaseReport) -> f64| {
            let (a, b) = (pick(&light), pick(&heavy));
            let name = if errs_high { format!("{name}, at most") } else { name.to_owned() };
            Line::ratio(&name, a.min(b), a.max(b), 2)
        };
        answer.estimate(both("peak in one go, times the first load", &|report| report.one_go.peak));
        let name = format!("peak in {rounds} rounds, times the first load");
        answer.estimate(both(&name, &|report| report.rounds.peak));
        answer.estimate(both("peak in the opposite order, in one go", &|report| report.opposite.peak));
        if let Some((low, high)) = light.one_go.peak_proof.zip(heavy.one_go.peak_proof) {
            answer.estimate(Line::ratio(
                if errs_high {
                    "peak as a share of the proof load, at most"
                } else {
                    "peak as a share of the proof load"
                },
                low.fraction(),
                high.fraction(),
                2,
            ));
        }
        for (name, course) in [("in one go", &heavy.one_go), ("in rounds", &heavy.rounds)] {
            let words = format!("tilt {name}, at most");
            // A gasket of which nothing is left to give, or that has long let go, holds no part at a slant.
            match clamped.heavy.thickness_taken().filter(|thickness| course.tilt > *thickness) {
                Some(_) => {
                    answer.estimate(Line::words(&words, "more than the gasket is thick: beyond the model"));
                }
                None => answer.estimate(Line::result(&words, Band::exactly(course.tilt), "mm", 2)),
            }
            if course.bow > Length::from_mm(1e-6) {
                answer.estimate(Line::result(
                    &format!("bow {name}, at most"),
                    Band::exactly(course.bow),
                    "mm",
                    2,
                ));
            }
        }
        let class = risk_words(light.risk, heavy.risk);
        answer
            .estimate(Line::words("class", if errs_high { format!("no worse than {class}") } else { class }));
        if errs_high {
            answer.finding(
                "so thin a cover bends in shapes that the model doesn't follow: peaks and class are the worst that they may be",
            );
        }
        answer.note(format!("{}: {}", heavy.risk.word(), heavy.risk.meaning()));
        for finding in heavy.findings() {
            answer.finding(finding);
        }
        if let Some(overpressed) = clamped.heavy.overpressed() {
            answer.finding(overpressed);
        }
        if let Some(step) = clamped.spring_step.filter(|_| heavy.spring == Force::ZERO) {
            answer.finding(format!(
                "step `{}` undoes it under a hazard of a spring, whose force isn't known: the last fasteners carry all \
                 of it; add `--spring`",
                procedure.step(step).naming.id
            ));
        }
        if clamped.rounds > 1 {
            answer.finding(format!(
                "the procedure undoes {} in at least {} rounds",
                procedure.joint(id).naming.id,
                clamped.rounds
            ));
        }
        for assumption in heavy.assumptions {
            answer.note(format!("assumed: {assumption}"));
        }
        Ok(())
    }
}

/// A cover so thin that it carries no load from one fastener to the next.
fn alone(clamped: &Clamping, answer: &mut Answer) {
    answer.formula(
        "reach = (D/k)^¼, D = E s³/(12 (1 − ν²)), k the stiffness of the gasket for its area",
        REACH_SOURCE,
    );
    if let Some(reach) = clamped.heavy.reach() {
        answer.estimate(Line::result("the cover carries a load on over", reach, "mm", 2));
    }
    let nearest = Band::exactly(clamped.heavy.nearest());
    answer.estimate(Line::result("the nearest fasteners are apart", nearest, "mm", 3));
    answer.finding(
        "so thin a cover bends away before the next fastener: each is on its own, and undoing one leaves the others as they \
         are, in whatever order",
    );
    answer
        .note("what bends the cover itself is not reckoned: slacken all of them before the first comes out");
    for assumed in clamped.heavy.assumptions().iter().chain(&clamped.assumed) {
        answer.note(format!("assumed: {assumed}"));
    }
}

fn risk_words(light: Risk, heavy: Risk) -> String {
    if light == heavy {
        light.word().to_owned()
    } else {
        format!("{} to {}, as the friction is", light.word(), heavy.word())
    }
}

/// How evenly it is tightened, pass by pass.
fn tighten(clamped: &Clamping, answer: &mut Answer) -> Result<(), NoEquilibrium> {
    let report = study_passes(&clamped.heavy, &clamped.passes, &clamped.by_torque)?;
    let line = |name: String, pass: &crate::mechanics::joint::PassResult| {
        [
            Line::ratio(
                &format!("{name}: share of the full load"),
                pass.loads.low.fraction(),
                pass.loads.high.fraction(),
                2,
            ),
            Line::ratio(&format!("{name}: scatter in %"), pass.scatter.percent(), pass.scatter.percent(), 1),
        ]
    };
    let count = report.passes.len();
    for (index, pass) in report.passes.iter().enumerate() {
        for line in line(format!("tightening {} of {count}", index + 1), pass) {
            answer.estimate(line);
        }
    }
    let last = report.passes.last().map_or(0.0, |pass| pass.scatter.percent());
    match &report.last_circular {
        Some(circular) => {
            for line in line("one more, all round".to_owned(), circular) {
                answer.estimate(line);
            }
            if last - circular.scatter.percent() > 2.0 {
                answer.finding(format!(
                    "a last pass round at full torque would lower the scatter from {} to {} per cent (a \
                     proposal: the maker's passes come first)",
                    figure(last, 0),
                    figure(circular.scatter.percent(), 0)
                ));
            }
        }
        None => answer.finding(
            "no last pass round is proposed: never on fasteners tightened by angle, into yield, or used once",
        ),
    }
    answer.note("the scatter of the torque itself, about 9 to 10 per cent for each 10 per cent of torque, comes on top");
    Ok(())
}
