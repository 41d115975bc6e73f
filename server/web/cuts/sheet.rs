//! All that is said of one piece at the saw.

use trade::geometry::Point;
use trade::offcut::{Step, Take};
use trade::place::{Hole, Piece, PieceId, measure_first};

use super::changed::ChangedForm;
use super::operation::{Operation, operations};
use super::saw::{Entry, Fits, Left};
use super::trim::Trimming;
use super::view::{BackForm, View};
use crate::output::cut_drawing::{CutDrawing, Leave};
use crate::store::{Claim, CutRecord, Role};
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
    /// The run that it hangs in.
    pub hangs: Option<String>,
    pub look: Option<String>,
    pub wait: Option<Wait>,
    /// Whose hand it is in; nothing while one device cuts alone.
    pub hand: Option<Hand>,
    /// Others are about, and it is in nobody's hand: it is taken before it is cut.
    pub take_first: bool,
    /// It is in this hand and changed since it was taken.
    pub changed: Option<ChangedForm>,
    pub at_saw: Option<AtSaw>,
    pub cut: Option<CutForm>,
    /// What to do with one that was cut and does not fit.
    pub mend: Option<MendForm>,
    pub back: Option<BackForm>,
    pub broke: Option<BrokeForm>,
    /// Its own page; nothing on that page.
    pub url: Option<String>,
    /// Where its place is measured again when it does not fit; nothing once it hangs.
    pub fit_url: Option<String>,
}

/// "Broke it".
pub struct BrokeForm {
    pub key: String,
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
    /// Nobody has it: what takes it.
    Free(HandForm),
    /// This device has it: what lets it go.
    Own(HandForm),
    /// Who else has it, in words, and what takes it from them, for the lead.
    Other(String, Option<OverForm>),
}

/// "Take it over from Ben".
pub struct OverForm {
    pub form: HandForm,
    pub print: String,
    pub words: String,
}

/// "Keep this one for me" or "Leave it to others".
pub struct HandForm {
    pub key: String,
    pub url: String,
}

/// "Trim it", or "Cut it anew" with what that means.
pub struct MendForm {
    pub key: String,
    pub url: String,
    pub print: String,
    pub entry: String,
    pub button: String,
    pub hint: Option<String>,
}

/// "Cut".
pub struct CutForm {
    pub key: String,
    pub url: String,
    pub print: String,
    /// What has to be cut first. The form is there for the script alone, which shows it once that was pressed.
    pub after: Option<String>,
}

