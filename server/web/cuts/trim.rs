//! A piece that was cut and is to be smaller by now: what is over is taken off, and it stays the same piece of the same
//! tile.
//!
//! The log keeps of a cut its size, its factory edges and a print of its shape, and no outline. So the shape that is
//! wanted now is thought grown on one side across and on one side up, to the size that was cut: where that has the print
//! of what was cut, what was cut is the wanted piece and a strip more on those sides, and the saw takes the strips off. A
//! side that tapers is not grown so: a piece that is over size there is cut anew.

use trade::geometry::{Point, Rect, Side, Sides};
use trade::measure::{Length, Rounding};
use trade::offcut::{Leftover, Part, SawCut, Step, Take, Turn};
use trade::place::{Piece, PieceId};

use super::print::shape_print;
use super::saw::{Entry, Fits, NoCut, Saw};
use crate::store::{CutRecord, EventId, Trimmed, WasCut};

/// What is taken off a piece.
pub struct Trimming {
    /// At the saw, upright: nothing of it is on a tile any more.
    pub step: Step,
    /// As the log is to keep it.
    pub trimmed: Trimmed,
}

/// One way in which a piece is over size.
#[derive(Clone, Copy)]
struct Over {
    side: Side,
    by: Length,
    /// The tape shows it, so that the saw takes it off.
    shown: bool,
}

impl Saw {
    /// What to take off a piece that was cut and has another size by now; nothing where that does not make it fit.
    pub fn trimming(&self, entry: &Entry) -> Option<Trimming> {
        let record = entry.cut.as_ref()?;
        let unit = self.planned.job.unit;
        if entry.fits(unit) != Some(Fits::OtherSize) {
            return None;
        }
        let (piece, was) = (self.piece(entry), &record.was);
        let over = |low: Side, was: Length, wanted: Length| {
            let (shows, wants) =
                (was.on_tape(unit, Rounding::FitsIn), wanted.on_tape(unit, Rounding::FitsIn));
            let over = |side| Over { side, by: was - wanted, shown: shows > wants };
            (shows >= wants).then(|| [over(low), over(low.opposite())])
        };
        let across = over(Side::Left, was.width, piece.bounds.width())?;
        let up = over(Side::Bottom, was.height, piece.bounds.height())?;
        let ways = across.into_iter().flat_map(|across| up.map(|up| [across, up]));
        let fitting = ways.filter(|over| {
            was.tile == piece.tile
                && keeps_edges(piece, was, over)
                && shape_print(&grown(piece, over), unit) == was.shape
        });
        let own = was.own.unwrap_or(Sides::NONE);
        // Of two ways the one that spares a factory edge.
        let lost = |over: &[Over; 2]| over.iter().filter(|over| over.shown && own.has(over.side)).count();
        fitting.min_by_key(lost).map(|over| trimming(piece, record, &over, entry))
    }

    /// Whether a piece was cut, does not fit, and cannot be trimmed.
    pub fn is_to_be_cut_anew(&self, piece: &PieceId) -> bool {
        let is_off = |entry: &&Entry| entry.fits(self.planned.job.unit).is_some_and(Fits::is_off);
        self.entry(piece).filter(is_off).is_some_and(|entry| self.trimming(entry).is_none())
    }

    /// What a trim is kept as of a piece that a page showed with `print`, cut as `cut` says.
    pub fn may_trim(&self, entry: &Entry, print: &str, cut: &EventId) -> Result<Trimmed, NoCut> {
        let record = entry.cut.as_ref().filter(|record| record.event == *cut).ok_or(NoCut::PlanChanged)?;
        if let Some(laid) = self.hangs_in(&record.piece) {
            return Err(NoCut::Hangs(laid.run.clone()));
        }
        let fits = entry.fits(self.planned.job.unit) == Some(Fits::AsPlanned);
        if let Some(trim) = record.trim.as_ref().filter(|_| fits) {
            return Err(NoCut::AlreadyTrimmed(Box::new(trim.clone())));
        }
        let measured_since = !self.planned.is_made_with(&self.sawn().measured);
        let seen = !measured_since && entry.print().as_str() == print;
        let trimming = self.trimming(entry).filter(|_| seen);
        trimming.map(|trimming| trimming.trimmed).ok_or(NoCut::PlanChanged)
    }
}

