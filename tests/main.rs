//! The service's tests: one binary, its files named as the rooms of `server/web`.

mod board;
mod guard;
mod jobs;
mod published;
mod sheet;
mod store;
mod support;
mod walls;
mod words;
