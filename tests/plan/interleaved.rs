//! Every order that a chart for several people leaves open, gone through act by act. Only what is printed is kept: each
//! person's own sequence, and what must be over before a stint begins. Values and needs are followed here afresh, from the
//! events of the network, as far as the answers of the job settle them.

use std::collections::BTreeMap;
use std::path::Path;

use benchleaf::decide::Truth;
use benchleaf::model::Phase;
use benchleaf::network::{ActNumber, Effect};
use benchleaf::plan::{Crew, PhasePlan, Standing};
use benchleaf::{JobView, Memory, Request, Workshop};
use proptest::prelude::*;

/// What an act needs of a thing, or brings about.
enum Turn {
    Need(Vec<bool>),
    Set(u8),
}

/// The acts of a unit, each with its needs and results.
type Acts = Vec<Vec<(usize, Turn)>>;

/// A value that open answers leave open.
const OPEN: u8 = u8::MAX;
const MOST_VALUES: u8 = 64;

fn number(value: benchleaf::network::Value) -> u8 {
    (0..MOST_VALUES)
        .find(|number| benchleaf::network::Values::first(usize::from(*number) + 1).contains(value))
        .expect("a value has its number")
}

/// The acts of a node in this job; those of an open question are left out, and what they may set is open.
fn acts(view: &JobView, node: usize) -> Acts {
    let mut acts: BTreeMap<(u32, Option<u32>), Vec<(usize, Turn)>> = BTreeMap::new();
    for event in &view.network.nodes[node].events {
        let truth = view.decisions.case(&view.procedure, &view.network, &event.case);
        let turn = match (&event.effect, &truth) {
            (_, Truth::No) | (Effect::Need(..), Truth::Open(_)) => continue,
            (Effect::Need(wanted, _), Truth::Yes) => {
                let mut allowed = vec![false; usize::from(MOST_VALUES)];
                for value in wanted.iter() {
                    allowed[usize::from(number(value))] = true;
                }
                Turn::Need(allowed)
            }
            (Effect::Set(value), Truth::Yes) => Turn::Set(number(*value)),
            (Effect::Set(_), Truth::Open(_)) => Turn::Set(OPEN),
        };
        acts.entry((event.member, event.act.map(ActNumber::number)))
            .or_default()
            .push((event.thing.index(), turn));
    }
    // What changes nothing is done all the same, before what comes behind it.
    acts.entry((0, None)).or_default();
    acts.into_values().collect()
}

/// Goes through one act; says what it needed in vain.
fn act(values: &mut [u8], act: &[(usize, Turn)]) -> Result<(), usize> {
    for (thing, turn) in act {
        match turn {
            Turn::Set(value) => values[*thing] = *value,
            Turn::Need(allowed) => {
                let value = values[*thing];
                if value != OPEN && !allowed[usize::from(value)] {
                    return Err(*thing);
                }
            }
        }
    }
    Ok(())
}

/// What has which value when a phase begins.
fn beginning(view: &JobView, phase: Phase) -> Vec<u8> {
    let mut values: Vec<u8> = view.network.things.iter().map(|thing| number(thing.start)).collect();
    for (before, order) in view.network.orders.range(..=phase) {
        if *before == Phase::Build {
            for (value, thing) in values.iter_mut().zip(&view.network.things) {
                *value = thing.at_build.map_or(*value, number);
            }
        }
        if *before < phase {
            for node in order {
                for own in acts(view, node.index()) {
                    let _ = act(&mut values, &own);
                }
            }
        }
    }
    values
}

