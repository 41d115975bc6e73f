//! Where phones reached the server when it last ran.

use std::net::SocketAddr;

use super::{Store, StoreError};

impl Store {
    /// Keeps where phones reach the server from now on, and tells where they did before; nothing where that is not
    /// known, or could not be read.
    pub async fn reached_at(&self, address: SocketAddr) -> Result<Option<SocketAddr>, StoreError> {
        self.write_unseen(|store| async move {
            let mut transaction = store.begin().await?;
            let before = sqlx::query_scalar!("SELECT address FROM reached WHERE place = 1")
                .fetch_optional(&mut *transaction)
                .await?;
            let now = address.to_string();
            sqlx::query!(
                "INSERT INTO reached (place, address) VALUES (1, ?)
                 ON CONFLICT (place) DO UPDATE SET address = excluded.address",
                now
            )
            .execute(&mut *transaction)
            .await?;
            transaction.commit().await?;
            Ok(before.and_then(|before| before.parse().ok()))
        })
        .await
    }
}
