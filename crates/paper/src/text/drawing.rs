//! The drawing itself: rows of combs, wrapped at the edge of the page, then what the signs mean.

use std::collections::BTreeSet;

use hive::entry::{End, Hanging};

use super::columns::Column;
use super::fit::{cut, width, wrapped};
use super::{Span, TextDrawing, TextOptions, Tone};
use crate::section::{Drawn, DrawnBar, HiveSection};
use crate::{Kind, Mark, words};

/// Columns before the drawing for the name of each line.
const MARGIN: usize = 5;
/// Columns that an end wall takes.
const WALL: usize = 2;

/// The hive's section as drawn text: name and day, the row, a legend of what occurs in it, what
/// does not fit and what is not known.
pub fn hive(section: &HiveSection, options: TextOptions) -> TextDrawing {
    let mut drawing = TextDrawing::default();
    heading(section, options, &mut drawing);
    let numbers = section.bars().map(|bar| bar.number.max(bar.place));
    let digits = numbers.max().unwrap_or(0).to_string().len();
    let options = with_levels_for(section, options);
    let columns = Column::of_row(&section.pieces, digits, options);
    if columns.is_empty() {
        drawing.blank();
        drawing.push(vec![Span::new(words::NO_BARS, Tone::Warn)]);
        return drawing;
    }
    let rows = split(&columns, options.columns() - MARGIN - WALL - 1);
    let last = rows.len() - 1;
    for (i, row) in rows.into_iter().enumerate() {
        drawing.blank();
        Row {
            section,
            columns: row,
            options,
            first: i == 0,
            last: i == last,
        }
        .draw(&mut drawing);
    }
    drawing.blank();
    legend(section, options, &mut drawing);
    remarks(section, options, &mut drawing);
    drawing
}

/// At least one level for each band of the fullest face, so that all combs are drawn alike.
fn with_levels_for(section: &HiveSection, options: TextOptions) -> TextOptions {
    let faces = section.bars().filter_map(DrawnBar::faces).flatten();
    let bands = faces.map(|face| face.bands.len()).max().unwrap_or(0);
    TextOptions {
        levels: options.levels().max(bands),
        ..options
    }
}

fn heading(section: &HiveSection, options: TextOptions, drawing: &mut TextDrawing) {
    let name = cut(&words::name(section), options.columns() / 2);
    let beside = words::subtitle(section);
    let room = options.columns() - width(&name);
    let mut line = vec![Span::new(name, Tone::Strong)];
    if width(&beside) + 2 <= room {
        line.push(Span::new(format!("  {beside}"), Tone::Quiet));
        drawing.push(line);
    } else {
        drawing.push(line);
        push_wrapped(&beside, Tone::Quiet, options, drawing);
    }
}

fn push_wrapped(text: &str, tone: Tone, options: TextOptions, drawing: &mut TextDrawing) {
    for line in wrapped(text, options.columns()) {
        drawing.push(vec![Span::new(line, tone)]);
    }
}

/// The columns in as few rows as hold them, about equally long.
fn split(columns: &[Column], room: usize) -> Vec<&[Column]> {
    let whole: usize = columns.iter().map(|column| column.width).sum();
    let rows = whole.div_ceil(room).max(1);
    let aim = whole.div_ceil(rows);
    let mut split = Vec::new();
    let (mut from, mut used) = (0, 0);
    for (i, column) in columns.iter().enumerate() {
        let next = used + column.width;
        if i > from && (next > room || used >= aim) {
            split.push(&columns[from..i]);
            (from, used) = (i, 0);
        }
        used += column.width;
    }
    split.push(&columns[from..]);
    split
}

/// One row of the drawing.
struct Row<'a> {
    section: &'a HiveSection,
    columns: &'a [Column],
    options: TextOptions,
    first: bool,
    last: bool,
}

