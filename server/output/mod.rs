//! Trade values as drawings and text: pure, bytes out, no store and no web.

pub mod calendar;
pub mod cut_drawing;
pub mod findings;
pub mod layout_drawing;
pub mod lean_svg;
pub mod place_drawing;
pub mod proof_file;
pub mod qr;
pub mod rack_drawing;
pub mod report;
pub mod room_drawing;
pub mod svg;
pub mod wall_drawing;
