//! Bands stacked up a wall: where every course lies once one joint is known.

use std::collections::BTreeSet;

use super::past_centre;
use super::profile::{div_up, to_length};
use crate::measure::{Band, BandHeight, FirstCourse, Length};

/// A wall's bands with all that decides where they go.
#[derive(Clone, Debug)]
pub(super) struct Stack {
    pub(super) layers: Vec<Layer>,
    pub(super) joint: Length,
    pub(super) begin: Begin,
    /// Courses are wanted from here, on all walls of the line.
    pub(super) low: Length,
    /// Courses are wanted up to here, on all walls of the line.
    pub(super) high: Length,
    /// The top of this wall's tile, and how far above or below it tile may stop.
    pub(super) wanted_top: Length,
    pub(super) top_may_move: Length,
}

/// One band.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Layer {
    pub(super) height: Length,
    pub(super) joint_above: Length,
    pub(super) kind: Kind,
}

/// How many courses a band has, or where it goes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Kind {
    Fill,
    Courses(u32),
    Strip { lowest: Length, highest: Length },
}

/// What decides how the wall's first course starts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Begin {
    pub(super) asked: Option<FirstCourse>,
    /// The high point of the line's carrying base, with the gap.
    pub(super) seat: Length,
    /// The lowest point of the line's carrying base, with the gap.
    pub(super) line_low: Length,
    /// This wall's own carrying base, without the gap; `None` where nothing carries.
    pub(super) lowest_base: Option<Length>,
    /// The high point without the gap.
    pub(super) high_point: Length,
    pub(super) base_gap_max: Length,
}

/// One course of a band.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Laid {
    pub(super) band: usize,
    pub(super) strip: bool,
    pub(super) bottom: Length,
    pub(super) top: Length,
}

/// A fall up to this is propped, more is scribed, when nobody chose (common practice).
const PROPPED_FALL: Length = Length::mm(3);
/// Parts lower than this are no pieces and make no course.
pub(super) const LEAST_PART: Length = Length::mm(1);
/// Ways to place a course line among bands of different heights: beyond this many the rest is left out.
const MOST_WAYS: usize = 4096;

impl Layer {
    pub(super) fn of(band: &Band, height: Length, joint: Length) -> Self {
        let kind = match (band.bottom_between, band.height) {
            (Some((lowest, highest)), _) => Kind::Strip { lowest, highest },
            (None, BandHeight::Fill) => Kind::Fill,
            (None, BandHeight::Courses(count)) => Kind::Courses(count.max(1)),
        };
        Self { height, joint_above: band.joint_above.unwrap_or(joint), kind }
    }

    fn is_strip(&self) -> bool {
        matches!(self.kind, Kind::Strip { .. })
    }
}

impl Stack {
    /// The bottom of a course of the lowest band when `line` is the centre of a joint between two field courses.
    ///
    /// Above a strip the joints lie elsewhere than below it, so each band is tried as the one that the line
    /// belongs to, and of those that are true the one is taken whose strips lie best. A line that fits nowhere
    /// is taken to belong to the lowest field band.
    pub(super) fn anchor(&self, line: Length) -> Length {
        let wide = self.reaching(line);
        let anchors = wide.anchors(line);
        let true_ones = anchors.iter().filter(|anchor| wide.has_joint(**anchor, line));
        let best = true_ones.min_by_key(|anchor| wide.strips_off(**anchor));
        best.or(anchors.first()).copied().unwrap_or(line + past_centre(self.joint))
    }

    /// Whether two lines give the same courses.
    pub(super) fn same(&self, one: Length, other: Length) -> bool {
        self.laid_on(self.anchor(one)) == self.laid_on(self.anchor(other))
    }

