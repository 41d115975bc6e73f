//! The walls with what hangs, what comes next and what to bring up for it.

use askama::Template;
use trade::measure::SurfaceId;
use trade::place::{Piece, PieceId};

use super::runs::{Run, runs};
use super::{NotNow, on_the_board};
use crate::app::App;
use crate::store::{EventKey, JobHead, LaidRun, Stages};
use crate::web::board::Strip;
use crate::web::cuts::{Fits, Yard};
use crate::web::page::{Frame, Here};
use crate::web::times::Times;
use crate::web::urls;

/// Every wall.
#[derive(Template)]
#[template(path = "setting/setting.html")]
pub struct SettingPage {
    frame: Frame,
    walls: Vec<WallView>,
    batches: Strip,
    saw_url: String,
}

/// A press that is not taken.
#[derive(Template)]
#[template(path = "setting/refused.html")]
pub struct Refused {
    frame: Frame,
    says: String,
    /// Pieces to look at first: label and address.
    pieces: Vec<(String, String)>,
    setting_url: String,
}

/// One wall.
struct WallView {
    id: String,
    name: String,
    /// What hangs next; nothing when all does.
    next: Option<Open>,
    /// How many come after it.
    later_words: String,
    later: Vec<Open>,
    laid_words: String,
    /// The highest first.
    laid: Vec<Hanging>,
}

/// A run still to be set.
struct Open {
    label: String,
    title: String,
    bring_up: String,
    cuts: Vec<CutPiece>,
    /// How many cuts are missing; nothing where all lie ready.
    missing: Option<String>,
    url: String,
    key: String,
    print: String,
    /// Nothing where another is to be set before it.
    button: Option<String>,
}

/// A cut piece of a run.
struct CutPiece {
    label: String,
    url: String,
    /// The class that draws its shape.
    state: &'static str,
    says: String,
}

/// A run that hangs.
struct Hanging {
    label: String,
    title: String,
    says: String,
    back: Option<Back>,
}

/// What takes it back.
struct Back {
    url: String,
    key: String,
    entry: String,
}

/// All that the page is drawn from.
pub struct View<'a> {
    pub app: &'a App,
    pub head: &'a JobHead,
    pub yard: &'a Yard,
    pub stages: &'a Stages,
}

