//! Openings, stops and reasons in words.

use trade::geometry::Side;
use trade::measure::{Role, Unit};
use trade::place::{Clear, NoFit, PieceId, Stop, Way};
use trade::search::WorkFault;

use super::form::field;
use crate::app::App;
use crate::texts::{Said, Texts};
use crate::web::cuts::Saw;
use crate::web::form::Faults;
use crate::web::tape::Tape;

/// The words of one job.
pub struct Words {
    texts: Texts,
    pub tape: Tape,
}

/// What was measured again for an earlier plan, for the saw's page: nothing where the plan holds all of it.
pub fn unheld(app: &App, saw: &Saw) -> Option<String> {
    let held = &saw.planned.option.measured;
    let sizes = saw.sawn().true_sizes();
    let lost = sizes.iter().filter(|(piece, size)| held.get(piece).is_none_or(|held| held != *size));
    let lost: Vec<&str> = lost.map(|(piece, _)| piece.0.as_str()).collect();
    (!lost.is_empty()).then(|| app.texts.say_with("fit-unheld", &[("pieces", &lost.join(", "))]))
}

impl Words {
    /// The words of a job whose tape reads in `unit`.
    pub fn new(texts: &Texts, unit: Unit) -> Self {
        Self { texts: texts.clone(), tape: Tape::new(texts, unit) }
    }

    /// The words for a key.
    pub fn say(&self, key: &str) -> String {
        self.texts.say(key)
    }

    /// The words for a key with values put in.
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// A length of a piece, rounded down so that it fits.
    pub fn cut(&self, length: trade::measure::Length) -> String {
        self.tape.show_fit(length)
    }

    /// "Width of the opening"
    pub fn opening(&self, way: Way) -> String {
        self.say(match way {
            Way::Across => "fit-opening-across",
            Way::Up => "fit-opening-up",
        })
    }

    /// What is wrong with an opening of nothing or less.
    pub fn nothing(&self, way: Way) -> String {
        self.say_with("fit-fault-nothing", &[("label", &self.opening(way))])
    }

    /// What is wrong with a form in which nothing was typed.
    pub fn empty(&self, clear: &[Clear]) -> String {
        self.say(if clear.len() > 1 { "fit-fault-empty-both" } else { "fit-fault-empty" })
    }

    /// From where to where the tape lies, and what the plan has there.
    pub fn plan(&self, clear: &Clear) -> String {
        let (low, high) = clear.way_sides();
        let from = self.say_with(
            "fit-from-to",
            &[("from", &self.stop(&clear.low, low)), ("to", &self.stop(&clear.high, high))],
        );
        let plan = self.say_with(
            "fit-plan",
            &[
                ("opening", &self.cut(clear.opening())),
                ("size", &self.cut(clear.size)),
                ("low", &self.free(&clear.low)),
                ("high", &self.free(&clear.high)),
            ],
        );
        let longest = match clear.longest {
            Some(Side::Left) => Some("fit-longest-left"),
            Some(Side::Right) => Some("fit-longest-right"),
            Some(Side::Bottom | Side::Top) | None => None,
        };
        [from, plan].into_iter().chain(longest.map(|key| self.say(key))).collect::<Vec<_>>().join(" ")
    }

    /// "the tile on the left"
    fn stop(&self, stop: &Stop, side: Side) -> String {
        match stop {
            Stop::Tile(_) => self.say(match side {
                Side::Left => "fit-stop-tile-left",
                Side::Right => "fit-stop-tile-right",
                Side::Bottom => "fit-stop-tile-bottom",
                Side::Top => "fit-stop-tile-top",
            }),
            Stop::Opening(name, _) => name.clone(),
            Stop::Edge(role, free) => self.say(match (side, role) {
                (Side::Left, Role::Corner) => "fit-stop-corner-left",
                (Side::Right, Role::Corner) => "fit-stop-corner-right",
                (Side::Left, _) => "fit-stop-end-left",
                (Side::Right, _) => "fit-stop-end-right",
                (Side::Bottom, _) if *free == trade::measure::Length::ZERO => "fit-stop-foot",
                (Side::Bottom, _) => "fit-stop-base",
                (Side::Top, Role::Ceiling) => "fit-stop-ceiling",
                (Side::Top, _) => "fit-stop-end-top",
            }),
        }
    }

