//! Hours of the day.

use std::fmt;

/// Minutes of a day.
const MINUTES_A_DAY: i64 = 1440;

/// An hour of the day, to the minute: `14:30`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hour {
    minutes: u16,
}

impl Hour {
    /// Reads hours and minutes as ISO 8601 writes them, the hour in one digit or two; none for an hour that does not exist.
    pub fn parse(text: &str) -> Option<Hour> {
        let (hours, minutes) = text.split_once(':')?;
        let digits = |text: &str, lengths: &[usize]| {
            let plain = lengths.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
            plain.then(|| text.parse::<u16>().ok()).flatten()
        };
        let (hours, minutes) = (digits(hours, &[1, 2])?, digits(minutes, &[2])?);
        (hours < 24 && minutes < 60).then_some(Hour { minutes: hours * 60 + minutes })
    }

    /// The hour so many minutes later, rounded up to the next whole one, and how many days later that is.
    pub fn after(self, minutes: f64) -> Option<(i64, Hour)> {
        let whole = minutes.ceil();
        if !(0.0..1e9).contains(&whole) {
            return None;
        }
        let all = i64::from(self.minutes) + whole as i64;
        let minutes = u16::try_from(all.rem_euclid(MINUTES_A_DAY)).ok()?;
        Some((all.div_euclid(MINUTES_A_DAY), Hour { minutes }))
    }
}

impl fmt::Display for Hour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_hour_is_read_and_counted_on_over_midnight() {
        let hour = Hour::parse("14:30").unwrap();
        assert_eq!(hour.to_string(), "14:30");
        assert_eq!(Hour::parse("9:05").unwrap().to_string(), "09:05");
        for wrong in ["24:00", "12:60", "12", "12:5", "1430", "-1:00", "12:00:00", ""] {
            assert_eq!(Hour::parse(wrong), None, "{wrong}");
        }
        assert_eq!(hour.after(24.0 * 60.0), Some((1, hour)));
        assert_eq!(hour.after(90.0), Some((0, Hour::parse("16:00").unwrap())));
        assert_eq!(hour.after(600.5), Some((1, Hour::parse("00:31").unwrap())));
        assert_eq!(hour.after(f64::INFINITY), None);
    }
}
