//! A job's walls and stages, seen at one moment: what every page of the board is drawn from.

use std::collections::{BTreeMap, BTreeSet};

use trade::cure::{
    Courses, Entry, EntryId, Instant, Part, Scale, StageKind, Verdict, Wall, WallClock, What, Work,
    not_before, open_starts, standing,
};
use trade::measure::SurfaceId;

use super::courses::{UNKNOWN, courses_of};
use super::temperature::scale_of;
use super::words::Words;
use crate::app::App;
use crate::store::{EventId, JobHead, JobId, KeptBatch, LaidRun, Seen, Stages};
use crate::web::error::PageError;
use crate::web::times::Times;

/// A job as the board sees it.
pub struct Sight {
    /// Where the store stood before anything of this was read.
    pub seen: Seen,
    pub head: JobHead,
    pub walls: Vec<WallSight>,
    pub stages: Stages,
    /// What hangs on the walls, run by run.
    pub laid: Vec<LaidRun>,
}

/// A wall of it.
#[derive(Clone, Debug)]
pub struct WallSight {
    pub name: String,
    wall: Wall,
}

/// Where a stage of a wall stands: what may be done next, and whether it is being done.
pub struct Standing {
    pub verdict: Verdict,
    /// Starts that no finish has ended.
    pub open: Vec<EntryId>,
}

impl Sight {
    /// The job as it stands.
    pub async fn of(app: &App, job: &JobId) -> Result<Self, PageError> {
        let seen = app.store.seen();
        let head = app.store.job_head(job).await?;
        let stages = app.store.stages(job).await?;
        let laid = app.store.cut_log(job).await?.sawn.laid;
        let courses = courses_of(app, job).await?;
        let mut walls = Vec::new();
        for (id, name) in app.store.walls_of(job).await? {
            let highest = courses.get(&id).copied().unwrap_or(UNKNOWN);
            let wall = Wall::new(id, stages.bed, highest)
                .ok_or_else(|| PageError::Ours(anyhow::anyhow!("{name} has no course")))?;
            walls.push(WallSight { name, wall });
        }
        Ok(Self { seen, head, walls, stages, laid })
    }

    /// Which courses of a wall hang, as its setter told it run by run; strips are no courses.
    fn courses_laid(&self, wall: &WallSight) -> BTreeSet<u32> {
        let of_wall = self.laid.iter().filter(|laid| laid.was.wall == *wall.id() && !laid.is_strip());
        of_wall.map(|laid| laid.was.course).collect()
    }

    /// On how many courses of a wall a stage is done: told on the board, or hung there by its setter run by run.
    pub fn courses_done(&self, wall: &WallSight, stage: StageKind) -> u32 {
        let told = standing(&self.stages.log).into_iter().filter(|entry| {
            entry.part.surface == *wall.id() && entry.stage == stage && entry.what == What::Finished
        });
        let told: Vec<Option<Courses>> = told.map(|entry| entry.part.courses).collect();
        let hung = self.courses_laid(wall);
        let is_done = |course: u32| {
            let within = |courses: &Option<Courses>| {
                courses.is_none_or(|courses| (courses.first()..=courses.last()).contains(&course))
            };
            told.iter().any(within) || (stage == StageKind::Set && hung.contains(&course))
        };
        (1..=wall.courses()).map(|course| u32::from(is_done(course))).sum()
    }

    /// Which job.
    pub fn job(&self) -> &JobId {
        &self.head.id
    }

    /// When this was seen, by the wall clock.
    pub fn now(&self) -> Instant {
        self.stages.now.at.wall
    }

    /// The wall clock reads earlier than what was recorded before.
    pub fn clock_is_behind(&self) -> bool {
        self.stages.now.at.wall_clock == WallClock::Behind
    }

    /// The wall of that name.
    pub fn wall(&self, id: &SurfaceId) -> Result<&WallSight, PageError> {
        self.walls.iter().find(|wall| wall.wall.surface() == id).ok_or(PageError::NotFound)
    }

