//! One tiled surface as a drawing: whole tiles plain, cut ones tinted, factory edges the thickest lines, and the
//! dimensions that a setter measures first.

use trade::course::{Course, WallCourses};
use trade::geometry::{Point, Rect, Side, Sides, around_circle};
use trade::measure::{Length, Opening, OpeningShape, Rounding, Surface, Unit};
use trade::place::{Hole, Mark, Piece};

use super::svg::{Anchor, Svg};

/// What is drawn of a wall.
pub struct WallDrawing<'a> {
    pub surface: &'a Surface,
    pub courses: &'a WallCourses,
    /// Those of this wall.
    pub pieces: &'a [&'a Piece],
    /// y of the level line as it is today.
    pub level: Length,
    pub unit: Unit,
    pub view: View,
    pub words: Words,
}

/// How near the reader stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum View {
    /// The wall at a glance, as wide as a phone.
    Glance,
    /// Every cut piece with its label and size, on a page that is scrolled.
    Close,
}

/// The words on a drawing.
pub struct Words {
    pub title: String,
    pub description: String,
    pub level_line: String,
}

/// The drawing under way.
struct Pen<'a> {
    of: &'a WallDrawing<'a>,
    svg: Svg,
    /// Height of the lettering.
    letter: Length,
    frame: Rect,
    /// The wall's own room.
    wall: Rect,
    /// What words stand on already.
    taken: Vec<Rect>,
}

/// Where a label stands.
#[derive(Clone, Copy)]
struct Label {
    centre: Point,
    upward: bool,
    /// What it covers.
    room: Rect,
}

/// A height of words in tenths of the lettering.
type Size = i32;

/// Widths in hundredths of the height: of a capital or digit, of a letter of a word, and of what parts a fraction.
const DIGIT_WIDTH: i64 = 62;
const LETTER_WIDTH: i64 = 54;
const NARROW_WIDTH: i64 = 35;

/// Margins in tenths of the lettering: course numbers at the left, heights at the right, widths below.
const LEFT: i64 = 22;
const RIGHT: i64 = 20;
const BELOW: i64 = 34;
const ABOVE: i64 = 6;

/// Sizes of words.
const NUMBER: Size = 10;
const DIMENSION: Size = 9;
const NAME: Size = 8;

impl View {
    /// How many letters fit across the drawing.
    const fn letters_across(self) -> i64 {
        match self {
            Self::Glance => 30,
            Self::Close => 110,
        }
    }

    const fn label_size(self) -> Size {
        match self {
            Self::Glance => 8,
            Self::Close => 10,
        }
    }
}

impl WallDrawing<'_> {
    /// The drawing, with `id` for its title and description.
    pub fn draw(&self, id: &str) -> String {
        let mut pen = Pen::new(self);
        pen.tiles();
        pen.edges();
        pen.svg.polygon("l-room", &outline(self.surface));
        // A surface given by its outline has axes of its own and no level line.
        let is_levelled = self.surface.outline.is_none();
        if is_levelled {
            pen.level_line();
        }
        pen.openings();
        pen.course_numbers();
        pen.sliver_marks();
        if is_levelled {
            pen.labels_and_name_of_the_line();
        } else {
            pen.labels();
        }
        pen.widths();
        pen.heights();
        pen.svg.finish(id, &self.words.title, &self.words.description)
    }

    /// Field courses from the bottom up.
    fn field(&self) -> impl DoubleEndedIterator<Item = &Course> {
        self.courses.courses.iter().filter(|course| !course.strip)
    }

    /// The first and the last piece of a course; twice the same where it is the only one.
    fn ends(&self, course: &Course) -> Option<[&Piece; 2]> {
        let row = || {
            let of_course = |piece: &&Piece| piece.course == course.number && piece.band == course.band;
            self.pieces.iter().copied().filter(of_course)
        };
        row()
            .min_by_key(|piece| piece.bounds.left)
            .zip(row().max_by_key(|piece| piece.bounds.left))
            .map(<[_; 2]>::from)
    }

    /// A length that a piece must fit into, without its unit, as drawings have them.
    fn bare(&self, length: Length) -> String {
        let shown = length.show(self.unit, Rounding::FitsIn);
        shown.trim_end_matches(" mm").trim_end_matches(" in").to_owned()
    }
}

