//! The whole log of a job in words, newest first.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use trade::cure::{EntryId, OwnWindow, Product};
use trade::geometry::Rect;
use trade::place::{TrueSize, Way};

use super::line::{EntryLine, Lines};
use super::page::frame;
use super::sight::Sight;
use super::words::Words;
use crate::app::App;
use crate::store::{
    ANEW, BATCH, BATCH_OVER, BROKE, BatchTold, COUNTED, CUT, Count, Counted, Event, EventId, JobId, LAID,
    MEASURED, MeasuredRecord, NIGHT, NOT_ANEW, NOT_BROKE, NOT_CUT, NOT_LAID, NOT_MEASURED, NOT_TRIMMED,
    PRODUCT, PersonId, ProductChanged, READING, RELAID, ReadingTold, Relaid, STAGE, STAGES, StagesTold,
    TAKEN_OVER, TRIMMED, TakenOver, Trimmed, night_told,
};
use crate::texts::Said;
use crate::web::cuts::Words as Sizes;
use crate::web::error::PageError;
use crate::web::fit;
use crate::web::layout;
use crate::web::page::{Frame, page};
use crate::web::urls;

#[derive(Template)]
#[template(path = "board/log.html")]
struct LogPage {
    frame: Frame,
    lines: Vec<EntryLine>,
    board_url: String,
}

/// Everything that was reported.
pub async fn log(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let events = app.store.events(&job).await?;
    let words = sight.words(&app);
    let stored = app.store.sheet(&job).await?;
    let laid = layout::Words::of(&app.texts, &stored);
    let told = Log { sight: &sight, words: &words, laid: &laid, lines: Lines::of(&sight, &words) };
    let lines = events.iter().rev().filter_map(|event| told.line(event).transpose());
    page(&LogPage {
        lines: lines.collect::<Result<_, PageError>>()?,
        frame: frame(&app, &sight, words.say("log-title")).live(&sight.seen),
        board_url: urls::board(&job),
    })
}

struct Log<'a> {
    sight: &'a Sight,
    words: &'a Words,
    /// The words of lengths and layouts.
    laid: &'a layout::Words,
    lines: Lines<'a>,
}

