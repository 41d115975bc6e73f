//! All of the web: the table of addresses, what guards them, and a folder for each noun.

mod addresses;
mod ask;
mod assets;
mod board;
mod cuts;
mod error;
mod fit;
mod form;
mod guard;
mod jobs;
mod join;
mod language;
mod layout;
mod listen;
mod live;
mod options;
mod page;
mod people;
mod rough_in;
mod routes;
mod session;
mod sheet;
mod tape;
mod times;
pub(crate) mod urls;
mod walls;

pub use addresses::of as reached_at;
pub use assets::Assets;
pub use fit::Fields;
pub use guard::Hosts;
pub use language::Wanted;
pub use listen::{lead_link, serve, serve_demo, serve_demo_in};
pub use live::Live;
pub use routes::router;
pub use session::Ends;
