//! A reading far off the plan is asked about once, and kept when whoever typed it is sure.

use axum::http::StatusCode;

use crate::fit::Site;
use crate::support::Page;

impl Site {
    async fn logged(&self) -> usize {
        self.crew.app.store.events(&self.job).await.unwrap().len()
    }

    /// Presses the button under the question, with this typed.
    async fn is_sure(&self, piece: &str, asked: &Page, typed: &str) -> Page {
        let sure = asked.attribute(".fit-doubt button", "value");
        let print = asked.attribute("input[name=print]", "value");
        self.send(piece, &print, &[("across", typed), ("sure", &sure)]).await
    }
}

#[tokio::test]
async fn a_size_far_off_the_plan_is_asked_about_and_kept_once_it_is_right() {
    let site = Site::new().await;
    let end = site.end().await;
    let opening = site.across(&end).await.opening;
    let typed = (opening - 60).to_string();
    let asked = site.tape(&end, &[("across", &typed)]).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    let says =
        format!("That is 60 mm narrower than planned ({typed} mm instead of {opening} mm). Is it right?");
    assert_eq!(asked.text(".fit-doubt p"), says);
    assert_eq!(asked.attribute("#across", "value"), typed, "what was typed is kept");
    assert_eq!(asked.texts(".fit-doubt button"), ["It is right: take this size"]);
    assert_eq!(site.logged().await, 0);

    // A yes to one reading is none to another.
    let other = (opening - 70).to_string();
    let again = site.is_sure(&end, &asked, &other).await;
    assert!(again.text(".fit-doubt p").starts_with("That is 70 mm narrower than planned"));
    assert_eq!(site.logged().await, 0);

    site.is_sure(&end, &asked, &typed).await.leads_to();
    assert_eq!(site.logged().await, 1);
}

#[tokio::test]
async fn what_walls_are_out_by_is_not_asked_about() {
    let site = Site::new().await;
    let end = site.end().await;
    let opening = site.across(&end).await.opening;
    let wider = site.tape(&end, &[("across", &(opening + 26).to_string())]).await;
    assert!(wider.text(".fit-doubt p").starts_with("That is 26 mm wider than planned"));
    site.tape(&end, &[("across", &(opening - 25).to_string())]).await.leads_to();
}

#[tokio::test]
async fn the_form_and_what_takes_a_size_back_can_be_sent_out_of_range() {
    let site = Site::new().await;
    let end = site.end().await;
    let answer = site.finds(&end, -4, "piece").await;
    let form = site.form(&end).await;
    let all = form.texts("main form").len();
    assert_eq!(all, 2, "what to type, and what takes the first back");
    assert_eq!(form.texts("main form[data-outbox]").len(), all);
    assert_eq!(answer.texts("main form").len(), answer.texts("main form[data-outbox]").len());
}
