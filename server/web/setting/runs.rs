//! The runs of a job: what a setter hangs in one go, one course of a wall or the strip over it.

use trade::measure::{SurfaceId, Unit};
use trade::place::{Piece, PieceId};

use crate::web::cuts::{Fits, Print, Saw, shape_print};

/// One course of one wall, or the strip over it.
pub struct Run<'a> {
    /// What its pieces' labels begin with: `A3`, `A4s`.
    pub label: &'a str,
    pub wall: SurfaceId,
    pub course: u32,
    pub strip: bool,
    /// From left to right.
    pub pieces: &'a [Piece],
}

/// Every run, wall by wall from the bottom up.
pub fn runs(saw: &Saw) -> Vec<Run<'_>> {
    let pieces = saw.planned.option.pieces.chunk_by(|one, other| label(one) == label(other));
    pieces
        .filter_map(|pieces| {
            let first = pieces.first()?;
            let surface = saw.planned.job.surface(&first.surface);
            let strip =
                surface.and_then(|surface| surface.bands.get(first.band)).is_some_and(|band| band.is_strip());
            Some(Run {
                label: label(first),
                wall: first.surface.clone(),
                course: first.course,
                strip,
                pieces,
            })
        })
        .collect()
}

impl<'a> Run<'a> {
    /// Its whole tiles.
    pub fn whole(&self) -> usize {
        self.pieces.iter().filter(|piece| piece.full).count()
    }

    /// Its cut pieces.
    pub fn cuts(&self) -> impl Iterator<Item = &'a Piece> + use<'a> {
        self.pieces.iter().filter(|piece| !piece.full)
    }

    /// Stands for all that hangs with it and where: a press on a page of another plan is told by it.
    pub fn print(&self, unit: Unit) -> String {
        let mut print = Print::new(&self.wall.to_string());
        print.numbers([i64::from(self.course), i64::from(self.strip)]);
        for piece in self.pieces {
            print.words(&piece.id.0);
            print.words(&shape_print(piece, unit));
            print.rect(&piece.bounds);
        }
        print.finish()
    }

    /// Its cut pieces that do not lie ready: not cut, or not as the plan wants them.
    pub fn missing(&self, saw: &Saw, unit: Unit) -> Vec<&'a PieceId> {
        let ready = |piece: &&Piece| {
            saw.entry(&piece.id).is_some_and(|entry| entry.fits(unit) == Some(Fits::AsPlanned))
        };
        self.cuts().filter(|piece| !ready(piece)).map(|piece| &piece.id).collect()
    }
}

/// What a piece's label begins with, up to its place in the run.
fn label(piece: &Piece) -> &str {
    piece.id.0.rsplit_once('-').map_or(piece.id.0.as_str(), |(run, _)| run)
}
