//! The plan in the middle of the work, asked for by many phones at once.

use std::sync::Arc;

use coursebook::web::planned;
use futures_util::future::join_all;

use crate::fit::Site;

/// More than may wait for the planner at once.
const PHONES: usize = 24;

#[tokio::test]
async fn a_crowd_that_looks_after_a_measurement_is_answered_by_one_plan() {
    let site = Site::new().await;
    let end = site.end().await;
    let opening = (site.across(&end).await.opening - 4).to_string();
    site.tape(&end, &[("across", &opening)]).await.leads_to();
    let app = &site.crew.app;
    let stored = app.store.sheet(&site.job).await.unwrap();
    let first = app.work.plan(&stored).await.unwrap();
    let log = app.store.cut_log(&site.job).await.unwrap();
    let looks = (0..PHONES).map(|_| planned(app, &stored, &first, &log));
    let plans = join_all(looks).await.into_iter().collect::<Result<Vec<_>, _>>();
    let plans = plans.expect("nobody is told to come again");
    assert!(!Arc::ptr_eq(&plans[0], &first), "it was planned again");
    assert!(plans.iter().all(|plan| Arc::ptr_eq(plan, &plans[0])), "once for all of them");
}
