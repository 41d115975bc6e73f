//! Trade values as drawings: pure, bytes out, no store and no web.

pub mod svg;
pub mod wall_drawing;
