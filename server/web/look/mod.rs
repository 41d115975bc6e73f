//! Every part of the pages in every state, in both themes and both languages, so that the look is changed in one place
//! and seen whole. In debug builds only: nobody on a job has a use for it, so its own words are English alone.

mod drawings;
mod page;

use axum::http::header;
use axum::response::{IntoResponse, Response};

use self::page::Look;
use super::error::PageError;
use super::page::page;
use crate::app::App;

/// The page, with the drawings of the first job that has a layout.
pub async fn show(app: App) -> Result<Response, PageError> {
    let mut planned = None;
    for job in app.store.jobs().await? {
        let stored = app.store.sheet(&job.id).await?;
        if let Ok(plan) = app.work.plan(&stored).await {
            planned = Some((stored, plan));
            break;
        }
    }
    page(&Look::new(&app, planned.as_ref()))
}

/// The colours of each theme under a class, taken from the style sheet itself.
pub async fn themes() -> Response {
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], both_themes(SHEET)).into_response()
}

const SHEET: &str = include_str!("../../../static/sheet.css");

/// The first two `:root` blocks of a style sheet: light, and what is another in the dark.
fn both_themes(sheet: &str) -> String {
    let blocks = sheet.split(":root {").skip(1).filter_map(|rest| rest.split('}').next());
    let themes = blocks.zip(["light", "dark"]);
    let theme = |(tokens, name): (&str, &str)| {
        format!(
            ".in-{name} {{ color-scheme: {name}; background: var(--paper); color: var(--ink); {tokens}}}\n"
        )
    };
    themes.map(theme).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_theme_has_every_colour_of_the_sheet() {
        let themes = both_themes(SHEET);
        let (light, dark) = themes.split_once(".in-dark").unwrap();
        for colour in ["--paper:", "--ink:", "--level:", "--wait:", "--ready:", "--look:", "--in-hand:"] {
            assert!(light.contains(colour) && dark.contains(colour), "{colour} in {themes}");
        }
    }
}
