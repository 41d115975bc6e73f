//! A plan as text to read at a terminal.

use std::cmp::Ordering;
use std::fmt::Write;

use trade::advice::{Advice, Standing};
use trade::course::{Course, WallCourses};
use trade::measure::{FirstCourse, Job, Length, Rounding, Surface, SurfaceId, TileId};
use trade::place::Piece;
use trade::search::{Aim, Amount, LayoutOption, Measure, Options, Reach, Reason, TileCutting};

use super::findings::{self, Findings};
use crate::texts::{Said, Texts};

/// What the report is made from.
struct Report<'a> {
    texts: &'a Texts,
    job: &'a Job,
    option: &'a LayoutOption,
    lines: String,
}

/// The layouts to choose between, each with what it gains and costs beside the first, and the first whole: tiles to
/// buy, figures, every wall course by course from the top down, and what the rules say.
pub fn report(texts: &Texts, job: &Job, found: &Options) -> String {
    let mut lines = format!("{}\n", job.name);
    let Some(option) = found.options.first() else { return lines };
    let mut report = Report { texts, job, option, lines: String::new() };
    if found.options.len() > 1 {
        report.options(found);
        report.heading("report-first-whole", &[]);
    }
    for (tile, cutting) in &option.cutting {
        report.tiles(tile, cutting);
    }
    report.figures();
    for surface in &job.surfaces {
        if let Some(courses) = option.courses.walls.get(&surface.id) {
            report.wall(surface, courses);
        }
    }
    report.heading("layout-advice", &[]);
    for advice in &option.advice {
        report.advice(advice);
    }
    lines.push_str(&report.lines);
    lines
}

