//! The times this store has seen: the first and the last of each start of the machine, so that a clock set back is
//! noticed and a restart costs only the time the machine was off.

use sqlx::SqliteConnection;
use trade::cure::{BootId, Heartbeats, Instant, Now, Span, Stamp, WallClock};

use super::{Store, StoreError};

impl Store {
    /// Records that the program is running now.
    pub async fn beat(&self) -> Result<(), StoreError> {
        self.write_unseen(|store| async move {
            let mut transaction = store.begin().await?;
            beat(&mut transaction, store.clock.stamp()).await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }

    /// The present moment, with what was recorded on the way to it.
    pub async fn now(&self) -> Result<Now, StoreError> {
        let mut connection = self.readers.acquire().await?;
        moment(&mut connection, self.clock.stamp()).await
    }
}

/// The moment `stamp`, judged against what was recorded before it.
pub(super) async fn moment(connection: &mut SqliteConnection, stamp: Stamp) -> Result<Now, StoreError> {
    let at = judged(connection, stamp).await?;
    Ok(Now { at, heartbeats: heartbeats(connection).await? })
}

/// Records a stamp, judged against the latest wall clock recorded so far, and answers it as judged.
pub(super) async fn beat(connection: &mut SqliteConnection, stamp: Stamp) -> Result<Stamp, StoreError> {
    let stamp = judged(connection, stamp).await?;
    let (boot, wall, boot_ms) = (boot_name(stamp.boot), stamp.wall.millis(), stamp.since_boot.millis());
    let wall_clock = wall_clock_name(stamp.wall_clock);
    sqlx::query!(
        "INSERT INTO heartbeat (boot, which, wall, boot_ms, wall_clock) VALUES (?, 'first', ?, ?, ?)
         ON CONFLICT (boot, which) DO NOTHING",
        boot,
        wall,
        boot_ms,
        wall_clock
    )
    .execute(&mut *connection)
    .await?;
    sqlx::query!(
        "INSERT INTO heartbeat (boot, which, wall, boot_ms, wall_clock) VALUES (?, 'last', ?, ?, ?)
         ON CONFLICT (boot, which)
         DO UPDATE SET wall = excluded.wall, boot_ms = excluded.boot_ms, wall_clock = excluded.wall_clock",
        boot,
        wall,
        boot_ms,
        wall_clock
    )
    .execute(&mut *connection)
    .await?;
    Ok(stamp)
}

/// A wall clock that reads earlier than one recorded before is surely wrong now or then.
async fn judged(connection: &mut SqliteConnection, stamp: Stamp) -> Result<Stamp, StoreError> {
    let latest = sqlx::query_scalar!(r#"SELECT max(wall) AS "latest: i64" FROM heartbeat"#)
        .fetch_one(&mut *connection)
        .await?;
    let behind = latest.is_some_and(|latest| stamp.wall.millis() < latest);
    Ok(if behind { Stamp { wall_clock: WallClock::Behind, ..stamp } } else { stamp })
}

async fn heartbeats(connection: &mut SqliteConnection) -> Result<Heartbeats, StoreError> {
    let rows = sqlx::query!("SELECT boot, wall, boot_ms, wall_clock FROM heartbeat ORDER BY place")
        .fetch_all(connection)
        .await?;
    let stamps: Result<Vec<Stamp>, StoreError> =
        rows.into_iter().map(|row| stamp(&row.boot, row.wall, row.boot_ms, &row.wall_clock)).collect();
    stamps.map(Heartbeats::new)
}

/// How a start of the machine stands in the database.
pub(super) fn boot_name(boot: BootId) -> String {
    format!("{:032x}", boot.0)
}

/// How what is known of the wall clock stands in the database.
pub(super) fn wall_clock_name(wall_clock: WallClock) -> &'static str {
    match wall_clock {
        WallClock::Trusted => "trusted",
        WallClock::Unsure => "unsure",
        WallClock::Behind => "behind",
    }
}

/// A stamp from its columns.
pub(super) fn stamp(boot: &str, wall: i64, boot_ms: i64, wall_clock: &str) -> Result<Stamp, StoreError> {
    let boot = u128::from_str_radix(boot, 16).map_err(|_| StoreError::Unreadable(format!("boot {boot}")))?;
    let wall_clock = match wall_clock {
        "trusted" => WallClock::Trusted,
        "unsure" => WallClock::Unsure,
        "behind" => WallClock::Behind,
        other => return Err(StoreError::Unreadable(format!("wall clock {other}"))),
    };
    Ok(Stamp {
        wall: Instant::from_millis(wall),
        boot: BootId(boot),
        since_boot: Span::from_millis(boot_ms),
        wall_clock,
    })
}
