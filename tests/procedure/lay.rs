//! Layouts and holes.

use benchleaf::procedure::model::{JointId, Lengths, SetId, hole_letter};

use super::{clean, codes, resolved};

fn coordinates(layout: &str, count: usize) -> Vec<(String, f64, f64)> {
    let procedure = clean(&format!(
        "part cover \"Cover\"\npart block \"Block\"\nfasteners bolts {count} \"Bolt\"\n\
         joint j \"Joint\" {{ clamps cover, block  holes bolts {layout} }}\n\
         strip lift \"Lift\" {{ undo j  take cover }}\n"
    ));
    let holes = &procedure.joint(JointId(0)).members[0].holes;
    holes.iter().map(|hole| (hole.letter.clone(), hole.x.base() * 1e3, hole.y.base() * 1e3)).collect()
}

fn assert_near(actual: &[(String, f64, f64)], expected: &[(&str, f64, f64)]) {
    assert_eq!(actual.len(), expected.len(), "{actual:?}");
    for ((letter, x, y), (wanted, wanted_x, wanted_y)) in actual.iter().zip(expected) {
        assert_eq!(letter, wanted);
        assert!((x - wanted_x).abs() < 1e-3 && (y - wanted_y).abs() < 1e-3, "{letter}: ({x}, {y})");
    }
}

#[test]
fn points_keep_their_order_and_their_unit() {
    assert_near(&coordinates("at (0,0) (1,-2) in", 2), &[("A", 0.0, 0.0), ("B", 25.4, -50.8)]);
}

#[test]
fn a_circle_runs_anticlockwise_from_its_first_hole() {
    let expected = [("A", 40.0, 0.0), ("B", 0.0, 40.0), ("C", -40.0, 0.0), ("D", 0.0, -40.0)];
    assert_near(&coordinates("circle 4 on 80 mm", 4), &expected);
    let moved = [("A", 10.0, 40.0), ("B", -30.0, 0.0), ("C", 10.0, -40.0), ("D", 50.0, 0.0)];
    assert_near(&coordinates("circle 4 on 80 mm first at 90 deg centre (10, 0) mm", 4), &moved);
}

#[test]
fn a_grid_runs_row_by_row_from_the_lower_left() {
    let expected = [("A", 5.0, 0.0), ("B", 45.0, 0.0), ("C", 5.0, 60.0), ("D", 45.0, 60.0)];
    assert_near(&coordinates("grid 2 x 2 pitch 40 mm by 60 mm from (5, 0) mm", 4), &expected);
}

#[test]
fn letters_run_on_across_the_sets_of_a_joint() {
    let procedure = clean(
        "part cover \"Cover\"\npart block \"Block\"\n\
         fasteners bolts 2 \"Bolt\"\nfasteners screws 2 \"Screw\" { lengths C 20 mm, D 25 mm }\n\
         joint j \"Joint\" {\n clamps cover, block\n holes bolts at (0,0) (1,0) mm\n\
         holes screws at (2,0) (3,0) mm\n sequence D, A, C, B from \"demo sheet\"\n }\n\
         strip lift \"Lift\" { undo j  take cover }\n",
    );
    let joint = procedure.joint(JointId(0));
    let letters: Vec<&str> =
        joint.members.iter().flat_map(|member| &member.holes).map(|hole| hole.letter.as_str()).collect();
    assert_eq!(letters, ["A", "B", "C", "D"]);
    assert_eq!(joint.tighten_sequence.as_ref().unwrap().value, [3, 0, 2, 1]);
    let lengths = procedure.set(SetId(1)).lengths.only().map(|said| &said.value);
    let Some(Lengths::ByHole(lengths)) = lengths else { panic!("lengths") };
    assert_eq!(lengths[0].0, "C");
}

#[test]
fn letters_past_z_are_read_as_they_are_written() {
    let letters: Vec<String> = (0..60).map(hole_letter).collect();
    assert_eq!(letters[26], "AA");
    let outcome = resolved(&format!(
        "part cover \"Cover\"\npart block \"Block\"\nfasteners bolts 60 \"Bolt\"\n\
         joint j \"Joint\" {{ clamps cover, block  holes bolts circle 60 on 900 mm\n\
         sequence {} from \"demo sheet\" }}\nstrip lift \"Lift\" {{ undo j  take cover }}\n",
        letters.join(", ")
    ));
    assert_eq!(codes(&outcome.diagnostics), Vec::<&str>::new());
    assert_eq!(
        outcome.value.joint(JointId(0)).tighten_sequence.as_ref().unwrap().value,
        (0..60).collect::<Vec<_>>()
    );
}

#[test]
fn a_set_with_an_axis_has_its_holes_once_for_each_place_of_the_joint() {
    clean(
        "axis main = 1 .. 3\npart cap[main] \"Cap\"\npart block \"Block\"\n\
         fasteners bolts[main] 2 \"Bolt\"\n\
         joint j[main] \"Joint\" { clamps cap, block  holes bolts at (0,0) (80,0) mm }\n\
         strip lift \"Lift\" { each main together  undo j  take cap }\n",
    );
    // One joint over all places needs the holes of all of them.
    clean(
        "axis main = 1 .. 2\npart bridge \"Bridge\"\npart block \"Block\"\n\
         fasteners bolts[main] 2 \"Bolt\"\n\
         joint j \"Joint\" { clamps bridge, block  holes bolts at (0,0) (80,0) (0,90) (80,90) mm }\n\
         strip lift \"Lift\" { undo j  take bridge }\n",
    );
}