/// How many moments there are, and the largest number of them at one count of acts.
fn go_through(view: &JobView, plan: &PhasePlan, crew: &Crew) -> (usize, usize) {
    let work: Vec<usize> = (0..crew.stints.len()).filter(|at| !crew.stints[*at].hands.is_empty()).collect();
    let node = |at: usize| plan.steps[crew.stints[at].steps[0]].node;
    let own: Vec<Acts> = work.iter().map(|at| acts(view, node(*at).index())).collect();
    // What must be over before each: by the person's own sequence, and by what is printed beside it.
    let before: Vec<Vec<usize>> = work
        .iter()
        .map(|at| {
            let stint = &crew.stints[*at];
            let over = |other: &usize| {
                let other = &crew.stints[work[*other]];
                let same = other.hands.iter().any(|person| stint.hands.contains(person));
                let printed = stint.not_before.iter().any(|step| other.steps.contains(step));
                printed
                    || same
                        && other != stint
                        && other.end <= stint.start
                        && (other.start, other.end) != (stint.start, stint.end)
            };
            (0..work.len()).filter(|other| work[*other] != *at && over(other)).collect()
        })
        .collect();
    let done = |at: &[u16], unit: usize| usize::from(at[unit]) == own[unit].len();
    let mut layer: BTreeMap<Vec<u16>, Vec<Vec<u8>>> = BTreeMap::new();
    // What is done already was done before the first of these.
    let mut values = beginning(view, plan.phase);
    for step in plan.steps.iter().filter(|step| step.standing == Standing::Done && step.member == 0) {
        for own in acts(view, step.node.index()) {
            let _ = act(&mut values, &own);
        }
    }
    layer.insert(vec![0; work.len()], vec![values]);
    let (mut moments, mut widest) = (0, 0);
    while !layer.is_empty() {
        moments += layer.len();
        widest = widest.max(layer.len());
        let mut next: BTreeMap<Vec<u16>, Vec<Vec<u8>>> = BTreeMap::new();
        for (at, states) in &layer {
            for unit in (0..work.len()).filter(|unit| !done(at, *unit)) {
                if at[unit] == 0 && !before[unit].iter().all(|other| done(at, *other)) {
                    continue;
                }
                let mut then = at.clone();
                then[unit] += 1;
                for state in states {
                    let mut values = state.clone();
                    if let Err(thing) = act(&mut values, &own[unit][usize::from(at[unit])]) {
                        let id = view.network.nodes[node(work[unit]).index()].id(&view.procedure);
                        panic!("{id} needs what is not so: {:?}", view.network.things[thing].kind);
                    }
                    let known = next.entry(then.clone()).or_default();
                    if !known.contains(&values) {
                        known.push(values);
                    }
                }
            }
        }
        // What came to the same moment by other ways came to the same values.
        assert!(
            next.values().all(|states| states.len() == 1),
            "the order of acts decides what comes of them"
        );
        layer = next;
    }
    (moments, widest)
}

fn view(procedure: &str, record: Option<&str>) -> JobView {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let record = record.map(|record| root.join(record));
    let path = root.join(procedure);
    let mut workshop = Workshop::new();
    let outcome = workshop.job(&Request { record: record.as_deref(), ..Request::of(&path) });
    outcome.value.expect("a shipped job is sound")
}

/// All charts of a job, gone through.
fn every_chart(view: &JobView, people: u32) {
    for plan in &view.plan.phases {
        let Some(crew) = view.crew(plan.phase, people).expect("there are hands enough") else { continue };
        let (moments, widest) = go_through(view, plan, &crew);
        let acts = crew.stints.iter().filter(|stint| !stint.hands.is_empty()).count();
        assert!(acts == 0 || moments > acts, "{:?}", plan.phase);
        let shared = plan.phase == Phase::Start || acts < 10 || widest > 1;
        assert!(shared, "{:?}: nothing is done beside anything", plan.phase);
    }
}

#[test]
fn whatever_the_chart_of_the_shipped_engine_leaves_open_is_allowed() {
    every_chart(&view("procedures/brackwater3.rebuild", None), 2);
    every_chart(&view("procedures/brackwater3.rebuild", Some("procedures/brackwater3.ready.job.yaml")), 2);
    every_chart(&view("procedures/brackwater3.rebuild", Some("procedures/brackwater3.job.yaml")), 3);
}

