//! What was measured again on the wall, as the log tells it: true openings, and the sizes that pieces have by them. One
//! taken back is an entry that supersedes the first.

use serde::{Deserialize, Serialize};
use trade::cure::Instant;
use trade::geometry::{Rect, Side};
use trade::measure::{Length, TileId};
use trade::place::{Measured, PieceId, Reach, Reading, Shift, TrueSize, Way};

use super::event::find_by_key;
use super::{Actor, DeviceId, Event, EventId, EventKey, JobId, NewEvent, PersonId, Sawn, Store, StoreError};

/// The kind of an entry with what was measured again.
pub const MEASURED: &str = "measured";

/// The kind of an entry that takes back what was measured.
pub const NOT_MEASURED: &str = "not-measured";

/// One measurement that stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MeasuredRecord {
    pub event: EventId,
    /// Whose room was measured.
    pub piece: PieceId,
    pub at: Instant,
    pub author: PersonId,
    pub device: DeviceId,
    pub found: Found,
}

/// What the tape read and what came of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Found {
    /// As typed.
    pub readings: Vec<Reading>,
    /// Every piece that has another size by it, that one first; what was found before stays in its own entry.
    pub sizes: Vec<(PieceId, TrueSize)>,
    /// How many tiles the job takes, before and with it; only kinds of tile whose number it changes, or else the one of
    /// the piece.
    pub tiles: Vec<TileCount>,
}

/// How many tiles of one kind the job takes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TileCount {
    pub tile: TileId,
    pub before: usize,
    pub after: usize,
}

/// A measurement, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewMeasurement {
    pub key: EventKey,
    pub job: JobId,
    pub piece: PieceId,
    pub found: Found,
}

/// [`Found`] as it stands in the log: lengths in units of 1/76800 mm.
#[derive(Serialize, Deserialize)]
struct Detail {
    readings: Vec<ReadingDetail>,
    sizes: Vec<SizeDetail>,
    tiles: Vec<TileDetail>,
}

#[derive(Serialize, Deserialize)]
struct ReadingDetail {
    way: String,
    opening: i64,
    reach: String,
}

#[derive(Serialize, Deserialize)]
struct SizeDetail {
    piece: String,
    /// Left, bottom, right, top of the piece as planned.
    planned: [i64; 4],
    shifts: Vec<(String, i64)>,
}

#[derive(Serialize, Deserialize)]
struct TileDetail {
    tile: String,
    before: usize,
    after: usize,
}

impl MeasuredRecord {
    /// From its entry, whether it stands or not.
    ///
    /// # Errors
    ///
    /// When the entry cannot be read.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        record(event)
    }
}

impl Sawn {
    /// What holds of all that was measured, piece by piece: what was found later before what was found earlier.
    pub fn true_sizes(&self) -> Measured {
        let mut all = Measured::new();
        for (piece, size) in self.measured.iter().flat_map(|record| &record.found.sizes) {
            let size = size.after(all.get(piece));
            all.insert(piece.clone(), size);
        }
        all
    }

    /// The measurement that gave a piece the size it has now.
    pub fn measurement_of(&self, piece: &PieceId) -> Option<&MeasuredRecord> {
        let gives = |record: &&MeasuredRecord| record.found.sizes.iter().any(|(of, _)| of == piece);
        self.measured.iter().rev().find(gives)
    }
}

impl Store {
    /// What a form of this key measured before; nothing where no form of it was taken.
    ///
    /// # Errors
    ///
    /// [`StoreError::KeyReused`] when it said something else.
    pub async fn measured_by(
        &self,
        key: &EventKey,
        (job, piece): (&JobId, &PieceId),
        readings: &[Reading],
    ) -> Result<Option<EventId>, StoreError> {
        let mut connection = self.readers.acquire().await?;
        let before = find_by_key(&mut connection, key).await?;
        before.map(|event| same(event, (job, piece), readings)).transpose()
    }

    /// One measurement, whether it stands or not.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] when there is none of that name.
    pub async fn measurement(&self, job: &JobId, event: &EventId) -> Result<MeasuredRecord, StoreError> {
        let events = self.events(job).await?;
        let found = events.iter().find(|of| of.id == *event && of.kind == MEASURED);
        record(found.ok_or(StoreError::Missing)?)
    }

    /// Keeps what was measured once `allowed` has looked at all that was done at the saw, in one transaction.
    pub async fn append_measured<R: Send + 'static>(
        &self,
        new: NewMeasurement,
        by: Actor,
        allowed: impl FnOnce(&Sawn) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<EventId, R>, StoreError> {
        let NewMeasurement { key, job, piece, found } = new;
        let detail = detail(&found)?;
        let of = (job.clone(), piece.clone());
        let (kind, happened, supersedes) = (MEASURED.to_owned(), None, None);
        let new = NewEvent { key, job, part: piece.0, kind, detail, happened, supersedes };
        let again = move |before: Event| same(before, (&of.0, &of.1), &found.readings);
        self.append_once(
            (new.key.clone(), new.job.clone()),
            by,
            |sawn| Ok(allowed(sawn).map(|()| new)),
            again,
        )
        .await
    }

