//! What holds for every hive that can be drawn.

use comb::contents::{Attachment, Fill, Holding, Straightness};
use comb::{Body, BodyMeasures, Contents, Entrance, FaceContents, Length, Section, Share};
use hive::BarId;
use hive::entry::{End, Hanging};
use paper::{Drawn, DrawnBar, HiveSection, Mark, PictureOptions, TextOptions, Theme, svg, text};
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use roxmltree::{Document, Node};
use unicode_width::UnicodeWidthStr;
use uuid::Uuid;

fn share() -> impl Strategy<Value = Option<Share>> {
    option::weighted(0.3, (0.0..=1.0_f64).prop_map(Share::clamped))
}

/// Faces as they may come out of any journal, overfull ones too.
fn face() -> impl Strategy<Value = FaceContents> {
    let shares = proptest::collection::vec(share(), 10);
    let words = || subsequence(Holding::ALL.to_vec(), 0..4);
    (shares, words(), words()).prop_map(|(shares, present, absent)| FaceContents {
        capped_of_honey: shares[0],
        capped_honey: shares[1],
        unripe: shares[2],
        eggs: shares[3],
        larvae: shares[4],
        capped_brood: shares[5],
        drone_brood: shares[6],
        pollen: shares[7],
        empty: shares[8],
        bare: shares[9],
        present,
        absent,
    })
}

fn contents() -> impl Strategy<Value = Contents> {
    let fill = option::of(select(vec![Fill::Light, Fill::Part, Fill::Full]));
    let words = subsequence(Holding::ALL.to_vec(), 0..3);
    let thickness = option::of((1.0..200.0_f64).prop_map(Length::mm));
    (face(), face(), fill, words, thickness, any::<[bool; 2]>()).prop_map(
        |(left, right, fill, present, thickness_mm, [crossed, attached])| Contents {
            left,
            right,
            present,
            fill,
            thickness_mm,
            straightness: crossed.then_some(Straightness::Crossed),
            attachment: attached.then_some(Attachment::Attached),
            ..Contents::default()
        },
    )
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let hanging = prop_oneof![
        4 => Just(Hanging::Comb),
        1 => Just(Hanging::Strip),
        1 => Just(Hanging::Nothing),
    ];
    let mark = option::of(select(Mark::ALL.to_vec()));
    // mostly as painted, now and then what a slip of the tongue leaves
    let number = prop_oneof![9 => 0..60_u32, 1 => any::<u32>()];
    let bar = (
        number,
        20.0..60.0_f64,
        hanging,
        contents(),
        mark,
        any::<bool>(),
    )
        .prop_map(|(number, width, hanging, contents, mark, aside)| {
            Drawn::Bar(DrawnBar {
                id: BarId(Uuid::nil()),
                number,
                place: 0,
                width: Length::mm(width),
                hanging,
                aside,
                contents,
                seen: None,
                mark,
            })
        });
    let width = || (1.0..40.0_f64).prop_map(Length::mm);
    prop_oneof![
        8 => bar,
        1 => width().prop_map(|width| Drawn::Follower { width }),
        1 => width().prop_map(|width| Drawn::Shim { width }),
    ]
}

fn body() -> impl Strategy<Value = Body> {
    let entrance = select(vec![Entrance::LeftEnd, Entrance::RightEnd]);
    let shape = select(vec![
        Section::Sloped,
        Section::Rectangular,
        Section::Rounded,
    ]);
    (
        300.0..2500.0_f64,
        200.0..600.0_f64,
        0.3..1.0_f64,
        200.0..500.0_f64,
        shape,
        entrance,
    )
        .prop_map(|(length, top, narrowed, depth, section, entrance)| {
            let bottom = if section == Section::Rectangular {
                top
            } else {
                top * narrowed
            };
            Body::new(BodyMeasures {
                cavity_length_mm: Length::mm(length),
                top_width_mm: Length::mm(top),
                bottom_width_mm: Length::mm(bottom),
                depth_mm: Length::mm(depth),
                section,
                entrance,
                bar_width_mm: Length::mm(35.0),
            })
        })
        .prop_filter_map("a body that can be", Result::ok)
}

