//! Every file costs the first drawing a request, and every module its linking: what is written in
//! many is served in few.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use anyhow::{Context, Result, bail};
use oxc_allocator::Allocator;
use oxc_ast::{AstKind, ast::Statement};
use oxc_parser::Parser;
use oxc_semantic::SemanticBuilder;
use oxc_span::{GetSpan, SourceType, Span};
use oxc_syntax::module_record::{ExportExportName, ImportImportName};

use crate::minify::CLASSIC;
use crate::site::Files;

/// The files served and the modules they are for. Each holds what these import and no file before it
/// has, and keeps their exports.
const SERVED: [(&str, &[&str]); 4] = [
    ("main.js", &["main.js"]),
    ("page.js", &["page.js"]),
    ("photo.js", &["views/underlay.js", "photos.js"]),
    (
        "workshop.js",
        &[
            "views/compare.js",
            "views/glossary.js",
            "views/lesson.js",
            "views/papers.js",
            "views/quick.js",
            "views/tour.js",
        ],
    ),
];

/// Exported by the first file for the journeys, which ask it where things are drawn.
const FOR_JOURNEYS: &str = "Workbench";

/// What is left of a module, and what the others must know of it.
struct Module {
    text: String,
    /// Modules, and names that they declare.
    imports: Vec<(String, String)>,
    exports: BTreeSet<String>,
    declared: BTreeSet<String>,
    of_the_browser: BTreeSet<String>,
}

/// Puts the joined scripts in the place of the modules.
///
/// # Errors
/// When the modules could not stand in one scope, or do something that joining does not know.
pub(crate) fn scripts(files: &mut Files) -> Result<()> {
    let is_module = |name: &str| name.ends_with(".js") && !CLASSIC.contains(&name);
    let mut modules = BTreeMap::new();
    for (name, bytes) in files.iter().filter(|(name, _)| is_module(name)) {
        let module = str::from_utf8(bytes)
            .map_err(Into::into)
            .and_then(|text| read(name, text));
        modules.insert(name.clone(), module.with_context(|| name.clone())?);
    }
    one_scope(&modules)?;
    let mut place = BTreeMap::new();
    let mut gives = SERVED.map(|_| BTreeSet::new());
    let mut joined = SERVED.map(|_| String::new());
    gives[0].insert(FOR_JOURNEYS);
    for (file, (_, roots)) in SERVED.iter().enumerate() {
        let mut order = Vec::new();
        for root in *roots {
            follow(root, &modules, &place, &mut order, &mut Vec::new())?;
            gives[file].extend(modules[*root].exports.iter().map(String::as_str));
        }
        place.extend(order.iter().map(|name| (*name, file)));
        let mut takes = SERVED.map(|_| BTreeSet::new());
        for name in order {
            joined[file] += &modules[name].text;
            for (from, own) in &modules[name].imports {
                takes[place[from.as_str()]].insert(own.as_str());
            }
        }
        // Each from earlier ones alone: to name a later one, even for nothing, would be to wait for it.
        for (from, names) in takes.iter().enumerate().take(file) {
            if names.is_empty() {
                continue;
            }
            gives[from].extend(names);
            writeln!(
                joined[file],
                "import {{{}}} from \"./{}\";",
                list(names),
                SERVED[from].0
            )?;
        }
    }
    if let Some(left) = modules
        .keys()
        .find(|name| !place.contains_key(name.as_str()))
    {
        bail!("{left}: no module imports it");
    }
    files.retain(|name, _| !is_module(name));
    for (((file, _), mut text), names) in SERVED.into_iter().zip(joined).zip(&gives) {
        writeln!(text, "export {{{}}};", list(names))?;
        files.insert(file.to_owned(), text.into_bytes());
    }
    Ok(())
}

fn list(names: &BTreeSet<&str>) -> String {
    names.iter().copied().collect::<Vec<_>>().join(", ")
}

