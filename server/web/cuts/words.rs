//! Cuts, marks and places in words.

use trade::geometry::{Rect, Side};
use trade::measure::{Length, Rounding, TileId, Unit};
use trade::offcut::{Axis, Part, SawCut, Step, Take};
use trade::place::{Mark, MeasureFirst, Piece};

use super::saw::{Fits, Left, written};
use crate::output::cut_drawing::Dimension;
use crate::store::CutRecord;
use crate::texts::{Said, Texts};

/// The words of one job.
#[derive(Clone)]
pub struct Words {
    texts: Texts,
    unit: Unit,
}

/// A length as large figures: `5 ⅜ in`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Figure {
    /// As it is read out and copied: `5 3/8 in`.
    pub plain: String,
    /// Empty below one inch.
    pub whole: String,
    /// Numerator and denominator.
    pub fraction: Option<(String, String)>,
    pub unit: String,
}

/// One cut of the saw.
pub struct CutLine {
    /// What the fence is set to.
    pub figure: Figure,
    pub says: String,
    /// The length before it was rounded to the tape, where that differs.
    pub exact: Option<String>,
}

/// One mark that is cut or drilled once the piece is off its tile.
pub struct MarkLine {
    pub says: String,
    pub dimensions: Vec<Dimension>,
}

/// Where an edge of a notch lies, measured from one side of the piece.
struct Measured {
    from: Side,
    at: Length,
    rounding: Rounding,
}

impl Words {
    /// The words of a job whose tape reads in `unit`.
    pub fn new(texts: &Texts, unit: Unit) -> Self {
        Self { texts: texts.clone(), unit }
    }

    /// A length of a piece, rounded down so that it fits.
    fn fits_in(&self, length: Length) -> String {
        length.show(self.unit, Rounding::FitsIn)
    }

    /// Width and height of a piece.
    pub fn size(&self, width: Length, height: Length) -> String {
        self.say("cut-size", &[("width", &self.fits_in(width)), ("height", &self.fits_in(height))])
    }

