//! Each bad input gets a clear error and an exit code; nothing is half-recorded.

use std::time::Instant;

use crate::support::Desk;

fn says(err: &str, parts: &[&str]) {
    for part in parts {
        assert!(err.contains(part), "no \"{part}\" in: {err}");
    }
}

#[test]
fn empty_files_are_refused() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file("empty.txt", "");
    let err = desk.refuses(1, &["hear", file.to_str().unwrap(), "--into", "Ironbark"]);
    says(&err, &["is empty", "one line per pause"]);
    let file = desk.file("blank.txt", " \n\n\t\n");
    desk.refuses(1, &["hear", file.to_str().unwrap(), "--into", "Ironbark"]);
    desk.refuses(1, &["hear", file.to_str().unwrap(), "--summary"]);
}

#[test]
fn files_that_are_no_text_are_refused() {
    let desk = Desk::at_wattle_bend();
    let sound = desk.file("visit.wav", b"RIFF\x24\x00\x00\x00WAVEfmt \x10\x00\xff\xfe");
    let err = desk.refuses(1, &["hear", sound.to_str().unwrap(), "--into", "Ironbark"]);
    says(&err, &["is not text", "turned into text first"]);
    let latin = desk.file("latin.txt", b"left end caf\xe9");
    let err = desk.refuses(1, &["hear", latin.to_str().unwrap(), "--into", "Ironbark"]);
    says(&err, &["not UTF-8 text, byte 13"]);
    let err = desk.refuses(1, &["hear", "no-such-file.txt", "--into", "Ironbark"]);
    says(&err, &["cannot be read", "no-such-file.txt"]);
    let folder = desk.path().to_str().unwrap();
    desk.refuses(1, &["hear", folder, "--into", "Ironbark"]);
}

#[test]
fn fifty_megabytes_of_chatter_are_heard_through() {
    let desk = Desk::at_wattle_bend();
    // not optimised, 50 MB take a minute: a tenth shows the same, `cargo test --release` all of it
    let megabytes = if cfg!(debug_assertions) { 5 } else { 50 };
    let line = "well the neighbour said his dog had got into the shed again and there was paint everywhere\n";
    let chatter = line.repeat(megabytes * 1024 * 1024 / line.len());
    let file = desk.file("chatter.txt", chatter);
    let began = Instant::now();
    let err = desk.refuses(1, &["hear", file.to_str().unwrap(), "--into", "Ironbark"]);
    println!(
        "{megabytes} MB of chatter: {:.1} s",
        began.elapsed().as_secs_f64()
    );
    says(&err, &["nothing about a hive was understood"]);
}

#[test]
fn a_hive_that_is_not_there_brings_near_names() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file(
        "visit.txt",
        "left end\nbar nine all capped both sides\nleave it\n",
    );
    let err = desk.refuses(1, &["hear", file.to_str().unwrap(), "--into", "Ironbrak"]);
    says(&err, &["Ironbrak", "did you mean Ironbark?"]);
    for args in [["advise", "Bankisa"], ["show", "Bankisa"]] {
        says(&desk.refuses(1, &args), &["Banksia"]);
    }
    let empty = Desk::empty();
    let err = empty.run(&["show", "Ironbark"]).err;
    says(&err, &["yard new"]);
}

#[test]
fn shares_above_one_are_refused() {
    let desk = Desk::at_wattle_bend();
    let problem = r#"{"cavity_mm":500,"follower_mm":19,"tolerance_mm":3,
        "edge":{"kind":"brood","capped":0.0,"straight":true},
        "standing":[{"id":"1","kind":"honey","capped":1.4,"straight":true,"width_mm":35,"mass_kg":2.0}],
        "loose":[],"shims_mm":[]}"#;
    let file = desk.file("problem.json", problem);
    let err = desk.refuses(1, &["advise", "--closing", file.to_str().unwrap()]);
    says(&err, &["1.4"]);

    let list = desk.json(&["journal", "list", "Ironbark", "-n", "400"]);
    let seen = list
        .as_array()
        .unwrap()
        .iter()
        .find(|e| e["what"]["kind"] == "comb_seen")
        .unwrap();
    let mut what = seen["what"].clone();
    what["contents"]["left"]["capped_of_honey"] = 1.4.into();
    let id = seen["id"].as_str().unwrap();
    let err = desk.refuses(1, &["journal", "correct", id, &what.to_string()]);
    says(&err, &["journal list --json"]);
    says(
        &desk.refuses(1, &["yard", "ripe", "Ironbark", "140"]),
        &["140"],
    );
}

#[test]
fn bars_that_are_not_there_are_named_with_those_that_are() {
    let desk = Desk::at_wattle_bend();
    let talk = "left end\nbar nine all capped both sides\nleave it\nbar seventy all capped both sides\ntake it\n";
    let file = desk.file("visit.txt", talk);
    let err = desk.refuses(1, &["hear", file.to_str().unwrap(), "--into", "Ironbark"]);
    says(&err, &["no bar 70", "1 to 33", "nothing was recorded"]);
    says(
        &desk.refuses(1, &["show", "Ironbark", "--bar", "70"]),
        &["70"],
    );
}

