//! Keys that stand twice in one JSON object: a reader would silently keep one of them.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

use super::Fault;
use super::walk::key_path;

/// A fault for every key that stands more than once in its object. The text has been found to be JSON.
pub(super) fn in_text(text: &str) -> Vec<Fault> {
    let faults = RefCell::new(Vec::new());
    let mut json = serde_json::Deserializer::from_str(text);
    let whole = At { path: "$".to_owned(), faults: &faults };
    // Nothing can fail here that did not fail when the same text was read as a value.
    let read = whole.deserialize(&mut json);
    debug_assert!(read.is_ok());
    faults.into_inner()
}

/// One value of the file and where it stands.
struct At<'a> {
    path: String,
    faults: &'a RefCell<Vec<Fault>>,
}

impl<'de> DeserializeSeed<'de> for At<'_> {
    type Value = ();
    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<(), D::Error> {
        json.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for At<'_> {
    type Value = ();

    fn expecting(&self, out: &mut fmt::Formatter) -> fmt::Result {
        out.write_str("any JSON")
    }

    fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<(), M::Error> {
        let mut seen = BTreeSet::new();
        while let Some(key) = map.next_key::<String>()? {
            let path = key_path(&self.path, &key);
            if !seen.insert(key) {
                let (found, expected) = ("the key twice".to_owned(), "it once".to_owned());
                self.faults.borrow_mut().push(Fault { path: path.clone(), found, expected });
            }
            map.next_value_seed(At { path, faults: self.faults })?;
        }
        Ok(())
    }

    fn visit_seq<S: SeqAccess<'de>>(self, mut list: S) -> Result<(), S::Error> {
        let mut index = 0;
        while list
            .next_element_seed(At { path: format!("{}[{index}]", self.path), faults: self.faults })?
            .is_some()
        {
            index += 1;
        }
        Ok(())
    }

    fn visit_bool<E>(self, _: bool) -> Result<(), E> {
        Ok(())
    }
    fn visit_i64<E>(self, _: i64) -> Result<(), E> {
        Ok(())
    }
    fn visit_u64<E>(self, _: u64) -> Result<(), E> {
        Ok(())
    }
    fn visit_f64<E>(self, _: f64) -> Result<(), E> {
        Ok(())
    }
    fn visit_str<E>(self, _: &str) -> Result<(), E> {
        Ok(())
    }
    fn visit_unit<E>(self) -> Result<(), E> {
        Ok(())
    }
}