/// Whether every factory edge that the piece needs is there, and stays.
fn keeps_edges(piece: &Piece, was: &WasCut, over: &[Over; 2]) -> bool {
    let stays = |side: Side| over.iter().all(|over| !over.shown || over.side != side);
    let has = |side: Side| was.own.is_some_and(|own| own.has(side));
    piece.factory.iter().all(|side| stays(side) && has(side))
}

/// The piece with what is over still on it.
fn grown(piece: &Piece, over: &[Over; 2]) -> Piece {
    let mut bounds = piece.bounds;
    for over in over {
        match over.side {
            Side::Left => bounds.left -= over.by,
            Side::Right => bounds.right += over.by,
            Side::Bottom => bounds.bottom -= over.by,
            Side::Top => bounds.top += over.by,
        }
    }
    let along = |at: Length, was: (Length, Length), grown: (Length, Length)| match at {
        at if at == was.0 => grown.0,
        at if at == was.1 => grown.1,
        at => at,
    };
    let of = piece.bounds;
    let outline = piece.outline.iter().map(|point| {
        let x = along(point.x, (of.left, of.right), (bounds.left, bounds.right));
        Point::new(x, along(point.y, (of.bottom, of.top), (bounds.bottom, bounds.top)))
    });
    Piece { outline: outline.collect(), bounds, ..piece.clone() }
}

fn trimming(piece: &Piece, record: &CutRecord, over: &[Over; 2], entry: &Entry) -> Trimming {
    let (was, wanted) = (&record.was, &entry.would_be);
    let own = was.own.unwrap_or(Sides::NONE);
    let at = Rect { left: Length::ZERO, bottom: Length::ZERO, right: was.width, top: was.height };
    let on_saw = Part { at, own };
    let (mut kept, mut cuts, mut leaves) = (on_saw, Vec::new(), Vec::new());
    for over in over.iter().filter(|over| over.shown) {
        let (part, mut strip) = (kept, kept.at);
        let line = shorter(&mut kept.at, &mut strip, over);
        kept.own = kept.own.without(over.side);
        cuts.push(SawCut {
            part,
            from: over.side.opposite(),
            keep: (line - part.at.at(over.side.opposite())).abs(),
        });
        let off = Part { at: strip, own: part.own.without(over.side.opposite()) };
        leaves.push(Leftover { part: off, label: None, holds: Vec::new() });
    }
    let step = Step {
        piece: 0,
        stock: 0,
        take: Take::WholeTile,
        on_saw,
        cuts,
        kept,
        leaves,
        after: None,
        tile: at,
        turn: Turn::None,
    };
    let trimmed = Trimmed {
        cut: record.event.clone(),
        from: (was.width, was.height),
        to: (piece.bounds.width(), piece.bounds.height()),
        shape: wanted.shape.clone(),
        own: kept.own,
    };
    Trimming { step, trimmed }
}

/// Moves one side in, gives the strip beyond it, and says where the side comes to be.
fn shorter(kept: &mut Rect, strip: &mut Rect, over: &Over) -> Length {
    match over.side {
        Side::Left => {
            kept.left += over.by;
            strip.right = kept.left;
            kept.left
        }
        Side::Right => {
            kept.right -= over.by;
            strip.left = kept.right;
            kept.right
        }
        Side::Bottom => {
            kept.bottom += over.by;
            strip.top = kept.bottom;
            kept.bottom
        }
        Side::Top => {
            kept.top -= over.by;
            strip.bottom = kept.top;
            kept.top
        }
    }
}
