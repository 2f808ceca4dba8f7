//! The pictures themselves, small enough to be reviewed.

use comb::Length;
use hive::entry::{End, Hanging};
use jiff::civil::date;
use jiff::tz::{Offset, TimeZone};
use paper::{ClosingGoal, HiveSection, Life, Mark, PictureOptions, TextOptions, svg, text};
use roxmltree::Document;

mod common;
use common::{Teller, banksia, bar, capped, comb, follower, in_row, ironbark, shim};

fn zone() -> TimeZone {
    TimeZone::fixed(Offset::constant(10))
}

fn drawn_ironbark() -> HiveSection {
    HiveSection::of(&ironbark().hive(), &zone())
        .dated(date(2026, 9, 12))
        .with_marks([(bar(16), Mark::Take), (bar(20), Mark::Ripening)])
}

#[test]
fn a_worked_hive_in_text() {
    insta::assert_snapshot!(text::hive(&drawn_ironbark(), TextOptions::default()));
}

#[test]
fn a_worked_hive_in_ascii() {
    let ascii = TextOptions {
        ascii: true,
        levels: 4,
        ..TextOptions::default()
    };
    insta::assert_snapshot!(text::hive(&drawn_ironbark(), ascii));
}

#[test]
fn moved_bars_show_number_and_place() {
    let section = HiveSection::of(&banksia().hive(), &zone()).dated(date(2026, 8, 20));
    insta::assert_snapshot!(text::hive(&section, TextOptions::default()));
}

#[test]
fn what_each_bar_holds_as_a_table() {
    insta::assert_snapshot!(text::bar_table(&drawn_ironbark(), TextOptions::default()));
}

fn two_combs() -> Teller {
    let body = comb::BodyMeasures {
        cavity_length_mm: Length::mm(160.0),
        ..comb::Body::default().measures()
    };
    let body = comb::Body::new(body).expect("a nursery body");
    let mut teller = Teller::new("Tea-tree <& friends>", body);
    teller
        .add(1, Hanging::Comb)
        .add(2, Hanging::Strip)
        .add(3, Hanging::Comb);
    teller.arrange(vec![in_row(1), in_row(2), in_row(3), follower(), shim(5.0)]);
    teller.on("2026-09-12T02:00:00Z").open(End::Right);
    teller.see(3, comb(capped(75.0), capped(50.0)));
    teller
}

#[test]
fn a_small_hive_as_svg() {
    let section = HiveSection::of(&two_combs().hive(), &zone());
    let options = PictureOptions {
        width_px: 320,
        with_legend: false,
        ..PictureOptions::default()
    };
    let picture = svg::hive(&section, &options);
    // patterns are seen in the large pictures; here they would only be noise
    let body = picture
        .split("</defs>")
        .nth(1)
        .expect("patterns come first");
    insta::assert_snapshot!(body);
}

#[test]
fn a_hive_without_a_visible_name_still_has_a_title() {
    let mut section = HiveSection::of(&two_combs().hive(), &zone());
    section.name = "\u{7} \n".to_owned();
    let picture = svg::hive(&section, &PictureOptions::default());
    assert!(picture.contains("<title id=\"section-title\">Hive</title>"));
}

#[test]
fn an_end_is_open_while_its_visit_lasts() {
    let mut teller = two_combs();
    assert_eq!(
        HiveSection::of(&teller.hive(), &zone()).opened,
        [End::Right]
    );
    teller.close();
    assert_eq!(HiveSection::of(&teller.hive(), &zone()).opened, []);
}

/// Where numbers are not places, the places stand under the floor, and so does the entrance.
#[test]
fn the_entrance_is_not_drawn_over_a_place() {
    let section = HiveSection::of(&banksia().hive(), &zone());
    let picture = svg::hive(&section, &PictureOptions::default());
    let document = Document::parse(&picture).expect("SVG");
    let words = document.descendants().find(|node| {
        node.has_tag_name("text") && node.text().is_some_and(|text| text.trim() == "entrance")
    });
    let words = words.expect("the entrance is named");
    let mark = words.prev_sibling_element().expect("its mark");
    let figures = mark.attribute("d").expect("a path");
    let numbers: Vec<f64> = figures
        .split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter_map(|figure| figure.parse().ok())
        .collect();
    let top = numbers
        .iter()
        .skip(1)
        .step_by(2)
        .copied()
        .fold(f64::MAX, f64::min);
    let y =
        |node: &roxmltree::Node<'_, '_>| node.attribute("y").and_then(|y| y.parse::<f64>().ok());
    let below = y(&words).expect("a place");
    let labels = document
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    let numbers =
        labels.filter(|node| node.text().is_some_and(|t| t.trim().parse::<u32>().is_ok()));
    let lowest = numbers
        .filter_map(|node| y(&node))
        .filter(|y| *y < below)
        .fold(0.0, f64::max);
    assert!(top > lowest, "{top} against {lowest}");
}

