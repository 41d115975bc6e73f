//! All SQL. One file an aggregate; functions take and return the types of [`trade`].
//!
//! One connection writes, in explicit `BEGIN IMMEDIATE` transactions that a dropped request cannot cut, and a
//! pool of read-only connections reads. Every setting that "saved" depends on is asserted at start.

mod batch;
mod begun;
mod calendar;
mod changes;
mod claim;
mod count;
mod cut;
mod event;
mod fit;
mod form_key;
mod heartbeat;
mod id;
mod job;
mod join;
mod laid;
mod on_job;
mod people;
mod pin;
mod product;
mod reached;
mod relaid;
mod rough_in;
mod secret;
mod session;
mod sheet;
mod stage;
mod temperature;
mod trim;
mod wall;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use sqlx::sqlite::{
    SqliteConnectOptions, SqliteConnection, SqliteJournalMode, SqlitePool, SqlitePoolOptions,
    SqliteSynchronous,
};
use sqlx::{Sqlite, Transaction};
use tokio::sync::watch;

use crate::clock::Clock;

use self::changes::Changes;

pub use batch::{BATCH, BATCH_OVER, BatchTold, Correction, KeptBatch, Lot, MOST_BATCHES, NewBatch};
pub use calendar::Feed;
pub use changes::Seen;
pub use claim::{CLAIM_HOLDS, Claim, TAKEN_OVER, TakenOver};
pub use count::{COUNTED, Count, Counted, NewCount};
pub use cut::{
    ANEW, BROKE, CUT, CutLog, CutRecord, Fate, NOT_ANEW, NOT_BROKE, NOT_CUT, NewCut, Sawn, WasCut,
};
pub use event::{Appended, Event, EventKey, NewEvent};
pub use fit::{Found, MEASURED, MeasuredRecord, NOT_MEASURED, NewMeasurement, TileCount};
pub use id::{DeviceId, EventId, JobId, PersonId, fingerprint, random_name, random_number};
pub use job::{JobHead, JobLine, NewJob};
pub use join::{LinkState, Opened, SetUp, Way};
pub use laid::{LAID, LaidRun, NOT_LAID, NewLaid, Run};
pub use on_job::{STAGES, StagesChange, StagesTold};
pub use people::{Actor, NewJobs, Person};
pub use pin::{Pin, PinFault, PinHash, PinTry};
pub use product::{PRODUCT, ProductChange, ProductChanged, crew_name};
pub use relaid::{Changed, MovedPiece, NewLayout, RELAID, Relaid};
pub use rough_in::{MOST_WISHES, SeenWish, StoredWish, ValveDepth};
pub use secret::{FeedToken, LinkToken, SessionToken};
pub use session::{Caller, DeviceLine, Role};
pub use sheet::{SheetChange, StoredSheet, Terms};
pub use stage::{NewEntry, Note, STAGE, Stages, Told};
pub use temperature::{
    KeptReading, MOST_NIGHTS, MOST_READINGS, NIGHT, NewNight, NewReading, READING, ReadingTold, Source,
    Temperatures, night_told,
};
pub use trim::{NOT_TRIMMED, NewTrim, TRIMMED, Trim, Trimmed};

/// SQLite before this version can corrupt a WAL database on reset (sqlite.org/wal.html, "the WAL-reset bug").
const OLDEST_SQLITE: [u32; 3] = [3, 51, 3];

/// Readers: pages are short reads, and a crew is a handful of phones.
const READERS: u32 = 4;

/// How long a connection waits for another process's lock before it gives up.
const BUSY: Duration = Duration::from_secs(5);

/// The database of one crew.
#[derive(Clone)]
pub struct Store {
    writer: SqlitePool,
    readers: SqlitePool,
    clock: Clock,
    changes: Changes,
    /// Held for as long as the store lives, so that no second server opens the same folder.
    _lock: Arc<std::fs::File>,
}

