//! A job to look at: a walk-in shower of three walls with a niche, a valve and a strip. Site and figures are
//! invented.

use std::collections::BTreeMap;
use std::convert::Infallible;

use trade::cure::{Part, StageKind};
use trade::measure::bare::{BareWall, End, Floor, Meeting, SetFirst};
use trade::measure::{
    Band, BandHeight, BaseReading, Fraction, Gaps, LeastSize, Length, LineId, Opening, OpeningEdge,
    OpeningShape, Pattern, Role, SurfaceId, Tile, TileId, TopReading, Unit,
};

use crate::store::{EventKey, NewEntry, NewJob, SheetChange, Store, StoreError, Terms};

/// Puts the demo job into a store that holds no job yet: measured, and its back wall just set.
///
/// # Errors
///
/// When it cannot be saved.
pub async fn fill(store: &Store) -> Result<(), StoreError> {
    if !store.jobs().await?.is_empty() {
        return Ok(());
    }
    let new = NewJob {
        name: "Quarry Row 7, walk-in shower".to_owned(),
        unit: Unit::Millimetre,
        zone: "Europe/Lisbon".to_owned(),
    };
    let job = store.make_job(EventKey::random(), new).await?;
    let changes = [SheetChange::Terms(terms())].into_iter().chain(walls().map(SheetChange::Wall));
    for (version, change) in (1..).zip(changes) {
        store.change_sheet(EventKey::random(), job.clone(), version, change).await?;
    }
    let back = Part::whole(back().id);
    let set = NewEntry::of(EventKey::random(), &job, back, StageKind::Set);
    let Ok(_) = store.append_stage(set, store.at_the_box().await?, |_| Ok::<(), Infallible>(())).await?;
    Ok(())
}

const fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

fn field() -> TileId {
    TileId("wall".to_owned())
}

fn strip() -> TileId {
    TileId("strip".to_owned())
}

fn terms() -> Terms {
    let tile = |width, height, per_box| Tile {
        width,
        height,
        thickness: Some(mm(9)),
        rectified: None,
        directional: false,
        quarter_turn: false,
        size_variation: None,
        warpage: None,
        per_box: Some(per_box),
    };
    Terms {
        tiles: BTreeMap::from([(field(), tile(mm(598), mm(298), 6)), (strip(), tile(mm(298), mm(48), 12))]),
        joint: mm(3),
        joint_range: Some((mm(2), mm(4))),
        kerf: mm(2),
        spare: mm(1),
        gaps: Gaps {
            corner: mm(3),
            base: mm(3),
            ceiling: mm(3),
            trim: mm(2),
            mitre: Length::ZERO,
            opening: mm(3),
        },
        base_gap_max: mm(6),
        smallest_cut: Some(LeastSize { width: mm(100), height: mm(100) }),
        bed: mm(4),
        membrane: true,
        floor: Floor::AsMeasured,
    }
}

fn walls() -> [BareWall; 3] {
    [back(), left(), right()]
}

fn back() -> BareWall {
    let id = |name| SurfaceId::new(name);
    BareWall {
        // Framed so that its left, lower and upper edges fall on joints.
        openings: vec![Opening {
            name: "niche".to_owned(),
            shape: OpeningShape::Rectangle { x: mm(556), y: mm(-52), width: mm(400), height: mm(298) },
            clearance: mm(3),
            edge: OpeningEdge::Trim,
        }],
        ..wall(
            ("A", "Back wall"),
            mm(1504),
            &[(0, 1204), (500, 1202), (1000, 1201), (1504, 1203)],
            [corner(id("B"), SetFirst::ThisWall), corner(id("C"), SetFirst::ThisWall)],
        )
    }
}

fn left() -> BareWall {
    BareWall {
        openings: vec![Opening {
            name: "valve".to_owned(),
            shape: OpeningShape::Circle { x: mm(455), y: mm(-110), diameter: mm(120) },
            clearance: mm(3),
            edge: OpeningEdge::Plate,
        }],
        ..wall(
            ("B", "Left wall"),
            mm(880),
            &[(0, 1203), (459, 1205), (880, 1204)],
            [free_end(), corner(SurfaceId::new("A"), SetFirst::Neighbour)],
        )
    }
}

fn right() -> BareWall {
    wall(
        ("C", "Right wall"),
        mm(915),
        &[(0, 1203), (450, 1206), (915, 1209)],
        [corner(SurfaceId::new("A"), SetFirst::Neighbour), free_end()],
    )
}

fn corner(meets: Option<SurfaceId>, set_first: SetFirst) -> End {
    // Tile and bed of the neighbour are worked out from its tile whenever the sheet is planned.
    let meets = meets.map(|neighbour| Meeting { neighbour, set_first, build_up: Length::ZERO });
    End { role: Role::Corner, meets }
}

fn free_end() -> End {
    End { role: Role::Trim, meets: None }
}

fn wall((id, name): (&str, &str), width: Length, drops: &[(i64, i64)], [left, right]: [End; 2]) -> BareWall {
    let field = |bottom_between, tile, height| Band {
        tile,
        upright: false,
        height,
        bottom_between,
        joint_above: None,
        pattern: None,
    };
    let step = Fraction::new(1, 3).unwrap_or(Fraction::ZERO);
    BareWall {
        id: SurfaceId::new(id).unwrap_or_else(|| unreachable!("the demo's names are short")),
        name: name.to_owned(),
        line: LineId::default(),
        width,
        base: drops
            .iter()
            .map(|&(x, drop)| BaseReading { x: mm(x), drop: mm(drop), carries: true })
            .collect(),
        top: vec![TopReading { x: Length::ZERO, rise: mm(1148) }],
        left,
        right,
        base_role: Role::Base,
        top_role: Role::Ceiling,
        openings: Vec::new(),
        bands: vec![
            field(None, self::field(), BandHeight::Fill),
            field(Some((mm(200), mm(420))), strip(), BandHeight::Courses(1)),
            field(None, self::field(), BandHeight::Fill),
        ],
        pattern: Pattern::Running { step, mirror: false },
        top_may_move: Length::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use trade::measure::{Layout, Sheet};
    use trade::search::Priorities;

    #[test]
    fn the_demo_can_be_planned_and_shows_every_kind_of_piece() {
        let Terms {
            tiles,
            joint,
            joint_range,
            kerf,
            spare,
            gaps,
            base_gap_max,
            smallest_cut,
            bed,
            floor,
            ..
        } = terms();
        let sheet = Sheet {
            name: "demo".to_owned(),
            unit: Unit::Millimetre,
            tiles,
            joint,
            joint_range,
            kerf,
            spare,
            gaps,
            base_gap_max,
            smallest_cut,
            bed,
            floor,
            walls: walls().into(),
            layout: Layout::default(),
            priorities: Priorities::default(),
        };
        let option = trade::search::plan(&sheet.job().unwrap()).unwrap();
        let marks = || option.pieces.iter().flat_map(|piece| &piece.marks);
        use trade::place::Mark;
        assert!(marks().any(|mark| matches!(mark, Mark::Notch { .. })));
        assert!(marks().any(|mark| matches!(mark, Mark::Hole { .. })));
        assert!(marks().any(|mark| matches!(mark, Mark::Crosscut { .. })));
        assert!(option.pieces.iter().any(|piece| piece.tile == strip()));
        assert!(
            option.advice.iter().all(|advice| advice.passes || advice.rule == "smallest-cut"),
            "{:?}",
            option.advice
        );
        assert_eq!(option.figures.slivers, 0);
    }
}
