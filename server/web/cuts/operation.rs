//! What is done to one piece at the saw, in order: saw cuts, tapers, notches, holes, each with the measures that it is
//! marked by.

use trade::geometry::{Rect, Side};
use trade::measure::{Length, Rounding};
use trade::offcut::{Axis, Part, SawCut, Step};
use trade::place::{Mark, Piece};

use super::words::{Figure, Words};
use crate::output::cut_drawing::Dimension;

/// One thing to do.
pub struct Operation {
    pub title: String,
    pub measures: Vec<Measure>,
    pub advice: Option<String>,
    pub dimensions: Vec<Dimension>,
    /// The saw goes straight through: the fence is set to its one measure.
    pub straight: bool,
}

/// One measure to set the fence to or to mark.
pub struct Measure {
    pub figure: Figure,
    pub says: String,
    /// The length before it was rounded to the tape, where that differs.
    pub exact: Option<String>,
}

/// All that is done to a piece, and the saw cuts to be drawn; `step` is upright.
///
/// A taper that would run along a cut into waste replaces it where nothing kept depends on that cut: nobody saws the
/// same edge twice.
pub fn operations(words: &Words, piece: &Piece, step: &Step) -> (Vec<Operation>, Vec<SawCut>) {
    let (right, up) = (step.kept.at.left - piece.bounds.left, step.kept.at.bottom - piece.bounds.bottom);
    let on = OnTile { words, cell: piece.cell.moved(right, up), kept: &step.kept };
    let mut cuts = step.cuts.clone();
    let shaped: Vec<Operation> = piece.marks.iter().filter_map(|mark| on.mark(mark)).collect();
    let nothing_kept = step.leaves.iter().all(|left| left.label.is_none());
    let twice = cuts.iter().position(|cut| piece.marks.iter().any(|mark| on.tapers_along(mark, cut)));
    if let Some(twice) = twice
        && (nothing_kept || twice + 1 == cuts.len() && is_waste_beyond(&cuts[twice], step))
    {
        cuts.remove(twice);
    }
    (cuts.iter().map(|cut| saw_cut(words, cut)).chain(shaped).collect(), cuts)
}

impl Operation {
    /// In one sentence, for those who hear the page.
    pub fn said(&self) -> String {
        let measures =
            self.measures.iter().map(|measure| format!("{} {}", measure.figure.plain, measure.says));
        format!("{}: {}", self.title, measures.collect::<Vec<_>>().join(", "))
    }
}

fn saw_cut(words: &Words, cut: &SawCut) -> Operation {
    let key = match cut.across() {
        Axis::X => "cut-crosscut",
        Axis::Y => "cut-rip",
    };
    let from = words.say("cut-from-edge", &[("edge", &words.edge(&cut.part, cut.from))]);
    let (start, end) = (cut.part.at.at(cut.from), cut.mark());
    let beside = match cut.across() {
        Axis::X => Side::Top,
        Axis::Y => Side::Right,
    };
    let dimension = between(start, end, cut.across(), beside, words.fits_in(cut.keep));
    Operation {
        title: words.say(key, &[]),
        measures: vec![Measure::of(words, cut.keep, Rounding::FitsIn, from)],
        advice: None,
        dimensions: vec![dimension],
        straight: true,
    }
}

/// Whether nothing that the cut takes off is kept.
fn is_waste_beyond(cut: &SawCut, step: &Step) -> bool {
    let beyond = step.leaves.iter().filter(|left| cut.part.at.holds(&left.part.at));
    beyond.into_iter().all(|left| left.label.is_none())
}

fn between(one: Length, other: Length, along: Axis, beside: Side, words: String) -> Dimension {
    Dimension { along, from: one.min(other), to: one.max(other), beside, words }
}

impl Measure {
    fn of(words: &Words, length: Length, rounding: Rounding, says: String) -> Self {
        let (figure, exact) = words.figure(length, rounding);
        Self { figure, says, exact }
    }
}

