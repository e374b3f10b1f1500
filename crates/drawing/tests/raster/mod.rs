//! Pages and drawings as dots, by programs of others.

use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use kurbo::Rect;

/// A PDF file on the disk, for poppler's tools.
pub(crate) struct Printed {
    path: PathBuf,
}

impl Drop for Printed {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.path);
    }
}

/// What a tool says; a word of complaint from it is a failure.
fn poppler(tool: &str, arguments: &[String]) -> Vec<u8> {
    let output = Command::new(tool).args(arguments).output().unwrap_or_else(|error| {
        panic!(
            "{tool}: {error}\ninstall it with\n  apt-get update && apt-get install -y --no-install-recommends poppler-utils"
        )
    });
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.success() && complaint.is_empty(),
        "{tool}: {complaint}"
    );
    output.stdout
}

impl Printed {
    pub(crate) fn new(pdf: &[u8]) -> Self {
        static NUMBER: AtomicUsize = AtomicUsize::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("battenwright-{}-{number}.pdf", std::process::id());
        let path = std::env::temp_dir().join(name);
        std::fs::write(&path, pdf).unwrap();
        Self { path }
    }

    fn path(&self) -> String {
        self.path.display().to_string()
    }

    /// Width and height of every page [mm].
    pub(crate) fn sizes(&self) -> Vec<(f64, f64)> {
        let all = ["-f", "1", "-l", "99999"].map(String::from);
        let said = poppler("pdfinfo", &[&all[..], &[self.path()]].concat());
        let said = String::from_utf8(said).unwrap();
        said.lines()
            .filter(|line| line.starts_with("Page ") && line.contains(" size: "))
            .map(|line| {
                let sizes: Vec<f64> = line
                    .split_whitespace()
                    .filter_map(|word| word.parse().ok())
                    .collect();
                // The first number is the page's.
                (sizes[1] * 25.4 / 72.0, sizes[2] * 25.4 / 72.0)
            })
            .collect()
    }

    pub(crate) fn title(&self) -> String {
        let said = String::from_utf8(poppler("pdfinfo", &[self.path()])).unwrap();
        let line = said
            .lines()
            .find(|line| line.starts_with("Title:"))
            .unwrap();
        line["Title:".len()..].trim().to_string()
    }

    /// A page, numbered from 1, in colour.
    pub(crate) fn dots(&self, page: usize, dpi: f64) -> Dots {
        let page = page.to_string();
        let mut arguments = ["-f", &page, "-l", &page, "-r"].map(String::from).to_vec();
        arguments.extend([dpi.to_string(), self.path()]);
        let bytes = poppler("pdftoppm", &arguments);
        let mut start = 0;
        let mut head = Vec::new();
        while head.len() < 4 {
            let end = start
                + bytes[start..]
                    .iter()
                    .position(u8::is_ascii_whitespace)
                    .unwrap();
            head.push(String::from_utf8(bytes[start..end].to_vec()).unwrap());
            start = end + 1;
        }
        assert_eq!((head[0].as_str(), head[3].as_str()), ("P6", "255"));
        Dots {
            width: head[1].parse().unwrap(),
            height: head[2].parse().unwrap(),
            dpi,
            colours: bytes[start..].as_chunks::<3>().0.to_vec(),
        }
    }

    pub(crate) fn text(&self, page: usize) -> String {
        let page = page.to_string();
        let mut arguments = ["-f", &page, "-l", &page, "-layout"]
            .map(String::from)
            .to_vec();
        arguments.extend([self.path(), "-".into()]);
        String::from_utf8(poppler("pdftotext", &arguments)).unwrap()
    }

    /// Column and row that a page of a piece is named after; none where it is not one of it.
    pub(crate) fn tile_name(&self, page: usize, piece: &str) -> Option<(usize, usize)> {
        let text = self.text(page);
        let name = text.lines().find_map(|line| {
            let rest = line.trim().strip_prefix(piece)?.strip_prefix(", ")?;
            rest.split_whitespace().next()
        })?;
        let letters: Vec<u8> = name.bytes().take_while(u8::is_ascii_uppercase).collect();
        let row: usize = name[letters.len()..].parse().ok()?;
        let column = letters
            .iter()
            .fold(0, |n, letter| 26 * n + usize::from(letter - b'A') + 1);
        (column > 0).then(|| (column - 1, row - 1))
    }