impl Log<'_> {
    /// An event as a line; `None` for one that came after the board was looked at.
    fn line(&self, event: &Event) -> Result<Option<EntryLine>, PageError> {
        match event.kind.as_str() {
            STAGE => {
                let id = u64::try_from(event.sequence).map(EntryId).ok();
                Ok(id.and_then(|id| self.sight.entry(id)).map(|entry| self.lines.line(entry)))
            }
            TRIMMED => Ok(Some(self.trimmed(event, &Trimmed::of(event)?))),
            RELAID => Ok(Some(self.plain(event, self.relaid(&Relaid::of(event)?)))),
            STAGES => Ok(Some(self.plain(event, self.stages(&StagesTold::of(event)?)))),
            PRODUCT => Ok(Some(self.product(event, &ProductChanged::of(event)?))),
            COUNTED => Ok(Some(self.plain(event, self.counted(&Count::of(event)?.counted)))),
            READING => Ok(Some(self.reading(event)?)),
            BATCH => Ok(Some(self.batch(event)?)),
            BATCH_OVER => Ok(Some(self.plain(event, self.batch_over(event)))),
            NIGHT => {
                let lowest = self.words.degrees(night_told(event)?);
                let says = self.words.say_with("log-night", &[("degrees", &lowest)]);
                Ok(Some(self.plain(event, says)))
            }
            MEASURED => Ok(Some(self.plain(event, self.measured(event)?))),
            TAKEN_OVER => Ok(Some(self.plain(event, self.taken_over(event)?))),
            kind if let Some(key) = at_the_saw(kind) => {
                Ok(Some(self.plain(event, self.words.say_with(key, &[("piece", &event.part)]))))
            }
            kind => {
                let says = self.words.say_with("log-other", &[("kind", &kind), ("part", &event.part)]);
                Ok(Some(self.plain(event, says)))
            }
        }
    }

    fn stages(&self, told: &StagesTold) -> String {
        let each = [("log-stages-on", &told.added), ("log-stages-off", &told.taken_off)];
        let says = each.into_iter().filter(|(_, stages)| !stages.is_empty());
        let says =
            says.map(|(key, stages)| self.words.say_with(key, &[("stages", &self.words.stages(stages))]));
        let why = told.reason.iter().map(|why| self.words.say_with("entry-why", &[("reason", why)]));
        says.chain(why).collect::<Vec<_>>().join(" ")
    }

    fn taken_over(&self, event: &Event) -> Result<String, PageError> {
        let from = PersonId::from(TakenOver::of(event)?.person);
        let from = self.sight.stages.names.get(&from).map_or("", String::as_str);
        Ok(self.words.say_with("log-taken-over", &[("piece", &event.part), ("from", &from)]))
    }

    fn trimmed(&self, event: &Event, trimmed: &Trimmed) -> EntryLine {
        let sizes = Sizes::new(self.words.texts(), self.sight.head.unit);
        let size = |(width, height)| sizes.size(width, height);
        let (from, to) = (size(trimmed.from), size(trimmed.to));
        let says: [(&str, &dyn Said); 3] = [("piece", &event.part), ("from", &from), ("to", &to)];
        self.plain(event, self.words.say_with("log-trimmed", &says))
    }

    fn plain(&self, event: &Event, says: String) -> EntryLine {
        let who = self.sight.stages.names.get(&event.author).map_or("", String::as_str);
        let when = self.words.times.at(event.received.wall);
        EntryLine {
            says,
            from: None,
            told: self.words.say_with("entry-told", &[("who", &who), ("when", &when)]),
            struck: false,
            correction: None,
            why: None,
            doubts: Vec::new(),
            mend_url: None,
        }
    }

    /// The size that a piece has by it, and the one it was planned in.
    fn measured(&self, event: &Event) -> Result<String, PageError> {
        let record = MeasuredRecord::of(event)?;
        let of_piece = record.found.sizes.iter().find(|(piece, _)| *piece == record.piece);
        let sizes = of_piece.map(|(_, size)| self.sizes(size)).unwrap_or_default();
        let mut says =
            self.words.say_with("log-measured", &[("piece", &event.part), ("sizes", &sizes.join(", "))]);
        let others = record.found.sizes.len() - usize::from(of_piece.is_some());
        if others > 0 {
            says.push(' ');
            says.push_str(&self.words.say_with("log-measured-others", &[("count", &others)]));
        }
        Ok(says)
    }

    /// What the tape found and what was planned, in the ways in which they differ; both, where they do not.
    fn sizes(&self, size: &TrueSize) -> Vec<String> {
        let now = fit::as_measured(size);
        let way = |(way, key): (Way, &str)| {
            let shown = |bounds: &Rect| self.laid.tape.show_fit(way.size(bounds));
            let (now, was) = (shown(&now), shown(&size.planned));
            let says = self.words.say_with(key, &[("now", &now), ("was", &was)]);
            (now != was, says)
        };
        let ways = [(Way::Across, "fit-line-across"), (Way::Up, "fit-line-up")].map(way);
        let any = ways.iter().any(|(differs, _)| *differs);
        ways.into_iter().filter(|(differs, _)| *differs || !any).map(|(_, says)| says).collect()
    }

    fn reading(&self, event: &Event) -> Result<EntryLine, PageError> {
        let told = ReadingTold::of(event)?;
        let place = self.words.surface(told.surface.as_ref());
        let when = self.words.times.at(event.happened);
        let degrees = told.temperature.map(|at| self.words.degrees(at)).unwrap_or_default();
        let key = match (told.temperature, told.corrects) {
            (Some(_), false) => "temperature-read",
            (Some(_), true) => "log-reading-corrected",
            (None, _) => "temperature-never-read",
        };
        let says = self.words.say_with(key, &[("place", &place), ("degrees", &degrees), ("when", &when)]);
        let why = told.reason.map(|reason| self.words.say_with("entry-why", &[("reason", &reason)]));
        Ok(EntryLine { why, ..self.plain(event, says) })
    }

    /// What was mixed, by what it is called now; of a correction what it was put right to.
    fn batch(&self, event: &Event) -> Result<EntryLine, PageError> {
        let told = BatchTold::of(event)?;
        let mut origin = event.id.clone();
        let firsts = &self.sight.stages.batches;
        if event.supersedes.is_some() {
            let of_it = firsts.iter().find(|kept| kept.entries.contains(&event.id));
            origin = of_it.map_or(origin, |kept| kept.first.clone());
        }
        let number = self.sight.batch(&origin).map_or_else(String::new, |kept| self.words.batch_number(kept));
        let (product, lot) =
            (self.words.product(Some(&told.product)), told.lot.as_ref().map_or("", |lot| lot.as_str()));
        let key = match (told.withdrawn, event.supersedes.is_some(), lot.is_empty()) {
            (true, ..) => "log-batch-never",
            (false, true, true) => "log-batch-corrected",
            (false, true, false) => "log-batch-corrected-lot",
            (false, false, true) => "log-batch",
            (false, false, false) => "log-batch-lot",
        };
        let when = self.words.times.at(event.happened);
        let values: [(&str, &dyn Said); 4] =
            [("batch", &number), ("product", &product), ("lot", &lot), ("when", &when)];
        let why = told.reason.map(|reason| self.words.say_with("entry-why", &[("reason", &reason)]));
        Ok(EntryLine { why, ..self.plain(event, self.words.say_with(key, &values)) })
    }

    fn batch_over(&self, event: &Event) -> String {
        let batch = self.sight.batch(&EventId::from(event.part.clone()));
        let batch = batch.map_or_else(String::new, |kept| self.words.batch(kept));
        self.words.say_with("log-batch-over", &[("batch", &batch)])
    }

    fn counted(&self, counted: &Counted) -> String {
        let Counted { tile, left, needed, bound, saved } = counted;
        let values: [(&str, &dyn Said); 4] =
            [("tile", &tile.0), ("left", left), ("needed", needed), ("bound", bound)];
        let key = if needed == bound { "log-counted-proved" } else { "log-counted" };
        let saved = (*saved > 0).then(|| self.words.say_with("stock-saved", &[("count", saved)]));
        std::iter::once(self.words.say_with(key, &values)).chain(saved).collect::<Vec<_>>().join(" ")
    }

    fn relaid(&self, relaid: &Relaid) -> String {
        let says = layout::costs(self.laid, relaid).into_iter().chain(layout::changes(self.laid, relaid));
        self.words.say_with("log-relaid", &[("says", &says.collect::<Vec<_>>().join(" "))])
    }

    fn product(&self, event: &Event, changed: &ProductChanged) -> EntryLine {
        let stage = self.words.stage(changed.stage);
        let product = self.words.product(Some(&changed.product));
        let before = self.words.product(changed.before.as_ref());
        let says: [(&str, &dyn Said); 3] = [("stage", &stage), ("product", &product), ("before", &before)];
        let says = std::iter::once(self.words.say_with("log-product", &says));
        let says = says.chain(own_windows(self.words, &changed.product)).collect::<Vec<_>>().join(" ");
        self.plain(event, says)
    }
}

