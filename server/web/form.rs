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

/// Every form carries its key under this name.
#[derive(serde::Deserialize)]
struct Keyed {
    key: String,
}

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
        let body = Bytes::from_request(request, state).await.map_err(|_| PageError::TooLarge)?;
        let Keyed { key } = read(&body)?;
        let key = EventKey::new(&key).ok_or(PageError::BadForm)?;
        Ok(Self { key, typed: read(&body)? })
    }
}

fn read<T: DeserializeOwned>(body: &[u8]) -> Result<T, PageError> {
    serde_html_form::from_bytes(body).map_err(|error| {
        tracing::info!(%error, "a form could not be read");
        PageError::BadForm
    })
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
