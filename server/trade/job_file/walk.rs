//! Walking over a JSON value and noting everything that is wrong with it.
//!
//! Every reader returns `None` after noting a fault and lets the walk go on, so that one file gives all its
//! faults at once.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::{Fault, limits};
use crate::measure::{Length, LengthFault, Unit};

/// What the walk has found so far, and the unit of numbers.
#[derive(Debug)]
pub(super) struct Walk {
    pub(super) unit: Unit,
    pub(super) faults: Vec<Fault>,
    pub(super) ignored: Vec<String>,
}

/// A value and where it stands.
#[derive(Clone, Debug)]
pub(super) struct Node<'a> {
    pub(super) path: String,
    pub(super) value: &'a Value,
}

/// An object, with the keys asked for so far.
#[derive(Debug)]
pub(super) struct Keys<'a> {
    pub(super) path: String,
    map: &'a Map<String, Value>,
    asked: BTreeSet<&'static str>,
}

/// Which lengths make sense in one place.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Sign {
    Any,
    NotNegative,
    Positive,
}

impl Walk {
    /// Notes a fault at a value.
    pub(super) fn refuse<T>(&mut self, node: &Node, expected: impl Into<String>) -> Option<T> {
        self.note(&node.path, shortened(&node.value.to_string()), expected)
    }

    /// Notes any fault.
    pub(super) fn note<T>(
        &mut self,
        path: &str,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) -> Option<T> {
        self.faults.push(Fault { path: path.to_owned(), found: found.into(), expected: expected.into() });
        None
    }

    /// Reads a key that must be there.
    pub(super) fn required<'a, T>(
        &mut self,
        keys: &mut Keys<'a>,
        key: &'static str,
        what: &str,
        read: impl FnOnce(&mut Self, &Node<'a>) -> Option<T>,
    ) -> Option<T> {
        match keys.get(key) {
            Some(node) => read(self, &node),
            None => self.note(&key_path(&keys.path, key), "nothing", what),
        }
    }

    /// Reads a key that has a meaning when absent.
    pub(super) fn or<'a, T>(
        &mut self,
        keys: &mut Keys<'a>,
        key: &'static str,
        absent: T,
        read: impl FnOnce(&mut Self, &Node<'a>) -> Option<T>,
    ) -> Option<T> {
        match keys.get(key) {
            Some(node) => read(self, &node),
            None => Some(absent),
        }
    }

    /// Reads a key that may be absent.
    pub(super) fn optional<'a, T>(
        &mut self,
        keys: &mut Keys<'a>,
        key: &'static str,
        read: impl FnOnce(&mut Self, &Node<'a>) -> Option<T>,
    ) -> Option<Option<T>> {
        self.or(keys, key, None, |walk, node| read(walk, node).map(Some))
    }

    /// Notes a key that is known but not supported yet, unless its value asks for nothing.
    pub(super) fn unsupported(&mut self, keys: &mut Keys, key: &'static str, what: &str) -> bool {
        let node = keys.get(key).filter(|node| match node.value {
            Value::Bool(asked) => *asked,
            Value::Array(list) => !list.is_empty(),
            Value::Null | Value::Number(_) | Value::String(_) | Value::Object(_) => true,
        });
        if let Some(node) = &node {
            self.refuse::<()>(node, format!("nothing here: {what} not supported yet"));
        }
        node.is_some()
    }

