//! The pages of what each stage is done with.

use askama::Template;
use trade::cure::{
    DefaultFigure, DefaultWindow, Figure, Footing, Product, ProductClass, StageKind, WaitKind, Window,
};

use super::batch_page::figure_label;
use super::batch_words::Amounts;
use super::page::frame;
use super::product::{
    LOWEST, TypedProduct, WHY_LOWEST, classes_of, figure_field, figures_of, span_field, why_field, windows_of,
};
use super::sight::Sight;
use super::words::Words;
use crate::app::App;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::Frame;
use crate::web::urls;

/// Every stage's product.
#[derive(Template)]
#[template(path = "board/products.html")]
pub struct ProductsPage {
    frame: Frame,
    bed: String,
    products: Vec<ProductLine>,
    board_url: String,
}

struct ProductLine {
    stage: String,
    product: String,
    windows: Vec<WindowLine>,
    lowest: Option<LowestLine>,
    figures: Vec<FigureLine>,
    change_url: String,
}

/// What is known of mixing it.
struct FigureLine {
    label: String,
    amount: String,
    says: String,
}

struct LowestLine {
    degrees: String,
    says: String,
    why: Option<String>,
}

struct WindowLine {
    window: String,
    span: String,
    /// Whose time it is, and how well founded.
    says: String,
    /// Why it is shorter than usual.
    why: Option<String>,
    /// No stage on the board waits for it.
    unwatched: bool,
}

/// The form for one stage's product.
#[derive(Template)]
#[template(path = "board/product.html")]
pub struct ChangePage {
    frame: Frame,
    bed: String,
    stage: &'static str,
    faults: Faults,
    class: Field,
    classes: Vec<Choice>,
    name: Field,
    windows: Vec<WindowFields>,
    lowest: Field,
    why_lowest: Field,
    lowest_hint: String,
    figures: Vec<FigureField>,
    url: String,
}

struct FigureField {
    label: String,
    hint: String,
    field: Field,
}

struct WindowFields {
    label: String,
    hint: String,
    span: Field,
    why: Field,
}

impl ProductsPage {
    /// The products in use.
    pub fn new(app: &App, sight: &Sight) -> Self {
        let words = sight.words(app);
        let line = |stage: StageKind| {
            let product = sight.stages.products.get(&stage);
            ProductLine {
                stage: words.stage(stage),
                product: words.product(product),
                windows: product.map_or_else(Vec::new, |product| window_lines(&words, sight, stage, product)),
                lowest: product.map(|product| lowest_line(&words, product)),
                figures: product.map_or_else(Vec::new, |product| figure_lines(&words, sight, product)),
                change_url: urls::product(sight.job(), stage),
            }
        };
        let with_windows = sight.kinds().filter(|stage| !windows_of(*stage).is_empty());
        Self {
            frame: frame(app, sight, words.say("products-title")),
            bed: words.say(&format!("products-bed-{}", sight.stages.bed.name())),
            products: with_windows.map(line).collect(),
            board_url: urls::board(sight.job()),
        }
    }
}

fn window_lines(words: &Words, sight: &Sight, stage: StageKind, product: &Product) -> Vec<WindowLine> {
    let bed = sight.stages.bed;
    // What the board does not watch is the crew's to keep: water is always told, the rest where its stage is on the job.
    let is_told = |window: Window| {
        watched(sight, window)
            || [Window::GroutToWater, Window::SealToWater, Window::SealantToWater].contains(&window)
    };
    let line = |window: Window| {
        let default = product.class().default_window(window, bed)?;
        let own = product.own().find(|own| own.window == window && own.bed == bed);
        let usual = words.times.span(default.span);
        let says = match own {
            Some(_) => words.say_with("window-own", &[("usual", &usual)]),
            None => source(words, &default),
        };
        let why = own
            .and_then(|own| own.grounds.as_ref())
            .map(|grounds| words.say_with("entry-why", &[("reason", &grounds.as_str())]));
        Some(WindowLine {
            window: words.window(window),
            span: words.times.span(own.map_or(default.span, |own| own.span)),
            says,
            why,
            unwatched: !watched(sight, window),
        })
    };
    windows_of(stage).into_iter().filter(|window| is_told(*window)).filter_map(line).collect()
}

/// What is known of mixing a product, and who says so.
fn figure_lines(words: &Words, sight: &Sight, product: &Product) -> Vec<FigureLine> {
    let amounts = Amounts::of(words, sight);
    let line = |figure: Figure| {
        let usual = product.class().default_figure(figure);
        let says = match (product.own_figure(figure), usual) {
            (Some(_), Some(usual)) => {
                let usual = product.usual(figure).unwrap_or(usual.amount);
                words.say_with("figure-own", &[("usual", &amounts.figure(figure, usual))])
            }
            (Some(_), None) => words.say("figure-own-alone"),
            (None, Some(usual)) => figure_source(words, &usual),
            (None, None) => return None,
        };
        let amount = amounts.figure(figure, product.figure(figure)?);
        Some(FigureLine { label: figure_label(words, figure), amount, says })
    };
    figures_of(&[product.class()]).into_iter().filter_map(line).collect()
}

