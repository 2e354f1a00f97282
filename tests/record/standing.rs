//! What a step waits for by the whole of a record: the owner's yes to what is sent out, a condition of the engine, of a joint, of
//! what is read or looked at, what was ordered in a wrong size, what can't be looked at any more. All of it is invented.

use std::path::Path;

use benchleaf::decide::{order_list, verdict_text};
use benchleaf::packet::PacketOptions;
use benchleaf::plan::Standing;
use benchleaf::procedure::model::Phase;
use benchleaf::sheet::{SheetKind, plain_text};
use benchleaf::source::Memory;
use benchleaf::workshop::{JobView, Request, Workshop};

const ENGINE: &str = "family engine \"Engine\" { origin \"invented for tests\"  cycle four-stroke }
part head \"Head\" { held by head_bolts  fate send \"skim it\" when flatness = skim, renew when flatness = renew, else reuse }
part lid \"Lid\" { under head  fate by lid_look or gap }
part crank \"Crank\" { under lid  fate by journal }
part shell \"Shell\" { under crank  fate renew  dry  sized by journal }
fasteners head_bolts 4 \"Head bolt\" { thread M8x1.25  reusable  dry }
joint head_joint \"Head joint\" { clamps head, lid  holes head_bolts at (0,0) (60,0) (0,60) (60,60) mm  tighten head_bolts 10 N.m from \"invented\" }
gauge flatness \"Flatness\" { of head  unit mm  taken off  plausible 0 mm .. 1 mm
    instrument \"straight edge\" resolution 0.01 mm
    bands good 0 mm .. 0.08 mm, skim 0.08 mm .. 0.30 mm, renew above 0.30 mm from \"invented\" }
gauge journal \"Journal\" { of crank  unit mm  taken off  made 41.98 mm .. 42.00 mm from \"invented\"
    worn 41.95 mm from \"invented\"  instrument \"micrometer\" resolution 0.001 mm
    sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
gauge gap \"Gap under the lid\" { of lid  unit mm  taken in place  plausible 0 mm .. 2 mm
    instrument \"feelers\" resolution 0.01 mm  bands good below 0.20 mm, renew above 0.20 mm from \"invented\" }
look lid_look \"Lid\" { of lid  results good, bent }
strip read_gap \"Read the gap\" { gauge gap }
strip open \"Open it\" { undo head_bolts  take head, lid, crank, shell }
survey read_head \"Read the head\" { gauge flatness }
survey read_rest \"Read the rest\" { gauge journal  look lid_look }
survey send_head \"Send the head\" { after read_head, read_rest  send head }
survey head_back \"Take it back\" { receive head  gauge flatness  accept head }
";
const PRICES: &str = "labour: 60 EUR\ngoods: {shell: {price: 20 EUR}}\nwork: {head: {price: 45 EUR}}\n";
const READ: &str = "readings: {as_found: {gap: 0.10 mm, flatness: 0.12 mm, journal: 41.99 mm}}\nlooks: {as_found: {lid_look: good}}\n";

fn view(record: &str) -> JobView {
    let (view, told) = opened(record);
    view.unwrap_or_else(|| panic!("{told:?}"))
}

/// A job, and what is complained of it.
fn opened(record: &str) -> (Option<JobView>, Vec<String>) {
    let record = format!("job: \"1\"\nprocedure: engine.rebuild\nprices: prices.yaml\n{record}");
    let files =
        Memory::new().with("engine.rebuild", ENGINE).with("prices.yaml", PRICES).with("job.yaml", record);
    let opened = Workshop::over(files).job(&Request::of(Path::new("job.yaml")));
    let told = opened.diagnostics.iter().map(|one| format!("{}: {}", one.code.name, one.message)).collect();
    (opened.value, told)
}

