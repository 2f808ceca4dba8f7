//! Which part of a phrase is not about this hive today: hypotheticals, stories, plans, advice.

use crate::concept::Concept as C;
use crate::mark::Mark;
use crate::token::Token;

/// Leaves out the marks that must not count. Each stretch left out becomes one [`C::Stop`].
/// Before the first comb (`opening`), a hive that is called by its colour or number is this one.
pub(crate) fn in_scope(tokens: &[Token<'_>], marks: &[Mark], opening: bool) -> Vec<Mark> {
    let mut out: Vec<Mark> = Vec::with_capacity(marks.len());
    let mut clause = 0;
    let mut at = 0;
    while at < marks.len() {
        let mark = marks[at];
        match mark.concept {
            C::If => {
                // "if it was me I would": the words after it, and a "would" before it
                if out[clause..].iter().any(|m| m.concept == C::Would) {
                    out.truncate(clause.max(named_first(tokens, &out, mark)));
                }
                let bare = until_told(tokens, marks, at);
                at = bare.unwrap_or_else(|| skip(marks, at, true));
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            C::People
                if relays(tokens, mark) || pops(tokens, mark) || daughter_hive(tokens, mark) => {}
            c if (c.is_held() || matches!(c, C::NewComb | C::Queen | C::QueenCell))
                && (asked(tokens, mark) || any_of(tokens, mark)) => {}
            c if (c.is_verdict() || hangs(c)) && asked_of_it(tokens, mark) => {}
            C::Advice if tag(tokens, mark) => {}
            C::Elsewhere if opening && this_hive(tokens, mark) => {}
            // "a bit less on the back, I couldn't say how much": what stands before it is told
            // "left over from last year": how it came there
            C::Past if mark.from > 0 && tokens[mark.from - 1].is("from") => {}
            C::Past | C::Future if still_now(tokens, mark) => {}
            C::Advice if which_means(tokens, mark) => {}
            // "and straight you could hang a door on it": how straight
            C::Would if how_straight(tokens, &out, mark) || cannot_say(tokens, mark) => {
                at = skip(marks, at, false);
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            // "it's glued down the one side, hold that, ruth": told, and then an order to a helper
            C::Advice if order_to_a_helper(tokens, mark) => {
                at = skip(marks, at, false);
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            // "do we take it, no we don't, it goes back"
            C::Would if let Some((verdict, to)) = asked_and_answered(tokens, marks, at) => {
                out.push(stop(mark));
                out.extend(verdict);
                at = to;
                clause = out.len();
                continue;
            }
            C::Would | C::Past | C::Elsewhere | C::People | C::Advice => {
                let keep = told_first(tokens, &out, clause, mark)
                    .max(named_first(tokens, &out, mark))
                    .max(another_bar_there(tokens, &out, mark))
                    .max(before_where(tokens, &out, clause, mark));
                out.truncate(keep);
                at = skip(marks, at, false).min(here_again(tokens, marks, at));
                // "brother got forty but he's sitting on clover": the story goes on
                while mark.concept == C::People
                    && marks.get(at).is_some_and(|m| {
                        m.concept == C::But
                            && tokens.get(m.to).is_some_and(|t| {
                                matches!(&*t.text, "he" | "they" | "his" | "their")
                            })
                    })
                {
                    at = skip(marks, at, false);
                }
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            C::Future => {
                // "leave that for next week" is said today; "I'll take it next week" is not
                // "I don't take it today, maybe bar two in august": what stands after it is not
                let last = out.iter().rposition(|m| m.concept == C::Leave);
                let to = last.map_or(out.len(), |i| i + 1).max(clause);
                let kept: Vec<Mark> = out[clause..to]
                    .iter()
                    .copied()
                    .filter(|m| keeps(m.concept))
                    .collect();
                let leave = kept.iter().any(|m| m.concept == C::Leave);
                // "it was twenty degrees when I started"
                let keep = told_first(tokens, &out, clause, mark)
                    .max(before_where(tokens, &out, clause, mark));
                out.truncate(keep);
                if leave {
                    out.extend(kept);
                }
                at = skip(marks, at, false).min(ordered_after(tokens, marks, at));
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            C::Stop | C::But => {
                out.push(mark);
                clause = out.len();
            }
            _ => out.push(mark),
        }
        at += 1;
    }
    out
}

/// "I couldn't say", "I wouldn't like to guess".
fn cannot_say(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let not = (mark.from..=mark.to).find(|&i| matches!(word(i), "not" | "n't"));
    not.is_some_and(|n| {
        (n + 1..n + 5).any(|i| matches!(word(i), "say" | "tell" | "put" | "guess" | "swear"))
    })
}

/// "worker brood still in october", "already in april": it is that month.
fn still_now(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let so_late = |i: usize| matches!(word(i), "still" | "already" | "even");
    // "she's still at it in march", "drones already, brood in april": what surprises is seen now
    let surprises = !word(mark.from + 1).is_empty()
        && !matches!(word(mark.from + 1), "the" | "a" | "my")
        && !(0..mark.from).any(|i| matches!(word(i), "was" | "were" | "had" | "will" | "'ll"))
        && (0..mark.from).any(so_late);
    word(mark.from) == "in"
        && (surprises
            || so_late(mark.from.wrapping_sub(1))
            || matches!(word(mark.from.wrapping_sub(1)), "now" | "late" | "early"))
}

/// "see how it runs, that means it's not ripe": what is seen on the comb in hand.
fn which_means(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    word(mark.to - 1) == "means"
        && matches!(word(mark.to), "it" | "this" | "that")
        && matches!(word(mark.to + 1), "'s" | "is" | "has")
        && !tokens.iter().any(|t| t.is("if"))
}

/// "shall I take it, yes", "do we leave it, nah, take it": the verdict that the answer comes to, where it
/// says none itself, and the mark that the talk goes on from.
fn asked_and_answered(
    tokens: &[Token<'_>],
    marks: &[Mark],
    at: usize,
) -> Option<(Option<Mark>, usize)> {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let mark = marks[at];
    let asks = matches!(word(mark.from), "shall" | "should" | "do" | "can" | "could")
        && matches!(word(mark.from + 1), "we" | "i");
    let yes = |i: usize| matches!(word(i), "yes" | "yeah" | "yep" | "yup" | "aye");
    let no = |i: usize| matches!(word(i), "no" | "nah" | "nope" | "naw");
    let answer = (mark.to..tokens.len())
        .find(|&i| yes(i) || no(i))
        .filter(|_| asks)?;
    // "should I take it or is there no more": no answer
    let said = (mark.from..answer).any(|i| matches!(word(i), "or" | "if" | "when" | "is"));
    let to = (at + 1..marks.len())
        .find(|&i| marks[i].from >= answer)
        .unwrap_or(marks.len());
    if said {
        return None;
    }
    let rest = &marks[to..];
    let decided = rest.iter().any(|m| m.concept.is_verdict());
    let doubted = rest.iter().any(|m| matches!(m.concept, C::If | C::Would))
        || (answer..tokens.len()).any(|i| matches!(word(i), "but" | "idea" | "wait" | "maybe"));
    // "shall we have a cup of tea, yes": not the comb
    let asked_of = |words: &[&str]| {
        (mark.from..answer).any(|i| {
            words.contains(&word(i))
                && matches!(
                    word(i + 1),
                    "it" | "that" | "this" | "them" | "these" | "those"
                )
                && (i + 2 == answer
                    || matches!(
                        word(i + 2),
                        "one"
                            | "comb"
                            | "bar"
                            | "out"
                            | "off"
                            | "then"
                            | "too"
                            | ","
                            | "in"
                            | "back"
                    ))
        })
    };
    let take = asked_of(&["take", "cut", "have", "harvest", "pull"]);
    let leave = asked_of(&["leave"]);
    let concept = match (take, leave, yes(answer)) {
        (true, false, true) | (false, true, false) => C::Take,
        (true, false, false) | (false, true, true) => C::Leave,
        _ => return decided.then_some((None, to)),
    };
    let verdict = (!decided && !doubted && tokens.len() < answer + 6)
        .then(|| Mark::of_words(concept, mark.from, mark.to));
    (verdict.is_some() || decided).then_some((verdict, to))
}

/// "I didn't see her, did you": asked back, and told before.
fn tag(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    mark.to == tokens.len()
        && mark.from > 2
        && matches!(
            word(mark.from),
            "did" | "do" | "have" | "can" | "could" | "are"
        )
}

/// "I take it for the daughter": a hive made from this one; one's own is "my daughter".
fn daughter_hive(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    word(mark.from) == "daughter" && mark.from > 0 && word(mark.from - 1) == "the"
}

/// "gonna pop the right end": a verb.
fn pops(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    word(mark.from) == "pop" && matches!(word(mark.to), "the" | "it" | "that" | "this" | "open")
}

/// "any brood in it": what is asked for, and may be told by a yes.
pub(crate) fn asked_for(tokens: &[Token<'_>], marks: &[Mark]) -> Vec<C> {
    let any = marks
        .iter()
        .filter(|m| m.concept.is_held() && any_of(tokens, **m));
    any.map(|m| m.concept).collect()
}

/// "any brood in it", "is there any pollen": nothing else is said in the phrase.
fn any_of(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let kind = [
        "open", "sealed", "capped", "worker", "drone", "more", "young",
    ];
    let mut at = mark.from;
    while at > 0 && kind.contains(&word(at - 1)) {
        at -= 1;
    }
    let before = at.checked_sub(2).map_or("", word);
    let ends = (mark.to..tokens.len()).all(|i| {
        matches!(
            word(i),
            "in" | "on" | "it" | "that" | "this" | "one" | "there" | "here" | "left" | "yet" | "?"
        )
    });
    at > 0
        && word(at - 1) == "any"
        && ends
        && matches!(
            before,
            "" | "comb" | "one" | "there" | "so" | "and" | "," | "." | "or"
        )
        && !tokens
            .iter()
            .any(|t| matches!(&*t.text, "not" | "n't" | "no" | "if"))
}

/// "is that brood", "is it worker or drone": asked, not told.
fn asked(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let mut at = mark.from;
    while at > 0
        && matches!(
            word(at - 1),
            "a" | "the" | "all" | "new" | "any" | "worker" | "drone" | "or"
        )
    {
        at -= 1;
    }
    at > 1
        && matches!(word(at - 1), "it" | "that" | "this" | "them" | "those")
        && matches!(word(at - 2), "is" | "are" | "was")
        && (at < 3 || !matches!(word(at - 3), "what" | "that" | "this" | "which" | "it"))
}

/// How a comb hangs.
fn hangs(concept: C) -> bool {
    matches!(
        concept,
        C::AttachedYes | C::AttachedNo | C::StraightYes | C::StraightNo
    )
}

/// "is it stuck anywhere", "is that for us": the phrase begins so, and says no more.
fn asked_of_it(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let begin = (0..tokens.len())
        .find(|&i| {
            !matches!(
                word(i),
                "and" | "so" | "oh" | "okay" | "right" | "well" | ","
            )
        })
        .unwrap_or(0);
    let asks = matches!(word(begin), "is" | "are")
        && matches!(word(begin + 1), "it" | "that" | "this" | "they" | "those");
    // "is it stuck, no it's free": told as well
    let more = tokens.len() > begin + 6
        || (mark.to..tokens.len()).any(|i| matches!(word(i), "no" | "yes" | "yeah" | "it" | "i"));
    asks && !more && mark.from <= begin + 3
}

/// "this is the green hive", "hive two beside the shed".
fn this_hive(tokens: &[Token<'_>], mark: Mark) -> bool {
    let said = |words: &[&str]| {
        (mark.from..mark.to).any(|i| tokens.get(i).is_some_and(|t| words.contains(&&*t.text)))
    };
    said(&["hive"])
        && !said(&[
            "other", "another", "next", "that", "those", "his", "her", "their", "your", "over",
            "down", "the",
        ])
}

/// "grandpa says that's not eggs": a helper at the hive who speaks of it; not "dad always says".
fn relays(tokens: &[Token<'_>], mark: Mark) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let says = (mark.from..=mark.to)
        .rev()
        .find(|&i| matches!(word(i), "says" | "reckons" | "thinks" | "sees"));
    // "my nephew writes two point six kilos": of what is weighed here
    let writes = (mark.from..mark.to + 2)
        .find(|&i| matches!(word(i), "writes" | "notes" | "reads" | "says"))
        .is_some_and(|i| crate::numbers::is_number_word(word(i + 1)));
    let weighed = tokens.iter().any(|t| {
        matches!(
            &*t.text,
            "kilo" | "kilos" | "kg" | "kilogram" | "kilograms" | "grams" | "pound" | "pounds"
        )
    });
    if writes && weighed {
        return true;
    }
    // "dad's putting it back": what is done here and now
    let word_after = mark.to + usize::from(matches!(word(mark.to), "'s" | "is"));
    let does = word_after > mark.to
        && matches!(
            word(word_after),
            "putting" | "taking" | "cutting" | "leaving" | "lifting" | "carrying" | "hanging"
        )
        && matches!(
            word(word_after + 1),
            "it" | "that" | "this" | "them" | "him" | "her"
        );
    if does {
        return true;
    }
    let Some(says) = says else { return false };
    // "a quarter, dad says"
    if mark.from > 0 && tokens.get(says + 1).is_none_or(Token::is_stop) {
        return true;
    }
    let rest = says + 1..tokens.len();
    let of_this = rest.clone().take(3).any(|i| {
        matches!(
            word(i),
            "that" | "this" | "it" | "look" | "no" | "there" | "here" | "leave" | "put" | "i"
        )
    });
    let in_general = rest.clone().any(|i| {
        matches!(
            word(i),
            "you" | "always" | "never" | "every" | "ought" | "should" | "if" | "when" | "means"
        )
    });
    of_this && !in_general
}

/// "I've had a puff at the door and we're in from the right": what follows is said of now.
fn here_again(tokens: &[Token<'_>], marks: &[Mark], at: usize) -> usize {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    // "it would only go sour on me, I'll leave that"
    if marks[at].concept == C::Would && at > 0 && marks[at - 1].concept == C::That {
        let decided = |m: &Mark| {
            matches!(m.concept, C::Leave | C::Take)
                && matches!(word(m.from), "i" | "we")
                && word(m.from + 1) == "'ll"
        };
        let again = (at + 1..marks.len()).find(|&i| decided(&marks[i]));
        return again.unwrap_or(usize::MAX);
    }
    if marks[at].concept != C::Past {
        return usize::MAX;
    }
    // "the one I put in last month, it's new and white"
    let it_is = marks.get(at + 1).is_some_and(|m| {
        m.from <= marks[at].to + 1
            && matches!(word(marks[at].to), "it" | "that" | "this")
            && matches!(word(marks[at].to + 1), "is" | "'s")
    });
    if it_is {
        return at + 1;
    }
    (at + 1..marks.len())
        .find(|&i| {
            let next = marks[i].to;
            matches!(marks[i].concept, C::And | C::Then)
                && matches!(word(next), "we" | "i" | "this" | "that" | "it")
                && matches!(word(next + 1), "'re" | "'m" | "am" | "are" | "is" | "'s")
        })
        .unwrap_or(usize::MAX)
}

/// "second comb who can tell me how much is capped": the comb is met, whatever is said then.
fn named_first(tokens: &[Token<'_>], out: &[Mark], mark: Mark) -> usize {
    if !matches!(
        mark.concept,
        C::Advice | C::People | C::Would | C::If | C::Past
    ) {
        return 0;
    }
    let concept = |i: usize| out.get(i).map(|m| m.concept);
    let skip = usize::from(matches!(concept(0), Some(C::But | C::Then | C::And)));
    match (concept(skip), concept(skip + 1)) {
        (Some(C::Ord), Some(C::Comb | C::Bar)) | (Some(C::Bar | C::Comb), Some(C::Num)) => skip + 2,
        (Some(C::Ord), Some(C::Num))
            if out[skip + 1].to == out[skip + 1].from + 1
                && (out[skip + 1].value - 1.0).abs() < 1e-9 =>
        {
            skip + 2
        }
        (Some(C::Next), _) => skip + 1,
        // "seventeen, who can tell me": a bar, and then a question to those who look on
        (Some(C::Num), _)
            if mark.concept == C::Advice
                && out[skip].value > 6.0
                && tokens
                    .get(out[skip].to)
                    .is_some_and(|t| matches!(&*t.text, "who" | "what" | "how")) =>
        {
            skip + 1
        }
        _ => 0,
    }
}

/// "no, bar five, bar four was the other hive": what stands before the bar that is there.
fn another_bar_there(tokens: &[Token<'_>], out: &[Mark], mark: Mark) -> usize {
    let [before @ .., bar, number] = out else {
        return 0;
    };
    let was = tokens
        .get(number.to)
        .is_some_and(|t| matches!(&*t.text, "was" | "is" | "'s"));
    let there = mark.concept == C::Elsewhere && was && mark.from <= number.to + 3;
    let named = before.iter().any(|m| m.concept == C::Bar);
    if there && named && bar.concept == C::Bar && number.concept == C::Num {
        before.len()
    } else {
        0
    }
}

/// What stands before words of other people or times and is meant all the same: "left end eighteen
/// degrees bit of rain earlier", "nineteen degrees and himself is holding the smoker".
fn told_first(tokens: &[Token<'_>], out: &[Mark], clause: usize, mark: Mark) -> usize {
    let part = &out[clause..];
    let person = matches!(mark.concept, C::People | C::Elsewhere);
    let and = part
        .last()
        .is_some_and(|m| matches!(m.concept, C::And | C::Then) && m.to + 2 > mark.from);
    if person && and {
        return out.len();
    }
    let long_ago = (mark.from..mark.to).any(|i| {
        tokens
            .get(i)
            .is_some_and(|t| matches!(&*t.text, "last" | "ago" | "yesterday" | "used"))
    });
    if long_ago {
        return clause;
    }
    // the first words of a phrase that say the end or the temperature
    if clause > 0 {
        return clause;
    }
    let head = part
        .iter()
        .take_while(|m| {
            matches!(
                m.concept,
                C::Left
                    | C::Right
                    | C::End
                    | C::Num
                    | C::Degrees
                    | C::Fahrenheit
                    | C::Celsius
                    | C::And
            )
        })
        .count();
    let told = part[..head]
        .iter()
        .any(|m| matches!(m.concept, C::End | C::Degrees | C::Fahrenheit | C::Celsius));
    let begins = part.first().is_some_and(|m| {
        (0..m.from).all(|i| {
            tokens.get(i).is_some_and(|t| {
                matches!(
                    &*t.text,
                    "okay" | "right" | "so" | "the" | "it" | "'s" | "was" | "and"
                )
            })
        })
    });
    if told && begins { head } else { 0 }
}

/// "hold that", "mind your fingers": what is to be done now, and no rule.
fn order_to_a_helper(tokens: &[Token<'_>], mark: Mark) -> bool {
    tokens.get(mark.from).is_some_and(|t| {
        matches!(
            &*t.text,
            "hold" | "mind" | "stand" | "pass" | "watch" | "give" | "careful" | "hand"
        )
    })
}

/// "straight you could hang a door on it": told, and then likened.
fn how_straight(tokens: &[Token<'_>], out: &[Mark], mark: Mark) -> bool {
    let you = mark.from.checked_sub(1).filter(|&i| tokens[i].is("you"));
    let told = |m: &Mark| matches!(m.concept, C::StraightYes | C::FillFull | C::Thick);
    you.is_some_and(|you| out.last().is_some_and(|m| m.to == you && told(m)))
}

/// "in from the left where I put the board last week": what stands before the "where" is of now.
fn before_where(tokens: &[Token<'_>], out: &[Mark], clause: usize, mark: Mark) -> usize {
    let first = out.get(clause).map_or(mark.from, |m| m.from);
    let begins = |i: &usize| {
        tokens[*i].is("where")
            && tokens
                .get(i + 1)
                .is_some_and(|t| matches!(&*t.text, "i" | "we" | "they"))
    };
    let Some(at) = (first..mark.from).rev().find(begins) else {
        return 0;
    };
    let told = out[clause..].iter().take_while(|m| m.to <= at).count();
    clause + told
}

/// "it'll be better next week leave it where it is": a plain order, the last word of the phrase.
fn ordered_after(tokens: &[Token<'_>], marks: &[Mark], at: usize) -> usize {
    let order = |m: &Mark| {
        m.concept == C::Leave
            && tokens
                .get(m.from)
                .is_some_and(|t| matches!(&*t.text, "leave" | "put" | "back"))
            && tokens
                .get(m.from + 1)
                .is_some_and(|t| matches!(&*t.text, "it" | "that" | "this" | "him" | "in" | "you"))
    };
    let meant = |m: &Mark| !matches!(m.concept, C::If | C::Would | C::Future | C::Past | C::Take);
    let found = (at + 1..marks.len()).find(|&i| order(&marks[i]));
    found
        .filter(|&i| at > 0 && marks[at + 1..].iter().all(meant) && i + 3 >= marks.len())
        .unwrap_or(usize::MAX)
}

/// "I'll straighten it when it's warmer leave it": a plain order ends the clause of time.
fn until_told(tokens: &[Token<'_>], marks: &[Mark], at: usize) -> Option<usize> {
    let time = tokens
        .get(marks[at].from)
        .is_some_and(|t| matches!(&*t.text, "when" | "once" | "till" | "until"));
    let order = |m: &Mark| {
        m.concept == C::Leave
            && tokens.get(m.from).is_some_and(|t| {
                matches!(
                    &*t.text,
                    "leave" | "back" | "put" | "stays" | "it" | "that" | "pop" | "so"
                )
            })
    };
    let rest = &marks[at + 1..];
    let found = rest.iter().position(order)?;
    let would = rest[..found]
        .iter()
        .any(|m| matches!(m.concept, C::Would | C::Future | C::If | C::Take));
    (time && !would && found + 1 == rest.len()).then_some(at + 1 + found)
}

fn keeps(concept: C) -> bool {
    concept != C::Take
}

fn stop(mark: Mark) -> Mark {
    Mark {
        concept: C::Stop,
        value: 0.0,
        phrase: None,
        ..mark
    }
}

/// "if it were full I'd take it but it stays": what is said after the but is meant.
fn meant(marks: &[Mark], but: usize) -> bool {
    let rest = &marks[but + 1..];
    let decided = |m: &Mark| m.concept.is_verdict();
    let not_meant = |m: &Mark| {
        matches!(
            m.concept,
            C::Would | C::If | C::Future | C::Past | C::People | C::Advice | C::Elsewhere
        )
    };
    rest.iter().any(decided) && !rest.iter().any(not_meant)
}

/// The place after the clause that begins at `at`.
fn skip(marks: &[Mark], at: usize, whole: bool) -> usize {
    let mut i = at + 1;
    while i < marks.len() {
        let ends = match marks[i].concept {
            C::But => !whole || meant(marks, i),
            C::Stop => !whole || marks[i].value > 0.5,
            _ => false,
        };
        if ends {
            break;
        }
        i += 1;
    }
    i
}
