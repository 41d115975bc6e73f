//! Every key that a page or a handler asks words for has words, the same in every language, and no key lies unused.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use coursebook::texts::{Language, Texts};

fn files(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, endings, found);
        } else if endings.iter().any(|ending| path.extension().is_some_and(|of| of == *ending)) {
            found.push(path);
        }
    }
}

/// The first argument of every `say…("key"` in a source.
fn keys(source: &str) -> impl Iterator<Item = String> {
    ["say(\"", "say1(\"", "say_with(\""].into_iter().flat_map(move |call| {
        let asked = source.split(call).skip(1);
        asked.filter_map(|rest| rest.split('"').next()).map(str::to_owned).collect::<Vec<_>>()
    })
}

/// What is written in a folder of ours, in files of these endings.
#[expect(clippy::disallowed_methods, reason = "sources, not the database")]
fn written(folder: &str, endings: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    files(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), endings, &mut found);
    found.iter().map(|path| std::fs::read_to_string(path).unwrap()).collect()
}

/// The messages of a language by key, each as it is written. A key twice is a fault that the bundle finds.
fn messages(language: Language) -> BTreeMap<&'static str, String> {
    let mut found: BTreeMap<&str, String> = BTreeMap::new();
    let mut key = "";
    for line in language.source().lines().filter(|line| !line.starts_with('#') && !line.is_empty()) {
        if line.starts_with(|c: char| c.is_ascii_lowercase()) {
            key = line.split_once(" =").expect("a key and its words").0;
        }
        let message = found.entry(key).or_default();
        message.push_str(line);
        message.push('\n');
    }
    found
}

/// The values that a message puts in.
fn values(message: &str) -> BTreeSet<&str> {
    let names = message.split('$').skip(1);
    names.filter_map(|rest| rest.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').next()).collect()
}

#[test]
fn every_language_says_everything_with_the_same_values() {
    let english = messages(Language::English);
    assert!(english.len() > 900, "the scan found only {}", english.len());
    for language in Language::ALL {
        let texts = Texts::of(language).unwrap();
        let other = messages(language);
        let keys = |of: &BTreeMap<&'static str, String>| of.keys().copied().collect::<Vec<_>>();
        assert_eq!(keys(&other), keys(&english), "{language:?}");
        for (key, message) in &english {
            assert!(texts.has(key), "{language:?}: {key}");
            assert_eq!(values(&other[key]), values(message), "{language:?}: {key}");
        }
    }
}

/// A message that is the same in both languages holds nothing but values, numbers, units and words of both.
#[test]
fn nothing_is_left_in_english() {
    let (english, spanish) = (messages(Language::English), messages(Language::Spanish));
    let same: Vec<&str> =
        english.iter().filter(|(key, message)| spanish[*key] == **message).map(|(key, _)| *key).collect();
    let letters = |key: &&str| {
        let message = english[key].split_once('=').unwrap().1;
        let outside = message.split('{').map(|part| part.split_once('}').map_or(part, |(_, after)| after));
        outside.flat_map(|text| text.split_whitespace()).any(|word| {
            let word: String = word.chars().filter(|c| c.is_alphabetic()).collect();
            !word.is_empty()
                && ![
                    "h", "min", "am", "pm", "Error", "base", "Base", "C", "F", "Normal", "kg", "l", "lb", "m",
                ]
                .contains(&word.as_str())
        })
    };
    assert_eq!(same.into_iter().filter(letters).collect::<Vec<_>>(), Vec::<&str>::new());
}

/// Keys are written out where they are used, or put together from a beginning and an end that are; a hint's key is its
/// label's with `-hint` after it.
#[test]
fn no_words_lie_unused() {
    let sources = [written("server", &["rs"]), written("templates", &["html"])].concat();
    let literals: BTreeSet<&str> = sources.iter().flat_map(|source| source.split('"')).collect();
    let put_together = |literal: &&&str| {
        let head = literal.split('{').next().unwrap_or_default();
        literal.contains('{')
            && head.ends_with('-')
            && head.len() > 2
            && literal.chars().all(|c| c.is_ascii_alphanumeric() || "-_{}().".contains(c))
    };
    let patterns: Vec<(&str, &str)> = literals
        .iter()
        .filter(put_together)
        .map(|literal| (literal.split('{').next().unwrap(), literal.rsplit('}').next().unwrap()))
        .collect();
    let is_used = |key: &str| {
        literals.contains(key)
            || patterns.iter().any(|(head, tail)| {
                key.len() > head.len() + tail.len() && key.starts_with(head) && key.ends_with(tail)
            })
    };
    let unused: Vec<&str> = messages(Language::English)
        .into_keys()
        .filter(|key| !is_used(key) && !key.strip_suffix("-hint").is_some_and(is_used))
        .collect();
    assert_eq!(unused, Vec::<&str>::new());
}

#[test]
fn nothing_is_asked_for_that_has_no_words() {
    let sources = [written("server", &["rs"]), written("templates", &["html"])].concat();
    let texts = Texts::english().unwrap();
    let asked: BTreeSet<String> =
        sources.iter().flat_map(|source| keys(source).collect::<Vec<_>>()).collect();
    assert!(asked.len() > 20, "the scan found only {}", asked.len());
    let missing: Vec<&String> = asked.iter().filter(|key| !texts.has(key)).collect();
    assert_eq!(missing, Vec::<&String>::new());
}

/// Whatever tells how few tiles will do names the number below which no plan goes, and says where that is not the plan's
/// own.
#[test]
fn a_plan_that_is_not_proved_is_called_found_beside_the_number_that_none_goes_under() {
    let texts = Texts::english().unwrap();
    let values: [(&str, &dyn coursebook::texts::Said); 3] =
        [("bound", &17_usize), ("tiles", &"18 tiles"), ("order", &"")];
    for key in ["layout-proved", "layout-repeat-proved", "options-proved"] {
        let says = texts.say_with(key, &values);
        assert!(says.contains("No plan for this layout can use fewer than 17."), "{key}: {says}");
        assert!(!says.contains("not proved"), "{key}: {says}");
    }
    for key in ["layout-at-least", "layout-repeat-open", "options-at-least"] {
        let says = texts.say_with(key, &values);
        assert!(
            says.contains("Found, not proved: no plan for this layout can use fewer than 17."),
            "{key}: {says}"
        );
    }
    for key in ["proof-counted", "proof-search"] {
        let says = texts.say_with(key, &[("cases", &5_usize)]);
        assert!(says.contains("not gone over a second time"), "{key}: {says}");
    }
}
