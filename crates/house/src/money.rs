//! Money as it is typed.

use honey::lots::event::Money;

use crate::error::HouseError;

/// "54.00" and "AUD" in cents; two decimals at most.
///
/// # Errors
/// [`HouseError::NoMoney`].
pub fn money(sum: &str, currency: &str) -> Result<Money, HouseError> {
    let wrong = || HouseError::NoMoney {
        sum: sum.to_owned(),
        currency: currency.to_owned(),
    };
    let (whole, part) = sum.split_once('.').unwrap_or((sum, ""));
    let code = currency.len() == 3 && currency.chars().all(|c| c.is_ascii_alphabetic());
    if !code || part.len() > 2 || !part.chars().all(|c| c.is_ascii_digit()) {
        return Err(wrong());
    }
    let whole: u64 = whole.parse().map_err(|_| wrong())?;
    let part: u64 = format!("{part:0<2}").parse().map_err(|_| wrong())?;
    let minor_units = whole.checked_mul(100).and_then(|m| m.checked_add(part));
    Ok(Money {
        minor_units: minor_units.ok_or_else(wrong)?,
        currency: currency.to_ascii_uppercase(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_is_counted_in_the_smallest_unit() {
        let cents = |sum| money(sum, "aud").map(|money| money.minor_units);
        assert_eq!(cents("54"), Ok(5400));
        assert_eq!(cents("54.5"), Ok(5450));
        assert_eq!(cents("0.05"), Ok(5));
        assert_eq!(money("1", "aud").map(|m| m.currency), Ok("AUD".to_owned()));
    }

    #[test]
    fn what_is_no_sum_is_refused() {
        for (sum, currency) in [
            ("5.555", "AUD"),
            ("-1", "AUD"),
            ("five", "AUD"),
            ("", "AUD"),
            ("1e3", "AUD"),
            ("1", "dollars"),
            ("184467440737095517", "AUD"),
        ] {
            assert!(money(sum, currency).is_err(), "{sum} {currency}");
        }
    }
}
