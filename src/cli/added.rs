//! What `record JOB add` can write, the extra work of a job: its arguments, and the text that they mean. Nothing is checked
//! here.

use clap::Subcommand;

use crate::record::Written;

/// Work of this job that the procedure hasn't got.
#[derive(Debug, Subcommand)]
pub(super) enum Extra {
    /// A step
    Step {
        /// Its name, in small letters and underscores: `fit_insert`
        id: String,
        /// Its title
        title: String,
        /// What is done, a line each time
        #[arg(long = "do", required = true, value_name = "WORDS")]
        acts: Vec<String>,
        /// The phase: strip, survey, build or start; build if it comes after a step that the build derives
        #[arg(long)]
        phase: Option<String>,
        /// A step that comes before it
        #[arg(long, value_name = "STEP")]
        after: Vec<String>,
        /// A step that comes after it
        #[arg(long, value_name = "STEP")]
        before: Vec<String>,
        /// A tool of the procedure, or an extra one
        #[arg(long = "tool", value_name = "TOOL")]
        tools: Vec<String>,
        /// An extra part or a supply, with its amount: "insert_m8 2"
        #[arg(long = "part", value_name = "PART")]
        parts: Vec<String>,
        /// How many people
        #[arg(long)]
        hands: Option<String>,
        /// How long it takes, such as "40 min"
        #[arg(long)]
        time: Option<String>,
        /// What a second person checks at its end
        #[arg(long)]
        hold: Option<String>,
        /// Why it is done
        #[arg(long)]
        why: Option<String>,
        /// Initials
        #[arg(long)]
        by: Option<String>,
        /// Day, as 2026-03-05
        #[arg(long)]
        date: Option<String>,
    },
    /// A part that is bought
    Part {
        /// Its name, in small letters and underscores: `insert_m8`
        id: String,
        /// Its title
        title: String,
        /// How many
        #[arg(long)]
        count: Option<String>,
        /// What one costs, such as "3.20 EUR"
        #[arg(long)]
        price: Option<String>,
        /// Part number
        #[arg(long, value_name = "NUMBER")]
        part_number: Option<String>,
        /// From whom
        #[arg(long)]
        supplier: Option<String>,
        /// How long it takes to come, such as "3 day"
        #[arg(long, value_name = "TIME")]
        lead_time: Option<String>,
    },
    /// A tool
    Tool {
        /// Its name, in small letters and underscores: `insert_kit`
        id: String,
        /// Its title
        title: String,
    },
    /// Work on a part of the engine that is sent out
    Work {
        /// The part, with its position
        part: String,
        /// What is to be done
        what: String,
        /// What it costs, such as "60 EUR"
        #[arg(long)]
        price: Option<String>,
        /// To whom
        #[arg(long)]
        to: Option<String>,
        /// How long it takes, such as "5 day"
        #[arg(long, value_name = "TIME")]
        lead_time: Option<String>,
    },
}

impl Extra {
    /// Where it stands below `extra`, and what.
    pub(super) fn edit(&self) -> ([&str; 2], Written) {
        match self {
            Extra::Step {
                id,
                title,
                acts,
                phase,
                after,
                before,
                tools,
                parts,
                hands,
                time,
                hold,
                why,
                by,
                date,
            } => {
                let mut step = fields(&[("title", Some(title)), ("phase", phase.as_deref())]);
                for (key, list) in
                    [("after", after), ("before", before), ("do", acts), ("tools", tools), ("parts", parts)]
                {
                    if !list.is_empty() {
                        step.push((key.to_owned(), Written::List(list.clone())));
                    }
                }
                step.extend(fields(&[
                    ("hands", hands.as_deref()),
                    ("time", time.as_deref()),
                    ("hold", hold.as_deref()),
                    ("why", why.as_deref()),
                    ("by", by.as_deref()),
                    ("date", date.as_deref()),
                ]));
                (["steps", id], Written::Fields(step))
            }
            Extra::Part { id, title, count, price, part_number, supplier, lead_time } => {
                let part = fields(&[
                    ("title", Some(title)),
                    ("count", count.as_deref()),
                    ("price", price.as_deref()),
                    ("part_number", part_number.as_deref()),
                    ("supplier", supplier.as_deref()),
                    ("lead_time", lead_time.as_deref()),
                ]);
                (["parts", id], Written::Fields(part))
            }
            Extra::Tool { id, title } => (["tools", id], text(title)),
            Extra::Work { part, what, price, to, lead_time } => {
                let work = fields(&[
                    ("what", Some(what)),
                    ("price", price.as_deref()),
                    ("to", to.as_deref()),
                    ("lead_time", lead_time.as_deref()),
                ]);
                (["work", part], Written::Fields(work))
            }
        }
    }
}

/// Words as they are written.
pub(super) fn text(text: &str) -> Written {
    Written::Text(text.to_owned())
}

/// The fields that are there.
pub(super) fn fields(list: &[(&str, Option<&str>)]) -> Vec<(String, Written)> {
    let given = list.iter().filter_map(|(key, value)| value.map(|value| ((*key).to_owned(), text(value))));
    given.collect()
}
