//! Odd input with grace: long words, many steps, many holes, many places, other alphabets.

use super::demo;
use super::placing::faults;
use benchleaf::pages::Item;
use benchleaf::pages::Pages;
use benchleaf::sheet::*;
use benchleaf::{PageSetup, lay_out, write_pdf};

fn packet(blocks: Vec<Block>) -> Packet {
    let sheet = Sheet::new(SheetKind::Front, "Odd", "", blocks);
    Packet { title: "Odd".into(), language: "en".into(), sheets: vec![sheet], ..Packet::default() }
}

fn laid_out(name: &str, packet: &Packet) -> Pages {
    let outcome = lay_out(packet, &PageSetup::default());
    assert!(outcome.diagnostics.is_empty(), "{:?}", outcome.diagnostics);
    assert_eq!(faults(&outcome.value), Vec::<String>::new());
    super::show(name, &outcome.value);
    outcome.value
}

fn words(pages: &Pages) -> Vec<String> {
    let groups = pages.pages.iter().flat_map(|page| &page.groups);
    groups
        .flat_map(|group| &group.items)
        .filter_map(|item| match item {
            Item::Text(run) => Some(run.text.trim_end().to_string()),
            _ => None,
        })
        .collect()
}

fn step(number: usize, lines: Vec<StepLine>) -> Block {
    Block::Step(StepBlock {
        number: number.to_string(),
        title: Text::plain(format!("Undo joint {number}")),
        anchor: demo::anchor(&format!("step:{number}")),
        facts: vec![Text::plain("17 mm ring spanner")],
        also: Vec::new(),
        lies: None,
        tools: Vec::new(),
        reason: Text::default(),
        held_by: vec![],
        lines,
    })
}

fn act(words: &str, boxes: Boxes) -> StepLine {
    StepLine::Act { text: Text::plain(words), boxes }
}

#[test]
fn a_word_of_eighty_letters_is_cut_at_the_end_of_the_line() {
    let long = "Nockenwellenlagerdeckelschraube".repeat(3)[..80].to_string();
    let pages = laid_out(
        "long-word",
        &packet(vec![step(1, vec![act(&long, Boxes::One)]), Block::Notice(Text::bold(&long))]),
    );
    assert!(words(&pages).concat().contains(&long));
}

#[test]
fn a_title_of_four_hundred_letters_keeps_all_its_words() {
    let title = "Engine of many names ".repeat(20)[..400].trim().to_string();
    let mut odd = packet(vec![step(1, vec![])]);
    odd.sheets[0].title = title.clone();
    odd.footer.procedure = title.clone();
    odd.footer.job = title.clone();
    let pages = laid_out("long-title", &odd);
    assert!(words(&pages).join(" ").contains(&title));
    assert_eq!(pages.bookmarks[0].title, title);
}

#[test]
fn three_thousand_steps_keep_their_order_and_their_pages() {
    let steps =
        (1..=3000).map(|n| step(n, vec![act("Undo and bag.", Boxes::One), act("Tick the map.", Boxes::One)]));
    let pages = laid_out("many-steps", &packet(steps.collect()));
    let places: Vec<_> = pages.bookmarks.iter().skip(1).map(|b| (b.place.page, b.place.y)).collect();
    assert_eq!(places.len(), 3000);
    assert!(places.is_sorted_by(|a, b| a < b));
    assert!(write_pdf(&pages).len() > 100_000);
}

#[test]
fn a_joint_of_sixty_four_holes_shows_every_number() {
    let holes: Vec<HoleMark> = (0..64)
        .map(|n| HoleMark {
            x: f64::from(n % 16) * 26.0,
            y: f64::from(n / 16) * 40.0,
            diameter: 8.0,
            letter: format!("{}{}", char::from(b'A' + (n / 16) as u8), n % 16 + 1),
            number: (n + 1).to_string(),
            size: 0,
            note: String::new(),
        })
        .collect();
    let joint = JointDrawing {
        whole: JointWhole::of(&holes, 1, Some(Toward::Right)),
        holes,
        view: "from below".into(),
        front: Some(Toward::Right),
        front_name: "front".into(),
        sizes: vec!["M8".into()],
        anchor: None,
    };
    let figure = Figure {
        caption: Text::plain("Sump"),
        alternative: "Sixty-four bolts".into(),
        drawing: Drawing::Joint(joint),
    };
    let boxes = Boxes::Grid((1..=64).map(|n| n.to_string()).collect());
    let pages = laid_out(
        "many-holes",
        &packet(vec![step(1, vec![StepLine::Figure(figure), act("Undo in order.", boxes)])]),
    );
    let words = words(&pages);
    for n in 1..=64 {
        assert!(words.iter().filter(|word| **word == n.to_string()).count() >= 2, "{n} is missing");
    }
}