impl<'a> Pen<'a> {
    fn new(of: &'a WallDrawing<'a>) -> Self {
        let width = of.surface.width;
        let corners = outline(of.surface);
        let pieces = of.pieces.iter().map(|piece| piece.bounds.top);
        let wall = Rect {
            left: of.surface.left(),
            bottom: corners.iter().map(|corner| corner.y).min().unwrap_or_default(),
            right: of.surface.right(),
            top: corners.iter().map(|corner| corner.y).chain(pieces).max().unwrap_or_default(),
        };
        // A drawing is 1.6 letter heights wide for each letter across, margins included. One that is more than twice
        // as high as wide is shown smaller, so its letters are as large as if it were wider.
        let across = of.view.letters_across() * 100 - (LEFT + RIGHT) * 16;
        let letter = Length::from_units(width.max(wall.height().half()).units() * 160 / across);
        let frame = Rect {
            left: wall.left - tenths(letter, LEFT),
            bottom: wall.bottom - tenths(letter, BELOW),
            right: wall.right + tenths(letter, RIGHT),
            top: wall.top + tenths(letter, ABOVE),
        };
        let svg = Svg::new(frame, frame.width().to_mm() * 1.6 / letter.to_mm());
        Self { of, svg, letter, frame, wall, taken: of.surface.openings.iter().map(room_of).collect() }
    }

    /// So many tenths of the lettering.
    fn letters(&self, count: i64) -> Length {
        tenths(self.letter, count)
    }

    /// The room that words take along their line.
    fn long(&self, size: Size, words: &str) -> Length {
        let width = |c: char| match c {
            ' ' | '/' | '-' => NARROW_WIDTH,
            c if c.is_lowercase() => LETTER_WIDTH,
            _ => DIGIT_WIDTH,
        };
        let hundredths: i64 = words.chars().map(width).sum();
        Length::from_units(self.letters(i64::from(size)).units() * hundredths / 100)
    }

    fn text(&mut self, class: &str, at: Point, anchor: Anchor, size: Size, words: &str) {
        self.svg.text(class, at, anchor, f64::from(size) / 10.0, words);
    }

    fn text_upward(&mut self, class: &str, at: Point, anchor: Anchor, size: Size, words: &str) {
        self.svg.text_upward(class, at, anchor, f64::from(size) / 10.0, words);
    }

    /// The faces of the tiles, one element for each class.
    fn tiles(&mut self) {
        for class in ["l-whole", "l-cut", "l-shaped", "l-sliver"] {
            let of_class = || self.of.pieces.iter().filter(|piece| class_of(piece) == class);
            let holes: Vec<Vec<Point>> =
                of_class().flat_map(|piece| &piece.holes).map(hole_outline).collect();
            let outlines = of_class().map(|piece| piece.outline.as_slice());
            self.svg.outlines(class, outlines.chain(holes.iter().map(Vec::as_slice)));
        }
    }

    /// Where the tile's own edge must be, and where the saw has been.
    fn edges(&mut self) {
        let (mut factory, mut sawn) = (Vec::new(), Vec::new());
        for piece in self.of.pieces {
            let kept = if piece.full { Sides::ALL } else { piece.factory };
            let next = piece.outline.iter().cycle().skip(1);
            for (from, to) in piece.outline.iter().zip(next) {
                let edge = [*from, *to];
                let is_factory = kept.iter().any(|side| lies_on(edge, &piece.bounds, side));
                if is_factory { factory.push(edge) } else { sawn.push(edge) }
            }
        }
        self.svg.lines("l-sawn", sawn.iter().map(<[Point; 2]>::as_slice));
        self.svg.lines("l-factory", factory.iter().map(<[Point; 2]>::as_slice));
    }

