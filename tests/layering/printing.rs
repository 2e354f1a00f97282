//! Numbers are printed in one place: no file of the source rounds a number in a format string, or prints a measure bare, but
//! the few that are listed with their reason.

use std::fs;
use std::path::Path;

use super::rust_files;

/// Files that round in format strings, and why.
const ROUNDING: [(&str, &str); 4] = [
    ("src/quantity/numeral.rs", "the place where numbers are printed"),
    ("src/quantity/figure.rs", "twelve digits for programs"),
    (
        "src/sheet/plain.rs",
        "where holes of a figure lie, as plain text for tests: no measure that anybody reads off",
    ),
    ("src/packet/overview/svg.rs", "coordinates of a picture"),
];

/// What gives a measure as a bare number.
const BARE: [&str; 15] = [
    ".mm()",
    ".um()",
    ".mm2()",
    ".cm3()",
    ".newtons()",
    ".kilonewtons()",
    ".newton_metres()",
    ".newtons_per_mm()",
    ".megapascals()",
    ".percent()",
    ".fraction()",
    ".degrees()",
    ".celsius()",
    ".kelvin()",
    ".kilograms()",
];

/// Places in braces that are rounded: `{:.2}`, `{low:>8.1}`, `{value:.*}`; not `{size: 0.25 mm}`, which is an example.
fn rounded(line: &str) -> Vec<&str> {
    let spec = |inside: &str| {
        inside.split_once(':').is_some_and(|(name, spec)| {
            let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
            name.chars().all(word)
                && spec.contains('.')
                && spec.chars().all(|c| word(c) || "<>^+#.*$?".contains(c))
        })
    };
    let inside = line.match_indices('{').filter_map(|(at, _)| {
        let rest = &line[at + 1..];
        Some(&rest[..rest.find('}')?])
    });
    inside.filter(|inside| spec(inside)).collect()
}

/// The arguments of each macro that formats, and where it begins.
fn formatted(text: &str) -> Vec<(usize, Vec<&str>)> {
    let mut found = Vec::new();
    for name in ["format!(", "write!(", "writeln!(", "print!(", "println!("] {
        for (at, _) in text.match_indices(name) {
            let start = at + name.len();
            let (mut depth, mut quoted, mut escaped, mut last) = (0, false, false, start);
            let mut arguments = Vec::new();
            for (offset, c) in text[start..].char_indices() {
                match c {
                    _ if escaped => escaped = false,
                    '\\' if quoted => escaped = true,
                    '"' => quoted = !quoted,
                    _ if quoted => {}
                    '(' | '[' | '{' => depth += 1,
                    ')' | ']' | '}' if depth > 0 => depth -= 1,
                    ')' => {
                        arguments.push(text[last..start + offset].trim());
                        break;
                    }
                    ',' if depth == 0 => {
                        arguments.push(text[last..start + offset].trim());
                        last = start + offset + 1;
                    }
                    _ => {}
                }
            }
            found.push((at, arguments));
        }
    }
    found
}

#[test]
fn numbers_are_rounded_and_printed_in_one_place() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let (mut faults, mut used, mut seen) = (Vec::new(), Vec::new(), 0);
    for file in rust_files(&top.join("src")) {
        let text = fs::read_to_string(&file).unwrap();
        let name = file.strip_prefix(top).unwrap().to_string_lossy().into_owned();
        for (number, line) in text.lines().enumerate() {
            let code = if line.trim_start().starts_with("//") { "" } else { line };
            for inside in rounded(code) {
                match ROUNDING.iter().find(|(allowed, _)| *allowed == name) {
                    Some((allowed, _)) => used.push(*allowed),
                    None => faults.push(format!("{name}:{}: `{{{inside}}}` rounds by itself", number + 1)),
                }
            }
        }
        for (at, arguments) in formatted(&text) {
            seen += 1;
            for argument in arguments.iter().skip(1) {
                if BARE.iter().any(|bare| argument.ends_with(bare)) {
                    let number = text[..at].lines().count();
                    faults.push(format!("{name}:{number}: `{argument}` is printed bare"));
                }
            }
        }
        for bare in BARE {
            if text.contains(&format!("{bare}.to_string()")) {
                faults.push(format!("{name}: `{bare}` is printed bare"));
            }
        }
    }
    assert!(seen > 800, "only {seen} macros were read");
    assert!(
        faults.is_empty(),
        "print it with `quantity::figure` or a kind of its own:\n{}",
        faults.join("\n")
    );
    for (file, _) in ROUNDING {
        assert!(used.contains(&file), "{file} rounds nothing any more: take it off the list");
    }
}
