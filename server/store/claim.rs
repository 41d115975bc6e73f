//! Who has which piece in hand at the saw, so that no two cut the same one.

use serde::{Deserialize, Serialize};
use sqlx::SqliteConnection;
use trade::cure::{Instant, Span};
use trade::place::PieceId;

use super::product::{from_json, to_json};
use super::{
    Actor, Appended, DeviceId, Event, EventKey, JobId, NewEvent, PersonId, Sawn, Store, StoreError, form_key,
};

/// How long a piece stays in the hand of whoever took it: long enough for the slowest cut and a walk to the wall,
/// short enough that a phone left behind holds nobody up.
pub const CLAIM_HOLDS: Span = Span::from_minutes(30);

/// The kind of an entry of a piece that the lead took out of somebody's hand.
pub const TAKEN_OVER: &str = "taken-over";

/// Out of whose hand a piece was taken, as it stands in the log.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct TakenOver {
    pub person: String,
    pub device: String,
}

impl TakenOver {
    /// From its entry.
    ///
    /// # Errors
    ///
    /// When the entry cannot be read.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        from_json(&event.detail)
    }
}

/// One piece in hand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Claim {
    pub piece: PieceId,
    pub device: DeviceId,
    pub person: PersonId,
    pub taken: Instant,
}

impl Store {
    /// Puts a piece into the hand of a device, in place of what it had in hand, once `allowed` has looked at the
    /// cuts and at what others have in hand, all in one transaction.
    pub async fn take_in_hand<R: Send + 'static>(
        &self,
        key: EventKey,
        job: JobId,
        piece: PieceId,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &[Claim]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<(), R>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            if form_key::answered(&mut transaction, &key).await?.is_some() {
                return Ok(Ok(()));
            }
            let now = store.clock.now();
            let sawn = super::cut::of_job(&mut transaction, &job).await?;
            if let Err(refusal) = allowed(&sawn, &holding(&mut transaction, &job, now).await?) {
                return Ok(Err(refusal));
            }
            put(&mut transaction, &job, &piece, &by, now).await?;
            form_key::answer(&mut transaction, &key, &piece.0, now.millis()).await?;
            transaction.commit().await?;
            Ok(Ok(()))
        })
        .await
    }

    /// Takes a piece out of somebody's hand into this one, and says so in the log, once `allowed` has looked.
    pub async fn take_over<R: Send + 'static>(
        &self,
        key: EventKey,
        job: JobId,
        from: &Claim,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &[Claim]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let taken =
            TakenOver { person: from.person.as_str().to_owned(), device: from.device.as_str().to_owned() };
        let (piece, kind, detail) = (from.piece.clone(), TAKEN_OVER.to_owned(), to_json(&taken)?);
        let part = piece.0.clone();
        let new = NewEvent { key, job, part, kind, detail, happened: None, supersedes: None };
        let look = move |sawn: &Sawn, claims: &[Claim]| allowed(sawn, claims).map(|()| Some(piece));
        self.append_in_hand(new, by, look).await
    }

    /// Lets go of a piece; nothing happens where the device has not got it in hand.
    pub async fn let_go(
        &self,
        key: EventKey,
        job: JobId,
        piece: PieceId,
        by: Actor,
    ) -> Result<(), StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            if form_key::answered(&mut transaction, &key).await?.is_some() {
                return Ok(());
            }
            sqlx::query!(
                "DELETE FROM claim WHERE job = ? AND piece = ? AND device = ?",
                job,
                piece.0,
                by.device
            )
            .execute(&mut *transaction)
            .await?;
            form_key::answer(&mut transaction, &key, &piece.0, store.clock.now().millis()).await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }
}

/// What is in anybody's hand, by piece. A moment that lies too far ahead was told by a clock set back since, and
/// holds no more than one too long ago.
pub(super) async fn holding(
    connection: &mut SqliteConnection,
    job: &JobId,
    now: Instant,
) -> Result<Vec<Claim>, StoreError> {
    let (earliest, latest) = ((now - CLAIM_HOLDS).millis(), (now + CLAIM_HOLDS).millis());
    let rows = sqlx::query!(
        "SELECT piece, device, person, taken FROM claim WHERE job = ? AND taken > ? AND taken < ? ORDER BY piece",
        job,
        earliest,
        latest
    )
    .fetch_all(connection)
    .await?;
    let claims = rows.into_iter().map(|row| Claim {
        piece: PieceId(row.piece),
        device: row.device.into(),
        person: row.person.into(),
        taken: Instant::from_millis(row.taken),
    });
    Ok(claims.collect())
}

/// The piece is in this hand and no other, and nothing else is in it.
pub(super) async fn put(
    connection: &mut SqliteConnection,
    job: &JobId,
    piece: &PieceId,
    by: &Actor,
    now: Instant,
) -> Result<(), StoreError> {
    empty_hand(connection, job, by).await?;
    gone(connection, job, piece).await?;
    let taken = now.millis();
    sqlx::query!(
        "INSERT INTO claim (job, piece, device, person, taken) VALUES (?, ?, ?, ?, ?)",
        job,
        piece.0,
        by.device,
        by.person.id,
        taken
    )
    .execute(connection)
    .await?;
    Ok(())
}

/// A device has nothing in hand.
pub(super) async fn empty_hand(
    connection: &mut SqliteConnection,
    job: &JobId,
    by: &Actor,
) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM claim WHERE job = ? AND device = ?", job, by.device)
        .execute(connection)
        .await?;
    Ok(())
}

/// A device has nothing in hand, in any job.
pub(super) async fn drop_all(connection: &mut SqliteConnection, device: &DeviceId) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM claim WHERE device = ?", device).execute(connection).await?;
    Ok(())
}

/// A piece is in nobody's hand.
pub(super) async fn gone(
    connection: &mut SqliteConnection,
    job: &JobId,
    piece: &PieceId,
) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM claim WHERE job = ? AND piece = ?", job, piece.0).execute(connection).await?;
    Ok(())
}