/// The words for what was done at the saw and the walls.
fn at_the_saw(kind: &str) -> Option<&'static str> {
    match kind {
        CUT => Some("log-cut"),
        NOT_CUT => Some("log-not-cut"),
        BROKE => Some("log-broke"),
        NOT_BROKE => Some("log-not-broke"),
        ANEW => Some("log-anew"),
        NOT_ANEW => Some("log-not-anew"),
        NOT_TRIMMED => Some("log-not-trimmed"),
        LAID => Some("log-laid"),
        NOT_LAID => Some("log-not-laid"),
        NOT_MEASURED => Some("log-not-measured"),
        _ => None,
    }
}

/// What the bag says, window by window, with the reason where one was given.
fn own_windows(words: &Words, product: &Product) -> Vec<String> {
    let one = |own: &OwnWindow| {
        let (span, window, bed) = (words.times.span(own.span), words.window(own.window), words.bed(own.bed));
        let default = product.class().default_window(own.window, own.bed);
        let usual = default.map_or_else(String::new, |default| words.times.span(default.span));
        let reason = own.grounds.as_ref().map_or("", |grounds| grounds.as_str());
        let key = if reason.is_empty() { "log-window" } else { "log-window-why" };
        words.say_with(
            key,
            &[("span", &span), ("window", &window), ("bed", &bed), ("usual", &usual), ("reason", &reason)],
        )
    };
    product.own().map(one).collect()
}
