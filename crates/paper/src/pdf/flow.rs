//! Running text, tables and pictures down the page and on to the next.

use super::chart::Bars;
use super::error::PaperError;
use super::page::{BLACK, FAINT, Hold, Mark, Page, Paper, QUIET};
use super::picture;
use super::typeface::{Typeface, Weight};

/// Letter sizes and margins, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Print {
    /// The sheet.
    pub paper: Paper,
    /// Free edge all round.
    pub margin: f64,
    /// Letter size (em) of running text.
    pub text: f64,
}

impl Print {
    /// For the shelf: 9.5 pt.
    pub const fn small(paper: Paper) -> Self {
        Self {
            paper,
            margin: 16.0,
            text: 3.35,
        }
    }

    /// For the yard, read at arm's length through a veil: 14 pt.
    pub const fn large(paper: Paper) -> Self {
        Self {
            paper,
            margin: 14.0,
            text: 4.95,
        }
    }
}

/// A table's column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its head.
    pub head: String,
    /// Its width as a share of all.
    pub share: f64,
    /// Figures stand at its right edge.
    pub figures: bool,
}

impl Column {
    /// A column of words.
    pub fn words(head: impl Into<String>, share: f64) -> Self {
        Self {
            head: head.into(),
            share,
            figures: false,
        }
    }

    /// A column of figures.
    pub fn figures(head: impl Into<String>, share: f64) -> Self {
        Self {
            figures: true,
            ..Self::words(head, share)
        }
    }
}

/// From line to line against the letter size.
const LEADING: f64 = 1.32;
/// Between a table's columns, against the letter size.
const GUTTER: f64 = 0.9;

/// Pages being filled from the top.
pub struct Flow<'a> {
    print: Print,
    face: &'a Typeface,
    pages: Vec<Page>,
    y: f64,
    foot: String,
}

impl<'a> Flow<'a> {
    /// A first empty page; `foot` stands under every page beside its number.
    pub fn new(print: Print, foot: impl Into<String>, face: &'a Typeface) -> Self {
        Self {
            print,
            face,
            pages: vec![Page::new(print.paper)],
            y: print.margin,
            foot: foot.into(),
        }
    }

    /// Width between the margins.
    pub fn width(&self) -> f64 {
        self.print.paper.width - 2.0 * self.print.margin
    }

    /// Height left on this page.
    pub fn left(&self) -> f64 {
        self.bottom() - self.y
    }

    fn bottom(&self) -> f64 {
        self.print.paper.height - self.print.margin - 5.0
    }

