//! One journal file, opened.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use hive::DeviceId;
use sqlx::pool::PoolConnection;
use sqlx::sqlite::{SqliteConnectOptions, SqlitePool, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{Connection as _, Sqlite, SqliteConnection, Transaction};

use crate::error::StoreError;
use crate::home;
use crate::options::{Access, OpenOptions};
use crate::schema::{self, Found, Stamp};
use crate::sql;

/// The name of a journal file inside a data folder.
pub const FILE_NAME: &str = "journal.sqlite";

/// A journal in one SQLite file. Cheap to clone; clones share the file.
#[derive(Debug, Clone)]
pub struct Journal {
    pub(crate) pool: SqlitePool,
    pub(crate) place: Arc<Place>,
}

/// Where a journal is and how it was opened.
#[derive(Debug)]
pub(crate) struct Place {
    /// The file; `:memory:` for a journal that is kept nowhere.
    pub(crate) path: PathBuf,
    pub(crate) options: OpenOptions,
    in_memory: bool,
}

impl Journal {
    /// Opens the journal at `path`, a file. With [`OpenOptions::write`], folder and file are made on
    /// first use.
    ///
    /// # Errors
    /// [`StoreError::NotAJournal`], [`StoreError::NewerFile`], [`StoreError::ReadOnly`],
    /// [`StoreError::DiskFull`], [`StoreError::Disk`], [`StoreError::Busy`],
    /// [`StoreError::DamagedFile`]; [`StoreError::NoJournal`] when opened to be read. The file is then as it was.
    pub async fn open(path: impl AsRef<Path>, options: OpenOptions) -> Result<Self, StoreError> {
        let path = path.as_ref();
        let place = Arc::new(Place {
            path: path.to_path_buf(),
            options,
            in_memory: false,
        });
        let found = schema::look(path)?;
        match place.options.access {
            Access::Read if found == Found::Nothing => Err(place.no_journal()),
            Access::Read => open_to_read(place).await,
            Access::Write => {
                make_folder(path)?;
                open_to_write(place).await
            }
        }
    }

    /// A journal that is kept nowhere, for tests and tours.
    pub async fn in_memory(options: OpenOptions) -> Result<Self, StoreError> {
        let place = Arc::new(Place {
            path: PathBuf::from(":memory:"),
            options,
            in_memory: true,
        });
        let connect = place
            .tuned(SqliteConnectOptions::new().in_memory(true))
            .shared_cache(false);
        let journal = Self::connected(place, connect, 1).await?;
        let mut conn = journal.connection().await?;
        journal.said(schema::bring_up_to_date(&mut conn).await)?;
        drop(conn);
        Ok(journal)
    }

    /// The file; `:memory:` for a journal that is kept nowhere.
    pub fn path(&self) -> &Path {
        &self.place.path
    }

    /// Closes the file; what was acknowledged is kept with or without it.
    pub async fn close(self) {
        self.pool.close().await;
    }

    /// The id under which this file writes. It is made when first asked for, or at the first append,
    /// and made anew when the file was copied, moved or restored, or when a merge showed that
    /// another file writes under it.
    pub async fn device(&self) -> Result<DeviceId, StoreError> {
        let mut tx = self.writing().await?;
        let device = self.device_in(&mut tx).await?;
        self.said(tx.commit().await)?;
        Ok(device)
    }

    /// What the keeper calls this device, if told. It stays in this file.
    pub async fn device_name(&self) -> Result<Option<String>, StoreError> {
        let mut conn = self.connection().await?;
        Ok(self.said(sql::here(&mut conn).await)?.name)
    }

    /// Sets what the keeper calls this device.
    pub async fn set_device_name(&self, name: &str) -> Result<(), StoreError> {
        let mut tx = self.writing().await?;
        self.said(sql::set_name(&mut tx, name).await)?;
        self.said(tx.commit().await)
    }

    /// The device id that is right for this place, in a transaction that writes.
    pub(crate) async fn device_in(
        &self,
        conn: &mut SqliteConnection,
    ) -> Result<DeviceId, StoreError> {
        let here = self.said(sql::here(conn).await)?;
        let home = if self.place.in_memory {
            String::new()
        } else {
            home::fingerprint(&self.place.path)
        };
        if let Some(device) = here.device
            && here.home == home
        {
            return Ok(device);
        }
        let device = (self.place.options.fresh_device)();
        self.said(sql::set_device(conn, Some(device), &home).await)?;
        Ok(device)
    }

    /// A transaction that holds the right to write from its beginning; undone unless committed.
    pub(crate) async fn writing(&self) -> Result<Transaction<'static, Sqlite>, StoreError> {
        if self.place.options.access == Access::Read {
            return Err(StoreError::OpenedToRead {
                path: self.place.path.clone(),
            });
        }
        self.said(self.pool.begin_with("BEGIN IMMEDIATE").await)
    }

    /// A transaction that sees the journal as it is now, whatever others write meanwhile.
    pub(crate) async fn reading(&self) -> Result<Transaction<'static, Sqlite>, StoreError> {
        self.said(self.pool.begin().await)
    }

    pub(crate) async fn connection(&self) -> Result<PoolConnection<Sqlite>, StoreError> {
        self.said(self.pool.acquire().await)
    }

    /// The database's word in ours.
    pub(crate) fn said<T>(&self, result: Result<T, sqlx::Error>) -> Result<T, StoreError> {
        result.map_err(|why| self.place.fault(why))
    }

    async fn connected(
        place: Arc<Place>,
        connect: SqliteConnectOptions,
        connections: u32,
    ) -> Result<Self, StoreError> {
        let pool = SqlitePoolOptions::new()
            .max_connections(connections)
            // a journal in memory lives as long as its one connection
            .idle_timeout(None)
            .max_lifetime(None)
            .after_release(|conn, _| Box::pin(async move { is_at_rest(conn).await }))
            .acquire_timeout(place.options.patience + Duration::from_secs(1))
            .connect_with(connect)
            .await
            .map_err(|why| place.fault(why))?;
        Ok(Self { pool, place })
    }
}

