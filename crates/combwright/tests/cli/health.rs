//! Treatments, signs and medicines at the command line.

use std::path::Path;

use crate::support::Desk;

/// Every comb of Ironbark's honey end ripe, as of today, so that something may be taken.
fn ripe() -> Desk {
    let desk = Desk::empty();
    desk.does(&["yard", "apiary", "Home", "--winter", "mild-coast"]);
    desk.does(&[
        "yard", "new", "Ironbark", "--apiary", "Home", "--bars", "20", "--combs", "12",
    ]);
    let spoken: String = std::iter::once("left end open\n".to_owned())
        .chain((1..=12).map(|bar| format!("bar {bar} full capped both sides leave it\n")))
        .collect();
    // nothing is settled by the keeper, so that the rules alone speak
    let file = desk.file("visit.txt", spoken.replace(" leave it", ""));
    let file = file.to_str().expect("a path");
    desk.does(&["hear", file, "--into", "Ironbark"]);
    desk
}

/// What a command says, its lines put together.
fn says(desk: &Desk, args: &[&str]) -> String {
    let said = desk.does(args);
    assert!(said.lines().all(|l| l.chars().count() <= 80), "{said}");
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn may_take(desk: &Desk) -> usize {
    let advice = desk.json(&["advise", "Ironbark"]);
    advice["may_take"].as_array().expect("a list").len()
}

#[test]
fn a_treatment_withholds_the_honey_until_its_label_lets_it_go() {
    let desk = ripe();
    let before = may_take(&desk);
    assert!(before >= 3, "{before}");
    let said = says(
        &desk,
        &[
            "health",
            "treat",
            "Ironbark",
            "Acme Strips",
            "--active",
            "amitraz",
            "--withhold",
            "14",
            "--out-by",
            "2099-01-01",
        ],
    );
    assert!(said.contains("gloves"), "{said}");
    assert!(said.contains("your local law decide"), "{said}");
    assert_eq!(may_take(&desk), 0);
    let advice = says(&desk, &["advise", "Ironbark"]);
    assert!(
        advice.contains("withheld while Acme Strips is in"),
        "{advice}"
    );
    assert!(advice.contains("ripe but withheld"), "{advice}");
    // out today: fourteen days more
    let said = says(
        &desk,
        &["health", "end", "Ironbark", "--left", "both strips"],
    );
    assert!(said.contains("withheld through"), "{said}");
    assert_eq!(may_take(&desk), 0);
    // the usual undo takes both back, the end first
    desk.does(&["journal", "undo", "Ironbark"]);
    let list = desk.json(&["health"]);
    assert_eq!(
        list["hives"][0]["treatments"][0]["ended"],
        serde_json::Value::Null
    );
    desk.does(&["journal", "undo", "Ironbark"]);
    assert_eq!(may_take(&desk), before);
}

#[test]
fn a_label_not_copied_in_is_asked_for_and_can_be_copied_in_later() {
    let desk = ripe();
    let before = may_take(&desk);
    let said = says(
        &desk,
        &["health", "treat", "Ironbark", "Acme Gel", "--once"],
    );
    assert!(said.contains("not copied in"), "{said}");
    // it warns and forbids nothing
    assert_eq!(may_take(&desk), before);
    let advice = says(&desk, &["advise", "Ironbark"]);
    assert!(
        advice.contains("read the label of Acme Gel first"),
        "{advice}"
    );
    desk.does(&["health", "label", "Ironbark", "--withhold", "nil"]);
    let advice = says(&desk, &["advise", "Ironbark"]);
    assert!(!advice.contains("read the label"), "{advice}");
    desk.does(&["health", "undo"]);
    let advice = says(&desk, &["advise", "Ironbark"]);
    assert!(advice.contains("read the label"), "{advice}");
}

#[test]
fn a_suspicion_stops_the_work_until_it_is_cleared_and_the_keepers_word_stands() {
    let desk = ripe();
    let before = may_take(&desk);
    let said = says(&desk, &["health", "sign", "Ironbark", "AFB", "--bar", "3"]);
    assert!(said.contains("Move nothing off the site"), "{said}");
    assert!(said.contains("Your local authority decides"), "{}", said);
    assert_eq!(may_take(&desk), 0);
    let life = says(&desk, &["show", "Ironbark", "--bar", "3"]);
    assert!(life.contains("AFB suspected"), "{life}");
    desk.does(&["health", "report", "Ironbark", "--to", "the bee inspector"]);
    let list = says(&desk, &["health"]);
    assert!(list.contains("reported to the bee inspector"), "{list}");
    desk.does(&[
        "health",
        "clear",
        "Ironbark",
        "--why",
        "the laboratory found none",
    ]);
    assert_eq!(may_take(&desk), before);
    // what the keeper found out of the law counts
    desk.does(&["health", "sign", "Ironbark", "small hive beetle"]);
    assert_eq!(may_take(&desk), 0);
    desk.does(&["health", "law", "Ironbark", "--notifiable", "no"]);
    assert_eq!(may_take(&desk), before);
}

#[test]
fn the_same_chemical_group_twice_running_is_warned_of() {
    let desk = ripe();
    let treat = |product: &str, active: &str| {
        says(
            &desk,
            &[
                "health",
                "treat",
                "Ironbark",
                product,
                "--active",
                active,
                "--withhold",
                "nil",
                "--once",
            ],
        )
    };
    assert!(!treat("Acme Strips", "tau-fluvalinate").contains("same chemical group"));
    assert!(treat("Other Strips", "flumethrin").contains("same chemical group"));
    assert!(!treat("Acme Oxalic", "oxalic acid").contains("same chemical group"));
}

#[test]
fn medicines_bought_and_disposed_of_reach_the_tables() {
    let desk = ripe();
    desk.does(&[
        "health",
        "buy",
        "Acme Strips",
        "--batch",
        "B-17",
        "--quantity",
        "10 strips",
        "--supplier",
        "A. Seller, 1 High Street, Anytown",
        "--withhold",
        "lost+14",
        "--proof",
        "invoice 12",
    ]);
    desk.does(&[
        "health",
        "dispose",
        "Acme Strips",
        "--batch",
        "B-17",
        "--how",
        "taken back to the seller",
    ]);
    let folder = desk.path().join("tables");
    desk.does(&["paper", "tables", "--out", folder.to_str().expect("a path")]);
    let read =
        |name: &str| std::fs::read_to_string(Path::new(&folder).join(name)).expect("written");
    let bought = read("medicines.csv");
    assert!(
        bought.contains("\"A. Seller, 1 High Street, Anytown\""),
        "{bought}"
    );
    assert!(bought.contains("invoice 12"), "{bought}");
    assert!(read("disposals.csv").contains("taken back to the seller"));
    let list = desk.json(&["health", "list", "--all"]);
    assert_eq!(list["bought"][0]["bought"]["batch"], "B-17");
}

#[test]
fn what_cannot_be_is_refused_and_nothing_is_recorded() {
    let desk = ripe();
    let before = desk.json(&["journal", "list"]);
    for (args, words) in [
        (&["treat", "Nobody", "x"][..], "no hive Nobody"),
        (
            &["treat", "Ironbark", "x", "--on", "2099-01-01"],
            "in the future",
        ),
        (&["treat", "Ironbark", " "], "more than blanks"),
        (
            &["treat", "Ironbark", "x", "--out-by", "2001-01-01"],
            "the day of the treatment or later",
        ),
        (&["end", "Ironbark"], "no treatment is on"),
        (&["clear", "Ironbark", "--why", "x"], "no such sign stands"),
        (
            &["sign", "Ironbark", "chalkbrood", "--bar", "99"],
            "no bar 99",
        ),
        (&["undo"], "nothing to take back"),
    ] {
        let said = desk.refuses(1, &[&["health"], args].concat());
        assert!(said.contains(words), "{args:?}: {said}");
    }
    for args in [
        &["treat", "Ironbark", "x", "--withhold", "soon"][..],
        &["treat", "Ironbark", "x", "--air", "26..12"],
        &["treat", "Ironbark", "x", "--once", "--out-by", "2099-01-01"],
    ] {
        desk.refuses(2, &[&["health"], args].concat());
    }
    assert_eq!(desk.json(&["journal", "list"]), before);
}

#[test]
fn what_was_read_of_diseases_names_its_places_and_defers() {
    let desk = Desk::empty();
    let said = says(&desk, &["health", "conditions"]);
    for words in [
        "American foulbrood",
        "New Zealand",
        "your local authority decides",
    ] {
        assert!(said.contains(words), "{words}");
    }
}

#[test]
fn the_feeds_address_is_made_once_and_taken_back() {
    let desk = Desk::empty();
    let said = says(&desk, &["paper", "feed"]);
    assert!(said.contains("/calendar.ics"), "{said}");
    let made = desk.json(&["paper", "feed", "--new"]);
    assert!(
        made["here"]
            .as_str()
            .expect("an address")
            .starts_with("http://localhost:")
    );
    for address in made["elsewhere"].as_array().expect("a list") {
        let address = address.as_str().expect("text");
        assert!(
            address.starts_with("https://") && address.contains("?key="),
            "{address}"
        );
    }
    assert_eq!(desk.json(&["paper", "feed"])["key_is_set"], true);
    assert_eq!(desk.json(&["paper", "feed", "--off"])["taken_back"], true);
    assert_eq!(desk.json(&["paper", "feed", "--off"])["taken_back"], false);
}

#[test]
fn the_calendar_has_removals_and_the_end_of_withholdings() {
    let desk = ripe();
    desk.does(&[
        "health",
        "treat",
        "Ironbark",
        "Acme Strips",
        "--withhold",
        "14",
        "--out-by",
        "2099-01-01",
    ]);
    let file = desk.path().join("due.ics");
    let file = file.to_str().expect("a path");
    let told = |desk: &Desk| {
        desk.does(&["paper", "calendar", "--out", file]);
        let text = std::fs::read_to_string(file).expect("written");
        let read: icalendar::Calendar = text.parse().expect("icalendar reads it");
        read.components
            .iter()
            .filter_map(|component| component.as_event())
            .filter_map(|event| {
                use icalendar::{Component, EventLike as _};
                let _ = event.get_location();
                Some(format!("{:?} {}", event.get_start()?, event.get_summary()?))
            })
            .collect::<Vec<_>>()
            .join("\n")
    };
    let due = told(&desk);
    assert!(
        due.contains("2099-01-01") && due.contains("Ironbark: take Acme Strips out"),
        "{due}"
    );
    desk.does(&["health", "end", "Ironbark"]);
    let due = told(&desk);
    assert!(
        due.contains("honey is no longer withheld after Acme Strips"),
        "{due}"
    );
}

#[test]
fn jars_of_a_withheld_hive_are_refused_unless_the_keeper_says_so() {
    let desk = ripe();
    let file = desk.file(
        "taken.txt",
        "left end open\nbar 1 full capped both sides into the bucket\n",
    );
    desk.does(&["hear", file.to_str().expect("a path"), "--into", "Ironbark"]);
    desk.does(&["honey", "pail", "p", "--kg", "2kg"]);
    let country = "Wales";
    desk.does(&[
        "honey",
        "lot",
        "L",
        "--pails",
        "p",
        "--honey",
        "1.5kg",
        "--country",
        country,
    ]);
    let jars = [
        "honey", "jars", "L", "--net", "340g", "--count", "2", "--region", "uk",
    ];
    let (first, anyway) = (["--fill", "a"], ["--fill", "b", "--anyway"]);
    // the health record is completed afterwards: the strips were in while the comb was taken
    let treat = [
        "health",
        "treat",
        "Ironbark",
        "Acme Strips",
        "--withhold",
        "14",
    ];
    desk.does(&treat);
    let said = desk.refuses(1, &[&jars[..], &first].concat());
    assert!(
        said.contains("withheld while Acme Strips is in the hive"),
        "{said}"
    );
    let said = says(&desk, &[&jars[..], &anyway].concat());
    assert!(
        said.contains("treatments and signs that are recorded"),
        "{said}"
    );
    desk.does(&["health", "undo"]);
    desk.does(&[&jars[..], &first].concat());
}

#[test]
fn what_is_said_of_disease_and_treatment_at_the_hive_is_kept_as_a_note() {
    let desk = ripe();
    let spoken = "left end open\nbar 4 full capped both sides leave it\n\
        put in two strips of Acme\nsaw chalkbrood on four\nbar 5 leave it\ntook the strips out\n";
    let file = desk.file("health.txt", spoken);
    let file = file.to_str().expect("a path");
    let heard = says(&desk, &["hear", file]);
    assert!(heard.contains("Note: saw chalkbrood on four"), "{heard}");
    desk.does(&["hear", file, "--into", "Ironbark"]);
    let hive = desk.json(&["show", "Ironbark"]);
    let notes: Vec<&str> = hive["notes"]
        .as_array()
        .expect("notes")
        .iter()
        .filter_map(|note| note["text"].as_str())
        .collect();
    assert_eq!(
        notes,
        [
            "put in two strips of Acme",
            "saw chalkbrood on four",
            "took the strips out"
        ]
    );
}
