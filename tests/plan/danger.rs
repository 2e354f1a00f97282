//! Hazards of a value of a state: told in each step that is done while the state has it, and in no other.

use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::plan::PlannedLine;
use benchleaf::{JobView, Memory, Request, Workshop};
use proptest::prelude::*;

const HEAD: &str = "family e \"E\" { origin \"invented for tests\" }\nask seen \"Seen?\" = yes, no\n\
    state pump \"Pump\" = still (at first), running  hazard belt while running\n\
    hazard belt warning rotating { hazard \"The belt runs.\"  avoid \"Stand clear.\" }\n\
    setup stand \"Stand\" = up (at first), over  change 60 s\n";

fn view(text: &str, record: Option<&str>) -> JobView {
    let mut files = Memory::new().with("e.rebuild", format!("{HEAD}{text}"));
    if let Some(record) = record {
        files = files.with("e.job.yaml", record);
    }
    let mut workshop = Workshop::over(files);
    let record = record.map(|_| Path::new("e.job.yaml"));
    let outcome = workshop.job(&Request { record, ..Request::of("e.rebuild") });
    outcome.value.unwrap_or_else(|| panic!("{:?}", outcome.diagnostics))
}

/// The lines of each step in planned order: `!` a hazard, `.` an act, `>` a change of the stand.
fn lines(view: &JobView, phase: Phase) -> Vec<(String, String)> {
    let plan = view.plan.phase(phase).unwrap();
    let mark = |line: &PlannedLine| match line {
        PlannedLine::Hazard(_) => '!',
        PlannedLine::Act(_) => '.',
        PlannedLine::SetUp(..) => '>',
        PlannedLine::Hold(_) => '|',
    };
    let told =
        plan.steps.iter().map(|step| (step.key.id(&view.procedure), step.lines.iter().map(mark).collect()));
    told.collect()
}

fn told(text: &str) -> Vec<String> {
    lines(&view(text, None), Phase::Strip).into_iter().map(|(_, lines)| lines).collect()
}

#[test]
fn it_stands_before_what_brings_it_about_and_before_the_first_act_of_each_step_meanwhile() {
    let text = "strip before \"Before\" { do \"Look.\" }\n\
        strip on \"On\" { after before  do \"Look.\"  set pump = running  do \"Listen.\" }\n\
        strip meanwhile \"Meanwhile\" { after on  hold \"seen\"  do \"Look.\"  do \"Listen.\" }\n\
        strip off \"Off\" { after meanwhile  do \"Look.\"  set pump = still  do \"Rest.\" }\n\
        strip over \"After\" { after off  do \"Look.\" }\n";
    assert_eq!(told(text), [".", ".!..", "|!..", "!...", "."]);
}

#[test]
fn what_the_step_tells_itself_by_then_is_not_told_twice() {
    let text = "strip on \"On\" { hazard belt  do \"Look.\"  set pump = running }\n\
        strip first \"First\" { after on  hazard belt  do \"Look.\" }\n\
        strip later \"Later\" { after first  do \"Look.\"  hazard belt  do \"Touch.\" }\n";
    // Where the author tells it again before a later act, it stands there too.
    assert_eq!(told(text), ["!..", "!.", "!.!."]);
}

#[test]
fn the_stand_is_not_turned_without_it() {
    let text = "strip on \"On\" { set pump = running }\n\
        strip turn \"Turn\" { after on  with stand over  do \"Look.\" }\n";
    assert_eq!(told(text), ["!.", "!>."]);
}

#[test]
fn what_is_not_sure_is_told() {
    let text = "strip on \"On\" { when seen = yes  set pump = running }\nstrip then \"Then\" { after on  do \"Look.\" }\n";
    assert_eq!(told(text), ["!.", "!."]);
    let record = |answer: &str| format!("job: \"1\"\nprocedure: e.rebuild\nanswers: {{seen: {answer}}}\n");
    let then = |answer: &str| lines(&view(text, Some(&record(answer))), Phase::Strip)[1].1.clone();
    assert_eq!((then("yes").as_str(), then("no").as_str()), ("!.", "."));
}

#[test]
fn it_lasts_from_phase_to_phase_as_the_state_does() {
    let text = "strip on \"On\" { set pump = running }\nsurvey look_on \"Look\" { do \"Look.\" }\n";
    assert_eq!(lines(&view(text, None), Phase::Survey)[0].1, "!.");
    let at_build = HEAD.replace("running  hazard", "running (at build)  hazard");
    let text = format!("{at_build}build go \"Go\" {{ do \"Look.\" }}\n");
    let mut workshop = Workshop::over(Memory::new().with("e.rebuild", text));
    let view = workshop.job(&Request::of("e.rebuild")).value.unwrap();
    assert_eq!(lines(&view, Phase::Build)[0].1, "!.");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20, ..ProptestConfig::default() })]

    /// In whatever order the steps are planned, and whoever shares them.
    #[test]
    fn each_step_begun_meanwhile_has_it_and_no_other(
        works in proptest::collection::vec((0..3usize, 0..3usize, 1..30u32), 1..8),
    ) {
        let mut text = String::new();
        for (index, (does, side, minutes)) in works.iter().enumerate() {
            let does = ["", "set pump = running", "set pump = still"][*does];
            let stand = ["", "with stand up", "with stand over"][*side];
            text += &format!(
                "part p{index} \"P{index}\"\nstrip s{index} \"S{index}\" {{ {stand}  time {minutes} min  take p{index}  {does} }}\n"
            );
        }
        let view = view(&text, None);
        let mut running = false;
        let plan = view.plan.phase(Phase::Strip).unwrap();
        let does = |id: &str| works[id[1..].parse::<usize>().unwrap()].0;
        for (id, lines) in lines(&view, Phase::Strip) {
            prop_assert_eq!(lines.starts_with('!'), running, "{}: {}", id, lines);
            prop_assert_eq!(lines.contains('!'), running || does(&id) == 1, "{}: {}", id, lines);
            running = if does(&id) == 0 { running } else { does(&id) == 1 };
        }
        // The chart for two keeps what is told: what sets the state and everything else stay in the planned order.
        let crew = view.crew(Phase::Strip, 2).unwrap().unwrap();
        for a in &crew.stints {
            for b in &crew.stints {
                let (one, other) = (a.steps[0], b.steps[0]);
                let sets = [one, other].iter().any(|at| does(&plan.steps[*at].key.id(&view.procedure)) > 0);
                prop_assert!(one >= other || !sets || a.end <= b.start, "{:?} {:?}", a, b);
            }
        }
    }
}
