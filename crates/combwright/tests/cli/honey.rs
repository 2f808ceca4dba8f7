//! The honey house from comb to jar and back, and everything that cannot be.

use serde_json::Value;

use crate::support::Desk;

/// The two combs that wait at Wattle Bend in a pail, a lot of 3.3 kg, nine jars of 340 g.
fn with_jars() -> Desk {
    let desk = Desk::at_wattle_bend();
    desk.does(&[
        "honey",
        "seller",
        "--region",
        "uk",
        "--country",
        "Wales",
        "--business",
        "A. Keeper, 1 Lane, Town",
    ]);
    desk.does(&["honey", "pail", "white", "--kg", "4.2kg"]);
    desk.does(&[
        "honey", "lot", "26-1", "--pails", "white", "--honey", "3.3kg",
    ]);
    desk.does(&["honey", "jars", "26-1", "--net", "340g", "--count", "9"]);
    desk
}

/// A lot as `combwright honey` lists it.
fn lot(desk: &Desk, name: &str) -> Value {
    let house = desk.json(&["honey"]);
    let mut lots = house["lots"].as_array().expect("a list").iter();
    let found = lots.find(|lot| lot["lot"] == name).cloned();
    found.unwrap_or_else(|| panic!("no lot {name}: {house}"))
}

/// The line of the ledger for jars of 340 g.
fn line_of_340(desk: &Desk) -> Value {
    let stock = desk.json(&["honey", "stock"]);
    let mut lines = stock.as_array().expect("a list").iter();
    let found = lines.find(|line| line["net_kg"] == 0.34).cloned();
    found.unwrap_or_else(|| panic!("no such size: {stock}"))
}

#[test]
fn a_comb_is_followed_to_its_jars_and_back() {
    let desk = with_jars();
    let jars = desk.json(&["honey", "trace", "jar", "L 26-1"]);
    let combs = jars["combs"].as_array().expect("combs");
    assert_eq!(combs.len(), 2);
    for comb in combs {
        let (hive, bar) = (&comb["hive"], comb["bar"].as_str().expect("a bar"));
        let hive = hive.as_str().expect("a hive");
        let found = desk.json(&["honey", "trace", "bar", hive, bar]);
        // bar 8 of Ironbark bore an earlier comb, which went into WB-2
        let lots = found["lots"].as_array().expect("lots");
        assert!(lots.contains(&"26-1".into()), "{hive} {bar}: {found}");
    }
    let first = desk.json(&["honey", "trace", "bar", "Tea-tree", "19"]);
    assert_eq!(first["in_stock"], 9);
    desk.does(&["yard", "rename", "Tea-tree", "Old Man"]);
    let renamed = desk.json(&["honey", "trace", "bar", "Old Man", "19"]);
    assert_eq!(renamed, first, "a hive's new name finds its combs");
}

#[test]
fn a_comb_of_wattle_bend_is_followed_to_its_jars_and_back() {
    let desk = Desk::at_wattle_bend();
    let found = desk.json(&["honey", "trace", "bar", "Banksia", "14"]);
    assert_eq!(found["lots"], serde_json::json!(["WB-2"]));
    assert_eq!(
        (&found["in_stock"], &found["with_others"]),
        (&21.into(), &18.into())
    );
    let back = desk.json(&["honey", "trace", "jar", "L WB-2"]);
    let combs = back["combs"].as_array().expect("combs");
    assert_eq!(combs.len(), 12);
    assert!(
        combs
            .iter()
            .any(|comb| comb["hive"] == "Banksia" && comb["bar"] == "14")
    );
    insta::assert_snapshot!("honey_of_wattle_bend", desk.does(&["honey"]));
    insta::assert_snapshot!(
        "trace_banksia_14",
        desk.does(&["honey", "trace", "bar", "Banksia", "14"])
    );
}

#[test]
fn jars_out_are_called_back_by_name() {
    let desk = with_jars();
    desk.does(&[
        "honey",
        "out",
        "26-1/1",
        "4",
        "--to",
        "the corner shop",
        "--money",
        "30.5",
        "--currency",
        "gbp",
    ]);
    let told = desk.does(&["honey", "trace", "lot", "26-1"]);
    assert!(
        told.contains("To call back: 4 jars with others; 5 are here."),
        "{told}"
    );
    assert!(told.contains("4 to the corner shop"), "{told}");
    assert_eq!(line_of_340(&desk)["taken"]["GBP"], 3050);
    desk.does(&["honey", "back", "26-1/1", "1"]);
    assert_eq!(line_of_340(&desk)["in_stock"], 6);
}

#[test]
fn the_last_thing_is_taken_back_and_brought_back() {
    let desk = with_jars();
    let lot = |desk: &Desk| lot(desk, "26-1");
    let before = lot(&desk);
    desk.does(&["honey", "loss", "26-1", "100g", "--why", "eaten"]);
    let after = lot(&desk);
    assert_ne!(before, after);
    desk.does(&["honey", "undo"]);
    assert_eq!(lot(&desk), before);
    desk.does(&["honey", "redo"]);
    assert_eq!(lot(&desk), after);
    // what happened in the hives is another scope
    let hives = desk.json(&["yard"]);
    desk.does(&["honey", "undo", "3"]);
    assert_eq!(desk.json(&["yard"]), hives);
}

