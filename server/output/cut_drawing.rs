//! One piece as it lies on the saw, face up and standing as on the wall: factory edges thick, cut edges thin with
//! saw ticks, what is left over hatched, and the dimensions that are marked.

use trade::geometry::{Point, Rect, Side, polygon};
use trade::measure::Length;
use trade::offcut::{Axis, Part, SawCut};
use trade::place::Hole;

use super::lean_svg::LeanSvg;

/// What is drawn. All of it lies on the tile, upright.
pub struct CutDrawing<'a> {
    /// What is laid on the saw.
    pub on_saw: Part,
    pub cuts: &'a [SawCut],
    /// Of the piece; nothing where an offcut is drawn by itself.
    pub outline: Vec<Point>,
    pub holes: Vec<Hole>,
    pub label: &'a str,
    pub leaves: Vec<Leave>,
    pub dimensions: Vec<Dimension>,
    /// The same in words.
    pub says: String,
}

/// A leftover with what is written on it.
pub struct Leave {
    pub at: Rect,
    pub words: String,
    pub kept: bool,
}

/// A measure between two places on the tile.
pub struct Dimension {
    /// Across the drawing or up it.
    pub along: Axis,
    pub from: Length,
    pub to: Length,
    /// Beside which side of the drawing it stands.
    pub beside: Side,
    pub words: String,
}

/// Height of the lettering, in thousandths of what is drawn: about 18 pixels on a phone.
const LETTERING: i64 = 82;

/// Rows of dimensions, in tenths of the lettering.
const ROW: i64 = 17;

/// Clear space round the drawing, in tenths of the lettering.
const CLEAR: i64 = 5;

/// Height of a word over its line, in tenths of the lettering.
const WORDS: i64 = 7;

/// What is drawn, in this order.
const CLASSES: [&str; 12] = [
    "d-tile",
    "d-waste",
    "d-tape",
    "d-hand",
    "d-opening",
    "d-centre",
    "d-arrow",
    "d-cut",
    "d-teeth",
    "d-factory",
    "d-dim",
    "d-dim-end",
];

/// The drawing under way.
struct Pen<'a> {
    of: &'a CutDrawing<'a>,
    svg: LeanSvg,
    letter: Length,
}

impl CutDrawing<'_> {
    /// The drawing.
    pub fn draw(&self) -> String {
        let mut pen = Pen::new(self);
        pen.leftovers();
        pen.piece();
        pen.edges();
        pen.dimensions();
        pen.svg.finish(&self.says)
    }
}

impl<'a> Pen<'a> {
    fn new(of: &'a CutDrawing<'a>) -> Self {
        let at = of.on_saw.at;
        let letter = part_of(at.width().max(part_of(at.height(), 800)), LETTERING);
        let beside = |side: Side| {
            let rows = of.dimensions.iter().filter(|dimension| dimension.beside == side).count();
            // Words stand above and left of their line, so that the outermost there needs room.
            let words = if rows > 0 && matches!(side, Side::Left | Side::Top) { WORDS } else { 0 };
            tenths(letter, CLEAR + words + ROW * i64::try_from(rows).unwrap_or(0))
        };
        // A centre may lie beyond the piece's edge.
        let reach = of.dimensions.iter().fold(at, |reach, dimension| match dimension.along {
            Axis::X => {
                Rect { left: reach.left.min(dimension.from), right: reach.right.max(dimension.to), ..reach }
            }
            Axis::Y => {
                Rect { bottom: reach.bottom.min(dimension.from), top: reach.top.max(dimension.to), ..reach }
            }
        });
        let clear = tenths(letter, CLEAR);
        let mut frame = Rect {
            left: (at.left - beside(Side::Left)).min(reach.left - clear),
            bottom: (at.bottom - beside(Side::Bottom)).min(reach.bottom - clear),
            right: (at.right + beside(Side::Right)).max(reach.right + clear),
            top: (at.top + beside(Side::Top)).max(reach.top + clear),
        };
        // A tall offcut would else be drawn larger than a screen, or with lettering too small.
        let short_of = (part_of(frame.height(), 850) - frame.width()).max(Length::ZERO).half();
        frame.left -= short_of;
        frame.right += short_of;
        let mut svg = LeanSvg::new(frame, Point::new(at.left, at.top), letter, &CLASSES);
        svg.rect("d-tile", &at);
        Self { of, svg, letter }
    }

    fn leftovers(&mut self) {
        for left in &self.of.leaves {
            self.svg.rect("d-waste", &left.at);
            self.tape(left);
        }
    }

    /// What is written on a leftover, as on a strip of tape; nothing where there is no room for it.
    fn tape(&mut self, left: &Leave) {
        let (width, height) = (words_width(&left.words, self.letter), tenths(self.letter, 13));
        let upward = width > left.at.width() && left.at.height() > left.at.width();
        let (across, up) = if upward { (height, width) } else { (width, height) };
        if !left.kept && (across > left.at.width() || up > left.at.height()) {
            return;
        }
        let centre = centre(&left.at);
        let tape = Rect {
            left: centre.x - across.half(),
            bottom: centre.y - up.half(),
            right: centre.x + across.half(),
            top: centre.y + up.half(),
        };
        self.svg.rect("d-tape", &tape);
        self.words(centre, upward, 10, &left.words);
    }

