//! All of the web: the table of addresses, what guards them, and a folder for each noun.

mod assets;
mod board;
mod cuts;
mod error;
mod form;
mod guard;
mod jobs;
mod listen;
mod page;
mod routes;
mod times;
mod urls;

pub use assets::Assets;
pub use guard::Hosts;
pub use listen::{serve, serve_demo};
pub use routes::router;