    /// With thin lines from corner to corner, or through the middle of a circle: nothing is there.
    fn openings(&mut self) {
        for opening in &self.of.surface.openings {
            let room = room_of(opening);
            let Rect { left, bottom, right, top } = room;
            match opening.shape {
                OpeningShape::Circle { x, y, diameter } => {
                    self.svg.circle("d-opening", Point::new(x, y), diameter);
                    let (over, centre) = (self.letters(3), Point::new(x, y));
                    let across = [Point::new(left - over, centre.y), Point::new(right + over, centre.y)];
                    let up = [Point::new(centre.x, bottom - over), Point::new(centre.x, top + over)];
                    self.svg.lines("d-centre", [across.as_slice(), up.as_slice()]);
                }
                OpeningShape::Rectangle { .. } => {
                    self.svg.rect("d-opening", room);
                    let rising = [Point::new(left, bottom), Point::new(right, top)];
                    let falling = [Point::new(left, top), Point::new(right, bottom)];
                    self.svg.lines("l-void", [rising.as_slice(), falling.as_slice()]);
                }
            }
            self.name(&room, &opening.name);
        }
    }

    /// In the opening where it fits, else beside it.
    fn name(&mut self, room: &Rect, name: &str) {
        let (high, long) = (self.letters(i64::from(NAME)), self.long(NAME, name));
        let centre = Point::new(middle(room.left, room.right), middle(room.bottom, room.top));
        let inside = about(centre, long, high);
        let (beside, over) =
            ((long + room.width()).half() + self.letters(4), (high + room.height()).half() + self.letters(4));
        let places = [
            Point::new(centre.x, centre.y + over),
            Point::new(centre.x, centre.y - over),
            Point::new(centre.x + beside, centre.y),
            Point::new(centre.x - beside, centre.y),
        ];
        let at = if room.holds(&inside) { centre } else { self.first_free(&places, long, high) };
        self.words("l-on-tile", at, name);
    }

    /// Today's line across the wall; what stands on the wall keeps off it.
    fn level_line(&mut self) {
        let (y, inward) = (self.of.level, self.letters(4));
        // Not through the numbers of the courses.
        let (left, right) = (self.wall.left - inward, self.frame.right - inward);
        self.svg.line("d-level", &[Point::new(left, y), Point::new(right, y)]);
        self.taken.push(about(Point::new(middle(left, right), y), right - left, self.letters(2)));
    }

    /// The name of the line stands above or below it, where it covers no other words. Where the labels leave it no room,
    /// they give way to it.
    fn labels_and_name_of_the_line(&mut self) {
        let name = self.of.words.level_line.clone();
        let (long, high) = (self.long(NAME, &name), self.letters(i64::from(NAME)));
        let (y, width, edge) = (self.of.level, self.of.surface.width, long.half() + self.letters(2));
        let across = [width.half(), edge, width - edge, tenths(width, 3), tenths(width, 7)];
        // Farther off where an opening lies in its way.
        let off = [7, -7, 13, -13, 19, -19].map(|letters| y + self.letters(letters));
        let places = off.map(|y| across.map(|x| Point::new(x, y))).concat();
        let near = &places[..2 * across.len()];
        let labels: Vec<Rect> = self.placed_labels().iter().map(|(label, _)| label.room).collect();
        if let Some(at) = self.free(near, (long, high), &labels) {
            self.labels();
            self.words("l-on-tile l-blue", at, &name);
        } else {
            let at = self.first_free(&places, long, high);
            self.words("l-on-tile l-blue", at, &name);
            self.labels();
        }
    }

    /// The first of the places about which words cover nothing else, or else the first.
    fn first_free(&self, places: &[Point], long: Length, high: Length) -> Point {
        let free = self.free(places, (long, high), &[]);
        free.or_else(|| places.first().copied()).unwrap_or_default()
    }

    /// The first of the places about which words of that size cover nothing else, nor any of these.
    fn free(&self, places: &[Point], (long, high): (Length, Length), others: &[Rect]) -> Option<Point> {
        let is_free = |at: &Point| {
            let words = about(*at, long, high);
            self.wall.holds(&words) && !self.taken.iter().chain(others).any(|taken| taken.overlaps(&words))
        };
        places.iter().copied().find(is_free)
    }

    /// Words about a point, which then is taken.
    fn words(&mut self, class: &str, centre: Point, words: &str) {
        let (long, high) = (self.long(NAME, words), self.letters(i64::from(NAME)));
        self.taken.push(about(centre, long, high));
        self.text(class, Point::new(centre.x, centre.y - tenths(high, 4)), Anchor::Middle, NAME, words);
    }

