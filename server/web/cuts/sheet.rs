//! All that is said of one piece at the saw.

use trade::geometry::Point;
use trade::offcut::{Step, Take};
use trade::place::{Hole, Piece, PieceId, measure_first};

use super::operation::{Operation, operations};
use super::saw::{Entry, Fits};
use super::view::{BackForm, View};
use crate::output::cut_drawing::{CutDrawing, Leave};
use crate::web::urls;

/// All that is said of one piece.
pub struct Sheet {
    pub label: String,
    pub place: String,
    pub size: String,
    /// "Cut ahead" or what to measure first.
    pub ahead: String,
    pub measure_first: bool,
    /// What was cut of it, and by whom.
    pub done: Option<String>,
    pub look: Option<String>,
    pub wait: Option<Wait>,
    /// Whose hand it is in; nothing while one device cuts alone.
    pub hand: Option<Hand>,
    pub at_saw: Option<AtSaw>,
    pub cut: Option<CutForm>,
    pub back: Option<BackForm>,
    pub broke: Option<BrokeForm>,
    /// Where its place is measured again when it does not fit.
    pub fit_url: String,
}

/// "Broke it".
pub struct BrokeForm {
    pub url: String,
    pub print: String,
    /// The cut that is none any more; empty where it was not cut.
    pub entry: String,
}

/// What to do at the saw.
pub struct AtSaw {
    pub take: String,
    pub operations: Vec<Operation>,
    /// It came free to size with another piece.
    pub to_size: bool,
    pub leaves: Vec<String>,
    pub drawing: String,
}

/// What has to be cut first.
pub struct Wait {
    pub says: String,
    pub url: String,
    pub words: String,
}

/// A piece that several might take up.
pub enum Hand {
    /// Nobody has it: the address that takes it.
    Free(String),
    /// This device has it: the address that lets it go.
    Own(String),
    /// Who else has it, in words.
    Other(String),
}

/// "Cut".
pub struct CutForm {
    pub url: String,
    pub print: String,
}

impl View<'_> {
    pub(super) fn sheet(&self, entry: &Entry) -> Sheet {
        let (saw, job) = (self.saw_state(), &self.head.id);
        let piece = saw.piece(entry);
        let first = measure_first(&saw.planned.job, &saw.planned.option.pieces, piece);
        let fits = entry.fits(self.head.unit).unwrap_or(Fits::AsPlanned);
        let free = self.yard.hands.others(&piece.id).is_none();
        let may_cut = entry.cut.is_none() && entry.after.is_none() && free;
        let cut = may_cut.then(|| CutForm { url: urls::cut(job, &piece.id.0), print: entry.print() });
        Sheet {
            label: piece.id.0.clone(),
            place: self.place(piece),
            size: self.words.size(entry.would_be.width, entry.would_be.height),
            ahead: self.words.ahead(first.as_ref()),
            measure_first: first.is_some(),
            done: entry.cut.as_ref().map(|record| self.done(record)),
            look: self.look(entry),
            wait: entry.after.as_ref().filter(|_| entry.cut.is_none()).map(|before| self.wait(entry, before)),
            hand: self.hand(entry, piece),
            at_saw: entry.step.as_ref().map(|step| self.at_saw(entry, piece, &step.upright())),
            cut,
            back: entry.cut.as_ref().map(|record| self.back(record, fits)),
            fit_url: urls::fit(job, &piece.id.0),
            broke: (may_cut || entry.cut.is_some()).then(|| BrokeForm {
                url: urls::broke(job, &piece.id.0),
                print: entry.print(),
                entry: entry.cut.as_ref().map(|record| record.event.as_str().to_owned()).unwrap_or_default(),
            }),
        }
    }

    fn hand(&self, entry: &Entry, piece: &Piece) -> Option<Hand> {
        let (hands, job) = (&self.yard.hands, &self.head.id);
        if entry.cut.is_some() || !self.yard.several_cut() {
            return None;
        }
        match (hands.others(&piece.id), hands.own()) {
            (Some(claim), _) => Some(Hand::Other(self.held(claim))),
            (None, Some(own)) if own.piece == piece.id => Some(Hand::Own(urls::let_go(job, &piece.id.0))),
            (None, _) => entry.after.is_none().then(|| Hand::Free(urls::take_in_hand(job, &piece.id.0))),
        }
    }

    fn at_saw(&self, entry: &Entry, piece: &Piece, step: &Step) -> AtSaw {
        let texts = &self.app.texts;
        let (mut operations, sawn) = operations(&self.words, piece, step);
        let left: Vec<(String, String)> = entry.leaves.iter().map(|left| self.words.left(left)).collect();
        let take = self.take(entry, step);
        let said: Vec<String> =
            std::iter::once(take.clone()).chain(operations.iter().map(Operation::said)).collect();
        let dimensions = operations.iter_mut().flat_map(|operation| operation.dimensions.drain(..)).collect();
        let leaves = step.leaves.iter().zip(&left).map(|(leftover, (_, tape))| Leave {
            at: leftover.part.at,
            words: tape.clone(),
            kept: leftover.label.is_some(),
        });
        let drawing = CutDrawing {
            on_saw: step.on_saw,
            cuts: &sawn,
            outline: moved(piece, step),
            holes: piece.holes.iter().map(|hole| moved_hole(hole, piece, step)).collect(),
            label: &piece.id.0,
            leaves: leaves.collect(),
            dimensions,
            title: texts.say_with("cut-drawing", &[("piece", &piece.id.0)]),
            description: said.join(". "),
        };
        AtSaw {
            drawing: drawing.draw("at-saw"),
            take,
            to_size: step.on_saw.at == step.kept.at && step.take != Take::WholeTile,
            operations,
            leaves: once_each(left.into_iter().map(|(says, _)| says)),
        }
    }

    fn wait(&self, entry: &Entry, before: &PieceId) -> Wait {
        let texts = &self.app.texts;
        let take = entry.step.as_ref().map(|step| self.take(entry, step)).unwrap_or_default();
        Wait {
            says: texts.say_with("cut-wait", &[("before", &before.0), ("take", &take)]),
            url: urls::cut(&self.head.id, &before.0),
            words: texts.say_with("cut-to-piece", &[("piece", &before.0)]),
        }
    }
}

/// The same words once, in the order they are first said.
fn once_each(all: impl Iterator<Item = String>) -> Vec<String> {
    let mut once: Vec<String> = Vec::new();
    for says in all {
        if !once.contains(&says) {
            once.push(says);
        }
    }
    once
}

/// The piece's outline where it lies on the tile.
fn moved(piece: &Piece, step: &Step) -> Vec<Point> {
    piece.outline.iter().map(|&point| moved_point(point, piece, step)).collect()
}

fn moved_point(point: Point, piece: &Piece, step: &Step) -> Point {
    let (at, bounds) = (&step.kept.at, &piece.bounds);
    Point::new(point.x - bounds.left + at.left, point.y - bounds.bottom + at.bottom)
}

fn moved_hole(hole: &Hole, piece: &Piece, step: &Step) -> Hole {
    match hole {
        Hole::Round { centre, diameter } => {
            Hole::Round { centre: moved_point(*centre, piece, step), diameter: *diameter }
        }
        Hole::Polygon(corners) => {
            Hole::Polygon(corners.iter().map(|&corner| moved_point(corner, piece, step)).collect())
        }
    }
}
