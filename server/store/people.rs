//! Who writes: the one lead, made at first start, on the one device that is the box itself.

use std::collections::BTreeMap;

use super::{DeviceId, PersonId, Store, StoreError};

/// A person of the crew.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Person {
    pub id: PersonId,
    pub name: String,
}

/// Who acts, and on what.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Crew {
    pub lead: Person,
    pub device: DeviceId,
}

/// What everybody is called.
pub(super) async fn names(
    connection: &mut sqlx::SqliteConnection,
) -> Result<BTreeMap<PersonId, String>, StoreError> {
    let rows = sqlx::query!("SELECT id, name FROM person").fetch_all(connection).await?;
    Ok(rows.into_iter().map(|row| (row.id, row.name)).collect())
}

impl Store {
    /// The lead and the box, made where there are none yet.
    pub async fn crew(&self) -> Result<Crew, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let made = store.clock.now().millis();
            let lead = sqlx::query!("SELECT id, name FROM person WHERE role = 'lead' ORDER BY made LIMIT 1")
                .fetch_optional(&mut *transaction)
                .await?
                .map(|row| Person { id: row.id, name: row.name });
            let lead = match lead {
                Some(lead) => lead,
                None => {
                    let lead = Person { id: PersonId::random(), name: "lead".to_owned() };
                    sqlx::query!(
                        "INSERT INTO person (id, name, role, made) VALUES (?, ?, 'lead', ?)",
                        lead.id,
                        lead.name,
                        made
                    )
                    .execute(&mut *transaction)
                    .await?;
                    lead
                }
            };
            let device = sqlx::query_scalar!("SELECT id FROM device ORDER BY made LIMIT 1")
                .fetch_optional(&mut *transaction)
                .await?;
            let device = match device {
                Some(device) => device,
                None => {
                    let device = DeviceId::random();
                    sqlx::query!("INSERT INTO device (id, name, made) VALUES (?, 'box', ?)", device, made)
                        .execute(&mut *transaction)
                        .await?;
                    device
                }
            };
            transaction.commit().await?;
            Ok(Crew { lead, device })
        })
        .await
    }
}
