//! What each stage of a job is done with. A job starts with the cautious classes; every change is an entry of the
//! log too, so that the record shows who made a window shorter, and why.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use sqlx::SqliteConnection;
use trade::cure::{
    Bed, Figure, Grounds, OwnLowest, OwnWindow, Product, ProductClass, Products, Span, StageKind, Window,
};

use super::event::{add_event, repeated};
use super::heartbeat::beat;
use super::temperature::temperature;
use super::{Actor, Appended, Event, EventKey, JobId, NewEvent, Store, StoreError};

/// The kind of a change of product in the log.
pub const PRODUCT: &str = "product";

/// A product to be used for a stage from now on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ProductChange {
    pub key: EventKey,
    pub job: JobId,
    pub stage: StageKind,
    pub product: Product,
}

/// A change of product, as the log has it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ProductChanged {
    pub stage: StageKind,
    pub product: Product,
    pub before: Option<Product>,
}

/// A product as it stands in the log.
#[derive(Serialize, Deserialize, Clone, Debug)]
pub(super) struct KeptProduct {
    name: String,
    class: String,
    windows: Vec<KeptWindow>,
    /// Left out where the class's own holds, as in every entry made before it could be told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lowest: Option<KeptLowest>,
    /// What the bag says of mixing, likewise.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    figures: BTreeMap<String, i64>,
}

#[derive(Serialize, Deserialize, Clone, Debug)]
struct KeptLowest {
    tenths: i32,
    reason: Option<String>,
}

#[derive(Serialize, Deserialize, Clone, Debug)]
struct KeptWindow {
    window: String,
    bed: String,
    milliseconds: i64,
    reason: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct Detail {
    stage: String,
    product: KeptProduct,
    #[serde(default)]
    before: Option<KeptProduct>,
}

/// What a new job is taken to be done with until the crew says otherwise.
const AT_START: [(StageKind, ProductClass); 5] = [
    (StageKind::Membrane, ProductClass::LiquidMembrane),
    (StageKind::Set, ProductClass::CementMortar),
    (StageKind::Grout, ProductClass::CementGrout),
    (StageKind::Sealant, ProductClass::SiliconeSealant),
    (StageKind::Seal, ProductClass::PenetratingSealer),
];

/// What the crew calls a product; `None` while it goes by the name of its class.
pub fn crew_name(product: &Product) -> Option<&str> {
    (product.name() != product.class().name()).then_some(product.name())
}

impl Store {
    /// Takes another product for a stage, or other windows of the same, once for each key.
    pub async fn save_product(&self, change: ProductChange, by: Actor) -> Result<Appended, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let asked = change.event(None)?;
            let payload_hash = asked.payload_hash();
            if let Some(before) = repeated(&mut transaction, &asked.key, payload_hash).await? {
                return Ok(Appended::Again(before));
            }
            let before = products(&mut transaction, &change.job).await?.remove(&change.stage);
            replace(&mut transaction, &change).await?;
            let received = beat(&mut transaction, store.clock.stamp()).await?;
            let new = change.event(before.as_ref())?;
            let event = add_event(&mut transaction, new, by, payload_hash, received).await?;
            transaction.commit().await?;
            Ok(Appended::New(event))
        })
        .await
    }
}

impl ProductChange {
    /// As an entry of the log. What was used before is not part of what is asked.
    fn event(&self, before: Option<&Product>) -> Result<NewEvent, StoreError> {
        let detail = Detail {
            stage: self.stage.name().to_owned(),
            product: KeptProduct::from(&self.product),
            before: before.map(KeptProduct::from),
        };
        Ok(NewEvent {
            key: self.key.clone(),
            job: self.job.clone(),
            part: String::new(),
            kind: PRODUCT.to_owned(),
            detail: to_json(&detail)?,
            happened: None,
            supersedes: None,
        })
    }
}

impl ProductChanged {
    /// The change that an entry of kind [`PRODUCT`] tells.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let detail: Detail = from_json(&event.detail)?;
        Ok(Self {
            stage: read(&detail.stage, StageKind::from_name)?,
            product: detail.product.product()?,
            before: detail.before.map(|before| before.product()).transpose()?,
        })
    }
}

