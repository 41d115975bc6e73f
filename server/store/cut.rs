//! What was cut at the saw, as the log tells it. A cut taken back is an entry that supersedes the first.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use sqlx::SqliteConnection;
use trade::cure::Instant;
use trade::geometry::{Side, Sides};
use trade::measure::{Length, TileId};
use trade::place::PieceId;

use super::event::{enter, find_by_key, repeated};
use super::{
    Actor, Appended, COUNTED, Claim, Count, DeviceId, Event, EventId, EventKey, JobId, LAID, LaidRun,
    MEASURED, MeasuredRecord, NOT_LAID, NOT_MEASURED, NOT_TRIMMED, NewEvent, PersonId, RELAID, Store,
    StoreError, TAKEN_OVER, TRIMMED, Trim, claim, fit, laid, trim,
};

/// The kind of a cut in the log.
pub const CUT: &str = "cut";

/// The kind of an entry that takes a cut back.
pub const NOT_CUT: &str = "not-cut";

/// The kind of a tile that broke at the saw or after; it takes back the cut of the piece, where there was one.
pub const BROKE: &str = "broke";

/// The kind of an entry that takes back that a tile broke.
pub const NOT_BROKE: &str = "not-broke";

/// The kind of an entry of a piece that was cut, does not fit and cannot be trimmed: it is to be cut anew. It takes back
/// the cut, and what is left of the tile stays as it is.
pub const ANEW: &str = "anew";

/// The kind of an entry that takes that back.
pub const NOT_ANEW: &str = "not-anew";

/// Every kind of entry that belongs to the saw and to what is set, or makes the saw go by another plan.
const KINDS: [&str; 15] = [
    CUT,
    NOT_CUT,
    BROKE,
    NOT_BROKE,
    ANEW,
    NOT_ANEW,
    TRIMMED,
    NOT_TRIMMED,
    MEASURED,
    NOT_MEASURED,
    LAID,
    NOT_LAID,
    COUNTED,
    RELAID,
    TAKEN_OVER,
];

/// What was done at the saw and at the walls and stands, oldest first.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Sawn {
    pub records: Vec<CutRecord>,
    /// Tiles that broke and pieces that were cut in vain, each with the piece that was to come of it.
    pub losses: Vec<CutRecord>,
    /// What hangs on the walls.
    pub laid: Vec<LaidRun>,
    /// What was measured again on the wall.
    pub measured: Vec<MeasuredRecord>,
    /// Tiles that were counted by hand.
    pub counts: Vec<Count>,
}

/// What was done at the saw, what is in anybody's hand, and what people are called.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct CutLog {
    pub sawn: Sawn,
    /// What is in anybody's hand.
    pub claims: Vec<Claim>,
    /// Every entry of the saw, oldest first, what was taken back too.
    pub entries: Vec<Event>,
    names: BTreeMap<PersonId, String>,
}

/// One cut or loss that stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutRecord {
    pub event: EventId,
    /// Its place in the log.
    pub sequence: i64,
    /// Of a loss the cut that it takes back, where the piece was cut: what that left over is still good.
    pub takes_back: Option<EventId>,
    /// What became of the piece.
    pub fate: Fate,
    /// That it was trimmed since, the last time.
    pub trim: Option<Trim>,
    pub piece: PieceId,
    pub at: Instant,
    pub author: PersonId,
    pub device: DeviceId,
    pub was: WasCut,
}

/// What became of a piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Fate {
    /// It was cut.
    Cut,
    /// It broke.
    Broke,
    /// It was cut, and does not fit.
    InVain,
}

/// What was really cut, whatever the plan says later.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WasCut {
    pub tile: TileId,
    pub width: Length,
    pub height: Length,
    /// Stands for the piece's outline and holes: equal for equal pieces.
    pub shape: String,
    /// The number written on what was left of its tile.
    pub stock: usize,
    /// Stands for all that was planned on that tile: equal for equal plans of it.
    pub stock_print: String,
    /// Which of its sides are a tile's own; nothing where that was not kept.
    pub own: Option<Sides>,
}

/// A cut, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewCut {
    pub key: EventKey,
    pub job: JobId,
    pub piece: PieceId,
    pub was: WasCut,
}

/// [`WasCut`] as it stands in the log: lengths in units of 1/76800 mm.
#[derive(Serialize, Deserialize)]
struct Detail {
    tile: String,
    width: i64,
    height: i64,
    shape: String,
    stock: usize,
    stock_print: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    own: Option<Vec<String>>,
}