#[test]
fn whatever_the_charts_of_the_other_shipped_machines_leave_open_is_allowed() {
    let jobs = [
        ("hallowmere4", None),
        ("hallowmere4", Some("hallowmere4.bodged.ready")),
        ("cawdale2", None),
        ("cawdale2", Some("cawdale2.ready")),
        ("skerryvane180", None),
    ];
    for (family, record) in jobs {
        let record = record.map(|record| format!("procedures/{record}.job.yaml"));
        every_chart(&view(&format!("procedures/{family}.rebuild"), record.as_deref()), 2);
    }
}

/// A step of a random engine.
#[derive(Debug, Clone)]
struct Work {
    under: Vec<usize>,
    within: Option<usize>,
    minutes: u32,
    hands: u32,
    wait: Option<(u32, bool)>,
    stand: Option<usize>,
    tool: bool,
    hold: bool,
    /// Turns the crankshaft, sets a state, cuts something off, puts the part back at once, nothing.
    more: u32,
    when: Option<bool>,
}

fn text(works: &[Work]) -> String {
    let mut text = String::from(
        "family small \"Small\" { edition 1  origin \"invented for a test\" }\n\
         setup stand \"Stand\" = up (at first), over  change 60 s\nstate oil \"Oil\" = full (at first), drained\n\
         tool hoist \"Hoist\" { kind hoist }\nask fan \"Fan?\" = yes, no\n",
    );
    for (index, work) in works.iter().enumerate() {
        let mut under: Vec<String> = work.under.iter().map(|other| format!("part{other}")).collect();
        let within = work.within.filter(|host| *host < index).map(|host| {
            // What lies in an assembly that is off is covered by nothing on the engine.
            under.clear();
            format!("within part{host}")
        });
        let under = if under.is_empty() { String::new() } else { format!("under {}", under.join(", ")) };
        let within = within.unwrap_or_default();
        text += &format!("part part{index} \"Part {index}\" {{ {under} {within}  fate reuse }}\n");
    }
    for (index, work) in works.iter().enumerate() {
        text += &format!(
            "strip step{index} \"Step {index}\" {{ hands {}  time {} min ",
            work.hands, work.minutes
        );
        if let Some(stand) = work.stand {
            text += &format!(" with stand {} ", ["up", "over"][stand]);
        }
        if work.tool {
            text += " tools hoist ";
        }
        if let Some(fan) = work.when {
            text += &format!(" when fan = {} ", if fan { "yes" } else { "no" });
        }
        if let Some((minutes, true)) = work.wait {
            text += &format!(" wait {minutes} min ");
        }
        text += &format!(" take part{index} ");
        text += match work.more {
            0 => " turn as it runs 90 deg ",
            1 => " set oil = drained ",
            2 => " isolate \"fuel\" ",
            _ => "",
        };
        if work.hold {
            text += " hold \"a second person looks\"  do \"Go on.\" ";
        }
        if let Some((minutes, false)) = work.wait {
            text += &format!(" wait {minutes} min ");
        }
        text += "}\n";
    }
    text
}

fn works() -> impl Strategy<Value = Vec<Work>> {
    (2..9usize).prop_flat_map(|count| {
        (0..count)
            .map(|index| {
                let first = (
                    proptest::collection::vec(0..index.max(1), 0..3),
                    proptest::option::weighted(0.3, 0..index.max(1)),
                    1..60u32,
                    1..3u32,
                    proptest::option::weighted(0.2, (1..40u32, any::<bool>())),
                );
                let more = (
                    proptest::option::weighted(0.3, 0..2usize),
                    proptest::bool::weighted(0.2),
                    proptest::bool::weighted(0.1),
                    0..9u32,
                    proptest::option::weighted(0.1, any::<bool>()),
                );
                (first, more).prop_map(
                    move |((mut under, within, minutes, hands, wait), (stand, tool, hold, more, when))| {
                        under.retain(|other| *other < index);
                        under.sort_unstable();
                        under.dedup();
                        Work { under, within, minutes, hands, wait, stand, tool, hold, more, when }
                    },
                )
            })
            .collect::<Vec<_>>()
    })
}

