//! Random jobs: printed, filled in at random, brought back, and the record beside what was filled in. No value lands on
//! another blank, nor on one that somebody else has filled in between.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use crate::gather::{Filled, Hand, Number, Printed, Today, changes, read_table, read_words};
use crate::packet::step_marks;
use crate::record::{Date, Edit, edit, standing, step_key};
use benchleaf::model::Phase;
use benchleaf::sheet::Form;
use benchleaf::{JobView, Memory, PacketOptions, Request, Workshop};

/// Procedures of which jobs are drawn: each small, together with every kind of blank.
const PROCEDURES: [&str; 10] = [
    "tests/jobs/banks/vee.rebuild",
    "tests/jobs/by_place/stages.rebuild",
    "tests/jobs/lengths/lengths.rebuild",
    "tests/jobs/locking_nuts/locking_nuts.rebuild",
    "tests/jobs/main_caps/main_caps.rebuild",
    "tests/jobs/skimmed/head.rebuild",
    "tests/jobs/verdicts/pump.rebuild",
    "tests/jobs/washers/washers.rebuild",
    "procedures/first/harbour_pump.rebuild",
    "procedures/first/two_cylinder.rebuild",
];
const PHASES: [Phase; 4] = [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];
/// Jobs that are drawn.
const JOBS: u32 = 300;

/// Numbers that look like chance and are the same each time: a linear congruence with Knuth's constants for 64 bits, from
/// memory.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % end.max(1) as u64).unwrap()
    }

    fn one_in(&mut self, end: usize) -> bool {
        self.below(end) == 0
    }
}

/// A value that may stand at a number, as it is typed and as the record has it.
fn value(form: &Form, seed: u32) -> (String, String) {
    match form {
        Form::Quantity(unit) => {
            let number = format!("{}.{:03}", seed % 90, seed % 997);
            let typed = if seed.is_multiple_of(2) { number.replace('.', ",") } else { number.clone() };
            (typed, format!("{number} {unit}").trim_end().to_owned())
        }
        Form::Word(words) => {
            let word = words[seed as usize % words.len()].clone();
            (word.to_uppercase(), word)
        }
        Form::Count => (seed.to_string(), seed.to_string()),
        Form::Day => {
            let day = format!("2026-03-{:02}", seed % 28 + 1);
            (format!("{}.3", seed % 28 + 1), day)
        }
        Form::Text | Form::Item => (format!("seen {seed}"), format!("seen {seed}")),
    }
}

/// What was filled in on the sheets of a job.
struct Sheets {
    printed: Printed,
    /// By the place of its number: as it is typed, and as the record has it.
    values: BTreeMap<usize, (String, String)>,
    /// Numbers of the steps that are done.
    done: BTreeSet<u64>,
}

impl Sheets {
    /// Fills in blanks at random; of the steps, the first so many are done.
    fn filled_in(printed: Printed, dice: &mut Dice) -> Sheets {
        let numbers: Vec<u64> = printed.steps.iter().filter_map(|step| step.number).collect();
        let mut done: BTreeSet<u64> = numbers[..dice.below(numbers.len() + 1)].iter().copied().collect();
        // Steps that stand as one have their boxes together, and are done together.
        for number in printed.numbers.iter().filter(|number| !number.also.is_empty()) {
            let ids: Vec<&String> = number.step.iter().chain(&number.also).collect();
            let steps = printed.steps.iter().filter(|step| ids.contains(&&step.id));
            let together: Vec<u64> = steps.filter_map(|step| step.number).collect();
            if together.iter().any(|number| done.contains(number)) {
                done.extend(together);
            }
        }
        let mut values = BTreeMap::new();
        let mut kept: BTreeSet<&[String]> = BTreeSet::new();
        for (at, number) in printed.numbers.iter().enumerate() {
            let step = number.step.as_ref().and_then(|id| printed.steps.iter().find(|step| step.id == *id));
            let is_done = step.and_then(|step| step.number).is_some_and(|number| done.contains(&number));
            let Some(form) = &number.form else { continue };
            // What stands at a step that is done needs it to be done; what two numbers ask for is filled in at one.
            let waits = number.keys.first().is_some_and(|list| list == "done") && !is_done;
            let again = !number.keys.is_empty() && !kept.insert(&number.keys);
            if !waits && !again && dice.one_in(2) {
                values.insert(at, value(form, u32::try_from(dice.below(1 << 30)).unwrap()));
            }
        }
        Sheets { printed, values, done }
    }

