//! From a keeper's spoken notes to what was understood, phrase by phrase.
//!
//! Pure: no clock, no files. It never fails: what it does not understand gives no acts. Start with
//! [`Listener`]; [`Summary`] is the visit in the fields of the spoken test visits.
//!
//! A phrase goes through: words with their places in the text (`token`), recogniser's slips put
//! right (`slips`), runs of words to concepts of the lexicon (`lexicon`, `mark`), what is not about
//! this hive today left out (`scope`), then the small grammars, one concept a file.

pub mod act;
pub mod ask;
pub mod summary;
pub mod tap;
pub mod understood;
pub mod visit;
pub mod vocabulary;

// from what was heard to what the journal records
pub mod record;

mod concept;
mod corrections;
mod deciding;
mod ear;
mod lexicon;
mod listener;
mod loose;
mod mark;
mod no_brood;
mod no_verdict;
mod not_meant;
mod not_the_comb;
mod not_told;
mod numbers;
mod patterns;
mod same;
mod says;
mod scope;
mod set_down;
mod slips;
mod split;
mod together;
mod together_shares;
mod token;
mod verbs;
mod verdict_first;
mod walk;

mod added_up;
mod alone;
mod another_comb;
mod barred;
mod by_others;
mod cells;
mod cells_again;
mod closing;
mod closing_again;
mod decisions;
mod end_bar;
mod ends;
mod entrance;
mod except;
mod extent;
mod face_items;
mod faces;
mod faces_of_else;
mod feeding;
mod hands;
mod holds;
mod measures;
mod next_in_row;
mod next_spoken_of;
mod of_the_colony;
mod offers;
mod opening;
mod ordinals;
mod pairing;
mod queen;
mod queen_taken_back;
mod readings;
mod recap;
mod review;
mod row_names;
mod shares;
mod stand;
mod summing;
mod wash;
mod weather;
mod weighed;
mod worth_noting;

pub use act::{Act, Noted, Rule};
pub use ask::{Advice, Question};
pub use listener::{Heard, Listener, concepts_of, get_ready, hear_text};
pub use summary::Summary;
pub use tap::Tap;
pub use visit::{Comb, Visit};
