//! What else a recogniser took phrases for: one of it may be what was said. Not kept beyond the page.

use std::collections::VecDeque;

/// Of so many phrases, as many as are shown.
const PHRASES: usize = 30;

/// Other readings of the last phrases, each with the moment at which it was heard, milliseconds since
/// the epoch.
#[derive(Debug, Clone, Default)]
pub(super) struct OtherReadings(VecDeque<(i64, Vec<String>)>);

impl OtherReadings {
    /// Notes the readings of the phrase of this moment but for the one that was taken.
    pub(super) fn note(&mut self, at_ms: i64, taken: &str, readings: &[String]) {
        let others = readings.iter().map(|words| words.trim());
        let others = others.filter(|words| !words.is_empty() && *words != taken.trim());
        let others: Vec<String> = others.map(str::to_owned).collect();
        if others.is_empty() {
            return;
        }
        self.0.push_back((at_ms, others));
        if self.0.len() > PHRASES {
            self.0.pop_front();
        }
    }

    /// Those of the phrase of this moment.
    pub(super) fn of(&self, at_ms: i64) -> Vec<String> {
        let found = self.0.iter().find(|(at, _)| *at == at_ms);
        found.map(|(_, others)| others.clone()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_readings_not_taken_are_found_by_their_moment() {
        let mut known = OtherReadings::default();
        let readings = ["bar sixty", "bar sixteen", " ", "bar sixty "].map(str::to_owned);
        known.note(7, "bar sixty", &readings);
        known.note(8, "take it", &["take it".to_owned()]);
        assert_eq!(known.of(7), ["bar sixteen"]);
        assert!(known.of(8).is_empty(), "nothing else was heard");
        for at in 100..200 {
            known.note(at, "bar sixty", &readings);
        }
        assert!(known.of(7).is_empty(), "too long ago");
        assert_eq!(known.of(199).len(), 1);
    }
}
