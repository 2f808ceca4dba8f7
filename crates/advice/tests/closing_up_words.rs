//! What closing up says: the steps, why it cannot be done, and what is wrong with a problem.
//! The sentences are written out, so that a change of words is seen and read.

use advice::closing_up::{Outcome, Step, parse_problem, solve};
use comb::{Tell as _, ToldIn};
use serde_json::{Value, json};

/// A capped straight honey comb.
fn capped(id: &str) -> Value {
    honey(id, 0.9, true)
}

/// An open straight honey comb.
fn open(id: &str) -> Value {
    honey(id, 0.2, true)
}

fn honey(id: &str, capped: f64, straight: bool) -> Value {
    json!({"id": id, "kind": "honey", "capped": capped, "straight": straight,
           "width_mm": 35, "mass_kg": 2.0})
}

fn brood(id: &str) -> Value {
    json!({"id": id, "kind": "brood", "capped": 0.0, "straight": true,
           "width_mm": 35, "mass_kg": 1.5})
}

fn cut(id: &str) -> Value {
    json!({"id": id, "kind": "cut", "width_mm": 35})
}

fn empty(id: &str) -> Value {
    json!({"id": id, "kind": "empty", "width_mm": 35})
}

/// A problem behind an edge of brood, 3 mm of tolerance, a board of 19 mm.
fn problem(cavity_mm: u32, standing: &[Value], loose: &[Value], shims_mm: &[u32]) -> Value {
    json!({"cavity_mm": cavity_mm, "follower_mm": 19, "tolerance_mm": 3,
           "edge": {"kind": "brood", "capped": 0.0, "straight": true},
           "standing": standing, "loose": loose, "shims_mm": shims_mm})
}

fn steps(problem: &Value) -> String {
    let problem = parse_problem(&problem.to_string()).expect("a good problem");
    match solve(&problem).expect("no fault") {
        Outcome::Closed(answer) => lines(&answer.steps),
        Outcome::Impossible { impossible } => panic!("{impossible}"),
    }
}

fn lines(steps: &[Step]) -> String {
    let steps: Vec<String> = steps.iter().map(ToString::to_string).collect();
    steps.join("\n")
}

fn impossible(problem: &Value) -> String {
    let problem = parse_problem(&problem.to_string()).expect("a good problem");
    match solve(&problem).expect("no fault") {
        Outcome::Closed(answer) => panic!("{:?}", answer.order),
        Outcome::Impossible { impossible } => impossible.to_string(),
    }
}

/// The same in inches, which are 25.4 mm by definition; the plan's whole millimetres become the sixteenth
/// that is within half of one.
#[test]
fn a_keeper_who_measures_in_inches_is_told_in_inches() {
    let told = |problem: &Value| {
        let problem = parse_problem(&problem.to_string()).expect("a good problem");
        match solve(&problem).expect("no fault") {
            Outcome::Closed(answer) => {
                let last = answer.steps.last().expect("a step");
                last.told(ToldIn::Us).to_string()
            }
            Outcome::Impossible { impossible } => impossible.told(ToldIn::Us).to_string(),
        }
    };
    let (comb, board) = (35, 19);
    let with = |gap: u32, shims: &[u32]| problem(comb + board + gap, &[capped("b1")], &[], shims);
    insta::assert_snapshot!(told(&with(4, &[3])), @"Push the 1/8 in shim in at the end; 1/32 in stays open.");
    insta::assert_snapshot!(told(&with(30, &[3, 5, 22])), @"Push the shims in at the end: 3/16, 7/8 in; 1/8 in stays open.");
    insta::assert_snapshot!(told(&with(0, &[])), @"No shim is needed; the lid is closed.");
    insta::assert_snapshot!(told(&with(18, &[])), @"23/32 in of lid are missing; no shims are at hand, and no more than 1/8 may stay open; it closes with one more shim of 19/32 to 23/32 in");
    insta::assert_snapshot!(told(&with(200, &[4])), @"7 7/8 in of lid are missing; the shims at hand make at most 5/32, and no more than 1/8 may stay open; it closes with 5 more empty bars of 1 3/8 in and one more shim of 23/32 to 13/16 in");
    insta::assert_snapshot!(told(&problem(comb + board - 4, &[capped("b1")], &[], &[])), @"the combs and the follower board need 2 1/8 in, the cavity has 1 31/32: 5/32 in too much; it closes with a follower board of 19/32 in in place of that of 3/4 in");
}

