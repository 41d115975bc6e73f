//! Niches and valves that are wished for on a wall and not built yet.

use sqlx::SqliteConnection;
use trade::geometry::Rect;
use trade::measure::{Length, OpeningEdge, SurfaceId};
use trade::search::{Wish, WishKind};

use super::{EventKey, JobId, Store, StoreError, form_key, id::fingerprint};

/// The most niches and valves wished for on one wall; more is a slip, not a wall.
pub const MOST_WISHES: usize = 20;

/// One wish, its range from the bare wall's left corner and the first level line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StoredWish {
    /// Its number on its wall, from 1.
    pub place: i64,
    /// What the crew calls it.
    pub name: String,
    pub wish: Wish,
    /// Where a valve sits in the wall, if that was measured.
    pub depth: Option<ValveDepth>,
}

/// A valve's depth, all from its back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ValveDepth {
    pub to_bare_wall: Length,
    /// Where the finished wall may be.
    pub window: (Length, Length),
}

/// A wish as a page was drawn from it: what is done to it holds only while it is still like this.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SeenWish {
    /// Its number on its wall.
    pub place: i64,
    /// Its [`StoredWish::print`] then.
    pub print: String,
}

impl StoredWish {
    /// Short, and equal for wishes that ask for the same in the same words.
    pub fn print(&self) -> String {
        fingerprint(&(&self.name, &self.wish, &self.depth))
    }
}

impl Store {
    /// The wishes on a wall, by their numbers.
    pub async fn rough_ins(&self, job: &JobId, wall: &SurfaceId) -> Result<Vec<StoredWish>, StoreError> {
        let mut connection = self.readers.acquire().await?;
        read(&mut connection, job, wall).await
    }

    /// Keeps a wish in place of the one seen, or, where none was, under the lowest number that is free; says which.
    ///
    /// # Errors
    ///
    /// [`StoreError::Stale`] when the one seen is gone or another one now, [`StoreError::Full`] when the wall has as
    /// many as it may, [`StoreError::Missing`] when there is no such wall.
    pub async fn save_rough_in(
        &self,
        key: EventKey,
        job: JobId,
        wall: SurfaceId,
        seen: Option<SeenWish>,
        wish: StoredWish,
    ) -> Result<i64, StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            if let Some(before) = form_key::answered(&mut transaction, &key).await? {
                return before.parse().map_err(|_| StoreError::Unreadable(format!("place {before}")));
            }
            let place = match seen {
                Some(seen) => {
                    remove(&mut transaction, &job, &wall, &seen).await?;
                    seen.place
                }
                None => free_place(&mut transaction, &job, &wall).await?,
            };
            put(&mut transaction, &job, &wall, place, &wish).await?;
            let now = store.clock.now().millis();
            form_key::answer(&mut transaction, &key, &place.to_string(), now).await?;
            transaction.commit().await?;
            Ok(place)
        })
        .await
    }

    /// Drops the wish seen.
    ///
    /// # Errors
    ///
    /// [`StoreError::Stale`] when it is gone or another one now.
    pub async fn drop_rough_in(
        &self,
        key: EventKey,
        job: JobId,
        wall: SurfaceId,
        seen: SeenWish,
    ) -> Result<(), StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            if form_key::answered(&mut transaction, &key).await?.is_some() {
                return Ok(());
            }
            remove(&mut transaction, &job, &wall, &seen).await?;
            form_key::answer(&mut transaction, &key, wall.as_str(), store.clock.now().millis()).await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }
}

