//! What the sheet says of a wish: numbers to mark, how it suits the joints, what was taken as given.

use trade::geometry::{Point, Rect, Side};
use trade::measure::{Length, OpeningShape};
use trade::place::Sliver;
use trade::search::{
    Depth, DepthVerdict, EdgeFit, Fit, Fitting, Framing, NoPlace, RoughIn, Seat, WishKind, above_base,
};

use super::{Sheet, corner};
use crate::output::wall_drawing::{self, TileSketch};
use crate::store::StoredWish;
use crate::texts::{Said, Texts};
use crate::web::tape::Tape;
use crate::web::walls::Seen;

/// The answer to one wish.
pub struct Answer {
    pub headline: Judged,
    pub figures: Vec<Figure>,
    pub heads: Vec<String>,
    pub rows: Vec<Row>,
    pub judged: Vec<Judged>,
    /// It has a sill, on which water must not stand.
    pub sill: bool,
    pub drawing: String,
    pub assumed: Vec<String>,
    pub put: Put,
    pub others: Vec<Other>,
}

/// One number, the largest thing on the page.
pub struct Figure {
    pub label: String,
    pub value: String,
    pub more: String,
}

/// One line of the table.
pub struct Row {
    pub label: String,
    pub cells: Vec<Cell>,
}

/// A number, and which side of the line it is on where that is asked.
pub struct Cell {
    pub value: String,
    pub more: String,
}

/// Something said with its state.
pub struct Judged {
    pub state: &'static str,
    pub says: String,
}

/// A place as the form that puts it on the wall names it.
pub struct Put {
    pub x: String,
    pub y: String,
}

/// Another place, in a line.
pub struct Other {
    pub says: String,
    pub judged: String,
    pub put: Put,
}

/// An outline moved along the wall.
pub fn moved(shape: &OpeningShape, right: Length) -> OpeningShape {
    match *shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            OpeningShape::Rectangle { x: x + right, y, width, height }
        }
        OpeningShape::Circle { x, y, diameter } => OpeningShape::Circle { x: x + right, y, diameter },
    }
}

/// Why there is no place, in a tiler's words.
pub fn no_place(why: &NoPlace, wish: &StoredWish, texts: &Texts, tape: &Tape) -> String {
    match *why {
        NoPlace::NotLaid => texts.say("rough-not-laid"),
        NoPlace::NoneFree => texts.say("rough-none-free"),
        NoPlace::RangeTooSmall { across, up } => {
            let (width, height) = match wish.wish.kind {
                WishKind::Niche { width, height, lining } => (width + lining * 2, height + lining * 2),
                WishKind::Valve { diameter } => (diameter, diameter),
            };
            let key = match (across > Length::ZERO, up > Length::ZERO) {
                (true, false) => "rough-too-narrow",
                (false, _) => "rough-too-low",
                (true, true) => "rough-too-small",
            };
            let [width, height, across, up] = [width, height, across, up].map(|length| tape.show(length));
            let values: [(&str, &dyn Said); 4] =
                [("width", &width), ("height", &height), ("across", &across), ("up", &up)];
            texts.say_with(key, &values)
        }
    }
}

impl Answer {
    /// Of the places found, the best in full.
    pub fn new(
        found: &RoughIn,
        wish: &StoredWish,
        sheet: &Sheet,
        texts: &Texts,
        tape: &Tape,
    ) -> Option<Self> {
        let (best, others) = found.places.split_first()?;
        let told = Told { wish, sheet, texts, tape, taken_left: sheet.taken_left() };
        Some(Self {
            headline: told.headline(best),
            figures: told.figures(best),
            heads: told.heads(best),
            rows: told.rows(best),
            judged: told.judged(best, &found.fitting),
            sill: best.framed.is_some(),
            drawing: told.drawing(best).unwrap_or_default(),
            assumed: told.assumed(),
            put: put(best),
            others: others.iter().map(|other| told.other(other)).collect(),
        })
    }
}

