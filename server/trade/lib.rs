//! What the tile trade knows, as pure computation: no clock, disk, network, database or web.
//!
//! The rooms, in the order a job meets them:
//!
//! - [`measure`]: lengths as the tape reads them, walls measured from a level line, the whole [`measure::Job`];
//! - [`job_file`]: the JSON files that carry a job in and a plan out;
//! - [`geometry`]: integer points and polygons, exact predicates;
//! - [`course`]: from the level line to course lines, props and scribes;
//! - [`place`]: tiles laid over a surface, and every cut piece with its marks;
//! - [`search`]: which layouts are worth choosing between, and why one cannot be had;
//! - [`advice`]: what published rules say of a layout;
//! - [`offcut`]: which pieces are cut from the same tile, and a bound below which no plan can go;
//! - [`cure`]: products, stages, windows and the gate that keeps people from working too early.
//!
//! No float decides anything in course, place, search or offcut: lengths are whole numbers of
//! 1/76800 mm (see [`measure::Length`]).

pub mod advice;
pub mod course;
pub mod cure;
pub mod geometry;
pub mod job_file;
pub mod measure;
pub mod offcut;
pub mod place;
pub mod search;

/// How many cases a property test tries: the usual number, always the same ones, or as many times that as
/// `COURSEBOOK_CASES` says when the tests are built, other ones each time.
#[cfg(test)]
fn cases(usual: u32) -> proptest::test_runner::Config {
    use proptest::test_runner::RngSeed;

    let times: Option<u32> = option_env!("COURSEBOOK_CASES").and_then(|times| times.parse().ok());
    let cases = usual * times.unwrap_or(1);
    let rng_seed = if times.is_some() { RngSeed::Random } else { RngSeed::Fixed(1) };
    proptest::test_runner::Config {
        rng_seed,
        max_global_rejects: cases * 4,
        ..proptest::test_runner::Config::with_cases(cases)
    }
}