    /// The boxes of a step that is done, each with a tick.
    fn ticks(&self) -> impl Iterator<Item = usize> {
        let done = |id: &String| {
            let step = self.printed.steps.iter().find(|step| step.id == *id);
            step.and_then(|step| step.number).is_some_and(|number| self.done.contains(&number))
        };
        let numbers = self.printed.numbers.iter().enumerate();
        numbers
            .filter(move |(_, number)| number.form.is_none() && number.step.as_ref().is_some_and(done))
            .map(|(at, _)| at)
    }

    /// Steps that have boxes: those are done by ticking them, the others by name.
    fn with_boxes(&self) -> BTreeSet<u64> {
        let boxes = self.printed.numbers.iter().filter(|number| number.form.is_none());
        let ids: BTreeSet<&String> =
            boxes.flat_map(|number| number.step.iter().chain(&number.also)).collect();
        self.printed
            .steps
            .iter()
            .filter(|step| ids.contains(&step.id))
            .filter_map(|step| step.number)
            .collect()
    }

    /// As it is read off paper: steps by their numbers, values behind theirs.
    fn typed(&self) -> Filled {
        let number = |at: &usize| self.printed.numbers[*at].number.replace(' ', "");
        let values =
            self.values.iter().flat_map(|(at, (typed, _))| [format!("{}:", number(at)), typed.clone()]);
        let done = self.done.iter().map(u64::to_string);
        let words: Vec<String> = std::iter::once("done".to_owned()).chain(done).chain(values).collect();
        read_words(&self.printed, &words).expect("it can be read")
    }

    /// As a table has it: ticks in the boxes; what has none is done by name.
    fn table(&self, headings: &str, signed: &str, of_others: bool) -> Filled {
        let ticks: BTreeMap<usize, String> = self.ticks().map(|at| (at, "x".to_owned())).collect();
        let values = self.values.iter().map(|(at, (typed, _))| (*at, typed.clone())).chain(ticks);
        let mut rows = headings.to_owned();
        for (at, value) in values {
            let Number { number, step, what, .. } = &self.printed.numbers[at];
            let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
            let step = if of_others { "another" } else { step.as_deref().unwrap_or_default() };
            rows += &format!("{},{step},{},,{}{signed}\r\n", quoted(number), quoted(what), quoted(&value));
        }
        let mut filled = read_table(&self.printed, &rows).unwrap_or_else(|wrong| {
            assert!(of_others, "{wrong:?}");
            Filled::default()
        });
        assert!(!of_others || filled == Filled::default(), "lines of other sheets are refused");
        filled.done = self.done.difference(&self.with_boxes()).copied().collect();
        filled
    }
}

/// A job of a procedure, with some of its questions answered.
fn record_of(name: &str, procedure: &benchleaf::model::Procedure, dice: &mut Dice) -> String {
    let mut record = format!("# kept by hand\njob: \"17\"  # ours\nprocedure: {name}\n");
    let mut answers = String::new();
    for id in procedure.asks.ids() {
        let ask = procedure.ask(id);
        if !dice.one_in(4) {
            answers += &format!("  {}: {}\n", ask.naming.id, ask.answers[dice.below(ask.answers.len())]);
        }
    }
    if !answers.is_empty() {
        record += &format!("answers:\n{answers}");
    }
    record
}

