//! How fast starts are searched: for a few rooms the corners visited, the choices kept and the corners a second.

use std::ops::ControlFlow;

use trade::course;
use trade::job_file;
use trade::measure::Job;
use trade::search::{propose, start_front};

/// A name, a step and the widths of walls; niches in the first of them.
const ROOMS: [(&str, &str, &[i64], usize); 8] = [
    ("one wall, straight", "0", &[2630], 0),
    ("one wall, third step", "1/3", &[2630], 0),
    ("one wall, third step, two niches", "1/3", &[2630], 2),
    ("three walls, straight", "0", &[910, 1520, 915], 0),
    ("three walls, half step", "1/2", &[910, 1520, 915], 0),
    ("three walls, third step", "1/3", &[910, 1520, 915], 0),
    ("three walls, half step, a niche", "1/2", &[1520, 910, 915], 1),
    ("five walls, third step", "1/3", &[910, 1520, 915, 2400, 3100], 0),
];

#[expect(clippy::print_stdout, reason = "what it is for")]
#[expect(clippy::disallowed_methods, reason = "it measures time")]
fn main() {
    println!("{:36} {:>9} {:>7} {:>8} {:>12}", "room", "corners", "choices", "seconds", "corners / s");
    for (name, step, widths, niches) in ROOMS {
        let job = room(step, widths, niches);
        let layout = propose(&job, &Default::default());
        let free = trade::measure::Layout { starts: Default::default(), ..layout.clone() };
        let courses = course::lay(&job, &layout).expect("it can be laid");
        let began = std::time::Instant::now();
        let found = start_front(&job, &free, &courses, &mut || ControlFlow::Continue(()));
        let seconds = began.elapsed().as_secs_f64();
        let corners = f64::from(u32::try_from(found.visited).expect("few"));
        let (choices, rate) = (found.choices.len(), corners / seconds);
        println!("{name:36} {:>9} {choices:>7} {seconds:>8.3} {rate:>12.0} {:?}", found.visited, found.reach);
    }
}

fn room(step: &str, widths: &[i64], niches: usize) -> Job {
    let wall = |(at, width): (usize, &i64)| {
        let niche = |number: usize| {
            let x = 400 + 900 * number;
            format!(
                r#"{{"kind": "rectangle", "name": "niche", "x": {x}, "y": -250, "width": 313, "height": 413}}"#
            )
        };
        let openings: Vec<String> = (0..if at == 0 { niches } else { 0 }).map(niche).collect();
        let pattern = match step {
            "0" => r#"{"name": "straight"}"#.to_owned(),
            step => format!(r#"{{"name": "running", "step": "{step}"}}"#),
        };
        let left = if at == 0 && widths.len() > 1 { "bare" } else { "corner" };
        let right = if at == 2 { "bare" } else { "corner" };
        format!(
            r#"{{"id": "W{at}", "name": "wall", "kind": "wall", "width": {width},
                "base": [{{"x": 0, "drop": 1200}}], "top": [{{"x": 0, "rise": 1000}}],
                "edges": {{"left": "{left}", "right": "{right}", "base": "base", "top": "ceiling"}},
                "openings": [{}], "bands": [{{"tile": "wall", "courses": "fill"}}], "pattern": {pattern}}}"#,
            openings.join(", ")
        )
    };
    let walls: Vec<String> = widths.iter().enumerate().map(wall).collect();
    let text = format!(
        r#"{{"coursebook": 1, "name": "a room", "unit": "mm", "tiles": {{"wall": {{"width": 598, "height": 298}}}},
            "joint": 3, "kerf": 2, "gaps": {{"base": 3, "corner": 3, "ceiling": 3, "trim": 3, "opening": 3}},
            "base_gap_max": 6, "smallest_cut": 100, "surfaces": [{}]}}"#,
        walls.join(", ")
    );
    job_file::read(&text).expect("a good file").job
}
