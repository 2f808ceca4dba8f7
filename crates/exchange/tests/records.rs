//! Records prove themselves, and an export reads back to the byte.

mod support;

use exchange::{Hash, LineFault, Proof, Record, RecordFault, lines};
use support::{chain, chain_after};

#[test]
fn a_record_reads_back_as_it_was_written() {
    for record in chain(1, 3, "a \"quoted\" note, \u{2028} and a leaf \u{1f33f}") {
        let again = lines::read_line(record.json().as_bytes()).expect("sound");
        assert_eq!(again, record);
        let via_serde: Record =
            serde_json::from_str(&serde_json::to_string(&record).expect("JSON")).expect("sound");
        assert_eq!(via_serde, record);
    }
}

#[test]
fn a_changed_word_is_noticed() {
    let record = &chain(1, 1, "five combs stay")[0];
    let changed = record.json().replace("five", "four");
    assert_eq!(
        lines::read_line(changed.as_bytes()),
        Err(RecordFault::Changed { id: record.id }.into())
    );
}

#[test]
fn the_text_travels_byte_for_byte_though_another_program_wrote_it() {
    // blanks, key order and 1.0 for 1 are not how this program writes
    let text = chain(1, 1, "x")[0]
        .text
        .replace("\"v\":1", "\"v\" :  9,\"moon\":1.0");
    let hash = Hash::ORIGIN.followed_by(text.as_bytes());
    let (record, _) = Record::proved(Hash::ORIGIN, hash, text.clone()).expect("kept as it came");
    let json = serde_json::to_string(&vec![record]).expect("JSON");
    let again: Vec<Record> = serde_json::from_str(&json).expect("sound");
    assert_eq!(again[0].text, text);
}

#[test]
fn an_export_reads_back_and_does_not_depend_on_order() {
    let records = [chain(2, 3, "b"), chain(1, 4, "a")].concat();
    let text = lines::export(records.clone());
    let mut turned = records.clone();
    turned.reverse();
    assert_eq!(lines::export(turned), text);
    let again = lines::import(&text.replace('\n', "\r\n")).expect("reads");
    assert_eq!(again.len(), 7);
    assert!(again.iter().all(|record| records.contains(record)));
}

#[test]
fn a_damaged_export_is_refused_with_the_line() {
    let text = lines::export(chain(1, 3, "a"));
    let cut = text.rsplit_once("\n{").expect("several lines").0;
    assert!(matches!(
        lines::import(cut),
        Err((
            3,
            LineFault::Count {
                announced: 3,
                found: 2
            }
        ))
    ));
    let line_3 = text.replacen("\"seq\":2", "\"seq\":7", 1);
    assert!(matches!(
        lines::import(&line_3),
        Err((3, LineFault::Record(RecordFault::Changed { .. })))
    ));
    assert!(matches!(
        lines::import("combs,bees\n"),
        Err((1, LineFault::Header { .. }))
    ));
    let newer = text.replacen("\"version\":1", "\"version\":4", 1);
    assert!(matches!(
        lines::import(&newer),
        Err((1, LineFault::NewerFormat { found: 4 }))
    ));
}

#[test]
fn a_proof_tells_changed_missing_and_doubled_records_apart() {
    let (one, other) = (chain(1, 4, "five combs"), chain(2, 2, "by the desk"));
    let all: Vec<Record> = one.iter().chain(&other).rev().cloned().collect();
    let proof = Proof::of(&all);
    assert!(proof.is_sound());
    assert_eq!((proof.records, proof.devices), (6, 2));

    let mut changed = all.clone();
    changed[0].text = changed[0].text.replace("desk", "dusk");
    assert_eq!(Proof::of(&changed).changed, 1);

    let missing: Vec<Record> = all
        .iter()
        .filter(|r| (r.device, r.seq) != (one[0].device, 2))
        .cloned()
        .collect();
    let proof = Proof::of(&missing);
    assert_eq!((proof.gaps, proof.changed, proof.is_sound()), (1, 0, false));

    let fork = chain_after(1, 3, 3, "elsewhere", one[1].hash);
    let forked: Vec<Record> = all.into_iter().chain(fork).collect();
    assert_eq!(Proof::of(&forked).forks, 1);
}
