//! Forms that are not entries of the log are still taken once for each key: a second press gets the first answer.

use sqlx::SqliteConnection;

use super::{EventKey, StoreError};

/// What this key was answered with before.
pub async fn answered(
    connection: &mut SqliteConnection,
    key: &EventKey,
) -> Result<Option<String>, StoreError> {
    let key = key.as_str();
    Ok(sqlx::query_scalar!("SELECT answer FROM form_key WHERE key = ?", key)
        .fetch_optional(connection)
        .await?)
}

/// Notes the answer, in the transaction that does what was asked.
pub async fn answer(
    connection: &mut SqliteConnection,
    key: &EventKey,
    answer: &str,
    at: i64,
) -> Result<(), StoreError> {
    let key = key.as_str();
    sqlx::query!("INSERT INTO form_key (key, answer, received) VALUES (?, ?, ?)", key, answer, at)
        .execute(connection)
        .await?;
    Ok(())
}
