//! A short table, one bar a line or a few.

use comb::ToldIn;

use super::fit::{padded, wrapped};
use super::{Span, TextDrawing, TextOptions, Tone};
use crate::section::{DrawnBar, HiveSection};
use crate::words;

/// What each bar holds in words, left end first: number, left-facing side, right-facing side, and
/// what else was said of the comb.
pub fn bar_table(section: &HiveSection, options: TextOptions) -> TextDrawing {
    let columns = Columns::within(options.columns(), section);
    let mut table = TextDrawing::default();
    let head = ["bar", "left-facing", "right-facing", "comb"].map(str::to_owned);
    columns.push(&head, Tone::Quiet, &mut table);
    for bar in section.bars() {
        columns.push(&cells(bar, options.told_in), Tone::Plain, &mut table);
    }
    table
}

fn cells(bar: &DrawnBar, told_in: ToldIn) -> [String; 4] {
    let number = bar.number.to_string();
    if !bar.has_comb() {
        let mark = bar.mark.map(words::mark).unwrap_or_default();
        return [
            number,
            words::hanging(bar.hanging).to_owned(),
            String::new(),
            mark.to_owned(),
        ];
    }
    let mut comb: Vec<String> = Vec::new();
    comb.extend(bar.mark.map(|mark| words::mark(mark).to_owned()));
    comb.extend(words::whole_comb(&bar.contents, told_in));
    comb.extend(
        bar.seen
            .map(|day| format!("seen {}", words::short_date(day))),
    );
    [
        number,
        words::face(&bar.contents.left, &bar.contents),
        words::face(&bar.contents.right, &bar.contents),
        comb.join(", "),
    ]
}

/// Widths of the four columns.
struct Columns([usize; 4]);

/// Between two columns.
const BETWEEN: usize = 2;

impl Columns {
    fn within(columns: usize, section: &HiveSection) -> Self {
        let numbers = section.bars().map(|bar| bar.number.to_string().len());
        let number = numbers.max().unwrap_or(0).max(3);
        let room = columns - number - 3 * BETWEEN;
        let face = room / 3;
        Self([number, face, face, room - 2 * face])
    }

    fn push(&self, cells: &[String; 4], tone: Tone, table: &mut TextDrawing) {
        let wraps: Vec<Vec<String>> = cells
            .iter()
            .zip(self.0)
            .map(|(cell, width)| wrapped(cell, width))
            .collect();
        let lines = wraps.iter().map(Vec::len).max().unwrap_or(0);
        for i in 0..lines {
            let at = |c: usize| wraps[c].get(i).map_or("", String::as_str);
            let number = format!("{:>w$}", at(0), w = self.0[0]);
            let mut line = vec![Span::new(number, Tone::Strong)];
            for c in 1..4 {
                let text = format!("{:BETWEEN$}{}", "", padded(at(c), self.0[c]));
                line.push(Span::new(text, tone));
            }
            table.push(line);
        }
    }
}
