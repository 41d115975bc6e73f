//! The lead's PIN: hashed with Argon2id, and tried a limited number of times, whatever restarts.

use argon2::{Argon2, PasswordHasher, PasswordVerifier};

use super::{DeviceId, Person, SessionToken, Store, StoreError};

/// Wrong tries in an hour before none is looked at. Six digits are a million PINs.
const TRIES_AN_HOUR: i64 = 20;

/// Wrong tries in all, since one was right, before only a link from the box lets the lead in: one chance in ten
/// thousand for whoever guesses.
const TRIES_IN_ALL: i64 = 100;

const HOUR: i64 = 3_600_000;

/// Six digits, not yet hashed.
#[derive(Clone, PartialEq, Eq)]
pub struct Pin(String);

/// Why it is no PIN.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PinFault {
    NotSixDigits,
    /// One digit six times, or digits in a row: what everyone tries first.
    TooPlain,
}

/// A hash with its salt and cost, as text.
#[derive(Clone, PartialEq, Eq)]
pub struct PinHash(String);

/// What comes of asking to try a PIN. A try counts as wrong until it is known to be right.
pub enum PinTry {
    /// Compare with this.
    Against { lead: Person, hash: PinHash },
    /// Too many wrong ones within the hour.
    Later,
    /// Too many wrong ones in all.
    NeedsLink,
    /// No lead is set up.
    NoLead,
}

impl Pin {
    /// Six digits as typed; spaces between them do not matter.
    pub fn read(typed: &str) -> Result<Self, PinFault> {
        let digits: String = typed.chars().filter(|c| !c.is_whitespace()).collect();
        if digits.len() != 6 || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(PinFault::NotSixDigits);
        }
        let plain =
            |step: i16| digits.as_bytes().windows(2).all(|two| i16::from(two[1]) - i16::from(two[0]) == step);
        if [-1, 0, 1].into_iter().any(plain) {
            return Err(PinFault::TooPlain);
        }
        Ok(Self(digits))
    }
}

impl PinHash {
    /// Hashes a PIN. Takes a processor's tenth of a second and 19 MiB, on purpose: not for a request thread.
    pub fn of(pin: &Pin) -> anyhow::Result<Self> {
        let salt: [u8; 16] = super::id::random_bytes();
        let hash = Argon2::default().hash_password_with_salt(pin.0.as_bytes(), &salt);
        Ok(Self(hash.map_err(|error| anyhow::anyhow!("the PIN could not be hashed: {error}"))?.to_string()))
    }

    /// Whether this is the PIN's. As slow.
    pub fn is_of(&self, pin: &Pin) -> bool {
        Argon2::default().verify_password(pin.0.as_bytes(), self.0.as_str()).is_ok()
    }

    /// As it stands in the database.
    pub(super) fn as_str(&self) -> &str {
        &self.0
    }
}

impl Store {
    /// Notes a try of the lead's PIN as wrong, before anyone looks whether it is: so no crash, restart or crowd of
    /// tries at once gets one more than it may.
    pub async fn try_pin(&self) -> Result<PinTry, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let lead = sqlx::query!(
                "SELECT person.id, person.name, pin.hash FROM person JOIN pin ON pin.person = person.id LIMIT 1"
            )
            .fetch_optional(&mut *transaction)
            .await?;
            let Some(lead) = lead else { return Ok(PinTry::NoLead) };
            let now = store.clock.now().millis();
            let since = now - HOUR;
            let counts = sqlx::query!(
                r#"SELECT count(*) AS "in_all!: i64", coalesce(sum(at > ?), 0) AS "in_hour!: i64"
                   FROM pin_try WHERE person = ?"#,
                since,
                lead.id
            )
            .fetch_one(&mut *transaction)
            .await?;
            if counts.in_all >= TRIES_IN_ALL {
                return Ok(PinTry::NeedsLink);
            }
            if counts.in_hour >= TRIES_AN_HOUR {
                return Ok(PinTry::Later);
            }
            sqlx::query!("INSERT INTO pin_try (person, at) VALUES (?, ?)", lead.id, now)
                .execute(&mut *transaction)
                .await?;
            transaction.commit().await?;
            Ok(PinTry::Against { lead: Person { id: lead.id, name: lead.name }, hash: PinHash(lead.hash) })
        })
        .await
    }

    /// The PIN was right: this device is the lead's, and the wrong tries are forgotten.
    pub async fn sign_in(
        &self,
        lead: Person,
        token: SessionToken,
        device: String,
    ) -> Result<DeviceId, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            forget_tries(&mut transaction, &lead).await?;
            let now = store.clock.now().millis();
            let device = super::session::begin_lead(&mut transaction, &lead, &token, &device, now).await?;
            transaction.commit().await?;
            Ok(device)
        })
        .await
    }
}

/// Forgets the wrong tries.
pub(super) async fn forget_tries(
    connection: &mut sqlx::SqliteConnection,
    person: &Person,
) -> Result<(), StoreError> {
    sqlx::query!("DELETE FROM pin_try WHERE person = ?", person.id).execute(connection).await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pin_is_six_digits_that_are_not_everyones_first_guess() {
        assert!(Pin::read("493 027").is_ok());
        for (typed, fault) in [
            ("", PinFault::NotSixDigits),
            ("49302", PinFault::NotSixDigits),
            ("4930271", PinFault::NotSixDigits),
            ("４９３０２７", PinFault::NotSixDigits),
            ("000000", PinFault::TooPlain),
            ("123456", PinFault::TooPlain),
            ("987654", PinFault::TooPlain),
        ] {
            assert!(Pin::read(typed) == Err(fault), "{typed}");
        }
    }

    #[test]
    fn a_hash_knows_its_pin_and_says_how_it_was_made() {
        let pin = Pin::read("493027").unwrap();
        let hash = PinHash::of(&pin).unwrap();
        assert!(hash.is_of(&pin) && !hash.is_of(&Pin::read("493028").unwrap()));
        assert!(hash.as_str().starts_with("$argon2id$") && !hash.as_str().contains("493027"));
        assert_ne!(hash.as_str(), PinHash::of(&pin).unwrap().as_str());
    }
}
