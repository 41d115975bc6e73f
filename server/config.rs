//! What was asked for on the command line and in the environment, as domain types. The only reader of the
//! environment.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::str::FromStr;

use tracing_subscriber::EnvFilter;

use clap::{Parser, Subcommand};

use crate::texts::Language;

/// Where crews look for the server, unless another is named.
const PORT: u16 = 8080;

/// Where `serve` listens unless told otherwise: on every network of this machine.
pub fn usual_address() -> SocketAddr {
    SocketAddr::new(IpAddr::V4(Ipv4Addr::UNSPECIFIED), PORT)
}

/// Layout, cuts and cure times for a tile setter's crew, on the local network.
#[derive(Parser, Debug)]
#[command(name = "coursebook", version)]
pub struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

/// What to do.
#[derive(Subcommand, Debug)]
pub enum Command {
    /// Serve the crew's jobs (this is what happens when no command is named).
    Serve(Serve),
    /// Serve a data folder that holds the demo job.
    Demo(Serve),
    /// Plan the job of a file, without serving anything.
    Plan(Plan),
    /// Print a link that makes whoever opens it the lead, for one who has lost phone and PIN.
    LeadLink(LeadLink),
    /// Find the fewest tiles that the pieces of a file can be cut from, without serving anything.
    Offcuts(Offcuts),
}

/// Which file to plan, and how to print it.
#[derive(clap::Args, Clone, Debug)]
pub struct Plan {
    /// The job file, as the layout page saves it.
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// How to print the plan: for a program when not named, and for a person at a terminal.
    #[arg(long)]
    pub format: Option<Format>,
    /// The language of the report: en or es.
    #[arg(long, value_name = "LANGUAGE", default_value = "en", value_parser = language)]
    pub language: Language,
}

/// Which pieces to cut, and how long to look for the fewest tiles.
#[derive(clap::Args, Clone, Debug)]
pub struct Offcuts {
    /// The file that lists the tile and the pieces.
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Print the best that was found after so many seconds, if it is not done before.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=86_400))]
    pub seconds: Option<u32>,
}

/// Whose lead is lost.
#[derive(clap::Args, Clone, Debug)]
pub struct LeadLink {
    /// The folder that holds the database.
    #[arg(long, env = "COURSEBOOK_DATA", value_name = "DIR")]
    pub data: Option<PathBuf>,
}

/// How a plan is printed.
#[derive(clap::ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
pub enum Format {
    /// For a program.
    Json,
    /// For a person.
    Report,
}

/// Where to listen and where the data is.
#[derive(clap::Args, Clone, Debug)]
pub struct Serve {
    /// Address and port to listen on: every network of this machine, port 8080, when not named; for the demo this
    /// machine alone.
    #[arg(long, env = "COURSEBOOK_LISTEN", value_name = "ADDR")]
    pub listen: Option<SocketAddr>,
    /// The folder that holds the database.
    #[arg(long, env = "COURSEBOOK_DATA", value_name = "DIR")]
    pub data: Option<PathBuf>,
    /// A further host name that browsers may use for this server.
    #[arg(long = "host", env = "COURSEBOOK_HOST", value_name = "NAME")]
    pub hosts: Vec<String>,
    /// The name, before .local, under which phones on the local network find this server.
    #[arg(long, env = "COURSEBOOK_NAME", value_name = "NAME", default_value = "coursebook")]
    pub name: LocalName,
    /// Tell the local network no name.
    #[arg(long, env = "COURSEBOOK_NO_NAME")]
    pub no_name: bool,
}

/// One label of a host name (RFC 1123, section 2.1): letters, digits and hyphens, in small letters.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LocalName(String);

/// Why a word is no name of a machine.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("a name has 1 to 63 letters, digits and hyphens, and no hyphen at either end")]
pub struct NoName;

impl Arguments {
    /// The command named, or `serve`.
    pub fn command(self) -> Command {
        self.command.unwrap_or_else(|| match Self::parse_from(["coursebook", "serve"]).command {
            Some(command) => command,
            None => unreachable!("the command is named on this line"),
        })
    }
}

impl LeadLink {
    /// The data folder: the one named, else the one that `serve` uses.
    pub fn data_folder(&self) -> PathBuf {
        self.data.clone().unwrap_or_else(|| PathBuf::from("data"))
    }
}

impl Serve {
    /// Where to listen: the address named, else port 8080 of these.
    pub fn listen_on(&self, usual: IpAddr) -> SocketAddr {
        self.listen.unwrap_or(SocketAddr::new(usual, PORT))
    }

    /// The data folder: the one named, else `name` in the current folder.
    pub fn data_folder(&self, name: &str) -> PathBuf {
        self.data.clone().unwrap_or_else(|| PathBuf::from(name))
    }
}

impl LocalName {
    /// The name alone.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The name as a phone asks for it.
    pub fn full(&self) -> String {
        format!("{}.local", self.0)
    }
}

impl FromStr for LocalName {
    type Err = NoName;

    fn from_str(typed: &str) -> Result<Self, NoName> {
        let name = typed.to_ascii_lowercase();
        let is_label = (1..=63).contains(&name.len())
            && name.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
            && !name.starts_with('-')
            && !name.ends_with('-');
        if is_label { Ok(Self(name)) } else { Err(NoName) }
    }
}

/// A language by its tag.
fn language(tag: &str) -> Result<Language, String> {
    Language::from_tag(tag).ok_or_else(|| {
        let ours: Vec<&str> = Language::ALL.iter().map(|language| language.tag()).collect();
        format!("there are words in {}", ours.join(", "))
    })
}

/// What is logged: `RUST_LOG` where it is set, else warnings and our own notices.
pub fn log_filter() -> EnvFilter {
    discreet(EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new("warn,coursebook=info")))
}

/// The same without what would print whole addresses, tokens in them included, whatever was asked for.
pub fn discreet(filter: EnvFilter) -> EnvFilter {
    match "tower_http::csrf=debug".parse() {
        Ok(directive) => filter.add_directive(directive),
        Err(_) => unreachable!("the directive is written on the line before"),
    }
}
