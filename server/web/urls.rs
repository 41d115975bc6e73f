//! Every address of the server, in one place.

use trade::cure::StageKind;
use trade::measure::SurfaceId;

use super::cuts::PagePrint;
use crate::store::{DeviceId, EventId, FeedToken, JobId, LinkToken, Seen};

/// Every job.
pub const JOBS: &str = "/";

/// Keeps the language chosen.
pub const LANGUAGE: &str = "/language";

/// The form for a new job.
pub const NEW_JOB: &str = "/jobs/new";

/// One job: its walls.
pub fn job(job: &JobId) -> String {
    format!("/jobs/{job}")
}

/// Tile, joint, gaps and saw of a job.
pub fn sheet(job: &JobId) -> String {
    format!("/jobs/{job}/sheet")
}

/// The form for a new wall.
pub fn new_wall(job: &JobId) -> String {
    format!("/jobs/{job}/walls/new")
}

/// One wall's measures.
pub fn wall(job: &JobId, wall: &str) -> String {
    format!("/jobs/{job}/walls/{wall}")
}

/// One wall on one sheet: lines, courses, props, and where the work stands.
pub fn wall_card(job: &JobId, wall: &SurfaceId) -> String {
    format!("/jobs/{job}/walls/{wall}/card")
}

/// Where to frame a niche or valve of a wall that is not built yet.
pub fn rough_in(job: &JobId, wall: &SurfaceId) -> String {
    format!("/jobs/{job}/walls/{wall}/rough-in")
}

/// A wall drawn as it is being typed, for the script.
pub fn draw_wall(job: &JobId) -> String {
    format!("/jobs/{job}/walls/draw")
}

/// What was understood of the sheet as it is being typed, for the script.
pub fn sheet_echo(job: &JobId) -> String {
    format!("/jobs/{job}/sheet/echo")
}

/// What was understood of lengths as they are typed, on any form, for the script.
pub fn echo(job: &JobId) -> String {
    format!("/jobs/{job}/echo")
}

/// The level line has moved.
pub fn line(job: &JobId) -> String {
    format!("/jobs/{job}/line")
}

/// The layout of a job.
pub fn layout(job: &JobId) -> String {
    format!("/jobs/{job}/layout")
}

/// One wall of the layout as large as it takes.
pub fn layout_wall(job: &JobId, wall: &str) -> String {
    format!("/jobs/{job}/layout/walls/{wall}")
}

/// Every cut of the layout in the order of setting.
pub fn cut_list(job: &JobId) -> String {
    format!("/jobs/{job}/layout/cuts")
}

/// Why no plan uses fewer tiles, as a file.
pub fn proof_file(job: &JobId) -> String {
    format!("/jobs/{job}/layout/proof.json")
}

/// The layouts to choose from.
pub fn options(job: &JobId) -> String {
    format!("/jobs/{job}/layout/options")
}

/// Whether a layout can be had as a lead wants it.
pub fn wish(job: &JobId) -> String {
    format!("/jobs/{job}/layout/wish")
}

/// One of them as large as it takes.
pub fn option(job: &JobId, number: usize) -> String {
    format!("/jobs/{job}/layout/options/{number}")
}

/// Two of them side by side.
pub fn compared(job: &JobId, one: &str, other: &str) -> String {
    format!("/jobs/{job}/layout/options?compare={one},{other}")
}

/// The job's file, for the planner's command and for keeping.
pub fn job_file(job: &JobId) -> String {
    format!("/jobs/{job}/job.json")
}

/// The cuts of a job.
pub fn cuts(job: &JobId) -> String {
    format!("/jobs/{job}/cuts")
}

/// The same after something was done: no phone has kept this one from before.
pub fn cuts_at(job: &JobId, seen: &Seen) -> String {
    format!("{}?v={seen}", cuts(job))
}

/// The same as a phone keeps it for a shift. The language is part of the address, since a browser that keeps a page
/// does not look at the cookie; so is who reads it, since another may come to use the same phone.
pub fn cuts_kept(job: &JobId, language: &str, reader: &str) -> String {
    format!("{}{KEPT}{language}-{reader}", cuts(job))
}

/// Where a switch of language comes back to: to a kept page in that language.
pub fn in_language(address: &str, language: &str) -> String {
    match address.split_once(KEPT) {
        Some((page, kept)) => {
            let reader = kept.split_once('-').map_or("", |(_, reader)| reader);
            format!("{page}{KEPT}{language}-{reader}")
        }
        None => address.to_owned(),
    }
}

