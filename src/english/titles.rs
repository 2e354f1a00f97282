//! Titles to how they stand within a sentence, one of a thing or several. English, as the trade writes it; it must not
//! know what is titled.

/// Words that keep their capital wherever they stand.
const NAMES: [&str; 2] = ["Woodruff", "Belleville"];

/// Words after which a title says more about its noun: the noun before them is the one that takes the plural.
const LINKS: [&str; 10] = ["with", "of", "for", "to", "in", "on", "at", "from", "under", "between"];

/// A title as it stands within a sentence: `Cylinder head` to `cylinder head`; `TDC pin` stays.
pub(crate) fn inner(title: &str) -> String {
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

/// Work on one or several of what a title names: `Fit the camshaft`, `Fit the followers`.
pub(crate) fn work_on(work: &str, title: &str, several: bool) -> String {
    let thing = inner(title);
    format!("{work} the {}", if several { plural(&thing) } else { thing })
}

/// More than one: `head nuts`, `pulleys`, `assemblies`, `valves with springs off`.
pub(crate) fn plural(noun: &str) -> String {
    let words: Vec<&str> = noun.split(' ').collect();
    let comma = words.iter().position(|word| word.ends_with(',')).map(|at| at + 1);
    let link = words.iter().position(|word| LINKS.contains(word)).filter(|at| *at > 0);
    let end = [comma, link].into_iter().flatten().min().unwrap_or(words.len());
    let mut words: Vec<String> = words.into_iter().map(str::to_owned).collect();
    let Some(word) = words.get_mut(end - 1) else { return noun.to_owned() };
    let tail = word.trim_end_matches([',', ';']).len();
    let mark = word.split_off(tail);
    *word = plural_word(word) + &mark;
    words.join(" ")
}

fn plural_word(word: &str) -> String {
    let ends = |endings: &[&str]| endings.iter().any(|ending| word.ends_with(ending));
    if ends(&["ss", "sh", "ch", "x", "z"]) {
        return format!("{word}es");
    }
    if word.ends_with('s') {
        return word.to_owned();
    }
    if let Some(stem) = word.strip_suffix('y')
        && !ends(&["ay", "ey", "oy", "uy"])
    {
        return format!("{stem}ies");
    }
    if word.ends_with("half") {
        return format!("{}halves", word.trim_end_matches("half"));
    }
    if let Some(stem) = word.strip_suffix("foot") {
        return format!("{stem}feet");
    }
    format!("{word}s")
}
