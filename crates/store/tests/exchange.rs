//! Export and import: what is refused, where, and that nothing is half recorded.

mod common;

use common::{block_on, exported, id, in_memory, note, with_notes};
use proptest::prelude::*;
use store::{Hash, LineFault, RecordFault, StoreError};

/// Imports `text` into a journal that holds something already; tells line and fault, and proves
/// that nothing was recorded.
fn refused(text: &[u8]) -> (u64, LineFault) {
    block_on(async {
        let journal = with_notes(9, 900, 2).await;
        let before = exported(&journal).await;
        let outcome = journal.import(text, |_| ()).await;
        assert_eq!(exported(&journal).await, before, "nothing is recorded");
        match outcome {
            Err(StoreError::Line { line, why, .. }) => (line, why),
            other => panic!("{other:?}"),
        }
    })
}

fn export_of(notes: u128) -> String {
    block_on(async { exported(&with_notes(1, 1, notes).await).await })
}

/// The export with line `n` (from 1) put through `change`.
fn with_line(export: &str, n: usize, change: impl Fn(&str) -> String) -> String {
    let lines = export.lines().enumerate();
    lines
        .map(|(i, line)| if i + 1 == n { change(line) } else { line.to_owned() } + "\n")
        .collect()
}

#[test]
fn an_export_has_the_documented_form() {
    let export = export_of(2);
    let lines: Vec<serde_json::Value> = export
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    assert_eq!(
        lines[0],
        serde_json::json!({"journal": "combwright", "version": 1, "entries": 2})
    );
    assert_eq!(lines[1]["prev"], "0".repeat(64));
    assert_eq!(lines[2]["prev"], lines[1]["hash"]);
    assert_eq!(lines[2]["entry"]["seq"], 2);
    assert!(export.ends_with("}}\n"));
}

