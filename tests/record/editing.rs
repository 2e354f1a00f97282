//! Changes to the text of a record: what is put in reads back as it was meant, and everything else stays as it was.

use benchleaf::record::{Edit, Put, Refusal, Written, edit};
use proptest::prelude::*;

fn text(text: &str) -> Put {
    Put::Value(Written::Text(text.to_owned()))
}

fn at(path: &[&str], put: Put) -> Edit {
    Edit { path: path.iter().map(|key| (*key).to_owned()).collect(), put }
}

#[test]
fn comments_and_order_stay() {
    let before = "# Job.\njob: \"7\"   # seven\nreadings:\n  as_found:\n    bore[1] top: 80.01 mm # first\n    # more to come\n\nanswers: {gear: reuse}\nnotes:\n- {about: sump, says: bent}\n";
    let after = edit(before, &at(&["readings", "as_found", "bore[1] bottom"], text("80.00 mm"))).unwrap();
    assert_eq!(after, before.replace("# first\n", "# first\n    bore[1] bottom: 80.00 mm\n"));
    let after = edit(before, &at(&["answers", "liners"], text("renew"))).unwrap();
    assert_eq!(after, before.replace("reuse}", "reuse, liners: renew}"));
    let item = Written::Fields(vec![
        ("about".to_owned(), Written::Text("rod[1, inlet]".to_owned())),
        ("says".to_owned(), Written::Text("it said: \"no\"".to_owned())),
    ]);
    let after = edit(before, &at(&["notes"], Put::Item(item))).unwrap();
    assert_eq!(after, format!("{before}- {{about: \"rod[1, inlet]\", says: \"it said: \\\"no\\\"\"}}\n"));
    let after = edit(before, &at(&["looks", "as_found", "cracks"], text("sound"))).unwrap();
    assert_eq!(after, format!("{before}looks:\n  as_found:\n    cracks: sound\n"));
}

#[test]
fn a_value_is_put_in_place_of_another_and_nothing_else_moves() {
    let before = "job: a\nreadings:\n  as_found:\n    bore[1]: 80.01 mm   # first\n    skirt: {value: 79.9 mm, by: JS}\nanswers: {gear: \"reuse\"}\n";
    let instead = |value: &str| Put::Instead(Written::Text(value.to_owned()));
    let after = edit(before, &at(&["readings", "as_found", "bore[1]"], instead("80.02 mm"))).unwrap();
    assert_eq!(after, before.replace("80.01 mm", "80.02 mm"));
    let signed = Put::Instead(Written::Fields(vec![
        ("value".to_owned(), Written::Text("79.95 mm".to_owned())),
        ("by".to_owned(), Written::Text("RT".to_owned())),
    ]));
    let after = edit(before, &at(&["readings", "as_found", "skirt"], signed)).unwrap();
    assert_eq!(after, before.replace("79.9 mm, by: JS", "79.95 mm, by: RT"));
    let after = edit(before, &at(&["answers", "gear"], instead("renew"))).unwrap();
    assert_eq!(after, before.replace("\"reuse\"", "renew"));
    // What was written beside the old value stays beside the new one.
    let commented = "readings:\n  as_found:\n    skirt: {value: 79.9 mm, # worn\n      by: JS} # mine\nanswers:\n  gear: |-  # said 5°\n    reuse\n";
    let after = edit(commented, &at(&["answers", "gear"], instead("renew"))).unwrap();
    assert_eq!(after, commented.replace("|-  # said 5°\n    reuse", "renew  # said 5°"));
    let after = edit(commented, &at(&["readings", "as_found", "skirt"], instead("80 mm"))).unwrap();
    assert_eq!(
        after,
        commented.replace("{value: 79.9 mm, # worn\n      by: JS} # mine", "80 mm  # worn # mine")
    );
    // Where nothing stands yet it is put in, and what has keys below it is left alone.
    let after = edit(before, &at(&["answers", "liners"], instead("renew"))).unwrap();
    assert_eq!(after, before.replace("\"reuse\"}", "\"reuse\", liners: renew}"));
    assert_eq!(edit(before, &at(&["readings", "as_found"], instead("x"))), Err(Refusal::OtherKind(4)));
}

#[test]
fn what_is_there_is_not_overwritten() {
    let before = "job: a\nanswers:\n  gear: reuse\n  liners:\ndone: ~\n";
    assert_eq!(edit(before, &at(&["answers", "gear"], text("renew"))), Err(Refusal::Present(3)));
    assert_eq!(edit(before, &at(&["job", "x"], text("y"))), Err(Refusal::OtherKind(1)));
    assert_eq!(edit(before, &at(&["done", "x"], text("y"))), Err(Refusal::Present(5)));
    assert_eq!(edit("- a\n", &at(&["x"], text("y"))), Err(Refusal::Unreadable));
    let after = edit(before, &at(&["answers", "liners"], text("renew"))).unwrap();
    assert_eq!(after, before.replace("liners:", "liners: renew"));
    assert_eq!(edit("job: a", &at(&["b"], text("c"))).as_deref(), Ok("job: a\nb: c\n"));
    assert_eq!(edit("\u{feff}job: a\n", &at(&["b"], text("c"))).as_deref(), Ok("\u{feff}job: a\nb: c\n"));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Any text comes back as itself, and every line of the record stays as it was.
    #[test]
    fn any_value_is_kept(value in "[ -~\\n\\té°]{1,30}", key in "[a-z]{1,6}(\\[[0-9], [a-z]{1,3}\\])?( [a-z]{1,5})?", style in 0usize..4) {
        let before = ["job: a\n", "job: a\nmore:\n  x: 1 # one\n", "job: a\nmore: {x: 1}\n", "job: a\nmore:\n# end"][style];
        prop_assume!(value.trim() == value && key != "x");
        let after = edit(before, &at(&["more", &key], text(&value)));
        prop_assert!(after.is_ok(), "{after:?}");
        let after = after.unwrap();
        for line in before.lines().filter(|line| !line.ends_with('}')) {
            prop_assert!(after.lines().any(|other| other == line), "`{line}` is gone from\n{after}");
        }
    }
}