prop_compose! {
    fn section()(
        name in any::<String>(),
        body in body(),
        opened in subsequence(vec![End::Left, End::Right], 0..=2),
        mut pieces in proptest::collection::vec(drawn(), 0..60),
        unmoved in any::<bool>(),
        lid in 0..9_usize,
    ) -> HiveSection {
        let mut place = 0;
        let bars = pieces.iter().filter(|piece| piece.bar().is_some()).count();
        for piece in &mut pieces {
            if let Drawn::Bar(bar) = piece {
                place += 1;
                bar.place = place;
                if unmoved {
                    bar.number = place;
                }
                if place as usize + lid > bars {
                    bar.hanging = Hanging::Nothing;
                    bar.mark = None;
                }
                bar.id = BarId(Uuid::from_u128(u128::from(place)));
            }
        }
        HiveSection { name, date: None, body, opened, pieces }
    }
}

fn options() -> impl Strategy<Value = PictureOptions> {
    let theme = select(vec![Theme::Light, Theme::Dark, Theme::Page]);
    (
        0..2000_u32,
        any::<[bool; 3]>(),
        theme,
        0..40_u32,
        any::<String>(),
    )
        .prop_map(
            |(
                width_px,
                [large_print, with_heading, with_legend],
                theme,
                least_bar_px,
                id_prefix,
            )| {
                PictureOptions {
                    width_px,
                    large_print,
                    theme,
                    highlight: Some(BarId(Uuid::from_u128(2))),
                    least_bar_px,
                    with_heading,
                    with_legend,
                    told_in: if large_print {
                        comb::ToldIn::Us
                    } else {
                        comb::ToldIn::Metric
                    },
                    id_prefix,
                }
            },
        )
}

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name)
        .and_then(|text| text.parse().ok())
        .expect("a number")
}

fn parts<'a>(document: &'a Document<'_>, name: &'a str, value: &'a str) -> Vec<Node<'a, 'a>> {
    let nodes = document.descendants();
    nodes
        .filter(|node| node.attribute(name) == Some(value))
        .collect()
}

fn rect_width(group: &Node<'_, '_>) -> f64 {
    let mut rects = group.children().filter(|node| node.has_tag_name("rect"));
    number(rects.next().expect("a piece is a rectangle first"), "width")
}