/// Why the store could not be opened.
#[derive(thiserror::Error, Debug)]
pub enum OpenError {
    #[error("cannot make or lock the data folder {}: {source}", folder.display())]
    Folder { folder: PathBuf, source: std::io::Error },
    #[error("another coursebook is already using {}: stop it first", .0.display())]
    InUse(PathBuf),
    #[error("SQLite {found} is too old: 3.51.3 or later is needed")]
    OldSqlite { found: String },
    #[error("SQLite refused the setting {name}: it is {found}, not {wanted}")]
    Setting { name: &'static str, found: String, wanted: &'static str },
    #[error("the log of events is broken at entry {sequence}: restore a backup of the data folder")]
    BrokenChain { sequence: i64 },
    #[error(
        "this data folder was written by a later coursebook (it has step {found}, this one knows {known}): use that one"
    )]
    Newer { found: i64, known: i64 },
    #[error("cannot bring the database up to date: {0}")]
    Migrate(#[from] sqlx::migrate::MigrateError),
    #[error("cannot open the database: {0}")]
    Database(#[from] sqlx::Error),
    #[error("cannot read the database: {0}")]
    Store(#[from] StoreError),
}

/// Why something could not be read or saved.
#[derive(thiserror::Error, Debug)]
pub enum StoreError {
    #[error("no such thing is stored")]
    Missing,
    #[error("someone else changed this while the page was open")]
    Stale,
    #[error("something is logged on it")]
    Logged,
    #[error("there are as many as there may be")]
    Full,
    #[error("this key was already used for something else")]
    KeyReused,
    #[error("a stored value cannot be read: {0}")]
    Unreadable(String),
    #[error("the disk is full")]
    DiskFull,
    #[error(transparent)]
    Database(sqlx::Error),
    #[error("the write was cut off")]
    Cut,
}

impl Store {
    /// Opens the data folder, making it and its database where there is none yet.
    ///
    /// # Errors
    ///
    /// When the folder is in use, the SQLite library is too old, a setting does not hold, or the log is broken.
    pub async fn open(folder: &Path, clock: Clock) -> Result<Self, OpenError> {
        let lock = lock(folder)?;
        let options = SqliteConnectOptions::new()
            .filename(folder.join("coursebook.db"))
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            .foreign_keys(true)
            .busy_timeout(BUSY)
            .pragma("recursive_triggers", "ON")
            .pragma("trusted_schema", "OFF")
            .pragma("mmap_size", "0");
        let writer = SqlitePoolOptions::new()
            .max_connections(1)
            .after_release(|connection, _| Box::pin(fit_to_return(connection)))
            .connect_with(options.clone())
            .await?;
        assert_settings(&writer).await?;
        migrate(&writer).await?;
        let readers = SqlitePoolOptions::new()
            .max_connections(READERS)
            .connect_with(options.pragma("query_only", "ON"))
            .await?;
        let store = Self { writer, readers, clock, changes: Changes::new(), _lock: Arc::new(lock) };
        store.verify_chain().await?;
        store.beat().await?;
        Ok(store)
    }

    /// The clock this store stamps with.
    pub fn clock(&self) -> &Clock {
        &self.clock
    }

    /// Where this store stands: ask before reading what a page shows.
    pub fn seen(&self) -> Seen {
        self.changes.watch().borrow().clone()
    }

    /// Where this store stands, and when something is saved.
    pub fn changes(&self) -> watch::Receiver<Seen> {
        self.changes.watch()
    }

    /// Lets go of the database, finishing what is under way.
    pub async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }

    /// Runs one write to its end even when whoever asked for it has gone, and answers only once it is on disk. Whoever
    /// looks on is told.
    async fn write<T, F>(&self, work: impl FnOnce(Self) -> F) -> Result<T, StoreError>
    where
        T: Send + 'static,
        F: Future<Output = Result<T, StoreError>> + Send + 'static,
    {
        let (work, changes) = (work(self.clone()), self.changes.clone());
        let told = async move {
            let saved = work.await?;
            changes.tell();
            Ok(saved)
        };
        tokio::spawn(told).await.unwrap_or(Err(StoreError::Cut))
    }

    /// The same for what no page shows: nobody is told.
    async fn write_unseen<T, F>(&self, work: impl FnOnce(Self) -> F) -> Result<T, StoreError>
    where
        T: Send + 'static,
        F: Future<Output = Result<T, StoreError>> + Send + 'static,
    {
        tokio::spawn(work(self.clone())).await.unwrap_or(Err(StoreError::Cut))
    }

    async fn begin(&self) -> Result<Transaction<'static, Sqlite>, StoreError> {
        Ok(self.writer.begin_with("BEGIN IMMEDIATE").await?)
    }
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        match error.as_database_error().and_then(|database| database.code()).as_deref() {
            Some(SQLITE_FULL) => Self::DiskFull,
            Some(SQLITE_IOERR_FSYNC | SQLITE_IOERR_DIR_FSYNC) => {
                // What a failed fsync leaves on disk is unknown; going on could acknowledge what is lost. The
                // supervisor starts the server again on what is really there.
                tracing::error!(%error, "the disk did not confirm a write; stopping");
                std::process::exit(74)
            }
            _ if matches!(error, sqlx::Error::RowNotFound) => Self::Missing,
            _ => Self::Database(error),
        }
    }
}

