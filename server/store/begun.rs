//! Tiles that something was cut of, as an entry of the log keeps them: a plan for another layout starts from these.

use serde::{Deserialize, Serialize};
use trade::geometry::Rect;
use trade::measure::{Length, TileId};
use trade::offcut::{Axis, Begun, Cut, Gone, Place, Stock, Turn, Wanted};
use trade::search::BegunTile;

use super::StoreError;
use super::cut::{read_sides, side_names};

/// [`BegunTile`]: lengths in units of 1/76800 mm.
#[derive(Serialize, Deserialize)]
pub(super) struct BegunDetail {
    tile: String,
    name: String,
    size: [i64; 2],
    kerf: i64,
    /// The offcuts, and which label of the tile's each bears.
    written: Vec<(Corners, usize)>,
    /// What is lost: the piece, where it lay, and the entry that tells of it.
    gone: Vec<(String, Corners, String)>,
    pieces: Vec<PieceDetail>,
    cuts: Vec<CutDetail>,
}

/// Left, bottom, right, top.
type Corners = [i64; 4];

#[derive(Serialize, Deserialize)]
struct PieceDetail {
    id: String,
    size: [i64; 2],
    factory: Vec<String>,
    at: Corners,
    turn: u16,
}

#[derive(Serialize, Deserialize)]
struct CutDetail {
    part: Corners,
    across: AxisDetail,
    at: i64,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum AxisDetail {
    X,
    Y,
}

impl BegunDetail {
    /// # Errors
    ///
    /// When a place is named for a piece that is not there: left out, its part of the tile would be taken for an offcut.
    pub(super) fn of(begun: &BegunTile) -> Result<Self, StoreError> {
        let stock = &begun.stock;
        let (name, written, gone) = match &stock.begun {
            Some(Begun { name, written, gone }) => (name.as_str(), written.as_slice(), gone.as_slice()),
            None => ("", [].as_slice(), [].as_slice()),
        };
        let piece = |place: &Place| {
            let wanted = begun.pieces.get(place.piece).ok_or_else(|| {
                StoreError::Unreadable(format!("tile {name}: a place for piece {} of none", place.piece))
            })?;
            Ok(PieceDetail {
                id: wanted.id.clone(),
                size: [wanted.width.units(), wanted.height.units()],
                factory: side_names(wanted.factory),
                at: corners(place.at),
                turn: place.turn.degrees(),
            })
        };
        let cut = |cut: &Cut| CutDetail {
            part: corners(cut.part),
            across: match cut.across {
                Axis::X => AxisDetail::X,
                Axis::Y => AxisDetail::Y,
            },
            at: cut.at.units(),
        };
        Ok(Self {
            tile: begun.tile.0.clone(),
            name: name.to_owned(),
            size: [begun.width.units(), begun.height.units()],
            kerf: begun.kerf.units(),
            written: written.iter().map(|(at, label)| (corners(*at), *label)).collect(),
            gone: gone
                .iter()
                .map(|gone| (gone.piece.clone(), corners(gone.at), gone.entry.clone()))
                .collect(),
            pieces: stock.places.iter().map(piece).collect::<Result<_, StoreError>>()?,
            cuts: stock.cuts.iter().map(cut).collect(),
        })
    }

    pub(super) fn tile(self) -> Result<BegunTile, StoreError> {
        let units = Length::from_units;
        let wanted = |piece: &PieceDetail| Wanted {
            id: piece.id.clone(),
            width: units(piece.size[0]),
            height: units(piece.size[1]),
            factory: read_sides(&piece.factory),
            alone: false,
        };
        let pieces = self.pieces.iter().map(wanted).collect();
        let place = |(at, piece): (usize, &PieceDetail)| {
            Ok(Place { piece: at, at: rect(piece.at), turn: turn(piece.turn)? })
        };
        let places = self.pieces.iter().enumerate().map(place).collect::<Result<_, StoreError>>()?;
        let cut = |cut: CutDetail| Cut {
            part: rect(cut.part),
            across: match cut.across {
                AxisDetail::X => Axis::X,
                AxisDetail::Y => Axis::Y,
            },
            at: units(cut.at),
        };
        let gone = |(piece, at, entry)| Gone { piece, at: rect(at), entry };
        let begun = Begun {
            name: self.name,
            written: self.written.into_iter().map(|(at, label)| (rect(at), label)).collect(),
            gone: self.gone.into_iter().map(gone).collect(),
        };
        let cuts = self.cuts.into_iter().map(cut).collect();
        Ok(BegunTile {
            tile: TileId(self.tile),
            width: units(self.size[0]),
            height: units(self.size[1]),
            kerf: units(self.kerf),
            stock: Stock { rack: None, begun: Some(begun), places, cuts },
            pieces,
        })
    }
}

fn corners(rect: Rect) -> Corners {
    [rect.left, rect.bottom, rect.right, rect.top].map(Length::units)
}

fn rect(corners: Corners) -> Rect {
    let [left, bottom, right, top] = corners.map(Length::from_units);
    Rect { left, bottom, right, top }
}

fn turn(degrees: u16) -> Result<Turn, StoreError> {
    let turns = [Turn::None, Turn::Quarter, Turn::Half, Turn::ThreeQuarter];
    let turn = turns.into_iter().find(|turn| turn.degrees() == degrees);
    turn.ok_or_else(|| StoreError::Unreadable(format!("a turn by {degrees} degrees")))
}
