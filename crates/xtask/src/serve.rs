//! A server on loopback for the finished site. It is for development: any static host will do.
//!
//! A thread for each connection, since a browser holds six open and expects an answer on each.

use std::collections::HashMap;
use std::io::{BufRead, BufReader, ErrorKind, Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, SystemTime};

use anyhow::{Context, Result, bail};

/// Where the search for a free port begins when none is named.
const FIRST_PORT: u16 = 4173;
const PORTS_TRIED: u16 = 100;
/// More than any browser sends before the empty line [bytes].
const LONGEST_HEAD: u64 = 64 * 1024;
/// A connection that says nothing for so long is let go.
const PATIENCE: Duration = Duration::from_secs(120);

/// A server that is running until the program ends.
pub(crate) struct Site {
    /// `http://127.0.0.1:PORT/`
    pub(crate) address: String,
    listener: std::thread::JoinHandle<()>,
}

impl Site {
    /// Waits for as long as the server runs.
    pub(crate) fn wait(self) {
        // The listener ends only by a panic, which has been printed by then.
        let _ = self.listener.join();
    }
}

/// Starts serving a folder on 127.0.0.1; port 0 takes any free one, `None` the first free from 4173.
///
/// # Errors
/// When there is no such folder, or the port named is taken.
pub(crate) fn start(folder: &Path, port: Option<u16>) -> Result<Site> {
    let Ok(folder) = folder.canonicalize() else {
        bail!("there is no {} yet: cargo xtask build", folder.display());
    };
    let listener = open(port)?;
    let address = format!("http://{}/", listener.local_addr()?);
    let host = Arc::new(Host {
        folder,
        squeezed: Mutex::default(),
    });
    let listener = std::thread::spawn(move || {
        for stream in listener.incoming().filter_map(std::io::Result::ok) {
            let host = host.clone();
            std::thread::spawn(move || {
                // A visitor who goes away half way is no fault of the server's.
                let _ = host.converse(&stream);
            });
        }
    });
    Ok(Site { address, listener })
}

fn open(port: Option<u16>) -> Result<TcpListener> {
    let listen = |port| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    if let Some(port) = port {
        return listen(port).with_context(|| format!("port {port}"));
    }
    for port in FIRST_PORT..FIRST_PORT + PORTS_TRIED {
        match listen(port) {
            Ok(listener) => return Ok(listener),
            Err(problem) if problem.kind() == ErrorKind::AddrInUse => {}
            Err(problem) => return Err(problem).with_context(|| format!("port {port}")),
        }
    }
    bail!("no free port from {FIRST_PORT} on; name one: cargo xtask serve PORT")
}

/// A folder on offer.
struct Host {
    folder: PathBuf,
    /// What has been compressed, by name and time of writing: the wasm takes its time.
    squeezed: Mutex<HashMap<(PathBuf, SystemTime), Vec<u8>>>,
}

/// As much of a request as matters here.
#[derive(Debug, Default, PartialEq)]
struct Request {
    method: String,
    url: String,
    takes_gzip: bool,
    last: bool,
}

/// An answer without its head.
struct Answer {
    status: &'static str,
    headers: Vec<(&'static str, &'static str)>,
    body: Vec<u8>,
}

impl Host {
    /// Answers the requests of one connection until the other side has no more.
    fn converse(&self, stream: &TcpStream) -> std::io::Result<()> {
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_nodelay(true)?;
        let mut reader = BufReader::new(stream);
        while let Some(request) = Request::read(&mut reader)? {
            let answer = self.answer(&request)?;
            let mut bytes = format!("HTTP/1.1 {}\r\n", answer.status).into_bytes();
            for (name, value) in &answer.headers {
                write!(bytes, "{name}: {value}\r\n")?;
            }
            write!(bytes, "Content-Length: {}\r\n\r\n", answer.body.len())?;
            if request.method != "HEAD" {
                bytes.extend(&answer.body);
            }
            (&mut &*stream).write_all(&bytes)?;
            // What follows a request of another kind may be its body.
            if request.last || !request.reads() {
                break;
            }
        }
        Ok(())
    }

    fn answer(&self, request: &Request) -> std::io::Result<Answer> {
        let words = |status, text: &str| Answer {
            status,
            headers: vec![("Content-Type", "text/plain; charset=utf-8")],
            body: text.into(),
        };
        if !request.reads() {
            return Ok(words("405 Method Not Allowed", "GET or HEAD only\n"));
        }
        let found = file_for(&self.folder, &request.url);
        let read = found.and_then(|path| std::fs::read(&path).ok().map(|bytes| (path, bytes)));
        let Some((path, mut body)) = read else {
            return Ok(words("404 Not Found", "not found\n"));
        };
        let media = media_type(&path);
        let mut headers = vec![("Content-Type", media), ("Cache-Control", "no-cache")];
        // As real hosts do, or a slow visit measured here would be far from one.
        if shrinks(media) && request.takes_gzip {
            headers.extend([("Content-Encoding", "gzip"), ("Vary", "Accept-Encoding")]);
            body = self.squeeze(path, &body)?;
        }
        Ok(Answer {
            status: "200 OK",
            headers,
            body,
        })
    }

