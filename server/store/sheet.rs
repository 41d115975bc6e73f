//! A job's sheet: tiles, saw, gaps and bare walls, read and written whole. Every change names the version that
//! its page was drawn from, and raises it.

use std::collections::BTreeMap;

use sqlx::SqliteConnection;
use trade::measure::bare::{BareWall, Floor, LineShift};
use trade::measure::{FirstCourse, Gaps, Layout, LeastSize, Length, Sheet, SurfaceId, Tile, TileId, Unit};
use trade::search::{Measure, Priorities};

use super::event::last_of_job;
use super::{EventKey, JobId, SeenWish, Store, StoreError, form_key, rough_in, wall};

/// A sheet with what the pages need beside it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StoredSheet {
    pub id: JobId,
    /// The job's IANA time zone.
    pub zone: String,
    /// Raised by every change.
    pub version: i64,
    /// The walls are set over a membrane, where mortar dries slowly.
    pub membrane: bool,
    /// How far today's line lies above the first.
    pub line_shift: LineShift,
    pub sheet: Sheet,
}

/// What changes on a sheet. Walls stand in the first line's frame.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum SheetChange {
    /// Tiles, saw, gaps, floor.
    Terms(Terms),
    /// A wall, new or measured again; `None` as its place puts a new one last.
    Wall(BareWall),
    /// A wall taken off the job, while nothing is logged on it.
    NoWall(SurfaceId),
    /// What the lead chose by hand.
    Layout(Layout),
    /// What the lead judges a layout by first.
    Priorities(Priorities),
    /// Today's line lies this much above the first.
    Line(LineShift),
    /// A wish on a wall that is one no longer: it became an opening.
    NoRoughIn(SurfaceId, SeenWish),
    /// Several at once, all or none: a wall with the neighbours whose corners change with it.
    Several(Vec<SheetChange>),
}

/// All of a sheet that is not a wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Terms {
    pub tiles: BTreeMap<TileId, Tile>,
    pub joint: Length,
    /// The least and greatest joint allowed; `None` means the joint alone.
    pub joint_range: Option<(Length, Length)>,
    pub kerf: Length,
    pub spare: Length,
    pub gaps: Gaps,
    pub base_gap_max: Length,
    pub smallest_cut: Option<LeastSize>,
    pub bed: Length,
    pub membrane: bool,
    pub floor: Floor,
}

/// How a unit stands in the database.
pub(super) fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Millimetre => "mm",
        Unit::Inch => "in",
    }
}

impl Store {
    /// The whole sheet of a job.
    pub async fn sheet(&self, job: &JobId) -> Result<StoredSheet, StoreError> {
        // One transaction, so that walls and tiles are of one version.
        let mut transaction = self.readers.begin().await?;
        read(&mut transaction, job).await
    }

    /// The sheet as it would be with a change; nothing is kept.
    ///
    /// # Errors
    ///
    /// What saving it would be refused with, but for what somebody else was quicker with.
    pub async fn sheet_with(&self, job: JobId, change: SheetChange) -> Result<StoredSheet, StoreError> {
        self.write_unseen(move |store| async move {
            let mut transaction = store.begin().await?;
            apply(&mut transaction, &job, change).await?;
            let changed = read(&mut transaction, &job).await?;
            transaction.rollback().await?;
            Ok(changed)
        })
        .await
    }

    /// Changes the sheet, once for each form key.
    ///
    /// # Errors
    ///
    /// [`StoreError::Stale`] when the sheet is no longer the version that the page was drawn from, or a wish no longer
    /// as it was seen.
    pub async fn change_sheet(
        &self,
        key: EventKey,
        job: JobId,
        version: i64,
        change: SheetChange,
    ) -> Result<(), StoreError> {
        self.save_change(key, job, version, change, None).await
    }

    /// The same where the change was held against the work as the log told it up to the entry `seen`.
    ///
    /// # Errors
    ///
    /// [`StoreError::Stale`] when something was logged since, too.
    pub async fn change_sheet_as_seen(
        &self,
        key: EventKey,
        job: JobId,
        version: i64,
        change: SheetChange,
        seen: i64,
    ) -> Result<(), StoreError> {
        self.save_change(key, job, version, change, Some(seen)).await
    }

