//! What every request passes before a handler sees it: known hosts, our own forms only, sizes and times, and the
//! headers every answer carries.

use std::collections::BTreeSet;
use std::net::{IpAddr, SocketAddr};
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::{Next, from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::csrf::CsrfLayer;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::set_header::SetResponseHeaderLayer;
use tower_http::timeout::TimeoutLayer;
use tower_http::trace::TraceLayer;

use super::session::Ends;
use crate::app::App;

/// The largest form: a wall with a hundred readings is under 10 KiB.
pub const MOST_BODY: usize = 64 * 1024;

/// The longest a request may take.
const ANSWER_WITHIN: Duration = Duration::from_secs(15);

/// Everything comes from this server; no inline style or script, nobody frames our pages.
const CONTENT_SECURITY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; \
     font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// The host names that browsers may use for this server.
#[derive(Debug)]
pub struct Hosts(BTreeSet<String>);

impl Hosts {
    /// Loopback, the address listened on, and the names configured.
    pub fn new(listen: SocketAddr, named: &[String]) -> Self {
        let own = ["localhost".to_owned(), "127.0.0.1".to_owned(), "[::1]".to_owned()];
        let bound = match listen {
            SocketAddr::V4(v4) => v4.ip().to_string(),
            SocketAddr::V6(v6) => format!("[{}]", v6.ip()),
        };
        Self(
            own.into_iter()
                .chain([bound])
                .chain(named.iter().map(|name| name.to_ascii_lowercase()))
                .collect(),
        )
    }

    /// Whether a `Host` header names this server, with any port. A page elsewhere whose name was pointed at our
    /// address passes every check of its origin; its host name gives it away.
    fn knows(&self, host: &str) -> bool {
        let name = match host.rfind(':') {
            Some(colon) if !host[colon..].contains(']') => &host[..colon],
            _ => host,
        };
        let name = name.to_ascii_lowercase();
        self.0.contains(&name) || name.ends_with(".local")
    }
}

/// Puts every guard round the routes.
pub fn guarded(routes: Router<App>, app: &App) -> Router<App> {
    let header = |name: HeaderName, value: &'static str| {
        SetResponseHeaderLayer::if_not_present(name, HeaderValue::from_static(value))
    };
    routes
        .layer(from_fn_with_state(app.clone(), super::session::recognise))
        .layer(CatchPanicLayer::custom(super::error::after_panic))
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, ANSWER_WITHIN))
        .layer(RequestBodyLimitLayer::new(MOST_BODY))
        .layer(CsrfLayer::new())
        .layer(from_fn(says_where_it_comes_from))
        .layer(from_fn_with_state(app.clone(), super::error::in_words))
        .layer(CompressionLayer::new())
        .layer(header(header::CONTENT_SECURITY_POLICY, CONTENT_SECURITY))
        .layer(header(header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .layer(header(header::REFERRER_POLICY, "same-origin"))
        .layer(header(header::CACHE_CONTROL, "no-store"))
        .layer(from_fn_with_state(app.clone(), known_host))
        .layer(from_fn(super::once::mark_refused))
        .layer(TraceLayer::new_for_http().make_span_with(span))
}

/// 421 unless the request names a host of ours.
async fn known_host(app: App, request: Request, next: Next) -> Response {
    let host = request.headers().get(header::HOST).and_then(|host| host.to_str().ok());
    match host.or_else(|| request.uri().host()) {
        Some(host) if app.hosts.knows(host) || is_where_it_came(host, &request) => next.run(request).await,
        _ => (StatusCode::MISDIRECTED_REQUEST, app.texts.say("guard-unknown-host")).into_response(),
    }
}

/// Whether a `Host` header is the very address that the connection came to: one of ours, whatever networks the box is
/// on today. A name never is, so one pointed at our address does not pass by this.
fn is_where_it_came(host: &str, request: &Request) -> bool {
    let address = host.parse::<SocketAddr>().map(|address| address.ip()).or_else(|_| host.parse::<IpAddr>());
    let ends = request.extensions().get::<Ends>();
    matches!((address, ends), (Ok(address), Some(ends)) if address == ends.to.to_canonical())
}

/// What the log says of a request. A token in its address lets whoever reads it in, so it is left out.
fn span(request: &Request) -> tracing::Span {
    let path: Vec<&str> =
        request.uri().path().split('/').map(|part| if is_token(part) { "…" } else { part }).collect();
    tracing::debug_span!("request", method = %request.method(), path = path.join("/"))
}

/// Whether a part of an address may be a token: nothing else in our addresses is as long.
fn is_token(part: &str) -> bool {
    part.len() >= 24
}

/// A browser's form always says where it comes from, by `Origin` or `Sec-Fetch-Site`; one that does not is not
/// taken.
async fn says_where_it_comes_from(request: Request, next: Next) -> Response {
    let changes = !matches!(*request.method(), Method::GET | Method::HEAD | Method::OPTIONS);
    let says = request.headers().contains_key(header::ORIGIN)
        || request.headers().contains_key(HeaderName::from_static("sec-fetch-site"));
    if changes && !says {
        return StatusCode::FORBIDDEN.into_response();
    }
    next.run(request).await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_our_own_names_are_known() {
        let hosts = Hosts::new("192.0.2.7:8080".parse().unwrap(), &["Crew.test".to_owned()]);
        for ours in
            ["127.0.0.1:8080", "localhost", "[::1]:8080", "192.0.2.7:8080", "crew.test:9", "box.local"]
        {
            assert!(hosts.knows(ours), "{ours}");
        }
        for other in ["evil.test", "localhost.evil.test:8080", "192.0.2.8", "", "local"] {
            assert!(!hosts.knows(other), "{other}");
        }
    }
}
