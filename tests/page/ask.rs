//! A job, the program that serves it, and a way to ask it anything, byte by byte.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::Value;
use tempfile::TempDir;

/// The program, serving a job of its own.
pub struct Served {
    pub folder: TempDir,
    pub host: String,
    pub code: String,
    pub cookie: String,
    pub child: Child,
}

/// An answer.
pub struct Answer {
    pub status: u16,
    pub headers: String,
    pub body: String,
}

impl Served {
    /// Serves the small example job, and comes in by the printed address.
    pub fn example() -> Served {
        let folder = tempfile::tempdir().unwrap();
        let job = folder.path().join("job");
        let mut start = program();
        let started = start.arg("start").arg(&job).output().unwrap();
        assert!(started.status.success(), "{started:?}");
        Served::of(folder)
    }

    /// Serves the folder `job` within a folder.
    pub fn of(folder: TempDir) -> Served {
        let mut child = program()
            .args(["page", "job", "--no-open"])
            .current_dir(folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut first = String::new();
        let out = child.stdout.as_mut().unwrap();
        BufReader::new(out).read_line(&mut first).unwrap();
        let (_, address) = first.trim().split_once("http://").unwrap();
        let (host, code) = address.split_once("/in?code=").unwrap();
        let mut served = Served {
            host: host.to_owned(),
            code: code.to_owned(),
            cookie: String::new(),
            folder,
            child,
        };
        let code = served.code.clone();
        served.cookie = served.come_in(&code).expect("the printed address lets in");
        served
    }

    /// The job's folder.
    pub fn job(&self) -> PathBuf {
        self.folder.path().join("job")
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.job().join(name)).unwrap()
    }

    /// The cookie for a code, if it lets in.
    pub fn come_in(&self, code: &str) -> Option<String> {
        let request = format!(
            "GET /in?code={code} HTTP/1.1\r\nHost: {}\r\n\r\n",
            self.host
        );
        let answer = self.raw(request.as_bytes());
        let (_, cookie) = answer.headers.split_once("set-cookie: ")?;
        Some(cookie.split(';').next()?.to_owned())
    }

    /// Sends bytes as they are, and reads the answer.
    pub fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = self.connect();
        stream.write_all(request).unwrap();
        answer(&mut stream)
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(&self.host).unwrap();
        // Only so that a test that waits for nothing ends.
        stream
            .set_read_timeout(Some(Duration::from_secs(120)))
            .unwrap();
        stream
    }

    /// Asks as the page does.
    pub fn get(&self, path: &str) -> Answer {
        let (host, cookie) = (&self.host, &self.cookie);
        self.raw(
            format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n").as_bytes(),
        )
    }

    /// Has something done as the page does.
    pub fn post(&self, path: &str, value: &Value) -> Answer {
        let (host, cookie, text) = (&self.host, &self.cookie, value.to_string());
        let length = text.len();
        self.raw(
            format!(
                "POST {path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: http://{host}\r\n\
                 X-Grainrow: 1\r\nContent-Length: {length}\r\n\r\n{text}"
            )
            .as_bytes(),
        )
    }

    /// All the page knows.
    pub fn state(&self) -> Value {
        serde_json::from_str(&self.get("/api/state").body).unwrap()
    }

    /// A file of the state.
    pub fn file(&self, name: &str) -> Value {
        let state = self.state();
        let files = state["files"].as_array().unwrap();
        files
            .iter()
            .find(|file| file["file"] == name)
            .unwrap()
            .clone()
    }

    /// Asks for the state until it is as wanted.
    pub fn wait(&self, wanted: impl Fn(&Value) -> bool) -> Value {
        loop {
            let state = self.state();
            if wanted(&state) {
                return state;
            }
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Waits for the plan of what the files say now.
    pub fn planned(&self) -> Value {
        self.wait(|state| {
            state["plan"]["version"] == state["version"] && state["plan"]["stage"] == "last"
        })
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_grainrow"))
}

/// Reads one answer from a stream.
pub fn answer(stream: &mut TcpStream) -> Answer {
    let mut reader = BufReader::new(stream);
    let mut headers = String::new();
    loop {
        let mut line = String::new();
        if reader.read_line(&mut line).unwrap_or(0) == 0 || line == "\r\n" {
            break;
        }
        headers.push_str(&line);
    }
    let status = headers.split(' ').nth(1).and_then(|code| code.parse().ok());
    let length = headers
        .lines()
        .find_map(|line| line.strip_prefix("content-length: "))
        .map_or(0, |length| length.trim().parse().unwrap());
    let mut body = vec![0; length];
    let _ = reader.read_exact(&mut body);
    Answer {
        status: status.unwrap_or(0),
        headers,
        body: String::from_utf8_lossy(&body).into_owned(),
    }
}
