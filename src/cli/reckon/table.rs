//! `reckon table`: torques at 90 % of yield by thread and class, at one friction.

use clap::{Args, ValueEnum};

use super::answer::{Answer, Line};
use super::typed::{self, Asked};
use crate::diagnostics::Mend;
use crate::mechanics::assess::NINETY;
use crate::mechanics::reduction::{REDUCTION_SOURCE, Reduction};
use crate::mechanics::torque::{self, Bearing, Friction, UNSTATED_FRICTION, at_share_of_yield};
use crate::mechanics::{Class, Thread};
use crate::quantity::{Bound, Ratio, limit_digits};

/// A table of torques by thread and class
#[derive(Debug, Args)]
pub(super) struct TableForm {
    /// Threads: `M6, M8, M10x1.25`; not stated, the usual coarse ones
    #[arg(long)]
    threads: Option<String>,
    /// Classes: `8.8, 10.9`
    #[arg(long)]
    classes: String,
    /// Coefficient of friction of threads and heads, or its range; not stated, from well oiled to dry
    #[arg(long, allow_hyphen_values = true)]
    friction: Option<String>,
    /// Set lower by a rule for torques that are meant for clean, dry threads into steel; not stated, as reckoned
    #[arg(long, value_enum)]
    reduced: Option<Reduced>,
}

/// Why torques are set lower, as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Reduced {
    /// Oiled where it is meant dry: 10 % less
    Oiled,
    /// New plated: 20 % less
    NewPlated,
    /// Into aluminium: 30 % less
    IntoAluminium,
}

impl Reduced {
    fn rule(self) -> Reduction {
        match self {
            Reduced::Oiled => Reduction::Oiled,
            Reduced::NewPlated => Reduction::NewPlated,
            Reduced::IntoAluminium => Reduction::IntoAluminium,
        }
    }
}

/// Threads of the table where none are named.
const USUAL: &str = "M5, M6, M8, M10, M12, M14, M16";

impl TableForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("table", "Torques at 90 % of yield, in N·m");
        let threads = self.threads.as_deref().unwrap_or(USUAL);
        let threads: Vec<Thread> = threads
            .split(',')
            .map(|name| {
                Thread::parse(name.trim())
                    .map_err(|error| typed::wrong_word("--threads", &error.to_string(), error.mend()))
            })
            .collect::<Asked<_>>()?;
        let classes: Vec<Class> = self
            .classes
            .split(',')
            .map(|name| {
                Class::parse(name.trim())
                    .map_err(|error| typed::wrong_word("--classes", &error.to_string(), error.mend()))
            })
            .collect::<Asked<_>>()?;
        answer.given_or(self.threads.is_some(), Line::words("threads", named(&threads)));
        answer.given(Line::words("classes", named(&classes)));
        let mu = typed::friction_or(self.friction.as_ref(), UNSTATED_FRICTION, &mut answer)?;
        let rule = self.reduced.map(Reduced::rule);
        if let Some(rule) = rule {
            answer.given(Line::words("set lower", rule.words()));
        }
        answer.assume(Line::words("under the head", "a hexagon on a medium hole"));
        answer.formula("F = A_s · 0.9 R_p0.2 / √(1 + 3 x²)", torque::SHARE_SOURCE);
        answer.formula("T = F (0.16 P + 0.58 d2 μ + D_Km/2 · μ)", torque::LONG_SOURCE);
        for class in &classes {
            answer.source(class.source());
        }
        let share = rule.map_or(Ratio::from_percent(100.0), Reduction::share);
        let mut tabled = 0;
        for thread in &threads {
            let cells: Vec<String> =
                classes.iter().map(|class| cell(thread, *class, mu.low, share)).collect();
            tabled += cells.iter().filter(|cell| *cell != NONE).count();
            answer.drawn(row(&thread.to_string(), &cells));
        }
        if tabled == 0 {
            let mend = Mend::doing("name threads that the classes are for");
            return Err(typed::wrong_word("--classes", "none of the classes exists for these threads", mend));
        }
        answer.headed(row("thread", &classes.iter().map(ToString::to_string).collect::<Vec<_>>()));
        answer.estimate(Line::words("the table", "estimates, in N·m, rounded down"));
        if !(mu.low.fraction() == mu.high.fraction()) {
            answer.finding("for the least friction of the range: only these hold over all of it");
        }
        match rule {
            Some(rule) => {
                answer.formula("T · (1 − reduction)", REDUCTION_SOURCE);
                answer.finding(format!("every torque here is {}", rule.words()));
                answer.note("a friction that is that of oiled threads already is not to be reduced again for oil");
            }
            None => answer.note(
                "as reckoned, not reduced: for torques that are meant for dry threads there is `--reduced oiled`, `new-plated` or \
                 `into-aluminium`",
            ),
        }
        answer.note("a table for where nothing is stated: the maker's torque comes first");
        Ok(answer)
    }
}

/// Where a class doesn't exist for a thread.
const NONE: &str = "-";

fn cell(thread: &Thread, class: Class, friction: Ratio, share: Ratio) -> String {
    let Ok(strength) = class.strength(thread) else { return NONE.to_owned() };
    let found = at_share_of_yield(
        thread,
        &strength,
        Friction::everywhere(friction),
        Bearing::hexagon(thread),
        NINETY,
    );
    let torque = found.torque.newton_metres() * share.fraction();
    // Three digits, down.
    limit_digits(torque, 3, Bound::Most)
}

fn row(name: &str, cells: &[String]) -> String {
    let cells: String = cells.iter().map(|cell| format!("{cell:>10}")).collect();
    format!("{name:<16}{cells}")
}

fn named<T: ToString>(things: &[T]) -> String {
    things.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}