fn put(framing: &Framing) -> Put {
    let (x, y) = corner(&framing.shape);
    Put { x: x.units().to_string(), y: y.units().to_string() }
}

struct Told<'a> {
    wish: &'a StoredWish,
    sheet: &'a Sheet,
    texts: &'a Texts,
    tape: &'a Tape,
    taken_left: Length,
}

impl Told<'_> {
    fn headline(&self, framing: &Framing) -> Judged {
        match &framing.fit {
            Fit::Niche(edges) => {
                let on = edges.iter().filter(|edge| edge.off.is_none()).count();
                let state = if on == edges.len() { "done" } else { "none" };
                Judged { state, says: self.texts.say_with("rough-on-joints", &[("on", &on)]) }
            }
            Fit::Valve { seat, web } => {
                let (state, key) = match seat {
                    Seat::MiddleOfTile => ("done", "rough-seat-middle"),
                    Seat::Crossing => ("done", "rough-seat-crossing"),
                    Seat::WithinTile => ("none", "rough-seat-within"),
                    Seat::OnJoint => ("none", "rough-seat-joint"),
                    Seat::AcrossEdge => ("look", "rough-seat-across"),
                };
                let thin = web.is_some_and(|web| web < trade::measure::Sheet::THINNEST_WEB);
                let state = if thin { "look" } else { state };
                Judged { state, says: self.texts.say(key) }
            }
        }
    }

    fn figures(&self, framing: &Framing) -> Vec<Figure> {
        let figure =
            |label: &str, value: String, more: String| Figure { label: self.texts.say(label), value, more };
        let from_corner = || self.texts.say("rough-from-corner");
        match (framing.shape, framing.framed) {
            (OpeningShape::Rectangle { width, height, .. }, Some(framed)) => {
                let bottom = self.height(framed.bottom);
                let finished = self.size(width, height);
                vec![
                    figure(
                        "rough-frame-hole",
                        self.size(framed.width(), framed.height()),
                        self.texts.say_with("rough-finished-size", &[("size", &finished)]),
                    ),
                    figure("rough-left", self.x(framed.left), from_corner()),
                    figure("rough-bottom", bottom.value, bottom.more),
                ]
            }
            (OpeningShape::Rectangle { x, y, .. } | OpeningShape::Circle { x, y, .. }, _) => {
                let height = self.height(y);
                vec![
                    figure("rough-centre-x", self.x(x), from_corner()),
                    figure("rough-centre-y", height.value, height.more),
                ]
            }
        }
    }

    fn heads(&self, framing: &Framing) -> Vec<String> {
        let keys: &[&str] = match framing.framed {
            Some(_) => &["rough-column-framed", "rough-column-finished"],
            None => &["rough-column-centre"],
        };
        keys.iter().map(|key| self.texts.say(key)).collect()
    }

    fn rows(&self, framing: &Framing) -> Vec<Row> {
        let row = |label: &str, cells: Vec<Cell>| Row { label: self.texts.say(label), cells };
        let plain = |value: String| Cell { value, more: String::new() };
        match (framing.shape, framing.framed) {
            (OpeningShape::Rectangle { x, y, width, height }, Some(framed)) => {
                let finished = Rect { left: x, bottom: y, right: x + width, top: y + height };
                let both = |of: &dyn Fn(&Rect) -> Cell| vec![of(&framed), of(&finished)];
                vec![
                    row("rough-row-left", both(&|rect| plain(self.x(rect.left)))),
                    row("rough-row-right", both(&|rect| plain(self.x(rect.right)))),
                    row("rough-row-bottom", both(&|rect| self.height(rect.bottom))),
                    row("rough-row-top", both(&|rect| self.height(rect.top))),
                    row("rough-row-base-left", both(&|rect| plain(self.above_base(rect.left, rect.bottom)))),
                    row(
                        "rough-row-base-right",
                        both(&|rect| plain(self.above_base(rect.right, rect.bottom))),
                    ),
                ]
            }
            (OpeningShape::Rectangle { x, y, .. } | OpeningShape::Circle { x, y, .. }, _) => vec![
                row("rough-row-x", vec![plain(self.x(x))]),
                row("rough-row-y", vec![self.height(y)]),
                row("rough-row-base", vec![plain(self.above_base(x, y))]),
            ],
        }
    }

    fn judged(&self, framing: &Framing, fitting: &Fitting) -> Vec<Judged> {
        let mut judged: Vec<Judged> = match &framing.fit {
            Fit::Niche(edges) => edges.iter().map(|edge| self.edge(edge)).collect(),
            Fit::Valve { seat, web } => web.iter().filter_map(|web| self.web(*seat, *web)).collect(),
        };
        let sizes = [("rough-fit-width", fitting.width), ("rough-fit-height", fitting.height)];
        judged.extend(sizes.into_iter().filter_map(|(key, size)| {
            let size = self.tape.show_gap(size?);
            Some(Judged { state: "none", says: self.texts.say_with(key, &[("size", &size)]) })
        }));
        judged.extend(self.depth());
        judged.push(Judged {
            state: "none",
            says: self.texts.say_with("rough-cut", &[("count", &framing.cut)]),
        });
        if !framing.slivers.is_empty() {
            let part = |(id, sliver): &(trade::place::PieceId, Sliver)| match sliver {
                Sliver::Narrow(size) | Sliver::Low(size) | Sliver::Leg(size) | Sliver::Web(size) => {
                    format!("{} {}", id.0, self.tape.show(*size))
                }
            };
            let pieces: Vec<String> = framing.slivers.iter().map(part).collect();
            let says = self.texts.say_with("rough-slivers", &[("pieces", &pieces.join(", "))]);
            judged.push(Judged { state: "look", says });
        }
        judged
    }

    fn edge(&self, edge: &EdgeFit) -> Judged {
        let side = self.texts.say(match edge.side {
            Side::Left => "rough-edge-left",
            Side::Right => "rough-edge-right",
            Side::Bottom => "rough-edge-bottom",
            Side::Top => "rough-edge-top",
        });
        let Some(off) = edge.off else {
            return Judged { state: "done", says: self.texts.say_with("rough-edge-on", &[("side", &side)]) };
        };
        let thin = off.leaves < trade::measure::Sheet::THINNEST_LEG;
        let key = if thin { "rough-edge-thin" } else { "rough-edge-off" };
        let (by, leaves) = (self.tape.show(off.by), self.tape.show(off.leaves));
        let values: [(&str, &dyn Said); 3] = [("side", &side), ("by", &by), ("leaves", &leaves)];
        Judged { state: if thin { "look" } else { "none" }, says: self.texts.say_with(key, &values) }
    }

    /// What stays between the hole and an edge: where it runs over one, only that it is thin can be worth a word.
    fn web(&self, seat: Seat, web: Length) -> Option<Judged> {
        let thin = web < trade::measure::Sheet::THINNEST_WEB;
        let inside = match seat {
            Seat::MiddleOfTile | Seat::WithinTile => true,
            Seat::Crossing | Seat::OnJoint | Seat::AcrossEdge => false,
        };
        let (state, key) = if thin { ("look", "rough-web-thin") } else { ("done", "rough-web") };
        let says = || self.texts.say_with(key, &[("web", &self.tape.show(web))]);
        (thin || inside).then(|| Judged { state, says: says() })
    }

    fn depth(&self) -> Option<Judged> {
        let measured = self.wish.depth?;
        let build_up = self.sheet.stored.sheet.build_up(&self.sheet.bare.id);
        let depth = Depth { to_bare_wall: measured.to_bare_wall, build_up, window: measured.window };
        let show = |length: Length| self.tape.show_gap(length);
        let finished = self.texts.say_with(
            "rough-depth",
            &[
                ("finished", &show(depth.finished())),
                ("wall", &show(measured.to_bare_wall)),
                ("build", &show(build_up)),
            ],
        );
        let (window_least, window_most) = (show(measured.window.0), show(measured.window.1));
        let (state, key, least, most) = match depth.verdict() {
            DepthVerdict::Fits { .. } => ("done", "rough-depth-fits", String::new(), String::new()),
            DepthVerdict::MoveBack { least, most } => ("look", "rough-depth-back", show(least), show(most)),
            DepthVerdict::MoveForward { least, most } => {
                ("look", "rough-depth-forward", show(least), show(most))
            }
        };
        let values: [(&str, &dyn Said); 4] =
            [("from", &window_least), ("to", &window_most), ("least", &least), ("most", &most)];
        Some(Judged { state, says: format!("{finished} {}", self.texts.say_with(key, &values)) })
    }

    fn assumed(&self) -> Vec<String> {
        let clearance = self.tape.show_gap(self.wish.wish.clearance);
        let edge = self.texts.say(&format!("edge-{}", self.wish.wish.edge.name()));
        let lining = match self.wish.wish.kind {
            WishKind::Niche { lining, .. } => {
                let lining = self.tape.show_gap(lining);
                Some(self.texts.say_with("rough-assumed-lining", &[("lining", &lining)]))
            }
            WishKind::Valve { .. } => None,
        };
        let rest = [
            self.texts.say_with("rough-assumed-clearance", &[("clearance", &clearance), ("edge", &edge)]),
            self.texts.say("rough-assumed-places"),
            self.texts.say("rough-assumed-layout"),
        ];
        lining.into_iter().chain(rest).collect()
    }

    fn other(&self, framing: &Framing) -> Other {
        let (x, y) = match framing.framed {
            Some(framed) => (framed.left, framed.bottom),
            None => corner(&framing.shape),
        };
        let height = self.height(y);
        let key = if framing.framed.is_some() { "rough-other-niche" } else { "rough-other-valve" };
        let values: [(&str, &dyn Said); 3] =
            [("x", &self.x(x)), ("height", &height.value), ("side", &height.more)];
        let says = self.texts.say_with(key, &values);
        Other { says, judged: self.headline(framing).says, put: put(framing) }
    }

    /// The wall with it built.
    fn drawing(&self, framing: &Framing) -> Option<String> {
        let shift = self.sheet.stored.line_shift;
        let mut bare = self.sheet.bare.clone();
        let shape = moved(&framing.shape, self.taken_left);
        bare.openings.push(self.wish.wish.opening(self.wish.name.clone(), shape));
        let mut sketch = Seen::from(&bare.raised(-shift.0)).sketch(self.texts, self.tape);
        let moved = |at: &Point| Point::new(at.x + self.taken_left, shift.todays_height(at.y));
        sketch.tile = Some(TileSketch {
            pieces: framing
                .pieces
                .iter()
                .map(|piece| (piece.outline.iter().map(moved).collect(), piece.full))
                .collect(),
            courses: Vec::new(),
            plumb: None,
        });
        sketch.names.description = self.texts.say_with("rough-drawing-says", &[("name", &self.wish.name)]);
        wall_drawing::draw(&sketch, "rough-in")
    }

    /// From the bare wall's left corner.
    fn x(&self, x: Length) -> String {
        self.tape.show(x + self.taken_left)
    }

    fn size(&self, width: Length, height: Length) -> String {
        let (width, height) = (self.tape.show(width), self.tape.show(height));
        self.texts.say_with("rough-size", &[("width", &width), ("height", &height)])
    }

    /// From today's line.
    fn height(&self, y: Length) -> Cell {
        let y = self.sheet.stored.line_shift.todays_height(y);
        let (value, more) = match y.units().signum() {
            1 => (self.tape.show(y), self.texts.say("wall-side-above")),
            -1 => (self.tape.show(-y), self.texts.say("wall-side-below")),
            _ => (self.texts.say("height-at"), String::new()),
        };
        Cell { value, more }
    }

    /// From the base as it was measured, whose readings are in the first line's frame as `y` is.
    fn above_base(&self, x: Length, y: Length) -> String {
        self.tape.show(above_base(&self.sheet.bare.base, x + self.taken_left, y))
    }
}