    async fn save_change(
        &self,
        key: EventKey,
        job: JobId,
        version: i64,
        change: SheetChange,
        seen: Option<i64>,
    ) -> Result<(), StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            if form_key::answered(&mut transaction, &key).await?.is_some() {
                return Ok(());
            }
            raise_version(&mut transaction, &job, version).await?;
            if let Some(seen) = seen
                && last_of_job(&mut transaction, &job).await? != seen
            {
                return Err(StoreError::Stale);
            }
            apply(&mut transaction, &job, change).await?;
            form_key::answer(&mut transaction, &key, job.as_str(), store.clock.now().millis()).await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }
}

/// The next version, where this is the one in force.
pub(super) async fn raise_version(
    connection: &mut SqliteConnection,
    job: &JobId,
    version: i64,
) -> Result<(), StoreError> {
    let raised =
        sqlx::query!("UPDATE job SET version = version + 1 WHERE id = ? AND version = ?", job, version)
            .execute(connection)
            .await?;
    if raised.rows_affected() == 1 { Ok(()) } else { Err(StoreError::Stale) }
}

pub(super) async fn apply(
    connection: &mut SqliteConnection,
    job: &JobId,
    change: SheetChange,
) -> Result<(), StoreError> {
    match change {
        SheetChange::Terms(terms) => save_terms(connection, job, &terms).await,
        SheetChange::Wall(bare) => wall::save(connection, job, &bare).await,
        SheetChange::NoWall(id) => wall::remove(connection, job, &id).await,
        SheetChange::Layout(layout) => save_layout(connection, job, &layout).await,
        SheetChange::Priorities(priorities) => {
            let names = priorities.in_order().map(Measure::name).join(",");
            sqlx::query!("UPDATE job SET priorities = ? WHERE id = ?", names, job)
                .execute(connection)
                .await?;
            Ok(())
        }
        SheetChange::Line(shift) => {
            let shift = shift.0.units();
            sqlx::query!("UPDATE job SET line_shift = ? WHERE id = ?", shift, job)
                .execute(connection)
                .await?;
            Ok(())
        }
        SheetChange::NoRoughIn(wall, seen) => rough_in::remove(connection, job, &wall, &seen).await,
        SheetChange::Several(changes) => {
            for change in changes {
                Box::pin(apply(&mut *connection, job, change)).await?;
            }
            Ok(())
        }
    }
}

async fn read(connection: &mut SqliteConnection, job: &JobId) -> Result<StoredSheet, StoreError> {
    let row = sqlx::query!(
        "SELECT id, name, unit, zone, joint, kerf, spare, gap_corner, gap_base, gap_ceiling, gap_trim, gap_mitre,
                gap_opening, base_gap_max, smallest_width, smallest_height, bed, membrane, floor, floor_thickness,
                line_shift, version, joint_least, joint_most, priorities
         FROM job WHERE id = ?",
        job
    )
    .fetch_one(&mut *connection)
    .await?;
    let units = Length::from_units;
    let thickness = units(row.floor_thickness);
    let sheet = Sheet {
        name: row.name,
        unit: if row.unit == "in" { Unit::Inch } else { Unit::Millimetre },
        tiles: read_tiles(connection, job).await?,
        joint: units(row.joint),
        joint_range: row.joint_least.zip(row.joint_most).map(|(least, most)| (units(least), units(most))),
        kerf: units(row.kerf),
        spare: units(row.spare),
        gaps: Gaps {
            corner: units(row.gap_corner),
            base: units(row.gap_base),
            ceiling: units(row.gap_ceiling),
            trim: units(row.gap_trim),
            mitre: units(row.gap_mitre),
            opening: units(row.gap_opening),
        },
        base_gap_max: units(row.base_gap_max),
        smallest_cut: row
            .smallest_width
            .zip(row.smallest_height)
            .map(|(width, height)| LeastSize { width: units(width), height: units(height) }),
        bed: units(row.bed),
        floor: match row.floor.as_str() {
            "before" => Floor::TiledBefore { thickness },
            "after" => Floor::TiledAfter { thickness },
            _ => Floor::AsMeasured,
        },
        walls: wall::read_all(connection, job).await?,
        layout: read_layout(connection, job).await?,
        priorities: read_priorities(&row.priorities)?,
    };
    Ok(StoredSheet {
        id: row.id,
        zone: row.zone,
        version: row.version,
        membrane: row.membrane != 0,
        line_shift: LineShift(units(row.line_shift)),
        sheet,
    })
}

fn read_priorities(names: &str) -> Result<Priorities, StoreError> {
    let names = names.split(',').filter(|name| !name.is_empty());
    Priorities::named(names).map_err(|fault| StoreError::Unreadable(fault.to_string()))
}

