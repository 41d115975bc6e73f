//! From text to a length, without a float on the way.

use std::iter::Peekable;
use std::vec::IntoIter;

use super::{LengthFault, divided_nearest};
use crate::measure::{Length, Unit};

/// Units of 1/76800 mm in an inch; all larger measures follow from it and from the millimetre.
const INCH: i128 = 64 * 30_480;
const MILLIMETRE: i128 = 76_800;

/// Digits of one number, before and behind the point. More than anyone types; few enough for `i128`.
const MOST_DIGITS: usize = 24;

/// What a run of characters says.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Token {
    /// Digits with perhaps one point or comma, as a whole number over a power of ten.
    Number(Ratio),
    Over,
    /// Between whole inches and their fraction, or between feet and inches. `tight` without spaces round it.
    Hyphen {
        tight: bool,
    },
    Measure(Measure),
}

/// A number as a fraction; the denominator is above 0.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Ratio {
    above: i128,
    below: i128,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Measure {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
}

/// One number with what it counts: `3 1/2 in`.
#[derive(Clone, Copy)]
struct Term {
    value: Ratio,
    measure: Option<Measure>,
}

pub(super) fn typed_length(typed: &str, unit: Unit) -> Result<Length, LengthFault> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Err(LengthFault::Empty);
    }
    if typed.chars().count() > Length::MOST_TYPED {
        return Err(LengthFault::TooMuchText);
    }
    let plain = in_plain_characters(typed);
    let (negative, size) = match plain.strip_prefix('-') {
        Some(size) => (true, size.trim_start()),
        None => (false, plain.as_str()),
    };
    let units = Reader::new(typed, size)?.whole_length(unit)?;
    checked(if negative { -units } else { units }, typed)
}

pub(super) fn json_number(number: &str, unit: Unit) -> Result<Length, LengthFault> {
    let not_a_length = || LengthFault::NotALength { typed: number.to_owned() };
    let too_long = || LengthFault::TooLong { typed: number.to_owned() };
    let (mantissa, exponent) = number.split_once(['e', 'E']).unwrap_or((number, "0"));
    let exponent: i32 = exponent.parse().map_err(|_| not_a_length())?;
    let (negative, size) = mantissa.strip_prefix('-').map_or((false, mantissa), |size| (true, size));
    let size = decimal(size, '.').ok_or_else(not_a_length)?.times_ten_to(exponent).ok_or_else(too_long)?;
    let units = size.units(Measure::of(unit)).ok_or_else(too_long)?;
    checked(if negative { -units } else { units }, number)
}

fn checked(units: i128, typed: &str) -> Result<Length, LengthFault> {
    let too_long = || LengthFault::TooLong { typed: typed.to_owned() };
    let length = i64::try_from(units).map(Length::from_units).map_err(|_| too_long())?;
    if length.abs() > Length::MOST { Err(too_long()) } else { Ok(length) }
}

/// Straight quotes for curly ones and primes, a hyphen for the minus sign, `3/4` for `¾`, lower case.
fn in_plain_characters(typed: &str) -> String {
    let mut plain = String::with_capacity(typed.len() + 8);
    for character in typed.chars() {
        match character {
            '’' | '‘' | '′' => plain.push('\''),
            '”' | '“' | '″' => plain.push('"'),
            '\u{2212}' | '\u{2010}' | '\u{2011}' | '\u{2013}' => plain.push('-'),
            '\u{2044}' | '\u{2215}' => plain.push('/'),
            character if character.is_whitespace() => plain.push(' '),
            character => match vulgar_fraction(character) {
                // Spaces keep its digits apart from the digits beside it.
                Some(fraction) => {
                    if plain.ends_with(|before: char| before.is_ascii_digit()) {
                        plain.push(' ');
                    }
                    plain.push_str(fraction);
                    plain.push(' ');
                }
                None => plain.push(character.to_ascii_lowercase()),
            },
        }
    }
    plain.trim().replace("''", "\"")
}

fn vulgar_fraction(character: char) -> Option<&'static str> {
    let fraction = match character {
        '½' => "1/2",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅐' => "1/7",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅑' => "1/9",
        '⅒' => "1/10",
        _ => return None,
    };
    Some(fraction)
}

