//! Verdicts, machine-shop order and order list as text for people, JSON for programs and CSV for a table.

use serde_json::{Value as Json, json};

use super::words::{parts, sets, told};
use super::{
    Answer, Decisions, OrderLine, OrderList, PartDecision, ToMeasure, WorkLine, machine_shop_order,
    order_list,
};
use crate::procedure::model::Procedure;
use crate::record::{Date, Job};

/// Everything that was decided, as text.
pub fn verdict_text(procedure: &Procedure, job: &Job, decisions: &Decisions) -> String {
    let mut out = format!("Engine: {}\n", decisions.identification.words());
    section(&mut out, "Parts", decisions_text(procedure, parts(procedure, decisions)));
    section(&mut out, "Fasteners", decisions_text(procedure, sets(procedure, decisions)));
    let open: Vec<String> = decisions
        .open_questions()
        .map(|(asked, why)| format!("{}: {}", asked.name(procedure), why.words(procedure, asked)))
        .collect();
    section(&mut out, "Open questions", open);
    section(&mut out, "Still to be measured", measure_text(procedure, decisions));
    let work = machine_shop_order(procedure, job, decisions);
    section(&mut out, "Machine-shop order", work.iter().map(work_text).collect());
    let list = order_list(procedure, job, decisions);
    section(&mut out, "Order list, longest lead time first", order_text(&list));
    out
}

fn section(out: &mut String, title: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    out.push_str(&format!("\n{title}\n"));
    for line in lines {
        out.push_str(&format!("  {line}\n"));
    }
}

fn decisions_text<'a>(
    procedure: &Procedure,
    list: impl Iterator<Item = (String, &'a PartDecision)>,
) -> Vec<String> {
    let mut lines = Vec::new();
    for told in told(list, false) {
        lines.push(format!("{}: {}", told.names.join(", "), told.decision.verdict.words(procedure)));
        if !told.decision.because.is_empty() {
            lines.push(format!("    why: {}", told.decision.because));
        }
        if !told.decision.holds.is_empty() {
            let holds: Vec<String> = told.decision.holds.iter().map(|hold| hold.words(procedure)).collect();
            lines.push(format!("    waits: {}", holds.join("; ")));
        }
    }
    lines
}

/// What is still to be measured; neighbours with the same occasion and reason are told together.
fn measure_text(procedure: &Procedure, decisions: &Decisions) -> Vec<String> {
    let alike = |a: &ToMeasure, b: &ToMeasure| a.occasion == b.occasion && a.because == b.because;
    let told = decisions.to_measure.chunk_by(alike).filter_map(|lines| {
        let names: Vec<String> = lines.iter().map(|line| line.asked.name(procedure)).collect();
        let line = lines.first()?;
        Some(format!("{}, {}: {}", names.join(", "), line.occasion.words(), line.because))
    });
    told.collect()
}

fn dated(what: &str, date: Option<Date>) -> Option<String> {
    date.map(|date| format!("{what} {date}"))
}

fn quoted(approved: bool) -> &'static str {
    if approved { "approved" } else { "for quote" }
}

fn work_text(line: &WorkLine) -> String {
    let mut words = vec![format!("{} ({}): {}", line.title, line.id, line.what)];
    words.extend(line.sizes.iter().cloned());
    words.extend(line.mark.iter().map(|mark| format!("mark first: {mark}")));
    words.push(line.price.as_ref().map_or("price unknown".to_owned(), ToString::to_string));
    words.extend(line.lead_time.map(|lead| lead.printed()));
    words.push(quoted(line.approved).to_owned());
    words.extend(line.to.clone());
    words.extend(dated("sent", line.sent));
    words.extend(dated("back", line.back));
    words.extend(dated("accepted", line.accepted));
    if !line.waits_for.is_empty() {
        words.push(format!("HOLD: {}", line.waits_for.join(", ")));
    }
    words.join("; ")
}

fn order_text(list: &OrderList) -> Vec<String> {
    let mut lines: Vec<String> = list.lines.iter().map(order_line_text).collect();
    for total in &list.totals {
        let rest = if list.unpriced == 0 {
            String::new()
        } else {
            format!(", and {} lines without a price", list.unpriced)
        };
        lines.push(format!("Total {total}{rest}"));
    }
    lines
}

fn order_line_text(line: &OrderLine) -> String {
    let mut words = vec![format!("{} × {} ({})", line.quantity, line.title, line.id)];
    words.extend(line.size.map(|size| format!("size {}", size.printed())));
    words.extend(
        line.chosen.as_ref().filter(|_| line.size.is_none()).map(|(piece, why)| format!("{piece} ({why})")),
    );
    words.extend(line.select_from.as_ref().map(|from| format!("choose from {from}")));
    words.extend(line.catalogue.clone());
    words.push(line.cost().map_or("price unknown".to_owned(), |cost| cost.to_string()));
    words.extend(line.supplier.clone());
    words.push(line.lead_time.map_or("lead time unknown".to_owned(), |lead| lead.printed()));
    words.push(quoted(line.approved).to_owned());
    words.extend(dated("ordered", line.ordered));
    words.extend(line.too_few.map(|ordered| format!("only {ordered} ordered")));
    words.extend(dated("due", line.due));
    words.extend(dated("arrived", line.arrived));
    words.extend(dated("compared with the old one", line.compared));
    if !line.waits_for.is_empty() {
        words.push(format!("HOLD: {}", line.waits_for.join(", ")));
    }
    words.join("; ")
}

