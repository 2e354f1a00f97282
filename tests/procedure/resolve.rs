//! Names, positions, guards, and what an earlier fault hides.

use benchleaf::diagnostics::Severity;
use benchleaf::procedure::model::{At, Deed, LinkEnd, Name, Question, StepId};

use super::{clean, codes, resolved};

#[test]
fn positions_are_read_by_name_and_by_axis() {
    let procedure = clean(
        "axis cyl = 1 .. 3\naxis valve = inlet, exhaust\npart rod[cyl, valve] \"Rod\"\n\
         strip one \"One\" { take rod[2, exhaust] }\n\
         strip rest \"Rest\" { each cyl together  take rod[cyl, inlet] }\n\
         strip bare \"Bare\" { put back rod[3] }\n",
    );
    let pattern = |step: u32| {
        let act = procedure.step(StepId(step)).acts().next().unwrap();
        let Deed::Part { what, .. } = &act.deed else { panic!("an act on parts") };
        what[0].pattern.0.to_vec()
    };
    assert_eq!(pattern(0), [At::Position(1), At::Position(1)]);
    assert_eq!(pattern(1), [At::Axis, At::Position(0)]);
    assert_eq!(pattern(2), [At::Position(2)]);
}

#[test]
fn links_lead_to_steps_positions_and_groups() {
    let procedure = clean(
        "axis cyl = 1 .. 2\npart piston[cyl] \"Piston\" { dry }\npart sump \"Sump\"\npart cover \"Cover\"\n\
         strip pull \"Pull\" { each cyl apart  take piston }\n\
         block turn_over \"Turn over\" { strip lower \"Lower\" { after pull[2]  take sump } }\n\
         strip last \"Last\" { after turn_over, all pull  take cover }\n",
    );
    let lower = procedure.step(StepId(1));
    assert_eq!(lower.after[0].to, LinkEnd::Step(StepId(0)));
    assert_eq!(*lower.after[0].pattern.0, [At::Position(1)]);
    let last = procedure.step(StepId(2));
    assert!(matches!(last.after[0].to, LinkEnd::Group(_)));
    assert!(last.after[1].all);
}

#[test]
fn guards_ask_questions_bands_and_results() {
    let procedure = clean(
        "ask rebore \"Bored?\" = yes, no\n\
         part liner \"Liner\"\n\
         gauge wear \"Wear\" { of liner  unit mm  bands good 0 mm .. 0.05 mm, renew above 50 um  from \"demo\" }\n\
         look cracks \"Cracks\" { of liner  results sound, cracked }\n\
         survey see \"See\" { gauge wear  look cracks }\n\
         survey act \"Act\" { when rebore = no and wear = renew and cracks = cracked  do \"Note it.\" }\n",
    );
    let terms = &procedure.step(StepId(1)).when.0;
    assert_eq!(terms.iter().map(|term| term.answer).collect::<Vec<_>>(), [1, 1, 1]);
    assert!(matches!(terms[0].question, Question::Ask(_)));
    assert!(matches!(terms[1].question, Question::Gauge(_)));
    assert!(matches!(terms[2].question, Question::Look(_)));
}

#[test]
fn a_name_that_is_missing_everywhere_is_told_once_with_all_its_places() {
    let outcome = resolved(
        "part cover \"Cover\"\n\
         strip a \"A\" { take plate }\nstrip b \"B\" { take plate, cover }\nstrip c \"C\" { clean plate }\n",
    );
    assert_eq!(codes(&outcome.diagnostics), ["procedure/unknown-name"]);
    assert_eq!(outcome.diagnostics[0].labels.len(), 3);
}

#[test]
fn what_rests_on_an_earlier_fault_is_not_told() {
    // The axis is unknown: positions of what has it are not judged, and the tool probably meant counts as used.
    let outcome = resolved(
        "axis cyl = 1 .. 3\ntool long_bar \"Bar\"\npart rod[cyll, vlave] \"Rod\"\n\
         strip a \"A\" { tools lnog_bar  take rod[7, 8, 9] }\n",
    );
    let told = codes(&outcome.diagnostics);
    assert_eq!(told, ["procedure/unknown-name"; 3]);
}

#[test]
fn files_that_are_brought_in_may_hold_what_nothing_uses() {
    use benchleaf::source::Sources;
    let mut sources = Sources::new();
    let tree = |sources: &mut Sources, name: &str, text: &str| {
        let file = sources.add(name, text);
        benchleaf::language::parse(file, text).value
    };
    let shared = tree(&mut sources, "shared.rebuild", "tool bar \"Bar\"\ntool lever \"Lever\"\n");
    let root = tree(
        &mut sources,
        "root.rebuild",
        "use \"shared.rebuild\"\nfamily e \"E\" { origin \"invented\" }\npart cover \"Cover\"\n\
         strip lift \"Lift\" { tools bar  take cover }\n",
    );
    let outcome = benchleaf::procedure::resolve(&[shared, root]);
    assert_eq!(codes(&outcome.diagnostics), Vec::<&str>::new());
    assert!(matches!(outcome.value.names.get("lever"), Some(Name::Tool(_))));
}

