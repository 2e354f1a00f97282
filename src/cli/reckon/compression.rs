//! `reckon compression`: the ratio from what makes up the volume above the piston, and the cut of the deck for another.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::Band;
use crate::mechanics::displacement::{self, Above};
use crate::quantity::{Length, Volume, stated_figure};

/// Compression ratio from chamber, gasket, deck, dish and bore; and the deck cut for a wanted one
#[derive(Debug, Args)]
pub(super) struct CompressionForm {
    /// Bore of the cylinder
    #[arg(long, allow_hyphen_values = true)]
    bore: String,
    /// Stroke
    #[arg(long, allow_hyphen_values = true)]
    stroke: String,
    /// Chamber in the head, valves and plug in: `38 cm3`
    #[arg(long, allow_hyphen_values = true)]
    chamber: String,
    /// Thickness of the gasket, crushed: `1.2 mm`
    #[arg(long, allow_hyphen_values = true)]
    gasket: String,
    /// Hole of the gasket; not stated, the bore
    #[arg(long, allow_hyphen_values = true)]
    gasket_bore: Option<String>,
    /// From the deck down to the flat of the piston at the top; `-0.1 mm` where it stands out
    #[arg(long, allow_hyphen_values = true)]
    deck: String,
    /// Hollow of the piston; `-4 cm3` for a dome; not stated, none
    #[arg(long, allow_hyphen_values = true)]
    dish: Option<String>,
    /// Ratio wanted: `9.5`
    #[arg(long, allow_hyphen_values = true)]
    wanted: Option<String>,
}

/// Between these lie the engines of the bench, from side valves to Diesels. Common practice, no source; with room to both
/// sides.
const LEAST_RATIO: f64 = 3.0;
const MOST_RATIO: f64 = 30.0;

impl CompressionForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("compression", "Compression ratio");
        let bore: Given<Length> = typed::positive("--bore", &self.bore)?;
        let stroke: Given<Length> = typed::positive("--stroke", &self.stroke)?;
        let chamber: Given<Volume> = typed::positive("--chamber", &self.chamber)?;
        let gasket: Given<Length> = typed::not_below_nothing("--gasket", &self.gasket)?;
        let deck: Given<Length> = typed::quantity("--deck", &self.deck)?;
        for line in [
            bore.line("bore B"),
            stroke.line("stroke S"),
            chamber.line("chamber in the head"),
            gasket.line("gasket, crushed"),
            deck.line("deck down to the piston"),
        ] {
            answer.given(line);
        }
        let hole =
            typed::maybe(self.gasket_bore.as_ref(), |text| typed::positive::<Length>("--gasket-bore", text))?;
        match &hole {
            Some(hole) => answer.given(hole.line("hole of the gasket")),
            None => answer.assume(Line::words("hole of the gasket", "as wide as the bore")),
        }
        let dish = typed::maybe(self.dish.as_ref(), |text| typed::quantity::<Volume>("--dish", text))?;
        match &dish {
            Some(dish) => answer.given(dish.line("hollow of the piston")),
            None => answer.assume(Line::words("hollow of the piston", "none: a flat top")),
        }
        let above = Above {
            bore: bore.value(),
            chamber: chamber.value(),
            gasket_bore: hole.map_or(bore.value(), |hole| hole.value()),
            gasket: gasket.value(),
            deck: deck.value(),
            dish: dish.map_or(Volume::ZERO, |dish| dish.value()),
        };
        let (swept, left) = (displacement::swept(bore.value(), stroke.value()), above.volume());
        if left <= Volume::ZERO {
            return Err(typed::wrong(
                "--deck",
                "nothing is left above the piston",
                Mend::doing(
                    "measure deck, dish and chamber again: a dome and a piston that stands out are below nothing",
                ),
            ));
        }
        answer.formula("V = π (B/2)² S", displacement::SWEPT_SOURCE);
        answer.formula(
            "V_c = chamber + gasket + deck + dish, ratio = (V + V_c)/V_c",
            displacement::RATIO_SOURCE,
        );
        let volume = |name, volume| Line::result(name, Band::exactly(volume), "cm3", 4);
        answer.estimate(volume("swept by one piston V", swept));
        answer.estimate(volume("in the gasket", displacement::disc(above.gasket_bore, above.gasket)));
        answer.estimate(volume("in the deck", displacement::disc(above.bore, above.deck)));
        answer.estimate(volume("above the piston V_c", left));
        let ratio = displacement::compression_ratio(swept, left).fraction();
        answer.estimate(Line::ratio("compression ratio", ratio, ratio, 2));
        believed(ratio, &mut answer);
        if above.gasket_bore < above.bore {
            answer.finding(
                "the gasket's hole is narrower than the bore: it reaches into the flame and over the piston",
            );
        }
        if let Some(text) = &self.wanted {
            cut(text, &above, swept, bore.bench_unit(), &mut answer)?;
        }
        answer.note("the ring land above the top ring is not counted: it adds a little, and lowers the ratio a little");
        Ok(answer)
    }
}

/// Marks a ratio that no engine has.
pub(super) fn believed(ratio: f64, answer: &mut Answer) {
    if !(LEAST_RATIO..=MOST_RATIO).contains(&ratio) {
        answer.finding("no engine has such a ratio: a volume or its unit is wrong, measure again");
    }
}

fn cut(text: &str, above: &Above, swept: Volume, unit: &str, answer: &mut Answer) -> Asked<()> {
    let wanted = typed::ratio("--wanted", text)?.high;
    if wanted.fraction() <= 1.0 {
        let problem = "a compression ratio is more than one";
        return Err(typed::wrong("--wanted", problem, Mend::write("a ratio such as `9.5`")));
    }
    if wanted.fraction() > MOST_RATIO {
        let problem = format!("no engine has a compression ratio above {}", stated_figure(MOST_RATIO, 0));
        return Err(typed::wrong("--wanted", &problem, Mend::write("a ratio such as `9.5`")));
    }
    answer.given(Line::stated("ratio wanted", wanted.fraction(), wanted.fraction(), 1));
    let cut = above.cut_for(swept, wanted);
    answer.formula("cut = (V_c − V/(ratio − 1))/(π (B/2)²)", displacement::RATIO_SOURCE);
    if cut < Length::ZERO {
        answer.estimate(Line::result("to be added between deck and head", Band::exactly(-cut), unit, 3));
        answer.finding("the ratio is above the wanted one already: nothing is to be cut");
        return Ok(());
    }
    answer.estimate(Line::result("to cut from the deck", Band::exactly(cut), unit, 3));
    if cut > above.deck + above.gasket {
        answer.finding(
            "with so much off, the flat of the piston comes above the crushed gasket: it strikes the head, unless the chamber is as wide as the bore",
        );
    } else if cut > above.deck {
        answer.finding("with so much off, the piston stands out of the deck: mind gasket and head");
    }
    answer.note("what is cut from the head instead is another sum: its chamber narrows as its own shape is");
    answer.note("a cut brings valves and pistons nearer, and slackens a chain or belt: check both");
    Ok(())
}
