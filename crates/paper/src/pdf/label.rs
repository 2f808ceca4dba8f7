//! Jar labels: the words of one label set as large as they fit, never smaller than the law's least
//! letters, laid out on sheets.

use comb::Length;

use super::code::Code;
use super::error::PaperError;
use super::grid::Grid;
use super::page::{BLACK, FAINT, Hold, Mark, Page, QUIET};
use super::typeface::{Typeface, Weight};

/// What a line of a label is, which decides its place and size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The name of the food: largest, on top.
    Name,
    /// The net quantity: bottom left, figures at least as high as their rule says.
    Net,
    /// Any other particular, in small letters.
    Particular,
}

/// One line of a label.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelLine {
    /// What it is.
    pub role: Role,
    /// Its words.
    pub text: String,
    /// Least height: of the figures for the net quantity, of a small x otherwise; `None` where no
    /// rule is known.
    pub least: Option<Length>,
}

/// One label.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Its lines, in order.
    pub lines: Vec<LabelLine>,
    /// Where its code leads, if it bears one.
    pub code: Option<String>,
}

/// How labels go onto sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Printing {
    /// The sheets.
    pub grid: Grid,
    /// The first label that is still on the first sheet, from 1.
    pub start: usize,
    /// Corner marks to cut along.
    pub cut_marks: bool,
    /// Frames and measures on plain paper, to lay over a sheet of labels.
    pub test_print: bool,
    /// Free edge within a label, mm.
    pub edge: f64,
}

impl Printing {
    /// From the first label on, without marks; as much free edge as keeps clear of what printers leave
    /// white around a sheet, and never under 2.5 mm.
    pub const fn on(grid: Grid) -> Self {
        let from_sheet = grid.first.0.min(grid.first.1).max(0.0);
        Self {
            grid,
            start: 1,
            cut_marks: false,
            test_print: false,
            edge: (WHITE_AROUND_MM - from_sheet).max(2.5),
        }
    }
}

/// What desk printers leave white around a sheet, mm (common practice, no source; 3 to 5 is usual).
const WHITE_AROUND_MM: f64 = 5.0;
/// Where no rule is known, a small x is never under this, mm: the least that food law asks of small
/// packs elsewhere (0.9 mm, Regulation (EU) 1169/2011 as in the honey crate).
const LEAST_X_MM: f64 = 0.9;
/// Where no rule is known, figures of the net quantity are at least this high, mm: the least of the
/// EU's and UK's table (2 mm).
const LEAST_FIGURES_MM: f64 = 2.0;
/// Small letters are not set larger than this (em), mm: a label is not a poster.
const LARGEST_SMALL: f64 = 3.4;
/// The name against the small letters, at most and at least.
const NAME: (f64, f64) = (2.6, 1.25);
/// From line to line against the letter size.
const LEADING: f64 = 1.2;

/// A label set: its marks from its upper left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Set {
    /// Marks, mm from the label's corner.
    pub marks: Vec<Mark>,
    /// Height of a small x in the particulars, mm.
    pub x_height: f64,
    /// Height of the figures of the net quantity, mm; `None` without one.
    pub figure_height: Option<f64>,
}

/// Sets one label into `size` mm, as large as it fits.
///
/// # Errors
/// [`PaperError::LabelFull`], [`PaperError::WordTooWide`], [`PaperError::NoLetter`],
/// [`PaperError::CodeTooDense`].
pub fn set(label: &Label, size: (f64, f64), edge: f64, face: &Typeface) -> Result<Set, PaperError> {
    for line in &label.lines {
        face.covers(&line.text)?;
    }
    let room = (size.0 - 2.0 * edge, size.1 - 2.0 * edge);
    let code = label.code.as_deref().map(Code::of).transpose()?;
    let square = match &code {
        Some(code) => code_side(code, room)?,
        None => 0.0,
    };
    let gap = if square > 0.0 { 1.5 } else { 0.0 };
    let column = room.0 - square - gap;
    let least = small_at_least(label, face);
    let mut best = None;
    // tenths of a millimetre from the least size up
    for step in 0.. {
        let small = least + f64::from(step) * 0.05;
        if small > LARGEST_SMALL.max(least) {
            break;
        }
        match Plan::at(label, small, column, room.1, face) {
            Ok(plan) if plan.height <= room.1 + 1e-9 => best = Some(plan),
            Ok(plan) if best.is_none() => {
                return Err(PaperError::LabelFull {
                    needs_mm: plan.height,
                    room_mm: room.1,
                });
            }
            Err(why) if best.is_none() => return Err(why),
            _ => break,
        }
    }
    let plan = best.ok_or(PaperError::LabelFull {
        needs_mm: least,
        room_mm: room.1,
    })?;
    let mut page = plan.draw(edge, room.1, face);
    if let Some(code) = code {
        let at = (size.0 - edge - square, size.1 - edge - square);
        page.push(code.mark(at, square)?);
    }
    Ok(Set {
        marks: page,
        x_height: face.x_height(plan.small),
        figure_height: plan.net.as_ref().map(|net| face.figure_height(net.1)),
    })
}

