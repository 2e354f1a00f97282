//! Days of the calendar.

use std::fmt;

/// A day: `2026-03-05`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: i32,
    month: u32,
    day: u32,
}

impl Date {
    /// Reads year, month and day as ISO 8601 writes them; none for a day that does not exist.
    pub fn parse(text: &str) -> Option<Date> {
        let bytes = text.as_bytes();
        let shaped = bytes.len() == 10
            && bytes.iter().enumerate().all(|(at, byte)| match at {
                4 | 7 => *byte == b'-',
                _ => byte.is_ascii_digit(),
            });
        if !shaped {
            return None;
        }
        let date = Date {
            year: text[..4].parse().ok()?,
            month: text[5..7].parse().ok()?,
            day: text[8..].parse().ok()?,
        };
        ((1..=12).contains(&date.month) && (1..=date.month_length()).contains(&date.day)).then_some(date)
    }

    /// The day so many days after the first of January 1970.
    pub fn from_days_since_1970(days: i64) -> Option<Date> {
        let first = Date { year: 1970, month: 1, day: 1 }.day_number();
        let wanted = first + days;
        // Counted from March the year is found by its mean length, and set right where that is a day off.
        let guess = wanted * 400 / 146_097;
        let march = |year: i64| 365 * year + year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        let year = (guess - 1..=guess + 1).rev().find(|year| march(*year) <= wanted)?;
        let left = wanted - march(year);
        let month = (5 * left + 2) / 153;
        let day = u32::try_from(left - (153 * month + 2) / 5 + 1).ok()?;
        let (year, month) = if month < 10 { (year, month + 3) } else { (year + 1, month - 9) };
        Some(Date { year: i32::try_from(year).ok()?, month: u32::try_from(month).ok()?, day })
    }

    /// The day so many days later.
    pub fn after_days(self, days: i64) -> Option<Date> {
        let first = Date { year: 1970, month: 1, day: 1 }.day_number();
        Date::from_days_since_1970(self.day_number() - first + days)
    }

    fn month_length(self) -> u32 {
        let leap = (self.year % 4 == 0 && self.year % 100 != 0) || self.year % 400 == 0;
        match self.month {
            2 if leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            _ => 31,
        }
    }

    /// Days since the first of March of the year 0 in the Gregorian calendar carried back: the difference of
    /// two is the number of days between them. Counting years from March puts the leap day last.
    pub fn day_number(self) -> i64 {
        let (year, month) =
            if self.month > 2 { (self.year, self.month - 3) } else { (self.year - 1, self.month + 9) };
        let year = i64::from(year);
        let before = (153 * i64::from(month) + 2) / 5;
        365 * year + year.div_euclid(4) - year.div_euclid(100)
            + year.div_euclid(400)
            + before
            + i64::from(self.day)
            - 1
    }
}

impl Date {
    /// The day without its year, in words that can't be read the other way round: `5 Mar`.
    pub fn day_and_month(self) -> String {
        const MONTHS: [&str; 12] =
            ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
        let month = (self.month as usize).checked_sub(1).and_then(|month| MONTHS.get(month));
        format!("{}\u{a0}{}", self.day, month.unwrap_or(&""))
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_that_exist_are_read_and_counted() {
        assert_eq!(Date::parse("2026-03-05").map(|date| date.to_string()).as_deref(), Some("2026-03-05"));
        for wrong in
            ["2026-02-29", "2026-13-01", "2026-04-31", "26-03-05", "2026-3-5", "2026-00-10", "2026/03/05"]
        {
            assert_eq!(Date::parse(wrong), None, "{wrong}");
        }
        let number = |text| Date::parse(text).unwrap().day_number();
        // Between these lie 400 Gregorian years: 146 097 days.
        assert_eq!(number("2400-03-01") - number("2000-03-01"), 146_097);
        assert_eq!(number("2024-03-01") - number("2024-02-28"), 2);
        assert_eq!(number("2026-01-01") - number("2025-12-31"), 1);
        let first = number("1970-01-01");
        for day in ["1970-01-01", "2000-02-29", "2024-03-01", "2026-12-31", "2100-02-28", "2100-03-01"] {
            let date = Date::from_days_since_1970(number(day) - first).unwrap();
            assert_eq!(date.to_string(), day);
        }
        let later = |text, days| Date::parse(text).unwrap().after_days(days).unwrap().to_string();
        assert_eq!([later("2024-02-28", 2), later("2026-12-31", 1)], ["2024-03-01", "2027-01-01"]);
    }
}
