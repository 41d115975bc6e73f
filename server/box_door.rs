//! The door at the box: a socket in the data folder by which a command asks the running server, which alone may open
//! the database. Only whoever may read the folder can knock.

use std::io::{Read, Write};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::time::Duration;

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{UnixListener, UnixStream};

use crate::app::App;
use crate::web::lead_link;

/// What a command asks.
const LEAD_LINK: &[u8; 9] = b"lead-link";

/// A command that says nothing for so long is gone.
const ASKS_WITHIN: Duration = Duration::from_secs(5);

fn socket(folder: &Path) -> PathBuf {
    folder.join("door")
}

/// Answers commands for as long as the server runs. Without the door the server still serves.
pub async fn answer(folder: PathBuf, app: App) {
    let listener = match open(&folder) {
        Ok(listener) => listener,
        Err(error) => {
            tracing::warn!(%error, "commands on this box cannot ask the running server");
            return;
        }
    };
    loop {
        let answered = match listener.accept().await {
            Ok((stream, _)) => answer_one(stream, &app).await,
            Err(error) => Err(error.into()),
        };
        if let Err(error) = answered {
            tracing::warn!(%error, "a command on this box was not answered");
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }
}

fn open(folder: &Path) -> std::io::Result<UnixListener> {
    let path = socket(folder);
    // One that a killed server left behind: the folder's lock is ours, so nobody listens there.
    match std::fs::remove_file(&path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(error),
        _ => {}
    }
    let listener = UnixListener::bind(&path)?;
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o600))?;
    Ok(listener)
}

async fn answer_one(mut stream: UnixStream, app: &App) -> anyhow::Result<()> {
    let mut asked = [0; LEAD_LINK.len()];
    tokio::time::timeout(ASKS_WITHIN, stream.read_exact(&mut asked)).await??;
    if &asked == LEAD_LINK {
        let words = lead_link(app, "announce-lead-link").await?;
        tokio::time::timeout(ASKS_WITHIN, stream.write_all(words.as_bytes())).await??;
    }
    Ok(())
}

/// Asks the server that runs over a folder for a lead's link; its words, or nothing where none runs.
///
/// # Errors
///
/// When a server listens and does not answer.
pub fn ask(folder: &Path) -> anyhow::Result<Option<String>> {
    let Ok(mut stream) = std::os::unix::net::UnixStream::connect(socket(folder)) else { return Ok(None) };
    stream.set_read_timeout(Some(2 * ASKS_WITHIN))?;
    stream.write_all(LEAD_LINK)?;
    let mut words = String::new();
    stream.read_to_string(&mut words)?;
    anyhow::ensure!(!words.is_empty(), "the running server did not make a link: see its log");
    Ok(Some(words))
}
