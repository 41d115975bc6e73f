//! Parses the arguments, starts logging and runs the command named.

use std::process::ExitCode;

use clap::Parser;
use coursebook::config::{Arguments, Command};
use coursebook::web;

fn main() -> ExitCode {
    let command = Arguments::parse().command();
    tracing_subscriber::fmt()
        .with_env_filter(coursebook::config::log_filter())
        .with_writer(std::io::stderr)
        .init();
    let outcome = match command {
        Command::Serve(serve) => web::serve(&serve),
        Command::Demo(serve) => web::serve_demo(&serve),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            tracing::error!("{error:#}");
            ExitCode::FAILURE
        }
    }
}
