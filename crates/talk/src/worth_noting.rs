//! What is said of disease, treatments and a queen that is lost, and is no judgement of a comb: kept as a note, whole.
//!
//! What a strip in a hive or a mummy in a cell means, the keeper enters at the desk with the label in
//! hand; at the hive the words must not be lost.

/// Words that stand for a disease, a pest, a medicine or a lost queen wherever they stand. Source: the conditions
/// and active substances of the health crate's tables, with the ways in which they are said; of the queen
/// common usage, no source.
const ALWAYS: &[&str] = &[
    "chalkbrood",
    "chalk brood",
    "sacbrood",
    "sac brood",
    "foulbrood",
    "foul brood",
    "afb",
    "efb",
    "nosema",
    "dysentery",
    "deformed wing",
    "deformed wings",
    "hive beetle",
    "hive beetles",
    "wax moth",
    "wax moths",
    "tropilaelaps",
    "braula",
    "hornet",
    "hornets",
    "mummies",
    "ropy",
    "ropey",
    "sunken caps",
    "sunken cappings",
    "oxalic",
    "formic",
    "thymol",
    "amitraz",
    "fluvalinate",
    "flumethrin",
    "queenless",
    "laying worker",
    "laying workers",
    "drone layer",
    "queen gone",
    "queen is gone",
    "queen has gone",
    "queen missing",
    "queen is missing",
    "queen dead",
    "queen is dead",
    "dead queen",
    "treated",
    "treating",
    "treatment",
    "medicine",
];

/// True for a phrase about disease, treatment or a queen that is lost.
pub(crate) fn worth_noting(phrase: &str) -> bool {
    let words: Vec<String> = phrase
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let said = |wanted: &str| {
        let wanted: Vec<&str> = wanted.split(' ').collect();
        words.windows(wanted.len()).any(|run| run == wanted)
    };
    // "strips" of comb are left on bars; those that go in and out are a medicine's
    let strips = said("strips") && !said("comb") && (said("in") || said("out"));
    strips || ALWAYS.iter().any(|wanted| said(wanted))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn disease_and_treatment_are_worth_a_note_and_the_ordinary_talk_is_not() {
        for said in [
            "put in two strips of Acme",
            "took the strips out",
            "saw chalkbrood on four",
            "Looks like foul brood, sunken caps",
            "treated with oxalic",
            "the queen is gone I think",
            "they're queenless",
        ] {
            assert!(worth_noting(said), "{said}");
        }
        for said in [
            "left a strip on the bar",
            "two strips of comb back in",
            "that was a treat of a day",
            "bar four capped both sides",
            "three mites in three hundred bees",
            "white wax on it",
            "",
        ] {
            assert!(!worth_noting(said), "{said}");
        }
    }
}
