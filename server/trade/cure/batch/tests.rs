use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::cure::{BootId, Heartbeats, ProductClass, WallClock};

const MIXED: [ProductClass; 6] = [
    ProductClass::CementMortar,
    ProductClass::FastCementMortar,
    ProductClass::EpoxyMortar,
    ProductClass::CementGrout,
    ProductClass::FastCementGrout,
    ProductClass::EpoxyGrout,
];

fn product(class: ProductClass) -> Product {
    Product::new("grey bag", class, Vec::new()).unwrap()
}

fn minutes(minutes: i64) -> Span {
    Span::from_minutes(minutes)
}

fn stamp(wall: i64, since_boot: i64) -> Stamp {
    Stamp {
        wall: Instant::from_millis(1_000_000_000) + minutes(wall),
        boot: BootId(1),
        since_boot: minutes(since_boot),
        wall_clock: WallClock::Unsure,
    }
}

fn now(at: Stamp) -> Now {
    Now { at, heartbeats: Heartbeats::default() }
}

fn batch(class: ProductClass, age: i64, at: Option<i32>) -> Batch {
    let received = stamp(0, 100);
    let at = at.map(|tenths| Temperature::from_tenths(tenths).unwrap());
    Batch::new(received.wall - minutes(age), received, product(class), at).unwrap()
}

#[test]
fn a_mortar_rests_ten_minutes_and_is_used_within_the_hour() {
    let batch = batch(ProductClass::CementMortar, 0, None);
    let windows = batch.windows();
    assert_eq!(windows.rest_until - batch.mixed(), minutes(10));
    assert_eq!(windows.use_by - batch.mixed(), minutes(60));
    assert_eq!(windows.wipe, None);
    let stands = |minute| batch.standing(&now(stamp(minute, 100 + minute)));
    assert_eq!(stands(0), BatchStanding::Resting { left: minutes(10) });
    assert_eq!(stands(10), BatchStanding::Good { left: minutes(50) });
    assert_eq!(stands(59), BatchStanding::Good { left: minutes(1) });
    assert_eq!(stands(60), BatchStanding::Past { since: minutes(0) });
}

#[test]
fn grout_is_wiped_from_when_and_by_when_its_class_says_after_its_rest() {
    let wipe = |class| {
        let batch = batch(class, 0, None);
        batch.windows().wipe.map(|(from, by)| (from - batch.mixed(), by - batch.mixed()))
    };
    assert_eq!(wipe(ProductClass::CementGrout), Some((minutes(25), minutes(40))));
    assert_eq!(wipe(ProductClass::FastCementGrout), Some((minutes(10), minutes(20))));
}

#[test]
fn a_mix_told_late_counts_from_when_it_was_told_to_have_been_mixed() {
    let batch = batch(ProductClass::CementMortar, 55, None);
    assert_eq!(batch.standing(&now(stamp(0, 100))), BatchStanding::Good { left: minutes(5) });
    let to_come = Batch::new(stamp(30, 0).wall, stamp(0, 100), product(ProductClass::CementMortar), None);
    assert_eq!(to_come.unwrap().mixed(), stamp(0, 0).wall, "nothing was mixed after it was received");
}

#[test]
fn whichever_clock_says_more_rules() {
    let batch = batch(ProductClass::CementMortar, 0, None);
    assert_eq!(batch.standing(&now(stamp(5, 165))), BatchStanding::Past { since: minutes(5) });
    assert_eq!(batch.standing(&now(stamp(65, 105))), BatchStanding::Past { since: minutes(5) });
    let restarted = Stamp { boot: BootId(2), ..stamp(5, 1) };
    assert_eq!(batch.standing(&now(restarted)), BatchStanding::Unknown);
}

#[test]
fn heat_halves_the_pot_life_for_each_8_degrees() {
    let use_by = |tenths| {
        let batch = batch(ProductClass::CementMortar, 0, Some(tenths));
        batch.windows().use_by - batch.mixed()
    };
    assert_eq!(use_by(210), minutes(60));
    assert_eq!(use_by(50), minutes(60), "cold makes nothing longer");
    let hot = use_by(290);
    assert!(hot <= minutes(30) && hot > minutes(30) - Span::from_millis(10), "{hot:?}");
}

#[test]
fn what_is_not_mixed_is_no_batch() {
    let received = stamp(0, 0);
    for class in [ProductClass::Dispersion, ProductClass::PenetratingSealer, ProductClass::SiliconeSealant] {
        assert_eq!(Batch::new(received.wall, received, product(class), None), None);
        assert_eq!(suggest(&product(class), &wanted(Rate::SETTING, 3756)), None);
        let own = BTreeMap::from([(Figure::PotLife, 3_600_000)]);
        assert!(product(class).with_figures(own).is_err());
    }
}

