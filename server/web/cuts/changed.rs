//! What is in a hand and was changed since it was taken: whoever holds it is told, and presses once more before it counts
//! as cut, since what lies on the saw may have been set to the size before.
//!
//! The log alone tells it: what was measured since, and what another layout moved (`Relaid::moved`).

use trade::measure::Length;
use trade::place::PieceId;

use super::sheet::HandForm;
use super::view::View;
use crate::store::{
    CLAIM_HOLDS, Claim, CutLog, DeviceId, Event, MEASURED, MeasuredRecord, NOT_MEASURED, PersonId, RELAID,
    Relaid, Sawn, StoreError, TAKEN_OVER, TakenOver,
};
use crate::texts::Said;
use crate::web::cuts::saw::Entry;
use crate::web::fit;
use crate::web::urls;
use trade::cure::Instant;

/// A piece that changed in the hand.
pub struct Changed {
    pub piece: PieceId,
    /// Width and height when it was taken.
    was: Size,
    /// What changed it last.
    by: By,
    author: PersonId,
    at: Instant,
}

/// Width and height.
type Size = (Length, Length);

/// What changed a piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum By {
    Measuring,
    TakingBack,
    Layout,
}

/// What the page says of it, and the button that goes on with it.
pub struct ChangedForm {
    pub says: String,
    pub more: String,
    pub go_on: HandForm,
    pub button: String,
}

impl Changed {
    /// What came of the piece in hand since it was taken; nothing where it is as it was.
    ///
    /// # Errors
    ///
    /// When an entry of the log cannot be read.
    pub fn since(log: &CutLog, claim: &Claim) -> Result<Option<Self>, StoreError> {
        let mut changed: Option<Self> = None;
        let all = log.entries.iter().enumerate();
        for (at, event) in all.filter(|(_, event)| event.received.wall > claim.taken) {
            let Some((was, by)) = size_before(&log.entries[..at], event, &claim.piece)? else { continue };
            let was = changed.as_ref().map_or(was, |before| before.was);
            let (author, at) = (event.author.clone(), event.received.wall);
            changed = Some(Self { piece: claim.piece.clone(), was, by, author, at });
        }
        Ok(changed)
    }
}

/// The size that a piece had before an entry that gave it another.
fn size_before(before: &[Event], event: &Event, piece: &PieceId) -> Result<Option<(Size, By)>, StoreError> {
    let true_size = || -> Result<_, StoreError> { Ok(Sawn::of(before)?.true_sizes().get(piece).cloned()) };
    let of_piece = |event: &Event| -> Result<_, StoreError> {
        let sizes = MeasuredRecord::of(event)?.found.sizes;
        Ok(sizes.into_iter().find(|(of, _)| of == piece).map(|(_, size)| size))
    };
    let (bounds, by) = match event.kind.as_str() {
        MEASURED => {
            let Some(found) = of_piece(event)? else { return Ok(None) };
            (true_size()?.map_or(found.planned, |size| fit::as_measured(&size)), By::Measuring)
        }
        NOT_MEASURED => {
            let taken_back = before.iter().find(|of| Some(&of.id) == event.supersedes.as_ref());
            let was_of_it = taken_back.map(of_piece).transpose()?.flatten().is_some();
            let Some(size) = true_size()?.filter(|_| was_of_it) else { return Ok(None) };
            (fit::as_measured(&size), By::TakingBack)
        }
        RELAID => {
            let moved = Relaid::of(event)?.moved.into_iter().find(|of| of.piece == *piece);
            return Ok(moved.map(|of| ((of.width, of.height), By::Layout)));
        }
        _ => return Ok(None),
    };
    Ok(Some(((bounds.width(), bounds.height()), by)))
}

impl View<'_> {
    /// What is said of an open piece that changed in this hand.
    pub(super) fn changed(&self, entry: &Entry) -> Option<ChangedForm> {
        let piece = &self.saw_state().piece(entry).id;
        let changed = self.yard.changed.as_ref().filter(|of| of.piece == *piece && entry.cut.is_none())?;
        let size = |(width, height)| self.words.size(width, height);
        let (was, now) = (size(changed.was), size((entry.would_be.width, entry.would_be.height)));
        if was == now && changed.by != By::Layout {
            return None;
        }
        let (was, now) = self.words.differing(changed.was, (entry.would_be.width, entry.would_be.height));
        let texts = &self.app.texts;
        let by = self.changed_by(changed);
        let values: [(&str, &dyn Said); 3] = [("was", &was), ("now", &now), ("by", &by)];
        let key = if was == now { "cut-changed-shape" } else { "cut-changed" };
        Some(ChangedForm {
            says: texts.say_with(key, &values),
            more: texts.say("cut-changed-do"),
            go_on: HandForm { key: self.key(entry, 'a'), url: urls::take_in_hand(&self.head.id, &piece.0) },
            button: texts.say_with("cut-changed-go-on", &[("now", &now)]),
        })
    }

    /// What is said of a piece that the lead took out of this hand, until this hand has another or the piece is cut.
    ///
    /// # Errors
    ///
    /// When an entry of the log cannot be read.
    pub(super) fn taken_from_hand(&self) -> Result<Option<String>, StoreError> {
        let (yard, now) = (self.yard, self.app.clock.now());
        let lately = |event: &&Event| event.kind == TAKEN_OVER && event.received.wall + CLAIM_HOLDS > now;
        for event in yard.log.entries.iter().rev().filter(lately) {
            if yard.hands.is_own(&DeviceId::from(TakenOver::of(event)?.device)) {
                return Ok(self.taken_by(event));
            }
        }
        Ok(None)
    }

    fn taken_by(&self, event: &Event) -> Option<String> {
        let yard = self.yard;
        let is_over = yard.hands.own().is_some_and(|own| own.taken > event.received.wall);
        let is_cut =
            self.saw_state().entry(&PieceId(event.part.clone())).is_none_or(|entry| entry.cut.is_some());
        let (who, when) = (yard.log.name(&event.author).to_owned(), self.times.at(event.received.wall));
        let values: [(&str, &dyn Said); 3] = [("piece", &event.part), ("who", &who), ("when", &when)];
        (!is_over && !is_cut).then(|| self.app.texts.say_with("cut-taken-from-you", &values))
    }

    /// What is said of a piece in this hand that is not cut any more.
    pub(super) fn gone_from_hand(&self) -> Option<String> {
        let changed = self.yard.changed.as_ref()?;
        let is_gone = self.saw_state().entry(&changed.piece).is_none();
        let (piece, by) = (&changed.piece.0, self.changed_by(changed));
        is_gone.then(|| self.app.texts.say_with("cut-changed-gone", &[("piece", piece), ("by", &by)]))
    }

    fn changed_by(&self, changed: &Changed) -> String {
        let key = match changed.by {
            By::Measuring => "cut-changed-measured",
            By::TakingBack => "cut-changed-taken-back",
            By::Layout => "cut-changed-layout",
        };
        let (who, when) = (self.yard.log.name(&changed.author).to_owned(), self.times.at(changed.at));
        self.app.texts.say_with(key, &[("who", &who), ("when", &when)])
    }
}
