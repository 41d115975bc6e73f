//! Another layout while the work is under way, whether somebody chooses it or it comes of what was measured or typed anew:
//! what it would cost is said first, and what hangs stays.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use askama::Template;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{StageKind, What, standing};
use trade::measure::bare::BareWall;
use trade::measure::{Job, Layout, Sheet, SurfaceId, TileId};
use trade::place::{Piece, PieceId};
use trade::search::{BegunTile, TileCutting};

use super::relaid;
use super::words::Words;
use crate::app::App;
use crate::store::{
    Actor, Changed, CutLog, JobId, MovedPiece, NewLayout, Relaid, SheetChange, StoreError, StoredSheet,
    TileCount, fingerprint,
};
use crate::web::cuts::{InUse, Print, shape_print};
use crate::web::error::PageError;
use crate::web::fit;
use crate::web::form::{Fields, Sent};
use crate::web::page::{Frame, Here, page};
use crate::web::walls::version;
use crate::work::{NoPlan, Planned};

/// What the form sends back that was told the price: which one it was told.
const AGREED: &str = "agreed";

/// What somebody asks for, and by which form.
pub struct Wanted {
    pub change: Change,
    /// Where the form is sent.
    pub action: String,
    /// Where it leads.
    pub to: String,
    /// Where it leads who leaves things as they are.
    pub back: String,
}

/// What is to be another.
#[derive(Clone)]
pub enum Change {
    /// The layout alone; whatever is absent is proposed.
    Layout(Layout),
    /// Walls.
    Walls(Vec<SheetChange>),
    /// Tiles, saw, gaps, floor.
    Sheet(Vec<SheetChange>),
}

/// What a change comes to in the middle of the work.
enum Comes {
    /// Nothing moves that anybody has worked on.
    Free(Box<SheetChange>),
    /// It has its price.
    Priced(Box<Price>),
    /// It would move what hangs.
    Hangs(Vec<SurfaceId>),
    /// It is none.
    NoLayout,
}

struct Price {
    /// With what hangs kept as it is.
    change: SheetChange,
    relaid: Relaid,
    misfits: Vec<PieceId>,
    /// Pieces that change while they are in somebody's hand, and whose.
    held: Vec<(PieceId, String)>,
    /// Walls that hang, wholly or in part.
    hang: Vec<SurfaceId>,
    /// More was asked for: it goes for the walls alone that do not hang.
    partly: bool,
    /// The last entry of the log that went into it.
    seen: i64,
}

/// The work as it stands when a layout is asked for.
struct Work<'a> {
    app: &'a App,
    stored: &'a StoredSheet,
    log: CutLog,
    hang: BTreeSet<SurfaceId>,
    seen: i64,
}

/// What a change costs, with the button that makes it.
#[derive(Template)]
#[template(path = "layout/price.html")]
struct PricePage {
    frame: Frame,
    /// Somebody worked on since the price was told that the button was pressed for.
    outrun: bool,
    costs: Vec<String>,
    pieces: String,
    /// What is in somebody's hand and changes.
    held: Vec<String>,
    changes: Vec<String>,
    kept: Vec<String>,
    action: String,
    fields: Vec<(String, String)>,
    /// On the one button.
    go: String,
    back: String,
}

/// Why a layout cannot be had any more.
#[derive(Template)]
#[template(path = "layout/refused.html")]
struct Refused {
    frame: Frame,
    says: Vec<String>,
    back: String,
    back_words: String,
}

/// Takes a change into force, or says first what that would cost. What was typed comes back where somebody else was
/// quicker.
///
/// # Errors
///
/// When the planner has no place, or the store fails.
pub async fn take(
    app: &App,
    stored: &StoredSheet,
    by: Actor,
    sent: Sent<Fields>,
    wanted: Wanted,
) -> Result<Result<Response, Fields>, PageError> {
    let to = || Ok(Ok(Redirect::to(&wanted.to).into_response()));
    if app.store.was_answered(&sent.key).await? {
        return to();
    }
    let version = version(&sent.typed)?;
    if version != stored.version {
        return Ok(Err(sent.typed));
    }
    let work = Work::of(app, stored).await?;
    let saved = match work.comes_to(&wanted.change).await? {
        Comes::Free(change) => {
            app.store.change_sheet_as_seen(sent.key, stored.id.clone(), version, *change, work.seen).await
        }
        Comes::Priced(price) if sent.typed.get(AGREED) == price.print() => {
            let Price { change, relaid, seen, .. } = *price;
            let new = NewLayout { key: sent.key, job: stored.id.clone(), version, change, relaid, seen };
            app.store.change_layout(new, by).await
        }
        Comes::Priced(price) => return asked_first(app, stored, &price, &sent.typed, wanted).map(Ok),
        Comes::Hangs(walls) => {
            let words = Words::of(&app.texts, stored);
            let says = walls.iter().map(|wall| words.say1("price-hangs", "wall", &words.wall(wall)));
            return refused(app, stored, says.collect(), &wanted).map(Ok);
        }
        Comes::NoLayout => {
            return refused(app, stored, vec![app.texts.say("price-no-layout")], &wanted).map(Ok);
        }
    };
    match saved {
        Ok(()) => to(),
        Err(StoreError::Stale) => Ok(Err(sent.typed)),
        Err(error) => Err(error.into()),
    }
}

