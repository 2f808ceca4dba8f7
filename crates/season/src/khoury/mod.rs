//! The published models of recruitment and food, as given, each in its own file. Nothing of ours is
//! in them; what we add for seasons and winters stands in [`crate::engine`].

mod integrate;
pub mod y2011;
pub mod y2013;

pub use integrate::runge_kutta;

/// Share of foragers to hive bees at rest, J = F/H: the positive root of
/// `m J^2 + (m - alpha + sigma) J - alpha = 0`, the same in both models.
pub(crate) fn forager_ratio(alpha: f64, sigma: f64, m: f64) -> f64 {
    let half = alpha / m - sigma / m - 1.0;
    0.5 * (half + libm::sqrt(half * half + 4.0 * alpha / m))
}