/// Reads tokens one after the other and remembers what was typed, for the fault.
struct Reader<'a> {
    typed: &'a str,
    tokens: Peekable<IntoIter<Token>>,
}

impl<'a> Reader<'a> {
    fn new(typed: &'a str, plain: &str) -> Result<Self, LengthFault> {
        let mut tokens = Vec::new();
        let mut rest = plain;
        while let Some(first) = rest.chars().next() {
            let end = match first {
                '0'..='9' | '.' | ',' => rest.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ','),
                'a'..='z' => rest.find(|c: char| !c.is_ascii_lowercase() && c != '.'),
                ' ' | '-' => rest.find(|c: char| c != ' ' && c != '-'),
                first => Some(first.len_utf8()),
            };
            let (word, after) = rest.split_at(end.unwrap_or(rest.len()));
            tokens.extend(token(word, typed)?);
            rest = after;
        }
        Ok(Self { typed, tokens: tokens.into_iter().peekable() })
    }

    /// `5' 3 1/2"`, or any one term.
    fn whole_length(mut self, unit: Unit) -> Result<i128, LengthFault> {
        let first = self.term()?;
        if self.tokens.peek().is_none() {
            return self.units(first, first.measure.unwrap_or(Measure::of(unit)));
        }
        let whole_feet = first.measure == Some(Measure::Foot) && first.value.below == 1;
        if !whole_feet {
            return Err(self.not_a_length());
        }
        if matches!(self.tokens.peek(), Some(Token::Hyphen { .. })) {
            self.tokens.next();
        }
        let second = self.term()?;
        if self.tokens.peek().is_some() || !matches!(second.measure, None | Some(Measure::Inch)) {
            return Err(self.not_a_length());
        }
        let inches = self.units(second, Measure::Inch)?;
        if inches >= 12 * INCH {
            return Err(LengthFault::InchesPastAFoot { typed: self.typed.to_owned() });
        }
        Ok(self.units(first, Measure::Foot)? + inches)
    }

    fn term(&mut self) -> Result<Term, LengthFault> {
        let value = self.mixed_number()?;
        let measure = match self.tokens.peek() {
            Some(Token::Measure(measure)) => Some(*measure),
            _ => None,
        };
        if measure.is_some() {
            self.tokens.next();
        }
        Ok(Term { value, measure })
    }

    /// `23`, `23.5`, `3/4`, `23 3/4` or `23-3/4`.
    fn mixed_number(&mut self) -> Result<Ratio, LengthFault> {
        let first = self.number()?;
        if self.tokens.next_if_eq(&Token::Over).is_some() {
            return self.over(first);
        }
        let hyphen = self.tokens.next_if_eq(&Token::Hyphen { tight: true }).is_some();
        if !hyphen && !matches!(self.tokens.peek(), Some(Token::Number(_))) {
            return Ok(first);
        }
        let above = self.number()?;
        if first.below != 1 || self.tokens.next_if_eq(&Token::Over).is_none() {
            return Err(self.not_a_length());
        }
        let part = self.over(above)?;
        if part.above >= part.below {
            return Err(LengthFault::FractionOfOneOrMore { typed: self.typed.to_owned() });
        }
        let above = first.above.checked_mul(part.below).and_then(|whole| whole.checked_add(part.above));
        let above = above.ok_or_else(|| LengthFault::TooLong { typed: self.typed.to_owned() })?;
        Ok(Ratio { above, below: part.below })
    }

    /// What follows the stroke of a fraction.
    fn over(&mut self, above: Ratio) -> Result<Ratio, LengthFault> {
        let below = self.number()?;
        if above.below != 1 || below.below != 1 {
            return Err(self.not_a_length());
        }
        if below.above == 0 {
            return Err(LengthFault::ZeroDenominator { typed: self.typed.to_owned() });
        }
        Ok(Ratio { above: above.above, below: below.above })
    }

    fn number(&mut self) -> Result<Ratio, LengthFault> {
        match self.tokens.next() {
            Some(Token::Number(number)) => Ok(number),
            _ => Err(self.not_a_length()),
        }
    }

    fn units(&self, term: Term, measure: Measure) -> Result<i128, LengthFault> {
        term.value.units(measure).ok_or_else(|| LengthFault::TooLong { typed: self.typed.to_owned() })
    }

    fn not_a_length(&self) -> LengthFault {
        LengthFault::NotALength { typed: self.typed.to_owned() }
    }
}

