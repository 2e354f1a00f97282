//! Keywords that results and bands begin with, to what they mean for the part that is judged, or for the choice of a
//! piece. It is the one place where a result or band is read; `grammar/README.md` shows the same list.

/// What a result means for a part, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Meaning {
    /// It goes back.
    Back,
    /// It is cleaned and goes back.
    Clean,
    /// It is machined.
    Machine,
    /// It is renewed.
    Renew,
}

/// Keywords of one meaning.
struct Keywords {
    meaning: Meaning,
    /// Whether they say what is to be done, so that a band that begins with one names none of the pieces of a choice.
    work: bool,
    words: &'static [&'static str],
}

/// What a result or band may begin with, as in `grind_light`. The words are those of the trade: common practice, no
/// source.
const KEYWORDS: [Keywords; 5] = [
    Keywords {
        meaning: Meaning::Back,
        work: false,
        words: &[
            "good",
            "sound",
            "fit",
            "reuse",
            "keep",
            "serviceable",
            "straight",
            "smooth",
            "flat",
            "ok",
            "within",
            "holds",
            "opens",
            "intact",
        ],
    },
    Keywords { meaning: Meaning::Clean, work: false, words: &["clean", "dirty"] },
    Keywords {
        meaning: Meaning::Machine,
        work: true,
        words: &[
            "machine", "bore", "rebore", "grind", "regrind", "hone", "skim", "lap", "recut", SLEEVE, "repair",
        ],
    },
    Keywords { meaning: Meaning::Renew, work: true, words: &["renew", "replace", "scrap"] },
    Keywords {
        meaning: Meaning::Renew,
        work: false,
        words: &[
            "cracked", "bent", "broken", "worn", "pitted", "scored", "grooved", "chipped", "leaks",
            "leaking", "stuck", "loose", "thin", "perished", "weak", "burnt",
        ],
    },
];

/// The word for machining that puts a sleeve in.
const SLEEVE: &str = "resleeve";

fn keywords(result: &str) -> Option<&'static Keywords> {
    let first = result.split('_').next()?;
    KEYWORDS.iter().find(|keywords| keywords.words.contains(&first))
}

/// What a result or band means for the part; none for one that begins with no keyword.
pub(crate) fn meaning(result: &str) -> Option<Meaning> {
    keywords(result).map(|keywords| keywords.meaning)
}

/// Whether what is done to a part, in words, puts a sleeve in: `bore, resleeve`.
pub(crate) fn puts_a_sleeve_in(what: &str) -> bool {
    what.split(", ").any(|work| work.split(' ').next() == Some(SLEEVE))
}

/// Whether a result says that a sleeve is put in.
pub(super) fn is_sleeve(result: &str) -> bool {
    result.split('_').next() == Some(SLEEVE)
}

/// Whether a band of a gauge that chooses a piece says instead that none of the pieces will do.
pub(super) fn is_no_piece(band: &str) -> bool {
    keywords(band).is_some_and(|keywords| keywords.work)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reference_shows_every_keyword_with_its_meaning() {
        let page = include_str!("../../grammar/README.md");
        let (_, table) = page.split_once("| begins with | it means |\n| --- | --- |\n").unwrap();
        let shown: Vec<&str> = table.lines().take_while(|line| line.starts_with('|')).collect();
        let rows = KEYWORDS.iter().map(|keywords| {
            let words: Vec<String> = keywords.words.iter().map(|word| format!("`{word}`")).collect();
            let part = match keywords.meaning {
                Meaning::Back => "the part goes back",
                Meaning::Clean => "the part is cleaned and goes back",
                Meaning::Machine => "the part is machined",
                Meaning::Renew => "the part is renewed",
            };
            let choice = if keywords.work { "; in a choice of pieces: none of them will do" } else { "" };
            format!("| {} | {part}{choice} |", words.join(", "))
        });
        assert_eq!(shown, rows.collect::<Vec<_>>());
    }

    #[test]
    fn a_keyword_stands_alone_or_before_an_underscore_and_has_one_meaning() {
        let words: Vec<&str> = KEYWORDS.iter().flat_map(|keywords| keywords.words).copied().collect();
        for word in &words {
            assert_eq!(words.iter().filter(|other| *other == word).count(), 1, "{word}");
            assert!(!word.contains('_'), "{word} would never be found");
            assert!(
                meaning(word).is_some() && meaning(word) == meaning(&format!("{word}_lightly")),
                "{word}"
            );
            assert_eq!(meaning(&format!("{word}er")), None, "{word}");
            assert_eq!(meaning(&format!("not_{word}")), None, "{word}");
        }
        assert_eq!(meaning("grind_light"), Some(Meaning::Machine));
        assert!(
            is_no_piece("renew")
                && is_no_piece("skim_block")
                && !is_no_piece("thin")
                && !is_no_piece("two_notches")
        );
    }
}
