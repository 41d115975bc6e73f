//! The log: everything that was done, only ever added to, each entry carrying the hash of the one before.

use sha2::{Digest, Sha256};
use trade::cure::{Instant, Stamp};

use super::heartbeat::{boot_name, stamp, wall_clock_name};
use super::{Actor, DeviceId, EventId, JobId, OpenError, PersonId, Store, StoreError, form_key};

/// How many of the last links are verified at start: a day or two of a busy crew, in a few milliseconds.
const VERIFIED_AT_START: i64 = 1000;

/// The link before the first entry.
const NO_LINK: [u8; 32] = [0; 32];

/// Made by the page that asks, 128 bits or more of chance, so that asking twice does it once.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct EventKey {
    key: String,
    /// Hash of the form it came with, which a repeat must match; nothing where it came with none.
    form: Vec<u8>,
}

/// One thing that was done, as it is asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewEvent {
    pub key: EventKey,
    pub job: JobId,
    /// Which surface, or which part of one; empty for the whole job.
    pub part: String,
    /// What kind of thing: `cut`, `stage`.
    pub kind: String,
    /// The rest of it, as JSON, by kind.
    pub detail: String,
    /// When it happened, where that is earlier than now.
    pub happened: Option<Instant>,
    /// The entry that this one corrects.
    pub supersedes: Option<EventId>,
}

/// One entry of the log.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Event {
    pub sequence: i64,
    pub id: EventId,
    pub key: String,
    pub payload_hash: Vec<u8>,
    pub previous_hash: Vec<u8>,
    pub job: JobId,
    pub part: String,
    pub kind: String,
    pub detail: String,
    pub happened: Instant,
    /// Both clocks when it was received.
    pub received: Stamp,
    pub author: PersonId,
    pub device: DeviceId,
    pub supersedes: Option<EventId>,
}

/// What came of asking.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Appended {
    /// It was added just now.
    New(Event),
    /// It had been added before, by the same key.
    Again(Event),
}

impl EventKey {
    /// What a form may send: 16 to 64 letters and digits. Anything else is `None`.
    pub fn new(key: &str) -> Option<Self> {
        let fits =
            (16..=64).contains(&key.len()) && key.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
        fits.then(|| Self { key: key.to_owned(), form: Vec::new() })
    }

    /// A fresh key for a form: 160 bits.
    pub fn random() -> Self {
        Self { key: super::random_name() + &super::random_name(), form: Vec::new() }
    }

    /// The key with the whole form it came with, as sent, and where to: two buttons of one form ask for two things.
    #[must_use]
    pub fn with_form(self, address: &str, body: &[u8]) -> Self {
        let mut hash = Sha256::new();
        add(&mut hash, address.as_bytes());
        add(&mut hash, body);
        Self { form: hash.finalize().to_vec(), ..self }
    }

    /// Hash of the form it came with; nothing where it came with none.
    pub(super) fn form(&self) -> Option<&[u8]> {
        Some(self.form.as_slice()).filter(|form| !form.is_empty())
    }

    /// As it stands in the form.
    pub fn as_str(&self) -> &str {
        &self.key
    }
}

impl Appended {
    /// The entry, new or not.
    pub fn event(&self) -> &Event {
        match self {
            Self::New(event) | Self::Again(event) => event,
        }
    }
}

impl NewEvent {
    /// What a repeat must say too. `happened` is not part of it where the server set it.
    pub(super) fn payload_hash(&self) -> [u8; 32] {
        let mut hash = Sha256::new();
        let happened = self.happened.map_or(String::new(), |at| at.millis().to_string());
        let supersedes = self.supersedes.as_ref().map_or("", EventId::as_str);
        for field in [self.job.as_str(), &self.part, &self.kind, &self.detail, &happened, supersedes] {
            add(&mut hash, field.as_bytes());
        }
        hash.finalize().into()
    }
}

impl Event {
    /// The link that the next entry carries.
    fn hash(&self) -> [u8; 32] {
        let mut hash = Sha256::new();
        let numbers = [
            self.sequence,
            self.happened.millis(),
            self.received.wall.millis(),
            self.received.since_boot.millis(),
        ];
        for number in numbers {
            add(&mut hash, &number.to_be_bytes());
        }
        let supersedes = self.supersedes.as_ref().map_or("", EventId::as_str);
        for text in [
            self.id.as_str(),
            &self.key,
            self.job.as_str(),
            &self.part,
            &self.kind,
            &self.detail,
            &boot_name(self.received.boot),
            wall_clock_name(self.received.wall_clock),
            self.author.as_str(),
            self.device.as_str(),
            supersedes,
        ] {
            add(&mut hash, text.as_bytes());
        }
        add(&mut hash, &self.payload_hash);
        add(&mut hash, &self.previous_hash);
        hash.finalize().into()
    }
}

