//! How far the engine is turned to a cylinder, along the planned order, against a crankshaft of our own that is turned
//! degree by degree.

use benchleaf::model::{Deed, Phase};
use benchleaf::sheet::plain_text;
use benchleaf::{Choosing, Memory, PacketOptions, Request, Workshop};
use proptest::prelude::*;

const HEAD: &str = "family e \"E\" { origin \"invented for tests\"  turns anticlockwise seen from rear
    cycle four-stroke  firing order 1, 3, 2 }
axis cyl \"cylinder\" = 1 .. 3
ask seen \"Seen?\" = yes, no
part crankshaft \"Crankshaft\" { turned by hand }
part cover[cyl] \"Cover\"
";

/// What is told of each turn in the packet of a phase, in order.
fn told(text: &str, phase: Phase, record: Option<&str>, as_written: bool) -> Vec<String> {
    let mut files = Memory::new().with("e.rebuild", format!("{HEAD}{text}"));
    if let Some(record) = record {
        files = files.with("e.job.yaml", record);
    }
    let mut workshop = Workshop::over(files);
    let choosing = Choosing { as_written, ..Choosing::default() };
    let record = record.map(|_| std::path::Path::new("e.job.yaml"));
    let request = Request { choosing, record, ..Request::of("e.rebuild") };
    let outcome = workshop.job(&request);
    let view = outcome.value.unwrap_or_else(|| panic!("{:?}", outcome.diagnostics));
    let words = plain_text(&view.packet(&workshop, &PacketOptions { all: true, ..PacketOptions::of(phase) }));
    let turns = words.lines().filter(|line| line.contains("crankshaft anticlockwise"));
    turns
        .map(|line| {
            line.trim().trim_end_matches(" [ ]").trim_start_matches(|c: char| !c.is_alphabetic()).to_owned()
        })
        .collect()
}

#[test]
fn the_angle_follows_from_firing_order_and_the_turn_before() {
    let text = "strip covers \"Covers\" { each cyl apart  turn to cyl bottom  take cover[cyl] }\n\
                strip set \"Set\" { after all covers  turn to cyl 1 top firing  turn as it runs to cyl 3 top firing\n\
                turn to cyl 3 top  turn as it runs 2 turn to cyl 3 top  turn clockwise to cyl 1 bottom }\n";
    let turns = told(text, Phase::Strip, None, true);
    let way = "Turn the crankshaft anticlockwise, seen from the rear,";
    assert_eq!(
        turns[..6],
        [
            format!("{way} until cylinder 1 is at bottom dead centre."),
            format!("{way} by 120°, until cylinder 2 is at bottom dead centre."),
            format!("{way} by 120°, until cylinder 3 is at bottom dead centre."),
            // A bottom doesn't say which of the two turns it is.
            format!("{way} until cylinder 1 is at top dead centre, firing: both valves shut."),
            format!("{way} by 240°, until cylinder 3 is at top dead centre, firing: both valves shut."),
            "Cylinder 3 is at top dead centre already: see that it is, or turn the crankshaft anticlockwise, seen from \
             the rear, until it is."
                .to_owned(),
        ]
    );
    assert!(turns[6].starts_with(&format!("{way} by 2 turns (720°), until cylinder 3")), "{turns:?}");
}

#[test]
fn backwards_is_the_rest_of_the_turn() {
    let text = "strip set \"Set\" { turn to cyl 1 top firing  turn clockwise to cyl 3 top firing }\n";
    let mut workshop = Workshop::over(Memory::new().with("e.rebuild", format!("{HEAD}{text}")));
    let view = workshop.job(&Request::of("e.rebuild")).value.unwrap();
    let words = plain_text(&view.packet(&workshop, &PacketOptions::of(Phase::Strip)));
    assert!(
        words.contains("Turn the crankshaft clockwise, seen from the rear, by 480°, until cylinder 3"),
        "{words}"
    );
}

#[test]
fn where_it_stood_is_forgotten() {
    let unknown = |text: &str, phase| {
        let turns = told(text, phase, None, true);
        assert!(turns.len() > 1, "{turns:?}");
        assert!(turns.iter().skip(1).all(|turn| !turn.contains('°')), "{text}: {turns:?}");
    };
    // By a turn without a cylinder, with the crankshaft out, or while a held step waits.
    unknown(
        "strip a \"A\" { turn to cyl 1 top  turn as it runs 360 deg  turn to cyl 2 top }\n",
        Phase::Strip,
    );
    unknown("strip a \"A\" { turn to cyl 1 top  take crankshaft  turn to cyl 2 top }\n", Phase::Strip);
    unknown(
        "strip a \"A\" { when seen = yes  turn to cyl 1 top }\nstrip b \"B\" { after a  turn to cyl 2 top }\n",
        Phase::Strip,
    );
    // From step to step of the start, where the engine may have run; and from phase to phase.
    unknown(
        "start a \"A\" { turn to cyl 1 top }\nstart b \"B\" { after a  turn to cyl 2 top }\n",
        Phase::Start,
    );
    let text = "strip a \"A\" { turn to cyl 1 top }\nsurvey b \"B\" { turn to cyl 2 top }\n";
    assert!(told(text, Phase::Survey, None, true).iter().all(|turn| !turn.contains('°')));
    // Within a step of the start nothing ran.
    let text = "start a \"A\" { turn to cyl 1 top  turn to cyl 2 top }\n";
    assert!(told(text, Phase::Start, None, true)[1].contains("120°"));
}

