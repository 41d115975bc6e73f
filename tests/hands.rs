//! Two at the saw of one job: who has which piece in hand.

use axum::http::StatusCode;
use coursebook::store::CLAIM_HOLDS;
use trade::cure::Span;

use crate::cuts::Yard;
use crate::support::Page;

impl Yard {
    /// Takes a piece in hand without cutting it.
    pub async fn keep(&self, piece: &str, print: &str) -> Page {
        self.crew.post(&self.at(&format!("/{piece}/take")), &[("print", print)]).await
    }
}

#[tokio::test]
async fn while_one_device_cuts_nobody_hears_of_hands() {
    let yard = Yard::new().await;
    yard.cut_next(2).await;
    let page = yard.saw().await;
    assert!(page.texts(".cut-hand").is_empty());
    assert!(!page.body.contains("in hand") && !page.body.contains("in your hand"), "{}", page.body);
}

#[tokio::test]
async fn two_who_cut_at_once_never_get_the_same_piece() {
    let mut yard = Yard::new().await;
    let (lead, helper) = (yard.crew.at_hand(), yard.crew.helper("Ines").await.cookie().unwrap());
    let all = yard.saw().await.texts(".queue-line").len();
    let mut cut = std::collections::BTreeSet::new();
    // Each looks while the other has a piece in hand, and cuts in one tap.
    for turn in 0..all {
        yard.crew.hand_to(if turn % 2 == 0 { &lead } else { &helper });
        let page = yard.saw().await;
        if page.texts(".cut-label").is_empty() {
            assert_eq!(page.text(".empty"), "Others have the rest in hand. What is cut shows here.");
            continue;
        }
        let piece = page.text(".cut-label");
        assert!(cut.insert(piece.clone()), "{piece} was offered twice");
        yard.cut(&piece).await;
    }
    assert!(cut.len() + 1 >= all, "{} of {all}", cut.len());
}

#[tokio::test]
async fn a_piece_in_hand_is_kept_for_whoever_has_it_and_the_other_is_given_the_next() {
    let mut yard = Yard::new().await;
    let (lead, helper) = (yard.crew.at_hand(), yard.crew.helper("Ines").await.cookie().unwrap());
    let piece = yard.in_hand().await;
    let print = yard.print(&piece).await;
    yard.keep(&piece, &print).await.leads_to();
    yard.keep(&piece, &print).await.leads_to();

    yard.crew.hand_to(&helper);
    let next = yard.in_hand().await;
    assert_ne!(next, piece);
    assert!(yard.line(&piece).await.contains("in hand: lead, Tue 3:40 pm"), "{}", yard.line(&piece).await);
    let page = yard.piece(&piece).await;
    assert_eq!(page.text("main .state.wait"), "in hand: lead, Tue 3:40 pm");
    assert!(page.texts("input[name=print]").is_empty());
    for refused in [yard.keep(&piece, &print).await, yard.press(&piece, &print).await] {
        assert_eq!(refused.status, StatusCode::CONFLICT);
        let says = format!("lead has had {piece} in hand since Tue 3:40 pm. {next} is next for you.");
        assert_eq!(refused.text(".refusal"), says);
        assert_eq!(refused.attribute("main .buttons a", "href"), yard.at(&format!("/{next}")));
    }
    assert_eq!(yard.saw().await.text(".cut-hand button"), "Take this piece");
    assert!(yard.crew.app.store.events(&yard.job).await.unwrap().is_empty(), "a hand is no entry of the log");

    // Only whoever has it can let it go.
    let let_go = yard.at(&format!("/{piece}/let-go"));
    yard.crew.post(&let_go, &[]).await.leads_to();
    assert_eq!(yard.in_hand().await, next);
    yard.cut(&next).await;
    yard.crew.hand_to(&lead);
    let page = yard.saw().await;
    assert_eq!(
        (page.text(".cut-label"), page.text(".cut-hand button")),
        (piece.clone(), "Put it back".to_owned())
    );
    assert_eq!(page.text(".cut-head .state.ready"), "in your hand");
    let address = page.attribute(".cut-hand", "action");
    yard.crew.post(&address, &[]).await.leads_to();
    yard.crew.hand_to(&helper);
    yard.cut(&piece).await;
}

#[tokio::test]
async fn a_piece_left_in_hand_goes_to_others_after_its_time() {
    let mut yard = Yard::new().await;
    let helper = yard.crew.helper("Ines").await.cookie().unwrap();
    let piece = yard.in_hand().await;
    yard.keep(&piece, &yard.print(&piece).await).await.leads_to();
    yard.crew.hand_to(&helper);
    yard.crew.pass(CLAIM_HOLDS - Span::from_millis(1));
    assert_ne!(yard.in_hand().await, piece);
    yard.crew.pass(Span::from_millis(1));
    assert_eq!(yard.in_hand().await, piece);
    yard.cut(&piece).await;
}

