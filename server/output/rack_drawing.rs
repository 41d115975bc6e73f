//! How many offcuts lie on the rack after each cut, as columns.

use trade::geometry::{Point, Rect};
use trade::measure::Length;

use super::svg::{Anchor, Svg};

/// What is drawn.
pub struct RackDrawing<'a> {
    /// How many lie there after each cut, in the order of the cuts.
    pub counts: &'a [usize],
    pub title: String,
    pub description: String,
    /// Words below the first and the last column.
    pub first: String,
    pub last: String,
}

/// The drawing is this many times as wide as it is high.
const PROPORTION: i64 = 4;

/// Letters across, so that its numbers are read on a phone.
const LETTERS_ACROSS: f64 = 34.0;

impl RackDrawing<'_> {
    /// The drawing, with `id` for its title and description.
    pub fn draw(&self, id: &str) -> String {
        let count = |count: usize| i64::try_from(count).unwrap_or(1).max(1);
        let most = self.counts.iter().copied().max().unwrap_or_default();
        // One unit of height an offcut; the columns together are PROPORTION times as wide as the highest is high.
        let (high, wide) = (Length::mm(100), Length::mm(100 * PROPORTION * count(most)));
        let width = Length::from_units(wide.units() / count(self.counts.len()));
        let top = high * count(most);
        let letter = Length::from_units(wide.units() / 18);
        let frame = Rect {
            left: -letter * 2,
            bottom: -letter * 2,
            right: wide + letter.half(),
            top: top + letter.half(),
        };
        let mut svg = Svg::new(frame, LETTERS_ACROSS);
        let columns: Vec<[Point; 4]> = (0..)
            .zip(self.counts)
            .filter(|(_, lying)| **lying > 0)
            .map(|(place, lying)| {
                let (left, right) = (width * place, width * (place + 1));
                let over = high * count(*lying);
                [(left, Length::ZERO), (right, Length::ZERO), (right, over), (left, over)]
                    .map(|(x, y)| Point::new(x, y))
            })
            .collect();
        svg.outlines("k-column", columns.iter().map(<[Point; 4]>::as_slice));
        for line in 1..=count(most) {
            svg.line("k-line", &[Point::new(Length::ZERO, high * line), Point::new(wide, high * line)]);
        }
        svg.line("d-wall", &[Point::new(Length::ZERO, Length::ZERO), Point::new(wide, Length::ZERO)]);
        let below = -Length::from_units(letter.units() * 3 / 2);
        svg.text(
            "l-number",
            Point::new(-letter.half(), top - letter.half()),
            Anchor::End,
            1.0,
            &most.to_string(),
        );
        svg.text("d-faint", Point::new(Length::ZERO, below), Anchor::Start, 0.9, &self.first);
        svg.text("d-faint", Point::new(wide, below), Anchor::End, 0.9, &self.last);
        svg.finish(id, &self.title, &self.description)
    }
}
