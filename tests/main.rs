//! The service's tests: one binary, its files named as the rooms of `server/web`.

mod guard;
mod jobs;
mod sheet;
mod store;
mod support;
mod walls;
