//! Tiles that break: what it costs, what is still good, and what is written on offcuts meanwhile: a number that a page
//! has said is the one that is kept.

use std::collections::BTreeMap;

use axum::http::StatusCode;
use trade::cure::Span;

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

    pub async fn on_the_rack(&self) -> Vec<String> {
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
    yard.crew.post(&yard.at(&format!("/{broken}/let-go")), &[]).await.leads_to();
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

impl Yard {
    /// Says on a piece's own page that it broke.
    pub async fn broke(&self, piece: &str) -> Page {
        let page = self.piece(piece).await;
        let print = page.attribute(".cut-broke input[name=print]", "value");
        // Only one that was cut says which cut is none any more.
        let cut = !page.texts("main .state.done").is_empty();
        let entry = if cut { page.attribute(".cut-broke input[name=entry]", "value") } else { String::new() };
        let fields = [("print", print.as_str()), ("entry", entry.as_str())];
        self.crew.post(&self.at(&format!("/{piece}/broke")), &fields).await
    }

    /// How many whole tiles are still to be taken to the saw.
    async fn tiles(&self) -> usize {
        let says = self.saw().await.text(".saw-tiles");
        says.split(' ').next().and_then(|count| count.parse().ok()).unwrap_or_default()
    }
}

#[tokio::test]
async fn a_piece_that_breaks_costs_one_tile_and_all_the_rest_can_still_be_cut() {
    let yard = Yard::new().await;
    let (all, tiles) = (yard.saw().await.texts(".queue-line").len(), yard.tiles().await);
    let (first, second) = yard.pair().await;
    yard.cut(&first).await;
    let before = yard.piece(&second).await.text(".cut-take");
    yard.broke(&second).await.leads_to();
    let page = yard.saw().await;
    assert_eq!(page.text(".saw-broke p"), format!("{second} broke, 1 so far. Now take a whole tile."));
    assert!(page.text(".saw-spares").starts_with("1 broken."), "{}", page.text(".saw-spares"));
    assert!(page.text(".saw-progress strong").starts_with("Cut 1 of "), "what was cut of it stays cut");
    assert_ne!(yard.piece(&second).await.text(".cut-take"), before);
    assert_eq!(yard.piece(&second).await.text(".cut-take"), "Take a whole tile");
    assert_eq!(yard.tiles().await, tiles, "one less for the first, and one more for what broke");
    yard.cut_next(all - 1).await;
    assert_eq!(yard.saw().await.text(".empty"), "All of them are cut.");
}

#[tokio::test]
async fn a_piece_that_breaks_after_it_was_cut_is_to_be_cut_again_and_can_be_found_whole_after_all() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    yard.cut(&piece).await;
    yard.broke(&piece).await.leads_to();
    let yard = yard.restarted().await;
    let page = yard.saw().await;
    assert!(page.text(".saw-progress strong").starts_with("Cut 0 of "));
    assert_eq!(page.text(".cut-label"), piece);
    let address = page.attribute(".saw-lost form", "action");
    let entry = page.attribute(".saw-lost input[name=entry]", "value");
    yard.crew.post(&address, &[("entry", &entry)]).await.leads_to();
    let page = yard.saw().await;
    assert!(page.texts(".saw-lost").is_empty());
    assert!(page.text(".saw-progress strong").starts_with("Cut 1 of "), "the cut stands again");

    yard.broke(&piece).await.leads_to();
    yard.cut(&piece).await;
    let entry = yard.saw().await.attribute(".saw-lost input[name=entry]", "value");
    let refused = yard.crew.post(&address, &[("entry", &entry)]).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal").starts_with(&format!("{piece} was cut since")));
    // The tile that took its place can break as well.
    yard.broke(&piece).await.leads_to();
    assert!(yard.saw().await.text(".saw-spares").starts_with("2 broken."));
    yard.cut(&piece).await;
}

#[tokio::test]
async fn a_piece_made_again_counts_as_one_tile_more_of_all_that_the_job_takes() {
    let yard = Yard::new().await;
    let in_all = async || {
        let says = yard.saw().await.text(".saw-spares");
        let (_, rest) = says.split_once("The job takes ").unwrap_or_else(|| panic!("{says}"));
        rest.split(' ').next().unwrap().parse::<usize>().unwrap()
    };
    let piece = yard.in_hand().await;
    yard.broke(&piece).await.leads_to();
    let once = in_all().await;
    yard.crew.pass(Span::from_minutes(1));
    yard.broke(&piece).await.leads_to();
    assert_eq!(in_all().await, once + 1);
    yard.cut(&piece).await;
    assert_eq!(in_all().await, once + 1, "the copy that came out well is counted already");
}

