//! The pages of the saw.

use askama::Template;
use trade::measure::TileId;
use trade::offcut::Take;
use trade::place::Piece;

use super::print::PagePrint;
use super::queue::{Misfit, WallQueue};
use super::refused::Offer;
use super::saw::{Entry, Fits, Tally};
use super::sheet::{Hand, Sheet};
use super::view::{BackForm, View, frame};
use crate::app::App;
use crate::output::place_drawing::place_drawing;
use crate::store::{CutRecord, Fate, JobHead, StoreError};
use crate::texts::Said;
use crate::web::fit::unheld;
use crate::web::page::{Frame, reader};
use crate::web::urls;

/// The saw: the piece in hand, and the whole queue.
#[derive(Template)]
#[template(path = "cuts/saw.html")]
pub struct SawPage {
    frame: Frame,
    /// What is said of a piece that is in this hand no more.
    gone: Vec<String>,
    progress: String,
    tiles: String,
    /// What is cut next; nothing when all is cut.
    sheet: Option<Sheet>,
    finished: String,
    last: Option<Last>,
    /// The tile that broke last.
    lost: Option<Last>,
    /// That the piece on top just broke in this hand, and what to do now.
    broke: Option<Broke>,
    /// What broke and what is spare, a line a kind of tile.
    spares: Vec<String>,
    /// What was cut and no longer fits.
    misfits: Vec<Misfit>,
    walls: Vec<WallQueue>,
    left_over: Vec<String>,
    rack_url: String,
    setting_url: String,
}

/// One piece at the saw.
#[derive(Template)]
#[template(path = "cuts/piece.html")]
pub struct PiecePage {
    frame: Frame,
    sheet: Sheet,
    /// "It is cut", where an older page said another tile.
    offer: Option<Offer>,
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

/// The cut made last.
struct Last {
    says: String,
    back: BackForm,
}

/// The piece on top, that just broke.
struct Broke {
    says: String,
    /// What to take now: a phone leaves it to the piece itself, which has it below.
    then: String,
    back: BackForm,
}

impl NothingYet {
    /// Says what to do first.
    pub fn new(app: &App, head: &JobHead) -> Self {
        Self { frame: frame(app, head, app.texts.say("saw-title")), layout_url: urls::layout(&head.id) }
    }
}

impl View<'_> {
    /// The saw.
    ///
    /// # Errors
    ///
    /// When an entry of the log cannot be read.
    pub fn saw(&self) -> Result<SawPage, StoreError> {
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
        let last = saw.last_cut().filter(|record| saw.hangs_in(&record.piece).is_none()).map(|record| Last {
            says: texts.say_with(
                "saw-last",
                &[
                    ("piece", &record.piece.0),
                    ("who", &self.who(record)),
                    ("when", &self.times.at(record.at)),
                ],
            ),
            back: self.back(record),
        });
        let next = saw.next(&self.yard.hands);
        let broke = next.and_then(|entry| self.broke_now(entry));
        let lost = saw.last_loss().filter(|_| broke.is_none()).map(|loss| self.lost(loss));
        Ok(SawPage {
            gone: self.gone_from_hand().into_iter().chain(self.taken_from_hand()?).collect(),
            progress: texts.say_with("saw-progress", &[("done", &done), ("all", &all)]),
            tiles: texts.say_with("saw-tiles", &[("count", &tiles.count())]),
            sheet: next.map(|entry| self.taken_first(self.sheet(entry))),
            finished: texts.say(finished),
            last,
            lost,
            broke,
            spares: self.spares().into_iter().chain(unheld(self.app, saw)).collect(),
            misfits: self.misfits(),
            walls: self.walls(next),
            rack_url: urls::rack(&self.head.id),
            setting_url: urls::setting(&self.head.id),
            left_over: saw.left_over.iter().map(|record| self.left_over(record)).collect(),
            frame: frame(self.app, self.head, texts.say("saw-title")).live(&self.yard.seen).kept(
                urls::cuts_kept(&self.head.id, texts.language(), &reader(self.app)),
                self.app.clock.now(),
            ),
        })
    }

    /// What the saw offers by itself is taken before it is cut, where others may be offered the same.
    fn taken_first(&self, sheet: Sheet) -> Sheet {
        let take_first = self.yard.others_about() && matches!(sheet.hand, Some(Hand::Free(_)));
        Sheet { take_first, ..sheet }
    }

