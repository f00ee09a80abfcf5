//! The door: codes that let a browser in once, and the cookies of those that are in.

use std::net::SocketAddr;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use axum::http::HeaderMap;
use axum::http::header::COOKIE;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;

use super::Pace;
use crate::page::app::lock;

/// How long a code for a phone can be used.
const CODE_LASTS: Duration = Duration::from_secs(10 * 60);
/// Most browsers let in at a time.
const MOST: usize = 32;
/// Longest name of a device that is kept.
const LONGEST: usize = 60;

/// Who is let in, and how.
#[derive(Debug)]
pub struct Door {
    /// Hosts by which this server may be called: `127.0.0.1:4711`.
    hosts: Vec<String>,
    /// The cookie's name: cookies do not tell ports apart, names do.
    cookie: String,
    state: Mutex<State>,
    /// How fast codes may be tried.
    tries: Pace,
}

#[derive(Debug, Default)]
struct State {
    codes: Vec<Code>,
    visitors: Vec<Visitor>,
    next: u32,
}

#[derive(Debug)]
struct Code {
    secret: String,
    until: Option<Instant>,
}

/// A browser that is let in.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Visitor {
    /// Its number, by which it can be thrown out.
    pub number: u32,
    /// What it calls itself, in a few words.
    pub device: String,
    /// Where it asks from.
    pub from: String,
    #[serde(skip)]
    secret: String,
}

/// 128 bits nobody can guess, as text that can stand in an address.
fn secret() -> String {
    URL_SAFE_NO_PAD.encode(rand::random::<[u8; 16]>())
}

/// Compares in a time that does not tell how much is alike.
fn same(one: &str, other: &str) -> bool {
    let differs = |a: &u8, b: &u8| a ^ b;
    let pairs = one.as_bytes().iter().zip(other.as_bytes());
    let any = pairs.fold(0, |any, (a, b)| any | differs(a, b));
    one.len() == other.len() && any == 0
}

impl Door {
    /// A door for a server at these addresses, the first of which is this machine's own.
    pub fn new(addresses: &[SocketAddr]) -> Door {
        let port = addresses.first().map_or(0, SocketAddr::port);
        let mut hosts: Vec<String> = addresses.iter().map(ToString::to_string).collect();
        hosts.push(format!("localhost:{port}"));
        Door {
            hosts,
            cookie: format!("grainrow-{port}"),
            state: Mutex::default(),
            tries: Pace::new(20.0, 0.5),
        }
    }

    /// Whether that is one of this server's own names.
    pub fn is_host(&self, host: &str) -> bool {
        self.hosts.iter().any(|own| own == host)
    }

    /// Whether others of the network can reach it.
    pub fn is_open(&self) -> bool {
        self.hosts.len() > 2
    }

    /// The host a phone calls it by.
    pub fn phone_host(&self) -> Option<&str> {
        self.is_open().then(|| self.hosts[1].as_str())
    }

    /// A code that lets one browser in, once. `lasting` ones hold until they are used.
    pub fn code(&self, lasting: bool) -> String {
        let secret = secret();
        let mut state = lock(&self.state);
        state.codes.retain(Code::is_good);
        if state.codes.len() >= MOST {
            state.codes.remove(0);
        }
        state.codes.push(Code {
            secret: secret.clone(),
            until: (!lasting).then(|| Instant::now() + CODE_LASTS),
        });
        secret
    }

    /// Lets a browser in for a code, which is used up. Gives the cookie to set.
    pub fn let_in(&self, code: &str, agent: &str, from: SocketAddr) -> Option<String> {
        if !self.tries.take() {
            return None;
        }
        let mut state = lock(&self.state);
        state.codes.retain(Code::is_good);
        let at = state.codes.iter().position(|c| same(&c.secret, code))?;
        state.codes.remove(at);
        if state.visitors.len() >= MOST {
            state.visitors.remove(0);
        }
        state.next += 1;
        let visitor = Visitor {
            number: state.next,
            device: device(agent),
            from: from.ip().to_string(),
            secret: secret(),
        };
        let name = &self.cookie;
        let cookie = format!(
            "{name}={}; HttpOnly; SameSite=Strict; Path=/",
            visitor.secret
        );
        state.visitors.push(visitor);
        Some(cookie)
    }