fn asked_first(
    app: &App,
    stored: &StoredSheet,
    price: &Price,
    typed: &Fields,
    wanted: Wanted,
) -> Result<Response, PageError> {
    let words = Words::of(&app.texts, stored);
    let agreed = typed.get(AGREED);
    let mut fields: Vec<(String, String)> = typed
        .each()
        .filter(|(name, _)| !["key", AGREED].contains(name))
        .map(|(name, typed)| (name.to_owned(), typed.to_owned()))
        .collect();
    fields.push((AGREED.to_owned(), price.print()));
    let pieces = price.misfits.iter().map(|piece| piece.0.as_str()).collect::<Vec<_>>().join(", ");
    let held = price
        .held
        .iter()
        .map(|(piece, who)| words.say_with("price-held", &[("piece", &piece.0), ("who", who)]));
    let kept = price.hang.iter().map(|wall| words.say1("price-kept", "wall", &words.wall(wall)));
    let asks = PricePage {
        frame: frame(app, stored, "price-title"),
        outrun: !agreed.is_empty(),
        costs: relaid::costs(&words, &price.relaid),
        pieces,
        held: held.collect(),
        changes: relaid::changes(&words, &price.relaid),
        kept: kept.chain(price.partly.then(|| words.say("price-partly"))).collect(),
        action: wanted.action,
        fields,
        go: words.say(match wanted.change {
            Change::Layout(_) => "price-do",
            Change::Walls(_) => "price-do-walls",
            Change::Sheet(_) => "price-do-sheet",
        }),
        back: wanted.back,
    };
    Ok((StatusCode::CONFLICT, page(&asks)?).into_response())
}

fn refused(
    app: &App,
    stored: &StoredSheet,
    says: Vec<String>,
    wanted: &Wanted,
) -> Result<Response, PageError> {
    let frame = frame(app, stored, "price-refused-title");
    let back_words = app.texts.say(match wanted.change {
        Change::Layout(_) => "layout-back-to-layout",
        Change::Walls(_) => "price-back-wall",
        Change::Sheet(_) => "price-back-sheet",
    });
    let refused = Refused { frame, says, back: wanted.back.clone(), back_words };
    Ok((StatusCode::CONFLICT, page(&refused)?).into_response())
}

fn frame(app: &App, stored: &StoredSheet, title: &str) -> Frame {
    Frame::of_job(app, app.texts.say(title), &stored.id, &stored.sheet.name, Here::Wall)
}

impl<'a> Work<'a> {
    async fn of(app: &'a App, stored: &'a StoredSheet) -> Result<Self, PageError> {
        // Asked for first: what is logged in between makes the price an old one, never an unseen one.
        let seen = app.store.last_entry(&stored.id).await?;
        let log = app.store.cut_log(&stored.id).await?;
        let stages = app.store.stages(&stored.id).await?;
        let set = standing(&stages.log).into_iter();
        let set = set.filter(|entry| entry.stage == StageKind::Set && entry.what != What::Withdrawn);
        let hang = set.map(|entry| entry.part.surface.clone());
        let hang = hang.chain(log.sawn.laid.iter().map(|laid| laid.was.wall.clone())).collect();
        Ok(Self { app, stored, log, hang, seen })
    }

    async fn comes_to(&self, wanted: &Change) -> Result<Comes, PageError> {
        if self.hang.is_empty() && self.log.sawn.is_nothing() {
            return Ok(Comes::Free(Box::new(wanted.clone().whole())));
        }
        let Some(now) = self.now().await? else {
            return Ok(Comes::Free(Box::new(wanted.clone().whole())));
        };
        match wanted {
            Change::Layout(layout) => self.layout(&now, layout).await,
            Change::Walls(_) | Change::Sheet(_) => self.sheet(&now, wanted).await,
        }
    }

