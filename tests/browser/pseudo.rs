//! Serves the demo job in a language that nobody speaks: the English words, every vowel written twice and accented. What
//! is said in it is about a third longer, so that a page which holds it holds any language; and what is still read
//! without accents is not in the texts.

use clap::Parser;
use coursebook::config::{Arguments, Command};
use coursebook::texts::{Language, Languages, Texts};

fn main() -> anyhow::Result<()> {
    let Command::Demo(serve) = Arguments::parse().command() else {
        anyhow::bail!("only the demo job is served in these words");
    };
    let words: Vec<String> = Language::English.source().lines().map(stretched).collect();
    let texts = Texts::read("en-XA", &words.join("\n"))?;
    coursebook::web::serve_demo_in(&serve, Languages::only(&texts))
}

/// One line of a Fluent file with its words stretched; keys, choices and values stay.
fn stretched(line: &str) -> String {
    if line.starts_with('#') {
        return line.to_owned();
    }
    let (head, words) = line.split_at(words_begin(line));
    let mut out = head.to_owned();
    let mut in_value = false;
    for letter in words.chars() {
        in_value = match letter {
            '{' => true,
            '}' => false,
            _ => in_value,
        };
        out.push_str(&if in_value { letter.to_string() } else { stretched_letter(letter) });
    }
    out
}

/// Where the words of a line begin: after `key = ` or `[one] `.
fn words_begin(line: &str) -> usize {
    if line.starts_with(|c: char| c.is_ascii_lowercase()) {
        line.find('=').map_or(0, |equals| equals + 1)
    } else if line.trim_start().starts_with(['[', '*']) {
        line.find(']').map_or(0, |bracket| bracket + 1)
    } else {
        0
    }
}

fn stretched_letter(letter: char) -> String {
    let accented = match letter {
        'a' => "áa",
        'e' => "éë",
        'i' => "íi",
        'o' => "öó",
        'u' => "üú",
        'n' => "ñ",
        'A' => "Åa",
        'E' => "Éë",
        'I' => "Íi",
        'O' => "Öó",
        'U' => "Üú",
        other => return other.to_string(),
    };
    accented.to_owned()
}
