//! The cuts of each wall in the order they are set: what is to do with its whole sheet, so that the page goes on working
//! out of range, and what is cut in a line each.

use trade::place::Piece;

use super::saw::Entry;
use super::sheet::Sheet;
use super::view::View;
use crate::web::urls;

/// The cuts of one wall.
pub struct WallQueue {
    pub id: String,
    pub name: String,
    pub card_url: String,
    /// How many are to do.
    pub to_do: String,
    pub bring_up: String,
    pub sheets: Vec<Queued>,
    /// How many are cut.
    pub cut: String,
    pub done: Vec<Line>,
}

/// A piece to do, closed.
pub struct Queued {
    pub sheet: Sheet,
    /// Its size, and what it comes from.
    pub more: String,
    /// Who else has it in hand.
    pub held: Option<String>,
}

/// A piece that was cut.
pub struct Line {
    pub label: String,
    pub url: String,
    pub says: String,
    pub more: String,
}

/// A piece that was cut and no longer fits, closed.
pub struct Misfit {
    pub sheet: Sheet,
    /// How it is off.
    pub look: String,
}

impl View<'_> {
    /// Every wall that is cut for, without the piece that stands open above.
    pub(super) fn walls(&self, open: Option<&Entry>) -> Vec<WallQueue> {
        let entries = &self.saw_state().entries;
        let same_wall =
            |one: &Entry, other: &Entry| self.piece_of(one).surface == self.piece_of(other).surface;
        entries.chunk_by(same_wall).filter_map(|of_wall| self.wall(of_wall, open)).collect()
    }

    fn wall(&self, entries: &[Entry], open: Option<&Entry>) -> Option<WallQueue> {
        let texts = &self.app.texts;
        let id = &self.piece_of(entries.first()?).surface;
        let pieces = self.saw_state().planned.option.pieces.iter().filter(|piece| piece.surface == *id);
        let (whole, cuts): (Vec<&Piece>, Vec<&Piece>) = pieces.partition(|piece| piece.full);
        let is_open = |entry: &Entry| open.is_some_and(|open| open.number() == entry.number());
        let to_do = entries.iter().filter(|entry| entry.cut.is_none());
        let done: Vec<Line> = entries
            .iter()
            .filter(|entry| self.look(entry).is_none())
            .filter_map(|entry| self.line(entry))
            .collect();
        Some(WallQueue {
            id: id.to_string(),
            name: self.wall_name(id),
            card_url: urls::wall_card(&self.head.id, id),
            to_do: texts.say_with("saw-wall-to-do", &[("count", &to_do.clone().count())]),
            bring_up: texts.say_with("saw-bring-up", &[("whole", &whole.len()), ("cuts", &cuts.len())]),
            sheets: to_do.filter(|entry| !is_open(entry)).map(|entry| self.queued(entry)).collect(),
            cut: texts.say_with("saw-wall-cut", &[("count", &done.len())]),
            done,
        })
    }

    /// What was cut and no longer fits.
    pub(super) fn misfits(&self) -> Vec<Misfit> {
        let entries = self.saw_state().entries.iter();
        entries
            .filter_map(|entry| Some(Misfit { look: self.look(entry)?, sheet: self.sheet(entry) }))
            .collect()
    }

    fn queued(&self, entry: &Entry) -> Queued {
        let mut sheet = self.sheet(entry);
        // Out of range its own page is not there.
        if let (Some(wait), Some(before)) = (&mut sheet.wait, &entry.after) {
            wait.url = format!("#piece-{}", before.0);
        }
        let more = match &entry.step {
            Some(step) => {
                let take = self.take(entry, step);
                self.app.texts.say_with("saw-line", &[("size", &sheet.size), ("take", &take)])
            }
            None => sheet.size.clone(),
        };
        let held = self.yard.hands.others(&self.piece_of(entry).id).map(|claim| self.held(claim));
        Queued { sheet, more, held }
    }

    /// A piece that was cut; nothing for one to do.
    fn line(&self, entry: &Entry) -> Option<Line> {
        let record = entry.cut.as_ref()?;
        let label = self.piece_of(entry).id.0.clone();
        let more = self.words.size(entry.would_be.width, entry.would_be.height);
        Some(Line { url: urls::cut(&self.head.id, &label), label, says: self.done(record), more })
    }

    fn piece_of(&self, entry: &Entry) -> &Piece {
        self.saw_state().piece(entry)
    }
}
