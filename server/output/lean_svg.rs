//! A drawing of which hundreds go into one page: one path for each class, and whole numbers from a corner that they
//! share, so that one drawing compresses against the next. [`super::svg`] is for a drawing that stands alone.

use std::fmt::Write;

use trade::geometry::{Point, Rect};
use trade::measure::Length;

use super::svg::Escaped;

/// Height of lettering in units of the drawing. A phone shows the widest drawing about a third as wide as it has units.
pub const LETTER: i64 = 60;

/// A drawing under way.
pub struct LeanSvg {
    /// What is drawn.
    frame: Rect,
    /// The place of 0, 0.
    origin: Point,
    /// Height of lettering on the wall.
    letter: Length,
    /// In the order drawn.
    layers: Vec<Layer>,
    words: String,
}

/// All that is drawn with one class.
struct Layer {
    class: &'static str,
    path: String,
}

impl LeanSvg {
    /// A drawing of what lies in `frame`, its classes drawn in this order.
    pub fn new(frame: Rect, origin: Point, letter: Length, classes: &[&'static str]) -> Self {
        let layers = classes.iter().map(|class| Layer { class, path: String::new() }).collect();
        Self { frame, origin, letter, layers, words: String::new() }
    }

    /// An upright rectangle.
    pub fn rect(&mut self, class: &str, at: &Rect) {
        self.polygon(class, &at.corners());
    }

    /// A closed outline.
    pub fn polygon(&mut self, class: &str, outline: &[Point]) {
        let path = self.path(outline) + "Z";
        self.put(class, &path);
    }

    /// An open line through points.
    pub fn line(&mut self, class: &str, through: &[Point]) {
        let path = self.path(through);
        self.put(class, &path);
    }

    /// A circle, as two arcs.
    pub fn circle(&mut self, class: &str, centre: Point, diameter: Length) {
        let (x, y) = self.place(centre);
        let radius = self.units(diameter.half());
        let (left, across) = (x - radius, 2 * radius);
        let arcs =
            format!("M{left} {y}a{radius} {radius} 0 1 0 {across} 0a{radius} {radius} 0 1 0-{across} 0Z");
        self.put(class, &arcs);
    }

    /// Lettering centred on its place, its baseline there; `tenths` 10 is the usual height.
    pub fn text(&mut self, at: Point, upward: bool, tenths: i64, words: &str) {
        let (x, y) = self.place(at);
        let place = if upward {
            format!(r#"transform="matrix(0-1 1 0 {x} {y})""#)
        } else {
            format!(r#"x="{x}" y="{y}""#)
        };
        let size =
            if tenths == 10 { String::new() } else { format!(r#" font-size="{}""#, LETTER * tenths / 10) };
        self.words.push_str(&format!("<text {place}{size}>{}</text>", Escaped(words)));
    }

    /// The whole drawing, with what a screen reader says of it.
    pub fn finish(self, says: &str) -> String {
        let (left, top) = self.place(Point::new(self.frame.left, self.frame.top));
        let (width, height) = (self.units(self.frame.width()), self.units(self.frame.height()));
        let mut svg = format!(
            r#"<svg class="drawing" text-anchor="middle" font-size="{LETTER}" role="img" viewBox="{left} {top} {width} {height}" aria-label="{}">"#,
            Escaped(says)
        );
        for Layer { class, path } in self.layers.iter().filter(|layer| !layer.path.is_empty()) {
            // An attribute, since browsers disagree on whose page a reference in a style sheet means.
            let fill = if *class == "d-waste" { r#" fill="url(#hatch)""# } else { "" };
            let written = write!(svg, r#"<path class="{class}"{fill} d="{path}"/>"#);
            debug_assert!(written.is_ok(), "writing to a string cannot fail");
        }
        svg + &self.words + "</svg>"
    }

    fn put(&mut self, class: &str, path: &str) {
        let layer = self.layers.iter_mut().find(|layer| layer.class == class);
        debug_assert!(layer.is_some(), "{class} has no place in the order");
        if let Some(layer) = layer {
            layer.path.push_str(path);
        }
    }

    /// Level and plumb steps as such, which are most.
    fn path(&self, points: &[Point]) -> String {
        let mut path = String::new();
        let mut last = None;
        for (x, y) in points.iter().map(|point| self.place(*point)) {
            path += &match last {
                None => format!("M{x} {y}"),
                Some((at, on)) if at == x && on == y => String::new(),
                Some((_, on)) if on == y => format!("H{x}"),
                Some((at, _)) if at == x => format!("V{y}"),
                Some(_) => format!("L{x} {y}"),
            };
            last = Some((x, y));
        }
        path
    }

    fn place(&self, at: Point) -> (i64, i64) {
        (self.units(at.x - self.origin.x), self.units(self.origin.y - at.y))
    }

    fn units(&self, length: Length) -> i64 {
        let letter = self.letter.units().max(1);
        (length.units() * LETTER + letter / 2).div_euclid(letter)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_path_a_class_in_whole_numbers_and_names_cannot_break_out() {
        let mm = Length::mm;
        let at = Rect { left: mm(0), bottom: mm(0), right: mm(300), top: mm(100) };
        let mut svg =
            LeanSvg::new(at.grown(mm(10)), Point::new(mm(0), mm(100)), mm(60), &["d-tile", "d-cut"]);
        svg.line(
            "d-cut",
            &[Point::new(mm(10), mm(100)), Point::new(mm(10), mm(20)), Point::new(mm(11), mm(0))],
        );
        svg.rect("d-tile", &at);
        svg.line("d-cut", &[Point::new(mm(0), mm(50)), Point::new(mm(300), mm(50))]);
        let drawn = svg.finish(r#""><script>"#);
        let paths =
            r#"<path class="d-tile" d="M0 100H300V0H0Z"/><path class="d-cut" d="M10 0V80L11 100M0 50H300"/>"#;
        assert!(drawn.contains(paths), "{drawn}");
        assert!(drawn.contains(r#"viewBox="-10 -10 320 120""#), "{drawn}");
        assert!(!drawn.contains("<script>"), "{drawn}");
    }
}