impl NewCut {
    fn event(self, kind: &str, supersedes: Option<EventId>) -> Result<NewEvent, StoreError> {
        let Self { key, job, piece, was } = self;
        let detail = Detail {
            tile: was.tile.0,
            width: was.width.units(),
            height: was.height.units(),
            shape: was.shape,
            stock: was.stock,
            stock_print: was.stock_print,
            own: was.own.map(side_names),
        };
        let detail =
            serde_json::to_string(&detail).map_err(|error| StoreError::Unreadable(error.to_string()))?;
        Ok(NewEvent { key, job, part: piece.0, kind: kind.to_owned(), detail, happened: None, supersedes })
    }
}

impl Sawn {
    /// The run that a piece hangs in.
    pub fn hangs_in(&self, piece: &PieceId) -> Option<&LaidRun> {
        self.laid.iter().find(|run| run.was.cuts.contains(piece))
    }

    /// The same if these pieces, as far as they are cut, had been cut in vain.
    #[must_use]
    pub fn if_in_vain(&self, pieces: &[PieceId]) -> Self {
        let mut sawn = self.clone();
        let (lost, records) = sawn.records.into_iter().partition(|record| pieces.contains(&record.piece));
        sawn.records = records;
        let lost: Vec<CutRecord> = lost;
        let in_vain = |record: CutRecord| {
            let takes_back = Some(record.event.clone());
            CutRecord { takes_back, fate: Fate::InVain, sequence: i64::MAX, ..record }
        };
        sawn.losses.extend(lost.into_iter().map(in_vain));
        sawn
    }
}

impl CutLog {
    /// Who made a cut.
    pub fn author(&self, record: &CutRecord) -> &str {
        self.name(&record.author)
    }

    /// What a person is called.
    pub fn name(&self, person: &PersonId) -> &str {
        self.names.get(person).map_or("", String::as_str)
    }
}

impl Store {
    /// The cuts of a job that stand.
    pub async fn cut_log(&self, job: &JobId) -> Result<CutLog, StoreError> {
        let mut transaction = self.readers.begin().await?;
        let mut entries = super::event::of_job(&mut transaction, job).await?;
        entries.retain(|event| KINDS.contains(&event.kind.as_str()));
        let sawn = Sawn::of(&entries)?;
        let claims = claim::holding(&mut transaction, job, self.clock.now()).await?;
        let names = super::people::names(&mut transaction).await?;
        Ok(CutLog { sawn, claims, entries, names })
    }

    /// Keeps a cut once `allowed` has looked at the cuts and at what is in anybody's hand as they stand, and puts
    /// into this hand what `allowed` says comes next: all in one transaction.
    pub async fn append_cut<R: Send + 'static>(
        &self,
        new: NewCut,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &[Claim]) -> Result<Option<PieceId>, R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        self.append_in_hand(new.event(CUT, None)?, by, allowed).await
    }

    /// Keeps that a piece is lost, as `kind` says, with the cut of it that this takes back, once `allowed` has looked.
    /// The piece is then in the hand that lost it.
    pub async fn append_loss<R: Send + 'static>(
        &self,
        kind: &'static str,
        new: NewCut,
        takes_back: Option<EventId>,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &[Claim]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let piece = new.piece.clone();
        let look = move |sawn: &Sawn, claims: &[Claim]| allowed(sawn, claims).map(|()| Some(piece));
        self.append_in_hand(new.event(kind, takes_back)?, by, look).await
    }

    /// Takes a cut or a loss back, as `kind` says, once `allowed` has looked at the cuts as they stand, both in one
    /// transaction. The piece is then in the hand that took it back.
    pub async fn take_back_cut<R: Send + 'static>(
        &self,
        kind: &'static str,
        key: EventKey,
        job: JobId,
        cut: (PieceId, EventId),
        by: Actor,
        allowed: impl FnOnce(&Sawn) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let (piece, event) = cut;
        let (kind, detail) = (kind.to_owned(), "{}".to_owned());
        let supersedes = Some(event);
        let part = piece.0.clone();
        let new = NewEvent { key, job, part, kind, detail, happened: None, supersedes };
        self.append_in_hand(new, by, move |cuts, _| allowed(cuts).map(|()| Some(piece))).await
    }

    /// Adds to the log once `allowed` has looked at all that was done at the saw; nobody's hand changes.
    pub(super) async fn append_at_saw<R: Send + 'static>(
        &self,
        new: NewEvent,
        by: Actor,
        allowed: impl FnOnce(&Sawn) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<EventId, R>, StoreError> {
        let look = move |events: &[Event]| match Sawn::of(events) {
            Ok(sawn) => allowed(&sawn).map_err(Ok),
            Err(error) => Err(Err(error)),
        };
        match self.append_if(new, by, look).await? {
            Ok(appended) => Ok(Ok(appended.event().id.clone())),
            Err(Ok(refusal)) => Ok(Err(refusal)),
            Err(Err(error)) => Err(error),
        }
    }

    /// Adds to the log what `make` makes of all that was done at the saw, in one transaction; `again` answers for the entry
    /// that the same key made before.
    pub(super) async fn append_once<R: Send + 'static>(
        &self,
        (key, job): (EventKey, JobId),
        by: Actor,
        make: impl FnOnce(&Sawn) -> Result<Result<NewEvent, R>, StoreError> + Send + 'static,
        again: impl FnOnce(Event) -> Result<EventId, StoreError> + Send + 'static,
    ) -> Result<Result<EventId, R>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            if let Some(before) = find_by_key(&mut transaction, &key).await? {
                return Ok(Ok(again(before)?));
            }
            let new = match make(&of_job(&mut transaction, &job).await?)? {
                Ok(new) => new,
                Err(refusal) => return Ok(Err(refusal)),
            };
            let stamp = store.clock.stamp();
            Ok(Ok(enter(transaction, new, by, stamp).await?.id))
        })
        .await
    }

    /// Adds to the log once `allowed` has looked, and leaves the hand with what it says and nothing else.
    pub(super) async fn append_in_hand<R: Send + 'static>(
        &self,
        new: NewEvent,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &[Claim]) -> Result<Option<PieceId>, R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let payload_hash = new.payload_hash();
            if let Some(before) = repeated(&mut transaction, &new.key, payload_hash).await? {
                return Ok(Ok(Appended::Again(before)));
            }
            let stamp = store.clock.stamp();
            let cuts = of_job(&mut transaction, &new.job).await?;
            let claims = claim::holding(&mut transaction, &new.job, stamp.wall).await?;
            let next = match allowed(&cuts, &claims) {
                Ok(next) => next,
                Err(refusal) => return Ok(Err(refusal)),
            };
            claim::gone(&mut transaction, &new.job, &PieceId(new.part.clone())).await?;
            match next {
                Some(next) => claim::put(&mut transaction, &new.job, &next, &by, stamp.wall).await?,
                None => claim::empty_hand(&mut transaction, &new.job, &by).await?,
            }
            Ok(Ok(Appended::New(enter(transaction, new, by, stamp).await?)))
        })
        .await
    }
}

