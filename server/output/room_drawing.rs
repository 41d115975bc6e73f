//! All walls of a room side by side on one level line, small enough to hold several layouts against each other:
//! whole tiles plain, cut ones tinted with a stroke across, slivers filled.

use trade::geometry::{Point, Rect};
use trade::measure::{Length, OpeningShape, Surface};
use trade::place::Piece;

use super::layout_drawing::{class_of, hole_outline, outline, room_of};
use super::svg::{Anchor, Svg};

/// What is drawn of a room.
pub struct RoomDrawing<'a> {
    /// In the order shown, each with its pieces.
    pub walls: Vec<(&'a Surface, Vec<&'a Piece>)>,
    /// y of the level line as it is today.
    pub level: Length,
    pub title: String,
    pub description: String,
}

/// How wide a row of walls may grow, in tenths of the highest wall.
const ROW_TENTHS: i64 = 28;

/// A wall's short name is read on a phone when so many letters fit across the drawing.
const LETTERS_ACROSS: f64 = 30.0;

/// One wall with its place in the drawing.
struct Placed<'a> {
    surface: &'a Surface,
    pieces: &'a [&'a Piece],
    /// The wall's own room, in its own frame.
    room: Rect,
    /// Where its left end on the first level line comes to lie.
    at: Point,
}

/// Everything in its place.
struct Sheet<'a> {
    walls: Vec<Placed<'a>>,
    frame: Rect,
    /// Between two walls.
    gap: Length,
}

impl RoomDrawing<'_> {
    /// The drawing, with `id` for its title and description.
    pub fn draw(&self, id: &str) -> String {
        let sheet = self.sheet();
        let mut svg = Svg::new(sheet.frame, LETTERS_ACROSS);
        for wall in &sheet.walls {
            wall.tiles(&mut svg);
            wall.level_line(&mut svg, self.level, sheet.gap.half());
            wall.openings(&mut svg);
            svg.polygon("r-room", &wall.moved(&outline(wall.surface)));
            wall.name(&mut svg, sheet.gap);
        }
        svg.finish(id, &self.title, &self.description)
    }

    /// Rows from the top down, the walls of a row on one level line.
    fn sheet(&self) -> Sheet<'_> {
        let rooms: Vec<Rect> = self.walls.iter().map(|(surface, pieces)| room(surface, pieces)).collect();
        let highest = rooms.iter().map(Rect::height).max().unwrap_or_default();
        let widest = rooms.iter().map(Rect::width).max().unwrap_or_default();
        let longest_row = widest.max(tenths(highest, ROW_TENTHS));
        let gap = tenths(highest, 1);
        let mut walls: Vec<Placed<'_>> = Vec::new();
        let (mut top, mut right) = (Length::ZERO, Length::ZERO);
        for row in rows(&rooms, longest_row, gap) {
            let of_row = &rooms[row.clone()];
            let line = top - of_row.iter().map(|room| room.top).max().unwrap_or_default();
            let mut x = Length::ZERO;
            for ((surface, pieces), room) in self.walls[row].iter().zip(of_row) {
                walls.push(Placed { surface, pieces, room: *room, at: Point::new(x, line) });
                right = right.max(x + room.width());
                x += room.width() + gap;
            }
            // A wall's name stands in the gap below it.
            top = line + of_row.iter().map(|room| room.bottom).min().unwrap_or_default() - gap * 2;
        }
        let edge = gap.half();
        let frame = Rect { left: -edge, bottom: top + gap.half(), right: right + edge, top: edge };
        Sheet { walls, frame, gap }
    }
}

/// Walls that follow each other, as many to a row as it holds.
fn rows(rooms: &[Rect], longest: Length, gap: Length) -> Vec<std::ops::Range<usize>> {
    let mut rows = Vec::new();
    let (mut from, mut width) = (0, Length::ZERO);
    for (wall, room) in rooms.iter().enumerate() {
        if wall > from && width + room.width() > longest {
            rows.push(from..wall);
            (from, width) = (wall, Length::ZERO);
        }
        width += room.width() + gap;
    }
    rows.push(from..rooms.len());
    rows
}

