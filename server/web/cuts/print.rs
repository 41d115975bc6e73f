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

/// Stands for all that a page says of one piece: its shape, its tile, and the rest. A press on a page of another plan is
/// told by it, and so is what that page said: the same piece or another, of the same tile or another.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PagePrint(String);

/// 24 bits in hexadecimal for each of the three: a piece has a handful of plans in its time, and hundreds of prints go
/// into one page.
const PART: usize = 6;

impl PagePrint {
    /// Of a piece of this shape, from this tile, with all else that its page says.
    pub fn new(shape: &str, tile: &str, rest: Print) -> Self {
        let short = |mut name: String| {
            name.truncate(PART);
            name
        };
        Self(short(Print::new(shape).finish()) + &short(Print::new(tile).finish()) + &short(rest.finish()))
    }

    /// As a form sends it.
    pub fn sent(print: &str) -> Self {
        Self(print.to_owned())
    }

    /// As it stands in a form.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether both say the same piece, of whichever tile.
    pub fn is_same_piece(&self, other: &Self) -> bool {
        let is_one = self.0.len() == 3 * PART && self.0.bytes().all(|byte| byte.is_ascii_hexdigit());
        is_one && self.0.get(..PART) == other.0.get(..PART)
    }

    /// Whether the piece comes of the tile of that name.
    pub fn is_of(&self, tile: &str) -> bool {
        self.tile() == Print::new(tile).finish().get(..PART).unwrap_or_default()
    }

    /// What stands for its tile.
    pub fn tile(&self) -> &str {
        self.0.get(PART..2 * PART).unwrap_or_default()
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
