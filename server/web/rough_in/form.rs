//! A wish as it is typed. Heights are typed from today's line, places from the bare wall's left corner.

use trade::geometry::Rect;
use trade::measure::{Length, OpeningEdge};
use trade::search::{Wish, WishKind};

use super::Sheet;
use crate::store::{StoredWish, ValveDepth};
use crate::texts::Texts;
use crate::web::form::{Faults, Fields};
use crate::web::tape::{Asked, Tape};

/// The longest name, as openings have it.
const LONGEST_NAME: usize = 80;

/// A niche or a valve.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kind {
    Niche,
    Valve,
}

impl Kind {
    /// By its name in a form.
    pub fn named(name: &str) -> Option<Self> {
        [Self::Niche, Self::Valve].into_iter().find(|kind| kind.name() == name)
    }

    /// Which kind a wish is of.
    pub fn of(wish: &Wish) -> Self {
        match wish.kind {
            WishKind::Niche { .. } => Self::Niche,
            WishKind::Valve { .. } => Self::Valve,
        }
    }

    /// Its name in a form and in the keys of its words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Niche => "niche",
            Self::Valve => "valve",
        }
    }

    /// What usually hides the tile's edge at it.
    pub fn usual_edge(self) -> OpeningEdge {
        match self {
            Self::Niche => OpeningEdge::Trim,
            Self::Valve => OpeningEdge::Plate,
        }
    }
}

/// What was typed, as a wish with its range in the first line's frame, or everything to change.
pub fn read(typed: &Fields, kind: Kind, sheet: &Sheet, texts: &Texts) -> Result<StoredWish, Faults> {
    let tape = Tape::new(texts, sheet.stored.sheet.unit);
    let mut reader = Reader { typed, sheet, texts, tape, faults: Faults::default() };
    let name = reader.name(kind);
    let is = reader.kind(kind);
    let clearance = reader.or_usual("clearance", sheet.stored.sheet.gaps.opening);
    let edge = reader.edge(kind);
    let within = reader.within(kind);
    let depth = reader.depth(kind);
    match (name, is, clearance, edge, within) {
        (Some(name), Some(kind), Some(clearance), Some(edge), Some(within)) if reader.faults.is_empty() => {
            Ok(StoredWish { place: 0, name, wish: Wish { kind, clearance, edge, within }, depth })
        }
        _ => Err(reader.faults),
    }
}

/// A stored wish as a person would have typed it.
pub fn stored(wish: &StoredWish, sheet: &Sheet, texts: &Texts) -> Fields {
    let tape = Tape::new(texts, sheet.stored.sheet.unit);
    let mut fields = Fields::default();
    let mut put = |name: &str, length: Length| fields.put(name, tape.typed(length));
    match wish.wish.kind {
        WishKind::Niche { width, height, lining } => {
            put("width", width);
            put("height", height);
            put("lining", lining);
        }
        WishKind::Valve { diameter } => put("diameter", diameter),
    }
    put("clearance", wish.wish.clearance);
    put("x-from", wish.wish.within.left);
    put("x-to", wish.wish.within.right);
    if let Some(depth) = wish.depth {
        put("to-bare-wall", depth.to_bare_wall);
        put("window-least", depth.window.0);
        put("window-most", depth.window.1);
    }
    for (name, height) in [("y-from", wish.wish.within.bottom), ("y-to", wish.wish.within.top)] {
        let today = sheet.stored.line_shift.todays_height(height);
        fields.put(name, tape.typed(today.abs()));
        fields.put(&format!("{name}-side"), if today < Length::ZERO { "below" } else { "above" });
    }
    fields.put("name", wish.name.clone());
    fields.put("edge", wish.wish.edge.name());
    fields
}

struct Reader<'a> {
    typed: &'a Fields,
    sheet: &'a Sheet,
    texts: &'a Texts,
    tape: Tape,
    faults: Faults,
}