/// What stands of a job's log at the saw.
pub(super) async fn of_job(connection: &mut SqliteConnection, job: &JobId) -> Result<Sawn, StoreError> {
    Sawn::of(&super::event::of_job(connection, job).await?)
}

impl Sawn {
    /// The cuts, losses and measurements that no entry takes back which stands itself.
    ///
    /// # Errors
    ///
    /// When an entry cannot be read.
    pub fn of(events: &[Event]) -> Result<Self, StoreError> {
        let mut taken_back: BTreeSet<&EventId> = BTreeSet::new();
        let (mut sawn, mut trims) = (Self::default(), Vec::new());
        for event in events.iter().rev().filter(|event| KINDS.contains(&event.kind.as_str())) {
            if taken_back.contains(&event.id) {
                continue;
            }
            taken_back.extend(&event.supersedes);
            match event.kind.as_str() {
                CUT => sawn.records.push(record(event)?),
                BROKE | ANEW => sawn.losses.push(record(event)?),
                TRIMMED => trims.push(event),
                MEASURED => sawn.measured.push(fit::record(event)?),
                COUNTED => sawn.counts.push(Count::of(event)?),
                _ => {}
            }
        }
        sawn.records.reverse();
        sawn.losses.reverse();
        sawn.measured.reverse();
        for event in trims.into_iter().rev() {
            trim::apply(&mut sawn.records, event)?;
        }
        sawn.counts.reverse();
        sawn.laid = laid::standing(events)?;
        Ok(sawn)
    }
}

fn record(event: &Event) -> Result<CutRecord, StoreError> {
    let detail: Detail = serde_json::from_str(&event.detail)
        .map_err(|error| StoreError::Unreadable(format!("cut {}: {error}", event.sequence)))?;
    Ok(CutRecord {
        event: event.id.clone(),
        sequence: event.sequence,
        takes_back: event.supersedes.clone(),
        fate: match event.kind.as_str() {
            BROKE => Fate::Broke,
            ANEW => Fate::InVain,
            _ => Fate::Cut,
        },
        trim: None,
        piece: PieceId(event.part.clone()),
        at: event.happened,
        author: event.author.clone(),
        device: event.device.clone(),
        was: WasCut {
            tile: TileId(detail.tile),
            width: Length::from_units(detail.width),
            height: Length::from_units(detail.height),
            shape: detail.shape,
            stock: detail.stock,
            stock_print: detail.stock_print,
            own: detail.own.map(|names| read_sides(&names)),
        },
    })
}

/// Sides as they stand in the log.
pub(super) fn side_names(sides: Sides) -> Vec<String> {
    sides.iter().map(|side| side.name().to_owned()).collect()
}

/// Sides from the log.
pub(super) fn read_sides(names: &[String]) -> Sides {
    Side::ALL.into_iter().filter(|side| names.iter().any(|name| name == side.name())).collect()
}