    /// What is said over a piece that broke in this hand and is to be cut again.
    fn broke_now(&self, entry: &Entry) -> Option<Broke> {
        let saw = self.saw_state();
        let piece = &saw.piece(entry).id;
        let is_it = |loss: &&CutRecord| loss.piece == *piece && loss.fate == Fate::Broke;
        let loss = saw.last_loss().filter(is_it).filter(|loss| self.yard.hands.is_own(&loss.device))?;
        let (count, take) = (saw.times_broken(piece), self.take_of(piece));
        let values: [(&str, &dyn Said); 2] = [("piece", &piece.0), ("count", &count)];
        let texts = &self.app.texts;
        Some(Broke {
            says: texts.say_with("saw-broke-now", &values),
            then: texts.say_with("saw-broke-then", &[("take", &take)]),
            back: self.lost(loss).back,
        })
    }

    fn lost(&self, loss: &CutRecord) -> Last {
        let texts = &self.app.texts;
        let (says, back) = match loss.fate {
            Fate::InVain => ("saw-anew", "cut-not-anew-after-all"),
            Fate::Cut | Fate::Broke => ("saw-lost", "cut-not-broken-after-all"),
        };
        let (who, when) = (self.who(loss), self.times.at(loss.at));
        Last {
            says: texts.say_with(says, &[("piece", &loss.piece.0), ("who", &who), ("when", &when)]),
            back: BackForm {
                url: urls::not_broke(&self.head.id, &loss.piece.0),
                entry: loss.event.as_str().to_owned(),
                words: texts.say(back),
            },
        }
    }

    /// One piece.
    pub fn piece(&self, entry: &Entry, old: Option<&PagePrint>) -> PiecePage {
        let piece = self.saw_state().piece(entry);
        let title = self.app.texts.say_with("cut-title", &[("piece", &piece.id.0)]);
        let offer = old.and_then(|old| self.offer(entry, old));
        let sheet = Sheet { url: None, ..self.sheet(entry) };
        // Of two buttons that both say "cut" the wrong one would be pressed.
        let cut = sheet.cut.filter(|_| offer.is_none());
        let sheet = Sheet { cut, ..sheet };
        PiecePage {
            sheet,
            offer,
            on_wall: self.on_wall(piece),
            saw_url: urls::cuts(&self.head.id),
            frame: frame(self.app, self.head, title).live(&self.yard.seen),
        }
    }

    /// Only where something broke, or where the boxes are known.
    fn spares(&self) -> Vec<String> {
        let tallies = &self.saw_state().tally;
        let line = |(tile, tally): (&TileId, &Tally)| {
            let texts = &self.app.texts;
            let count = |key: &str, count: usize| texts.say_with(key, &[("count", &count)]);
            let broken = (tally.broken > 0).then(|| count("saw-broken", tally.broken));
            let in_vain = (tally.in_vain > 0).then(|| count("saw-in-vain", tally.in_vain));
            // Each made again is one tile more of all that the job takes.
            let lost = tally.broken + tally.in_vain > 0;
            let in_all = lost.then(|| count("saw-in-all", tally.needed));
            let counted = self.saw_state().sawn().count_of(tile).map(|of| {
                let (left, when) = (of.counted.left, self.times.at(of.at));
                texts.say_with("saw-counted", &[("count", &left), ("when", &when)])
            });
            let spare = match tally.boxed {
                _ if counted.is_some() => counted,
                Some(boxed) if tally.needed > boxed => {
                    let short = tally.needed - boxed;
                    Some(texts.say_with("saw-short", &[("count", &short), ("boxed", &boxed)]))
                }
                Some(boxed) => Some(count("saw-spare", boxed - tally.needed)),
                None => broken.as_ref().or(in_vain.as_ref()).map(|_| texts.say("saw-spare-unknown")),
            };
            let says =
                broken.into_iter().chain(in_vain).chain(in_all).chain(spare).collect::<Vec<_>>().join(" ");
            let of_several = |says| {
                let tile = beginning_a_sentence(&tile.0);
                texts.say_with("saw-of-tile", &[("tile", &tile), ("says", &says)])
            };
            match says.is_empty() {
                true => None,
                false if tallies.len() > 1 => Some(of_several(says)),
                false => Some(says),
            }
        };
        tallies.iter().filter_map(line).collect()
    }

    fn left_over(&self, record: &CutRecord) -> String {
        let size = self.words.size(record.was.width, record.was.height);
        self.app.texts.say_with("saw-left-over-piece", &[("piece", &record.piece.0), ("size", &size)])
    }

    fn on_wall(&self, piece: &Piece) -> Option<String> {
        let pieces = self.saw_state().planned.option.pieces.iter();
        let beside: Vec<&Piece> = pieces.filter(|other| other.surface == piece.surface).collect();
        let place = self.place(piece);
        let title = self.app.texts.say_with("cut-on-wall", &[("piece", &piece.id.0)]);
        place_drawing("on-wall", &beside, piece, (&title, &place))
    }
}

/// With a capital, as the crew would write it there.
fn beginning_a_sentence(name: &str) -> String {
    let mut rest = name.chars();
    let first = rest.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(rest).collect()
}
