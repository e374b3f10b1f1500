//! The site: plain files in dist/, made from the wasm crate and from www/.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use wasm_bindgen_cli_support::Bindgen;

use crate::route::{Route, TARGET};
use crate::{join, minify, order, pack, precache, rows, spell, texts, workspace};

/// Contents by relative name, folders parted by `/`.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// The wasm as it is served. Any host knows the ending.
pub(crate) const PACKED: &str = "pkg/site.bin";

/// The catalogue whose keys and order the others follow.
const ENGLISH: &str = "texts/en.json";

/// The wasm as the generator names it.
const WASM: &str = "site_bg.wasm";

/// Where the wasm of the last build lies as it was before packing.
pub(crate) fn unpacked() -> PathBuf {
    workspace::target().join(WASM)
}

/// Builds dist/ and hands back what is in it.
pub(crate) fn build() -> Result<Files> {
    let route = Route::find()?;
    let files = make(&route)?;
    let dist = workspace::dist();
    write(&dist, &files)?;
    println!(
        "built {} ({} files, {} route)",
        dist.display(),
        files.len(),
        route.name()
    );
    Ok(files)
}

/// Builds the site's module with the doors that are only for measuring, and a bare page around it;
/// hands back their folder.
pub(crate) fn build_for_measuring() -> Result<PathBuf> {
    let wasm = compile(&Route::find()?, &["--features", "speed"])?;
    let mut files = Files::from([(
        "index.html".to_owned(),
        b"<!doctype html><title>speed</title>".to_vec(),
    )]);
    for (name, bytes) in bind(&wasm)? {
        files.insert(format!("pkg/{name}"), bytes);
    }
    let folder = workspace::target().join("speed-site");
    write(&folder, &files)?;
    Ok(folder)
}

fn make(route: &Route) -> Result<Files> {
    let wasm = compile(route, &[])?;
    let mut files = read(&workspace::root().join("www"))?;
    for name in files.keys() {
        // An address is the name, unescaped; and what we make must not lie over what is written by hand.
        let plain = |c: char| c.is_ascii_alphanumeric() || "-_./".contains(c);
        if !name.chars().all(plain) {
            bail!("www/{name}: letters, digits, -, _ and . only");
        }
        if name.starts_with("pkg/")
            || name.starts_with("types/")
            || name == "precache.js"
            || name == "design.schema.json"
        {
            bail!("www/{name}: the build makes a file of this name");
        }
    }
    for (name, bytes) in bind(&wasm)? {
        if name == WASM {
            fs::write(unpacked(), &bytes)?;
            files.insert(PACKED.to_owned(), pack::packed(&bytes)?);
        } else {
            files.insert(format!("pkg/{name}"), bytes);
        }
    }
    pack_words(&mut files)?;
    join::scripts(&mut files)?;
    join::styles(&mut files)?;
    for (name, bytes) in &mut files {
        let text = str::from_utf8(bytes).with_context(|| format!("{name} is not UTF-8"));
        let small = match name.rsplit_once('.') {
            Some((_, "js")) => minify::script(name, text?)?,
            Some((_, "css")) => minify::styles(text?),
            Some((_, "json" | "webmanifest")) => {
                minify::json(text?).with_context(|| name.clone())?
            }
            _ => continue,
        };
        *bytes = small.into_bytes();
    }
    let rows = rows::types(quantities::bounds::ROWS.iter().map(|row| row.path));
    files.insert("types/rows.d.ts".to_owned(), rows.into_bytes());
    let schema = format!("{:#}\n", design::schema());
    files.insert("design.schema.json".to_owned(), schema.into_bytes());
    files.insert(
        "types/precache.d.ts".to_owned(),
        precache::TYPES.as_bytes().to_vec(),
    );
    let precache = precache::script(&files);
    files.insert("precache.js".to_owned(), precache.into_bytes());
    Ok(files)
}