    fn piece(&mut self) {
        if self.of.outline.is_empty() {
            return;
        }
        self.svg.polygon("d-hand", &self.of.outline);
        for hole in &self.of.holes {
            match hole {
                Hole::Round { centre, diameter } => {
                    self.svg.circle("d-opening", *centre, *diameter);
                    let reach = diameter.half() + tenths(self.letter, 4);
                    let (x, y) = (centre.x, centre.y);
                    self.svg.line("d-centre", &[Point::new(x - reach, y), Point::new(x + reach, y)]);
                    self.svg.line("d-centre", &[Point::new(x, y - reach), Point::new(x, y + reach)]);
                }
                Hole::Polygon(corners) => self.svg.polygon("d-opening", corners),
            }
        }
        self.label(&polygon::bounds(&self.of.outline));
    }

    /// The piece's label and an arrow up, as on its tape.
    fn label(&mut self, at: &Rect) {
        let (width, height) = (words_width(self.of.label, self.letter), tenths(self.letter, 11));
        let arrow = tenths(self.letter, 14);
        let middle = centre(at);
        if width <= at.width() && height + arrow <= at.height() {
            let below = Point::new(middle.x, middle.y - arrow.half());
            self.words(below, false, 12, self.of.label);
            self.arrow(Point::new(middle.x, middle.y + height.half() - arrow.half()), arrow);
        } else if at.width() >= at.height() {
            let long = arrow.min(part_of(at.height(), 800));
            let size = self.letters_in(at.height());
            let shift = tenths(self.letter, 6);
            self.words(Point::new(middle.x + shift, middle.y), false, size, self.of.label);
            let left = middle.x - width.half() - shift;
            self.arrow(Point::new(left.max(at.left + tenths(self.letter, 5)), middle.y - long.half()), long);
        } else {
            let size = self.letters_in(at.width());
            self.words(Point::new(middle.x, middle.y - arrow.half()), true, size, self.of.label);
            self.arrow(Point::new(middle.x, middle.y + width.half() - arrow.half()), arrow);
        }
    }

    fn arrow(&mut self, foot: Point, long: Length) {
        let head = Point::new(foot.x, foot.y + long);
        let barb = part_of(long, 330);
        self.svg.line("d-arrow", &[foot, head]);
        let barbs =
            [Point::new(head.x - barb, head.y - barb), head, Point::new(head.x + barb, head.y - barb)];
        self.svg.line("d-arrow", &barbs);
    }

    /// Words centred on a place.
    fn words(&mut self, at: Point, upward: bool, size: i64, words: &str) {
        let drop = tenths(self.letter, 4);
        let (right, down) = if upward { (drop, Length::ZERO) } else { (Length::ZERO, drop) };
        self.svg.text(Point::new(at.x + right, at.y - down), upward, size, words);
    }

    /// The height of lettering that a room so high takes, in tenths of the usual.
    fn letters_in(&self, room: Length) -> i64 {
        (room.units() * 8 / self.letter.units().max(1)).min(10)
    }

    fn edges(&mut self) {
        let on_saw = self.of.on_saw;
        for side in Side::ALL {
            let (from, to) = ends(&on_saw.at, side);
            if on_saw.own.has(side) {
                self.svg.line("d-factory", &[from, to]);
            } else {
                self.sawn(from, to, side);
            }
        }
        for cut in self.of.cuts {
            let mark = cut.mark();
            let edge = match cut.across() {
                Axis::X => Rect { left: mark, right: mark, ..cut.part.at },
                Axis::Y => Rect { bottom: mark, top: mark, ..cut.part.at },
            };
            let (from, to) = ends(&edge, cut.from.opposite());
            self.sawn(from, to, cut.from.opposite());
        }
    }

    /// A cut edge: thin, with ticks to the side that the blade took. The ticks are the dashes of one broad line.
    fn sawn(&mut self, from: Point, to: Point, off: Side) {
        self.svg.line("d-cut", &[from, to]);
        let tick = tenths(self.letter, 1);
        let (right, up) = match off {
            Side::Left => (-tick, Length::ZERO),
            Side::Right => (tick, Length::ZERO),
            Side::Bottom => (Length::ZERO, -tick),
            Side::Top => (Length::ZERO, tick),
        };
        let beside = |at: Point| Point::new(at.x + right, at.y + up);
        self.svg.line("d-teeth", &[beside(from), beside(to)]);
    }

    fn dimensions(&mut self) {
        for side in Side::ALL {
            let dimensions = self.of.dimensions.iter().filter(|dimension| dimension.beside == side);
            for (row, dimension) in (1..).zip(dimensions) {
                self.dimension(dimension, tenths(self.letter, ROW * row - 3));
            }
        }
    }

