//! Another layout in the middle of the work, chosen or come of what was measured or typed anew, as the log tells it: what
//! it was, what it is, and what that cost.

use serde::{Deserialize, Serialize};
use trade::measure::{FirstCourse, Layout, Length, SurfaceId, TileId};
use trade::place::PieceId;
use trade::search::BegunTile;

use super::begun::BegunDetail;
use super::event::{enter, last_of_job, repeated};
use super::product::{from_json, to_json};
use super::sheet::{apply, raise_version};
use super::{Actor, Event, EventKey, JobId, NewEvent, SheetChange, Store, StoreError, TileCount, form_key};

/// The kind of an entry that says that the layout is another from here on.
pub const RELAID: &str = "relaid";

/// A layout that takes the place of the one in force, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewLayout {
    pub key: EventKey,
    pub job: JobId,
    /// Of the sheet that it was chosen on.
    pub version: i64,
    /// What is chosen, measured or typed anew.
    pub change: SheetChange,
    /// What goes into the log with it.
    pub relaid: Relaid,
    /// The last entry of the log that the price was worked out from.
    pub seen: i64,
}

/// From what to what, and at what price.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Relaid {
    /// What else than the layout is another; nothing where that alone was chosen.
    pub changed: Vec<Changed>,
    /// Both with all that was proposed.
    pub before: Layout,
    pub after: Layout,
    /// Cut pieces that fitted before and do not fit any more.
    pub misfits: usize,
    /// How many tiles the job takes, by kind.
    pub tiles: Vec<TileCount>,
    /// The tiles cut into that the other layout starts from; nothing in an entry from before this was kept.
    pub begun: Option<Vec<BegunTile>>,
    /// Pieces that were still to be cut and are cut in another way by it, or not at all; nothing in an entry from before
    /// this was kept.
    pub moved: Vec<MovedPiece>,
}

/// A piece with the size that it had before.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MovedPiece {
    pub piece: PieceId,
    pub width: Length,
    pub height: Length,
}

/// A part of the sheet.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize, Deserialize)]
pub enum Changed {
    /// A wall's readings, edges, openings or bands, by its id.
    Wall(String),
    /// A wall that is no part of the job any more.
    NoWall(String),
    /// Tiles, saw, gaps, floor.
    Terms,
}

/// [`Relaid`] as it stands in the log: lengths in units of 1/76800 mm.
#[derive(Serialize, Deserialize)]
struct Detail {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    changed: Vec<Changed>,
    before: LayoutDetail,
    after: LayoutDetail,
    misfits: usize,
    tiles: Vec<(String, usize, usize)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    begun: Option<Vec<BegunDetail>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    moved: Vec<(String, i64, i64)>,
}

#[derive(Serialize, Deserialize)]
struct LayoutDetail {
    joint: Option<i64>,
    course_line: Vec<(String, i64)>,
    starts: Vec<(String, i64)>,
    band_starts: Vec<(String, usize, i64)>,
    scribed: Vec<(String, bool)>,
    climbs_left: Vec<(String, bool)>,
}

impl Store {
    /// Changes the sheet and says so in the log, in one transaction.
    ///
    /// # Errors
    ///
    /// [`StoreError::Stale`] when the sheet is another by now, or something was logged since the price was worked out.
    pub async fn change_layout(&self, new: NewLayout, by: Actor) -> Result<(), StoreError> {
        self.write(|store| async move {
            let NewLayout { key, job, version, change, relaid, seen } = new;
            let mut transaction = store.begin().await?;
            let detail = to_json(&Detail::of(&relaid)?)?;
            let (part, kind) = (String::new(), RELAID.to_owned());
            let event =
                NewEvent { key, job: job.clone(), part, kind, detail, happened: None, supersedes: None };
            if repeated(&mut transaction, &event.key, event.payload_hash()).await?.is_some() {
                return Ok(());
            }
            // What is no entry of the log has keys too.
            if form_key::answered(&mut transaction, &event.key).await?.is_some() {
                return Err(StoreError::KeyReused);
            }
            raise_version(&mut transaction, &job, version).await?;
            if last_of_job(&mut transaction, &job).await? != seen {
                return Err(StoreError::Stale);
            }
            apply(&mut transaction, &job, change).await?;
            enter(transaction, event, by, store.clock.stamp()).await?;
            Ok(())
        })
        .await
    }
}

impl Relaid {
    /// From its entry.
    ///
    /// # Errors
    ///
    /// When the entry cannot be read.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let detail: Detail = from_json(&event.detail)?;
        let count = |(tile, before, after)| TileCount { tile: TileId(tile), before, after };
        Ok(Self {
            changed: detail.changed,
            before: detail.before.layout()?,
            after: detail.after.layout()?,
            misfits: detail.misfits,
            tiles: detail.tiles.into_iter().map(count).collect(),
            begun: detail
                .begun
                .map(|begun| begun.into_iter().map(BegunDetail::tile).collect())
                .transpose()?,
            moved: detail
                .moved
                .into_iter()
                .map(|(piece, width, height)| MovedPiece {
                    piece: PieceId(piece),
                    width: Length::from_units(width),
                    height: Length::from_units(height),
                })
                .collect(),
        })
    }
}