    async fn layout(&self, now: &Arc<Planned>, wanted: &Layout) -> Result<Comes, PageError> {
        let tried = async |layout: Layout| {
            let mut sheet = self.stored.clone();
            sheet.sheet.layout = layout.clone();
            self.tried(now, sheet, &|| SheetChange::Layout(layout.clone())).await
        };
        let walls = match tried(keeping(&self.hang, &now.option.layout, wanted)).await? {
            Comes::Hangs(walls) => walls,
            comes => return Ok(comes),
        };
        // A layout of the list says where every wall goes: the walls that do not hang yet may still take it.
        let rest = keeping(&self.hang, &now.option.layout, &of_the_others(&self.hang, &now.job, wanted));
        match tried(rest).await? {
            Comes::Priced(price) => Ok(Comes::Priced(Box::new(Price { partly: true, ..*price }))),
            Comes::Free(_) | Comes::Hangs(_) | Comes::NoLayout => Ok(Comes::Hangs(walls)),
        }
    }

    /// What is measured or typed anew is saved as it is where nothing moves. Else it leaves the joints where anything is
    /// cut or hangs as they are, as far as a layout comes of that; where none does, those of the walls that hang.
    async fn sheet(&self, now: &Arc<Planned>, wanted: &Change) -> Result<Comes, PageError> {
        let changed = self.app.store.sheet_with(self.stored.id.clone(), wanted.clone().whole()).await?;
        let unpinned = self.tried(now, changed.clone(), &|| wanted.clone().whole()).await?;
        if matches!(unpinned, Comes::Free(_)) {
            return Ok(unpinned);
        }
        let begun: BTreeSet<SurfaceId> = self.worked_on(now);
        let hang = (self.hang != begun).then_some(&self.hang);
        let mut comes = Comes::NoLayout;
        for keep in [&begun].into_iter().chain(hang) {
            let mut sheet = changed.clone();
            let layout = self.with_joints(keep, now, &changed);
            sheet.sheet.layout = layout.clone();
            let change =
                || SheetChange::Several(vec![wanted.clone().whole(), SheetChange::Layout(layout.clone())]);
            comes = match self.tried(now, sheet, &change).await? {
                // Nothing moves because the joints are kept: they are saved with it.
                comes @ (Comes::Free(_) | Comes::Priced(_)) => return Ok(comes),
                comes => comes,
            };
        }
        Ok(comes)
    }

    /// The layout that a changed sheet is to have, with the joints of some of the walls where they lie now. What was
    /// measured anew begins as the planner proposes, unless it hangs.
    fn with_joints(&self, keep: &BTreeSet<SurfaceId>, now: &Planned, changed: &StoredSheet) -> Layout {
        let walls = &changed.sheet.walls;
        let keep: BTreeSet<SurfaceId> =
            keep.iter().filter(|id| walls.iter().any(|wall| wall.id == **id)).cloned().collect();
        let chosen = &changed.sheet.layout;
        let mut layout = keeping(&keep, &now.option.layout, chosen);
        layout.joint = chosen.joint;
        let same = |id: &SurfaceId| {
            let before = self.stored.sheet.walls.iter().find(|wall| wall.id == *id);
            walls.iter().find(|wall| wall.id == *id) == before
        };
        let stays =
            |id: &SurfaceId| same(id) || self.hang.contains(id) || chosen.first_course.contains_key(id);
        layout.first_course.retain(|id, _| stays(id));
        layout
    }

    /// The walls on which anything is cut or hangs.
    fn worked_on(&self, now: &Planned) -> BTreeSet<SurfaceId> {
        let cut = |piece: &&Piece| self.log.sawn.records.iter().any(|record| record.piece == piece.id);
        let walls = now.option.pieces.iter().filter(cut).map(|piece| piece.surface.clone());
        walls.chain(self.hang.iter().cloned()).collect()
    }

