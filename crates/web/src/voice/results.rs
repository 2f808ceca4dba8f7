//! What a recogniser's results say that is new. No browser in it.
//!
//! By the Web Speech API results are listed, each is settled once, and an event names the first that
//! changed. Browsers on phones are reported to do otherwise: what is still changing is marked as settled, with no
//! confidence (JamesBrill/react-speech-recognition pull request 31); each result repeats those before it with a word
//! more; what was settled is settled again a moment later (the same; Stack Overflow question 35112561) or named as
//! changed again (willdady/platypus pull request 771). So the whole list is read each time, and
//! compared with what was delivered.

/// How sure the browser is of a result.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Settled {
    /// It may change.
    Open,
    /// It is called settled, and no confidence stands behind it: it may change all the same.
    Doubtful,
    /// It will not change.
    Yes,
}

/// One result of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// The words, as they are likeliest.
    pub words: String,
    /// What else they may be, the likelier first; only of what is called settled.
    pub others: Vec<String>,
    /// Whether they will change.
    pub settled: Settled,
}

/// What a phrase may be, the likeliest first; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Readings(Vec<String>);

impl Readings {
    /// The words, and what else they may be by the results that they came from. Where what was delivered
    /// before is left out of the words, it is left out of the others too, if it stands in them.
    pub fn of(words: String, pieces: &[Piece]) -> Self {
        let cut = |piece: &Piece| {
            let whole = tidy(&piece.words);
            let before = whole.len().checked_sub(words.len())?;
            whole.ends_with(&words).then(|| {
                let cut = whole[..before].trim_end();
                let others = piece.others.iter().map(|other| tidy(other));
                let rest = |other: String| {
                    if cut.is_empty() {
                        Some(other)
                    } else {
                        after(cut, &other)
                    }
                };
                others.filter_map(rest).collect::<Vec<String>>()
            })
        };
        let others = pieces.iter().rev().find_map(cut).unwrap_or_default();
        let mut all = vec![words];
        for other in others {
            if !other.is_empty() && !all.iter().any(|known| alike(known, &other)) {
                all.push(other);
            }
        }
        Self(all)
    }

    /// All, the likeliest first.
    pub fn all(&self) -> &[String] {
        &self.0
    }
}

/// Settled again within this time it is the same, milliseconds: nobody says a thing twice so soon. Common
/// practice, no source.
const TWICE_MS: f64 = 400.0;

/// What one turn of the recogniser has brought.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Results {
    /// Settled results by their place in the list, as they were when they were looked at.
    seen: Vec<Option<String>>,
    /// Delivered, in order.
    given: Vec<String>,
    /// When the last was delivered.
    given_ms: f64,
    /// The last was delivered before it was settled.
    ahead: bool,
    /// The browser is one of those that repeat: it has called settled what it was not sure of.
    repeats: bool,
    open: String,
    doubtful: bool,
}

impl Results {
    /// None yet, in a turn that follows this one.
    #[must_use]
    pub fn next_turn(&self) -> Self {
        Self {
            repeats: self.repeats,
            ..Self::default()
        }
    }

    /// Takes in the list as it is now; the phrases that are new and settled.
    pub fn take(&mut self, pieces: &[Piece], now_ms: f64) -> Vec<String> {
        self.repeats |= pieces.iter().any(|one| one.settled == Settled::Doubtful);
        let mut new = Vec::new();
        for (nth, piece) in pieces.iter().enumerate() {
            if piece.settled == Settled::Yes {
                new.extend(self.settled(nth, &piece.words, now_ms));
            }
        }
        let settled = pieces
            .iter()
            .rposition(|piece| piece.settled == Settled::Yes);
        let still = &pieces[settled.map_or(0, |nth| nth + 1)..];
        self.doubtful = still.iter().any(|one| one.settled == Settled::Doubtful);
        let open = joined(still);
        self.open = if self.repeats {
            self.beyond(&open).unwrap_or_default()
        } else {
            open
        };
        new
    }

    /// What is being said and not settled.
    pub fn open(&self) -> &str {
        &self.open
    }

    /// Whether what is open is called settled by a browser that is not sure of it.
    pub const fn is_doubtful(&self) -> bool {
        self.doubtful
    }

    /// Forgets what is open.
    pub fn drop_open(&mut self) {
        self.open.clear();
        self.doubtful = false;
    }

    /// Takes what is open for settled: nothing has changed for a while, or the turn is over.
    pub fn settle(&mut self, now_ms: f64) -> Option<String> {
        let words = std::mem::take(&mut self.open);
        self.doubtful = false;
        if words.is_empty() {
            return None;
        }
        self.ahead = true;
        self.give(&words, now_ms);
        Some(words)
    }