    /// Whether the first course is propped, when the bottoms of the lowest band's courses lie on `anchor`, and
    /// the bottom of the course from which the lowest band is counted: on a propped wall the first whole course
    /// on the carrying base, on a scribed one the lowest that the line's carrying base reaches.
    pub(super) fn begins(&self, anchor: Length) -> (FirstCourse, Length) {
        let whole = self.lowest_at_or_above(anchor, self.begin.seat);
        let by_default = match self.begin.lowest_base {
            Some(base)
                if self.begin.high_point - base <= PROPPED_FALL
                    && whole - base <= self.begin.base_gap_max =>
            {
                FirstCourse::Propped
            }
            _ => FirstCourse::Scribed,
        };
        match self.begin.asked.unwrap_or(by_default) {
            FirstCourse::Propped => (FirstCourse::Propped, whole),
            FirstCourse::Scribed => {
                let height = self.layers.first().map(|layer| layer.height).unwrap_or_default();
                let reached = self.begin.line_low + LEAST_PART - height;
                (FirstCourse::Scribed, self.lowest_at_or_above(anchor, reached))
            }
        }
    }

    /// The same, over all heights at which the line could be seen.
    fn reaching(&self, line: Length) -> Self {
        let pitch = self.layers.iter().map(|layer| layer.height + self.joint).max().unwrap_or_default();
        Self { low: self.low.min(line - pitch), high: self.high.max(line + pitch), ..self.clone() }
    }

    /// The lowest bottom of a course of the lowest band that is not below `y`. A strip at the foot has one
    /// place only; when that is too low, the band above begins.
    fn lowest_at_or_above(&self, anchor: Length, y: Length) -> Length {
        let Some(first) = self.layers.first() else { return anchor };
        let pitch = first.height + self.joint;
        if !first.is_strip() {
            anchor + pitch * div_up_lengths(y - anchor, pitch)
        } else if anchor >= y {
            anchor
        } else {
            anchor + first.height + first.joint_above
        }
    }

    /// All courses when the bottoms of the lowest band's courses lie on `anchor`.
    pub(super) fn laid_on(&self, anchor: Length) -> Vec<Laid> {
        let mut laid = Vec::new();
        let Some(first) = self.layers.first() else { return laid };
        let mut bottom = match first.is_strip() {
            true => anchor,
            false => self.lowest_at_or_above(anchor, self.low + LEAST_PART - first.height),
        };
        for (band, layer) in self.layers.iter().enumerate() {
            let last = self.last_bottom(band, layer, bottom, anchor);
            while bottom <= last && bottom < self.high {
                let top = bottom + layer.height;
                laid.push(Laid { band, strip: layer.is_strip(), bottom, top });
                bottom = top + if bottom == last { layer.joint_above } else { self.joint };
            }
            // A band that ends below the lowest course wanted still carries the next one.
            if last < bottom {
                bottom = last + layer.height + layer.joint_above;
            }
        }
        laid.retain(|course| course.top > self.low && course.bottom < self.high);
        laid
    }

    /// The bottom of a band's last course, when its first (on the lowest band any) has its bottom at `bottom`.
    fn last_bottom(&self, band: usize, layer: &Layer, bottom: Length, anchor: Length) -> Length {
        let pitch = layer.height + self.joint;
        let counted_from = if band == 0 { self.begins(anchor).1 } else { bottom };
        match layer.kind {
            Kind::Strip { .. } => bottom,
            Kind::Courses(count) => counted_from + pitch * i64::from(count - 1),
            Kind::Fill => {
                let above = self.layers.get(band + 1..).unwrap_or_default();
                let run: Vec<&Layer> = above.iter().take_while(|layer| !layer.is_strip()).collect();
                let carried = layer.height + layer.joint_above + run.iter().map(|l| self.span(l)).sum();
                let count = match above.get(run.len()).map(|layer| layer.kind) {
                    Some(Kind::Strip { lowest, highest }) => {
                        nearest((lowest + highest).half() - carried - bottom, pitch)
                    }
                    _ if run.is_empty() => return self.high,
                    // The whole rests on the last joint above, which no course follows.
                    _ => {
                        let last_joint = run.last().map(|layer| layer.joint_above).unwrap_or_default();
                        let least = self.wanted_top - self.top_may_move - (carried - last_joint) - bottom;
                        div_up_lengths(least, pitch)
                    }
                };
                bottom + pitch * if band == 0 { count } else { count.max(0) }
            }
        }
    }

    /// Height of a whole band with the joint above it; a second fill below one strip is a single course.
    fn span(&self, layer: &Layer) -> Length {
        let courses = match layer.kind {
            Kind::Courses(count) => i64::from(count),
            Kind::Fill | Kind::Strip { .. } => 1,
        };
        (layer.height + self.joint) * courses - self.joint + layer.joint_above
    }