async fn read_tiles(
    connection: &mut SqliteConnection,
    job: &JobId,
) -> Result<BTreeMap<TileId, Tile>, StoreError> {
    let rows = sqlx::query!(
        "SELECT id, width, height, thickness, rectified, directional, quarter_turn, size_variation, warpage, per_box
         FROM tile WHERE job = ?",
        job
    )
    .fetch_all(connection)
    .await?;
    let tile = |per_box: Option<i64>| per_box.and_then(|count| u32::try_from(count).ok());
    Ok(rows
        .into_iter()
        .map(|row| {
            let found = Tile {
                width: Length::from_units(row.width),
                height: Length::from_units(row.height),
                thickness: Some(Length::from_units(row.thickness)),
                rectified: row.rectified.map(|rectified| rectified != 0),
                directional: row.directional != 0,
                quarter_turn: row.quarter_turn != 0,
                size_variation: row.size_variation.map(Length::from_units),
                warpage: row.warpage.map(Length::from_units),
                per_box: tile(row.per_box),
            };
            (TileId(row.id), found)
        })
        .collect())
}

async fn save_terms(connection: &mut SqliteConnection, job: &JobId, terms: &Terms) -> Result<(), StoreError> {
    let gaps = [
        terms.gaps.corner,
        terms.gaps.base,
        terms.gaps.ceiling,
        terms.gaps.trim,
        terms.gaps.mitre,
        terms.gaps.opening,
    ]
    .map(Length::units);
    let (joint, kerf, spare) = (terms.joint.units(), terms.kerf.units(), terms.spare.units());
    let (joint_least, joint_most) =
        terms.joint_range.map(|(least, most)| (least.units(), most.units())).unzip();
    let (base_gap_max, bed) = (terms.base_gap_max.units(), terms.bed.units());
    let smallest_width = terms.smallest_cut.map(|least| least.width.units());
    let smallest_height = terms.smallest_cut.map(|least| least.height.units());
    let (floor, thickness) = match terms.floor {
        Floor::AsMeasured => ("as-measured", Length::ZERO),
        Floor::TiledBefore { thickness } => ("before", thickness),
        Floor::TiledAfter { thickness } => ("after", thickness),
    };
    let thickness = thickness.units();
    sqlx::query!(
        "UPDATE job SET joint = ?, kerf = ?, spare = ?, gap_corner = ?, gap_base = ?, gap_ceiling = ?,
                        gap_trim = ?, gap_mitre = ?, gap_opening = ?, base_gap_max = ?, smallest_width = ?,
                        smallest_height = ?, bed = ?, membrane = ?, floor = ?, floor_thickness = ?, joint_least = ?,
                        joint_most = ?
         WHERE id = ?",
        joint,
        kerf,
        spare,
        gaps[0],
        gaps[1],
        gaps[2],
        gaps[3],
        gaps[4],
        gaps[5],
        base_gap_max,
        smallest_width,
        smallest_height,
        bed,
        terms.membrane,
        floor,
        thickness,
        joint_least,
        joint_most,
        job
    )
    .execute(&mut *connection)
    .await?;
    let stored =
        sqlx::query_scalar!("SELECT id FROM tile WHERE job = ?", job).fetch_all(&mut *connection).await?;
    for id in stored.into_iter().filter(|id| !terms.tiles.contains_key(&TileId(id.clone()))) {
        sqlx::query!("DELETE FROM tile WHERE job = ? AND id = ?", job, id).execute(&mut *connection).await?;
    }
    for (id, tile) in &terms.tiles {
        save_tile(connection, job, id, tile).await?;
    }
    Ok(())
}

async fn save_tile(
    connection: &mut SqliteConnection,
    job: &JobId,
    id: &TileId,
    tile: &Tile,
) -> Result<(), StoreError> {
    let (width, height) = (tile.width.units(), tile.height.units());
    let thickness = tile.thickness.unwrap_or_default().units();
    let (size_variation, warpage) = (tile.size_variation.map(Length::units), tile.warpage.map(Length::units));
    sqlx::query!(
        "INSERT INTO tile (job, id, width, height, thickness, rectified, directional, quarter_turn, size_variation,
                           warpage, per_box)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (job, id) DO UPDATE SET
             width = excluded.width, height = excluded.height, thickness = excluded.thickness,
             rectified = excluded.rectified, directional = excluded.directional,
             quarter_turn = excluded.quarter_turn, size_variation = excluded.size_variation,
             warpage = excluded.warpage, per_box = excluded.per_box",
        job,
        id.0,
        width,
        height,
        thickness,
        tile.rectified,
        tile.directional,
        tile.quarter_turn,
        size_variation,
        warpage,
        tile.per_box
    )
    .execute(connection)
    .await?;
    Ok(())
}