#[test]
fn ten_faults_in_one_file_are_ten_complaints() {
    let outcome = resolved(
        "axis cyl = 1 .. 3\n\
         part head \"Head\" { mass 12 mm  held by head_blots }\n\
         part piston[cyl] \"Piston\" { under head  fate by gudgeon }\n\
         part block \"Block\"\n\
         fasteners head_bolts 4 \"Head bolt\" { thread M0  length 40 }\n\
         joint head_joint \"Head\" { clamps head, block  holes head_bolts at (0,0) (90,0) (0,90) mm }\n\
         gauge bore \"Bore\" { of piston }\n\
         strip lift \"Lift\" { time 5 m  undo head_joint  take head  undo piston }\n\
         strip pull \"Pull\" { each cyl apart  take piston[4] }\n",
    );
    let errors = outcome.diagnostics.iter().filter(|d| d.severity() == Severity::Error).count();
    assert_eq!(errors, 10, "{:#?}", codes(&outcome.diagnostics));
    assert!(outcome.diagnostics.iter().all(|d| d.mend.is_some() && !d.labels.is_empty()));
}

#[test]
fn a_unit_that_does_not_exist_is_told_where_the_tree_has_one() {
    use benchleaf::language::tree::{Item, PartClause};
    let text = "family e \"E\" { origin \"invented\" }\npart cover \"Cover\" { mass 3 kg }\nstrip lift \"Lift\" { take cover }\n";
    let mut sources = benchleaf::source::Sources::new();
    let file = sources.add("test.rebuild", text);
    let mut tree = benchleaf::language::parse(file, text).value;
    let Item::Part(part) = &mut tree.items[1] else { panic!("a part") };
    let PartClause::Mass(mass) = &mut part.clauses[0].value else { panic!("a mass") };
    mass.unit.as_mut().unwrap().value = "kilo".to_owned();
    let outcome = benchleaf::procedure::resolve(&[tree]);
    assert_eq!(codes(&outcome.diagnostics), ["procedure/unknown-unit"]);
}

#[test]
fn faults_of_spelling_bring_no_faults_of_meaning() {
    let mut sources = benchleaf::source::Sources::new();
    let path = std::path::Path::new("tests/procedure/spelling.rebuild");
    let outcome = benchleaf::procedure::load(&mut sources, path);
    let told = codes(&outcome.diagnostics);
    assert!(told.len() >= 8, "{told:#?}");
    let of_meaning: Vec<&&str> = told.iter().filter(|code| !code.starts_with("language/")).collect();
    assert!(of_meaning.is_empty(), "{:#?}", outcome.diagnostics);
}

/// Of what a step says of one setup the first that holds at a position counts there, and only that.
#[test]
fn of_two_ways_to_stand_the_first_that_holds_counts() {
    let engine = clean(
        "axis cyl \"cylinder\" = 1 .. 2\n\
         setup stand \"Stand\" = up (at first), over  turns engine = up up top, over up below\n\
         part lid[cyl] \"Lid\"\n\
         strip off \"Off\" { each cyl apart  with stand over at cyl = 2  with stand up  take lid[cyl] }\n",
    );
    let step = engine.steps.iter().next().unwrap();
    let stands = |place| {
        let bound = engine.bound(&step.each, benchleaf::procedure::model::Place(place));
        step.setups_at(&bound).map(|stance| stance.value).collect::<Vec<_>>()
    };
    assert_eq!([stands(0), stands(1)], [vec![0], vec![1]]);
}

#[test]
fn a_name_in_two_words_is_told_from_two_names() {
    let mut sources = benchleaf::source::Sources::over(benchleaf::source::Memory::new().with(
        "winch.rebuild",
        "family winch \"Winch\" { origin \"invented\" }\npart crank \"Crank\" { held by crank_nut }\npart ring \"Ring\"\n\
         fasteners crank_nut 1 \"Crank nut\"\nstrip crank_off \"Crank off\" { undo crank nut  take crank ring }\n",
    ));
    let outcome = benchleaf::procedure::load(&mut sources, std::path::Path::new("winch.rebuild"));
    let told: Vec<(&str, Option<&str>)> = outcome
        .diagnostics
        .iter()
        .map(|told| (told.message.as_str(), told.edit.as_ref().map(|edit| edit.text.as_str())))
        .collect();
    assert_eq!(
        told,
        [
            ("`crank nut` is no name: a name is one word", Some("crank_nut")),
            ("no comma between `crank` and `ring`", Some(",")),
        ]
    );
}