fn figure_source(words: &Words, usual: &DefaultFigure) -> String {
    match usual.footing {
        Footing::Published(place) => words.say_with("figure-published", &[("place", &place)]),
        Footing::Derived | Footing::CommonPractice => words.say("figure-common-practice"),
        Footing::FromMemory => words.say("figure-from-memory"),
    }
}

/// Below which temperature a product stands still, and who says so.
fn lowest_line(words: &Words, product: &Product) -> LowestLine {
    let usual = words.degrees(product.class().lowest());
    let own = product.own_lowest();
    let key = if own.is_some() { "lowest-own" } else { "lowest-usual" };
    let why = own.and_then(|own| own.grounds.as_ref());
    LowestLine {
        degrees: words.degrees(product.lowest()),
        says: words.say_with(key, &[("usual", &usual)]),
        why: why.map(|grounds| words.say_with("entry-why", &[("reason", &grounds.as_str())])),
    }
}

/// Whether some stage on the board waits for this window.
fn watched(sight: &Sight, window: Window) -> bool {
    let graph = &sight.stages.graph;
    graph
        .rows()
        .into_iter()
        .any(|(from, to, wait)| wait == WaitKind::Cure(window) && graph.has(from) && graph.has(to))
}

fn source(words: &Words, default: &DefaultWindow) -> String {
    let (key, place) = match default.footing {
        Footing::Published(place) => ("footing-published", place),
        Footing::Derived => ("footing-derived", ""),
        Footing::CommonPractice => ("footing-common-practice", ""),
        Footing::FromMemory => ("footing-from-memory", ""),
    };
    let grounds = words.say(&format!("grounds-{}", default.grounds));
    words.say_with(key, &[("place", &place), ("grounds", &grounds)])
}

/// How the lowest working temperature is typed, and what holds without.
fn lowest_hint(words: &Words, classes: &[ProductClass]) -> String {
    let per_class = classes.iter().map(|class| {
        let class_name = words.say(&format!("product-class-{}", class.name()));
        let degrees = words.degrees(class.lowest());
        words.say_with("window-usual", &[("class", &class_name), ("span", &degrees)])
    });
    let usual = per_class.collect::<Vec<_>>().join("; ");
    words.say_with("lowest-hint", &[("usual", &usual)])
}

impl ChangePage {
    /// The form with what was typed and what is wrong with it.
    pub fn new(app: &App, sight: &Sight, stage: StageKind, typed: &TypedProduct, faults: Faults) -> Self {
        let words = sight.words(app);
        let bed = sight.stages.bed;
        let classes = classes_of(stage, bed);
        let field = |name: &str| Field::new(name, typed.field(name)).with(&faults);
        let usual = |window: Window| {
            let per_class = classes.iter().filter_map(|class| {
                let span = words.times.span(class.default_window(window, bed)?.span);
                let class = words.say(&format!("product-class-{}", class.name()));
                Some(words.say_with("window-usual", &[("class", &class), ("span", &span)]))
            });
            per_class.collect::<Vec<_>>().join("; ")
        };
        let fields = |window: Window| WindowFields {
            label: words.window(window),
            hint: words.say_with("window-hint", &[("usual", &usual(window))]),
            span: field(&span_field(window)),
            why: field(&why_field(window)),
        };
        let amounts = Amounts::of(&words, sight);
        let usual_figure = |figure: Figure| {
            let per_class = classes.iter().filter_map(|class| {
                let span = amounts.figure(figure, class.default_figure(figure)?.amount);
                let class = words.say(&format!("product-class-{}", class.name()));
                Some(words.say_with("window-usual", &[("class", &class), ("span", &span)]))
            });
            per_class.collect::<Vec<_>>().join("; ")
        };
        let figure_fields = |figure: Figure| {
            let usual = usual_figure(figure);
            let key = if usual.is_empty() { "figure-hint-none" } else { "figure-hint" };
            FigureField {
                label: figure_label(&words, figure),
                hint: words.say_with(key, &[("usual", &usual)]),
                field: field(&figure_field(figure)),
            }
        };
        let title = words.say_with("product-title", &[("stage", &words.stage(stage))]);
        let choice = |class: &ProductClass| {
            Choice::new(class.name(), words.say(&format!("product-class-{}", class.name())))
        };
        Self {
            frame: frame(app, sight, title).faulty_if(!faults.is_empty()),
            bed: words.say(&format!("products-bed-{}", bed.name())),
            stage: stage.name(),
            class: field("class"),
            name: field("name"),
            windows: windows_of(stage).into_iter().map(fields).collect(),
            lowest: field(LOWEST),
            why_lowest: field(WHY_LOWEST),
            lowest_hint: lowest_hint(&words, &classes),
            figures: figures_of(&classes).into_iter().map(figure_fields).collect(),
            classes: classes.iter().map(choice).collect(),
            url: urls::products(sight.job()),
            faults,
        }
    }
}