    fn squeeze(&self, path: PathBuf, bytes: &[u8]) -> std::io::Result<Vec<u8>> {
        let written = path.metadata()?.modified()?;
        // Whoever panicked while holding it left whole entries: they go in at once.
        let lock = || {
            self.squeezed
                .lock()
                .unwrap_or_else(std::sync::PoisonError::into_inner)
        };
        let key = (path, written);
        if let Some(known) = lock().get(&key) {
            return Ok(known.clone());
        }
        let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
        gzip.write_all(bytes)?;
        let small = gzip.finish()?;
        lock().insert(key, small.clone());
        Ok(small)
    }
}

impl Request {
    /// Reads to the empty line; `None` when the other side has closed or speaks no HTTP.
    fn read(from: &mut impl BufRead) -> std::io::Result<Option<Self>> {
        let mut head = from.take(LONGEST_HEAD);
        let mut line = String::new();
        head.read_line(&mut line)?;
        let mut words = line.split_whitespace().map(str::to_owned);
        let (Some(method), Some(url), Some(version)) = (words.next(), words.next(), words.next())
        else {
            return Ok(None);
        };
        let mut request = Self {
            method,
            url,
            takes_gzip: false,
            last: version != "HTTP/1.1",
        };
        loop {
            line.clear();
            if head.read_line(&mut line)? == 0 {
                return Ok(None);
            }
            let Some((name, value)) = line.trim_end().split_once(':') else {
                return Ok(line.trim_end().is_empty().then_some(request));
            };
            let mut words = value.split([',', ';', ' ']);
            match name.to_ascii_lowercase().as_str() {
                "accept-encoding" => request.takes_gzip = words.any(|word| word == "gzip"),
                "connection" => {
                    request.last |= words.any(|word| word.eq_ignore_ascii_case("close"))
                }
                _ => {}
            }
        }
    }

    fn reads(&self) -> bool {
        self.method == "GET" || self.method == "HEAD"
    }
}

/// Pictures and fonts are compressed already.
fn shrinks(media: &str) -> bool {
    let kinds = [
        "text/",
        "application/wasm",
        "application/json",
        "application/manifest",
        "image/svg",
    ];
    kinds.iter().any(|kind| media.starts_with(kind))
}

/// The file an address stands for, if it lies in the folder; a folder's address stands for its index.html.
fn file_for(dist: &Path, url: &str) -> Option<PathBuf> {
    let path = url.split(['?', '#']).next()?;
    let path = unescaped(path)?;
    let mut file = dist.to_path_buf();
    for part in path.split('/').filter(|part| !part.is_empty()) {
        // On some systems a part can hold a separator or a drive of its own.
        if part.contains(['\\', ':', '\0']) {
            return None;
        }
        file.push(part);
    }
    // Canonical, so that neither `..` nor a link leads out.
    let mut file = file.canonicalize().ok()?;
    if file.is_dir() && path.ends_with('/') {
        file = file.join("index.html").canonicalize().ok()?;
    }
    (file.starts_with(dist) && file.is_file()).then_some(file)
}

/// `%41` -> `A`.
fn unescaped(text: &str) -> Option<String> {
    let mut parts = text.split('%');
    let mut bytes = parts.next()?.as_bytes().to_vec();
    for part in parts {
        let (digits, rest) = part.split_at_checked(2)?;
        bytes.push(u8::from_str_radix(digits, 16).ok()?);
        bytes.extend_from_slice(rest.as_bytes());
    }
    String::from_utf8(bytes).ok()
}

