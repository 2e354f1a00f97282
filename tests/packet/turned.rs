//! Figures are turned by what a setup says of how the engine lies, never by what the setup or its values are called.

use benchleaf::model::Phase;
use benchleaf::sheet::{Block, Drawing, Figure, JointDrawing, Packet, StepLine, plain_text};
use benchleaf::{Memory, PacketOptions, Request, Workshop};

use super::view;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\"  left and right seen from rear }
setup stand \"Holder\" = upright (at first), inverted, nose_up
    turns engine = upright up top, inverted up below, nose_up up front
part sump \"Sump\" { held by bolts  fate reuse }
part block \"Block\"
part housing \"Housing\" { held by screws  fate reuse }
fasteners bolts 4 \"Sump bolt\" { thread M6x1  reusable }
fasteners screws 4 \"Housing screw\" { thread M6x1  reusable }
joint sump_joint \"Sump to block\" { clamps sump, block
    holes bolts at (0,0) (60,0) (60,40) (0,40) mm  seen from below, front left  tighten bolts 8 N.m from \"invented\" }
joint housing_joint \"Housing to block\" { clamps housing, block
    holes screws at (0,0) (60,0) (60,40) (0,45) mm  seen from rear  tighten screws 8 N.m from \"invented\" }
strip sump_off \"Sump off\" { with stand inverted  undo sump_joint  take sump }
strip housing_off \"Housing off\" { with stand inverted  undo housing_joint  take housing }
";

/// The strip packet.
fn packet(text: &str) -> Packet {
    let mut workshop = Workshop::over(Memory::new().with("e.rebuild", text));
    let view = view(&mut workshop, &Request::of("e.rebuild"));
    view.packet(&workshop, &PacketOptions::of(Phase::Strip))
}

/// Its words.
fn words(text: &str) -> String {
    plain_text(&packet(text))
}

/// The joints drawn in it.
fn joints(text: &str) -> Vec<JointDrawing> {
    let sheets = packet(text).sheets;
    let blocks = sheets.iter().flat_map(|sheet| &sheet.blocks);
    let lines =
        blocks.filter_map(|block| if let Block::Step(step) = block { Some(&step.lines) } else { None });
    let drawn = lines.flatten().filter_map(|line| match line {
        StepLine::Figure(Figure { drawing: Drawing::Joint(joint), .. }) => Some(joint.clone()),
        _ => None,
    });
    drawn.collect()
}

#[test]
fn a_setup_of_another_name_turns_the_same_figures() {
    let renamed = FAMILY
        .replace("stand", "cradle")
        .replace("upright", "first_way")
        .replace("inverted", "second_way")
        .replace("nose_up", "third_way");
    let bare = |joint: JointDrawing| JointDrawing { view: String::new(), ..joint };
    let drawn: Vec<JointDrawing> = joints(FAMILY).into_iter().map(bare).collect();
    assert_eq!(drawn.len(), 2);
    assert_eq!(drawn, joints(&renamed).into_iter().map(bare).collect::<Vec<JointDrawing>>());
    let unsaid = FAMILY.replace("inverted up below", "inverted up top");
    assert_ne!(
        drawn,
        joints(&unsaid).into_iter().map(bare).collect::<Vec<JointDrawing>>(),
        "they are turned at all"
    );
}

#[test]
fn what_the_setup_says_decides_not_the_words() {
    let said = words(FAMILY);
    let clause = "    turns engine = upright up top, inverted up below, nose_up up front\n";
    let unsaid = words(&FAMILY.replace(clause, ""));
    assert!(!unsaid.contains("uppermost") && said.contains("uppermost"), "{unsaid}");
    let upright = words(&FAMILY.replace("inverted up below", "inverted up top"));
    assert!(!upright.contains("uppermost"), "{upright}");
}
