//! What each stage is done with, and replacing a waiting time by what the bag says.

use std::collections::BTreeMap;

use axum::extract::{Path, Query};
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{
    Bed, Figure, Grounds, Measure, OwnLowest, OwnWindow, Powder, Product, ProductClass, ProductFault, Span,
    StageKind, Water, Window,
};

use super::batch_page::figure_label;
use super::batch_words::{Amounts, Buckets, buckets};
use super::product_page::{ChangePage, ProductsPage};
use super::sight::Sight;
use super::temperature::degrees;
use super::words::Words;
use crate::app::App;
use crate::store::{JobId, ProductChange, crew_name};
use crate::web::error::PageError;
use crate::web::form::{Faults, Sent};
use crate::web::page::{faulty, page};
use crate::web::session::Lead;
use crate::web::times::span;
use crate::web::urls;

/// The stage whose product is to be changed, where one is named.
#[derive(serde::Deserialize)]
pub struct Asked {
    stage: Option<String>,
}

/// A product as it is typed, by the names of its fields: which windows it has depends on the stage.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(transparent)]
pub struct TypedProduct(BTreeMap<String, String>);

/// Every stage's product, or the form for one.
pub async fn products(
    app: App,
    Path(job): Path<JobId>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let Some(name) = asked.stage else { return page(&ProductsPage::new(&app, &sight)) };
    let stage = stage_of(&sight, &name)?;
    let typed = TypedProduct::of(&sight, stage, &sight.words(&app));
    page(&ChangePage::new(&app, &sight, stage, &typed, Faults::default()))
}

/// Takes another product for a stage, or other waiting times of the same.
pub async fn save_product(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<TypedProduct>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let stage = stage_of(&sight, sent.typed.field("stage"))?;
    match sent.typed.read(&sight, stage, &sight.words(&app)) {
        Ok(product) => {
            let change = ProductChange { key: sent.key, job: job.clone(), stage, product };
            app.store.save_product(change, lead.0).await?;
            Ok(Redirect::to(&urls::products(&job)).into_response())
        }
        Err(faults) => faulty(&ChangePage::new(&app, &sight, stage, &sent.typed, faults)),
    }
}

fn stage_of(sight: &Sight, name: &str) -> Result<StageKind, PageError> {
    let stage = StageKind::from_name(name).ok_or(PageError::NotFound)?;
    let asks = sight.kinds().any(|kind| kind == stage) && !windows_of(stage).is_empty();
    if asks { Ok(stage) } else { Err(PageError::NotFound) }
}

/// The windows that a stage's product may have.
pub fn windows_of(stage: StageKind) -> Vec<Window> {
    Window::ALL.into_iter().filter(|window| window.leaves() == stage).collect()
}

/// The classes of product that a stage is done with: those that state one of its windows.
pub fn classes_of(stage: StageKind, bed: Bed) -> Vec<ProductClass> {
    let states = |class: &ProductClass| {
        windows_of(stage).into_iter().any(|window| class.default_window(window, bed).is_some())
    };
    ProductClass::ALL.into_iter().filter(states).collect()
}

/// The field of the lowest working temperature.
pub const LOWEST: &str = "lowest";
/// The field of why it is lower than usual.
pub const WHY_LOWEST: &str = "why-lowest";

/// The field of a figure of mixing.
pub fn figure_field(figure: Figure) -> String {
    format!("figure-{}", figure.name().replace('_', "-"))
}

/// The figures of mixing that products of these classes have, in the order of a bag.
pub fn figures_of(classes: &[ProductClass]) -> Vec<Figure> {
    let has = |class: &ProductClass, figure: Figure| {
        class.default_figure(figure).is_some() || figure == Figure::Covers && class.takes_water()
    };
    Figure::ALL.into_iter().filter(|figure| classes.iter().any(|class| has(class, *figure))).collect()
}

/// The field of a window's length.
pub fn span_field(window: Window) -> String {
    format!("span-{}", window.name())
}

/// The field of why a window is shorter than usual.
pub fn why_field(window: Window) -> String {
    format!("why-{}", window.name())
}

impl TypedProduct {
    /// The form as it first stands: the product in use, with the waiting times that the crew gave.
    fn of(sight: &Sight, stage: StageKind, words: &Words) -> Self {
        let times = &words.times;
        let mut typed = BTreeMap::new();
        if let Some(product) = sight.stages.products.get(&stage) {
            typed.insert("class".to_owned(), product.class().name().to_owned());
            typed.insert("name".to_owned(), crew_name(product).unwrap_or_default().to_owned());
            for own in product.own().filter(|own| own.bed == sight.stages.bed) {
                let why = own.grounds.as_ref().map_or("", |grounds| grounds.as_str());
                typed.insert(span_field(own.window), times.span(own.span));
                typed.insert(why_field(own.window), why.to_owned());
            }
            for (figure, amount) in product.own_figures() {
                let amounts = Amounts::of(words, sight);
                typed.insert(figure_field(figure), amounts.figure(figure, amount));
            }
            if let Some(own) = product.own_lowest() {
                let why = own.grounds.as_ref().map_or("", |grounds| grounds.as_str());
                typed.insert(LOWEST.to_owned(), words.degrees(own.temperature));
                typed.insert(WHY_LOWEST.to_owned(), why.to_owned());
            }
        }
        Self(typed)
    }

