//! All of the web: the table of addresses, what guards them, and a folder for each noun.

mod assets;
mod error;
mod form;
mod guard;
mod jobs;
mod layout;
mod listen;
mod page;
mod routes;
mod urls;

pub use assets::Assets;
pub use guard::Hosts;
pub use listen::serve;
pub use routes::router;
