//! The service's tests: one binary, its files named as the rooms of `server/web`.

#![expect(clippy::unwrap_used, reason = "what cannot be had in a test fails it")]

mod board;
mod guard;
mod jobs;
mod published;
mod store;
mod support;
mod words;
