//! What a row of words says by its form, whatever nouns stand in it: how far down a comb is built, a
//! comb no bigger than a hand, nothing in it.

use crate::concept::Concept as C;
use crate::mark::Mark;
use crate::token::Token;

/// Things no bigger than the first comb of a bar.
fn small_thing(word: &str) -> bool {
    matches!(
        word,
        "hand"
            | "palm"
            | "fist"
            | "finger"
            | "fingers"
            | "thumb"
            | "thumbnail"
            | "fingernail"
            | "saucer"
            | "plate"
            | "cup"
            | "teacup"
            | "egg"
            | "coin"
            | "penny"
            | "card"
            | "phone"
            | "mobile"
            | "matchbox"
            | "leaf"
            | "biscuit"
            | "cookie"
            | "lid"
            | "coaster"
            | "orange"
            | "apple"
            | "lemon"
            | "potato"
            | "plum"
            | "pear"
            | "peach"
            | "mango"
            | "guava"
            | "tongue"
            | "ear"
            | "heart"
            | "bill"
            | "envelope"
            | "postcard"
            | "book"
            | "paperback"
            | "slice"
            | "piece"
            | "pancake"
            | "mug"
            | "ball"
            | "spoon"
            | "wallet"
            | "pocket"
            | "watch"
            | "medal"
            | "doorknob"
            | "bun"
            | "scone"
            | "muffin"
            | "tortilla"
            | "chapati"
            | "fan"
            | "feather"
            | "shell"
            | "mouse"
            | "glove"
            | "stamp"
            | "mat"
            | "beermat"
    )
}

/// Words that measure by a thing, before it or after it.
const LIKE: [&str; 10] = [
    "long", "size", "like", "big", "bigger", "larger", "small", "sized", "than", "smaller",
];
const WORTH: [&str; 8] = [
    "size", "sized", "worth", "length", "breadth", "width", "shaped", "full",
];

/// Adds the marks that only the form of the words gives, in their places.
pub(crate) fn patterns(tokens: &[Token<'_>], mut marks: Vec<Mark>) -> Vec<Mark> {
    let form = Form { tokens };
    for (at, token) in tokens.iter().enumerate() {
        let found = match &*token.text {
            "floor" | "bottom" | "base" | "ground" => form.down_to(at, &marks),
            "nothing" | "nowt" | "naught" | "nought" | "anything" | "owt" | "crumb" | "sup"
            | "drop" | "scrap" | "bean" | "bit" | "thing" | "speck" | "drip" | "sausage"
            | "lick" | "bug" => form.nothing(at, &marks),
            "new" | "fresh" => form.new_alone(at),
            "the" | "bar" | "number" => form.like_another(at),
            "white" => form.white(at, &marks),
            "position" | "slot" | "station" => form.numbered_place(at),
            "stick" | "slat" | "lath" | "rod" => form.counted_stick(at),
            "onto" | "into" => form.run_into(at),
            "depth" => form.part_of_the_depth(at),
            "bare" => form.bare(at, &marks),
            "before" => form.before_me(at, &marks),
            word if small_thing(word) => form.small(at, &marks),
            _ => None,
        };
        let Some(mark) = found else { continue };
        let covered = |m: &Mark| m.from < mark.to && mark.from < m.to;
        let known = marks
            .iter()
            .any(|m| covered(m) && m.from <= mark.from && replaces(m.concept, mark.concept));
        if known {
            continue;
        }
        marks.retain(|m| !covered(m));
        let place = marks.partition_point(|m| m.from < mark.from);
        marks.insert(place, mark);
    }
    marks
}

/// The phrase of the lexicon says as much or more.
fn replaces(there: C, new: C) -> bool {
    match new {
        C::Empty => matches!(
            there,
            C::Empty
                | C::NoComb
                | C::AttachedNo
                | C::Uncapped
                | C::FillLight
                | C::All
                | C::Take
                | C::Leave
        ),
        C::FillLight => matches!(
            there,
            C::FillLight
                | C::FillPart
                | C::Capped
                | C::Share
                | C::Uncapped
                | C::QueenCell
                | C::Cups
                | C::HalfCup
                | C::Wash
                | C::Take
                | C::Leave
                | C::Inch
        ),
        C::WhiteCap => !matches!(there, C::Word | C::NewComb),
        C::Uncapped => !matches!(there, C::Word | C::NoComb | C::Empty | C::Bar),
        _ => !matches!(there, C::Word | C::Holding | C::Other | C::End),
    }
}

struct Form<'a> {
    tokens: &'a [Token<'a>],
}