    /// Takes a measurement back once `allowed` has looked at all that was done at the saw, in one transaction.
    pub async fn take_back_measured<R: Send + 'static>(
        &self,
        key: EventKey,
        job: JobId,
        (piece, event): (PieceId, EventId),
        by: Actor,
        allowed: impl FnOnce(&Sawn) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<EventId, R>, StoreError> {
        let (kind, detail, supersedes) = (NOT_MEASURED.to_owned(), "{}".to_owned(), Some(event));
        let new = NewEvent { key, job, part: piece.0, kind, detail, happened: None, supersedes };
        self.append_at_saw(new, by, allowed).await
    }
}

/// What came of the same form before.
fn same(
    before: Event,
    (job, piece): (&JobId, &PieceId),
    readings: &[Reading],
) -> Result<EventId, StoreError> {
    if before.kind != MEASURED || before.job != *job || before.part != piece.0 {
        return Err(StoreError::KeyReused);
    }
    let record = record(&before)?;
    if record.found.readings == readings { Ok(before.id) } else { Err(StoreError::KeyReused) }
}

fn detail(found: &Found) -> Result<String, StoreError> {
    let reading = |reading: &Reading| ReadingDetail {
        way: way_name(reading.way).to_owned(),
        opening: reading.opening.units(),
        reach: reach_name(reading.reach).to_owned(),
    };
    let size = |(piece, size): &(PieceId, TrueSize)| {
        let Rect { left, bottom, right, top } = size.planned;
        let shifts = size.shifts.iter().map(|shift| (shift.side.name().to_owned(), shift.by.units()));
        let planned = [left, bottom, right, top].map(Length::units);
        SizeDetail { piece: piece.0.clone(), planned, shifts: shifts.collect() }
    };
    let tile = |count: &TileCount| TileDetail {
        tile: count.tile.0.clone(),
        before: count.before,
        after: count.after,
    };
    let detail = Detail {
        readings: found.readings.iter().map(reading).collect(),
        sizes: found.sizes.iter().map(size).collect(),
        tiles: found.tiles.iter().map(tile).collect(),
    };
    serde_json::to_string(&detail).map_err(|error| StoreError::Unreadable(error.to_string()))
}

/// A measurement from its entry.
pub(super) fn record(event: &Event) -> Result<MeasuredRecord, StoreError> {
    let unreadable = |what: &str| StoreError::Unreadable(format!("measurement {}: {what}", event.sequence));
    let detail: Detail =
        serde_json::from_str(&event.detail).map_err(|error| unreadable(&error.to_string()))?;
    let reading = |reading: ReadingDetail| {
        Some(Reading {
            way: [Way::Across, Way::Up].into_iter().find(|way| way_name(*way) == reading.way)?,
            opening: Length::from_units(reading.opening),
            reach: REACHES.into_iter().find(|reach| reach_name(*reach) == reading.reach)?,
        })
    };
    let shift = |(name, by): (String, i64)| {
        let side = Side::ALL.into_iter().find(|side| side.name() == name)?;
        Some(Shift { side, by: Length::from_units(by) })
    };
    let size = |size: SizeDetail| {
        let [left, bottom, right, top] = size.planned.map(Length::from_units);
        let shifts = size.shifts.into_iter().map(shift).collect::<Option<_>>()?;
        Some((PieceId(size.piece), TrueSize { planned: Rect { left, bottom, right, top }, shifts }))
    };
    let tile =
        |count: TileDetail| TileCount { tile: TileId(count.tile), before: count.before, after: count.after };
    let readings = detail.readings.into_iter().map(reading).collect::<Option<_>>();
    let sizes = detail.sizes.into_iter().map(size).collect::<Option<_>>();
    Ok(MeasuredRecord {
        event: event.id.clone(),
        piece: PieceId(event.part.clone()),
        at: event.happened,
        author: event.author.clone(),
        device: event.device.clone(),
        found: Found {
            readings: readings.ok_or_else(|| unreadable("no such way or reach"))?,
            sizes: sizes.ok_or_else(|| unreadable("no such side"))?,
            tiles: detail.tiles.into_iter().map(tile).collect(),
        },
    })
}

const REACHES: [Reach; 3] = [Reach::Piece, Reach::Course, Reach::Above];

const fn way_name(way: Way) -> &'static str {
    match way {
        Way::Across => "across",
        Way::Up => "up",
    }
}

const fn reach_name(reach: Reach) -> &'static str {
    match reach {
        Reach::Piece => "piece",
        Reach::Course => "course",
        Reach::Above => "above",
    }
}
