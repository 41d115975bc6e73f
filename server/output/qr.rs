//! Codes that a phone's camera reads: an address as squares.

use qrcode::render::{svg, unicode};
use qrcode::{QrCode, types::QrError};

/// The code as a drawing, dark on light whatever the page's colours: cameras want it so.
///
/// # Errors
///
/// When the address is longer than a code can hold.
pub fn drawing(address: &str) -> Result<String, QrError> {
    Ok(QrCode::new(address)?.render::<svg::Color<'_>>().min_dimensions(280, 280).build())
}

/// The code for a terminal. Most terminals are dark, so what is printed is the light part.
///
/// # Errors
///
/// When the address is longer than a code can hold.
pub fn for_terminal(address: &str) -> Result<String, QrError> {
    let code = QrCode::new(address)?;
    let mut draw = code.render::<unicode::Dense1x2>();
    Ok(draw.dark_color(unicode::Dense1x2::Light).light_color(unicode::Dense1x2::Dark).build())
}