#[test]
fn forty_eight_places_stand_in_one_table_whose_head_comes_again() {
    let columns = ["Place", "Cap", "Shell", "Wear"];
    let columns = columns.map(|heading| Column { heading: heading.into(), share: 1.0, to_the_right: false });
    let rows = (1..=48)
        .map(|n| {
            vec![
                Cell::Text(Text::plain(format!("place {n}"))),
                Cell::Tick,
                Cell::Tick,
                Cell::Blank("mm".into()),
            ]
        })
        .collect();
    let table = Table { caption: Text::plain("Mains"), columns: columns.to_vec(), rows };
    let pages = laid_out("many-places", &packet(vec![step(7, vec![StepLine::Table(table)])]));
    let words = words(&pages);
    assert!(pages.pages.len() > 1);
    assert_eq!(words.iter().filter(|word| *word == "Shell").count(), pages.pages.len());
    // What goes on has the sheet's title on its line, which therefore isn't said to go on as well.
    assert_eq!(words.iter().filter(|word| *word == "continued").count(), pages.pages.len() - 1);
    for page in &pages.pages[1..] {
        let runs = page.groups.iter().flat_map(|group| &group.items).filter_map(|item| match item {
            Item::Text(run) => Some(run),
            _ => None,
        });
        let lines: Vec<_> = runs.filter(|run| ["continued", "Odd"].contains(&run.text.trim())).collect();
        assert!(matches!(lines.as_slice(), [one, other] if one.at.y == other.at.y), "{lines:?}");
    }
}

#[test]
fn a_table_wider_than_the_page_is_parted_into_bands_with_the_first_column_in_each() {
    let columns = (0..30)
        .map(|n| Column { heading: format!("cylinder {n}"), share: 1.0, to_the_right: true })
        .collect();
    let rows =
        (0..3).map(|row| (0..30).map(|n| Cell::Text(Text::plain(format!("r{row}c{n}")))).collect()).collect();
    let pages = laid_out(
        "wide-table",
        &packet(vec![Block::Table(Table { caption: Text::default(), columns, rows })]),
    );
    let words = words(&pages);
    for n in 0..30 {
        assert!(words.contains(&format!("r2c{n}")), "column {n} is missing");
    }
    assert!(words.iter().filter(|word| *word == "r1c0").count() > 2);
}

#[test]
fn a_step_longer_than_a_page_says_that_it_goes_on() {
    let lines = (0..80).map(|n| act(&format!("Undo bolt {n}."), Boxes::One)).collect();
    let pages = laid_out("long-step", &packet(vec![step(9, lines)]));
    assert_eq!(pages.pages.len(), 3);
    assert!(words(&pages).contains(&"continued".to_string()));
}

#[test]
fn greek_and_cyrillic_are_set() {
    let text = "Στρόφαλος και διωστήρας; коленчатый вал и шатун; Größe, łożysko, ağız, şaft";
    let pages = laid_out("alphabets", &packet(vec![Block::Paragraph(Text::plain(text))]));
    assert!(words(&pages).join(" ").contains("коленчатый вал"));
}

#[test]
fn signs_of_the_trade_are_set_in_every_face() {
    let signs = "° × · ⌀ ± ½ ¼ ⅛ → ≤ ≥ µ μ Ω ☐ ✓ ⚠ – — ‘ ’ “ ” … − ² ³";
    let text = Text(
        [Style::Plain, Style::Bold, Style::Mono]
            .map(|style| Run { text: signs.into(), style, link: None })
            .to_vec(),
    );
    laid_out("signs", &packet(vec![Block::Paragraph(text)]));
}

