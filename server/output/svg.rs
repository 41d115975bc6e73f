//! A drawing in SVG, in millimetres, y up, by classes alone: the style sheet knows what each class looks like, and
//! the content security policy allows no style inside.

use std::fmt::{Display, Write};

use trade::geometry::{Point, Rect};
use trade::measure::Length;

/// A drawing under way.
#[derive(Clone, Debug)]
pub struct Svg {
    frame: Rect,
    /// Height of lettering in millimetres on the wall, so that it is read at the width of a phone.
    lettering: f64,
    body: String,
}

/// Which end of a text stands at its place.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

impl Svg {
    /// A drawing of what lies in `frame`. `wide_as` is how many letters fit across: 24 are read well on a phone.
    pub fn new(frame: Rect, wide_as: f64) -> Self {
        Self { frame, lettering: frame.width().to_mm() * 1.6 / wide_as, body: String::new() }
    }

    /// Height of lettering in millimetres of the drawing.
    pub fn lettering(&self) -> f64 {
        self.lettering
    }

    /// An upright rectangle.
    pub fn rect(&mut self, class: &str, at: Rect) {
        let (x, y) = self.place(Point::new(at.left, at.top));
        let (width, height) = (Mm(at.width().to_mm()), Mm(at.height().to_mm()));
        self.put(format_args!(
            r#"<rect class="{class}" x="{x}" y="{y}" width="{width}" height="{height}"/>"#
        ));
    }

    /// A closed outline.
    pub fn polygon(&mut self, class: &str, outline: &[Point]) {
        let path = self.path(outline);
        self.put(format_args!(r#"<path class="{class}" d="{path}Z"/>"#));
    }

    /// An open line through points.
    pub fn line(&mut self, class: &str, through: &[Point]) {
        let path = self.path(through);
        self.put(format_args!(r#"<path class="{class}" d="{path}"/>"#));
    }

    /// Many closed outlines of one class as one element; nothing where there is none. Holes may be among them.
    pub fn outlines<'a>(&mut self, class: &str, outlines: impl IntoIterator<Item = &'a [Point]>) {
        let path: String = outlines.into_iter().map(|outline| self.path(outline) + "Z").collect();
        self.path_element(class, &path);
    }

    /// Many open lines of one class as one element; nothing where there is none.
    pub fn lines<'a>(&mut self, class: &str, lines: impl IntoIterator<Item = &'a [Point]>) {
        let path: String = lines.into_iter().map(|line| self.path(line)).collect();
        self.path_element(class, &path);
    }

    /// A circle.
    pub fn circle(&mut self, class: &str, centre: Point, diameter: Length) {
        let (x, y) = self.place(centre);
        let radius = Mm(diameter.to_mm() / 2.0);
        self.put(format_args!(r#"<circle class="{class}" cx="{x}" cy="{y}" r="{radius}"/>"#));
    }

    /// Lettering with its baseline at a place; `size` 1 is the usual height.
    pub fn text(&mut self, class: &str, at: Point, anchor: Anchor, size: f64, words: &str) {
        let (x, y) = self.place(at);
        let height = Mm(self.lettering * size);
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let words = Escaped(words);
        self.put(format_args!(
            r#"<text class="{class}" x="{x}" y="{y}" font-size="{height}" text-anchor="{anchor}">{words}</text>"#
        ));
    }

    /// The same as [`Svg::text`], turned to read from below upward.
    pub fn text_upward(&mut self, class: &str, at: Point, anchor: Anchor, size: f64, words: &str) {
        let (x, y) = self.place(at);
        self.put(format_args!(r#"<g transform="rotate(-90 {x} {y})">"#));
        self.text(class, at, anchor, size, words);
        self.put(format_args!("</g>"));
    }

    /// A link round what `draw` draws, so that a tap on it leads somewhere.
    pub fn link(&mut self, to: &str, label: &str, draw: impl FnOnce(&mut Self)) {
        let (to, label) = (Escaped(to), Escaped(label));
        self.put(format_args!(r#"<a href="{to}" aria-label="{label}">"#));
        draw(self);
        self.put(format_args!("</a>"));
    }

    /// The whole drawing, with the title and description that a screen reader says.
    pub fn finish(self, id: &str, title: &str, description: &str) -> String {
        let (width, height) = (Mm(self.frame.width().to_mm()), Mm(self.frame.height().to_mm()));
        let (title, description, body) = (Escaped(title), Escaped(description), self.body);
        format!(
            r#"<svg class="drawing" viewBox="0 0 {width} {height}" role="img" aria-labelledby="{id}-title {id}-desc"><title id="{id}-title">{title}</title><desc id="{id}-desc">{description}</desc>{body}</svg>"#
        )
    }

    fn path_element(&mut self, class: &str, path: &str) {
        if !path.is_empty() {
            self.put(format_args!(r#"<path class="{class}" d="{path}"/>"#));
        }
    }

    fn path(&self, points: &[Point]) -> String {
        let mut path = String::new();
        for (index, point) in points.iter().enumerate() {
            let (x, y) = self.place(*point);
            let step = if index == 0 { 'M' } else { 'L' };
            // Writing to a string cannot fail.
            path.push_str(&format!("{step}{x} {y}"));
        }
        path
    }

    fn place(&self, at: Point) -> (Mm, Mm) {
        (Mm((at.x - self.frame.left).to_mm()), Mm((self.frame.top - at.y).to_mm()))
    }

    fn put(&mut self, drawn: std::fmt::Arguments<'_>) {
        let written = self.body.write_fmt(drawn);
        debug_assert!(written.is_ok(), "writing to a string cannot fail");
    }
}

/// Millimetres to two decimals, which is finer than any screen.
struct Mm(f64);

impl Display for Mm {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{:.2}", self.0);
        out.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// Text as it may stand in XML.
pub struct Escaped<'a>(pub &'a str);

impl Display for Escaped<'_> {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.chars().try_for_each(|c| match c {
            '<' => out.write_str("&lt;"),
            '>' => out.write_str("&gt;"),
            '&' => out.write_str("&amp;"),
            '"' => out.write_str("&quot;"),
            '\'' => out.write_str("&#39;"),
            other => out.write_char(other),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn up_is_up_and_names_cannot_break_out() {
        let mm = Length::mm;
        let frame = Rect { left: mm(-10), bottom: mm(0), right: mm(90), top: mm(50) };
        let mut svg = Svg::new(frame, 24.0);
        svg.rect("d-full", Rect { left: mm(0), bottom: mm(10), right: mm(20), top: mm(40) });
        let drawn = svg.finish("w", "</title><script>", "a wall");
        assert!(drawn.contains(r#"x="10" y="10" width="20" height="30""#), "{drawn}");
        assert!(drawn.contains("&lt;/title&gt;&lt;script&gt;") && !drawn.contains("<script>"), "{drawn}");
    }
}
