//! The pages of mixes, and the strip of those in use that other pages have too.

use askama::Template;
use trade::cure::{BatchStanding, Figure, Span, StageKind};

use super::batch::{TypedBatch, TypedRight};
use super::batch_size::{Advised, Ground};
use super::batch_words::{Amounts, Buckets, buckets};
use super::page::frame;
use super::sight::Sight;
use super::words::Words;
use crate::app::App;
use crate::store::{JobId, KeptBatch};
use crate::web::error::PageError;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::Frame;
use crate::web::urls;

/// A mix is shown so long after it was made, unless somebody says that it is used up: then nobody thinks of it any more
/// (common practice).
const SHOWN_FOR: Span = Span::from_hours(12);

/// So many earlier mixes are listed: those of the last days.
const LISTED: usize = 40;

/// Every mix, and the forms to tell of another.
#[derive(Template)]
#[template(path = "board/batches.html")]
pub struct BatchesPage {
    frame: Frame,
    faults: Faults,
    strip: Strip,
    forms: Vec<MixForm>,
    earlier: Vec<EarlierLine>,
    water_hint: String,
    powder_hint: String,
    degrees_hint: String,
    board_url: String,
    products_url: String,
}

/// What is in use, and what can be mixed with one tap.
pub struct Strip {
    pub lines: Vec<RunningLine>,
    pub taps: Vec<Tap>,
    pub url: String,
}

/// A mix in use.
pub struct RunningLine {
    pub batch: String,
    pub url: String,
    /// The class that draws its state's shape.
    pub state: &'static str,
    pub says: String,
    /// Until the end of its pot life, where that is known.
    pub left: Option<Left>,
    pub more: Vec<String>,
    pub wet: Option<String>,
    pub over_url: String,
}

/// How long something still is.
pub struct Left {
    pub millis: i64,
    pub span: String,
}

/// One tap: what it mixes and of which lot.
pub struct Tap {
    pub words: String,
    pub lot: String,
    pub url: String,
}

struct MixForm {
    /// A prefix that keeps the ids of two forms apart.
    stage: &'static str,
    product: String,
    advised: Option<Advised>,
    url: String,
    open: bool,
    takes_water: bool,
    lot: Field,
    powder: Field,
    water: Field,
    degrees: Field,
    minutes: Field,
}

struct EarlierLine {
    batch: String,
    url: Option<String>,
    struck: bool,
    told: Vec<String>,
    wet: Option<String>,
    /// What was set from it.
    behind: Option<String>,
}

/// One mix, with the form that puts it right.
#[derive(Template)]
#[template(path = "board/batch.html")]
pub struct CorrectPage {
    frame: Frame,
    faults: Faults,
    batch: String,
    told: Vec<String>,
    right: Field,
    rights: Vec<Choice>,
    takes_water: bool,
    lot: Field,
    powder: Field,
    water: Field,
    degrees: Field,
    reason: Field,
    powder_hint: String,
    water_hint: String,
    degrees_hint: String,
    url: String,
    back_url: String,
}

impl Strip {
    /// As it stands.
    pub fn of(words: &Words, sight: &Sight) -> Self {
        let in_use = |kept: &&KeptBatch| {
            kept.over.is_none() && !kept.withdrawn && sight.now() - kept.batch.mixed() <= SHOWN_FOR
        };
        let mixed = sight.kinds().filter(|stage| is_mixed(sight, *stage));
        Self {
            lines: sight
                .stages
                .batches
                .iter()
                .rev()
                .filter(in_use)
                .map(|kept| RunningLine::of(words, sight, kept))
                .collect(),
            taps: mixed.map(|stage| Tap::of(words, sight, stage)).collect(),
            url: urls::batches(sight.job()),
        }
    }
}

/// The strip, for pages that have no other use for the board.
///
/// # Errors
///
/// When there is no such job, or the store fails.
pub async fn strip(app: &App, job: &JobId) -> Result<Strip, PageError> {
    let sight = Sight::of(app, job).await?;
    Ok(Strip::of(&sight.words(app), &sight))
}

impl Tap {
    fn of(words: &Words, sight: &Sight, stage: StageKind) -> Self {
        let product = words.product(sight.stages.products.get(&stage));
        let lot = sight.usual_lot(stage);
        let key = if lot.is_empty() { "batch-mixed-now" } else { "batch-mixed-now-lot" };
        Self {
            words: words.say_with(key, &[("product", &product), ("lot", &lot)]),
            url: urls::mix(sight.job(), stage),
            lot,
        }
    }
}

