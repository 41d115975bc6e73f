//! Pressed on a page of an older plan, when the piece is cut already: what becomes of it.

use axum::http::StatusCode;

use crate::cuts::Yard;
use crate::fit::Site;

impl Site {
    async fn press(&self, piece: &str, print: &str) -> crate::support::Page {
        self.crew.post(&self.at(&format!("/{piece}")), &[("print", print)]).await
    }

    /// A piece that another measurement moves to another tile without another size, with what its page said before.
    async fn moved_to_another_tile(&self) -> (String, String) {
        let last = self.labels().await.pop().unwrap();
        for _ in 0..30 {
            let next = self.saw().await.text(".cut-label");
            self.cut(&next).await;
            let before = self.prints().await;
            let mut sizes = Vec::new();
            for (piece, _) in &before {
                sizes.push(self.size(piece).await);
            }
            self.finds(&last, -1, "piece").await;
            let after = self.prints().await;
            for ((piece, print), size) in before.into_iter().zip(sizes) {
                let moved = after.iter().any(|(of, now)| *of == piece && *now != print);
                if piece != last && moved && self.size(&piece).await == size {
                    return (piece, print);
                }
            }
        }
        panic!("no measurement moved a piece to another tile");
    }
}

#[tokio::test]
async fn a_piece_cut_to_the_same_size_by_an_older_page_is_counted() {
    let site = Site::new().await;
    let (piece, print) = site.moved_to_another_tile().await;
    let refused = site.press(&piece, &print).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let says = refused.text(".refusal-says");
    assert!(says.starts_with("The plan has changed since your page was drawn."), "{says}");
    assert!(says.contains(&format!("{piece} keeps its size")), "{says}");
    assert_eq!(refused.text(".cut-offer button"), "It is cut");
    // A phone that kept the press is led to where the same can be said.
    let led = refused.attribute("main .buttons a", "href");
    let page = site.crew.get(&led).await;
    let value = |name: &str| page.attribute(&format!(".cut-offer input[name={name}]"), "value");
    let (now, old) = (value("print"), value("old"));
    assert_eq!(old, print);
    assert!(page.texts(".cut-press").is_empty(), "one button says that it is cut");
    let address = page.attribute(".cut-offer", "action");
    let fields = [("print", now.as_str()), ("old", old.as_str())];
    site.crew.post(&address, &fields).await.leads_to();
    assert!(site.line(&piece).await.contains("cut, lead"), "{}", site.line(&piece).await);
    let again = site.crew.post(&address, &fields).await;
    assert!(again.text(".refusal-says").contains("was cut already"));
    // All that is left can be cut in the order that the saw says.
    let all = site.saw().await.texts(".queue-line").len();
    for _ in 0..all {
        let Some(next) = site.saw().await.texts(".cut-label").pop() else { break };
        site.cut(&next).await;
    }
    assert!(site.saw().await.texts(".cut-label").is_empty());
}

#[tokio::test]
async fn a_piece_cut_to_another_size_by_an_older_page_goes_to_the_rack_or_is_measured_again() {
    let site = Site::new().await;
    let end = site.end().await;
    let print = site.piece(&end).await.attribute(".beside input[name=print]", "value");
    site.finds(&end, -4, "piece").await;
    let size = site.size(&end).await;
    let refused = site.press(&end, &print).await;
    let says = refused.text(".refusal-says");
    assert!(says.contains(&format!("{end} is {size} now")), "{says}");
    let more = refused.text(".refusal-more");
    assert!(
        more.contains("lay it on the rack as a spare") && more.contains("measure its place again"),
        "{more}"
    );
    assert!(refused.texts(".cut-offer").is_empty());
    assert_eq!(refused.attribute(&format!("a[href$='/{end}/fit']"), "href"), site.at(&format!("/{end}/fit")));
    let now = site.piece(&end).await.attribute(".beside input[name=print]", "value");
    let forged = [("print", now.as_str()), ("old", print.as_str())];
    let forged = site.crew.post(&site.at(&format!("/{end}")), &forged).await;
    assert_eq!(forged.status, StatusCode::CONFLICT, "another size is not counted");
    assert!(!site.line(&end).await.contains("cut, lead"));
}

#[tokio::test]
async fn a_piece_that_the_plan_has_no_more_is_a_spare() {
    let yard = Yard::new().await;
    let piece = yard.labels().await.into_iter().rfind(|piece| piece.starts_with('B')).unwrap();
    let print = yard.print(&piece).await;
    yard.measure_back_wall("700").await;
    let refused = yard.press(&piece, &print).await;
    assert_eq!(refused.status, StatusCode::NOT_FOUND, "{piece}");
    assert!(refused.text(".refusal-says").starts_with(&format!("The plan has no {piece} to cut any more.")));
    assert_eq!(refused.attribute("main .buttons a", "href"), format!("/jobs/{}/rack", yard.job));
}
