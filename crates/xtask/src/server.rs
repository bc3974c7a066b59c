//! A server for one folder, on this machine only: right types, compression made beforehand, the recommended policy.

use std::fs;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use crate::receiver::{self, Receiver};

/// No browser's request is longer.
const LONGEST_REQUEST: u64 = 64 * 1024;

/// The policy the project recommends to every host, and that the demo page and all browser tests run under.
pub const STRICT_POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; \
     img-src 'self' data:; font-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'self'; \
     require-trusted-types-for 'script'; trusted-types 'none'";

/// A policy under which no wasm may run: for showing that the page's own words stay.
pub const NO_WASM_POLICY: &str =
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:";

/// The type of wasm. Source: the WebAssembly Web API of the W3C, registered with IANA.
pub const WASM: &str = "application/wasm";

/// The type of a file of which nothing is known. Source: RFC 2046, 4.5.1.
pub const UNKNOWN: &str = "application/octet-stream";

/// What is served, and how.
#[derive(Debug, Clone)]
pub struct Site {
    /// Where files are looked for; where one is in several folders, the first wins.
    pub folders: Vec<PathBuf>,
    /// The content policy every file is sent with, but a page that states its own.
    pub policy: &'static str,
    /// The type wasm is sent as: [`WASM`], but where a host that knows no better is tried.
    pub wasm: &'static str,
    /// Whose pages may fetch from here besides its own: the origin of another host (CORS), or nobody's.
    pub allowed: Option<&'static str>,
    /// Scripts of a test, by their paths from the top: each page gets them before all else in its head. Empty for people.
    pub watchers: &'static [&'static str],
}

/// What the threads of a server share.
#[derive(Debug)]
struct Shared {
    site: Site,
    stopped: AtomicBool,
    /// Paths that were asked for and are not there.
    missing: Mutex<Vec<String>>,
    receiver: Receiver,
}

/// A running server; it stops when this is dropped.
///
/// A thread for each connection and a connection for each request: a pool that keeps connections open can leave one of them waiting behind
/// another that has nothing more to ask, and a page that never finishes.
#[derive(Debug)]
pub struct Serving {
    shared: Arc<Shared>,
    worker: Option<std::thread::JoinHandle<()>>,
    port: u16,
}

impl Serving {
    /// Serves a site on a port, or on any free one for port 0.
    ///
    /// # Errors
    /// When the port can't be bound.
    pub fn start(site: Site, port: u16) -> io::Result<Self> {
        let listener = TcpListener::bind(("127.0.0.1", port))?;
        let port = listener.local_addr()?.port();
        let (missing, receiver) = (Mutex::new(Vec::new()), Receiver::default());
        let shared = Arc::new(Shared { site, stopped: AtomicBool::new(false), missing, receiver });
        let answering = Arc::clone(&shared);
        let worker = std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if answering.stopped.load(Ordering::Relaxed) {
                    break;
                }
                let shared = Arc::clone(&answering);
                // A reader that has gone away is no fault of ours.
                std::thread::spawn(move || drop(answer(&shared, stream)));
            }
        });
        Ok(Self { shared, worker: Some(worker), port })
    }

    /// The address of the page.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// The paths that were asked for and are not there, in the order of asking.
    #[must_use]
    pub fn missing(&self) -> Vec<String> {
        self.shared.missing.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Waits until the server is stopped from outside.
    pub fn wait(mut self) {
        if let Some(worker) = self.worker.take() {
            drop(worker.join());
        }
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        self.shared.stopped.store(true, Ordering::Relaxed);
        // A last caller, so that the wait for the next one ends.
        drop(TcpStream::connect(("127.0.0.1", self.port)));
        if let Some(worker) = self.worker.take() {
            drop(worker.join());
        }
    }
}

/// What a browser asks for.
#[derive(Debug, Default)]
struct Asked {
    posted: bool,
    path: String,
    query: String,
    /// The compressions it takes.
    accepted: String,
    content_type: String,
    body: String,
}

fn read_request(stream: &TcpStream) -> io::Result<Asked> {
    stream.set_read_timeout(Some(Duration::from_secs(30)))?;
    let mut reader = BufReader::new(stream.take(LONGEST_REQUEST));
    let mut line = String::new();
    reader.read_line(&mut line)?;
    let mut words = line.split_whitespace();
    let posted = words.next() == Some("POST");
    let address = words.next().unwrap_or("/").split('#').next().unwrap_or("/");
    let (path, query) = address.split_once('?').unwrap_or((address, ""));
    let mut asked = Asked { posted, path: path.to_owned(), query: query.to_owned(), ..Asked::default() };
    let mut length = 0;
    loop {
        let mut line = String::new();
        reader.read_line(&mut line)?;
        let line = line.trim_end();
        if line.is_empty() {
            break;
        }
        let Some((name, value)) = line.split_once(':') else { continue };
        match name.to_ascii_lowercase().as_str() {
            "accept-encoding" => value.trim().clone_into(&mut asked.accepted),
            "content-type" => value.trim().clone_into(&mut asked.content_type),
            "content-length" => length = value.trim().parse().unwrap_or(0),
            _ => {}
        }
    }
    if posted {
        reader.take(length).read_to_string(&mut asked.body)?;
    }
    Ok(asked)
}