/// Source: the hash is computed by another implementation, Python's hashlib, from the line below:
/// `hashlib.sha256(bytes(32) + entry_text.encode()).hexdigest()`.
#[test]
fn a_line_made_elsewhere_proves_itself() {
    let text = r#"{"v":1,"id":"00000000-0000-0000-0000-000000000001","device":"00000000-0000-0000-0000-000000000d01","seq":1,"at":"2026-09-12T00:01:00Z","recorded":"2026-09-12T00:01:00Z","zone":"+10:00","by":"keeper","what":{"kind":"note","text":"note 1"}}"#;
    let hash = "466ebd85f3611e9c9aee7df2f723a49c62a0f90bb645d999b553957aefbb4a08";
    let zeros = Hash::ORIGIN;
    let line = format!(r#"{{"prev":"{zeros}","hash":"{hash}","entry":{text}}}"#);
    let record = exchange::lines::read_line(line.as_bytes()).expect("proves itself");
    assert_eq!((record.seq, record.text.as_str()), (1, text));
    assert_eq!(
        export_of(1).lines().nth(1),
        Some(line.as_str()),
        "and it is what we write"
    );
}

#[test]
fn files_that_are_no_export_are_refused_at_line_one() {
    assert!(matches!(refused(b""), (1, LineFault::Empty)));
    assert!(matches!(refused(b"\n\n  \n"), (_, LineFault::Empty)));
    for text in [
        &b"dear diary\n"[..],
        b"\x00\x9f\x92\x96 binary",
        b"{}\n",
        b"[1,2]\n",
        br#"{"journal":"other","version":1,"entries":0}"#,
        br#"{"journal":"combwright","version":0,"entries":0}"#,
        br#"{"journal":"combwright","version":"1"}"#,
    ] {
        let (line, why) = refused(text);
        assert!(
            line == 1 && matches!(why, LineFault::Header { .. }),
            "{why:?}"
        );
    }
    let newer = br#"{"journal":"combwright","version":7,"shape":"round"}"#;
    assert!(matches!(
        refused(newer),
        (1, LineFault::NewerFormat { found: 7 })
    ));
}

/// A way to spoil a line.
type Edit = fn(&str) -> String;

#[test]
fn a_bad_line_is_named_with_its_number_and_field() {
    let export = export_of(4);
    let cases: [(Edit, &str); 9] = [
        (
            |line| line[..line.len() / 2].to_owned(),
            "cut off in its middle",
        ),
        (
            |line| line.replace(r#""hash":""#, r#""hash":"zz"#),
            "`hash` is not 64",
        ),
        (
            |line| line.replace(r#"{"prev":""#, r#"{"prev":"0"#),
            "`prev` is not 64",
        ),
        (
            |line| line.replace(r#"{"prev""#, r#"{"before""#),
            "unknown field `before`",
        ),
        (
            |line| line.replace(r#","entry""#, r#","entry":1,"entry""#),
            "duplicate field `entry`",
        ),
        (
            |line| line.replace("note 2", "note 5"),
            "was changed after it was recorded",
        ),
        (|line| line.replace(r#""seq":2"#, r#""seq":-2"#), "seq"),
        (
            |line| line.replace("2026-09-12T00:02:00Z", "yesterday"),
            "malformed entry: at: ",
        ),
        (
            |line| line.replace(r#""kind":"note","text""#, r#""kind":"note","words""#),
            "what (note)",
        ),
    ];
    for (edit, told) in cases {
        let (line, why) = refused(with_line(&export, 3, edit).as_bytes());
        assert_eq!(line, 3, "{why}");
        assert!(why.to_string().contains(told), "{why} should tell {told}");
    }
    let (line, why) = refused(&[export.as_bytes(), b"\xff\xfe\n"].concat());
    assert!(
        line == 6 && matches!(why, LineFault::NotText { at: 1 }),
        "{line} {why}"
    );
}

#[test]
fn a_file_cut_off_or_added_to_is_noticed() {
    let export = export_of(4);
    let short = export.lines().take(4).collect::<Vec<_>>().join(
        "
",
    );
    assert!(matches!(
        refused(short.as_bytes()),
        (
            _,
            LineFault::Count {
                announced: 4,
                found: 3
            }
        )
    ));
    let twice = format!("{export}{}\n", export.lines().last().expect("a line"));
    assert!(matches!(
        refused(twice.as_bytes()),
        (
            _,
            LineFault::Count {
                announced: 4,
                found: 5
            }
        )
    ));
}

#[test]
fn a_line_without_end_does_not_fill_the_memory() {
    let endless = tokio::io::AsyncReadExt::take(tokio::io::repeat(b'x'), 1 << 40);
    block_on(async {
        let journal = in_memory(1).await;
        let reader = tokio::io::BufReader::new(endless);
        let outcome = journal.import(reader, |_| ()).await;
        assert!(matches!(
            outcome,
            Err(StoreError::Line {
                line: 1,
                why: LineFault::TooLong,
                ..
            })
        ));
    });
}

#[test]
fn windows_line_ends_a_byte_order_mark_and_any_order_of_lines_are_read() {
    let export = export_of(3);
    block_on(async {
        let mut lines: Vec<&str> = export.lines().collect();
        lines[1..].reverse();
        let text = format!("\u{feff}{}\r\n\r\n", lines.join("\r\n"));
        let journal = in_memory(2).await;
        let joined = journal
            .import(text.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert!(joined.new == 3 && joined.gaps.is_empty());
        assert_eq!(exported(&journal).await, export);
    });
}

#[test]
fn one_id_with_two_contents_is_a_conflict_that_names_it() {
    let ours = export_of(3);
    let line = ours.lines().nth(2).expect("entry 2");
    let record = exchange::lines::read_line(line.as_bytes()).expect("sound");
    let text = record.text.replace("note 2", "another");
    let (prev, hash) = (record.prev, record.prev.followed_by(text.as_bytes()));
    let theirs = with_line(&ours, 3, |_| {
        format!(r#"{{"prev":"{prev}","hash":"{hash}","entry":{text}}}"#)
    });
    block_on(async {
        let journal = with_notes(1, 1, 3).await;
        let outcome = journal.import(theirs.as_bytes(), |_| ()).await;
        let Err(StoreError::Line {
            line: 3,
            why: LineFault::Record(why),
            ..
        }) = outcome
        else {
            panic!("{outcome:?}");
        };
        assert!(matches!(why, RecordFault::Conflict { id: named, seq: 2, .. } if named == id(2)));
        assert!(why.to_string().contains(&id(2).to_string()));
        assert_eq!(exported(&journal).await, ours);
    });
}

#[test]
fn progress_is_told_and_ends_with_the_whole() {
    block_on(async {
        let journal = with_notes(1, 1, 1200).await;
        let mut told = Vec::new();
        let mut out = Vec::new();
        journal
            .export(&mut out, |at| told.push(at))
            .await
            .expect("written");
        assert_eq!(
            told.iter().map(|at| at.entries).collect::<Vec<_>>(),
            [500, 1000, 1200]
        );
        assert_eq!(told.last().expect("some").bytes, out.len() as u64);
        told.clear();
        let other = in_memory(2).await;
        other
            .import(&out[..], |at| told.push(at))
            .await
            .expect("taken in");
        assert_eq!(
            told.iter().map(|at| at.entries).collect::<Vec<_>>(),
            [500, 1000, 1200]
        );
        assert_eq!(told.last().expect("some").bytes, out.len() as u64);
    });
}

/// Whatever comes: no panic, and all of it or nothing.
async fn whole_or_nothing(text: &[u8]) -> Result<(), TestCaseError> {
    let journal = in_memory(5).await;
    journal.append(vec![note(900)]).await.expect("recorded");
    let before = exported(&journal).await;
    match journal.import(text, |_| ()).await {
        Ok(joined) => prop_assert_eq!(journal.len().await.expect("reads"), 1 + joined.new),
        Err(why) => {
            prop_assert!(!why.to_string().is_empty());
            prop_assert_eq!(exported(&journal).await, before);
        }
    }
    prop_assert!(journal.verify().await.expect("reads").structure.is_empty());
    Ok(())
}

/// One change to a text: a byte set, bytes cut out, a piece of it put in elsewhere.
#[derive(Debug, Clone)]
enum Change {
    Set(prop::sample::Index, u8),
    Cut(prop::sample::Index, usize),
    Paste(prop::sample::Index, prop::sample::Index, usize),
}

fn change() -> impl Strategy<Value = Change> {
    let at = any::<prop::sample::Index>;
    prop_oneof![
        (at(), any::<u8>()).prop_map(|(i, byte)| Change::Set(i, byte)),
        (at(), prop::sample::select(&b"\"{}[]:,\n\\0917eE-. "[..]))
            .prop_map(|(i, byte)| Change::Set(i, byte)),
        (at(), 1..300usize).prop_map(|(i, n)| Change::Cut(i, n)),
        (at(), at(), 1..600usize).prop_map(|(i, j, n)| Change::Paste(i, j, n)),
    ]
}

fn changed(mut text: Vec<u8>, changes: &[Change]) -> Vec<u8> {
    for change in changes {
        if text.is_empty() {
            break;
        }
        match change {
            Change::Set(i, byte) => {
                let i = i.index(text.len());
                text[i] = *byte;
            }
            Change::Cut(i, n) => {
                let i = i.index(text.len());
                let end = (i + n).min(text.len());
                text.drain(i..end);
            }
            Change::Paste(i, j, n) => {
                let from = i.index(text.len());
                let piece = text[from..(from + n).min(text.len())].to_vec();
                let to = j.index(text.len());
                text.splice(to..to, piece);
            }
        }
    }
    text
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn arbitrary_bytes_are_refused_whole(bytes in prop::collection::vec(any::<u8>(), 0..600), headed in any::<bool>()) {
        let header: &[u8] = if headed { b"{\"journal\":\"combwright\",\"version\":1,\"entries\":1}\n" } else { b"" };
        block_on(whole_or_nothing(&[header, &bytes].concat()))?;
    }

    #[test]
    fn a_changed_export_is_taken_whole_or_not_at_all(changes in prop::collection::vec(change(), 1..4)) {
        let text = changed(export_of(3).into_bytes(), &changes);
        block_on(whole_or_nothing(&text))?;
    }
}
