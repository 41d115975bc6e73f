//! What every page of the saw is drawn from, and the words that they share.

use trade::measure::SurfaceId;
use trade::offcut::Step;
use trade::place::{Piece, PieceId};

use super::saw::{Entry, Saw};
use super::words::Words;
use super::yard::Yard;
use crate::app::App;
use crate::store::{Claim, CutRecord, EventKey, JobHead};
use crate::web::page::{Frame, Here};
use crate::web::times::Times;
use crate::web::urls;

/// All that pages are drawn from.
pub struct View<'a> {
    pub(super) app: &'a App,
    pub(super) head: &'a JobHead,
    pub(super) yard: &'a Yard,
    pub(super) words: Words,
    pub(super) times: Times,
    /// What the keys of one page's forms begin with.
    keys: EventKey,
}

/// The button that takes a cut or a loss back.
pub struct BackForm {
    pub url: String,
    pub entry: String,
    pub words: String,
}

/// The frame of a page at the saw.
pub(super) fn frame(app: &App, head: &JobHead, title: String) -> Frame {
    Frame::of_job(app, title, &head.id, &head.name, Here::Saw)
}

impl<'a> View<'a> {
    /// The job as it stands.
    pub fn new(app: &'a App, head: &'a JobHead, yard: &'a Yard) -> Self {
        let words = Words::new(&app.texts, head.unit);
        Self {
            app,
            head,
            yard,
            words,
            times: Times::new(&app.texts, &head.zone, app.clock.now()),
            keys: EventKey::random(),
        }
    }

    /// The key of one form of one piece. All forms of a page share the chance in them, since chance does not
    /// compress and a page may have hundreds of forms.
    pub(super) fn key(&self, entry: &Entry, form: char) -> String {
        format!("{}-{}{form}", self.keys.as_str(), entry.number())
    }

    pub(super) fn saw_state(&self) -> &'a Saw {
        &self.yard.saw
    }

    pub(super) fn who(&self, record: &CutRecord) -> String {
        self.yard.log.author(record).to_owned()
    }

    pub(super) fn held(&self, claim: &Claim) -> String {
        let (who, when) = (self.yard.log.name(&claim.person).to_owned(), self.times.at(claim.taken));
        self.app.texts.say_with("cut-held", &[("who", &who), ("when", &when)])
    }

    /// What it is cut from; the tile is named where the job cuts several.
    pub(super) fn take(&self, entry: &Entry, step: &Step) -> String {
        let several = self.saw_state().planned.option.cutting.len() > 1;
        let tile = several.then_some(&entry.would_be.tile);
        self.words.take(step.take, entry.would_be.stock, tile)
    }

    pub(super) fn take_of(&self, piece: &PieceId) -> String {
        let entry = self.saw_state().entry(piece);
        let take = entry.and_then(|entry| Some(self.take(entry, entry.step.as_ref()?)));
        take.unwrap_or_default()
    }

    pub(super) fn done(&self, record: &CutRecord) -> String {
        if let Some(trim) = &record.trim {
            let (who, when) = (self.yard.log.name(&trim.author).to_owned(), self.times.at(trim.at));
            return self.app.texts.say_with("cut-trimmed", &[("who", &who), ("when", &when)]);
        }
        let when = self.times.at(record.at);
        self.app.texts.say_with("cut-done", &[("who", &self.who(record)), ("when", &when)])
    }

    pub(super) fn look(&self, entry: &Entry) -> Option<String> {
        let now = (entry.would_be.width, entry.would_be.height);
        self.words.look(entry.cut.as_ref()?, entry.fits(self.head.unit)?, now)
    }

    /// What takes back what was done last to a piece: its trim, or its cut.
    pub(super) fn back(&self, record: &CutRecord) -> BackForm {
        let (job, piece) = (&self.head.id, &record.piece.0);
        let (url, entry, key) = match &record.trim {
            Some(trim) => (urls::not_trimmed(job, piece), &trim.event, "cut-not-trimmed-after-all"),
            None => (urls::not_cut(job, piece), &record.event, "cut-not-after-all"),
        };
        BackForm { url, entry: entry.as_str().to_owned(), words: self.app.texts.say(key) }
    }

    /// Wall, course, and which one from the left.
    pub fn place(&self, piece: &Piece) -> String {
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

    pub(super) fn wall_name(&self, wall: &SurfaceId) -> String {
        let surface = self.saw_state().planned.job.surface(wall);
        surface.map_or_else(|| wall.to_string(), |surface| surface.name.clone())
    }
}
