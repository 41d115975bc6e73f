//! Why there is no layout yet, and where to mend it.

use askama::Template;
use trade::course::CourseFault;
use trade::measure::bare::BareFault;
use trade::measure::sound::{Height, SurfaceFault};
use trade::measure::{SheetFault, SurfaceId, TileId};
use trade::search::WorkFault;

use super::words::Tape;
use crate::app::App;
use crate::store::{JobId, StoredSheet};
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::NoPlan;

/// The page in place of a layout.
#[derive(Template)]
#[template(path = "layout/no_plan.html")]
pub struct NoPlanPage {
    frame: Frame,
    reasons: Vec<Reason>,
    action: String,
    version: i64,
    /// Something was chosen by hand, which may be what is in the way.
    chosen: bool,
}

/// One reason, with the page to mend it on.
struct Reason {
    says: String,
    url: String,
    mend: String,
}

/// What the reasons are made from.
struct Why<'a> {
    tape: Tape,
    job: &'a JobId,
}

impl NoPlanPage {
    /// The page in words.
    pub fn new(app: &App, stored: &StoredSheet, why: NoPlan) -> Self {
        let tape = Tape::new(&app.texts, stored.sheet.unit, stored.line_shift);
        let of = Why { tape, job: &stored.id };
        let reasons = match &why {
            NoPlan::Sheet(faults) => faults.iter().map(|fault| of.sheet(fault)).collect(),
            NoPlan::Layout(fault) => vec![of.work(fault)],
            NoPlan::Stopped => vec![of.ours()],
        };
        Self {
            frame: Frame::of_job(
                app,
                app.texts.say("layout-title"),
                &stored.id,
                &stored.sheet.name,
                Here::Wall,
            ),
            reasons,
            action: urls::layout(&stored.id),
            version: stored.version,
            chosen: stored.sheet.layout != trade::measure::Layout::default(),
        }
    }
}

impl Why<'_> {
    fn sheet(&self, fault: &SheetFault) -> Reason {
        match fault {
            SheetFault::NoWalls => Reason {
                says: self.tape.say("no-plan-no-walls"),
                url: urls::new_wall(self.job),
                mend: self.tape.say("no-plan-measure-first"),
            },
            SheetFault::NoTile(wall) => Reason {
                says: self.tape.say1("no-plan-no-tile", "wall", &wall.as_str()),
                url: urls::sheet(self.job),
                mend: self.tape.say("no-plan-to-sheet"),
            },
            SheetFault::Wall { wall, fault } => self.on_wall(wall, self.bare(wall, fault)),
        }
    }

    fn bare(&self, wall: &SurfaceId, fault: &BareFault) -> String {
        match fault {
            BareFault::AsRead(fault) => self.surface("no-plan-as-read", wall, fault),
            BareFault::WithTile(fault) => self.surface("no-plan-with-tile", wall, fault),
            BareFault::MeetsOutsideACorner { neighbour } => self
                .tape
                .say_with("no-plan-meets", &[("wall", &wall.as_str()), ("neighbour", &neighbour.as_str())]),
            BareFault::NegativeBuildUp { .. } => self.tape.say1("no-plan-build-up", "wall", &wall.as_str()),
        }
    }

    fn surface(&self, key: &str, wall: &SurfaceId, fault: &SurfaceFault) -> String {
        let at = |index: &usize| index + 1;
        let why = match fault {
            SurfaceFault::NoWidth => self.tape.say("no-plan-no-width"),
            SurfaceFault::NoReading(height) => self.tape.say(reading_key(*height)),
            SurfaceFault::OutOfOrder { height, index } => {
                self.reading("no-plan-out-of-order", *height, at(index))
            }
            SurfaceFault::Beside { height, index } => self.reading("no-plan-beside", *height, at(index)),
            SurfaceFault::NoHeight { x } => self.tape.say1("no-plan-no-height", "x", &self.tape.show(*x)),
            SurfaceFault::AllCovered => self.tape.say("no-plan-all-covered"),
            SurfaceFault::OpeningOutside { index } => {
                self.tape.say1("no-plan-opening-outside", "number", &at(index))
            }
            SurfaceFault::OpeningClosed { index } => {
                self.tape.say1("no-plan-opening-closed", "number", &at(index))
            }
        };
        self.tape.say_with(key, &[("wall", &wall.as_str()), ("why", &why)])
    }

    fn reading(&self, key: &str, height: Height, number: usize) -> String {
        let place = self.tape.say(match height {
            Height::Base => "no-plan-place-base",
            Height::Top => "no-plan-place-top",
        });
        self.tape.say_with(key, &[("number", &number), ("place", &place)])
    }

    fn work(&self, fault: &WorkFault) -> Reason {
        match fault {
            WorkFault::Courses(fault) => self.courses(fault),
            WorkFault::BothWays(tile) => self.on_sheet("no-plan-both-ways", tile),
            WorkFault::Cutting { tile, .. } => self.on_sheet("no-plan-cutting", tile),
            WorkFault::Ours(fault) => {
                tracing::error!(%fault, job = %self.job, "a plan failed its own check");
                self.ours()
            }
        }
    }

    fn courses(&self, fault: &CourseFault) -> Reason {
        let name = |wall: &SurfaceId| wall.as_str().to_owned();
        match fault {
            CourseFault::NoCarryingBase { .. } => Reason {
                says: self.tape.say("no-plan-nothing-carries"),
                url: urls::job(self.job),
                mend: self.tape.say("no-plan-to-walls"),
            },
            CourseFault::MissingCourseLine { surface } => {
                self.on_wall(surface, self.tape.say1("no-plan-no-line", "wall", &name(surface)))
            }
            CourseFault::LinesDisagree { one, other } => {
                let says =
                    self.tape.say_with("no-plan-disagree", &[("one", &name(one)), ("other", &name(other))]);
                self.on_wall(one, says)
            }
            CourseFault::NoCourseFits { surface } => {
                self.on_wall(surface, self.tape.say1("no-plan-no-room", "wall", &name(surface)))
            }
            CourseFault::NoTop { surface } => {
                self.on_wall(surface, self.tape.say1("no-plan-no-top", "wall", &name(surface)))
            }
            CourseFault::UnknownTile { surface, .. } => self.sheet(&SheetFault::NoTile(surface.clone())),
            CourseFault::TooManyCourses { surface, most } => {
                let most = u32::from(*most);
                let says =
                    self.tape.say_with("no-plan-too-many", &[("wall", &name(surface)), ("most", &most)]);
                self.on_wall(surface, says)
            }
        }
    }

    fn on_wall(&self, wall: &SurfaceId, says: String) -> Reason {
        Reason {
            says,
            url: urls::wall(self.job, wall.as_str()),
            mend: self.tape.say1("no-plan-to-wall", "wall", &wall.as_str()),
        }
    }

    fn on_sheet(&self, key: &str, tile: &TileId) -> Reason {
        Reason {
            says: self.tape.say1(key, "tile", &tile.0),
            url: urls::sheet(self.job),
            mend: self.tape.say("no-plan-to-sheet"),
        }
    }

    fn ours(&self) -> Reason {
        Reason {
            says: self.tape.say("no-plan-ours"),
            url: urls::job(self.job),
            mend: self.tape.say("no-plan-to-walls"),
        }
    }
}

fn reading_key(height: Height) -> &'static str {
    match height {
        Height::Base => "no-plan-no-base",
        Height::Top => "no-plan-no-top-reading",
    }
}
