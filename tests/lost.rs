//! A piece or an offcut is lost, and the work is planned again after: what lies on the rack is used, and nothing else.

use crate::fit::Site;
use crate::support::Page;

impl Site {
    /// What is written on the offcuts that lie on the rack.
    async fn on_the_rack(&self) -> Vec<String> {
        self.crew.get(&format!("/jobs/{}/rack", self.job)).await.texts(".offcut-label")
    }

    /// Says on a piece's own page that it broke.
    async fn breaks(&self, piece: &str) {
        let page = self.piece(piece).await;
        let print = page.attribute(".cut-broke input[name=print]", "value");
        let entry = page.attributes(".cut-broke input[name=entry]", "value").pop().unwrap_or_default();
        let fields = [("print", print.as_str()), ("entry", entry.as_str())];
        self.crew.post(&self.at(&format!("/{piece}/broke")), &fields).await.leads_to();
    }

    /// Cuts until a piece has left an offcut on the rack, and gives that piece, the offcut's label, and the piece that is
    /// to come out of it.
    async fn cut_until_racked(&self) -> (String, String, String) {
        for _ in 0..60 {
            let next = self.saw().await.text(".cut-label");
            self.cut(&next).await;
            let Some(label) = self.on_the_rack().await.pop() else { continue };
            let takes = format!("Take offcut {label} ");
            for piece in self.labels().await {
                let page = self.piece(&piece).await;
                let take = page.text(".cut-take");
                if format!("{take} ").starts_with(&takes) && page.texts("main .state.done").is_empty() {
                    return (next, label, piece);
                }
            }
        }
        panic!("nothing is ever cut from an offcut");
    }
}

#[tokio::test]
async fn the_offcut_of_a_piece_that_broke_is_still_cut_from_once_something_was_measured_again() {
    let site = Site::new().await;
    let (first, label, second) = site.cut_until_racked().await;
    site.breaks(&first).await;
    assert_eq!(site.on_the_rack().await, [label.as_str()]);
    let last = site.labels().await.pop().unwrap();
    let tiles = |page: &Page| -> usize {
        let says = page.text(".saw-tiles");
        says.split(' ').next().and_then(|count| count.parse().ok()).unwrap_or_default()
    };
    let before = tiles(&site.saw().await);
    site.finds(&last, -1, "piece").await;
    assert_eq!(site.on_the_rack().await, [label.as_str()], "it lies there as it did");
    assert_eq!(tiles(&site.saw().await), before, "and costs no tile");
    let mut from_it = Vec::new();
    for piece in site.labels().await {
        let take = site.piece(&piece).await.text(".cut-take");
        if format!("{take} ").starts_with(&format!("Take offcut {label} ")) {
            from_it.push(piece);
        }
    }
    assert_eq!(from_it.len(), 1, "{second} came out of it before");
    site.cut(&from_it[0]).await;
    assert!(!site.on_the_rack().await.contains(&label));
    site.cut(&first).await;
}

#[tokio::test]
async fn an_offcut_that_broke_on_the_saw_is_not_on_the_rack_once_something_was_measured_again() {
    let site = Site::new().await;
    let (first, label, second) = site.cut_until_racked().await;
    site.breaks(&second).await;
    let last = site.labels().await.pop().unwrap();
    site.finds(&last, -1, "piece").await;
    assert_eq!(site.on_the_rack().await, Vec::<String>::new(), "{label} is in pieces");
    assert_eq!(site.piece(&first).await.texts("main .state.done").len(), 1, "what was cut before stays cut");
    // All that is left can be cut in the order that the saw says.
    for _ in 0..site.labels().await.len() {
        let Some(next) = site.saw().await.texts(".cut-label").pop() else { break };
        site.cut(&next).await;
    }
    assert!(site.saw().await.texts(".cut-label").is_empty());
}

#[tokio::test]
async fn a_piece_that_did_not_break_after_all_is_cut_as_it_was() {
    let site = Site::new().await;
    let (first, label, _) = site.cut_until_racked().await;
    site.breaks(&first).await;
    let entry = site.saw().await.attribute(".saw-lost input[name=entry]", "value");
    let last = site.labels().await.pop().unwrap();
    site.finds(&last, -1, "piece").await;
    let back = site.at(&format!("/{first}/not-broke"));
    site.crew.post(&back, &[("entry", &entry)]).await.leads_to();
    assert_eq!(site.piece(&first).await.texts("main .state.done").len(), 1);
    assert_eq!(site.on_the_rack().await, [label.as_str()]);
}
