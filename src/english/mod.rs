//! English as sentences need it: lists, numbers of things, capitals, ids as words, titles within a sentence. It must not
//! know what is spoken of.

mod mend;
mod titles;

pub(crate) use mend::Mend;
pub(crate) use titles::{inner, plural, work_on};

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list<S: AsRef<str>>(items: &[S]) -> String {
    join(items, "and")
}

/// `a`, `a or b`, `a, b or c`.
pub(crate) fn alternatives<S: AsRef<str>>(items: &[S]) -> String {
    join(items, "or")
}

/// Words of a file as a choice: "`a`, `b` or `c`".
pub(crate) fn one_of<S: AsRef<str>>(words: &[S]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{}`", word.as_ref())).collect();
    alternatives(&quoted)
}

fn join<S: AsRef<str>>(items: &[S], word: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [rest @ .., last] => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} {word} {}", rest.join(", "), last.as_ref())
        }
    }
}

/// The noun for one or several: `step`, `steps`.
pub(crate) fn noun(count: usize, one: &str) -> String {
    if count == 1 { one.to_owned() } else { plural(one) }
}

/// How many of something: `1 step`, `2 steps`.
pub(crate) fn counted(count: usize, one: &str) -> String {
    format!("{count} {}", noun(count, one))
}

/// With a capital at its start.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A sentence: a capital at its start, a full stop at its end.
pub(crate) fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?', ':']) {
        capital(text)
    } else {
        format!("{}.", capital(text))
    }
}

/// An id's words: `nose_up` to `nose up`.
pub(crate) fn spaced(id: &str) -> String {
    id.replace('_', " ")
}

/// Whether two names are the same in whatever case, with spaces or underscores.
pub(crate) fn same_words(a: &str, b: &str) -> bool {
    let plain = |text: &str| spaced(&text.to_lowercase());
    plain(a).trim() == plain(b).trim()
}

/// A size as names of tools have it, without its unit: of `3/8 in` it is `3_8`.
pub(crate) fn size_in_a_name(size: &str) -> String {
    size.split(' ').next().unwrap_or_default().replace(['/', '.'], "_")
}

/// Things with numbers as a list tells them: three and more that follow each other in one run, each other alone.
pub(crate) fn in_runs<T>(
    things: &[T],
    number: impl Copy + Fn(&T) -> Option<usize>,
) -> impl Iterator<Item = &[T]> {
    let runs = things.chunk_by(move |a, b| number(a).is_some_and(|first| number(b) == Some(first + 1)));
    runs.flat_map(|run| run.chunks(if run.len() < 3 { 1 } else { run.len() }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_aloud() {
        let items = ["a", "b", "c"];
        assert_eq!(list(&items), "a, b and c");
        assert_eq!(alternatives(&items[..2]), "a or b");
        assert_eq!(list::<String>(&[]), "");
    }

    #[test]
    fn one_is_counted_as_one() {
        assert_eq!([0, 1, 2].map(|count| counted(count, "step")), ["0 steps", "1 step", "2 steps"]);
        assert_eq!(counted(2, "shell half"), "2 shell halves");
        assert_eq!(counted(4, "rubber foot"), "4 rubber feet");
    }
}
