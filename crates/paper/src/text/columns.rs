//! One piece of the row as a few columns of text.

use crate::face::FacePicture;
use crate::section::{Drawn, DrawnBar};
use crate::text::{Span, TextOptions, Tone};
use crate::words;
use hive::entry::Hanging;

/// One piece of the row: what stands in each line of the drawing.
#[derive(Debug, Clone)]
pub(crate) struct Column {
    /// Columns of text that it takes, the gap to the next piece included.
    pub(crate) width: usize,
    pub(crate) number: String,
    pub(crate) place: String,
    pub(crate) wood: String,
    /// From the bar down.
    pub(crate) levels: Vec<Vec<Span>>,
    pub(crate) mark: Option<Span>,
    pub(crate) oddity: String,
}

/// Levels of a strip of comb left on a bar.
const STRIP_LEVELS: usize = 1;

impl Column {
    /// `digits` is the widest number of the row.
    fn of(piece: &Drawn, digits: usize, options: TextOptions) -> Self {
        match piece {
            Drawn::Bar(bar) => Self::of_bar(bar, digits.max(2), options),
            Drawn::Follower { .. } => Self::board(if options.ascii { "|" } else { "┃" }, options),
            Drawn::Shim { .. } => Self::shim(if options.ascii { "'" } else { "╵" }, options),
        }
    }

    /// All pieces of a row, left end first. Three or more empty bars with running numbers, such as
    /// lie beyond a follower board, are drawn as one.
    pub(crate) fn of_row(pieces: &[Drawn], digits: usize, options: TextOptions) -> Vec<Self> {
        let mut columns = Vec::with_capacity(pieces.len());
        let mut rest = pieces;
        while let Some((first, after)) = rest.split_first() {
            let run = &rest[..run_of_empty_bars(rest)];
            let ends = run.first().zip(run.last());
            let ends = ends.and_then(|(from, to)| from.bar().zip(to.bar()));
            if let Some((from, to)) = ends.filter(|_| run.len() >= LEAST_RUN) {
                columns.push(Self::of_run(from, to));
                rest = &rest[run.len()..];
            } else {
                columns.push(Self::of(first, digits, options));
                rest = after;
            }
        }
        columns
    }

    fn of_run(from: &DrawnBar, to: &DrawnBar) -> Self {
        let number = format!("{}..{}", from.number, to.number);
        let place = format!("{}..{}", from.place, to.place);
        let cell = number.len().max(place.len());
        Self {
            width: cell + 1,
            number,
            place,
            wood: "-".repeat(cell),
            levels: Vec::new(),
            mark: None,
            oddity: String::new(),
        }
    }

    fn of_bar(bar: &DrawnBar, cell: usize, options: TextOptions) -> Self {
        let wood = match (bar.hanging, options.ascii) {
            (Hanging::Nothing, _) => "--",
            (_, true) => "==",
            (_, false) => "▀▀",
        };
        let mut oddity = String::new();
        if bar.is_crossed() {
            oddity.push('x');
        }
        if bar.is_attached() {
            oddity.push('w');
        }
        Self {
            width: cell + 1,
            number: bar.number.to_string(),
            place: bar.place.to_string(),
            wood: wood.to_owned(),
            levels: bar_levels(bar, options),
            mark: bar
                .mark
                .map(|mark| Span::new(words::mark_letter(mark).to_string(), Tone::Mark(mark))),
            oddity,
        }
    }

    fn board(glyph: &str, options: TextOptions) -> Self {
        Self {
            width: 2,
            number: String::new(),
            place: String::new(),
            wood: glyph.to_owned(),
            levels: vec![vec![Span::new(glyph, Tone::Wood)]; options.levels()],
            mark: None,
            oddity: String::new(),
        }
    }

    fn shim(glyph: &str, options: TextOptions) -> Self {
        Self {
            levels: Vec::new(),
            ..Self::board(glyph, options)
        }
    }

    /// A piece of one line in this column, to the right edge of its cell, then the gap.
    pub(crate) fn cell(&self, spans: &[Span]) -> Vec<Span> {
        let cell = self.width - 1;
        let used: usize = spans.iter().map(|s| super::fit::width(&s.text)).sum();
        let mut line = Vec::new();
        if used < cell {
            line.push(Span::new(" ".repeat(cell - used), Tone::Plain));
        }
        line.extend(spans.iter().cloned());
        line.push(Span::new(" ", Tone::Plain));
        line
    }
}

/// Fewer empty bars than this are drawn one by one.
const LEAST_RUN: usize = 3;

/// How many empty bars without a mark begin these pieces, their numbers rising or falling by one.
fn run_of_empty_bars(pieces: &[Drawn]) -> usize {
    let empty = |piece: &Drawn| {
        let bar = piece.bar()?;
        let plain = bar.hanging == Hanging::Nothing && bar.mark.is_none() && !bar.aside;
        plain.then_some(i64::from(bar.number))
    };
    let numbers: Vec<i64> = pieces.iter().map_while(empty).collect();
    let step = match numbers.as_slice() {
        [first, second, ..] if (first - second).abs() == 1 => second - first,
        short => return short.len().min(1),
    };
    let steady = numbers
        .windows(2)
        .take_while(|pair| pair[1] - pair[0] == step);
    steady.count() + 1
}

fn bar_levels(bar: &DrawnBar, options: TextOptions) -> Vec<Vec<Span>> {
    let Some(faces) = bar.faces() else {
        let strip = if options.ascii { "\"\"" } else { "▔▔" };
        let levels = match bar.hanging {
            Hanging::Strip => STRIP_LEVELS,
            Hanging::Comb | Hanging::Nothing => 0,
        };
        return vec![vec![Span::new(strip, Tone::Wood)]; levels];
    };
    let sides = faces.map(|face| face_levels(&face, options));
    (0..sides[0].len().max(sides[1].len()))
        .map(|level| {
            let side = |side: &Vec<Span>| side.get(level).cloned();
            sides.iter().filter_map(side).collect()
        })
        .collect()
}

/// The glyphs of one face from the bar down: every band gets its part of the levels, and at least
/// one while there is room.
fn face_levels(face: &FacePicture, options: TextOptions) -> Vec<Span> {
    let built = (face.built.get() * options.levels() as f64 + 0.5) as usize;
    let levels = built.clamp(1, options.levels()).max(face.bands.len());
    let shares: Vec<f64> = face.bands.iter().map(|band| band.share.get()).collect();
    let parts = parted(&shares, levels);
    let glyphs = face.bands.iter().zip(parts).flat_map(|(band, part)| {
        let glyph = if options.ascii {
            band.kind.ascii()
        } else {
            band.kind.glyph()
        };
        std::iter::repeat_n(Span::new(glyph, Tone::Comb(band.kind)), part)
    });
    glyphs.collect()
}

/// Whole levels for shares that sum to 1: one each, the rest by the largest remainder.
fn parted(shares: &[f64], levels: usize) -> Vec<usize> {
    let mut parts = vec![1; shares.len()];
    for _ in shares.len()..levels {
        let want = |i: usize| shares[i] * levels as f64 - parts[i] as f64;
        let next = (0..shares.len()).max_by(|a, b| want(*a).total_cmp(&want(*b)).then(b.cmp(a)));
        if let Some(next) = next {
            parts[next] += 1;
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_band_gets_a_level_and_no_level_is_lost() {
        assert_eq!(parted(&[0.02, 0.64, 0.34], 6), [1, 3, 2]);
        assert_eq!(parted(&[1.0], 6), [6]);
        assert_eq!(parted(&[0.5, 0.5], 2), [1, 1]);
    }
}