/// Whether a step takes the whole engine, by what is written.
fn whole(work: &Work) -> bool {
    work.more < 3
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 80, ..ProptestConfig::default() })]

    #[test]
    fn whatever_the_chart_of_a_random_engine_leaves_open_is_allowed(works in works(), fan in any::<bool>()) {
        let text = text(&works);
        let record = format!("job: \"1\"\nprocedure: e.rebuild\nanswers: {{fan: {}}}\n", if fan { "yes" } else { "no" });
        let files = Memory::new().with("e.rebuild", text.clone()).with("e.job.yaml", record);
        let mut workshop = Workshop::over(files);
        let request = Request { record: Some(Path::new("e.job.yaml")), ..Request::of("e.rebuild") };
        let outcome = workshop.job(&request);
        // A step that is left out may leave what another needs undone: that is refused, and nothing to share out.
        let Some(view) = outcome.value else { return Ok(()) };
        let plan = view.plan.phase(Phase::Strip).unwrap();
        let crew = view.crew(Phase::Strip, 2).unwrap().unwrap();
        go_through(&view, plan, &crew);
        let on_chart = crew.stints.iter().filter(|stint| !stint.hands.is_empty()).count();
        let to_do = plan.steps.iter().filter(|step| step.standing == Standing::Present).count();
        prop_assert_eq!(on_chart, to_do, "{}", text);
        // What takes the whole engine is beside nothing that isn't within a part that is off.
        let number = |stint: &benchleaf::plan::Stint| {
            let id = plan.steps[stint.steps[0]].key.id(&view.procedure);
            id.trim_start_matches("step").parse::<usize>().unwrap()
        };
        let planned: Vec<usize> = crew.stints.iter().map(|stint| stint.steps[0]).collect();
        for (i, a) in crew.stints.iter().enumerate() {
            for (j, b) in crew.stints.iter().enumerate() {
                let (one, other) = (number(a), number(b));
                if one == other || !whole(&works[one]) || works[other].within.is_some_and(|host| host < other) && !whole(&works[other]) {
                    continue;
                }
                let beside = a.start < b.end && b.start < a.end;
                prop_assert!(!beside, "{} beside {}\n{}", one, other, text);
                // And it keeps its place in the planned order.
                prop_assert!(planned[i] > planned[j] || a.start <= b.start, "{} and {}\n{}", one, other, text);
            }
        }
    }
}

/// The chart of the strip of a small procedure.
fn chart(text: &str) -> (JobView, Crew) {
    let head = "family e \"E\" { origin \"invented for tests\" }\n";
    let mut workshop = Workshop::over(Memory::new().with("e.rebuild", format!("{head}{text}")));
    let outcome = workshop.job(&Request::of("e.rebuild"));
    let view = outcome.value.unwrap_or_else(|| panic!("{:?}", outcome.diagnostics));
    let crew = view.crew(Phase::Strip, 2).unwrap().unwrap();
    go_through(&view, view.plan.phase(Phase::Strip).unwrap(), &crew);
    (view, crew)
}

/// When a step is worked.
fn when(view: &JobView, crew: &Crew, id: &str) -> Option<(u64, u64)> {
    let plan = view.plan.phase(Phase::Strip).unwrap();
    let own = |step: &usize| plan.steps[*step].key.id(&view.procedure) == id;
    let stint = crew.stints.iter().find(|stint| !stint.hands.is_empty() && stint.steps.iter().any(own))?;
    Some((stint.start, stint.end))
}

fn beside(text: &str, one: &str, other: &str) -> bool {
    let (view, crew) = chart(text);
    let (a, b) = (when(&view, &crew, one).unwrap(), when(&view, &crew, other).unwrap());
    a.0 < b.1 && b.0 < a.1
}