/// False for a connection that must not be used again. When the disk is full SQLite may end a
/// transaction by itself; sqlx's own rollback then fails and it counts the transaction as open.
async fn is_at_rest(conn: &mut SqliteConnection) -> Result<bool, sqlx::Error> {
    // the rollback of a dropped transaction is on its way; this waits for it
    conn.ping().await?;
    Ok(!conn.is_in_transaction())
}

/// Connections for readers beside the one that writes.
const CONNECTIONS: u32 = 4;

async fn open_to_write(place: Arc<Place>) -> Result<Journal, StoreError> {
    let until = Instant::now() + place.options.patience;
    loop {
        match ready_to_write(&place).await {
            // SQLite does not wait when two programs turn a new file to WAL at once
            Err(StoreError::Busy { .. }) if Instant::now() < until => {
                tokio::time::sleep(Duration::from_millis(20)).await;
            }
            Err(why) => return Err(why),
            Ok(()) => break,
        }
    }
    let connect = place.tuned(place.at_path());
    Journal::connected(place, connect, CONNECTIONS).await
}

/// Looks at the file through one connection and makes or updates it if that is due.
async fn ready_to_write(place: &Arc<Place>) -> Result<(), StoreError> {
    let connect = place.tuned(place.at_path().create_if_missing(true));
    let mut conn = SqliteConnection::connect_with(&connect)
        .await
        .map_err(|why| place.fault(why))?;
    let ready = async {
        let stamp = Stamp::read(&mut conn)
            .await
            .map_err(|why| place.fault(why))?;
        if stamp.is_current() {
            return Ok(());
        }
        if !stamp.is_blank() {
            stamp.check(&place.path)?;
        }
        schema::bring_up_to_date(&mut conn)
            .await
            .map_err(|why| place.fault(why))?;
        let stamp = Stamp::read(&mut conn)
            .await
            .map_err(|why| place.fault(why))?;
        stamp.check(&place.path)
    }
    .await;
    let closed = conn.close().await.map_err(|why| place.fault(why));
    ready.and(closed)
}

async fn open_to_read(place: Arc<Place>) -> Result<Journal, StoreError> {
    let plain = place.tuned(place.at_path().read_only(true));
    let mut opened = read_through(&place, plain).await;
    if matches!(opened, Err(StoreError::ReadOnly { .. })) {
        // where the folder cannot be written, SQLite cannot make the index of its log; without a
        // log there is nothing to index
        if has_log(&place.path) {
            return Err(StoreError::Disk {
                path: place.path.clone(),
                why: "it was not closed properly, and its folder is read-only; copy the file and the one ending in -wal to a folder that can be written".into(),
            });
        }
        let fixed = place.tuned(place.at_path().read_only(true).immutable(true));
        opened = read_through(&place, fixed).await;
    }
    opened
}

