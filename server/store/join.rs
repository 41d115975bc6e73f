//! Links that let one device in, once, and setting up the lead.

use sqlx::SqliteConnection;
use trade::cure::Span;

use super::session::{NewSession, begin, begin_lead, device_of};
use super::{
    DeviceId, EventKey, LinkToken, NewJobs, Person, PersonId, PinHash, Role, SessionToken, Store, StoreError,
};

/// A link is for somebody who stands beside the lead.
const LINK_LASTS: Span = Span::from_minutes(10);

/// The first link of a new box is printed when it starts, and used when somebody comes to set it up.
const FIRST_LINK_LASTS: Span = Span::from_hours(24);

/// What a link is good for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LinkState {
    Open(Role),
    Used,
    Expired,
    Revoked,
    /// We made no such link.
    Unknown,
}

/// What came of using a link.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Opened {
    Yes(DeviceId),
    No(LinkState),
}

/// How whoever sets up the lead got there.
#[derive(Clone, Debug)]
pub enum Way {
    /// At the box itself, before there is a lead.
    Box,
    /// By a link that the box printed.
    Link(LinkToken),
}

/// The lead's own answers.
#[derive(Clone)]
pub struct SetUp {
    pub name: String,
    pub pin: PinHash,
    /// How new jobs start.
    pub jobs: NewJobs,
    /// What this browser runs on.
    pub device: String,
}

/// A link as stored.
struct Link {
    state: LinkState,
    used_by: Option<DeviceId>,
}

impl Store {
    /// What a link is good for now.
    pub async fn link(&self, token: &LinkToken) -> Result<LinkState, StoreError> {
        let mut connection = self.readers.acquire().await?;
        Ok(find(&mut connection, token, self.clock.now().millis()).await?.state)
    }

    /// A link for one helper or board, once for each form key: a second press makes none.
    pub async fn invite(
        &self,
        key: EventKey,
        role: Role,
        by: PersonId,
    ) -> Result<Option<LinkToken>, StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            if super::form_key::answered(&mut transaction, &key).await?.is_some() {
                return Ok(None);
            }
            let (token, now) = (LinkToken::random(), store.clock.now().millis());
            add(&mut transaction, &token, role, Some(&by), (now, LINK_LASTS)).await?;
            super::form_key::answer(&mut transaction, &key, "link", now).await?;
            transaction.commit().await?;
            Ok(Some(token))
        })
        .await
    }

    /// A link that makes whoever opens it the lead; the ones made before no longer do.
    pub async fn lead_link(&self) -> Result<LinkToken, StoreError> {
        let lasts = if self.lead_set_up().await?.is_some() { LINK_LASTS } else { FIRST_LINK_LASTS };
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            let (token, now) = (LinkToken::random(), store.clock.now().millis());
            sqlx::query!("UPDATE join_link SET revoked = ? WHERE role = 'lead' AND revoked IS NULL", now)
                .execute(&mut *transaction)
                .await?;
            add(&mut transaction, &token, Role::Lead, None, (now, lasts)).await?;
            transaction.commit().await?;
            Ok(token)
        })
        .await
    }

    /// Takes back every link for helpers and boards that nobody has used and that still opens; says how many.
    pub async fn revoke_links(&self) -> Result<u64, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            let revoked = sqlx::query!(
                "UPDATE join_link SET revoked = ?
                 WHERE role <> 'lead' AND used_by IS NULL AND revoked IS NULL AND expires > ?",
                now,
                now
            )
            .execute(&mut *transaction)
            .await?
            .rows_affected();
            transaction.commit().await?;
            Ok(revoked)
        })
        .await
    }

    /// Uses a link: the device waits to be let in. The same browser asking again is answered as before.
    ///
    /// For a board, `name` is the screen's; for a helper it is the person's, and `device` what it runs on.
    pub async fn join(
        &self,
        link: LinkToken,
        token: SessionToken,
        name: String,
        device: String,
    ) -> Result<Opened, StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            let found = find(&mut transaction, &link, now).await?;
            let role = match found.state {
                LinkState::Open(role @ (Role::Helper | Role::Board)) => role,
                LinkState::Open(Role::Lead) => return Ok(Opened::No(LinkState::Unknown)),
                closed => return again(&mut transaction, found, &token, closed).await,
            };
            let (person, device) = match role {
                Role::Board => (None, super::people::add_device(&mut transaction, &name, now).await?),
                Role::Helper | Role::Lead => (
                    Some(helper(&mut transaction, &name, now).await?),
                    super::people::add_device(&mut transaction, &device, now).await?,
                ),
            };
            let new =
                NewSession { device: &device, token: &token, person: person.as_ref(), role, is_in: false };
            begin(&mut transaction, new, now).await?;
            use_up(&mut transaction, &link, &device).await?;
            transaction.commit().await?;
            Ok(Opened::Yes(device))
        })
        .await
    }

    /// Sets up the lead, or a new PIN for one who has lost theirs. The same browser asking again is answered as
    /// before.
    pub async fn set_up(&self, way: Way, token: SessionToken, new: SetUp) -> Result<Opened, StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            match &way {
                Way::Box if has_lead(&mut transaction).await? => {
                    let before = device_of(&mut transaction, &token).await?;
                    return Ok(before.map_or(Opened::No(LinkState::Used), Opened::Yes));
                }
                Way::Box => {}
                Way::Link(link) => {
                    let found = find(&mut transaction, link, now).await?;
                    match found.state {
                        LinkState::Open(Role::Lead) => {}
                        LinkState::Open(_) => return Ok(Opened::No(LinkState::Unknown)),
                        closed => return again(&mut transaction, found, &token, closed).await,
                    }
                }
            }
            let lead = save_lead(&mut transaction, &new, now).await?;
            let device = begin_lead(&mut transaction, &lead, &token, &new.device, now).await?;
            if let Way::Link(link) = &way {
                use_up(&mut transaction, link, &device).await?;
            }
            transaction.commit().await?;
            Ok(Opened::Yes(device))
        })
        .await
    }

    /// Makes this browser the lead of the demo, without a PIN.
    pub async fn lead_the_demo(&self, token: SessionToken, device: String) -> Result<DeviceId, StoreError> {
        let lead = self.at_the_box().await?.person;
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            let device = begin_lead(&mut transaction, &lead, &token, &device, now).await?;
            transaction.commit().await?;
            Ok(device)
        })
        .await
    }
}

