//! The page of the layout in force.

use askama::Template;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use trade::advice::{Advice, Standing};
use trade::measure::{Layout, Length, Surface, TileId};
use trade::search::{self, LayoutOption, TileCutting};

use super::better::{Better, of_a_quick_one};
use super::choices::{Choices, Heights, LineChoice, PROPOSALS, Span};
use super::form::{JOINT_FIELD, LINE_FIELD, start_field};
use super::proof::ProofWords;
use super::wall::{Drawn, WallPart};
use super::words::Words;
use super::{JOINT_ANCHOR, LINE_ANCHOR};
use crate::app::App;
use crate::store::StoredSheet;
use crate::web::ask::Measure;
use crate::web::error::PageError;
use crate::web::form::{Choice, Faults, Fields};
use crate::web::page::{Frame, Here, page};
use crate::web::urls;
use crate::web::walls::{Missing, misread, missing, open_corners};
use crate::work::{NoPlan, Planned};

/// What was sent and not saved, and what stands open.
#[derive(Default)]
pub struct Typed {
    pub fields: Fields,
    pub faults: Faults,
    /// Someone else was quicker.
    pub outrun: bool,
    /// The id of the part whose choices stand open.
    pub open: String,
    /// How many pieces are cut already.
    pub cut: usize,
}

/// The layout in force.
#[derive(Template)]
#[template(path = "layout/show.html")]
pub struct Show {
    frame: Frame,
    faults: Faults,
    outrun: bool,
    /// Pieces are cut already: what a move does to them.
    cut_already: Option<String>,
    action: String,
    version: i64,
    file_url: String,
    cuts_url: String,
    proof_url: String,
    options_url: String,
    /// How many layouts are worth a look beside this one, where that is known.
    others: String,
    /// A layout at hand that beats this one.
    better: Option<Better>,
    /// That nobody chose this one and others are better, while nothing is cut by it.
    quick: Option<String>,
    /// Readings that the layout rests on and that their neighbours do not bear out.
    misread: Vec<Missing>,
    /// Inside corners of which nobody has said which wall they meet.
    corners: Vec<Missing>,
    totals: Vec<Total>,
    figures: Vec<Figure>,
    walls: Vec<WallPart>,
    line: LinePart,
    joint: JointPart,
    advice: Vec<AdviceLine>,
    /// Something was chosen by hand.
    chosen: bool,
}

/// The tiles of one kind to buy.
struct Total {
    tile: String,
    bought: String,
    made_of: String,
    proved: bool,
    /// What a lead can repeat to a customer.
    repeat: String,
    proof: ProofWords,
}

/// One number with its name.
pub struct Figure {
    pub name: String,
    pub value: String,
    /// The class of a state, or nothing.
    pub state: &'static str,
}

/// One choice as a button, or as it is now.
pub struct Offer {
    pub words: String,
    pub gives: String,
    pub typed: String,
    pub way: &'static str,
    pub in_force: bool,
}

/// What a field shows of a length, and the length: sent back unchanged, nothing moves by what was rounded off.
pub struct Exact {
    pub shown: String,
    pub exact: String,
}

/// The course line of all walls.
struct LinePart {
    open: bool,
    now: String,
    measure: Measure,
    exact: Exact,
    way: &'static str,
    ways: Vec<Choice>,
    offers: Vec<Offer>,
    chosen: bool,
}

/// The joint.
struct JointPart {
    open: bool,
    now: String,
    measure: Measure,
    chosen: bool,
}

/// What one rule says.
pub struct AdviceLine {
    pub state: &'static str,
    pub word: String,
    pub says: String,
    pub source: String,
}

/// The page in place of a layout.
#[derive(Template)]
#[template(path = "layout/no_layout.html")]
struct NoLayout {
    frame: Frame,
    reasons: Vec<Missing>,
    action: String,
    version: i64,
    /// Something was chosen by hand, which may be what is in the way.
    chosen: bool,
}

