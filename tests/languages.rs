//! Every page of the demo job in every language: all words are there, and in Spanish none are English.

use std::collections::{BTreeSet, VecDeque};

use axum::http::{StatusCode, header};
use coursebook::texts::Language;
use scraper::{Html, Selector};

use crate::support::{Crew, Page};

/// More pages than the demo job has; a page that leads to ever new ones is a fault.
const MOST_PAGES: usize = 1000;

/// Names that people and publishers gave, in whatever language.
const NAMES: [&str; 4] =
    ["Quarry Row 7, walk-in shower", "The Tile Association", "NTCA Reference Manual", "OSHA"];

/// Words that are common in English and no words in Spanish, and what the trade's things are called.
const ENGLISH: [&str; 62] = [
    "the", "of", "and", "with", "is", "are", "to", "for", "from", "not", "this", "that", "it", "its", "by",
    "on", "at", "or", "be", "was", "has", "have", "which", "where", "when", "what", "than", "then", "each",
    "all", "more", "less", "first", "last", "next", "here", "there", "tile", "tiles", "joint", "joints",
    "cut", "cuts", "course", "courses", "layout", "layouts", "saw", "board", "sheet", "gap", "width",
    "height", "edge", "edges", "whole", "below", "above", "bottom", "top", "day", "time",
];

/// The English words of a text. What holds more than letters is an address, a measure or a name.
pub fn english(text: &str) -> BTreeSet<String> {
    let text = NAMES.iter().fold(text.to_owned(), |text, name| text.replace(name, ""));
    let words = text.split(|c: char| c.is_whitespace() || "();:,·×".contains(c));
    let words = words.map(|word| word.trim_matches(|c: char| c.is_ascii_punctuation()).to_lowercase());
    words.filter(|word| ENGLISH.contains(&word.as_str())).collect()
}

/// Everything on a page that is read or read out: texts, and the attributes that hold words.
fn read_out(page: &Page) -> Vec<String> {
    let parsed = Html::parse_document(&page.body);
    let all = Selector::parse("*").unwrap();
    let mut found = Vec::new();
    for element in parsed.select(&all) {
        // Names of languages are in their own.
        if element.value().name() == "html" || element.attr("lang").is_none() {
            let texts =
                element.children().filter_map(|child| child.value().as_text().map(|text| text.to_string()));
            found.extend(texts);
        }
        let worded = ["aria-label", "title", "alt", "placeholder"];
        found.extend(worded.iter().filter_map(|name| element.attr(name)).map(str::to_owned));
    }
    found
}

/// Where a page leads, on this server.
fn leads(page: &Page) -> Vec<String> {
    let parsed = Html::parse_document(&page.body);
    let links = Selector::parse("a[href]").unwrap();
    let addresses = parsed.select(&links).filter_map(|link| link.attr("href"));
    let pages = addresses.map(|address| address.split('#').next().unwrap_or_default());
    pages
        .filter(|page| page.starts_with('/') && !page.ends_with(".json") && !page.ends_with(".ics"))
        .map(str::to_owned)
        .collect()
}

/// The demo job at a browser of one language.
struct Reader {
    crew: Crew,
    language: Language,
}

impl Reader {
    async fn new(language: Language) -> Self {
        let crew = Crew::new().await;
        coursebook::demo::fill(&crew.app.store).await.unwrap();
        Self { crew, language }
    }

    /// A page, once nothing is looked for behind it any more.
    async fn get(&self, address: &str) -> Page {
        loop {
            let page = self.crew.get_with(address, &[(header::ACCEPT_LANGUAGE, self.language.tag())]).await;
            if !page.headers.contains_key(header::REFRESH) {
                return page;
            }
        }
    }

    fn looks_right(&self, address: &str, page: &Page) {
        assert_eq!(page.attribute("html", "lang"), self.language.tag(), "{address}");
        for text in read_out(page) {
            let stops_once = !text.contains("..") || text.contains("...");
            assert!(stops_once, "{address}: {text}");
            assert!(!text.contains("{$") && !text.contains("{ $"), "{address} lacks a value: {text}");
            for word in text.split_whitespace() {
                let is_key = Language::English.source().contains(&format!("\n{word} ="));
                assert!(!is_key || !word.contains('-'), "{address} lacks words for {word}");
            }
            if self.language == Language::Spanish {
                assert_eq!(english(&text), BTreeSet::new(), "{address}: {text}");
            }
        }
    }

    /// Every page that links lead to, from the list of jobs on.
    async fn reads_every_page(&self) -> BTreeSet<String> {
        let mut waiting = VecDeque::from(["/".to_owned()]);
        let mut seen = BTreeSet::from(["/".to_owned()]);
        while let Some(address) = waiting.pop_front() {
            let page = self.get(&address).await;
            assert_eq!(page.status, StatusCode::OK, "{address}");
            self.looks_right(&address, &page);
            for next in leads(&page) {
                if seen.insert(next.clone()) {
                    waiting.push_back(next);
                }
            }
            assert!(seen.len() < MOST_PAGES, "ever new pages: {address}");
        }
        seen
    }
}

#[tokio::test]
async fn every_page_has_all_its_words_in_every_language() {
    for language in Language::ALL {
        let reader = Reader::new(language).await;
        let seen = reader.reads_every_page().await;
        let kinds =
            ["/board/products", "/layout/options/", "/layout/cuts", "/cuts/", "/log", "/walls/new", "/sheet"];
        for kind in kinds {
            assert!(seen.iter().any(|page| page.contains(kind)), "no {kind} in {seen:?}");
        }
    }
}

/// A form, with the answer that it gets.
type Form<'a> = (String, Vec<(&'a str, &'a str)>, StatusCode);

/// What is answered to forms that cannot be taken: empty ones, and a stage that has to wait.
#[tokio::test]
async fn what_is_refused_is_refused_in_every_language() {
    for language in Language::ALL {
        let reader = Reader::new(language).await;
        let job = reader.get("/").await.attribute(".list a", "href");
        let wish = format!("{job}/layout/wish?want=top:A&want=joint:A:0:bottom&least=60");
        reader.looks_right(&wish, &reader.get(&wish).await);
        let rough = format!("{job}/walls/A/rough-in?of=niche");
        let version = reader.get(&format!("{job}/walls/A")).await.attribute("input[name=version]", "value");
        let forms: [Form; 8] = [
            ("/jobs".to_owned(), vec![("name", "")], StatusCode::UNPROCESSABLE_ENTITY),
            (format!("{job}/sheet"), vec![("version", &version)], StatusCode::UNPROCESSABLE_ENTITY),
            (format!("{job}/walls/new"), vec![("version", &version)], StatusCode::UNPROCESSABLE_ENTITY),
            (
                format!("{job}/walls/A"),
                vec![("version", &version), ("width", "much")],
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
            (format!("{job}/board/A/clip_removal/start"), vec![], StatusCode::CONFLICT),
            (
                format!("{job}/board/A/grout/done"),
                vec![("minutes", "1"), ("time", "x")],
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
            (format!("{job}/cuts/A1-1"), vec![("print", "old")], StatusCode::CONFLICT),
            ("/language".to_owned(), vec![("language", "pt")], StatusCode::UNPROCESSABLE_ENTITY),
        ];
        for (address, fields, status) in forms {
            let cookie = format!("coursebook_language={}", language.tag());
            let page = reader.crew.post_with(&address, &fields, &[(header::COOKIE, &cookie)]).await;
            assert_eq!(page.status, status, "{address}: {}", page.body);
            reader.looks_right(&address, &page);
        }
        let page = reader.get(&rough).await;
        reader.looks_right(&rough, &page);
    }
}