impl From<&Product> for KeptProduct {
    fn from(product: &Product) -> Self {
        let window = |own: &OwnWindow| KeptWindow {
            window: own.window.name().to_owned(),
            bed: own.bed.name().to_owned(),
            milliseconds: own.span.millis(),
            reason: own.grounds.as_ref().map(|grounds| grounds.as_str().to_owned()),
        };
        Self {
            name: product.name().to_owned(),
            class: product.class().name().to_owned(),
            windows: product.own().map(window).collect(),
            lowest: product.own_lowest().map(|own| KeptLowest {
                tenths: own.temperature.tenths(),
                reason: own.grounds.as_ref().map(|grounds| grounds.as_str().to_owned()),
            }),
            figures: product
                .own_figures()
                .map(|(figure, amount)| (figure.name().to_owned(), amount))
                .collect(),
        }
    }
}

impl KeptProduct {
    pub(super) fn product(&self) -> Result<Product, StoreError> {
        let class = read(&self.class, ProductClass::from_name)?;
        let windows: Result<Vec<OwnWindow>, StoreError> = self.windows.iter().map(KeptWindow::own).collect();
        let lowest = self.lowest.as_ref();
        let lowest = lowest.map(|kept| own_lowest(kept.tenths.into(), kept.reason.as_deref())).transpose()?;
        let figures = self.figures.iter().map(|(name, amount)| figure(name, *amount));
        product(&self.name, class, windows?, lowest, figures.collect::<Result<_, _>>()?)
    }
}

impl KeptWindow {
    fn own(&self) -> Result<OwnWindow, StoreError> {
        Ok(OwnWindow {
            window: read(&self.window, Window::from_name)?,
            bed: read(&self.bed, Bed::from_name)?,
            span: Span::from_millis(self.milliseconds),
            grounds: self.reason.as_deref().and_then(Grounds::new),
        })
    }
}

fn own_lowest(tenths: i64, reason: Option<&str>) -> Result<OwnLowest, StoreError> {
    Ok(OwnLowest { temperature: temperature(tenths)?, grounds: reason.and_then(Grounds::new) })
}

fn figure(name: &str, amount: i64) -> Result<(Figure, i64), StoreError> {
    Ok((read(name, Figure::from_name)?, amount))
}

/// A product as it was kept. Where a later release asks for a longer time, or for more warmth, than was kept without a
/// reason, that holds.
fn product(
    name: &str,
    class: ProductClass,
    mut own: Vec<OwnWindow>,
    lowest: Option<OwnLowest>,
    figures: BTreeMap<Figure, i64>,
) -> Result<Product, StoreError> {
    own.retain(|own| {
        let default = class.default_window(own.window, own.bed);
        own.grounds.is_some() || default.is_none_or(|default| own.span >= default.span)
    });
    let lowest = lowest.filter(|own| own.grounds.is_some() || own.temperature >= class.lowest());
    let product = Product::new(name, class, own);
    let product = product.and_then(|product| lowest.into_iter().try_fold(product, Product::with_lowest));
    let product = product.and_then(|product| product.with_figures(figures));
    product.map_err(|fault| StoreError::Unreadable(format!("product {name}: {fault}")))
}

/// A value by the name it is stored under.
pub(super) fn read<T>(name: &str, from_name: impl FnOnce(&str) -> Option<T>) -> Result<T, StoreError> {
    from_name(name).ok_or_else(|| StoreError::Unreadable(name.to_owned()))
}

/// The detail of an entry, as it stands in the log.
pub(super) fn to_json(detail: &impl Serialize) -> Result<String, StoreError> {
    serde_json::to_string(detail).map_err(|error| StoreError::Unreadable(error.to_string()))
}

/// The detail of an entry of the log.
pub(super) fn from_json<T: serde::de::DeserializeOwned>(detail: &str) -> Result<T, StoreError> {
    serde_json::from_str(detail).map_err(|error| StoreError::Unreadable(format!("{detail}: {error}")))
}

