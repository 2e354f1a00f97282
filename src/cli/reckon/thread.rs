//! `reckon thread`: diameters, stress area, and what a bolt of a class bears.

use clap::{Args, ValueEnum};

use super::answer::{Answer, Line};
use super::typed::{self, Asked};
use crate::diagnostics::Mend;
use crate::mechanics::engagement::{self, NutClass, Tapped};
use crate::mechanics::{Band, Strength, Thread, class};
use crate::quantity::{Length, at_most_figure};

/// A thread: its diameters and stress area; with a class, its loads
#[derive(Debug, Args)]
pub(super) struct ThreadForm {
    /// `M14`, `M12x1.25`, `3/8-16 UNC`
    #[arg(value_name = "THREAD")]
    thread: String,
    /// Property class or grade: `8.8`, `SAE 5`
    #[arg(long)]
    class: Option<String>,
    /// Class of the nut: `8`
    #[arg(long)]
    nut: Option<String>,
    /// What the hole is tapped into
    #[arg(long, value_enum)]
    into: Option<Material>,
    /// Depth of thread that engages: `20 mm`
    #[arg(long, requires = "into", allow_hyphen_values = true)]
    engagement: Option<String>,
}

/// So many diameters of engagement carry; further threads bear little. Common practice, no source.
const CARRYING: f64 = 2.5;

/// So many diameters are believed at all. Our own bound, no source.
const DEEPEST: f64 = 10.0;

/// What a hole is tapped into, as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Material {
    /// Cast iron
    Iron,
    /// Aluminium
    Aluminium,
    /// A steel insert in softer metal
    Insert,
    /// Steel
    Steel,
}

impl Material {
    fn tapped(self) -> Tapped {
        match self {
            Material::Iron => Tapped::Iron,
            Material::Aluminium => Tapped::Aluminium,
            Material::Insert => Tapped::Insert,
            Material::Steel => Tapped::Steel,
        }
    }
}

/// What it is called, with its pitch.
pub(super) fn words(thread: &Thread) -> String {
    format!("{thread}, pitch {} mm", at_most_figure(thread.pitch().mm(), 4))
}

/// The stresses of a class as lines.
pub(super) fn stresses(answer: &mut Answer, strength: &Strength) {
    let line = |name, stress| Line::result(name, Band::exactly(stress), "MPa", 4);
    answer.tabled(line("proof stress S_p", strength.proof));
    answer.tabled(line("yield stress R_e", strength.yielding));
    answer.tabled(line("tensile strength R_m", strength.tensile));
}

