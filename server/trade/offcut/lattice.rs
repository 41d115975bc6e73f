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
//! Of two cuts of a part of which one leaves both parts as large, the other need not be tried, and only points that come
//! of the whole by such cuts, or that a piece fills by itself, are ever looked at: far fewer where there are many.
//! (Compare the raster points of J. Terno, R. Lindemann and G. Scheithauer, "Zuschnittprobleme und ihre praktische
//! Lösung", 1987, from memory.)
//!
//! With a `unit`, all sizes are rounded down to whole units. What goes into the tile still does, so that a value
//! found with rounded sizes may be too high but never too low: a bound stays a bound.

/// The points of one direction, numbered so that parts of a part have smaller numbers.
#[derive(Debug)]
pub(super) struct Lattice {
    points: Vec<i64>,
    whole: i64,
    /// Where the classes begin and end: neither, the lower, the upper.
    ends: [usize; 4],
    /// Whether some piece needs the lower, the upper end.
    needed: [bool; 2],
    /// For each point the pairs of points that one cut leaves of it.
    cuts: Vec<Vec<(u16, u16)>>,
    /// For each point those that go into it without a cut.
    within: Vec<Vec<u16>>,
}

/// What one piece takes in this direction, kerf included.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) size: i64,
    pub(super) low: bool,
    pub(super) high: bool,
}

impl Lattice {
    /// Unless there are more than `most` points, which have numbers of 16 bits.
    pub(super) fn new(stretches: &[Stretch], whole: i64, unit: i64, most: u16) -> Option<Self> {
        let (whole, most) = (whole / unit, usize::from(most));
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

    /// Looks for the cuts, and keeps only these points and what cuts leave of them and of one another; nothing where
    /// there are more than so many cuts.
    pub(super) fn with_cuts(mut self, of: impl Iterator<Item = usize>, most: usize) -> Option<Self> {
        let mut kept = vec![false; self.len()];
        of.for_each(|point| kept[point] = true);
        let mut cuts = vec![Vec::new(); self.len()];
        let mut count = 0;
        // Parts of a part have smaller numbers.
        for point in (0..self.len()).rev() {
            if kept[point] {
                cuts[point] = self.cuts_of(point);
                count += cuts[point].len();
                if count > most {
                    return None;
                }
                for &(one, two) in &cuts[point] {
                    kept[usize::from(one)] = true;
                    kept[usize::from(two)] = true;
                }
            }
        }
        // For each point how many are kept before it.
        let before: Vec<usize> = std::iter::once(0)
            .chain(kept.iter().scan(0, |count, kept| {
                *count += usize::from(*kept);
                Some(*count)
            }))
            .collect();
        let renumbered = |point: u16| number(before[usize::from(point)]);
        let of_kept = cuts.into_iter().zip(&kept).filter(|(_, kept)| **kept);
        self.cuts = of_kept
            .map(|(pairs, _)| {
                pairs.into_iter().map(|(one, two)| (renumbered(one), renumbered(two))).collect()
            })
            .collect();
        let points = self.points.into_iter().zip(&kept).filter(|(_, kept)| **kept);
        self.points = points.map(|(point, _)| point).collect();
        self.ends = self.ends.map(|end| before[end]);
        self.within = (0..self.len()).map(|point| self.within_of(point)).collect();
        Some(self)
    }

    /// How many points.
    pub(super) const fn len(&self) -> usize {
        self.points.len()
    }

    /// The pairs of points that one cut leaves of this one.
    pub(super) fn cuts(&self, point: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.cuts[point].iter().map(|&(one, two)| (usize::from(one), usize::from(two)))
    }

    /// How many those are.
    pub(super) fn count_cuts(&self, point: usize) -> usize {
        self.cuts[point].len()
    }

    /// The points that go into this one without a cut.
    pub(super) fn within(&self, point: usize) -> impl Iterator<Item = usize> + '_ {
        self.within[point].iter().map(|point| usize::from(*point))
    }

    /// How many pairs cuts leave of all points.
    pub(super) fn all_cuts(&self) -> usize {
        self.cuts.iter().map(Vec::len).sum()
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

    /// Pairs of which no other has both parts as large.
    fn cuts_of(&self, point: usize) -> Vec<(u16, u16)> {
        let size = self.points[point];
        let neither = || (0..self.ends[1]).filter(|first| self.points[*first] < size);
        let with = |class: usize, point: usize, size: i64| {
            Some((point, self.largest(class, size - self.points[point])?))
        };
        match self.class(point) {
            0 => {
                let smaller = neither().filter(|first| 2 * self.points[*first] <= size);
                maximal(smaller.filter_map(|a| with(0, a, size)))
            }
            1 => maximal(neither().filter_map(|b| with(1, b, size)))
                .into_iter()
                .map(|(second, first)| (first, second))
                .collect(),
            2 => maximal(neither().filter_map(|a| with(2, a, size))),
            _ => maximal((self.ends[1]..self.ends[2]).filter_map(|a| with(2, a, self.whole))),
        }
    }

    fn within_of(&self, point: usize) -> Vec<u16> {
        let size = self.points[point];
        let class = self.class(point);
        let smaller = match class {
            3 => [0, 1, 2].map(|class| self.largest(class, self.whole)),
            0 => [(point > 0).then(|| point - 1), None, None],
            _ => [(point > self.ends[class]).then(|| point - 1), self.largest(0, size), None],
        };
        smaller.into_iter().flatten().map(number).collect()
    }
}

/// Of pairs of which the first grows and the second shrinks, for each second the one with the largest first.
fn maximal(pairs: impl Iterator<Item = (usize, usize)>) -> Vec<(u16, u16)> {
    let mut kept: Vec<(u16, u16)> = Vec::new();
    for (first, second) in pairs.map(|(first, second)| (number(first), number(second))) {
        match kept.last_mut() {
            Some(last) if last.1 == second => last.0 = first,
            _ => kept.push((first, second)),
        }
    }
    kept
}

/// No lattice has more points.
fn number(point: usize) -> u16 {
    u16::try_from(point).unwrap_or(u16::MAX)
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
