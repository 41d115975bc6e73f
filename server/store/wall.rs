//! Bare walls: each with its readings, openings and bands, which are replaced whole when it is measured again.

use sqlx::SqliteConnection;
use trade::measure::bare::{BareWall, End, Meeting, SetFirst};
use trade::measure::{
    Band, BandHeight, BaseReading, Length, LineId, Opening, OpeningEdge, OpeningShape, Role, SurfaceId,
    TileId, TopReading,
};

use super::{JobId, NIGHT, READING, StoreError};

/// A stored name as the trade's.
pub(super) fn surface_id(name: &str) -> Result<SurfaceId, StoreError> {
    SurfaceId::new(name).ok_or_else(|| unreadable("wall", name))
}

fn unreadable(what: &str, found: &str) -> StoreError {
    StoreError::Unreadable(format!("{what} {found}"))
}

/// Every wall of a job, in the order they were measured.
pub(super) async fn read_all(
    connection: &mut SqliteConnection,
    job: &JobId,
) -> Result<Vec<BareWall>, StoreError> {
    let rows = sqlx::query!(
        "SELECT id, name, width, left_role, left_meets, left_first, right_role, right_meets, right_first,
                base_role, top_role, top_may_move, pattern
         FROM wall WHERE job = ? ORDER BY place, id",
        job
    )
    .fetch_all(&mut *connection)
    .await?;
    let mut walls = Vec::with_capacity(rows.len());
    for row in rows {
        walls.push(BareWall {
            id: surface_id(&row.id)?,
            name: row.name,
            line: LineId::default(),
            width: Length::from_units(row.width),
            base: read_base(connection, job, &row.id).await?,
            top: read_top(connection, job, &row.id).await?,
            left: end(&row.left_role, row.left_meets.as_deref(), row.left_first)?,
            right: end(&row.right_role, row.right_meets.as_deref(), row.right_first)?,
            base_role: role(&row.base_role)?,
            top_role: role(&row.top_role)?,
            openings: read_openings(connection, job, &row.id).await?,
            bands: read_bands(connection, job, &row.id).await?,
            pattern: row.pattern.parse().map_err(|_| unreadable("pattern", &row.pattern))?,
            top_may_move: Length::from_units(row.top_may_move),
        });
    }
    Ok(walls)
}

fn role(name: &str) -> Result<Role, StoreError> {
    Role::from_name(name).ok_or_else(|| unreadable("role", name))
}

/// The neighbour's build-up is worked out from its tile and bed whenever the sheet is planned.
fn end(role_name: &str, meets: Option<&str>, first: i64) -> Result<End, StoreError> {
    let set_first = if first != 0 { SetFirst::ThisWall } else { SetFirst::Neighbour };
    let meets = meets
        .map(|name| {
            Ok::<_, StoreError>(Meeting { neighbour: surface_id(name)?, set_first, build_up: Length::ZERO })
        })
        .transpose()?;
    Ok(End { role: role(role_name)?, meets })
}

async fn read_base(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &str,
) -> Result<Vec<BaseReading>, StoreError> {
    let rows = sqlx::query!(
        r#"SELECT x, "drop", carries FROM base_reading WHERE job = ? AND wall = ? ORDER BY place"#,
        job,
        wall
    )
    .fetch_all(connection)
    .await?;
    let units = Length::from_units;
    Ok(rows
        .into_iter()
        .map(|row| BaseReading { x: units(row.x), drop: units(row.drop), carries: row.carries != 0 })
        .collect())
}

async fn read_top(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &str,
) -> Result<Vec<TopReading>, StoreError> {
    let rows =
        sqlx::query!("SELECT x, rise FROM top_reading WHERE job = ? AND wall = ? ORDER BY place", job, wall)
            .fetch_all(connection)
            .await?;
    let units = Length::from_units;
    Ok(rows.into_iter().map(|row| TopReading { x: units(row.x), rise: units(row.rise) }).collect())
}

