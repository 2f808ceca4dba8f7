//! The classic fourth-order Runge-Kutta method with a fixed step.

/// State after `days`, from `start`, with steps of `step` days (the last one shorter).
/// Meant for smooth models of a few variables; the check against a general solver is in
/// `tests/khoury.rs`.
pub fn runge_kutta<const N: usize>(
    rates: impl Fn(&[f64; N]) -> [f64; N],
    start: [f64; N],
    days: f64,
    step: f64,
) -> [f64; N] {
    let along = |from: &[f64; N], slope: &[f64; N], by: f64| -> [f64; N] {
        std::array::from_fn(|i| from[i] + by * slope[i])
    };
    let mut state = start;
    let mut gone = 0.0;
    while gone < days - 1e-12 {
        let h = step.min(days - gone);
        let k1 = rates(&state);
        let k2 = rates(&along(&state, &k1, 0.5 * h));
        let k3 = rates(&along(&state, &k2, 0.5 * h));
        let k4 = rates(&along(&state, &k3, h));
        state = std::array::from_fn(|i| {
            state[i] + h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i])
        });
        gone += h;
    }
    state
}