async fn read_layout(connection: &mut SqliteConnection, job: &JobId) -> Result<Layout, StoreError> {
    let joint = sqlx::query_scalar!("SELECT joint FROM layout WHERE job = ?", job)
        .fetch_optional(&mut *connection)
        .await?
        .flatten();
    let rows = sqlx::query!(
        "SELECT wall, course_line, start, first_course, mirror FROM layout_wall WHERE job = ?",
        job
    )
    .fetch_all(&mut *connection)
    .await?;
    let mut layout = Layout { joint: joint.map(Length::from_units), ..Layout::default() };
    for row in rows {
        let wall = wall::surface_id(&row.wall)?;
        if let Some(line) = row.course_line {
            layout.course_line.insert(wall.clone(), Length::from_units(line));
        }
        if let Some(start) = row.start {
            layout.starts.insert(wall.clone(), Length::from_units(start));
        }
        match row.first_course.as_deref() {
            Some("propped") => drop(layout.first_course.insert(wall.clone(), FirstCourse::Propped)),
            Some("scribed") => drop(layout.first_course.insert(wall.clone(), FirstCourse::Scribed)),
            _ => {}
        }
        if let Some(mirror) = row.mirror {
            layout.mirror.insert(wall, mirror != 0);
        }
    }
    layout.band_starts = read_band_starts(connection, job).await?;
    Ok(layout)
}

async fn read_band_starts(
    connection: &mut SqliteConnection,
    job: &JobId,
) -> Result<BTreeMap<(SurfaceId, usize), Length>, StoreError> {
    let rows = sqlx::query!("SELECT wall, band, start FROM layout_band WHERE job = ?", job)
        .fetch_all(connection)
        .await?;
    rows.into_iter()
        .map(|row| {
            let band = usize::try_from(row.band)
                .map_err(|_| StoreError::Unreadable(format!("band {}", row.band)))?;
            Ok(((wall::surface_id(&row.wall)?, band), Length::from_units(row.start)))
        })
        .collect()
}

/// Keeps what is chosen in place of what was.
pub(super) async fn save_layout(
    connection: &mut SqliteConnection,
    job: &JobId,
    layout: &Layout,
) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM layout_wall WHERE job = ?", job).execute(&mut *connection).await?;
    let joint = layout.joint.map(Length::units);
    sqlx::query!(
        "INSERT INTO layout (job, joint) VALUES (?, ?) ON CONFLICT (job) DO UPDATE SET joint = excluded.joint",
        job,
        joint
    )
    .execute(&mut *connection)
    .await?;
    let walls =
        sqlx::query_scalar!("SELECT id FROM wall WHERE job = ?", job).fetch_all(&mut *connection).await?;
    for name in walls {
        let wall = wall::surface_id(&name)?;
        let course_line = layout.course_line.get(&wall).map(|line| line.units());
        let start = layout.starts.get(&wall).map(|start| start.units());
        let first_course = layout.first_course.get(&wall).map(|first| match first {
            FirstCourse::Propped => "propped",
            FirstCourse::Scribed => "scribed",
        });
        let mirror = layout.mirror.get(&wall).copied();
        sqlx::query!(
            "INSERT INTO layout_wall (job, wall, course_line, start, first_course, mirror)
             VALUES (?, ?, ?, ?, ?, ?)",
            job,
            name,
            course_line,
            start,
            first_course,
            mirror
        )
        .execute(&mut *connection)
        .await?;
    }
    save_band_starts(connection, job, layout).await
}

async fn save_band_starts(
    connection: &mut SqliteConnection,
    job: &JobId,
    layout: &Layout,
) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM layout_band WHERE job = ?", job).execute(&mut *connection).await?;
    for ((wall, band), start) in &layout.band_starts {
        let (wall, start) = (wall.as_str(), start.units());
        let band =
            i64::try_from(*band).map_err(|_| StoreError::Unreadable(format!("band {band} of {wall}")))?;
        sqlx::query!(
            "INSERT INTO layout_band (job, wall, band, start) VALUES (?, ?, ?, ?)",
            job,
            wall,
            band,
            start
        )
        .execute(&mut *connection)
        .await?;
    }
    Ok(())
}
