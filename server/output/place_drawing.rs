//! A small wall with one piece filled: where it goes.

use trade::geometry::{Rect, polygon};
use trade::place::{Hole, Piece};

use super::svg::Svg;

/// The wall of `piece`, drawn from the `pieces` on it; `id` is unique on its page. `None` where there are none.
pub fn place_drawing(id: &str, pieces: &[&Piece], piece: &Piece, words: (&str, &str)) -> Option<String> {
    let all = pieces.iter().map(|piece| piece.bounds).reduce(|all, next| Rect {
        left: all.left.min(next.left),
        bottom: all.bottom.min(next.bottom),
        right: all.right.max(next.right),
        top: all.top.max(next.top),
    })?;
    let margin = all.width().max(all.height()).half().half().half().half().half();
    let mut svg = Svg::new(all.grown(margin), 24.0);
    for other in pieces.iter().filter(|other| other.id != piece.id) {
        svg.polygon(if other.full { "d-full" } else { "d-piece" }, &other.outline);
    }
    svg.polygon("d-hand", &piece.outline);
    svg.polygon("d-here", &polygon::bounds(&piece.outline).corners());
    for hole in pieces.iter().flat_map(|piece| &piece.holes) {
        match hole {
            Hole::Round { centre, diameter } => svg.circle("d-opening", *centre, *diameter),
            Hole::Polygon(corners) => svg.polygon("d-opening", corners),
        }
    }
    let (title, description) = words;
    Some(svg.finish(id, title, description))
}
