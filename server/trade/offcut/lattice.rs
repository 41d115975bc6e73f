//! The sizes that a part of a tile needs to be looked at in, in one direction.
//!
//! Every size has the kerf added, and so has the tile: then the two parts of a cut add up to what was cut. A part is
//! of one of four classes by which of its two ends are the tile's own: neither, the lower, the upper, or both, which
//! only a part as long as the tile has. What is cut from a part of a class can be pushed together until it fills a
//! *point* of that class: a sum of sizes of pieces that need neither end, and for the lower and the upper class at most
//! one piece more that needs that end, since only one lies there. So a part is worth as much as the next smaller
//! point, and a cut needs to be tried only where one of its parts is a point (normal patterns, after N. Christofides
//! and C. Whitlock, "An algorithm for two-dimensional cutting problems", 1977, from memory):
//!
//! - in neither class, where the smaller part is a point: at most half;
//! - in the lower class, where the part that loses the end is one; in the upper likewise;
//! - in the class of both, where the lower part is one.
//!
//! With a `unit`, all sizes are rounded down to whole units. What goes into the tile still does, so that a value
//! found with rounded sizes may be too high but never too low: a bound stays a bound.

/// The points of one direction, numbered so that parts of a part have smaller numbers.
pub(super) struct Lattice {
    points: Vec<i64>,
    whole: i64,
    /// Where the classes begin and end: neither, the lower, the upper.
    ends: [usize; 4],
    /// Whether some piece needs the lower, the upper end.
    needed: [bool; 2],
    /// For each point the pairs of points that one cut leaves of it.
    pub(super) cuts: Vec<Vec<(usize, usize)>>,
    /// For each point those that go into it without a cut.
    pub(super) within: Vec<Vec<usize>>,
}

/// What one piece takes in this direction, kerf included.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) size: i64,
    pub(super) low: bool,
    pub(super) high: bool,
}

impl Lattice {
    /// Unless there are more than `most` points.
    pub(super) fn new(stretches: &[Stretch], whole: i64, unit: i64, most: usize) -> Option<Self> {
        let whole = whole / unit;
        let rounded: Vec<Stretch> =
            stretches.iter().map(|stretch| Stretch { size: stretch.size / unit, ..*stretch }).collect();
        let needed = [rounded.iter().any(|s| s.low), rounded.iter().any(|s| s.high)];
        let loose =
            rounded.iter().filter(|stretch| !stretch.low && !stretch.high).map(|stretch| stretch.size);
        let neither = sums(loose, whole, most)?;
        let with_end = |of: &dyn Fn(&Stretch) -> bool| {
            let mut points = neither.clone();
            for end in rounded.iter().filter(|stretch| of(stretch)) {
                points.push(end.size);
                points.extend(neither.iter().map(|point| point + end.size));
            }
            points.retain(|point| *point <= whole);
            points.sort_unstable();
            points.dedup();
            points
        };
        let lower = if needed[0] { with_end(&|s| s.low && !s.high) } else { Vec::new() };
        let upper = if needed[1] { with_end(&|s| s.high && !s.low) } else { Vec::new() };
        let ends = [0, neither.len(), neither.len() + lower.len(), neither.len() + lower.len() + upper.len()];
        let mut points = [neither, lower, upper].concat();
        if needed == [true, true] {
            points.push(whole);
        }
        if points.len() > most {
            return None;
        }
        Some(Self { points, whole, ends, needed, cuts: Vec::new(), within: Vec::new() })
    }

    /// Looks for the cuts.
    #[must_use]
    pub(super) fn with_cuts(mut self) -> Self {
        self.cuts = (0..self.len()).map(|point| self.cuts_of(point)).collect();
        self.within = (0..self.len()).map(|point| self.within_of(point)).collect();
        self
    }

    /// How many points.
    pub(super) const fn len(&self) -> usize {
        self.points.len()
    }

    /// How many pairs cuts leave at most.
    pub(super) fn most_cuts(&self) -> usize {
        let [_, neither, lower, upper] = self.ends;
        let one_end = upper - neither;
        neither * neither / 3 + one_end * neither + (lower - neither)
    }

    /// The largest point that goes into a part with these ends, its size in units.
    pub(super) fn point(&self, size: i64, low: bool, high: bool) -> Option<usize> {
        let class = match (low && self.needed[0], high && self.needed[1]) {
            (false, false) => 0,
            (true, false) => 1,
            (false, true) => 2,
            (true, true) => return Some(self.ends[3]),
        };
        self.largest(class, size)
    }

    fn largest(&self, class: usize, size: i64) -> Option<usize> {
        let (from, to) = (self.ends[class], self.ends[class + 1]);
        let smaller = self.points[from..to].partition_point(|point| *point <= size);
        smaller.checked_sub(1).map(|nth| from + nth)
    }

    /// 0 for neither, 1 the lower, 2 the upper, 3 both.
    fn class(&self, point: usize) -> usize {
        self.ends[1..].iter().filter(|end| point >= **end).count()
    }

    fn cuts_of(&self, point: usize) -> Vec<(usize, usize)> {
        let size = self.points[point];
        let neither = || (0..self.ends[1]).filter(|first| self.points[*first] < size);
        match self.class(point) {
            0 => {
                let smaller = neither().filter(|first| 2 * self.points[*first] <= size);
                smaller.filter_map(|a| Some((a, self.largest(0, size - self.points[a])?))).collect()
            }
            1 => neither().filter_map(|b| Some((self.largest(1, size - self.points[b])?, b))).collect(),
            2 => neither().filter_map(|a| Some((a, self.largest(2, size - self.points[a])?))).collect(),
            _ => {
                let lower = self.ends[1]..self.ends[2];
                lower.filter_map(|a| Some((a, self.largest(2, self.whole - self.points[a])?))).collect()
            }
        }
    }

    fn within_of(&self, point: usize) -> Vec<usize> {
        let size = self.points[point];
        let class = self.class(point);
        let smaller = match class {
            3 => [self.largest(1, self.whole), self.largest(2, self.whole)],
            0 => [(point > 0).then(|| point - 1), None],
            _ => [(point > self.ends[class]).then(|| point - 1), self.largest(0, size)],
        };
        smaller.into_iter().flatten().collect()
    }
}

/// All sums of some of the sizes, each as often as wanted, up to the whole.
fn sums(sizes: impl Iterator<Item = i64>, whole: i64, most: usize) -> Option<Vec<i64>> {
    let mut sizes: Vec<i64> = sizes.filter(|size| *size > 0).collect();
    sizes.sort_unstable();
    sizes.dedup();
    let mut found = std::collections::BTreeSet::new();
    let mut next: std::collections::BTreeSet<i64> =
        sizes.iter().copied().filter(|size| *size <= whole).collect();
    while let Some(sum) = next.pop_first() {
        if found.len() >= most {
            return None;
        }
        found.insert(sum);
        next.extend(sizes.iter().map(|size| sum + size).take_while(|sum| *sum <= whole));
    }
    Some(found.into_iter().collect())
}
