//! Trade values as drawings: pure, bytes out, no store and no web.

pub mod layout_drawing;
pub mod svg;
pub mod wall_drawing;