    /// The stages that are on this job, in the order of the work.
    pub fn kinds(&self) -> impl Iterator<Item = StageKind> {
        self.stages.graph.stages().filter(|(_, on_job)| *on_job).map(|(kind, _)| kind)
    }

    /// Where a stage stands on a whole wall.
    pub fn standing(&self, wall: &WallSight, stage: StageKind) -> Standing {
        let work = wall.work(&self.stages);
        Standing {
            verdict: not_before(&work, None, stage, &self.stages.now),
            open: open_starts(&work, None, stage, &self.stages.now),
        }
    }

    /// An entry by its number.
    pub fn entry(&self, id: EntryId) -> Option<&Entry> {
        self.stages.log.iter().find(|entry| entry.id == id)
    }

    /// Who told an entry.
    pub fn author(&self, id: EntryId) -> &str {
        self.stages.notes.get(&id).map_or("", |note| note.author.as_str())
    }

    /// Who told an entry at first, before anybody corrected it: who did the work, as far as the log knows.
    pub fn doer(&self, id: EntryId) -> &str {
        let before = |id: &EntryId| self.entry(*id).and_then(|entry| entry.supersedes);
        self.author(std::iter::successors(Some(id), before).last().unwrap_or(id))
    }

    /// The mix that an entry knows by that event, its first.
    pub fn batch(&self, first: &EventId) -> Option<&KeptBatch> {
        self.stages.batches.iter().find(|kept| kept.first == *first)
    }

    /// The mixes that a form names, with commas between; `None` where one of them is none of this stage's.
    pub fn named_batches(&self, named: &str, stage: StageKind) -> Option<Vec<EventId>> {
        let ids = named.split(',').map(str::trim).filter(|id| !id.is_empty());
        let known = |id: &str| {
            let kept = self.batch(&EventId::from(id.to_owned()))?;
            (kept.stage == stage && !kept.withdrawn).then(|| kept.first.clone())
        };
        ids.map(known).collect()
    }

    /// The lot of the mix before, where it was of the same product: a bag lasts for several.
    pub fn usual_lot(&self, stage: StageKind) -> String {
        let Some(product) = self.stages.products.get(&stage) else { return String::new() };
        let same = |kept: &&KeptBatch| {
            let of = kept.batch.product();
            kept.stage == stage
                && !kept.withdrawn
                && product.class() == of.class()
                && product.name() == of.name()
        };
        let last = self.stages.batches.iter().rev().find(same);
        last.and_then(|kept| kept.lot.as_ref()).map_or_else(String::new, |lot| lot.as_str().to_owned())
    }

    /// In what its crew reads a thermometer.
    pub fn scale(&self) -> Scale {
        scale_of(self.head.unit)
    }

    /// How times are said on this page.
    pub fn times(&self, app: &App) -> Times {
        Times::new(&app.texts, &self.head.zone, self.now())
    }

    /// How everything else is said.
    pub fn words(&self, app: &App) -> Words {
        let names: BTreeMap<SurfaceId, String> =
            self.walls.iter().map(|wall| (wall.id().clone(), wall.name.clone())).collect();
        Words::new(&app.texts, self.times(app), names, self.scale())
    }
}

impl WallSight {
    /// Its short name.
    pub fn id(&self) -> &SurfaceId {
        self.wall.surface()
    }

    /// How many courses can be told apart on it; without a layout it is reported as one.
    pub fn courses(&self) -> u32 {
        match self.wall.courses().last() {
            UNKNOWN => 1,
            courses => courses,
        }
    }

    /// These courses of it, or all of it.
    pub fn part(&self, courses: Option<Courses>) -> Part {
        Part { surface: self.id().clone(), courses }
    }

    /// All that is known of the work on it.
    pub fn work<'a>(&'a self, stages: &'a Stages) -> Work<'a> {
        Work {
            graph: &stages.graph,
            products: &stages.products,
            wall: &self.wall,
            log: &stages.log,
            climate: &stages.temperatures.climate,
        }
    }
}