/// Each field with its length before it, so that no two lists of fields hash alike.
fn add(hash: &mut Sha256, field: &[u8]) {
    hash.update(u64::try_from(field.len()).unwrap_or(u64::MAX).to_be_bytes());
    hash.update(field);
}

impl Store {
    /// Adds to the log, once for each key.
    ///
    /// # Errors
    ///
    /// [`StoreError::KeyReused`] when the key was used for something else.
    pub async fn append(&self, new: NewEvent, by: Actor) -> Result<Appended, StoreError> {
        self.append_if(new, by, |_| Ok(()))
            .await
            .and_then(|outcome| outcome.map_err(|never: Never| match never {}))
    }

    /// Adds to the log once `allowed` has looked at the job's log as it stands, both in one transaction, so that
    /// nothing comes between the look and the entry. A repeat of a key is answered without asking again.
    pub async fn append_if<R: Send + 'static>(
        &self,
        new: NewEvent,
        by: Actor,
        allowed: impl FnOnce(&[Event]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let payload_hash = new.payload_hash();
            if let Some(before) = repeated(&mut transaction, &new.key, payload_hash).await? {
                return Ok(Ok(Appended::Again(before)));
            }
            if let Err(refusal) = allowed(&of_job(&mut transaction, &new.job).await?) {
                return Ok(Err(refusal));
            }
            let stamp = store.clock.stamp();
            Ok(Ok(Appended::New(enter(transaction, new, by, stamp).await?)))
        })
        .await
    }

    /// The job's log, oldest first.
    pub async fn events(&self, job: &JobId) -> Result<Vec<Event>, StoreError> {
        let mut connection = self.readers.acquire().await?;
        of_job(&mut connection, job).await
    }

    /// The number of the last entry of the job's log; 0 where there is none. Whoever works something out of the log asks
    /// for it first, and names it when that is saved.
    pub async fn last_entry(&self, job: &JobId) -> Result<i64, StoreError> {
        let mut connection = self.readers.acquire().await?;
        last_of_job(&mut connection, job).await
    }

    /// Follows the last links of the chain.
    pub(super) async fn verify_chain(&self) -> Result<(), OpenError> {
        let rows = sqlx::query!(
            "SELECT sequence, id, key, payload_hash, previous_hash, job, part, kind, detail, happened, received,
                    boot, boot_ms, wall_clock, author, device, supersedes
             FROM event ORDER BY sequence DESC LIMIT ?",
            VERIFIED_AT_START
        )
        .fetch_all(&self.readers)
        .await?;
        let events: Result<Vec<Event>, StoreError> =
            rows.into_iter().rev().map(|row| Ok(event!(row))).collect();
        let mut events = events?.into_iter();
        let Some(first) = events.next() else { return Ok(()) };
        if first.sequence == 1 && first.previous_hash != NO_LINK {
            return Err(OpenError::BrokenChain { sequence: 1 });
        }
        events
            .try_fold(first, |before, event| {
                let follows = event.sequence == before.sequence + 1 && event.previous_hash == before.hash();
                if follows { Ok(event) } else { Err(OpenError::BrokenChain { sequence: event.sequence }) }
            })
            .map(|_| ())
    }
}

/// A refusal that cannot happen.
enum Never {}

/// One row of the query macros' own types, which have no name, as an [`Event`].
macro_rules! event {
    ($row:ident) => {
        Event {
            sequence: $row.sequence,
            id: $row.id,
            key: $row.key,
            payload_hash: $row.payload_hash,
            previous_hash: $row.previous_hash,
            job: $row.job,
            part: $row.part,
            kind: $row.kind,
            detail: $row.detail,
            happened: Instant::from_millis($row.happened),
            received: stamp(&$row.boot, $row.received, $row.boot_ms, &$row.wall_clock)?,
            author: $row.author,
            device: $row.device,
            supersedes: $row.supersedes,
        }
    };
}
use event;

/// The entry that this key made before, where it was asked to say the same: by the same form, whatever that would come
/// to by now, or in the same words.
pub(super) async fn repeated(
    connection: &mut sqlx::SqliteConnection,
    key: &EventKey,
    payload_hash: [u8; 32],
) -> Result<Option<Event>, StoreError> {
    let Some(before) = find_by_key(connection, key).await? else { return Ok(None) };
    let says_the_same = before.payload_hash == payload_hash;
    if says_the_same || form_key::answered(connection, key).await?.is_some() {
        Ok(Some(before))
    } else {
        Err(StoreError::KeyReused)
    }
}