/// Result codes of sqlite.org/rescode.html.
const SQLITE_FULL: &str = "13";
const SQLITE_IOERR_FSYNC: &str = "1034";
const SQLITE_IOERR_DIR_FSYNC: &str = "1290";

#[expect(clippy::disallowed_methods, reason = "the lock file, never the database file")]
fn lock(folder: &Path) -> Result<std::fs::File, OpenError> {
    let failed = |source| OpenError::Folder { folder: folder.to_owned(), source };
    make_private_folder(folder).map_err(failed)?;
    let file = std::fs::File::create(folder.join("lock")).map_err(failed)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(std::fs::TryLockError::WouldBlock) => Err(OpenError::InUse(folder.to_owned())),
        Err(std::fs::TryLockError::Error(source)) => Err(failed(source)),
    }
}

fn make_private_folder(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::{DirBuilderExt, PermissionsExt};
    std::fs::DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    std::fs::set_permissions(folder, std::fs::Permissions::from_mode(0o700))
}

/// A connection that an error left inside a transaction, or that no longer answers, is not used again.
async fn fit_to_return(connection: &mut SqliteConnection) -> Result<bool, sqlx::Error> {
    use sqlx::Connection;
    if connection.is_in_transaction() {
        return Ok(false);
    }
    connection.ping().await?;
    Ok(true)
}

async fn assert_settings(writer: &SqlitePool) -> Result<(), OpenError> {
    let found: String = sqlx::query_scalar("SELECT sqlite_version()").fetch_one(writer).await?;
    let version: Vec<u32> = found.split('.').map_while(|part| part.parse().ok()).collect();
    if version.as_slice() < OLDEST_SQLITE.as_slice() {
        return Err(OpenError::OldSqlite { found });
    }
    for (name, query, wanted) in [
        ("journal_mode", "PRAGMA journal_mode", "wal"),
        ("synchronous", "PRAGMA synchronous", "2"),
        ("foreign_keys", "PRAGMA foreign_keys", "1"),
        ("recursive_triggers", "PRAGMA recursive_triggers", "1"),
        ("trusted_schema", "PRAGMA trusted_schema", "0"),
    ] {
        let found = setting(writer, query).await?;
        if found != wanted {
            return Err(OpenError::Setting { name, found, wanted });
        }
    }
    Ok(())
}

async fn setting(writer: &SqlitePool, query: &'static str) -> Result<String, sqlx::Error> {
    use sqlx::{Row, ValueRef};
    let row = sqlx::query(query).fetch_one(writer).await?;
    if row.try_get_raw(0)?.type_info().to_string() == "INTEGER" {
        return Ok(row.try_get::<i64, _>(0)?.to_string());
    }
    row.try_get(0)
}

async fn migrate(writer: &SqlitePool) -> Result<(), OpenError> {
    static STEPS: sqlx::migrate::Migrator = sqlx::migrate!();
    let known = STEPS.iter().map(|step| step.version).max().unwrap_or(0);
    match STEPS.run(writer).await {
        Err(sqlx::migrate::MigrateError::VersionMissing(found)) if found > known => {
            Err(OpenError::Newer { found, known })
        }
        outcome => Ok(outcome?),
    }
}
