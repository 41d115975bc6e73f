//! What a helper is offered: nothing that only the lead may press.

use std::collections::{BTreeMap, BTreeSet};

use axum::http::StatusCode;
use scraper::{Html, Selector};

use crate::support::{Crew, Page, typed_over};

/// More pages than a job has; a page that leads to ever new ones is a fault.
const MOST_PAGES: usize = 400;

/// Every address that a page links to on this server.
fn links(page: &Page) -> Vec<String> {
    let (parsed, links) = (Html::parse_document(&page.body), Selector::parse("a[href]").unwrap());
    let found = parsed.select(&links).filter_map(|link| link.attr("href"));
    found
        .filter(|to| to.starts_with('/'))
        .map(|to| to.split('#').next().unwrap_or_default().to_owned())
        .collect()
}

/// Where the buttons of a page send their forms, with the fields that a browser would send.
fn forms(page: &Page) -> Vec<(String, Vec<(String, String)>)> {
    let parsed = Html::parse_document(&page.body);
    let (forms, fields) =
        (Selector::parse("main form[method=post]").unwrap(), Selector::parse("input").unwrap());
    let buttons = Selector::parse("button").unwrap();
    let of = |form: scraper::ElementRef<'_>| {
        form.select(&buttons).next()?;
        let fields = form.select(&fields).filter_map(|field| {
            Some((field.attr("name")?.to_owned(), field.attr("value").unwrap_or_default().to_owned()))
        });
        Some((form.attr("action")?.to_owned(), fields.collect()))
    };
    parsed.select(&forms).filter_map(of).collect()
}

#[tokio::test]
async fn no_page_offers_a_helper_what_only_the_lead_may_do() {
    let mut crew = Crew::new().await;
    let job = crew.measured_job().await;
    let sheet = crew.get(&format!("/jobs/{job}/layout")).await;
    let version = sheet.attribute("input[name=version]", "value");
    let moved = [("version", version.as_str()), ("change", "start"), ("wall", "B"), ("start-B", "300")];
    crew.post(&format!("/jobs/{job}/layout"), &moved).await.leads_to();
    let niche = format!("/jobs/{job}/walls/B/rough-in");
    let form = crew.get(&format!("{niche}?at=niche")).await;
    crew.post_form(&niche, &typed_over(&form, &[("do", "save"), ("name", "niche")])).await;
    let cookie = crew.helper("Marta").await.cookie().unwrap();
    crew.hand_to(&cookie);

    let mut waiting = vec!["/".to_owned()];
    let mut seen: BTreeSet<String> = waiting.iter().cloned().collect();
    let mut offered: BTreeMap<String, (String, Vec<(String, String)>)> = BTreeMap::new();
    while let Some(address) = waiting.pop() {
        assert!(seen.len() < MOST_PAGES, "pages without end: {address}");
        let page = crew.get(&address).await;
        assert_ne!(page.status, StatusCode::FORBIDDEN, "a link that only the lead may follow: {address}");
        for (action, fields) in forms(&page) {
            offered.insert(action, (address.clone(), fields));
        }
        waiting.extend(links(&page).into_iter().filter(|to| seen.insert(to.clone())));
    }
    assert!(offered.keys().any(|action| action.contains("/cuts/")), "a helper cuts: {:?}", offered.keys());
    for (action, (address, fields)) in offered {
        let answer = crew.post_form(&action, &fields).await;
        assert_ne!(answer.status, StatusCode::FORBIDDEN, "{address} offers {action}: {}", answer.body);
    }
}
