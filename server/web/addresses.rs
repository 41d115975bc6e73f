//! Where phones reach this server.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::{Arc, Mutex, PoisonError};

use crate::texts::Texts;

/// The kernel's table of this machine's own IPv4 addresses.
const TABLE: &str = "/proc/net/fib_trie";

/// Where phones reach this server, as far as is known.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Reached {
    /// The first is the one to name.
    pub addresses: Vec<SocketAddr>,
    /// The name on the local network, where one is told.
    pub name: Option<NetworkName>,
    /// The address to name when the server last ran, where it was another one.
    pub moved_from: Option<SocketAddr>,
}

/// What the local network calls the server, with its port. Where another machine had the name before, it becomes
/// another one while the server runs, and all that share it say so from then on.
#[derive(Clone, Debug, Default)]
pub struct NetworkName {
    host: Arc<Mutex<String>>,
    port: u16,
}

impl PartialEq for NetworkName {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

impl Eq for NetworkName {}

impl std::fmt::Display for NetworkName {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let host = self.host.lock().unwrap_or_else(PoisonError::into_inner);
        write!(out, "{host}:{}", self.port)
    }
}

impl NetworkName {
    /// `coursebook.local` with a port.
    pub fn new(host: impl Into<String>, port: u16) -> Self {
        Self { host: Arc::new(Mutex::new(host.into())), port }
    }

    /// The port.
    pub fn port(&self) -> u16 {
        self.port
    }

    /// Another machine is called `taken`, so that what was called so is called `now`; true where that was this one.
    /// Both as they stand on the network, with a dot at the end.
    pub fn gives_way(&self, taken: &str, now: &str) -> bool {
        let mut host = self.host.lock().unwrap_or_else(PoisonError::into_inner);
        let is_ours = host.eq_ignore_ascii_case(taken.trim_end_matches('.'));
        if is_ours {
            now.trim_end_matches('.').clone_into(&mut host);
        }
        is_ours
    }
}

impl Reached {
    /// At these addresses, under no name.
    pub fn new(addresses: Vec<SocketAddr>) -> Self {
        Self { addresses, name: None, moved_from: None }
    }

    /// The address to name, where any is known.
    pub fn first(&self) -> Option<SocketAddr> {
        self.addresses.first().copied()
    }

    /// Whether no phone can reach it.
    pub fn is_only_here(&self) -> bool {
        self.addresses.iter().all(|address| address.ip().is_loopback())
    }

    /// Every way that a phone may take, the one to name first, the name last.
    pub fn ways(&self) -> Vec<String> {
        let from_outside = self.addresses.iter().filter(|address| !address.ip().is_loopback());
        from_outside.map(|address| format!("http://{address}/")).chain(self.name_url()).collect()
    }

    /// That phones will not find the server where they did, and what to do; nothing where they will.
    pub fn moved(&self, texts: &Texts) -> Option<String> {
        let (before, now) = (self.moved_from?.to_string(), self.first()?.to_string());
        Some(texts.say_with("people-moved", &[("before", &before), ("now", &now)]))
    }

    /// The name as an address of a page.
    pub fn name_url(&self) -> Option<String> {
        self.name.as_ref().map(|name| format!("http://{name}/"))
    }
}

/// Every address at which a server that listens on `bound` is reached; those of local networks first.
pub fn of(bound: SocketAddr) -> Vec<SocketAddr> {
    if !bound.ip().is_unspecified() {
        return vec![bound];
    }
    let mut found: Vec<Ipv4Addr> = own(&table());
    found.sort_by_key(|address| (address.is_loopback(), !address.is_private(), *address));
    found.dedup();
    found.into_iter().map(|address| SocketAddr::new(IpAddr::V4(address), bound.port())).collect()
}

#[expect(clippy::disallowed_methods, reason = "a kernel file, not the database")]
fn table() -> String {
    std::fs::read_to_string(TABLE).unwrap_or_default()
}

/// The table's own addresses: each is the leaf before a line that says so. This machine's own loopback always is one.
fn own(table: &str) -> Vec<Ipv4Addr> {
    let mut found = vec![Ipv4Addr::LOCALHOST];
    let mut leaf: Option<Ipv4Addr> = None;
    for line in table.lines().map(str::trim) {
        if let Some(address) = line.strip_prefix("|-- ") {
            leaf = address.parse().ok();
        } else if line == "/32 host LOCAL" {
            found.extend(leaf);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As proc(5) and the kernel's fib_trie describe it; addresses of RFC 5737.
    const SAMPLE: &str = "Main:\n  +-- 0.0.0.0/0 3 0 5\n     |-- 0.0.0.0\n        /0 universe UNICAST\n     |-- 192.0.2.0\n        /24 link UNICAST\nLocal:\n     |-- 127.0.0.1\n        /32 host LOCAL\n     |-- 192.0.2.7\n        /32 host LOCAL\n     |-- 192.0.2.255\n        /32 link BROADCAST\n";

    #[test]
    fn the_machines_own_addresses_are_read_and_no_other() {
        assert_eq!(own(SAMPLE), [Ipv4Addr::LOCALHOST, Ipv4Addr::LOCALHOST, Ipv4Addr::new(192, 0, 2, 7)]);
        assert_eq!(own("|-- x\n/32 host LOCAL"), [Ipv4Addr::LOCALHOST]);
    }

    #[test]
    fn an_address_that_was_named_is_the_only_one() {
        let named: SocketAddr = "192.0.2.7:8080".parse().unwrap();
        assert_eq!(of(named), [named]);
    }
}
