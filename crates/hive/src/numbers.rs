//! Bars' numbers, as they are said.

/// Numbers in their order, runs of three and more shortened: "1 to 12, 14, 20 to 17".
///
/// ```
/// assert_eq!(hive::numbers::ranges(&[1, 2, 3, 7, 9, 8, 6, 5, 4]), "1 to 3, 7, 9, 8, 6 to 4");
/// ```
pub fn ranges(numbers: &[u32]) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut rest = numbers;
    while let Some(first) = rest.first() {
        let run = |step: i64| {
            let pairs = rest.windows(2);
            let steps = pairs.take_while(|p| i64::from(p[1]) - i64::from(p[0]) == step);
            steps.count() + 1
        };
        let length = run(1).max(run(-1));
        if length >= 3 {
            words.push(format!("{first} to {}", rest[length - 1]));
            rest = &rest[length..];
        } else {
            words.push(first.to_string());
            rest = &rest[1..];
        }
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_of_numbers_are_shortened() {
        assert_eq!(
            ranges(&[1, 2, 3, 7, 9, 8, 6, 5, 4]),
            "1 to 3, 7, 9, 8, 6 to 4"
        );
        assert_eq!(ranges(&[28, 27]), "28, 27");
        assert_eq!(ranges(&[]), "");
    }
}
