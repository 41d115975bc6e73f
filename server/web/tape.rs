//! Lengths between the page and the trade: as a person types them, as the page shows them, and what was understood.

use trade::measure::{InchMark, Length, LengthFault, Rounding, Scale, Unit};

use super::form::{Faults, Fields};
use crate::texts::Texts;

/// A job's tape, with the words for what cannot be read on it.
#[derive(Clone)]
pub struct Tape {
    texts: Texts,
    unit: Unit,
}

/// One length that a form asks for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Asked {
    /// The field's name in the form.
    pub name: String,
    /// What a fault calls it: "Reading 2, down to the base".
    pub label: String,
}

impl Asked {
    /// A length by its field and its words.
    pub fn new(name: impl Into<String>, label: impl Into<String>) -> Self {
        Self { name: name.into(), label: label.into() }
    }
}

impl Tape {
    /// The tape of a job whose numbers are in this unit.
    pub fn new(texts: &Texts, unit: Unit) -> Self {
        Self { texts: texts.clone(), unit }
    }

    /// The unit of a number typed without one.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// The keyboard a phone shows: its decimal pad has no stroke for fractions.
    pub fn keyboard(&self) -> &'static str {
        match self.unit {
            Unit::Millimetre => "decimal",
            Unit::Inch => "text",
        }
    }

    /// The pad that the script puts under a length: sixteenths, or millimetres.
    pub fn pad(&self) -> &'static str {
        match self.unit {
            Unit::Millimetre => "mm",
            Unit::Inch => "in",
        }
    }

    /// A length that must be there; a fault names the field.
    pub fn wanted(&self, fields: &Fields, asked: &Asked, faults: &mut Faults) -> Option<Length> {
        let read = Length::parse(fields.get(&asked.name), self.unit);
        faults.take(&asked.name, read.map_err(|fault| self.says(asked, &fault)))
    }

    /// A length that may be left empty.
    pub fn if_any(&self, fields: &Fields, asked: &Asked, faults: &mut Faults) -> Option<Length> {
        if fields.get(&asked.name).is_empty() { None } else { self.wanted(fields, asked, faults) }
    }

    /// A size, gap or thickness that must be there and cannot be less than nothing.
    pub fn size(&self, fields: &Fields, asked: &Asked, faults: &mut Faults) -> Option<Length> {
        let length = self.wanted(fields, asked, faults)?;
        let fits = if length < Length::ZERO {
            Err(self.texts.say_with("length-negative", &[("label", &asked.label)]))
        } else {
            Ok(length)
        };
        faults.take(&asked.name, fits)
    }

    fn says(&self, asked: &Asked, fault: &LengthFault) -> String {
        let example = self.texts.say(match self.unit {
            Unit::Millimetre => "length-example-mm",
            Unit::Inch => "length-example-in",
        });
        let key = match fault {
            LengthFault::Empty => "length-empty",
            LengthFault::NotALength { .. } => "length-not-one",
            LengthFault::AmbiguousComma { .. } => "length-comma",
            LengthFault::ZeroDenominator { .. } => "length-over-zero",
            LengthFault::FractionOfOneOrMore { .. } => "length-fraction",
            LengthFault::InchesPastAFoot { .. } => "length-past-a-foot",
            LengthFault::TooLong { .. } => "length-too-long",
            LengthFault::TooMuchText => "length-too-much",
        };
        let typed = match fault {
            LengthFault::NotALength { typed }
            | LengthFault::AmbiguousComma { typed }
            | LengthFault::ZeroDenominator { typed }
            | LengthFault::FractionOfOneOrMore { typed }
            | LengthFault::InchesPastAFoot { typed }
            | LengthFault::TooLong { typed } => typed.as_str(),
            LengthFault::Empty | LengthFault::TooMuchText => "",
        };
        self.texts.say_with(key, &[("label", &asked.label), ("typed", &typed), ("example", &example)])
    }

    /// As on the tape, to the nearest mark: `603 mm`, `23 3/4 in`.
    pub fn show(&self, length: Length) -> String {
        self.texts.length(&length.show(self.unit, Rounding::Nearest))
    }

    /// A gap or a prop, where half a mark matters: to 0.1 mm or 1/32 in.
    pub fn show_gap(&self, length: Length) -> String {
        match self.unit {
            Unit::Millimetre => self.texts.length(&length.show_fine(self.unit, Rounding::Nearest)),
            Unit::Inch => {
                let scale = Scale { unit: self.unit, inch_mark: InchMark::ThirtySecond };
                self.texts.length(&length.show(scale, Rounding::Nearest))
            }
        }
    }

    /// A cut that must fit its space: down to the mark.
    pub fn show_fit(&self, length: Length) -> String {
        self.texts.length(&length.show(self.unit, Rounding::FitsIn))
    }

    /// What something must pass, or a height below a line that nothing may stand above: up to the mark.
    pub fn show_clear(&self, length: Length) -> String {
        self.texts.length(&length.show(self.unit, Rounding::Clears))
    }

    /// As a person would have typed it, without the unit where it is the job's: read back, it is the same length.
    pub fn typed(&self, length: Length) -> String {
        let shown =
            [length.show(self.unit, Rounding::Nearest), length.show_fine(self.unit, Rounding::Nearest)];
        let same = |text: &String| Length::parse(text, self.unit) == Ok(length);
        let text = shown.into_iter().find(same).unwrap_or_else(|| length.exact());
        let own = match self.unit {
            Unit::Millimetre => " mm",
            Unit::Inch => " in",
        };
        text.strip_suffix(own).map(str::to_owned).unwrap_or(text)
    }

    /// What was understood, in both units: `5 3/8 in (136.5 mm)`. Nothing while it is no length.
    pub fn echo(&self, typed: &str) -> String {
        let Ok(length) = Length::parse(typed, self.unit) else { return String::new() };
        self.both(length)
    }

    /// A length in both units. What is less than a tape's finest mark is not shown as nothing.
    pub fn both(&self, length: Length) -> String {
        let inches = if length.abs() < Length::sixty_fourths(4) {
            length.show_fine(Unit::Inch, Rounding::Nearest)
        } else {
            length.show(Unit::Inch, Rounding::Nearest)
        };
        let fine = |unit| self.texts.length(&length.show_fine(unit, Rounding::Nearest));
        match self.unit {
            Unit::Millimetre => format!("{} ({})", fine(Unit::Millimetre), self.texts.length(&inches)),
            Unit::Inch => format!("{} ({})", fine(Unit::Inch), fine(Unit::Millimetre)),
        }
    }
}

