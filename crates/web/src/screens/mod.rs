//! One file a screen.

pub mod apiary;
pub mod at_hive;
pub mod closing_up;
pub mod desk;
pub mod hive;
pub mod honey_house;
pub mod new_hive;
pub mod records;
pub mod season;
pub mod settings;
pub mod unknown;
pub mod visit;
