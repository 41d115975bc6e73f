//! A piece in somebody's hand, and what others do meanwhile.

use trade::cure::Span;

use crate::fit::Site;
use crate::support::Page;

impl Site {
    /// Takes a piece in hand without cutting it.
    async fn keep(&self, piece: &str) -> Page {
        let print = self.piece(piece).await.attribute(".beside input[name=print]", "value");
        self.crew.post(&self.at(&format!("/{piece}/take")), &[("print", &print)]).await
    }
}

#[tokio::test]
async fn a_piece_measured_anew_while_it_is_in_a_hand_says_what_it_was_and_is_cut_only_after_that() {
    let mut site = Site::new().await;
    let (lead, ben) = (site.crew.at_hand(), site.crew.helper("Ben").await.cookie().unwrap());
    let end = site.end().await;
    site.crew.hand_to(&ben);
    site.keep(&end).await.leads_to();
    let was = site.size(&end).await;
    assert!(site.saw().await.texts(".cut-changed").is_empty());

    site.crew.pass(Span::from_minutes(2));
    site.crew.hand_to(&lead);
    let told = site.finds(&end, -3, "above").await;
    let line = told.texts(".list li").into_iter().find(|line| line.starts_with(&end)).unwrap();
    assert!(line.contains("in hand: Ben"), "{line}");

    site.crew.hand_to(&ben);
    let page = site.saw().await;
    assert_eq!(page.text(".cut-label"), end);
    let now = site.size(&end).await;
    let number = |size: &str| size.split(' ').next().unwrap().to_owned();
    let says = page.text(".cut-head .cut-changed strong");
    let expected =
        format!("Was {} mm, now {} mm: measured again by lead, Tue 3:42 pm", number(&was), number(&now));
    assert_eq!(says, expected);
    assert_ne!(was, now);
    assert_eq!(
        page.text(".cut-work .action"),
        format!("Go on with {} mm", number(&now)),
        "the big button cuts nothing"
    );

    site.crew.pass(Span::from_minutes(1));
    site.keep(&end).await.leads_to();
    let page = site.saw().await;
    assert!(page.texts(".cut-changed").is_empty());
    assert_eq!(page.text(".cut-work .action"), "Cut");
}

#[tokio::test]
async fn a_layout_that_changes_a_piece_in_a_hand_says_so_before_and_to_the_hand_after() {
    let mut site = Site::new().await;
    let (lead, ben) = (site.crew.at_hand(), site.crew.helper("Ben").await.cookie().unwrap());
    // Something is cut, so that a layout has its price.
    site.crew.hand_to(&ben);
    let first = site.saw().await.text(".cut-label");
    site.cut(&first).await;
    let held = site.end().await;
    site.keep(&held).await.leads_to();

    site.crew.pass(Span::from_minutes(5));
    site.crew.hand_to(&lead);
    let address = format!("/jobs/{}/walls/B", site.job);
    let mut fields = site.crew.get(&address).await.form_fields();
    fields.retain(|(name, _)| !["key", "width", "do", "base-1-x"].contains(&name.as_str()));
    for (name, typed) in [("width", "1500"), ("base-1-x", "1500"), ("do", "save")] {
        fields.push((name.to_owned(), typed.to_owned()));
    }
    let asked = site.crew.post_form(&address, &fields).await;
    assert_eq!(asked.text(".price-held"), format!("Ben has {held} in hand, and this changes it. Tell Ben."));
    site.crew.agree(&asked).await.leads_to();

    site.crew.hand_to(&ben);
    let says = site.saw().await.text(".cut-changed strong");
    assert!(says.contains("the layout was changed by lead, Tue 3:45 pm"), "{says}");
    assert!(
        says.starts_with("Was ") || says.starts_with(&format!("{held}, which you had in hand")),
        "{says}"
    );
}

