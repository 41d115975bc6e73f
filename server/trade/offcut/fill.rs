//! What every part of a tile is worth, many parts at once.
//!
//! The worth of a part follows from those of narrower parts as high and of lower ones as wide. So heights are gone through
//! in bands of [`LANES`], in each band the widths one after the other: what a cut leaves beside another is then added for
//! the whole band at once. What a cut leaves one over the other is of one width, so for that the values are kept a second
//! time, in strips of as many widths; only where one of the two lies in the band itself they are taken one by one.

use std::ops::Range;

use super::lattice::Lattice;
use super::steps::Steps;

/// So many are added and compared at once.
const LANES: usize = 32;

/// What parts are worth: small numbers, of which a processor takes several at once, the more the smaller they are.
pub(super) trait Value: Copy + Ord + From<i16> + Into<i64> {
    /// The most that may be told apart.
    const MOST: i64;
    /// What cannot be.
    const NEVER: Self;
    /// How many of them are taken in the time of one step.
    const A_STEP: usize;

    /// A number that is not too large.
    fn of(worth: i64) -> Self;
    /// What is more than can be told stays the most.
    fn plus(self, other: Self) -> Self;
    fn less(self, other: Self) -> Self;
}

/// What is looked at: sizes and cuts, and by which of some sets a part holds an odd number of.
pub(super) struct Parts<'l, V> {
    pub(super) across: &'l Lattice,
    pub(super) up: &'l Lattice,
    /// What is taken off where both parts are odd in these sets; of as many as there are ways to be odd.
    pub(super) twice: &'l [V],
}

/// The worth of one piece that fills a part by itself.
pub(super) struct Seated<V> {
    pub(super) at: (usize, usize),
    pub(super) mask: usize,
    pub(super) worth: V,
}

/// By band, point across and set; each of [`LANES`] points up.
pub(super) struct Values<V> {
    bands: Vec<[V; LANES]>,
    across: usize,
    masks: usize,
}

impl<V: Value> Values<V> {
    /// What a part is worth that is odd in the sets of the mask.
    pub(super) fn at(&self, across: usize, mask: usize, up: usize) -> V {
        self.tile(up / LANES, across, mask)[up % LANES]
    }

    fn tile(&self, band: usize, across: usize, mask: usize) -> &[V; LANES] {
        &self.bands[(band * self.across + across) * self.masks + mask]
    }
}

/// Nothing when the steps run out.
pub(super) fn fill<V: Value>(
    parts: &Parts<'_, V>,
    seated: impl Iterator<Item = Seated<V>>,
    steps: &mut Steps,
) -> Option<Values<V>> {
    let Parts { across, up, twice } = *parts;
    let masks = twice.len();
    let bands = up.len().div_ceil(LANES);
    let nothing = |mask: usize| if mask == 0 { V::from(0) } else { V::NEVER };
    let blank = (0..bands * across.len()).flat_map(|_| (0..masks).map(|mask| [nothing(mask); LANES]));
    let mut values = Values { bands: blank.collect(), across: across.len(), masks };
    for Seated { at, mask, worth } in seated {
        let tile = &mut values.bands[(at.1 / LANES * across.len() + at.0) * masks + mask];
        tile[at.1 % LANES] = tile[at.1 % LANES].max(worth);
    }
    let mut strips = Strips::new(across.len(), up.len(), masks);
    let beside: usize = (0..across.len()).map(|width| across.count_cuts(width)).sum();
    for band in 0..bands {
        let from = band * LANES;
        let heights = from..up.len().min(from + LANES);
        let cuts = BandCuts::new(up, heights.clone());
        let over: usize = heights.clone().map(|height| up.count_cuts(height)).sum();
        if !steps.spend(1 + (beside * LANES + over * across.len()) * masks * masks / V::A_STEP) {
            return None;
        }
        let mut filling = Band { parts, cuts, from, values: &mut values, strips: &mut strips };
        let lower = filling.over_lower_bands();
        for across in 0..across.len() {
            filling.fill(across, &lower);
        }
    }
    Some(values)
}

/// By strip, point up and set; each of [`LANES`] points across.
struct Strips<V> {
    all: Vec<[V; LANES]>,
    count: usize,
    ups: usize,
    masks: usize,
}

impl<V: Value> Strips<V> {
    fn new(across: usize, ups: usize, masks: usize) -> Self {
        let count = across.div_ceil(LANES);
        Self { all: vec![[V::NEVER; LANES]; count * ups * masks], count, ups, masks }
    }

    const fn index(&self, strip: usize, up: usize, mask: usize) -> usize {
        (strip * self.ups + up) * self.masks + mask
    }
}

/// For each height of a band the pairs of parts that one cut leaves one over the other.
struct BandCuts {
    /// Both in lower bands.
    lower: Vec<Vec<(usize, usize)>>,
    /// Of which one is in this band.
    here: Vec<Vec<(usize, usize)>>,
}

