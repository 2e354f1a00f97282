//! Verdicts, machine-shop order and order list as text for people, JSON for programs and CSV for a table.

use std::fmt::Display;
use std::iter;

use serde_json::{Value as Json, json};

use super::sizes::present_lines;
use super::words::{parts, sets, told};
use super::{
    Answer, Asked, Because, Decisions, Finding, OrderLine, OrderList, PartDecision, ToMeasure, UsedUp,
    WorkLine, machine_shop_order, order_list,
};
use crate::english::capital;
use crate::procedure::model::Procedure;
use crate::record::{Date, Job};

/// Everything that was decided, as text; what work uses up stands below what is bought, where the order of work is known.
pub(crate) fn verdict_text(
    procedure: &Procedure,
    job: &Job,
    decisions: &Decisions,
    used_up: Option<&[UsedUp]>,
) -> String {
    let whole = capital(procedure.whole());
    let mut out = format!("{whole}: {}\n", decisions.identification.words());
    for condition in &decisions.engine_found {
        out.push_str(&format!("{whole}: found {condition}: not settled what becomes of it\n"));
    }
    section(&mut out, "Present sizes", present_lines(procedure, job));
    section(&mut out, "Parts", decisions_text(procedure, parts(procedure, decisions)));
    section(&mut out, "Fasteners", decisions_text(procedure, sets(procedure, decisions)));
    let open: Vec<String> = decisions
        .open_questions()
        .map(|(asked, why)| format!("{}: {}", asked.name(procedure), why.words(procedure, asked)))
        .collect();
    section(&mut out, "Beyond their limits", findings_text(procedure, decisions));
    section(&mut out, "Open questions", open);
    section(&mut out, "Taken again: the later counts", again_text(procedure, job));
    section(&mut out, "Still to be measured", measure_text(procedure, decisions));
    let work = machine_shop_order(procedure, job, decisions);
    section(&mut out, "Machine-shop order", work.iter().map(work_text).collect());
    let list = order_list(procedure, job, decisions);
    section(&mut out, "Order list, longest lead time first", order_text(&list));
    section(&mut out, "Used up in the build and at the start", used_up_text(used_up));
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
        if told.decision.because != Because::Silent {
            lines.push(format!("    why: {}", told.decision.because));
        }
        let among = &told.decision.new_among;
        if among.pieces() > 0 {
            lines.push(format!("    {} new among them: {}", among.pieces(), among.because.join("; ")));
        }
        if !told.decision.holds.is_empty() {
            let holds: Vec<String> = told.decision.holds.iter().map(|hold| hold.words(procedure)).collect();
            lines.push(format!("    waits: {}", holds.join("; ")));
        }
    }
    lines
}

fn findings_text(procedure: &Procedure, decisions: &Decisions) -> Vec<String> {
    let line = |finding: &Finding| {
        let name = Asked::Gauge(finding.gauge, finding.place).name(procedure);
        let accepted = finding.accepted.as_ref().map(|words| format!("; {words}")).unwrap_or_default();
        format!("{name}, {}: {}{accepted}", finding.occasion.words(), finding.words)
    };
    decisions.findings.iter().map(line).collect()
}

/// What was read or looked at again, with what was found before.
fn again_text(procedure: &Procedure, job: &Job) -> Vec<String> {
    let readings = job.readings.iter().filter_map(|reading| {
        let gauge = procedure.gauge(reading.gauge);
        let station = reading.station.and_then(|at| gauge.stations.get(at)).map(|(name, _)| name.as_str());
        let direction = reading.direction.and_then(|at| gauge.directions.get(at)).map(String::as_str);
        let name = Asked::Gauge(reading.gauge, reading.place).name(procedure);
        let spot = station.into_iter().chain(direction).map(|word| format!(" {word}")).collect::<String>();
        Some(format!("{name}{spot}, {}: {}", reading.occasion.words(), reading.again()?))
    });
    let looks = job.looks.iter().filter_map(|taken| {
        let result = |at: usize| procedure.look(taken.look).results.get(at).cloned().unwrap_or_default();
        let name = Asked::Look(taken.look, taken.place).name(procedure);
        Some(format!("{name}, {}: {}", taken.occasion.words(), taken.again(result)?))
    });
    readings.chain(looks).collect()
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
    words.extend(line.refused.as_ref().map(|why| format!("refused: {why}; it goes out again")));
    if !line.waits_for.is_empty() {
        words.push(format!("HOLD: {}", line.waits_for.words.join(", ")));
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
    lines.extend(list.not_called_for.iter().map(|goods| {
        let stages = goods.stages(|date| date.to_string()).join("; ");
        format!("{} ({}): {stages}: {}", goods.title, goods.id, goods.words())
    }));
    lines
}

fn used_up_text(used_up: Option<&[UsedUp]>) -> Vec<String> {
    let Some(lines) = used_up else {
        return vec!["not known: the order of work has a fault, which `check` tells".to_owned()];
    };
    let stock = lines.first().map(|first| first.stock_words().to_owned());
    stock.into_iter().chain(lines.iter().map(UsedUp::text)).collect()
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
        words.push(format!("HOLD: {}", line.waits_for.words.join(", ")));
    }
    words.join("; ")
}

