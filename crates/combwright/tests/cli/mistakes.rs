//! Slips at the command line that would spoil a sound record: refused with what to do, or asked about.

use crate::support::Desk;

fn says(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "no \"{part}\" in: {text}");
    }
}

#[test]
fn words_that_begin_with_another_hive_are_not_recorded_into_this_one() {
    let desk = Desk::at_wattle_bend();
    for said in [
        "ironbark left end twenty three degrees\nbar nine half capped both sides\n",
        "Okay, this is Ironbark.\nleft end\nbar nine half capped both sides\n",
        "tea tree left end\nbar five half capped both sides\n",
    ] {
        let file = desk.file("visit.txt", said);
        let file = file.to_str().unwrap();
        let err = desk.refuses(1, &["hear", file, "--into", "Banksia"]);
        let other = if said.starts_with("tea") {
            "Tea-tree"
        } else {
            "Ironbark"
        };
        let parts = [other, "not Banksia", "nothing was recorded", "--anyway"];
        says(&err, &parts);
        says(&err, &[&format!("--into {other}")]);
        let before = desk.length();
        let out = desk.does(&["hear", file, "--into", "Banksia", "--dry-run"]);
        says(&out, &["? the words begin with", "right hive?"]);
        assert_eq!(desk.length(), before);
    }
    let file = desk.path().join("visit.txt");
    let file = file.to_str().unwrap();
    desk.does(&["hear", file, "--into", "Banksia", "--anyway"]);
}

#[test]
fn talk_of_another_hive_does_not_hold_up_a_recording() {
    let desk = Desk::at_wattle_bend();
    for name in ["Left", "Honey", "Sunny", "Two"] {
        desk.does(&["yard", "new", name]);
    }
    for said in [
        "banksia left end\nbar five half capped both sides\nironbark had more\n",
        "left end\nbar five half capped both sides\nironbark had more of it\n",
        "we had less at ironbark\nleft end\nbar five half capped both sides\n",
        "honey everywhere\nleft end\nbar five half capped both sides\n",
        "sunny, calm\nleft end\nbar five half capped both sides\n",
        "two bars of lid off\nleft end\nbar five half capped both sides\n",
    ] {
        let file = desk.file("visit.txt", said);
        let file = file.to_str().unwrap();
        let out = desk.does(&["hear", file, "--into", "Banksia", "--dry-run"]);
        assert!(!out.contains("right hive?"), "{said}: {out}");
    }
}

#[test]
fn a_numbered_name_is_heard_with_or_without_its_nought() {
    let desk = Desk::empty();
    for name in ["Hive 01", "Hive 02"] {
        desk.does(&["yard", "new", name, "--combs", "12"]);
    }
    let file = desk.file(
        "visit.txt",
        "hive 2 left end\nbar five half capped both sides\n",
    );
    let file = file.to_str().unwrap();
    let err = desk.refuses(1, &["hear", file, "--into", "Hive 01"]);
    says(&err, &["begin with Hive 02", "--into \"Hive 02\""]);
    desk.does(&["hear", file, "--into", "Hive 02"]);
}

#[test]
fn the_same_words_are_recorded_once() {
    let desk = Desk::at_wattle_bend();
    let said = "left end\nbar seventeen all capped both sides\ntake it\nbar fifteen half capped both sides\n";
    let file = desk.file("visit.txt", said);
    let file = file.to_str().unwrap();
    let hear = ["hear", file, "--into", "Ironbark"];
    desk.does(&hear);
    let err = desk.refuses(1, &hear);
    says(&err, &["recorded for Ironbark already, on 20", "--anyway"]);
    let out = desk.does(&[&hear[..], &["--dry-run"]].concat());
    says(&out, &["? the same words were recorded", "told twice?"]);
    // other words of the same day, and another hive, are other visits
    let other = desk.file(
        "other.txt",
        "left end\nbar fifteen half capped both sides\n",
    );
    desk.does(&["hear", other.to_str().unwrap(), "--into", "Ironbark"]);
    desk.does(&["hear", file, "--into", "Banksia"]);
    desk.does(&[&hear[..], &["--anyway"]].concat());
}

#[test]
fn words_taken_back_can_be_recorded_again() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file(
        "visit.txt",
        "left end\nbar fifteen half capped both sides\n",
    );
    let file = file.to_str().unwrap();
    let hear = ["hear", file, "--into", "Ironbark", "--on", "2025-04-01"];
    desk.does(&hear);
    desk.refuses(1, &hear);
    desk.does(&["journal", "undo", "Ironbark", "2"]);
    desk.does(&hear);
    // and a year later the same may be said
    let later = ["hear", file, "--into", "Ironbark", "--on", "2025-05-01"];
    desk.does(&later);
}