#[test]
fn what_the_bag_says_wins_where_some_bag_could_say_it() {
    let own = |figures: &[(Figure, i64)]| {
        product(ProductClass::CementMortar).with_figures(figures.iter().copied().collect())
    };
    let bag = own(&[(Figure::PotLife, minutes(120).millis()), (Figure::Rest, 0)]).unwrap();
    assert_eq!(bag.span_figure(Figure::PotLife), Some(minutes(120)));
    assert_eq!(bag.span_figure(Figure::OpenTime), Some(minutes(20)), "the rest stays as is usual");
    for wrong in [
        [(Figure::PotLife, minutes(4).millis()), (Figure::Rest, 0)],
        [(Figure::PotLife, minutes(10).millis()), (Figure::Rest, minutes(10).millis())],
        [(Figure::WaterLeast, 6000), (Figure::WaterMost, 5000)],
        [(Figure::Bag, 0), (Figure::Rest, 0)],
        [(Figure::WipeFrom, minutes(20).millis()), (Figure::Rest, 0)],
    ] {
        assert!(own(&wrong).is_err(), "{wrong:?}");
    }
}

#[test]
fn amounts_as_people_write_them() {
    let bag = 20_000;
    for (typed, grams) in [
        ("1", 20_000),
        ("1/2 bag", 10_000),
        ("½ saco", 10_000),
        ("1 1/2 bags", 30_000),
        ("0.5", 10_000),
        ("7,5 kg", 7500),
        ("25 lb", 11_339),
        ("800 g", 800),
    ] {
        assert_eq!(Powder::read(typed, bag).map(Powder::grams), Ok(grams), "{typed}");
    }
    for (typed, millilitres) in
        [("5", 5000), ("4.7 l", 4700), ("5 qt", 4731), ("1 gal", 3785), ("900 ml", 900)]
    {
        assert_eq!(Water::read(typed, Buckets::Metric).map(Water::millilitres), Ok(millilitres), "{typed}");
    }
    assert_eq!(Water::read("5", Buckets::Us).map(Water::millilitres), Ok(4731));
    for typed in
        ["", "some", "1/0", "1 2", "-1", "1.2345", "5 cups", "1/2/3", "0", "9999999", "1 1/2 1", "½½½"]
    {
        assert_eq!(Powder::read(typed, bag), Err(AmountFault::Unclear), "{typed}");
        assert_eq!(Water::read(typed, Buckets::Us), Err(AmountFault::Unclear), "{typed}");
    }
    assert_eq!(Powder::read("999999", bag), Err(AmountFault::Absurd));
    assert_eq!(Water::read("999999 gal", Buckets::Us), Err(AmountFault::Absurd));
}

#[test]
fn more_water_than_the_bag_allows_is_a_fact_and_as_much_as_powder_is_a_slip() {
    let usual = product(ProductClass::CementMortar);
    let bag = usual.clone().with_figures(BTreeMap::from([
        (Figure::Bag, 20_000),
        (Figure::WaterLeast, 4000),
        (Figure::WaterMost, 5000),
    ]));
    let bag = bag.unwrap();
    let half = Powder(10_000);
    let checked = |product: &Product, millilitres| Water(millilitres).check(half, product);
    assert_eq!(checked(&bag, 2500), Ok(Wetness::Within));
    let most = Water(2500);
    assert_eq!(checked(&bag, 2501), Ok(Wetness::TooMuch { most, by_the_bag: true }));
    let most = Water(2799);
    assert_eq!(checked(&usual, 3000), Ok(Wetness::TooMuch { most, by_the_bag: false }));
    for absurd in [10_000, 50_000, 499] {
        assert_eq!(checked(&bag, absurd), Err(AmountFault::Absurd));
    }
}

fn wanted(rate: Rate, grams_per_m2: i64) -> Use {
    Use { rate, grams_per_m2, temperature: None }
}

#[test]
fn half_bags_as_far_as_they_are_used_up() {
    let mortar = product(ProductClass::CementMortar);
    let slow = suggest(&mortar, &wanted(Rate::SETTING, 3756)).unwrap();
    assert_eq!((slow.working, slow.area, slow.half_bags), (minutes(50), 16_666, 0));
    assert_eq!(slow.powder.grams(), 6259, "less than half a bag");
    assert_eq!(slow.spread, Some(6666));
    let quick = suggest(&mortar, &wanted(Rate(100_000), 3756)).unwrap();
    assert_eq!((quick.half_bags, quick.powder.grams()), (2, 22_680));
    assert_eq!((quick.water.0.millilitres(), quick.water.1.millilitres()), (3628, 6350));
}