#[tokio::test]
async fn spares_are_counted_in_whole_boxes() {
    let yard = Yard::new().await;
    let typed = [("tile-0-box", "1000")];
    yard.crew.send_sheet(&yard.job, &typed).await.leads_to();
    let spares = async || {
        let says = yard.saw().await.text(".saw-spares");
        let spare = says.rsplit_once(". ").filter(|_| says.contains("broken"));
        let spare = spare.map_or(says.as_str(), |(_, spare)| spare);
        spare.split(' ').next().unwrap().parse::<usize>().unwrap()
    };
    let before = spares().await;
    let piece = yard.in_hand().await;
    yard.broke(&piece).await.leads_to();
    assert_eq!(spares().await, before - 1);
    yard.cut(&piece).await;
    assert_eq!(spares().await, before - 1);
    yard.crew.send_sheet(&yard.job, &[("tile-0-box", "1")]).await.leads_to();
    let says = yard.saw().await.text(".saw-spares");
    assert!(says.contains(" tiles with that. 1 more tile than the "), "{says}");
    assert!(says.ends_with(" of whole boxes: count what is there."), "{says}");
}

#[tokio::test]
async fn what_a_piece_left_over_is_good_after_it_broke() {
    let yard = Yard::new().await;
    let all = yard.saw().await.texts(".queue-line").len();
    let (first, second) = yard.pair().await;
    yard.cut(&first).await;
    let take = yard.piece(&second).await.text(".cut-take");
    assert!(take.starts_with("Take offcut K"), "{take}");
    // It is dropped on the way to the wall.
    yard.broke(&first).await.leads_to();
    let page = yard.piece(&second).await;
    assert_eq!(page.text(".cut-take"), take, "the offcut lies on the rack as it did");
    assert!(page.texts(".cut-before").is_empty(), "and can be cut at once");
    assert_eq!(yard.piece(&first).await.text(".cut-take"), "Take a whole tile");
    yard.cut(&second).await;
    let still = yard.piece(&first).await.text(".cut-take");
    assert_eq!(still, "Take a whole tile", "nothing of the broken one is promised to it again");
    yard.cut_next(all - 1).await;
    assert_eq!(yard.saw().await.text(".empty"), "All of them are cut.");
}

#[tokio::test]
async fn a_cut_is_not_taken_back_once_what_it_left_over_broke() {
    let yard = Yard::new().await;
    let (first, second) = yard.pair().await;
    yard.cut(&first).await;
    yard.broke(&second).await.leads_to();
    let refused = yard.take_back(&first).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal").starts_with(&format!("{second} was cut from what {first} left over.")));
    let page = yard.saw().await;
    let entry = page.attribute(".saw-lost input[name=entry]", "value");
    yard.crew.post(&yard.at(&format!("/{second}/not-broke")), &[("entry", &entry)]).await.leads_to();
    yard.take_back(&first).await.leads_to();
}

#[tokio::test]
async fn broke_it_pressed_twice_is_counted_once_and_asked_about() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    yard.broke(&piece).await.leads_to();
    let page = yard.saw().await;
    assert_eq!(page.text(".saw-broke p"), format!("{piece} broke, 1 so far. Now take a whole tile."));
    assert_eq!(page.text(".saw-broke button"), "Not broken after all");

    yard.crew.pass(Span::from_millis(900));
    let asked = yard.broke(&piece).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(asked.text("h1"), format!("Did another {piece} break?"));
    assert!(yard.saw().await.text(".saw-spares").starts_with("1 broken."));
    let print = asked.attribute("main form input[name=print]", "value");
    let url = asked.attribute("main form", "action");
    yard.crew.post(&url, &[("print", &print), ("again", "yes")]).await.leads_to();
    assert_eq!(
        yard.saw().await.text(".saw-broke p"),
        format!("{piece} broke, 2 so far. Now take a whole tile.")
    );

    // A good while later it is another one, as a matter of course.
    yard.crew.pass(Span::from_minutes(1));
    yard.broke(&piece).await.leads_to();
    assert!(yard.saw().await.text(".saw-spares").starts_with("3 broken."));
}