impl BandCuts {
    fn new(up: &Lattice, heights: Range<usize>) -> Self {
        let from = heights.start;
        let parted = |height: usize| up.cuts(height).partition(|(one, two)| one.max(two) < &from);
        let (lower, here) = heights.map(parted).unzip();
        Self { lower, here }
    }
}

/// One band on its way.
struct Band<'b, V> {
    parts: &'b Parts<'b, V>,
    cuts: BandCuts,
    from: usize,
    values: &'b mut Values<V>,
    strips: &'b mut Strips<V>,
}

impl<V: Value> Band<'_, V> {
    /// For each height and strip the most that two parts of lower bands are worth, one over the other.
    fn over_lower_bands(&self) -> Strips<V> {
        let (masks, strips) = (self.strips.masks, &self.strips);
        let mut lower = Strips::new(self.parts.across.len(), self.cuts.lower.len(), masks);
        for strip in 0..strips.count {
            for (height, cuts) in self.cuts.lower.iter().enumerate() {
                for (a, b) in pairs(masks) {
                    let mut best = [V::NEVER; LANES];
                    for &(one, two) in cuts {
                        let one = &strips.all[strips.index(strip, one, a)];
                        let two = &strips.all[strips.index(strip, two, b)];
                        take_sums(&mut best, one, two);
                    }
                    let index = lower.index(strip, height, a ^ b);
                    take_less(&mut lower.all[index], &best, self.parts.twice[a & b]);
                }
            }
        }
        lower
    }

    /// The parts of one width, narrower ones being known.
    fn fill(&mut self, across: usize, lower: &Strips<V>) {
        let (masks, band) = (self.values.masks, self.from / LANES);
        let first = (band * self.values.across + across) * masks;
        let (known, rest) = self.values.bands.split_at_mut(first);
        let row = &mut rest[..masks];
        let narrower =
            |across: usize, mask: usize| &known[(band * self.values.across + across) * masks + mask];
        for (mask, tile) in row.iter_mut().enumerate() {
            for (height, value) in tile.iter_mut().enumerate().take(lower.ups) {
                *value = (*value).max(lower.all[lower.index(across / LANES, height, mask)][across % LANES]);
            }
            for within in self.parts.across.within(across) {
                take(tile, narrower(within, mask));
            }
        }
        for (a, b) in pairs(masks) {
            let mut best = [V::NEVER; LANES];
            for (one, two) in self.parts.across.cuts(across) {
                take_sums(&mut best, narrower(one, a), narrower(two, b));
            }
            take_less(&mut row[a ^ b], &best, self.parts.twice[a & b]);
        }
        for height in 0..lower.ups {
            self.take_from_below(across, height);
        }
    }

    /// What is worth no more than a lower part in this band, or than one in it and one over or under it.
    fn take_from_below(&mut self, across: usize, height: usize) {
        let (masks, band, up) = (self.values.masks, self.from / LANES, self.from + height);
        let first = (band * self.values.across + across) * masks;
        for mask in 0..masks {
            let within = self.parts.up.within(up);
            let most = within.map(|within| self.values.at(across, mask, within)).max();
            let value = &mut self.values.bands[first + mask][height];
            *value = most.map_or(*value, |most| most.max(*value));
        }
        for (a, b) in pairs(masks) {
            let mut best = V::NEVER;
            for &(one, two) in &self.cuts.here[height] {
                best = best.max(self.values.at(across, a, one).plus(self.values.at(across, b, two)));
            }
            let value = &mut self.values.bands[first + (a ^ b)][height];
            *value = (*value).max(best.less(self.parts.twice[a & b]));
        }
        for mask in 0..masks {
            let index = self.strips.index(across / LANES, up, mask);
            self.strips.all[index][across % LANES] = self.values.bands[first + mask][height];
        }
    }
}

fn pairs(masks: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..masks).flat_map(move |a| (0..masks).map(move |b| (a, b)))
}

fn take<V: Value>(best: &mut [V; LANES], of: &[V; LANES]) {
    for (best, of) in best.iter_mut().zip(of) {
        *best = (*best).max(*of);
    }
}

fn take_sums<V: Value>(best: &mut [V; LANES], one: &[V; LANES], two: &[V; LANES]) {
    for ((best, one), two) in best.iter_mut().zip(one).zip(two) {
        *best = (*best).max(one.plus(*two));
    }
}

fn take_less<V: Value>(best: &mut [V; LANES], of: &[V; LANES], off: V) {
    for (best, of) in best.iter_mut().zip(of) {
        *best = (*best).max(of.less(off));
    }
}

/// Not for sets: what cannot be might, once something is added to it.
impl Value for i16 {
    const MOST: i64 = 32_000;
    const NEVER: Self = Self::MIN;
    const A_STEP: usize = 32;

    fn of(worth: i64) -> Self {
        Self::try_from(worth).unwrap_or(Self::MAX)
    }

    fn plus(self, other: Self) -> Self {
        self.saturating_add(other)
    }

    fn less(self, other: Self) -> Self {
        self.saturating_sub(other)
    }
}

/// Nothing overflows, since no part is worth more than [`Value::MOST`].
impl Value for i32 {
    const MOST: i64 = 400_000_000;
    const NEVER: Self = -500_000_000;
    const A_STEP: usize = 8;