impl Row<'_> {
    fn draw(&self, drawing: &mut TextDrawing) {
        let any = |text: fn(&Column) -> &str| self.columns.iter().any(|c| !text(c).is_empty());
        drawing.push(self.words("bar", |c| &c.number, Tone::Strong));
        drawing.push(self.walled(|c| vec![Span::new(c.wood.as_str(), Tone::Wood)]));
        let levels = self.columns.iter().map(|c| c.levels.len()).max();
        for level in 0..levels.unwrap_or(0).max(self.options.levels()) {
            let at = |c: &Column| c.levels.get(level).cloned().unwrap_or_default();
            drawing.push(self.walled(at));
        }
        drawing.push(self.floor());
        if self.section.numbers_differ_from_places() {
            drawing.push(self.words("place", |c| &c.place, Tone::Quiet));
        }
        if self.columns.iter().any(|c| c.mark.is_some()) {
            drawing.push(self.line("mark", |c| c.mark.iter().cloned().collect()));
        }
        if any(|c| &c.oddity) {
            drawing.push(self.words("note", |c| &c.oddity, Tone::Warn));
        }
    }

    fn words(&self, name: &str, text: impl Fn(&Column) -> &str, tone: Tone) -> Vec<Span> {
        self.line(name, |c| vec![Span::new(text(c), tone)])
    }

    fn line(&self, name: &str, spans: impl Fn(&Column) -> Vec<Span>) -> Vec<Span> {
        let margin = format!("{name:<w$}", w = MARGIN + WALL);
        let mut line = vec![Span::new(margin, Tone::Quiet)];
        line.extend(self.columns.iter().flat_map(|c| c.cell(&spans(c))));
        line
    }

    fn walled(&self, spans: impl Fn(&Column) -> Vec<Span>) -> Vec<Span> {
        let mut line = self.line("", spans);
        let margin = format!("{:w$}{} ", "", self.wall(End::Left), w = MARGIN);
        line[0] = Span::new(margin, Tone::Wood);
        line.push(Span::new(self.wall(End::Right), Tone::Wood));
        line
    }

    /// The end wall beside this row: none where the row goes on, none at an open end.
    fn wall(&self, end: End) -> &'static str {
        let at_end = match end {
            End::Left => self.first,
            End::Right => self.last,
        };
        if !at_end || self.section.opened.contains(&end) {
            " "
        } else if self.options.ascii {
            "|"
        } else {
            "█"
        }
    }

    fn floor(&self) -> Vec<Span> {
        let long: usize = self.columns.iter().map(|c| c.width).sum();
        let glyph = if self.options.ascii { "-" } else { "─" };
        let text = format!("{:w$}{}", "", glyph.repeat(long + WALL + 1), w = MARGIN);
        vec![Span::new(text, Tone::Wood)]
    }
}

fn legend(section: &HiveSection, options: TextOptions, drawing: &mut TextDrawing) {
    let mut items: Vec<Vec<Span>> = Vec::new();
    let mut item = |sign: String, tone: Tone, text: &str| {
        let text = Span::new(format!(" {text}"), Tone::Plain);
        items.push(vec![Span::new(sign, tone), text]);
    };
    let faces: Vec<_> = section.bars().filter_map(DrawnBar::faces).collect();
    let kinds: BTreeSet<Kind> = faces
        .iter()
        .flatten()
        .flat_map(|face| face.bands.iter().map(|band| band.kind))
        .collect();
    for kind in kinds {
        let glyph = if options.ascii {
            kind.ascii()
        } else {
            kind.glyph()
        };
        item(glyph.to_string(), Tone::Comb(kind), words::kind(kind));
    }
    let hangs = |hanging| section.bars().any(|bar| bar.hanging == hanging);
    let (strip, board, shim) = if options.ascii {
        ("\"\"", "|", "'")
    } else {
        ("▔▔", "┃", "╵")
    };
    if hangs(Hanging::Strip) {
        item(strip.to_owned(), Tone::Wood, words::STRIP);
    }
    if hangs(Hanging::Nothing) {
        item("--".to_owned(), Tone::Wood, words::NOTHING);
    }
    let has = |test: fn(&Drawn) -> bool| section.pieces.iter().any(test);
    if has(|piece| matches!(piece, Drawn::Follower { .. })) {
        item(board.to_owned(), Tone::Wood, words::FOLLOWER);
    }
    if has(|piece| matches!(piece, Drawn::Shim { .. })) {
        item(shim.to_owned(), Tone::Wood, words::SHIM);
    }
    let marks: BTreeSet<Mark> = section.bars().filter_map(|bar| bar.mark).collect();
    for mark in marks {
        item(
            words::mark_letter(mark).to_string(),
            Tone::Mark(mark),
            words::mark(mark),
        );
    }
    if section.bars().any(DrawnBar::is_crossed) {
        item("x".to_owned(), Tone::Warn, words::CROSSED);
    }
    if section.bars().any(DrawnBar::is_attached) {
        item("w".to_owned(), Tone::Warn, words::ATTACHED);
    }
    if !faces.is_empty() {
        let text =
            "Each comb: left column its left-facing side, right column its right-facing side.";
        push_wrapped(text, Tone::Quiet, options, drawing);
    }
    flow(items, options, drawing);
}

/// Items side by side, as many as a line holds.
fn flow(items: Vec<Vec<Span>>, options: TextOptions, drawing: &mut TextDrawing) {
    let mut line: Vec<Span> = Vec::new();
    let wide = |spans: &[Span]| spans.iter().map(|s| width(&s.text)).sum::<usize>();
    for item in items {
        if !line.is_empty() && wide(&line) + 3 + wide(&item) > options.columns() {
            drawing.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(Span::new("   ", Tone::Plain));
        }
        line.extend(item);
    }
    if !line.is_empty() {
        drawing.push(line);
    }
}

fn remarks(section: &HiveSection, options: TextOptions, drawing: &mut TextDrawing) {
    let said = [
        words::not_looked_at(section),
        words::gap(section.free_length(), options.told_in),
    ];
    for text in said.into_iter().flatten() {
        push_wrapped(&text, Tone::Warn, options, drawing);
    }
}
