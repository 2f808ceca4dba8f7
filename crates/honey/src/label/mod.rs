//! What a label must say where it is sold, in which letters. Facts and words only; drawing is
//! another crate's work.
//!
//! All of it was collected in November 2026 and is shown with
//! [`crate::region::CHECK_WITH_AUTHORITY`]. Where nothing is known for a region the answer is an
//! error, never another region's rule.

pub mod draft;
pub mod fields;
pub mod lettering;
pub mod words;

pub use draft::{Given, LabelDraft, Line, draft};
pub use fields::{Duty, Field, FieldRule, rules};