/// A link that is closed is open still to the browser that used it: its answer may have been lost on the way.
async fn again(
    connection: &mut SqliteConnection,
    found: Link,
    token: &SessionToken,
    closed: LinkState,
) -> Result<Opened, StoreError> {
    let device = device_of(connection, token).await?;
    Ok(match device {
        Some(device) if found.used_by.as_ref() == Some(&device) => Opened::Yes(device),
        _ => Opened::No(closed),
    })
}

async fn find(connection: &mut SqliteConnection, token: &LinkToken, now: i64) -> Result<Link, StoreError> {
    let hash = token.hash();
    let row = sqlx::query!(
        r#"SELECT role, expires, revoked, used_by AS "used_by: DeviceId" FROM join_link WHERE token = ?"#,
        hash
    )
    .fetch_optional(connection)
    .await?;
    let Some(row) = row else { return Ok(Link { state: LinkState::Unknown, used_by: None }) };
    let state = if row.used_by.is_some() {
        LinkState::Used
    } else if row.revoked.is_some() {
        LinkState::Revoked
    } else if row.expires <= now {
        LinkState::Expired
    } else {
        LinkState::Open(Role::read(&row.role)?)
    };
    Ok(Link { state, used_by: row.used_by })
}

async fn add(
    connection: &mut SqliteConnection,
    token: &LinkToken,
    role: Role,
    by: Option<&PersonId>,
    (now, lasts): (i64, Span),
) -> Result<(), StoreError> {
    let (hash, role, expires) = (token.hash(), role.name(), now + lasts.millis());
    sqlx::query!(
        "INSERT INTO join_link (token, role, made, expires, made_by) VALUES (?, ?, ?, ?, ?)",
        hash,
        role,
        now,
        expires,
        by
    )
    .execute(connection)
    .await?;
    Ok(())
}

async fn use_up(
    connection: &mut SqliteConnection,
    token: &LinkToken,
    device: &DeviceId,
) -> Result<(), StoreError> {
    let hash = token.hash();
    sqlx::query!("UPDATE join_link SET used_by = ? WHERE token = ?", device, hash)
        .execute(connection)
        .await?;
    Ok(())
}

/// The helper of this name: whoever had it before, since it is the lead who says whether this is that person.
async fn helper(connection: &mut SqliteConnection, name: &str, now: i64) -> Result<PersonId, StoreError> {
    let known = sqlx::query_scalar!(
        "SELECT id FROM person WHERE role = 'helper' AND name = ? COLLATE NOCASE LIMIT 1",
        name
    )
    .fetch_optional(&mut *connection)
    .await?;
    match known {
        Some(known) => Ok(known),
        None => Ok(super::people::add(connection, name, "helper", now).await?.id),
    }
}

async fn has_lead(connection: &mut SqliteConnection) -> Result<bool, StoreError> {
    let count =
        sqlx::query_scalar!(r#"SELECT count(*) AS "count!: i64" FROM pin"#).fetch_one(connection).await?;
    Ok(count > 0)
}

async fn save_lead(connection: &mut SqliteConnection, new: &SetUp, now: i64) -> Result<Person, StoreError> {
    let lead = match super::people::lead(connection).await? {
        Some(lead) => Person { name: new.name.clone(), ..lead },
        None => super::people::add(connection, &new.name, "lead", now).await?,
    };
    sqlx::query!("UPDATE person SET name = ? WHERE id = ?", lead.name, lead.id)
        .execute(&mut *connection)
        .await?;
    let hash = new.pin.as_str();
    sqlx::query!(
        "INSERT INTO pin (person, hash) VALUES (?, ?) ON CONFLICT (person) DO UPDATE SET hash = excluded.hash",
        lead.id,
        hash
    )
    .execute(&mut *connection)
    .await?;
    super::pin::forget_tries(connection, &lead).await?;
    let unit = super::sheet::unit_name(new.jobs.unit);
    sqlx::query!(
        "INSERT INTO crew (only, zone, unit) VALUES (1, ?, ?)
         ON CONFLICT (only) DO UPDATE SET zone = excluded.zone, unit = excluded.unit",
        new.jobs.zone,
        unit
    )
    .execute(&mut *connection)
    .await?;
    Ok(lead)
}
