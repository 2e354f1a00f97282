//! Pieces chosen by the bands of a gauge, by a published table of choice; what the table has no answer to stays open.

use benchleaf::decide::{Chosen, Decisions, Hold, decide, order_list};
use benchleaf::procedure::{self, model::Procedure};
use benchleaf::record::{self, Job};
use benchleaf::source::Sources;
use benchleaf::structure::Structure;

use crate::tests::expected;

/// The washers of a shaft with this end float; the old washers are 0.1205 in and 0.1205 in, so that the table is entered
/// with 0.003 in less.
fn washers(end_float: &str) -> (Procedure, Job, Decisions) {
    let path = expected::folder("jobs/washers").join("washers.rebuild");
    let procedure = procedure::load(&mut Sources::new(), &path).value.unwrap();
    let text = format!(
        "job: \"1\"\nprocedure: washers.rebuild\nreadings:\n  as_found:\n    end_float: {end_float}\n    washer first: 0.1205 in\n    \
         washer second: 0.1205 in\n"
    );
    let file = Sources::new().add("job.yaml", text.clone());
    let written = record::read(file, &text);
    let bound = record::bind(&written.value, &procedure);
    assert!(written.diagnostics.is_empty() && bound.diagnostics.is_empty(), "{:?}", bound.diagnostics);
    let decisions = decide(&procedure, &Structure::of(&procedure), &bound.value).value;
    (procedure, bound.value, decisions)
}

/// TM 5-4210-233-14&P-2, 6-29 steps 16 to 19: x = end float − (0.244 in − both washers); below 0.016 standard, 0.017 to
/// 0.026 those 0.005 over, 0.027 to 0.036 those 0.010 over. Readings are ours.
#[test]
fn washers_are_chosen_by_a_published_table() {
    for (end_float, piece, x) in [
        ("0.0120 in", "standard", "0.0090"),
        ("0.0235 in", "plus 5", "0.0205"),
        ("0.0350 in", "plus 10", "0.0320"),
    ] {
        let (procedure, job, decisions) = washers(end_float);
        let chosen: Vec<&Chosen> = decisions.chosen.values().collect();
        let [Chosen::Piece { piece: found, because }] = chosen.as_slice() else { panic!("{chosen:?}") };
        assert_eq!(found, piece, "{end_float}");
        assert!(because.contains(x), "{x} in {because}");
        // The order list names it with its arithmetic.
        let list = order_list(&procedure, &job, &decisions);
        let line = list.lines.iter().find(|line| line.id == "washers").unwrap();
        assert_eq!(line.chosen.as_ref().map(|(piece, _)| piece.as_str()), Some(piece));
        assert_eq!(line.quantity.settled(), Some(2));
        assert_eq!(line.waits_for.words, [""; 0]);
    }
}

/// Between 0.016 and 0.017 the printed table says nothing, on the limit the instrument can't tell, and above 0.036 no
/// washer will do: the shaft is replaced.
#[test]
fn what_the_table_does_not_say_is_not_chosen() {
    let holds = |end_float: &str| {
        let (procedure, _, decisions) = washers(end_float);
        let chosen: Vec<&Chosen> = decisions.chosen.values().collect();
        assert!(matches!(chosen.as_slice(), [Chosen::Open(Some(_))]), "{end_float}: {chosen:?}");
        let holds = decisions.fates.values().flat_map(|decision| &decision.holds);
        let own: Vec<&Hold> = holds.filter(|hold| !matches!(hold, Hold::NotInHand(_))).collect();
        own.iter().map(|hold| hold.words(&procedure)).collect::<Vec<_>>()
    };
    assert_eq!(holds("0.0195 in"), ["`washer_choice` is open"]);
    assert_eq!(holds("0.0290 in"), ["`washer_choice` is open"]);
    assert_eq!(holds("0.0420 in"), ["not good: `washer_choice` is renew shaft"]);
}