#[tokio::test]
async fn a_phone_that_is_signed_out_holds_nothing_and_the_same_person_goes_on_with_it() {
    let mut site = Site::new().await;
    let (lead, ana) = (site.crew.at_hand(), site.crew.helper("Ana").await.cookie().unwrap());
    let piece = site.end().await;
    site.crew.hand_to(&ana);
    site.keep(&piece).await.leads_to();

    // Another phone of hers: let in by the lead, and not refused.
    site.crew.hand_to(&lead);
    assert!(site.line(&piece).await.contains("in hand: Ana"));
    let again = site.crew.helper("Ana").await.cookie().unwrap();
    site.crew.hand_to(&again);
    site.keep(&piece).await.leads_to();
    assert_eq!(site.saw().await.text(".cut-label"), piece);

    site.crew.hand_to(&lead);
    assert!(site.line(&piece).await.contains("in hand: Ana"));
    let people = site.crew.get("/people").await;
    for end in people.attributes(".inside form", "action").into_iter().filter(|end| end.ends_with("/end")) {
        if !people.texts(".inside li").is_empty() && end != people.attribute(".inside form", "action") {
            site.crew.post(&end, &[]).await.leads_to();
        }
    }
    assert!(!site.line(&piece).await.contains("in hand"), "{}", site.line(&piece).await);
    site.keep(&piece).await.leads_to();
}

#[tokio::test]
async fn the_lead_takes_a_piece_over_and_both_the_log_and_the_other_phone_say_so() {
    let mut site = Site::new().await;
    let (lead, ana) = (site.crew.at_hand(), site.crew.helper("Ana").await.cookie().unwrap());
    let ben = site.crew.helper("Ben").await.cookie().unwrap();
    let piece = site.end().await;
    site.crew.hand_to(&ana);
    site.keep(&piece).await.leads_to();

    site.crew.hand_to(&ben);
    assert!(site.piece(&piece).await.texts(".cut-over").is_empty(), "the lead alone takes over");
    site.crew.hand_to(&lead);
    let page = site.piece(&piece).await;
    assert_eq!(page.text(".cut-over button"), "Take it over from Ana");
    let print = page.attribute(".cut-over input[name=print]", "value");
    let url = page.attribute(".cut-over", "action");
    site.crew.hand_to(&ben);
    assert_eq!(site.crew.post(&url, &[("print", &print)]).await.status, axum::http::StatusCode::FORBIDDEN);
    site.crew.hand_to(&lead);
    site.crew.post(&url, &[("print", &print)]).await.leads_to();
    assert_eq!(site.saw().await.text(".cut-label"), piece);
    assert_eq!(site.saw().await.text(".cut-others .cut-hand button"), "Put it back");
    let log = site.crew.get(&format!("/jobs/{}/log", site.job)).await;
    assert!(log.body.contains(&format!("{piece} taken over, out of the hand of Ana.")), "{}", log.body);

    site.crew.hand_to(&ana);
    let says = site.saw().await.text(".cut-changed strong");
    assert!(says.starts_with(&format!("lead has taken {piece} over from you")), "{says}");
}

#[tokio::test]
async fn a_device_that_only_shows_has_nothing_to_press() {
    let mut site = Site::new().await;
    let piece = site.end().await;
    let lead_sees = site.saw().await;
    assert!(!lead_sees.texts("main form").is_empty());
    let board = site.crew.board("hall").await.cookie().unwrap();
    site.crew.hand_to(&board);
    for page in ["cuts", &format!("cuts/{piece}"), "setting", "stock", "board", "board/A/set"] {
        let page = site.crew.get(&format!("/jobs/{}/{page}", site.job)).await;
        assert_eq!(page.status, axum::http::StatusCode::OK);
        assert!(page.texts("main form").is_empty(), "{}", page.body);
        assert!(!page.texts(".places a").is_empty());
    }
    assert!(!site.piece(&piece).await.texts(".fence").is_empty(), "it shows how to cut");
}

#[tokio::test]
async fn whoever_is_signed_out_is_named_with_the_device_and_asked_about() {
    let site = Site::new().await;
    site.crew.helper("Ana").await;
    site.crew.pass(Span::from_minutes(30));
    site.crew.helper("Ana").await;
    let people = site.crew.get("/people").await;
    let sure = people.texts(".inside details p");
    let of_ana: Vec<&String> = sure.iter().filter(|says| says.starts_with("Ana, ")).collect();
    assert_eq!(of_ana.len(), 2);
    assert_ne!(of_ana[0], of_ana[1], "two of one person differ");
    assert!(people.attributes(".inside details", "open").is_empty(), "one tap signs nobody out");
}
