//! Addresses at which a calendar reads a job's next steps: made and taken back by the lead, their tokens kept as hashes
//! only.

use trade::cure::Instant;

use super::{EventKey, FeedToken, JobId, PersonId, Store, StoreError};

/// An address that is in force.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Feed {
    pub made: Instant,
    /// What whoever made it is called.
    pub by: String,
}

impl Store {
    /// A new address, once for each form key: a second press makes none.
    pub async fn make_feed(
        &self,
        key: EventKey,
        job: JobId,
        by: PersonId,
    ) -> Result<Option<FeedToken>, StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            if super::form_key::answered(&mut transaction, &key).await?.is_some() {
                return Ok(None);
            }
            let (token, now) = (FeedToken::random(), store.clock.now().millis());
            let hash = token.hash();
            sqlx::query!(
                "INSERT INTO calendar_feed (token, job, made, made_by) VALUES (?, ?, ?, ?)",
                hash,
                job,
                now,
                by
            )
            .execute(&mut *transaction)
            .await?;
            super::form_key::answer(&mut transaction, &key, "feed", now).await?;
            transaction.commit().await?;
            Ok(Some(token))
        })
        .await
    }

    /// The job that an address is for; nothing where we made no such address or took it back.
    pub async fn feed(&self, token: &FeedToken) -> Result<Option<JobId>, StoreError> {
        let hash = token.hash();
        let job = sqlx::query_scalar!(
            r#"SELECT job AS "job: JobId" FROM calendar_feed WHERE token = ? AND revoked IS NULL"#,
            hash
        )
        .fetch_optional(&self.readers)
        .await?;
        Ok(job)
    }

    /// The addresses of a job that are in force, oldest first.
    pub async fn feeds(&self, job: &JobId) -> Result<Vec<Feed>, StoreError> {
        let rows = sqlx::query!(
            "SELECT calendar_feed.made, person.name FROM calendar_feed JOIN person ON person.id = made_by
             WHERE job = ? AND revoked IS NULL ORDER BY calendar_feed.made",
            job
        )
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(|row| Feed { made: Instant::from_millis(row.made), by: row.name }).collect())
    }

    /// Takes back every address of a job.
    pub async fn revoke_feeds(&self, job: JobId) -> Result<(), StoreError> {
        self.write(move |store| async move {
            let mut transaction = store.begin().await?;
            let now = store.clock.now().millis();
            sqlx::query!("UPDATE calendar_feed SET revoked = ? WHERE job = ? AND revoked IS NULL", now, job)
                .execute(&mut *transaction)
                .await?;
            transaction.commit().await?;
            Ok(())
        })
        .await
    }
}