    /// At the left, as far apart as they can be read.
    fn course_numbers(&mut self) {
        let mut free_from = self.frame.bottom;
        for course in self.of.field() {
            let (bottom, top) = (course.bottom.max(self.wall.bottom), course.top.min(self.wall.top));
            let base = middle(bottom, top) - self.letters(4);
            if base < free_from {
                continue;
            }
            free_from = base + self.letters(12);
            let at = Point::new(self.wall.left - self.letters(7), base);
            self.text("l-number", at, Anchor::End, NUMBER, &course.number.to_string());
        }
    }

    /// A triangle on every sliver: the shape that means "look at this" all through the program.
    fn sliver_marks(&mut self) {
        let slivers = self.of.pieces.iter().filter(|piece| piece.sliver.is_some());
        let marks: Vec<Vec<Point>> = slivers.map(|piece| triangle(&piece.bounds, self.letter)).collect();
        self.svg.outlines("l-look", marks.iter().map(Vec::as_slice));
    }

    fn labels(&mut self) {
        for (at, lines) in self.placed_labels() {
            self.put_label(at, &lines);
        }
    }

    /// The label of every cut piece that it fits on, with its size where the reader stands close.
    fn placed_labels(&self) -> Vec<(Label, Vec<String>)> {
        let (mut placed, mut taken) = (Vec::new(), self.taken.clone());
        for piece in self.of.pieces.iter().filter(|piece| !piece.full) {
            let size =
                format!("{} × {}", self.of.bare(piece.bounds.width()), self.of.bare(piece.bounds.height()));
            let both = [piece.id.0.clone(), size];
            let tries = match self.of.view {
                View::Close => [both.as_slice(), &both[..1]],
                View::Glance => [&both[..1], &both[..1]],
            };
            let place = |lines: &[String]| self.label_place(piece, lines, &taken);
            if let Some((lines, at)) = tries.into_iter().find_map(|lines| Some((lines, place(lines)?))) {
                taken.push(at.room);
                placed.push((at, lines.to_vec()));
            }
        }
        placed
    }

    /// Level where it fits, else upward, and over nothing that is taken.
    fn label_place(&self, piece: &Piece, lines: &[String], taken: &[Rect]) -> Option<Label> {
        let size = self.of.view.label_size();
        let room = label_room(piece, self.letter).grown(-self.letters(1));
        let middle_of = Point::new(middle(room.left, room.right), middle(room.bottom, room.top));
        let quarter = room.height().half().half();
        let long = lines.iter().map(|line| self.long(size, line)).max()?;
        let high = tenths(self.letters(i64::from(size)), 13 * count(lines));
        let level = |centre: Point| Label { centre, upward: false, room: about(centre, long, high) };
        let upward = Label { upward: true, room: about(middle_of, high, long), ..level(middle_of) };
        // Where the level line runs through its middle, above or below it.
        let beside = [quarter, -quarter].map(|up| level(Point::new(middle_of.x, middle_of.y + up)));
        let fits =
            |label: &Label| room.holds(&label.room) && !taken.iter().any(|other| other.overlaps(&label.room));
        [level(middle_of), upward].into_iter().chain(beside).find(fits)
    }

    fn put_label(&mut self, at: Label, lines: &[String]) {
        self.taken.push(at.room);
        let size = self.of.view.label_size();
        let high = self.letters(i64::from(size));
        // The first baseline, so that all lines together stand about the centre.
        let mut up = tenths(high, 13 * (count(lines) - 1)).half() - tenths(high, 4);
        for line in lines {
            if at.upward {
                let place = Point::new(at.centre.x - up, at.centre.y);
                self.text_upward("l-label", place, Anchor::Middle, size, line);
            } else {
                let place = Point::new(at.centre.x, at.centre.y + up);
                self.text("l-label", place, Anchor::Middle, size, line);
            }
            up -= tenths(high, 13);
        }
    }