#[test]
fn a_hive_that_has_ended_is_told_as_ended() {
    let desk = Desk::empty();
    desk.does(&["yard", "new", "Hive 02", "--combs", "5-18"]);
    desk.does(&["yard", "end", "Hive 02", "died out"]);
    let file = desk.file("visit.txt", "left end\nbar five half capped both sides\n");
    let into = ["hear", file.to_str().unwrap(), "--into", "Hive 02"];
    says(
        &desk.refuses(1, &into),
        &["Hive 02 ended on", "died out", "nothing was recorded"],
    );
    let again = desk.refuses(1, &["yard", "end", "Hive 02", "sold"]);
    says(
        &again,
        &["Hive 02 ended on", "died out", "nothing was recorded"],
    );
    for command in ["advise", "show"] {
        let out = desk.does(&[command, "Hive 02"]);
        let first = out.lines().next().unwrap();
        assert!(
            first.starts_with("Hive 02 ended on ") && first.ends_with(": died out"),
            "{out}"
        );
        assert!(!out.contains("Return"), "{out}");
    }
    let json = desk.json(&["advise", "Hive 02"]);
    assert_eq!(json["ended"]["why"], "died out");
    // what was before it can still be asked for
    desk.does(&["journal", "undo", "Hive 02"]);
    desk.does(&into);
}

#[test]
fn without_combs_told_no_comb_hangs() {
    let desk = Desk::empty();
    let out = desk.does(&["yard", "new", "Waratah", "--length", "1100"]);
    says(&out, &["no comb hangs in it yet"]);
    let hive = desk.json(&["show", "Waratah"]);
    let bars = hive["bars"].as_object().unwrap();
    assert!(
        bars.values().all(|bar| bar["hanging"] == "nothing"),
        "{hive}"
    );
    let out = desk.does(&["yard", "new", "Banksia", "--combs", "5-18"]);
    says(&out, &["combs hang on bars 5 to 18"]);
}

#[test]
fn an_export_that_was_cut_off_is_told_as_not_whole() {
    let desk = Desk::at_wattle_bend();
    let whole = desk.path().join("whole.jsonl");
    desk.does(&["journal", "export", whole.to_str().unwrap()]);
    let bytes = std::fs::read(&whole).unwrap();
    let cut = desk.file("cut.jsonl", &bytes[..bytes.len() - 40]);
    let err = desk.refuses(1, &["journal", "import", cut.to_str().unwrap()]);
    says(
        &err,
        &[
            "cut off in its middle",
            "not whole",
            "Copy the file anew",
            "Nothing was recorded",
        ],
    );
    assert!(!err.contains("EOF"), "{err}");
    let err = desk.refuses(1, &["journal", "import", "no-such-file.jsonl"]);
    says(&err, &["no-such-file.jsonl cannot be read"]);
}

#[test]
fn a_day_that_is_none_is_told_as_such() {
    let desk = Desk::at_wattle_bend();
    let err = desk.refuses(
        1,
        &["paper", "book", "--from", "nonsense", "--out", "x.pdf"],
    );
    says(&err, &["\"nonsense\" is no day", "2026-11-14"]);
    let err = desk.refuses(2, &["health", "treat", "Ironbark", "x", "--on", "nonsense"]);
    says(&err, &["write a day as 2026-11-14"]);
}

#[test]
fn a_data_folder_that_is_not_there_is_named() {
    let desk = Desk::empty();
    let folder = desk.path().join("not-there");
    let out = desk.does(&["--data", folder.to_str().unwrap(), "yard"]);
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    says(
        &out,
        &[
            "No hives yet",
            "not-there is not there; it will be made when something is",
        ],
    );
    assert!(!folder.exists());
    assert!(!desk.does(&["yard"]).contains("will be made"));
}

#[test]
fn a_number_that_no_bar_bears_is_blamed_before_the_end() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file("visit.txt", "hello\nbar ninety nine capped\n");
    let err = desk.refuses(1, &["hear", file.to_str().unwrap(), "--into", "Ironbark"]);
    says(
        &err,
        &[
            "there is no bar 99 in Ironbark",
            "1 to 33",
            "nothing was recorded",
        ],
    );
}

#[test]
fn a_reserve_beyond_the_hive_is_told_as_such() {
    let desk = Desk::at_wattle_bend();
    let out = desk.does(&["yard", "reserve", "Ironbark", "--combs", "50"]);
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    says(
        &out,
        &["Mind: that is more than the hive can hold, it has 33 bars."],
    );
    assert!(
        !desk
            .does(&["yard", "reserve", "Ironbark", "--combs", "6"])
            .contains("Mind")
    );
}
