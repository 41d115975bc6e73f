//! In which language a page answers: the one that the person chose, on whatever device; else the one chosen in this
//! browser, which a cookie keeps for guests; else the first that it asks for and that we have; else English.

use std::convert::Infallible;

use axum::extract::FromRequestParts;
use axum::http::header::{self, HeaderMap, HeaderValue};
use axum::http::request::Parts;
use axum::http::{Method, Uri};
use axum::response::{IntoResponse, Redirect, Response};

use super::error::PageError;
use super::form::Sent;
use super::urls;
use crate::app::App;
use crate::store::Caller;
use crate::texts::Language;

/// The cookie that keeps the choice.
const COOKIE: &str = "coursebook_language";

/// A year: a phone is asked once, and the choice is no secret.
const KEPT_FOR: &str = "Max-Age=31536000";

/// How many languages of a browser's list are looked at: nobody reads more.
const MOST_ASKED: usize = 32;

/// What a request says of languages.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Wanted {
    /// One that we have: chosen on a page, or asked for by the browser.
    Ours(Language),
    /// The browser asks for others only.
    Others,
    /// Nothing.
    Unsaid,
}

/// What the switch sends.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Chosen {
    language: String,
    back: String,
}

/// The server as one request has it: in its language.
impl FromRequestParts<App> for App {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Infallible> {
        let here = page_of(&parts.method, &parts.uri, &parts.headers);
        let caller: Option<Caller> = parts.extensions.get().cloned();
        Ok(app.asked(Wanted::by(caller.as_ref(), &parts.headers), here, caller))
    }
}

impl Wanted {
    /// By the person who asks, or else by their browser.
    fn by(caller: Option<&Caller>, headers: &HeaderMap) -> Self {
        let tag = caller.and_then(|caller| caller.language.as_deref());
        tag.and_then(Language::from_tag).map_or_else(|| Self::of(headers), Self::Ours)
    }

    /// From a request's headers.
    pub fn of(headers: &HeaderMap) -> Self {
        chosen(headers).map_or_else(|| by_browser(headers), Self::Ours)
    }

    /// The language to answer in.
    pub fn language(self) -> Language {
        match self {
            Self::Ours(language) => language,
            Self::Others | Self::Unsaid => Language::English,
        }
    }
}

/// Keeps the choice, with the person where one is in, and leads back to where it was made.
pub async fn choose(app: App, sent: Sent<Chosen>) -> Result<Response, PageError> {
    let language = Language::from_tag(&sent.typed.language).ok_or(PageError::NoSuchLanguage)?;
    if let Some(person) = app.caller.and_then(|caller| caller.person) {
        app.store.speak(person.id, language.tag()).await?;
    }
    let back = if is_ours(&sent.typed.back) { sent.typed.back.as_str() } else { urls::JOBS };
    let cookie = format!("{COOKIE}={}; Path=/; {KEPT_FOR}; SameSite=Lax; HttpOnly", language.tag());
    let cookie = HeaderValue::from_str(&cookie).map_err(|error| PageError::Ours(error.into()))?;
    let back = urls::in_language(back, language.tag());
    Ok(([(header::SET_COOKIE, cookie)], Redirect::to(&back)).into_response())
}

/// The language of the cookie.
fn chosen(headers: &HeaderMap) -> Option<Language> {
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|cookies| cookies.to_str().ok());
    let mut each = cookies.flat_map(|cookies| cookies.split(';')).filter_map(|cookie| cookie.split_once('='));
    each.find_map(|(name, tag)| if name.trim() == COOKIE { Language::from_tag(tag.trim()) } else { None })
}

/// The first that the browser asks for and that we have: its highest weight, and of equal ones the earlier.
fn by_browser(headers: &HeaderMap) -> Wanted {
    let lists = headers.get_all(header::ACCEPT_LANGUAGE).iter().filter_map(|list| list.to_str().ok());
    let mut asked: Vec<(&str, u32)> =
        lists.flat_map(|list| list.split(',')).take(MOST_ASKED).filter_map(weighed).collect();
    asked.sort_by_key(|(_, weight)| std::cmp::Reverse(*weight));
    let any = asked.iter().any(|(tag, _)| *tag == "*");
    match asked.iter().find_map(|(tag, _)| Language::from_tag(tag)) {
        Some(language) => Wanted::Ours(language),
        None if asked.is_empty() || any => Wanted::Unsaid,
        None => Wanted::Others,
    }
}

