//! What a person typed, and what is wrong with it, side by side, until it is a domain type.

use axum::body::Bytes;
use axum::extract::{FromRequest, Request};
use serde::de::DeserializeOwned;

use super::error::PageError;
use crate::store::EventKey;

/// A form as it was sent: its key and what was typed.
pub struct Sent<T> {
    pub key: EventKey,
    pub typed: T,
}

/// A form that changes nothing, and so needs no key: what was typed so far.
pub struct Asking<T>(pub T);

/// Every form carries its key under this name.
#[derive(serde::Deserialize)]
struct Keyed {
    key: String,
}

/// A form with rows of fields, such as readings: every name with what was typed, in the order of the page.
#[derive(serde::Deserialize, Clone, PartialEq, Eq, Debug, Default)]
#[serde(transparent)]
pub struct Fields(Vec<(String, String)>);

/// Rows of one list, so that a forged name cannot ask for a page of a million: no wall has as many readings.
const MOST_ROWS: usize = 100;

/// One field on the page: what was typed and, where it is wrong, what to change.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Field {
    pub name: String,
    pub typed: String,
    pub fault: Option<String>,
}

/// One choice of a list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Choice {
    pub value: String,
    pub words: String,
}

/// The faults of a form, collected while it is read, so that a person sees all of them at once.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Faults(Vec<FieldFault>);

/// What is wrong with one field.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FieldFault {
    /// The field's name in the form, which is also its id on the page.
    pub field: String,
    /// One sentence on what to change.
    pub says: String,
}

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Sent<T> {
    type Rejection = PageError;

    async fn from_request(request: Request, state: &S) -> Result<Self, PageError> {
        let address = request.uri().path().to_owned();
        let body = Bytes::from_request(request, state).await.map_err(|_| PageError::TooLarge)?;
        Ok(Self { key: key(&address, &body)?, typed: read(&body)? })
    }
}

/// The key of a form that was sent to an address of ours.
pub fn key(address: &str, body: &[u8]) -> Result<EventKey, PageError> {
    let Keyed { key } = read(body)?;
    let key = EventKey::new(&key).ok_or(PageError::BadForm)?;
    Ok(key.with_form(address, body))
}

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Asking<T> {
    type Rejection = PageError;

    async fn from_request(request: Request, state: &S) -> Result<Self, PageError> {
        let body = Bytes::from_request(request, state).await.map_err(|_| PageError::TooLarge)?;
        read(&body).map(Self)
    }
}

fn read<T: DeserializeOwned>(body: &[u8]) -> Result<T, PageError> {
    serde_html_form::from_bytes(body).map_err(|error| {
        tracing::info!(%error, "a form could not be read");
        PageError::BadForm
    })
}

impl Fields {
    /// What was typed, trimmed; nothing where the form has no such field.
    pub fn get(&self, name: &str) -> &str {
        self.0.iter().find(|(of, _)| of == name).map_or("", |(_, typed)| typed.trim())
    }

    /// What was asked for in an address, after its question mark; nothing where it cannot be read.
    pub fn from_query(query: &str) -> Self {
        serde_html_form::from_str(query).unwrap_or_default()
    }

    /// Everything that was sent under one name.
    pub fn all(&self, name: &str) -> Vec<&str> {
        self.0.iter().filter(|(of, _)| of == name).map(|(_, typed)| typed.trim()).collect()
    }

    /// Every name with what was typed, trimmed, in the order of the page.
    pub fn each(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(name, typed)| (name.as_str(), typed.trim()))
    }

    /// Whether a box was ticked.
    pub fn ticked(&self, name: &str) -> bool {
        !self.get(name).is_empty()
    }

    /// The same form with one more field.
    pub fn put(&mut self, name: &str, typed: impl Into<String>) {
        self.0.push((name.to_owned(), typed.into()));
    }

    /// How many rows of a list were sent: one more than the largest number in names like `base-3-x`.
    pub fn rows(&self, list: &str) -> usize {
        let rows = self.0.iter().filter_map(|(name, _)| row_of(name.strip_prefix(list)?));
        rows.filter(|row| *row < MOST_ROWS).max().map_or(0, |last| last + 1)
    }

    /// Whether something was typed in a row past the most that are read, which would otherwise be dropped unseen.
    pub fn has_too_many_rows(&self) -> bool {
        let past = |name: &str| {
            name.find('-').and_then(|dash| row_of(&name[dash..])).is_some_and(|row| row >= MOST_ROWS)
        };
        self.0.iter().any(|(name, typed)| !typed.trim().is_empty() && past(name))
    }

    /// The numbers of a list's rows in which anything is typed in one of these columns.
    pub fn filled(&self, list: &str, columns: &[&str]) -> Vec<usize> {
        let is_filled = |row: &usize| columns.iter().any(|column| self.ticked(&cell(list, *row, column)));
        (0..self.rows(list)).filter(is_filled).collect()
    }
}

/// The row's number in what follows a list's name: `-3-x`.
fn row_of(rest: &str) -> Option<usize> {
    rest.strip_prefix('-')?.split('-').next()?.parse().ok()
}

/// The name of one field of a row: `base-3-x`.
pub fn cell(list: &str, row: usize, column: &str) -> String {
    format!("{list}-{row}-{column}")
}

impl Field {
    /// A field as it is first shown.
    pub fn new(name: &str, typed: impl Into<String>) -> Self {
        Self { name: name.to_owned(), typed: typed.into(), fault: None }
    }

    /// The field with its fault, if it has one.
    #[must_use]
    pub fn with(self, faults: &Faults) -> Self {
        let fault = faults.of(&self.name).map(str::to_owned);
        Self { fault, ..self }
    }
}

impl Choice {
    /// A choice by its value in the form and its words on the page.
    pub fn new(value: impl Into<String>, words: impl Into<String>) -> Self {
        Self { value: value.into(), words: words.into() }
    }
}

impl Faults {
    /// Notes a fault.
    pub fn add(&mut self, field: &str, says: impl Into<String>) {
        self.0.push(FieldFault { field: field.to_owned(), says: says.into() });
    }

    /// The value, or its fault noted and `None`.
    pub fn take<T>(&mut self, field: &str, read: Result<T, String>) -> Option<T> {
        read.map_err(|says| self.add(field, says)).ok()
    }

    /// Whether nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What is wrong with a field.
    pub fn of(&self, field: &str) -> Option<&str> {
        self.0.iter().find(|fault| fault.field == field).map(|fault| fault.says.as_str())
    }

    /// Every fault, in the order of the form.
    pub fn iter(&self) -> impl Iterator<Item = &FieldFault> {
        self.0.iter()
    }
}