impl View<'_> {
    /// The page.
    pub fn setting(&self, batches: Strip) -> SettingPage {
        let all = runs(&self.yard.saw);
        let walls = all.chunk_by(|one, other| one.wall == other.wall);
        SettingPage {
            walls: walls.filter_map(|runs| self.wall(runs)).collect(),
            batches,
            saw_url: urls::cuts(&self.head.id),
            frame: frame(self.app, self.head, self.app.texts.say("setting-title")).live(&self.yard.seen),
        }
    }

    fn wall(&self, runs: &[Run<'_>]) -> Option<WallView> {
        let texts = &self.app.texts;
        let id = &runs.first()?.wall;
        let (mut open, mut laid) = (Vec::new(), Vec::new());
        for run in runs {
            match self.hanging(run) {
                Some(hanging) => laid.push(hanging),
                None => open.push(self.open(run)),
            }
        }
        laid.reverse();
        let mut open = open.into_iter();
        let first = open.next();
        // Each course stands on the one below.
        let (next, later): (Option<Open>, Vec<Open>) = (first, open.map(Open::only_said).collect());
        Some(WallView {
            id: id.to_string(),
            name: self.wall_name(id),
            next,
            later_words: texts.say_with("setting-later", &[("count", &later.len())]),
            later,
            laid_words: texts.say_with("setting-laid", &[("count", &laid.len())]),
            laid,
        })
    }

    /// A run that hangs; nothing for one still to be set.
    fn hanging(&self, run: &Run<'_>) -> Option<Hanging> {
        let laid = self.yard.log.sawn.laid.iter().find(|laid| laid.run == run.label);
        let by_board = on_the_board(self.stages, &run.wall, run.course);
        let says = match laid {
            Some(laid) => self.said(laid),
            None if by_board => self.app.texts.say("setting-on-board"),
            None => return None,
        };
        let back = laid.filter(|_| !by_board).map(|laid| Back {
            url: urls::not_laid(&self.head.id, run.label),
            key: EventKey::random().as_str().to_owned(),
            entry: laid.event.as_str().to_owned(),
        });
        Some(Hanging { label: run.label.to_owned(), title: self.title(run), says, back })
    }

    fn said(&self, laid: &LaidRun) -> String {
        let times = Times::new(&self.app.texts, &self.head.zone, self.app.clock.now());
        let (who, when) = (self.yard.log.name(&laid.author).to_owned(), times.at(laid.at));
        self.app.texts.say_with("setting-done", &[("who", &who), ("when", &when)])
    }

    fn open(&self, run: &Run<'_>) -> Open {
        let texts = &self.app.texts;
        let cuts: Vec<CutPiece> = run.cuts().map(|piece| self.cut(piece)).collect();
        let missing = run.missing(&self.yard.saw, self.head.unit).len();
        let title = self.title(run);
        Open {
            label: run.label.to_owned(),
            bring_up: match cuts.len() {
                0 => texts.say_with("setting-bring-up", &[("whole", &run.whole())]),
                count => texts.say_with("setting-bring-cuts", &[("whole", &run.whole()), ("cuts", &count)]),
            },
            cuts,
            missing: (missing > 0).then(|| texts.say_with("setting-missing", &[("count", &missing)])),
            url: urls::laid(&self.head.id, run.label),
            key: EventKey::random().as_str().to_owned(),
            print: run.print(self.head.unit),
            button: Some(texts.say_with("setting-set", &[("run", &title)])),
            title,
        }
    }

    fn cut(&self, piece: &Piece) -> CutPiece {
        let fits = self.yard.saw.entry(&piece.id).and_then(|entry| entry.fits(self.head.unit));
        let (state, key) = match fits {
            Some(Fits::AsPlanned) => ("done", "setting-cut"),
            Some(Fits::OtherSize | Fits::OtherShape) => ("look", "setting-misfit"),
            None => ("wait", "setting-to-cut"),
        };
        let label = piece.id.0.clone();
        CutPiece { url: urls::cut(&self.head.id, &label), label, state, says: self.app.texts.say(key) }
    }

    fn title(&self, run: &Run<'_>) -> String {
        let key = if run.strip { "setting-strip" } else { "setting-course" };
        self.app.texts.say_with(key, &[("course", &run.course)])
    }

    fn wall_name(&self, wall: &SurfaceId) -> String {
        let surface = self.yard.saw.planned.job.surface(wall);
        surface.map_or_else(|| wall.to_string(), |surface| surface.name.clone())
    }
}

impl Open {
    /// The same without its button.
    fn only_said(self) -> Self {
        Self { button: None, ..self }
    }
}

impl Refused {
    /// Why it is not kept, or stays.
    pub fn new(app: &App, head: &JobHead, run: &str, title: &str, why: &NotNow) -> Self {
        let (key, pieces): (&str, &[PieceId]) = match why {
            NotNow::Already => ("setting-refused-already", &[]),
            NotNow::NotCut(pieces) => ("setting-refused-not-cut", pieces),
            NotNow::OnTheBoard => ("setting-refused-board", &[]),
            NotNow::PlanChanged => ("setting-refused-plan", &[]),
        };
        let link = |piece: &PieceId| (piece.0.clone(), urls::cut(&head.id, &piece.0));
        Self {
            says: app.texts.say_with(key, &[("run", &run), ("count", &pieces.len())]),
            pieces: pieces.iter().map(link).collect(),
            setting_url: urls::setting(&head.id),
            frame: frame(app, head, app.texts.say_with(title, &[("run", &run)])),
        }
    }
}

fn frame(app: &App, head: &JobHead, title: String) -> Frame {
    Frame::of_job(app, title, &head.id, &head.name, Here::Saw)
}
