//! Scales in which joints are drawn, and how they are told.

/// Scales that are used, as paper over engine. They lie close, so that a joint which just misses one isn't drawn too small for
/// its letters.
const SCALES: [(f32, &str); 22] = [
    (5.0, "5 : 1"),
    (4.0, "4 : 1"),
    (3.0, "3 : 1"),
    (2.0, "2 : 1"),
    (1.5, "1.5 : 1"),
    (1.0, "1 : 1"),
    (1.0 / 1.25, "1 : 1.25"),
    (1.0 / 1.5, "1 : 1.5"),
    (0.5, "1 : 2"),
    (0.4, "1 : 2.5"),
    (1.0 / 3.0, "1 : 3"),
    (0.25, "1 : 4"),
    (0.2, "1 : 5"),
    (1.0 / 6.0, "1 : 6"),
    (0.125, "1 : 8"),
    (0.1, "1 : 10"),
    (0.08, "1 : 12.5"),
    (1.0 / 15.0, "1 : 15"),
    (0.05, "1 : 20"),
    (0.04, "1 : 25"),
    (1.0 / 30.0, "1 : 30"),
    (0.02, "1 : 50"),
];

/// How large a joint is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::page) struct Scale {
    /// Paper over engine.
    paper: f32,
    /// As it is told; empty for one that is in no row of scales.
    name: &'static str,
}

impl Scale {
    /// One that is in no row of scales.
    pub(super) fn odd(paper: f32) -> Scale {
        Scale { paper, name: "" }
    }

    pub(super) fn paper(self) -> f32 {
        self.paper
    }

    /// As it is told under a figure.
    pub(super) fn words(self) -> String {
        match self.name {
            "" => "drawn smaller to fit".to_owned(),
            name => format!("scale {}", name.replace(' ', "\u{a0}")),
        }
    }

    /// This scale, or the next smaller one that is no larger than `most`.
    pub(super) fn within(self, most: f32) -> Scale {
        if self.paper <= most {
            return self;
        }
        scales().find(|scale| scale.paper <= most).unwrap_or(Scale::odd(most))
    }
}

/// The scales from the largest to the smallest.
pub(super) fn scales() -> impl DoubleEndedIterator<Item = Scale> + Clone {
    SCALES.into_iter().map(|(paper, name)| Scale { paper, name })
}
