//! The calendar of a job, backwards from the day on which the engine is promised: when the build has to begin, and until when
//! what is still to be bought or sent out has to be ordered and sent. Everything is counted as if it were needed on the first
//! day of the build; days off are not known and not left out.

use crate::decide::{machine_shop_order, order_list};
use crate::english::counted;
use crate::packet::seconds_left;
use crate::plan::step_of;
use crate::procedure::model::Phase;
use crate::quantity::{Quantity, Unit};
use crate::record::Date;
use crate::workshop::{JobView, Workshop};

/// Hours that one person works in a day. Common practice, no source.
const HOURS_A_DAY: u32 = 8;
const DAY: f64 = 86_400.0;

/// What follows from the promised day.
pub(super) struct Calendar {
    /// The promised day.
    pub promised: Date,
    /// The last day on which the build can begin.
    pub build: Date,
    /// Why then, in words.
    pub because: String,
    /// Until when what has to be ordered or sent, in the order of the days.
    pub latest: Vec<(Date, String)>,
    /// What comes too late for that, or nobody knows when.
    pub doubts: Vec<String>,
}

/// Works out the calendar; none for a job of which no day is promised, or that needs no more building.
pub(super) fn calendar(workshop: &Workshop, view: &JobView) -> Option<Calendar> {
    let promised = view.job.promised?;
    let material = view.material(workshop);
    let [build, start] = [Phase::Build, Phase::Start].map(|phase| seconds_left(&material, phase));
    let (seconds, silent) = (build.0 + start.0, build.1 + start.1);
    let cures = cures(view);
    if seconds == 0.0 && silent == 0 {
        return None;
    }
    let days = seconds / 3600.0 / f64::from(HOURS_A_DAY) + cures / DAY;
    let begin = promised.after_days(-whole_days(days * DAY))?;
    let mut because = format!("{} of one person at {HOURS_A_DAY} h a day", hours(seconds));
    if cures > 0.0 {
        because += &format!(", and {} of curing", hours(cures));
    }
    if silent > 0 {
        because += &format!("; for {} no time is stated, so rather sooner", counted(silent, "step"));
    }
    let mut made = Calendar { promised, build: begin, because, latest: Vec::new(), doubts: Vec::new() };
    for line in order_list(&view.procedure, &view.job, &view.decisions).lines {
        match (line.ordered, line.arrived) {
            (_, Some(_)) => {}
            (Some(_), None) => made.comes(&line.title, line.due),
            (None, None) => made.needs("order", &line.title, line.lead_time),
        }
    }
    for line in machine_shop_order(&view.procedure, &view.job, &view.decisions) {
        match (line.sent, line.back) {
            (_, Some(_)) => {}
            (Some(sent), None) => {
                let back = line.lead_time.and_then(|lead| sent.after_days(whole_days(lead.base())));
                made.comes(&line.title, back);
            }
            (None, None) => made.needs("send", &line.title, line.lead_time),
        }
    }
    made.latest.sort();
    Some(made)
}

impl Calendar {
    fn needs(&mut self, what: &str, title: &str, lead: Option<Quantity>) {
        let latest = lead.and_then(|lead| self.build.after_days(-whole_days(lead.base())));
        match (latest, lead) {
            (Some(latest), Some(lead)) => {
                self.latest.push((latest, format!("{what} {title}, which takes {}", lead.printed())));
            }
            _ => self.doubts.push(format!("{title}: nobody says how long it takes; {what} it now")),
        }
    }

    fn comes(&mut self, title: &str, when: Option<Date>) {
        match when {
            Some(when) if when > self.build => {
                self.doubts.push(format!("{title}: due {when}, after the build has to begin"));
            }
            Some(_) => {}
            None => self.doubts.push(format!("{title}: on its way, and no day is said")),
        }
    }

    /// In lines; what should have been done by a day says so.
    pub(super) fn lines(&self, day: Option<Date>) -> Vec<String> {
        let late = |latest: Date| match day {
            Some(day) if day > latest => {
                format!("; {} days too late", day.day_number() - latest.day_number())
            }
            _ => String::new(),
        };
        let first =
            format!("{}  the build begins at the latest: {}{}", self.build, self.because, late(self.build));
        let latest = self.latest.iter().map(|(latest, what)| format!("{latest}  {what}{}", late(*latest)));
        latest
            .chain([first, format!("{}  promised", self.promised)])
            .chain(self.doubts.iter().cloned())
            .collect()
    }
}

/// Seconds of curing that are still to come, one behind the other: of each step its longest.
fn cures(view: &JobView) -> f64 {
    let phases = [Phase::Build, Phase::Start].into_iter().filter_map(|phase| view.plan.phase(phase));
    let left = phases.flat_map(|plan| &plan.steps).filter(|step| step.standing.is_left());
    left.map(|planned| {
        let step = step_of(&view.procedure, &view.network, planned.source);
        let supplies = step.supplies.iter().map(|used| view.procedure.supply(used.what.0));
        let cures = supplies.filter_map(|supply| supply.cure_time).map(Quantity::base);
        cures.fold(0.0, f64::max)
    })
    .sum()
}

/// Whole hours, a begun one too.
fn hours(seconds: f64) -> String {
    let whole = (seconds / 3600.0).ceil();
    Unit::find("h").map_or_else(String::new, |unit| Quantity::from_base(whole * 3600.0, unit, 0).printed())
}

/// Whole days that a time takes, begun ones too.
fn whole_days(seconds: f64) -> i64 {
    (seconds / DAY).ceil() as i64
}
