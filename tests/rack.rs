//! The offcut rack: what a helper looks for there, and what a tidy one may throw away.

use crate::cuts::Yard;
use crate::support::Page;

impl Yard {
    async fn rack(&self) -> Page {
        self.crew.get(&format!("/jobs/{}/rack", self.job)).await
    }
}

#[tokio::test]
async fn before_anything_is_cut_the_rack_says_what_it_will_be() {
    let yard = Yard::new().await;
    let page = yard.rack().await;
    assert!(page.text(".empty").starts_with("Nothing lies here yet."), "{}", page.text(".empty"));
    let linked = yard.saw().await.attribute(".saw-places a", "href");
    assert_eq!(linked, format!("/jobs/{}/rack", yard.job));
}

#[tokio::test]
async fn an_offcut_lies_there_from_the_cut_that_left_it_to_the_one_that_takes_it() {
    let yard = Yard::new().await;
    let (first, second) = yard.pair().await;
    yard.cut(&first).await;
    let take = yard.piece(&second).await.text(".cut-take strong");
    let label = take.trim_start_matches("offcut ");
    let page = yard.rack().await;
    let offcut = format!("#offcut-{label}");
    assert_eq!(page.text(&format!("{offcut} .offcut-label")), label);
    let size = page.text(&format!("{offcut} .offcut-size"));
    assert!(size.contains(" × ") && size.ends_with(" mm"), "{size}");
    assert!(page.text(&format!("{offcut} .offcut-for")).starts_with("Keep for"));
    assert!(page.texts(&format!("{offcut} .offcut-for a")).contains(&second));
    let says = page.text(&offcut);
    assert!(says.contains("Factory edge"), "{says}");
    assert!(says.contains(&format!("Left over from {first}, lead, Tue 3:40 pm")), "{says}");
    assert!(page.text(&format!("{offcut} svg")).contains(label));

    yard.cut(&second).await;
    let still = yard.rack().await.texts(&format!("{offcut} .offcut-for a"));
    assert!(!still.contains(&second), "{still:?}");
}

#[tokio::test]
async fn an_offcut_that_broke_on_the_saw_is_gone_and_one_whose_piece_broke_after_is_not() {
    let yard = Yard::new().await;
    let (first, second) = yard.pair().await;
    yard.cut(&first).await;
    let lying = yard.rack().await.texts(".offcut-label");
    yard.broke(&first).await.leads_to();
    let page = yard.rack().await;
    assert_eq!(page.texts(".offcut-label"), lying);
    assert!(page.text(".offcuts").contains(&format!("Left over from {first}, which broke")));

    let take = yard.piece(&second).await.text(".cut-take strong");
    assert!(lying.iter().any(|label| take.ends_with(&format!(" {label}"))), "{take} of {lying:?}");
    yard.broke(&second).await.leads_to();
    let is_gone = async || {
        let left = yard.rack().await.texts(".offcut-label");
        assert!(!left.iter().any(|label| take.ends_with(&format!(" {label}"))), "{take} of {left:?}");
    };
    is_gone().await;
    yard.cut(&second).await;
    is_gone().await;
}

#[tokio::test]
async fn when_all_is_cut_nothing_on_the_rack_waits() {
    let yard = Yard::new().await;
    let all = yard.saw().await.texts(".queue-line").len();
    let (first, _) = yard.pair().await;
    yard.cut(&first).await;
    assert!(!yard.rack().await.texts(".offcut-for a").is_empty(), "what {first} left waits for a piece");
    yard.cut_next(all - 1).await;
    assert!(yard.rack().await.texts(".offcut-for a").is_empty());
}