/// A number, or all numbers of "21..33".
fn run(text: &str) -> Vec<String> {
    let Some((from, to)) = text.split_once("..") else {
        return vec![text.to_owned()];
    };
    let (from, to): (u32, u32) = (
        from.parse().expect("a number"),
        to.parse().expect("a number"),
    );
    let mut all: Vec<String> = (from.min(to)..=from.max(to))
        .map(|n| n.to_string())
        .collect();
    if from > to {
        all.reverse();
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    #[test]
    fn every_picture_is_xml_with_a_title_and_every_comb(section in section(), options in options()) {
        let picture = svg::hive(&section, &options);
        let document = Document::parse(&picture).expect("well-formed");
        let svg = document.root_element();
        let mut named = svg.children().filter(|n| n.has_tag_name("title") || n.has_tag_name("desc"));
        prop_assert!(named.all(|n| n.text().is_some()));
        for id in ["aria-labelledby", "aria-describedby"] {
            let target = svg.attribute(id).expect("named for a screen reader");
            prop_assert_eq!(parts(&document, "id", target).len(), 1);
        }
        for bar in section.bars() {
            let id = bar.id.to_string();
            let groups = parts(&document, "data-bar", &id);
            prop_assert_eq!(groups.len(), 1);
            let filled = groups[0].descendants().filter(|n| {
                n.attribute("fill").is_some_and(|fill| fill.starts_with("url(#"))
            });
            if bar.has_comb() {
                prop_assert!(filled.count() >= 2, "both sides are drawn");
            }
        }
        prop_assert_eq!(&picture, &svg::hive(&section, &options), "the same to the byte");

        // taken apart: each part by itself is one element, and all of them are the picture
        let (start, parts) = svg::parts(&picture).expect("a picture");
        let root = document.root_element();
        prop_assert_eq!(parts.len(), root.children().filter(Node::is_element).count());
        prop_assert_eq!(format!("{start}\n{}</svg>\n", parts.concat()), picture.clone());
    }

    #[test]
    fn widths_are_to_scale_and_fill_the_cavity(section in section()) {
        let options = PictureOptions { least_bar_px: 0, ..PictureOptions::default() };
        let picture = svg::hive(&section, &options);
        let document = Document::parse(&picture).expect("well-formed");
        let cavity = parts(&document, "data-part", "cavity");
        prop_assert_eq!(cavity.len(), 1);
        let px = number(cavity[0], "width");
        let longest = section.body.cavity_length().max(section.row_length()).to_mm();
        let drawn: f64 = ["bar", "follower", "shim"]
            .iter()
            .flat_map(|piece| parts(&document, "data-piece", piece))
            .map(|group| rect_width(&group))
            .sum();
        let free = section.free_length().max(Length::ZERO).to_mm();
        let filled = drawn + free * px / longest;
        // every width is written to a hundredth
        let rounding = 0.01 * (section.pieces.len() + 1) as f64;
        prop_assert!((filled - px).abs() <= rounding, "{filled} of {px}");
    }

    #[test]
    fn broken_rows_draw_every_piece_once(section in section(), least in 0..60_u32) {
        let options = PictureOptions { least_bar_px: least, width_px: 390, ..PictureOptions::default() };
        let picture = svg::hive(&section, &options);
        let document = Document::parse(&picture).expect("well-formed");
        let drawn = document.descendants().filter(|n| n.attribute("data-piece").is_some());
        prop_assert_eq!(drawn.count(), section.pieces.len());
    }

    #[test]
    fn a_comb_in_hand_is_xml(section in section(), options in options()) {
        for bar in section.bars().take(3) {
            let picture = svg::comb_large(&section, bar.id, &options).expect("it is in the row");
            prop_assert!(Document::parse(&picture).is_ok());
        }
        let stranger = BarId(Uuid::from_u128(u128::MAX));
        prop_assert_eq!(svg::comb_large(&section, stranger, &options), None);
    }

    #[test]
    fn drawn_text_keeps_to_its_columns_and_shows_every_bar(
        section in section(),
        columns in 0..120_usize,
        ascii in any::<bool>(),
        us in any::<bool>(),
        levels in 0..20_usize,
    ) {
        let told_in = if us { comb::ToldIn::Us } else { comb::ToldIn::Metric };
        let options = TextOptions { columns, ascii, levels, told_in };
        let most = columns.clamp(40, 80);
        let drawing = text::hive(&section, options);
        let table = text::bar_table(&section, options);
        for line in drawing.plain_lines().chain(table.plain_lines()) {
            prop_assert!(line.width() <= most, "{} columns: {line:?}", line.width());
            prop_assert!(!line.chars().any(char::is_control), "{line:?}");
            prop_assert!(!ascii || !section.name.is_ascii() || line.is_ascii(), "{line:?}");
        }
        let numbers: Vec<String> = drawing
            .plain_lines()
            .filter(|line| line.starts_with("bar "))
            .flat_map(|line| line.split_whitespace().skip(1).flat_map(run).collect::<Vec<_>>())
            .collect();
        let expected: Vec<String> = section.bars().map(|bar| bar.number.to_string()).collect();
        prop_assert_eq!(numbers, expected);
    }

    #[test]
    fn the_bands_of_a_face_fill_it(contents in contents()) {
        let bar = Drawn::Bar(DrawnBar {
            id: BarId(Uuid::nil()),
            number: 1,
            place: 1,
            width: Length::mm(35.0),
            hanging: Hanging::Comb,
            aside: false,
            contents,
            seen: None,
            mark: None,
        });
        for face in bar.bar().and_then(DrawnBar::faces).expect("a comb") {
            let sum: f64 = face.bands.iter().map(|band| band.share.get()).sum();
            prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}");
            prop_assert!(face.bands.windows(2).all(|pair| pair[0].kind < pair[1].kind));
            prop_assert!(face.built.get() > 0.0);
        }
    }
}
