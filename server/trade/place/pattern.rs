//! Patterns as periodic arrangements: two translation vectors and the outlines in one repeat.

use crate::course::{Course, pattern_on};
use crate::geometry::polygon::wide;
use crate::geometry::{Point, Rect};
use crate::measure::{Layout, Length, Pattern, Surface};

/// Tile outlines that repeat along two vectors. Patterns whose tiles lie square to the wall are data of this type;
/// slanted ones are not here yet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Arrangement {
    vectors: [Point; 2],
    outlines: Vec<Rect>,
}

impl Arrangement {
    /// `None` when the vectors lie on one line, or there is no outline.
    pub fn new(vectors: [Point; 2], outlines: Vec<Rect>) -> Option<Self> {
        let arrangement = Self { vectors, outlines };
        (arrangement.area() != 0 && !arrangement.outlines.is_empty()).then_some(arrangement)
    }

    /// The courses of one band. A repeat is the whole band, one tile of each course, which repeats by the pitch
    /// along the wall: upward nothing has to repeat, because joints, strips and the shifts of a cycle differ, and
    /// each course's shift is counted from its own number and rounded once.
    ///
    /// A tile's left edge lies at the start (the centre of an upright joint) + joint - half the joint + shift, so
    /// that of a joint of an odd number of units the right part is the larger.
    pub(super) fn of_courses(
        surface: &Surface,
        band: usize,
        layout: &Layout,
        courses: &[&Course],
        width: Length,
        joint: Length,
    ) -> Option<Self> {
        let (lowest, highest) = (courses.first()?, courses.last()?);
        let pitch = width + joint;
        let counting = Counting::of(surface, band, layout);
        let outlines = courses.iter().map(|course| {
            let shift = counting.pattern.shift(counting.number(course, lowest), pitch);
            let left = counting.start + joint - joint.half() + shift;
            Rect { left, bottom: course.bottom, right: left + width, top: course.top }
        });
        let up = highest.top - lowest.bottom + joint;
        let vectors = [Point::new(pitch, Length::ZERO), Point::new(Length::ZERO, up)];
        Self::new(vectors, outlines.collect())
    }

    /// Every outline that shares area with `window`, with its number in the repeat: by that number, then upward
    /// and to the right along the vectors.
    pub fn over(&self, window: &Rect) -> Vec<(usize, Rect)> {
        let mut found = Vec::new();
        for (number, outline) in self.outlines.iter().enumerate() {
            let (first, second) = self.steps(outline, window);
            for j in second.0..=second.1 {
                for i in first.0..=first.1 {
                    let along =
                        |by: fn(&Point) -> Length| by(&self.vectors[0]) * i + by(&self.vectors[1]) * j;
                    let moved = outline.moved(along(|v| v.x), along(|v| v.y));
                    if moved.overlaps(window) {
                        found.push((number, moved));
                    }
                }
            }
        }
        found
    }

    /// Least and greatest number of steps along each vector that may bring `outline` over `window`: the moves that
    /// do form a rectangle, and its corners have the extreme numbers.
    fn steps(&self, outline: &Rect, window: &Rect) -> ((i64, i64), (i64, i64)) {
        let [one, other] = self.vectors;
        let moves = Rect {
            left: window.left - outline.right,
            bottom: window.bottom - outline.top,
            right: window.right - outline.left,
            top: window.top - outline.bottom,
        };
        let range = |steps: &dyn Fn(Point) -> i128| {
            let ends = moves.corners().into_iter().map(|corner| steps(corner).div_euclid(self.area()));
            let (low, high) = ends.fold((i128::MAX, i128::MIN), |(low, high), n| (low.min(n), high.max(n)));
            let whole = |n: i128| i64::try_from(n).unwrap_or(0);
            (whole(low), whole(high + 1))
        };
        (
            range(&|p| wide(p.x) * wide(other.y) - wide(p.y) * wide(other.x)),
            range(&|p| wide(one.x) * wide(p.y) - wide(one.y) * wide(p.x)),
        )
    }

    fn area(&self) -> i128 {
        let [one, other] = self.vectors;
        wide(one.x) * wide(other.y) - wide(one.y) * wide(other.x)
    }
}

/// From where, and by what numbers, the shifts of a band's courses are counted.
struct Counting {
    start: Length,
    pattern: Pattern,
    from_its_own_first: bool,
}

impl Counting {
    /// A band with a start of its own, and a strip, which is not counted among the courses, are counted from
    /// their own first course; all other bands run on from course 1.
    fn of(surface: &Surface, band: usize, layout: &Layout) -> Self {
        let own_start = layout.band_starts.get(&(surface.id.clone(), band)).copied();
        let start = own_start.or_else(|| layout.starts.get(&surface.id).copied()).unwrap_or_default();
        let band = surface.bands.get(band);
        let pattern = band.map_or(Pattern::Straight, |band| pattern_on(layout, surface, band));
        let from_its_own_first = own_start.is_some() || band.is_some_and(|band| band.is_strip());
        Self { start, pattern, from_its_own_first }
    }

    fn number(&self, course: &Course, first_of_band: &Course) -> i64 {
        let number = i64::from(course.number);
        if self.from_its_own_first { number - i64::from(first_of_band.number) + 1 } else { number }
    }
}
