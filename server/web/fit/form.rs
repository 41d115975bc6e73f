//! What the tape reads, as it is typed.

use trade::measure::Length;
use trade::place::{Clear, Reach, Reading, Way};

use super::words::Words;
use crate::web::form::{Faults, Fields};
use crate::web::tape::Asked;

/// The name of a way's field.
pub const fn field(way: Way) -> &'static str {
    match way {
        Way::Across => "across",
        Way::Up => "up",
    }
}

/// The name of the choice for whom a reading goes.
pub const fn reach_field(way: Way) -> &'static str {
    match way {
        Way::Across => "across-for",
        Way::Up => "up-for",
    }
}

/// The choice beside "this piece only".
pub const fn farther(way: Way) -> Reach {
    match way {
        Way::Across => Reach::Above,
        Way::Up => Reach::Course,
    }
}

/// The value of a choice in the form.
pub const fn value(reach: Reach) -> &'static str {
    match reach {
        Reach::Piece => "piece",
        Reach::Course => "course",
        Reach::Above => "above",
    }
}

/// Whom a reading is chosen to go for.
pub fn reach(typed: &Fields, way: Way) -> Reach {
    let farther = farther(way);
    if typed.get(reach_field(way)) == value(farther) { farther } else { Reach::Piece }
}

/// At least one reading of what the plan cuts.
pub fn read(typed: &Fields, clear: &[Clear], words: &Words) -> Result<Vec<Reading>, Faults> {
    let mut faults = Faults::default();
    let mut readings = Vec::new();
    for clear in clear {
        let (way, name) = (clear.way, field(clear.way));
        let asked = Asked::new(name, words.opening(way));
        let Some(opening) = words.tape.if_any(typed, &asked, &mut faults) else { continue };
        let some = if opening > Length::ZERO { Ok(opening) } else { Err(words.nothing(way)) };
        if let Some(opening) = faults.take(name, some) {
            readings.push(Reading { way, opening, reach: reach(typed, way) });
        }
    }
    if readings.is_empty()
        && faults.is_empty()
        && let Some(first) = clear.first()
    {
        faults.add(field(first.way), words.empty(clear));
    }
    if faults.is_empty() { Ok(readings) } else { Err(faults) }
}
