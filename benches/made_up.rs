//! A procedure of so many steps, made up for benchmarks.

use std::fmt::Write as _;

/// Assemblies of ten parts, each under the next and held by a set of its own, undone and taken in steps of their own; oil
/// drained once, a reading of each tenth part, and some steps under one answer only.
pub(crate) fn procedure(steps: usize) -> String {
    let mut text = String::from(
        "-- Made up for a benchmark.\nfamily big \"Big\" { edition 1  origin \"invented\"  invented }\n",
    );
    text += "state oil \"Oil\" = full (at first), drained\nask fan \"Is a fan fitted?\" = yes, no\n";
    text += "tool socket_13 \"13 mm socket\" { kind socket  size 13 mm }\n";
    let parts = steps / 2;
    let mut add = |line: std::fmt::Arguments<'_>| writeln!(text, "{line}").expect("a string takes all");
    for part in 0..parts {
        let cover = if part % 10 == 9 || part + 1 == parts {
            String::new()
        } else {
            format!("under part{}  ", part + 1)
        };
        let releases = if part % 50 == 0 { "releases oil = full  " } else { "" };
        add(format_args!(
            "part part{part} \"Part\" {{\n    {cover}held by set{part}  {releases}dry\n    fate reuse\n}}"
        ));
        add(format_args!("fasteners set{part} 4 \"Set\" {{\n    kind bolt  thread M8  reusable  dry\n}}"));
        if part % 10 == 0 {
            add(format_args!(
                "gauge depth{part} \"Depth\" {{\n    of part{part}  unit mm  instrument \"depth gauge\" resolution 0.02 mm  taken off  worn 1.5 mm from \"invented\"\n}}"
            ));
        }
    }
    add(format_args!("strip drain \"Drain the oil\" {{ set oil = drained }}"));
    for part in 0..parts {
        if part % 500 == 0 {
            add(format_args!("section section{part} \"Section\""));
        }
        add(format_args!("strip undo{part} \"Undo a set\" {{\n    undo set{part}\n}}"));
        add(format_args!("strip take{part} \"Take a part\" {{\n    take part{part} \"Straight up.\"\n}}"));
        if part % 97 == 0 {
            add(format_args!(
                "strip note{part} \"Note\" {{ when fan = yes  needs part{part} off  do \"Look at it.\" }}"
            ));
        }
        if part % 10 == 0 {
            add(format_args!("strip reads{part} \"Read it\" {{\n    gauge depth{part}\n}}"));
        }
    }
    text
}
