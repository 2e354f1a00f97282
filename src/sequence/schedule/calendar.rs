//! What is taken when, while tasks are placed one by one: how much of a resource, and which value a lane has.
//!
//! Both answer the same question, the earliest time from some moment on at which a task of a certain length fits, in
//! one walk over what is taken from there on.

/// The use of one resource over time: from each breakpoint on so much is used, until the next; from the last on,
/// nothing.
pub(super) struct Usage {
    capacity: u32,
    from: Vec<(u64, u32)>,
}

impl Usage {
    pub(super) fn new(capacity: u32) -> Usage {
        Usage { capacity, from: vec![(0, 0)] }
    }

    pub(super) fn clear(&mut self) {
        self.from.clear();
        self.from.push((0, 0));
    }

    /// The earliest time from `at` on at which `need` is free for `duration`.
    pub(super) fn earliest(&self, mut at: u64, duration: u64, need: u32, work: &mut u64) -> u64 {
        let first = self.from.partition_point(|&(time, _)| time <= at) - 1;
        for (index, &(time, used)) in self.from.iter().enumerate().skip(first) {
            *work += 1;
            if time >= at + duration {
                break;
            }
            if used + need > self.capacity {
                // The last stretch uses nothing, so there is a next one.
                at = self.from.get(index + 1).map_or(at, |&(next, _)| next);
            }
        }
        at
    }

    /// Uses `need` from `start` to `end`, which is later.
    pub(super) fn take(&mut self, start: u64, end: u64, need: u32) {
        let first = self.break_at(start);
        let last = self.break_at(end);
        for (_, used) in &mut self.from[first..last] {
            *used += need;
        }
        // Stretches that have become alike are one.
        for index in [last, first] {
            if index > 0 && self.from[index].1 == self.from[index - 1].1 {
                self.from.remove(index);
            }
        }
    }

    /// The index of a breakpoint at `time`, made if there is none.
    fn break_at(&mut self, time: u64) -> usize {
        let index = self.from.partition_point(|&(known, _)| known < time);
        if self.from.get(index).is_none_or(|&(known, _)| known > time) {
            let used = self.from[index - 1].1;
            self.from.insert(index, (time, used));
        }
        index
    }
}

/// Something that has one value at a time while tasks last that ask for it: stretches of one value each, none
/// overlapping, in order of time. Between stretches of different value the change takes its time.
pub(super) struct Lane {
    change: u64,
    stretches: Vec<Stretch>,
}

#[derive(Clone, Copy)]
struct Stretch {
    start: u64,
    end: u64,
    value: usize,
}

impl Lane {
    pub(super) fn new(change: u64) -> Lane {
        Lane { change, stretches: Vec::new() }
    }

    pub(super) fn clear(&mut self) {
        self.stretches.clear();
    }

    /// The earliest time from `at` on at which nothing of another value, nor a change to or from it, overlaps
    /// `duration`.
    pub(super) fn earliest(&self, mut at: u64, duration: u64, value: usize, work: &mut u64) -> u64 {
        let first = self.stretches.partition_point(|stretch| stretch.end + self.change <= at);
        for stretch in &self.stretches[first..] {
            *work += 1;
            if stretch.start >= at + duration + self.change {
                break;
            }
            if stretch.value != value && at < stretch.end + self.change {
                at = stretch.end + self.change;
            }
        }
        at
    }

    /// Gives the lane a value from `start` to `end`, where it has no other.
    pub(super) fn take(&mut self, start: u64, end: u64, value: usize) {
        // Where a change takes time, stretches that touch are of one value. Where it takes none, something of no
        // duration may stand between them.
        let touch = self.change > 0;
        let over = |stretch: &Stretch| stretch.end < start || stretch.end == start && !touch;
        let first = self.stretches.partition_point(over);
        let begun = |stretch: &&Stretch| stretch.start < end || stretch.start == end && touch;
        let count = self.stretches[first..].iter().take_while(begun).count();
        let mut whole = Stretch { start, end, value };
        for stretch in &self.stretches[first..first + count] {
            debug_assert_eq!(stretch.value, value, "no other value was there");
            whole.start = whole.start.min(stretch.start);
            whole.end = whole.end.max(stretch.end);
        }
        if count == 1 {
            self.stretches[first] = whole;
        } else {
            self.stretches.splice(first..first + count, [whole]);
        }
    }
}
