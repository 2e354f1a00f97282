//! Figures as inline SVG: the items that are painted on paper, in the same place, with the ink of the screen.

use std::fmt::Write;

use super::markup::{Tag, escaped};
use super::words::{Places, text};
use crate::page::pages::{Dash, Ink, Item, Position, Ring, Segment, Stroke, TextRun};
use crate::page::{Face, Picture, pictures};
use crate::sheet::Figure;

/// Writes a figure with its caption and the words that stand for it; links to it lead to its id.
pub(super) fn figure(out: &mut String, shown: &Figure, id: Option<&str>, places: &Places) {
    let (pictures, caption) = pictures(shown);
    let tag = Tag::new("figure");
    let tag = match id {
        Some(id) => tag.with("id", id),
        None => tag,
    };
    tag.around(out, |out| {
        for picture in &pictures {
            svg(out, picture, Some(&shown.alternative));
        }
        if !caption.words().trim().is_empty() {
            Tag::new("figcaption").around(out, |out| text(out, &caption, places));
        }
    });
    out.push('\n');
}

/// Writes a drawing; one without words is decoration.
pub(super) fn svg(out: &mut String, picture: &Picture, alternative: Option<&str>) {
    let (width, height) = (picture.width.ceil(), picture.height.ceil());
    let tag = Tag::new("svg")
        .with("viewBox", format!("-2 -2 {} {}", width + 4.0, height + 4.0))
        .with("width", width + 4.0)
        .with("height", height + 4.0);
    let tag = match alternative {
        Some(words) => tag.with("role", "img").with("aria-label", words),
        None => tag.with("aria-hidden", "true"),
    };
    tag.around(out, |out| picture.items.iter().for_each(|item| self::item(out, item)));
}

// Writing to a String can't fail, so the results of `write!` are dropped throughout.
fn item(out: &mut String, item: &Item) {
    match item {
        Item::Text(run) => words(out, run),
        Item::Line { from, to, stroke } => {
            let (from, to) = (at(*from), at(*to));
            let _ = write!(out, "<path d=\"M{from}L{to}\"{}/>", line(Some(stroke)));
        }
        Item::Rectangle { area, fill, stroke } => {
            let _ = write!(
                out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}{}/>",
                short(area.x),
                short(area.y),
                short(area.width),
                short(area.height),
                self::fill(*fill),
                line(stroke.as_ref())
            );
        }
        Item::Shape { rings, fill, stroke } => {
            let rings: String = rings.iter().map(ring).collect();
            let _ = write!(out, "<path d=\"{rings}\"{}{}/>", self::fill(*fill), line(stroke.as_ref()));
        }
    }
}

/// Words as wide as they are on paper, whatever letters the screen has.
fn words(out: &mut String, run: &TextRun) {
    let face = match run.face {
        Face::Regular => "",
        Face::Bold => " font-weight=\"700\"",
        Face::Mono => " font-family=\"monospace\"",
    };
    let _ = write!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"{face}>{}</text>",
        short(run.at.x),
        short(run.at.y),
        short(run.size),
        short(run.width),
        ink(run.ink),
        escaped(run.text.trim_end())
    );
}

fn ring(Ring { start, segments }: &Ring) -> String {
    let segment = |segment: &Segment| match segment {
        Segment::Line(to) => format!("L{}", at(*to)),
        Segment::Curve(one, two, to) => format!("C{} {} {}", at(*one), at(*two), at(*to)),
    };
    let segments: String = segments.iter().map(segment).collect();
    format!("M{}{segments}Z", at(*start))
}

fn at(position: Position) -> String {
    format!("{} {}", short(position.x), short(position.y))
}

/// Hundredths are finer than any screen.
fn short(length: f32) -> f32 {
    let rounded = (length * 100.0).round() / 100.0;
    if rounded == 0.0 { 0.0 } else { rounded }
}

fn ink(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "currentColor",
        Ink::White => "var(--paper)",
    }
}

fn fill(fill: Option<Ink>) -> String {
    format!(" fill=\"{}\"", fill.map_or("none", ink))
}

fn line(stroke: Option<&Stroke>) -> String {
    let Some(stroke) = stroke else { return String::new() };
    let dash = match stroke.dash {
        Dash::Solid => "",
        Dash::Dashed => " stroke-dasharray=\"4 3\"",
        Dash::Dotted => " stroke-dasharray=\"1 2\"",
        Dash::DashDot => " stroke-dasharray=\"6 2 1 2\"",
    };
    format!(" stroke=\"{}\" stroke-width=\"{}\"{dash}", ink(stroke.ink), short(stroke.width))
}
