//! `coursebook offcuts`: a list of pieces in, the fewest tiles that they can be cut from out.

use std::io::Write;
use std::ops::ControlFlow;
use std::process::ExitCode;
use std::time::Duration;

use anyhow::bail;
use trade::job_file;
use trade::offcut::{self, Effort, Plan, Planning, Problem, ProofFault};

use crate::clock::Stopwatch;
use crate::config::Offcuts;
use crate::plan_command::{tell, text_of, wrong};

/// How long nothing is said, and how far apart what is said stands.
const SILENCE: Duration = Duration::from_secs(1);

/// Plans the pieces of a file and prints the plan as JSON, and on standard error how long it took; a wrong file
/// gets one line per fault on standard error instead. Nothing is printed that the independent checks fault.
///
/// # Errors
///
/// When the file cannot be read, the plan cannot be written, or the plan is faulty.
pub fn run(asked: &Offcuts) -> anyhow::Result<ExitCode> {
    let read = match job_file::read_offcuts(&text_of(&asked.file)?) {
        Ok(read) => read,
        Err(faults) => return Ok(wrong(faults)),
    };
    read.ignored.iter().for_each(|path| tell(&format!("{path}: not known, and ignored")));
    let watch = Stopwatch::start();
    let limit = asked.seconds.map(|seconds| Duration::from_secs(seconds.into()));
    let plan = plan(&read.problem, watch, limit);
    let took = watch.elapsed();
    go_over(&read.problem, &plan)?;
    let mut out = std::io::stdout().lock();
    writeln!(out, "{:#}", job_file::write_offcuts(read.unit, &read.problem, &plan))?;
    out.flush()?;
    if !plan.is_proved() {
        let (tiles, bound) = (plan.tiles(), plan.bound);
        tell(&format!("{tiles} tiles, found, not proved: no plan can use fewer than {bound}"));
    }
    tell(&format!("{:.3} s", took.as_secs_f64()));
    Ok(ExitCode::SUCCESS)
}

/// Plans until it is done or the time is up, and says how far it is where that takes long.
fn plan(problem: &Problem, watch: Stopwatch, limit: Option<Duration>) -> Plan {
    let mut told = (Duration::ZERO, None);
    offcut::solve_while(problem, Effort::Patient, &mut |found| {
        let elapsed = watch.elapsed();
        // Before the first plan there is nothing to tell.
        if found.tiles > 0 && elapsed >= told.0 + SILENCE && told.1 != Some(found) {
            told = (elapsed, Some(found));
            let Planning { tiles, bound } = found;
            tell(&format!("{} s: {tiles} tiles, and no plan can use fewer than {bound}", elapsed.as_secs()));
        }
        match limit {
            Some(limit) if elapsed >= limit => ControlFlow::Break(()),
            Some(_) | None => ControlFlow::Continue(()),
        }
    })
}

/// The independent checks of the plan and of its proof.
fn go_over(problem: &Problem, plan: &Plan) -> anyhow::Result<()> {
    if let Some(fault) = offcut::check(problem, plan).first() {
        bail!("a mistake of ours: the plan does not keep the rules ({fault}); nothing is printed");
    }
    for fault in offcut::check_proof(problem, plan) {
        if !matches!(fault, ProofFault::NotConfirmed { .. }) {
            bail!("a mistake of ours: the proof does not hold ({fault}); nothing is printed");
        }
        tell(&format!("not gone over a second time: {fault}"));
    }
    Ok(())
}
