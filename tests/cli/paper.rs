//! From paper back into the record: what is typed, asked for, or filled into a table, and what is refused.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use super::Scratch;
use crate::expected;

const RECORD: &str = "# Kept by hand. Invented.
job: \"17\"          # ours
procedure: pump.rebuild
engine_no: B2-0004
answers: {valve_gear: reuse}
";

struct Shop(Scratch);

impl Shop {
    /// A shop with one job, whose strip is printed.
    fn new(name: &str) -> Shop {
        let scratch = Scratch::new(name);
        let pump = expected::folder("jobs/verdicts").join("pump.rebuild");
        scratch.file("pump.rebuild", fs::read(pump).unwrap());
        scratch.file("job.yaml", RECORD);
        let shop = Shop(scratch);
        shop.says(&["packet", "job.yaml", "-o", "p.pdf"]);
        shop
    }

    fn run(&self, arguments: &[&str], typed: &str) -> Output {
        let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
            .current_dir(self.0.path())
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
        child.wait_with_output().unwrap()
    }

    /// What a command says that must succeed.
    fn says(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments, "");
        assert!(output.status.success(), "{arguments:?}\n{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    /// What a command complains of that must fail, and leave the record as it is.
    fn refuses(&self, arguments: &[&str]) -> String {
        let before = self.record();
        let output = self.run(arguments, "");
        assert!(!output.status.success(), "{arguments:?}");
        assert_eq!(self.record(), before, "{arguments:?}");
        String::from_utf8(output.stderr).unwrap()
    }

    fn record(&self) -> String {
        fs::read_to_string(Path::new(&self.0.path()).join("job.yaml")).unwrap()
    }
}

#[test]
fn what_is_read_off_paper_is_written_once() {
    let shop = Shop::new("read-off");
    let typed =
        ["gather", "p.pdf", "1.1", "80,04", "80.05", "-", "80.06", "1.2:", "79.95*2", "1.8", "sc", "g"];
    let said = shop.says(&typed);
    assert!(said.contains("1.1.2  Bore 1 Top (10 mm) across: 80.05 mm"), "{said}");
    assert!(said.contains("still empty there: 1.1.3, 1.1.5"), "{said}");
    assert!(said.contains("what it changes:\n"), "{said}");
    let expected = format!(
        "{RECORD}readings:
  as_found:
    bore[1] top along: 80.04 mm
    bore[1] top across: 80.05 mm
    bore[1] bottom across: 80.06 mm
    skirt[1]: 79.95 mm
    skirt[2]: 79.95 mm
looks:
  as_found:
    piston_look[1]: scored
    piston_look[2]: good
"
    );
    assert_eq!(shop.record(), expected);
    let again = shop.says(&typed);
    assert!(again.contains("known already: 7"), "{again}");
    assert_eq!(shop.record(), expected);
    // The sheet of somebody else is put beside it.
    shop.says(&["gather", "p.pdf", "1.1.3", "80.01", "--by", "RT", "--date", "2026-03-05"]);
    assert!(shop.record().contains("bore[1] bottom along: {value: 80.01 mm, by: RT, date: 2026-03-05}"));
}

#[test]
fn nothing_is_written_where_one_thing_is_wrong() {
    let shop = Shop::new("all-or-nothing");
    shop.says(&["record", "job.yaml", "reading", "lobe", "1311.5"]);
    for (typed, why) in [
        (vec!["1.1", "80.04", "1.4:", "1312"], "1.4: the record says 1311.5 thou there"),
        (vec!["1.1", "80.04", "80.0.4"], "`80.0.4` is no number"),
        (vec!["1.2", "79.95", "79.95", "79.95"], "`79.95` is one too many for the line of 1.2"),
        (vec!["1.1", "80.04", "9.9:", "1"], "these sheets have no such number"),
        (vec!["1.8", "good", "bad"], "1.8.2: `bad` is none of good, scored"),
        (vec!["done", "2"], "these sheets have no step 2"),
        (vec!["done", "1"], "nobody says who did it"),
        // The decimal point slipped: asked, and nobody is there to answer.
        (vec!["1.1", "80.04", "8.005"], "did the decimal point slip?"),
    ] {
        let said = shop.refuses(&[vec!["gather", "p.pdf"], typed.clone()].concat());
        assert!(said.contains(why), "{typed:?}\n{said}");
    }
    shop.says(&["gather", "p.pdf", "1.4", "1312", "--again"]);
    shop.says(&["gather", "p.pdf", "1.1", "80.04", "8.005", "--yes"]);
    assert!(
        shop.record().contains("bore[1] top across: 8.005 mm")
            && shop.record().contains("lobe: {value: 1312 thou, earlier: [{value: 1311.5 thou}]}"),
        "{}",
        shop.record()
    );
}

#[test]
fn a_sheet_of_an_older_print_is_taken_as_far_as_it_means_the_same() {
    let shop = Shop::new("older-print");
    let pump = Path::new(&shop.0.path()).join("pump.rebuild");
    let text = fs::read_to_string(&pump).unwrap();
    // Another step before it moves the numbers, and changes nothing of what the old ones mean.
    let more = text.clone()
        + "part lid \"Lid\"\nstrip lid_off \"Take the lid off\" { before survey_all  take lid }\n";
    fs::write(&pump, more).unwrap();
    shop.says(&["gather", "p.pdf", "1.2", "79.95"]);
    assert!(shop.record().contains("skirt[1]: 79.95 mm"));
    // What the step says of its readings is another now.
    fs::write(&pump, text.replace("gauge bore, skirt, journal, lobe", "gauge bore, journal, skirt, lobe"))
        .unwrap();
    let said = shop.refuses(&["gather", "p.pdf", "1.1", "80.04"]);
    assert!(said.contains("1.1.1: its step `survey_all` has changed since this was printed"), "{said}");
    // A packet of another job is none of this one.
    fs::write(&pump, &text).unwrap();
    shop.0.file("job.yaml", RECORD.replace("\"17\"", "\"18\""));
    let said = shop.refuses(&["gather", "p.pdf", "1.1", "80.04"]);
    assert!(said.contains("no record of the job `17`"), "{said}");
    let said = shop.refuses(&["gather", "p.pdf", "1.1", "80.04", "--job", "job.yaml"]);
    assert!(said.contains("of the job `17`, and the record of `18`"), "{said}");
}

#[test]
fn a_table_and_answers_at_the_keyboard_do_as_well() {
    let shop = Shop::new("table");
    let said = shop.says(&["gather", "p.pdf", "--table", "out.csv"]);
    let path = Path::new(&shop.0.path()).join("out.csv");
    let table = fs::read_to_string(&path).unwrap();
    assert!(said.starts_with(&format!("{} blanks are open", table.lines().count() - 1)), "{said}");
    assert!(table.contains("1.1.1,survey_all,Bore 1 Top (10 mm) along,mm,\r\n"), "{table}");
    // As a spreadsheet that counts in commas writes it.
    let filled: Vec<String> = table
        .lines()
        .map(|line| line.replace(',', ";"))
        .map(|line| if line.starts_with("1.1.1;") { format!("{line}80,04") } else { line })
        .collect();
    fs::write(&path, format!("\u{feff}{}\r\n", filled.join("\r\n"))).unwrap();
    shop.says(&["gather", "p.pdf", "--table", "out.csv"]);
    assert!(shop.record().contains("bore[1] top along: 80.04 mm"));
    // The next blank, not yet, nonsense and then a value, the same again, and the end.
    let asked = shop.run(&["gather", "p.pdf", "--ask", "1.1"], "80.05\n\nx\n80,06\n=\n.\n");
    let said = String::from_utf8(asked.stderr).unwrap();
    assert!(asked.status.success(), "{said}");
    assert!(
        said.contains("1.1.2 Bore 1 Top (10 mm) across: ") && said.contains("`x` is no number"),
        "{said}"
    );
    let record = shop.record();
    for line in
        ["bore[1] top across: 80.05 mm", "bore[1] bottom across: 80.06 mm", "bore[2] top along: 80.06 mm"]
    {
        assert!(record.contains(line), "{record}");
    }
    assert!(!record.contains("bore[1] bottom along"), "{record}");
}

#[test]
fn record_takes_runs_names_from_paper_and_a_sitting() {
    let shop = Shop::new("short");
    let record = |words: &[&str]| shop.says(&[&["record", "job.yaml"], words].concat());
    let said = record(&["reading", "Piston skirt", "79,95", "79.94"]);
    assert_eq!(said, "readings > as_found > skirt[1]: 79.95 mm\nreadings > as_found > skirt[2]: 79.94 mm\n");
    record(&["reading", "bore", "2", "top", "80.01", "80.02"]);
    record(&["reading", "bolt_length", "46.1*2", "-", "46.2", "mm"]);
    record(&["reading", "head_flatness", "-0,02"]);
    record(&["look", "follower_face", "g*2"]);
    record(&["length", "head_bolts", "B", "72", "71"]);
    let too_many = shop.refuses(&["record", "job.yaml", "reading", "skirt", "79.95", "79.94", "79.93"]);
    assert!(too_many.contains("one value too many for `skirt`"), "{too_many}");
    let nobody = shop.refuses(&["record", "job.yaml", "done", "1"]);
    assert!(nobody.contains("nobody says who did it"), "{nobody}");
    record(&["by", "HK", "--date", "2026-03-05"]);
    record(&["done", "1"]);
    record(&["ordered", "gasket", "Head bolt", "--due", "2026-03-12"]);
    for line in [
        "skirt[2]: 79.94 mm",
        "bore[2] top along: 80.01 mm",
        "bore[2] top across: 80.02 mm",
        "bolt_length[1] second: 46.1 mm",
        "bolt_length[2] second: 46.2 mm",
        "head_flatness: \"-0.02 mm\"",
        "follower_face[2]: good",
        "B: 72 mm",
        "survey_all: {by: HK, date: 2026-03-05, fingerprint: ",
        "head_bolts: {ordered: 2026-03-05, due: 2026-03-12}",
    ] {
        assert!(shop.record().contains(line), "{line} is not in\n{}", shop.record());
    }
    assert!(!shop.record().contains("bolt_length[2] first"));
    let undone = record(&["undo"]);
    assert!(undone.contains("- gasket: {ordered: 2026-03-05, due: 2026-03-12}"), "{undone}");
    assert!(!shop.record().contains("gasket: {ordered"));
    let undone = record(&["undo"]);
    assert!(undone.contains("- survey_all: {by: HK"), "{undone}");
    assert!(!shop.record().contains("survey_all"));
    // By hand it may have been changed since: then nobody goes back over that.
    record(&["answer", "valve_gear", "renew", "--again"]);
    shop.0.file("job.yaml", shop.record() + "# looked through\n");
    assert!(shop.refuses(&["record", "job.yaml", "undo"]).contains("no last entry that can be taken back"));
}

#[test]
fn the_shop_tells_of_all_its_jobs() {
    let shop = Shop::new("wall");
    shop.0.file("other.yaml", RECORD.replace("\"17\"", "\"18\""));
    shop.0.file("prices.yaml", "prices: {}\n");
    shop.says(&["record", "job.yaml", "ordered", "gasket", "--date", "2026-03-05", "--due", "2026-03-12"]);
    let said = shop.says(&["shop", ".", "--on", "2026-03-15"]);
    assert!(said.contains("17, B2-0004: strip, 0 of 1 done\n  next: 1 Measure everything\n"), "{said}");
    assert!(said.contains("  days at rest: 10\n") && said.contains("\n18, B2-0004: strip"), "{said}");
    assert!(said.contains("Gasket, ordered 2026-03-05, due 2026-03-12 (17)"), "{said}");
    shop.says(&["shop", ".", "--on", "2026-03-15", "-o", "wall.pdf"]);
    let wall = fs::read(Path::new(&shop.0.path()).join("wall.pdf")).unwrap();
    let wall = lopdf::Document::load_mem(&wall).unwrap();
    assert_eq!(wall.get_pages().len(), 1, "the sheet for the wall is one page");
    assert!(shop.refuses(&["shop", "nowhere"]).contains("no record of a job lies in `nowhere`"));
}

#[test]
fn next_tells_what_can_be_done_and_what_waits() {
    let shop = Shop::new("next");
    // The front sheet says that nothing is begun before the owner's leave, and so does this.
    let said = shop.says(&["next", "job.yaml"]);
    let leave = "Not begun before this\n  The owner's leave to strip: the record has none yet.\n";
    let then = format!("17: strip, 1 step left\n\n{leave}\nCan be done then\n  1 Measure everything\n");
    assert!(said.starts_with(&then), "{said}");
    shop.0.file("job.yaml", format!("{RECORD}intake: {{leave_to_strip: \"AB, 2026-03-01\"}}\n"));
    let said = shop.says(&["next", "job.yaml"]);
    assert!(
        said.starts_with("17: strip, 1 step left\n\nCan be done now\n  1 Measure everything\n"),
        "{said}"
    );
    assert!(said.contains("\nTo measure\n  bore"), "{said}");
    shop.says(&["record", "job.yaml", "ordered", "gasket", "--date", "2026-03-05", "--due", "2026-03-12"]);
    let late = shop.says(&["next", "job.yaml", "--on", "2026-03-13"]);
    assert!(
        late.contains("\nLate: ask where it is\n  Gasket, ordered 2026-03-05, due 2026-03-12\n"),
        "{late}"
    );
    let early = shop.says(&["next", "job.yaml", "--on", "2026-03-12"]);
    assert!(early.contains("\nOn its way\n  Gasket"), "{early}");
}

#[test]
fn what_was_filled_in_at_a_screen_comes_back_with_who_and_when() {
    let shop = Shop::new("screen");
    let path = |name: &str| Path::new(&shop.0.path()).join(name);
    let said = shop.run(&["packet", "job.yaml", "-o", "p.HTML"], "");
    assert!(said.status.success() && String::from_utf8_lossy(&said.stderr).contains("p.HTML: "), "{said:?}");
    let html = fs::read_to_string(path("p.HTML")).unwrap();
    assert!(html.starts_with("<!--benchleaf-->\n<!doctype html>"));
    // It is told from paper by its ending alone, and means the same.
    shop.says(&["gather", "p.HTML", "1.2", "79.95"]);
    assert!(shop.record().contains("skirt[1]: 79.95 mm"));
    let print = html.split("\"fingerprint\": \"").nth(1).unwrap().split('"').next().unwrap();
    let boxes = ["F 2", "F 3"];
    assert!(boxes.iter().all(|number| html.contains(&format!("data-n=\"{number}\""))), "{html}");
    let line = |number: &str, value: &str, by: &str, day: &str| {
        format!("{number},,,,{value},{by},{day},{print}\r\n")
    };
    let heading = "number,step,what,wanted,value,by,day,print\r\n";
    let saved = heading.to_owned()
        + &line("1.2.2", "\"79,94\"", "RT", "2026-03-04")
        + &line("1.1.1", "80.04", "HK", "2026-03-05");
    fs::write(path("saved.csv"), &saved).unwrap();
    shop.says(&["gather", "p.HTML", "--table", "saved.csv"]);
    for line in [
        "skirt[2]: {value: 79.94 mm, by: RT, date: 2026-03-04}",
        "bore[1] top along: {value: 80.04 mm, by: HK, date: 2026-03-05}",
    ] {
        assert!(shop.record().contains(line), "{line} is not in\n{}", shop.record());
    }
    // What was saved of another print is not taken for this one, and nothing but a tick ticks a box.
    fs::write(path("saved.csv"), saved.replace(print, "00000-00000")).unwrap();
    let said = shop.refuses(&["gather", "p.HTML", "--table", "saved.csv"]);
    assert!(said.contains("1.2.2: it was filled in on the print 00000-00000"), "{said}");
    fs::write(path("saved.csv"), heading.to_owned() + &line(boxes[0], "no", "HK", "2026-03-05")).unwrap();
    let said = shop.refuses(&["gather", "p.HTML", "--table", "saved.csv"]);
    assert!(said.contains("`no` is no tick"), "{said}");
    // Another's page is not written over, nor what the packet is made from; paper is paper.
    fs::write(path("page.html"), "<!doctype html><p>a page of the shop").unwrap();
    for (arguments, why) in [
        (vec!["packet", "job.yaml", "-o", "page.html"], "page.html"),
        (vec!["packet", "job.yaml", "-o", "p.html", "--paper", "a4"], "`--paper` is about paper"),
        (vec!["packet", "job.yaml", "-o", "p.html", "--two-sided"], "`--two-sided` is about paper"),
    ] {
        let said = shop.refuses(&arguments);
        assert!(said.contains(why), "{said}");
    }
    assert_eq!(fs::read_to_string(path("page.html")).unwrap(), "<!doctype html><p>a page of the shop");
}

const LIFT: &str = "family lift \"Lift\" { edition 1  origin \"invented\"  invented }
tool crane \"Shop crane\" { kind hoist  range 0 kg .. 500 kg }
part body \"Body\"  part cover \"Cover\" { fate reuse }
part seal \"Seal\" { under cover  fate renew  supplier \"Quayside\" lead time 10 day }
fasteners screws 4 \"Screw\" { kind screw  thread M6x1  drive 10 mm  dry  reusable  length 16 mm }
joint lid \"Cover to body\" { clamps cover, body  seen from front  holes screws at (0, 0) (40, 0) (0, 40) (40, 40) mm
    tighten screws 6 N.m from \"sheet\" }
strip off \"Take the cover off\" { tools crane  time 20 min  undo lid  take cover }
strip out \"Take the seal out\" { time 4 h both ways  take seal }
";

#[test]
fn jobs_that_want_the_same_clash_and_the_promised_day_is_counted_from() {
    let scratch = Scratch::new("calendar");
    scratch.file("lift.rebuild", LIFT);
    let record = |job: &str, more: &str| {
        scratch.file(&format!("{job}.yaml"), format!("job: \"{job}\"\nprocedure: lift.rebuild\n{more}"));
    };
    record("1", "promised: 2026-04-01\nstand: stand by the door\n");
    record("2", "stand: stand by the door\n");
    let shop = Shop(scratch);
    let said = shop.says(&["next", "1.yaml", "--on", "2026-03-25"]);
    assert!(said.contains("Calendar, backwards from the promised day\n"), "{said}");
    assert!(
        said.contains("2026-03-31  the build begins at the latest: 4 h of one person at 8 h a day; for 1 step no time is stated, so rather sooner"),
        "{said}"
    );
    assert!(said.contains("2026-03-21  order Seal, which takes 10 days; 4 days too late"), "{said}");
    assert!(!shop.says(&["next", "2.yaml", "--on", "2026-03-25"]).contains("Calendar"));
    let said = shop.says(&["shop", ".", "--on", "2026-03-25"]);
    assert!(said.contains("  promised: 2026-04-01, the build begins by 2026-03-31\n"), "{said}");
    assert!(said.contains("  sits on: stand by the door\n"), "{said}");
    assert!(said.contains("stand by the door: both sit on it: 1; 2\n"), "{said}");
    assert!(said.contains("Shop crane: 1 Take the cover off (1); 1 Take the cover off (2)"), "{said}");
    assert!(said.contains("\nLatest days\n  2026-03-21  order Seal, which takes 10 days (1)\n"), "{said}");
    // Two engines of one boat are two jobs.
    for side in ["port", "starboard"] {
        shop.0.file(&format!("{side}.yaml"), format!("job: Wren, {side}\nprocedure: lift.rebuild\n"));
    }
    let said = shop.says(&["shop", ".", "--on", "2026-03-25"]);
    assert!(
        said.contains("1 Take the cover off (Wren, port); 1 Take the cover off (Wren, starboard)"),
        "{said}"
    );
    for side in ["port", "starboard"] {
        shop.0.file(&format!("{side}.yaml"), "");
    }
    // What is ordered and due after the build has to begin is in doubt; a job that wants the crane no more clashes with none.
    shop.0.file(
        "1.yaml",
        "job: \"1\"\nprocedure: lift.rebuild\npromised: 2026-04-01\ndone: {off: {by: HK, date: 2026-03-02}}\n\
         orders: {seal: {ordered: 2026-03-20, due: 2026-04-02}}\n",
    );
    let said = shop.says(&["next", "1.yaml", "--on", "2026-03-25"]);
    assert!(said.contains("Seal: due 2026-04-02, after the build has to begin"), "{said}");
    assert!(!shop.says(&["shop", ".", "--on", "2026-03-25"]).contains("Clashes"));
    let wrong = shop.run(
        &["check", &{ shop.0.file("3.yaml", "job: \"3\"\nprocedure: lift.rebuild\npromised: soon\n") }],
        "",
    );
    assert!(!wrong.status.success());
}

#[test]
fn closed_jobs_tell_hours_and_what_was_found_again() {
    let scratch = Scratch::new("closed");
    let procedure = "family lift \"Lift\" { edition 1  origin \"invented\"  invented }
part body \"Body\"  part cover \"Cover\" { fate reuse }
fasteners screws 4 \"Screw\" { kind screw  thread M6x1  drive 10 mm  dry  reusable  length 16 mm }
joint lid \"Cover to body\" { clamps cover, body  seen from front  holes screws at (0, 0) (40, 0) (0, 40) (40, 40) mm
    tighten screws 6 N.m from \"sheet\" }
strip off \"Take the cover off\" { hands 2  time 20 min  undo lid  take cover }
";
    scratch.file("lift.rebuild", procedure);
    for (job, time, length) in [("1", "90 min", "20 mm"), ("2", "100 min", "20 mm"), ("3", "44 min", "16 mm")]
    {
        let notes = format!(
            "notes: [{{about: screws, found: {{length: {length}}}, by: HK, date: 2026-03-02}}, {{about: screws, found: {{condition: rusted}}, by: HK, date: 2026-03-02}}]\n"
        );
        let text = format!(
            "job: \"{job}\"\nprocedure: lift.rebuild\n{notes}settled: {{screws: {{goes_back: cleaned, by: HK, date: 2026-03-02, second: RT}}}}\n\
             done:\n  off: {{by: HK, date: 2026-03-02, time: {time}}}\n  fit:cover: {{by: HK, date: 2026-03-03}}\n  tighten:lid: {{by: HK, date: 2026-03-03}}\n"
        );
        scratch.file(&format!("{job}.yaml"), text);
    }
    scratch.file("4.yaml", "job: \"4\"\nprocedure: lift.rebuild\n");
    let shop = Shop(scratch);
    let said = shop.says(&["closed", "."]);
    println!("{said}");
    assert!(said.starts_with("Lift: 3 closed jobs\n"), "{said}");
    assert!(said.contains("Take the cover off: stated 40 min, took 90 min, 100 min, 44 min"), "{said}");
    assert!(said.contains("screws: length 20 mm, in 2 of 3; the procedure says length 16 mm"), "{said}");
    assert!(said.contains("screws: found rusted, in 3 of 3"), "{said}");
    assert!(said.contains("lift.rebuild:6: in the step \"Take the cover off\": time 45 min"), "{said}");
    assert!(said.ends_with("1 job not closed yet\n"), "{said}");
    // What is offered for one job is told there on the estimate, with where it is said.
    let change =
        "change strip off { time 45 min }  -- all people together: 90 min in 1, 100 min in 2, 44 min in 3";
    assert!(said.contains(change), "{said}");
    shop.0.file("hours.rebuild", format!("{change}\n"));
    let judged = format!("{procedure}survey judge \"Judge it\" {{ do \"Judge it.\" }}\n");
    shop.0.file("judged.rebuild", judged);
    shop.0.file("4.yaml", "job: \"4\"\nprocedure: judged.rebuild\nchanges: hours.rebuild\nextra: {parts: {shim: {title: Shim}}}\n");
    shop.says(&["check", "4.yaml"]);
    let path = format!("{}/4.yaml", shop.0.path());
    let mut workshop = benchleaf::Workshop::new();
    let view = workshop.job(&benchleaf::Request::of(&path)).value.unwrap();
    let options = benchleaf::PacketOptions::of(benchleaf::model::Phase::Survey);
    let options = benchleaf::PacketOptions { sheets: vec![benchleaf::sheet::SheetKind::Estimate], ..options };
    let estimate = benchleaf::sheet::plain_text(&view.packet(&workshop, &options));
    let steps = view.packet(&workshop, &benchleaf::PacketOptions::of(benchleaf::model::Phase::Strip));
    let steps = benchleaf::sheet::plain_text(&steps).replace('\u{a0}', " ");
    assert!(
        steps.contains("about 45 min")
            && steps.contains("changed for this job")
            && steps.contains("as the procedure with the changes of this job states it"),
        "{steps}"
    );
    let told = "Times of this job's own, and not of the procedure: Take the cover off, 45 min (hours.rebuild line 1).";
    assert!(estimate.replace('\u{a0}', " ").contains(told), "{estimate}");
    // What is proposed can be pasted.
    let clause = said.lines().find_map(|line| line.split_once("the step that comes to it: ")).unwrap().1;
    let pasted = procedure.replace("time 20 min", &format!("time 45 min  {clause}"));
    shop.0.file("lift.rebuild", pasted);
    shop.says(&["check", "lift.rebuild"]);
}

#[test]
fn entries_are_taken_line_by_line() {
    let shop = Shop::new("lines");
    let typed = "by HK 2026-03-05\nreading skirt 79.95 79.94\nnote head \"one stud: bent\"\nby RT 6.3\nlook piston_look s g\n\nreading lobe 1\n";
    let said = shop.run(&["record", "job.yaml"], typed);
    assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    for line in [
        "skirt[2]: {value: 79.94 mm, by: HK, date: 2026-03-05}",
        "{about: head, says: \"one stud: bent\", by: HK, date: 2026-03-05}",
        "piston_look[1]: {result: scored, by: RT, date: 2026-03-06}",
    ] {
        assert!(shop.record().contains(line), "{line} is not in\n{}", shop.record());
    }
    // Behind an empty line nothing is read; a line that is refused leaves the others as they are.
    assert!(!shop.record().contains("lobe"));
    let said = shop.run(&["record", "job.yaml"], "nonsense\nreading lobe 1312\n");
    assert!(
        !said.status.success()
            && String::from_utf8_lossy(&said.stderr).contains("`nonsense` is no entry of a record")
    );
    assert!(shop.record().contains("lobe: {value: 1312 thou, by: RT, date: 2026-03-06}"));
}
