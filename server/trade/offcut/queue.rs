//! The order of work at the saw: what each piece is taken from, which cuts free it, and what is left over.
//!
//! Pieces come in the order they are set. Of its tile's cuts a piece asks only for those that part it from the
//! rest and were not made for a piece before it; since the cuts of a tile lie one within the other, these can always
//! be made. What they leave over is kept where another piece comes out of it, and otherwise is waste. So an offcut
//! exists as soon as the pieces before it on the same tile are cut, and not earlier.

use std::collections::BTreeSet;

use super::{Axis, Cut, Gone, Place, Plan, Problem, Stock, Turn};
use crate::geometry::{Rect, Side, Sides};
use crate::measure::Length;

/// Which pieces are cut already, as indices into [`Problem::pieces`].
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Progress {
    /// Cut from the tile that the plan says.
    pub here: BTreeSet<usize>,
    /// Cut from another tile, so that nothing of this plan's tiles is gone for them. They have no step.
    pub elsewhere: BTreeSet<usize>,
}

/// One piece at the saw. Rectangles are as the tile lies face up on the table, until [`Step::upright`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Step {
    /// Index into [`Problem::pieces`].
    pub piece: usize,
    /// Index into [`Plan::stock`].
    pub stock: usize,
    /// What is laid on the saw.
    pub take: Take,
    /// Its room on the tile.
    pub on_saw: Part,
    /// In the order made. None where the piece came free to size with one before it.
    pub cuts: Vec<SawCut>,
    /// The piece's own rectangle.
    pub kept: Part,
    /// What else then lies on the saw.
    pub leaves: Vec<Leftover>,
    /// The piece that has to be cut from the same tile before.
    pub after: Option<usize>,
    /// The whole tile, or the racked offcut as it was before anything of this plan was cut from it.
    pub tile: Rect,
    /// From what lies here to the wall, counter-clockwise.
    pub turn: Turn,
}

/// What a piece is cut from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Take {
    /// A whole tile.
    WholeTile,
    /// An offcut of earlier work: an index into [`Problem::rack`].
    Racked(usize),
    /// An offcut that a piece of this plan left.
    Offcut(Label),
}

/// What is written on an offcut: its tile, and which of those that lie there of it at once.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Label {
    /// Index into [`Plan::stock`].
    pub stock: usize,
    /// 0 for the first.
    pub nth: usize,
}

/// A rectangle of a tile or of a racked offcut, and its sides that are a tile's own.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Part {
    /// Where it lies on the tile.
    pub at: Rect,
    /// Which of its sides are factory edges.
    pub own: Sides,
}

/// One saw cut, right across a part.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct SawCut {
    /// What is cut.
    pub part: Part,
    /// The side that the fence stands against.
    pub from: Side,
    /// How much is kept from that side; the kerf lies beyond.
    pub keep: Length,
}

/// What a piece leaves over.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Leftover {
    /// Its room on the tile.
    pub part: Part,
    /// What to write on it, or what was written on it before the plan was made again; nothing where it is waste.
    pub label: Option<Label>,
    /// The pieces that come out of it, in setting order.
    pub holds: Vec<usize>,
}

/// An offcut that lies on the rack.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lying {
    /// What is written on it.
    pub label: Label,
    /// Where it lay on its tile.
    pub part: Part,
    /// What is planned on it, as indices into [`Problem::pieces`], in setting order.
    pub holds: Vec<usize>,
    /// The piece that left it.
    pub from: String,
}

/// A step for every piece but those cut elsewhere, in the order they are set.
pub fn queue(problem: &Problem, plan: &Plan, progress: &Progress) -> Vec<Step> {
    let tiles = plan.stock.iter().enumerate();
    let mut steps: Vec<Step> =
        tiles.flat_map(|(index, stock)| queue_of(problem, (index, stock), progress)).collect();
    steps.sort_by_key(|step| step.piece);
    steps
}

/// The steps of one tile, the one at that index of the plan's stock: what is cut first.
pub fn queue_of(problem: &Problem, (index, stock): (usize, &Stock), progress: &Progress) -> Vec<Step> {
    Table::new(problem, index, stock).steps(progress)
}

