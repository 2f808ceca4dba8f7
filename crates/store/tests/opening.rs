//! Opening: what is there, what is not ours, and what cannot be written.

mod common;

use std::fs;
use std::path::Path;
use std::process::Command;

use common::{block_on, edit, note, open};
use store::{Journal, OpenOptions, StoreError};

fn opened(path: &Path) -> Result<u64, StoreError> {
    block_on(async { open(path, 1).await?.len().await })
}

fn read(path: &Path) -> Result<u64, StoreError> {
    block_on(async { Journal::open(path, OpenOptions::read()).await?.len().await })
}

fn made(path: &Path, notes: u128) {
    block_on(async {
        let journal = open(path, 1).await.expect("made");
        let batch = (1..=notes).map(note).collect();
        journal.append(batch).await.expect("recorded");
        journal.close().await;
    });
}

#[test]
fn reading_makes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("none/journal.sqlite");
    let missing = read(&path).expect_err("nothing is there");
    assert!(matches!(missing, StoreError::NoJournal { .. }));
    assert!(missing.help().is_some());
    assert!(!folder.path().join("none").exists());
}

#[test]
fn other_files_are_refused_and_left_as_they_are() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    for content in [
        &b"dear diary, the banksia is out and the bees are on it"[..],
        &[0, 159, 146, 150],
    ] {
        fs::write(&path, content).expect("written");
        for result in [opened(&path), read(&path)] {
            assert!(
                matches!(result, Err(StoreError::NotAJournal { .. })),
                "{result:?}"
            );
        }
        assert_eq!(fs::read(&path).expect("there"), content);
    }
    assert!(matches!(
        opened(folder.path()),
        Err(StoreError::NotAJournal { .. })
    ));
}

#[test]
fn another_programs_database_is_refused_and_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, stamp) in [
        ("a", ""),
        ("b", "PRAGMA application_id = 42;"),
        ("c", "PRAGMA user_version = 1;"),
    ] {
        let path = folder.path().join(name);
        fs::write(&path, "").expect("written");
        block_on(edit(
            &path,
            &format!("{stamp} CREATE TABLE entry (x); INSERT INTO entry VALUES (1);"),
        ));
        let before = fs::read(&path).expect("there");
        for result in [opened(&path), read(&path)] {
            assert!(
                matches!(result, Err(StoreError::NotAJournal { .. })),
                "{name}: {result:?}"
            );
        }
        assert_eq!(fs::read(&path).expect("there"), before, "{name}");
    }
}

#[test]
fn a_newer_file_is_refused_with_both_versions_and_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    made(&path, 2);
    block_on(edit(
        &path,
        "PRAGMA user_version = 99; CREATE TABLE later (x);",
    ));
    let before = fs::read(&path).expect("there");
    for result in [opened(&path), read(&path)] {
        let why = result.expect_err("refused");
        assert!(
            matches!(
                why,
                StoreError::NewerFile {
                    found: 99,
                    known: 1,
                    ..
                }
            ),
            "{why:?}"
        );
        assert!(
            why.to_string()
                .contains("newer version (file version 99; this one knows up to 1)")
        );
        assert!(
            why.help()
                .is_some_and(|help| help.contains("newer version of this program"))
        );
    }
    assert_eq!(fs::read(&path).expect("there"), before);
}

#[test]
fn a_file_broken_in_the_middle_is_told_not_guessed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    made(&path, 200);
    let mut bytes = fs::read(&path).expect("there");
    let half = bytes.len() / 2;
    bytes[4096..half].fill(0xA5);
    fs::write(&path, bytes).expect("written");
    let told = block_on(async {
        let journal = open(&path, 1).await?;
        let found = journal.verify().await?;
        Ok::<_, StoreError>(found.is_sound())
    });
    assert!(
        matches!(told, Ok(false) | Err(StoreError::DamagedFile { .. })),
        "{told:?}"
    );
}

#[test]
fn an_empty_file_is_a_journal_not_begun() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    fs::write(&path, "").expect("written");
    assert!(matches!(read(&path), Err(StoreError::NoJournal { .. })));
    assert_eq!(opened(&path).expect("begun"), 0);
}

#[test]
fn a_journal_opened_to_be_read_is_not_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    made(&path, 2);
    block_on(async {
        let journal = Journal::open(&path, OpenOptions::read())
            .await
            .expect("opens");
        let refused = journal.append(vec![note(9)]).await;
        assert!(matches!(refused, Err(StoreError::OpenedToRead { .. })));
        assert_eq!(journal.len().await.expect("reads"), 2);
    });
}

/// Root may write anywhere, so the program is started as a user who may not.
#[cfg(unix)]
mod without_rights {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
    use std::os::unix::process::CommandExt as _;

    use super::*;

    const NOBODY: u32 = 65534;

    /// A folder that anyone may enter, with the program in it, and an inner one that nobody may write.
    fn folders() -> (tempfile::TempDir, Command, std::path::PathBuf) {
        let outer = tempfile::tempdir().expect("a folder");
        let program = outer.path().join("program");
        fs::copy(env!("CARGO_BIN_EXE_store-appender"), &program).expect("copied");
        let inner = outer.path().join("locked");
        fs::create_dir(&inner).expect("made");
        let allow = |path: &Path, mode| {
            fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("permitted");
        };
        allow(outer.path(), 0o755);
        allow(&program, 0o755);
        let mut command = Command::new(program);
        if fs::metadata(&inner).expect("there").uid() == 0 {
            command.uid(NOBODY).gid(NOBODY);
        }
        (outer, command, inner)
    }

    fn lock(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("locked");
    }

    fn told(command: &mut Command, words: &[&str], path: &Path) -> (bool, String, String) {
        let [first, rest @ ..] = words else {
            unreachable!("there are words")
        };
        let output = command
            .arg(first)
            .arg(path)
            .args(rest)
            .output()
            .expect("it runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
        (
            output.status.success(),
            text(output.stdout),
            text(output.stderr),
        )
    }

    #[test]
    fn a_new_journal_in_a_read_only_folder_gives_a_clear_error() {
        let (_outer, mut command, inner) = folders();
        lock(&inner, 0o555);
        let path = inner.join("journal.sqlite");
        let (fine, _, error) = told(&mut command, &["append", "1", "1"], &path);
        assert!(!fine && error.starts_with("ReadOnly"), "{error}");
        assert!(error.contains("its folder or file is read-only"), "{error}");
        let deeper = inner.join("deeper/journal.sqlite");
        let (fine, _, error) = told(&mut folders().1, &["append", "1", "1"], &deeper);
        assert!(!fine && error.starts_with("ReadOnly"), "{error}");
        assert!(fs::read_dir(&inner).expect("there").next().is_none());
        lock(&inner, 0o755);
    }

    #[test]
    fn a_journal_that_may_not_be_written_can_still_be_read() {
        let (_outer, mut command, inner) = folders();
        let path = inner.join("journal.sqlite");
        made(&path, 3);
        lock(&path, 0o444);
        lock(&inner, 0o555);
        let (fine, out, error) = told(&mut command, &["read"], &path);
        assert!(fine && out.trim() == "3", "{out} {error}");

        let mut writer = Command::new(inner.parent().expect("outer").join("program"));
        if fs::metadata(&inner).expect("there").uid() == 0 {
            writer.uid(NOBODY).gid(NOBODY);
        }
        let (fine, _, error) = told(&mut writer, &["append", "1", "1"], &path);
        assert!(!fine && error.starts_with("ReadOnly"), "{error}");
        lock(&inner, 0o755);
        assert_eq!(read(&path).expect("reads"), 3);
    }
}
