//! Which pieces wait for a tape on the wall before they are cut, and which can be cut ahead.
//!
//! Common practice: whatever gathers the errors of all that was set before it is measured where it goes. That is
//! the last piece of a course into a corner, everything under the top, and whatever lies round an opening.

use crate::geometry::Rect;
use crate::measure::{Job, Opening, OpeningShape, Role, Surface};

use super::Piece;

/// Why the true opening is measured before a piece is cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum MeasureFirst {
    /// It closes its course against an inside corner.
    LastIntoCorner,
    /// Nothing lies above it.
    TopCourse,
    /// It lies round or against an opening of that name.
    AtOpening(String),
}

/// Why a piece among `pieces` is to be measured first; `None` where it can be cut ahead.
pub fn measure_first(job: &Job, pieces: &[Piece], piece: &Piece) -> Option<MeasureFirst> {
    let surface = job.surface(&piece.surface)?;
    if let Some(opening) = surface.openings.iter().find(|opening| borders(piece, opening, job)) {
        return Some(MeasureFirst::AtOpening(opening.name.clone()));
    }
    let mut beside = pieces.iter().filter(|other| other.surface == piece.surface && other.id != piece.id);
    if closes_course(surface, beside.clone(), piece) {
        return Some(MeasureFirst::LastIntoCorner);
    }
    let lies_above = |other: &Piece| {
        let (above, below) = (&other.bounds, &piece.bounds);
        above.bottom >= below.top && above.left < below.right && below.left < above.right
    };
    (!beside.any(lies_above)).then_some(MeasureFirst::TopCourse)
}

/// Courses run from left to right into the right-hand corner; from a right end that is no corner they run to the
/// left one.
fn closes_course<'p>(surface: &Surface, mut beside: impl Iterator<Item = &'p Piece>, piece: &Piece) -> bool {
    let (mine, edges) = (&piece.bounds, &surface.edges);
    let same_course = |other: &&Piece| other.course == piece.course && other.band == piece.band;
    if edges.right == Role::Corner {
        !beside.any(|other| same_course(&other) && other.bounds.left >= mine.right)
    } else if edges.left == Role::Corner {
        !beside.any(|other| same_course(&other) && other.bounds.right <= mine.left)
    } else {
        false
    }
}

/// Whether nothing but a joint or the opening's own clearance lies between them.
fn borders(piece: &Piece, opening: &Opening, job: &Job) -> bool {
    let room = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            Rect { left: x, bottom: y, right: x + width, top: y + height }
        }
        OpeningShape::Circle { x, y, diameter } => {
            let (left, bottom) = (x - diameter.half(), y - diameter.half());
            Rect { left, bottom, right: left + diameter, top: bottom + diameter }
        }
    };
    room.grown(opening.clearance.max(job.joint))
        .grown(crate::measure::Length::from_units(1))
        .overlaps(&piece.bounds)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::course::sample::{job, mm, wall};
    use crate::measure::{Edges, OpeningEdge};
    use crate::search;

    fn why(job: &Job) -> Vec<(String, Option<MeasureFirst>)> {
        let option = search::plan(job).expect("can be laid");
        let cut = option.pieces.iter().filter(|piece| !piece.full);
        cut.map(|piece| (piece.id.0.clone(), measure_first(job, &option.pieces, piece))).collect()
    }

    fn of(found: &[(String, Option<MeasureFirst>)], id: &str) -> Option<MeasureFirst> {
        found.iter().find(|(of, _)| of == id).unwrap_or_else(|| panic!("{id} in {found:?}")).1.clone()
    }

    #[test]
    fn the_first_of_a_course_is_cut_ahead_and_the_last_into_the_corner_is_measured() {
        let found = why(&job(vec![wall("A", 1700, &[(0, 1000)])]));
        assert_eq!(of(&found, "A2-1"), None);
        assert_eq!(of(&found, "A2-3"), Some(MeasureFirst::LastIntoCorner));
        let top = found.iter().filter(|(_, why)| *why == Some(MeasureFirst::TopCourse)).count();
        assert!(top > 0, "{found:?}");
    }

    #[test]
    fn courses_run_into_the_corner_from_an_open_end() {
        let mut open = wall("A", 1000, &[(0, 1000)]);
        open.edges = Edges { right: Role::Bare, ..open.edges };
        let found = why(&job(vec![open]));
        assert_eq!(of(&found, "A2-1"), Some(MeasureFirst::LastIntoCorner));
    }

    #[test]
    fn a_piece_round_a_pipe_is_measured_whichever_course_it_is_in() {
        let mut piped = wall("A", 1700, &[(0, 1000)]);
        piped.openings.push(Opening {
            name: "valve".to_owned(),
            shape: OpeningShape::Circle { x: mm(850), y: mm(-500), diameter: mm(40) },
            clearance: mm(3),
            edge: OpeningEdge::Plate,
        });
        let found = why(&job(vec![piped]));
        let valve = Some(MeasureFirst::AtOpening("valve".to_owned()));
        assert_eq!(found.iter().filter(|(_, why)| *why == valve).count(), 1, "{found:?}");
    }
}