impl Placed<'_> {
    fn moved(&self, points: &[Point]) -> Vec<Point> {
        points.iter().map(|point| Point::new(point.x + self.at.x, point.y + self.at.y)).collect()
    }

    /// The faces of the tiles, one element for each class; a stroke from corner to corner tells a cut piece where
    /// its tint is not seen.
    fn tiles(&self, svg: &mut Svg) {
        for class in ["l-whole", "l-cut", "l-shaped", "l-sliver"] {
            let of_class: Vec<&Piece> =
                self.pieces.iter().copied().filter(|piece| class_of(piece) == class).collect();
            let holes = of_class.iter().flat_map(|piece| &piece.holes).map(hole_outline);
            let outlines = of_class.iter().map(|piece| piece.outline.clone()).chain(holes);
            let outlines: Vec<Vec<Point>> = outlines.map(|outline| self.moved(&outline)).collect();
            svg.outlines(&format!("r-tile {class}"), outlines.iter().map(Vec::as_slice));
            if class != "l-whole" {
                let strokes: Vec<Vec<Point>> =
                    of_class.iter().map(|piece| self.moved(&across(&piece.bounds))).collect();
                svg.lines("r-across", strokes.iter().map(Vec::as_slice));
            }
        }
    }

    fn level_line(&self, svg: &mut Svg, level: Length, over: Length) {
        let ends = [Point::new(-over, level), Point::new(self.room.width() + over, level)];
        svg.line("d-level", &self.moved(&ends));
    }

    fn openings(&self, svg: &mut Svg) {
        for opening in &self.surface.openings {
            match opening.shape {
                OpeningShape::Circle { x, y, diameter } => {
                    svg.circle("d-opening", Point::new(x + self.at.x, y + self.at.y), diameter);
                }
                OpeningShape::Rectangle { .. } => {
                    let Rect { left, bottom, right, top } = room_of(opening);
                    let corners = [(left, bottom), (right, bottom), (right, top), (left, top)];
                    svg.polygon("d-opening", &self.moved(&corners.map(|(x, y)| Point::new(x, y))));
                }
            }
        }
    }

    fn name(&self, svg: &mut Svg, gap: Length) {
        let middle = self.at.x + self.room.width().half();
        let at = Point::new(middle, self.at.y + self.room.bottom - gap);
        svg.text("l-number", at, Anchor::Middle, 1.0, self.surface.id.as_str());
    }
}

/// From the lower left to the upper right.
fn across(bounds: &Rect) -> [Point; 2] {
    [Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.top)]
}

/// From the lowest base to the highest top.
fn room(surface: &Surface, pieces: &[&Piece]) -> Rect {
    let heights = || {
        let corners = outline(surface).into_iter().map(|corner| corner.y);
        corners.chain(pieces.iter().map(|piece| piece.bounds.top))
    };
    let (bottom, top) = (heights().min().unwrap_or_default(), heights().max().unwrap_or_default());
    Rect { left: Length::ZERO, bottom, right: surface.width, top }
}

fn tenths(length: Length, count: i64) -> Length {
    Length::from_units(length.units() * count / 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room_of(width: i64) -> Rect {
        Rect { left: Length::ZERO, bottom: Length::ZERO, right: Length::mm(width), top: Length::mm(2400) }
    }

    #[test]
    fn three_walls_of_a_shower_stand_in_one_row_and_four_of_a_room_in_two() {
        let gap = Length::mm(240);
        let ends = |widths: &[i64], longest: i64| -> Vec<usize> {
            let rooms: Vec<Rect> = widths.iter().copied().map(room_of).collect();
            rows(&rooms, Length::mm(longest), gap).into_iter().map(|row| row.end).collect()
        };
        assert_eq!(ends(&[900, 1500, 900], 6720), [3]);
        let room = [3000, 3600, 3000, 3600];
        assert_eq!(ends(&room, 6720), [1, 2, 3, 4]);
        assert_eq!(ends(&room, 6900), [2, 4]);
        assert_eq!(ends(&[9000], 6720), [1], "one that is too long stands alone");
    }
}
