//! The page that shows every part in every state, in debug builds.

use axum::http::StatusCode;
use scraper::{Html, Selector};

use crate::support::Crew;

#[tokio::test]
async fn every_part_is_shown_in_both_languages_and_both_themes_in_a_debug_build_alone() {
    let crew = Crew::new().await;
    coursebook::demo::fill(&crew.app.store).await.unwrap();
    let page = crew.get("/look").await;
    let themes = crew.get("/look/themes.css").await;
    if !cfg!(debug_assertions) {
        assert_eq!((page.status, themes.status), (StatusCode::NOT_FOUND, StatusCode::NOT_FOUND));
        return;
    }
    assert_eq!(page.status, StatusCode::OK);
    let panels = ["English, light", "English, dark", "Español, light", "Español, dark"];
    assert_eq!(page.texts(".look-panel > h2"), panels);
    for part in
        [".action", ".plain", ".wrong input", ".faults", ".echo", ".refusal", ".caution", ".note", ".empty"]
    {
        assert!(page.texts(part).len() >= panels.len(), "no {part} on every panel");
    }
    for state in ["done", "under-way", "ready", "wait", "look", "none"] {
        assert!(page.texts(&format!(".state.{state}")).len() >= panels.len(), "no {state}");
    }
    let (parsed, named) = (Html::parse_document(&page.body), Selector::parse("[id]").unwrap());
    let mut ids: Vec<&str> = parsed.select(&named).filter_map(|element| element.attr("id")).collect();
    ids.sort_unstable();
    let twice: Vec<&[&str]> = ids.chunk_by(|one, other| one == other).filter(|same| same.len() > 1).collect();
    assert!(ids.len() > 50 && twice.is_empty(), "an id stands for one thing: {twice:?}");
    assert_eq!(page.texts(".look-panel svg").len(), 3 * panels.len(), "a layout, a cut and a rack on each");
    assert!(page.text(".look-panel:last-of-type .faults").contains("obra"), "in Spanish");
    assert!(themes.body.contains(".in-dark") && themes.body.contains("--wait:"));
}
