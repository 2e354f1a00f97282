//! Titles to how they stand within a sentence. English, as the trade writes it; it must not know what is titled.

/// Words that keep their capital wherever they stand.
const NAMES: [&str; 4] = ["Woodruff", "Belleville", "Allen", "Pozidriv"];

/// A title as it stands within a sentence: `Cylinder head` to `cylinder head`; `TDC pin` stays.
pub fn inner(title: &str) -> String {
    let first = title.split_whitespace().next().unwrap_or_default();
    let is_code = first.chars().skip(1).any(|c| c.is_uppercase() || c.is_ascii_digit())
        || first.chars().nth(1).is_some_and(|c| !c.is_alphabetic());
    if is_code || first.chars().count() == 1 && first != "A" || NAMES.contains(&first) {
        return title.to_owned();
    }
    let mut characters = title.chars();
    match characters.next() {
        Some(first) => first.to_lowercase().chain(characters).collect(),
        None => String::new(),
    }
}
