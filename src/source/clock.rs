//! The day, by the clock of the machine: what is done today is written down as of today. Nothing that is printed may
//! hang on it.

/// Days since the first of January 1970, in universal time.
pub(crate) fn days_since_1970() -> i64 {
    #[expect(clippy::disallowed_methods, reason = "a record is dated by the day on which it is written")]
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    now.map_or(0, |passed| i64::try_from(passed.as_secs() / 86_400).unwrap_or_default())
}