/// Asks for a page to be kept, in the language that follows.
const KEPT: &str = "?in=";

/// The offcuts on the rack.
pub fn rack(job: &JobId) -> String {
    format!("/jobs/{job}/rack")
}

/// The tiles that are left, counted by hand.
pub fn stock(job: &JobId) -> String {
    format!("/jobs/{job}/stock")
}

/// The walls as their setter sees them.
pub fn setting(job: &JobId) -> String {
    format!("/jobs/{job}/setting")
}

/// The same after something was done.
pub fn setting_at(job: &JobId, seen: &Seen) -> String {
    format!("{}?v={seen}", setting(job))
}

/// Reports a run as set.
pub fn laid(job: &JobId, run: &str) -> String {
    format!("{}/{run}", setting(job))
}

/// Takes back that it is.
pub fn not_laid(job: &JobId, run: &str) -> String {
    format!("{}/not-set", laid(job, run))
}

/// One piece at the saw.
pub fn cut(job: &JobId, piece: &str) -> String {
    format!("/jobs/{job}/cuts/{piece}")
}

/// The same for whoever cut it by an older page, of which this stands for what it said.
pub fn cut_before(job: &JobId, piece: &str, old: &PagePrint) -> String {
    format!("{}?before={}", cut(job, piece), old.as_str())
}

/// Takes back that a piece was cut.
pub fn not_cut(job: &JobId, piece: &str) -> String {
    format!("{}/not-cut", cut(job, piece))
}

/// The stage board of a job.
pub fn board(job: &JobId) -> String {
    format!("/jobs/{job}/board")
}

/// One stage of one wall.
pub fn cell(job: &JobId, wall: &SurfaceId, stage: StageKind) -> String {
    format!("/jobs/{job}/board/{wall}/{}", stage.name())
}

/// Asks to start a stage.
pub fn cell_start(job: &JobId, wall: &SurfaceId, stage: StageKind) -> String {
    format!("{}/start", cell(job, wall, stage))
}

/// Reports a stage as done.
pub fn cell_done(job: &JobId, wall: &SurfaceId, stage: StageKind) -> String {
    format!("{}/done", cell(job, wall, stage))
}

/// One entry of a stage, to be corrected.
pub fn entry(job: &JobId, wall: &SurfaceId, stage: StageKind, entry: &EventId) -> String {
    format!("{}/entries/{entry}", cell(job, wall, stage))
}

/// Which stages are on the job.
pub fn stages(job: &JobId) -> String {
    format!("/jobs/{job}/board/stages")
}

/// What each stage is done with.
pub fn products(job: &JobId) -> String {
    format!("/jobs/{job}/board/products")
}

/// The form for what one stage is done with.
pub fn product(job: &JobId, stage: StageKind) -> String {
    format!("/jobs/{job}/board/products?stage={}", stage.name())
}

/// How cold it is on a job.
pub fn temperature(job: &JobId) -> String {
    format!("/jobs/{job}/temperature")
}

/// The lowest of a job's nights.
pub fn night(job: &JobId) -> String {
    format!("/jobs/{job}/temperature/night")
}

/// One reading, to be corrected.
pub fn reading(job: &JobId, reading: &EventId) -> String {
    format!("/jobs/{job}/temperature/readings/{reading}")
}

/// Everything that was reported of a job.
pub fn log(job: &JobId) -> String {
    format!("/jobs/{job}/log")
}

/// Takes a piece in hand at the saw.
pub fn take_in_hand(job: &JobId, piece: &str) -> String {
    format!("{}/take", cut(job, piece))
}

/// Takes a piece out of somebody's hand.
pub fn take_over(job: &JobId, piece: &str) -> String {
    format!("{}/take-over", cut(job, piece))
}

/// Lets go of a piece in hand.
pub fn let_go(job: &JobId, piece: &str) -> String {
    format!("{}/let-go", cut(job, piece))
}

/// A piece that was cut is trimmed.
pub fn trim(job: &JobId, piece: &str) -> String {
    format!("{}/trim", cut(job, piece))
}

/// Takes back that it was.
pub fn not_trimmed(job: &JobId, piece: &str) -> String {
    format!("{}/not-trimmed", cut(job, piece))
}

