//! The offcuts on the rack: what is written on each, how large it is, which of its edges are a tile's own, and what
//! still comes out of it.

use askama::Template;
use trade::geometry::Side;
use trade::place::PieceId;

use super::saw::Racked;
use super::view::{View, frame};
use crate::output::cut_drawing::{CutDrawing, Leave};
use crate::web::page::Frame;
use crate::web::urls;

/// The rack.
#[derive(Template)]
#[template(path = "cuts/rack.html")]
pub struct RackPage {
    frame: Frame,
    offcuts: Vec<Lying>,
    saw_url: String,
}

/// One offcut.
struct Lying {
    label: String,
    size: String,
    /// Of which tile, where the job cuts several.
    tile: Option<String>,
    edges: String,
    /// What comes out of it: label and address of each piece.
    waiting: Vec<(String, String)>,
    from: String,
    drawing: String,
}

impl View<'_> {
    /// The rack.
    pub fn rack(&self) -> RackPage {
        RackPage {
            offcuts: self.saw_state().rack.iter().map(|offcut| self.lying(offcut)).collect(),
            saw_url: urls::cuts(&self.head.id),
            frame: frame(self.app, self.head, self.app.texts.say("rack-title")).live(&self.yard.seen),
        }
    }

    fn lying(&self, offcut: &Racked) -> Lying {
        let texts = &self.app.texts;
        let at = offcut.part.at;
        let edges: Vec<String> = [Side::Left, Side::Right, Side::Bottom, Side::Top]
            .into_iter()
            .filter(|&side| offcut.part.own.has(side))
            .map(|side| texts.say(&format!("cut-side-{}", side.name())))
            .collect();
        let edges = match edges.len() {
            0 => texts.say("rack-no-edges"),
            count => texts.say_with("rack-edges", &[("sides", &edges.join(", ")), ("count", &count)]),
        };
        let (size, label) = (self.words.size(at.width(), at.height()), offcut.label.clone());
        let drawing = CutDrawing {
            on_saw: offcut.part,
            cuts: &[],
            outline: Vec::new(),
            holes: Vec::new(),
            label: "",
            leaves: vec![Leave { at, words: label.clone(), kept: true }],
            dimensions: Vec::new(),
            says: format!("{label}: {size}. {edges}"),
        };
        let link = |piece: &PieceId| (piece.0.clone(), urls::cut(&self.head.id, &piece.0));
        Lying {
            drawing: drawing.draw(),
            label,
            size,
            tile: (self.saw_state().tally.len() > 1).then(|| offcut.tile.0.clone()),
            edges,
            waiting: offcut.waiting.iter().map(link).collect(),
            from: self.from(&offcut.from),
        }
    }

    /// Which cut left it, and when.
    fn from(&self, piece: &PieceId) -> String {
        let texts = &self.app.texts;
        let cut = self.saw_state().entry(piece).and_then(|entry| entry.cut.as_ref());
        match cut {
            Some(record) => {
                let (who, when) = (self.who(record), self.times.at(record.at));
                texts.say_with("rack-from", &[("piece", &piece.0), ("who", &who), ("when", &when)])
            }
            None => texts.say_with("rack-from-broken", &[("piece", &piece.0)]),
        }
    }
}
