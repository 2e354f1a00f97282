//! Sums of money: a number and a currency to hundredths, and back to print. It must not know what is paid for.

use std::fmt;

/// A sum of money in hundredths, with its currency: `1800 EUR`, `18.50 EUR`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Money {
    /// Hundredths of the currency.
    pub hundredths: i64,
    /// Three capital letters, as in ISO 4217.
    pub currency: String,
}

impl Money {
    /// A sum of whole hundredths; none for a part of one, for less than nought, for ten thousand million and above, and
    /// for what is no currency.
    pub fn new(amount: f64, currency: &str) -> Option<Money> {
        // Ten thousand of that, on nine hundred lines, are still a sum that is held.
        const MOST: f64 = 1e10;
        if !is_currency(currency) || !(0.0..MOST).contains(&amount) {
            return None;
        }
        let hundredths = (amount * 100.0).round();
        // Both are whole numbers that a float holds exactly, so the quotient is the float nearest to the sum as written.
        let whole = hundredths / 100.0 == amount;
        whole.then(|| Money { hundredths: hundredths as i64, currency: currency.to_owned() })
    }

    /// Reads a number with at most two places and a currency of three letters.
    pub fn parse(text: &str) -> Option<Money> {
        let (number, currency) = text.trim().split_once(' ')?;
        let (whole, part) = number.split_once('.').unwrap_or((number, ""));
        let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() || part.len() > 2 || !digits(whole) || !digits(part) {
            return None;
        }
        Money::new(number.parse().ok()?, currency.trim())
    }
}

/// Whether a word is written as a currency: three capital letters.
pub(crate) fn is_currency(word: &str) -> bool {
    word.len() == 3 && word.bytes().all(|byte| byte.is_ascii_uppercase())
}

impl Money {
    /// The amount alone, for where the currency is told once for many: `1800.00`.
    pub fn amount(&self) -> String {
        format!("{}.{:02}", self.hundredths / 100, self.hundredths % 100)
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.amount(), self.currency)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_has_a_currency_and_at_most_two_places() {
        assert_eq!(Money::parse("1800 EUR").map(|sum| sum.to_string()).as_deref(), Some("1800.00 EUR"));
        assert_eq!(Money::parse("18.5 EUR").map(|sum| sum.hundredths), Some(1850));
        for wrong in ["1800", "EUR 1800", "1,800 EUR", "18.505 EUR", "18.500 EUR", "-5 EUR", "5 eur", ". EUR"]
        {
            assert_eq!(Money::parse(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn every_sum_of_whole_hundredths_is_held_exactly() {
        for start in [0, 999_999_990_000] {
            for hundredths in start..start + 10_000 {
                let written = format!("{}.{:02}", hundredths / 100, hundredths % 100);
                let money = Money::new(written.parse().unwrap(), "EUR").unwrap();
                assert_eq!((money.hundredths, money.to_string()), (hundredths, format!("{written} EUR")));
            }
        }
    }

    #[test]
    fn an_amount_that_is_no_sum_is_refused() {
        for (amount, currency) in [
            (5.0, "eur"),
            (5.0, "mm"),
            (12.505, "EUR"),
            (1.0 / 3.0, "EUR"),
            (-5.0, "EUR"),
            (1e10, "EUR"),
            (f64::INFINITY, "EUR"),
            (f64::NAN, "EUR"),
        ] {
            assert_eq!(Money::new(amount, currency), None, "{amount} {currency}");
        }
    }
}