impl ThreadForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let thread = typed::thread(&self.thread)?;
        let mut answer = Answer::new("thread", format!("Thread {thread}"));
        answer.given(Line::words("thread", words(&thread)));
        answer.formula(
            if thread.series().is_metric() {
                "A_s = π/4 · ((d2 + d3)/2)², d2 = d − 0.649519 P, d3 = d − 1.226869 P"
            } else {
                "A_t = 0.7854 (D − 0.9743/n)²"
            },
            thread.source(),
        );
        let length = |name, value: Length| Line::result(name, Band::exactly(value), "mm", 5);
        answer.estimate(length("nominal diameter d", thread.diameter()));
        answer.estimate(length("pitch diameter d2", thread.pitch_diameter()));
        answer.estimate(length("root diameter of the bolt d3", thread.root_diameter()));
        answer.estimate(length("minor diameter of the nut D1", thread.nut_minor_diameter()));
        answer.estimate(Line::result("stress area A_s", Band::exactly(thread.stress_area()), "mm2", 3));
        let strength = self.strength(&thread, &mut answer)?;
        self.nut(strength.as_ref().map(|(class, _)| *class), &mut answer)?;
        self.hole(&thread, strength.map(|(_, strength)| strength), &mut answer)?;
        answer.note("nominal sizes of the basic profile; wear and tolerance are not in them");
        Ok(answer)
    }

    fn strength(
        &self,
        thread: &Thread,
        answer: &mut Answer,
    ) -> Asked<Option<(crate::mechanics::Class, Strength)>> {
        let Some(text) = &self.class else { return Ok(None) };
        let (class, strength) = typed::strength(text, thread)?;
        answer.given(Line::words("class", class.to_string()));
        answer.formula("F_p = A_s · S_p, F_m = A_s · R_m, F_y = A_s · R_e", class.source());
        if let Some(proviso) = class.proviso(thread) {
            answer.note(proviso);
        }
        stresses(answer, &strength);
        let load = |name, force| Line::result(name, Band::exactly(force), "kN", 3);
        answer.estimate(load("proof load F_p", class::proof_load(thread, &strength)));
        answer.estimate(load("load at yield F_y", class::yield_load(thread, &strength)));
        answer.estimate(load("breaking load F_m, at least", class::ultimate_load(thread, &strength)));
        Ok(Some((class, strength)))
    }

    fn nut(&self, class: Option<crate::mechanics::Class>, answer: &mut Answer) -> Asked<()> {
        let Some(text) = &self.nut else { return Ok(()) };
        let nut = NutClass::parse(text).ok_or_else(|| {
            let problem = format!("no class of nut is written `{text}`");
            typed::wrong_word("--nut", &problem, Mend::doing("classes known are 5, 6, 8, 9, 10, 12"))
        })?;
        answer.given(Line::words("class of the nut", nut.to_string()));
        answer.tabled(Line::words("strongest bolt for the nut", nut.strongest_bolt().to_string()));
        answer.source(engagement::NUT_SOURCE);
        if let Some(class) = class.filter(|class| class.is_metric()) {
            answer.finding(if nut.strongest_bolt() < class {
                "the nut is weaker than the bolt and decides"
            } else {
                "the nut holds until the bolt breaks"
            });
        }
        Ok(())
    }

    fn hole(&self, thread: &Thread, strength: Option<Strength>, answer: &mut Answer) -> Asked<()> {
        let Some(material) = self.into.map(Material::tapped) else { return Ok(()) };
        answer.given(Line::words("tapped into", material.name()));
        let least = material.least_engagement(thread);
        answer.tabled(Line::result("engagement, at least", Band::exactly(least), "mm", 3));
        answer.source(engagement::DEPTH_SOURCE);
        let depth =
            typed::maybe(self.engagement.as_ref(), |text| typed::positive::<Length>("--engagement", text))?;
        let Some(depth) = depth else { return Ok(()) };
        answer.given(depth.line("engagement"));
        if depth.value() > thread.diameter() * DEEPEST {
            let mend = Mend::doing("mind the unit: no thread engages over more than a few diameters");
            return Err(typed::wrong("--engagement", "no thread engages so deep", mend));
        }
        if depth.value() < least {
            answer.finding("the thread engages less than it should");
        }
        if depth.value() > thread.diameter() * CARRYING {
            answer.finding(
                "beyond two and a half diameters more thread bears little: it strips sooner than reckoned (common practice, no source)",
            );
        }
        let Some(strip) = engagement::strip_load(thread, material, depth.value()) else {
            answer.note("an insert carries its load elsewhere: no stripping load is given");
            return Ok(());
        };
        answer.formula("F_strip = τ π d L (1/2 + (d − d2)/(√3 P))", engagement::STRIP_SOURCE);
        answer.estimate(Line::result("load that strips the hole", strip, "kN", 2));
        if let Some(strength) = strength {
            let breaks = class::ultimate_load(thread, &strength);
            answer.finding(if strip.low > breaks {
                "the bolt breaks before the hole strips"
            } else if strip.high < breaks {
                "the hole strips before the bolt breaks: the hole decides"
            } else {
                "either may go first: the hole's strength is too uncertain to say"
            });
        }
        Ok(())
    }
}