#[test]
fn a_step_that_is_left_out_turns_nothing() {
    let text = "strip a \"A\" { turn to cyl 1 top }\nstrip b \"B\" { after a  when seen = yes  turn to cyl 3 top }\n\
                strip c \"C\" { after b  turn to cyl 2 top }\n";
    let record = |answer: &str| format!("job: \"1\"\nprocedure: e.rebuild\nanswers: {{seen: {answer}}}\n");
    let turns = told(text, Phase::Strip, Some(&record("no")), true);
    assert!(turns[1].contains("by 120°, until cylinder 2"), "{turns:?}");
    let turns = told(text, Phase::Strip, Some(&record("yes")), true);
    assert!(turns[1].contains("by 240°, until cylinder 3") && turns[2].contains("by 240°, until cylinder 2"));
}

#[test]
fn a_stated_angle_that_the_planned_order_spoils_gives_way() {
    // As written, 2 follows 1 by 120 degrees; with the sides sorted, 3 comes between them.
    let text = "setup side \"Side\" = left (at first), right  change 300 s\n\
        strip a \"A\" { with side left  turn to cyl 1 top }\n\
        strip b \"B\" { after a  with side right  turn as it runs 120 deg to cyl 2 top }\n\
        strip c \"C\" { after a  with side left  turn to cyl 3 top }\n";
    let written = told(text, Phase::Strip, None, true);
    assert!(
        written[1].contains("by 120°, until cylinder 2") && written[2].contains("by 120°, until cylinder 3")
    );
    let planned = told(text, Phase::Strip, None, false);
    assert!(planned[1].contains("by 240°, until cylinder 3"), "{planned:?}");
    assert!(planned[2].contains("by 240°, until cylinder 2"), "{planned:?}");
}

/// Where the crank pins of a three fired 1, 3, 2 are: degrees of each piston from its firing top, when that of
/// cylinder 1 is `at`. By hand.
fn from_top(cylinder: usize, at: u32) -> u32 {
    (at + 720 - [0, 480, 240][cylinder - 1]) % 720
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn whatever_the_order_each_angle_brings_its_cylinder_there(
        wanted in proptest::collection::vec((1..4usize, 0..4usize), 2..7),
        sides in proptest::collection::vec(0..3usize, 7),
    ) {
        const CENTRES: [&str; 4] = ["bottom", "top", "top firing", "top overlap"];
        let mut text = format!("{HEAD}setup side \"Side\" = left (at first), right, top  change 300 s\n");
        for (index, (cylinder, centre)) in wanted.iter().enumerate() {
            let side = ["left", "right", "top"][sides[index]];
            text += &format!(
                "strip s{index} \"S{index}\" {{ with side {side}  turn to cyl {cylinder} {} }}\n", CENTRES[*centre]
            );
        }
        let mut workshop = Workshop::over(Memory::new().with("e.rebuild", text));
        let view = workshop.job(&Request::of("e.rebuild")).value.unwrap();
        let strip = view.plan.phase(Phase::Strip).unwrap();
        // Every place in which the crankshaft may stand at first is tried.
        for start in (0..720).step_by(60) {
            let mut at: Option<u32> = None;
            for act in strip.steps.iter().flat_map(|step| &step.lines) {
                let benchleaf::plan::PlannedLine::Act(planned) = act else { continue };
                let Deed::TurnByHand { to: Some(to), .. } = &planned.act.deed else { continue };
                let benchleaf::model::At::Position(cylinder) = to.cylinder else { unreachable!() };
                let there = |at: u32| {
                    let own = from_top(usize::from(cylinder) + 1, at);
                    match to.dead_centre {
                        benchleaf::model::DeadCentre::Bottom => own % 360 == 180,
                        benchleaf::model::DeadCentre::Top => own.is_multiple_of(360),
                        benchleaf::model::DeadCentre::Firing => own == 0,
                        benchleaf::model::DeadCentre::Overlap => own == 360,
                    }
                };
                let from = at.unwrap_or(start);
                let first = (0..720).find(|angle| there((from + angle) % 720)).unwrap();
                if let Some(told) = planned.turned {
                    prop_assert!(at.is_some(), "known before anything was turned to");
                    prop_assert_eq!(told.base().to_degrees().round() as u32, first);
                }
                at = Some((from + first) % 720);
            }
        }
    }
}
