//! One wall as a setter sees it from the front: outline, level line, readings where they were taken, openings, and,
//! once it is planned, its tile and the lines to strike. Words come in ready to letter; lengths are of the bare
//! wall, heights from the line as it is today.

use trade::geometry::{Point, Rect};
use trade::measure::{Length, OpeningShape};

use super::svg::{Anchor, Svg};

/// What is known of a wall, however little.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct WallSketch {
    pub width: Length,
    /// From left to right.
    pub base: Vec<Mark>,
    /// From left to right.
    pub top: Vec<Mark>,
    pub openings: Vec<(OpeningShape, String)>,
    pub names: Names,
    pub tile: Option<TileSketch>,
}

/// One reading: where, and what is lettered beside its dimension line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mark {
    pub at: Point,
    pub words: String,
}

/// What is lettered round the wall.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Names {
    pub title: String,
    pub description: String,
    pub level: String,
    pub width: String,
    pub left: String,
    pub right: String,
    pub base: String,
    pub top: String,
}

/// What is planned on the wall.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct TileSketch {
    /// Each piece's outline, and whether it is a whole tile.
    pub pieces: Vec<(Vec<Point>, bool)>,
    /// Height of the middle of each course, with its number.
    pub courses: Vec<(Length, String)>,
    /// The plumb line to strike, with its name.
    pub plumb: Option<(Length, String)>,
}

/// Letters across the drawing of a whole page.
const LETTERS: i64 = 34;

/// The wall at the width of a phone or more. `None` while there is nothing to draw.
pub fn draw(sketch: &WallSketch, id: &str) -> Option<String> {
    let wall = Extent::of(sketch)?;
    // A letter is 1.6 / 34 of the frame, which is the wall and two letters on each side.
    let letter = Length::from_units(sketch.width.units() * 16 / (LETTERS * 10 - 16 * 4));
    let frame = Rect {
        left: -letter * 2,
        bottom: wall.lowest - letter * 4,
        right: sketch.width + letter * 2,
        top: wall.highest + letter * 2,
    };
    let mut on = Sheet { svg: Svg::new(frame, 34.0), letter, sketch, wall };
    on.tile();
    on.outline();
    on.openings();
    if sketch.tile.is_none() {
        on.readings();
    }
    on.level_line(frame);
    on.names();
    Some(on.svg.finish(id, &sketch.names.title, &sketch.names.description))
}

/// The wall without lettering, for a list.
pub fn draw_small(sketch: &WallSketch, id: &str) -> Option<String> {
    let wall = Extent::of(sketch)?;
    let edge = Length::from_units(sketch.width.units() / 30);
    let frame = Rect {
        left: -edge,
        bottom: wall.lowest - edge,
        right: sketch.width + edge,
        top: wall.highest + edge,
    };
    let mut on = Sheet { svg: Svg::new(frame, 24.0), letter: edge, sketch, wall };
    on.outline();
    for (shape, _) in &sketch.openings {
        on.opening(shape);
    }
    on.svg.line("d-level", &level(frame.left, frame.right, Length::ZERO));
    Some(on.svg.finish(id, &sketch.names.title, &sketch.names.description))
}

/// How far down and up the wall reaches.
#[derive(Clone, Copy)]
struct Extent {
    lowest: Length,
    highest: Length,
}

impl Extent {
    fn of(sketch: &WallSketch) -> Option<Self> {
        let heights = || sketch.base.iter().chain(&sketch.top).map(|mark| mark.at.y).chain([Length::ZERO]);
        let (lowest, highest) = (heights().min()?, heights().max()?);
        (sketch.width > Length::ZERO && lowest < highest).then_some(Self { lowest, highest })
    }
}

/// A drawing under way.
struct Sheet<'a> {
    svg: Svg,
    letter: Length,
    sketch: &'a WallSketch,
    wall: Extent,
}

fn level(from: Length, to: Length, y: Length) -> [Point; 2] {
    [Point::new(from, y), Point::new(to, y)]
}

fn extent(shape: &OpeningShape) -> Rect {
    match *shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            Rect { left: x, bottom: y, right: x + width, top: y + height }
        }
        OpeningShape::Circle { x, y, diameter } => {
            let radius = diameter.half();
            Rect { left: x - radius, bottom: y - radius, right: x + radius, top: y + radius }
        }
    }
}

fn plumb(x: Length, from: Length, to: Length) -> [Point; 2] {
    [Point::new(x, from), Point::new(x, to)]
}

