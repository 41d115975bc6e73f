//! Mixing mortar and grout.

use trade::cure::{Figure, Product, ProductClass, Span, grout_per_m2};
use trade::measure::Length;

fn product(class: ProductClass) -> Product {
    Product::new("bag", class, Vec::new()).unwrap()
}

fn working(class: ProductClass) -> Span {
    let product = product(class);
    product.span_figure(Figure::PotLife).unwrap() - product.span_figure(Figure::Rest).unwrap()
}

/// Common practice: quick grout gives about ten minutes of working time a batch. Between 8 and 12 is about ten.
#[test]
fn quick_grout_gives_about_ten_minutes_of_working_time_a_batch() {
    let working = working(ProductClass::FastCementGrout);
    assert!(working >= Span::from_minutes(8) && working <= Span::from_minutes(12), "{working:?}");
    let ordinary = self::working(ProductClass::CementGrout);
    assert!(ordinary > working, "and ordinary grout gives more");
}

/// Mortar rests 5 to 10 min and is good for 60 to 90 (winenfood.com; engineerfix.com/how-to-mix-thinset-for-tile-the-
/// proper-technique). What opens a window is the long end, and what closes one the short one.
#[test]
fn mortar_keeps_to_the_cautious_ends_of_what_is_published() {
    let mortar = product(ProductClass::CementMortar);
    assert_eq!(mortar.span_figure(Figure::Rest), Some(Span::from_minutes(10)));
    assert_eq!(mortar.span_figure(Figure::PotLife), Some(Span::from_minutes(60)));
}

/// The first sponge 15 to 30 min after spreading: engineerfix.com/how-long-to-let-grout-sit-before-wiping.
#[test]
fn grout_is_first_wiped_a_quarter_to_half_an_hour_after_spreading() {
    let grout = product(ProductClass::CementGrout);
    assert_eq!(grout.span_figure(Figure::WipeFrom), Some(Span::from_minutes(15)));
    assert_eq!(grout.span_figure(Figure::WipeBy), Some(Span::from_minutes(30)));
}

/// 300 x 300 mm, joint 4, depth 10, density 1.6: 0.426 kg/m2
/// (tilersforums.com/threads/how-to-calculate-your-grout-requirements.39223). 200 x 200, depth 8, joint 4 at 1.3:
/// 415.8 g/m2 by the rows of a supplier's table (tf-duna.uaprom.net/ua/g29156558), which counts 9.9 m of joint where
/// there are 10.
#[test]
fn grout_by_the_square_metre_as_tables_print_it() {
    let mm = Length::mm;
    assert_eq!(grout_per_m2((mm(300), mm(300)), mm(4), mm(10), 1600), 426);
    let table = grout_per_m2((mm(200), mm(200)), mm(4), mm(8), 1300);
    assert!((412..=420).contains(&table), "{table}");
}
