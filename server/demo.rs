//! A job to look at: a walk-in shower of three walls with a niche, a valve and a strip, its back wall cut and set. Site
//! and figures are invented.

use std::collections::BTreeMap;
use std::convert::Infallible;
use std::ops::ControlFlow;
use std::sync::Arc;

use anyhow::Context;
use trade::cure::{Part, StageKind, Template};
use trade::measure::bare::{BareWall, End, Floor, Meeting, SetFirst};
use trade::measure::{
    Band, BandHeight, BaseReading, Fraction, Gaps, LeastSize, Length, LineId, Opening, OpeningEdge,
    OpeningShape, Pattern, Role, SurfaceId, Tile, TileId, TopReading, Unit,
};
use trade::search::options;

use crate::store::{Actor, EventKey, JobId, NewCut, NewEntry, NewJob, SheetChange, Store, Terms};
use crate::web::Saw;
use crate::work::Planned;

/// Puts the demo job into a store that holds no job yet: measured, its layout chosen, and its back wall cut and
/// just set.
///
/// # Errors
///
/// When it cannot be planned or saved.
pub async fn fill(store: &Store) -> anyhow::Result<()> {
    if !store.jobs().await?.is_empty() {
        return Ok(());
    }
    let new = NewJob {
        name: "Quarry Row 7, walk-in shower".to_owned(),
        unit: Unit::Millimetre,
        zone: "Europe/Lisbon".to_owned(),
        work: Template::TileWork,
    };
    let job = store.make_job(EventKey::random(), new).await?;
    let changes = [SheetChange::Terms(terms())].into_iter().chain(walls().map(SheetChange::Wall));
    for (version, change) in (1..).zip(changes) {
        store.change_sheet(EventKey::random(), job.clone(), version, change).await?;
    }
    choose(store, &job).await?;
    let (back, by) = (back().id, store.at_the_box().await?);
    cut(store, &job, &back, &by).await?;
    let set = NewEntry::of(EventKey::random(), &job, Part::whole(back), StageKind::Set);
    let Ok(_) = store.append_stage(set, by, |_| Ok::<(), Infallible>(())).await?;
    Ok(())
}

/// Chooses the first layout of the list, as its lead did before anything was cut.
async fn choose(store: &Store, job: &JobId) -> anyhow::Result<()> {
    let stored = store.sheet(job).await?;
    let sheet = stored.sheet;
    let first = tokio::task::spawn_blocking(move || {
        let job = sheet.job().map_err(|faults| anyhow::anyhow!("the demo's sheet: {faults:?}"))?;
        let found = options(&job, &sheet.priorities, &mut || ControlFlow::Continue(()))?;
        found.options.into_iter().next().context("the demo's list of layouts is empty")
    });
    let layout = SheetChange::Layout(first.await??.layout);
    store.change_sheet(EventKey::random(), job.clone(), stored.version, layout).await?;
    Ok(())
}

/// Cuts every piece of a wall, and what has to be cut before, in the order of the saw.
async fn cut(store: &Store, job: &JobId, wall: &SurfaceId, by: &Actor) -> anyhow::Result<()> {
    let sheet = store.sheet(job).await?.sheet;
    let planned = tokio::task::spawn_blocking(move || {
        let job = sheet.job().map_err(|faults| anyhow::anyhow!("the demo's sheet: {faults:?}"))?;
        let option = trade::search::plan(&job)?;
        Ok::<_, anyhow::Error>(Arc::new(Planned::new(job, option)))
    });
    let planned = planned.await??;
    loop {
        let saw = Saw::new(Arc::clone(&planned), store.cut_log(job).await?.sawn);
        let to_cut = || saw.entries.iter().filter(|entry| entry.cut.is_none());
        let ready = to_cut().find(|entry| entry.after.is_none());
        let Some(entry) = ready.filter(|_| to_cut().any(|entry| saw.piece(entry).surface == *wall)) else {
            return Ok(());
        };
        let (piece, was) = (saw.piece(entry).id.clone(), entry.would_be.clone());
        let new = NewCut { key: EventKey::random(), job: job.clone(), piece, was };
        let Ok(_) = store.append_cut(new, by.clone(), |_, _| Ok::<_, Infallible>(None)).await?;
    }
}

const fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

fn field() -> TileId {
    TileId("60 × 30".to_owned())
}

fn strip() -> TileId {
    TileId("30 × 5".to_owned())
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
            option
                .advice
                .iter()
                .all(|advice| advice.passes
                    || ["smallest-cut", "small-notch", "trimmed"].contains(&advice.rule)),
            "{:?}",
            option.advice
        );
        assert_eq!(option.figures.slivers, 0);
    }
}
