//! Drawn text within 80 columns, no colour.

use std::fmt::Write as _;

use comb::{Mass, ToldIn};

use super::each;
use crate::feed::LastFeed;
use crate::outlook::{Fan, LastTake, Outlook};
use crate::report::Report;
use crate::sensitivity::Bar;
use crate::swarm::Pressure;

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];
/// Lines of a fan chart.
const HEIGHT: usize = 12;
/// Weeks that fit beside the scale.
const WIDEST: usize = 70;

/// A fan of stores over the outlook: `#` the middle run, `+` half of the runs, `.` nine in ten.
pub fn fan_text(outlook: &Outlook, told_in: ToldIn) -> String {
    let fans: Vec<Fan> = outlook
        .weeks
        .iter()
        .take(WIDEST)
        .map(|week| each(week.stores_kg, |kg| told_in.mass(Mass::kg(kg))))
        .collect();
    let top = fans.iter().map(|fan| fan.p95).fold(1.0, f64::max);
    let mut drawn = String::new();
    for line in (0..HEIGHT).rev() {
        let (low, high) = (
            top * line as f64 / HEIGHT as f64,
            top * (line + 1) as f64 / HEIGHT as f64,
        );
        let scale = if line % 3 == 2 {
            format!("{high:4.0} {} |", told_in.mass_sign())
        } else {
            "        |".to_owned()
        };
        let row: String = fans.iter().map(|fan| mark(fan, low, high)).collect();
        let _ = writeln!(drawn, "{scale}{}", row.trim_end());
    }
    let _ = writeln!(drawn, "        +{}", "-".repeat(fans.len()));
    let _ = writeln!(drawn, "         {}", months(outlook, fans.len()).trim_end());
    drawn
}

fn mark(fan: &Fan, low: f64, high: f64) -> char {
    // a figure of nothing belongs to the lowest line
    let holds = |value: f64| (low <= value && value < high) || (low <= 0.0 && value <= 0.0);
    let meets = |from: f64, to: f64| from < high && to >= low;
    if holds(fan.p50) {
        '#'
    } else if meets(fan.p25, fan.p75) {
        '+'
    } else if meets(fan.p5, fan.p95) {
        '.'
    } else {
        ' '
    }
}

/// Month names under the weeks in which they begin.
fn months(outlook: &Outlook, width: usize) -> String {
    let mut line = vec![' '; width + 3];
    let mut before = 0;
    for (at, week) in outlook.weeks.iter().take(width).enumerate() {
        let month = week.date.month();
        if month != before && line[at] == ' ' && at + 3 <= width {
            let name = MONTHS[usize::from(month.unsigned_abs()) - 1];
            for (place, letter) in line[at..].iter_mut().zip(name.chars()) {
                *place = letter;
            }
            before = month;
        }
    }
    line.truncate(width);
    line.into_iter().collect()
}

/// The whole season of a hive on a page.
pub fn sheet(report: &Report, told_in: ToldIn) -> String {
    let mut page = String::new();
    reserve_lines(report, told_in, &mut page);
    let sign = told_in.mass_sign();
    let _ = writeln!(
        page,
        "\nWhat the answer hangs on ({sign} needed at the driver's low and high)"
    );
    for bar in &report.drivers {
        bar_line(bar, report.reserve.needed_kg, told_in, &mut page);
    }
    let outlook = &report.outlook;
    let _ = writeln!(
        page,
        "\nStores from {} on, after taking {} ({} runs, seed {})",
        outlook.from,
        told_in.mass_words(outlook.taken_kg),
        outlook.runs,
        outlook.seed
    );
    page.push_str(&fan_text(outlook, told_in));
    page.push_str("  # the middle run   + half of the runs   . nine in ten\n");
    if let Some(last) = outlook.weeks.last() {
        let alive = last.alive * 100.0;
        let _ = writeln!(page, "{alive:.0} % of the runs live on {}", last.date);
    }
    taking_line(report, told_in, &mut page);
    swarm_lines(report, &mut page);
    page.push('\n');
    for sentence in report.words_in(told_in) {
        page.push_str(&wrapped(&sentence));
    }
    page
}

