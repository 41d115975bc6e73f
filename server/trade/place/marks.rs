//! The marks that lay a piece out on a whole tile.

use crate::geometry::polygon;
use crate::geometry::{Point, Rect, Side, Sides};
use crate::measure::Length;

use super::Mark;
use super::region::{Blocker, Form, Round, notches};

/// Saw cuts first, then notches, then holes: each measured from sides of the tile at `cell` that the piece keeps.
pub(super) fn marks(cell: &Rect, bounds: &Rect, blockers: &[Blocker]) -> Vec<Mark> {
    let slopes = slopes(cell, bounds, blockers);
    let mut marks = straight_cuts(cell, bounds, &slopes);
    marks.extend(slopes.iter().map(|slope| slope.mark()));
    let kept = Side::ALL
        .into_iter()
        .filter(|&side| bounds.at(side) == cell.at(side) && !slopes.iter().any(|slope| slope.cuts(side)))
        .collect();
    marks.extend(notches(bounds, blockers).iter().map(|rect| notch(cell, kept, rect)));
    for blocker in blockers {
        match &blocker.form {
            Form::Round(round) if round.bites(bounds) => marks.push(hole(cell, kept, round)),
            Form::Rect(_) | Form::Round(_) | Form::Beyond(..) | Form::Slope(..) => {}
        }
    }
    marks
}

/// A tapered cut along the course.
pub(super) struct Taper {
    from: Side,
    at: Length,
    at_other_end: Length,
    /// Where it runs at the piece's left and right ends.
    pub left_y: Length,
    pub right_y: Length,
}

impl Taper {
    fn mark(&self) -> Mark {
        Mark::Rip { from: self.from, at: self.at, at_other_end: self.at_other_end }
    }

    fn cuts(&self, side: Side) -> bool {
        side == self.from.opposite()
    }

    /// Whether it takes off the bottom; else it takes off the top.
    pub(super) fn cuts_bottom(&self) -> bool {
        self.from == Side::Top
    }

    /// Whether this cut alone takes off all beyond `y`, but for rounding.
    fn clears(&self, y: Length) -> bool {
        let spare = Length::from_units(2);
        match self.from {
            Side::Top => self.left_y.min(self.right_y) + spare >= y,
            Side::Bottom | Side::Left | Side::Right => self.left_y.max(self.right_y) - spare <= y,
        }
    }
}

/// The slopes that take something off the piece's bounds.
pub(super) fn slopes(cell: &Rect, bounds: &Rect, blockers: &[Blocker]) -> Vec<Taper> {
    let taper = |from: Point, to: Point| {
        let at = |x: Length| polygon::height_at(from, to, x);
        let (left_y, right_y) = (at(bounds.left), at(bounds.right));
        let taper = if from.x < to.x {
            let (at, at_other_end) = (cell.top - left_y, cell.top - right_y);
            Taper { from: Side::Top, at, at_other_end, left_y, right_y }
        } else {
            let (at, at_other_end) = (left_y - cell.bottom, right_y - cell.bottom);
            Taper { from: Side::Bottom, at, at_other_end, left_y, right_y }
        };
        let takes = match taper.from {
            Side::Top => left_y.max(right_y) > bounds.bottom,
            Side::Bottom | Side::Left | Side::Right => left_y.min(right_y) < bounds.top,
        };
        takes.then_some(taper)
    };
    let slope = |blocker: &Blocker| match blocker.form {
        Form::Slope(from, to) => taper(from, to),
        Form::Rect(_) | Form::Round(_) | Form::Beyond(..) => None,
    };
    blockers.iter().filter_map(slope).collect()
}

fn straight_cuts(cell: &Rect, bounds: &Rect, slopes: &[Taper]) -> Vec<Mark> {
    let cut = |side: Side| {
        let done = slopes.iter().any(|slope| slope.cuts(side) && slope.clears(bounds.at(side)));
        bounds.at(side) != cell.at(side) && !done
    };
    let crosscut = |from: Side, at: Length| Mark::Crosscut { from, at, at_other_end: at };
    let rip = |from: Side, at: Length| Mark::Rip { from, at, at_other_end: at };
    let cuts = [
        (Side::Right, crosscut(Side::Left, bounds.right - cell.left)),
        (Side::Left, crosscut(Side::Right, cell.right - bounds.left)),
        (Side::Bottom, rip(Side::Top, cell.top - bounds.bottom)),
        (Side::Top, rip(Side::Bottom, bounds.top - cell.bottom)),
    ];
    cuts.into_iter().filter(|(side, _)| cut(*side)).map(|(_, mark)| mark).collect()
}

fn notch(cell: &Rect, kept: Sides, notch: &Rect) -> Mark {
    let from = (
        nearer(kept, Side::Left, notch.left - cell.left, cell.right - notch.right),
        nearer(kept, Side::Bottom, notch.bottom - cell.bottom, cell.top - notch.top),
    );
    let x = if from.0 == Side::Left { notch.left - cell.left } else { cell.right - notch.right };
    let y = if from.1 == Side::Bottom { notch.bottom - cell.bottom } else { cell.top - notch.top };
    Mark::Notch { from, x, y, width: notch.width(), height: notch.height() }
}

fn hole(cell: &Rect, kept: Sides, round: &Round) -> Mark {
    let right = (round.centre.x - cell.left, cell.right - round.centre.x);
    let up = (round.centre.y - cell.bottom, cell.top - round.centre.y);
    let from = (nearer(kept, Side::Left, right.0, right.1), nearer(kept, Side::Bottom, up.0, up.1));
    let x = if from.0 == Side::Left { right.0 } else { right.1 };
    let y = if from.1 == Side::Bottom { up.0 } else { up.1 };
    Mark::Hole { from, x, y, diameter: round.diameter }
}

/// The kept side to measure from: of `low` and its opposite the nearer one from which the tape need not be read
/// backwards; `low` when neither is kept.
fn nearer(kept: Sides, low: Side, from_low: Length, from_high: Length) -> Side {
    let high = low.opposite();
    match (kept.has(low), kept.has(high)) {
        (true, true) => {
            let behind = |distance: Length| distance < Length::ZERO;
            let low_is_nearer = (behind(from_low), from_low.abs()) <= (behind(from_high), from_high.abs());
            if low_is_nearer { low } else { high }
        }
        (false, true) => high,
        (true | false, false) => low,
    }
}