/// What lies on the rack of one tile, once what is cut of it is cut.
pub fn lying(problem: &Problem, (index, stock): (usize, &Stock), progress: &Progress) -> Vec<Lying> {
    let mut table = Table::new(problem, index, stock);
    let mut lying = std::mem::take(&mut table.lying);
    for step in table.steps(progress).into_iter().filter(|step| progress.here.contains(&step.piece)) {
        let from = &problem.pieces()[step.piece].id;
        lying.retain(|offcut: &Lying| offcut.part.at != step.on_saw.at);
        lying.extend(step.leaves.into_iter().filter_map(|left| left.lying(from)));
    }
    lying
}

/// What lies there of one tile, as one piece after the other is cut from it.
struct Table<'p> {
    index: usize,
    stock: &'p Stock,
    kerf: Length,
    /// What is laid on the table first, and how.
    whole: Part,
    first_take: Take,
    parts: Vec<(Rect, Take)>,
    /// Labels given out so far.
    labels: usize,
    /// What lies on the rack of what was lost.
    lying: Vec<Lying>,
}

impl<'p> Table<'p> {
    fn new(problem: &Problem, index: usize, stock: &'p Stock) -> Self {
        let sized = |right, top| Rect { left: Length::ZERO, bottom: Length::ZERO, right, top };
        let racked = stock.rack.and_then(|rack| Some((rack, problem.rack().get(rack)?)));
        let (whole, first_take) = match racked {
            Some((rack, offcut)) => {
                let at = sized(offcut.width, offcut.height);
                (Part { at, own: offcut.factory }, Take::Racked(rack))
            }
            None => {
                let at = sized(problem.tile_width(), problem.tile_height());
                (Part { at, own: Sides::ALL }, Take::WholeTile)
            }
        };
        let parts = vec![(whole.at, first_take)];
        // No label is given out twice, whatever became of the offcut that bore it.
        let labels = written(stock).map(|(_, nth)| nth + 1).max().unwrap_or_default();
        let (kerf, lying) = (problem.kerf(), Vec::new());
        let mut table = Self { index, stock, kerf, whole, first_take, parts, labels, lying };
        stock.gone().iter().for_each(|gone| table.lose(gone));
        table
    }

    /// Takes away what was lost: the cuts that freed it were made.
    fn lose(&mut self, gone: &Gone) {
        let (on_saw, take) = self.pick_up(&gone.at);
        let (_, rest) = self.freed(on_saw, &gone.at);
        // What nobody wrote on lies there too while something else that was lost is still to come out of it.
        let holds_another = |at: &Rect| self.stock.gone().iter().any(|other| at.holds(&other.at));
        let others: Vec<Rect> = rest.iter().copied().filter(holds_another).collect();
        let leaves = self.put_down(rest, None, take);
        for at in others {
            if self.parts.iter().all(|(part, _)| *part != at) {
                self.parts.push((at, take));
            }
        }
        self.lying.retain(|offcut| offcut.part.at != on_saw);
        self.lying.extend(leaves.into_iter().filter_map(|left| left.lying(&gone.piece)));
    }

    /// Takes up what lies there with room for this.
    fn pick_up(&mut self, at: &Rect) -> (Rect, Take) {
        let lying = self.parts.iter().position(|(part, _)| part.holds(at));
        lying.map_or((self.whole.at, self.first_take), |position| self.parts.swap_remove(position))
    }

    /// The cuts that free this, and what they leave.
    fn freed(&self, on_saw: Rect, at: &Rect) -> (Vec<&'p Cut>, Vec<Rect>) {
        let (mut cuts, mut rest, mut in_hand) = (Vec::new(), Vec::new(), on_saw);
        for cut in &self.stock.cuts {
            if cut.part == in_hand && in_hand != *at {
                cuts.push(cut);
                let (holding, others): (Vec<Rect>, Vec<Rect>) =
                    halves(cut, self.kerf).partition(|half: &Rect| half.holds(at));
                rest.extend(others);
                in_hand = holding.first().copied().unwrap_or(*at);
            }
        }
        (cuts, rest)
    }

