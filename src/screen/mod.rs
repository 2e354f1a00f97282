//! Sheets of blocks in, one HTML text out: a packet for a screen at the bench. The order, the words, the numbers and the
//! figures are those of the paper; what is ticked and written is kept by the browser and saved as a table that is gathered.
//!
//! It knows what a number means by the plan that the packet carries, as whoever gathers does. It must not know procedures,
//! jobs or files. The text is whole: nothing in it refers to anything outside, and the same packet gives the same bytes.

mod blocks;
mod cells;
mod fields;
mod figure;
mod hazard;
mod markup;
mod steps;
mod words;

use crate::gather::Printed;
use crate::sheet::Packet;
use blocks::Writer;
use fields::Fields;
use markup::{Tag, escaped};

/// How it looks.
const STYLE: &str = include_str!("screen.css");
/// What it does.
const SCRIPT: &str = include_str!("screen.js");
/// First words of every file of ours, by which it is known before it is written over.
const OPENING: &str = "<!--benchleaf-->\n<!doctype html>\n";
/// Where the plan begins in it, and where it ends.
const PLAN: (&str, &str) = ("<script type=\"application/json\" id=\"plan\">", "</script>");

/// A packet as one HTML text.
pub(crate) fn write_html(packet: &Packet) -> String {
    let plan = packet.attachments.first().map(|plan| plan.bytes.as_slice()).unwrap_or_default();
    let printed = Printed::read(plan).unwrap_or_default();
    let mut writer = Writer::new(packet, Fields::of(&printed));
    let sheets = writer.sheets();
    // Sheets without a plan, such as a list for the wall, are only read.
    let fills_in = !printed.numbers.is_empty();
    let footer = &packet.footer;
    let name = [packet.title.as_str(), &footer.job].into_iter().filter(|words| !words.is_empty());
    let mut out = OPENING.to_owned();
    Tag::new("html").with("lang", &packet.language).around(&mut out, |out| {
        out.push_str("<head>\n<meta charset=\"utf-8\">\n");
        // Nothing is fetched and nothing sent: what stands in the file is all there is.
        out.push_str(concat!(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; ",
            "script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n",
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
            "<meta name=\"color-scheme\" content=\"light dark\">\n",
        ));
        Tag::new("title").of(out, &name.collect::<Vec<_>>().join(", "));
        out.push_str("\n<style>\n");
        out.push_str(STYLE);
        out.push_str("</style>\n</head>\n<body>\n");
        head(out, packet, fills_in);
        Tag::new("main").with("id", "work").with("tabindex", "-1").around(out, |out| {
            out.push('\n');
            out.push_str(&sheets);
        });
        Tag::new("footer").around(out, |out| {
            for words in [&footer.procedure, &footer.job, &footer.fingerprint] {
                if !words.is_empty() {
                    Tag::new("span").of(out, words);
                    out.push(' ');
                }
            }
        });
        out.push('\n');
        out.push_str(PLAN.0);
        // In a script nothing may look like its end.
        out.push_str(&String::from_utf8_lossy(plan).replace('<', "\\u003c"));
        out.push_str(PLAN.1);
        if fills_in {
            out.push_str("\n<script>\n");
            out.push_str(SCRIPT);
            out.push_str("</script>");
        }
        out.push_str("\n</body>\n");
    });
    out.push('\n');
    out
}

/// The plan that such a text carries; none if it is none of ours.
pub(crate) fn read_html(bytes: &[u8]) -> Option<Vec<u8>> {
    let text = std::str::from_utf8(bytes).ok()?;
    let (_, rest) = text.strip_prefix(OPENING)?.split_once(PLAN.0)?;
    let (plan, _) = rest.split_once(PLAN.1)?;
    Some(plan.as_bytes().to_vec())
}

/// What stands above the sheets: what it is, what is done with it, and where its sheets begin.
fn head(out: &mut String, packet: &Packet, fills_in: bool) {
    let footer = &packet.footer;
    Tag::new("a").with("class", "skip").with("href", "#work").of(out, "To the work");
    out.push('\n');
    Tag::new("header").around(out, |out| {
        Tag::new("h1").of(out, &packet.title);
        let facts = [&footer.procedure, &footer.job, &footer.fingerprint];
        let facts: Vec<&str> =
            facts.into_iter().map(String::as_str).filter(|words| !words.is_empty()).collect();
        Tag::new("p").of(out, &facts.join(" · "));
        Tag::new("p").with("class", "deferral").around(out, |out| {
            if !footer.warning.is_empty() {
                Tag::new("strong").of(out, &footer.warning);
                out.push(' ');
            }
            out.push_str(&escaped(&footer.deferral));
        });
        if fills_in {
            out.push_str(HELP);
        }
    });
    if fills_in {
        out.push_str(BAR);
    }
    Tag::new("nav").with("aria-label", "Sheets").around(out, |out| {
        out.push_str("<ul>");
        for (index, sheet) in packet.sheets.iter().enumerate() {
            Tag::new("li").around(out, |out| {
                Tag::new("a").with("href", format!("#sheet:{index}")).of(out, &sheet.title);
            });
        }
        out.push_str("</ul>");
    });
    out.push('\n');
}

/// How it is used, said once.
const HELP: &str = "<details><summary>How to use this</summary>\n\
    <p>What you tick and write is kept in this browser as you make it, for this print alone. It is not in the record of the \
    job until the saved file is gathered: <code>benchleaf gather THIS.html --table SAVED.csv</code>.</p>\n\
    <p>Enter goes on to the next blank; of results of which one holds, a tap on the chosen one, or Delete, takes it back. \
    Comma and point are the same. A box behind a hold point can be ticked once somebody else has signed it.</p>\n\
    <p><button type=\"button\" id=\"forget\">Forget all that is kept here</button></p>\n</details>\n";

/// What is at hand wherever one reads.
const BAR: &str = "\n<div class=\"bar\" role=\"region\" aria-label=\"At hand\">\n\
    <label for=\"by\">Done by</label> <input id=\"by\" type=\"text\" autocomplete=\"off\" autocapitalize=\"characters\" maxlength=\"12\" placeholder=\"initials\">\n\
    <button type=\"button\" id=\"next\">Next open</button>\n\
    <button type=\"button\" id=\"save\">Save the file</button>\n\
    <button type=\"button\" id=\"dark\" aria-pressed=\"false\">Dark</button>\n\
    <output id=\"state\">Needs JavaScript to keep what is filled in.</output>\n\
    <div id=\"told\" role=\"alert\"></div>\n</div>\n";