    /// What was typed in a field.
    pub fn field(&self, name: &str) -> &str {
        self.0.get(name).map_or("", String::as_str)
    }

    /// The product, or what to change.
    fn read(&self, sight: &Sight, stage: StageKind, words: &Words) -> Result<Product, Faults> {
        let mut faults = Faults::default();
        let bed = sight.stages.bed;
        let class = ProductClass::from_name(self.field("class"));
        let class = class.filter(|class| classes_of(stage, bed).contains(class));
        let Some(class) = faults.take("class", class.ok_or_else(|| words.say("fault-choice"))) else {
            return Err(faults);
        };
        let name = Some(self.field("name").trim()).filter(|name| !name.is_empty()).unwrap_or(class.name());
        if let Err(fault) = Product::new(name, class, Vec::new()) {
            add(&mut faults, &fault, words);
        }
        let reading = Reading { words, class, bed };
        let own = windows_of(stage).into_iter().filter_map(|window| {
            let (typed, why) = (self.field(&span_field(window)), self.field(&why_field(window)));
            reading.window(window, typed, why, &mut faults)
        });
        let mut own: Vec<OwnWindow> = own.collect();
        let same = |product: &&Product| product.class() == class && product.name() == name;
        if let Some(before) = sight.stages.products.get(&stage).filter(same) {
            own.extend(before.own().filter(|own| own.bed != bed).cloned());
        }
        let lowest = self.lowest(class, stage, sight, words, &mut faults);
        let figures = self.figures(class, stage, sight, words, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        let product = Product::new(name, class, own);
        let product = product.and_then(|product| lowest.into_iter().try_fold(product, Product::with_lowest));
        product.and_then(|product| product.with_figures(figures)).map_err(|fault| {
            add(&mut faults, &fault, words);
            faults
        })
    }

    /// What the bag says of mixing as it is typed; left out where the class's own holds or something is wrong.
    fn figures(
        &self,
        class: ProductClass,
        stage: StageKind,
        sight: &Sight,
        words: &Words,
        faults: &mut Faults,
    ) -> BTreeMap<Figure, i64> {
        let before = sight.stages.products.get(&stage);
        let mut figures = BTreeMap::new();
        for figure in figures_of(&classes_of(stage, sight.stages.bed)) {
            let typed = self.field(&figure_field(figure)).trim();
            if typed.is_empty() {
                continue;
            }
            // It comes back rounded; as long as nobody changes it, what was meant stays.
            let kept = before.and_then(|product| product.own_figure(figure));
            let kept = kept.filter(|amount| Amounts::of(words, sight).figure(figure, *amount) == typed);
            let read = kept.map_or_else(|| amount(typed, figure, sight, words), Ok);
            let Some(amount) = faults.take(&figure_field(figure), read) else { continue };
            figures.insert(figure, amount);
            let alone = Product::new(class.name(), class, Vec::new());
            let alone = alone.and_then(|product| product.with_figures(BTreeMap::from([(figure, amount)])));
            match alone {
                // Whether two of them agree is seen when all are there.
                Ok(_) | Err(ProductFault::FiguresCross { .. }) => {}
                Err(fault) => add(faults, &fault, words),
            }
        }
        figures
    }
}

/// A figure as it is typed, in the unit of its measure. A bare number of a time is minutes: no bag says hours of a pot
/// life without the word.
fn amount(typed: &str, figure: Figure, sight: &Sight, words: &Words) -> Result<i64, String> {
    let bare = typed.bytes().all(|byte| byte.is_ascii_digit());
    let unit = buckets(sight.head.unit);
    match figure.measure() {
        Measure::Time if bare => {
            let minutes = typed.parse::<i64>().map(|minutes| Span::from_minutes(minutes).millis());
            minutes.map_err(|_| words.say("fault-span"))
        }
        Measure::Time => span(typed).map(Span::millis).ok_or_else(|| words.say("fault-span")),
        Measure::Water => {
            Water::read(typed, unit).map(Water::millilitres).map_err(|_| words.say("fault-water"))
        }
        Measure::Powder => {
            let bare = if unit == Buckets::Metric { 1000 } else { 454 };
            Powder::read(typed, bare).map(Powder::grams).map_err(|_| words.say("fault-bag"))
        }
        Measure::Area => area(typed, unit).ok_or_else(|| words.say("fault-area")),
    }
}

/// An area as people write it, in square centimetres: `6`, `6.5 m²`, `65 sq ft`.
fn area(typed: &str, unit: Buckets) -> Option<i64> {
    let typed = typed.trim().to_lowercase().replace(',', ".");
    let ends = typed.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(typed.len());
    let (number, named) = typed.split_at(ends);
    let (whole, decimals) = number.split_once('.').unwrap_or((number, "0"));
    let tenths = decimals.get(..1)?.parse::<i64>().ok().filter(|_| decimals.len() == 1)?;
    let tenths = whole.parse::<i64>().ok().filter(|whole| *whole < 10_000)? * 10 + tenths;
    match (named.trim(), unit) {
        ("m²" | "m2" | "sqm", _) | ("", Buckets::Metric) => Some(tenths * 1000),
        ("sq ft" | "sqft" | "ft²" | "ft2" | "pies²" | "pie²", _) | ("", Buckets::Us) => {
            Some(tenths * 92_903 / 1000)
        }
        _ => None,
    }
}

impl TypedProduct {
    /// The lowest working temperature as it is typed; `None` where the class's own holds or something is wrong.
    fn lowest(
        &self,
        class: ProductClass,
        stage: StageKind,
        sight: &Sight,
        words: &Words,
        faults: &mut Faults,
    ) -> Option<OwnLowest> {
        let typed = self.field(LOWEST);
        if typed.trim().is_empty() {
            return None;
        }
        // It comes back rounded to whole degrees; as long as nobody changes those, what was meant stays.
        let before = sight.stages.products.get(&stage).and_then(Product::own_lowest);
        let before = before.map(|own| own.temperature).filter(|at| words.degrees(*at) == typed.trim());
        let temperature = match before {
            Some(before) => before,
            None => faults.take(LOWEST, degrees(typed, sight.scale(), words.texts()))?,
        };
        let own = OwnLowest { temperature, grounds: Grounds::new(self.field(WHY_LOWEST)) };
        let product = Product::new(class.name(), class, Vec::new());
        match product.and_then(|product| product.with_lowest(own.clone())) {
            Ok(_) => Some(own),
            Err(fault) => {
                add(faults, &fault, words);
                None
            }
        }
    }
}

/// Puts a fault to the field that mends it.
fn add(faults: &mut Faults, fault: &ProductFault, words: &Words) {
    let (field, says) = match fault {
        ProductFault::Name => {
            let most = Product::MOST_CHARACTERS;
            ("name".to_owned(), words.say_with("fault-product-name", &[("most", &most)]))
        }
        ProductFault::NotOfThisClass { window, .. } => {
            (span_field(*window), words.say("fault-window-not-of-class"))
        }
        ProductFault::OutOfRange { window, .. } => (span_field(*window), words.say("fault-span-range")),
        ProductFault::Twice { window, .. } => (span_field(*window), words.say("fault-window-twice")),
        ProductFault::LaxerWithoutReason { window, default, .. } => {
            let usual = words.times.span(*default);
            (why_field(*window), words.say_with("fault-laxer", &[("usual", &usual)]))
        }
        ProductFault::FigureNotOfThisClass { figure } => {
            (figure_field(*figure), words.say("fault-figure-not-of-class"))
        }
        ProductFault::FigureOutOfRange { figure } => (figure_field(*figure), words.say("fault-figure-range")),
        ProductFault::FiguresCross { less, more } => {
            let (less_words, more_words) = (figure_label(words, *less), figure_label(words, *more));
            let values: [(&str, &dyn crate::texts::Said); 2] = [("less", &less_words), ("more", &more_words)];
            (figure_field(*more), words.say_with("fault-figures-cross", &values))
        }
        ProductFault::ColderWithoutReason { default, .. } => {
            let usual = words.degrees(*default);
            (WHY_LOWEST.to_owned(), words.say_with("fault-lowest-colder", &[("usual", &usual)]))
        }
    };
    faults.add(&field, says);
}

/// What a window is read against.
struct Reading<'a> {
    words: &'a Words,
    class: ProductClass,
    bed: Bed,
}

impl Reading<'_> {
    /// One window as it is typed; `None` where the class's own holds or something is wrong.
    fn window(&self, window: Window, typed: &str, why: &str, faults: &mut Faults) -> Option<OwnWindow> {
        if typed.trim().is_empty() {
            return None;
        }
        let span = span(typed).ok_or_else(|| self.words.say("fault-span"));
        let span = faults.take(&span_field(window), span)?;
        let own = OwnWindow { window, bed: self.bed, span, grounds: Grounds::new(why) };
        match Product::new(self.class.name(), self.class, vec![own.clone()]) {
            Ok(_) => Some(own),
            Err(fault) => {
                add(faults, &fault, self.words);
                None
            }
        }
    }
}