    fn steps(mut self, progress: &Progress) -> Vec<Step> {
        let mut places: Vec<&Place> = self.stock.places.iter().collect();
        places.retain(|place| !progress.elsewhere.contains(&place.piece));
        // What is cut was cut before what is not, whatever is taken back or cut again.
        places.sort_by_key(|place| (!progress.here.contains(&place.piece), place.piece));
        let mut uncut = None;
        let mut steps = Vec::with_capacity(places.len());
        for place in places {
            steps.push(Step { after: uncut, ..self.step(place) });
            if !progress.here.contains(&place.piece) {
                uncut = Some(place.piece);
            }
        }
        steps
    }

    fn step(&mut self, place: &Place) -> Step {
        let (on_saw, take) = self.pick_up(&place.at);
        let (cuts, rest) = self.freed(on_saw, &place.at);
        let cuts = cuts.into_iter().map(|cut| self.saw_cut(cut, place)).collect();
        Step {
            piece: place.piece,
            stock: self.index,
            take,
            on_saw: self.part(on_saw),
            cuts,
            kept: self.part(place.at),
            leaves: self.put_down(rest, Some(place.piece), take),
            after: None,
            tile: self.whole.at,
            turn: place.turn,
        }
    }

    /// Lays what is left over on the rack. What bears a label already keeps it; of the rest the first keeps the label of
    /// what it is cut from.
    fn put_down(&mut self, rest: Vec<Rect>, taken: Option<usize>, from: Take) -> Vec<Leftover> {
        let mut old = match from {
            Take::WholeTile | Take::Racked(_) => None,
            Take::Offcut(label) => Some(label),
        };
        let mut leaves = Vec::with_capacity(rest.len());
        for at in rest {
            let stays = |place: &&Place| at.holds(&place.at) && Some(place.piece) != taken;
            let inside = self.stock.places.iter().filter(stays);
            let mut holds: Vec<usize> = inside.map(|place| place.piece).collect();
            holds.sort_unstable();
            let known = written(self.stock).find(|(lies, _)| *lies == at);
            let label = match known.map(|(_, nth)| Label { stock: self.index, nth }) {
                Some(label) => {
                    old = old.filter(|old| *old != label);
                    Some(label)
                }
                None => (!holds.is_empty()).then(|| old.take().unwrap_or_else(|| self.next_label())),
            };
            if let Some(label) = label {
                self.parts.push((at, Take::Offcut(label)));
            }
            leaves.push(Leftover { part: self.part(at), label, holds });
        }
        leaves
    }

    fn next_label(&mut self) -> Label {
        self.labels += 1;
        Label { stock: self.index, nth: self.labels - 1 }
    }

    /// The fence stands so that the piece in hand comes out exactly, or else another that ends at this cut: what
    /// lies across the kerf depends on the blade.
    fn saw_cut(&self, cut: &Cut, in_hand: &Place) -> SawCut {
        let (low, high) = cut.across.sides();
        let inside = || self.stock.places.iter().filter(|place| cut.part.holds(&place.at));
        let ends_here = |place: &Place| place.at.at(high) == cut.at;
        let begins_here = |place: &Place| place.at.at(low) == cut.at + self.kerf;
        let from_low = if ends_here(in_hand) || begins_here(in_hand) {
            ends_here(in_hand)
        } else if inside().any(ends_here) || inside().any(begins_here) {
            inside().any(ends_here)
        } else {
            inside().any(|place| place.at.at(high) <= cut.at)
        };
        let (from, keep) = if from_low {
            (low, cut.at - cut.part.at(low))
        } else {
            (high, cut.part.at(high) - cut.at - self.kerf)
        };
        SawCut { part: self.part(cut.part), from, keep }
    }

    fn part(&self, at: Rect) -> Part {
        Part::of(&self.whole, at)
    }
}

