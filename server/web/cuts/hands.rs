//! What is in the hands at the saw, seen by one device.

use trade::place::PieceId;

use crate::store::{Claim, DeviceId};

/// Whose page it is, and what is in anybody's hand.
pub struct Hands {
    device: DeviceId,
    claims: Vec<Claim>,
}

impl Hands {
    /// As one device sees it.
    pub fn new(device: DeviceId, claims: Vec<Claim>) -> Self {
        Self { device, claims }
    }

    /// What this device has in hand.
    pub fn own(&self) -> Option<&Claim> {
        self.claims.iter().find(|claim| claim.device == self.device)
    }

    /// Who else has that piece in hand.
    pub fn others(&self, piece: &PieceId) -> Option<&Claim> {
        self.claims.iter().find(|claim| claim.device != self.device && claim.piece == *piece)
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
