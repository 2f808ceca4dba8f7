//! What several screens share. One part a file.

pub mod empty;
pub mod go;
pub mod icon;
pub mod link_state;
pub mod navigation;
pub mod notice;
pub mod picture;
pub mod screen;
pub mod section;