/// A language of the browser's list with its weight in thousandths; nothing where it is empty or refused by weight 0.
fn weighed(item: &str) -> Option<(&str, u32)> {
    let (tag, rest) = item.split_once(';').unwrap_or((item, "q=1"));
    let weight = rest.trim().strip_prefix("q=").and_then(thousandths).unwrap_or(0);
    let tag = tag.trim();
    (weight > 0 && !tag.is_empty()).then_some((tag, weight))
}

/// `1`, `0.8`, `0.125`: a weight as RFC 9110 section 12.4.2 writes it.
fn thousandths(weight: &str) -> Option<u32> {
    let (whole, part) = weight.trim().split_once('.').unwrap_or((weight.trim(), ""));
    if part.len() > 3 {
        return None;
    }
    let part = format!("{part:0<3}").parse::<u32>().ok()?;
    Some((whole.parse::<u32>().ok()?.min(1) * 1000 + part).min(1000))
}

/// The page that a switch of language comes back to: the one asked for, or, where a form was sent, the one that it
/// was sent from.
fn page_of(method: &Method, uri: &Uri, headers: &HeaderMap) -> String {
    let own = |uri: &Uri| uri.path_and_query().map(|path| path.as_str().to_owned());
    let page = if *method == Method::GET {
        own(uri)
    } else {
        let from = headers.get(header::REFERER).and_then(|from| from.to_str().ok());
        from.and_then(|from| from.parse().ok()).as_ref().and_then(own)
    };
    page.filter(|page| is_ours(page)).unwrap_or_else(|| urls::JOBS.to_owned())
}

/// Whether an address is a page of this server. One that begins with two strokes names another host, and browsers
/// take a backslash for a stroke.
fn is_ours(address: &str) -> bool {
    address.starts_with('/')
        && !address.starts_with("//")
        && !address.contains('\\')
        && address.bytes().all(|byte| byte.is_ascii_graphic())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted(cookie: &str, accepts: &str) -> Wanted {
        let mut headers = HeaderMap::new();
        for (name, value) in [(header::COOKIE, cookie), (header::ACCEPT_LANGUAGE, accepts)] {
            if !value.is_empty() {
                headers.insert(name, HeaderValue::from_str(value).unwrap());
            }
        }
        Wanted::of(&headers)
    }

    #[test]
    fn the_browser_is_asked_where_nothing_was_chosen() {
        let (english, spanish) = (Wanted::Ours(Language::English), Wanted::Ours(Language::Spanish));
        for (accepts, is) in [
            ("", Wanted::Unsaid),
            ("*", Wanted::Unsaid),
            ("es", spanish),
            ("es-MX,es;q=0.9,en;q=0.8", spanish),
            ("ES-419", spanish),
            ("en-US,en;q=0.9,es;q=0.8", english),
            ("en;q=0.2, es;q=0.9", spanish),
            ("pt-BR,pt;q=0.9,es;q=0.5", spanish),
            ("pt-BR,pt;q=0.9", Wanted::Others),
            ("est", Wanted::Others),
            ("es;q=0, pt", Wanted::Others),
            ("es;q=0.0001", Wanted::Unsaid),
            ("es;q=much, en;q=0.1", english),
            (",;,", Wanted::Unsaid),
        ] {
            assert_eq!(wanted("", accepts), is, "{accepts}");
        }
    }

    #[test]
    fn what_was_chosen_comes_before_the_browser() {
        assert_eq!(wanted("coursebook_language=es", "en"), Wanted::Ours(Language::Spanish));
        assert_eq!(wanted("other=1; coursebook_language=en", "es"), Wanted::Ours(Language::English));
        assert_eq!(wanted("coursebook_language=xx", "es"), Wanted::Ours(Language::Spanish));
        assert_eq!(wanted("my_coursebook_language=en", "es"), Wanted::Ours(Language::Spanish));
    }

    #[test]
    fn a_switch_comes_back_to_pages_of_ours_only() {
        for ours in ["/", "/jobs/1/layout/options?compare=1,2"] {
            assert!(is_ours(ours), "{ours}");
        }
        for other in ["", "jobs", "//evil.test/", "/\\evil.test", "https://evil.test/", "/a\r\nb", "/ a"] {
            assert!(!is_ours(other), "{other}");
        }
    }
}
