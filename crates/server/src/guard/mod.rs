//! What stands before every request: who asks, how often, how much, and what the browser is told.

pub(crate) mod headers;
pub(crate) mod limits;
pub(crate) mod rate;
pub(crate) mod who;