async fn read_openings(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &str,
) -> Result<Vec<Opening>, StoreError> {
    let rows = sqlx::query!(
        "SELECT name, kind, x, y, width, height, clearance, edge
         FROM opening WHERE job = ? AND wall = ? ORDER BY place",
        job,
        wall
    )
    .fetch_all(connection)
    .await?;
    let units = Length::from_units;
    rows.into_iter()
        .map(|row| {
            let (x, y) = (units(row.x), units(row.y));
            let shape = match row.kind.as_str() {
                "circle" => OpeningShape::Circle { x, y, diameter: units(row.width) },
                _ => OpeningShape::Rectangle { x, y, width: units(row.width), height: units(row.height) },
            };
            let edge = OpeningEdge::from_name(&row.edge).ok_or_else(|| unreadable("edge", &row.edge))?;
            Ok(Opening { name: row.name, shape, clearance: units(row.clearance), edge })
        })
        .collect()
}

async fn read_bands(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &str,
) -> Result<Vec<Band>, StoreError> {
    let rows = sqlx::query!(
        "SELECT tile, upright, courses, bottom_least, bottom_most
         FROM band WHERE job = ? AND wall = ? ORDER BY place",
        job,
        wall
    )
    .fetch_all(connection)
    .await?;
    let units = Length::from_units;
    Ok(rows
        .into_iter()
        .map(|row| Band {
            tile: TileId(row.tile),
            upright: row.upright != 0,
            height: match row.courses.and_then(|courses| u32::try_from(courses).ok()) {
                Some(courses) => BandHeight::Courses(courses),
                None => BandHeight::Fill,
            },
            bottom_between: row
                .bottom_least
                .zip(row.bottom_most)
                .map(|(least, most)| (units(least), units(most))),
            joint_above: None,
            pattern: None,
        })
        .collect())
}

/// Puts a wall in place of the one of its name, or last.
pub(super) async fn save(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &BareWall,
) -> Result<(), StoreError> {
    clear(connection, job, wall.id.as_str()).await?;
    save_wall(connection, job, wall).await?;
    for (place, reading) in (0_i64..).zip(&wall.base) {
        save_base(connection, job, wall, place, reading).await?;
    }
    for (place, reading) in (0_i64..).zip(&wall.top) {
        save_top(connection, job, wall, place, reading).await?;
    }
    for (place, opening) in (0_i64..).zip(&wall.openings) {
        save_opening(connection, job, wall, place, opening).await?;
    }
    for (place, band) in (0_i64..).zip(&wall.bands) {
        save_band(connection, job, wall, place, band).await?;
    }
    Ok(())
}

/// Takes a wall off the job; the corners it made with others stand open.
///
/// # Errors
///
/// [`StoreError::Logged`] once anything is logged on it: what was done stays readable with its wall.
pub(super) async fn remove(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &SurfaceId,
) -> Result<(), StoreError> {
    let wall = wall.as_str();
    // A cut's part is its piece's label, which begins with the wall's name. How cold it was is no work.
    let logged = sqlx::query_scalar!(
        "SELECT count(*) FROM event
         WHERE job = ? AND substr(part, 1, length(?)) = ? AND kind NOT IN (?, ?)",
        job,
        wall,
        wall,
        READING,
        NIGHT
    )
    .fetch_one(&mut *connection)
    .await?;
    if logged > 0 {
        return Err(StoreError::Logged);
    }
    clear(connection, job, wall).await?;
    sqlx::query!("UPDATE wall SET left_meets = NULL WHERE job = ? AND left_meets = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("UPDATE wall SET right_meets = NULL WHERE job = ? AND right_meets = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM rough_in WHERE job = ? AND wall = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM layout_wall WHERE job = ? AND wall = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM layout_band WHERE job = ? AND wall = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM wall WHERE job = ? AND id = ?", job, wall).execute(connection).await?;
    Ok(())
}

async fn clear(connection: &mut SqliteConnection, job: &JobId, wall: &str) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM base_reading WHERE job = ? AND wall = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM top_reading WHERE job = ? AND wall = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM opening WHERE job = ? AND wall = ?", job, wall)
        .execute(&mut *connection)
        .await?;
    sqlx::query!("DELETE FROM band WHERE job = ? AND wall = ?", job, wall).execute(connection).await?;
    Ok(())
}

