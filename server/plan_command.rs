//! `coursebook plan`: a job file in, its plan out.

use std::io::{IsTerminal, Read, Write};
use std::ops::ControlFlow;
use std::path::Path;
use std::process::ExitCode;

use anyhow::Context;
use trade::job_file::{self, limits};
use trade::search;

use crate::config::{Format, Plan};
use crate::output::report;
use crate::texts::Texts;

/// The exit code for a file that has to be mended.
const FILE_IS_WRONG: u8 = 2;

/// Plans the job of a file and prints the layouts worth choosing between, or the one that the file chooses; a wrong file gets one line per fault on standard error instead.
///
/// # Errors
///
/// When the file cannot be read or the plan cannot be written.
pub fn run(asked: &Plan) -> anyhow::Result<ExitCode> {
    let text = text_of(&asked.file)?;
    let read = match job_file::read(&text) {
        Ok(read) => read,
        Err(faults) => return Ok(wrong(faults)),
    };
    read.ignored.iter().for_each(|path| tell(&format!("{path}: not known, and ignored")));
    let found = match search::options(&read.job, &read.priorities, &mut || ControlFlow::Continue(())) {
        Ok(found) => found,
        Err(fault) => return Ok(wrong([fault])),
    };
    let mut out = std::io::stdout().lock();
    match asked.format.unwrap_or(usual_format(&out)) {
        Format::Json => writeln!(out, "{:#}", job_file::write_options(&read.job, &found))?,
        Format::Report => write!(out, "{}", report::report(&Texts::of(asked.language)?, &read.job, &found))?,
    }
    out.flush()?;
    Ok(ExitCode::SUCCESS)
}

/// Words for a person, JSON for a program.
fn usual_format(out: &impl IsTerminal) -> Format {
    if out.is_terminal() { Format::Report } else { Format::Json }
}

/// At most a byte more than a job file may have, so that a wrong file costs no more than a right one.
#[expect(clippy::disallowed_methods, reason = "the file named on the command line")]
pub(crate) fn text_of(path: &Path) -> anyhow::Result<String> {
    let file = std::fs::File::open(path).with_context(|| format!("cannot open {}", path.display()))?;
    let most = u64::try_from(limits::BYTES)?.saturating_add(1);
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes).with_context(|| format!("cannot read {}", path.display()))?;
    // What is not UTF-8 is named where it stands, as a fault of the JSON.
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

pub(crate) fn wrong(faults: impl IntoIterator<Item = impl std::fmt::Display>) -> ExitCode {
    faults.into_iter().for_each(|fault| tell(&fault.to_string()));
    ExitCode::from(FILE_IS_WRONG)
}

#[expect(clippy::print_stderr, reason = "what a person at the terminal has to mend")]
pub(crate) fn tell(line: &str) {
    eprintln!("{line}");
}
