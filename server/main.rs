//! Parses the arguments, starts logging and runs the command named.

use std::process::ExitCode;

use clap::Parser;
use coursebook::config::{Arguments, Command};
use coursebook::{lead_link_command, offcuts_command, plan_command, web};

fn main() -> ExitCode {
    let command = Arguments::parse().command();
    tracing_subscriber::fmt()
        .with_env_filter(coursebook::config::log_filter())
        .with_writer(std::io::stderr)
        .init();
    let outcome = match command {
        Command::Serve(serve) => web::serve(&serve).map(|()| ExitCode::SUCCESS),
        Command::Demo(serve) => web::serve_demo(&serve).map(|()| ExitCode::SUCCESS),
        Command::Plan(asked) => plan_command::run(&asked),
        Command::LeadLink(asked) => lead_link_command::run(&asked).map(|()| ExitCode::SUCCESS),
        Command::Offcuts(asked) => offcuts_command::run(&asked),
    };
    match outcome {
        Ok(code) => code,
        Err(error) => {
            tracing::error!("{error:#}");
            ExitCode::FAILURE
        }
    }
}
