//! What is recorded, taken back, given to another device and taken in.

use crate::support::Desk;

#[test]
fn a_dry_run_keeps_nothing() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file(
        "visit.txt",
        "banksia right end\nbar fifteen all capped both sides\ntake it\n",
    );
    let before = desk.length();
    let out = desk.does(&[
        "hear",
        file.to_str().unwrap(),
        "--into",
        "Banksia",
        "--dry-run",
    ]);
    assert!(out.contains("Would record for Banksia"), "{out}");
    assert_eq!(desk.length(), before);
    desk.does(&["hear", file.to_str().unwrap(), "--into", "Banksia"]);
    assert!(desk.length() > before);
}

#[test]
fn undo_and_redo_are_entries_and_meet_in_the_middle() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file(
        "visit.txt",
        "banksia right end\nbar fifteen all capped both sides\ntake it\nbar fourteen leave that\n",
    );
    desk.does(&["hear", file.to_str().unwrap(), "--into", "Banksia"]);
    let hive = || desk.json(&["show", "Banksia"]);
    let after = hive();
    let length = desk.length();
    desk.does(&["journal", "undo", "Banksia", "2"]);
    assert_ne!(hive(), after);
    assert!(desk.length() > length, "an undo is one more entry");
    desk.does(&["journal", "redo", "Banksia", "2"]);
    assert_eq!(hive(), after);
    let err = desk.refuses(1, &["journal", "redo", "Banksia"]);
    assert!(err.contains("nothing"), "{err}");
}

#[test]
fn a_correction_is_told_before_and_after() {
    let desk = Desk::at_wattle_bend();
    desk.does(&["journal", "note", "Banksia", "bees on the whattle"]);
    let last = desk.json(&["journal", "list", "-n", "1"]);
    let id = last[0]["id"].as_str().unwrap();
    let right = r#"{"kind":"note","text":"bees on the wattle"}"#;
    let out = desk.does(&["journal", "correct", &id[id.len() - 8..], right]);
    assert_eq!(
        out,
        "Before: note: bees on the whattle\nNow:    note: bees on the wattle\n"
    );
}

#[test]
fn what_is_exported_comes_back_whole() {
    let desk = Desk::at_wattle_bend();
    let copy = desk.path().join("copy.jsonl");
    desk.does(&["journal", "export", copy.to_str().unwrap()]);
    let other = Desk::empty();
    let joined = other.json(&["journal", "import", copy.to_str().unwrap()]);
    assert_eq!(joined["new"].as_u64(), Some(desk.length()));
    assert_eq!(
        other.json(&["show", "Tea-tree"]),
        desk.json(&["show", "Tea-tree"])
    );
    let again = other.json(&["journal", "import", copy.to_str().unwrap()]);
    assert_eq!(again["new"], 0);
    assert_eq!(other.json(&["journal", "verify"])["sound"], true);
    let printed = desk.does(&["journal", "export", "-"]);
    assert_eq!(printed, std::fs::read_to_string(copy).unwrap());
}

#[test]
fn two_devices_merge_to_one_record_either_way() {
    let (one, two) = (Desk::at_wattle_bend(), Desk::empty());
    let folder = |desk: &Desk| desk.path().to_str().unwrap().to_owned();
    two.does(&["journal", "merge", &folder(&one)]);
    one.does(&["journal", "note", "Ironbark", "said on the first"]);
    two.does(&["journal", "note", "Banksia", "said on the second"]);
    one.does(&["journal", "merge", &folder(&two)]);
    two.does(&["journal", "merge", &folder(&one)]);
    for hive in ["Ironbark", "Banksia", "Stringybark"] {
        assert_eq!(
            one.json(&["show", hive]),
            two.json(&["show", hive]),
            "{hive}"
        );
    }
    assert_eq!(one.length(), two.length());
    assert_eq!(one.json(&["journal", "verify"])["sound"], true);
}

#[test]
fn the_demo_is_not_laid_over_hives_of_your_own() {
    let desk = Desk::empty();
    desk.does(&["yard", "new", "Waratah", "--combs", "8"]);
    let err = desk.refuses(1, &["yard", "demo"]);
    assert!(err.contains("holds hives already"), "{err}");
}

#[test]
fn combs_for_the_split_go_to_the_other_hive_with_their_record() {
    let desk = Desk::at_wattle_bend();
    desk.does(&[
        "yard",
        "new",
        "Waratah",
        "--first-number",
        "60",
        "--combs",
        "0",
    ]);
    let file = desk.file(
        "split.txt",
        "banksia right end\nbar twenty one sealed brood both sides\nthat goes in the split\n",
    );
    let hear = [
        "hear",
        file.to_str().unwrap(),
        "--into",
        "Banksia",
        "--split-to",
        "Waratah",
    ];
    desk.does(&hear);
    let life = desk.does(&["show", "Waratah", "--bar", "21"]);
    assert!(life.contains("came from Banksia, bar 21 there"), "{life}");
    assert!(life.contains("worker brood in Banksia"), "{life}");
}

#[test]
fn one_word_takes_the_last_phrase_back() {
    let desk = Desk::empty();
    for word in ["undo", "scratch that"] {
        let words = format!("right end\nbar nine all capped both sides take it\n{word}\n");
        let file = desk.file("visit.txt", words);
        let heard = desk.json(&["hear", file.to_str().unwrap(), "--summary"]);
        assert_eq!(
            heard["combs"][0]["decision"],
            serde_json::Value::Null,
            "{word}"
        );
        assert_eq!(heard["combs"][0]["this"], serde_json::Value::Null, "{word}");
        assert_eq!(heard["end"], "right", "{word}");
    }
}

#[test]
fn a_comb_carried_away_is_missed_over_the_box() {
    let desk = Desk::empty();
    let new = ["yard", "new", "Waratah", "--length", "649", "--bars", "18"];
    desk.does(&[&new[..], &["--combs", "1-9", "--followers", "right"]].concat());
    let file = desk.file(
        "visit.txt",
        "right end\nbar nine capped both sides this one goes to the split\n\
         bar eight capped both sides leave\nbar seven is brood\nthat's the nest\n",
    );
    let told = desk.does(&["hear", file.to_str().unwrap(), "--into", "Waratah"]);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    // 18 bars of 35 mm and a board of 19 mm lay over 649 mm
    for part in [
        "35 mm of lid are missing",
        "it closes with 1 more empty bar of 35 mm",
        "Set the follower board",
    ] {
        assert!(told.contains(part), "no \"{part}\" in: {told}");
    }
    let yard = desk.does(&["yard"]);
    assert!(yard.contains("unseen"), "unknown is not nothing: {yard}");
}

#[test]
fn a_long_hive_with_a_small_colony_is_closed() {
    let desk = Desk::empty();
    let new = ["yard", "new", "Waratah", "--length", "1510", "--bars", "41"];
    desk.does(&[&new[..], &["--combs", "1-9"]].concat());
    let file = desk.file(
        "visit.txt",
        "right end\nbar nine is brood\nthat's the nest\n",
    );
    let told = desk.does(&["hear", file.to_str().unwrap(), "--into", "Waratah"]);
    assert!(told.contains("Set the follower board"), "{told}");
}