    /// From, to [mm] and word, in the order they were written.
    pub(crate) fn word_boxes(&self, page: usize) -> Vec<(f64, f64, String)> {
        let page = page.to_string();
        let mut arguments = ["-f", &page, "-l", &page, "-bbox"]
            .map(String::from)
            .to_vec();
        arguments.extend([self.path(), "-".into()]);
        let said = String::from_utf8(poppler("pdftotext", &arguments)).unwrap();
        let of = |line: &str, name: &str| -> f64 {
            let rest = line.split(name).nth(1).unwrap();
            rest.split('"').nth(1).unwrap().parse::<f64>().unwrap() * 25.4 / 72.0
        };
        said.lines()
            .filter(|line| line.contains("<word "))
            .map(|line| {
                let word = line.split('>').nth(1).unwrap().trim_end_matches("</word");
                (of(line, "xMin"), of(line, "xMax"), word.to_string())
            })
            .collect()
    }
}

/// A picture.
pub(crate) struct Dots {
    pub(crate) width: usize,
    pub(crate) height: usize,
    dpi: f64,
    colours: Vec<[u8; 3]>,
}

/// An SVG file at its own size, on white.
pub(crate) fn svg_dots(text: &str, dpi: f64) -> Dots {
    svg_dots_at(text, dpi / 96.0)
}

/// The same magnified.
pub(crate) fn svg_dots_at(text: &str, magnified: f64) -> Dots {
    let tree = resvg::usvg::Tree::from_str(text, &resvg::usvg::Options::default()).unwrap();
    let size = tree.size();
    let [width, height] =
        [size.width(), size.height()].map(|m| (f64::from(m) * magnified).ceil() as u32);
    let mut pixels = resvg::tiny_skia::Pixmap::new(width, height).unwrap();
    pixels.fill(resvg::tiny_skia::Color::WHITE);
    let transform = resvg::tiny_skia::Transform::from_scale(magnified as f32, magnified as f32);
    resvg::render(&tree, transform, &mut pixels.as_mut());
    Dots {
        width: width as usize,
        height: height as usize,
        dpi: 96.0 * magnified,
        colours: pixels
            .pixels()
            .iter()
            .map(|p| [p.red(), p.green(), p.blue()])
            .collect(),
    }
}

impl Dots {
    /// Side of a dot [m].
    pub(crate) fn side(&self) -> f64 {
        0.0254 / self.dpi
    }

    /// Dots for so many millimetres.
    fn of(&self, mm: f64) -> f64 {
        mm * self.dpi / 25.4
    }

    /// Ink of the pattern: what belongs to the paper is red or pale.
    fn dark(&self, x: usize, y: usize) -> bool {
        self.colours[y * self.width + x][0] < 128
    }

    /// Dots that cannot be reached from the corner without crossing a line, which is dark in one of the three colours: in red (0) on
    /// paper, whose own lines are red, in green (1) in a cutter's file.
    pub(crate) fn enclosed(&self, colour: usize) -> usize {
        let line: Vec<bool> = self.colours.iter().map(|c| c[colour] < 128).collect();
        let (w, h) = (self.width, self.height);
        let mut seen = vec![false; w * h];
        let mut reached = 0;
        let mut waiting = vec![(0, 0)];
        while let Some((x, y)) = waiting.pop() {
            if seen[y * w + x] || line[y * w + x] {
                continue;
            }
            let (mut from, mut to) = (x, x);
            while from > 0 && !line[y * w + from - 1] {
                from -= 1;
            }
            while to + 1 < w && !line[y * w + to + 1] {
                to += 1;
            }
            for x in from..=to {
                seen[y * w + x] = true;
                reached += 1;
                for next in [y.checked_sub(1), Some(y + 1)].into_iter().flatten() {
                    // Where a run begins; the rest of it follows.
                    if next < h
                        && !seen[next * w + x]
                        && !line[next * w + x]
                        && (x == from || line[next * w + x - 1] || seen[next * w + x - 1])
                    {
                        waiting.push((x, next));
                    }
                }
            }
        }
        w * h - reached
    }