fn media_type(path: &Path) -> &'static str {
    match path.extension().and_then(|end| end.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        Some("woff2") => "font/woff2",
        Some("ttf") => "font/ttf",
        Some("txt" | "md" | "ts") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A site in a folder of its own, a secret beside it.
    fn site(name: &str) -> (PathBuf, PathBuf) {
        let folder = crate::workspace::scratch(name);
        let dist = folder.join("dist");
        std::fs::create_dir_all(dist.join("pkg")).unwrap();
        std::fs::write(dist.join("index.html"), "page").unwrap();
        std::fs::write(dist.join("pkg/site.bin"), "packed").unwrap();
        std::fs::write(folder.join("secret.txt"), "secret").unwrap();
        let dist = dist.canonicalize().unwrap();
        (folder, dist)
    }

    #[test]
    fn addresses_find_their_files() {
        let (_, dist) = site("addresses");
        for url in [
            "/",
            "/index.html",
            "/?project=1",
            "/pkg/../index.html",
            "/%69ndex.html",
        ] {
            assert_eq!(file_for(&dist, url), Some(dist.join("index.html")), "{url}");
        }
        assert_eq!(
            file_for(&dist, "/pkg/site.bin"),
            Some(dist.join("pkg/site.bin"))
        );
        for url in [
            "/missing.js",
            "/pkg/",
            "/pkg",
            "/index.html%",
            "/index.html%zz",
            "/%ff",
        ] {
            assert_eq!(file_for(&dist, url), None, "{url}");
        }
    }

    #[test]
    fn no_address_leads_out_of_the_folder() {
        let (folder, dist) = site("no-way-out");
        assert!(dist.join("../secret.txt").exists());
        for url in [
            "/../secret.txt",
            "/%2e%2e/secret.txt",
            "/pkg/../../secret.txt",
            "/..%2fsecret.txt",
            "//etc/passwd",
            "/..\\secret.txt",
        ] {
            assert_eq!(file_for(&dist, url), None, "{url}");
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(folder.join("secret.txt"), dist.join("link.txt")).unwrap();
            assert_eq!(file_for(&dist, "/link.txt"), None);
        }
    }

    #[test]
    fn wasm_and_modules_have_the_types_browsers_insist_on() {
        assert_eq!(media_type(Path::new("site_bg.wasm")), "application/wasm");
        assert!(media_type(Path::new("main.js")).starts_with("text/javascript"));
    }

    #[test]
    fn answer_is_the_file_compressed_for_whoever_asks_for_it() {
        let (_, dist) = site("answers");
        let long = "reef ".repeat(1000);
        std::fs::write(dist.join("index.html"), &long).unwrap();
        let served = start(&dist, Some(0)).unwrap();
        let authority = served
            .address
            .trim_start_matches("http://")
            .trim_end_matches('/');
        let ask = |line: &str, more: &str| {
            let mut stream = TcpStream::connect(authority).unwrap();
            write!(
                stream,
                "{line} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n{more}\r\n"
            )
            .unwrap();
            let mut answer = Vec::new();
            stream.read_to_end(&mut answer).unwrap();
            answer
        };
        let text = |line: &str| String::from_utf8(ask(line, "")).unwrap();
        let plain = text("GET /");
        assert!(plain.starts_with("HTTP/1.1 200") && plain.ends_with(&long));
        assert!(plain.contains("Cache-Control: no-cache"));
        let squeezed = ask("GET /", "Accept-Encoding: br, gzip;q=0.5\r\n");
        let head = String::from_utf8_lossy(&squeezed);
        assert!(
            head.contains("Content-Encoding: gzip") && squeezed.len() < 1000,
            "{head}"
        );
        assert!(text("GET /missing.js").starts_with("HTTP/1.1 404"));
        assert!(text("POST /").starts_with("HTTP/1.1 405"));
    }

    #[test]
    fn many_connections_held_open_are_all_answered() {
        let (_, dist) = site("many-connections");
        let served = start(&dist, Some(0)).unwrap();
        let authority = served
            .address
            .trim_start_matches("http://")
            .trim_end_matches('/');
        let mut held: Vec<_> = (0..20)
            .map(|_| TcpStream::connect(authority).unwrap())
            .collect();
        for _ in 0..2 {
            for stream in &mut held {
                stream
                    .set_read_timeout(Some(Duration::from_secs(20)))
                    .unwrap();
                write!(stream, "HEAD / HTTP/1.1\r\nHost: x\r\n\r\n").unwrap();
            }
            for stream in &mut held {
                let mut answer = [0; 500];
                let length = stream.read(&mut answer).unwrap();
                let answer = String::from_utf8_lossy(&answer[..length]);
                assert!(
                    answer.starts_with("HTTP/1.1 200") && answer.ends_with("\r\n\r\n"),
                    "{answer}"
                );
            }
        }
    }

    #[test]
    fn what_is_no_request_ends_the_conversation() {
        let read = |text: &str| Request::read(&mut text.as_bytes()).unwrap();
        assert_eq!(read(""), None);
        assert_eq!(read("GET /\r\n\r\n"), None);
        assert_eq!(read("GET / HTTP/1.1\r\nHost: x\r\n"), None);
        assert!(read("GET / HTTP/1.1\r\nHost: x\r\n\r\n").is_some_and(|request| !request.last));
        assert!(read("GET / HTTP/1.0\r\n\r\n").is_some_and(|request| request.last));
    }

    #[test]
    fn taken_port_is_an_error_when_named_and_passed_over_when_not() {
        let first = open(Some(0)).unwrap();
        assert!(open(Some(first.local_addr().unwrap().port())).is_err());
        let (one, two) = (open(None).unwrap(), open(None).unwrap());
        assert_ne!(one.local_addr().unwrap(), two.local_addr().unwrap());
    }
}
