//! Every key that a page or a handler asks words for has words.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use coursebook::texts::Texts;

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

#[test]
#[expect(clippy::disallowed_methods, reason = "sources, not the database")]
fn nothing_is_asked_for_that_has_no_words() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sources = Vec::new();
    files(&root.join("server"), &["rs"], &mut sources);
    files(&root.join("templates"), &["html"], &mut sources);
    let texts = Texts::english().unwrap();
    let asked: BTreeSet<String> = sources
        .iter()
        .flat_map(|path| keys(&std::fs::read_to_string(path).unwrap()).collect::<Vec<_>>())
        .collect();
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