/// The products that a new job starts with.
pub(super) async fn start(connection: &mut SqliteConnection, job: &JobId) -> Result<(), StoreError> {
    for (stage, class) in AT_START {
        let (stage, class) = (stage.name(), class.name());
        sqlx::query!(
            "INSERT INTO product (job, stage, class, name) VALUES (?, ?, ?, ?)",
            job,
            stage,
            class,
            class
        )
        .execute(&mut *connection)
        .await?;
    }
    Ok(())
}

/// The products of a job, by stage.
pub(super) async fn products(connection: &mut SqliteConnection, job: &JobId) -> Result<Products, StoreError> {
    let rows =
        sqlx::query!("SELECT stage, class, name, lowest, lowest_reason FROM product WHERE job = ?", job)
            .fetch_all(&mut *connection)
            .await?;
    let windows =
        sqlx::query!("SELECT stage, kind, bed, span, reason FROM product_window WHERE job = ?", job)
            .fetch_all(&mut *connection)
            .await?;
    let figures = sqlx::query!("SELECT stage, figure, amount FROM product_figure WHERE job = ?", job)
        .fetch_all(connection)
        .await?;
    let mut products = Products::new();
    for row in rows {
        let own: Result<Vec<OwnWindow>, StoreError> = windows
            .iter()
            .filter(|window| window.stage == row.stage)
            .map(|window| {
                Ok(OwnWindow {
                    window: read(&window.kind, Window::from_name)?,
                    bed: read(&window.bed, Bed::from_name)?,
                    span: Span::from_millis(window.span),
                    grounds: window.reason.as_deref().and_then(Grounds::new),
                })
            })
            .collect();
        let class = read(&row.class, ProductClass::from_name)?;
        let lowest = row.lowest.map(|tenths| own_lowest(tenths, row.lowest_reason.as_deref())).transpose()?;
        let figures = figures.iter().filter(|figure| figure.stage == row.stage);
        let figures = figures.map(|row| figure(&row.figure, row.amount)).collect::<Result<_, _>>()?;
        let product = product(&row.name, class, own?, lowest, figures)?;
        products.insert(read(&row.stage, StageKind::from_name)?, product);
    }
    Ok(products)
}

async fn replace(connection: &mut SqliteConnection, change: &ProductChange) -> Result<(), StoreError> {
    let (job, stage, product) = (&change.job, change.stage.name(), &change.product);
    let (class, name) = (product.class().name(), product.name());
    let lowest = product.own_lowest().map(|own| own.temperature.tenths());
    let lowest_reason = product.own_lowest().and_then(|own| own.grounds.as_ref()).map(Grounds::as_str);
    sqlx::query!("DELETE FROM product_window WHERE job = ? AND stage = ?", job, stage)
        .execute(&mut *connection)
        .await?;
    sqlx::query!(
        "INSERT INTO product (job, stage, class, name, lowest, lowest_reason) VALUES (?, ?, ?, ?, ?, ?)
         ON CONFLICT (job, stage) DO UPDATE SET class = excluded.class, name = excluded.name,
                                                lowest = excluded.lowest, lowest_reason = excluded.lowest_reason",
        job,
        stage,
        class,
        name,
        lowest,
        lowest_reason
    )
    .execute(&mut *connection)
    .await?;
    for own in product.own() {
        let (kind, bed, span) = (own.window.name(), own.bed.name(), own.span.millis());
        let reason = own.grounds.as_ref().map(Grounds::as_str);
        sqlx::query!(
            "INSERT INTO product_window (job, stage, kind, bed, span, reason) VALUES (?, ?, ?, ?, ?, ?)",
            job,
            stage,
            kind,
            bed,
            span,
            reason
        )
        .execute(&mut *connection)
        .await?;
    }
    sqlx::query!("DELETE FROM product_figure WHERE job = ? AND stage = ?", job, stage)
        .execute(&mut *connection)
        .await?;
    for (figure, amount) in product.own_figures() {
        let figure = figure.name();
        sqlx::query!(
            "INSERT INTO product_figure (job, stage, figure, amount) VALUES (?, ?, ?, ?)",
            job,
            stage,
            figure,
            amount
        )
        .execute(&mut *connection)
        .await?;
    }
    Ok(())
}