const PARTS: &str = "part lid \"Lid\"\npart pipe \"Pipe\"\npart pump \"Pump\"\npart wheel \"Wheel\" { within pump }\n\
    part bush \"Bush\" { within pump in place too }\nask seen \"Seen?\" = yes, no\n\
    state mains \"Mains\" = live (at first), off\nstate seat \"Engine sits on\" = stand (at first), bench\n\
    setup stand \"Stand\" = up (at first), over  change 60 s\n\
    tool hoist \"Hoist\" { kind hoist }\ntool crane \"Small crane\" { special }\n";

#[test]
fn nothing_is_done_beside_the_locking_off_or_moved_before_it() {
    // Nothing says that the draining comes behind it.
    let text = format!(
        "{PARTS}strip lock_off \"Lock off\" {{ time 15 min  isolate \"the motor\"  set mains = off }}\n\
         strip drain \"Drain\" {{ time 10 min  take lid }}\nstrip pipe_off \"Pipe\" {{ time 10 min  take pipe }}\n"
    );
    let (view, crew) = chart(&text);
    assert_eq!(when(&view, &crew, "drain"), Some((900, 1_500)));
    let plan = view.plan.phase(Phase::Strip).unwrap();
    let id = |step: &usize| plan.steps[*step].key.id(&view.procedure);
    let [alone] = crew.alone.as_slice() else { panic!("{:?}", crew.alone) };
    assert_eq!(alone.only_written.iter().map(id).collect::<Vec<_>>(), ["drain", "pipe_off"]);
    // Where a fact says it, that is not only written.
    let said = text.replace("{ time 10 min  take lid", "{ needs mains = off  time 10 min  take lid");
    let (view, crew) = chart(&said);
    let id = |step: &usize| view.plan.phase(Phase::Strip).unwrap().steps[*step].key.id(&view.procedure);
    assert_eq!(crew.alone[0].only_written.iter().map(id).collect::<Vec<_>>(), ["pipe_off"]);
    assert!(beside(&text, "drain", "pipe_off"), "what takes less goes beside");
}

#[test]
fn a_turn_of_the_crankshaft_takes_the_whole_engine_but_not_the_bench() {
    let turn = "strip turn \"Turn\" { time 10 min  turn as it runs 360 deg }\n";
    let text =
        format!("{PARTS}{turn}strip pin \"Bend the split pin\" {{ time 10 min  do \"Bend it halfway.\" }}\n");
    assert!(!beside(&text, "turn", "pin"));
    let bench = format!(
        "{PARTS}strip pump_off \"Pump off\" {{ time 5 min  take pump }}\n\
         strip turn \"Turn\" {{ after pump_off  time 10 min  turn as it runs 360 deg }}\n\
         strip bench \"Bench\" {{ after pump_off  time 10 min  take wheel  take bush  do \"Wash both.\" }}\n"
    );
    assert!(beside(&bench, "turn", "bench"));
    // With the pump on the engine the bush is taken there.
    let there = format!("{PARTS}{turn}strip bush_out \"Bush out\" {{ time 10 min  take bush }}\n");
    assert!(!beside(&there, "turn", "bush_out"));
}

#[test]
fn what_is_held_stays_out_and_what_is_written_behind_it_too() {
    let text = format!(
        "{PARTS}strip ask_first \"Ask\" {{ when seen = yes  time 5 min  take lid  set mains = off }}\n\
         strip pipe_off \"Pipe\" {{ time 10 min  take pipe }}\n"
    );
    let (view, crew) = chart(&text);
    assert!(crew.stints.is_empty() && crew.left_out.len() == 2);
    let free = text.replace("  set mains = off", "");
    let (_, crew) = chart(&free);
    assert_eq!((crew.stints.len(), crew.left_out.len()), (1, 1));
    drop(view);
}