    fn settled(&mut self, nth: usize, words: &str, now_ms: f64) -> Option<String> {
        let words = tidy(words);
        if self.seen.len() <= nth {
            self.seen.resize(nth + 1, None);
        }
        let before = self.seen[nth].replace(words.clone());
        if words.is_empty() || before.as_ref().is_some_and(|before| alike(before, &words)) {
            return None;
        }
        // settled once and then with more words behind
        let more = before.and_then(|before| after(&before, &words));
        let again = self
            .given
            .last()
            .is_some_and(|last| alike(last, &words) || after(&words, last).is_some());
        let soon = now_ms - self.given_ms < TWICE_MS;
        if again && (soon || self.ahead) {
            self.ahead = false;
            return None;
        }
        let new = match more {
            Some(more) => more,
            None if soon || self.repeats => self.beyond(&words)?,
            // "next one", and some time later "next one all brood": two combs
            None => words,
        };
        self.ahead = false;
        self.give(&new, now_ms);
        Some(new)
    }

    fn give(&mut self, words: &str, now_ms: f64) {
        self.given.push(words.to_owned());
        self.given_ms = now_ms;
    }

    /// What these words add to what was delivered; nothing when they only repeat its end and may
    /// still change.
    fn beyond(&self, words: &str) -> Option<String> {
        let words = tidy(words);
        // all of the turn, or only its last phrases, said again with more behind
        for from in 0..self.given.len() {
            let given = self.given[from..].join(" ");
            if let Some(rest) = after(&given, &words) {
                return Some(rest);
            }
        }
        (!words.is_empty()).then_some(words)
    }
}

/// Results as one: each adds to those before it, or says them again with more.
fn joined(pieces: &[Piece]) -> String {
    pieces.iter().fold(String::new(), |so_far, piece| {
        let words = tidy(&piece.words);
        if so_far.is_empty() || after(&so_far, &words).is_some() || alike(&so_far, &words) {
            words
        } else if words.is_empty() {
            so_far
        } else {
            format!("{so_far} {words}")
        }
    })
}