/// A piece that was cut does not fit, and is cut anew.
pub fn anew(job: &JobId, piece: &str) -> String {
    format!("{}/anew", cut(job, piece))
}

/// A piece broke, and its tile with it.
pub fn broke(job: &JobId, piece: &str) -> String {
    format!("{}/broke", cut(job, piece))
}

/// Takes back that it broke.
pub fn not_broke(job: &JobId, piece: &str) -> String {
    format!("{}/not-broke", cut(job, piece))
}

/// The people of the crew and their devices, for the lead.
pub const PEOPLE: &str = "/people";

/// The same, to a lead who has just chosen a new PIN.
pub const PEOPLE_NEW_PIN: &str = "/people?pin=new";

/// The same, to a lead who has just taken back so many links.
pub fn links_taken_back(count: u64) -> String {
    format!("{PEOPLE}?back={count}#links")
}

/// Makes a link for a helper or a board.
pub const LINKS: &str = "/people/links";

/// Takes back the links that nobody has used.
pub const REVOKE: &str = "/people/revoke";

/// Where a PIN lets the lead in.
pub const SIGN_IN: &str = "/sign-in";

/// Where the lead is set up at the box.
pub const SET_UP: &str = "/set-up";

/// Where anyone at the box is the lead of the demo.
pub const LEAD_THE_DEMO: &str = "/set-up/demo";

/// Where a device waits to be let in.
pub const WAIT: &str = "/join";

/// A link just made, with its code, for the lead to show.
pub fn link(token: &LinkToken) -> String {
    format!("{LINKS}/{}", token.reveal())
}

/// The same as a code for a camera.
pub fn link_code(token: &LinkToken) -> String {
    format!("{LINKS}/{}/code.svg", token.reveal())
}

/// Where a helper or a board joins.
pub fn join(token: &LinkToken) -> String {
    format!("{WAIT}/{}", token.reveal())
}

/// Where a lead sets themselves up by a link that the box printed.
pub fn set_up(token: &LinkToken) -> String {
    format!("{SET_UP}/{}", token.reveal())
}

/// Lets a device in.
pub fn let_in(device: &DeviceId) -> String {
    format!("{PEOPLE}/{device}/let-in")
}

/// Puts a device out.
pub fn end(device: &DeviceId) -> String {
    format!("{PEOPLE}/{device}/end")
}

/// A piece does not fit: its place is measured again.
pub fn fit(job: &JobId, piece: &str) -> String {
    format!("{}/fit", cut(job, piece))
}

/// What was understood of it as it is being typed, for the script.
pub fn fit_echo(job: &JobId, piece: &str) -> String {
    format!("{}/fit/echo", cut(job, piece))
}

/// What came of a measurement.
pub fn fitted(job: &JobId, piece: &str, entry: &EventId) -> String {
    format!("{}/fit/{entry}", cut(job, piece))
}

/// Takes back what was measured.
pub fn not_measured(job: &JobId, piece: &str) -> String {
    format!("{}/not-measured", cut(job, piece))
}

/// The mixes of a job.
pub fn batches(job: &JobId) -> String {
    format!("/jobs/{job}/batches")
}

/// Tells that something was mixed for a stage.
pub fn mix(job: &JobId, stage: StageKind) -> String {
    format!("{}/of/{}", batches(job), stage.name())
}

/// One mix, to be put right.
pub fn batch(job: &JobId, batch_entry: &EventId) -> String {
    format!("{}/{batch_entry}", batches(job))
}

/// Tells that a mix is used up.
pub fn batch_used_up(job: &JobId, batch_entry: &EventId) -> String {
    format!("{}/used-up", batch(job, batch_entry))
}

/// The next steps of a job for a calendar.
pub fn calendar(job: &JobId) -> String {
    format!("/jobs/{job}/calendar")
}

/// An address just made at which a calendar reads them.
pub fn feed_made(job: &JobId, token: &FeedToken) -> String {
    format!("{}/made/{}", calendar(job), token.reveal())
}

/// Takes back every such address of a job.
pub fn revoke_feeds(job: &JobId) -> String {
    format!("{}/revoke", calendar(job))
}

/// The same as a file.
pub fn calendar_file(job: &JobId) -> String {
    format!("/jobs/{job}/calendar.ics")
}

/// What a calendar reads by itself: the language is part of the address, since a calendar asks in none.
pub fn feed(token: &FeedToken, language: &str) -> String {
    format!("/calendar/{}/{language}.ics", token.reveal())
}