async fn read(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &SurfaceId,
) -> Result<Vec<StoredWish>, StoreError> {
    let wall = wall.as_str();
    let rows = sqlx::query!(
        "SELECT place, name, kind, width, height, lining, clearance, edge, x_from, x_to, y_from, y_to,
                    to_bare_wall, window_least, window_most
             FROM rough_in WHERE job = ? AND wall = ? ORDER BY place",
        job,
        wall
    )
    .fetch_all(connection)
    .await?;
    let units = Length::from_units;
    rows.into_iter()
        .map(|row| {
            let (width, height, lining) = (units(row.width), units(row.height), units(row.lining));
            let unreadable = |what: &str, name: &str| StoreError::Unreadable(format!("{what} {name}"));
            let window = row.window_least.zip(row.window_most);
            Ok(StoredWish {
                place: row.place,
                wish: Wish {
                    kind: match row.kind.as_str() {
                        "valve" => WishKind::Valve { diameter: width },
                        "niche" => WishKind::Niche { width, height, lining },
                        other => return Err(unreadable("kind", other)),
                    },
                    clearance: units(row.clearance),
                    edge: OpeningEdge::from_name(&row.edge).ok_or_else(|| unreadable("edge", &row.edge))?,
                    within: Rect {
                        left: units(row.x_from),
                        bottom: units(row.y_from),
                        right: units(row.x_to),
                        top: units(row.y_to),
                    },
                },
                depth: row.to_bare_wall.zip(window).map(|(to_bare_wall, (least, most))| ValveDepth {
                    to_bare_wall: units(to_bare_wall),
                    window: (units(least), units(most)),
                }),
                name: row.name,
            })
        })
        .collect()
}

async fn free_place(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &SurfaceId,
) -> Result<i64, StoreError> {
    let wall = wall.as_str();
    // A wall that is not there is answered as such, not as a broken reference.
    sqlx::query_scalar!(r#"SELECT 1 AS "is!: i64" FROM wall WHERE job = ? AND id = ?"#, job, wall)
        .fetch_one(&mut *connection)
        .await?;
    let taken = sqlx::query_scalar!("SELECT place FROM rough_in WHERE job = ? AND wall = ?", job, wall)
        .fetch_all(connection)
        .await?;
    if taken.len() >= MOST_WISHES {
        return Err(StoreError::Full);
    }
    (1..=i64::MAX).find(|place| !taken.contains(place)).ok_or(StoreError::Full)
}

async fn put(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &SurfaceId,
    place: i64,
    stored: &StoredWish,
) -> Result<(), StoreError> {
    let wall = wall.as_str();
    let (kind, width, height, lining) = match stored.wish.kind {
        WishKind::Niche { width, height, lining } => ("niche", width, height, lining),
        WishKind::Valve { diameter } => ("valve", diameter, diameter, Length::ZERO),
    };
    let (width, height, lining) = (width.units(), height.units(), lining.units());
    let (clearance, edge) = (stored.wish.clearance.units(), stored.wish.edge.name());
    let Rect { left, bottom, right, top } = stored.wish.within;
    let (x_from, x_to, y_from, y_to) = (left.units(), right.units(), bottom.units(), top.units());
    let to_bare_wall = stored.depth.map(|depth| depth.to_bare_wall.units());
    let window_least = stored.depth.map(|depth| depth.window.0.units());
    let window_most = stored.depth.map(|depth| depth.window.1.units());
    sqlx::query!(
        "INSERT INTO rough_in (job, wall, place, name, kind, width, height, lining, clearance, edge, x_from, x_to,
                               y_from, y_to, to_bare_wall, window_least, window_most)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        job,
        wall,
        place,
        stored.name,
        kind,
        width,
        height,
        lining,
        clearance,
        edge,
        x_from,
        x_to,
        y_from,
        y_to,
        to_bare_wall,
        window_least,
        window_most
    )
    .execute(connection)
    .await?;
    Ok(())
}

/// Takes the wish seen off its wall: it was dropped, is another one now, or became an opening.
///
/// # Errors
///
/// [`StoreError::Stale`] when it is no longer as it was seen.
pub(super) async fn remove(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &SurfaceId,
    seen: &SeenWish,
) -> Result<(), StoreError> {
    let wishes = read(&mut *connection, job, wall).await?;
    if !wishes.iter().any(|wish| wish.place == seen.place && wish.print() == seen.print) {
        return Err(StoreError::Stale);
    }
    let wall = wall.as_str();
    sqlx::query!("DELETE FROM rough_in WHERE job = ? AND wall = ? AND place = ?", job, wall, seen.place)
        .execute(connection)
        .await?;
    Ok(())
}