#[test]
fn the_stand_turns_with_nobody_at_the_engine() {
    let text = format!(
        "{PARTS}strip lid_off \"Lid\" {{ time 10 min  take lid }}\n\
         strip pipe_off \"Pipe\" {{ with stand over  time 10 min  take pipe }}\n\
         strip pump_off \"Pump\" {{ time 10 min  take pump }}\n"
    );
    let (view, crew) = chart(&text);
    let at = |id| when(&view, &crew, id).unwrap();
    // A step that says nothing of the stand is done as the planned order leaves it.
    assert!(at("lid_off").1 + 60 <= at("pipe_off").0, "{crew:?}");
    assert!(at("pump_off").0 >= at("lid_off").1 + 60);
    assert!(beside(&text, "pipe_off", "pump_off"));
}

#[test]
fn where_the_engine_sits_is_a_place_and_one_hoist_is_one() {
    let seat = format!(
        "{PARTS}strip read \"Read the end float\" {{ time 30 min  do \"Read it.\" }}\n\
         strip move_it \"Set it down\" {{ time 10 min  set seat = bench }}\n"
    );
    let (view, crew) = chart(&seat);
    assert!(when(&view, &crew, "read").unwrap().1 <= when(&view, &crew, "move_it").unwrap().0);
    let with = |first: &str, then: &str| {
        format!(
            "{PARTS}strip one \"One\" {{ time 10 min  tools {first}  take lid }}\n\
             strip two \"Two\" {{ time 10 min  tools {then}  take pipe }}\n"
        )
    };
    assert!(!beside(&with("hoist", "hoist"), "one", "two"));
    assert!(!beside(&with("crane", "crane"), "one", "two"));
    assert!(beside(&with("hoist", "crane"), "one", "two"));
}

#[test]
fn whoever_signs_a_hold_is_at_nothing_else() {
    let text = format!(
        "{PARTS}strip one \"One\" {{ time 10 min  take lid  hold \"a second person looks\"  do \"Go on.\" }}\n\
         strip two \"Two\" {{ time 10 min  take pipe }}\n"
    );
    assert!(!beside(&text, "one", "two"));
}

#[test]
fn a_late_step_holds_up_only_what_stands_beside_it() {
    // The lid covers the pipe; whoever takes the pipe waits for the lid, whatever the clock says.
    let text = "part lid \"Lid\"\npart pipe \"Pipe\" { under lid }\npart pump \"Pump\"\n\
        strip lid_off \"Lid\" { time 10 min  take lid }\nstrip pump_off \"Pump\" { time 10 min  take pump }\n\
        strip pipe_off \"Pipe\" { hands 2  time 10 min  take pipe }\nstrip last \"Last\" { after pipe_off  time 5 min  do \"Sweep.\" }\n";
    let (view, crew) = chart(text);
    let plan = view.plan.phase(Phase::Strip).unwrap();
    let stint = |id: &str| {
        crew.stints.iter().find(|stint| plan.steps[stint.steps[0]].key.id(&view.procedure) == id).unwrap()
    };
    // Both are at it, so each waits for himself only.
    assert!(stint("pipe_off").not_before.is_empty());
    assert!(stint("last").not_before.is_empty());
    let alone = text.replace("hands 2 ", "");
    let (view, crew) = chart(&alone);
    let plan = view.plan.phase(Phase::Strip).unwrap();
    let told: Vec<(String, Vec<String>)> = crew
        .stints
        .iter()
        .map(|stint| {
            let id = |step: &usize| plan.steps[*step].key.id(&view.procedure);
            (id(&stint.steps[0]), stint.not_before.iter().map(id).collect())
        })
        .collect();
    let person = |id: &str| {
        crew.stints
            .iter()
            .find(|stint| plan.steps[stint.steps[0]].key.id(&view.procedure) == id)
            .unwrap()
            .hands[0]
    };
    let waits = person("pipe_off") != person("lid_off");
    let told = told.iter().find(|(id, _)| id == "pipe_off").unwrap();
    assert_eq!(told.1 == ["lid_off"], waits, "{told:?}");
}
