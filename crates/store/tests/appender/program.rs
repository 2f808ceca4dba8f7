//! The writer that the tests kill.

fn main() {}
