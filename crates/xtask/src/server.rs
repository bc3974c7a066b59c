//! A server for one folder, on this machine only: right types, compression made beforehand, the recommended policy.

use std::fs::File;
use std::io::{self, Cursor};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use tiny_http::{Header, Request, Response, Server, StatusCode};

/// The policy the project recommends to every host, and that the demo page and all browser tests run under.
pub const STRICT_POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; \
     img-src 'self' data:; font-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'self'; \
     require-trusted-types-for 'script'; trusted-types 'none'";

/// A policy under which no wasm may run: for showing that the page's own words stay.
pub const NO_WASM_POLICY: &str =
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:";

/// A running server; it stops when this is dropped.
pub struct Serving {
    server: Arc<Server>,
    worker: Option<std::thread::JoinHandle<()>>,
    port: u16,
}

impl std::fmt::Debug for Serving {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Serving").field("port", &self.port).finish_non_exhaustive()
    }
}

impl Serving {
    /// Serves folders on a port, or on any free one for port 0; where a file is in several, the first wins.
    ///
    /// # Errors
    /// When the port can't be bound.
    pub fn start(folders: Vec<PathBuf>, port: u16, policy: &'static str) -> io::Result<Self> {
        let server = Arc::new(Server::http(("127.0.0.1", port)).map_err(io::Error::other)?);
        let port = server.server_addr().to_ip().map_or(port, |address| address.port());
        let listener = Arc::clone(&server);
        let worker = std::thread::spawn(move || {
            for request in listener.incoming_requests() {
                // A reader that has gone away is no fault of ours.
                drop(answer(&folders, policy, request));
            }
        });
        Ok(Self { server, worker: Some(worker), port })
    }

    /// The address of the page.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
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
        self.server.unblock();
        if let Some(worker) = self.worker.take() {
            drop(worker.join());
        }
    }
}

fn answer(folders: &[PathBuf], policy: &'static str, request: Request) -> io::Result<()> {
    let path = request.url().split(['?', '#']).next().unwrap_or("/").to_owned();
    let Some(file) =
        inside(&path).and_then(|path| folders.iter().map(|folder| folder.join(&path)).find(|file| file.is_file()))
    else {
        return request.respond(Response::new(
            StatusCode(404),
            Vec::new(),
            Cursor::new(b"not found".as_slice()),
            Some(9),
            None,
        ));
    };
    let (body, encoding) = compressed(&file, &accepted(&request))?;
    let mut response = Response::from_file(body);
    let kind = content_type(&file);
    let headers = [
        ("Content-Type", kind),
        ("Content-Security-Policy", policy),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "no-referrer"),
        ("Cache-Control", "no-cache"),
        ("Vary", "Accept-Encoding"),
    ];
    for (name, value) in headers.into_iter().chain(encoding.map(|encoding| ("Content-Encoding", encoding))) {
        if let Ok(header) = Header::from_bytes(name, value) {
            response.add_header(header);
        }
    }
    request.respond(response)
}

/// The file a path names, if it stays inside the folder.
fn inside(url_path: &str) -> Option<PathBuf> {
    let relative = url_path.trim_start_matches('/');
    let relative = if relative.is_empty() { "index.html" } else { relative };
    let path = Path::new(relative);
    let plain = path.components().all(|part| matches!(part, Component::Normal(_)));
    (plain && !relative.contains('\\') && !relative.contains('%')).then(|| path.to_owned())
}

fn accepted(request: &Request) -> String {
    let header = request.headers().iter().find(|header| header.field.equiv("Accept-Encoding"));
    header.map(|header| header.value.to_string()).unwrap_or_default()
}

/// The smallest form of a file the reader takes, of those made beforehand.
fn compressed(file: &Path, accepted: &str) -> io::Result<(File, Option<&'static str>)> {
    let takes =
        |name: &str| accepted.split(',').any(|part| part.split(';').next().is_some_and(|word| word.trim() == name));
    for (name, ending) in [("br", "br"), ("gzip", "gz")] {
        let mut beside = file.as_os_str().to_owned();
        beside.push(".");
        beside.push(ending);
        if takes(name) && Path::new(&beside).is_file() {
            return Ok((File::open(beside)?, Some(name)));
        }
    }
    Ok((File::open(file)?, None))
}

fn content_type(file: &Path) -> &'static str {
    match file.extension().and_then(|ending| ending.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("json") => "application/json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("wasm") => "application/wasm",
        Some("txt") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
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
}
