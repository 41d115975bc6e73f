//! The pages of the saw.

use askama::Template;
use trade::geometry::Point;
use trade::measure::{SurfaceId, TileId};
use trade::offcut::{Step, Take};
use trade::place::{Hole, Piece, PieceId, measure_first};

use super::operation::{Operation, operations};
use super::saw::{Entry, Fits, NoCut, NoWayBack, Saw, Tally};
use super::words::Words;
use super::yard::Yard;
use crate::app::App;
use crate::output::cut_drawing::{CutDrawing, Leave};
use crate::output::place_drawing::place_drawing;
use crate::store::{Claim, CutRecord, JobHead};
use crate::texts::Said;
use crate::web::page::{Frame, Here};
use crate::web::times::Times;
use crate::web::urls;

/// The saw: the piece in hand, and the whole queue.
#[derive(Template)]
#[template(path = "cuts/saw.html")]
pub struct SawPage {
    frame: Frame,
    progress: String,
    tiles: String,
    /// What is cut next; nothing when all is cut.
    sheet: Option<Sheet>,
    finished: String,
    last: Option<Last>,
    /// The tile that broke last.
    lost: Option<Last>,
    /// What broke and what is spare, a line a kind of tile.
    spares: Vec<String>,
    walls: Vec<WallQueue>,
    left_over: Vec<String>,
}

/// One piece at the saw.
#[derive(Template)]
#[template(path = "cuts/piece.html")]
pub struct PiecePage {
    frame: Frame,
    sheet: Sheet,
    on_wall: Option<String>,
    saw_url: String,
}

/// Before there is a layout.
#[derive(Template)]
#[template(path = "cuts/none.html")]
pub struct NothingYet {
    frame: Frame,
    layout_url: String,
}

/// A press that is not taken.
#[derive(Template)]
#[template(path = "cuts/refused.html")]
pub struct Refused {
    frame: Frame,
    says: String,
    piece_url: String,
    piece_words: String,
    saw_url: String,
}

/// All that is said of one piece.
struct Sheet {
    label: String,
    place: String,
    size: String,
    /// "Cut ahead" or what to measure first.
    ahead: String,
    measure_first: bool,
    /// What was cut of it, and by whom.
    done: Option<String>,
    look: Option<String>,
    wait: Option<Wait>,
    /// Whose hand it is in; nothing while one device cuts alone.
    hand: Option<Hand>,
    at_saw: Option<AtSaw>,
    cut: Option<CutForm>,
    back: Option<BackForm>,
    broke: Option<BrokeForm>,
}

/// "Broke it".
struct BrokeForm {
    url: String,
    print: String,
    /// The cut that is none any more; empty where it was not cut.
    entry: String,
}

/// What to do at the saw.
struct AtSaw {
    take: String,
    operations: Vec<Operation>,
    /// It came free to size with another piece.
    to_size: bool,
    leaves: Vec<String>,
    drawing: String,
}

/// What has to be cut first.
struct Wait {
    says: String,
    url: String,
    words: String,
}

/// A piece that several might take up.
enum Hand {
    /// Nobody has it: the address that takes it.
    Free(String),
    /// This device has it: the address that lets it go.
    Own(String),
    /// Who else has it, in words.
    Other(String),
}

struct CutForm {
    url: String,
    print: String,
}

struct BackForm {
    url: String,
    entry: String,
    words: String,
}

/// The cut made last.
struct Last {
    says: String,
    back: BackForm,
}

/// The cuts of one wall.
struct WallQueue {
    name: String,
    card_url: String,
    bring_up: String,
    lines: Vec<Line>,
}

/// One cut in the queue.
struct Line {
    label: String,
    url: String,
    /// The class that draws its shape.
    state: &'static str,
    says: String,
    more: String,
}

/// All that pages are drawn from.
pub struct View<'a> {
    app: &'a App,
    head: &'a JobHead,
    yard: &'a Yard,
    words: Words,
    times: Times,
}

impl NothingYet {
    /// Says what to do first.
    pub fn new(app: &App, head: &JobHead) -> Self {
        Self { frame: frame(app, head, app.texts.say("saw-title")), layout_url: urls::layout(&head.id) }
    }
}

fn frame(app: &App, head: &JobHead, title: String) -> Frame {
    Frame::of_job(app, title, &head.id, &head.name, Here::Saw)
}

impl<'a> View<'a> {
    /// The job as it stands.
    pub fn new(app: &'a App, head: &'a JobHead, yard: &'a Yard) -> Self {
        let words = Words::new(&app.texts, head.unit);
        Self { app, head, yard, words, times: Times::new(&app.texts, &head.zone, app.clock.now()) }
    }

