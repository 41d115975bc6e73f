//! Short names for what is planned, equal for equal plans.

use sha2::{Digest, Sha256};
use trade::geometry::{Point, Rect};
use trade::measure::{Length, Rounding, Unit};
use trade::place::{Hole, Piece};

/// A short name for a list of words and numbers, equal for equal lists.
pub struct Print(Sha256);

impl Print {
    /// Begins with a word.
    pub fn new(first: &str) -> Self {
        let mut print = Self(Sha256::new());
        print.words(first);
        print
    }

    /// Adds words.
    pub fn words(&mut self, words: &str) {
        self.0.update(words.as_bytes());
        self.0.update([0]);
    }

    /// Adds numbers.
    pub fn numbers<const N: usize>(&mut self, numbers: [i64; N]) {
        numbers.into_iter().for_each(|number| self.0.update(number.to_be_bytes()));
    }

    /// Adds a rectangle.
    pub fn rect(&mut self, rect: &Rect) {
        self.numbers([rect.left, rect.bottom, rect.right, rect.top].map(|length| length.units()));
    }

    /// Adds lengths.
    pub fn lengths(&mut self, lengths: &[Length]) {
        lengths.iter().for_each(|length| self.numbers([length.units()]));
    }

    /// The name: 64 bits in hexadecimal.
    pub fn finish(self) -> String {
        self.0.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
    }
}

/// Stands for a piece's outline and holes as the tape shows them, wherever it goes.
pub fn shape_print(piece: &Piece, unit: Unit) -> String {
    let mut print = Print::new(&piece.tile.0);
    let from_corner = |points: &[Point]| -> Vec<Length> {
        let from_corner = points.iter().flat_map(|p| [p.x - piece.bounds.left, p.y - piece.bounds.bottom]);
        from_corner.map(|length| length.on_tape(unit, Rounding::Nearest)).collect()
    };
    print.lengths(&from_corner(&piece.outline));
    for hole in &piece.holes {
        match hole {
            Hole::Round { centre, diameter } => {
                print.words("round");
                print.lengths(&from_corner(&[*centre]));
                print.numbers([diameter.units()]);
            }
            Hole::Polygon(corners) => {
                print.words("polygon");
                print.lengths(&from_corner(corners));
            }
        }
    }
    print.finish()
}