async fn read_through(
    place: &Arc<Place>,
    connect: SqliteConnectOptions,
) -> Result<Journal, StoreError> {
    let journal = Journal::connected(Arc::clone(place), connect, CONNECTIONS).await?;
    let mut conn = journal.connection().await?;
    let stamp = journal.said(Stamp::read(&mut conn).await)?;
    drop(conn);
    if stamp.is_blank() {
        return Err(place.no_journal());
    }
    stamp.check(&place.path)?;
    Ok(journal)
}

/// True when entries may stand in a write-ahead log beside the file.
fn has_log(path: &Path) -> bool {
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    fs::metadata(log).is_ok_and(|metadata| metadata.len() > 0)
}

/// Makes the folder of a file, each part of it durable before the next.
fn make_folder(path: &Path) -> Result<(), StoreError> {
    let Some(folder) = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    else {
        return Ok(());
    };
    let missing: Vec<_> = folder
        .ancestors()
        .take_while(|part| !part.as_os_str().is_empty() && !part.exists())
        .collect();
    fs::create_dir_all(folder).map_err(|why| StoreError::io(path, &why))?;
    for part in missing {
        sync_folder_of(part);
    }
    Ok(())
}

/// Makes a new name in a folder outlast a power cut. Systems that cannot do so are left alone: what
/// can be lost there is the file as a whole and just after it was made.
pub(crate) fn sync_folder_of(path: &Path) {
    if let Some(folder) = path.parent()
        && let Ok(folder) = fs::File::open(folder)
    {
        let _ = folder.sync_all();
    }
}

impl Place {
    fn at_path(&self) -> SqliteConnectOptions {
        SqliteConnectOptions::new().filename(&self.path)
    }

    fn tuned(&self, connect: SqliteConnectOptions) -> SqliteConnectOptions {
        let connect = connect
            .busy_timeout(self.options.patience)
            // a page of rows goes over at once
            .row_buffer_size(256)
            // acknowledged means on the disk: FULL syncs the log at every commit
            .synchronous(SqliteSynchronous::Full)
            // on Apple's systems a plain sync may stop at the drive's cache
            .pragma("fullfsync", "ON")
            .pragma("checkpoint_fullfsync", "ON")
            // files from others are merged: what their schema says is not trusted
            .pragma("trusted_schema", "OFF");
        match self.options.max_bytes {
            Some(bytes) => connect.pragma("max_page_count", (bytes / 4096).max(1).to_string()),
            None => connect,
        }
    }

    fn no_journal(&self) -> StoreError {
        StoreError::NoJournal {
            path: self.path.clone(),
        }
    }

    /// Tells the database's fault by its result code ("Result and Error Codes" of SQLite's manual).
    pub(crate) fn fault(&self, why: sqlx::Error) -> StoreError {
        let path = self.path.clone();
        let (code, words) = match &why {
            sqlx::Error::Database(database) => (
                database.code().and_then(|code| code.parse::<i32>().ok()),
                database.message().to_owned(),
            ),
            sqlx::Error::PoolTimedOut => (Some(BUSY), String::new()),
            sqlx::Error::Io(io) => return StoreError::io(&self.path, io),
            _ => (None, String::new()),
        };
        // the low byte is the plain code, the rest says more
        match code.map(|code| code & 0xff) {
            Some(PERM | READONLY | CANTOPEN) => StoreError::ReadOnly { path },
            Some(BUSY | LOCKED) => StoreError::Busy {
                path,
                patience: self.options.patience,
            },
            Some(FULL) => StoreError::DiskFull { path },
            Some(IOERR) => StoreError::Disk { path, why: words },
            Some(CORRUPT) => StoreError::DamagedFile { path, why: words },
            Some(NOTADB) => StoreError::NotAJournal {
                path,
                why: "it is not a SQLite file",
            },
            _ => StoreError::Database { path, why },
        }
    }
}

const PERM: i32 = 3;
const BUSY: i32 = 5;
const LOCKED: i32 = 6;
const READONLY: i32 = 8;
const IOERR: i32 = 10;
const CORRUPT: i32 = 11;
const FULL: i32 = 13;
const CANTOPEN: i32 = 14;
const NOTADB: i32 = 26;