    /// The saw.
    pub fn saw(&self) -> SawPage {
        let (saw, texts) = (self.saw_state(), &self.app.texts);
        let all = saw.entries.len();
        let is_done = |entry: &&Entry| entry.fits(self.head.unit) == Some(Fits::AsPlanned);
        let done = saw.entries.iter().filter(is_done).count();
        let tiles = saw.entries.iter().filter(|entry| entry.cut.is_none());
        let tiles = tiles.filter(|entry| matches!(&entry.step, Some(step) if step.take == Take::WholeTile));
        let finished = match all {
            0 => "saw-none",
            _ if done == all => "saw-all-cut",
            _ if saw.entries.iter().any(|entry| entry.cut.is_none()) => "saw-others-have-the-rest",
            _ => "saw-some-do-not-fit",
        };
        let last = saw.last_cut().map(|record| Last {
            says: texts.say_with(
                "saw-last",
                &[
                    ("piece", &record.piece.0),
                    ("who", &self.who(record)),
                    ("when", &self.times.at(record.at)),
                ],
            ),
            back: self.back(record, Fits::AsPlanned),
        });
        let lost = saw.last_loss().map(|loss| Last {
            says: texts.say_with(
                "saw-lost",
                &[("piece", &loss.piece.0), ("who", &self.who(loss)), ("when", &self.times.at(loss.at))],
            ),
            back: BackForm {
                url: urls::not_broke(&self.head.id, &loss.piece.0),
                entry: loss.event.as_str().to_owned(),
                words: texts.say("cut-not-broken-after-all"),
            },
        });
        SawPage {
            progress: texts.say_with("saw-progress", &[("done", &done), ("all", &all)]),
            tiles: texts.say_with("saw-tiles", &[("count", &tiles.count())]),
            sheet: saw.next(&self.yard.hands).map(|entry| self.sheet(entry)),
            finished: texts.say(finished),
            last,
            lost,
            spares: self.spares(),
            walls: self.walls(),
            left_over: saw.left_over.iter().map(|record| self.left_over(record)).collect(),
            frame: frame(self.app, self.head, texts.say("saw-title")),
        }
    }

    /// One piece.
    pub fn piece(&self, entry: &Entry) -> PiecePage {
        let piece = self.saw_state().piece(entry);
        let title = self.app.texts.say_with("cut-title", &[("piece", &piece.id.0)]);
        PiecePage {
            sheet: self.sheet(entry),
            on_wall: self.on_wall(piece),
            saw_url: urls::cuts(&self.head.id),
            frame: frame(self.app, self.head, title),
        }
    }

    /// Why a piece is not taken in hand.
    pub fn not_taken(&self, piece: &PieceId, why: &NoCut) -> Refused {
        self.because("cut-take-refused-title", piece, why)
    }

    /// Why it is not kept that a piece broke.
    pub fn not_broken(&self, piece: &PieceId, why: &NoCut) -> Refused {
        self.because("cut-broke-refused-title", piece, why)
    }

    /// Why a loss is not taken back.
    pub fn still_broken(&self, piece: &PieceId, why: &NoWayBack) -> Refused {
        let texts = &self.app.texts;
        let (says, about) = match why {
            NoWayBack::NotCut => (texts.say_with("cut-back-refused-not", &[("piece", &piece.0)]), piece),
            NoWayBack::Before(since) => {
                (texts.say_with("cut-mend-refused-since", &[("piece", &piece.0), ("since", &since.0)]), since)
            }
        };
        self.refused("cut-mend-refused-title", piece, says, about)
    }

    /// Why a cut is not kept.
    pub fn no_cut(&self, piece: &PieceId, why: &NoCut) -> Refused {
        self.because("cut-refused-title", piece, why)
    }

