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
    /// A count that the prices told do not reach, so that it cannot be gone over with them. It is one of four: a quick
    /// count by areas, by the tile's sides or corners, where the steps did not suffice for prices that reach it; the most
    /// pairs of pieces of which no three share a tile (the tiles are at least those pieces less the pairs); prices or odd
    /// sets that hold only for patterns with no more pieces of a kind than are wanted, all of which were found; or choices
    /// of such patterns, all tried in turn.
    Search {
        /// What prices alone prove.
        prices: Prices,
        /// How many cases were looked at; 1 where no choices were tried.
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
