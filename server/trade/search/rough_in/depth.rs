//! How deep a valve sits.

use crate::measure::Length;

/// A valve's depth: everything is measured from its back, or from whatever its maker's sheet measures from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Depth {
    /// To the face of the bare wall that the mortar goes on.
    pub to_bare_wall: Length,
    /// Bed and tile.
    pub build_up: Length,
    /// Where the finished wall may be, as the valve's own sheet says.
    pub window: (Length, Length),
}

/// Whether it fits, or where to move the valve.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum DepthVerdict {
    /// It fits, with so much to spare towards the nearer and the farther end of the window.
    Fits { to_least: Length, to_most: Length },
    /// The finished wall comes too near: the valve goes back into the wall by this much at least and at most.
    MoveBack { least: Length, most: Length },
    /// The finished wall stays too far: the valve comes forward.
    MoveForward { least: Length, most: Length },
}

impl Depth {
    /// To the face of the tile.
    pub fn finished(&self) -> Length {
        self.to_bare_wall + self.build_up
    }

    /// Whether the finished wall is in the window.
    pub fn verdict(&self) -> DepthVerdict {
        let (finished, (least, most)) = (self.finished(), self.window);
        if finished < least {
            DepthVerdict::MoveBack { least: least - finished, most: most - finished }
        } else if finished > most {
            DepthVerdict::MoveForward { least: finished - most, most: finished - least }
        } else {
            DepthVerdict::Fits { to_least: finished - least, to_most: most - finished }
        }
    }
}
