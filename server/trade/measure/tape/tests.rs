use proptest::prelude::*;

use super::*;

fn read(typed: &str) -> Result<Length, LengthFault> {
    Length::parse(typed, Unit::Millimetre)
}

fn read_inches(typed: &str) -> Result<Length, LengthFault> {
    Length::parse(typed, Unit::Inch)
}

#[test]
fn inches_are_read_as_a_tiler_writes_them() {
    let twenty_three_and_three_quarters = Length::sixty_fourths(23 * 64 + 48);
    for typed in [
        "23 3/4",
        "23-3/4 in",
        "23¾\"",
        "23 ¾ in.",
        "23-¾",
        "23.75",
        "23,75 IN",
        "23 3/4 inches",
        "23¾”",
        "23 3⁄4″",
        " 23  3 / 4 ",
        "23¾''",
    ] {
        assert_eq!(read_inches(typed), Ok(twenty_three_and_three_quarters), "{typed}");
    }
    assert_eq!(read_inches("3/8"), Ok(Length::sixty_fourths(24)));
    assert_eq!(read_inches("⅜"), Ok(Length::sixty_fourths(24)));
    assert_eq!(read_inches(".5"), Ok(Length::sixty_fourths(32)));
    assert_eq!(read_inches("1/3").map(Length::units), Ok(64 * 30_480 / 3));
}

#[test]
fn feet_and_inches_are_read_together() {
    let five_feet_three_and_a_half = Length::sixty_fourths((5 * 12 + 3) * 64 + 32);
    for typed in [
        "5' 3 1/2\"",
        "5 ft 3 1/2 in",
        "5’ 3½”",
        "5'3-1/2\"",
        "5'-3 1/2\"",
        "5' - 3 1/2\"",
        "5 Feet 3.5 Inches",
        "5' 3 1/2",
        "63 1/2 in",
    ] {
        assert_eq!(read(typed), Ok(five_feet_three_and_a_half), "{typed}");
    }
    assert_eq!(read("5'"), Ok(Length::sixty_fourths(5 * 12 * 64)));
    assert_eq!(read("5.5 ft"), Ok(Length::sixty_fourths(66 * 64)));
    assert!(matches!(read("5' 14\""), Err(LengthFault::InchesPastAFoot { .. })));
    assert!(read("5.5' 3\"").is_err());
    assert!(read("5' 3 mm").is_err());
}

#[test]
fn millimetres_centimetres_and_metres_are_read() {
    for typed in ["603", "603 mm", "60,3 cm", "60.3 cm", "60.3cm", "0.603 m", "0,6030 m", "603.0"] {
        assert_eq!(read(typed), Ok(Length::mm(603)), "{typed}");
    }
    assert_eq!(read("1.2 m"), Ok(Length::mm(1200)));
    assert_eq!(read_inches("603 mm"), Ok(Length::mm(603)));
    assert_eq!(read("1 in"), Ok(Length::sixty_fourths(64)));
}

#[test]
fn a_minus_counts_for_the_whole_length() {
    assert_eq!(read("-150"), Ok(Length::mm(-150)));
    assert_eq!(read("\u{2212}150 mm"), Ok(Length::mm(-150)));
    assert_eq!(read_inches("- 3 1/2"), Ok(Length::sixty_fourths(-3 * 64 - 32)));
    assert_eq!(read("-5' 3 1/2\""), Ok(Length::sixty_fourths(-(63 * 64 + 32))));
    assert!(read("--3").is_err());
    assert!(read("3 -4").is_err());
}

#[test]
fn what_can_be_read_two_ways_is_refused() {
    for typed in ["1,234", "1,234 mm", "1,234.5", "12,345,678", "0,125 m", "5' 1,234"] {
        assert!(matches!(read(typed), Err(LengthFault::AmbiguousComma { .. })), "{typed}: {:?}", read(typed));
    }
    assert_eq!(read("1,23"), Ok(Length::from_units(123 * 768)));
    assert_eq!(read("1,2345").map(Length::units), Ok(94_810)); // 94809.6
}