fn answer(shared: &Shared, mut stream: TcpStream) -> io::Result<()> {
    let Shared { site: Site { folders, policy, wasm, allowed, watchers }, receiver, .. } = shared;
    let asked = read_request(&stream)?;
    if asked.path == receiver::PATH {
        return if asked.posted {
            plainly(stream, receiver.take(&asked.content_type, asked.body), "")
        } else {
            plainly(stream, 200, &receiver.tell(&asked.query))
        };
    }
    if asked.path == receiver::BOOK {
        let book = folders.iter().find_map(|folder| fs::read_to_string(folder.join("price-book.json")).ok());
        return plainly(stream, 200, &receiver::book(&book.unwrap_or_default(), &asked.query));
    }
    let (path, accepted) = (asked.path, asked.accepted);
    let file =
        inside(&path).and_then(|path| folders.iter().map(|folder| folder.join(&path)).find(|file| file.is_file()));
    let Some(file) = file else {
        shared.missing.lock().unwrap_or_else(PoisonError::into_inner).push(path);
        return stream.write_all(b"HTTP/1.1 404 Not Found\r\nContent-Length: 9\r\nConnection: close\r\n\r\nnot found");
    };
    let content_type = match content_type(&file) {
        WASM => wasm,
        known => known,
    };
    let (body, encoding) = if watchers.is_empty() || !content_type.starts_with("text/html") {
        compressed(&file, &accepted)?
    } else {
        (watched(&fs::read_to_string(&file)?, watchers).into_bytes(), None)
    };
    let encoding = encoding.map_or(String::new(), |encoding| format!("Content-Encoding: {encoding}\r\n"));
    let policy =
        if states_its_policy(&file) { String::new() } else { format!("Content-Security-Policy: {policy}\r\n") };
    let allowed = allowed.map_or(String::new(), |origin| format!("Access-Control-Allow-Origin: {origin}\r\n"));
    let head = format!(
        "HTTP/1.1 200 OK\r\nContent-Type: {content_type}\r\nContent-Length: {}\r\n{policy}{allowed}\
         X-Content-Type-Options: nosniff\r\nReferrer-Policy: no-referrer\r\nCache-Control: no-cache\r\n\
         Vary: Accept-Encoding\r\n{encoding}Connection: close\r\n\r\n",
        body.len()
    );
    stream.write_all(head.as_bytes())?;
    stream.write_all(&body)
}

/// Whether a file is a page made to be opened from disk, where no server speaks for it: it states its own policy, stricter than the
/// site's in all but its own scripts, which lie inside it.
fn states_its_policy(file: &Path) -> bool {
    file.extension().is_some_and(|extension| extension == "html")
        && fs::read_to_string(file).is_ok_and(|html| html.contains("<meta http-equiv=\"Content-Security-Policy\""))
}

/// An answer that is made here, not read from a file.
fn plainly(mut stream: TcpStream, status: u16, body: &str) -> io::Result<()> {
    let head = format!(
        "HTTP/1.1 {status} -\r\nContent-Type: application/json\r\nContent-Length: {}\r\nCache-Control: no-store\r\n\
         Connection: close\r\n\r\n",
        body.len()
    );
    stream.write_all(head.as_bytes())?;
    stream.write_all(body.as_bytes())
}

/// A page with scripts put before all else in its head; one without a head stays as it is.
fn watched(html: &str, watchers: &[&str]) -> String {
    let tags: String = watchers.iter().map(|script| format!("<script src=\"/{script}\"></script>")).collect();
    html.replacen("<head>", &format!("<head>{tags}"), 1)
}

/// The file a path names, if it stays inside the folder.
fn inside(url_path: &str) -> Option<PathBuf> {
    let relative = url_path.trim_start_matches('/');
    let relative = if relative.is_empty() { "index.html" } else { relative };
    let path = Path::new(relative);
    let plain = path.components().all(|part| matches!(part, Component::Normal(_)));
    (plain && !relative.contains('\\') && !relative.contains('%')).then(|| path.to_owned())
}

/// The smallest form of a file the reader takes, of those made beforehand.
fn compressed(file: &Path, accepted: &str) -> io::Result<(Vec<u8>, Option<&'static str>)> {
    let takes =
        |name: &str| accepted.split(',').any(|part| part.split(';').next().is_some_and(|word| word.trim() == name));
    for (name, ending) in [("br", "br"), ("gzip", "gz")] {
        let mut beside = file.as_os_str().to_owned();
        beside.push(".");
        beside.push(ending);
        if takes(name) && Path::new(&beside).is_file() {
            return Ok((fs::read(beside)?, Some(name)));
        }
    }
    Ok((fs::read(file)?, None))
}

fn content_type(file: &Path) -> &'static str {
    match file.extension().and_then(|ending| ending.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("csv") => "text/csv; charset=utf-8",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("wasm") => WASM,
        Some("txt") => "text/plain; charset=utf-8",
        _ => UNKNOWN,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_stay_inside_the_folder() {
        assert_eq!(inside("/"), Some("index.html".into()));
        assert_eq!(inside("/a/b.js"), Some("a/b.js".into()));
        for path in ["/../secret", "/a/../../secret", "//etc/passwd/..", "/%2e%2e/secret", "/a\\..\\b"] {
            assert_eq!(inside(path), None, "{path}");
        }
    }

    #[test]
    fn a_page_under_test_is_watched_before_its_own_scripts_and_no_other_page_is() {
        let page = "<!doctype html><html><head><script src=\"own.js\"></script></head></html>";
        let seen = watched(page, &["watch.js"]);
        assert!(seen.contains("<head><script src=\"/watch.js\"></script><script src=\"own.js\">"), "{seen}");
        assert_eq!(watched(page, &[]), page);
    }
}