    fn because(&self, title: &str, piece: &PieceId, why: &NoCut) -> Refused {
        let (texts, saw) = (&self.app.texts, self.saw_state());
        let (says, about) = match why {
            NoCut::InHand(claim) => {
                let (who, when) = (self.yard.log.name(&claim.person).to_owned(), self.times.at(claim.taken));
                let next = saw.next(&self.yard.hands).map(|entry| &saw.piece(entry).id);
                let held: [(&str, &dyn Said); 3] = [("piece", &piece.0), ("who", &who), ("when", &when)];
                match next {
                    Some(next) => {
                        let [piece, who, when] = held;
                        let held = [piece, who, when, ("next", &next.0)];
                        (texts.say_with("cut-refused-held", &held), next)
                    }
                    None => (texts.say_with("cut-refused-held-last", &held), piece),
                }
            }
            NoCut::AlreadyCut(record) => {
                let who = self.who(record);
                let when = self.times.at(record.at);
                (
                    texts.say_with(
                        "cut-refused-again",
                        &[("piece", &piece.0), ("who", &who), ("when", &when)],
                    ),
                    piece,
                )
            }
            NoCut::After(before) => {
                let take = self.take_of(piece);
                (
                    texts.say_with(
                        "cut-refused-order",
                        &[("piece", &piece.0), ("before", &before.0), ("take", &take)],
                    ),
                    before,
                )
            }
            NoCut::PlanChanged => (texts.say_with("cut-refused-plan", &[("piece", &piece.0)]), piece),
        };
        self.refused(title, piece, says, about)
    }

    /// Why a cut is not taken back.
    pub fn no_way_back(&self, piece: &PieceId, why: &NoWayBack) -> Refused {
        let texts = &self.app.texts;
        let (says, about) = match why {
            NoWayBack::NotCut => (texts.say_with("cut-back-refused-not", &[("piece", &piece.0)]), piece),
            NoWayBack::Before(since) => {
                (texts.say_with("cut-back-refused-since", &[("piece", &piece.0), ("since", &since.0)]), since)
            }
        };
        self.refused("cut-back-refused-title", piece, says, about)
    }

    fn refused(&self, title: &str, piece: &PieceId, says: String, about: &PieceId) -> Refused {
        let texts = &self.app.texts;
        Refused {
            says,
            piece_url: urls::cut(&self.head.id, &about.0),
            piece_words: texts.say_with("cut-to-piece", &[("piece", &about.0)]),
            saw_url: urls::cuts(&self.head.id),
            frame: frame(self.app, self.head, texts.say_with(title, &[("piece", &piece.0)])),
        }
    }

