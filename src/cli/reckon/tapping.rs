//! `reckon tapping`: the tapping drill of a thread, and the hole for a coiled wire insert.

use clap::Args;

use super::answer::{Answer, Line};
use super::thread::words;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::{Band, tapping};
use crate::quantity::Length;

/// Tapping drill of a thread, and drill and tap for a wire insert
#[derive(Debug, Args)]
pub(super) struct TappingForm {
    /// `M8`, `3/8-16 UNC`
    #[arg(value_name = "THREAD")]
    thread: String,
    /// Drill at hand: how much thread it leaves
    #[arg(long, allow_hyphen_values = true)]
    drill: Option<String>,
}

/// Least depth of thread that is left by a drill, in per cent. Common practice, no source.
const LEAST_DEPTH: f64 = 60.0;

impl TappingForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let thread = typed::thread(&self.thread)?;
        let mut answer = Answer::new("tapping", format!("Holes for {thread}"));
        answer.given(Line::words("thread", words(&thread)));
        answer.formula("drill = d − P, depth left = (d − drill)/(1.0825 P)", tapping::DRILL_SOURCE);
        let length = |name, value: Length| Line::result(name, Band::exactly(value), "mm", 4);
        let drill = tapping::drill(&thread);
        answer.estimate(length("tapping drill", drill));
        let share = |drilled| tapping::depth_left(&thread, drilled).percent();
        answer.estimate(Line::ratio("depth of thread it leaves, per cent", share(drill), share(drill), 0));
        if let Some(text) = &self.drill {
            let own: Given<Length> = typed::positive("--drill", text)?;
            answer.given(own.line("drill at hand"));
            if own.value() >= thread.diameter() || own.value() <= thread.root_diameter() {
                let mend = Mend::doing("give a drill between the root and the outside of the thread");
                return Err(typed::wrong("--drill", "no thread comes of such a drill", mend));
            }
            let own = share(own.value());
            if own < LEAST_DEPTH {
                answer.finding("so little thread strips: take a smaller drill (common practice, no source)");
            } else if own > 100.0 {
                answer.finding("smaller than the thread's own hole: the tap binds and breaks");
            }
            answer.estimate(Line::ratio("depth of thread of the drill at hand, per cent", own, own, 0));
        }
        let hole = tapping::insert_hole(&thread);
        answer.formula(
            "for an insert: drill from d + 0.2165 P, tap d + 1.2990 P across",
            tapping::INSERT_SOURCE,
        );
        answer.estimate(length("for a wire insert: drill, at least", hole.minor));
        answer.estimate(length("for a wire insert: outside of its tap", hole.major));
        answer.note(
            "drills come in steps: take the next one up; the insert maker's own drill and tap come first",
        );
        Ok(answer)
    }
}