#[test]
fn visits_at_impossible_times_are_refused() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file(
        "visit.txt",
        "left end\nbar nine all capped both sides\nleave it\n",
    );
    let hear = |when: &str| {
        desk.refuses(
            1,
            &[
                "hear",
                file.to_str().unwrap(),
                "--into",
                "Ironbark",
                "--on",
                when,
            ],
        )
    };
    says(&hear("2999-01-01"), &["2999-01-01 is still to come"]);
    // the last visit to Ironbark is twelve days before TODAY
    says(&hear("2025-03-01"), &["the last visit to Ironbark"]);
    says(&hear("2020-01-01"), &["Ironbark began"]);
    says(&hear("the day after"), &["is no day", "2026-11-14"]);
    says(
        &desk.refuses(1, &["yard", "demo", "--on", "2999-01-01"]),
        &["future"],
    );
}

#[test]
fn bodies_that_cannot_be_are_refused() {
    let desk = Desk::at_wattle_bend();
    let new = |args: &[&str]| desk.refuses(1, &[&["yard", "new", "Waratah"], args].concat());
    let err = new(&["--top", "500", "--bottom", "400", "--depth", "300"]);
    says(&err, &["400", "300"]);
    new(&["--length", "0"]);
    new(&["--depth", "-3"].map(|a| if a == "-3" { "0" } else { a }));
    says(&new(&["--top", "15"]), &["inches"]);
    says(&new(&["--bars", "60"]), &["60 bars", "At most"]);
    says(&new(&["--combs", "5-90"]), &["5-90"]);
    says(
        &desk.refuses(1, &["yard", "new", "ironbark"]),
        &["ironbark"],
    );
}

#[test]
fn malformed_json_is_refused() {
    let desk = Desk::at_wattle_bend();
    let file = desk.file("bad.json", "{\"cavity_mm\": 500,");
    let path = file.to_str().unwrap();
    says(
        &desk.refuses(1, &["advise", "--closing", path]),
        &["cavity_mm"],
    );
    let id = desk.json(&["journal", "list", "-n", "1"])[0]["id"]
        .as_str()
        .unwrap()
        .to_owned();
    says(
        &desk.refuses(1, &["journal", "correct", &id, "{"]),
        &["no entry"],
    );
    says(
        &desk.refuses(1, &["journal", "correct", "zzzz", "{}"]),
        &["zzzz"],
    );
    let lines = desk.file("bad.jsonl", "{\"v\":1}\nnot json\n");
    let before = desk.length();
    let ran = desk.run(&["journal", "import", lines.to_str().unwrap()]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    assert_eq!(desk.length(), before);
}

#[test]
fn wrong_usage_has_its_own_code() {
    let desk = Desk::empty();
    assert_eq!(desk.run(&["frobnicate"]).code, 2);
    assert_eq!(desk.run(&["hear"]).code, 2);
    assert_eq!(
        desk.run(&["hear", "a.txt", "--summary", "--into", "X"])
            .code,
        2
    );
}

#[test]
fn failures_as_json_parse() {
    let desk = Desk::at_wattle_bend();
    let ran = desk.run(&["--json", "show", "Bankisa"]);
    assert_eq!(ran.code, 1);
    let told: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
    assert!(told["error"].as_str().unwrap().contains("Bankisa"));
    assert!(told["help"].as_str().unwrap().contains("Banksia"));
}

#[test]
fn a_negative_figure_is_a_figure_and_gets_its_own_answer() {
    let desk = Desk::at_wattle_bend();
    for (args, told) in [
        (
            &["season", "Ironbark", "--honey", "-2"][..],
            "stores of -2 kg",
        ),
        (
            &["advise", "Ironbark", "--shims", "-3"],
            "-3 mm is no width",
        ),
        (
            &["yard", "reserve", "Ironbark", "--kg", "-3"],
            "from 0 to 200 kg",
        ),
        (
            &[
                "yard",
                "apiary",
                "Far",
                "--latitude",
                "-94",
                "--longitude",
                "2",
            ],
            "-90 to 90",
        ),
    ] {
        says(&desk.refuses(1, args), &[told]);
    }
    for args in [
        &["advise", "Ironbark", "--worth", "-1"][..],
        &["journal", "undo", "Ironbark", "-1"],
        &["show", "Ironbark", "--bar", "-3"],
    ] {
        let err = desk.run(args).err;
        says(&err, &["write a whole number"]);
        assert!(!err.contains("tip:"), "{err}");
    }
    desk.does(&[
        "yard",
        "apiary",
        "South",
        "--latitude",
        "-34.4",
        "--longitude",
        "-58.1",
    ]);
}
