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
