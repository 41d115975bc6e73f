//! What is in the hands at the saw, seen by one device.

use trade::place::PieceId;

use crate::store::{Claim, DeviceId, PersonId};

/// Whose page it is, and what is in anybody's hand.
pub struct Hands {
    device: DeviceId,
    /// Nobody, for a board.
    person: Option<PersonId>,
    claims: Vec<Claim>,
}

impl Hands {
    /// As one device sees it.
    pub fn new(device: DeviceId, person: Option<PersonId>, claims: Vec<Claim>) -> Self {
        Self { device, person, claims }
    }

    /// What this device has in hand.
    pub fn own(&self) -> Option<&Claim> {
        self.claims.iter().find(|claim| claim.device == self.device)
    }

    /// Who else has that piece in hand: on another phone the same person goes on with it.
    pub fn others(&self, piece: &PieceId) -> Option<&Claim> {
        let is_others =
            |claim: &&Claim| claim.device != self.device && Some(&claim.person) != self.person.as_ref();
        self.claims.iter().filter(is_others).find(|claim| claim.piece == *piece)
    }

    /// Whether another device has anything in hand.
    pub fn several(&self) -> bool {
        self.claims.iter().any(|claim| claim.device != self.device)
    }

    /// Whose page it is.
    pub fn is_own(&self, device: &DeviceId) -> bool {
        self.device == *device
    }
}