/// Adds an entry to the end of the log, and ends the transaction that looked whether it may be added.
///
/// # Errors
///
/// As [`add_event`].
pub(super) async fn enter(
    mut transaction: sqlx::Transaction<'static, sqlx::Sqlite>,
    new: NewEvent,
    by: Actor,
    stamp: Stamp,
) -> Result<Event, StoreError> {
    let received = super::heartbeat::beat(&mut transaction, stamp).await?;
    let payload_hash = new.payload_hash();
    let event = add_event(&mut transaction, new, by, payload_hash, received).await?;
    transaction.commit().await?;
    Ok(event)
}

/// Adds an entry to the end of the log, in the transaction that looked whether it may be added.
///
/// # Errors
///
/// [`StoreError::KeyReused`] when its key came with a form that made none.
pub(super) async fn add_event(
    connection: &mut sqlx::SqliteConnection,
    new: NewEvent,
    by: Actor,
    payload_hash: [u8; 32],
    received: Stamp,
) -> Result<Event, StoreError> {
    let key = new.key.clone();
    // What is no entry of the log has keys too, a piece taken in hand for one.
    if form_key::answered(connection, &key).await?.is_some() {
        return Err(StoreError::KeyReused);
    }
    let event = next_event(connection, new, by, payload_hash, received).await?;
    insert(connection, &event).await?;
    if key.form().is_some() {
        form_key::answer(connection, &key, event.id.as_str(), event.received.wall.millis()).await?;
    }
    Ok(event)
}

/// The entry that came with this key.
pub(super) async fn find_by_key(
    connection: &mut sqlx::SqliteConnection,
    key: &EventKey,
) -> Result<Option<Event>, StoreError> {
    let row = sqlx::query!(
        "SELECT sequence, id, key, payload_hash, previous_hash, job, part, kind, detail, happened, received,
                boot, boot_ms, wall_clock, author, device, supersedes
         FROM event WHERE key = ?",
        key.key
    )
    .fetch_optional(connection)
    .await?;
    row.map(|row| Ok(event!(row))).transpose()
}

pub(super) async fn of_job(
    connection: &mut sqlx::SqliteConnection,
    job: &JobId,
) -> Result<Vec<Event>, StoreError> {
    let rows = sqlx::query!(
        "SELECT sequence, id, key, payload_hash, previous_hash, job, part, kind, detail, happened, received,
                boot, boot_ms, wall_clock, author, device, supersedes
         FROM event WHERE job = ? ORDER BY sequence",
        job
    )
    .fetch_all(connection)
    .await?;
    rows.into_iter().map(|row| Ok(event!(row))).collect()
}

pub(super) async fn last_of_job(
    connection: &mut sqlx::SqliteConnection,
    job: &JobId,
) -> Result<i64, StoreError> {
    let row =
        sqlx::query!(r#"SELECT coalesce(max(sequence), 0) AS "last!: i64" FROM event WHERE job = ?"#, job)
            .fetch_one(connection)
            .await?;
    Ok(row.last)
}

async fn next_event(
    connection: &mut sqlx::SqliteConnection,
    new: NewEvent,
    by: Actor,
    payload_hash: [u8; 32],
    received: Stamp,
) -> Result<Event, StoreError> {
    let last = sqlx::query!(
        "SELECT sequence, id, key, payload_hash, previous_hash, job, part, kind, detail, happened, received,
                boot, boot_ms, wall_clock, author, device, supersedes
         FROM event ORDER BY sequence DESC LIMIT 1"
    )
    .fetch_optional(connection)
    .await?;
    let last = last.map(|row| Ok::<_, StoreError>(event!(row))).transpose()?;
    Ok(Event {
        sequence: last.as_ref().map_or(1, |last| last.sequence + 1),
        id: EventId::random(),
        key: new.key.key,
        payload_hash: payload_hash.to_vec(),
        previous_hash: last.map_or(NO_LINK, |last| last.hash()).to_vec(),
        job: new.job,
        part: new.part,
        kind: new.kind,
        detail: new.detail,
        happened: new.happened.unwrap_or(received.wall),
        received,
        author: by.person.id,
        device: by.device,
        supersedes: new.supersedes,
    })
}

async fn insert(connection: &mut sqlx::SqliteConnection, event: &Event) -> Result<(), StoreError> {
    let (happened, received) = (event.happened.millis(), event.received.wall.millis());
    let (boot, boot_ms) = (boot_name(event.received.boot), event.received.since_boot.millis());
    let wall_clock = wall_clock_name(event.received.wall_clock);
    sqlx::query!(
        "INSERT INTO event (sequence, id, key, payload_hash, previous_hash, job, part, kind, detail, happened,
                            received, boot, boot_ms, wall_clock, author, device, supersedes)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        event.sequence,
        event.id,
        event.key,
        event.payload_hash,
        event.previous_hash,
        event.job,
        event.part,
        event.kind,
        event.detail,
        happened,
        received,
        boot,
        boot_ms,
        wall_clock,
        event.author,
        event.device,
        event.supersedes
    )
    .execute(connection)
    .await?;
    Ok(())
}