    /// Below the wall, the first and last cut widths of the two lowest courses.
    fn widths(&mut self) {
        let mut y = self.wall.bottom - self.letters(14);
        for course in self.of.field().take(2) {
            let ends = self.of.ends(course).into_iter().flatten().zip([Anchor::Start, Anchor::End]);
            for (piece, outside) in ends.filter(|(piece, _)| piece.bounds.width() < piece.cell.width()) {
                self.width(y, piece, outside);
            }
            let at = Point::new(self.wall.left - self.letters(7), y);
            self.text("l-number", at, Anchor::End, NUMBER, &course.number.to_string());
            y -= self.letters(15);
        }
    }

    fn width(&mut self, y: Length, piece: &Piece, outside: Anchor) {
        let (from, to) = (piece.bounds.left, piece.bounds.right);
        self.dimension([Point::new(from, y), Point::new(to, y)], Point::new(Length::ZERO, self.letters(9)));
        let words = self.of.bare(to - from);
        if to - from >= self.long(DIMENSION, &words) {
            let at = Point::new(middle(from, to), y + self.letters(2));
            self.text("l-dim", at, Anchor::Middle, DIMENSION, &words);
        } else {
            let x = if outside == Anchor::Start { to + self.letters(5) } else { from - self.letters(5) };
            self.text("l-dim", Point::new(x, y - self.letters(3)), outside, DIMENSION, &words);
        }
    }

    /// At the right, the cut heights of the lowest and the highest course.
    fn heights(&mut self) {
        let mut field = self.of.field();
        let courses = [(field.next(), Anchor::Start), (field.next_back(), Anchor::End)];
        for (course, outside) in courses {
            if let Some([_, piece]) = course.and_then(|course| self.of.ends(course))
                && piece.bounds.height() < piece.cell.height()
            {
                let span = course.map(|course| self.heights_of(course)).unwrap_or_default();
                self.height(self.wall.right + self.letters(12), piece, outside, &span);
            }
        }
    }

    /// The height that a course is cut to, or the least and the most where the base or the ceiling falls.
    fn heights_of(&self, course: &Course) -> String {
        let shaped = |piece: &Piece| class_of(piece) == "l-shaped";
        let pieces = self.of.pieces.iter().filter(|piece| {
            piece.course == course.number && piece.band == course.band && !piece.full && !shaped(piece)
        });
        let at = |piece: &Piece, x: Length| {
            let heights = || piece.outline.iter().filter(|point| point.x == x).map(|point| point.y);
            Some(heights().max()? - heights().min()?)
        };
        let ends: Vec<Length> = pieces
            .flat_map(|piece| [at(piece, piece.bounds.left), at(piece, piece.bounds.right)])
            .flatten()
            .filter(|height| *height > Length::ZERO)
            .collect();
        let [least, most] =
            [ends.iter().min(), ends.iter().max()].map(|end| end.map(|end| self.of.bare(*end)));
        match (least, most) {
            (Some(least), Some(most)) if least != most => format!("{least} – {most}"),
            (least, _) => least.unwrap_or_default(),
        }
    }

    fn height(&mut self, x: Length, piece: &Piece, outside: Anchor, words: &str) {
        let (from, to) = (piece.bounds.bottom, piece.bounds.top);
        self.dimension([Point::new(x, from), Point::new(x, to)], Point::new(-self.letters(9), Length::ZERO));
        if to - from >= self.long(DIMENSION, words) {
            let at = Point::new(x - self.letters(2), middle(from, to));
            self.text_upward("l-dim", at, Anchor::Middle, DIMENSION, words);
        } else {
            let y = if outside == Anchor::Start { to + self.letters(5) } else { from - self.letters(5) };
            self.text_upward("l-dim", Point::new(x + self.letters(3), y), outside, DIMENSION, words);
        }
    }

    /// A dimension line with its end marks, and the lines that lead from it to what is measured.
    fn dimension(&mut self, line: [Point; 2], toward: Point) {
        let tick = self.letters(2);
        let ticks =
            line.map(|end| [Point::new(end.x - tick, end.y - tick), Point::new(end.x + tick, end.y + tick)]);
        let leads = line.map(|end| [end, Point::new(end.x + toward.x, end.y + toward.y)]);
        self.svg.lines("d-dim", ticks.iter().chain(&leads).chain([&line]).map(<[Point; 2]>::as_slice));
    }
}