impl Form<'_> {
    fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |t| &*t.text)
    }

    fn before(&self, at: usize, far: usize, words: &[&str]) -> Option<usize> {
        (at.saturating_sub(far)..at)
            .rev()
            .take_while(|&i| !self.tokens[i].is_stop())
            .find(|&i| words.contains(&self.word(i)))
    }

    fn after(&self, at: usize, far: usize, words: &[&str]) -> bool {
        (at + 1..self.tokens.len().min(at + 1 + far))
            .take_while(|&i| !self.tokens[i].is_stop())
            .any(|i| words.contains(&self.word(i)))
    }

    /// "white", said of a comb: "is white", "and white like paper".
    fn white(&self, at: usize, marks: &[Mark]) -> Option<Mark> {
        let before = at > 0
            && matches!(
                self.word(at - 1),
                "is" | "'s"
                    | "and"
                    | "all"
                    | "so"
                    | "still"
                    | "pure"
                    | "bright"
                    | "snow"
                    | "clean"
                    | "dead"
                    | "brilliant"
            );
        // "it's white all over on both sides": the caps
        let face = |m: &Mark| matches!(m.concept, C::This | C::Other | C::Both);
        let all_over =
            self.word(at + 1) == "all" && self.word(at + 2) == "over" && marks.iter().any(face);
        let after = self.tokens.get(at + 1).is_none_or(Token::is_stop)
            || matches!(self.word(at + 1), "like" | "as" | "and" | "with" | "wax")
            || all_over;
        (before && after).then(|| Mark {
            concept: if all_over { C::WhiteCap } else { C::NewComb },
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "position four", "slot twelve": a bar.
    fn numbered_place(&self, at: usize) -> Option<Mark> {
        let numbered = crate::numbers::is_number_word(self.word(at + 1));
        numbered.then(|| Mark {
            concept: C::Bar,
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "third stick", "the next slat": a bar.
    fn counted_stick(&self, at: usize) -> Option<Mark> {
        let before = self.word(at.wrapping_sub(1));
        let counted = crate::numbers::ordinal(before).is_some()
            || matches!(before, "next" | "last")
            || crate::numbers::is_number_word(self.word(at + 1)) && at < 2;
        counted.then(|| Mark {
            concept: C::Bar,
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "run onto the sixth", "grown into the next": two bars hang together.
    fn run_into(&self, at: usize) -> Option<Mark> {
        let runs = matches!(
            self.word(at.wrapping_sub(1)),
            "run"
                | "runs"
                | "grown"
                | "wandered"
                | "built"
                | "bent"
                | "curved"
                | "crossed"
                | "strayed"
        );
        let named = self.word(at + 1) == "the"
            && (crate::numbers::ordinal(self.word(at + 2)).is_some()
                && !matches!(self.word(at + 3), "board" | "wall" | "hive"));
        (runs && named).then(|| Mark {
            concept: C::StraightNo,
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "forty percent of full depth": built so far down, and no caps.
    fn part_of_the_depth(&self, at: usize) -> Option<Mark> {
        let of = self.before(at, 2, &["of"])?;
        let part = [
            "percent", "cent", "half", "third", "thirds", "quarter", "quarters",
        ];
        let from = self.before(of, 2, &part)?;
        Some(Mark {
            concept: C::FillPart,
            value: 0.0,
            from,
            to: at + 1,
            phrase: None,
        })
    }

    /// "half this side and bare on the back": no caps there.
    fn bare(&self, at: usize, marks: &[Mark]) -> Option<Mark> {
        let face = |m: &Mark| matches!(m.concept, C::This | C::Other | C::Both);
        let near = marks.iter().any(|m| {
            face(m)
                && !(m.to..at).any(|i| self.tokens[i].is_stop())
                && (m.from > at && m.from <= at + 3 || m.to <= at && m.to + 2 > at)
        });
        // "next one bare", and no more
        let last = self.tokens.get(at + 1).is_none_or(Token::is_stop);
        let called = (0..at).any(|i| {
            matches!(self.word(i), "bar" | "bars" | "one" | "next" | "last")
                || crate::numbers::ordinal(self.word(i)).is_some()
        });
        let told = |m: &Mark| {
            face(m) || m.concept.is_held() || matches!(m.concept, C::Comb | C::Capped | C::Share)
        };
        if last && called && at < 6 && !marks.iter().any(told) {
            return Some(Mark {
                concept: C::NoComb,
                value: 0.0,
                from: at,
                to: at + 1,
                phrase: None,
            });
        }
        let of_caps = !self.after(at, 1, &["bar", "wood", "strip", "wax"]);
        (near && of_caps).then_some(Mark {
            concept: C::Uncapped,
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "before all capped, behind a third": the face before the keeper.
    fn before_me(&self, at: usize, marks: &[Mark]) -> Option<Mark> {
        let caps = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped));
        let time = at > 0
            && matches!(
                self.word(at - 1),
                "said"
                    | "as"
                    | "than"
                    | "did"
                    | "had"
                    | "like"
                    | "week"
                    | "one"
                    | "time"
                    | "year"
                    | "day"
                    | "visit"
                    | "was"
                    | "the"
                    | "comb"
                    | "month"
                    | "been"
            );
        let amount = self.tokens.get(at + 1).is_none_or(Token::is_stop)
            || matches!(self.word(at + 1), "is" | "it")
                && marks.iter().any(|m| m.from > at && m.concept == C::Capped)
            || marks
                .iter()
                .any(|m| m.from == at + 1 && m.concept == C::Share);
        (caps && !time && amount).then_some(Mark {
            concept: C::This,
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "as the third", "like the first one": what stands before the comb that it is like.
    fn like_another(&self, at: usize) -> Option<Mark> {
        let like = at > 0 && matches!(self.word(at - 1), "as" | "like" | "resembles");
        let begins = at < 2
            || self.tokens[at - 2].is_stop()
            || matches!(
                self.word(at - 2),
                "comb" | "one" | "is" | "'s" | "much" | "just" | "exactly" | "same" | "it"
            );
        if !self.tokens[at].is("the") {
            // "as bar four": the number names the bar
            let numbered = crate::numbers::is_number_word(self.word(at + 1));
            let begins =
                begins || matches!(self.word(at.wrapping_sub(2)), "honey" | "brood" | "exactly");
            return (like && begins && numbered).then(|| Mark {
                concept: C::Same,
                value: 0.0,
                from: at - 1,
                to: at,
                phrase: None,
            });
        }
        let counted = crate::numbers::ordinal(self.word(at + 1)).is_some()
            && matches!(
                self.word(at + 2),
                "" | "one" | "comb" | "," | "." | "but" | "only" | "save" | "except" | "though"
            );
        (like && begins && counted).then(|| Mark {
            concept: C::Same,
            value: 0.0,
            from: at - 1,
            to: at + 1,
            phrase: None,
        })
    }

    /// "new", a clause by itself.
    fn new_alone(&self, at: usize) -> Option<Mark> {
        let end = |i: usize| self.tokens.get(i).is_none_or(Token::is_stop);
        let begins = at > 0
            && (end(at - 1) || matches!(self.word(at - 1), "and" | "all" | "brand" | "like"));
        let alone = begins && end(at + 1) && self.word(at) == "new";
        alone.then_some(Mark {
            concept: C::NewComb,
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "reaches the floor", "two thirds of the way to the bottom".
    fn down_to(&self, at: usize, marks: &[Mark]) -> Option<Mark> {
        let from = self.before(
            at,
            2,
            &[
                "to", "until", "till", "reaches", "touches", "reached", "meets", "near",
            ],
        )?;
        let clause = |m: &&Mark| m.to > at.saturating_sub(9) && m.from <= at + 4;
        let capped = marks
            .iter()
            .filter(clause)
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped));
        if capped
            || self.after(
                at,
                2,
                &[
                    "bar", "edge", "corner", "row", "half", "third", "board", "of",
                ],
            )
        {
            return None;
        }
        let goes = self.before(
            at,
            7,
            &[
                "reaches", "reached", "reach", "touches", "meets", "goes", "go", "comes", "come",
                "came", "built", "drawn", "hangs", "hanging", "arrives", "filled", "gets", "got",
                "made", "way", "down", "right", "clean", "nearly", "almost", "stops", "short",
                "full", "fills", "extends", "all",
            ],
        )?;
        let short = self
            .before(
                at,
                8,
                &[
                    "nearly", "almost", "quite", "short", "half", "halfway", "thirds", "quarters",
                    "not", "n't", "part", "near", "mostly", "shy",
                ],
            )
            .is_some();
        let concept = if short { C::FillPart } else { C::FillFull };
        Some(Mark {
            concept,
            value: 0.0,
            from: from.max(goes.min(from)),
            to: at + 1,
            phrase: None,
        })
    }

    /// "the size of my hand", "hand size", "a palm's worth", "a thumbnail of new comb".
    fn small(&self, at: usize, marks: &[Mark]) -> Option<Mark> {
        let next = self.word(at + 1);
        let skip = usize::from(matches!(next, "'s" | "s"));
        let worth = WORTH.contains(&self.word(at + 1 + skip));
        let of_comb = next == "of"
            && self.after(
                at + 1,
                2,
                &["comb", "wax", "new", "white", "fresh", "combs"],
            );
        let like = self.before(at, 4, &LIKE).is_some()
            && (self.word(at + 1) != "of" || matches!(self.word(at), "slice" | "piece"))
            && !self.after(at, 1, &["short"])
            // "a long orange thing", "opened like a tin lid": no size
            && self.word(at.wrapping_sub(1)) != "long"
            && !matches!(self.word(at.wrapping_sub(2)), "sort" | "kind")
            && !(0..at).any(|i| matches!(self.word(i), "opened" | "hinged"))
            // "looked like a toffee apple": told of another time
            && self.before(at, 4, &["looked"]).is_none();
        let noun = |i: usize| matches!(self.word(i), "plate" | "dinner" | "frying");
        let big =
            at > 0 && matches!(self.word(at - 1), "dinner" | "frying" | "foot" | "two") && noun(at);
        if !(worth || of_comb || like) {
            return None;
        }
        // "a patch of brood the size of my hand"
        let of_else = marks.iter().any(|m| {
            m.to <= at
                && m.to + 10 > at
                && !(m.to..at).any(|i| self.tokens[i].is_stop())
                && (m.concept.is_held() || matches!(m.concept, C::Capped | C::Queen | C::She))
        });
        if of_else {
            return None;
        }
        Some(Mark {
            concept: if big { C::FillPart } else { C::FillLight },
            value: 0.0,
            from: at,
            to: at + 1,
            phrase: None,
        })
    }

    /// "comb one, nowt, just wax": a clause by itself.
    fn nothing_alone(&self, at: usize, marks: &[Mark]) -> bool {
        matches!(self.word(at), "nothing" | "nowt")
            && at > 1
            && self.tokens[at - 1].is_stop()
            && self.tokens.get(at + 1).is_none_or(Token::is_stop)
            && marks
                .iter()
                .any(|m| m.to < at && matches!(m.concept, C::Ord | C::Num | C::Next | C::Comb))
            && !marks.iter().any(|m| {
                matches!(
                    m.concept,
                    C::Capped
                        | C::Uncapped
                        | C::This
                        | C::Both
                        | C::Honey
                        | C::Mites
                        | C::QueenCell
                        | C::Cells
                )
            })
    }

    /// "nothing in it", "not a sup of anything in him", "ain't put nothing in it", "inside is nothing".
    fn nothing(&self, at: usize, marks: &[Mark]) -> Option<Mark> {
        let word = self.word(at);
        let from = if matches!(word, "nothing" | "nowt" | "naught" | "nought") {
            // "ain't put nothing in it"
            self.before(at, 3, &["not", "n't", "ain't", "nae"])
                .unwrap_or(at)
        } else {
            let far = if matches!(word, "anything" | "owt") {
                4
            } else {
                3
            };
            self.before(
                at,
                far,
                &[
                    "not", "n't", "no", "nary", "ain't", "nae", "without", "never",
                ],
            )?
        };
        // "nothing in the feeder", "nothing in the bank", "nothing in the bottom of it"
        let elsewhere = [
            "bottom", "top", "corner", "corners", "middle", "bank", "feeder", "jar", "bucket",
            "tub", "pail", "tray", "trap", "tank",
        ];
        if self.after(at, 3, &elsewhere) {
            return None;
        }
        // "nothing in her only wax"
        let only_wax = self.after(at, 4, &["only", "but", "just", "except"])
            && self.after(at, 6, &["wax", "comb", "cells", "dust"]);
        if !only_wax
            && self.after(
                at,
                3,
                &[
                    "else", "but", "except", "bar", "only", "capped", "sealed", "closed", "besides",
                ],
            )
            || self
                .before(at, 4, &["hardly", "barely", "almost", "scarcely"])
                .is_some()
        {
            return None;
        }
        if self.nothing_alone(at, marks) {
            return Some(Mark {
                concept: C::Empty,
                value: 0.0,
                from: at,
                to: at + 1,
                phrase: None,
            });
        }
        let inside =
            self.before(at, 4, &["inside", "within"]).is_some() && at + 1 == self.tokens.len();
        let place = (at + 1..self.tokens.len().min(at + 6)).find(|&i| {
            matches!(self.word(i), "in" | "inside" | "into" | "within")
                && (i + 1 >= self.tokens.len()
                    || matches!(
                        self.word(i + 1),
                        "it" | "him"
                            | "her"
                            | "them"
                            | "em"
                            | "there"
                            | "this"
                            | "that"
                            | "any"
                            | "either"
                            | "cells"
                            | "the"
                            | "these"
                            | "those"
                            | "yet"
                            | "at"
                            | ","
                            | "."
                    ))
        });
        let but = place.is_some_and(|p| {
            self.after(
                p,
                4,
                &["but", "except", "bar", "only", "save", "apart", "other"],
            )
        });
        if !(inside || place.is_some()) || but && !only_wax {
            return None;
        }
        Some(Mark {
            concept: C::Empty,
            value: 0.0,
            from,
            to: place.map_or(at + 1, |p| (p + 2).min(self.tokens.len())),
            phrase: None,
        })
    }
}
