//! SVG: fan chart, sensitivity bars, forage ribbon. Shapes carry a pattern or a line style besides
//! their grey, so that they read in sun, in print and without colours.

use std::fmt::Write as _;

use comb::{Mass, ToldIn};

use super::each;
use crate::forage::Forage;
use crate::outlook::{Fan, Outlook};
use crate::sensitivity::Bar;

const WIDTH: f64 = 720.0;
const LEFT: f64 = 64.0;
const RIGHT: f64 = 16.0;
const MONTHS: [&str; 12] = ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"];

/// How a picture is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    ink: &'static str,
    ground: &'static str,
    pale: &'static str,
    middle: &'static str,
    told_in: ToldIn,
}

impl Style {
    /// Dark on paper, colours written into the picture: for files and print.
    pub const fn file(told_in: ToldIn) -> Self {
        Self {
            ink: "#2b2a26",
            ground: "#fffdf7",
            pale: "#e4dcc6",
            middle: "#c2ab74",
            told_in,
        }
    }

    /// In a page's own colours, its custom properties `--season-ink`, `-ground`, `-pale` and `-middle`, so that
    /// the picture follows the page from light to dark.
    pub const fn page(told_in: ToldIn) -> Self {
        Self {
            ink: "var(--season-ink, #2b2a26)",
            ground: "var(--season-ground, #fffdf7)",
            pale: "var(--season-pale, #e4dcc6)",
            middle: "var(--season-middle, #c2ab74)",
            told_in,
        }
    }
}

fn open(style: &Style, height: f64, title: &str) -> String {
    let (ink, ground) = (style.ink, style.ground);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" \
         font-family=\"sans-serif\" font-size=\"13\" fill=\"{ink}\">\n<title>{title}</title>\n\
         <rect width=\"{WIDTH}\" height=\"{height}\" fill=\"{ground}\"/>\n"
    )
}

/// The fan of stores, with a dashed line at the stores needed.
pub fn stores_fan(outlook: &Outlook, needed: Option<Mass>, style: &Style) -> String {
    let told_in = style.told_in;
    let told = |kg: f64| told_in.mass(Mass::kg(kg));
    let weeks = outlook.weeks.iter();
    let fans: Vec<Fan> = weeks.map(|week| each(week.stores_kg, told)).collect();
    fan_chart(
        outlook,
        &fans,
        ("Stores over the coming months", told_in.mass_sign()),
        needed.map(|needed| told_in.mass(needed)),
        style,
    )
}

/// The fan of adult bees, thousands.
pub fn bees_fan(outlook: &Outlook, style: &Style) -> String {
    let thousands = |bees: f64| bees / 1000.0;
    let weeks = outlook.weeks.iter();
    let fans: Vec<Fan> = weeks.map(|week| each(week.bees, thousands)).collect();
    let title = ("Bees over the coming months", "thousand");
    fan_chart(outlook, &fans, title, None, style)
}

