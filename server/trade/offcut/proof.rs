//! Why no plan uses fewer tiles, in a form that anyone can go over with a few lines of dynamic programming.

/// The argument for a bound: parts whose pieces never mix, so that their bounds add up.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Proof {
    /// Each piece of the problem is in exactly one.
    pub parts: Vec<Part>,
}

/// The argument for some pieces that share tiles only with one another.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Part {
    /// Indices into [`super::Problem::pieces`], in setting order.
    pub pieces: Vec<usize>,
    /// New tiles that these pieces take at least.
    pub tiles: usize,
    /// Why.
    pub reason: Reason,
}

/// Why some pieces take so many tiles at least.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Reason {
    /// Every piece has a price and no tile holds pieces worth more than the best pattern: the tiles are at least
    /// the sum of the prices, less what the racked offcuts can hold, over that, rounded up.
    Prices(Prices),
    /// The same, with sets of pieces of which a tile may hold an odd number.
    OddSets {
        /// What pieces are worth by themselves.
        prices: Prices,
        /// A pattern is worth `price * ceil(its pieces in the set / 2)` more for each set.
        sets: Vec<OddSet>,
    },
    /// What prices alone do not show: every way to cut was tried, or shown to need more tiles; or, with `cases` 1, the
    /// bound was counted over the pieces as a whole (which can share a tile at all, or all sets of them that can be cut
    /// from one). Nobody can go over this part with prices alone.
    Search {
        /// What prices alone prove.
        prices: Prices,
        /// How many cases were looked at.
        cases: u64,
    },
}

/// Prices in whole numbers.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Prices {
    /// One for each piece of the part, in the same order; none below zero.
    pub each: Vec<i64>,
    /// The most that pieces cut from one tile are worth, copies unlimited (with the sets, if there are any).
    pub best_pattern: i64,
    /// The most that pieces cut from each racked offcut are worth; empty without a rack.
    pub best_of_rack: Vec<i64>,
}

/// Pieces of which a tile may hold an odd number.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OddSet {
    /// Indices into [`super::Problem::pieces`].
    pub pieces: Vec<usize>,
    /// The multiplier; above zero.
    pub price: i64,
}
