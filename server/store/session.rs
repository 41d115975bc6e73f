//! Which devices are in, as whom, and which wait to be let in.

use sqlx::SqliteConnection;
use trade::cure::{Instant, Span};

use super::{Actor, DeviceId, Person, PersonId, SessionToken, Store, StoreError};

/// A device that nobody has used for so long is out: longer than a crew's holiday week.
const IDLE: Span = Span::from_hours(14 * 24);

/// A device joins anew after so long, whoever uses it.
const LONGEST: Span = Span::from_hours(90 * 24);

/// "Last seen" is written no more often than this.
const SEEN_EVERY: Span = Span::from_minutes(5);

/// What a device may do.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Role {
    /// Everything.
    Lead,
    /// Cuts and reports, and reads everything.
    Helper,
    /// Reads.
    Board,
}

/// Whose browser asks.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Caller {
    pub role: Role,
    /// Nobody, for a board.
    pub person: Option<Person>,
    pub device: DeviceId,
    pub device_name: String,
    /// Whether the lead has let it in.
    pub is_in: bool,
    /// The tag of the language that the person chose, on this device or another.
    pub language: Option<String>,
}

/// One line of the lead's list of devices.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct DeviceLine {
    pub device: DeviceId,
    pub device_name: String,
    pub person: Option<String>,
    pub role: Role,
    /// Since when it is here.
    pub made: Instant,
    pub seen: Instant,
    pub is_in: bool,
}

impl Role {
    /// As it stands in the database and in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::Lead => "lead",
            Self::Helper => "helper",
            Self::Board => "board",
        }
    }

    /// From its name.
    pub fn from_name(name: &str) -> Option<Self> {
        [Self::Lead, Self::Helper, Self::Board].into_iter().find(|role| role.name() == name)
    }

    pub(super) fn read(name: &str) -> Result<Self, StoreError> {
        Self::from_name(name).ok_or_else(|| StoreError::Unreadable(format!("role {name}")))
    }
}

impl Caller {
    /// Who an entry of the log is by; nobody where it is a board.
    pub fn actor(&self) -> Option<Actor> {
        let person = self.person.clone()?;
        Some(Actor { person, device: self.device.clone() })
    }
}

/// A session about to begin.
pub(super) struct NewSession<'a> {
    pub device: &'a DeviceId,
    pub token: &'a SessionToken,
    pub person: Option<&'a PersonId>,
    pub role: Role,
    pub is_in: bool,
}

/// Begins a session.
pub(super) async fn begin(
    connection: &mut SqliteConnection,
    new: NewSession<'_>,
    now: i64,
) -> Result<(), StoreError> {
    let (hash, role, allowed) = (new.token.hash(), new.role.name(), new.is_in.then_some(now));
    sqlx::query!(
        "INSERT INTO session (device, token, person, role, made, seen, allowed) VALUES (?, ?, ?, ?, ?, ?, ?)",
        new.device,
        hash,
        new.person,
        role,
        now,
        now,
        allowed
    )
    .execute(connection)
    .await?;
    Ok(())
}

/// Begins a session of the lead; the one it has where the same form came before.
pub(super) async fn begin_lead(
    connection: &mut SqliteConnection,
    lead: &Person,
    token: &SessionToken,
    device: &str,
    now: i64,
) -> Result<DeviceId, StoreError> {
    if let Some(device) = device_of(connection, token).await? {
        return Ok(device);
    }
    let device = super::people::add_device(connection, device, now).await?;
    let new = NewSession { device: &device, token, person: Some(&lead.id), role: Role::Lead, is_in: true };
    begin(connection, new, now).await?;
    Ok(device)
}

/// The device that holds a token.
pub(super) async fn device_of(
    connection: &mut SqliteConnection,
    token: &SessionToken,
) -> Result<Option<DeviceId>, StoreError> {
    let hash = token.hash();
    let device =
        sqlx::query_scalar!(r#"SELECT device AS "device: DeviceId" FROM session WHERE token = ?"#, hash)
            .fetch_optional(connection)
            .await?;
    Ok(device)
}

impl Store {
    /// Whose token this is; nobody's where it has ended or grown old.
    pub async fn caller(&self, token: &SessionToken) -> Result<Option<Caller>, StoreError> {
        let (hash, now) = (token.hash(), self.clock.now());
        let row = sqlx::query!(
            r#"SELECT session.device AS "device: DeviceId", session.role, session.made, session.seen,
                      session.allowed, device.name AS device_name, person.id AS "person?: PersonId",
                      person.name AS "person_name?", person.language
               FROM session JOIN device ON device.id = session.device
                            LEFT JOIN person ON person.id = session.person
               WHERE session.token = ? AND session.ended IS NULL"#,
            hash
        )
        .fetch_optional(&self.readers)
        .await?;
        let Some(row) = row else { return Ok(None) };
        if is_old(row.made, row.seen, now) {
            return Ok(None);
        }
        let role = Role::read(&row.role)?;
        let person = row.person.zip(row.person_name).map(|(id, name)| Person { id, name });
        if row.seen + SEEN_EVERY.millis() <= now.millis() {
            self.saw(row.device.clone(), now).await?;
        }
        let (device, device_name, is_in) = (row.device, row.device_name, row.allowed.is_some());
        Ok(Some(Caller { role, person, device, device_name, is_in, language: row.language }))
    }

    async fn saw(&self, device: DeviceId, now: Instant) -> Result<(), StoreError> {
        self.write_unseen(|store| async move {
            let mut transaction = store.begin().await?;
            let now = now.millis();
            sqlx::query!("UPDATE session SET seen = max(seen, ?) WHERE device = ?", now, device)
                .execute(&mut *transaction)
                .await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }

    /// Every device that is in or waits, in the order they came.
    pub async fn devices(&self) -> Result<Vec<DeviceLine>, StoreError> {
        let now = self.clock.now();
        let rows = sqlx::query!(
            r#"SELECT session.device AS "device: DeviceId", session.role, session.made, session.seen,
                      session.allowed, device.name AS device_name, person.name AS "person_name?"
               FROM session JOIN device ON device.id = session.device
                            LEFT JOIN person ON person.id = session.person
               WHERE session.ended IS NULL ORDER BY session.made, session.rowid"#
        )
        .fetch_all(&self.readers)
        .await?;
        rows.into_iter()
            .filter(|row| !is_old(row.made, row.seen, now))
            .map(|row| {
                Ok(DeviceLine {
                    device: row.device,
                    device_name: row.device_name,
                    person: row.person_name,
                    role: Role::read(&row.role)?,
                    made: Instant::from_millis(row.made),
                    seen: Instant::from_millis(row.seen),
                    is_in: row.allowed.is_some(),
                })
            })
            .collect()
    }

    /// Lets a waiting device in. One that is in already, or out, stays so.
    pub async fn let_in(&self, device: DeviceId) -> Result<(), StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            sqlx::query!(
                "UPDATE session SET allowed = ? WHERE device = ? AND allowed IS NULL AND ended IS NULL",
                now,
                device
            )
            .execute(&mut *transaction)
            .await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }

    /// Puts a device out: from the next request on it is a stranger, and what it had in hand is in nobody's.
    pub async fn end(&self, device: DeviceId) -> Result<(), StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            sqlx::query!("UPDATE session SET ended = ? WHERE device = ? AND ended IS NULL", now, device)
                .execute(&mut *transaction)
                .await?;
            super::claim::drop_all(&mut transaction, &device).await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }
}

fn is_old(made: i64, seen: i64, now: Instant) -> bool {
    now.millis() >= made + LONGEST.millis() || now.millis() >= seen + IDLE.millis()
}