/// What a cut piece looks like: a sliver first, since it is what must not be overlooked.
pub(super) fn class_of(piece: &Piece) -> &'static str {
    let shaped = |mark: &Mark| matches!(mark, Mark::Notch { .. } | Mark::Hole { .. });
    if piece.full {
        "l-whole"
    } else if piece.sliver.is_some() {
        "l-sliver"
    } else if piece.marks.iter().any(shaped) {
        "l-shaped"
    } else {
        "l-cut"
    }
}

fn lies_on([from, to]: [Point; 2], bounds: &Rect, side: Side) -> bool {
    let at = bounds.at(side);
    match side {
        Side::Left | Side::Right => from.x == at && to.x == at,
        Side::Bottom | Side::Top => from.y == at && to.y == at,
    }
}

pub(super) fn hole_outline(hole: &Hole) -> Vec<Point> {
    match hole {
        Hole::Round { centre, diameter } => around_circle(*centre, *diameter),
        Hole::Polygon(outline) => outline.clone(),
    }
}

/// The surface itself: its outline, or along a wall's base from left to right and back along its top.
pub(super) fn outline(surface: &Surface) -> Vec<Point> {
    if let Some(outline) = &surface.outline {
        return outline.corners();
    }
    let base: Vec<Point> = surface.base.iter().map(|reading| Point::new(reading.x, -reading.drop)).collect();
    let top: Vec<Point> = surface.top.iter().map(|reading| Point::new(reading.x, reading.rise)).collect();
    let mut corners = end_to_end(&base, surface.width);
    corners.extend(end_to_end(&top, surface.width).into_iter().rev());
    corners
}

/// Readings drawn on level to both ends of the wall.
fn end_to_end(readings: &[Point], width: Length) -> Vec<Point> {
    let first = readings.first().map(|first| Point::new(Length::ZERO, first.y));
    let last = readings.last().map(|last| Point::new(width, last.y));
    let mut line: Vec<Point> = first.into_iter().chain(readings.iter().copied()).chain(last).collect();
    line.dedup();
    line
}

pub(super) fn room_of(opening: &Opening) -> Rect {
    match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            Rect { left: x, bottom: y, right: x + width, top: y + height }
        }
        OpeningShape::Circle { x, y, diameter } => point_rect(Point::new(x, y)).grown(diameter.half()),
    }
}

/// What words cover that stand about a point.
fn about(centre: Point, width: Length, height: Length) -> Rect {
    Rect {
        left: centre.x - width.half(),
        bottom: centre.y - height.half(),
        right: centre.x + width.half(),
        top: centre.y + height.half(),
    }
}

fn point_rect(at: Point) -> Rect {
    Rect { left: at.x, bottom: at.y, right: at.x, top: at.y }
}

/// At the foot of a high piece, at the left end of a low one.
fn triangle(bounds: &Rect, lettering: Length) -> Vec<Point> {
    let half = tenths(lettering, 4);
    let (x, y) = if bounds.width() < bounds.height() {
        (middle(bounds.left, bounds.right), bounds.bottom + half * 2)
    } else {
        (bounds.left + half * 2, middle(bounds.bottom, bounds.top))
    };
    vec![Point::new(x - half, y - half), Point::new(x + half, y - half), Point::new(x, y + half)]
}

/// What is left of a piece for its label beside the triangle of a sliver.
fn label_room(piece: &Piece, lettering: Length) -> Rect {
    let mark = tenths(lettering, if piece.sliver.is_some() { 14 } else { 0 });
    let bounds = piece.bounds;
    if bounds.width() < bounds.height() {
        Rect { bottom: bounds.bottom + mark, ..bounds }
    } else {
        Rect { left: bounds.left + mark, ..bounds }
    }
}

fn middle(one: Length, other: Length) -> Length {
    (one + other).half()
}

fn tenths(length: Length, count: i64) -> Length {
    Length::from_units(length.units() * count / 10)
}

fn count(lines: &[String]) -> i64 {
    i64::try_from(lines.len()).unwrap_or(1)
}