/// Appends a module after all it imports, as a browser would run them; none that has its place.
fn follow<'a>(
    name: &'a str,
    modules: &'a BTreeMap<String, Module>,
    place: &BTreeMap<&str, usize>,
    order: &mut Vec<&'a str>,
    open: &mut Vec<&'a str>,
) -> Result<()> {
    if place.contains_key(name) || order.contains(&name) {
        return Ok(());
    }
    if open.contains(&name) {
        bail!("{} -> {name}: they import each other", open.join(" -> "));
    }
    let module = modules
        .get(name)
        .with_context(|| format!("there is no module {name}"))?;
    open.push(name);
    for (from, own) in &module.imports {
        follow(from, modules, place, order, open)?;
        if !modules[from].exports.contains(own) {
            bail!("{name}: {from} exports no `{own}`");
        }
    }
    open.pop();
    order.push(name);
    Ok(())
}

/// No name may mean two things once the modules share a scope.
fn one_scope(modules: &BTreeMap<String, Module>) -> Result<()> {
    let (mut home, mut amiss) = (BTreeMap::new(), Vec::new());
    for (at, module) in modules {
        for name in &module.declared {
            if let Some(other) = home.insert(name, at) {
                amiss.push(format!("`{name}` is declared in {other} and in {at}"));
            }
        }
    }
    for (at, module) in modules {
        for (name, other) in &home {
            if module.of_the_browser.contains(*name) {
                amiss.push(format!(
                    "`{name}` is the browser's in {at} and declared in {other}"
                ));
            }
        }
    }
    if !amiss.is_empty() {
        bail!("modules are served in one scope:\n  {}", amiss.join("\n  "));
    }
    Ok(())
}

fn read(name: &str, text: &str) -> Result<Module> {
    let allocator = Allocator::default();
    let parsed = Parser::new(&allocator, text, SourceType::mjs()).parse();
    if let Some(problem) = parsed.diagnostics.first() {
        bail!("{problem}");
    }
    let (program, record) = (&parsed.program, &parsed.module_record);
    let cut = |span: Span| span.start as usize..span.end as usize;
    let mut edits = Vec::new();
    for statement in &program.body {
        let gone = match statement {
            Statement::ImportDeclaration(import) if import.specifiers.is_some() => import.span,
            Statement::ExportDeclaration(export) => {
                Span::new(export.span.start, export.declaration.span().start)
            }
            Statement::ExportNamedDeclaration(export) => export.span,
            other if other.is_module_declaration() => {
                bail!("joining knows named imports and exports only")
            }
            _ => continue,
        };
        edits.push((cut(gone), String::new()));
    }
    for import in &record.dynamic_imports {
        let asked = cut(import.module_request);
        let wanted = beside(name, text[asked.clone()].trim_matches('"'));
        // One of these stays what it is.
        if CLASSIC.contains(&wanted.as_str()) {
            continue;
        }
        let served = SERVED
            .iter()
            .find(|(_, roots)| roots.contains(&wanted.as_str()));
        let (file, _) =
            served.with_context(|| format!("{wanted} comes later, but no file is for it"))?;
        edits.push((asked, format!("\"./{file}\"")));
    }
    edits.sort_by_key(|(place, _)| place.start);
    let mut left = format!("{text}\n");
    for (place, new) in edits.iter().rev() {
        left.replace_range(place.clone(), new);
    }
    // Only wasm-bindgen has a default, under a name of its own: the importer must use that one.
    let mut imports = Vec::new();
    for import in &record.import_entries {
        let own = import.local_name.name.as_str();
        match &import.import_name {
            ImportImportName::Name(there) if there.name != own => {
                bail!("`{}` is imported as `{own}`", there.name)
            }
            ImportImportName::NamespaceObject => bail!("a whole module is imported as `{own}`"),
            _ => imports.push((beside(name, &import.module_request.name), own.to_owned())),
        }
    }
    let mut exports = BTreeSet::new();
    for export in &record.local_export_entries {
        let Some(own) = export.local_name.name() else {
            bail!("joining knows exports with names only");
        };
        match &export.export_name {
            ExportExportName::Name(there) if there.name != own && there.name != "default" => {
                bail!("`{own}` is exported as `{}`", there.name)
            }
            _ => exports.insert(own.to_string()),
        };
    }
    let semantic = SemanticBuilder::new()
        .with_build_nodes(true)
        .build(program)
        .semantic;
    let nodes = semantic.nodes();
    for node in nodes.iter() {
        let stands = |kind: AstKind| {
            matches!(
                kind,
                AstKind::Function(_) | AstKind::ArrowFunctionExpression(_)
            )
        };
        match node.kind() {
            AstKind::AwaitExpression(_) if !nodes.ancestor_kinds(node.id()).any(stands) => {
                bail!("it waits outside its functions")
            }
            AstKind::ImportMeta(_) => bail!("it asks for its own address, which will be another"),
            _ => {}
        }
    }
    let scoping = semantic.scoping();
    let declared = scoping
        .get_bindings(scoping.root_scope_id())
        .keys()
        .map(ToString::to_string);
    Ok(Module {
        declared: declared
            .filter(|name| !imports.iter().any(|(_, own)| own == name))
            .collect(),
        of_the_browser: scoping
            .root_unresolved_references()
            .keys()
            .map(ToString::to_string)
            .collect(),
        text: left,
        imports,
        exports,
    })
}

