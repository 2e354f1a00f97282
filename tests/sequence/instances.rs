//! What the measuring examples share: arguments and files of both kinds.

use benchleaf::sequence::search::Effort;

#[path = "../../examples/instances/mod.rs"]
pub mod shared;

use shared::ordering::best_order;
use shared::{Options, project, sequential_ordering};

fn options(line: &str) -> Result<Options, String> {
    Options::parse(line.split_whitespace().map(str::to_owned))
}

#[test]
fn files_and_options_come_in_any_order() {
    let told = options("a.sop --seconds 2.5 b.sop --seed=7").unwrap();
    assert_eq!(
        told,
        Options {
            files: vec!["a.sop".into(), "b.sop".into()],
            seconds: 2.5,
            seed: 7,
            work: None,
            own: false
        }
    );
    let work = options("--work 1000 a.sop").unwrap();
    assert_eq!((work.work, work.seconds, work.seed), (Some(1000), 10.0, 1));
}

#[test]
fn what_is_wrong_with_the_arguments_is_said() {
    let of = |line: &str| options(line).unwrap_err();
    assert_eq!(of("a.sop --seconds"), "`--seconds` needs a value");
    for value in ["soon", "-1", "0", "NaN", "inf"] {
        assert_eq!(of(&format!("a.sop --seconds {value}")), format!("`{value}` is no value for `--seconds`"));
    }
    assert_eq!(of("a.sop --work 1.5"), "`1.5` is no value for `--work`");
    assert_eq!(
        of("a.sop --second 1"),
        "`--second` is not an option; there are --seconds, --own, --seed and --work"
    );
    assert_eq!(of("--seconds 1"), "name at least one instance file");
}

/// Four nodes, the third before the second: 0 2 1 3 costs 4 + 2 + 9.
const MATRIX: &str = "0 1 4 1000000\n-1 0 -1 9\n-1 2 0 3\n-1 -1 -1 0\n";

#[test]
fn both_forms_of_a_sequential_ordering_file_are_read() {
    let head =
        "NAME: small\nTYPE: SOP\nDIMENSION: 4\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: FULL_MATRIX\n";
    let forms = [
        MATRIX.to_owned(),
        format!("4\n{MATRIX}"),
        MATRIX.replace(' ', "\t").replace('\n', "\r\n"),
        format!("{head}EDGE_WEIGHT_SECTION\n4\n{MATRIX}EOF\n"),
        format!("{head}EDGE_WEIGHT_SECTION\n{MATRIX}DISPLAY_DATA_SECTION\n1 2 3\nEOF\n"),
    ];
    for text in forms {
        let problem = sequential_ordering(&text).unwrap();
        let found = best_order(&problem, Effort::default());
        assert_eq!((found.order, found.cost, found.proved), (vec![0, 2, 1, 3], 15, true), "{text}");
    }
}

#[test]
fn what_is_wrong_with_a_sequential_ordering_file_is_said() {
    let of = |text: &str| sequential_ordering(text).unwrap_err();
    assert_eq!(of(""), "0 entries make no square matrix");
    assert_eq!(of("0 1 2"), "3 entries make no square matrix");
    assert_eq!(of("0 1 2 x"), "`x` is not a whole number");
    assert_eq!(of("0 999999999 2 0"), "999999999 is too large a cost");
    assert_eq!(of(&MATRIX.replace("0 -1 9", "0 -1 -1")), "the precedence has a cycle");
}

const PROJECT: &str = "\
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------------------------------------------------------------------------
  1      1     0       0    0
  2      1     3       1    0
  3      1     2       1    2
  4      1     0       0    0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1  R 2
    1    2
";

#[test]
fn a_project_is_read_or_what_is_wrong_is_said() {
    let job = project(PROJECT).unwrap();
    assert_eq!((job.capacity, job.graph.graph().edges().len()), (vec![1, 2], 4));
    assert_eq!((job.tasks[2].duration, &job.tasks[2].needs), (2, &vec![1, 2]));
    assert_eq!(project("").unwrap_err(), "no resources");
    assert_eq!(project(&PROJECT.replace("2   3", "2   9")).unwrap_err(), "no job 9 or 1");
    let short = PROJECT.replace("  3      1     2       1    2", "  3      1     2       1");
    assert_eq!(project(&short).unwrap_err(), "job 3 is not of a single mode with a need a resource");
}
