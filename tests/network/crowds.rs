//! A thing that very many acts set and very many need: each need is judged as if there were few.

use super::connected;

/// So many drain the oil, and so many need it drained.
const MANY: usize = 60;

/// Every third need comes after one that drains; one step fills and drains by itself; the rest are sure of nothing.
#[test]
fn each_of_many_needs_of_what_many_set_is_judged_by_itself() {
    let mut text = String::from(
        "family pump \"Pump\" { origin \"invented\" }\nstate oil \"Oil\" = full (at first), drained (at build)\n",
    );
    for i in 0..MANY {
        text += &format!("part p{i} \"Part\" {{ fate reuse }}\n");
    }
    for i in 0..MANY {
        text += &format!("strip drain{i} \"Drain\" {{ set oil = drained }}\n");
    }
    let mut sure = Vec::new();
    for i in 0..MANY {
        let link = match i % 3 {
            0 => format!("after drain{}  ", MANY - 1 - i),
            1 if i == 31 => "set oil = full  set oil = drained  ".to_owned(),
            _ => String::new(),
        };
        let act = if i == 31 { "do \"Look.\"  " } else { "" };
        if !link.is_empty() {
            sure.push(format!("s{i}"));
        }
        let needs = if i == 31 { "" } else { "needs oil = drained  " };
        text += &format!("strip s{i} \"Step\" {{ {link}{needs}{act}take p{i} }}\n");
    }
    // One that fills again spoils it for all that may come after it.
    for filled in [false, true] {
        let whole = if filled {
            text.clone() + "strip fill \"Fill\" { after drain0, drain1  set oil = full }\n"
        } else {
            text.clone()
        };
        let (procedure, network, _, _) = connected(&whole);
        let node = |fault: &benchleaf::network::Fault| fault.node.map(|node| &network.nodes[node.index()]);
        let mut unmet: Vec<String> = network
            .faults
            .iter()
            .filter_map(node)
            .filter(|node| node.phase == benchleaf::procedure::model::Phase::Strip)
            .map(|node| node.id(&procedure))
            .collect();
        unmet.sort();
        let mut expected: Vec<String> = (0..MANY)
            .map(|i| format!("s{i}"))
            .filter(|id| id != "s31" && (filled || !sure.contains(id)))
            .collect();
        expected.sort();
        assert_eq!(unmet, expected, "filled: {filled}");
        // Whatever puts one right puts right each of them but its own.
        for fault in network.faults.iter().filter(|fault| node(fault).is_some()) {
            let own = usize::from(filled);
            assert!(fault.right.len() >= MANY - own, "{} of {MANY}", fault.right.len());
        }
    }
}