/// The name of what a module calls `./x.js` or, from its folder, `../x.js`.
fn beside(name: &str, address: &str) -> String {
    let folder = name.rfind('/').map_or("", |end| &name[..=end]);
    match address.strip_prefix("./") {
        Some(near) => format!("{folder}{near}"),
        None => address.trim_start_matches("../").to_owned(),
    }
}

/// Puts the style sheets that the page names, all of one folder, into the first of them.
///
/// # Errors
/// When one is not there.
pub(crate) fn styles(files: &mut Files) -> Result<()> {
    let page = String::from_utf8(files["index.html"].clone())?;
    let (mut kept, mut joined, mut first) = (String::new(), String::new(), None);
    for line in page.split_inclusive('\n') {
        let Some(link) = line.strip_prefix("<link rel=\"stylesheet\" href=\"./") else {
            kept += line;
            continue;
        };
        let (name, more) = link.split_once('"').unwrap_or_default();
        let sheet = String::from_utf8(
            files
                .remove(name)
                .with_context(|| format!("there is no {name}"))?,
        )?;
        match more.trim() {
            "media=\"print\">" => write!(joined, "@media print {{\n{sheet}}}\n")?,
            _ => joined += &sheet,
        }
        if first.is_none() {
            kept += line;
            first = Some(name);
        }
    }
    let first = first.context("index.html names no style sheet")?;
    files.insert(first.to_owned(), joined.into_bytes());
    files.insert("index.html".to_owned(), kept.into_bytes());
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A page of few modules, the given ones in their place or beside them.
    fn site(other: &[(&str, &str)]) -> Files {
        let plain = [
            ("first.js", "var first;"),
            ("sw.js", "const worker = 1;"),
            (
                "main.js",
                "import { say } from \"./words.js\";\nimport start, { Workbench } from \"./pkg/site.js\";\nvoid import(\"./page.js\").then(() => start(new Workbench(say)));\n",
            ),
            (
                "page.js",
                "import { make } from \"./views/make.js\";\nimport { say } from \"./words.js\";\nvoid import(\"./photos.js\");\nexport function layOut() { return make(say); }\n",
            ),
            (
                "photos.js",
                "import { make } from \"./views/make.js\";\nexport const photo = () => make(1);\n",
            ),
            (
                "pkg/site.js",
                "export class Workbench {}\nfunction start() {}\nexport { start as default };\n",
            ),
            (
                "views/make.js",
                "import { tongue } from \"../words.js\";\nexport const make = (what) => [what, tongue];\n",
            ),
            ("views/underlay.js", "export const makeUnderlay = 1;\n"),
            (
                "words.js",
                "export let tongue = \"en\";\nexport function say() { tongue = \"de\"; }\n",
            ),
        ];
        let errands = SERVED[3].1.iter().map(|name| (*name, ""));
        errands
            .chain(plain)
            .chain(other.iter().copied())
            .map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()))
            .collect()
    }

    #[test]
    fn modules_are_served_in_few_files_that_share_what_they_have_in_common() {
        let mut files = site(&[]);
        scripts(&mut files).unwrap();
        let text = |name: &str| str::from_utf8(&files[name]).unwrap().trim();
        assert_eq!(files.len(), 6);
        assert_eq!(text("first.js"), "var first;");
        let main = text("main.js");
        let at = |what: &str| {
            main.find(what)
                .unwrap_or_else(|| panic!("no {what:?} in {main}"))
        };
        assert!(at("let tongue") < at("class Workbench"));
        assert!(at("class Workbench") < at("void import(\"./page.js\")"));
        assert!(!main.contains("import {"), "{main}");
        assert!(main.ends_with("export {Workbench, say, tongue};"), "{main}");
        let page = text("page.js");
        assert!(
            page.contains("import {say, tongue} from \"./main.js\";"),
            "{page}"
        );
        assert!(page.contains("void import(\"./photo.js\")"), "{page}");
        assert!(
            !page.contains("let tongue") && page.ends_with("export {layOut, make};"),
            "{page}"
        );
        let photo = text("photo.js");
        assert!(
            photo.contains("import {make} from \"./page.js\";"),
            "{photo}"
        );
        assert!(photo.ends_with("export {makeUnderlay, photo};"), "{photo}");
    }

    #[test]
    fn what_one_scope_would_change_is_refused() {
        for (name, text, said) in [
            (
                "views/make.js",
                "export const make = 1;\nconst start = 2;\n",
                "`start` is declared in pkg/site.js and in views/make.js",
            ),
            (
                "views/make.js",
                "export const make = () => say;\n",
                "`say` is the browser's in views/make.js and declared in words.js",
            ),
            (
                "views/make.js",
                "import { say as tell } from \"../words.js\";\nexport const make = tell;\n",
                "views/make.js: `say` is imported as `tell`",
            ),
            (
                "views/make.js",
                "import { cry } from \"../words.js\";\nexport const make = cry;\n",
                "views/make.js: words.js exports no `cry`",
            ),
            (
                "views/make.js",
                "import * as words from \"../words.js\";\nexport const make = words;\n",
                "views/make.js: a whole module is imported",
            ),
            (
                "views/make.js",
                "import { say } from \"./words.js\";\nexport const make = say;\n",
                "there is no module views/words.js",
            ),
            (
                "words.js",
                "export const say = await 1;\n",
                "words.js: it waits",
            ),
            (
                "words.js",
                "import { main } from \"./main.js\";\nexport let tongue;\nexport function say() {}\n",
                "main.js -> words.js -> main.js",
            ),
            (
                "words.js",
                "export let tongue;\nexport default function say() {}\n",
                "words.js: joining knows",
            ),
            (
                "words.js",
                "export let tongue;\nexport * from \"./photos.js\";\n",
                "words.js: joining knows",
            ),
            (
                "words.js",
                "export let tongue;\nimport \"./photos.js\";\n",
                "words.js: joining knows",
            ),
            (
                "words.js",
                "let one = 1;\nexport { one as say };\n",
                "words.js: `one` is exported as `say`",
            ),
            (
                "words.js",
                "export const say = import.meta.url;\n",
                "words.js: it asks for its own address",
            ),
            (
                "words.js",
                "export const say = () => import(\"./views/make.js\");\n",
                "words.js: views/make.js comes later",
            ),
            (
                "left.js",
                "const left = 1;\n",
                "left.js: no module imports it",
            ),
        ] {
            let problem = format!("{:#}", scripts(&mut site(&[(name, text)])).unwrap_err());
            assert!(problem.contains(said), "{said}\n{problem}");
        }
    }

    #[test]
    fn waiting_inside_a_function_is_everyday() {
        let words = "export let tongue;\nexport const say = async () => { await 1; };\n";
        assert!(scripts(&mut site(&[("words.js", words)])).is_ok());
    }

    #[test]
    fn style_sheets_are_served_as_one_and_paper_keeps_its_rules_to_itself() {
        let page = "<title>x</title>\n<link rel=\"stylesheet\" href=\"./styles/page.css\">\n<link rel=\"stylesheet\" href=\"./styles/print.css\" media=\"print\">\n<main></main>\n";
        let sheets = [
            ("index.html", page),
            ("styles/page.css", "a{b:c}\n"),
            ("styles/print.css", "d{e:f}\n"),
        ];
        let mut files: Files = sheets
            .iter()
            .map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec()))
            .collect();
        let mut without = files.clone();
        without.remove("styles/print.css");
        assert!(styles(&mut without).is_err());
        styles(&mut files).unwrap();
        assert_eq!(files.len(), 2);
        assert_eq!(
            files["styles/page.css"],
            b"a{b:c}\n@media print {\nd{e:f}\n}\n"
        );
        assert_eq!(files["index.html"], b"<title>x</title>\n<link rel=\"stylesheet\" href=\"./styles/page.css\">\n<main></main>\n");
    }
}