fn fan_chart(
    outlook: &Outlook,
    fans: &[Fan],
    (title, unit): (&str, &str),
    line: Option<f64>,
    style: &Style,
) -> String {
    const HEIGHT: f64 = 320.0;
    const TOP: f64 = 34.0;
    const FOOT: f64 = 40.0;
    let (ink, pale, middle) = (style.ink, style.pale, style.middle);
    let most = fans
        .iter()
        .map(|fan| fan.p95)
        .chain(line)
        .fold(1.0, f64::max);
    let tick = round_tick(most / 5.0);
    let most = (most / tick).ceil() * tick;
    let last = (fans.len().max(2) - 1) as f64;
    let x = |week: usize| LEFT + (WIDTH - LEFT - RIGHT) * week as f64 / last;
    let y = |value: f64| HEIGHT - FOOT - (HEIGHT - FOOT - TOP) * value / most;
    let mut svg = open(style, HEIGHT, title);
    let _ = writeln!(
        svg,
        "<text x=\"{LEFT}\" y=\"20\" font-weight=\"bold\">{title} ({unit})</text>"
    );
    let mut value = 0.0;
    while value <= most + 1e-9 {
        let at = y(value);
        let _ = writeln!(
            svg,
            "<line x1=\"{LEFT}\" x2=\"{}\" y1=\"{at:.1}\" y2=\"{at:.1}\" stroke=\"{ink}\" \
             stroke-opacity=\"0.15\"/><text x=\"{}\" y=\"{:.1}\" text-anchor=\"end\">{value}</text>",
            WIDTH - RIGHT,
            LEFT - 8.0,
            at + 4.0
        );
        value += tick;
    }
    let area = |low: fn(&Fan) -> f64, high: fn(&Fan) -> f64| -> String {
        let up = fans
            .iter()
            .enumerate()
            .map(|(i, fan)| format!("{:.1},{:.1}", x(i), y(high(fan))));
        let down = fans
            .iter()
            .enumerate()
            .rev()
            .map(|(i, fan)| format!("{:.1},{:.1}", x(i), y(low(fan))));
        up.chain(down).collect::<Vec<_>>().join(" ")
    };
    let median: Vec<String> = fans
        .iter()
        .enumerate()
        .map(|(i, fan)| format!("{:.1},{:.1}", x(i), y(fan.p50)))
        .collect();
    let _ = writeln!(
        svg,
        "<polygon points=\"{}\" fill=\"{pale}\"/>\n<polygon points=\"{}\" fill=\"{middle}\"/>\n\
         <polyline points=\"{}\" fill=\"none\" stroke=\"{ink}\" stroke-width=\"2.5\"/>",
        area(|fan| fan.p5, |fan| fan.p95),
        area(|fan| fan.p25, |fan| fan.p75),
        median.join(" ")
    );
    if let Some(needed) = line {
        let at = y(needed);
        let _ = writeln!(
            svg,
            "<line x1=\"{LEFT}\" x2=\"{}\" y1=\"{at:.1}\" y2=\"{at:.1}\" stroke=\"{ink}\" \
             stroke-width=\"1.5\" stroke-dasharray=\"6 4\"/><text x=\"{}\" y=\"{:.1}\" paint-order=\"stroke\" stroke=\"{}\" \
             stroke-width=\"4\" stroke-linejoin=\"round\">needed now {needed:.1} {unit}</text>",
            WIDTH - RIGHT,
            LEFT + 6.0,
            at - 5.0,
            // the middle run crosses it
            style.ground
        );
    }
    let mut before = 0;
    for (i, week) in outlook.weeks.iter().enumerate() {
        let month = week.date.month();
        if month != before {
            let name = MONTHS[usize::from(month.unsigned_abs()) - 1];
            let _ = writeln!(
                svg,
                "<text x=\"{:.1}\" y=\"{}\">{name}</text>",
                x(i),
                HEIGHT - 22.0
            );
            before = month;
        }
    }
    let _ = writeln!(
        svg,
        "<text x=\"{LEFT}\" y=\"{}\" font-size=\"11\">line: middle run; dark: half of the runs; \
         pale: nine in ten; from {}, {} runs, seed {}</text>\n</svg>",
        HEIGHT - 6.0,
        outlook.from,
        outlook.runs,
        outlook.seed
    );
    svg
}

/// 1, 2 or 5 times a power of ten, at least `least`.
fn round_tick(least: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(least)));
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|step| step * power)
        .find(|tick| *tick >= least)
        .unwrap_or(10.0 * power)
}

