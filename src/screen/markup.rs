//! Tags and words, written so that no word can be taken for a tag. It must not know what they mean.

use std::fmt::Display;

/// A tag that is being begun.
pub(super) struct Tag {
    name: &'static str,
    begun: String,
}

impl Tag {
    /// A tag without attributes.
    pub(super) fn new(name: &'static str) -> Tag {
        Tag { name, begun: format!("<{name}") }
    }

    /// Gives it an attribute.
    pub(super) fn with(mut self, attribute: &str, value: impl Display) -> Tag {
        self.begun += &format!(" {attribute}=\"{}\"", escaped(&value.to_string()));
        self
    }

    /// Gives it an attribute that is there or isn't.
    pub(super) fn flag(mut self, attribute: &str, on: bool) -> Tag {
        if on {
            self.begun += &format!(" {attribute}");
        }
        self
    }

    /// Writes it with what stands in it.
    pub(super) fn around(self, out: &mut String, inside: impl FnOnce(&mut String)) {
        out.push_str(&self.begun);
        out.push('>');
        inside(out);
        out.push_str("</");
        out.push_str(self.name);
        out.push('>');
    }

    /// Writes it with words in it.
    pub(super) fn of(self, out: &mut String, words: &str) {
        self.around(out, |out| out.push_str(&escaped(words)));
    }

    /// Writes it where nothing stands in it.
    pub(super) fn alone(self, out: &mut String) {
        out.push_str(&self.begun);
        out.push('>');
    }
}

/// Words as they stand between tags and in attributes; what can't be shown is left out.
pub(super) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(' '),
            letter if letter.is_control() => {}
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_is_taken_for_a_tag() {
        let mut out = String::new();
        Tag::new("p").with("title", "a \"b\" <c>").flag("hidden", true).of(&mut out, "1 < 2 & 3\u{7}");
        assert_eq!(out, "<p title=\"a &quot;b&quot; &lt;c&gt;\" hidden>1 &lt; 2 &amp; 3</p>");
    }
}