#[test]
fn what_cannot_be_is_refused_in_words_and_not_recorded() {
    let desk = with_jars();
    let cases: &[(&[&str], &str)] = &[
        (
            &["honey", "moisture", "--index", "1.33"],
            "1.333 is plain water",
        ),
        (
            &["honey", "moisture", "--index", "1.6"],
            "outside 1.474 to 1.5044",
        ),
        (&["honey", "moisture", "--water", "120"], "outside 0 to 100"),
        (
            &["honey", "reading", "26-1", "--water", "60"],
            "no honey reads so",
        ),
        (
            &[
                "honey",
                "blend",
                "--vessel",
                "tank=10kg@19.4",
                "--vessel",
                "drum=1kg@16.8",
                "--target",
                "17",
            ],
            "cannot reach 17.0 %",
        ),
        (
            &["honey", "blend", "26-1", "--target", "18"],
            "was never read",
        ),
        (
            &["honey", "jars", "26-1", "--net", "340g", "--count", "90"],
            "holds 0.240 kg",
        ),
        (
            &[
                "honey", "jars", "26-1", "--net", "340g", "--count", "1", "--region", "mars",
            ],
            "[possible values: codex, eu, uk, us, au, nz]",
        ),
        (
            &["honey", "lot", "26-1", "--pails", "white", "--honey", "1kg"],
            "exists already",
        ),
        (
            &["honey", "lot", "26-2", "--pails", "white", "--honey", "1kg"],
            "was emptied into lot 26-1 already",
        ),
        (
            &[
                "honey", "lot", "26-2", "--pails", "nowhere", "--honey", "1kg",
            ],
            "no pail nowhere",
        ),
        (
            &[
                "honey", "blend", "26-1", "--target", "18", "--batch", "100g", "--into", "26-1",
            ],
            "made of itself",
        ),
        (
            &[
                "honey", "pail", "blue", "--from", "Banksia", "--bars", "999",
            ],
            "no comb of bar 999",
        ),
        (&["honey", "out", "26-1/1", "100"], "has 9 jars in stock"),
        (
            &["honey", "weigh", "26-1", "2kg", "--on", "2999-01-01"],
            "in the future",
        ),
        (
            &["honey", "weigh", "26-1", "2kg", "--on", "2001-01-01"],
            "is dated 2001-01-01",
        ),
        (&["honey", "trace", "jar", "ZZ"], "no lot mark ZZ"),
        (
            &["honey", "trace", "bar", "Nowhere", "1"],
            "no hive Nowhere",
        ),
    ];
    for (args, wanted) in cases {
        let code = if args.contains(&"mars") { 2 } else { 1 };
        let said = desk.refuses(code, args);
        assert!(said.contains(wanted), "{args:?}: {said}");
    }
    let said = desk.refuses(
        2,
        &["honey", "jars", "26-1", "--net", "340", "--count", "1"],
    );
    assert!(said.contains("say the unit"), "{said}");
}

#[test]
fn a_fermenting_lot_fills_no_jars_unless_the_keeper_says_so() {
    let desk = with_jars();
    desk.does(&["honey", "ferments", "26-1"]);
    let jars = ["honey", "jars", "26-1", "--net", "50g", "--count", "2"];
    let said = desk.refuses(1, &jars);
    assert!(said.contains("may not be sold as honey"), "{said}");
    let before = desk.length();
    desk.does(&[&jars[..], &["--anyway"]].concat());
    // the jars, and beside them why not
    assert_eq!(desk.length(), before + 2);
}

#[test]
fn a_backdated_pail_comes_before_the_lot_made_of_it() {
    let desk = Desk::at_wattle_bend();
    desk.does(&[
        "honey",
        "pail",
        "p",
        "--from",
        "Tea-tree",
        "--bars",
        "19",
        "--on",
        "2025-03-21",
    ]);
    desk.does(&[
        "honey",
        "lot",
        "l",
        "--pails",
        "p",
        "--honey",
        "2kg",
        "--country",
        "Wales",
        "--on",
        "2025-03-21",
    ]);
    let said = desk.refuses(
        1,
        &[
            "honey",
            "jars",
            "l",
            "--net",
            "340g",
            "--count",
            "1",
            "--on",
            "2025-03-20",
        ],
    );
    assert!(
        said.contains("where this honey is sold") || said.contains("is dated"),
        "{said}"
    );
    assert_eq!(lot(&desk, "l")["on"], "2025-03-21");
}

#[test]
fn blending_by_hand_gives_the_reference_example() {
    // reference notes, section 7: 19.4 and 16.8 to 18.0 are 1.2 : 1.4; 10.0 kg wet needs 11.667 kg dry
    let desk = Desk::empty();
    let plan = desk.json(&[
        "honey",
        "blend",
        "--vessel",
        "wet=10kg@19.4",
        "--vessel",
        "dry=11.667kg@16.8",
        "--target",
        "18.0",
    ]);
    let moved = plan["moved_kg"].as_f64().expect("kg");
    assert!((moved - 10.0).abs() < 0.01, "{plan}");
    let syrup = desk.json(&["honey", "syrup", "2:1", "--litres", "1"]);
    // section 9: 2:1 by weight is 66.7 Bx, 0.884 kg sugar a litre
    assert!((syrup["brix"].as_f64().expect("Bx") - 66.7).abs() < 0.05);
    assert!((syrup["sugar_kg"].as_f64().expect("kg") - 0.884).abs() < 0.001);
}

#[test]
fn a_journal_with_honey_goes_through_export_and_import() {
    let desk = with_jars();
    let file = desk.path().join("all.jsonl");
    let file = file.to_str().expect("a path");
    desk.does(&["journal", "export", file]);
    let other = Desk::empty();
    other.does(&["journal", "import", file]);
    assert_eq!(other.json(&["honey"]), desk.json(&["honey"]));
}