/// Everything that was decided, as one JSON object. Ends with a newline.
pub(crate) fn verdict_json(
    procedure: &Procedure,
    job: &Job,
    decisions: &Decisions,
    used_up: Option<&[UsedUp]>,
) -> String {
    let decided = |(name, decision): (String, &PartDecision)| {
        json!({
            "id": name,
            "verdict": decision.verdict.word(),
            "words": decision.verdict.words(procedure),
            "because": decision.because.to_string(),
            "waits_for": decision.holds.iter().map(|hold| hold.words(procedure)).collect::<Vec<String>>(),
        })
    };
    let answers: Vec<Json> = decisions
        .answers
        .iter()
        .map(|(asked, answer)| {
            let (answer, because) = match answer {
                Answer::Settled { answer, because } => {
                    (Some(asked.answer_name(procedure, *answer)), because.to_string())
                }
                Answer::Open(why) => (None, why.words(procedure, *asked)),
            };
            json!({ "question": asked.name(procedure), "answer": answer, "because": because })
        })
        .collect();
    let findings: Vec<Json> = decisions
        .findings
        .iter()
        .map(|finding| {
            json!({
                "what": Asked::Gauge(finding.gauge, finding.place).name(procedure),
                "occasion": finding.occasion.words(),
                "words": finding.words,
                "accepted": finding.accepted,
            })
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
    let report = json!({
        "engine": decisions.identification.words(),
        "engine_found": decisions.engine_found,
        "parts": parts(procedure, decisions).map(decided).collect::<Vec<Json>>(),
        "fasteners": sets(procedure, decisions).map(decided).collect::<Vec<Json>>(),
        "answers": answers,
        "findings": findings,
        "present_sizes": present_lines(procedure, job),
        "to_measure": measure,
        "machine_shop_order": objects(&WORK, &work),
        "order_list": {
            "lines": objects(&ORDER, &list.lines),
            "totals": list.totals.iter().map(ToString::to_string).collect::<Vec<String>>(),
            "lines_without_price": list.unpriced,
            "used_up": used_up.map(|lines| lines.iter().map(used_up_json).collect::<Vec<Json>>()),
        },
    });
    format!("{report:#}\n")
}

/// A column of a table: its title, which is also the key in a JSON object, and its cell in a line.
type Column<L> = (&'static str, fn(&L) -> Json);

fn printed<T: Display>(value: Option<T>) -> Json {
    value.map_or(Json::Null, |value| json!(value.to_string()))
}

const WORK: [Column<WorkLine>; 15] = [
    ("id", |line| json!(line.id)),
    ("title", |line| json!(line.title)),
    ("what", |line| json!(line.what)),
    ("sizes", |line| json!(line.sizes)),
    ("mark_first", |line| json!(line.mark)),
    ("price", |line| printed(line.price.as_ref())),
    ("lead_time", |line| printed(line.lead_time)),
    ("waits_for", |line| json!(line.waits_for.words)),
    ("approved", |line| json!(line.approved)),
    ("to", |line| json!(line.to)),
    ("sent", |line| printed(line.sent)),
    ("back", |line| printed(line.back)),
    ("accepted", |line| printed(line.accepted)),
    ("refused", |line| json!(line.refused)),
    ("because", |line| json!(line.because.to_string())),
];

const ORDER: [Column<OrderLine>; 19] = [
    ("id", |line| json!(line.id)),
    ("title", |line| json!(line.title)),
    ("quantity", |line| line.quantity.settled().map_or_else(|| json!(line.quantity.to_string()), Json::from)),
    ("size", |line| printed(line.size)),
    ("select_from", |line| json!(line.select_from)),
    ("chosen", |line| json!(line.chosen.as_ref().map(|(piece, _)| piece))),
    ("part_number", |line| json!(line.catalogue)),
    ("price", |line| printed(line.price.as_ref())),
    ("cost", |line| printed(line.cost())),
    ("supplier", |line| json!(line.supplier)),
    ("lead_time", |line| printed(line.lead_time)),
    ("waits_for", |line| json!(line.waits_for.words)),
    ("approved", |line| json!(line.approved)),
    ("ordered", |line| printed(line.ordered)),
    ("ordered_too_few", |line| json!(line.too_few)),
    ("due", |line| printed(line.due)),
    ("arrived", |line| printed(line.arrived)),
    ("compared", |line| printed(line.compared)),
    ("because", |line| json!(line.because.to_string())),
];

/// What is told of a thing that work uses up.
const USED_UP: [&str; 8] = ["id", "title", "quantity", "sold_by", "ordered", "due", "arrived", "because"];

fn used_up_json(line: &UsedUp) -> Json {
    USED_UP.iter().map(|column| ((*column).to_owned(), line.cell(column))).collect()
}

/// Lines as JSON objects.
fn objects<L>(columns: &[Column<L>], lines: &[L]) -> Json {
    let object = |line: &L| -> Json { columns.iter().map(|(key, value)| (*key, value(line))).collect() };
    lines.iter().map(object).collect()
}

/// The order list as a table, comma separated, with a line of titles (RFC 4180); last what work uses up, as far as the order
/// of work is known.
pub(crate) fn order_csv(
    procedure: &Procedure,
    job: &Job,
    decisions: &Decisions,
    used_up: Option<&[UsedUp]>,
) -> String {
    let lines = order_list(procedure, job, decisions).lines;
    let bought = lines.iter().map(|line| ORDER.iter().map(|(_, value)| cell(value(line))).collect());
    let used_up = used_up.unwrap_or_default().iter();
    let used_up = used_up.map(|line| ORDER.iter().map(|(title, _)| cell(line.cell(title))).collect());
    csv_table(iter::once(titles(&ORDER)).chain(bought).chain(used_up))
}

/// The machine-shop order as a table, comma separated, with a line of titles (RFC 4180).
pub(crate) fn machining_csv(procedure: &Procedure, job: &Job, decisions: &Decisions) -> String {
    let lines = machine_shop_order(procedure, job, decisions);
    let rows = lines.iter().map(|line| WORK.iter().map(|(_, value)| cell(value(line))).collect());
    csv_table(iter::once(titles(&WORK)).chain(rows))
}

fn titles<L>(columns: &[Column<L>]) -> Vec<String> {
    columns.iter().map(|(title, _)| (*title).to_owned()).collect()
}

/// Rows of equally many cells, comma separated (RFC 4180).
pub(crate) fn csv_table(rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // A spreadsheet runs a cell that begins with one of these as a formula.
    let harmless =
        |text: String| if text.starts_with(['=', '+', '-', '@']) { format!(" {text}") } else { text };
    for row in rows {
        writer
            .write_record(row.into_iter().map(harmless))
            .expect("rows are equally long, and memory takes every byte");
    }
    let bytes = writer.into_inner().expect("memory takes every byte");
    String::from_utf8(bytes).expect("cells of text make a text")
}

/// What stands in a cell of a table.
fn cell(value: Json) -> String {
    match value {
        Json::Null => String::new(),
        Json::String(text) => text,
        Json::Bool(true) => "yes".to_owned(),
        Json::Bool(false) => "no".to_owned(),
        Json::Array(items) => items.iter().filter_map(Json::as_str).collect::<Vec<&str>>().join("; "),
        other => other.to_string(),
    }
}