#[test]
fn what_is_no_length_says_what_to_type() {
    assert_eq!(read("  "), Err(LengthFault::Empty));
    for typed in [
        "wide",
        "3 4",
        "3/",
        "/4",
        "1.2.3",
        "1.",
        "3 mm mm",
        "3 furlongs",
        "½ ½",
        "¾4",
        "23 - 3/4",
        "1/2/3",
        "3\"\"",
        "1.5 1/2",
        "-",
        "1.2/3",
    ] {
        assert!(matches!(read(typed), Err(LengthFault::NotALength { .. })), "{typed}: {:?}", read(typed));
    }
    assert!(matches!(read("3 1/0"), Err(LengthFault::ZeroDenominator { .. })));
    assert!(matches!(read("3 5/4 in"), Err(LengthFault::FractionOfOneOrMore { .. })));
    assert!(matches!(read("1000.1 m"), Err(LengthFault::TooLong { .. })));
    assert_eq!(read("1000 m"), Ok(Length::MOST));
    assert!(matches!(read("999999999999999999999999 ft"), Err(LengthFault::TooLong { .. })));
    assert!(matches!(read("999999999999999999999999 999999/9999999"), Err(LengthFault::TooLong { .. })));
    assert_eq!(read(&"1".repeat(41)), Err(LengthFault::TooMuchText));
    assert_eq!(
        read("1,234").map_err(|fault| fault.to_string()),
        Err("“1,234” can be read two ways. Leave the comma out for thousands, or type a point before decimals."
            .to_owned())
    );
}

#[test]
fn json_numbers_are_read_by_their_decimals() {
    assert_eq!(Length::from_json_number("-897.5", Unit::Millimetre), Ok(Length::from_units(-68_928_000)));
    assert_eq!(Length::from_json_number("23.75", Unit::Inch), Ok(Length::sixty_fourths(23 * 64 + 48)));
    assert_eq!(Length::from_json_number("1e3", Unit::Millimetre), Ok(Length::mm(1000)));
    assert_eq!(Length::from_json_number("1.5e-7", Unit::Millimetre), Ok(Length::ZERO));
    assert_eq!(Length::from_json_number("0.0", Unit::Millimetre), Ok(Length::ZERO));
    assert_eq!(Length::from_json_number("5e-324", Unit::Millimetre), Ok(Length::ZERO));
    for number in ["1e7", "1e300", "-1000001"] {
        let read = Length::from_json_number(number, Unit::Millimetre);
        assert!(matches!(read, Err(LengthFault::TooLong { .. })), "{number}");
    }
    assert!(Length::from_json_number("3/4", Unit::Inch).is_err());
}

#[test]
fn lengths_are_shown_as_on_the_tape() {
    let inches =
        |sixty_fourths: i64| Length::sixty_fourths(sixty_fourths).show(Unit::Inch, Rounding::Nearest);
    assert_eq!(inches(5 * 64 + 24), "5 3/8 in");
    assert_eq!(inches(4), "1/16 in");
    assert_eq!(inches(63), "1 in");
    assert_eq!(inches(-(64 + 32)), "-1 1/2 in");
    assert_eq!(inches(0), "0 in");
    assert_eq!(inches(-1), "0 in");
    assert_eq!(Length::mm(603).show(Unit::Millimetre, Rounding::Nearest), "603 mm");
    assert_eq!(Length::from_units(-38_400).show(Unit::Millimetre, Rounding::Nearest), "-1 mm");
    assert_eq!(
        Length::from_units(9 * 76_800 + 38_400).show_fine(Unit::Millimetre, Rounding::Nearest),
        "9.5 mm"
    );
    assert_eq!(Length::mm(3).show_fine(Unit::Millimetre, Rounding::Nearest), "3 mm");
    assert_eq!(Length::sixty_fourths(3).show_fine(Unit::Inch, Rounding::Nearest), "3/64 in");
}

