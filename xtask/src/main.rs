//! Chores of the workspace, in Rust so that they run wherever cargo does.

fn main() {}