    fn of(worth: i64) -> Self {
        Self::try_from(worth).unwrap_or(Self::MAX)
    }

    fn plus(self, other: Self) -> Self {
        self.wrapping_add(other)
    }

    fn less(self, other: Self) -> Self {
        self.wrapping_sub(other)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use proptest::prelude::*;

    use super::super::lattice::Stretch;
    use super::*;

    /// One value after the other, by the words of the trade.
    struct Slowly<'l> {
        across: &'l Lattice,
        up: &'l Lattice,
        seated: BTreeMap<(usize, usize, usize), i64>,
        twice: &'l [i64],
        known: BTreeMap<(usize, usize, usize), Option<i64>>,
    }

    impl Slowly<'_> {
        fn at(&mut self, across: usize, mask: usize, up: usize) -> Option<i64> {
            if let Some(known) = self.known.get(&(across, mask, up)) {
                return *known;
            }
            let mut best = (mask == 0).then_some(0);
            best = best.max(self.seated.get(&(across, mask, up)).copied());
            for within in self.across.within(across) {
                best = best.max(self.at(within, mask, up));
            }
            for within in self.up.within(up) {
                best = best.max(self.at(across, mask, within));
            }
            for a in 0..self.twice.len() {
                let (b, off) = (mask ^ a, self.twice[a & (mask ^ a)]);
                for (one, two) in self.across.cuts(across) {
                    let sum = self.at(one, a, up).zip(self.at(two, b, up));
                    best = best.max(sum.map(|(one, two)| one + two - off));
                }
                for (one, two) in self.up.cuts(up) {
                    let sum = self.at(across, a, one).zip(self.at(across, b, two));
                    best = best.max(sum.map(|(one, two)| one + two - off));
                }
            }
            self.known.insert((across, mask, up), best);
            best
        }
    }

    fn lattice(whole: i64) -> impl Strategy<Value = Lattice> {
        let stretch = (1..=whole, any::<bool>(), any::<bool>()).prop_map(|(size, low, high)| Stretch {
            size,
            low,
            high,
        });
        prop::collection::vec(stretch, 1..7).prop_map(move |stretches| {
            let all = Lattice::new(&stretches, whole, 1, 1000).expect("few points");
            let whole = all.point(whole, true, true);
            let seats = stretches.iter().filter_map(|s| all.point(s.size, s.low, s.high));
            let roots: Vec<usize> = whole.into_iter().chain(seats).collect();
            all.with_cuts(roots.into_iter(), 100_000).expect("few cuts")
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

        #[test]
        fn many_at_once_are_worth_what_they_are_one_after_the_other(
            across in lattice(90),
            up in lattice(160),
            seats in prop::collection::vec((0_usize..1000, 0_usize..1000, 0_usize..4, 1_i64..3000), 1..12),
            prices in (0_i64..500, 0_i64..500),
            sets in 0_u32..3,
        ) {
            let masks = 1_usize << sets;
            let of = |mask: usize| [prices.0, prices.1].iter().enumerate()
                .filter(|(set, _)| mask & (1 << set) != 0).map(|(_, price)| price).sum();
            let twice: Vec<i64> = (0..masks).map(of).collect();
            let seats: Vec<_> = seats.into_iter()
                .map(|(x, y, mask, worth)| ((x % across.len(), mask % masks, y % up.len()), worth)).collect();
            let mut seated = BTreeMap::new();
            for (at, worth) in &seats {
                let known = seated.entry(*at).or_insert(*worth);
                *known = (*known).max(*worth);
            }
            let mut slowly = Slowly { across: &across, up: &up, seated, twice: &twice, known: BTreeMap::new() };
            let long = filled::<i32>(&across, &up, &seats, &twice);
            let short = (masks == 1).then(|| filled::<i16>(&across, &up, &seats, &twice));
            for (x, y) in (0..across.len()).flat_map(|x| (0..up.len()).map(move |y| (x, y))) {
                for mask in 0..masks {
                    let expected = slowly.at(x, mask, y);
                    let found = i64::from(long.at(x, mask, y));
                    prop_assert!(expected.map_or(found < 0, |worth| found == worth), "{x} {mask} {y}");
                    if let Some(short) = &short {
                        let most = expected.unwrap_or(0).min(i64::from(i16::MAX));
                        prop_assert_eq!(i64::from(short.at(x, mask, y)), most);
                    }
                }
            }
        }
    }

    fn filled<V: Value>(
        across: &Lattice,
        up: &Lattice,
        seats: &[((usize, usize, usize), i64)],
        twice: &[i64],
    ) -> Values<V> {
        let off: Vec<V> = twice.iter().map(|price| V::of(*price)).collect();
        let seated = seats.iter().map(|((across, mask, up), worth)| Seated {
            at: (*across, *up),
            mask: *mask,
            worth: V::of(*worth),
        });
        fill(&Parts { across, up, twice: &off }, seated, &mut Steps::of(1_000_000_000)).expect("enough steps")
    }
}
