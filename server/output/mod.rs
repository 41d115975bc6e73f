//! Trade values as drawings: pure, bytes out, no store and no web.

pub mod svg;
