//! Seconds for the measuring examples: of the clock on the wall, or of the process alone.

use std::time::Instant;

/// Time since it was made.
pub struct Watch {
    start: Instant,
    /// The process's own time then, in nanoseconds, if that is what counts.
    own: Option<u64>,
}

#[allow(clippy::disallowed_methods, reason = "an example reads the clock")]
impl Watch {
    /// Begins; `own` asks for the process's own time, which a busy machine doesn't stretch. Where the system doesn't
    /// tell it, the clock on the wall counts.
    pub fn new(own: bool) -> Watch {
        Watch { start: Instant::now(), own: own.then(Watch::own_time).flatten() }
    }

    /// Linux counts it for the thread that a process begins with.
    fn own_time() -> Option<u64> {
        let text = std::fs::read_to_string("/proc/self/schedstat").ok()?;
        text.split_whitespace().next()?.parse().ok()
    }

    /// Seconds since then.
    pub fn seconds(&self) -> f64 {
        match (self.own, Watch::own_time()) {
            (Some(then), Some(now)) => (now - then) as f64 / 1e9,
            _ => self.start.elapsed().as_secs_f64(),
        }
    }
}
