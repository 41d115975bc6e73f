//! The service's tests: one binary, its files named as the rooms of `server/web`.

mod board;
mod guard;
mod jobs;
mod published;
mod store;
mod support;
mod words;
