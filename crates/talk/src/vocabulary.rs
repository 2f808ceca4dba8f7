//! What a keeper says that a general recogniser does not expect.

/// Words and short phrases of the trade, for a recogniser that can be told what to expect: words such
/// as a general one put in other words when the spoken test visits were spoken to it (`examples/spoken.rs`),
/// and the short phrases on which most hangs.
pub const EXPECTED: [&str; 34] = [
    "comb",
    "combs",
    "new comb",
    "crossed comb",
    "bar",
    "bars",
    "brood",
    "sealed brood",
    "drone brood",
    "worker brood",
    "capped",
    "uncapped",
    "all capped",
    "half capped",
    "fully capped",
    "mostly capped",
    "three quarters capped",
    "two thirds capped",
    "honey",
    "nectar",
    "pollen",
    "eggs",
    "larvae",
    "queen cells",
    "follower board",
    "this side",
    "other side",
    "both sides",
    "next one",
    "leave it",
    "take it",
    "set it aside",
    "put it back",
    "kilos",
];

#[cfg(test)]
mod tests {
    use super::EXPECTED;
    use crate::concepts_of;

    #[test]
    fn all_of_it_is_understood() {
        for phrase in EXPECTED {
            let strange = |(concept, _): &(&str, String)| concept.starts_with('#');
            let concepts = concepts_of(phrase);
            assert!(
                !concepts.is_empty() && !concepts.iter().any(strange),
                "{phrase}: {concepts:?}"
            );
        }
    }
}
