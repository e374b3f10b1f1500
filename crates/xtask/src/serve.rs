//! A server on loopback for the finished site. It is for development: any static host will do.

use std::fs::File;
use std::io::ErrorKind;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Result, anyhow, bail};
use tiny_http::{Header, Method, Request, Response, Server};

use crate::workspace;

/// Where the search for a free port begins when none is named.
const FIRST_PORT: u16 = 4173;
const PORTS_TRIED: u16 = 100;
/// A browser opens several connections, and a slow one must not hold up the others.
const THREADS: usize = 4;

/// A server that is running until the program ends.
pub(crate) struct Site {
    /// `http://127.0.0.1:PORT/`
    pub(crate) address: String,
    threads: Vec<std::thread::JoinHandle<()>>,
}

impl Site {
    /// Waits for as long as the server runs.
    pub(crate) fn wait(self) {
        for thread in self.threads {
            // A thread ends only by a panic, which has been printed by then.
            let _ = thread.join();
        }
    }
}

/// Starts serving dist/ on 127.0.0.1; port 0 takes any free one, `None` the first free from 4173.
///
/// # Errors
/// When there is no dist/, or the port named is taken.
pub(crate) fn start(port: Option<u16>) -> Result<Site> {
    let Ok(dist) = workspace::dist().canonicalize() else {
        bail!("there is no dist/ yet: cargo xtask build");
    };
    let server = Arc::new(open(port)?);
    let Some(address) = server.server_addr().to_ip() else {
        bail!("the server has no address");
    };
    let threads = (0..THREADS)
        .map(|_| {
            let (server, dist) = (server.clone(), dist.clone());
            std::thread::spawn(move || {
                for request in server.incoming_requests() {
                    // A visitor who goes away half way is no fault of the server's.
                    let _ = answer(request, &dist);
                }
            })
        })
        .collect();
    Ok(Site {
        address: format!("http://{address}/"),
        threads,
    })
}

fn open(port: Option<u16>) -> Result<Server> {
    let ports = match port {
        Some(port) => port..=port,
        None => FIRST_PORT..=FIRST_PORT + PORTS_TRIED,
    };
    let mut last = anyhow!("no port tried");
    for port in ports {
        match Server::http(SocketAddr::from((Ipv4Addr::LOCALHOST, port))) {
            Ok(server) => return Ok(server),
            Err(problem) => {
                let taken = problem
                    .downcast_ref::<std::io::Error>()
                    .is_some_and(|problem| problem.kind() == ErrorKind::AddrInUse);
                last = anyhow!("port {port}: {problem}");
                if !taken {
                    break;
                }
            }
        }
    }
    Err(last)
}

fn answer(request: Request, dist: &Path) -> std::io::Result<()> {
    if !matches!(request.method(), Method::Get | Method::Head) {
        return request.respond(Response::from_string("GET or HEAD only\n").with_status_code(405));
    }
    let opened =
        file_for(dist, request.url()).and_then(|path| Some((File::open(&path).ok()?, path)));
    let Some((file, path)) = opened else {
        return request.respond(Response::from_string("not found\n").with_status_code(404));
    };
    let mut response = Response::from_file(file);
    for (name, value) in [
        ("Content-Type", media_type(&path)),
        ("Cache-Control", "no-cache"),
    ] {
        if let Ok(header) = Header::from_bytes(name, value) {
            response.add_header(header);
        }
    }
    request.respond(response)
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
        let folder = workspace::scratch(name);
        let dist = folder.join("dist");
        std::fs::create_dir_all(dist.join("pkg")).unwrap();
        std::fs::write(dist.join("index.html"), "page").unwrap();
        std::fs::write(dist.join("pkg/site_bg.wasm"), "wasm").unwrap();
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
            file_for(&dist, "/pkg/site_bg.wasm"),
            Some(dist.join("pkg/site_bg.wasm"))
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
    fn taken_port_is_an_error_when_named_and_passed_over_when_not() {
        let first = open(Some(0)).unwrap();
        let taken = first.server_addr().to_ip().unwrap().port();
        assert!(open(Some(taken)).is_err());
        let (one, two) = (open(None).unwrap(), open(None).unwrap());
        assert_ne!(one.server_addr().to_ip(), two.server_addr().to_ip());
    }
}