impl Reader<'_> {
    fn name(&mut self, kind: Kind) -> Option<String> {
        let name = self.typed.get("name");
        let read = if name.chars().count() > LONGEST_NAME {
            Err(self.texts.say_with("fault-name-long", &[("most", &LONGEST_NAME)]))
        } else if name.is_empty() {
            Ok(self.texts.say(match kind {
                Kind::Niche => "rough-niche-name",
                Kind::Valve => "rough-valve-name",
            }))
        } else {
            Ok(name.to_owned())
        };
        self.faults.take("name", read)
    }

    fn kind(&mut self, kind: Kind) -> Option<WishKind> {
        match kind {
            Kind::Niche => {
                let (width, height) = (self.extent("width"), self.extent("height"));
                let build_up = self.sheet.stored.sheet.build_up(&self.sheet.bare.id);
                let lining = self.or_usual("lining", build_up);
                Some(WishKind::Niche { width: width?, height: height?, lining: lining? })
            }
            Kind::Valve => Some(WishKind::Valve { diameter: self.extent("diameter")? }),
        }
    }

    fn asked(&self, name: &str) -> Asked {
        Asked::new(name, self.texts.say(&format!("rough-{name}")))
    }

    /// A size of more than nothing.
    fn extent(&mut self, name: &str) -> Option<Length> {
        let asked = self.asked(name);
        let length = self.tape.wanted(self.typed, &asked, &mut self.faults)?;
        let says = || self.texts.say_with("wall-fault-extent", &[("label", &asked.label)]);
        let fits = if length > Length::ZERO { Ok(length) } else { Err(says()) };
        self.faults.take(name, fits)
    }

    /// A size, or the usual one where nothing is typed.
    fn or_usual(&mut self, name: &str, usual: Length) -> Option<Length> {
        if self.typed.get(name).is_empty() {
            return Some(usual);
        }
        let asked = self.asked(name);
        self.tape.size(self.typed, &asked, &mut self.faults)
    }

    fn edge(&mut self, kind: Kind) -> Option<OpeningEdge> {
        let edge = match self.typed.get("edge") {
            "" => Some(kind.usual_edge()),
            typed => OpeningEdge::from_name(typed),
        };
        self.faults.take("edge", edge.ok_or_else(|| self.texts.say("fault-choice")))
    }

    /// The range in the first line's frame. A valve's may be one plumb line or one height.
    fn within(&mut self, kind: Kind) -> Option<Rect> {
        let wanted = |reader: &mut Self, name: &str| {
            let asked = reader.asked(name);
            reader.tape.wanted(reader.typed, &asked, &mut reader.faults)
        };
        let one_will_do =
            |reader: &Self, name: &str| kind == Kind::Valve && reader.typed.get(name).is_empty();
        let from = wanted(self, "x-from");
        let to = if one_will_do(self, "x-to") { from } else { wanted(self, "x-to") };
        let low = wanted(self, "y-from").map(|height| self.sided("y-from", height));
        let high = if one_will_do(self, "y-to") {
            low
        } else {
            wanted(self, "y-to").map(|height| self.sided("y-to", height))
        };
        let first = |today: Length| self.sheet.stored.line_shift.first_height(today);
        let (from, to, low, high) = (from?, to?, first(low?), first(high?));
        Some(Rect { left: from.min(to), bottom: low.min(high), right: from.max(to), top: low.max(high) })
    }

    /// A height with its own choice of above or below the line; a minus always means below.
    fn sided(&self, name: &str, height: Length) -> Length {
        match self.typed.get(&format!("{name}-side")) {
            "below" => -height.abs(),
            _ => height,
        }
    }

    /// All three or none.
    fn depth(&mut self, kind: Kind) -> Option<ValveDepth> {
        let names = ["to-bare-wall", "window-least", "window-most"];
        if kind == Kind::Niche || names.iter().all(|name| self.typed.get(name).is_empty()) {
            return None;
        }
        let [to_bare_wall, least, most] = names.map(|name| {
            let asked = self.asked(name);
            self.tape.size(self.typed, &asked, &mut self.faults)
        });
        let (least, most) = (least?, most?);
        Some(ValveDepth { to_bare_wall: to_bare_wall?, window: (least.min(most), least.max(most)) })
    }
}