/// Everything that was decided, as one JSON object. Ends with a newline.
pub fn verdict_json(procedure: &Procedure, job: &Job, decisions: &Decisions) -> String {
    let decided = |(name, decision): (String, &PartDecision)| {
        json!({
            "id": name,
            "verdict": decision.verdict.word(),
            "words": decision.verdict.words(procedure),
            "because": decision.because,
            "waits_for": decision.holds.iter().map(|hold| hold.words(procedure)).collect::<Vec<String>>(),
        })
    };
    let answers: Vec<Json> = decisions
        .answers
        .iter()
        .map(|(asked, answer)| match answer {
            Answer::Settled { answer, because } => json!({
                "question": asked.name(procedure),
                "answer": asked.answer_name(procedure, *answer),
                "because": because,
            }),
            Answer::Open(why) => json!({
                "question": asked.name(procedure),
                "answer": null,
                "because": why.words(procedure, *asked),
            }),
        })
        .collect();
    let measure: Vec<Json> = decisions
        .to_measure
        .iter()
        .map(|line| {
            json!({
                "what": line.asked.name(procedure),
                "occasion": line.occasion.words(),
                "because": line.because,
            })
        })
        .collect();
    let work = machine_shop_order(procedure, job, decisions);
    let list = order_list(procedure, job, decisions);
    let value = json!({
        "engine": decisions.identification.words(),
        "parts": parts(procedure, decisions).map(decided).collect::<Vec<Json>>(),
        "fasteners": sets(procedure, decisions).map(decided).collect::<Vec<Json>>(),
        "answers": answers,
        "to_measure": measure,
        "machine_shop_order": work.iter().map(work_json).collect::<Vec<Json>>(),
        "order_list": {
            "lines": list.lines.iter().map(order_json).collect::<Vec<Json>>(),
            "totals": list.totals.iter().map(ToString::to_string).collect::<Vec<String>>(),
            "lines_without_price": list.unpriced,
        },
    });
    let mut text =
        serde_json::to_string_pretty(&value).expect("strings, numbers and arrays always serialise");
    text.push('\n');
    text
}

fn date_json(date: Option<Date>) -> Option<String> {
    date.map(|date| date.to_string())
}

fn work_json(line: &WorkLine) -> Json {
    json!({
        "id": line.id,
        "title": line.title,
        "what": line.what,
        "sizes": line.sizes,
        "because": line.because,
        "mark_first": line.mark,
        "waits_for": line.waits_for,
        "price": line.price.as_ref().map(ToString::to_string),
        "lead_time": line.lead_time.map(|lead| lead.to_string()),
        "approved": line.approved,
        "to": line.to,
        "sent": date_json(line.sent),
        "back": date_json(line.back),
        "accepted": date_json(line.accepted),
    })
}

fn order_json(line: &OrderLine) -> Json {
    json!({
        "id": line.id,
        "title": line.title,
        "quantity": line.quantity,
        "size": line.size.map(|size| size.to_string()),
        "select_from": line.select_from,
        "chosen": line.chosen.as_ref().map(|(piece, _)| piece),
        "part_number": line.catalogue,
        "price": line.price.as_ref().map(ToString::to_string),
        "cost": line.cost().map(|cost| cost.to_string()),
        "supplier": line.supplier,
        "lead_time": line.lead_time.map(|lead| lead.to_string()),
        "because": line.because,
        "waits_for": line.waits_for,
        "approved": line.approved,
        "ordered_too_few": line.too_few,
        "ordered": date_json(line.ordered),
        "due": date_json(line.due),
        "arrived": date_json(line.arrived),
        "compared": date_json(line.compared),
    })
}

/// The order list as a table, comma separated, with a line of titles (RFC 4180).
pub fn order_csv(procedure: &Procedure, job: &Job, decisions: &Decisions) -> String {
    let titles = [
        "id",
        "title",
        "quantity",
        "size",
        "select_from",
        "chosen",
        "part_number",
        "price",
        "cost",
        "supplier",
        "lead_time",
        "waits_for",
        "approved",
        "ordered",
        "ordered_too_few",
        "due",
        "arrived",
        "compared",
        "because",
    ];
    let list = order_list(procedure, job, decisions);
    table(&titles, list.lines.iter().map(order_json))
}

/// The machine-shop order as a table, comma separated, with a line of titles (RFC 4180).
pub fn machining_csv(procedure: &Procedure, job: &Job, decisions: &Decisions) -> String {
    let titles = [
        "id",
        "title",
        "what",
        "sizes",
        "mark_first",
        "price",
        "lead_time",
        "waits_for",
        "approved",
        "to",
        "sent",
        "back",
        "accepted",
        "because",
    ];
    table(&titles, machine_shop_order(procedure, job, decisions).iter().map(work_json))
}

fn table(titles: &[&str], rows: impl Iterator<Item = Json>) -> String {
    let mut out = titles.join(",") + "\r\n";
    for row in rows {
        let cells: Vec<String> = titles.iter().map(|title| cell(&row[*title])).collect();
        out.push_str(&cells.join(","));
        out.push_str("\r\n");
    }
    out
}

fn cell(value: &Json) -> String {
    let text = match value {
        Json::Null => String::new(),
        Json::String(text) => text.clone(),
        Json::Bool(true) => "yes".to_owned(),
        Json::Bool(false) => "no".to_owned(),
        Json::Array(items) => items.iter().filter_map(Json::as_str).collect::<Vec<&str>>().join("; "),
        other => other.to_string(),
    };
    // A spreadsheet runs a cell that begins with one of these as a formula.
    let text = if text.starts_with(['=', '+', '-', '@']) { format!(" {text}") } else { text };
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}