    /// Dark dots of a window of a page against one larger page on which its corner lies elsewhere: dark on both, and dark on one
    /// alone with no ink within two dots on the other: thin letters are dark or grey as they fall on the dots. Millimetres.
    pub(crate) fn compare(
        &self,
        other: &Self,
        window: Rect,
        corner: (f64, f64),
        edge: f64,
    ) -> (usize, usize) {
        let (mut matched, mut missed) = (0, 0);
        // A dot in from the window's edge, where half a dot is cut off.
        let steps =
            |from: f64, to: f64| (self.of(from + edge) as i64 + 2)..(self.of(to + edge) as i64 - 1);
        let [dx, dy] = [corner.0, corner.1].map(|mm| self.of(mm).round() as i64);
        let near = |dots: &Self, x: i64, y: i64| {
            (-2..=2).any(|i| (-2..=2).any(|j| dots.inked_at(x + i, y + j, 200)))
        };
        for y in steps(window.y0, window.y1) {
            for x in steps(window.x0, window.x1) {
                let here = self.inked_at(x, y, 128);
                let there = other.inked_at(x + dx, y + dy, 128);
                if here && near(other, x + dx, y + dy) || there && near(self, x, y) {
                    matched += 1;
                } else if here || there {
                    missed += 1;
                }
            }
        }
        (matched, missed)
    }

    fn inked_at(&self, x: i64, y: i64, least: u8) -> bool {
        let inside = x >= 0 && y >= 0 && (x as usize) < self.width && (y as usize) < self.height;
        inside && self.colours[y as usize * self.width + x as usize][0] < least
    }

    /// Dark dots of the drawing that lie in none of the boxes. Millimetres.
    pub(crate) fn dark_outside(&self, boxes: &[Rect], edge: f64) -> usize {
        let mut count = 0;
        // The caption is no part of the drawing.
        let below = self.of(16.0) as usize;
        for y in 0..self.height.saturating_sub(below) {
            for x in 0..self.width {
                if self.dark(x, y) {
                    let mm = |n: usize| (n as f64 + 0.5) * 25.4 / self.dpi - edge;
                    let at = kurbo::Point::new(mm(x), mm(y));
                    let on = boxes.iter().any(|b| b.inflate(0.3, 0.3).contains(at));
                    count += usize::from(!on);
                }
            }
        }
        count
    }

    /// Dark dots in a box [mm].
    pub(crate) fn dark_in(&self, box_: Rect) -> usize {
        let [x0, y0, x1, y1] = [box_.x0, box_.y0, box_.x1, box_.y1].map(|mm| self.of(mm) as usize);
        (y0..y1.min(self.height))
            .map(|y| {
                (x0..x1.min(self.width))
                    .filter(|x| self.dark(*x, y))
                    .count()
            })
            .sum()
    }

    /// Width and height of a square of about this side, measured between the middles of its lines [mm].
    pub(crate) fn square(&self, side: f64) -> [f64; 2] {
        let least = self.of(0.9 * side) as usize;
        let most = self.of(1.1 * side) as usize;
        let measured = |across: bool| {
            let (lines, along) = if across {
                (self.height, self.width)
            } else {
                (self.width, self.height)
            };
            let mut rows = Vec::new();
            for line in 0..lines {
                let (mut run, mut longest) = (0, 0);
                for place in 0..along {
                    let dark = if across {
                        self.dark(place, line)
                    } else {
                        self.dark(line, place)
                    };
                    run = if dark { run + 1 } else { 0 };
                    longest = longest.max(run);
                }
                if (least..most).contains(&longest) {
                    rows.push(line);
                }
            }
            let (first, last) = (rows[0], rows[rows.len() - 1]);
            // Lines are a few dots thick: middle to middle is edge to edge less one line.
            let thick = rows.iter().take_while(|row| **row < first + 20).count();
            (last - first + 1 - thick) as f64 * 25.4 / self.dpi
        };
        [measured(false), measured(true)]
    }

    /// Mean difference of all parts of all colours, of 255.
    pub(crate) fn difference(&self, other: &Self) -> f64 {
        let (w, h) = (self.width.min(other.width), self.height.min(other.height));
        assert!(self.width.abs_diff(other.width) < 3 && self.height.abs_diff(other.height) < 3);
        let mut sum = 0;
        for y in 0..h {
            for x in 0..w {
                let (a, b) = (
                    self.colours[y * self.width + x],
                    other.colours[y * other.width + x],
                );
                sum += (0..3).map(|i| u64::from(a[i].abs_diff(b[i]))).sum::<u64>();
            }
        }
        sum as f64 / (3 * w * h) as f64
    }
}