/// A piece on its tile, upright, with the room of the whole tile that its marks are counted from.
struct OnTile<'a> {
    words: &'a Words,
    cell: Rect,
    kept: &'a Part,
}

/// Where an edge of a notch or the centre of a hole lies, measured from one side of the piece.
struct Measured {
    from: Side,
    at: Length,
    rounding: Rounding,
}

/// A rim thinner than this beside a hole breaks off while it is drilled (common practice), so that the hole is cut open
/// to the edge.
const LEAST_RIM: Length = Length::mm(10);

impl OnTile<'_> {
    /// Nothing for a cut that is straight from end to end, which the tile's own plan has.
    fn mark(&self, mark: &Mark) -> Option<Operation> {
        match *mark {
            Mark::Crosscut { from, at, at_other_end } => {
                let ends =
                    [(Side::Bottom, self.place(from, at)), (Side::Top, self.place(from, at_other_end))];
                self.taper(from, ends)
            }
            Mark::Rip { from, at, at_other_end } => {
                let ends =
                    [(Side::Left, self.place(from, at)), (Side::Right, self.place(from, at_other_end))];
                self.taper(from, ends)
            }
            Mark::Notch { from, x, y, width, height } => {
                let (x0, x1) = (self.place(from.0, x), self.place(from.0, x + width));
                let (y0, y1) = (self.place(from.1, y), self.place(from.1, y + height));
                let away = Rect { left: x0.min(x1), right: x0.max(x1), bottom: y0.min(y1), top: y0.max(y1) };
                self.notch(&away, from)
            }
            Mark::Hole { from, x, y, diameter } => {
                let centre = (self.place(from.0, x), self.place(from.1, y));
                Some(self.hole(centre, from, diameter))
            }
        }
    }

    /// Nothing where the tape shows the same at both ends and the saw cuts the piece to that already.
    fn taper(&self, from: Side, ends: [(Side, Length); 2]) -> Option<Operation> {
        let shown = ends.map(|(_, place)| self.words.fits_in(self.distance(from, place)));
        if shown[0] == shown[1] && (ends[0].1 == ends[1].1 || !self.kept.own.has(from.opposite())) {
            return None;
        }
        let edge = self.words.edge(self.kept, from);
        let measure = |(end, place): (Side, Length)| {
            let key = format!("cut-taper-{}", end.name());
            let says = self.words.say(&key, &[("edge", &edge)]);
            Measure::of(self.words, self.distance(from, place), Rounding::FitsIn, says)
        };
        let dimensions = ends.into_iter().zip(shown).map(|((beside, place), words)| {
            between(self.kept.at.at(from), place, along(from), beside, words)
        });
        Some(Operation {
            title: self.words.say("cut-taper", &[]),
            dimensions: dimensions.collect(),
            measures: ends.map(measure).into(),
            advice: None,
            straight: false,
        })
    }

    /// Whether a mark is a taper that runs along the edge that this cut makes.
    fn tapers_along(&self, mark: &Mark, cut: &SawCut) -> bool {
        let (across, from) = match mark {
            Mark::Crosscut { from, .. } => (Axis::X, *from),
            Mark::Rip { from, .. } => (Axis::Y, *from),
            Mark::Notch { .. } | Mark::Hole { .. } => return false,
        };
        let makes_edge = cut.mark() == self.kept.at.at(from.opposite());
        cut.across() == across && cut.from == from && makes_edge && self.mark(mark).is_some()
    }

    /// Nothing where it takes nothing of the piece in either direction.
    fn notch(&self, away: &Rect, from: (Side, Side)) -> Option<Operation> {
        let across = self.notch_edges((Side::Left, Side::Right), from.0, away);
        let up = self.notch_edges((Side::Bottom, Side::Top), from.1, away);
        let (key, advice) = match (across.len(), up.len()) {
            (0, 0) => return None,
            (1, 1) => ("cut-notch-corner", Some("cut-drill-one")),
            (2, 2) => ("cut-notch-inside", Some("cut-drill-four")),
            (0, _) | (_, 0) => ("cut-notch-across", None),
            _ => ("cut-notch-edge", Some("cut-drill-two")),
        };
        let touched: Vec<String> = [Side::Bottom, Side::Top, Side::Left, Side::Right]
            .into_iter()
            .filter(|&side| away.at(side) == self.kept.at.at(side))
            .map(|side| self.words.say(&format!("cut-side-{}", side.name()), &[]))
            .collect();
        let measured = || across.iter().chain(&up);
        Some(Operation {
            title: self.words.say(key, &[("sides", &touched.join(" "))]),
            measures: measured().map(|edge| self.measure(edge, "cut-from-edge")).collect(),
            advice: advice.map(|key| self.words.say(key, &[])),
            dimensions: measured().map(|edge| self.dimension(edge)).collect(),
            straight: false,
        })
    }

    /// The edges of a notch in one direction that are not the piece's own, nearest first: rounded so that the notch
    /// comes out too large rather than too small.
    fn notch_edges(&self, (low, high): (Side, Side), from: Side, away: &Rect) -> Vec<Measured> {
        let inner = [low, high].into_iter().filter(|&side| away.at(side) != self.kept.at.at(side));
        let edge = |side: Side| Measured {
            from,
            at: self.distance(from, away.at(side)),
            rounding: if side == from { Rounding::FitsIn } else { Rounding::Clears },
        };
        let mut edges: Vec<Measured> = inner.map(edge).collect();
        edges.sort_by_key(|edge| edge.at);
        edges
    }

    fn hole(&self, centre: (Length, Length), from: (Side, Side), diameter: Length) -> Operation {
        let measured = |side: Side, place: Length| {
            // Never a tape read backwards from an edge that the centre lies beyond.
            let from = if self.distance(side, place) < Length::ZERO { side.opposite() } else { side };
            Measured { from, at: self.distance(from, place), rounding: Rounding::Nearest }
        };
        let edges = [measured(from.0, centre.0), measured(from.1, centre.1)];
        let at = self.kept.at;
        let rims = [centre.0 - at.left, at.right - centre.0, centre.1 - at.bottom, at.top - centre.1];
        let open = rims.into_iter().any(|to_edge| to_edge - diameter.half() < LEAST_RIM);
        let key = if open { "cut-half-round" } else { "cut-hole" };
        let (diameter, _) = self.words.figure(diameter, Rounding::Clears);
        Operation {
            title: self.words.say(key, &[("diameter", &diameter.plain)]),
            measures: edges.iter().map(|edge| self.measure(edge, "cut-to-centre")).collect(),
            advice: None,
            dimensions: edges.iter().map(|edge| self.dimension(edge)).collect(),
            straight: false,
        }
    }

    fn measure(&self, edge: &Measured, key: &str) -> Measure {
        let says = self.words.say(key, &[("edge", &self.words.edge(self.kept, edge.from))]);
        Measure::of(self.words, edge.at, edge.rounding, says)
    }

    fn dimension(&self, edge: &Measured) -> Dimension {
        let side = self.kept.at.at(edge.from);
        let (place, beside) = match edge.from {
            Side::Left => (side + edge.at, Side::Bottom),
            Side::Right => (side - edge.at, Side::Bottom),
            Side::Bottom => (side + edge.at, Side::Left),
            Side::Top => (side - edge.at, Side::Left),
        };
        let (figure, _) = self.words.figure(edge.at, edge.rounding);
        between(side, place, along(edge.from), beside, figure.plain)
    }

    /// Where a mark lies.
    fn place(&self, from: Side, by: Length) -> Length {
        match from {
            Side::Left | Side::Bottom => self.cell.at(from) + by,
            Side::Right | Side::Top => self.cell.at(from) - by,
        }
    }

    /// How far a place lies from a side of the piece.
    fn distance(&self, from: Side, place: Length) -> Length {
        match from {
            Side::Left | Side::Bottom => place - self.kept.at.at(from),
            Side::Right | Side::Top => self.kept.at.at(from) - place,
        }
    }
}