    fn page(&mut self) -> &mut Page {
        if self.pages.is_empty() {
            self.pages.push(Page::new(self.print.paper));
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// A new page.
    pub fn turn(&mut self) {
        self.pages.push(Page::new(self.print.paper));
        self.y = self.print.margin;
    }

    /// A new page unless so much is left.
    pub fn need(&mut self, height: f64) {
        if self.left() < height && self.y > self.print.margin {
            self.turn();
        }
    }

    /// Free space, against the letter size.
    pub fn gap(&mut self, ems: f64) {
        if self.y > self.print.margin {
            self.y += self.print.text * ems;
        }
    }

    /// The paper's title, on as many lines as it needs; what is beside it stands under it where there is no room.
    pub fn title(&mut self, text: &str, beside: &str) {
        let (size, small) = (self.print.text * 1.9, self.print.text);
        let (left, right) = (
            self.print.margin,
            self.print.paper.width - self.print.margin,
        );
        let room = self.width();
        let lines = self.face.lines(text, size, Weight::Strong, room);
        let last = lines.last().map_or("", String::as_str);
        let used = self.face.width(last, size, Weight::Strong);
        let fits = used + size + self.face.width(beside, small, Weight::Regular) <= room;
        let mut y = self.y + size * 0.9;
        for (nth, line) in lines.iter().enumerate() {
            y += if nth == 0 { 0.0 } else { size * 1.15 };
            self.page().text((left, y), size, Weight::Strong, line);
        }
        let beside = if fits {
            y -= small * LEADING;
            vec![beside.to_owned()]
        } else {
            self.face.lines(beside, small, Weight::Regular, room)
        };
        for line in beside {
            y += small * LEADING;
            let (weight, hold) = (Weight::Regular, Hold::Right);
            self.page()
                .held((right, y), small, weight, hold, QUIET, line);
        }
        self.y = y + size * 0.35;
        let (y, page) = (self.y, self.page());
        page.rule((left, y), (right, y), 0.4, BLACK);
        self.y += small * 0.8;
    }

    /// A heading; it is never the last thing on a page.
    pub fn heading(&mut self, text: &str) {
        let size = self.print.text * 1.3;
        self.gap(0.9);
        self.need(size * LEADING + self.print.text * LEADING * 3.0);
        let at = (self.print.margin, self.y + size * 0.95);
        self.page().text(at, size, Weight::Strong, text);
        self.y += size * LEADING + self.print.text * 0.2;
    }

    /// A paragraph.
    pub fn paragraph(&mut self, text: &str) {
        self.set(text, self.print.text, Weight::Regular, 0.0);
    }

    /// A paragraph in strong letters.
    pub fn strong(&mut self, text: &str) {
        self.set(text, self.print.text, Weight::Strong, 0.0);
    }

    /// A paragraph in smaller letters.
    pub fn small(&mut self, text: &str) {
        self.set(text, self.print.text * 0.85, Weight::Regular, 0.0);
    }

    /// One of a list, with a box to tick.
    pub fn tick(&mut self, text: &str) {
        let size = self.print.text;
        let inset = size * 1.5;
        let lines = self
            .face
            .lines(text, size, Weight::Regular, self.width() - inset);
        self.need(size * LEADING * lines.len() as f64);
        let tall = size * 0.75;
        let at = (self.print.margin, self.y + size * 0.22);
        self.page().frame(at, (tall, tall), 0.3, BLACK);
        self.lay(&lines, size, Weight::Regular, inset);
    }

    fn set(&mut self, text: &str, size: f64, weight: Weight, inset: f64) {
        let lines = self.face.lines(text, size, weight, self.width() - inset);
        self.lay(&lines, size, weight, inset);
        self.y += size * 0.25;
    }

    fn lay(&mut self, lines: &[String], size: f64, weight: Weight, inset: f64) {
        for line in lines {
            self.need(size * LEADING);
            let at = (self.print.margin + inset, self.y + size * 0.95);
            self.page().text(at, size, weight, line);
            self.y += size * LEADING;
        }
    }

    /// A name with its words beside it, in two columns.
    pub fn pair(&mut self, name: &str, words: &str) {
        let size = self.print.text;
        let inset = self.width() * 0.27;
        let lines = self
            .face
            .lines(words, size, Weight::Regular, self.width() - inset);
        self.need(size * LEADING * lines.len().min(4) as f64);
        let at = (self.print.margin, self.y + size * 0.95);
        self.page().text(at, size, Weight::Strong, name);
        self.lay(&lines, size, Weight::Regular, inset);
    }

    /// Ruled lines to write on by hand.
    pub fn write_lines(&mut self, count: usize) {
        let step = (self.print.text * 2.0).max(8.5);
        for _ in 0..count {
            self.need(step);
            self.y += step;
            let (left, right) = (
                self.print.margin,
                self.print.paper.width - self.print.margin,
            );
            let y = self.y;
            self.page().rule((left, y), (right, y), 0.15, FAINT);
        }
        self.y += 1.0;
    }

    /// Ruled lines down to the foot of the page; on a new one where fewer than `least` fit.
    pub fn write_rest(&mut self, least: usize) {
        let step = (self.print.text * 2.0).max(8.5);
        let fits = |flow: &Self| ((flow.left() - 2.0) / step).max(0.0) as usize;
        if fits(self) < least {
            self.turn();
        }
        self.write_lines(fits(self));
    }

    /// A picture of this crate, over the whole width or narrower to fit `most` mm of height.
    ///
    /// # Errors
    /// [`PaperError::Picture`].
    pub fn picture(&mut self, svg: String, most: f64) -> Result<(), PaperError> {
        let mut width = self.width();
        let mut height = picture::height(&svg, width)?;
        if height > most {
            width *= most / height;
            height = most;
        }
        self.need(height);
        let at = (self.print.margin, self.y);
        self.page().marks.push(Mark::Picture { at, width, svg });
        self.y += height + self.print.text * 0.4;
        Ok(())
    }

    /// A bar chart.
    pub fn bars(&mut self, bars: &Bars, height: f64) {
        self.need(height);
        let at = (self.print.margin, self.y);
        let (width, size) = (self.width(), self.print.text * 0.85);
        let face = self.face;
        bars.draw(self.page(), at, (width, height), size, face);
        self.y += height + self.print.text * 0.6;
    }

    /// A table; its head is said again on every page.
    pub fn table<R, C>(&mut self, columns: &[Column], rows: R)
    where
        R: IntoIterator,
        R::Item: AsRef<[C]>,
        C: AsRef<str>,
    {
        let size = self.print.text * 0.9;
        let spots = self.spots(columns, size);
        self.need(size * LEADING * 3.5);
        self.table_head(columns, &spots, size);
        for row in rows {
            let cells: Vec<Vec<String>> = columns
                .iter()
                .zip(&spots)
                .zip(
                    row.as_ref()
                        .iter()
                        .map(AsRef::as_ref)
                        .chain(std::iter::repeat("")),
                )
                .map(|((_, spot), cell)| {
                    self.face
                        .lines(cell, size, Weight::Regular, spot.1.max(1.0))
                })
                .collect();
            self.table_row(columns, &spots, size, &cells);
        }
        self.y += size * 0.4;
    }

    /// Left edge and width of every column.
    fn spots(&self, columns: &[Column], size: f64) -> Vec<(f64, f64)> {
        let gutter = size * GUTTER;
        let room = self.width() - gutter * columns.len().saturating_sub(1) as f64;
        let all: f64 = columns.iter().map(|column| column.share).sum();
        let mut x = self.print.margin;
        columns
            .iter()
            .map(|column| {
                let width = room * column.share / all.max(1e-9);
                let spot = (x, width);
                x += width + gutter;
                spot
            })
            .collect()
    }

    fn table_head(&mut self, columns: &[Column], spots: &[(f64, f64)], size: f64) {
        let heads: Vec<Vec<String>> = columns
            .iter()
            .zip(spots)
            .map(|(column, spot)| self.face.lines(&column.head, size, Weight::Strong, spot.1))
            .collect();
        self.put_cells(columns, spots, size, Weight::Strong, &heads);
        let (left, right) = (
            self.print.margin,
            self.print.paper.width - self.print.margin,
        );
        let y = self.y + size * 0.12;
        self.page().rule((left, y), (right, y), 0.25, BLACK);
        self.y += size * 0.35;
    }

    fn table_row(
        &mut self,
        columns: &[Column],
        spots: &[(f64, f64)],
        size: f64,
        cells: &[Vec<String>],
    ) {
        let lines = cells.iter().map(Vec::len).max().unwrap_or(0);
        let whole = size * LEADING * lines as f64;
        let page = self.bottom() - self.print.margin - size * LEADING * 2.0;
        if self.left() < whole && whole <= page {
            self.turn();
            self.table_head(columns, spots, size);
        }
        let mut from = 0;
        while from < lines {
            let fits = ((self.left() / (size * LEADING)).floor() as usize).max(1);
            let part: Vec<Vec<String>> = cells
                .iter()
                .map(|cell| cell.iter().skip(from).take(fits).cloned().collect())
                .collect();
            self.put_cells(columns, spots, size, Weight::Regular, &part);
            from += fits;
            if from < lines {
                self.turn();
                self.table_head(columns, spots, size);
            }
        }
        let (left, right) = (
            self.print.margin,
            self.print.paper.width - self.print.margin,
        );
        let y = self.y + size * 0.1;
        self.page().rule((left, y), (right, y), 0.1, FAINT);
        self.y += size * 0.22;
    }

    fn put_cells(
        &mut self,
        columns: &[Column],
        spots: &[(f64, f64)],
        size: f64,
        weight: Weight,
        cells: &[Vec<String>],
    ) {
        let top = self.y;
        let mut lowest = top;
        for ((column, (x, width)), lines) in columns.iter().zip(spots).zip(cells) {
            let (hold, x) = if column.figures {
                (Hold::Right, x + width)
            } else {
                (Hold::Left, *x)
            };
            for (i, line) in lines.iter().enumerate() {
                let y = top + size * LEADING * i as f64;
                let page = self.page();
                page.held(
                    (x, y + size * 0.95),
                    size,
                    weight,
                    hold,
                    BLACK,
                    line.as_str(),
                );
                lowest = f64::max(lowest, y + size * LEADING);
            }
        }
        self.y = lowest;
    }

    /// The pages, each with its foot and number.
    pub fn finish(mut self) -> Vec<Page> {
        let count = self.pages.len();
        let (print, size) = (self.print, self.print.text.min(3.2) * 0.9);
        let y = print.paper.height - print.margin + 1.0;
        for (at, page) in self.pages.iter_mut().enumerate() {
            let number = format!("page {} of {count}", at + 1);
            let beside = self.face.width(&number, size, Weight::Regular) + 2.0 * size;
            let room = print.paper.width - 2.0 * print.margin - beside;
            let foot = self.face.shortened(&self.foot, size, Weight::Regular, room);
            page.held(
                (print.margin, y),
                size,
                Weight::Regular,
                Hold::Left,
                QUIET,
                foot,
            );
            let right = (print.paper.width - print.margin, y);
            page.held(right, size, Weight::Regular, Hold::Right, QUIET, number);
        }
        self.pages
    }
}