/// The code takes up to a third of the label's width and its whole height.
fn code_side(code: &Code, room: (f64, f64)) -> Result<f64, PaperError> {
    let most = room.1.min(room.0 * 0.42);
    let least = code.least_side();
    if least > most {
        code.mark((0.0, 0.0), most)?;
    }
    // a little larger than must be scans better, never larger than a third of the label
    Ok((least * 1.25).min(most).min((room.0 / 3.0).max(least)))
}

fn small_at_least(label: &Label, face: &Typeface) -> f64 {
    let small = label.lines.iter().filter(|line| line.role != Role::Net);
    let least = small
        .filter_map(|line| line.least)
        .map(Length::to_mm)
        .fold(LEAST_X_MM, f64::max);
    face.size_for_x_height(least)
}

/// A label broken into lines at one size.
struct Plan {
    small: f64,
    name: Option<(Vec<String>, f64)>,
    particulars: Vec<String>,
    net: Option<(String, f64)>,
    height: f64,
}

impl Plan {
    fn at(
        label: &Label,
        small: f64,
        column: f64,
        room: f64,
        face: &Typeface,
    ) -> Result<Self, PaperError> {
        let of = |role: Role| label.lines.iter().filter(move |line| line.role == role);
        let name = of(Role::Name).next().map(|line| {
            let widest = face.width(&line.text, 1.0, Weight::Strong).max(0.1);
            let size = (column / widest).clamp(small * NAME.1, small * NAME.0);
            (face.lines(&line.text, size, Weight::Strong, column), size)
        });
        let mut particulars = Vec::new();
        for line in joined(of(Role::Particular), small, column, face) {
            whole_words(&line, small, Weight::Regular, column, face)?;
            particulars.extend(face.lines(&line, small, Weight::Regular, column));
        }
        let net = match of(Role::Net).next() {
            Some(line) => {
                let least = line.least.map_or(LEAST_FIGURES_MM, Length::to_mm);
                let size = face.size_for_figures(least).max(small * 1.3);
                whole_line(&line.text, size, column, face)?;
                Some((line.text.clone(), size))
            }
            None => None,
        };
        let name_high = name
            .as_ref()
            .map_or(0.0, |(lines, size)| lines.len() as f64 * size * LEADING);
        let net_high = net
            .as_ref()
            .map_or(0.0, |(_, size)| face.figure_height(*size) + small * 0.45);
        let height = name_high + particulars.len() as f64 * small * LEADING + net_high;
        let _ = room;
        Ok(Self {
            small,
            name,
            particulars,
            net,
            height,
        })
    }

    fn draw(&self, edge: f64, room: f64, face: &Typeface) -> Vec<Mark> {
        let mut page = Page::new(super::page::Paper::A4);
        let mut y = edge;
        // what is left over goes between name and particulars, and above the quantity
        let spare = (room - self.height).max(0.0);
        if let Some((lines, size)) = &self.name {
            for line in lines {
                page.text((edge, y + size * 0.92), *size, Weight::Strong, line);
                y += size * LEADING;
            }
            y += spare.min(self.small);
        }
        for line in &self.particulars {
            page.text(
                (edge, y + self.small * 0.92),
                self.small,
                Weight::Regular,
                line,
            );
            y += self.small * LEADING;
        }
        if let Some((text, size)) = &self.net {
            page.text((edge, edge + room), *size, Weight::Strong, text);
        }
        let _ = face;
        page.marks
    }
}

/// Short particulars share a line where two fit, a raised dot between them.
fn joined<'a>(
    lines: impl Iterator<Item = &'a LabelLine>,
    small: f64,
    column: f64,
    face: &Typeface,
) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for line in lines {
        if let Some(last) = out.last_mut() {
            let both = format!("{last} \u{b7} {}", line.text);
            if face.width(&both, small, Weight::Regular) <= column {
                *last = both;
                continue;
            }
        }
        out.push(line.text.clone());
    }
    out
}

