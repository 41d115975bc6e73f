//! What is written on offcuts while tiles break: a number that a page has said is the one that is kept.

use std::collections::BTreeMap;

use axum::http::StatusCode;

use crate::cuts::Yard;
use crate::support::Page;

/// What a page says of one piece: what to write on what it leaves, and what its button sends.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Said {
    offcut: String,
    print: String,
}

impl Said {
    /// Nothing where the piece leaves no offcut, or waits for another.
    fn on(page: &Page) -> Option<Self> {
        let leaves = page.texts(".cut-leaves li");
        let is_number = |word: &&str| {
            word.strip_prefix('K').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
        };
        let offcut = leaves.iter().find_map(|says| says.split([' ', ',']).find(is_number))?;
        let waits = !page.texts(".cut-before").is_empty();
        (!waits)
            .then(|| Self { offcut: offcut.to_owned(), print: page.attribute("input[name=print]", "value") })
    }
}

impl Yard {
    /// What the pages say by now of every piece that can be cut and leaves an offcut.
    async fn says(&self) -> BTreeMap<String, Said> {
        let mut says = BTreeMap::new();
        for label in self.labels().await {
            if let Some(said) = Said::on(&self.piece(&label).await) {
                says.insert(label, said);
            }
        }
        says
    }

    async fn on_the_rack(&self) -> Vec<String> {
        self.crew.get(&format!("/jobs/{}/rack", self.job)).await.texts(".offcut-label")
    }
}

#[tokio::test]
async fn a_tile_that_broke_changes_no_other_tiles_number() {
    let mut yard = Yard::new().await;
    let before = yard.says().await;
    let tile = |said: &Said| said.offcut.trim_end_matches(|c: char| c.is_ascii_lowercase()).to_owned();
    let first = before.iter().min_by_key(|(_, said)| tile(said)[1..].parse::<usize>().unwrap());
    let (broken, of_broken) = first.map(|(label, said)| (label.clone(), tile(said))).unwrap();

    let own = yard.crew.at_hand();
    let other = yard.crew.helper("Ben").await.cookie().unwrap();
    yard.crew.hand_to(&other);
    yard.broke(&broken).await.leads_to();
    yard.crew.hand_to(&own);

    let after = yard.says().await;
    let others = before.iter().filter(|(_, said)| tile(said) != of_broken);
    let others: Vec<(&String, &Said)> = others.collect();
    assert!(others.len() > 1, "{before:?}");
    for (label, said) in &others {
        assert_eq!(after.get(*label), Some(*said), "{label}");
    }
    assert!(!before.values().any(|said| tile(said) == tile(&after[&broken])), "a number of its own");

    // Pressed late, on the page from before.
    let (label, said) = others[0];
    yard.press(label, &said.print).await.leads_to();
    assert_eq!(yard.on_the_rack().await, std::slice::from_ref(&said.offcut));
}

#[tokio::test]
async fn tiles_that_make_up_for_losses_are_numbered_as_they_broke() {
    let yard = Yard::new().await;
    let says = yard.says().await;
    let by_number = |(_, said): &(&String, &Said)| said.offcut[1..].parse::<usize>().ok();
    let early = says.iter().filter(|one| by_number(one).is_some()).min_by_key(by_number).unwrap().0;
    let late = says.iter().filter(|one| by_number(one).is_some()).max_by_key(by_number).unwrap().0;
    yard.broke(late).await.leads_to();
    let before = Said::on(&yard.piece(late).await);
    yard.broke(early).await.leads_to();
    assert!(before.is_some());
    assert_eq!(Said::on(&yard.piece(late).await), before);
}

#[tokio::test]
async fn a_press_from_a_page_that_says_another_number_is_refused() {
    let yard = Yard::new().await;
    let says = yard.says().await;
    let (one, other) = (says.keys().next().unwrap(), says.keys().next_back().unwrap());
    yard.broke(one).await.leads_to();
    let entry = yard.saw().await.attribute(".saw-lost input[name=entry]", "value");
    yard.broke(other).await.leads_to();
    let before = Said::on(&yard.piece(other).await).unwrap();
    // The tile that made up for the first is none any more, and its number is free.
    let back = format!("/jobs/{}/cuts/{one}/not-broke", yard.job);
    yard.crew.post(&back, &[("entry", &entry)]).await.leads_to();
    let now = Said::on(&yard.piece(other).await).unwrap();
    assert_ne!(now.offcut, before.offcut);
    assert_eq!(yard.press(other, &before.print).await.status, StatusCode::CONFLICT);
    yard.press(other, &now.print).await.leads_to();
    assert_eq!(yard.on_the_rack().await, [now.offcut]);
}
