//! `--watch`: a command done again when a file has changed, and not otherwise.

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

use super::Scratch;

const PUMP: &str =
    "family pump \"Pump\" { origin \"invented\" }\nuse \"parts\"\nstrip off \"Off\" { take cover }\n";
/// Longer than any run takes; a test that waits for nothing waits so long only where something is wrong.
const LONG: Duration = Duration::from_secs(60);
const SHORT: Duration = Duration::from_millis(700);

/// The program while it watches, and the lines that it says.
struct Watching(Child, Receiver<String>);

impl Watching {
    fn start(arguments: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
            .args(arguments)
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let said = BufReader::new(child.stderr.take().unwrap());
        let (lines, heard) = channel();
        std::thread::spawn(move || said.lines().map_while(Result::ok).all(|line| lines.send(line).is_ok()));
        Watching(child, heard)
    }

    /// What is said up to the line that says how many files are watched.
    fn round(&self) -> String {
        let mut said = String::new();
        loop {
            let line = self.1.recv_timeout(LONG).unwrap();
            said += &format!("{line}\n");
            if line.starts_with("watching ") {
                return said;
            }
        }
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[test]
fn a_check_follows_every_file_that_it_reads() {
    let scratch = Scratch::new("watch");
    let pump = scratch.file("pump.rebuild", PUMP);
    let parts = scratch.file("parts.rebuild", "part cover \"Cover\"\n");
    let watching = Watching::start(&["check", "--watch", &pump]);
    let first = watching.round();
    assert!(first.contains("no errors") && first.ends_with("watching 2 files; Ctrl-C ends it\n"), "{first}");
    assert_eq!(watching.1.recv_timeout(SHORT), Err(RecvTimeoutError::Timeout), "nothing has changed");
    fs::write(&parts, "part lid \"Lid\"\n").unwrap();
    let second = watching.round();
    assert!(second.contains("nothing is called `cover`"), "{second}");
    fs::write(&parts, "part cover \"The cover\"\n").unwrap();
    assert!(watching.round().contains("no errors"));
}

#[test]
fn a_packet_is_printed_again_and_kept_while_there_is_a_fault() {
    let scratch = Scratch::new("watch-packet");
    let pump = scratch.file("pump.rebuild", PUMP);
    scratch.file("parts.rebuild", "part cover \"Cover\"\n");
    let target = format!("{}/out.pdf", scratch.path());
    let watching = Watching::start(&["packet", "--watch", &pump, "-o", &target]);
    let first = watching.round();
    assert!(first.contains("out.pdf: ") && first.contains("strip"), "{first}");
    let printed = fs::read(&target).unwrap();
    fs::write(&pump, PUMP.replace("take cover", "take lid")).unwrap();
    assert!(watching.round().contains("nothing is called `lid`"));
    assert_eq!(fs::read(&target).unwrap(), printed);
    fs::write(&pump, PUMP.replace("Off", "Cover off")).unwrap();
    assert!(watching.round().contains("out.pdf: "));
    assert_ne!(fs::read(&target).unwrap(), printed);
}