impl View<'_> {
    pub(super) fn sheet(&self, entry: &Entry) -> Sheet {
        let (saw, job) = (self.saw_state(), &self.head.id);
        let piece = saw.piece(entry);
        let first = measure_first(&saw.planned.job, &saw.planned.option.pieces, piece);
        // One that waits for another can be pressed too: out of range that other is cut, and nobody here knows.
        let works = self.app.caller.as_ref().is_none_or(|caller| caller.role != Role::Board);
        let may_cut = works && entry.cut.is_none() && self.yard.hands.others(&piece.id).is_none();
        let url = urls::cut(job, &piece.id.0);
        let cut = may_cut.then(|| CutForm {
            key: self.key(entry, 'c'),
            url: url.clone(),
            print: entry.print().as_str().to_owned(),
            after: entry.after.as_ref().map(|before| before.0.clone()),
        });
        let hangs = saw.hangs_in(&piece.id);
        let trimming = saw.trimming(entry).filter(|_| hangs.is_none());
        let to_undo = entry.cut.as_ref().filter(|_| works && hangs.is_none());
        let mend = to_undo.and_then(|record| self.mend(entry, record, trimming.as_ref()));
        Sheet {
            label: piece.id.0.clone(),
            place: self.place(piece),
            size: self.words.size(entry.would_be.width, entry.would_be.height),
            ahead: self.words.ahead(first.as_ref()),
            measure_first: first.is_some(),
            done: entry.cut.as_ref().map(|record| self.done(record)),
            hangs: hangs.map(|laid| self.app.texts.say_with("cut-hangs", &[("run", &laid.run)])),
            look: self.look(entry),
            wait: entry.after.as_ref().filter(|_| entry.cut.is_none()).map(|before| self.wait(entry, before)),
            hand: self.hand(entry, piece).filter(|hand| works || matches!(hand, Hand::Other(..))),
            take_first: false,
            changed: self.changed(entry),
            at_saw: match &trimming {
                Some(trimming) => Some(self.at_trimming(piece, &trimming.step)),
                // How it was cut before is no help to whoever cuts it anew.
                None if mend.is_some() => None,
                // Nor what was sawn before it was trimmed: it is smaller by now.
                None if entry.cut.as_ref().is_some_and(|record| record.trim.is_some()) => None,
                None => entry.step.as_ref().map(|step| self.at_saw(entry, piece, &step.upright())),
            },
            cut,
            mend,
            back: to_undo.map(|record| self.back(record)),
            fit_url: (works && hangs.is_none()).then(|| urls::fit(job, &piece.id.0)),
            broke: (may_cut || to_undo.is_some()).then(|| BrokeForm {
                key: self.key(entry, 'b'),
                url: urls::broke(job, &piece.id.0),
                print: entry.print().as_str().to_owned(),
                entry: to_undo.map(|record| record.event.as_str().to_owned()).unwrap_or_default(),
            }),
            url: Some(url),
        }
    }

    fn hand(&self, entry: &Entry, piece: &Piece) -> Option<Hand> {
        let (hands, job) = (&self.yard.hands, &self.head.id);
        if entry.cut.is_some() || !self.yard.several_cut() {
            return None;
        }
        match (hands.others(&piece.id), hands.own()) {
            (Some(claim), _) => Some(Hand::Other(self.held(claim), self.over(entry, claim))),
            (None, Some(own)) if own.piece == piece.id => {
                Some(Hand::Own(HandForm { key: self.key(entry, 'g'), url: urls::let_go(job, &piece.id.0) }))
            }
            (None, _) if entry.after.is_some() => None,
            (None, _) => {
                let url = urls::take_in_hand(job, &piece.id.0);
                Some(Hand::Free(HandForm { key: self.key(entry, 't'), url }))
            }
        }
    }

    /// What takes a piece over, where the lead looks.
    fn over(&self, entry: &Entry, claim: &Claim) -> Option<OverForm> {
        let leads = self.app.caller.as_ref().is_some_and(|caller| caller.role == Role::Lead);
        leads.then(|| OverForm {
            form: HandForm { key: self.key(entry, 'v'), url: urls::take_over(&self.head.id, &claim.piece.0) },
            print: entry.print().as_str().to_owned(),
            words: self
                .app
                .texts
                .say_with("cut-take-over", &[("who", &self.yard.log.name(&claim.person).to_owned())]),
        })
    }

    /// What to do with a piece that was cut and does not fit; nothing where it does.
    fn mend(&self, entry: &Entry, record: &CutRecord, trimming: Option<&Trimming>) -> Option<MendForm> {
        let (job, piece, texts) = (&self.head.id, &record.piece.0, &self.app.texts);
        let is_off = entry.fits(self.head.unit).is_some_and(Fits::is_off);
        let (url, form, button, hint) = match trimming {
            Some(_) => (urls::trim(job, piece), 'm', "cut-trim", None),
            None if is_off => (urls::anew(job, piece), 'n', "cut-anew", Some(texts.say("cut-anew-hint"))),
            None => return None,
        };
        let (key, entry_of) = (self.key(entry, form), record.event.as_str().to_owned());
        Some(MendForm {
            key,
            url,
            print: entry.print().as_str().to_owned(),
            entry: entry_of,
            button: texts.say(button),
            hint,
        })
    }

    /// A piece that was cut, on the saw again.
    fn at_trimming(&self, piece: &Piece, step: &Step) -> AtSaw {
        let take = self.app.texts.say_with("cut-trim-take", &[("piece", &piece.id.0)]);
        let left: Vec<_> = step.leaves.iter().map(|_| self.words.left(&Left::Bin)).collect();
        // What is notched and drilled already is not done again.
        let straight = Piece { marks: Vec::new(), ..piece.clone() };
        self.drawn(&straight, step, take, &left)
    }

    fn at_saw(&self, entry: &Entry, piece: &Piece, step: &Step) -> AtSaw {
        let left: Vec<_> = entry.leaves.iter().map(|left| self.words.left(left)).collect();
        self.drawn(piece, step, self.take(entry, step), &left)
    }

    fn drawn(&self, piece: &Piece, step: &Step, take: String, left: &[(String, String)]) -> AtSaw {
        let texts = &self.app.texts;
        let (mut operations, sawn) = operations(&self.words, piece, step);
        let said: Vec<String> =
            std::iter::once(take.clone()).chain(operations.iter().map(Operation::said)).collect();
        let dimensions = operations.iter_mut().flat_map(|operation| operation.dimensions.drain(..)).collect();
        let leaves = step.leaves.iter().zip(left).map(|(leftover, (_, tape))| Leave {
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
            says: texts.say_with("cut-drawing", &[("piece", &piece.id.0), ("says", &said.join(". "))]),
        };
        AtSaw {
            drawing: drawing.draw(),
            take,
            to_size: step.on_saw.at == step.kept.at && step.take != Take::WholeTile,
            operations,
            leaves: once_each(left.iter().map(|(says, _)| says.clone())),
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
