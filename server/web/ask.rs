//! What a form asks for: lengths with what was understood of them, and boxes to tick.

use super::form::{Faults, Field, Fields};
use super::page::Frame;
use super::tape::Tape;

/// One length on a page: its words, what was typed, what was understood.
pub struct Measure {
    pub label: String,
    pub hint: String,
    pub field: Field,
    pub echo: String,
    pub keyboard: &'static str,
    /// Which pad the script puts under it.
    pub pad: &'static str,
}

/// A box to tick.
pub struct Tick {
    pub name: String,
    pub label: String,
    pub ticked: bool,
}

impl Measure {
    /// A length by its field and the keys of its words; no hint where there are no words for one.
    pub fn new(
        frame: &Frame,
        tape: &Tape,
        fields: &Fields,
        faults: &Faults,
        name: &str,
        words: &str,
    ) -> Self {
        let field = Field::new(name, fields.get(name)).with(faults);
        Self {
            label: frame.say(words),
            hint: frame.say_if_any(&format!("{words}-hint")),
            echo: tape.echo(&field.typed),
            keyboard: tape.keyboard(),
            pad: tape.pad(),
            field,
        }
    }
}

impl Tick {
    /// A box by its field.
    pub fn new(frame: &Frame, fields: &Fields, name: String, words: &str) -> Self {
        Self { label: frame.say(words), ticked: fields.ticked(&name), name }
    }
}