fn refused(problem: &Value) -> String {
    parse_problem(&problem.to_string())
        .expect_err("a bad problem")
        .to_string()
}

#[test]
fn one_comb_moves_inward_past_two() {
    let standing = [
        brood("b7"),
        capped("b8"),
        open("b9"),
        open("b10"),
        capped("b11"),
    ];
    let loose = [cut("c1"), cut("c2"), empty("e1")];
    insta::assert_snapshot!(steps(&problem(305, &standing, &loose, &[3, 5, 8])), @r"
    Slide b7, then b8 up against the comb that was not moved.
    Set the cut bar c1 against b8.
    Lift b11 out and set it against c1.
    Slide b9, then b10 up against b11.
    Set the cut bar c2 against b10.
    Set the follower board against c2.
    Lay the empty bar e1 beyond the follower board as lid.
    Push the 5 mm shim in at the end; 1 mm stays open.
    ");
}

#[test]
fn brood_keeps_the_way_it_faces() {
    let standing = [capped("b5"), brood("b6"), capped("b7")];
    insta::assert_snapshot!(steps(&problem(160, &standing, &[cut("c1")], &[])), @r"
    Lift b6 out and set it against the comb that was not moved, facing as it hung.
    Slide b5 up against b6.
    Set the cut bar c1 against b5.
    Slide b7 up against c1.
    Set the follower board against b7.
    No shim is needed; 1 mm stays open.
    ");
}

#[test]
fn one_comb_moves_inward_past_many() {
    let crooked = |id| honey(id, 0.9, false);
    let standing = [
        capped("b1"),
        crooked("b2"),
        crooked("b3"),
        crooked("b4"),
        capped("b5"),
    ];
    insta::assert_snapshot!(steps(&problem(229, &standing, &[cut("c1")], &[])), @r"
    Slide b1 up against the comb that was not moved.
    Set the cut bar c1 against b1.
    Lift b5 out and set it against c1.
    Slide b2, then b3, then b4 up against b5.
    Set the follower board against b4.
    No shim is needed; the lid is closed.
    ");
}

#[test]
fn nothing_stands_and_the_lid_is_all() {
    let loose = [empty("e1"), empty("e2"), empty("e3")];
    insta::assert_snapshot!(steps(&problem(127, &[], &loose, &[2, 3])), @r"
    Set the empty bar e3 against the comb that was not moved.
    Set the follower board against e3.
    Lay the empty bars e1, e2 beyond the follower board as lid.
    No shim is needed; 3 mm stay open.
    ");
}

#[test]
fn lid_is_missing() {
    let text = impossible(&problem(107, &[capped("b1"), open("b2")], &[], &[5, 9]));
    insta::assert_snapshot!(text, @"18 mm of lid are missing; the shims at hand make at most 14, and no more than 3 may stay open; it closes with one more shim of 1 to 4 mm");
    let text = impossible(&problem(107, &[capped("b1"), open("b2")], &[], &[]));
    insta::assert_snapshot!(text, @"18 mm of lid are missing; no shims are at hand, and no more than 3 may stay open; it closes with one more shim of 15 to 18 mm");
    let loose = [cut("c1"), cut("c2"), cut("c3")];
    insta::assert_snapshot!(impossible(&problem(160, &[brood("b1")], &loose, &[4])), @"the lid comes out right only with 3 or more loose bars inside, and there is place for 1: between two straight honey combs, or one last before the follower board; it closes with 2 more empty bars of 35 mm");
}

#[test]
fn lid_is_missing_and_cut_bars_find_no_place() {
    let loose = [cut("c1"), cut("c2")];
    insta::assert_snapshot!(impossible(&problem(300, &[brood("b1")], &loose, &[4])), @"211 mm of lid are missing; the shims at hand make at most 4, and no more than 3 may stay open; 1 cut bar finds no place between straight honey combs or last; it closes with 6 more empty bars of 35 mm");
}

#[test]
fn combs_are_too_wide() {
    let standing = [capped("b1"), open("b2"), open("b3")];
    insta::assert_snapshot!(impossible(&problem(111, &standing, &[cut("c1")], &[5])), @"the combs and the follower board need 124 mm, the cavity has 111: 13 mm too much; it closes with comb b3 left out and one more shim of 14 to 17 mm");
}

#[test]
fn no_choice_comes_out_right() {
    let standing = [capped("b1"), open("b2")];
    insta::assert_snapshot!(impossible(&problem(109, &standing, &[empty("e1")], &[5])), @"20 mm of lid are missing; what is at hand makes 5 mm, which leaves 15 open where 3 may stay open, or 35 mm, 15 too much; it closes with one more shim of 12 to 15 mm");
}

#[test]
fn cut_bars_find_no_place() {
    let loose = [cut("c1"), cut("c2")];
    insta::assert_snapshot!(impossible(&problem(124, &[brood("b1")], &loose, &[])), @"the lid comes out right only with 2 or more loose bars inside, and there is place for 1: between two straight honey combs, or one last before the follower board; it closes with 1 more empty bar of 35 mm");
}

/// A shim named as the way out closes it, whichever width of its range it has, and none beside it does.
#[test]
fn the_way_out_that_is_named_closes_it() {
    let standing = [capped("b1"), open("b2")];
    let with = |more: u32| {
        let problem = problem(109, &standing, &[empty("e1")], &[5, more]);
        solve(&parse_problem(&problem.to_string()).expect("a good problem")).expect("no fault")
    };
    for mm in [12, 15] {
        assert!(matches!(with(mm), Outcome::Closed(_)), "{mm} mm");
    }
    for mm in [11, 16] {
        assert!(matches!(with(mm), Outcome::Impossible { .. }), "{mm} mm");
    }
    // a bar's width is told as a bar, though a heap of shims would do
    let text = impossible(&problem(124, &standing, &[], &[6, 6, 6, 6, 6]));
    assert!(
        text.ends_with(
            "it closes with 1 more empty bar of 35 mm, or with one more shim of 2 to 5 mm"
        ),
        "{text}"
    );
    let text = impossible(&problem(
        105,
        &[brood("b1"), brood("b2"), brood("b3")],
        &[],
        &[],
    ));
    assert!(
        text.ends_with("19 mm too much"),
        "brood never leaves: {text}"
    );
    let text = impossible(&problem(
        120,
        &[brood("b1"), brood("b2"), brood("b3")],
        &[],
        &[],
    ));
    assert!(
        text.ends_with("it closes with a follower board of 15 mm in place of that of 19 mm"),
        "{text}"
    );
}

#[test]
fn a_field_at_fault_is_named() {
    let good = problem(300, &[capped("b1"), open("b2")], &[cut("c1")], &[3]);
    let with = |change: &dyn Fn(&mut Value)| {
        let mut problem = good.clone();
        change(&mut problem);
        refused(&problem)
    };
    let messages = [
        with(&|p| p["standing"][1]["width_mm"] = json!(0)),
        with(&|p| p["standing"][1]["width_mm"] = json!(35.5)),
        with(&|p| p["standing"][1]["width_mm"] = json!("35")),
        with(&|p| p["standing"][0]["capped"] = json!(1.5)),
        with(&|p| p["standing"][0]["mass_kg"] = json!(-2)),
        with(&|p| p["standing"][0]["mass_kg"] = json!("heavy")),
        with(&|p| p["standing"][0]["kind"] = json!("pollen")),
        with(&|p| p["standing"][0]["colour"] = json!("dark")),
        with(&|p| p["standing"][0]["id"] = json!(" ")),
        with(&|p| p["loose"][0]["id"] = json!("b2")),
        with(&|p| p["loose"][0]["kind"] = json!(null)),
        with(&|p| p["shims_mm"][0] = json!(-3)),
        with(&|p| p["shims_mm"] = json!(vec![3; 1000])),
        with(&|p| p["cavity_mm"] = json!(1e300)),
        with(&|p| p["edge"]["straight"] = json!(1)),
        with(&|p| p["unit"] = json!("mm")),
        with(&|p| drop(p["standing"][1].as_object_mut().unwrap().remove("width_mm"))),
        with(&|p| drop(p["edge"].as_object_mut().unwrap().remove("kind"))),
        with(&|p| drop(p.as_object_mut().unwrap().remove("cavity_mm"))),
        refused(&json!([1, 2])),
        parse_problem("").unwrap_err().to_string(),
        parse_problem(&format!("{good} {good}"))
            .unwrap_err()
            .to_string(),
    ];
    insta::assert_snapshot!(messages.join("\n"), @r#"
    standing[1].width_mm: invalid value: integer `0`, expected a whole number of millimetres from 1 to 10000, without quotes at line 1 column 267
    standing[1].width_mm: invalid value: floating point `35.5`, expected a whole number of millimetres from 1 to 10000, without quotes at line 1 column 270
    standing[1].width_mm: invalid type: string "35", expected a whole number of millimetres from 1 to 10000, without quotes at line 1 column 270
    standing[0].capped: a share lies between 0 and 1 (0 % and 100 %), this one is 1.5 at line 1 column 154
    standing[0].mass_kg must be from 0 to 100 kg, this one is -2
    standing[0].mass_kg: invalid type: string "heavy", expected a number at line 1 column 202
    standing[0].kind: unknown variant `pollen`, expected `brood` or `honey` at line 1 column 142
    standing[0].colour: unknown field `colour`, expected one of `id`, `kind`, `capped`, `straight`, `width_mm`, `mass_kg` at line 1 column 207
    standing[0].id is empty; every bar needs a name
    loose[0].id is "b2", which another bar is called too
    loose[0].kind: expected value at line 1 column 313
    shims_mm[0]: invalid value: integer `-3`, expected a whole number of millimetres from 1 to 10000, without quotes at line 1 column 348
    shims_mm lists 1000, more than the 24 that are taken at one end
    cavity_mm: invalid value: floating point `1e+300`, expected a whole number of millimetres from 1 to 10000, without quotes at line 1 column 19
    edge.straight: invalid type: integer `1`, expected a boolean at line 1 column 99
    unit: unknown field `unit`, expected one of `cavity_mm`, `follower_mm`, `tolerance_mm`, `edge`, `standing`, `loose`, `shims_mm` at line 1 column 355
    standing[1].width_mm: missing field `width_mm` at line 1 column 269
    edge.kind: missing field `kind` at line 1 column 88
    cavity_mm: missing field `cavity_mm` at line 1 column 333
    problem: invalid length 2, expected struct Problem with 7 elements at line 1 column 5
    problem: EOF while parsing a value at line 1 column 0
    problem: trailing characters at line 1 column 351
    "#);
}

#[test]
fn the_answer_is_the_json_asked_for() {
    let standing = [brood("b7"), capped("b8"), open("b9"), capped("b10")];
    let problem = problem(232, &standing, &[cut("c1"), empty("e1")], &[3, 5, 8]);
    let problem = parse_problem(&problem.to_string()).expect("a good problem");
    let answer = serde_json::to_value(solve(&problem).unwrap()).unwrap();
    insta::assert_json_snapshot!(answer, @r#"
    {
      "order": [
        "b7",
        "b8",
        "c1",
        "b10",
        "b9",
        "e1"
      ],
      "outside": [],
      "shims": [],
      "score": [
        1,
        1,
        0,
        1,
        2.0,
        1,
        0,
        3
      ],
      "lifted": [
        "b9"
      ],
      "steps": [
        "Slide b7, then b8 up against the comb that was not moved.",
        "Set the cut bar c1 against b8.",
        "Lift b9 out and hang it upright on the stand.",
        "Slide b10 up against c1.",
        "Set b9 back in from the stand, against b10.",
        "Set the empty bar e1 against b9.",
        "Set the follower board against e1.",
        "No shim is needed; 3 mm stay open."
      ]
    }
    "#);
}
