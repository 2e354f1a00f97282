//! Reads an edge list and prints what the precedence implies, for comparison with a graph library.
//!
//! Standard input: the number of nodes, then pairs `x y` (x before y), separated by blanks or line ends.
//! Standard output, JSON: for an acyclic graph the order by node number, the closure (one list of successors a
//! node), redundant edges, windows as `[earliest, latest]` and fixed nodes; otherwise one shortest cycle a strong
//! component and the feedback edges. `--brief` leaves the closure out and prints counts of it instead.

use std::error::Error;
use std::io::Read;

use benchleaf::{Acyclic, Before, Cycle, Precedence, feedback_edges, fixed_nodes, redundant_edges, windows};
use serde_json::json;

#[allow(clippy::print_stdout, reason = "an example prints its answer")]
fn main() -> Result<(), Box<dyn Error>> {
    let brief = std::env::args().any(|argument| argument == "--brief");
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    let numbers = text.split_whitespace().map(str::parse).collect::<Result<Vec<usize>, _>>()?;
    let (&nodes, pairs) = numbers.split_first().ok_or("the number of nodes is missing")?;
    if pairs.len() % 2 != 0 || pairs.iter().any(|&node| node >= nodes) {
        return Err("the nodes must come in pairs and be below their number".into());
    }
    let graph = Precedence::new(nodes, pairs.chunks(2).map(|pair| (pair[0], pair[1])));
    let edges = graph.edges().len();
    let answer = match Acyclic::new(graph.clone()) {
        Err(cycles) => json!({
            "nodes": nodes,
            "edges": edges,
            "cycles": cycles.iter().map(Cycle::nodes).collect::<Vec<_>>(),
            "feedback": feedback_edges(&graph),
        }),
        Ok(acyclic) => {
            let places: Vec<_> = windows(&acyclic).iter().map(|w| [w.earliest, w.latest]).collect();
            let mut answer = json!({
                "nodes": nodes,
                "edges": edges,
                "order": acyclic.order_by_rank(&vec![0; nodes]),
                "redundant": redundant_edges(&acyclic),
                "windows": places,
                "fixed": fixed_nodes(&acyclic),
            });
            if !brief {
                let before = Before::new(&acyclic);
                let closure: Vec<Vec<usize>> = (0..nodes).map(|node| before.after(node).collect()).collect();
                answer["closure"] = json!(closure);
            }
            answer
        }
    };
    println!("{answer}");
    Ok(())
}