impl Report<'_> {
    fn options(&mut self, found: &Options) {
        self.heading("report-options", &[]);
        if found.reach == Reach::Searched {
            self.say("report-searched", &[]);
        }
        for (index, option) in found.options.iter().enumerate() {
            let aims = found.first.iter().filter(|(_, best)| *best == index);
            let aims: Vec<String> = aims.map(|(aim, _)| self.texts.say(aim_key(*aim))).collect();
            let joint = option.layout.joint.filter(|joint| *joint != self.job.joint);
            let joint =
                joint.map(|joint| self.texts.say_with("report-joint", &[("joint", &self.fine(joint))]));
            let notes: Vec<String> = aims.into_iter().chain(joint).collect();
            let notes = if notes.is_empty() { String::new() } else { format!(" ({})", notes.join(", ")) };
            let named = [Measure::Tiles, Measure::NarrowestCut, Measure::Slivers, Measure::Cuts];
            let figures = named.map(|measure| self.amount(measure, measure.of(&option.figures))).join(", ");
            self.line(2, &format!("{}. {figures}{notes}", index + 1));
            let reasons = found.reasons(index);
            self.reasons("report-gains", reasons.iter().filter(|reason| reason.better));
            self.reasons("report-costs", reasons.iter().filter(|reason| !reason.better));
        }
    }

    fn reasons<'r>(&mut self, key: &str, reasons: impl Iterator<Item = &'r Reason>) {
        let reasons: Vec<String> = reasons
            .map(|reason| {
                let (here, first) = (self.figure(reason.here), self.figure(reason.first));
                let measure = self.texts.say(measure_key(reason.measure));
                self.texts
                    .say_with("report-reason", &[("measure", &measure), ("here", &here), ("first", &first)])
            })
            .collect();
        if !reasons.is_empty() {
            let words = self.texts.say_with(key, &[("reasons", &reasons.join("; "))]);
            self.line(5, &words);
        }
    }

    fn amount(&self, measure: Measure, amount: Amount) -> String {
        format!("{} {}", self.texts.say(measure_key(measure)), self.figure(amount))
    }

    fn figure(&self, amount: Amount) -> String {
        match amount {
            Amount::Count(count) => count.to_string(),
            // A layout without cuts.
            Amount::Size(length) if length == Length::from_units(i64::MAX) => self.texts.say("layout-no-cut"),
            Amount::Size(length) => self.fine(length),
        }
    }

    fn tiles(&mut self, id: &TileId, cutting: &TileCutting) {
        let size = self
            .job
            .tiles
            .get(id)
            .map(|tile| format!("{} × {}", self.fine(tile.width), self.fine(tile.height)));
        let (bought, cut_into) = (cutting.bought(), cutting.plan.tiles());
        let bound = if bought == cutting.bound() { "layout-proved" } else { "layout-at-least" };
        let saved = cutting.plan.in_setting_order.saturating_sub(cut_into);
        self.heading("layout-tile", &[("tile", &id.0), ("size", &size.unwrap_or_default())]);
        self.say("layout-made-of", &[("whole", &cutting.full), ("cut", &cut_into), ("bought", &bought)]);
        self.say(bound, &[("bound", &cutting.bound())]);
        self.say("layout-saved", &[("count", &saved)]);
    }

    fn figures(&mut self) {
        let figures = self.option.figures;
        let narrowest =
            figures.narrowest_cut.map_or_else(|| self.texts.say("layout-no-cut"), |least| self.cut(least));
        self.lines.push('\n');
        for (name, value) in [
            ("layout-narrowest", narrowest),
            ("layout-slivers", figures.slivers.to_string()),
            ("layout-saw-cuts", figures.cuts.to_string()),
            ("layout-base-gap", self.fine(figures.base_gap_largest)),
        ] {
            let name = self.texts.say(name);
            self.line(0, &format!("{name}: {value}"));
        }
    }

    fn wall(&mut self, surface: &Surface, courses: &WallCourses) {
        self.heading("wall-named", &[("name", &surface.name), ("id", &surface.id.as_str())]);
        if surface.outline.is_some() {
            self.set_out(surface);
        } else {
            self.first_course(surface, courses);
        }
        for course in courses.courses.iter().rev() {
            self.course(surface, course);
        }
    }

    /// Where the joints of a surface given by its outline lie, in its own axes.
    fn set_out(&mut self, surface: &Surface) {
        let layout = &self.option.layout;
        if let Some(start) = layout.starts.get(&surface.id) {
            self.say("report-start-at", &[("x", &self.fine(*start))]);
        }
        if let Some(line) = layout.course_line.get(&surface.id) {
            self.say("report-line-at", &[("y", &self.fine(*line))]);
        }
    }

    /// How a wall is begun, from its left end and its level line.
    fn first_course(&mut self, surface: &Surface, courses: &WallCourses) {
        let layout = &self.option.layout;
        let first = match courses.first_course {
            _ if courses.stands_whole(self.job.unit) => "report-stands-whole",
            FirstCourse::Propped => "report-propped",
            FirstCourse::Scribed => "report-scribed",
        };
        self.say(first, &[]);
        if let Some(start) = layout.starts.get(&surface.id) {
            self.say("report-start", &[("x", &self.fine(*start))]);
        }
        if let Some(line) = layout.course_line.get(&surface.id) {
            self.say("report-line", &[("height", &self.height(*line))]);
        }
    }

    fn course(&mut self, surface: &Surface, course: &Course) {
        let pieces: Vec<&Piece> = self
            .option
            .pieces
            .iter()
            .filter(|piece| {
                piece.surface == surface.id && piece.course == course.number && piece.band == course.band
            })
            .collect();
        let whole = pieces.iter().filter(|piece| piece.full).count();
        let cut: Vec<String> =
            pieces.iter().filter(|piece| !piece.full).map(|piece| self.piece(piece)).collect();
        let key = if course.strip { "layout-strip-above" } else { "layout-course" };
        let name = self.texts.say_with(key, &[("number", &course.number)]);
        let whole = self.texts.say_with("report-whole", &[("count", &whole)]);
        let parts: Vec<String> = std::iter::once(whole).chain(cut).collect();
        self.line(2, &format!("{name}: {}", parts.join("; ")));
    }

    fn piece(&self, piece: &Piece) -> String {
        let key = if piece.sliver.is_some() { "layout-piece-sliver" } else { "layout-piece" };
        let (width, height) = (self.cut(piece.bounds.width()), self.cut(piece.bounds.height()));
        self.texts.say_with(key, &[("piece", &piece.id.0), ("width", &width), ("height", &height)])
    }

    fn advice(&mut self, advice: &Advice) {
        let word = match advice.standing() {
            Standing::Look => self.texts.say("layout-advice-look"),
            Standing::Note => self.texts.say("layout-advice-note"),
            Standing::Kept => self.texts.say("layout-advice-kept"),
        };
        let says = self.findings(advice);
        self.line(2, &format!("{word}: {says} ({})", findings::source(self.texts, advice)));
    }

    fn findings(&self, advice: &Advice) -> String {
        let named = |id: &SurfaceId| self.job.surfaces.iter().find(|surface| surface.id == *id);
        let sayer = Findings {
            texts: self.texts,
            unit: self.job.unit,
            wall: &|id| named(id).map_or_else(|| id.to_string(), |surface| self.name(surface)),
            height: &|height| self.height(height),
            gap: &|gap| self.fine(gap),
        };
        sayer.say(&advice.says)
    }

    /// What a surface is called, with its short name.
    fn name(&self, surface: &Surface) -> String {
        self.texts.say_with("wall-named", &[("name", &surface.name), ("id", &surface.id.as_str())])
    }

    /// A height above or below the level line.
    fn height(&self, height: Length) -> String {
        let key = match height.cmp(&Length::ZERO) {
            Ordering::Greater => "height-above",
            Ordering::Equal => "height-at",
            Ordering::Less => "height-below",
        };
        self.texts.say_with(key, &[("height", &self.fine(height.abs()))])
    }

    /// A cut that must fit its space.
    fn cut(&self, length: Length) -> String {
        self.texts.length(&length.show(self.job.unit, Rounding::FitsIn))
    }

    fn fine(&self, length: Length) -> String {
        self.texts.length(&length.show_fine(self.job.unit, Rounding::Nearest))
    }

    fn heading(&mut self, key: &str, values: &[(&str, &dyn Said)]) {
        self.lines.push('\n');
        let words = self.texts.say_with(key, values);
        self.line(0, &words);
    }

    fn say(&mut self, key: &str, values: &[(&str, &dyn Said)]) {
        let words = self.texts.say_with(key, values);
        self.line(2, &words);
    }

    fn line(&mut self, indent: usize, words: &str) {
        let written = writeln!(self.lines, "{:indent$}{words}", "");
        debug_assert!(written.is_ok(), "writing to a string cannot fail");
    }
}

fn aim_key(aim: Aim) -> &'static str {
    match aim {
        Aim::FewestTiles => "report-fewest-tiles",
        Aim::LargestCuts => "report-largest-cuts",
        Aim::BestLooks => "report-best-looks",
    }
}

fn measure_key(measure: Measure) -> &'static str {
    match measure {
        Measure::Tiles => "report-measure-tiles",
        Measure::NarrowestCut => "report-measure-narrowest",
        Measure::Cuts => "report-measure-cuts",
        Measure::Slivers => "report-measure-slivers",
        Measure::Symmetry => "report-measure-symmetry",
        Measure::OpeningEdges => "report-measure-opening-edges",
        Measure::BaseGap => "report-measure-base-gap",
        Measure::Warnings => "report-measure-warnings",
    }
}