async fn save_wall(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &BareWall,
) -> Result<(), StoreError> {
    let id = wall.id.as_str();
    let (width, top_may_move) = (wall.width.units(), wall.top_may_move.units());
    let (left_role, right_role) = (wall.left.role.name(), wall.right.role.name());
    let (base_role, top_role) = (wall.base_role.name(), wall.top_role.name());
    let meets = |end: &End| end.meets.as_ref().map(|meets| meets.neighbour.as_str().to_owned());
    let first = |end: &End| end.meets.as_ref().is_some_and(|meets| meets.set_first == SetFirst::ThisWall);
    let (left_meets, left_first) = (meets(&wall.left), first(&wall.left));
    let (right_meets, right_first) = (meets(&wall.right), first(&wall.right));
    let pattern = wall.pattern.to_string();
    sqlx::query!(
        "INSERT INTO wall (job, id, name, place, width, left_role, left_meets, left_first, right_role,
                           right_meets, right_first, base_role, top_role, top_may_move, pattern)
         VALUES (?, ?, ?, (SELECT coalesce(max(place), 0) + 1 FROM wall WHERE job = ?), ?, ?, ?, ?, ?, ?, ?, ?, ?,
                 ?, ?)
         ON CONFLICT (job, id) DO UPDATE SET
             name = excluded.name, width = excluded.width, left_role = excluded.left_role,
             left_meets = excluded.left_meets, left_first = excluded.left_first, right_role = excluded.right_role,
             right_meets = excluded.right_meets, right_first = excluded.right_first,
             base_role = excluded.base_role, top_role = excluded.top_role, top_may_move = excluded.top_may_move,
             pattern = excluded.pattern",
        job,
        id,
        wall.name,
        job,
        width,
        left_role,
        left_meets,
        left_first,
        right_role,
        right_meets,
        right_first,
        base_role,
        top_role,
        top_may_move,
        pattern
    )
    .execute(connection)
    .await?;
    Ok(())
}

async fn save_base(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &BareWall,
    place: i64,
    reading: &BaseReading,
) -> Result<(), StoreError> {
    let (id, x, drop) = (wall.id.as_str(), reading.x.units(), reading.drop.units());
    sqlx::query!(
        r#"INSERT INTO base_reading (job, wall, place, x, "drop", carries) VALUES (?, ?, ?, ?, ?, ?)"#,
        job,
        id,
        place,
        x,
        drop,
        reading.carries
    )
    .execute(connection)
    .await?;
    Ok(())
}

async fn save_top(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &BareWall,
    place: i64,
    reading: &TopReading,
) -> Result<(), StoreError> {
    let (id, x, rise) = (wall.id.as_str(), reading.x.units(), reading.rise.units());
    sqlx::query!(
        "INSERT INTO top_reading (job, wall, place, x, rise) VALUES (?, ?, ?, ?, ?)",
        job,
        id,
        place,
        x,
        rise
    )
    .execute(connection)
    .await?;
    Ok(())
}

async fn save_opening(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &BareWall,
    place: i64,
    opening: &Opening,
) -> Result<(), StoreError> {
    let id = wall.id.as_str();
    let (kind, x, y, width, height) = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => ("rectangle", x, y, width, height),
        OpeningShape::Circle { x, y, diameter } => ("circle", x, y, diameter, diameter),
    };
    let (x, y, width, height) = (x.units(), y.units(), width.units(), height.units());
    let (clearance, edge) = (opening.clearance.units(), opening.edge.name());
    sqlx::query!(
        "INSERT INTO opening (job, wall, place, name, kind, x, y, width, height, clearance, edge)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        job,
        id,
        place,
        opening.name,
        kind,
        x,
        y,
        width,
        height,
        clearance,
        edge
    )
    .execute(connection)
    .await?;
    Ok(())
}

async fn save_band(
    connection: &mut SqliteConnection,
    job: &JobId,
    wall: &BareWall,
    place: i64,
    band: &Band,
) -> Result<(), StoreError> {
    let id = wall.id.as_str();
    let courses = match band.height {
        BandHeight::Fill => None,
        BandHeight::Courses(courses) => Some(i64::from(courses)),
    };
    let least = band.bottom_between.map(|(least, _)| least.units());
    let most = band.bottom_between.map(|(_, most)| most.units());
    sqlx::query!(
        "INSERT INTO band (job, wall, place, tile, upright, courses, bottom_least, bottom_most)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        job,
        id,
        place,
        band.tile.0,
        band.upright,
        courses,
        least,
        most
    )
    .execute(connection)
    .await?;
    Ok(())
}
