//! The table of addresses.

use axum::Router;
use axum::middleware::from_fn_with_state;
use axum::routing::{get, post};

use super::error::PageError;
use super::{
    assets, board, calendar, card, cuts, fit, guard, jobs, join, language, layout, live, look, once, options,
    people, rough_in, session, setting, sheet, stock, urls, walls,
};
use crate::app::App;

/// Every address, guarded: those of the crew, and those by which one gets in.
pub fn router(app: App) -> Router {
    let crews = of_jobs()
        .merge(of_layouts())
        .merge(of_the_board())
        .merge(of_the_saw())
        .merge(of_people())
        .merge(for_makers())
        .route("/live", get(live::live))
        .route_layer(from_fn_with_state(app.clone(), once::answer_once))
        .route_layer(from_fn_with_state(app.clone(), session::crew_only));
    let routes = Router::new()
        .route(urls::SET_UP, get(join::set_up).post(join::make_lead))
        .route(urls::LEAD_THE_DEMO, post(join::lead_the_demo))
        .route("/set-up/{token}", get(join::set_up_by_link))
        .route(urls::WAIT, get(join::wait))
        .route("/join/{token}", get(join::show).post(join::join))
        .route(urls::SIGN_IN, get(join::sign_in).post(join::try_pin))
        .route(urls::LANGUAGE, post(language::choose))
        .route("/calendar/{token}/{file}", get(calendar::feed))
        .merge(crews)
        .route("/static/{name}", get(assets::file))
        .fallback(|| async { PageError::NotFound });
    guard::guarded(routes, &app).with_state(app)
}

/// Jobs, and what was measured of them.
fn of_jobs() -> Router<App> {
    Router::new()
        .route("/", get(jobs::list))
        .route("/jobs", post(jobs::make))
        .route("/jobs/new", get(jobs::new))
        .route("/jobs/{job}", get(walls::list))
        .route("/jobs/{job}/line", post(walls::move_line))
        .route("/jobs/{job}/sheet", get(sheet::show).post(sheet::save))
        .route("/jobs/{job}/sheet/echo", post(sheet::echo))
        .route("/jobs/{job}/echo", post(sheet::echo_any))
        .route("/jobs/{job}/walls/new", get(walls::new).post(walls::make))
        .route("/jobs/{job}/walls/draw", post(walls::draw))
        .route("/jobs/{job}/walls/{wall}", get(walls::show).post(walls::save))
        .route("/jobs/{job}/walls/{wall}/card", get(card::show))
        .route("/jobs/{job}/walls/{wall}/rough-in", get(rough_in::show).post(rough_in::take))
}

/// Layouts, and the job as a file.
fn of_layouts() -> Router<App> {
    Router::new()
        .route("/jobs/{job}/job.json", get(layout::job_file))
        .route("/jobs/{job}/layout", get(layout::show).post(layout::change))
        .route("/jobs/{job}/layout/walls/{wall}", get(layout::close))
        .route("/jobs/{job}/layout/cuts", get(layout::cuts))
        .route("/jobs/{job}/layout/proof.json", get(layout::proof))
        .route("/jobs/{job}/layout/options", get(options::show).post(options::change))
        .route("/jobs/{job}/layout/wish", get(options::wish).post(options::choose_wished))
        .route("/jobs/{job}/layout/options/{number}", get(options::large))
}

/// Stages, and what was logged.
fn of_the_board() -> Router<App> {
    Router::new()
        .route("/jobs/{job}/board", get(board::board))
        .route("/jobs/{job}/board/products", get(board::products).post(board::save_product))
        .route("/jobs/{job}/board/stages", get(board::stages).post(board::save_stages))
        .route("/jobs/{job}/board/{wall}/{stage}", get(board::cell))
        .route("/jobs/{job}/board/{wall}/{stage}/start", post(board::start))
        .route("/jobs/{job}/board/{wall}/{stage}/done", post(board::done))
        .route("/jobs/{job}/board/{wall}/{stage}/entries/{entry}", get(board::entry).post(board::mend))
        .route("/jobs/{job}/temperature", get(board::temperature).post(board::save_temperature))
        .route("/jobs/{job}/temperature/night", post(board::save_night))
        .route("/jobs/{job}/temperature/readings/{reading}", get(board::reading).post(board::correct_reading))
        .route("/jobs/{job}/batches", get(board::batches))
        .route("/jobs/{job}/batches/of/{stage}", post(board::mixed))
        .route("/jobs/{job}/batches/{batch}", get(board::batch).post(board::correct_batch))
        .route("/jobs/{job}/batches/{batch}/used-up", post(board::used_up))
        .route("/jobs/{job}/calendar", get(calendar::show).post(calendar::make))
        .route("/jobs/{job}/calendar/made/{token}", get(calendar::made))
        .route("/jobs/{job}/calendar/revoke", post(calendar::revoke))
        .route("/jobs/{job}/calendar.ics", get(calendar::file))
        .route("/jobs/{job}/log", get(board::log))
}

/// Cuts, what becomes of them, and the tiles they come from.
fn of_the_saw() -> Router<App> {
    Router::new()
        .route("/jobs/{job}/cuts", get(cuts::saw))
        .route("/jobs/{job}/cuts/{piece}", get(cuts::piece).post(cuts::cut))
        .route("/jobs/{job}/cuts/{piece}/not-cut", post(cuts::not_cut))
        .route("/jobs/{job}/cuts/{piece}/take", post(cuts::take))
        .route("/jobs/{job}/cuts/{piece}/take-over", post(cuts::take_over))
        .route("/jobs/{job}/cuts/{piece}/let-go", post(cuts::let_go))
        .route("/jobs/{job}/cuts/{piece}/broke", post(cuts::broke))
        .route("/jobs/{job}/cuts/{piece}/not-broke", post(cuts::not_broke))
        .route("/jobs/{job}/cuts/{piece}/trim", post(cuts::trim))
        .route("/jobs/{job}/cuts/{piece}/not-trimmed", post(cuts::not_trimmed))
        .route("/jobs/{job}/cuts/{piece}/anew", post(cuts::anew))
        .route("/jobs/{job}/rack", get(cuts::rack))
        .route("/jobs/{job}/stock", get(stock::show).post(stock::count))
        .route("/jobs/{job}/setting", get(setting::setting))
        .route("/jobs/{job}/setting/{run}", post(setting::laid))
        .route("/jobs/{job}/setting/{run}/not-set", post(setting::not_laid))
        .route("/jobs/{job}/cuts/{piece}/fit", get(fit::show).post(fit::measure))
        .route("/jobs/{job}/cuts/{piece}/fit/echo", post(fit::echo))
        .route("/jobs/{job}/cuts/{piece}/fit/{entry}", get(fit::told))
        .route("/jobs/{job}/cuts/{piece}/not-measured", post(fit::not_measured))
}

/// People and their devices.
fn of_people() -> Router<App> {
    Router::new()
        .route(urls::PEOPLE, get(people::list))
        .route(urls::LINKS, post(people::invite))
        .route("/people/links/{token}", get(people::link))
        .route("/people/links/{token}/code.svg", get(people::code))
        .route(urls::REVOKE, post(people::revoke))
        .route("/people/{device}/let-in", post(people::let_in))
        .route("/people/{device}/end", post(people::end))
}

/// What only the makers of the pages look at, in debug builds.
fn for_makers() -> Router<App> {
    match cfg!(debug_assertions) {
        true => Router::new().route("/look", get(look::show)).route("/look/themes.css", get(look::themes)),
        false => Router::new(),
    }
}
