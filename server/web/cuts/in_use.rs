//! What a plan takes, with what is cut and cannot be used by it thrown away.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use trade::measure::TileId;
use trade::place::PieceId;

use super::saw::{Fits, Saw};
use crate::store::{CutRecord, Sawn};
use crate::work::Planned;

/// The cut pieces and tiles of a plan.
pub struct InUse {
    /// Cut pieces that it does not want, or not so.
    pub off: BTreeSet<PieceId>,
    /// How many of each kind of tile the job takes.
    pub tiles: BTreeMap<TileId, usize>,
}

impl InUse {
    /// By one plan and what was done.
    pub fn of(planned: &Arc<Planned>, sawn: &Sawn) -> Self {
        let unit = planned.job.unit;
        let saw = Saw::new(Arc::clone(planned), sawn.clone());
        let misfits = saw.entries.iter().filter(|entry| entry.fits(unit).is_some_and(Fits::is_off));
        let misfits = misfits.map(|entry| saw.piece(entry).id.clone());
        let off: BTreeSet<PieceId> =
            misfits.chain(saw.left_over.iter().map(|record| record.piece.clone())).collect();
        let (wasted, records): (Vec<CutRecord>, Vec<CutRecord>) =
            sawn.records.iter().cloned().partition(|record| off.contains(&record.piece));
        let kept = Sawn { records, ..sawn.clone() };
        let tiles = Saw::new(Arc::clone(planned), kept).needed_with(&wasted);
        Self { off, tiles }
    }
}
