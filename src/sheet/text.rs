//! Running text of a sheet: runs of words with their emphasis, and the anchors that they lead to.

/// A piece of running text with its emphasis.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// How they are set.
    pub style: Style,
    /// Anchor that they lead to, if they are a link.
    pub link: Option<Anchor>,
}

/// Emphasis of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// Ordinary text.
    Plain,
    /// Bold.
    Bold,
    /// Codes, part numbers, hole letters.
    Mono,
    /// The number by which what is filled in here is told apart: no word of the text itself.
    Number,
}

/// Text as a row of runs.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Text(pub Vec<Run>);

impl Text {
    /// Ordinary text.
    pub fn plain(text: impl Into<String>) -> Self {
        Text::default().and(text)
    }

    /// Bold text.
    pub fn bold(text: impl Into<String>) -> Self {
        Text::default().and_bold(text)
    }

    /// Adds ordinary text.
    #[must_use]
    pub fn and(self, text: impl Into<String>) -> Self {
        self.push(text, Style::Plain, None)
    }

    /// Adds bold text.
    #[must_use]
    pub fn and_bold(self, text: impl Into<String>) -> Self {
        self.push(text, Style::Bold, None)
    }

    /// Adds text that leads to `anchor`.
    #[must_use]
    pub fn and_link(self, text: impl Into<String>, anchor: Anchor) -> Self {
        self.push(text, Style::Plain, Some(anchor))
    }

    /// Adds bold text that leads to `anchor`.
    #[must_use]
    pub fn and_bold_link(self, text: impl Into<String>, anchor: Anchor) -> Self {
        self.push(text, Style::Bold, Some(anchor))
    }

    /// Adds another text with its emphasis and its links.
    #[must_use]
    pub fn and_text(mut self, other: Text) -> Self {
        self.0.extend(other.0);
        self
    }

    fn push(mut self, text: impl Into<String>, style: Style, link: Option<Anchor>) -> Self {
        let text = text.into();
        if !text.is_empty() {
            self.0.push(Run { text, style, link });
        }
        self
    }

    /// The words alone.
    pub fn words(&self) -> String {
        let runs = self.0.iter().filter(|run| run.style != Style::Number);
        runs.map(|run| run.text.as_str()).collect()
    }

    /// The number of what is filled in here, if it has one.
    pub fn number(&self) -> Option<&str> {
        self.0.iter().find(|run| run.style == Style::Number).map(|run| run.text.as_str())
    }

    /// Gives what is filled in here its number.
    pub fn set_number(&mut self, number: impl Into<String>) {
        self.0.retain(|run| run.style != Style::Number);
        self.0.push(Run { text: number.into(), style: Style::Number, link: None });
    }

    /// The text without the number.
    #[must_use]
    pub fn unnumbered(&self) -> Text {
        Text(self.0.iter().filter(|run| run.style != Style::Number).cloned().collect())
    }
}

/// A place that links can lead to; unique within a packet, such as `step:open_head`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Anchor(pub String);

impl Anchor {
    /// The head of a sheet, by its place in the packet.
    pub fn of_sheet(index: usize) -> Self {
        Anchor(format!("sheet:{index}"))
    }
}
