//! Style, script and pictures, compiled in and named by what is in them, so that a browser may keep them for ever.

use axum::extract::Path;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

use super::error::PageError;
use crate::app::App;

/// Every file served as it is.
#[derive(Debug)]
pub struct Assets(Vec<Asset>);

#[derive(Debug)]
struct Asset {
    /// As templates name it: `sheet.css`.
    name: &'static str,
    /// With the hash of its bytes: `sheet-1a2b3c4d.css`.
    hashed: String,
    kind: &'static str,
    bytes: &'static [u8],
}

const FILES: &[(&str, &str, &[u8])] = &[
    ("sheet.css", "text/css; charset=utf-8", include_bytes!("../../static/sheet.css")),
    ("pages.css", "text/css; charset=utf-8", include_bytes!("../../static/pages.css")),
    ("sheet.js", "text/javascript; charset=utf-8", include_bytes!("../../static/sheet.js")),
    ("pad.js", "text/javascript; charset=utf-8", include_bytes!("../../static/pad.js")),
    ("live.js", "text/javascript; charset=utf-8", include_bytes!("../../static/live.js")),
    ("outbox.js", "text/javascript; charset=utf-8", include_bytes!("../../static/outbox.js")),
    ("icon.svg", "image/svg+xml", include_bytes!("../../static/icon.svg")),
];

impl Assets {
    /// All of them, with their names worked out.
    pub fn load() -> Self {
        Self(
            FILES
                .iter()
                .map(|&(name, kind, bytes)| Asset { name, hashed: hashed(name, bytes), kind, bytes })
                .collect(),
        )
    }

    /// The addresses of the style sheets, in the order in which they hold.
    pub fn styles(&self) -> [String; 2] {
        ["sheet.css", "pages.css"].map(|name| self.url(name))
    }

    /// The address of a file.
    pub fn url(&self, name: &str) -> String {
        let asset = self.0.iter().find(|asset| asset.name == name);
        format!("/static/{}", asset.map_or(name, |asset| asset.hashed.as_str()))
    }
}

fn hashed(name: &str, bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    let short: String = hash.iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    match name.rsplit_once('.') {
        Some((stem, ending)) => format!("{stem}-{short}.{ending}"),
        None => format!("{name}-{short}"),
    }
}

/// One file by its hashed name.
pub async fn file(app: App, Path(name): Path<String>) -> Result<Response, PageError> {
    let asset = app.assets.0.iter().find(|asset| asset.hashed == name).ok_or(PageError::NotFound)?;
    let headers =
        [(header::CONTENT_TYPE, asset.kind), (header::CACHE_CONTROL, "public, max-age=31536000, immutable")];
    Ok((headers, asset.bytes).into_response())
}