/// The token a run of characters stands for; a space stands for none.
fn token(word: &str, typed: &str) -> Result<Option<Token>, LengthFault> {
    let token = match word {
        "/" => Token::Over,
        "-" => Token::Hyphen { tight: true },
        word if word.trim().is_empty() => return Ok(None),
        word if word.trim() == "-" => Token::Hyphen { tight: false },
        "mm" => Token::Measure(Measure::Millimetre),
        "cm" => Token::Measure(Measure::Centimetre),
        "m" => Token::Measure(Measure::Metre),
        "\"" | "″" | "in" | "in." | "inch" | "inches" | "pulg" | "pulg." | "pulgada" | "pulgadas" => {
            Token::Measure(Measure::Inch)
        }
        "'" | "ft" | "ft." | "foot" | "feet" => Token::Measure(Measure::Foot),
        word if word.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',') => {
            Token::Number(typed_number(word, typed)?)
        }
        _ => return Err(LengthFault::NotALength { typed: typed.to_owned() }),
    };
    Ok(Some(token))
}

fn typed_number(word: &str, typed: &str) -> Result<Ratio, LengthFault> {
    let three_digits_behind = |behind: &str| {
        let digits = behind.find(|c: char| !c.is_ascii_digit()).unwrap_or(behind.len());
        digits == 3
    };
    if word.split(',').skip(1).any(three_digits_behind) {
        return Err(LengthFault::AmbiguousComma { typed: typed.to_owned() });
    }
    let mark = if word.contains(',') { ',' } else { '.' };
    decimal(word, mark).ok_or_else(|| LengthFault::NotALength { typed: typed.to_owned() })
}

/// Digits with at most one decimal mark and at least one digit behind it.
fn decimal(text: &str, mark: char) -> Option<Ratio> {
    let (whole, behind) = match text.split_once(mark) {
        Some((_, "")) => return None,
        Some(parts) => parts,
        None => (text, ""),
    };
    let digits = format!("{whole}{behind}");
    let fits =
        !digits.is_empty() && digits.len() <= MOST_DIGITS && digits.bytes().all(|b| b.is_ascii_digit());
    if !fits {
        return None;
    }
    let below = 10_i128.checked_pow(u32::try_from(behind.len()).ok()?)?;
    Some(Ratio { above: digits.parse().ok()?, below })
}

impl Ratio {
    const ZERO: Self = Self { above: 0, below: 1 };
    /// Above and below stay under this, so that rounding can double them.
    const MOST: i128 = i128::MAX / 4;

    /// In units of 1/76800 mm, half away from zero; `None` when it is far longer than any length.
    fn units(self, measure: Measure) -> Option<i128> {
        let units = self.above.checked_mul(units_in(measure)).filter(|units| *units < Self::MOST)?;
        Some(divided_nearest(units, self.below))
    }

    /// What is far too small to make a unit becomes nothing; what is far too large is `None`.
    fn times_ten_to(self, exponent: i32) -> Option<Self> {
        if self.above == 0 {
            return Some(Self::ZERO);
        }
        let power = 10_i128.checked_pow(exponent.unsigned_abs());
        let times =
            |number: i128| power.and_then(|power| number.checked_mul(power)).filter(|n| *n < Self::MOST);
        if exponent < 0 {
            Some(times(self.below).map_or(Self::ZERO, |below| Self { below, ..self }))
        } else {
            times(self.above).map(|above| Self { above, ..self })
        }
    }
}

fn units_in(measure: Measure) -> i128 {
    match measure {
        Measure::Millimetre => MILLIMETRE,
        Measure::Centimetre => 10 * MILLIMETRE,
        Measure::Metre => 1000 * MILLIMETRE,
        Measure::Inch => INCH,
        Measure::Foot => 12 * INCH,
    }
}

impl Measure {
    fn of(unit: Unit) -> Self {
        match unit {
            Unit::Millimetre => Self::Millimetre,
            Unit::Inch => Self::Inch,
        }
    }
}
