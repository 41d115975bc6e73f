//! Why there is no layout yet, and where to mend it.

use askama::Template;

use crate::app::App;
use crate::store::StoredSheet;
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::web::walls::{Missing, missing};
use crate::work::NoPlan;

/// The page in place of a layout.
#[derive(Template)]
#[template(path = "layout/no_plan.html")]
pub struct NoPlanPage {
    frame: Frame,
    reasons: Vec<Missing>,
    action: String,
    version: i64,
    /// Something was chosen by hand, which may be what is in the way.
    chosen: bool,
}

impl NoPlanPage {
    /// The page in words.
    pub fn new(app: &App, stored: &StoredSheet, why: &NoPlan) -> Self {
        let title = app.texts.say("layout-title");
        Self {
            frame: Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall),
            reasons: missing(why, stored, &app.texts),
            action: urls::layout(&stored.id),
            version: stored.version,
            chosen: stored.sheet.layout != trade::measure::Layout::default(),
        }
    }
}