/// What the reserve hangs on, a bar a driver.
pub fn bar_chart(bars: &[Bar], needed: Option<Mass>, style: &Style) -> String {
    const ROW: f64 = 34.0;
    const TOP: f64 = 44.0;
    const NAMES: f64 = 120.0;
    let height = TOP + ROW * bars.len() as f64 + 12.0;
    let (ink, middle, told_in) = (style.ink, style.middle, style.told_in);
    let unit = told_in.mass_sign();
    let ends = bars.iter().flat_map(|bar| [bar.at_low_kg, bar.at_high_kg]);
    let most = ends
        .flatten()
        .chain(needed)
        .map(|mass| told_in.mass(mass))
        .fold(1.0, f64::max)
        * 1.05;
    // room for the words at either end
    let x = |mass: f64| NAMES + 110.0 + (WIDTH - NAMES - 230.0) * mass / most;
    let mut svg = open(style, height, "What the stores needed hang on");
    let _ = writeln!(
        svg,
        "<text x=\"16\" y=\"20\" font-weight=\"bold\">What the stores needed hang on ({unit})</text>"
    );
    for (i, bar) in bars.iter().enumerate() {
        let (name, low_word, high_word) = bar.driver.words(told_in);
        let y = TOP + ROW * i as f64;
        let _ = writeln!(svg, "<text x=\"16\" y=\"{:.1}\">{name}</text>", y + 16.0);
        let told = |end: Option<Mass>| end.map(|mass| told_in.mass(mass));
        let (Some(low), Some(high)) = (told(bar.at_low_kg), told(bar.at_high_kg)) else {
            let _ = writeln!(
                svg,
                "<text x=\"{NAMES}\" y=\"{:.1}\">no stores suffice at one end</text>",
                y + 16.0
            );
            continue;
        };
        let (left, right) = (low.min(high), low.max(high));
        let (left_word, right_word) = if low <= high {
            (low_word, high_word)
        } else {
            (high_word, low_word)
        };
        let _ = writeln!(
            svg,
            "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"20\" fill=\"{middle}\" \
             stroke=\"{ink}\"/><text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\" font-size=\"11\">\
             {left_word}, {:.1}</text><text x=\"{:.1}\" y=\"{:.1}\" font-size=\"11\">{:.1}, \
             {right_word}</text>",
            x(left),
            y + 2.0,
            (x(right) - x(left)).max(1.0),
            x(left) - 5.0,
            y + 16.0,
            left,
            x(right) + 5.0,
            y + 16.0,
            right
        );
    }
    if let Some(needed) = needed {
        let needed = told_in.mass(needed);
        let at = x(needed);
        let _ = writeln!(
            svg,
            "<line x1=\"{at:.1}\" x2=\"{at:.1}\" y1=\"{}\" y2=\"{}\" stroke=\"{ink}\" \
             stroke-dasharray=\"6 4\"/><text x=\"{at:.1}\" y=\"{}\" text-anchor=\"middle\" \
             font-size=\"11\">as asked {:.1}</text>",
            TOP - 4.0,
            height - 6.0,
            TOP - 8.0,
            needed
        );
    }
    svg.push_str("</svg>\n");
    svg
}

/// The forage calendar as a ribbon: nectar above, pollen below the middle line, January first.
pub fn forage_ribbon(forage: &Forage, style: &Style) -> String {
    const HEIGHT: f64 = 150.0;
    const AXIS: f64 = 92.0;
    let (ink, pale, middle) = (style.ink, style.pale, style.middle);
    let most = forage.nectar.iter().copied().fold(1.0, f64::max);
    let x = |month: f64| LEFT + (WIDTH - LEFT - RIGHT) * month / 12.0;
    let mut svg = open(style, HEIGHT, "Forage through the year");
    let _ = writeln!(
        svg,
        "<defs><pattern id=\"forage-dots\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><rect \
         width=\"6\" height=\"6\" fill=\"{pale}\"/><circle cx=\"3\" cy=\"3\" r=\"1.4\" \
         fill=\"{ink}\"/></pattern></defs>\n<text x=\"{LEFT}\" y=\"20\" font-weight=\"bold\">Forage \
         through the year</text>\n<text x=\"8\" y=\"{}\">nectar</text>\n<text x=\"8\" y=\"{}\">pollen\
         </text>",
        AXIS - 16.0,
        AXIS + 20.0
    );
    let ribbon = |strengths: &[f64; 12], scale: f64| -> String {
        // mid-month points, the year joined to itself
        let around = std::iter::once((-0.5, strengths[11]))
            .chain(
                strengths
                    .iter()
                    .enumerate()
                    .map(|(i, s)| (i as f64 + 0.5, *s)),
            )
            .chain(std::iter::once((12.5, strengths[0])));
        let edge = |(m, s): (f64, f64)| (m.clamp(0.0, 12.0), s);
        let mut points = vec![format!("{:.1},{AXIS}", x(0.0))];
        points.extend(
            around
                .map(edge)
                .map(|(m, s)| format!("{:.1},{:.1}", x(m), AXIS - s * scale)),
        );
        points.push(format!("{:.1},{AXIS}", x(12.0)));
        points.join(" ")
    };
    let _ = writeln!(
        svg,
        "<polygon points=\"{}\" fill=\"{middle}\" stroke=\"{ink}\"/>\n<polygon points=\"{}\" \
         fill=\"url(#forage-dots)\" stroke=\"{ink}\"/>",
        ribbon(&forage.nectar, 56.0 / most),
        ribbon(
            &forage.pollen,
            -28.0 / forage.pollen.iter().copied().fold(1.0, f64::max)
        )
    );
    for (i, name) in MONTHS.iter().enumerate() {
        let _ = writeln!(
            svg,
            "<text x=\"{:.1}\" y=\"{}\" text-anchor=\"middle\">{name}</text>",
            x(i as f64 + 0.5),
            HEIGHT - 8.0
        );
    }
    svg.push_str("</svg>\n");
    svg
}
