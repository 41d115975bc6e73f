//! What each stage is done with, and replacing a waiting time by what the bag says.

use std::collections::BTreeMap;

use axum::extract::{Path, Query};
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{
    Bed, Grounds, OwnLowest, OwnWindow, Product, ProductClass, ProductFault, StageKind, Window,
};

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
    Window::ALL.into_iter().filter(|window| window.leaves() == Some(stage)).collect()
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
        if !faults.is_empty() {
            return Err(faults);
        }
        let product = Product::new(name, class, own);
        product.and_then(|product| lowest.into_iter().try_fold(product, Product::with_lowest)).map_err(
            |fault| {
                add(&mut faults, &fault, words);
                faults
            },
        )
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
