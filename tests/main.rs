//! The service's tests: one binary, its files named as the rooms of `server/web`.

#![expect(clippy::unwrap_used, reason = "what cannot be had in a test fails it")]

mod batches;
mod board;
mod broke;
mod calendar;
mod card;
mod cuts;
mod far_off;
mod field;
mod fit;
mod guard;
mod hands;
mod in_hand;
mod jobs;
mod join;
mod kept_queue;
mod language;
mod languages;
mod layout;
mod live;
mod look;
mod lost;
mod offcuts;
mod old_page;
mod options;
mod outbox;
mod plan;
mod price;
mod published;
mod rack;
mod reached;
mod roles;
mod rough_in;
mod setting;
mod sheet;
mod stages;
mod stock;
mod store;
mod support;
mod trim;
mod walls;
mod warm;
mod words;
