//! Comments within a value that another one is put in place of: what the owner of a record wrote beside it is kept.
//! It must not know what a value means.

/// The comments within a value that begins as `text` does: behind the sign of a block, or between brackets. Each begins
/// with its `#`.
pub(super) fn comments_in(text: &str) -> Vec<&str> {
    if text.starts_with(['|', '>']) {
        let sign = text.lines().next().unwrap_or_default();
        return sign.find('#').map(|at| sign[at..].trim_end()).into_iter().collect();
    }
    if text.starts_with(['{', '[']) { comments_in_brackets(text) } else { Vec::new() }
}

fn comments_in_brackets(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut letters = text.char_indices().peekable();
    // A quote begins a text only where a value may begin; within a word it is a letter.
    let (mut may_begin, mut space) = (true, true);
    while let Some((at, letter)) = letters.next() {
        match letter {
            '"' | '\'' if may_begin => {
                while let Some((_, inner)) = letters.next() {
                    if inner == '\\' && letter == '"' {
                        letters.next();
                    } else if inner == letter
                        && letters.next_if(|(_, next)| letter == '\'' && *next == '\'').is_none()
                    {
                        break;
                    }
                }
                may_begin = false;
            }
            '#' if space => {
                let comment = text[at..].lines().next().unwrap_or_default();
                found.push(comment.trim_end());
                while letters.next_if(|(_, next)| *next != '\n').is_some() {}
            }
            '{' | '[' | ',' | ':' => may_begin = true,
            letter if letter.is_whitespace() => {}
            _ => may_begin = false,
        }
        space = letter.is_whitespace();
    }
    found
}

#[cfg(test)]
mod tests {
    use super::comments_in;

    #[test]
    fn comments_are_told_from_what_only_looks_like_one() {
        let cases: &[(&str, &[&str])] = &[
            ("|-  # 5° off \n  lip # no comment\n", &["# 5° off"]),
            (">\n  # no comment\n", &[]),
            (
                "{value: 1 mm, # first\n  by: 'it''s # no', \"a\\\" # b\": x#y # last\r\n}",
                &["# first", "# last"],
            ),
            ("[it's, # one\n it's]", &["# one"]),
            ("plain #1", &[]),
        ];
        for (text, wanted) in cases {
            assert_eq!(comments_in(text), *wanted, "{text}");
        }
    }
}