    /// What one sheet comes to beside the one in force; `change` makes it.
    async fn tried(
        &self,
        now: &Arc<Planned>,
        mut sheet: StoredSheet,
        change: &(dyn Fn() -> SheetChange + Sync),
    ) -> Result<Comes, PageError> {
        // A sheet that nobody has stored must not be taken for the one in force.
        sheet.id = JobId::from(format!("{}-{}", self.stored.id, fingerprint(&sheet.sheet)));
        let Some(first) = self.first(&sheet).await? else { return Ok(Comes::NoLayout) };
        // With what was measured since, as the one in force.
        let (then, begun) = fit::relaid(self.app, &first, now, &self.log.sawn).await?;
        let moved: Vec<SurfaceId> =
            self.hang.iter().filter(|wall| is_moved(wall, now, &then)).cloned().collect();
        if !moved.is_empty() {
            return Ok(Comes::Hangs(moved));
        }
        if is_same(now, &then) {
            return Ok(Comes::Free(Box::new(change())));
        }
        let changed = changed(&self.stored.sheet, &sheet.sheet);
        Ok(Comes::Priced(Box::new(self.price(change(), changed, (now, &then), begun))))
    }

    /// The plan that the saw goes by; nothing where there is none.
    async fn now(&self) -> Result<Option<Arc<Planned>>, PageError> {
        match laid_out(self.app.work.plan(self.stored).await)? {
            Some(first) => fit::planned(self.app, self.stored, &first, &self.log).await.map(Some),
            None => Ok(None),
        }
    }

    /// The plan of a sheet that nobody has saved; nothing where there is none.
    async fn first(&self, sheet: &StoredSheet) -> Result<Option<Arc<Planned>>, PageError> {
        laid_out(self.app.work.plan_tried(sheet).await)
    }

    fn price(
        &self,
        change: SheetChange,
        changed: Vec<Changed>,
        (now, then): (&Arc<Planned>, &Arc<Planned>),
        begun: Vec<BegunTile>,
    ) -> Price {
        let (before, after) = (now.option.layout.clone(), then.option.layout.clone());
        let moved = moved(now, then, &self.log);
        let held = self.log.claims.iter().filter(|claim| moved.iter().any(|of| of.piece == claim.piece));
        let held = held.map(|claim| (claim.piece.clone(), self.log.name(&claim.person).to_owned())).collect();
        let (now, then) = (InUse::of(now, &self.log.sawn), InUse::of(then, &self.log.sawn));
        let misfits: Vec<PieceId> = then.off.difference(&now.off).cloned().collect();
        let kinds: BTreeSet<&TileId> = now.tiles.keys().chain(then.tiles.keys()).collect();
        let of = |count: &InUse, tile: &TileId| count.tiles.get(tile).copied().unwrap_or_default();
        let tiles = kinds.into_iter().map(|tile| TileCount {
            tile: tile.clone(),
            before: of(&now, tile),
            after: of(&then, tile),
        });
        let (misfit, tiles, begun) = (misfits.len(), tiles.collect(), Some(begun));
        let relaid = Relaid { changed, before, after, misfits: misfit, tiles, begun, moved };
        let hang = self.hang.iter().cloned().collect();
        Price { change, relaid, misfits, held, hang, partly: false, seen: self.seen }
    }
}

impl Change {
    /// All of it.
    fn whole(self) -> SheetChange {
        match self {
            Self::Layout(layout) => SheetChange::Layout(layout),
            Self::Walls(changes) | Self::Sheet(changes) => SheetChange::Several(changes),
        }
    }
}

impl Price {
    /// Stands for what is told of it, and for what it is the price of: two changes may cost the same.
    fn print(&self) -> String {
        let mut print = Print::new("price");
        print.words(&fingerprint(&(&self.change, &self.relaid.after, &self.relaid.tiles)));
        self.misfits.iter().for_each(|piece| print.words(&piece.0));
        print.finish()
    }
}

/// A layout in which the walls that hang keep what lies there, as far as nothing else is asked for.
fn keeping(hang: &BTreeSet<SurfaceId>, now: &Layout, wanted: &Layout) -> Layout {
    fn keep<K: Ord + Clone, V: Clone>(
        into: &mut BTreeMap<K, V>,
        from: &BTreeMap<K, V>,
        hangs: impl Fn(&K) -> bool,
    ) {
        for (key, value) in from.iter().filter(|(key, _)| hangs(key)) {
            into.entry(key.clone()).or_insert_with(|| value.clone());
        }
    }
    let mut layout = wanted.clone();
    if hang.is_empty() {
        return layout;
    }
    keep(&mut layout.course_line, &now.course_line, |wall| hang.contains(wall));
    keep(&mut layout.starts, &now.starts, |wall| hang.contains(wall));
    keep(&mut layout.band_starts, &now.band_starts, |(wall, _)| hang.contains(wall));
    keep(&mut layout.first_course, &now.first_course, |wall| hang.contains(wall));
    keep(&mut layout.mirror, &now.mirror, |wall| hang.contains(wall));
    layout.joint = layout.joint.or(now.joint);
    layout
}

