//! What treatments and signs of disease mean for a hive: which honey is withheld and why, what must
//! be minded, what falls due.
//!
//! Pure, over the folded hive. It never knows a dose, nor a product's period: the label does, and
//! the keeper copies it in. What must be reported, the local authority decides. Start with
//! [`withheld`], then [`substance`] and [`condition`] for what the reference knows.

pub mod condition;
pub mod substance;

pub mod due;
pub mod mind;
pub mod told;
pub mod withheld;
