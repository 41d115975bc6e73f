//! How warm a surface is, in whole tenths of a degree, and as people write it.

/// A temperature in tenths of a degree Celsius, between [`Temperature::COLDEST`] and [`Temperature::WARMEST`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Temperature(i32);

/// In what a number without a unit is meant.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Scale {
    /// Water freezes at 0 and boils at 100.
    Celsius,
    /// Water freezes at 32 and boils at 212.
    Fahrenheit,
}

/// What keeps something typed from being a temperature.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum TemperatureFault {
    /// No number, or more than one can be sure of.
    #[error("Write a temperature like 10 °C or 50 °F.")]
    Unclear,
    /// Colder or warmer than any surface that is tiled.
    #[error("A surface is between -40 °C and 60 °C (-40 °F and 140 °F): look at the thermometer again.")]
    OutOfRange,
}

impl Temperature {
    /// Colder than any house that is worked in.
    pub const COLDEST: Self = Self(-400);
    /// Warmer than sun on a dark floor makes it.
    pub const WARMEST: Self = Self(600);
    /// Where water freezes.
    pub const FREEZING: Self = Self(0);

    /// So many whole degrees Celsius.
    pub(super) const fn celsius(degrees: i32) -> Self {
        Self(degrees * 10)
    }

    /// So many tenths of a degree Celsius; `None` out of range.
    pub fn from_tenths(tenths: i32) -> Option<Self> {
        (Self::COLDEST.0..=Self::WARMEST.0).contains(&tenths).then_some(Self(tenths))
    }

    /// Tenths of a degree Celsius.
    pub const fn tenths(self) -> i32 {
        self.0
    }

    /// A temperature as people write it: `10`, `10.5 °C`, `-3`, `50 F`, `10,5 grados`. A bare number is meant in
    /// `scale`. What falls between two tenths is the colder.
    ///
    /// # Errors
    /// What is no temperature, or none that a surface has.
    pub fn read(typed: &str, scale: Scale) -> Result<Self, TemperatureFault> {
        let typed = typed.trim().replace('\u{2212}', "-").to_lowercase();
        let ends = typed.find(|c: char| !(c.is_ascii_digit() || "+-.,".contains(c))).unwrap_or(typed.len());
        let (number, unit) = typed.split_at(ends);
        let thousandths = thousandths(number).ok_or(TemperatureFault::Unclear)?;
        let tenths = match scale_of(unit, scale).ok_or(TemperatureFault::Unclear)? {
            Scale::Celsius => thousandths.div_euclid(100),
            Scale::Fahrenheit => ((thousandths - 32_000) * 5).div_euclid(900),
        };
        let tenths = i32::try_from(tenths).ok().and_then(Self::from_tenths);
        tenths.ok_or(TemperatureFault::OutOfRange)
    }

    /// The whole degrees nearest to it.
    pub fn rounded(self, scale: Scale) -> i32 {
        match scale {
            Scale::Celsius => (self.0 + 5).div_euclid(10),
            Scale::Fahrenheit => (self.0 * 9 + 25).div_euclid(50) + 32,
        }
    }
}

/// A number with at most three decimals after a point or a comma, in thousandths.
fn thousandths(number: &str) -> Option<i64> {
    let (negative, number) = match number.strip_prefix('-') {
        Some(number) => (true, number),
        None => (false, number.strip_prefix('+').unwrap_or(number)),
    };
    let (whole, decimals) = number.split_once(['.', ',']).unwrap_or((number, "0"));
    let digits = |text: &str, most: usize| {
        let fits = !text.is_empty() && text.len() <= most && text.chars().all(|c| c.is_ascii_digit());
        fits.then(|| text.parse::<i64>().ok()).flatten()
    };
    let decimals = Some(decimals).filter(|decimals| !decimals.is_empty())?;
    let all = digits(whole, 6)? * 1000 + digits(&format!("{decimals:0<3}"), 3)?;
    Some(if negative { -all } else { all })
}

fn scale_of(unit: &str, bare: Scale) -> Option<Scale> {
    let unit = unit.trim().trim_start_matches(['°', 'º', '˚']).trim();
    let words = ["degrees", "degree", "deg", "grados", "grado"];
    let unit = words.into_iter().find_map(|word| unit.strip_prefix(word)).unwrap_or(unit).trim();
    match unit {
        "" => Some(bare),
        "c" | "celsius" | "centigrade" | "centígrados" | "centigrados" => Some(Scale::Celsius),
        "f" | "fahrenheit" => Some(Scale::Fahrenheit),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn tenths(typed: &str) -> Result<i32, TemperatureFault> {
        Temperature::read(typed, Scale::Celsius).map(Temperature::tenths)
    }

    #[test]
    fn read_as_people_write_it() {
        let written = [
            ("10", 100),
            ("10 C", 100),
            (" 10.5 °C", 105),
            ("10,5 ºc", 105),
            ("-3", -30),
            ("\u{2212}3 grados", -30),
            ("+4.25", 42),
            ("-4.25", -43),
            ("50F", 100),
            ("50 °F", 100),
            ("52 f", 111),
            ("70 degrees F", 211),
            ("32 fahrenheit", 0),
            ("-40 F", -400),
            ("21 grados C", 210),
        ];
        for (typed, expected) in written {
            assert_eq!(tenths(typed), Ok(expected), "{typed}");
        }
        assert_eq!(Temperature::read("50", Scale::Fahrenheit), Ok(Temperature::celsius(10)));
        assert_eq!(Temperature::read("10 C", Scale::Fahrenheit), Ok(Temperature::celsius(10)));
    }

    #[test]
    fn nonsense_is_refused() {
        for typed in ["", "cold", "10 K", "1-2", "10.5.2", "--3", "10 C or so", "10.1234", "°C", ".5", "5."]
        {
            assert_eq!(tenths(typed), Err(TemperatureFault::Unclear), "{typed}");
        }
        for typed in ["400", "400 F", "-41", "60.1", "141 F", "999999"] {
            assert_eq!(tenths(typed), Err(TemperatureFault::OutOfRange), "{typed}");
        }
    }

    proptest! {
        /// Written in either scale and read back it is never warmer than it was, nor a whole degree colder.
        #[test]
        fn never_read_warmer_than_written(thousandths in -40_000i64..60_000) {
            let sign = if thousandths < 0 { "-" } else { "" };
            let (whole, rest) = (thousandths.abs() / 1000, thousandths.abs() % 1000);
            let read = Temperature::read(&format!("{sign}{whole}.{rest:03}"), Scale::Celsius).unwrap();
            let read = i64::from(read.tenths()) * 100;
            prop_assert!(read <= thousandths && thousandths < read + 100);
        }

        #[test]
        fn rounded_to_the_nearest_degree(tenths in -400i32..=600) {
            let read = Temperature::from_tenths(tenths).unwrap();
            prop_assert!((read.rounded(Scale::Celsius) * 10 - tenths).abs() <= 5);
            prop_assert!(((read.rounded(Scale::Fahrenheit) - 32) * 50 - tenths * 9).abs() <= 25);
        }
    }
}
