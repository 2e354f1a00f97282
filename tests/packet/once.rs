//! What a packet says once, where it would stand there many times: how fasteners are started, why a joint is gone round once
//! more, torques that hold of several places, and what the register marks.

use benchleaf::model::Phase;

use super::made;

fn build() -> String {
    let job = "procedures/brackwater3.ready.job.yaml";
    made("procedures/brackwater3.rebuild", Some(job), Phase::Build).words
}

/// The words of each sheet, behind its title.
fn sheets(words: &str) -> Vec<&str> {
    words.split("\n=== ").skip(1).collect()
}

fn sheet<'w>(words: &'w str, title: &str) -> &'w str {
    sheets(words)
        .into_iter()
        .find(|sheet| sheet.starts_with(title))
        .unwrap_or_else(|| panic!("{title}: {words}"))
}

#[test]
fn how_fasteners_are_started_and_why_a_joint_is_gone_round_again_stands_once_a_chapter() {
    let words = build();
    let mut brief = [0, 0];
    for chapter in sheets(&words) {
        for (brief, (whole, part)) in brief.iter_mut().zip([
            ("By hand, several threads each.", "By hand."),
            ("the first ones have lost load to the others.", "in the same order."),
        ]) {
            let told = chapter.matches(whole).count();
            let again = chapter.matches(part).count();
            assert!(told < 2, "{told} times: {chapter}");
            if let (Some(first), Some(next)) = (chapter.find(whole), chapter.find(part)) {
                assert!(first < next, "{chapter}");
            }
            assert!(told == 1 || again == 0, "in brief without the whole: {chapter}");
            *brief += again;
        }
    }
    assert!(brief[0] > 20 && brief[1] > 1, "{brief:?}");
}

#[test]
fn the_way_of_a_left_hand_thread_stands_at_every_act_and_why_once_a_step() {
    let words = build();
    assert_eq!(words.matches("it only comes undone").count(), 1, "{words}");
    assert_eq!(words.matches("Turn it ANTICLOCKWISE to tighten.").count(), 2, "{words}");
}

#[test]
fn what_is_tightened_alike_place_by_place_is_told_at_the_first_in_the_register() {
    let words = build();
    let register = sheet(&words, "Torque register");
    assert_eq!(
        register.matches("2 main cap bolts: 20, 40, 60 N·m, threads and faces oiled").count(),
        1,
        "{register}"
    );
    assert_eq!(register.matches("2 main cap bolts: as above").count(), 3, "{register}");
    assert_eq!(register.matches("2 rod bolts: as above").count(), 2, "{register}");
}

#[test]
fn what_nobody_says_is_oiled_is_marked_in_the_register_and_the_front_says_so() {
    let words = build();
    let front = words.split("\n=== Kit").next().unwrap_or_default();
    assert!(front.contains("what has a dash in the torque register"), "{front}");
    let register = sheet(&words, "Torque register");
    assert!(
        register.contains("4 starter bolts") || register.contains("2 starter bolts: 38 N·m\u{a0}–"),
        "{register}"
    );
    // The start has no register: there they stand by name.
    let job = "procedures/brackwater3.ready.job.yaml";
    let start = made("procedures/brackwater3.rebuild", Some(job), Phase::Start).words;
    assert!(start.contains("3 rocker cover dome nuts: step 14"), "{start}");
}

#[test]
fn a_chapter_of_the_authors_has_no_headings_for_what_is_put_back_between_its_steps() {
    let words = build();
    let chapter = sheet(&words, "Block, cam, crank, pistons");
    assert!(chapter.contains("Fit the rear crank seal"), "{chapter}");
    assert!(!chapter.lines().any(|line| line.trim_start().starts_with("## ")), "{chapter}");
    let last = sheet(&words, "Right-hand side");
    assert!(last.lines().any(|line| line.trim() == "## Raw-water side"), "{last}");
    let titles: Vec<&str> =
        sheets(&words).into_iter().filter(|sheet| sheet.lines().next().unwrap().contains("[steps")).collect();
    for pair in titles.windows(2) {
        assert_ne!(pair[0].split(" [").next(), pair[1].split(" [").next(), "two chapters of one name");
    }
}

#[test]
fn of_a_supplier_with_a_long_list_what_has_a_price_stands_on_a_line_each() {
    let job = "procedures/brackwater3.measured.job.yaml";
    let words = made("procedures/brackwater3.rebuild", Some(job), Phase::Survey).words;
    let orders = sheet(&words, "Order list");
    assert!(orders.contains("| How many, what, how long, cost in EUR |"), "{orders}");
    assert!(orders.contains("| 1\u{a0}× Sump gasket, BW3\u{2011}0110, 8.80 |"), "{orders}");
    assert!(orders.contains("| Mounting foot bolt: 7 of 8 came out"), "what has none has a blank: {orders}");
    assert!(orders.contains("For quote: ask for prices, order only what is agreed"), "{orders}");
}