impl Sheet<'_> {
    /// Tenths of a letter.
    fn tenths(&self, tenths: i64) -> Length {
        Length::from_units(self.letter.units() * tenths / 10)
    }

    fn outline(&mut self) {
        let mut outline = self.across(&self.sketch.base);
        outline.extend(self.across(&self.sketch.top).into_iter().rev());
        self.svg.polygon("d-wall", &outline);
    }

    /// Straight between readings, level outside them, on the line where there are none.
    fn across(&self, marks: &[Mark]) -> Vec<Point> {
        let first = marks.first().map(|mark| Point::new(Length::ZERO, mark.at.y));
        let last = marks.last().map(|mark| Point::new(self.sketch.width, mark.at.y));
        let mut points = vec![first.unwrap_or_default()];
        points.extend(marks.iter().map(|mark| mark.at));
        points.push(last.unwrap_or(Point::new(self.sketch.width, Length::ZERO)));
        points.dedup();
        points
    }

    fn openings(&mut self) {
        for (shape, name) in &self.sketch.openings {
            self.opening(shape);
            self.opening_name(shape, name);
        }
    }

    fn opening(&mut self, shape: &OpeningShape) {
        match *shape {
            OpeningShape::Rectangle { .. } => self.svg.rect("d-opening", extent(shape)),
            OpeningShape::Circle { x, y, diameter } => {
                self.svg.circle("d-opening", Point::new(x, y), diameter);
                let reach = diameter.half() + self.tenths(5);
                self.svg.line("d-centre", &level(x - reach, x + reach, y));
                self.svg.line("d-centre", &plumb(x, y - reach, y + reach));
            }
        }
    }

    fn opening_name(&mut self, shape: &OpeningShape, name: &str) {
        let at = match *shape {
            OpeningShape::Rectangle { x, y, width, height } => {
                Point::new(x + width.half(), y + height.half() - self.tenths(3))
            }
            // On the side away from the level line, which would run through it.
            OpeningShape::Circle { x, y, diameter } if y < Length::ZERO => {
                Point::new(x, y - diameter.half() - self.tenths(14))
            }
            OpeningShape::Circle { x, y, diameter } => Point::new(x, y + diameter.half() + self.tenths(7)),
        };
        self.svg.text("", at, Anchor::Middle, 0.9, name);
    }

    /// A dimension line from the level line to each reading; those at the wall's ends and at steps a little inside.
    fn readings(&mut self) {
        for marks in [&self.sketch.base, &self.sketch.top] {
            let mut lettered: Option<Length> = None;
            for (place, mark) in marks.iter().enumerate() {
                let x = self.beside(marks, place);
                self.dimension(&plumb(x, Length::ZERO, mark.at.y));
                let has_room = lettered.is_none_or(|before| x - before >= self.tenths(11));
                if has_room && mark.at.y != Length::ZERO {
                    let at = Point::new(x - self.tenths(2), mark.at.y.half());
                    self.svg.text_upward("", at, Anchor::Middle, 1.0, &mark.words);
                    lettered = Some(x);
                }
            }
        }
    }

    fn beside(&self, marks: &[Mark], place: usize) -> Length {
        let x = marks[place].at.x;
        let same_as = |other: Option<usize>| {
            other.and_then(|other| marks.get(other)).is_some_and(|other| other.at.x == x)
        };
        let (room, end) = (self.tenths(13), self.sketch.width);
        if x + room > end || same_as(place.checked_add(1)) {
            (x - self.tenths(4)).max(room)
        } else if x < room || same_as(place.checked_sub(1)) {
            x + room
        } else {
            x
        }
    }

    /// A thin line with an oblique stroke at each end (ISO 129-1).
    fn dimension(&mut self, line: &[Point; 2]) {
        self.svg.line("d-dim", line);
        let stroke = self.tenths(3);
        for end in line {
            let stroke =
                [Point::new(end.x - stroke, end.y - stroke), Point::new(end.x + stroke, end.y + stroke)];
            self.svg.line("d-dim", &stroke);
        }
    }

    fn level_line(&mut self, frame: Rect) {
        // Not through the numbers of the courses.
        let from = if self.sketch.tile.is_some() { -self.tenths(2) } else { frame.left };
        self.svg.line("d-level", &level(from, frame.right, Length::ZERO));
        let at = Point::new(self.widest_room(), self.tenths(4));
        self.svg.text("d-blue", at, Anchor::Middle, 1.0, &self.sketch.names.level);
    }

    /// The middle of the widest part of the level line that no dimension, opening or plumb line crosses.
    fn widest_room(&self) -> Length {
        let at = |x: Length| (x, x);
        let mut taken = vec![at(Length::ZERO), at(self.sketch.width)];
        match &self.sketch.tile {
            Some(tile) => taken.extend(tile.plumb.iter().map(|(x, _)| at(*x))),
            None => {
                for marks in [&self.sketch.base, &self.sketch.top] {
                    taken.extend((0..marks.len()).map(|place| at(self.beside(marks, place))));
                }
            }
        }
        let crossed = self.sketch.openings.iter().map(|(shape, _)| extent(shape));
        let lettering = (-self.tenths(2), self.tenths(13));
        let crossed = crossed.filter(|room| room.bottom < lettering.1 && room.top > lettering.0);
        taken.extend(crossed.map(|room| (room.left, room.right)));
        taken.sort();
        let mut reached = Length::ZERO;
        let mut widest = (Length::ZERO, self.sketch.width.half());
        for (from, to) in taken {
            widest = widest.max((from - reached, (from + reached).half()));
            reached = reached.max(to);
        }
        widest.1
    }

    fn names(&mut self) {
        let (width, names) = (self.sketch.width, &self.sketch.names);
        let middle = width.half();
        let below = self.wall.lowest;
        let upright = (self.wall.lowest + self.wall.highest).half();
        let at = |y: Length| Point::new(middle, y);
        self.svg.text("d-faint", at(self.wall.highest + self.tenths(7)), Anchor::Middle, 0.9, &names.top);
        self.svg.text("d-faint", at(below - self.tenths(12)), Anchor::Middle, 0.9, &names.base);
        self.dimension(&level(Length::ZERO, width, below - self.tenths(32)));
        self.svg.text("", at(below - self.tenths(27)), Anchor::Middle, 1.1, &names.width);
        if self.sketch.tile.is_none() {
            let left = Point::new(-self.tenths(6), upright);
            let right = Point::new(width + self.tenths(14), upright);
            self.svg.text_upward("d-faint", left, Anchor::Middle, 0.9, &names.left);
            self.svg.text_upward("d-faint", right, Anchor::Middle, 0.9, &names.right);
        }
    }

    fn tile(&mut self) {
        let Some(tile) = &self.sketch.tile else { return };
        for (outline, full) in &tile.pieces {
            self.svg.polygon(if *full { "d-full" } else { "d-piece" }, outline);
        }
        let mut lettered: Option<Length> = None;
        for (middle, number) in &tile.courses {
            if lettered.is_none_or(|below| *middle - below >= self.letter) {
                let at = Point::new(-self.tenths(4), *middle - self.tenths(3));
                self.svg.text("", at, Anchor::End, 0.9, number);
                lettered = Some(*middle);
            }
        }
        if let Some((x, name)) = &tile.plumb {
            let (from, to) = (self.wall.lowest, self.wall.highest);
            self.svg.line("d-level", &plumb(*x, from, to));
            let at = Point::new(*x - self.tenths(2), from + self.tenths(5));
            self.svg.text_upward("d-blue", at, Anchor::Start, 0.9, name);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(x: i64, y: i64, words: &str) -> Mark {
        Mark { at: Point::new(Length::mm(x), Length::mm(y)), words: words.to_owned() }
    }

    fn sketch() -> WallSketch {
        WallSketch {
            width: Length::mm(1500),
            base: vec![mark(0, -1200, "1200 mm"), mark(1500, -1206, "1206 mm")],
            top: vec![mark(0, 1000, "1000 mm")],
            openings: vec![(
                OpeningShape::Circle { x: Length::mm(750), y: Length::mm(-200), diameter: Length::mm(38) },
                "valve".to_owned(),
            )],
            names: Names { level: "Level line".to_owned(), ..Names::default() },
            tile: None,
        }
    }

    #[test]
    fn a_wall_is_drawn_with_every_reading_its_openings_and_its_line() {
        let drawn = draw(&sketch(), "w").unwrap();
        for words in ["1200 mm", "1206 mm", "1000 mm", "valve", "Level line", "d-level", "<circle"] {
            assert!(drawn.contains(words), "{words} in {drawn}");
        }
        assert!(!draw_small(&sketch(), "w").unwrap().contains("<text"));
    }

    #[test]
    fn what_has_no_width_or_no_height_is_not_drawn() {
        assert_eq!(draw(&WallSketch { width: Length::ZERO, ..sketch() }, "w"), None);
        assert_eq!(draw(&WallSketch { base: Vec::new(), top: Vec::new(), ..sketch() }, "w"), None);
        assert!(draw(&WallSketch { base: Vec::new(), ..sketch() }, "w").is_some());
    }

    #[test]
    fn readings_too_close_together_are_lettered_once() {
        let mut close = sketch();
        close.base.insert(1, mark(700, -1201, "1201 mm"));
        close.base.insert(2, mark(705, -1202, "1202 mm"));
        let drawn = draw(&close, "w").unwrap();
        assert!(drawn.contains("1201 mm") && !drawn.contains("1202 mm"));
    }
}
