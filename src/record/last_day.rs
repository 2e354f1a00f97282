//! The record of a job to the last day on which something happened in it: the day that it is up to, for whoever prints
//! it without saying which day it is. What is due lies ahead and doesn't count.

use super::{Date, Job, Order, Sent};

impl Job {
    /// The latest day of what was read, looked at, noted, done, ordered, sent, agreed to or printed; none if the record
    /// has no day.
    pub fn last_day(&self) -> Option<Date> {
        let signed = self
            .readings
            .iter()
            .map(|reading| &reading.signature)
            .chain(self.looks.iter().map(|look| &look.signature))
            .chain(self.notes.iter().map(|note| &note.signature))
            .chain(self.done.iter().map(|done| &done.signature))
            .chain(self.chosen.values().map(|chosen| &chosen.signature))
            .chain(self.judged.values().map(|judged| &judged.signature))
            .filter_map(|signature| signature.date);
        let bought = self
            .orders
            .values()
            .flat_map(|Order { ordered, arrived, compared, .. }| [*ordered, *arrived, *compared]);
        let machined =
            self.sent.values().flat_map(|Sent { sent, back, accepted, .. }| [*sent, *back, *accepted]);
        let agreed = self.approvals.iter().map(|approval| approval.date);
        let printed = self.prints.iter().map(|print| print.date);
        let dealings = bought.chain(machined).chain(agreed).chain(printed).flatten();
        signed.chain(dealings).max()
    }
}