fn tidy(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The same words, however they are written.
fn alike(one: &str, other: &str) -> bool {
    let plain = |words: &str| words.trim_end_matches(['.', ',', '?', '!']).to_lowercase();
    plain(one) == plain(other)
}

/// What follows the beginning, when the words begin so, however it is written, at a word's end; at least
/// one word.
fn after(beginning: &str, words: &str) -> Option<String> {
    let count = beginning.split(' ').count();
    let mut split = words.splitn(count + 1, ' ');
    let head: Vec<&str> = split.by_ref().take(count).collect();
    let rest = split.next()?;
    alike(beginning, &head.join(" ")).then(|| rest.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(words: &str, settled: Settled) -> Piece {
        Piece {
            words: words.to_owned(),
            others: Vec::new(),
            settled,
        }
    }

    fn yes(words: &str) -> Piece {
        piece(words, Settled::Yes)
    }

    fn doubtful(words: &str) -> Piece {
        piece(words, Settled::Doubtful)
    }

    /// Lists as they came, half a second apart unless told; what was delivered in all.
    fn over(lists: &[(f64, Vec<Piece>)]) -> (Vec<String>, Results) {
        let mut results = Results::default();
        let mut given = Vec::new();
        for (at, list) in lists {
            given.extend(results.take(list, *at));
        }
        (given, results)
    }

    #[test]
    fn a_desktop_settles_each_result_once() {
        let open = |words| piece(words, Settled::Open);
        let (given, results) = over(&[
            (0.0, vec![open("bar")]),
            (200.0, vec![open("bar twelve"), open(" all")]),
            (900.0, vec![yes("bar twelve all brood")]),
            (1500.0, vec![yes("bar twelve all brood"), open(" leave")]),
            (2000.0, vec![yes("bar twelve all brood"), yes(" leave it")]),
            (
                3000.0,
                vec![
                    yes("bar twelve all brood"),
                    yes(" leave it"),
                    yes(" leave it"),
                ],
            ),
        ]);
        assert_eq!(given, ["bar twelve all brood", "leave it", "leave it"]);
        assert_eq!(results.open(), "");
    }

    #[test]
    fn who_begins_alike_twice_has_said_two_things_where_nothing_is_repeated() {
        let (given, _) = over(&[
            (0.0, vec![yes("next one")]),
            (3000.0, vec![yes("next one"), yes("next one all brood")]),
        ]);
        assert_eq!(given, ["next one", "next one all brood"]);
        // on a phone that repeats, it is what was said before with more behind
        let (given, results) = over(&[
            (0.0, vec![doubtful("next")]),
            (500.0, vec![yes("next one")]),
            (3000.0, vec![yes("next one"), yes("next one all brood")]),
        ]);
        assert_eq!(given, ["next one", "all brood"]);
        assert!(results.next_turn().repeats);
    }

    #[test]
    fn what_still_changes_is_not_taken_for_settled_without_confidence() {
        // as reported of phones: one place in the list, each time a word more
        let (given, mut results) = over(&[
            (0.0, vec![doubtful("bar")]),
            (200.0, vec![doubtful("bar twenty")]),
            (400.0, vec![doubtful("Bar 20")]),
            (600.0, vec![doubtful("Bar 20 all capped")]),
        ]);
        assert_eq!(given, Vec::<String>::new());
        assert_eq!(results.open(), "Bar 20 all capped");
        assert!(results.is_doubtful());
        // the end of the turn is all that such a phone tells
        assert_eq!(results.settle(900.0).as_deref(), Some("Bar 20 all capped"));
        assert_eq!(results.settle(950.0), None);
    }

    #[test]
    fn results_that_repeat_those_before_them_are_heard_once() {
        // a place of its own for each, ever longer, capitals coming and going
        let (given, mut results) = over(&[
            (0.0, vec![doubtful("twenty")]),
            (200.0, vec![doubtful("twenty"), doubtful("twenty two")]),
            (
                400.0,
                vec![
                    doubtful("twenty"),
                    doubtful("twenty two"),
                    doubtful("Twenty Two thirds"),
                ],
            ),
            (
                600.0,
                vec![
                    doubtful("twenty"),
                    doubtful("twenty two"),
                    doubtful("Twenty Two thirds"),
                    doubtful("twenty two thirds capped"),
                ],
            ),
        ]);
        assert_eq!(given, Vec::<String>::new());
        assert_eq!(
            results.settle(900.0).as_deref(),
            Some("twenty two thirds capped")
        );
    }

    #[test]
    fn settled_twice_in_a_moment_it_is_heard_once() {
        let (given, _) = over(&[
            (0.0, vec![yes("take it")]),
            (150.0, vec![yes("take it"), yes("take it")]),
        ]);
        assert_eq!(given, ["take it"]);
        // also when the second is at first doubtful, and when the list is named anew from its beginning
        let (given, results) = over(&[
            (0.0, vec![doubtful("take it")]),
            (300.0, vec![yes("take it")]),
            (350.0, vec![yes("take it"), yes("Take it.")]),
            (
                900.0,
                vec![yes("take it"), yes("Take it."), yes("next one")],
            ),
        ]);
        assert_eq!(given, ["take it", "next one"]);
        assert_eq!(results.open(), "");
    }

    #[test]
    fn taken_early_it_is_not_heard_again_when_it_is_settled() {
        let mut results = Results::default();
        assert!(results.take(&[doubtful("bar nine")], 0.0).is_empty());
        assert_eq!(results.settle(1300.0).as_deref(), Some("bar nine"));
        assert!(results.take(&[yes("bar nine")], 9000.0).is_empty());
        // and what came behind it is heard alone
        let list = [yes("bar nine"), yes("bar nine brood on both sides")];
        assert_eq!(results.take(&list, 9900.0), ["brood on both sides"]);
        let list = [
            yes("bar nine"),
            yes("bar nine brood on both sides leave it"),
        ];
        assert_eq!(results.take(&list, 12_000.0), ["leave it"]);
    }

    #[test]
    fn what_else_it_may_be_comes_with_the_words() {
        let or = |words: &str, others: &[&str]| Piece {
            others: others.iter().map(|other| (*other).to_owned()).collect(),
            ..yes(words)
        };
        let of = |words: &str, pieces: &[Piece]| Readings::of(words.to_owned(), pieces).0;
        let pieces = [
            or("bar nine", &["far nine"]),
            or(
                " brewed both sides",
                &["brood both  sides", "Brewed both sides.", ""],
            ),
        ];
        assert_eq!(
            of("brewed both sides", &pieces),
            ["brewed both sides", "brood both sides"]
        );
        // what was delivered before is left out of the others too; one that begins otherwise is no help
        let grown = [or("bar nine brewed", &["Bar nine brood", "far nine brood"])];
        assert_eq!(of("brewed", &grown), ["brewed", "brood"]);
        assert_eq!(of("take it", &grown), ["take it"]);
    }

    #[test]
    fn a_beginning_is_no_repetition() {
        let (given, _) = over(&[
            (0.0, vec![yes("bar two")]),
            (2000.0, vec![yes("bar two"), yes("bar twenty all capped")]),
            (
                4000.0,
                vec![
                    yes("bar two"),
                    yes("bar twenty all capped"),
                    yes("bar two again"),
                ],
            ),
        ]);
        assert_eq!(given, ["bar two", "bar twenty all capped", "bar two again"]);
    }
}