#[test]
fn what_was_filled_in_is_what_the_record_says() {
    let (mut dice, date) = (Dice(20), Date::parse("2026-03-05").unwrap());
    let (mut packets, mut filled_in, mut refused_in_all, mut clashed) = (0, 0, 0, 0);
    for job in 0..JOBS {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(PROCEDURES[job as usize % PROCEDURES.len()]);
        let name = path.file_name().unwrap().to_str().unwrap();
        let procedure = std::fs::read_to_string(&path).unwrap();
        let open = |record: &str| {
            let mut workshop = Workshop::over(Memory::new().with(name, &procedure).with("job.yaml", record));
            let request = Request { record: Some(Path::new("job.yaml")), ..Request::of(name) };
            let view = workshop.job(&request).value;
            view.map(|view| (workshop, view))
        };
        let bare = format!("job: \"17\"\nprocedure: {name}\n");
        let (_, view) = open(&bare).unwrap_or_else(|| panic!("{name} is sound"));
        let mut record = record_of(name, &view.procedure, &mut dice);
        let first = dice.below(PHASES.len());
        for phase in PHASES.iter().skip(first).take(2) {
            // After steps were done at random the record may be one that has to be mended first.
            let Some((workshop, view)) = open(&record) else { break };
            let packet = view.packet(&workshop, &PacketOptions::of(*phase));
            let printed = Printed::read(&packet.attachments[0].bytes).expect("it is a plan of ours");
            let sheets = Sheets::filled_in(printed, &mut dice);
            packets += 1;
            filled_in += sheets.values.len();
            record = came_back(&sheets, &view, record, date, &mut dice, (&mut refused_in_all, &mut clashed));
        }
    }
    println!(
        "{JOBS} jobs, {packets} packets, {filled_in} values; refused {refused_in_all}, clashes {clashed}"
    );
    assert!(packets > JOBS as usize && filled_in > 1_000 && refused_in_all > 100 && clashed > 30);
}

