//! All words people read, by key. One file a language.

use std::sync::Arc;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

/// The words of one language.
#[derive(Clone)]
pub struct Texts {
    language: &'static str,
    bundle: Arc<FluentBundle<FluentResource>>,
}

/// A language that everything is said in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Language {
    English,
    /// As tilers in the Americas say it.
    Spanish,
}

/// Every language, read.
pub struct Languages {
    english: Texts,
    spanish: Texts,
}

impl Language {
    /// All of them, in the order of the switch.
    pub const ALL: [Self; 2] = [Self::English, Self::Spanish];

    /// As pages and browsers name it.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }

    /// What it calls itself, the same in every language.
    pub const fn own_name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::Spanish => "Español",
        }
    }

    /// From a tag such as `es` or `es-MX`: what follows the language says where it is spoken, and ours are read
    /// everywhere.
    pub fn from_tag(tag: &str) -> Option<Self> {
        let language = tag.split_once('-').map_or(tag, |(language, _)| language);
        Self::ALL.into_iter().find(|ours| ours.tag().eq_ignore_ascii_case(language))
    }

    /// Its words, one message a key.
    pub const fn source(self) -> &'static str {
        match self {
            Self::English => include_str!("en.ftl"),
            Self::Spanish => include_str!("es.ftl"),
        }
    }
}

impl Languages {
    /// All that are compiled in.
    ///
    /// # Errors
    ///
    /// When a file compiled in is not well formed, which a test holds them to.
    pub fn load() -> anyhow::Result<Self> {
        Ok(Self { english: Texts::of(Language::English)?, spanish: Texts::of(Language::Spanish)? })
    }

    /// The same words whatever is asked for.
    pub fn only(texts: &Texts) -> Self {
        Self { english: texts.clone(), spanish: texts.clone() }
    }

    /// The words of a language.
    pub fn of(&self, language: Language) -> &Texts {
        match language {
            Language::English => &self.english,
            Language::Spanish => &self.spanish,
        }
    }
}

impl Texts {
    /// The words of a language.
    ///
    /// # Errors
    ///
    /// When the file compiled in is not well formed, which a test holds it to.
    pub fn of(language: Language) -> anyhow::Result<Self> {
        Self::read(language.tag(), language.source())
    }

    /// English.
    ///
    /// # Errors
    ///
    /// When the file compiled in is not well formed, which a test holds it to.
    pub fn english() -> anyhow::Result<Self> {
        Self::of(Language::English)
    }

    /// Words from their source, under a language's tag.
    ///
    /// # Errors
    ///
    /// When they are not well formed, or two share a key.
    pub fn read(language: &'static str, source: &str) -> anyhow::Result<Self> {
        let resource = FluentResource::try_new(source.to_owned())
            .map_err(|(_, faults)| anyhow::anyhow!("the words of {language} are malformed: {faults:?}"))?;
        let mut bundle = FluentBundle::new_concurrent(vec![language.parse()?]);
        // Marks round inserted values would show in plain text and break comparisons; our languages both run left
        // to right.
        bundle.set_use_isolating(false);
        bundle
            .add_resource(resource)
            .map_err(|faults| anyhow::anyhow!("the words of {language} clash: {faults:?}"))?;
        Ok(Self { language, bundle: Arc::new(bundle) })
    }

    /// The language's tag, for the page's `lang`.
    pub fn language(&self) -> &'static str {
        self.language
    }

    /// The words for a key.
    pub fn say(&self, key: &str) -> String {
        self.say_with(key, &[])
    }

    /// A length as the tape shows it, with its unit in this language.
    pub fn length(&self, shown: &str) -> String {
        match shown.strip_suffix(" in") {
            Some(number) => self.say_with("length-inches", &[("number", &number)]),
            None => shown.to_owned(),
        }
    }

    /// The words for a key with values put in.
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|message| message.value()) else {
            tracing::error!(key, "no words for this key");
            return key.to_owned();
        };
        let mut args = FluentArgs::new();
        for (name, value) in values {
            args.set((*name).to_owned(), value.said());
        }
        let mut faults = Vec::new();
        let words = self.bundle.format_pattern(pattern, Some(&args), &mut faults);
        if !faults.is_empty() {
            tracing::error!(key, ?faults, "words lack a value");
        }
        words.into_owned()
    }

    /// Whether there are words for a key.
    pub fn has(&self, key: &str) -> bool {
        self.bundle.has_message(key)
    }
}

/// What can be put into words: counts, which choose between singular and plural, and anything already in words.
pub trait Said {
    /// As the words take it.
    fn said(&self) -> FluentValue<'static>;
}

impl Said for str {
    fn said(&self) -> FluentValue<'static> {
        FluentValue::from(self.to_owned())
    }
}

impl Said for &str {
    fn said(&self) -> FluentValue<'static> {
        FluentValue::from((*self).to_owned())
    }
}

impl Said for String {
    fn said(&self) -> FluentValue<'static> {
        FluentValue::from(self.clone())
    }
}

macro_rules! counts {
    ($($count:ty),*) => {$(
        impl Said for $count {
            fn said(&self) -> FluentValue<'static> {
                FluentValue::from(*self)
            }
        }
    )*};
}
counts!(usize, u32, u64, i64);
