//! The file itself: telling ours from others, making it, bringing it up to date.
//!
//! Not sqlx's own migrations: they take no lock on SQLite, and two programs that start at once on a
//! new file would both make the tables.

use std::fs::File;
use std::io::{ErrorKind, Read as _};
use std::path::Path;

use sqlx::{Connection as _, Error, Row as _, SqliteConnection};

use crate::error::StoreError;

/// `application_id` of our files: "CmbW".
pub(crate) const APPLICATION: i32 = 0x436d_6257;

/// The newest file version, which this program writes.
pub const FILE_VERSION: u32 = 1;

/// What brings a file from version n to n + 1, at place n.
const STEPS: [&str; FILE_VERSION as usize] = [include_str!("schema.sql")];

/// What stands at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Found {
    Nothing,
    Database,
}

/// Looks at the file's first bytes, before SQLite is let near it.
pub(crate) fn look(path: &Path) -> Result<Found, StoreError> {
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(why) if why.kind() == ErrorKind::NotFound => return Ok(Found::Nothing),
        Err(why) => return Err(StoreError::io(path, &why)),
    };
    let other = |why| StoreError::NotAJournal {
        path: path.to_path_buf(),
        why,
    };
    if file.metadata().is_ok_and(|metadata| !metadata.is_file()) {
        return Err(other("it is a folder or a device"));
    }
    // "The Database Header", section 1.3 of the SQLite file format: magic at 0, id at 68
    let mut head = Vec::new();
    file.by_ref()
        .take(100)
        .read_to_end(&mut head)
        .map_err(|why| StoreError::io(path, &why))?;
    if head.is_empty() {
        // a program stopped while making it
        return Ok(Found::Nothing);
    }
    if !head.starts_with(b"SQLite format 3\0") || head.len() < 100 {
        return Err(other("it is not a SQLite file"));
    }
    let id = i32::from_be_bytes([head[68], head[69], head[70], head[71]]);
    // 0 while ours is still in the write-ahead log: then SQLite is asked
    if id != 0 && id != APPLICATION {
        return Err(other("it is another program's SQLite file"));
    }
    Ok(Found::Database)
}

/// What a database says it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stamp {
    application: i32,
    version: u32,
    tables: i64,
}

impl Stamp {
    pub(crate) async fn read(conn: &mut SqliteConnection) -> Result<Self, Error> {
        let row = sqlx::query(
            "SELECT application_id, user_version, (SELECT count(*) FROM sqlite_schema)
             FROM pragma_application_id, pragma_user_version",
        )
        .fetch_one(conn)
        .await?;
        Ok(Self {
            application: row.try_get(0)?,
            version: row.try_get(1)?,
            tables: row.try_get(2)?,
        })
    }

    /// A database in which nothing was made yet.
    pub(crate) fn is_blank(self) -> bool {
        self.application == 0 && self.version == 0 && self.tables == 0
    }

    pub(crate) fn is_current(self) -> bool {
        self.application == APPLICATION && self.version == FILE_VERSION
    }

    /// # Errors
    /// When it is not ours, or newer than this program.
    pub(crate) fn check(self, path: &Path) -> Result<(), StoreError> {
        if self.application != APPLICATION {
            return Err(StoreError::NotAJournal {
                path: path.to_path_buf(),
                why: "it is another program's SQLite file",
            });
        }
        if self.version > FILE_VERSION {
            return Err(StoreError::NewerFile {
                path: path.to_path_buf(),
                found: self.version,
                known: FILE_VERSION,
            });
        }
        Ok(())
    }
}

/// Makes the tables of a blank database, or brings an older one up to date, in one transaction.
pub(crate) async fn bring_up_to_date(conn: &mut SqliteConnection) -> Result<(), Error> {
    if Stamp::read(conn).await?.is_blank() {
        // outside any transaction, and kept by the file from then on
        sqlx::query("PRAGMA journal_mode = WAL")
            .execute(&mut *conn)
            .await?;
    }
    let mut tx = conn.begin_with("BEGIN IMMEDIATE").await?;
    // again: another program may have been first
    let stamp = Stamp::read(&mut tx).await?;
    let ours = stamp.is_blank() || stamp.application == APPLICATION;
    if !ours || stamp.version >= FILE_VERSION {
        return tx.rollback().await;
    }
    for step in STEPS.iter().skip(stamp.version as usize) {
        sqlx::raw_sql(*step).execute(&mut *tx).await?;
    }
    // PRAGMA takes no parameters; both are constants of this file
    sqlx::raw_sql(sqlx::AssertSqlSafe(format!(
        "PRAGMA application_id = {APPLICATION}; PRAGMA user_version = {FILE_VERSION};"
    )))
    .execute(&mut *tx)
    .await?;
    tx.commit().await
}