#[test]
fn the_capped_part_is_its_share_of_the_drawn_half() {
    let section = HiveSection::of(&two_combs().hive(), &zone());
    let picture = svg::hive(
        &section,
        &PictureOptions {
            width_px: 8000,
            ..PictureOptions::default()
        },
    );
    let document = Document::parse(&picture).expect("well-formed");
    let id = bar(3).to_string();
    let group = document
        .descendants()
        .find(|n| n.attribute("data-bar") == Some(&id));
    let areas: Vec<f64> = group
        .expect("it is drawn")
        .children()
        .filter(|n| {
            n.attribute("fill")
                .is_some_and(|fill| fill.starts_with("url(#"))
        })
        .filter_map(|n| n.attribute("d").map(area))
        .collect();
    let [left_capped, left_unripe, right_capped, right_unripe] = areas[..] else {
        panic!("two bands a side, not {}", areas.len());
    };
    let share = |capped: f64, unripe: f64| capped / (capped + unripe);
    assert!((share(left_capped, left_unripe) - 0.75).abs() < 0.02);
    assert!((share(right_capped, right_unripe) - 0.50).abs() < 0.02);
}

/// Area of a closed path of straight lines (the shoelace formula).
fn area(path: &str) -> f64 {
    let points: Vec<(f64, f64)> = path
        .trim_end_matches('Z')
        .split(['M', 'L'])
        .filter(|point| !point.is_empty())
        .map(|point| {
            let (x, y) = point.split_once(' ').expect("two numbers");
            (x.parse().expect("x"), y.parse().expect("y"))
        })
        .collect();
    let next = points.iter().cycle().skip(1);
    let doubled: f64 = points
        .iter()
        .zip(next)
        .map(|(p, q)| p.0 * q.1 - q.0 * p.1)
        .sum();
    (doubled / 2.0).abs()
}

#[test]
fn unknown_and_empty_are_two_things() {
    let section = drawn_ironbark();
    let text = text::hive(&section, TextOptions::default()).to_string();
    assert!(
        text.contains("? not known") && text.contains("· empty cells"),
        "{text}"
    );
    assert!(text.contains("Not looked at: both sides of 1, 2 and 5; right-facing side of 14."));
}

#[test]
fn the_goal_shows_which_bars_are_lifted() {
    let hive = banksia().hive();
    let mut outward = [1, 9, 2, 3].map(in_row).to_vec();
    outward.push(follower());
    let goal = ClosingGoal::of(
        &hive,
        End::Left,
        Some(bar(14)),
        &outward,
        &[bar(2)],
        &zone(),
    );
    let goal = goal.expect("bar 14 is in the row");
    let marked: Vec<u32> = goal
        .goal
        .bars()
        .filter(|b| b.mark.is_some())
        .map(|b| b.number)
        .collect();
    assert_eq!(marked, [2]);
    let picture = svg::closing_goal(&goal, &PictureOptions::default());
    let document = Document::parse(&picture).expect("well-formed");
    let desc = document
        .descendants()
        .find(|n| n.has_tag_name("desc"))
        .and_then(|n| n.text());
    let expected = "From left to right: follower board, bar 3 (comb), bar 2 (comb), bar 9 (empty bar), \
                    bar 1 (comb), bar 14 (comb), bar 5 (comb), bar 4 (comb). Lifted: bars 2.";
    assert_eq!(desc, Some(expected));
    assert_eq!(
        ClosingGoal::of(&hive, End::Left, Some(bar(99)), &[], &[], &zone()),
        None
    );
}

#[test]
fn a_life_shows_every_look_and_what_happened_between() {
    let mut teller = banksia();
    teller.on("2026-08-25T02:00:00Z").open(End::Left);
    teller.cut(1);
    teller.close();
    teller.on("2026-10-25T02:00:00Z").open(End::Left);
    teller.tell(hive::Known::BarHangs {
        bar: bar(1),
        hanging: Hanging::Comb,
    });
    teller.see(1, comb(capped(0.0), capped(0.0)));
    teller.close();
    let hive = teller.hive();
    let life = Life::of(&hive.bars[&bar(1)], &zone());
    let days: Vec<String> = life
        .looks
        .iter()
        .map(|look| look.date.to_string())
        .collect();
    assert_eq!(days, ["2026-08-02", "2026-08-20", "2026-10-25"]);
    let another: Vec<bool> = life.looks.iter().map(|look| look.another_comb).collect();
    assert_eq!(another, [false, false, true]);
    assert_eq!(life.looks[2].since, ["cut"]);
    let picture = svg::life_strip(&life, &hive.body, &PictureOptions::default());
    let document = Document::parse(&picture).expect("well-formed");
    let looks = document
        .descendants()
        .filter(|n| n.attribute("role") == Some("img"));
    assert_eq!(looks.count(), 3);
}