/// Words with their fractions, numerator and denominator, taken apart to be set as fractions. Put together again it is
/// the same text, so that it is copied and read out as it was.
pub fn runs(text: &str) -> Vec<(&str, Option<(&str, &str)>)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let (mut found, mut rest, mut looked) = (Vec::new(), text, 0);
    while let Some(stroke) = rest[looked..].find('/').map(|at| looked + at) {
        let top = rest[..stroke].bytes().rev().take_while(u8::is_ascii_digit).count();
        let bottom = digits(&rest[stroke + 1..]);
        if top == 0 || bottom == 0 {
            looked = stroke + 1;
            continue;
        }
        let (begin, end) = (stroke - top, stroke + 1 + bottom);
        found.push((&rest[..begin], Some((&rest[begin..stroke], &rest[stroke + 1..end]))));
        (rest, looked) = (&rest[end..], 0);
    }
    if !rest.is_empty() {
        found.push((rest, None));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_taken_apart_and_put_together_again() {
        assert_eq!(runs("23 3/4 in"), [("23 ", Some(("3", "4"))), (" in", None)]);
        assert_eq!(runs("11/16 in to 1 1/2 in").len(), 3);
        for text in ["603 mm", "and/or", "3/", "/4", "a/b 1/2", "", "1/2/3", "½ in"] {
            let whole: String = runs(text)
                .into_iter()
                .map(|(before, part)| match part {
                    Some((top, bottom)) => format!("{before}{top}/{bottom}"),
                    None => before.to_owned(),
                })
                .collect();
            assert_eq!(whole, text);
        }
        assert_eq!(runs("and/or"), [("and/or", None)]);
    }

    #[test]
    fn inches_are_written_in_the_language_of_the_page_and_read_back() {
        let texts = Texts::of(crate::texts::Language::Spanish).unwrap();
        let length = Length::sixty_fourths(344);
        let tape = Tape::new(&texts, Unit::Inch);
        for shown in
            [tape.show(length), tape.show_gap(length), tape.show_fit(length), tape.show_clear(length)]
        {
            assert_eq!(shown, "5 3/8 pulg");
            // Without a full stop, which would be a second one at the end of a sentence; typed with one it is read too.
            for typed in [shown.clone(), format!("{shown}.")] {
                assert_eq!(Length::parse(&typed, Unit::Millimetre), Ok(length), "{typed}");
            }
        }
        assert_eq!(tape.both(length), "5 3/8 pulg (136.5 mm)");
        assert_eq!(Tape::new(&texts, Unit::Millimetre).show(Length::mm(603)), "603 mm");
    }

    #[test]
    fn what_a_field_shows_reads_back_as_the_same_length() {
        let texts = Texts::english().unwrap();
        for unit in [Unit::Millimetre, Unit::Inch] {
            let tape = Tape::new(&texts, unit);
            for units in [0, 1, 768, -30_480, 30_480 * 763, 76_800 * 1526, 123_456_789] {
                let length = Length::from_units(units);
                assert_eq!(Length::parse(&tape.typed(length), unit), Ok(length), "{}", tape.typed(length));
            }
        }
        let tape = Tape::new(&texts, Unit::Inch);
        assert_eq!(tape.typed(Length::sixty_fourths(47 * 64 + 40)), "47 5/8");
        assert_eq!(tape.echo("5 3/8"), "5 3/8 in (136.5 mm)");
        assert_eq!(tape.echo("five"), "");
        let metric = Tape::new(&texts, Unit::Millimetre);
        assert_eq!(metric.echo("0.6"), "0.6 mm (1/32 in)", "half a millimetre is not nothing");
        assert_eq!(metric.echo("3"), "3 mm (1/8 in)");
    }
}