/// What was written on the offcuts of a tile before this plan was made.
fn written(stock: &Stock) -> impl Iterator<Item = (Rect, usize)> + '_ {
    stock.begun.iter().flat_map(|begun| begun.written.iter().copied())
}

/// The one or two parts that a cut leaves, the lower one first.
fn halves(cut: &Cut, kerf: Length) -> impl Iterator<Item = Rect> {
    let (first, second) = match cut.across {
        Axis::X => (Rect { right: cut.at, ..cut.part }, Rect { left: cut.at + kerf, ..cut.part }),
        Axis::Y => (Rect { top: cut.at, ..cut.part }, Rect { bottom: cut.at + kerf, ..cut.part }),
    };
    [first, second].into_iter().filter(|half| !half.is_empty())
}

impl Step {
    /// The same step with everything turned so that the piece stands as on the wall.
    #[must_use]
    pub fn upright(&self) -> Self {
        let turned = |part: Part| Part {
            at: self.turn.carried(part.at, &self.tile),
            own: part.own.iter().map(|side| self.turn.to_wall(side)).collect(),
        };
        let cut = |cut: &SawCut| SawCut {
            part: turned(cut.part),
            from: self.turn.to_wall(cut.from),
            keep: cut.keep,
        };
        let leaves = self.leaves.iter().map(|left| Leftover { part: turned(left.part), ..left.clone() });
        Self {
            on_saw: turned(self.on_saw),
            cuts: self.cuts.iter().map(cut).collect(),
            kept: turned(self.kept),
            leaves: leaves.collect(),
            tile: self.turn.of_tile(&self.tile),
            turn: Turn::None,
            ..*self
        }
    }
}

impl Leftover {
    /// Where it is kept.
    fn lying(self, from: &str) -> Option<Lying> {
        let Self { part, label, holds } = self;
        Some(Lying { label: label?, part, holds, from: from.to_owned() })
    }
}

impl Part {
    fn of(whole: &Self, at: Rect) -> Self {
        let is_own = |side: &Side| whole.own.has(*side) && at.at(*side) == whole.at.at(*side);
        Self { at, own: Side::ALL.into_iter().filter(is_own).collect() }
    }
}

impl SawCut {
    /// Where the kept part ends: the edge to mark.
    pub fn mark(&self) -> Length {
        match self.from {
            Side::Left | Side::Bottom => self.part.at.at(self.from) + self.keep,
            Side::Right | Side::Top => self.part.at.at(self.from) - self.keep,
        }
    }

    /// Which coordinate stays constant along the blade.
    pub const fn across(&self) -> Axis {
        match self.from {
            Side::Left | Side::Right => Axis::X,
            Side::Bottom | Side::Top => Axis::Y,
        }
    }
}

impl Turn {
    /// Back again.
    const fn back(self) -> Self {
        match self {
            Self::None => Self::None,
            Self::Quarter => Self::ThreeQuarter,
            Self::Half => Self::Half,
            Self::ThreeQuarter => Self::Quarter,
        }
    }

    /// Where a side on the table comes to be on the wall.
    const fn to_wall(self, side: Side) -> Side {
        self.back().to_table(side)
    }

    /// The whole tile, turned about and laid down with its lower left corner at the origin.
    fn of_tile(self, tile: &Rect) -> Rect {
        self.carried(*tile, tile)
    }

    /// A rectangle carried along when its tile is turned and laid down again at the origin.
    fn carried(self, at: Rect, tile: &Rect) -> Rect {
        match self {
            Self::None => at,
            Self::Quarter => {
                Rect { left: tile.top - at.top, bottom: at.left, right: tile.top - at.bottom, top: at.right }
            }
            Self::Half => Rect {
                left: tile.right - at.right,
                bottom: tile.top - at.top,
                right: tile.right - at.left,
                top: tile.top - at.bottom,
            },
            Self::ThreeQuarter => Rect {
                left: at.bottom,
                bottom: tile.right - at.right,
                right: at.top,
                top: tile.right - at.left,
            },
        }
    }
}

#[cfg(test)]
mod tests;
