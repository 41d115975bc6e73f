//! The names under which roles, edges and patterns stand in files and in the database.

use super::{Fraction, OpeningEdge, Pattern, Role};

impl Role {
    /// Every role.
    pub const ALL: [Self; 7] =
        [Self::Corner, Self::Base, Self::Ceiling, Self::Trim, Self::Mitre, Self::Bare, Self::Hidden];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Corner => "corner",
            Self::Base => "base",
            Self::Ceiling => "ceiling",
            Self::Trim => "trim",
            Self::Mitre => "mitre",
            Self::Bare => "bare",
            Self::Hidden => "hidden",
        }
    }

    /// The role of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.name() == name)
    }
}

impl OpeningEdge {
    /// Every edge.
    pub const ALL: [Self; 5] = [Self::Plate, Self::Trim, Self::Lapped, Self::Mitre, Self::Bare];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Plate => "plate",
            Self::Trim => "trim",
            Self::Lapped => "lapped",
            Self::Mitre => "mitre",
            Self::Bare => "bare",
        }
    }

    /// The edge of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|edge| edge.name() == name)
    }
}

impl std::fmt::Display for Fraction {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match (self.numerator(), self.denominator()) {
            (numerator, 1) => write!(out, "{numerator}"),
            (numerator, denominator) => write!(out, "{numerator}/{denominator}"),
        }
    }
}

impl std::str::FromStr for Fraction {
    type Err = NoFraction;

    fn from_str(text: &str) -> Result<Self, NoFraction> {
        let (numerator, denominator) = text.trim().split_once('/').unwrap_or((text.trim(), "1"));
        let number = |part: &str| part.trim().parse().map_err(|_| NoFraction);
        Self::new(number(numerator)?, number(denominator)?).ok_or(NoFraction)
    }
}

/// The text is no part like `1/3`.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
#[error("write a part like 1/3")]
pub struct NoFraction;

/// A pattern as one line of text: `straight`, `right 1/3`, `left 1/3`, `cycle 2/3 0 1/3`.
impl std::fmt::Display for Pattern {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Straight => out.write_str("straight"),
            Self::Running { step, mirror: false } => write!(out, "right {step}"),
            Self::Running { step, mirror: true } => write!(out, "left {step}"),
            Self::Cycle { shifts } => {
                out.write_str("cycle")?;
                shifts.iter().try_for_each(|shift| write!(out, " {shift}"))
            }
        }
    }
}

impl std::str::FromStr for Pattern {
    type Err = NoPattern;

    fn from_str(text: &str) -> Result<Self, NoPattern> {
        let mut words = text.split_whitespace();
        let kind = words.next().ok_or(NoPattern)?;
        let shifts: Vec<Fraction> = words.map(str::parse).collect::<Result<_, _>>().map_err(|_| NoPattern)?;
        match (kind, shifts.as_slice()) {
            ("straight", []) => Ok(Self::Straight),
            ("right", [step]) => Ok(Self::Running { step: *step, mirror: false }),
            ("left", [step]) => Ok(Self::Running { step: *step, mirror: true }),
            ("cycle", [_, ..]) if shifts.len() <= Self::LONGEST_CYCLE => Ok(Self::Cycle { shifts }),
            _ => Err(NoPattern),
        }
    }
}

/// The text is no pattern.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
#[error("no pattern is written like this")]
pub struct NoPattern;

impl Pattern {
    /// The most courses in a cycle: more than a wall of the smallest tile has reason for.
    pub const LONGEST_CYCLE: usize = 24;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back() {
        assert!(Role::ALL.into_iter().all(|role| Role::from_name(role.name()) == Some(role)));
        assert!(OpeningEdge::ALL.into_iter().all(|edge| OpeningEdge::from_name(edge.name()) == Some(edge)));
        for text in ["straight", "right 1/3", "left 1/2", "cycle 2/3 0 1/3"] {
            assert_eq!(text.parse::<Pattern>().map(|pattern| pattern.to_string()).as_deref(), Ok(text));
        }
        for text in ["", "right", "left 1/0", "cycle", "diagonal", "straight 1/3"] {
            assert_eq!(text.parse::<Pattern>(), Err(NoPattern), "{text}");
        }
    }
}