    /// Every bottom that a course of the lowest band could have when `line` is the centre of a joint in, or
    /// just below, one of the field bands. The lowest band's comes first.
    fn anchors(&self, line: Length) -> Vec<Length> {
        let mut anchors = Vec::new();
        let above_joint = line + past_centre(self.joint);
        for (band, layer) in self.layers.iter().enumerate() {
            if layer.is_strip() {
                continue;
            }
            if band == 0 {
                anchors.push(above_joint);
                continue;
            }
            let pitch = layer.height + self.joint;
            let mut bottoms: BTreeSet<Length> =
                self.ways(layer, pitch).map(|count| above_joint - pitch * count).collect();
            if let Some(below) = self.layers.get(band - 1).filter(|below| !below.is_strip()) {
                bottoms.insert(line + past_centre(below.joint_above));
            }
            for below in self.layers.get(1..band).unwrap_or_default().iter().rev() {
                bottoms = self.lowered(&bottoms, below);
            }
            if let Some(first) = self.layers.first() {
                anchors.extend(bottoms.iter().map(|bottom| *bottom - first.joint_above - first.height));
            }
        }
        anchors
    }

    /// The bottoms that a band has when the one above it has `bottoms`.
    fn lowered(&self, bottoms: &BTreeSet<Length>, layer: &Layer) -> BTreeSet<Length> {
        let pitch = layer.height + self.joint;
        let once = |bottom: &Length| *bottom - layer.joint_above - layer.height;
        match layer.kind {
            Kind::Strip { .. } => bottoms.iter().map(once).collect(),
            Kind::Courses(count) => {
                bottoms.iter().map(|bottom| once(bottom) - pitch * i64::from(count - 1)).collect()
            }
            Kind::Fill => bottoms
                .iter()
                .flat_map(|bottom| {
                    self.ways(layer, pitch).map(move |count| once(bottom) - pitch * (count - 1))
                })
                .take(MOST_WAYS)
                .collect(),
        }
    }

    /// How many courses of a band may lie between its foot and a joint in it. Where the lowest band has the same
    /// pitch one answer stands for all, since only the remainder counts.
    fn ways(&self, layer: &Layer, pitch: Length) -> std::ops::RangeInclusive<i64> {
        let same_pitch =
            self.layers.first().is_some_and(|first| !first.is_strip() && first.height == layer.height);
        let most = match layer.kind {
            _ if same_pitch => 1,
            Kind::Courses(count) => i64::from(count),
            Kind::Fill | Kind::Strip { .. } => div_up_lengths(self.high - self.low, pitch),
        };
        1..=most.clamp(1, i64::try_from(MOST_WAYS).unwrap_or(i64::MAX))
    }

    fn has_joint(&self, anchor: Length, line: Length) -> bool {
        let laid = self.laid_on(anchor);
        laid.windows(2).any(|pair| match pair {
            [below, above] => {
                let joint = above.bottom - below.top;
                !below.strip && !above.strip && above.bottom - past_centre(joint) == line
            }
            _ => false,
        })
    }

    /// How many strips lie outside their range, and how far all are from the middles of theirs.
    fn strips_off(&self, anchor: Length) -> (usize, Length) {
        let laid = self.laid_on(anchor);
        let off = laid.iter().filter_map(|course| match self.layers.get(course.band)?.kind {
            Kind::Strip { lowest, highest } => {
                let outside = course.bottom < lowest || highest < course.bottom;
                Some((usize::from(outside), (course.bottom - (lowest + highest).half()).abs()))
            }
            Kind::Fill | Kind::Courses(_) => None,
        });
        off.fold((0, Length::ZERO), |sum, one| (sum.0 + one.0, sum.1 + one.1))
    }
}

/// How many times `by`, which is above zero, makes at least `what`.
fn div_up_lengths(what: Length, by: Length) -> i64 {
    to_length(div_up(i128::from(what.units()), i128::from(by.units().max(1)))).units()
}

/// How many times `by`, which is above zero, comes nearest to `what`; half way, the lower.
fn nearest(what: Length, by: Length) -> i64 {
    div_up_lengths(what * 2 - by, by * 2)
}