    fn saw_state(&self) -> &'a Saw {
        &self.yard.saw
    }

    fn who(&self, record: &CutRecord) -> String {
        self.yard.log.author(record).to_owned()
    }

    fn sheet(&self, entry: &Entry) -> Sheet {
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
            broke: (may_cut || entry.cut.is_some()).then(|| BrokeForm {
                url: urls::broke(job, &piece.id.0),
                print: entry.print(),
                entry: entry.cut.as_ref().map(|record| record.event.as_str().to_owned()).unwrap_or_default(),
            }),
        }
    }

    /// Only where something broke, or where the boxes are known and some of them are spare.
    fn spares(&self) -> Vec<String> {
        let tallies = &self.saw_state().tally;
        let line = |(tile, tally): (&TileId, &Tally)| {
            let name = if tallies.len() > 1 { format!("{}: ", tile.0) } else { String::new() };
            let spares = tally.boxed.map(|boxed| (boxed.saturating_sub(tally.needed), boxed, tally.needed));
            let (key, count) = match spares {
                Some((_, boxed, needed)) if needed > boxed => ("saw-tiles-short", needed - boxed),
                Some((spare, ..)) => ("saw-spares", spare),
                None if tally.broken > 0 => ("saw-spares-unknown", tally.needed),
                None => return None,
            };
            let says = self.app.texts.say_with(key, &[("broken", &tally.broken), ("count", &count)]);
            Some(name + &says)
        };
        tallies.iter().filter_map(line).collect()
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

    fn held(&self, claim: &Claim) -> String {
        let (who, when) = (self.yard.log.name(&claim.person).to_owned(), self.times.at(claim.taken));
        self.app.texts.say_with("cut-held", &[("who", &who), ("when", &when)])
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

    /// What it is cut from; the tile is named where the job cuts several.
    fn take(&self, entry: &Entry, step: &Step) -> String {
        let several = self.saw_state().planned.option.cutting.len() > 1;
        let tile = several.then_some(&entry.would_be.tile);
        self.words.take(step.take, entry.would_be.stock, tile)
    }

    fn take_of(&self, piece: &PieceId) -> String {
        let entry = self.saw_state().entry(piece);
        let take = entry.and_then(|entry| Some(self.take(entry, entry.step.as_ref()?)));
        take.unwrap_or_default()
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

    fn done(&self, record: &CutRecord) -> String {
        let when = self.times.at(record.at);
        self.app.texts.say_with("cut-done", &[("who", &self.who(record)), ("when", &when)])
    }

    fn look(&self, entry: &Entry) -> Option<String> {
        let now = (entry.would_be.width, entry.would_be.height);
        self.words.look(entry.cut.as_ref()?, entry.fits(self.head.unit)?, now)
    }

    fn back(&self, record: &CutRecord, fits: Fits) -> BackForm {
        let key = match fits {
            Fits::AsPlanned => "cut-not-after-all",
            Fits::OtherSize | Fits::OtherShape => "cut-again",
        };
        BackForm {
            url: urls::not_cut(&self.head.id, &record.piece.0),
            entry: record.event.as_str().to_owned(),
            words: self.app.texts.say(key),
        }
    }

    fn left_over(&self, record: &CutRecord) -> String {
        let size = self.words.size(record.was.width, record.was.height);
        self.app.texts.say_with("saw-left-over-piece", &[("piece", &record.piece.0), ("size", &size)])
    }

    /// Wall, course, and which one from the left.
    fn place(&self, piece: &Piece) -> String {
        let planned = &self.saw_state().planned;
        let same = |other: &&Piece| {
            (&other.surface, other.course, other.band) == (&piece.surface, piece.course, piece.band)
        };
        let left_of = planned.option.pieces.iter().filter(same);
        let nth = left_of.filter(|other| other.bounds.left < piece.bounds.left).count() + 1;
        let surface = planned.job.surface(&piece.surface);
        let strip =
            surface.and_then(|surface| surface.bands.get(piece.band)).is_some_and(|band| band.is_strip());
        let key = if strip { "cut-place-strip" } else { "cut-place" };
        let wall = self.wall_name(&piece.surface);
        self.app.texts.say_with(key, &[("wall", &wall), ("course", &piece.course), ("nth", &nth)])
    }

    fn wall_name(&self, wall: &SurfaceId) -> String {
        let surface = self.saw_state().planned.job.surface(wall);
        surface.map_or_else(|| wall.to_string(), |surface| surface.name.clone())
    }

    fn on_wall(&self, piece: &Piece) -> Option<String> {
        let pieces = self.saw_state().planned.option.pieces.iter();
        let beside: Vec<&Piece> = pieces.filter(|other| other.surface == piece.surface).collect();
        let place = self.place(piece);
        let title = self.app.texts.say_with("cut-on-wall", &[("piece", &piece.id.0)]);
        place_drawing("on-wall", &beside, piece, (&title, &place))
    }

    fn walls(&self) -> Vec<WallQueue> {
        let saw = self.saw_state();
        let next = saw.next(&self.yard.hands).map(|entry| &saw.piece(entry).id);
        let mut walls: Vec<WallQueue> = Vec::new();
        let mut here: Option<&SurfaceId> = None;
        for entry in &saw.entries {
            let piece = saw.piece(entry);
            if here != Some(&piece.surface) {
                here = Some(&piece.surface);
                walls.push(self.wall(&piece.surface));
            }
            if let Some(wall) = walls.last_mut() {
                wall.lines.push(self.line(entry, next == Some(&piece.id)));
            }
        }
        walls
    }

    fn wall(&self, id: &SurfaceId) -> WallQueue {
        let pieces = self.saw_state().planned.option.pieces.iter().filter(|piece| piece.surface == *id);
        let (whole, cut): (Vec<&Piece>, Vec<&Piece>) = pieces.partition(|piece| piece.full);
        let bring_up =
            self.app.texts.say_with("saw-bring-up", &[("whole", &whole.len()), ("cuts", &cut.len())]);
        let card_url = urls::wall_card(&self.head.id, id);
        WallQueue { name: self.wall_name(id), card_url, bring_up, lines: Vec::new() }
    }

    fn line(&self, entry: &Entry, is_next: bool) -> Line {
        let piece = self.saw_state().piece(entry);
        let texts = &self.app.texts;
        let (state, says) = match (&entry.cut, self.look(entry)) {
            (Some(_), Some(look)) => ("look", look),
            (Some(record), None) => ("done", self.done(record)),
            (None, _) if is_next => ("ready", texts.say("saw-next")),
            (None, _) if let Some(claim) = self.yard.hands.others(&piece.id) => ("none", self.held(claim)),
            (None, _) => ("none", texts.say("saw-to-do")),
        };
        let size = self.words.size(entry.would_be.width, entry.would_be.height);
        let more = match (&entry.cut, &entry.step) {
            (None, Some(step)) => {
                let take = self.take(entry, step);
                texts.say_with("saw-line", &[("size", &size), ("take", &take)])
            }
            _ => size,
        };
        Line { label: piece.id.0.clone(), url: urls::cut(&self.head.id, &piece.id.0), state, says, more }
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
