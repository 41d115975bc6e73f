//! The name under which phones on the local network find this server, told to them by multicast DNS (RFC 6762), since
//! an address may be another one tomorrow.

use std::net::SocketAddr;
use std::time::Duration;

use mdns_sd::{DaemonEvent, ServiceDaemon, ServiceInfo};

use super::addresses::NetworkName;
use crate::config::LocalName;

/// What kind of service it is: a web site (RFC 6763, section 4.1.2; the registry of service names has "http").
const WEB_SITE: &str = "_http._tcp.local.";

/// How long a name that is given up may take to be taken back from the phones that know it.
const GOODBYE_WITHIN: Duration = Duration::from_millis(500);

/// The name while it is told. A name that nobody could be told, or that is not wanted, is none.
pub struct Told {
    daemon: ServiceDaemon,
    /// As it is told now.
    pub name: NetworkName,
}

/// Tells the network the name of the server that is reached at `addresses`, where it is reached from a network at
/// all: never of one that listens on this machine alone. A fault costs the name and nothing else.
pub fn tell(name: &LocalName, addresses: &[SocketAddr], follows_the_machine: bool) -> Option<Told> {
    let from_outside: Vec<SocketAddr> =
        addresses.iter().filter(|address| !address.ip().is_loopback()).copied().collect();
    let port = from_outside.first()?.port();
    let told = NetworkName::new(name.full(), port);
    match begin(name, &from_outside, told.clone(), follows_the_machine) {
        Ok(daemon) => Some(Told { daemon, name: told }),
        Err(error) => {
            tracing::warn!(%error, "the name {} cannot be told to the network: use the address", name.full());
            None
        }
    }
}

fn begin(
    name: &LocalName,
    addresses: &[SocketAddr],
    told: NetworkName,
    follows_the_machine: bool,
) -> Result<ServiceDaemon, mdns_sd::Error> {
    let ips: Vec<_> = addresses.iter().map(SocketAddr::ip).collect();
    let host = format!("{}.", name.full());
    let site = ServiceInfo::new(WEB_SITE, name.as_str(), &host, ips.as_slice(), told.port(), None)?;
    let site = if follows_the_machine { site.enable_addr_auto() } else { site };
    let daemon = ServiceDaemon::new()?;
    let events = daemon.monitor()?;
    daemon.register(site)?;
    // Another box with the same name was there first: ours gets a number, and whoever looks at the log must know.
    std::thread::spawn(move || {
        while let Ok(event) = events.recv() {
            if let DaemonEvent::NameChange(change) = event {
                let (taken, now) = (change.original, change.new_name);
                told.gives_way(&taken, &now);
                tracing::warn!("another machine is called {taken} already: this one is {now}");
            }
        }
    });
    Ok(daemon)
}

impl Told {
    /// Takes the name back, so that phones do not ask a server that is gone.
    pub fn take_back(self) {
        if let Ok(ended) = self.daemon.shutdown() {
            // Whether it was heard or not, the server stops now.
            let _ = ended.recv_timeout(GOODBYE_WITHIN);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_server_of_this_machine_alone_tells_nobody_its_name() {
        let name: LocalName = "coursebook".parse().unwrap();
        assert!(tell(&name, &["127.0.0.1:8080".parse().unwrap()], false).is_none());
        assert!(tell(&name, &[], true).is_none());
    }
}