    fn say(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// "left factory edge"
    fn edge(&self, part: &Part, side: Side) -> String {
        let kind = if part.own.has(side) { "factory" } else { "sawn" };
        self.texts.say(&format!("cut-edge-{}-{kind}", side.name()))
    }

    /// What is laid on the saw. `tile` is named where the job has several.
    pub fn take(&self, take: Take, number: usize, tile: Option<&TileId>) -> String {
        match (take, tile) {
            (Take::WholeTile, None) => self.texts.say("cut-take-whole"),
            (Take::WholeTile, Some(tile)) => self.say("cut-take-whole-of", &[("tile", &tile.0)]),
            (Take::Offcut(label), _) => {
                self.say("cut-take-offcut", &[("label", &written(number, label.nth))])
            }
        }
    }

    /// What a saw cut is called and where the fence stands.
    pub fn saw_cut(&self, cut: &SawCut) -> CutLine {
        let key = match cut.across() {
            Axis::X => "cut-crosscut",
            Axis::Y => "cut-rip",
        };
        let shown = cut.keep.show(self.unit, Rounding::FitsIn);
        let fine = cut.keep.show_fine(self.unit, Rounding::Nearest);
        CutLine {
            exact: (fine != shown).then(|| self.say("cut-exact", &[("length", &fine)])),
            figure: Figure::of(shown),
            says: self.say(key, &[("edge", &self.edge(&cut.part, cut.from))]),
        }
    }

    /// The dimension of a saw cut on the drawing.
    pub fn dimension(&self, cut: &SawCut) -> Dimension {
        let (from, to) = (cut.part.at.at(cut.from), cut.mark());
        let beside = match cut.across() {
            Axis::X => Side::Top,
            Axis::Y => Side::Right,
        };
        Dimension {
            along: cut.across(),
            from: from.min(to),
            to: from.max(to),
            beside,
            words: self.fits_in(cut.keep),
        }
    }

    /// What is cut or drilled when the piece is off its tile. `kept` is where the piece lies on the tile, upright.
    pub fn marks(&self, piece: &Piece, kept: &Part) -> Vec<MarkLine> {
        let (right, up) = (kept.at.left - piece.bounds.left, kept.at.bottom - piece.bounds.bottom);
        let on_tile = OnTile { cell: piece.cell.moved(right, up), kept };
        piece.marks.iter().filter_map(|mark| self.mark(mark, &on_tile)).collect()
    }

    fn mark(&self, mark: &Mark, on: &OnTile<'_>) -> Option<MarkLine> {
        match *mark {
            Mark::Crosscut { at, at_other_end, .. } | Mark::Rip { at, at_other_end, .. }
                if at == at_other_end =>
            {
                // Straight from end to end: a cut of the saw, which the tile's own plan has.
                None
            }
            Mark::Crosscut { from, at, at_other_end } => {
                let ends = [(Side::Bottom, on.place(from, at)), (Side::Top, on.place(from, at_other_end))];
                self.taper("cut-taper-upright", from, ends, on)
            }
            Mark::Rip { from, at, at_other_end } => {
                let ends = [(Side::Left, on.place(from, at)), (Side::Right, on.place(from, at_other_end))];
                self.taper("cut-taper", from, ends, on)
            }
            Mark::Notch { from, x, y, width, height } => {
                let (x0, x1) = (on.place(from.0, x), on.place(from.0, x + width));
                let (y0, y1) = (on.place(from.1, y), on.place(from.1, y + height));
                let away = Rect { left: x0.min(x1), right: x0.max(x1), bottom: y0.min(y1), top: y0.max(y1) };
                self.notch(&away, from, on)
            }
            Mark::Hole { from, x, y, diameter } => {
                let at = (on.place(from.0, x), on.place(from.1, y));
                Some(self.hole(at, from, diameter, on))
            }
        }
    }

    /// Nothing where the tape shows the same at both ends and the saw cuts the piece to that already.
    fn taper(&self, key: &str, from: Side, ends: [(Side, Length); 2], on: &OnTile<'_>) -> Option<MarkLine> {
        let measured = ends.map(|(_, place)| on.distance(from, place));
        let [one, other] = measured.map(|length| self.fits_in(length));
        if one == other && !on.kept.own.has(from.opposite()) {
            return None;
        }
        let edge = self.edge(on.kept, from);
        let along = along(from);
        let dimensions = ends.into_iter().zip([&one, &other]).map(|((beside, place), words)| {
            let edge = on.kept.at.at(from);
            Dimension { along, from: edge.min(place), to: edge.max(place), beside, words: words.clone() }
        });
        Some(MarkLine {
            dimensions: dimensions.collect(),
            says: self.say(key, &[("one", &one), ("other", &other), ("edge", &edge)]),
        })
    }

    /// Nothing where it takes nothing of the piece in either direction.
    fn notch(&self, away: &Rect, from: (Side, Side), on: &OnTile<'_>) -> Option<MarkLine> {
        let across = on.notch_edges((Side::Left, Side::Right), from.0, away);
        let up = on.notch_edges((Side::Bottom, Side::Top), from.1, away);
        let key = match (across.len(), up.len()) {
            (1, 1) => "cut-notch-corner",
            (0, 0) => return None,
            (2, 2) => "cut-notch-inside",
            (0, _) | (_, 0) => "cut-notch-across",
            _ => "cut-notch-edge",
        };
        let touched: Vec<String> = Side::ALL
            .into_iter()
            .filter(|&side| away.at(side) == on.kept.at.at(side))
            .map(|side| self.texts.say(&format!("cut-side-{}", side.name())))
            .collect();
        let marks = self.measured(&across, on).into_iter().chain(self.measured(&up, on));
        let marks: Vec<String> = marks.collect();
        let says = self
            .say(key, &[("sides", &touched.join(" ")), ("marks", &marks.join(&self.texts.say("cut-and")))]);
        let dimensions = across.iter().map(|edge| self.measured_dimension(edge, Side::Bottom, on));
        let dimensions =
            dimensions.chain(up.iter().map(|edge| self.measured_dimension(edge, Side::Left, on)));
        Some(MarkLine { says, dimensions: dimensions.collect() })
    }

    /// "100 mm and 220 mm from the left factory edge"; nothing where there is nothing to measure.
    fn measured(&self, edges: &[Measured], on: &OnTile<'_>) -> Option<String> {
        let shown: Vec<String> = edges.iter().map(|edge| edge.at.show(self.unit, edge.rounding)).collect();
        let from = self.edge(on.kept, edges.first()?.from);
        let lengths = shown.join(&self.texts.say("cut-and"));
        Some(self.say("cut-from-edge", &[("lengths", &lengths), ("edge", &from)]))
    }

    fn measured_dimension(&self, edge: &Measured, beside: Side, on: &OnTile<'_>) -> Dimension {
        let side = on.kept.at.at(edge.from);
        let place = match edge.from {
            Side::Left | Side::Bottom => side + edge.at,
            Side::Right | Side::Top => side - edge.at,
        };
        Dimension {
            along: along(edge.from),
            from: side.min(place),
            to: side.max(place),
            beside,
            words: edge.at.show(self.unit, edge.rounding),
        }
    }

    fn hole(
        &self,
        centre: (Length, Length),
        from: (Side, Side),
        diameter: Length,
        on: &OnTile<'_>,
    ) -> MarkLine {
        let measured = |side: Side, place: Length| {
            // Never a tape read backwards from an edge that the centre lies beyond.
            let from = if on.distance(side, place) < Length::ZERO { side.opposite() } else { side };
            Measured { from, at: on.distance(from, place), rounding: Rounding::Nearest }
        };
        let (across, up) = (measured(from.0, centre.0), measured(from.1, centre.1));
        let show = |edge: &Measured| edge.at.show(self.unit, edge.rounding);
        let says = self.say(
            "cut-hole",
            &[
                ("diameter", &diameter.show(self.unit, Rounding::Clears)),
                ("across", &show(&across)),
                ("side", &self.edge(on.kept, across.from)),
                ("up", &show(&up)),
                ("foot", &self.edge(on.kept, up.from)),
            ],
        );
        let dimensions = vec![
            self.measured_dimension(&across, Side::Bottom, on),
            self.measured_dimension(&up, Side::Left, on),
        ];
        MarkLine { says, dimensions }
    }

    /// What to do with a leftover, and what is written on it in the drawing.
    pub fn left(&self, left: &Left) -> (String, String) {
        let list = |pieces: &[trade::place::PieceId]| {
            pieces.iter().map(|piece| piece.0.as_str()).collect::<Vec<_>>().join(", ")
        };
        match left {
            Left::Bin => (self.texts.say("cut-bin"), self.texts.say("cut-bin-tape")),
            Left::Rack { label, pieces } => {
                (self.say("cut-rack", &[("label", label), ("pieces", &list(pieces))]), label.clone())
            }
            Left::Spare { label, pieces } => {
                (self.say("cut-spare", &[("label", label), ("pieces", &list(pieces))]), label.clone())
            }
        }
    }

    /// Whether it can be cut ahead.
    pub fn ahead(&self, why: Option<&MeasureFirst>) -> String {
        match why {
            None => self.texts.say("cut-ahead"),
            Some(MeasureFirst::LastIntoCorner) => self.texts.say("cut-measure-corner"),
            Some(MeasureFirst::TopCourse) => self.texts.say("cut-measure-top"),
            Some(MeasureFirst::AtOpening(name)) => self.say("cut-measure-opening", &[("opening", name)]),
        }
    }

    /// What to look at on a piece that was cut; nothing where it is as planned.
    pub fn look(&self, record: &CutRecord, fits: Fits, now: (Length, Length)) -> Option<String> {
        match fits {
            Fits::AsPlanned => None,
            Fits::OtherShape => Some(self.texts.say("cut-look-shape")),
            Fits::OtherSize => {
                let shown = |(width, height): (Length, Length)| (self.fits_in(width), self.fits_in(height));
                let (was, now) = (shown((record.was.width, record.was.height)), shown(now));
                let size = |(width, height): &(String, String)| {
                    self.say("cut-size", &[("width", width), ("height", height)])
                };
                let (one, other) = if was.1 == now.1 {
                    (was.0, now.0)
                } else if was.0 == now.0 {
                    (was.1, now.1)
                } else {
                    (size(&was), size(&now))
                };
                Some(self.say("cut-look", &[("was", &one), ("now", &other)]))
            }
        }
    }
}

/// A piece on its tile, upright, with the room of the whole tile that its marks are counted from.
struct OnTile<'a> {
    cell: Rect,
    kept: &'a Part,
}

