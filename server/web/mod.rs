//! All of the web: the table of addresses, what guards them, and a folder for each noun.

mod ask;
mod assets;
mod board;
mod cuts;
mod error;
mod form;
mod guard;
mod jobs;
mod language;
mod layout;
mod listen;
mod live;
mod options;
mod page;
mod rough_in;
mod routes;
mod sheet;
mod tape;
mod times;
pub(crate) mod urls;
mod walls;

pub use assets::Assets;
pub use guard::Hosts;
pub use language::Wanted;
pub use listen::{serve, serve_demo, serve_demo_in};
pub use live::Live;
pub use routes::router;