#[test]
fn a_missing_glyph_is_an_error_that_names_it() {
    let outcome = lay_out(
        &packet(vec![Block::Paragraph(Text::plain("Set the dial to \u{1fa9b} and wait"))]),
        &PageSetup::default(),
    );
    assert_eq!(outcome.diagnostics.len(), 1);
    let complaint = &outcome.diagnostics[0];
    assert_eq!(complaint.code.name, "page/missing-glyph");
    assert_eq!(
        complaint.message,
        "no letter in the fonts for `\u{1fa9b}` (U+1FA9B) in `Set the dial to \u{1fa9b} and wait`"
    );
}

#[test]
fn other_ways_of_writing_are_refused() {
    for (words, script) in
        [("מנוע", "Hebrew"), ("محرك", "Arabic"), ("エンジン", "East Asian"), ("엔진", "Korean")]
    {
        let outcome = lay_out(&packet(vec![Block::Paragraph(Text::plain(words))]), &PageSetup::default());
        let complaint = &outcome.diagnostics[0];
        assert_eq!(complaint.code.name, "page/unsupported-script");
        let start = format!("can't set {script} writing: `{}`", words.chars().next().unwrap());
        assert!(complaint.message.starts_with(&start), "{}", complaint.message);
        assert_eq!(outcome.diagnostics.len(), 1, "one for a text, not one for a letter");
    }
}

#[test]
fn a_label_too_small_for_its_words_is_told_and_one_that_holds_them_loses_none() {
    let label = |title: String| LabelBlock {
        title,
        lines: vec!["1 of 6".into(), "Way round: the open end up".into()],
        number: "12".into(),
        code_text: "Push rod 1 inlet, place 12".into(),
        anchor: None,
        step: None,
    };
    let sheet = |title: &str| Sheet {
        labels: Some(LabelSize { width: 40.0, height: 25.0 }),
        ..Sheet::new(SheetKind::Tags, "Tags", "", vec![Block::Label(label(title.to_owned()))])
    };
    let mut packet = packet(Vec::new());
    packet.sheets = vec![sheet("Push rod 1 inlet")];
    let set = words(&laid_out("small-label", &packet)).join(" ");
    for word in ["Push", "inlet", "1 of 6", "round", "open", "up", "no. 12"] {
        assert!(set.contains(word), "`{word}` is left out of `{set}`");
    }
    packet.sheets = vec![sheet(&"very long title ".repeat(40))];
    let outcome = lay_out(&packet, &PageSetup::default());
    assert_eq!(outcome.diagnostics[0].code.name, "page/label-too-small");
    assert!(!outcome.has_errors());
}

#[test]
fn numbers_stay_with_their_units_and_part_numbers_whole() {
    let text = Text::plain(
        "Tighten to 90 N·m then 60 ° ± 5 ° with M12 × 1.5 studs, part BW-1042-7, gap 0.05–0.11 mm. "
            .repeat(30),
    );
    let pages = laid_out("glue", &packet(vec![Block::Paragraph(text)]));
    let lines = words(&pages);
    let lines: Vec<&str> = lines.iter().map(|line| line.trim_end()).collect();
    assert!(lines.len() > 20);
    for line in &lines {
        for end in ["90", "60", "±", "5 ° ±", "M12", "×", "BW-", "BW-1042-", "0.05–", "0.11"] {
            assert!(!line.ends_with(&format!(" {end}")) && *line != end, "`{line}` ends badly");
        }
    }
}

#[test]
fn white_space_and_invisible_letters_do_no_harm() {
    let text = Text::plain("a\tb\r\n  c\u{200b}d\u{ad}e \u{0} f").and_bold("\n").and("  g ");
    let pages = laid_out("white-space", &packet(vec![Block::Paragraph(text)]));
    let read = words(&pages).join(" ");
    let read = read.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(read.contains("a b cde f g"), "{read}");
}

#[test]
fn an_empty_packet_is_a_readable_page() {
    let pages = laid_out("empty", &Packet::default());
    assert_eq!(pages.pages.len(), 1);
    assert!(write_pdf(&pages).starts_with(b"%PDF-1.7"));
}
