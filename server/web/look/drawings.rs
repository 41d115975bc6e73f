//! One drawing of each kind, in the words of one panel.

use trade::geometry::{Point, Rect, Side};
use trade::measure::Length;
use trade::offcut::{Axis, Part, SawCut};

use crate::output::cut_drawing::{CutDrawing, Dimension, Leave};
use crate::output::layout_drawing::View;
use crate::output::rack_drawing::RackDrawing;
use crate::store::StoredSheet;
use crate::texts::Texts;
use crate::web::layout::{Words, wall_drawing};
use crate::work::Planned;

/// The first wall of a layout; nothing where there is no job.
pub fn layout(texts: &Texts, job: Option<(&StoredSheet, &Planned)>, prefix: &str) -> String {
    let drawn = job.and_then(|(stored, planned)| {
        let surface = planned.job.surfaces.first()?;
        let courses = planned.option.courses.walls.get(&surface.id)?;
        let words = Words::of(texts, stored);
        let id = format!("drawing-{}", surface.id);
        let svg = wall_drawing(&words, planned, surface, courses, View::Glance);
        // The same wall is on the page once a panel.
        Some(svg.replace(&id, &format!("{prefix}-{id}")))
    });
    drawn.unwrap_or_default()
}

/// A tile cut along and then across, with a notch, an offcut to keep and waste.
pub fn cut(texts: &Texts) -> String {
    let mm = Length::mm;
    let rect = |left, bottom, right, top| Rect {
        left: mm(left),
        bottom: mm(bottom),
        right: mm(right),
        top: mm(top),
    };
    let corners = [(0, 0), (342, 0), (342, 220), (120, 220), (120, 180), (0, 180)];
    let whole = Part { at: rect(0, 0, 600, 300), own: Side::ALL.into_iter().collect() };
    let first = SawCut { part: whole, from: Side::Left, keep: mm(342) };
    let rest =
        Part { at: rect(0, 0, 342, 300), own: [Side::Left, Side::Bottom, Side::Top].into_iter().collect() };
    let second = SawCut { part: rest, from: Side::Bottom, keep: mm(220) };
    let dimension = |along, to: i64, beside| Dimension {
        along,
        from: mm(0),
        to: mm(to),
        beside,
        words: format!("{to} mm"),
    };
    let leave = |at, words: String, kept| Leave { at, words, kept };
    CutDrawing {
        on_saw: whole,
        cuts: &[first, second],
        outline: corners.map(|(x, y)| Point::new(mm(x), mm(y))).to_vec(),
        holes: Vec::new(),
        label: "A3-1",
        leaves: vec![
            leave(rect(344, 0, 600, 300), "K7".to_owned(), true),
            leave(rect(0, 222, 342, 300), String::new(), false),
        ],
        dimensions: vec![dimension(Axis::X, 342, Side::Top), dimension(Axis::Y, 220, Side::Right)],
        says: texts.say_with("cut-drawing", &[("piece", &"A3-1"), ("says", &texts.say("cut-lay"))]),
    }
    .draw()
}

/// A rack that fills and empties.
pub fn rack(texts: &Texts, prefix: &str) -> String {
    let counts = [1, 2, 2, 3, 4, 3, 5, 4, 4, 2, 1, 0];
    RackDrawing {
        counts: &counts,
        title: texts.say("cutlist-drawing"),
        description: texts.say_with("cutlist-most", &[("count", &5_usize)]),
        first: texts.say_with("cutlist-cut", &[("number", &1_usize)]),
        last: texts.say_with("cutlist-cut", &[("number", &counts.len())]),
    }
    .draw(&format!("{prefix}-rack"))
}