    /// Who asks, if they are let in.
    pub fn visitor(&self, headers: &HeaderMap) -> Option<u32> {
        let cookies = headers.get_all(COOKIE).iter();
        let text = cookies.filter_map(|value| value.to_str().ok());
        let pairs = text.flat_map(|line| line.split(';'));
        let state = lock(&self.state);
        for pair in pairs {
            let Some((name, value)) = pair.trim().split_once('=') else {
                continue;
            };
            if name != self.cookie {
                continue;
            }
            let known = state.visitors.iter().find(|v| same(&v.secret, value));
            if let Some(visitor) = known {
                return Some(visitor.number);
            }
        }
        None
    }

    /// Whether a visitor is still let in.
    pub fn is_in(&self, number: u32) -> bool {
        let state = lock(&self.state);
        state
            .visitors
            .iter()
            .any(|visitor| visitor.number == number)
    }

    /// Everybody who is in.
    pub fn visitors(&self) -> Vec<Visitor> {
        lock(&self.state).visitors.clone()
    }

    /// Throws one out.
    pub fn throw_out(&self, number: u32) {
        let mut state = lock(&self.state);
        state.visitors.retain(|visitor| visitor.number != number);
    }
}

impl Code {
    fn is_good(&self) -> bool {
        self.until.is_none_or(|until| Instant::now() < until)
    }
}

/// What a browser calls itself, shortened to what tells a phone from a desk.
fn device(agent: &str) -> String {
    const KNOWN: [(&str, &str); 6] = [
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Android", "Android phone"),
        ("Windows", "Windows"),
        ("Mac OS", "Mac"),
        ("Linux", "Linux"),
    ];
    let known = KNOWN.iter().find(|(sign, _)| agent.contains(sign));
    let shortened = || agent.chars().filter(|c| !c.is_control()).take(LONGEST);
    known.map_or_else(|| shortened().collect(), |(_, name)| (*name).to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn door() -> Door {
        Door::new(&[SocketAddr::from(([127, 0, 0, 1], 4711))])
    }

    fn headers(cookie: &str) -> HeaderMap {
        let mut headers = HeaderMap::new();
        let pair = cookie.split(';').next().unwrap();
        headers.insert(COOKIE, pair.parse().unwrap());
        headers
    }

    #[test]
    fn a_code_lets_in_once_and_who_is_in_can_be_thrown_out() {
        let (door, from) = (door(), SocketAddr::from(([127, 0, 0, 1], 9)));
        let code = door.code(true);
        let cookie = door.let_in(&code, "Linux", from).unwrap();
        assert!(cookie.contains("HttpOnly; SameSite=Strict"), "{cookie}");
        assert_eq!(door.let_in(&code, "Linux", from), None);
        let number = door.visitor(&headers(&cookie)).unwrap();
        assert!(door.is_in(number));
        door.throw_out(number);
        assert_eq!(door.visitor(&headers(&cookie)), None);
    }

    #[test]
    fn guesses_are_slowed_down_until_even_the_right_one_has_to_wait() {
        let (door, from) = (door(), SocketAddr::from(([127, 0, 0, 1], 9)));
        let code = door.code(true);
        for _ in 0..40 {
            assert_eq!(door.let_in("guess", "", from), None);
        }
        assert_eq!(door.let_in(&code, "", from), None);
    }

    #[test]
    fn only_its_own_names_are_hosts() {
        let door = door();
        assert!(door.is_host("127.0.0.1:4711") && door.is_host("localhost:4711"));
        for foreign in ["127.0.0.1", "example.org:4711", "127.0.0.1:4712", ""] {
            assert!(!door.is_host(foreign), "{foreign}");
        }
    }
}