impl RunningLine {
    fn of(words: &Words, sight: &Sight, kept: &KeptBatch) -> Self {
        let (windows, now) = (kept.batch.windows(), sight.now());
        let at = |key: &str, instant| words.say_with(key, &[("at", &words.times.at(instant))]);
        let left = |span: Span| Some(Left { millis: span.millis(), span: words.times.span(span) });
        let use_by = || at("batch-use-by", windows.use_by);
        let (state, says, left) = match kept.batch.standing(&sight.stages.now) {
            BatchStanding::Resting { left: rest } => {
                let good = rest + (windows.use_by - windows.rest_until);
                ("wait", at("batch-rests", windows.rest_until), left(good))
            }
            BatchStanding::Good { left: good } => ("ready", use_by(), left(good)),
            BatchStanding::Past { since } => {
                let since = words.times.span(since);
                let values: [(&str, &dyn crate::texts::Said); 2] =
                    [("at", &words.times.at(windows.use_by)), ("since", &since)];
                ("alarm", words.say_with("batch-past", &values), None)
            }
            BatchStanding::Unknown => ("alarm", words.say("batch-unknown"), None),
        };
        let resting = state == "wait";
        let wipe = windows.wipe.filter(|(_, by)| *by > now).map(|(from, by)| {
            let values: [(&str, &dyn crate::texts::Said); 2] =
                [("from", &words.times.at(from)), ("by", &words.times.at(by))];
            words.say_with("batch-wipe", &values)
        });
        let told = words.batch_told(sight, kept);
        Self {
            batch: words.batch(kept),
            url: urls::batch(sight.job(), &kept.first),
            state,
            says,
            left,
            more: resting.then(use_by).into_iter().chain(wipe).chain(told).collect(),
            wet: words.too_wet(sight, kept),
            over_url: urls::batch_used_up(sight.job(), &kept.first),
        }
    }
}

impl BatchesPage {
    /// As it stands, with what was typed for one stage and what is wrong with it.
    ///
    /// # Errors
    ///
    /// When the store fails.
    pub async fn new(
        app: &App,
        sight: &Sight,
        typed: Option<(StageKind, TypedBatch)>,
        faults: Faults,
    ) -> Result<Self, PageError> {
        let words = sight.words(app);
        let ground = Ground::of(app, sight).await?;
        let strip = Strip::of(&words, sight);
        let none = Faults::default();
        let mixed = sight.kinds().filter(|stage| is_mixed(sight, *stage));
        let forms = mixed.map(|stage| {
            let here = typed.as_ref().filter(|(of, _)| *of == stage).map(|(_, typed)| typed);
            let advised = ground.advise(&words, sight, stage);
            MixForm::new(&words, sight, stage, advised, here, if here.is_some() { &faults } else { &none })
        });
        let all = sight.stages.batches.iter().rev().take(LISTED);
        Ok(Self {
            forms: forms.collect(),
            earlier: all.map(|kept| EarlierLine::of(&words, sight, kept)).collect(),
            strip,
            water_hint: water_hint(&words, sight),
            powder_hint: powder_hint(&words, sight),
            degrees_hint: words.degrees_hint(),
            board_url: urls::board(sight.job()),
            products_url: urls::products(sight.job()),
            frame: frame(app, sight, words.say("batches-title"))
                .live(&sight.seen)
                .faulty_if(!faults.is_empty()),
            faults,
        })
    }
}

impl MixForm {
    fn new(
        words: &Words,
        sight: &Sight,
        stage: StageKind,
        advised: Option<Advised>,
        typed: Option<&TypedBatch>,
        faults: &Faults,
    ) -> Self {
        let product = sight.stages.products.get(&stage);
        let usual = TypedBatch { lot: sight.usual_lot(stage), ..TypedBatch::default() };
        let typed_now = typed.unwrap_or(&usual);
        let field = |name: &str, typed: &str| Field::new(name, typed).with(faults);
        Self {
            stage: stage.name(),
            product: words.product(product),
            advised,
            url: urls::mix(sight.job(), stage),
            open: typed.is_some(),
            takes_water: product.is_some_and(|product| product.class().takes_water()),
            lot: field("lot", &typed_now.lot),
            powder: field("powder", &typed_now.powder),
            water: field("water", &typed_now.water),
            degrees: field("degrees", &typed_now.degrees),
            minutes: field("minutes", &typed_now.minutes),
        }
    }
}

