//! Why a press is not taken, in words.

use askama::Template;
use trade::place::PieceId;

use super::saw::{NoCut, NoWayBack};
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
    piece_url: String,
    piece_words: String,
    saw_url: String,
}

impl Refused {
    /// In these words, with the way to the piece that they are about.
    pub fn new(app: &App, head: &JobHead, title: String, says: String, about: &PieceId) -> Self {
        Self {
            says,
            piece_url: urls::cut(&head.id, &about.0),
            piece_words: app.texts.say_with("cut-to-piece", &[("piece", &about.0)]),
            saw_url: urls::cuts(&head.id),
            frame: frame(app, head, title),
        }
    }
}

impl View<'_> {
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
            NoWayBack::Hangs(run) => (self.hangs(piece, run), piece),
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