    fn dimension(&mut self, dimension: &Dimension, off: Length) {
        let at = self.of.on_saw.at;
        let line = match dimension.beside {
            Side::Left => at.left - off,
            Side::Right => at.right + off,
            Side::Bottom => at.bottom - off,
            Side::Top => at.top + off,
        };
        let place = |along: Length, line: Length| match dimension.along {
            Axis::X => Point::new(along, line),
            Axis::Y => Point::new(line, along),
        };
        let tick = tenths(self.letter, 3);
        self.svg.line("d-dim", &[place(dimension.from, line), place(dimension.to, line)]);
        for end in [dimension.from, dimension.to] {
            self.svg.line("d-dim", &[place(end, at.at(dimension.beside)), place(end, line)]);
            self.svg.line("d-dim-end", &[place(end - tick, line - tick), place(end + tick, line + tick)]);
        }
        let middle = Length::from_units((dimension.from.units() + dimension.to.units()).div_euclid(2));
        let above = tenths(self.letter, 2);
        let (low, high) = match dimension.along {
            Axis::X => (at.left, at.right),
            Axis::Y => (at.bottom, at.top),
        };
        let middle = within(middle, low, high, words_width(&dimension.words, self.letter).half());
        let at = match dimension.along {
            Axis::X => Point::new(middle, line + above),
            Axis::Y => Point::new(line - above, middle),
        };
        self.svg.text(at, dimension.along == Axis::Y, 10, &dimension.words);
    }
}

/// The ends of a rectangle's side, lower or left one first.
fn ends(rect: &Rect, side: Side) -> (Point, Point) {
    match side {
        Side::Left => (Point::new(rect.left, rect.bottom), Point::new(rect.left, rect.top)),
        Side::Right => (Point::new(rect.right, rect.bottom), Point::new(rect.right, rect.top)),
        Side::Bottom => (Point::new(rect.left, rect.bottom), Point::new(rect.right, rect.bottom)),
        Side::Top => (Point::new(rect.left, rect.top), Point::new(rect.right, rect.top)),
    }
}

/// The place for words of that half width nearest to `wanted` that does not stand out over `low..high`.
fn within(wanted: Length, low: Length, high: Length, half: Length) -> Length {
    if half + half > high - low { low + (high - low).half() } else { wanted.max(low + half).min(high - half) }
}

fn centre(rect: &Rect) -> Point {
    Point::new(rect.left + rect.width().half(), rect.bottom + rect.height().half())
}

/// About how wide words are, with a little room at both ends.
fn words_width(words: &str, letter: Length) -> Length {
    tenths(letter, 7 * i64::try_from(words.chars().count()).unwrap_or(0) + 6)
}

fn tenths(length: Length, count: i64) -> Length {
    Length::from_units(length.units() * count / 10)
}

fn part_of(length: Length, thousandths: i64) -> Length {
    Length::from_units(length.units() / 1000 * thousandths)
}

#[cfg(test)]
mod tests {
    use super::*;
    use trade::geometry::Sides;

    #[test]
    fn words_of_a_short_dimension_stay_on_the_drawing() {
        let mm = Length::mm;
        assert_eq!(within(mm(1), mm(0), mm(300), mm(40)), mm(40));
        assert_eq!(within(mm(299), mm(0), mm(300), mm(40)), mm(260));
        assert_eq!(within(mm(120), mm(0), mm(300), mm(40)), mm(120));
        assert_eq!(within(mm(1), mm(0), mm(50), mm(40)), mm(25));
    }

    #[test]
    fn factory_edges_are_thick_and_cut_ones_have_ticks() {
        let mm = Length::mm;
        let at = Rect { left: mm(0), bottom: mm(0), right: mm(398), top: mm(298) };
        let own: Sides = [Side::Left, Side::Bottom, Side::Top].into_iter().collect();
        let part = Part { at, own };
        let piece = Rect { right: mm(150), ..at };
        let drawing = CutDrawing {
            on_saw: part,
            cuts: &[SawCut { part, from: Side::Left, keep: mm(150) }],
            outline: piece.corners(),
            holes: Vec::new(),
            label: "A1-2",
            leaves: vec![Leave { at: Rect { left: mm(152), ..at }, words: "K7".to_owned(), kept: true }],
            dimensions: vec![Dimension {
                along: Axis::X,
                from: mm(0),
                to: mm(150),
                beside: Side::Top,
                words: "150 mm".to_owned(),
            }],
            says: "A1-2".to_owned(),
        };
        let drawn = drawing.draw();
        let path = |class: &str| {
            let (_, rest) = drawn.split_once(&format!(r#"class="{class}" d=""#)).unwrap();
            rest.split_once('"').unwrap().0.to_owned()
        };
        assert_eq!(path("d-factory").matches('M').count(), 3, "{drawn}");
        // Where it was sawn off before, and where it is sawn now: the ticks lie to the side of what goes. A letter is
        // 82/1000 of 398 mm high and 60 units, so that a millimetre is 1.8385 units.
        assert_eq!(path("d-cut"), "M732 548V0M276 548V0");
        assert_eq!(path("d-teeth"), "M738 548V0M282 548V0");
        assert!(drawn.contains(">K7<") && drawn.contains(">150 mm<") && drawn.contains(">A1-2<"), "{drawn}");
    }
}
