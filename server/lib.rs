//! coursebook: layout, cuts and cure times for a tile setter's crew, on the local network.
//!
//! The rooms, in the order a request meets them:
//!
//! - [`config`] for what was asked on the command line;
//! - [`app`] for what every request may use;
//! - [`clock`] for the only place that knows the time;
//! - [`web`] for addresses, forms and pages;
//! - [`trade`] for what the trade knows, pure computation, a crate of its own;
//! - [`work`] for planning off the request threads;
//! - [`store`] for all SQL;
//! - [`output`] for drawings and text;
//! - [`texts`] for all words;
//! - [`demo`] for a job to look at;
//! - [`box_door`] for what a command on the box asks the running server, [`lead_link_command`] for one that does;
//! - [`plan_command`] for planning a file without serving anything, [`offcuts_command`] for the fewest tiles of a list of pieces.

pub mod app;
pub mod box_door;
pub mod clock;
pub mod config;
pub mod demo;
pub mod lead_link_command;
pub mod offcuts_command;
pub mod output;
pub mod plan_command;
pub mod store;
pub mod texts;
pub mod web;
pub mod work;