impl OnTile<'_> {
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
}

/// The direction in which distances from a side run.
fn along(from: Side) -> Axis {
    match from {
        Side::Left | Side::Right => Axis::X,
        Side::Bottom | Side::Top => Axis::Y,
    }
}

impl Figure {
    /// From a length as the tape shows it.
    fn of(plain: String) -> Self {
        let mut figure = Self { whole: String::new(), fraction: None, unit: String::new(), plain };
        for word in figure.plain.split_whitespace() {
            match word.split_once('/') {
                Some((top, bottom)) => figure.fraction = Some((top.to_owned(), bottom.to_owned())),
                None if word.starts_with(|c: char| c.is_ascii_digit() || c == '-') => {
                    figure.whole = word.to_owned();
                }
                None => figure.unit = word.to_owned(),
            }
        }
        figure
    }
}

/// The dimensions of a step's saw cuts and of its marks.
pub fn dimensions(words: &Words, step: &Step, marks: &mut [MarkLine]) -> Vec<Dimension> {
    let cuts = step.cuts.iter().map(|cut| words.dimension(cut));
    cuts.chain(marks.iter_mut().flat_map(|mark| mark.dimensions.drain(..))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use trade::geometry::{Point, Sides};
    use trade::measure::SurfaceId;
    use trade::place::PieceId;

    fn mm(length: i64) -> Length {
        Length::mm(length)
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

    /// What is said of it where it comes out of the right end of its tile, its left side sawn.
    fn said(unit: Unit, mark: Mark) -> Vec<String> {
        said_where(unit, mark, &[Side::Right, Side::Bottom, Side::Top])
    }

    fn said_where(unit: Unit, mark: Mark, own: &[Side]) -> Vec<String> {
        let own = own.iter().copied().collect();
        let kept = Part { at: rect(300, 0, 600, 200), own };
        let words = Words::new(&Texts::english().unwrap(), unit);
        words.marks(&piece(vec![mark]), &kept).into_iter().map(|line| line.says).collect()
    }

    #[test]
    fn a_notch_in_a_corner_is_two_marks_and_a_drilled_corner() {
        let from = (Side::Left, Side::Bottom);
        let notch = Mark::Notch { from, x: mm(180), y: mm(0), width: mm(120), height: mm(80) };
        let said = said(Unit::Millimetre, notch);
        assert!(said[0].contains("180 mm from the left sawn edge"), "{said:?}");
        assert!(said[0].contains("80 mm from the bottom factory edge"), "{said:?}");
        assert!(
            said[0].contains("right bottom corner") && said[0].contains("rill the inside corner"),
            "{said:?}"
        );
    }

    #[test]
    fn a_notch_comes_out_too_large_rather_than_too_small() {
        let from = (Side::Left, Side::Bottom);
        let (tenth, none) = (Length::from_units(7_680), mm(0));
        let notch = Mark::Notch { from, x: mm(100) + tenth, y: none, width: mm(50), height: mm(80) + tenth };
        let said = said(Unit::Millimetre, notch);
        assert!(said[0].contains("100 mm and 151 mm from the left"), "{said:?}");
        assert!(said[0].contains("81 mm from the bottom"), "{said:?}");
    }

    #[test]
    fn a_hole_is_a_centre_from_two_edges_and_a_diameter_that_clears() {
        let from = (Side::Left, Side::Top);
        let diameter = Length::sixty_fourths(105);
        let hole = Mark::Hole { from, x: mm(254), y: mm(127), diameter };
        let said = said(Unit::Inch, hole);
        assert!(said[0].contains("1 11/16 in"), "{said:?}");
        assert!(said[0].contains("10 in from the left sawn edge"), "{said:?}");
        assert!(said[0].contains("5 in from the top factory edge"), "{said:?}");
    }

    #[test]
    fn a_taper_gives_both_ends_and_a_straight_cut_is_left_to_the_saw() {
        let taper = Mark::Rip { from: Side::Top, at: mm(200), at_other_end: mm(196) };
        let said_of_taper = said(Unit::Millimetre, taper);
        assert!(
            said_of_taper[0].contains("200 mm") && said_of_taper[0].contains("196 mm"),
            "{said_of_taper:?}"
        );
        let tenth = Length::from_units(7_680);
        let slight = Mark::Rip { from: Side::Bottom, at: mm(196) + tenth * 2, at_other_end: mm(196) + tenth };
        let said_of_slight = said_where(Unit::Millimetre, slight.clone(), &[Side::Bottom]);
        assert!(said_of_slight.is_empty(), "{said_of_slight:?}");
        assert_eq!(said_where(Unit::Millimetre, slight, &[Side::Bottom, Side::Top]).len(), 1);
        let straight = Mark::Rip { from: Side::Top, at: mm(196), at_other_end: mm(196) };
        assert!(said(Unit::Millimetre, straight).is_empty());
    }

    #[test]
    fn fractions_are_taken_apart() {
        let figure = Figure::of("5 3/8 in".to_owned());
        assert_eq!((figure.whole.as_str(), figure.unit.as_str()), ("5", "in"));
        assert_eq!(figure.fraction, Some(("3".to_owned(), "8".to_owned())));
        assert_eq!(Figure::of("306 mm".to_owned()).fraction, None);
        assert_eq!(Figure::of("3/16 in".to_owned()).whole, "");
    }

    #[test]
    fn a_point_of_the_wall_is_found_on_the_tile() {
        let kept = Part { at: rect(300, 0, 600, 200), own: Sides::NONE };
        let on = OnTile { cell: rect(300, 0, 900, 200), kept: &kept };
        assert_eq!(on.place(Side::Right, mm(400)), mm(500));
        assert_eq!(on.distance(Side::Left, mm(500)), mm(200));
        assert_eq!(Point::new(on.place(Side::Left, mm(1)), mm(0)).x, mm(301));
    }
}
