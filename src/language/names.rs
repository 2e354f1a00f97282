//! How a name is spelt, and what a thing could be called. It must not know what has names.

/// The nearest proper spelling of a name: lower case, `_` between words, a letter first.
pub(super) fn proper_name(written: &str) -> String {
    let mut proper = String::new();
    let mut after_small = false;
    for letter in written.chars() {
        if letter.is_ascii_uppercase() && after_small {
            proper.push('_');
        }
        after_small = letter.is_ascii_lowercase() || letter.is_ascii_digit();
        proper.push(if letter == '-' { '_' } else { letter.to_ascii_lowercase() });
    }
    let trimmed = proper.trim_start_matches('_');
    if trimmed.is_empty() { "unnamed".to_owned() } else { trimmed.to_owned() }
}

/// A name made of the first words of a title.
pub(super) fn name_for_title(title: &str) -> String {
    let words = title.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).take(3);
    let name = words.map(str::to_ascii_lowercase).collect::<Vec<_>>().join("_");
    let name = name.trim_start_matches(|c: char| !c.is_ascii_lowercase());
    if name.is_empty() { "my_name".to_owned() } else { name.to_owned() }
}
