//! What each form was answered with, by its key: a second press gets the first answer, whether it made an entry of the
//! log or not.

use sqlx::SqliteConnection;

use super::{EventKey, Store, StoreError};

impl Store {
    /// Whether this form was answered before.
    ///
    /// # Errors
    ///
    /// [`StoreError::KeyReused`] when its key came with another form.
    pub async fn was_answered(&self, key: &EventKey) -> Result<bool, StoreError> {
        let mut connection = self.readers.acquire().await?;
        Ok(answered(&mut connection, key).await?.is_some())
    }
}

/// What this key was answered with before.
///
/// # Errors
///
/// [`StoreError::KeyReused`] when it came with another form: a corrected form sent from an old page must not look
/// saved.
pub async fn answered(
    connection: &mut SqliteConnection,
    key: &EventKey,
) -> Result<Option<String>, StoreError> {
    let name = key.as_str();
    let before = sqlx::query!("SELECT form, answer FROM form_key WHERE key = ?", name)
        .fetch_optional(connection)
        .await?;
    match before {
        Some(before) if before.form != key.form().unwrap_or_default() => Err(StoreError::KeyReused),
        before => Ok(before.map(|before| before.answer)),
    }
}

/// Notes the answer, in the transaction that does what was asked.
pub async fn answer(
    connection: &mut SqliteConnection,
    key: &EventKey,
    answer: &str,
    at: i64,
) -> Result<(), StoreError> {
    let (name, form) = (key.as_str(), key.form().unwrap_or_default());
    sqlx::query!(
        "INSERT INTO form_key (key, form, answer, received) VALUES (?, ?, ?, ?)",
        name,
        form,
        answer,
        at
    )
    .execute(connection)
    .await?;
    Ok(())
}
