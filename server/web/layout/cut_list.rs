//! The cut list: every piece in setting order, what it is cut from, what it leaves, and which offcuts then lie on the
//! rack.

use std::collections::BTreeMap;
use std::sync::Arc;

use askama::Template;
use trade::measure::SurfaceId;
use trade::offcut::Take;

use super::words::Words;
use crate::app::App;
use crate::output::rack_drawing::RackDrawing;
use crate::store::{Sawn, StoredSheet};
use crate::web::cuts::{Entry, Left, Saw, written};
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::Planned;

/// The cut list.
#[derive(Template)]
#[template(path = "layout/cuts.html")]
pub struct CutList {
    frame: Frame,
    /// "52 pieces out of 31 tiles".
    says: String,
    rack_says: Vec<String>,
    drawing: String,
    walls: Vec<WallCuts>,
    saw_url: String,
    back: String,
}

/// The cuts of one wall.
struct WallCuts {
    name: String,
    rows: Vec<Row>,
}

/// One piece.
struct Row {
    number: usize,
    piece: String,
    url: String,
    size: String,
    from: String,
    /// How long the offcut has waited.
    waited: String,
    leaves: Vec<String>,
    /// What lies on the rack once it is cut.
    rack: String,
    count: usize,
}

/// Offcuts on the rack, each with the cut after which it lies there.
#[derive(Default)]
struct Rack {
    lying: BTreeMap<String, usize>,
    longest: Option<(String, usize)>,
    counts: Vec<usize>,
}

impl CutList {
    /// The whole list; the labels are those of the saw.
    pub fn new(app: &App, stored: &StoredSheet, planned: Arc<Planned>, sawn: Sawn) -> Self {
        let words = Words::of(&app.texts, stored);
        let saw = Saw::new(planned, sawn);
        let mut rack = Rack::default();
        let mut walls: Vec<(SurfaceId, WallCuts)> = Vec::new();
        let mut tiles = 0;
        for (index, entry) in saw.entries.iter().enumerate() {
            tiles += usize::from(matches!(&entry.step, Some(step) if step.take == Take::WholeTile));
            let piece = saw.piece(entry);
            let row = Row::new(&words, stored, &saw, entry, index + 1, &mut rack);
            match walls.last_mut().filter(|(wall, _)| *wall == piece.surface) {
                Some((_, wall)) => wall.rows.push(row),
                None => {
                    let name = words.wall(&piece.surface);
                    walls.push((piece.surface.clone(), WallCuts { name, rows: vec![row] }));
                }
            }
        }
        Self {
            says: words.say_with("cutlist-says", &[("count", &saw.entries.len()), ("tiles", &tiles)]),
            rack_says: rack.says(&words),
            drawing: rack.drawing(&words),
            walls: walls.into_iter().map(|(_, wall)| wall).collect(),
            saw_url: urls::cuts(&stored.id),
            back: urls::layout(&stored.id),
            frame: Frame::of_job(app, words.say("cutlist-title"), &stored.id, &stored.sheet.name, Here::Wall),
        }
    }
}

impl Row {
    fn new(
        words: &Words,
        stored: &StoredSheet,
        saw: &Saw,
        entry: &Entry,
        number: usize,
        rack: &mut Rack,
    ) -> Self {
        let piece = saw.piece(entry);
        let tile = entry.would_be.stock;
        let (from, waited) = match entry.step.as_ref().map(|step| step.take) {
            Some(Take::Offcut(label)) => {
                let label = written(tile, label.nth);
                let waited = rack.take(&label, number);
                let waited = waited.map(|cuts| words.say1("cutlist-waited", "count", &cuts));
                (words.say1("cutlist-from-offcut", "label", &label), waited.unwrap_or_default())
            }
            Some(Take::Racked(nth)) => (words.say1("cutlist-from-rack", "number", &(nth + 1)), String::new()),
            Some(Take::WholeTile) => (words.say1("cutlist-from-tile", "number", &tile), String::new()),
            None => (words.say("cutlist-from-elsewhere"), String::new()),
        };
        let leaves = entry.leaves.iter().filter_map(|left| rack.put(words, left, number)).collect();
        rack.counts.push(rack.lying.len());
        Self {
            number,
            piece: piece.id.0.clone(),
            url: urls::cut(&stored.id, &piece.id.0),
            size: words.say_with(
                "cut-size",
                &[
                    ("width", &words.bare_cut(piece.bounds.width())),
                    ("height", &words.cut(piece.bounds.height())),
                ],
            ),
            from,
            waited,
            leaves,
            rack: rack.lying.keys().cloned().collect::<Vec<_>>().join(", "),
            count: rack.lying.len(),
        }
    }
}

impl Rack {
    /// How many cuts an offcut has lain there.
    fn take(&mut self, label: &str, now: usize) -> Option<usize> {
        let waited = now - self.lying.remove(label)?;
        if self.longest.as_ref().is_none_or(|(_, longest)| waited > *longest) {
            self.longest = Some((label.to_owned(), waited));
        }
        Some(waited)
    }

    /// What to do with a leftover, in few words; nothing for waste.
    fn put(&mut self, words: &Words, left: &Left, now: usize) -> Option<String> {
        let (key, label, pieces) = match left {
            Left::Bin => return None,
            Left::Free { label } => ("cutlist-leaves-free", label, String::new()),
            Left::ToSize { label, piece } => ("cutlist-leaves-to-size", label, piece.0.clone()),
            Left::Rack { label, pieces } | Left::Spare { label, pieces } => {
                let pieces: Vec<&str> = pieces.iter().map(|piece| piece.0.as_str()).collect();
                ("cutlist-leaves", label, pieces.join(", "))
            }
        };
        self.lying.insert(label.clone(), now);
        Some(words.say_with(key, &[("label", label), ("pieces", &pieces)]))
    }

    fn most(&self) -> usize {
        self.counts.iter().copied().max().unwrap_or_default()
    }

    fn says(&self, words: &Words) -> Vec<String> {
        let most = words.say1("cutlist-most", "count", &self.most());
        let longest = self
            .longest
            .as_ref()
            .map(|(label, waited)| words.say_with("cutlist-longest", &[("label", label), ("count", waited)]));
        [most].into_iter().chain(longest).collect()
    }

    fn drawing(&self, words: &Words) -> String {
        if self.most() == 0 {
            return String::new();
        }
        RackDrawing {
            counts: &self.counts,
            title: words.say("cutlist-drawing"),
            description: self.says(words).join(" "),
            first: words.say1("cutlist-cut", "number", &1_usize),
            last: words.say1("cutlist-cut", "number", &self.counts.len()),
        }
        .draw("rack")
    }
}