#[tokio::test]
async fn a_cut_taken_back_is_in_the_hand_that_took_it_back() {
    let mut yard = Yard::new().await;
    let helper = yard.crew.helper("Ines").await.cookie().unwrap();
    let piece = yard.in_hand().await;
    yard.cut(&piece).await;
    yard.take_back(&piece).await.leads_to();
    yard.crew.hand_to(&helper);
    assert_ne!(yard.in_hand().await, piece);
}

#[tokio::test]
async fn whoever_breaks_a_tile_keeps_the_piece() {
    let mut yard = Yard::new().await;
    let (lead, helper) = (yard.crew.at_hand(), yard.crew.helper("Ines").await.cookie().unwrap());
    let piece = yard.in_hand().await;
    let print = yard.print(&piece).await;
    yard.crew.hand_to(&helper);
    yard.broke(&piece).await.leads_to();
    assert_eq!(yard.in_hand().await, piece);
    assert_eq!(yard.saw().await.text(".cut-head .state.ready"), "in your hand");
    yard.crew.hand_to(&lead);
    assert_ne!(yard.in_hand().await, piece, "nobody else is given it");
    assert_eq!(yard.press(&piece, &print).await.status, StatusCode::CONFLICT);
    yard.crew.hand_to(&helper);
    yard.cut(&piece).await;
}

#[tokio::test]
async fn while_others_are_about_the_saw_has_a_piece_taken_before_it_is_cut() {
    let mut yard = Yard::new().await;
    assert_eq!(yard.saw().await.text(".cut-press button"), "Cut", "who is alone is asked nothing");
    let (lead, helper) = (yard.crew.at_hand(), yard.crew.helper("Ines").await.cookie().unwrap());
    // Both look at the same page before anybody has pressed anything.
    let piece = yard.in_hand().await;
    yard.crew.hand_to(&helper);
    let page = yard.saw().await;
    assert_eq!(page.text(".cut-label"), piece);
    assert_eq!(page.text(".cut-press button"), "Take this piece");
    assert!(page.text(".cut-take-first").starts_with("Others are about"));
    assert_eq!(page.text(".cut-anyhow button"), "Cut", "for whoever is out of range");
    let (url, print) =
        (page.attribute(".cut-press", "action"), page.attribute(".cut-press input[name=print]", "value"));
    yard.crew.post(&url, &[("print", &print)]).await.leads_to();
    let page = yard.saw().await;
    assert_eq!((page.text(".cut-label"), page.text(".cut-press button")), (piece.clone(), "Cut".to_owned()));

    yard.crew.hand_to(&lead);
    let refused = yard.crew.post(&url, &[("print", &print)]).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let others = yard.in_hand().await;
    assert!(refused.text(".refusal").ends_with(&format!("{others} is next for you.")));
    assert_ne!(others, piece);

    // After a cut the next piece is in the hand that cut: no second tap.
    yard.crew.hand_to(&helper);
    yard.cut(&piece).await;
    assert_eq!(yard.saw().await.text(".cut-press button"), "Cut");
}

#[tokio::test]
async fn a_phone_not_used_for_as_long_as_a_claim_holds_is_not_about_and_nor_is_a_board() {
    let yard = Yard::new().await;
    yard.crew.helper("Ines").await;
    yard.crew.pass(CLAIM_HOLDS - Span::from_millis(1));
    assert_eq!(yard.saw().await.text(".cut-press button"), "Take this piece");
    yard.crew.pass(Span::from_millis(1));
    assert_eq!(yard.saw().await.text(".cut-press button"), "Cut");
    yard.crew.board("wall").await;
    assert_eq!(yard.saw().await.text(".cut-press button"), "Cut");
}

#[tokio::test]
async fn who_cut_yesterday_is_not_about_today() {
    let mut yard = Yard::new().await;
    let helper = yard.crew.helper("Ines").await.cookie().unwrap();
    yard.cut_next(1).await;
    yard.crew.pass(Span::from_hours(20));
    yard.crew.hand_to(&helper);
    assert_eq!(yard.saw().await.text(".cut-press button"), "Cut");
}

#[tokio::test]
async fn a_key_of_a_piece_taken_in_hand_is_none_for_a_cut() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    let print = yard.print(&piece).await;
    let key = "0123456789abcdef";
    for form in ["take", "let-go"] {
        let key = format!("{key}{}", form.replace('-', ""));
        let taken = yard.at(&format!("/{piece}/{form}"));
        yard.crew.post_with_key(&taken, &key, &[("print", &print)]).await.leads_to();
        let cut = yard.crew.post_with_key(&yard.at(&format!("/{piece}")), &key, &[("print", &print)]).await;
        assert_eq!(cut.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", cut.body);
        assert!(cut.text("main p").contains("was sent before with other figures"), "{}", cut.text("main p"));
    }
    assert!(yard.crew.app.store.events(&yard.job).await.unwrap().is_empty());
    yard.cut(&piece).await;
}
