//! Lengths, edges, offcuts and states in words.

use trade::geometry::Side;
use trade::measure::{Length, Rounding, TileId, Unit};
use trade::offcut::{Part, Take};
use trade::place::{MeasureFirst, PieceId};

use super::saw::{Fits, Left, written};
use crate::store::CutRecord;
use crate::texts::{Said, Texts};
use crate::web::tape::Tape;

/// The words of one job.
#[derive(Clone)]
pub struct Words {
    texts: Texts,
    tape: Tape,
}

/// A length as large figures: `5 ⅜ in`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Figure {
    /// As it is read out and copied: `5 3/8 in`.
    pub plain: String,
    /// Empty below one inch.
    pub whole: String,
    /// Numerator and denominator.
    pub fraction: Option<(String, String)>,
    pub unit: String,
}

impl Words {
    /// The words of a job whose tape reads in `unit`.
    pub fn new(texts: &Texts, unit: Unit) -> Self {
        Self { texts: texts.clone(), tape: Tape::new(texts, unit) }
    }

    /// A length of a piece, rounded down so that it fits.
    pub fn fits_in(&self, length: Length) -> String {
        self.tape.show_fit(length)
    }

    /// Width and height of a piece, the unit once.
    pub fn size(&self, width: Length, height: Length) -> String {
        let width = self.fits_in(width);
        let width = width.rsplit_once(' ').map_or(width.as_str(), |(number, _)| number);
        self.say("cut-size", &[("width", &width), ("height", &self.fits_in(height))])
    }

    /// A length as large figures, and what it is exactly where the tape shows something else.
    pub fn figure(&self, length: Length, rounding: Rounding) -> (Figure, Option<String>) {
        let unit = self.tape.unit();
        let [shown, fine] = [length.show(unit, rounding), length.show_fine(unit, rounding)]
            .map(|shown| self.texts.length(&shown));
        let exact = (fine != shown).then(|| self.say("cut-exact", &[("length", &fine)]));
        (Figure::of(shown), exact)
    }

    /// The words for a key with values put in.
    pub fn say(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// "left factory edge"
    pub fn edge(&self, part: &Part, side: Side) -> String {
        let kind = if part.own.has(side) { "factory" } else { "sawn" };
        self.texts.say(&format!("cut-edge-{}-{kind}", side.name()))
    }

    /// What is laid on the saw. `tile` is named where the job has several.
    pub fn take(&self, take: Take, number: usize, tile: Option<&TileId>) -> String {
        match (take, tile) {
            (Take::WholeTile, None) => self.texts.say("cut-take-whole"),
            (Take::WholeTile, Some(tile)) => self.say("cut-take-whole-of", &[("tile", &tile.0)]),
            (Take::Racked(nth), _) => self.say("cut-take-racked", &[("number", &(nth + 1))]),
            (Take::Offcut(label), _) => {
                self.say("cut-take-offcut", &[("label", &written(number, label.nth))])
            }
        }
    }

    /// What to do with a leftover, and what is written on it in the drawing.
    pub fn left(&self, left: &Left) -> (String, String) {
        let list =
            |pieces: &[PieceId]| pieces.iter().map(|piece| piece.0.as_str()).collect::<Vec<_>>().join(", ");
        match left {
            Left::Bin => (self.texts.say("cut-bin"), self.texts.say("cut-bin-tape")),
            Left::ToSize { label, piece } => {
                (self.say("cut-rack-to-size", &[("label", label), ("piece", &piece.0)]), label.clone())
            }
            Left::Rack { label, pieces } => {
                (self.say("cut-rack", &[("label", label), ("pieces", &list(pieces))]), label.clone())
            }
            Left::Free { label } => (self.say("cut-free", &[("label", label)]), label.clone()),
            Left::Spare { label, pieces } => {
                (self.say("cut-spare", &[("label", label), ("pieces", &list(pieces))]), label.clone())
            }
        }
    }

    /// Whether it can be cut ahead.
    pub fn ahead(&self, why: Option<&MeasureFirst>) -> String {
        match why {
            None => self.texts.say("cut-ahead"),
            Some(MeasureFirst::LastIntoCorner) => self.texts.say("cut-measure-corner"),
            Some(MeasureFirst::TopCourse) => self.texts.say("cut-measure-top"),
            Some(MeasureFirst::AtOpening(name)) => self.say("cut-measure-opening", &[("opening", name)]),
        }
    }

    /// What to look at on a piece that was cut; nothing where it is as planned.
    pub fn look(&self, record: &CutRecord, fits: Fits, now: (Length, Length)) -> Option<String> {
        match fits {
            Fits::AsPlanned => None,
            Fits::OtherShape => Some(self.texts.say("cut-look-shape")),
            Fits::OtherSize => {
                let (was, now) = self.differing((record.was.width, record.was.height), now);
                Some(self.say("cut-look", &[("was", &was), ("now", &now)]))
            }
        }
    }

    /// Two sizes of one piece: the side alone in which they differ, where one does.
    pub fn differing(&self, was: (Length, Length), now: (Length, Length)) -> (String, String) {
        let same = |one: Length, other: Length| self.fits_in(one) == self.fits_in(other);
        if same(was.1, now.1) {
            (self.fits_in(was.0), self.fits_in(now.0))
        } else if same(was.0, now.0) {
            (self.fits_in(was.1), self.fits_in(now.1))
        } else {
            (self.size(was.0, was.1), self.size(now.0, now.1))
        }
    }
}

impl Figure {
    /// From a length as the tape shows it.
    fn of(plain: String) -> Self {
        let mut figure = Self { whole: String::new(), fraction: None, unit: String::new(), plain };
        for word in figure.plain.split_whitespace() {
            match word.split_once('/') {
                Some((top, bottom)) => figure.fraction = Some((top.to_owned(), bottom.to_owned())),
                None if word.starts_with(|c: char| c.is_ascii_digit() || c == '-') => {
                    figure.whole = word.to_owned();
                }
                None => figure.unit = word.to_owned(),
            }
        }
        figure
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_taken_apart() {
        let figure = Figure::of("5 3/8 in".to_owned());
        assert_eq!((figure.whole.as_str(), figure.unit.as_str()), ("5", "in"));
        assert_eq!(figure.fraction, Some(("3".to_owned(), "8".to_owned())));
        assert_eq!(Figure::of("306 mm".to_owned()).fraction, None);
        assert_eq!(Figure::of("3/16 in".to_owned()).whole, "");
    }

    #[test]
    fn a_size_names_its_unit_once() {
        let texts = Texts::english().unwrap();
        let size = |unit| Words::new(&texts, unit).size(Length::sixty_fourths(344), Length::mm(298));
        assert_eq!(size(Unit::Inch), "5 3/8 × 11 11/16 in");
        assert_eq!(size(Unit::Millimetre), "136 × 298 mm");
    }
}