/// Puts each catalogue as it is served, `texts/NAME.bin`, in the place of the one as written.
fn pack_words(files: &mut Files) -> Result<()> {
    let english = files.get(ENGLISH).context("no English words")?;
    let english = String::from_utf8(english.clone())?;
    let written = |name: &String| name.starts_with("texts/") && name.ends_with(".json");
    let names: Vec<String> = files.keys().filter(|name| written(name)).cloned().collect();
    for name in names {
        let json = files.remove(&name).unwrap_or_default();
        let words = match name.as_str() {
            ENGLISH => texts::folded(&english),
            _ => texts::beside(&english, str::from_utf8(&json)?),
        };
        let packed = words.and_then(|words| spell::packed(&words));
        files.insert(
            name.replace(".json", ".bin"),
            packed.with_context(|| name.clone())?,
        );
    }
    Ok(())
}

/// The optimised wasm file of the site crate.
fn compile(route: &Route, more: &[&str]) -> Result<PathBuf> {
    let mut cargo = route.cargo();
    cargo.args([
        "build",
        "--release",
        "--locked",
        "-p",
        "battenwright-site",
        "--target",
        TARGET,
    ]);
    cargo.args(more);
    let made = workspace::built_files(&mut cargo, "crates/site")?;
    made.into_iter()
        .find(|file| file.extension().is_some_and(|end| end == "wasm"))
        .context("battenwright-site built, but no .wasm came of it: is crate-type cdylib?")
}

/// The JavaScript module around the wasm, its types, and the wasm stripped of names.
fn bind(wasm: &Path) -> Result<Files> {
    let folder = workspace::target().join("site-pkg");
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    Bindgen::new()
        .input_path(wasm)
        .out_name("site")
        .web(true)?
        .typescript(true)
        // Joined with others the module does not know where it lies; who starts it says where the wasm does.
        .omit_default_module_path(true)
        // After a trap the page starts a fresh instance in the same module.
        .reset_state_function(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(&folder)?;
    let mut files = read(&folder)?;
    let around = "site.js";
    let text = str::from_utf8(&files[around])?;
    let (small, text) = order::for_packing(&files[WASM], text)?;
    files.insert(WASM.to_owned(), small);
    files.insert(around.to_owned(), text.into_bytes());
    Ok(files)
}

/// Every file below a folder; hidden files are left out, since static hosts drop them.
pub(crate) fn read(folder: &Path) -> Result<Files> {
    let mut files = Files::new();
    let mut open = vec![(folder.to_path_buf(), String::new())];
    while let Some((folder, prefix)) = open.pop() {
        for entry in fs::read_dir(&folder).with_context(|| folder.display().to_string())? {
            let entry = entry?;
            let Ok(name) = entry.file_name().into_string() else {
                bail!("{}: not a name for the web", entry.path().display());
            };
            if name.starts_with('.') {
                continue;
            }
            if entry.path().is_dir() {
                open.push((entry.path(), format!("{prefix}{name}/")));
            } else {
                files.insert(format!("{prefix}{name}"), fs::read(entry.path())?);
            }
        }
    }
    Ok(files)
}

/// Makes the folder hold exactly these files. What is the same stays untouched, so a page being
/// served meanwhile finds every file at any time.
fn write(folder: &Path, files: &Files) -> Result<()> {
    fs::create_dir_all(folder)?;
    let old = read(folder)?;
    for name in old.keys().filter(|name| !files.contains_key(*name)) {
        fs::remove_file(folder.join(name))?;
    }
    for (name, bytes) in files {
        if old.get(name) == Some(bytes) {
            continue;
        }
        let path = folder.join(name);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent)?;
        }
        fs::write(&path, bytes).with_context(|| path.display().to_string())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folder_written_twice_holds_the_second_set_alone() {
        let folder = workspace::scratch("written-twice");
        let first = Files::from([
            ("a.js".into(), b"1".to_vec()),
            ("old/b.js".into(), b"2".to_vec()),
        ]);
        write(&folder, &first).unwrap();
        assert_eq!(read(&folder).unwrap(), first);
        let second = Files::from([
            ("a.js".into(), b"3".to_vec()),
            ("new/c.js".into(), b"4".to_vec()),
        ]);
        write(&folder, &second).unwrap();
        assert_eq!(read(&folder).unwrap(), second);
    }

    #[test]
    fn hidden_files_stay_out() {
        let folder = workspace::scratch("hidden-files");
        fs::write(folder.join(".swap"), "").unwrap();
        fs::write(folder.join("page.css"), "").unwrap();
        assert_eq!(
            read(&folder).unwrap().into_keys().collect::<Vec<_>>(),
            ["page.css"]
        );
    }
}