    /// An object. Ask for its keys, then [`Walk::close`] it.
    pub(super) fn keys<'a>(&mut self, node: &Node<'a>, what: &str) -> Option<Keys<'a>> {
        match node.value {
            Value::Object(map) => Some(Keys { path: node.path.clone(), map, asked: BTreeSet::new() }),
            _ => self.refuse(node, what),
        }
    }

    /// Names the keys that nobody asked for.
    pub(super) fn close(&mut self, keys: Keys) {
        let unknown = keys.map.keys().filter(|key| !keys.asked.contains(key.as_str()));
        self.ignored.extend(unknown.map(|key| key_path(&keys.path, key)));
    }

    /// An object whose keys are names: its values in order.
    pub(super) fn entries<'a>(&mut self, node: &Node<'a>, what: &str) -> Option<Vec<(&'a str, Node<'a>)>> {
        let keys = self.keys(node, what)?;
        let entry = |(key, value): (&'a String, &'a Value)| {
            (key.as_str(), Node { path: key_path(&node.path, key), value })
        };
        Some(keys.map.iter().map(entry).collect())
    }

    /// A list of at least one and at most `most` values.
    pub(super) fn list<'a>(&mut self, node: &Node<'a>, most: usize, what: &str) -> Option<Vec<Node<'a>>> {
        let Value::Array(list) = node.value else { return self.refuse(node, what) };
        match list.len() {
            0 => self.refuse(node, what),
            length if length > most => {
                self.note(&node.path, format!("a list of {length}"), format!("{what}, at most {most}"))
            }
            _ => Some(node.elements(list)),
        }
    }

    /// Two lengths, the first no greater than the second.
    pub(super) fn range(&mut self, node: &Node, what: &str) -> Option<(Length, Length)> {
        let Value::Array(list) = node.value else { return self.refuse(node, what) };
        let [from, to] = &node.elements(list)[..] else { return self.refuse(node, what) };
        let (from, to) = (self.length(from), self.length(to));
        let (from, to) = (from?, to?);
        if from <= to { Some((from, to)) } else { self.refuse(node, format!("{what}, the lesser first")) }
    }

    pub(super) fn text<'a>(&mut self, node: &Node<'a>) -> Option<&'a str> {
        match node.value {
            Value::String(text) if text.chars().count() <= limits::NAME => Some(text),
            _ => self.refuse(node, format!("a text of at most {} characters", limits::NAME)),
        }
    }

    /// One of a few words.
    pub(super) fn word<T>(&mut self, node: &Node, words: &[(&str, T)]) -> Option<T>
    where
        T: Copy,
    {
        let meant = words.iter().find(|(word, _)| node.value.as_str() == Some(word));
        match meant {
            Some((_, meant)) => Some(*meant),
            None => {
                let words: Vec<_> = words.iter().map(|(word, _)| format!("\"{word}\"")).collect();
                self.refuse(node, format!("one of {}", words.join(", ")))
            }
        }
    }

    pub(super) fn truth(&mut self, node: &Node) -> Option<bool> {
        match node.value {
            Value::Bool(truth) => Some(*truth),
            _ => self.refuse(node, "true or false"),
        }
    }

    /// A whole number from 1 to `most`.
    pub(super) fn count(&mut self, node: &Node, most: u32) -> Option<u32> {
        let count = node.value.as_u64().and_then(|count| u32::try_from(count).ok());
        match count {
            Some(count) if (1..=most).contains(&count) => Some(count),
            _ => self.refuse(node, format!("a whole number from 1 to {most}")),
        }
    }

    /// A length of any sign: a coordinate.
    pub(super) fn length(&mut self, node: &Node) -> Option<Length> {
        self.signed(node, Sign::Any)
    }

    /// A length of 0 or more: a gap.
    pub(super) fn gap(&mut self, node: &Node) -> Option<Length> {
        self.signed(node, Sign::NotNegative)
    }

    /// A length above 0: a size.
    pub(super) fn size(&mut self, node: &Node) -> Option<Length> {
        self.signed(node, Sign::Positive)
    }

    fn signed(&mut self, node: &Node, sign: Sign) -> Option<Length> {
        let read = match node.value {
            Value::Number(number) => Length::from_json_number(&number.to_string(), self.unit),
            Value::String(typed) => Length::parse(typed, self.unit),
            _ => return self.refuse(node, a_length(self.unit)),
        };
        let length = match read {
            Ok(length) => length,
            Err(fault) => return self.refuse(node, instead(&fault, self.unit)),
        };
        match sign {
            Sign::NotNegative if length < Length::ZERO => self.refuse(node, "a length of 0 or more"),
            Sign::Positive if length <= Length::ZERO => self.refuse(node, "a length above 0"),
            Sign::Any | Sign::NotNegative | Sign::Positive => Some(length),
        }
    }
}

impl<'a> Node<'a> {
    fn elements(&self, list: &'a [Value]) -> Vec<Self> {
        let element =
            |(index, value): (usize, &'a Value)| Node { path: format!("{}[{index}]", self.path), value };
        list.iter().enumerate().map(element).collect()
    }
}

impl<'a> Keys<'a> {
    /// The value of a key; `null` is as good as absent.
    pub(super) fn get(&mut self, key: &'static str) -> Option<Node<'a>> {
        self.asked.insert(key);
        let value = self.map.get(key).filter(|value| !value.is_null())?;
        Some(Node { path: key_path(&self.path, key), value })
    }

    /// Marks keys as known without reading them.
    pub(super) fn leave(&mut self, keys: impl IntoIterator<Item = &'static str>) {
        self.asked.extend(keys);
    }
}

/// What belongs in place of a text or number that was refused.
fn instead(fault: &LengthFault, unit: Unit) -> String {
    match fault {
        LengthFault::Empty | LengthFault::NotALength { .. } | LengthFault::TooMuchText => a_length(unit),
        LengthFault::AmbiguousComma { .. } => "a length without a comma before three digits".to_owned(),
        LengthFault::ZeroDenominator { .. } => "a fraction that is not over 0".to_owned(),
        LengthFault::FractionOfOneOrMore { .. } => "a fraction below one after the whole number".to_owned(),
        LengthFault::InchesPastAFoot { .. } => "less than 12 inches after the feet".to_owned(),
        LengthFault::TooLong { .. } => "a length of at most 1000 m".to_owned(),
    }
}

pub(super) fn a_length(unit: Unit) -> String {
    match unit {
        Unit::Millimetre => "a length in mm, such as 603, or \"60.3 cm\"".to_owned(),
        Unit::Inch => "a length in inches, such as 23.75, or \"23 3/4 in\"".to_owned(),
    }
}

/// The path of a key: `$.tiles.wall`, or `$.tiles["green wall"]` where it is no plain word. A key that would
/// fill the line is shortened.
pub(super) fn key_path(path: &str, key: &str) -> String {
    let key = &shortened(key);
    let plain = !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-');
    if plain { format!("{path}.{key}") } else { format!("{path}[{}]", Value::from(key.as_str())) }
}

/// What stands in the file, cut to what a line can hold.
pub(super) fn shortened(json: &str) -> String {
    const MOST: usize = 60;
    match json.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}...", &json[..end]),
        None => json.to_owned(),
    }
}
