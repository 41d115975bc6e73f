//! What products ask for, and what is refused of them.

use super::*;

fn own(window: Window, bed: Bed, hours: i64, why: Option<&str>) -> OwnWindow {
    OwnWindow { window, bed, span: Span::from_hours(hours), grounds: why.and_then(Grounds::new) }
}

fn grout_hours(class: ProductClass, bed: Bed) -> i64 {
    class.default_window(Window::SetToGrout, bed).unwrap().span.millis() / 3_600_000
}

/// Published figures: engineerfix.com, flooringclarity.com/?p=24718, NAVEDTRA 14044 p. 7-24.
#[test]
fn normal_mortar_waits_a_day_and_two_over_a_membrane() {
    assert_eq!(grout_hours(ProductClass::CementMortar, Bed::Ordinary), 24);
    assert_eq!(grout_hours(ProductClass::CementMortar, Bed::OverMembrane), 48);
    assert_eq!(grout_hours(ProductClass::FastCementMortar, Bed::Ordinary), 8);
    assert!(grout_hours(ProductClass::Dispersion, Bed::Ordinary) >= 24);
}

#[test]
fn a_membrane_never_shortens_a_wait_and_fast_never_waits_longer() {
    for window in Window::ALL {
        for class in ProductClass::ALL {
            let at = |bed| class.default_window(window, bed).map(|default| default.span);
            assert!(at(Bed::OverMembrane) >= at(Bed::Ordinary), "{class:?} {window:?}");
        }
        for bed in Bed::ALL {
            let at = |class: ProductClass| class.default_window(window, bed).map(|default| default.span);
            assert!(at(ProductClass::FastCementMortar) <= at(ProductClass::CementMortar));
            assert!(at(ProductClass::FastCementGrout) <= at(ProductClass::CementGrout));
        }
    }
}

#[test]
fn every_class_states_a_window_and_every_default_what_it_rests_on() {
    for class in ProductClass::ALL {
        let stated: Vec<DefaultWindow> = Window::ALL
            .into_iter()
            .flat_map(|window| Bed::ALL.map(|bed| class.default_window(window, bed)))
            .flatten()
            .collect();
        assert!(!stated.is_empty(), "{class:?}");
        for default in stated {
            assert!(default.span > Span::ZERO && default.span <= Product::LONGEST, "{class:?}");
            assert!(!default.grounds.is_empty(), "{class:?}");
            if let Footing::Published(place) = default.footing {
                assert!(place.contains(".com") || place.contains("NAVEDTRA"), "{class:?}: {place}");
            }
        }
    }
}

#[test]
fn what_the_bag_says_wins() {
    let stricter = own(Window::SetToGrout, Bed::OverMembrane, 72, None);
    let bag = Product::new(" White bag ", ProductClass::CementMortar, vec![stricter]).unwrap();
    assert_eq!(bag.name(), "White bag");
    assert_eq!(bag.window(Window::SetToGrout, Bed::OverMembrane), Some(Span::from_hours(72)));
    assert_eq!(bag.window(Window::SetToGrout, Bed::Ordinary), Some(Span::from_hours(24)));
    assert_eq!(bag.window(Window::GroutToSeal, Bed::Ordinary), None);
}

#[test]
fn shorter_than_the_class_asks_for_a_reason_and_keeps_it() {
    let make = |why| {
        let shorter = own(Window::SetToGrout, Bed::OverMembrane, 24, why);
        Product::new("White bag", ProductClass::CementMortar, vec![shorter])
    };
    let refused = ProductFault::LaxerWithoutReason {
        window: Window::SetToGrout,
        bed: Bed::OverMembrane,
        default: Span::from_hours(48),
        given: Span::from_hours(24),
    };
    assert_eq!(make(None), Err(refused.clone()));
    assert_eq!(make(Some("  ")), Err(refused), "blanks are no reason");
    let bag = make(Some("the bag says 24 h over sheet membranes")).unwrap();
    let kept = bag.own().next().and_then(|stated| stated.grounds.as_ref()).map(Grounds::as_str);
    assert_eq!(kept, Some("the bag says 24 h over sheet membranes"));
    assert_eq!(bag.window(Window::SetToGrout, Bed::OverMembrane), Some(Span::from_hours(24)));
}

#[test]
fn a_lower_working_temperature_asks_for_a_reason() {
    let bag = || Product::new("bag", ProductClass::CementMortar, vec![]).unwrap();
    let lowest = |degrees, why: &str| OwnLowest {
        temperature: Temperature::celsius(degrees),
        grounds: Grounds::new(why),
    };
    assert_eq!(bag().lowest(), Temperature::celsius(5));
    assert_eq!(bag().with_lowest(lowest(10, "")).unwrap().lowest(), Temperature::celsius(10));
    let refused = ProductFault::ColderWithoutReason {
        default: Temperature::celsius(5),
        given: Temperature::celsius(2),
    };
    assert_eq!(bag().with_lowest(lowest(2, " ")), Err(refused));
    assert_eq!(bag().with_lowest(lowest(2, "winter mortar")).unwrap().lowest(), Temperature::celsius(2));
    assert_eq!(ProductClass::highest_lowest(), Temperature::celsius(10));
}

#[test]
fn nonsense_is_refused() {
    let make = |name, windows| Product::new(name, ProductClass::CementGrout, windows);
    let seal = |hours| own(Window::GroutToSeal, Bed::Ordinary, hours, Some("as told"));
    assert_eq!(make(" ", vec![]), Err(ProductFault::Name));
    assert!(matches!(make("G", vec![seal(-1)]), Err(ProductFault::OutOfRange { .. })));
    assert!(matches!(make("G", vec![seal(91 * 24)]), Err(ProductFault::OutOfRange { .. })));
    assert!(matches!(make("G", vec![seal(80), seal(90)]), Err(ProductFault::Twice { .. })));
    let mortars = own(Window::SetToGrout, Bed::Ordinary, 90, None);
    assert!(matches!(make("G", vec![mortars]), Err(ProductFault::NotOfThisClass { .. })));
}

#[test]
fn names_for_storage_read_back() {
    for class in ProductClass::ALL {
        assert_eq!(ProductClass::from_name(class.name()), Some(class));
    }
    for window in Window::ALL {
        assert_eq!(Window::from_name(window.name()), Some(window));
    }
    for bed in Bed::ALL {
        assert_eq!(Bed::from_name(bed.name()), Some(bed));
    }
    assert_eq!(ProductClass::from_name("plaster"), None);
}

#[test]
fn an_unknown_product_waits_the_longest() {
    assert_eq!(Window::SetToGrout.longest_default(Bed::OverMembrane), Span::from_hours(72));
    assert_eq!(Window::SetToGrout.longest_default(Bed::Ordinary), Span::from_hours(48));
}