/// A layout for the walls alone that do not hang; the courses of those that share a level line with one that does go
/// on from it.
fn of_the_others(hang: &BTreeSet<SurfaceId>, job: &Job, wanted: &Layout) -> Layout {
    let lines: BTreeSet<_> =
        job.surfaces.iter().filter(|wall| hang.contains(&wall.id)).map(|wall| &wall.line).collect();
    let shares = |id: &SurfaceId| job.surface(id).is_some_and(|wall| lines.contains(&wall.line));
    let mut layout = Layout { joint: None, ..wanted.clone() };
    layout.course_line.retain(|wall, _| !shares(wall));
    layout.starts.retain(|wall, _| !hang.contains(wall));
    layout.band_starts.retain(|(wall, _), _| !hang.contains(wall));
    layout.first_course.retain(|wall, _| !hang.contains(wall));
    layout.mirror.retain(|wall, _| !hang.contains(wall));
    layout
}

/// A plan; nothing where the sheet has none.
fn laid_out(plan: Result<Arc<Planned>, NoPlan>) -> Result<Option<Arc<Planned>>, PageError> {
    match plan {
        Ok(planned) => Ok(Some(planned)),
        Err(NoPlan::Sheet(_) | NoPlan::Layout(_)) => Ok(None),
        Err(NoPlan::Busy | NoPlan::Stopped) => Err(PageError::Busy),
    }
}

/// The pieces still to be cut that are to be cut in another way, or not at all, with the size that they have now.
fn moved(now: &Planned, then: &Planned, log: &CutLog) -> Vec<MovedPiece> {
    let (unit, pieces) = (now.job.unit, &then.option.pieces);
    let is_cut = |piece: &Piece| log.sawn.records.iter().any(|record| record.piece == piece.id);
    let stays = |piece: &Piece| {
        let same = pieces.iter().find(|other| other.id == piece.id && !other.full);
        same.is_some_and(|other| shape_print(other, unit) == shape_print(piece, unit))
    };
    let open = now.option.pieces.iter().filter(|piece| !piece.full && !is_cut(piece));
    let moved = open.filter(|piece| !stays(piece)).map(|piece| MovedPiece {
        piece: piece.id.clone(),
        width: piece.bounds.width(),
        height: piece.bounds.height(),
    });
    moved.collect()
}

/// What else than the layout is another on a sheet.
fn changed(before: &Sheet, after: &Sheet) -> Vec<Changed> {
    let was = |id: &SurfaceId| before.walls.iter().find(|wall| wall.id == *id);
    let walls = after.walls.iter().filter(|wall| was(&wall.id) != Some(wall));
    let walls = walls.map(|wall| Changed::Wall(wall.id.to_string()));
    let is_gone = |wall: &&BareWall| after.walls.iter().all(|other| other.id != wall.id);
    let gone = before.walls.iter().filter(is_gone).map(|wall| Changed::NoWall(wall.id.to_string()));
    let (walls_of, layout) = (after.walls.clone(), after.layout.clone());
    let terms = Sheet { walls: walls_of, layout, ..before.clone() } != *after;
    walls.chain(gone).chain(terms.then_some(Changed::Terms)).collect()
}

/// Whether every piece is planned the same, and cut with the same saw from the same tile.
fn is_same(now: &Planned, then: &Planned) -> bool {
    let of = |(tile, cutting): (&TileId, &TileCutting)| {
        let problem = &cutting.problem;
        let turns = (problem.half_turn(), problem.quarter_turn());
        (tile.clone(), problem.tile_width(), problem.tile_height(), problem.kerf(), turns)
    };
    let saws = |planned: &Planned| planned.option.cutting.iter().map(of).collect::<Vec<_>>();
    let (before, after) = (&now.option, &then.option);
    before.pieces == after.pieces && before.courses == after.courses && saws(now) == saws(then)
}

fn is_moved(wall: &SurfaceId, now: &Planned, then: &Planned) -> bool {
    let of = |planned: &Planned| -> Vec<Piece> {
        planned.option.pieces.iter().filter(|piece| piece.surface == *wall).cloned().collect()
    };
    of(now) != of(then)
}
