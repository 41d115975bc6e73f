//! Why a press is not taken, in words.

use askama::Template;
use trade::place::PieceId;

use super::print::PagePrint;
use super::saw::{Entry, NoCut, NoWayBack};
use super::view::{View, frame};
use crate::app::App;
use crate::store::JobHead;
use crate::texts::Said;
use crate::web::page::Frame;
use crate::web::urls;

/// A press that is not taken.
#[derive(Template)]
#[template(path = "cuts/refused.html")]
pub struct Refused {
    frame: Frame,
    says: String,
    /// What to do with what is cut.
    more: Option<String>,
    /// "It is cut", where the press can still be counted.
    offer: Option<Offer>,
    piece_url: String,
    piece_words: String,
    /// Where the piece's place is measured again, where that is a way on.
    fit_url: Option<String>,
    saw_url: String,
}

/// "It is cut": a press of an older page that can be counted by this one.
pub struct Offer {
    pub key: String,
    pub url: String,
    /// For this plan.
    pub print: String,
    /// What the older page said.
    pub old: String,
    pub says: String,
    pub more: String,
}

impl Refused {
    /// In these words, with the way to the piece that they are about.
    pub fn new(app: &App, head: &JobHead, title: String, says: String, about: &PieceId) -> Self {
        Self {
            says,
            more: None,
            piece_url: urls::cut(&head.id, &about.0),
            piece_words: app.texts.say_with("cut-to-piece", &[("piece", &about.0)]),
            offer: None,
            fit_url: None,
            saw_url: urls::cuts(&head.id),
            frame: frame(app, head, title),
        }
    }
}

/// Whether one more broke, or the same press came twice.
#[derive(Template)]
#[template(path = "cuts/again.html")]
pub struct BrokeAgain {
    frame: Frame,
    says: String,
    url: String,
    print: String,
    saw_url: String,
}