impl EarlierLine {
    fn of(words: &Words, sight: &Sight, kept: &KeptBatch) -> Self {
        let who = sight.stages.names.get(&kept.author).map_or("", String::as_str);
        let mixed = words.times.at(kept.batch.mixed());
        let told = words.say_with("batch-told", &[("who", &who), ("when", &mixed)]);
        let over = kept.over.map(|over| words.say_with("batch-over", &[("when", &words.times.at(over))]));
        let behind = behind(words, sight, kept);
        Self {
            batch: words.batch(kept),
            url: (!kept.withdrawn).then(|| urls::batch(sight.job(), &kept.first)),
            struck: kept.withdrawn,
            told: std::iter::once(told).chain(words.batch_told(sight, kept)).chain(over).collect(),
            wet: words.too_wet(sight, kept),
            behind: (!behind.is_empty())
                .then(|| words.say_with("batch-behind", &[("parts", &behind.join(", "))])),
        }
    }
}

/// The parts of walls that the log says were done from a mix, as it stands.
fn behind(words: &Words, sight: &Sight, kept: &KeptBatch) -> Vec<String> {
    let standing = trade::cure::standing(&sight.stages.log);
    let from_it = standing.into_iter().filter(|entry| {
        let note = sight.stages.notes.get(&entry.id);
        entry.what != trade::cure::What::Withdrawn
            && note.is_some_and(|note| note.batches.contains(&kept.first))
    });
    let mut parts: Vec<String> = from_it.map(|entry| words.part(&entry.part)).collect();
    parts.dedup();
    parts
}

impl CorrectPage {
    /// The form with what was typed, or what was told before, and what is wrong with it.
    pub fn new(
        app: &App,
        sight: &Sight,
        kept: &KeptBatch,
        typed: Option<TypedRight>,
        faults: Faults,
    ) -> Self {
        let words = sight.words(app);
        let typed = typed.unwrap_or_else(|| TypedRight {
            right: "figures".to_owned(),
            reason: String::new(),
            batch: told_before(&words, sight, kept),
        });
        let field = |name: &str, typed: &str| Field::new(name, typed).with(&faults);
        let choice = |value: &str| Choice::new(value, words.say(&format!("batch-right-{value}")));
        let mixed = words.say_with("batch-mixed-at", &[("when", &words.times.at(kept.batch.mixed()))]);
        Self {
            frame: frame(app, sight, words.say("batch-correct")).faulty_if(!faults.is_empty()),
            batch: words.batch(kept),
            told: std::iter::once(mixed).chain(words.batch_told(sight, kept)).collect(),
            right: field("right", &typed.right),
            rights: vec![choice("figures"), choice("never")],
            takes_water: kept.batch.product().class().takes_water(),
            lot: field("lot", &typed.batch.lot),
            powder: field("powder", &typed.batch.powder),
            water: field("water", &typed.batch.water),
            degrees: field("degrees", &typed.batch.degrees),
            reason: field("reason", &typed.reason),
            powder_hint: powder_hint(&words, sight),
            water_hint: water_hint(&words, sight),
            degrees_hint: words.degrees_hint(),
            url: urls::batch(sight.job(), &kept.first),
            back_url: urls::batches(sight.job()),
            faults,
        }
    }
}

fn told_before(words: &Words, sight: &Sight, kept: &KeptBatch) -> TypedBatch {
    let amounts = Amounts::of(words, sight);
    TypedBatch {
        lot: kept.lot.as_ref().map(|lot| lot.as_str().to_owned()).unwrap_or_default(),
        powder: kept.powder.map(|powder| amounts.powder(powder.grams())).unwrap_or_default(),
        water: kept.water.map(|water| amounts.water(water)).unwrap_or_default(),
        degrees: kept.temperature.map(|at| words.degrees(at)).unwrap_or_default(),
        minutes: String::new(),
    }
}

fn is_mixed(sight: &Sight, stage: StageKind) -> bool {
    sight.stages.products.get(&stage).is_some_and(|product| product.is_mixed())
}

fn powder_hint(words: &Words, sight: &Sight) -> String {
    words.say(match buckets(sight.head.unit) {
        Buckets::Metric => "batch-powder-hint-kg",
        Buckets::Us => "batch-powder-hint-lb",
    })
}

fn water_hint(words: &Words, sight: &Sight) -> String {
    words.say(match buckets(sight.head.unit) {
        Buckets::Metric => "batch-water-hint-l",
        Buckets::Us => "batch-water-hint-qt",
    })
}

/// What a figure of mixing is called on the product's pages.
pub fn figure_label(words: &Words, figure: Figure) -> String {
    words.say(&format!("figure-{}", figure.name()))
}
