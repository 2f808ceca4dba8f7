//! A comb's outline cut into bands whose AREAS are the shares.

use comb::{Length, Outline, Share};

use crate::face::FacePicture;

/// Heights at which the outline is measured.
const STEPS: usize = 96;

/// The outline of a comb, perhaps drawn only in part; lengths in mm.
#[derive(Debug, Clone)]
pub(crate) struct CombShape {
    depth: f64,
    /// Half widths at equal steps of depth, the last at the lowest point.
    half: Vec<f64>,
    /// Area above each step, as a share of the whole.
    above: Vec<f64>,
    /// How far a drawn side may be off, as a part of half the top width.
    tolerance: f64,
}

impl CombShape {
    /// The outline as it is, seen square to the face.
    pub(crate) fn of(outline: &Outline, built: Share) -> Self {
        Self::with(outline, built, FINE, |part| part)
    }

    /// The outline as it is drawn in the row, where it is a tenth as wide: with its full taper the
    /// lower half would be a needle in which nothing can be read. Depths are true, the taper is the
    /// square root of the true one, and bands are shares of the area that is drawn.
    pub(crate) fn in_row(outline: &Outline, built: Share) -> Self {
        Self::with(outline, built, COARSE, libm::sqrt)
    }

    fn with(outline: &Outline, built: Share, tolerance: f64, taper: impl Fn(f64) -> f64) -> Self {
        let scale = libm::sqrt(built.get());
        let full = outline.depth().to_mm();
        let top = outline.top_width() / 2.0;
        let at = |i: usize| full * i as f64 / STEPS as f64;
        let half: Vec<f64> = (0..=STEPS)
            .map(|i| taper(outline.half_width_at(Length::mm(at(i))) / top) * top.to_mm() * scale)
            .collect();
        let mut above = vec![0.0];
        let mut sum = 0.0;
        for pair in half.windows(2) {
            sum += f64::midpoint(pair[0], pair[1]);
            above.push(sum);
        }
        for part in &mut above {
            *part /= sum;
        }
        Self {
            depth: full * scale,
            half,
            above,
            tolerance,
        }
    }

    pub(crate) const fn depth(&self) -> f64 {
        self.depth
    }

    /// Half the width where it hangs from the bar.
    pub(crate) fn top_half(&self) -> f64 {
        self.half[0]
    }

    pub(crate) fn half_at(&self, y: f64) -> f64 {
        let at = (y / self.depth).clamp(0.0, 1.0) * STEPS as f64;
        let i = (at as usize).min(STEPS - 1);
        let part = at - i as f64;
        self.half[i] * (1.0 - part) + self.half[i + 1] * part
    }

    /// The depth above which this share of the area lies.
    pub(crate) fn depth_of(&self, share: f64) -> f64 {
        let i = self.above.partition_point(|above| *above < share);
        if i == 0 {
            return 0.0;
        }
        let i = i.min(STEPS);
        let (low, high) = (self.above[i - 1], self.above[i]);
        let part = if high > low {
            (share - low) / (high - low)
        } else {
            0.0
        };
        self.depth * ((i - 1) as f64 + part.clamp(0.0, 1.0)) / STEPS as f64
    }

    /// Lower edges of a face's bands as level lines, mm under the bar, the last at the lowest point.
    pub(crate) fn edges(&self, face: &FacePicture) -> Vec<f64> {
        sums(face).map(|sum| self.depth_of(sum)).collect()
    }

    /// Lower edges of a face's bands as arches, the way bees store around brood: at the middle; at
    /// the side `bow` deeper, as the square of the way out. Areas are kept.
    pub(crate) fn arches(&self, face: &FacePicture, bow: f64) -> Vec<f64> {
        let columns = self.columns();
        let whole: f64 = columns.iter().map(|c| c.1).sum();
        let above = |middle: f64| -> f64 {
            let part = |(out, low): &(f64, f64)| (middle + bow * out * out).clamp(0.0, *low);
            columns.iter().map(part).sum::<f64>() / whole
        };
        let edge = |sum: f64| {
            let (mut low, mut high) = (-bow, self.depth);
            for _ in 0..40 {
                let middle = f64::midpoint(low, high);
                if above(middle) < sum {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            low
        };
        sums(face).map(edge).collect()
    }

    /// Columns of equal width from the middle out: the way out as a part of half the top width, and
    /// how far down the comb reaches there.
    fn columns(&self) -> Vec<(f64, f64)> {
        (0..STEPS)
            .map(|i| {
                let out = (i as f64 + 0.5) / STEPS as f64;
                let x = out * self.top_half();
                let reaches = self.half.partition_point(|half| *half >= x);
                let low = self.depth * reaches.saturating_sub(1) as f64 / STEPS as f64;
                (out, low)
            })
            .collect()
    }

    /// Points of one side between two depths, from the upper down; x is half the width. Points that
    /// a straight line through their neighbours would miss by less than the tolerance are
    /// left out.
    pub(crate) fn side(&self, from: f64, to: f64) -> Vec<(f64, f64)> {
        let (from, to) = (from.clamp(0.0, self.depth), to.clamp(0.0, self.depth));
        let keep = self.top_half() * self.tolerance;
        let mut points = vec![(self.half_at(from), from)];
        let steps: Vec<f64> = (1..STEPS)
            .map(|i| self.depth * i as f64 / STEPS as f64)
            .filter(|y| *y > from && *y < to)
            .chain(std::iter::once(to))
            .collect();
        let mut passed: Vec<(f64, f64)> = Vec::new();
        for y in steps {
            let next = (self.half_at(y), y);
            let start = points[points.len() - 1];
            if passed.iter().any(|p| off_line(*p, start, next) > keep) {
                points.extend(passed.last());
                passed.clear();
            }
            passed.push(next);
        }
        points.extend(passed.last());
        points
    }
}

/// Tolerance of a comb that fills half a screen, 0.4 px of 200.
const FINE: f64 = 0.002;
/// Tolerance of a comb in the row, 0.2 px of 20.
const COARSE: f64 = 0.01;

/// How far a point is from the line between two others, along x.
fn off_line(p: (f64, f64), from: (f64, f64), to: (f64, f64)) -> f64 {
    let part = (p.1 - from.1) / (to.1 - from.1);
    (from.0 + (to.0 - from.0) * part - p.0).abs()
}

fn sums(face: &FacePicture) -> impl Iterator<Item = f64> + '_ {
    let mut sum = 0.0;
    face.bands.iter().map(move |band| {
        sum += band.share.get();
        sum
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use comb::Body;

    #[test]
    fn half_the_area_lies_above_its_depth() {
        let shape = CombShape::of(&Outline::of(&Body::default()), Share::ONE);
        let y = shape.depth_of(0.5);
        let area = |from: f64, to: f64| -> f64 {
            let steps = 1000;
            let h = (to - from) / f64::from(steps);
            (0..steps)
                .map(|i| shape.half_at(from + (f64::from(i) + 0.5) * h) * h)
                .sum()
        };
        let part = area(0.0, y) / area(0.0, shape.depth());
        assert!((part - 0.5).abs() < 0.005, "{part}");
        assert!(shape.depth_of(0.0).abs() < 1e-9);
        assert!((shape.depth_of(1.0) - shape.depth()).abs() < 1e-9);
    }
}
