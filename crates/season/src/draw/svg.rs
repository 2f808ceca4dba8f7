//! SVG: fan chart, sensitivity bars, forage ribbon. Shapes carry a pattern or a line style besides
//! their grey, so that they read in sun, in print and without colours.

use std::fmt::Write as _;

use comb::Mass;

use crate::forage::Forage;
use crate::outlook::{Fan, Outlook};
use crate::sensitivity::Bar;

const WIDTH: f64 = 720.0;
const LEFT: f64 = 64.0;
const RIGHT: f64 = 16.0;
const INK: &str = "#2b2a26";
const PALE: &str = "#e4dcc6";
const MIDDLE: &str = "#c2ab74";
const MONTHS: [&str; 12] = ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"];

fn open(height: f64, title: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" \
         font-family=\"sans-serif\" font-size=\"13\" fill=\"{INK}\">\n<title>{title}</title>\n\
         <rect width=\"{WIDTH}\" height=\"{height}\" fill=\"#fffdf7\"/>\n"
    )
}

/// The fan of stores, kg, with a dashed line at the stores needed.
pub fn stores_fan(outlook: &Outlook, needed: Option<Mass>) -> String {
    let fans: Vec<Fan> = outlook.weeks.iter().map(|week| week.stores_kg).collect();
    fan_chart(
        outlook,
        &fans,
        "Stores over the coming months",
        "kg",
        needed.map(Mass::to_kg),
    )
}

/// The fan of adult bees, thousands.
pub fn bees_fan(outlook: &Outlook) -> String {
    let thousands = |fan: Fan| Fan {
        p5: fan.p5 / 1000.0,
        p25: fan.p25 / 1000.0,
        p50: fan.p50 / 1000.0,
        p75: fan.p75 / 1000.0,
        p95: fan.p95 / 1000.0,
    };
    let fans: Vec<Fan> = outlook
        .weeks
        .iter()
        .map(|week| thousands(week.bees))
        .collect();
    fan_chart(
        outlook,
        &fans,
        "Bees over the coming months",
        "thousand",
        None,
    )
}

fn fan_chart(
    outlook: &Outlook,
    fans: &[Fan],
    title: &str,
    unit: &str,
    line: Option<f64>,
) -> String {
    const HEIGHT: f64 = 320.0;
    const TOP: f64 = 34.0;
    const FOOT: f64 = 40.0;
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
    let mut svg = open(HEIGHT, title);
    let _ = writeln!(
        svg,
        "<text x=\"{LEFT}\" y=\"20\" font-weight=\"bold\">{title} ({unit})</text>"
    );
    let mut value = 0.0;
    while value <= most + 1e-9 {
        let at = y(value);
        let _ = writeln!(
            svg,
            "<line x1=\"{LEFT}\" x2=\"{}\" y1=\"{at:.1}\" y2=\"{at:.1}\" stroke=\"{INK}\" \
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
    let middle: Vec<String> = fans
        .iter()
        .enumerate()
        .map(|(i, fan)| format!("{:.1},{:.1}", x(i), y(fan.p50)))
        .collect();
    let _ = writeln!(
        svg,
        "<polygon points=\"{}\" fill=\"{PALE}\"/>\n<polygon points=\"{}\" fill=\"{MIDDLE}\"/>\n\
         <polyline points=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"2.5\"/>",
        area(|fan| fan.p5, |fan| fan.p95),
        area(|fan| fan.p25, |fan| fan.p75),
        middle.join(" ")
    );
    if let Some(needed) = line {
        let at = y(needed);
        let _ = writeln!(
            svg,
            "<line x1=\"{LEFT}\" x2=\"{}\" y1=\"{at:.1}\" y2=\"{at:.1}\" stroke=\"{INK}\" \
             stroke-width=\"1.5\" stroke-dasharray=\"6 4\"/><text x=\"{}\" y=\"{:.1}\">needed now {needed:.1} kg</text>",
            WIDTH - RIGHT,
            LEFT + 6.0,
            at - 5.0
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
pub fn bar_chart(bars: &[Bar], needed: Option<Mass>) -> String {
    const ROW: f64 = 34.0;
    const TOP: f64 = 44.0;
    const NAMES: f64 = 120.0;
    let height = TOP + ROW * bars.len() as f64 + 12.0;
    let ends = bars.iter().flat_map(|bar| [bar.at_low_kg, bar.at_high_kg]);
    let most = ends
        .flatten()
        .chain(needed)
        .map(Mass::to_kg)
        .fold(1.0, f64::max)
        * 1.05;
    // room for the words at either end
    let x = |kg: f64| NAMES + 110.0 + (WIDTH - NAMES - 230.0) * kg / most;
    let mut svg = open(height, "What the stores needed hang on");
    let _ = writeln!(
        svg,
        "<text x=\"16\" y=\"20\" font-weight=\"bold\">What the stores needed hang on (kg)</text>"
    );
    for (i, bar) in bars.iter().enumerate() {
        let (name, low_word, high_word) = bar.driver.words();
        let y = TOP + ROW * i as f64;
        let _ = writeln!(svg, "<text x=\"16\" y=\"{:.1}\">{name}</text>", y + 16.0);
        let (Some(low), Some(high)) = (bar.at_low_kg, bar.at_high_kg) else {
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
            "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"20\" fill=\"{MIDDLE}\" \
             stroke=\"{INK}\"/><text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\" font-size=\"11\">\
             {left_word}, {:.1}</text><text x=\"{:.1}\" y=\"{:.1}\" font-size=\"11\">{:.1}, \
             {right_word}</text>",
            x(left.to_kg()),
            y + 2.0,
            (x(right.to_kg()) - x(left.to_kg())).max(1.0),
            x(left.to_kg()) - 5.0,
            y + 16.0,
            left.to_kg(),
            x(right.to_kg()) + 5.0,
            y + 16.0,
            right.to_kg()
        );
    }
    if let Some(needed) = needed {
        let at = x(needed.to_kg());
        let _ = writeln!(
            svg,
            "<line x1=\"{at:.1}\" x2=\"{at:.1}\" y1=\"{}\" y2=\"{}\" stroke=\"{INK}\" \
             stroke-dasharray=\"6 4\"/><text x=\"{at:.1}\" y=\"{}\" text-anchor=\"middle\" \
             font-size=\"11\">as asked {:.1}</text>",
            TOP - 4.0,
            height - 6.0,
            TOP - 8.0,
            needed.to_kg()
        );
    }
    svg.push_str("</svg>\n");
    svg
}

/// The forage calendar as a ribbon: nectar above, pollen below the middle line, January first.
pub fn forage_ribbon(forage: &Forage) -> String {
    const HEIGHT: f64 = 150.0;
    const AXIS: f64 = 92.0;
    let most = forage.nectar.iter().copied().fold(1.0, f64::max);
    let x = |month: f64| LEFT + (WIDTH - LEFT - RIGHT) * month / 12.0;
    let mut svg = open(HEIGHT, "Forage through the year");
    let _ = writeln!(
        svg,
        "<defs><pattern id=\"forage-dots\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><rect \
         width=\"6\" height=\"6\" fill=\"{PALE}\"/><circle cx=\"3\" cy=\"3\" r=\"1.4\" \
         fill=\"{INK}\"/></pattern></defs>\n<text x=\"{LEFT}\" y=\"20\" font-weight=\"bold\">Forage \
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
        "<polygon points=\"{}\" fill=\"{MIDDLE}\" stroke=\"{INK}\"/>\n<polygon points=\"{}\" \
         fill=\"url(#forage-dots)\" stroke=\"{INK}\"/>",
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