impl Detail {
    fn of(relaid: &Relaid) -> Result<Self, StoreError> {
        let begun = relaid.begun.as_ref().map(|begun| begun.iter().map(BegunDetail::of).collect());
        let count = |count: &TileCount| (count.tile.0.clone(), count.before, count.after);
        Ok(Self {
            changed: relaid.changed.clone(),
            before: LayoutDetail::of(&relaid.before),
            after: LayoutDetail::of(&relaid.after),
            misfits: relaid.misfits,
            tiles: relaid.tiles.iter().map(count).collect(),
            begun: begun.transpose()?,
            moved: relaid
                .moved
                .iter()
                .map(|of| (of.piece.0.clone(), of.width.units(), of.height.units()))
                .collect(),
        })
    }
}

impl LayoutDetail {
    fn of(layout: &Layout) -> Self {
        let length = |(wall, length): (&SurfaceId, &Length)| (wall.to_string(), length.units());
        let band =
            |((wall, band), start): (&(SurfaceId, usize), &Length)| (wall.to_string(), *band, start.units());
        let scribed =
            |(wall, first): (&SurfaceId, &FirstCourse)| (wall.to_string(), *first == FirstCourse::Scribed);
        Self {
            joint: layout.joint.map(Length::units),
            course_line: layout.course_line.iter().map(length).collect(),
            starts: layout.starts.iter().map(length).collect(),
            band_starts: layout.band_starts.iter().map(band).collect(),
            scribed: layout.first_course.iter().map(scribed).collect(),
            climbs_left: layout.mirror.iter().map(|(wall, left)| (wall.to_string(), *left)).collect(),
        }
    }

    fn layout(self) -> Result<Layout, StoreError> {
        let wall = |name: String| SurfaceId::new(&name).ok_or(StoreError::Unreadable(name));
        let length = |(name, units): (String, i64)| Ok((wall(name)?, Length::from_units(units)));
        let band =
            |(name, band, units): (String, usize, i64)| Ok(((wall(name)?, band), Length::from_units(units)));
        let first = |(name, scribed): (String, bool)| {
            Ok((wall(name)?, if scribed { FirstCourse::Scribed } else { FirstCourse::Propped }))
        };
        let climbs = |(name, left): (String, bool)| Ok((wall(name)?, left));
        Ok(Layout {
            course_line: self.course_line.into_iter().map(length).collect::<Result<_, StoreError>>()?,
            starts: self.starts.into_iter().map(length).collect::<Result<_, StoreError>>()?,
            band_starts: self.band_starts.into_iter().map(band).collect::<Result<_, StoreError>>()?,
            first_course: self.scribed.into_iter().map(first).collect::<Result<_, StoreError>>()?,
            mirror: self.climbs_left.into_iter().map(climbs).collect::<Result<_, StoreError>>()?,
            joint: self.joint.map(Length::from_units),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_layout_comes_back_from_the_log_as_it_went_in() {
        let wall = SurfaceId::new("A").unwrap();
        let layout = Layout {
            course_line: [(wall.clone(), Length::mm(-900))].into(),
            starts: [(wall.clone(), Length::mm(300))].into(),
            band_starts: [((wall.clone(), 1), Length::mm(7))].into(),
            first_course: [(wall.clone(), FirstCourse::Scribed)].into(),
            mirror: [(wall, true)].into(),
            joint: Some(Length::mm(3)),
        };
        assert_eq!(LayoutDetail::of(&layout).layout().unwrap(), layout);
    }

    #[test]
    fn a_tile_cut_into_comes_back_from_the_log_as_it_went_in() {
        use trade::geometry::{Rect, Side};
        use trade::offcut::{Axis, Begun, Cut, Gone, Place, Stock, Turn, Wanted};

        let strip = |left, right| Rect {
            left: Length::mm(left),
            bottom: Length::ZERO,
            right: Length::mm(right),
            top: Length::mm(300),
        };
        let begun = Begun {
            name: "T".to_owned(),
            written: vec![(strip(202, 600), 0)],
            gone: vec![Gone { piece: "A1-4".to_owned(), at: strip(450, 600), entry: "e".to_owned() }],
        };
        let place = Place { piece: 0, at: strip(0, 200), turn: Turn::Half };
        let cuts = vec![Cut { part: strip(0, 600), across: Axis::X, at: Length::mm(200) }];
        let mut tile = BegunTile {
            tile: TileId("60 × 30".to_owned()),
            width: Length::mm(600),
            height: Length::mm(300),
            kerf: Length::mm(2),
            stock: Stock { rack: None, begun: Some(begun), places: vec![place], cuts },
            pieces: vec![Wanted {
                id: "A1-3".to_owned(),
                width: Length::mm(200),
                height: Length::mm(300),
                factory: [Side::Left, Side::Top].into_iter().collect(),
                alone: false,
            }],
        };
        let written = to_json(&BegunDetail::of(&tile).unwrap()).unwrap();
        let read: BegunDetail = from_json(&written).unwrap();
        assert_eq!(read.tile().unwrap(), tile);
        tile.pieces.clear();
        assert!(BegunDetail::of(&tile).is_err(), "a place with nothing in it is not kept as no place");
    }
}