fn whole_words(
    line: &str,
    size: f64,
    weight: Weight,
    room: f64,
    face: &Typeface,
) -> Result<(), PaperError> {
    let wide = line
        .split_whitespace()
        .find(|word| face.width(word, size, weight) > room);
    match wide {
        None => Ok(()),
        Some(word) => Err(PaperError::WordTooWide {
            word: word.to_owned(),
            needs_mm: face.width(word, size, weight),
            room_mm: room,
        }),
    }
}

fn whole_line(text: &str, size: f64, room: f64, face: &Typeface) -> Result<(), PaperError> {
    let needs_mm = face.width(text, size, Weight::Strong);
    if needs_mm <= room {
        return Ok(());
    }
    Err(PaperError::WordTooWide {
        word: text.to_owned(),
        needs_mm,
        room_mm: room,
    })
}

/// Sheets with `count` copies of a label.
///
/// # Errors
/// As [`set`]; [`PaperError::Start`], [`PaperError::Grid`].
pub fn sheets(
    label: &Label,
    count: usize,
    printing: &Printing,
    face: &Typeface,
) -> Result<Vec<Page>, PaperError> {
    let grid = printing.grid.checked()?;
    let start = printing.start;
    if start == 0 || start > grid.labels() {
        return Err(PaperError::Start {
            labels: grid.labels(),
            start,
        });
    }
    let set = set(label, grid.label, printing.edge, face)?;
    let places = (start - 1)..(start - 1 + count.max(1));
    let mut pages: Vec<Page> = Vec::new();
    for place in places {
        if pages.is_empty() || place % grid.labels() == 0 {
            pages.push(empty_sheet(printing));
        }
        let corner = grid.corner(place % grid.labels());
        if let Some(page) = pages.last_mut() {
            let moved = set.marks.iter().map(|mark| moved(mark, corner));
            page.marks.extend(moved);
        }
    }
    Ok(pages)
}

/// A sheet with its cut marks or test frames.
fn empty_sheet(printing: &Printing) -> Page {
    let grid = &printing.grid;
    let mut page = Page::new(grid.paper);
    for at in 0..grid.labels() {
        let (x, y) = grid.corner(at);
        let (w, h) = grid.label;
        if printing.test_print {
            page.frame((x, y), (w, h), 0.15, FAINT);
        }
        if printing.cut_marks {
            corner_marks(&mut page, (x, y), (w, h));
        }
    }
    if printing.test_print {
        measure(&mut page);
    }
    page
}

/// Short lines at the four corners, inside the label so that they show on sheets without margins.
fn corner_marks(page: &mut Page, (x, y): (f64, f64), (w, h): (f64, f64)) {
    const ARM: f64 = 2.0;
    for (cx, sx) in [(x, 1.0), (x + w, -1.0)] {
        for (cy, sy) in [(y, 1.0), (y + h, -1.0)] {
            page.rule((cx, cy), (cx + sx * ARM, cy), 0.1, BLACK);
            page.rule((cx, cy), (cx, cy + sy * ARM), 0.1, BLACK);
        }
    }
}

/// A line of known length, to see whether the printer scaled.
fn measure(page: &mut Page) {
    let (left, y) = (page.paper.width / 2.0 - 50.0, page.paper.height / 2.0);
    page.block((left - 3.0, y - 4.6), (106.0, 7.2), 255);
    page.rule((left, y), (left + 100.0, y), 0.3, BLACK);
    for x in [left, left + 100.0] {
        page.rule((x, y - 1.5), (x, y + 1.5), 0.3, BLACK);
    }
    page.held(
        (left + 50.0, y - 1.2),
        2.8,
        Weight::Regular,
        Hold::Middle,
        QUIET,
        "Test print: this line is 100 mm when printed at full size",
    );
}

fn moved(mark: &Mark, (dx, dy): (f64, f64)) -> Mark {
    let mut mark = mark.clone();
    match &mut mark {
        Mark::Text { x, y, .. } => {
            *x += dx;
            *y += dy;
        }
        Mark::Line { points, .. } | Mark::Area { points, .. } => {
            for point in points {
                point.0 += dx;
                point.1 += dy;
            }
        }
        Mark::Cells { at, .. } | Mark::Picture { at, .. } => {
            at.0 += dx;
            at.1 += dy;
        }
    }
    mark
}