impl Show {
    /// The page as it stands, with what was typed and not saved.
    pub fn new(
        app: &App,
        stored: &StoredSheet,
        planned: &Planned,
        choices: &Choices,
        mut typed: Typed,
    ) -> Self {
        let frame = frame(app, stored).faulty_if(!typed.faults.is_empty());
        let words = Words::of(&app.texts, stored);
        let option = &planned.option;
        put_what_is_in_force(&mut typed.fields, &words, planned);
        let drawn = Drawn { stored, planned, words: &words, frame: &frame, typed: &typed };
        let no_starts = Vec::new();
        let wall = |surface: &Surface| {
            WallPart::new(&drawn, surface, choices.starts.get(&surface.id).unwrap_or(&no_starts))
        };
        let listed = app.work.options_at_hand(stored);
        let first = listed.as_ref().and_then(|listed| listed.options.options.first());
        let chosen = stored.sheet.layout != Layout::default();
        let mut kinds: Vec<_> = option.cutting.iter().collect();
        kinds.sort_by_key(|(_, cutting)| std::cmp::Reverse(cutting.bought()));
        Self {
            outrun: typed.outrun,
            cut_already: (typed.cut > 0).then(|| frame.say1("layout-cut-already", "count", &typed.cut)),
            action: urls::layout(&stored.id),
            version: stored.version,
            file_url: urls::job_file(&stored.id),
            cuts_url: urls::cut_list(&stored.id),
            proof_url: urls::proof_file(&stored.id),
            options_url: urls::options(&stored.id),
            others: others(app, stored, planned, &words),
            better: first.and_then(|first| Better::of(&words, stored, option, first)),
            quick: (!chosen && typed.cut == 0).then(|| of_a_quick_one(&words, option, first)).flatten(),
            misread: misread(stored, &app.texts),
            corners: open_corners(stored, &app.texts),
            totals: kinds.into_iter().map(|(id, cutting)| Total::new(&words, planned, id, cutting)).collect(),
            figures: figures(&words, option),
            walls: planned.job.surfaces.iter().filter_map(wall).collect(),
            line: LinePart::new(&drawn, &choices.lines),
            joint: JointPart::new(&drawn),
            advice: option.advice.iter().map(|advice| AdviceLine::new(&words, advice)).collect(),
            chosen,
            faults: typed.faults.clone(),
            frame,
        }
    }
}

/// The page in place of a layout, as an answer: where only too many wait, it says to come back.
pub fn no_layout(app: &App, stored: &StoredSheet, why: &NoPlan) -> Result<Response, PageError> {
    let answer = page(&NoLayout::new(app, stored, why))?;
    let status = if *why == NoPlan::Busy { StatusCode::SERVICE_UNAVAILABLE } else { StatusCode::OK };
    Ok((status, answer).into_response())
}

impl NoLayout {
    /// The page in words.
    fn new(app: &App, stored: &StoredSheet, why: &NoPlan) -> Self {
        let here = urls::layout(&stored.id);
        let elsewhere = |reason: Missing| match reason.url == here {
            true => Missing {
                url: urls::job(&stored.id),
                link: app.texts.say("layout-to-walls"),
                says: reason.says,
            },
            false => reason,
        };
        Self {
            frame: frame(app, stored),
            reasons: missing(why, stored, &app.texts).into_iter().map(elsewhere).collect(),
            action: here.clone(),
            version: stored.version,
            chosen: stored.sheet.layout != Layout::default(),
        }
    }
}

fn frame(app: &App, stored: &StoredSheet) -> Frame {
    Frame::of_job(app, app.texts.say("layout-title"), &stored.id, &stored.sheet.name, Here::Wall)
}

/// Fills every field that was not typed into with what is in force.
fn put_what_is_in_force(fields: &mut Fields, words: &Words, planned: &Planned) {
    let layout = &planned.option.layout;
    for (wall, start) in &layout.starts {
        fields.put(&start_field(wall), words.field(*start));
    }
    let line = words.today(line_in_force(planned));
    fields.put(LINE_FIELD, words.field(line.abs()));
    fields.put("way", way_of(line));
    fields.put(JOINT_FIELD, words.tape.typed(planned.job.joint_in(layout)));
}

/// y of a joint between courses, in the first line's frame.
fn line_in_force(planned: &Planned) -> Length {
    planned.option.layout.course_line.values().next().copied().unwrap_or_default()
}

impl Total {
    fn new(words: &Words, planned: &Planned, id: &TileId, cutting: &TileCutting) -> Self {
        let tile = planned.job.tiles.get(id);
        let size = tile.map(|tile| {
            format!("{} × {}", words.tape.show_gap(tile.width), words.tape.show_gap(tile.height))
        });
        let (bought, bound, cut_into) = (cutting.bought(), cutting.bound(), cutting.plan.tiles());
        let in_order = cutting.full + cutting.plan.in_setting_order.max(cut_into);
        let in_order_key = if in_order > bought { "layout-in-order" } else { "layout-in-order-same" };
        let (key, proved) =
            if bought == bound { ("layout-repeat-proved", true) } else { ("layout-repeat-open", false) };
        let tiles = words.say1("layout-tiles", "count", &bought);
        let tile = words.say_with("layout-tile", &[("tile", &id.0), ("size", &size.unwrap_or_default())]);
        Self {
            tile: words.say1("layout-to-buy", "tile", &tile),
            bought: words.say1("layout-tiles", "count", &bought),
            made_of: words.say_with(
                "layout-made-of",
                &[("whole", &cutting.full), ("cut", &cut_into), ("bought", &bought)],
            ),
            proved,
            repeat: words.say_with(
                key,
                &[
                    ("tiles", &tiles),
                    ("bound", &bound),
                    ("order", &words.say1(in_order_key, "count", &in_order)),
                ],
            ),
            proof: ProofWords::of(words, cutting),
        }
    }
}

