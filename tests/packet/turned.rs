//! Figures are turned by what a setup says of how the engine lies, never by what the setup or its values are called.

use benchleaf::packet::PacketOptions;
use benchleaf::procedure::model::Phase;
use benchleaf::record::Job;
use benchleaf::sheet::plain_text;

use super::sheets;
use crate::network::connected;

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

/// Words of the strip packet.
fn words(text: &str) -> String {
    let (procedure, network, _, sources) = connected(text);
    let options = PacketOptions { phase: Phase::Strip, sheets: Vec::new(), all: false, hands: None };
    plain_text(&sheets(&sources, (&procedure, &network), &Job::default(), None, &options).1)
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