/// What a step waits for.
fn waits(view: &JobView, step: &str) -> Vec<String> {
    let mut steps = view.plan.steps().map(|(_, step)| step);
    let step = steps.find(|other| other.key.id(&view.procedure) == step).unwrap();
    match &step.standing {
        Standing::Held(holds) => holds.iter().map(|hold| hold.text.clone()).collect(),
        Standing::Present => Vec::new(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn nothing_is_sent_out_before_the_owner_has_agreed_to_an_estimate_that_covers_it() {
    let estimate = |work: &str| {
        format!("estimates: [{{number: a1, sum: 90 EUR, goods: {{shell: 20 EUR}}, work: {{{work}}}}}]\n")
    };
    let with = |rest: &str| waits(&view(&format!("{READ}{rest}")), "send_head");
    let yes = "the owner's yes to the work on the head: no estimate that is agreed covers it";
    // Nobody has asked him anything yet.
    assert_eq!(with(""), [""; 0]);
    assert_eq!(with(&estimate("head: 45 EUR")), [yes]);
    let agreed = "approved: [{by: \"the owner\", estimate: a1}]\n";
    assert_eq!(with(&format!("{}{agreed}", estimate("head: 45 EUR"))), [""; 0]);
    // He agreed when the work was not on it, or was cheaper, or to other things.
    assert_eq!(with(&format!("{}{agreed}", estimate(""))), [yes]);
    assert_eq!(with(&format!("{}{agreed}", estimate("head: 44 EUR"))), [yes]);
    let shell = agreed.replace("estimate: a1", "items: [shell]");
    assert_eq!(with(&format!("{}{shell}", estimate("head: 45 EUR"))), [yes]);
    // What has left is not called back by it, and is told where it is.
    let record = format!("{READ}{}sent: {{head: {{sent: 2026-03-05}}}}\n", estimate("head: 45 EUR"));
    let sent = view(&record);
    assert!(
        !verdict_text(&sent.procedure, &sent.job, &sent.decisions, Some(&[])).contains("agreed to covers it")
    );
}

#[test]
fn a_condition_of_the_engine_stops_all_but_taking_it_apart_and_measuring() {
    let found =
        "notes: [{about: engine, found: {condition: \"full of sea water\"}, by: HK, date: 2026-03-05}]\n";
    let held = view(&format!("{READ}{found}"));
    let cause = "a decision: what becomes of the engine, found full of sea water";
    for step in ["open", "read_head"] {
        assert_eq!(waits(&held, step), [""; 0], "{step}");
    }
    for step in ["send_head", "fit:lid", "tighten:head_joint"] {
        assert!(waits(&held, step).contains(&cause.to_owned()), "{step}: {:?}", waits(&held, step));
    }
    let lines = order_list(&held.procedure, &held.job, &held.decisions).lines;
    assert!(lines.iter().all(|line| line.waits_for.words.contains(&cause.to_owned())), "{lines:?}");
    let verdict = verdict_text(&held.procedure, &held.job, &held.decisions, Some(&[]));
    assert!(verdict.contains("Engine: found full of sea water: not settled"), "{verdict}");
    let settled = format!(
        "{READ}{found}settled: {{engine: {{goes_back: \"flushed within the hour\", by: HK, date: 2026-03-06}}}}\n"
    );
    let settled = view(&settled);
    for (phase, kind) in [(Phase::Build, SheetKind::Front), (Phase::Start, SheetKind::Handover)] {
        let sheet = plain_text(
            &settled
                .packet(&Workshop::new(), &PacketOptions { sheets: vec![kind], ..PacketOptions::of(phase) }),
        );
        let word = "Work on the engine goes on: flushed within the hour, HK, 2026-03-06.";
        assert!(sheet.contains(word), "{sheet}");
    }
    assert!(!waits(&settled, "fit:lid").contains(&cause.to_owned()));
    assert_eq!(waits(&settled, "send_head"), [""; 0]);
    // Nobody's word, and no word of a part, is one of the engine.
    let unsigned = opened(&format!("{found}settled: {{engine: {{goes_back: \"flushed\"}}}}\n"));
    assert!(unsigned.0.is_none() && unsigned.1[0].starts_with("record/no-reason"), "{:?}", unsigned.1);
    let renewed = opened(&format!("{found}settled: {{engine: {{renew: \"too far gone\"}}}}\n"));
    assert!(renewed.1[0].starts_with("record/unknown-answer"), "{:?}", renewed.1);
}

#[test]
fn a_condition_of_a_joint_or_of_what_is_read_or_seen_holds_what_it_is_of() {
    let with = |about: &str, step: &str| {
        waits(&view(&format!("{READ}notes: [{{about: {about}, found: {{condition: odd}}}}]\n")), step)
    };
    for (about, step, cause) in [
        ("head_joint", "tighten:head_joint", "a decision: what becomes of the head bolt, found odd"),
        ("flatness", "fit:head", "a decision: what becomes of the head, found odd"),
        ("lid_look", "fit:lid", "a decision: what becomes of the lid, found odd"),
    ] {
        assert!(with(about, step).contains(&cause.to_owned()), "{about}: {:?}", with(about, step));
        // Not what it is not of.
        for (other, step, _) in
            [("flatness", "fit:lid", ""), ("lid_look", "fit:head", ""), ("head_joint", "fit:lid", "")]
        {
            assert!(!with(other, step).iter().any(|hold| hold.contains("found odd")), "{other} at {step}");
        }
    }
}

#[test]
fn what_was_ordered_in_an_oversize_where_the_standard_goes_in_is_told_and_held() {
    let ordered = |size: &str, came: &str| {
        let (view, told) = opened(&format!("{READ}orders: {{shell: {{ordered: 2026-03-05{size}{came}}}}}\n"));
        let wrong = told.into_iter().filter(|one| one.starts_with("decide/wrong-size")).collect::<Vec<_>>();
        (wrong, waits(&view.unwrap(), "fit:shell"))
    };
    let came = ", arrived: 2026-03-09";
    assert_eq!(ordered("", ""), (vec![], vec!["the new shell: not in hand".to_owned()]));
    assert_eq!(ordered("", came), (vec![], vec![]));
    // Nought over is the standard size.
    assert_eq!(ordered(", size: 0 mm", came), (vec![], vec![]));
    let told = "decide/wrong-size: `shell` was ordered in 0.25 mm, and the standard size goes in";
    assert_eq!(ordered(", size: 0.25 mm", "").0, [told]);
    let held = vec!["the new shell in the standard size: not in hand".to_owned()];
    assert_eq!(ordered(", size: 0.25 mm", came), (vec![told.to_owned()], held));
    // While the journal isn't read nobody knows which goes in, and where it is under already the undersize does.
    for record in ["", "readings: {as_found: {journal: 41.74 mm}}\npresent: {journal: 0.25 mm}\n"] {
        let order = "orders: {shell: {ordered: 2026-03-05, size: 0.25 mm}}\n";
        let (_, told) = opened(&format!("{record}{order}"));
        assert!(!told.iter().any(|one| one.starts_with("decide/wrong-size")), "{told:?}");
    }
}

#[test]
fn what_can_not_be_looked_at_any_more_a_person_settles() {
    let never = "readings: {as_found: {gap: 0.10 mm, flatness: 0.02 mm, journal: 41.99 mm}}\n\
                 not_done: {read_rest: {because: \"the lid was straightened at once\", by: JS, date: 2026-03-05}}\n";
    let word = "settled: {lid_look: {good: \"it was only dented\", by: HK, date: 2026-03-06}}\n";
    let verdict = |record: &str| {
        let view = view(record);
        verdict_text(&view.procedure, &view.job, &view.decisions, Some(&[]))
    };
    let open = verdict(never);
    assert!(
        open.contains("Open questions\n") && open.contains("lid_look: it can't be had any more"),
        "{open}"
    );
    let settled = verdict(&format!("{never}{word}"));
    assert!(!settled.contains("Open questions"), "{settled}");
    let why = "lid: goes back\n      why: Lid never seen (the lid was straightened at once, JS, 2026-03-05): good, settled by HK \
               on 2026-03-06: it was only dented";
    assert!(settled.contains(why), "{settled}");
    // What can still be looked at, nobody settles.
    let (_, told) = opened(word);
    assert!(told.iter().any(|one| one.starts_with("decide/not-in-doubt")), "{told:?}");
    assert!(verdict(word).contains("lid_look: not taken"));
}

#[test]
fn what_came_off_before_is_not_read_in_place_and_stands_in_the_ledger() {
    let came = |word: &str| {
        format!(
            "readings: {{as_found: {{flatness: 0.02 mm, journal: 41.99 mm}}}}\nlooks: {{as_found: {{lid_look: good}}}}\n\
             notes: [{{about: lid, found: {{came: \"{word}\"}}, by: HK, date: 2026-03-05}}]\n"
        )
    };
    let off = view(&came("off"));
    let verdict = |view: &JobView| verdict_text(&view.procedure, &view.job, &view.decisions, Some(&[]));
    let cause = "gap: it can't be had any more (the lid came off before): a person settles it";
    assert!(verdict(&off).contains(cause), "{}", verdict(&off));
    assert!(!verdict(&off).contains("gap, as found: "), "nobody is sent to read it\n{}", verdict(&off));
    assert!(waits(&off, "fit:lid").iter().any(|hold| hold.contains("a person's word on gap under the lid")));
    let strip = PacketOptions {
        sheets: vec![SheetKind::Steps, SheetKind::Ledger],
        ..PacketOptions::of(Phase::Strip)
    };
    let words = plain_text(&off.packet(&Workshop::new(), &strip));
    assert!(words.contains("Not to be had any more. Gap under the lid: the lid came off before."), "{words}");
    assert!(words.contains("Nothing to do here. The lid: it came off before."), "{words}");
    assert!(words.contains("Remove the head, the crank and the shell."), "the lid is left out\n{words}");
    assert!(words.contains("| – | Lid; off before;"), "{words}");
    assert!(words.contains("| S 2 | Head"), "{words}");
    // What isn't there at all is bought, and nothing of it is read.
    let without = verdict(&view(&came("without")));
    assert!(without.contains("lid: renew\n      why: the engine came without it"), "{without}");
    // A person's word is enough.
    let word = "settled: {gap: {good: \"the lid sat flat\", by: HK, date: 2026-03-06}}\n";
    let settled = verdict(&view(&format!("{}{word}", came("off"))));
    assert!(!settled.contains("Open questions") && settled.contains("lid: goes back"), "{settled}");
}

#[test]
fn the_owner_and_the_works_read_what_was_found_and_not_how_it_was_reckoned() {
    let view = view(READ);
    let sheet = |kind: SheetKind| {
        let options = PacketOptions { sheets: vec![kind], ..PacketOptions::of(Phase::Survey) };
        plain_text(&view.packet(&Workshop::new(), &options))
    };
    let (estimate, order) = (sheet(SheetKind::Estimate), sheet(SheetKind::Machining));
    for sheet in [estimate, order] {
        assert!(sheet.contains("Flatness: 0.12 mm (skim: 0.08 to 0.30 mm)"), "{sheet}");
        assert!(!sheet.contains("invented)") && !sheet.contains('±') && !sheet.contains(" = "), "{sheet}");
    }
}

#[test]
fn the_handover_tells_from_which_sizes_the_next_rebuild_counts() {
    let handover = |record: &str| {
        let view = view(record);
        let options = PacketOptions { sheets: vec![SheetKind::Handover], ..PacketOptions::of(Phase::Start) };
        plain_text(&view.packet(&Workshop::new(), &options))
    };
    let worn = READ.replace("journal: 41.99 mm", "journal: 41.90 mm");
    let sent =
        |accepted: &str| format!("{worn}sent: {{crank: {{sent: 2026-03-05, back: 2026-03-09{accepted}}}}}\n");
    let now = "Bored and ground to. Journal: 0.25 mm under, 41.73 to 41.75 mm.";
    assert!(handover(&sent(", accepted: 2026-03-10")).contains(now), "{}", handover(&sent("")));
    assert!(!handover(&sent("")).contains("Bored and ground to"), "nobody has accepted it");
    // Ground before and left as it is; ground before and now again.
    let before = READ.replace("journal: 41.99 mm", "journal: 41.74 mm") + "present: {journal: 0.25 mm}\n";
    assert!(handover(&before).contains(now), "{}", handover(&before));
    let again = READ.replace("journal: 41.99 mm", "journal: 41.65 mm")
        + "present: {journal: 0.25 mm}\nsent: {crank: {sent: 2026-03-05, back: 2026-03-09, accepted: 2026-03-10}}\n";
    assert!(
        handover(&again).contains("Bored and ground to. Journal: 0.50 mm under, 41.48 to 41.50 mm."),
        "{}",
        handover(&again)
    );
}

#[test]
fn no_size_is_bought_while_what_it_goes_with_is_open() {
    let shell = |record: &str| {
        let view = view(record);
        let lines = order_list(&view.procedure, &view.job, &view.decisions).lines;
        let line = lines.into_iter().find(|line| line.id == "shell").unwrap();
        let options = PacketOptions { sheets: vec![SheetKind::Orders], ..PacketOptions::of(Phase::Build) };
        let sheet = plain_text(&view.packet(&Workshop::new(), &options));
        (line.size.map(|size| size.printed()), line.waits_for.words, sheet)
    };
    // Nobody has read the journal: it may be ground, and the shell be an undersize.
    let (size, waits, sheet) = shell("");
    assert_eq!((size, waits), (None, vec!["`journal` is open".to_owned()]));
    assert!(sheet.contains("HOLD: first a reading: journal."), "{sheet}");
    let (size, waits, sheet) = shell(READ);
    assert_eq!((size, waits), (None, Vec::new()), "it is as made");
    assert!(!sheet.contains("HOLD"), "{sheet}");
    let (size, waits, _) = shell(&READ.replace("41.99", "41.90"));
    assert_eq!((size.as_deref(), waits), (Some("0.25 mm"), Vec::new()));
}

#[test]
fn what_the_owner_lets_be_spent_without_being_asked_needs_no_yes() {
    let record = |limit: &str, sum: &str, work: &str| {
        format!(
            "{READ}intake: {{spend_limit: {limit}}}\n\
             estimates: [{{number: a1, sum: {sum}, goods: {{shell: 20 EUR}}, work: {{head: {work}}}}}]\n"
        )
    };
    let held =
        |limit: &str, sum: &str, work: &str| !waits(&view(&record(limit, sum, work)), "send_head").is_empty();
    assert!(!held("200 EUR", "190 EUR", "45 EUR"), "all of it, labour too, is within the limit");
    assert!(!held("190 EUR", "190 EUR", "45 EUR"), "so it is on the limit itself");
    assert!(held("189.99 EUR", "190 EUR", "45 EUR"), "a cent above");
    assert!(held("200 USD", "190 EUR", "45 EUR"), "of other money nothing is said");
    assert!(held("200 EUR", "190 EUR", "44 EUR"), "it is dearer than it was when it was reckoned");
    let view = view(&record("200 EUR", "190 EUR", "45 EUR"));
    let options = PacketOptions { sheets: vec![SheetKind::Orders], ..PacketOptions::of(Phase::Survey) };
    let orders = plain_text(&view.packet(&Workshop::new(), &options));
    let told = "Within 200.00 EUR without asking, as the owner lets it be spent: estimate a1, which came to 190.00 EUR";
    assert!(orders.contains(told), "{orders}");
}

#[test]
fn what_was_refused_is_not_taken_back_before_it_went_out_again() {
    let record = |rest: &str| {
        format!(
            "{READ}done: {{read_gap: {{by: HK, date: 2026-03-02}}, open: {{by: HK, date: 2026-03-02}}, \
             read_head: {{by: HK, date: 2026-03-03}}, read_rest: {{by: HK, date: 2026-03-03}}}}\n{rest}"
        )
    };
    let refused = "refused: [{part: head, because: \"not flat\", by: HK, date: 2026-03-10}]\n";
    let back = record(&format!("sent: {{head: {{sent: 2026-03-05, back: 2026-03-09}}}}\n{refused}"));
    let cause = "the head: back and refused, so that it goes out again: not flat, HK, 2026-03-10";
    assert_eq!(waits(&view(&back), "head_back"), [cause]);
    let sheet = |record: &str| {
        let view = view(record);
        let sheets = vec![SheetKind::Machining, SheetKind::Steps];
        plain_text(
            &view.packet(&Workshop::new(), &PacketOptions { sheets, ..PacketOptions::of(Phase::Survey) }),
        )
    };
    assert!(sheet(&back).contains("not flat, HK, 2026-03-10. It goes out again."), "{}", sheet(&back));
    let again = record(&format!("sent: {{head: {{sent: 2026-03-12}}}}\n{refused}"));
    assert_eq!(waits(&view(&again), "head_back"), [""; 0]);
    // What is back by the record, the step doesn't ask for once more.
    let only_back = record("sent: {head: {sent: 2026-03-05, back: 2026-03-09}}\n");
    let told = "In the record already. The head: back 2026-03-09.";
    assert!(sheet(&only_back).contains(told), "{}", sheet(&only_back));
    assert!(!sheet(&again).contains("In the record already"), "{}", sheet(&again));
}
