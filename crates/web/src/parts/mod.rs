//! What several screens share. One part a file.

pub mod afterwards;
pub mod changing;
pub mod empty;
pub mod fetched;
pub mod field;
pub mod gauge;
pub mod go;
pub mod icon;
pub mod link_state;
pub mod navigation;
pub mod notice;
pub mod pairing;
pub mod picture;
pub mod place_form;
pub mod screen;
pub mod section;
