//! What the tape reads, as it is typed.

use trade::measure::{Length, Unit};
use trade::place::{Clear, Reach, Reading, Way};

use super::words::Words;
use crate::web::form::{Faults, Fields};
use crate::web::tape::Asked;

/// An opening this far off its plan is asked about: walls are out by less, and digits mixed up on a pad by more. From
/// common practice, no rule's figure.
const FAR_OFF_MM: Length = Length::mm(25);

/// The same on a tape in inches: one inch.
const FAR_OFF_IN: Length = Length::sixty_fourths(64);

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

/// Asked once of readings that are far off the plan.
pub struct Doubt {
    /// How far off, a line a reading.
    pub says: Vec<String>,
    /// What the button sends: for these readings and no others.
    pub sure: String,
}

impl Doubt {
    /// Nothing where all lie near the plan.
    pub fn of(words: &Words, clear: &[Clear], readings: &[Reading]) -> Option<Self> {
        let far_off = match words.tape.unit() {
            Unit::Millimetre => FAR_OFF_MM,
            Unit::Inch => FAR_OFF_IN,
        };
        let says = readings.iter().filter_map(|reading| {
            let clear = clear.iter().find(|clear| clear.way == reading.way)?;
            let off = (reading.opening - clear.opening()).abs();
            (off > far_off).then(|| words.far_off(clear, reading.opening))
        });
        let says: Vec<String> = says.collect();
        let sure =
            readings.iter().map(|reading| format!("{}:{}", field(reading.way), reading.opening.units()));
        (!says.is_empty()).then(|| Self { says, sure: sure.collect::<Vec<_>>().join(" ") })
    }
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
