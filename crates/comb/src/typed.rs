//! Figures as people type them.

/// A number as people type it: a comma for the point, a fraction as "15 1/2".
pub fn number(typed: &str) -> Option<f64> {
    let typed = typed.trim().replace(',', ".");
    let (whole, part) = match typed.rsplit_once(' ') {
        Some((whole, part)) if part.contains('/') => (whole.trim().parse::<f64>().ok()?, part),
        _ if typed.contains('/') => (0.0, typed.as_str()),
        _ => return typed.parse().ok().filter(|number: &f64| number.is_finite()),
    };
    let (over, under) = part.split_once('/')?;
    let (over, under) = (
        over.trim().parse::<f64>().ok()?,
        under.trim().parse::<f64>().ok()?,
    );
    let number = whole + over / under;
    number.is_finite().then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_type_them() {
        assert_eq!(number("1 3/8"), Some(1.375));
        assert_eq!(number("3/4"), Some(0.75));
        assert_eq!(number(" 34,5 "), Some(34.5));
        for wrong in ["", "wide", "1/0", "inf", "NaN", "15in"] {
            assert_eq!(number(wrong), None, "{wrong}");
        }
    }
}
