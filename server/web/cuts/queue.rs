//! The cuts of each wall in the order they are set.

use trade::measure::SurfaceId;
use trade::place::Piece;

use super::saw::Entry;
use super::view::View;
use crate::web::urls;

/// The cuts of one wall.
pub struct WallQueue {
    pub name: String,
    pub bring_up: String,
    pub lines: Vec<Line>,
}

/// One cut in the queue.
pub struct Line {
    pub label: String,
    pub url: String,
    /// The class that draws its shape.
    pub state: &'static str,
    pub says: String,
    pub more: String,
}

impl View<'_> {
    pub(super) fn walls(&self) -> Vec<WallQueue> {
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
        WallQueue { name: self.wall_name(id), bring_up, lines: Vec::new() }
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
