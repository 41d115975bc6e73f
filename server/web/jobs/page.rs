//! The pages of the list of jobs.

use askama::Template;

use super::form::TypedJob;
use crate::app::App;
use crate::store::{JobLine, Seen};
use crate::web::board;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::Frame;
use crate::web::urls;

/// Every job.
#[derive(Template)]
#[template(path = "jobs/list.html")]
pub struct JobsPage {
    frame: Frame,
    /// Said where phones reached the server elsewhere before.
    moved: Option<String>,
    jobs: Vec<Line>,
    new_url: &'static str,
}

/// One job in the list.
struct Line {
    url: String,
    name: String,
    walls: String,
}

/// The form for a new job.
#[derive(Template)]
#[template(path = "jobs/new.html")]
pub struct NewJobPage {
    frame: Frame,
    faults: Faults,
    name: Field,
    unit: Field,
    zone: Field,
    work: Field,
    works: Vec<Choice>,
    units: Vec<Choice>,
}

impl JobsPage {
    /// The list as it stands.
    pub fn new(app: &App, seen: &Seen, jobs: Vec<JobLine>) -> Self {
        let frame = Frame::new(app, app.texts.say("jobs-title")).live(seen);
        let line = |job: JobLine| Line {
            url: urls::job(&job.id),
            walls: frame.say1("job-walls", "count", &job.walls),
            name: job.name,
        };
        Self {
            moved: app.reached.moved(&app.texts),
            jobs: jobs.into_iter().map(line).collect(),
            new_url: urls::NEW_JOB,
            frame,
        }
    }
}

impl NewJobPage {
    /// The form with what was typed and what is wrong with it.
    pub fn new(app: &App, typed: TypedJob, faults: Faults) -> Self {
        let frame = Frame::new(app, app.texts.say("job-new-title")).faulty_if(!faults.is_empty());
        Self {
            name: Field::new("name", typed.name).with(&faults),
            unit: Field::new("unit", typed.unit).with(&faults),
            zone: Field::new("zone", typed.zone).with(&faults),
            work: Field::new("work", typed.work).with(&faults),
            works: board::works(app),
            units: vec![
                Choice::new("mm", frame.say("job-unit-mm")),
                Choice::new("in", frame.say("job-unit-in")),
            ],
            frame,
            faults,
        }
    }
}
