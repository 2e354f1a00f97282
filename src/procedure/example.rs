//! A line that would declare a thing of some kind under a name that nothing has yet, to be shown where that name is used. It must
//! not know what else there is.

use crate::english::{capital, spaced};

/// A declaration of a thing of this kind, in the words of [`Name::kind`](super::model::Name::kind).
pub(super) fn example(kind: &str, name: &str) -> String {
    let title = capital(&spaced(name));
    match kind {
        "an axis" => format!("axis {name} = 1 .. 4"),
        "a question" => format!("ask {name} \"...?\" = yes, no"),
        "a setup" => format!("setup {name} = upright (at first), inverted"),
        "a state" => format!("state {name} = full (at first), drained"),
        "a tool" => tool(name, &title),
        "a supply" => format!("supply {name} \"{title}\""),
        "a fastener set" => format!("fasteners {name} 4 \"{title}\" {{ thread M8 }}"),
        "a joint" => format!("joint {name} \"{title}\" {{ clamps PART, BASE }}"),
        "a gauge" => format!("gauge {name} \"{title}\" {{ unit mm }}"),
        "a look" => format!("look {name} \"{title}\" {{ results sound, cracked }}"),
        "a temporary" => format!("temporary {name} \"{title}\""),
        "a hazard" => format!("hazard {name} warning damage {{ hazard \"...\" avoid \"...\" }}"),
        "a rule" => format!("rule {name} {{ undo smaller before larger }}"),
        "a step" => format!("strip {name} \"{title}\" {{ }}"),
        _ => format!("part {name} \"{title}\""),
    }
}

/// What drives a size across flats has it in its name: what it is called by, its kind, and what stands behind the size in its
/// title.
const DRIVERS: [(&str, &str, &str); 5] = [
    ("socket", "socket", "socket"),
    ("spanner", "spanner", "spanner"),
    ("hex", "socket", "hexagon bit"),
    ("hex_key", "socket", "hexagon bit"),
    ("key", "socket", "hexagon bit"),
];

fn tool(name: &str, title: &str) -> String {
    let driver = name.rsplit_once('_').and_then(|(before, size)| {
        let size: u32 = size.parse().ok()?;
        let (_, kind, words) = DRIVERS.iter().find(|(called, ..)| *called == before)?;
        Some(format!("tool {name} \"{size} mm {words}\" {{ kind {kind}  size {size} mm }}"))
    });
    driver.unwrap_or_else(|| match name.split('_').find(|word| *word == "puller") {
        Some(kind) => format!("tool {name} \"{title}\" {{ kind {kind} }}"),
        None => format!("tool {name} \"{title}\""),
    })
}

/// Whether what is said to hold a part is no fastener, but the fit of the part itself.
pub(super) fn is_fit(name: &str) -> bool {
    const FITS: [&str; 8] =
        ["taper", "interference", "press", "pressed", "shrunk", "shrink", "wedge", "friction"];
    name.split('_').any(|word| FITS.contains(&word))
}