#[test]
fn a_piece_that_must_fit_is_rounded_down_and_a_hole_up() {
    let three_and_a_bit = Length::sixty_fourths(3 * 64 + 5);
    for (inch_mark, fits, clears) in [
        (InchMark::Eighth, "3 in", "3 1/8 in"),
        (InchMark::Sixteenth, "3 1/16 in", "3 1/8 in"),
        (InchMark::ThirtySecond, "3 1/16 in", "3 3/32 in"),
    ] {
        let scale = Scale { unit: Unit::Inch, inch_mark };
        assert_eq!(three_and_a_bit.show(scale, Rounding::FitsIn), fits);
        assert_eq!(three_and_a_bit.show(scale, Rounding::Clears), clears);
    }
    let just_under = Length::from_units(306 * 76_800 - 1);
    assert_eq!(just_under.show(Unit::Millimetre, Rounding::FitsIn), "305 mm");
    assert_eq!(just_under.show(Unit::Millimetre, Rounding::Clears), "306 mm");
    assert_eq!(just_under.show(Unit::Millimetre, Rounding::Nearest), "306 mm");
}

fn lengths() -> impl Strategy<Value = Length> {
    (-Length::MOST.units()..=Length::MOST.units()).prop_map(Length::from_units)
}

fn scales() -> impl Strategy<Value = Scale> {
    let unit = prop_oneof![Just(Unit::Millimetre), Just(Unit::Inch)];
    let inch_mark =
        prop_oneof![Just(InchMark::Eighth), Just(InchMark::Sixteenth), Just(InchMark::ThirtySecond)];
    (unit, inch_mark).prop_map(|(unit, inch_mark)| Scale { unit, inch_mark })
}

proptest! {
    #[test]
    fn the_exact_form_read_back_is_the_same_length(length in lengths()) {
        prop_assert_eq!(Length::parse(&length.exact(), Unit::Inch), Ok(length));
        let number = length.to_json_number().to_string();
        prop_assert_eq!(Length::from_json_number(&number, Unit::Millimetre), Ok(length));
        prop_assert!(number.split_once('.').is_none_or(|(_, decimals)| decimals.len() <= 6), "{}", number);
    }

    #[test]
    fn sums_of_64ths_never_drift(counts in prop::collection::vec(0..20_000_i64, 1..60)) {
        let typed: Length = counts.iter().map(|n| read_inches(&format!("{} {}/64", n / 64, n % 64)).unwrap()).sum();
        prop_assert_eq!(typed, Length::sixty_fourths(counts.iter().sum()));
    }

    #[test]
    fn sums_of_hundredths_of_a_millimetre_never_drift(counts in prop::collection::vec(0..1_000_000_i64, 1..60)) {
        let typed: Length = counts.iter().map(|n| read(&format!("{}.{:02}", n / 100, n % 100)).unwrap()).sum();
        prop_assert_eq!(typed.units(), 768 * counts.iter().sum::<i64>());
    }

    #[test]
    fn a_third_of_64ths_is_exact(count in 1..100_000_i64) {
        let third = read_inches(&format!("{count}/192")).unwrap();
        prop_assert_eq!(third * 3, Length::sixty_fourths(count));
    }

    #[test]
    fn showing_rounds_the_way_it_is_asked_and_less_than_a_mark(length in lengths(), scale in scales()) {
        let mark = match scale.unit {
            Unit::Millimetre => Length::mm(1),
            Unit::Inch => Length::sixty_fourths(64 / scale.inch_mark.marks_in_an_inch()),
        };
        prop_assume!(length.abs() < Length::MOST - mark);
        let shown = |rounding| Length::parse(&length.show(scale, rounding), Unit::Inch).unwrap();
        prop_assert!(shown(Rounding::FitsIn) <= length && length - shown(Rounding::FitsIn) < mark);
        prop_assert!(shown(Rounding::Clears) >= length && shown(Rounding::Clears) - length < mark);
        prop_assert!((shown(Rounding::Nearest) - length).abs() * 2 <= mark);
        for rounding in [Rounding::FitsIn, Rounding::Clears, Rounding::Nearest] {
            prop_assert_eq!(length.on_tape(scale, rounding), shown(rounding));
        }
    }

    #[test]
    fn whatever_is_typed_is_read_or_refused_without_harm(typed in "[-0-9 ./,'\"a-z½¾”’−]{0,44}") {
        if let Ok(length) = read(&typed) {
            prop_assert!(length.abs() <= Length::MOST);
        }
    }
}