fn reserve_lines(report: &Report, told_in: ToldIn, page: &mut String) {
    let reserve = &report.reserve;
    let question = &reserve.question;
    let sign = told_in.mass_sign();
    let sure = question.sure * 100.0;
    let _ = writeln!(
        page,
        "To live from {} to {} in {sure:.0} % of years",
        question.from, question.until
    );
    match (reserve.needed_kg, report.combs) {
        (Some(needed), Some(combs)) => {
            let high = reserve
                .between_kg
                .1
                .map_or("?".to_owned(), |high| format!("{:.1}", told_in.mass(high)));
            let _ = writeln!(
                page,
                "  stores needed   {:5.1} {sign}  (between {:.1} and {high} by the number of runs)",
                told_in.mass(needed),
                told_in.mass(reserve.between_kg.0)
            );
            let _ = writeln!(
                page,
                "  in this hive    {:5.1} full combs  ({:.1} to {:.1})",
                combs.combs, combs.low, combs.high
            );
        }
        _ => page.push_str("  no amount of stores in this body carries it surely enough\n"),
    }
    let thumb = report.thumb.combs;
    let combs = if (thumb.0 - thumb.1).abs() < 0.01 {
        format!("{:.0}", thumb.0)
    } else {
        format!("{:.0} to {:.0}", thumb.0, thumb.1)
    };
    let _ = writeln!(
        page,
        "  rule of thumb {combs:>7} full combs  (common practice, no source)"
    );
    let _ = writeln!(
        page,
        "  with what is there now it lives in {:.0} % of years",
        reserve.lives_now * 100.0
    );
    if let (Some(spare), None) = (report.spare_kg, report.feed) {
        let combs = spare / report.full_comb.kg;
        let _ = if combs < 1.0 {
            writeln!(
                page,
                "  can be spared      no comb now: the larger of both must stay"
            )
        } else {
            let spare = told_in.mass(spare);
            writeln!(
                page,
                "  can be spared   {spare:5.1} {sign}  now ({combs:.1} full combs): the larger of both stays"
            )
        };
    }
    if let Some(feed) = &report.feed {
        let last = match feed.last {
            LastFeed::AnyDay => "on any day".to_owned(),
            LastFeed::On(date) => format!("not after {date}"),
            LastFeed::TooLate => "but it is too cold for syrup already".to_owned(),
        };
        let _ = writeln!(
            page,
            "  short of {}: feed {} of sugar ({} of 2:1 syrup),\n    {last}",
            told_in.mass_words(feed.short_kg),
            told_in.mass_words(feed.sugar_kg),
            told_in.volume_words(feed.syrup_l)
        );
    }
}

fn bar_line(bar: &Bar, needed: Option<Mass>, told_in: ToldIn, page: &mut String) {
    let (name, low, high) = bar.driver.words(told_in);
    let figure = |mass: Option<Mass>| {
        mass.map_or("   ?".to_owned(), |mass| {
            format!("{:4.1}", told_in.mass(mass))
        })
    };
    let (from, to) = (bar.at_low_kg, bar.at_high_kg);
    let drawn = match (from, to, needed) {
        (Some(from), Some(to), Some(_)) => {
            let (least, most) = (from.min(to).to_kg(), from.max(to).to_kg());
            let mut line: Vec<char> = vec![' '; 20];
            // one mark a kilogram up to 20, else as many as it takes
            let each = if most > 20.0 { most / 20.0 } else { 1.0 };
            for (at, place) in line.iter_mut().enumerate() {
                let kg = (at as f64 + 0.5) * each;
                if (least..=most).contains(&kg) {
                    *place = '=';
                }
            }
            line.into_iter().collect::<String>()
        }
        _ => String::new(),
    };
    let line = format!(
        "  {name:13} {} {low:>15} |{drawn:20}| {high:14} {}",
        figure(from),
        figure(to)
    );
    let _ = writeln!(page, "{}", line.trim_end());
}

/// When combs can be spared later on: another figure than what can be spared now, and labelled so.
fn taking_line(report: &Report, told_in: ToldIn, page: &mut String) {
    let until = report
        .outlook
        .weeks
        .last()
        .map_or(report.outlook.from, |week| week.date);
    let when = match report.last_take {
        LastTake::Nothing => "no comb can be spared".to_owned(),
        LastTake::NoLimit { from: None } => "a comb can be spared at any time".to_owned(),
        LastTake::NoLimit { from: Some(from) } => {
            format!("a comb can be spared from about {from} on, none before")
        }
        LastTake::On {
            from,
            date,
            could_take_kg,
        } => {
            let from = from.map_or_else(
                || "a comb can be spared".to_owned(),
                |from| format!("a comb can be spared from about {from}, none before"),
            );
            format!(
                "{from}, and none after {date}: {} on that day if nothing is taken until then",
                told_in.mass_words(could_take_kg)
            )
        }
    };
    page.push_str(&wrapped(&format!(
        "Taking through the year, by the outlook to {until}: {when}."
    )));
    if report.spared_now_is_wanted_later() {
        page.push_str(&wrapped(&format!(
            "What could be spared now is wanted after {}, to which the stores needed are reckoned: take \
             it only if you mean to feed then.",
            report.reserve.question.until
        )));
    }
}

fn swarm_lines(report: &Report, page: &mut String) {
    let mut high = report
        .swarm
        .iter()
        .filter(|week| week.pressure == Pressure::High);
    if let Some(first) = high.next() {
        let last = high.next_back().unwrap_or(first);
        let reasons = first.reasons.join(", ");
        let when = if first.date == last.date {
            format!("about {}", first.date)
        } else {
            format!("from about {} to {}", first.date, last.date)
        };
        page.push_str(&wrapped(&format!(
            "Swarm pressure is high {when}: {reasons}. Look for queen cells."
        )));
    }
    for window in &report.splits {
        page.push_str(&wrapped(&format!(
            "A split can be made from about {} to {} (before: {}; after: {}).",
            window.from, window.until, window.opens, window.closes
        )));
    }
}

/// A sentence in lines of at most 78 characters.
fn wrapped(sentence: &str) -> String {
    let (mut text, mut line) = (String::new(), String::new());
    for word in sentence.split_whitespace() {
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > 78 {
            text.push_str(&line);
            text.push('\n');
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    text.push_str(&line);
    text.push('\n');
    text
}