/// The direction in which distances from a side run.
fn along(from: Side) -> Axis {
    match from {
        Side::Left | Side::Right => Axis::X,
        Side::Bottom | Side::Top => Axis::Y,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::texts::Texts;
    use trade::geometry::Sides;
    use trade::measure::{SurfaceId, TileId, Unit};
    use trade::offcut::{Label, Leftover, Take, Turn};
    use trade::place::PieceId;

    fn mm(length: i64) -> Length {
        Length::mm(length)
    }

    fn tenths(count: i64) -> Length {
        Length::from_units(count * Length::UNITS_PER_MM / 10)
    }

    fn rect(left: i64, bottom: i64, right: i64, top: i64) -> Rect {
        Rect { left: mm(left), bottom: mm(bottom), right: mm(right), top: mm(top) }
    }

    /// A piece 300 wide and 200 high at the left end of a 600 x 200 tile, 1 m along its wall.
    fn piece(marks: Vec<Mark>) -> Piece {
        let bounds = rect(1000, 0, 1300, 200);
        Piece {
            id: PieceId("A1-2".to_owned()),
            surface: SurfaceId::new("A").unwrap(),
            tile: TileId("wall".to_owned()),
            band: 0,
            course: 1,
            full: false,
            cell: rect(1000, 0, 1600, 200),
            bounds,
            outline: bounds.corners(),
            holes: Vec::new(),
            factory: Sides::NONE,
            shows: Sides::NONE,
            marks,
            sliver: None,
        }
    }

    /// The piece at the right end of a tile, all of `cuts` made to it, so that its left side is sawn.
    fn said_after(unit: Unit, mark: Mark, own: &[Side], cuts: Vec<SawCut>) -> Vec<String> {
        let mut step = step(Side::Bottom);
        step.kept.own = own.iter().copied().collect();
        said_of(unit, mark, &Step { cuts, ..step })
    }

    fn said_of(unit: Unit, mark: Mark, step: &Step) -> Vec<String> {
        let words = Words::new(&Texts::english().unwrap(), unit);
        operations(&words, &piece(vec![mark]), step).0.iter().map(Operation::said).collect()
    }

    /// The piece, lying to size at the right end of a tile of which it has one side.
    fn step(own: Side) -> Step {
        let kept = Part { at: rect(300, 0, 600, 200), own: [own].into_iter().collect() };
        Step {
            piece: 0,
            stock: 0,
            take: Take::WholeTile,
            on_saw: kept,
            cuts: Vec::new(),
            kept,
            leaves: Vec::new(),
            after: None,
            tile: rect(0, 0, 600, 200),
            turn: Turn::None,
        }
    }

    fn said(unit: Unit, mark: Mark) -> String {
        let mut all = said_after(unit, mark, &[Side::Right, Side::Bottom, Side::Top], Vec::new());
        all.pop().unwrap_or_default()
    }

    #[test]
    fn a_notch_in_a_corner_is_two_marks_from_the_edges_it_keeps() {
        let from = (Side::Left, Side::Bottom);
        let notch = Mark::Notch { from, x: mm(180), y: mm(0), width: mm(120), height: mm(80) };
        assert_eq!(
            said(Unit::Millimetre, notch),
            "Notch out the bottom right corner: 180 mm from the left sawn edge, 80 mm from the bottom factory edge"
        );
    }

    #[test]
    fn a_notch_comes_out_too_large_rather_than_too_small() {
        let from = (Side::Left, Side::Bottom);
        let (x, height) = (mm(100) + tenths(1), mm(80) + tenths(1));
        let said = said(Unit::Millimetre, Mark::Notch { from, x, y: mm(0), width: mm(50), height });
        assert!(said.starts_with("Notch in from the bottom edge: 100 mm from the left"), "{said}");
        assert!(
            said.contains(", 151 mm from the left") && said.contains(", 81 mm from the bottom"),
            "{said}"
        );
    }

    #[test]
    fn a_hole_is_a_centre_from_two_edges_and_a_diameter_that_clears() {
        let from = (Side::Left, Side::Top);
        let diameter = Length::sixty_fourths(105);
        let said = said(Unit::Inch, Mark::Hole { from, x: mm(254), y: mm(127), diameter });
        assert!(said.starts_with("Drill a hole of 1 11/16 in: 10 in "), "{said}");
        assert!(said.contains("left sawn edge, 5 in ") && said.ends_with("top factory edge"), "{said}");
    }

    #[test]
    fn what_runs_over_the_edge_or_nearly_is_no_hole_to_drill() {
        let from = (Side::Left, Side::Top);
        // The piece is 300 mm wide and 200 mm high, the hole 120 mm across.
        let at = |x: i64, y: i64| {
            said(Unit::Millimetre, Mark::Hole { from, x: mm(x), y: mm(y), diameter: mm(120) })
        };
        assert!(
            at(150, 8).starts_with("Cut a half round of 120 mm out to the edge: 150 mm "),
            "{}",
            at(150, 8)
        );
        assert!(at(69, 100).starts_with("Cut a half round"), "9 mm of rim break off");
        assert!(at(70, 100).starts_with("Drill a hole"), "{}", at(70, 100));
    }

    #[test]
    fn a_taper_gives_both_ends_and_a_straight_cut_is_left_to_the_saw() {
        let taper = Mark::Rip { from: Side::Top, at: mm(200), at_other_end: mm(196) };
        let said_of_taper = said(Unit::Millimetre, taper);
        assert!(said_of_taper.contains("200 mm at the left end"), "{said_of_taper}");
        assert!(said_of_taper.contains("196 mm at the right end"), "{said_of_taper}");
        assert_eq!(
            said(Unit::Millimetre, Mark::Rip { from: Side::Top, at: mm(196), at_other_end: mm(196) }),
            ""
        );
    }

    #[test]
    fn a_taper_that_the_tape_does_not_show_is_none_unless_nothing_else_cuts_that_edge() {
        let slight =
            Mark::Rip { from: Side::Bottom, at: mm(196) + tenths(2), at_other_end: mm(196) + tenths(1) };
        assert!(said_after(Unit::Millimetre, slight.clone(), &[Side::Bottom], Vec::new()).is_empty());
        let own = [Side::Bottom, Side::Top];
        assert_eq!(said_after(Unit::Millimetre, slight, &own, Vec::new()).len(), 1);
    }

    #[test]
    fn the_last_cut_is_not_sawn_twice_where_a_taper_follows_it() {
        let taper = Mark::Rip { from: Side::Bottom, at: mm(200), at_other_end: mm(196) };
        let part = Part { at: rect(300, 0, 600, 220), own: Sides::ALL };
        let rip = SawCut { part, from: Side::Bottom, keep: mm(200) };
        let said = said_after(Unit::Millimetre, taper.clone(), &[Side::Bottom], vec![rip]);
        assert!(said.len() == 1 && said[0].starts_with("Taper"), "{said:?}");
        let crosscut = SawCut { part, from: Side::Right, keep: mm(300) };
        let said = said_after(Unit::Millimetre, taper.clone(), &[Side::Bottom], vec![rip, crosscut]);
        assert!(said.len() == 2 && said[0].starts_with("Crosscut"), "{said:?}");
        let label = Some(Label { stock: 0, nth: 0 });
        let racked =
            Leftover { part: Part { at: rect(0, 0, 290, 200), own: Sides::NONE }, label, holds: vec![1] };
        let step = Step { cuts: vec![rip, crosscut], leaves: vec![racked], ..step(Side::Bottom) };
        assert_eq!(said_of(Unit::Millimetre, taper, &step).len(), 3, "what is racked is ripped before");
    }
}
