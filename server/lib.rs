//! coursebook: layout, cuts and cure times for a tile setter's crew, on the local network.
//!
//! The rooms, in the order a request meets them:
//!
//! - [`config`]: what was asked for on the command line;
//! - [`app`]: what every request may use;
//! - [`clock`]: the only place that knows the time;
//! - [`web`]: addresses, forms and pages;
//! - [`trade`]: what the trade knows, pure computation, a crate of its own;
//! - [`work`]: planning off the request threads;
//! - [`store`]: all SQL;
//! - [`output`]: drawings;
//! - [`texts`]: all words;
//! - [`demo`]: a job to look at.

pub mod app;
pub mod clock;
pub mod config;
pub mod demo;
pub mod output;
pub mod store;
pub mod texts;
pub mod web;
pub mod work;
