//! The people of the crew, and how their lead begins new jobs.

use std::collections::BTreeMap;

use sqlx::SqliteConnection;
use trade::measure::Unit;

use super::{DeviceId, PersonId, Store, StoreError};

/// A person of the crew.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Person {
    pub id: PersonId,
    pub name: String,
}

/// Who acts, and on what: this is what an entry of the log records.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Actor {
    pub person: Person,
    pub device: DeviceId,
}

/// What a new job starts with.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewJobs {
    /// An IANA time zone name.
    pub zone: String,
    pub unit: Unit,
}

/// What everybody is called.
pub(super) async fn names(
    connection: &mut SqliteConnection,
) -> Result<BTreeMap<PersonId, String>, StoreError> {
    let rows = sqlx::query!("SELECT id, name FROM person").fetch_all(connection).await?;
    Ok(rows.into_iter().map(|row| (row.id, row.name)).collect())
}

/// The lead, whether set up or only standing for whoever was at the box before.
pub(super) async fn lead(connection: &mut SqliteConnection) -> Result<Option<Person>, StoreError> {
    let row = sqlx::query!("SELECT id, name FROM person WHERE role = 'lead' ORDER BY made LIMIT 1")
        .fetch_optional(connection)
        .await?;
    Ok(row.map(|row| Person { id: row.id, name: row.name }))
}

/// Adds a person.
pub(super) async fn add(
    connection: &mut SqliteConnection,
    name: &str,
    role: &str,
    made: i64,
) -> Result<Person, StoreError> {
    let person = Person { id: PersonId::random(), name: name.to_owned() };
    sqlx::query!(
        "INSERT INTO person (id, name, role, made) VALUES (?, ?, ?, ?)",
        person.id,
        person.name,
        role,
        made
    )
    .execute(connection)
    .await?;
    Ok(person)
}

/// Adds a device.
pub(super) async fn add_device(
    connection: &mut SqliteConnection,
    name: &str,
    made: i64,
) -> Result<DeviceId, StoreError> {
    let device = DeviceId::random();
    sqlx::query!("INSERT INTO device (id, name, made) VALUES (?, ?, ?)", device, name, made)
        .execute(connection)
        .await?;
    Ok(device)
}

impl Store {
    /// The lead before one is set up, at the box itself: who the demo's entries are by. Made where there is none.
    pub async fn at_the_box(&self) -> Result<Actor, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let made = store.clock.now().millis();
            let person = match lead(&mut transaction).await? {
                Some(lead) => lead,
                None => add(&mut transaction, "lead", "lead", made).await?,
            };
            let device = sqlx::query_scalar!("SELECT id FROM device ORDER BY made, rowid LIMIT 1")
                .fetch_optional(&mut *transaction)
                .await?;
            let device = match device {
                Some(device) => device,
                None => add_device(&mut transaction, "box", made).await?,
            };
            transaction.commit().await?;
            Ok(Actor { person, device })
        })
        .await
    }

    /// Keeps the language that a person chose, by its tag, for every device of theirs.
    pub async fn speak(&self, person: PersonId, language: &'static str) -> Result<(), StoreError> {
        self.write_unseen(move |store| async move {
            let mut transaction = store.begin().await?;
            sqlx::query!("UPDATE person SET language = ? WHERE id = ?", language, person)
                .execute(&mut *transaction)
                .await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }

    /// The lead's name, where one is set up: with a PIN.
    pub async fn lead_set_up(&self) -> Result<Option<String>, StoreError> {
        let name =
            sqlx::query_scalar!("SELECT person.name FROM person JOIN pin ON pin.person = person.id LIMIT 1")
                .fetch_optional(&self.readers)
                .await?;
        Ok(name)
    }

    /// What new jobs start with, where a lead has said.
    pub async fn new_jobs(&self) -> Result<Option<NewJobs>, StoreError> {
        let row = sqlx::query!("SELECT zone, unit FROM crew").fetch_optional(&self.readers).await?;
        row.map(|row| Ok(NewJobs { zone: row.zone, unit: super::job::unit_of(&row.unit)? })).transpose()
    }
}