impl View<'_> {
    /// Asks whether one more of a piece broke, by a page of which `print` stands for the plan.
    pub fn broke_again(&self, piece: &PieceId, print: &str) -> BrokeAgain {
        let title = self.app.texts.say_with("cut-broke-again-title", &[("piece", &piece.0)]);
        BrokeAgain {
            says: self.app.texts.say_with("cut-broke-again", &[("piece", &piece.0)]),
            url: urls::broke(&self.head.id, &piece.0),
            // A page from before it broke says another tile: the one that stands now is what breaks.
            print: self
                .saw_state()
                .entry(piece)
                .map_or_else(|| print.to_owned(), |entry| entry.print().as_str().to_owned()),
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

    /// Why it is not kept that a piece was trimmed.
    pub fn not_trimmed(&self, piece: &PieceId, why: &NoCut) -> Refused {
        self.because("cut-trim-refused-title", piece, why)
    }

    /// Why a piece is not to be cut anew.
    pub fn not_anew(&self, piece: &PieceId, why: &NoCut) -> Refused {
        self.because("cut-back-refused-title", piece, why)
    }

    /// Why a trim is not taken back.
    pub fn stays_trimmed(&self, piece: &PieceId, why: &NoWayBack) -> Refused {
        let says = match why {
            NoWayBack::Hangs(run) => self.hangs(piece, run),
            NoWayBack::NotCut | NoWayBack::Before(_) => {
                self.app.texts.say_with("cut-back-refused-not", &[("piece", &piece.0)])
            }
        };
        self.refused("cut-trim-back-refused-title", piece, says, piece)
    }

    /// Why a loss is not taken back.
    pub fn still_broken(&self, piece: &PieceId, why: &NoWayBack) -> Refused {
        let texts = &self.app.texts;
        let (says, about) = match why {
            NoWayBack::Hangs(run) => (self.hangs(piece, run), piece),
            NoWayBack::NotCut => (texts.say_with("cut-back-refused-not", &[("piece", &piece.0)]), piece),
            NoWayBack::Before(since) => {
                (texts.say_with("cut-mend-refused-since", &[("piece", &piece.0), ("since", &since.0)]), since)
            }
        };
        self.refused("cut-mend-refused-title", piece, says, about)
    }

    /// Why a cut is not kept that a page with `print` asked for, and what to do with what is cut.
    pub fn no_cut(&self, piece: &PieceId, why: &NoCut, print: &PagePrint) -> Refused {
        let refused = self.because("cut-refused-title", piece, why);
        // Where the page said what this one says, somebody measured in the very moment: it is looked at again.
        let is_old = |entry: &&Entry| *why == NoCut::PlanChanged && entry.print() != *print;
        let Some(entry) = self.saw_state().entry(piece).filter(is_old) else { return refused };
        let (job, texts) = (&self.head.id, &self.app.texts);
        if let Some(offer) = self.offer(entry, print) {
            let piece_url = urls::cut_before(job, &piece.0, print);
            let piece_words = texts.say_with("cut-to-say", &[("piece", &piece.0)]);
            return Refused {
                says: offer.says.clone(),
                more: Some(offer.more.clone()),
                offer: Some(offer),
                piece_url,
                piece_words,
                ..refused
            };
        }
        let size = self.words.size(entry.would_be.width, entry.would_be.height);
        let says = texts.say_with("cut-refused-other-size", &[("piece", &piece.0), ("size", &size)]);
        let more = Some(texts.say("cut-refused-other-size-do"));
        Refused { says, more, fit_url: Some(urls::fit(job, &piece.0)), ..refused }
    }

    /// Why a cut is not kept of a piece that the plan does not have.
    pub fn no_such_piece(&self, piece: &PieceId) -> Refused {
        let says = self.app.texts.say_with("cut-refused-no-piece", &[("piece", &piece.0)]);
        let refused = self.refused("cut-refused-title", piece, says, piece);
        let piece_words = self.app.texts.say("rack-title");
        Refused { piece_url: urls::rack(&self.head.id), piece_words, ..refused }
    }

    /// "It is cut", for an open piece that an older page said to cut to the same shape.
    pub(super) fn offer(&self, entry: &Entry, old: &PagePrint) -> Option<Offer> {
        let piece = &self.saw_state().piece(entry).id;
        let print = entry.print();
        let is_open = entry.cut.is_none() && self.yard.hands.others(piece).is_none();
        (is_open && print != *old && old.is_same_piece(&print)).then(|| Offer {
            key: self.key(entry, 'o'),
            url: urls::cut(&self.head.id, &piece.0),
            print: print.as_str().to_owned(),
            old: old.as_str().to_owned(),
            more: self.app.texts.say("cut-refused-other-tile-do"),
            says: self
                .app
                .texts
                .say_with("cut-refused-other-tile", &[("piece", &piece.0), ("take", &self.take_of(piece))]),
        })
    }

    /// Why a cut is not taken back.
    pub fn no_way_back(&self, piece: &PieceId, why: &NoWayBack) -> Refused {
        let texts = &self.app.texts;
        let (says, about) = match why {
            NoWayBack::Hangs(run) => (self.hangs(piece, run), piece),
            NoWayBack::NotCut => (texts.say_with("cut-back-refused-not", &[("piece", &piece.0)]), piece),
            NoWayBack::Before(since) => {
                (texts.say_with("cut-back-refused-since", &[("piece", &piece.0), ("since", &since.0)]), since)
            }
        };
        self.refused("cut-back-refused-title", piece, says, about)
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
            NoCut::AlreadyTrimmed(trim) => {
                let (who, when) = (self.yard.log.name(&trim.author).to_owned(), self.times.at(trim.at));
                let values: [(&str, &dyn Said); 3] = [("piece", &piece.0), ("who", &who), ("when", &when)];
                (texts.say_with("cut-trim-refused-again", &values), piece)
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
            NoCut::Hangs(run) => (self.hangs(piece, run), piece),
            NoCut::JustBroke => (texts.say_with("cut-broke-again", &[("piece", &piece.0)]), piece),
            NoCut::PlanChanged => (texts.say_with("cut-refused-plan", &[("piece", &piece.0)]), piece),
        };
        self.refused(title, piece, says, about)
    }

    fn hangs(&self, piece: &PieceId, run: &str) -> String {
        self.app.texts.say_with("cut-refused-set", &[("piece", &piece.0), ("run", &run)])
    }

    fn refused(&self, title: &str, piece: &PieceId, says: String, about: &PieceId) -> Refused {
        let title = self.app.texts.say_with(title, &[("piece", &piece.0)]);
        Refused::new(self.app, self.head, title, says, about)
    }
}