    /// "a joint of 3 mm"
    fn free(&self, stop: &Stop) -> String {
        let key = match stop {
            Stop::Tile(_) => "fit-free-joint",
            Stop::Edge(..) | Stop::Opening(..) if stop.kept_free() == trade::measure::Length::ZERO => {
                return self.say("fit-free-none");
            }
            Stop::Edge(..) | Stop::Opening(..) => "fit-free-gap",
        };
        self.say_with(key, &[("length", &self.tape.show_gap(stop.kept_free()))])
    }

    /// How far off the plan an opening is.
    pub fn far_off(&self, clear: &Clear, opening: trade::measure::Length) -> String {
        let key = match (clear.way, opening < clear.opening()) {
            (Way::Across, true) => "fit-far-narrower",
            (Way::Across, false) => "fit-far-wider",
            (Way::Up, true) => "fit-far-lower",
            (Way::Up, false) => "fit-far-higher",
        };
        let planned = clear.opening();
        // Rounded as the form has them.
        let (off, now, was) = (self.cut((opening - planned).abs()), self.cut(opening), self.cut(planned));
        self.say_with(key, &[("off", &off), ("now", &now), ("was", &was)])
    }

    /// What becomes of the piece by an opening.
    pub fn comes_to(&self, piece: &PieceId, clear: &Clear, opening: trade::measure::Length) -> String {
        let key = match clear.way {
            Way::Across => "fit-comes-to-across",
            Way::Up => "fit-comes-to-up",
        };
        let (low, high) = (self.free(&clear.low), self.free(&clear.high));
        let size = self.cut(opening - clear.kept_free());
        let both = self.tape.both(opening);
        self.say_with(
            key,
            &[("piece", &piece.0), ("opening", &both), ("low", &low), ("high", &high), ("size", &size)],
        )
    }

    /// Why pieces cannot be cut to what was typed, beside the field that says it.
    pub fn no_fits(&self, asked: &PieceId, why: &[NoFit]) -> Faults {
        let mut faults = Faults::default();
        for fault in why {
            let (way, says) = self.no_fit(asked, fault);
            faults.add(field(way), says);
        }
        faults
    }

    fn no_fit(&self, asked: &PieceId, why: &NoFit) -> (Way, String) {
        let (piece, way, says) = match why {
            NoFit::NotCut(way) => return (*way, self.say_with("fit-no-not-cut", &[("piece", &asked.0)])),
            NoFit::NothingLeft { piece, way, left } => {
                let left = self.cut((*left).max(trade::measure::Length::ZERO));
                (piece, way, self.say_with("fit-no-nothing-left", &[("piece", &piece.0), ("left", &left)]))
            }
            NoFit::LargerThanTile { piece, way, wanted, tile } => {
                let key = match way {
                    Way::Across => "fit-no-tile-as-wide",
                    Way::Up => "fit-no-tile-as-high",
                };
                let (wanted, tile) = (self.tape.show_gap(*wanted), self.tape.show_gap(*tile));
                (piece, way, self.say_with(key, &[("piece", &piece.0), ("wanted", &wanted), ("tile", &tile)]))
            }
            NoFit::PastJoint { piece, way, by } => {
                let by = self.tape.show_gap(*by);
                (piece, way, self.say_with("fit-no-past-joint", &[("piece", &piece.0), ("by", &by)]))
            }
            NoFit::FallsApart(piece) => {
                (piece, &Way::Across, self.say_with("fit-no-falls-apart", &[("piece", &piece.0)]))
            }
        };
        let says = if piece == asked { says } else { format!("{says} {}", self.say("fit-no-one-by-one")) };
        (*way, says)
    }

    /// Why what was typed cannot be planned.
    pub fn no_plan(&self, clear: &[Clear], why: &WorkFault) -> Faults {
        tracing::warn!(%why, "a true size cannot be planned");
        let mut faults = Faults::default();
        faults.add(clear.first().map_or("across", |clear| field(clear.way)), self.say("fit-no-plan"));
        faults
    }
}