/// The figures that a layout is chosen by.
fn figures(words: &Words, option: &LayoutOption) -> Vec<Figure> {
    let shown = search::Measure::ALL.into_iter().filter(|measure| *measure != search::Measure::Tiles);
    let figure = |measure: search::Measure| Figure {
        name: words.measure(measure),
        value: words.amount(measure, measure.of(&option.figures)),
        state: match measure {
            search::Measure::Slivers if option.figures.slivers > 0 => "state look",
            search::Measure::Warnings if option.figures.warnings > 0 => "state look",
            _ => "",
        },
    };
    shown.map(figure).collect()
}

/// Layouts worth a look beside this one, as far as they have been looked for.
fn others(app: &App, stored: &StoredSheet, planned: &Planned, words: &Words) -> String {
    let Some(listed) = app.work.options_at_hand(stored) else { return words.say("layout-others") };
    let is_this = |option: &&LayoutOption| {
        option.pieces == planned.option.pieces && option.courses == planned.option.courses
    };
    let others = listed.options.options.iter().filter(|option| !is_this(option)).count();
    words.say1("layout-others-count", "count", &others)
}

impl Figure {
    /// A number by the key of its name.
    pub fn new(words: &Words, name: &str, value: String) -> Self {
        Self { name: words.say(name), value, state: "" }
    }

    /// How many slivers: none is well, any is to be looked at.
    pub fn slivers(words: &Words, count: usize) -> Self {
        let state = if count > 0 { "state look" } else { "" };
        Self { state, ..Self::new(words, "layout-slivers", count.to_string()) }
    }
}

impl Exact {
    /// Of a length that a field shows.
    pub fn of(words: &Words, length: Length) -> Self {
        Self { shown: words.field(length), exact: length.exact() }
    }
}

impl LinePart {
    fn new(drawn: &Drawn<'_>, lines: &[LineChoice]) -> Self {
        let words = drawn.words;
        let way = if drawn.typed.fields.get("way") == "above" { "above" } else { "below" };
        Self {
            open: drawn.opens(LINE_ANCHOR, LINE_FIELD, "line"),
            now: words.say1("layout-line-now", "height", &words.height(line_in_force(drawn.planned))),
            measure: drawn.measure(LINE_FIELD, "layout-line"),
            exact: Exact::of(words, words.today(line_in_force(drawn.planned)).abs()),
            way,
            ways: vec![
                Choice::new("below", words.say("layout-way-below")),
                Choice::new("above", words.say("layout-way-above")),
            ],
            offers: line_offers(words, lines),
            chosen: !drawn.stored.sheet.layout.course_line.is_empty(),
        }
    }
}

fn way_of(today: Length) -> &'static str {
    if today > Length::ZERO { "above" } else { "below" }
}

/// The best few that differ on the tape.
fn line_offers(words: &Words, lines: &[LineChoice]) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for offer in lines.iter().map(|choice| line_offer(words, choice)) {
        match offers.iter_mut().find(|other| other.words == offer.words) {
            Some(same) if offer.in_force => *same = offer,
            Some(_) => (),
            None => offers.push(offer),
        }
    }
    offers.truncate(PROPOSALS);
    offers
}

fn line_offer(words: &Words, choice: &LineChoice) -> Offer {
    let today = words.today(choice.line);
    let Heights { first, last } = &choice.gives;
    let (first, last) = (span(words, first), span(words, last));
    Offer {
        words: words.say_with("layout-line-gives", &[("first", &first), ("last", &last)]),
        gives: words.say1("layout-line-at", "height", &words.height(choice.line)),
        typed: today.abs().exact(),
        way: way_of(today),
        in_force: choice.in_force,
    }
}

/// `whole`, `140 mm`, or `180 to 200 mm`.
fn span(words: &Words, span: &Span) -> String {
    let (least, most) = (words.cut(span.least), words.cut(span.most));
    if span.least >= span.whole {
        words.say("layout-whole")
    } else if least == most {
        least
    } else {
        words.say_with("layout-from-to", &[("least", &least), ("most", &most)])
    }
}

impl JointPart {
    fn new(drawn: &Drawn<'_>) -> Self {
        let words = drawn.words;
        let now = drawn.planned.job.joint_in(&drawn.planned.option.layout);
        let on_sheet = drawn.stored.sheet.joint;
        Self {
            open: drawn.opens(JOINT_ANCHOR, JOINT_FIELD, "joint"),
            now: if now == on_sheet {
                words.say1("layout-joint-now", "joint", &words.tape.show_gap(now))
            } else {
                let (joint, sheet) = (words.tape.show_gap(now), words.tape.show_gap(on_sheet));
                words.say_with("layout-joint-other", &[("joint", &joint), ("sheet", &sheet)])
            },
            measure: drawn.measure(JOINT_FIELD, "layout-joint"),
            chosen: drawn.stored.sheet.layout.joint.is_some(),
        }
    }
}

impl AdviceLine {
    /// In words.
    pub fn new(words: &Words, advice: &Advice) -> Self {
        let (state, word) = match advice.standing() {
            Standing::Look => ("look", "layout-advice-look"),
            Standing::Note => ("none", "layout-advice-note"),
            Standing::Kept => ("done", "layout-advice-kept"),
        };
        Self { state, word: words.say(word), says: words.finding(advice), source: words.source(advice) }
    }
}
