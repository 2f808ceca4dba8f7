//! Papers as PDF: layout in millimetres of our own, written by krilla, with a shipped typeface.
//!
//! Pure as the rest of this crate: the same input gives the same bytes. Start with
//! [`label::sheets`] or [`Flow`], then [`write()`]. Behind the feature `pdf`, so that the app in the
//! browser stays small.

pub mod chart;
pub mod code;
pub mod error;
pub mod flow;
pub mod grid;
pub mod label;
pub mod page;
mod picture;
pub mod typeface;
mod write;

pub use chart::Bars;
pub use error::PaperError;
pub use flow::{Column, Flow, Print};
pub use grid::{Grid, SHEETS};
pub use label::{Label, LabelLine, Printing, Role};
pub use page::{Page, Paper};
pub use typeface::{Typeface, Weight};
pub use write::{About, write};