/// Gathers what was filled in, and holds the record beside it. Meanwhile somebody else has written into the record, and some
/// steps of the procedure are others than was printed.
fn came_back(
    sheets: &Sheets,
    view: &JobView,
    mut record: String,
    date: Date,
    dice: &mut Dice,
    (refused_in_all, clashed): (&mut usize, &mut usize),
) -> String {
    let Sheets { printed, values, done } = sheets;
    let marks = step_marks(&view.procedure, &view.network);
    let as_printed =
        |id: &str| step_key(&view.procedure, id).and_then(|key| marks.of(&key).map(str::to_owned));
    let theirs_by = Hand { by: Some("RT".to_owned()), date, again: false };
    let mut theirs: BTreeMap<usize, String> = BTreeMap::new();
    for (at, number) in printed.numbers.iter().enumerate() {
        let Some(form) = number.form.as_ref().filter(|form| !matches!(form, Form::Item)) else { continue };
        let kept = ["readings", "looks", "lengths"]
            .iter()
            .any(|list| number.keys.first().is_some_and(|key| key == list));
        if kept && dice.one_in(8) && standing(&record, &number.keys).texts.is_empty() {
            let (typed, text) = value(form, u32::try_from(dice.below(1 << 30)).unwrap());
            let filled = Filled { values: vec![(at, typed)], ..Filled::default() };
            let today = Today { record: &record, mark: &as_printed };
            let made = changes(printed, &filled, &theirs_by, &today);
            if made.refused.is_empty() {
                record = written(&record, &made.edits);
                theirs.insert(at, text);
            }
        }
    }
    let changed: BTreeSet<&str> =
        printed.steps.iter().filter(|_| dice.one_in(10)).map(|step| step.id.as_str()).collect();
    let mark =
        |id: &str| as_printed(id).map(|mark| if changed.contains(id) { "another".to_owned() } else { mark });
    let stale = |number: &Number| {
        number.step.as_deref().is_some_and(|id| changed.contains(id) && as_printed(id).is_some())
    };

    let headings = "number,step,what,wanted,value,by,day\r\n";
    let hand = Hand { by: Some("HK".to_owned()), date, again: false };
    let screen = sheets.table(headings, ",HK,2026-03-05", false);
    let table = sheets.table("number,step,what,wanted,value\r\n", "", false);
    sheets.table(headings, ",HK,2026-03-05", true);
    let ways = [sheets.typed(), table, screen];
    let made: Vec<_> = ways
        .iter()
        .map(|filled| changes(printed, filled, &hand, &Today { record: &record, mark: &mark }))
        .collect();
    // Typed, in a table or at a screen: the same changes, and the same numbers refused.
    assert_eq!(made[0].edits, made[1].edits);
    assert_eq!(made[0].edits, made[2].edits);
    assert!(made.iter().all(|other| other.refused == made[0].refused));

    let before = record.clone();
    let stood = |number: &Number| standing(&before, &number.keys).texts;
    let clashes = |at: &usize| {
        let number = &printed.numbers[*at];
        let item = matches!(number.form, Some(Form::Item));
        !number.keys.is_empty() && !item && stood(number).first().is_some_and(|text| *text != values[at].1)
    };
    let wrong: BTreeSet<&str> = values
        .keys()
        .filter(|at| stale(&printed.numbers[**at]) || clashes(at))
        .map(|at| printed.numbers[*at].number.as_str())
        .collect();
    let refused: BTreeSet<&str> = made[0].refused.iter().map(|(number, _)| number.as_str()).collect();
    let of_values: BTreeSet<&str> =
        refused.iter().copied().filter(|number| number.parse::<u64>().is_err()).collect();
    assert_eq!(of_values, wrong, "{:?}", made[0].refused);
    *refused_in_all += refused.len();
    *clashed +=
        theirs.iter().filter(|(at, text)| values.get(at).is_some_and(|(_, own)| own != *text)).count();

    // The command writes all or nothing; here the rest is looked at, so that what was refused is seen to be left alone.
    record = written(&record, &made[0].edits);
    for (at, number) in printed.numbers.iter().enumerate() {
        let mine = values.get(&at).filter(|_| !wrong.contains(number.number.as_str()));
        if number.keys.is_empty() {
            let (Some((_, text)), Some(_)) = (mine, &number.form) else { continue };
            assert!(
                record.contains(&format!("{}: {text}", number.what)),
                "{}: {text}\n{record}",
                number.number
            );
            continue;
        }
        // What two numbers ask for is looked at where it was filled in.
        let twice = printed
            .numbers
            .iter()
            .enumerate()
            .any(|(other, same)| other != at && same.keys == number.keys && values.contains_key(&other));
        let now = standing(&record, &number.keys).texts;
        match mine {
            Some((_, text)) => assert!(now.contains(text), "{}: {now:?}, {text}", number.number),
            None if twice => {}
            None => assert_eq!(now, stood(number), "{}", number.number),
        }
    }
    for step in &printed.steps {
        let keys = ["done".to_owned(), step.id.clone()];
        let was = !standing(&before, &keys).texts.is_empty();
        let meant =
            step.number.is_some_and(|number| done.contains(&number)) && !changed.contains(step.id.as_str());
        let is = !standing(&record, &keys).texts.is_empty();
        let gone = as_printed(&step.id).is_none();
        assert!(gone || is == (was || meant), "{}: {is}, {was}, {meant}", step.id);
    }
    assert!(record.starts_with("# kept by hand\njob: \"17\"  # ours\n"));
    // The same sheets once more change nothing.
    let again = changes(printed, &ways[2], &hand, &Today { record: &record, mark: &mark });
    assert!(again.edits.is_empty() && again.new.is_empty(), "{:?}", again.new);
    record
}

fn written(record: &str, edits: &[Edit]) -> String {
    edits.iter().fold(record.to_owned(), |text, change| edit(&text, change).expect("the change can be made"))
}