#[test]
fn the_usual_water_is_for_as_much_powder_as_a_bag_holds() {
    let water = |bag: Option<i64>| {
        let own = bag.map(|bag| (Figure::Bag, bag)).into_iter().collect();
        let product = product(ProductClass::CementMortar).with_figures(own).unwrap();
        product.water_for(Powder(10_000)).map(|(_, most)| most.millilitres()).unwrap()
    };
    // 2800 ml, and never more: each division rounds down.
    for bag in [None, Some(5_000), Some(20_000)] {
        assert!((2797..=2800).contains(&water(bag)), "{bag:?}: {}", water(bag));
    }
}

#[test]
fn a_rate_is_measured_only_where_there_is_enough_to_go_by() {
    let hour = Span::from_hours(1);
    assert_eq!(Rate::measured(&[]), None);
    assert_eq!(Rate::measured(&[(10_000, hour), (10_000, hour)]), None, "two tell little");
    assert_eq!(Rate::measured(&[(1000, minutes(5)); 3]), None, "nor does a quarter of an hour");
    assert_eq!(Rate::measured(&[(10_000, hour), (30_000, hour), (20_000, hour)]), Some(Rate(20_000)));
    let overnight = [(10_000, hour), (30_000, hour), (20_000, Span::from_hours(14))];
    assert_eq!(Rate::measured(&overnight), None, "a night is no work");
}

fn any_product() -> impl Strategy<Value = Product> {
    let figures =
        prop::collection::btree_map(prop::sample::select(Figure::ALL.to_vec()), 1i64..50_000_000, 0..5);
    (prop::sample::select(MIXED.to_vec()), figures).prop_map(|(class, figures)| {
        let bare = product(class);
        bare.clone().with_figures(figures).unwrap_or(bare)
    })
}

proptest! {
    #[test]
    fn use_by_is_never_later_than_mixed_and_pot_life(
        product in any_product(), age in -100i64..1000, at in prop::option::of(-400i32..=600),
        wall in -500i64..1000, ran in 0i64..1000,
    ) {
        let received = stamp(0, 100);
        let at = at.and_then(Temperature::from_tenths);
        let batch = Batch::new(received.wall - minutes(age), received, product.clone(), at).unwrap();
        let pot_life = product.span_figure(Figure::PotLife).unwrap();
        let windows = batch.windows();
        prop_assert!(windows.use_by <= batch.mixed() + pot_life);
        prop_assert!(batch.mixed() <= received.wall);
        if let Some((from, by)) = windows.wipe {
            prop_assert!(from <= by);
        }
        let now = now(stamp(wall, 100 + ran));
        if let BatchStanding::Good { left } | BatchStanding::Resting { left } = batch.standing(&now) {
            prop_assert!(left <= pot_life && minutes(ran.max(wall)) + left <= pot_life);
        }
    }

    #[test]
    fn hotter_never_gives_longer(product in any_product(), cool in -400i32..=600, more in 0i32..400) {
        let at = |tenths: i32| Temperature::from_tenths(tenths.min(600));
        let received = stamp(0, 100);
        let windows = |at| Batch::new(received.wall, received, product.clone(), at).unwrap().windows();
        let (cooler, hotter) = (windows(at(cool)), windows(at(cool + more)));
        prop_assert!(hotter.use_by <= cooler.use_by);
        prop_assert!(hotter.wipe.map(|(_, by)| by) <= cooler.wipe.map(|(_, by)| by));
        let suggested = |temperature| {
            suggest(&product, &Use { rate: Rate::SETTING, grams_per_m2: 3756, temperature })
        };
        if let (Some(cooler), Some(hotter)) = (suggested(at(cool)), suggested(at(cool + more))) {
            prop_assert!(hotter.area <= cooler.area && hotter.spread <= cooler.spread);
            prop_assert!(hotter.half_bags <= cooler.half_bags);
        }
    }

    #[test]
    fn a_suggestion_is_whole_half_bags_that_are_used_up(
        product in any_product(), rate in 1000i64..1_000_000, per_m2 in 100i64..10_000,
    ) {
        let Some(says) = suggest(&product, &wanted(Rate(rate), per_m2)) else { return Ok(()) };
        let bag = product.figure(Figure::Bag).unwrap();
        let used_up = says.area * per_m2 / 10_000;
        if says.half_bags > 0 {
            prop_assert_eq!(says.powder.grams(), says.half_bags * bag / 2);
            prop_assert!(says.powder.grams() <= used_up.max(Powder::LEAST));
        }
        prop_assert!(says.water.0 <= says.water.1);
    }

    #[test]
    fn no_typed_amount_breaks_anything(typed in "\\PC{0,12}", number in "[0-9 /.,½]{0,10}") {
        for typed in [typed, number] {
            let _ = (Powder::read(&typed, 22_680).is_ok(), Water::read(&typed, Buckets::Us).is_ok());
        }
    }
}
