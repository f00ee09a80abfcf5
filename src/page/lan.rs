//! The workshop's own network: which addresses there are, and a picture a phone can read.

use std::net::{IpAddr, Ipv4Addr};

use qrcodegen::{QrCode, QrCodeEcc};

/// An address of this machine in a network.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Interface {
    /// What the system calls it.
    pub name: String,
    /// The address.
    pub address: Ipv4Addr,
}

/// The addresses other devices may reach this machine by, those of private networks first.
pub fn interfaces() -> Vec<Interface> {
    let all = if_addrs::get_if_addrs().unwrap_or_default();
    let mut found: Vec<Interface> = all
        .into_iter()
        .filter(|interface| !interface.is_loopback())
        .filter_map(|interface| match interface.ip() {
            IpAddr::V4(address) if !address.is_link_local() => Some(Interface {
                name: interface.name,
                address,
            }),
            _ => None,
        })
        .collect();
    found.sort_by_key(|interface| (!interface.address.is_private(), interface.address));
    found
}

/// A QR code (ISO/IEC 18004) of a text: its rows, true where it is dark, a quiet border of four
/// around it.
pub fn qr(text: &str) -> Option<Vec<Vec<bool>>> {
    const QUIET: i32 = 4;
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let range = -QUIET..code.size() + QUIET;
    let row = |y: i32| range.clone().map(|x| code.get_module(x, y)).collect();
    Some(range.clone().map(row).collect())
}

/// The same for a terminal, two rows a line.
pub fn qr_lines(text: &str) -> Vec<String> {
    let rows = qr(text).unwrap_or_default();
    let pairs = rows.chunks(2).map(|pair| {
        let below = pair.get(1);
        let dots = pair[0].iter().enumerate();
        dots.map(|(x, upper)| {
            // Light on dark: a terminal is dark more often than not, and phones read both.
            match (!upper, !below.is_some_and(|row| row[x])) {
                (true, true) => '█',
                (true, false) => '▀',
                (false, true) => '▄',
                (false, false) => ' ',
            }
        })
        .collect()
    });
    pairs.collect()
}
