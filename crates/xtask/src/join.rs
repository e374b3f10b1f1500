//! Every file costs the first drawing a request, and every module its linking: what is written in
//! many is served in few.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::ops::Range;

use anyhow::{Context, Result, bail};
use oxc_allocator::Allocator;
use oxc_ast::AstKind;
use oxc_ast::ast::{ImportDeclaration, ImportDeclarationSpecifier, Statement};
use oxc_parser::Parser;
use oxc_semantic::SemanticBuilder;
use oxc_span::{GetSpan, SourceType, Span};
use oxc_syntax::module_record::ExportExportName;

use crate::minify::CLASSIC;
use crate::site::Files;

/// The files served and the modules they are for. Each holds what these import and no file before it
/// has; it keeps their exports, and later files take what they share from it.
const SERVED: [(&str, &[&str]); 3] = [
    ("main.js", &["main.js"]),
    ("page.js", &["page.js"]),
    ("photo.js", &["views/underlay.js", "photos.js"]),
];

/// Kept for the journeys, which ask a workbench of their own where things are drawn.
const FOR_JOURNEYS: (&str, &str) = ("pkg/site.js", "Workbench");

/// A module, and what of it the others see.
#[derive(Debug, Default)]
struct Module {
    text: String,
    /// What is cut out or replaced, in order.
    edits: Vec<(Range<usize>, String)>,
    /// Modules in their order, with (exported, own) names.
    imports: Vec<(String, Vec<(String, String)>)>,
    /// By exported name the module's own.
    exports: BTreeMap<String, String>,
    top: BTreeSet<String>,
    /// What it expects of the browser.
    free: BTreeSet<String>,
}

/// Puts the joined scripts in the place of the modules.
///
/// # Errors
/// When the modules could not stand in one scope, or do something that joining does not know.
pub(crate) fn scripts(files: &mut Files) -> Result<()> {
    let is_module = |name: &str| name.ends_with(".js") && !CLASSIC.contains(&name);
    let mut modules = BTreeMap::new();
    for (name, bytes) in files.iter().filter(|(name, _)| is_module(name)) {
        let text = str::from_utf8(bytes).with_context(|| format!("{name} is not UTF-8"))?;
        modules.insert(name.clone(), read(name, text)?);
    }
    one_scope(&modules)?;
    let mut order = Vec::new();
    for (at, (_, roots)) in SERVED.iter().enumerate() {
        for root in *roots {
            follow(root, at, &modules, &mut order, &mut Vec::new())?;
        }
    }
    let place: BTreeMap<&str, usize> = order
        .iter()
        .map(|(name, at)| (name.as_str(), *at))
        .collect();
    if let Some(name) = modules
        .keys()
        .find(|name| !place.contains_key(name.as_str()))
    {
        bail!("{name}: no module imports it");
    }
    // Names by (from, to): what one file takes from another.
    let mut taken: BTreeMap<(usize, usize), BTreeSet<&str>> = BTreeMap::new();
    for (name, to) in &order {
        for (from, names) in &modules[name].imports {
            let from = place[from.as_str()];
            if from != *to {
                let own = names.iter().map(|(_, own)| own.as_str());
                taken.entry((from, *to)).or_default().extend(own);
            }
        }
    }
    files.retain(|name, _| !is_module(name));
    for (at, (file, roots)) in SERVED.iter().enumerate() {
        let mut text = String::new();
        for (&(from, _), names) in taken.iter().filter(|((_, to), _)| *to == at) {
            let given = short_names(&taken, from);
            let list: Vec<_> = names
                .iter()
                .map(|own| format!("{} as {own}", given[own]))
                .collect();
            writeln!(
                text,
                "import {{{}}} from \"./{}\";",
                list.join(", "),
                SERVED[from].0
            )?;
        }
        let mut out: Vec<_> = short_names(&taken, at)
            .into_iter()
            .map(|(own, short)| format!("{own} as {short}"))
            .collect();
        for (name, _) in order.iter().filter(|(_, place)| *place == at) {
            let module = &modules[name];
            text.push_str(&edited(&module.text, &module.edits));
            text.push('\n');
            let kept = module.exports.iter().filter(|(exported, _)| {
                roots.contains(&name.as_str()) || FOR_JOURNEYS == (name.as_str(), exported.as_str())
            });
            out.extend(kept.map(|(exported, own)| format!("{own} as {exported}")));
        }
        writeln!(text, "export {{{}}};", out.join(", "))?;
        files.insert((*file).to_owned(), text.into_bytes());
    }
    Ok(())
}

/// What later files take from this one, and under which names: `a` to `z`, `a1` and so on.
fn short_names<'a>(
    taken: &BTreeMap<(usize, usize), BTreeSet<&'a str>>,
    file: usize,
) -> BTreeMap<&'a str, String> {
    let all: BTreeSet<_> = taken
        .iter()
        .filter(|((from, _), _)| *from == file)
        .flat_map(|(_, names)| names)
        .collect();
    let rounds = std::iter::once(String::new()).chain((1..).map(|round: u32| round.to_string()));
    let names = rounds.flat_map(|round| ('a'..='z').map(move |letter| format!("{letter}{round}")));
    all.into_iter().copied().zip(names).collect()
}

/// Appends a module after all it imports, as a browser would run them.
fn follow(
    name: &str,
    file: usize,
    modules: &BTreeMap<String, Module>,
    order: &mut Vec<(String, usize)>,
    open: &mut Vec<String>,
) -> Result<()> {
    if order.iter().any(|(known, _)| known == name) {
        return Ok(());
    }
    if open.iter().any(|above| above == name) {
        bail!(
            "{} -> {name}: modules that import each other",
            open.join(" -> ")
        );
    }
    let module = modules
        .get(name)
        .with_context(|| format!("there is no module {name}"))?;
    open.push(name.to_owned());
    for (from, names) in &module.imports {
        follow(from, file, modules, order, open)?;
        for (exported, own) in names {
            match modules[from].exports.get(exported) {
                None => bail!("{name}: {from} exports no `{exported}`"),
                Some(there) if there != own => {
                    bail!("{name}: `{own}` is called `{there}` in {from}")
                }
                Some(_) => {}
            }
        }
    }
    open.pop();
    order.push((name.to_owned(), file));
    Ok(())
}

/// No name may mean two things once the modules share a scope.
fn one_scope(modules: &BTreeMap<String, Module>) -> Result<()> {
    let (mut home, mut amiss) = (BTreeMap::new(), Vec::new());
    for (at, module) in modules {
        for name in &module.top {
            if let Some(other) = home.insert(name, at) {
                amiss.push(format!("{other} and {at} both declare `{name}`"));
            }
        }
    }
    for (at, module) in modules {
        for name in &module.free {
            if let Some(other) = home.get(name) {
                amiss.push(format!(
                    "{at} means the browser's `{name}`, but {other} declares one"
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
        bail!("{name}: {problem}");
    }
    let (program, record) = (&parsed.program, &parsed.module_record);
    let mut module = Module {
        text: text.to_owned(),
        ..Module::default()
    };
    let cut = |span: Span| span.start as usize..span.end as usize;
    for statement in &program.body {
        match statement {
            Statement::ImportDeclaration(import) => {
                module.edits.push((cut(import.span), String::new()));
                module
                    .imports
                    .push((beside(name, &import.source.value)?, names_of(name, import)?));
            }
            Statement::ExportDeclaration(export) => module.edits.push((
                cut(Span::new(
                    export.span.start,
                    export.declaration.span().start,
                )),
                String::new(),
            )),
            Statement::ExportNamedDeclaration(export) => {
                module.edits.push((cut(export.span), String::new()))
            }
            Statement::ExportDefaultDeclaration(_) => bail!("{name}: has a default export"),
            _ => {}
        }
    }
    if !record.indirect_export_entries.is_empty() || !record.star_export_entries.is_empty() {
        bail!("{name}: hands on another module's exports");
    }
    if !record.import_metas.is_empty() {
        bail!("{name}: asks for its own address, which is another when it is served");
    }
    for import in &record.dynamic_imports {
        let place = cut(import.module_request);
        let wanted = beside(name, text[place.clone()].trim_matches('"'))?;
        let served = SERVED
            .iter()
            .find(|(_, roots)| roots.contains(&wanted.as_str()));
        let (file, _) = served.with_context(|| {
            format!("{name}: {wanted} comes later and is in no file of its own")
        })?;
        module.edits.push((place, format!("\"./{file}\"")));
    }
    module.edits.sort_by_key(|(place, _)| place.start);
    for export in &record.local_export_entries {
        let exported = match &export.export_name {
            ExportExportName::Name(name) => name.name.as_str(),
            _ => "default",
        };
        let own = export
            .local_name
            .name()
            .context("an export without a name")?;
        module.exports.insert(exported.to_owned(), own.to_string());
    }
    let semantic = SemanticBuilder::new()
        .with_build_nodes(true)
        .build(program)
        .semantic;
    let nodes = semantic.nodes();
    let inside = |kind: AstKind| {
        matches!(
            kind,
            AstKind::Function(_) | AstKind::ArrowFunctionExpression(_)
        )
    };
    for node in nodes.iter() {
        let waits = match node.kind() {
            AstKind::AwaitExpression(_) => true,
            AstKind::ForOfStatement(each) => each.r#await,
            _ => false,
        };
        if waits && !nodes.ancestor_kinds(node.id()).any(inside) {
            bail!("{name}: waits outside any function");
        }
    }
    let scoping = semantic.scoping();
    module.top = scoping
        .get_bindings(scoping.root_scope_id())
        .keys()
        .map(ToString::to_string)
        .collect();
    for (_, own) in module.imports.iter().flat_map(|(_, names)| names) {
        module.top.remove(own);
    }
    module.free = scoping
        .root_unresolved_references()
        .keys()
        .map(ToString::to_string)
        .collect();
    Ok(module)
}

fn names_of(name: &str, import: &ImportDeclaration) -> Result<Vec<(String, String)>> {
    let specifiers = import.specifiers.iter().flatten();
    specifiers
        .map(|specifier| match specifier {
            ImportDeclarationSpecifier::ImportSpecifier(one) => {
                Ok((one.imported.name().to_string(), one.local.name.to_string()))
            }
            ImportDeclarationSpecifier::ImportDefaultSpecifier(one) => {
                Ok(("default".to_owned(), one.local.name.to_string()))
            }
            ImportDeclarationSpecifier::ImportNamespaceSpecifier(_) => {
                bail!("{name}: imports a whole module under one name")
            }
        })
        .collect()
}

/// The name of what a module calls `./x.js` or `../x.js`.
fn beside(name: &str, address: &str) -> Result<String> {
    let mut folders: Vec<_> = name.split('/').collect();
    folders.pop();
    for part in address.split('/') {
        match part {
            "." => {}
            ".." if folders.pop().is_some() => {}
            ".." => bail!("{name}: {address} is outside the site"),
            _ => folders.push(part),
        }
    }
    Ok(folders.join("/"))
}

fn edited(text: &str, edits: &[(Range<usize>, String)]) -> String {
    let (mut kept, mut from) = (String::new(), 0);
    for (place, new) in edits {
        kept.push_str(&text[from..place.start]);
        kept.push_str(new);
        from = place.end;
    }
    kept + &text[from..]
}

/// Puts the style sheets that the page names into the first of them, those for paper as such.
///
/// # Errors
/// When one is not there, or lies elsewhere than the first: addresses in it would be others.
pub(crate) fn styles(files: &mut Files) -> Result<()> {
    const LINK: &str = "<link rel=\"stylesheet\" href=\"./";
    let page = String::from_utf8(files["index.html"].clone())?;
    let (mut kept, mut first, mut joined) = (String::new(), None, String::new());
    for line in page.split_inclusive('\n') {
        let Some((name, more)) = line
            .strip_prefix(LINK)
            .and_then(|rest| rest.split_once('"'))
        else {
            kept.push_str(line);
            continue;
        };
        let sheet = files
            .remove(name)
            .with_context(|| format!("index.html: there is no {name}"))?;
        let sheet = String::from_utf8(sheet)?;
        match more.trim() {
            ">" => joined += &sheet,
            "media=\"print\">" => write!(joined, "@media print {{\n{sheet}}}\n")?,
            other => bail!("index.html: {name}: {other:?} is not known"),
        }
        let folder = |name: &str| name.rsplit_once('/').map(|(folder, _)| folder.to_owned());
        match &first {
            None => {
                kept.push_str(line);
                first = Some(name.to_owned());
            }
            Some(first) if folder(first) == folder(name) => {}
            Some(first) => bail!("index.html: {name} does not lie beside {first}"),
        }
    }
    let first = first.context("index.html names no style sheet")?;
    files.insert(first, joined.into_bytes());
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
        plain
            .iter()
            .chain(other)
            .map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec()))
            .collect()
    }

    fn problem(other: &[(&str, &str)]) -> String {
        scripts(&mut site(other)).unwrap_err().to_string()
    }

    #[test]
    fn modules_are_served_in_three_files_that_share_what_they_have_in_common() {
        let mut files = site(&[]);
        scripts(&mut files).unwrap();
        let text = |name: &str| str::from_utf8(&files[name]).unwrap().trim();
        assert_eq!(files.len(), 5);
        assert_eq!(text("first.js"), "var first;");
        let main = text("main.js");
        let at = |what: &str| {
            main.find(what)
                .unwrap_or_else(|| panic!("no {what:?} in {main}"))
        };
        assert!(
            at("let tongue") < at("class Workbench")
                && at("class Workbench") < at("void import(\"./page.js\")")
        );
        assert!(
            main.ends_with("export {say as a, tongue as b, Workbench as Workbench};"),
            "{main}"
        );
        let page = text("page.js");
        assert!(
            page.starts_with("import {a as say, b as tongue} from \"./main.js\";"),
            "{page}"
        );
        assert!(
            page.contains("void import(\"./photo.js\")") && !page.contains("let tongue"),
            "{page}"
        );
        assert!(
            page.ends_with("export {make as a, layOut as layOut};"),
            "{page}"
        );
        let photo = text("photo.js");
        assert!(
            photo.starts_with("import {a as make} from \"./page.js\";"),
            "{photo}"
        );
        assert!(
            photo.ends_with("export {makeUnderlay as makeUnderlay, photo as photo};"),
            "{photo}"
        );
    }

    #[test]
    fn what_one_scope_would_change_is_refused() {
        for (name, text, said) in [
            (
                "views/make.js",
                "export const make = 1;\nconst start = 2;\n",
                "pkg/site.js and views/make.js both declare `start`",
            ),
            (
                "views/make.js",
                "export const make = () => worker;\nconst photo = 1;\n",
                "photos.js and views/make.js both declare `photo`",
            ),
            (
                "views/make.js",
                "export const make = () => say;\n",
                "views/make.js means the browser's `say`, but words.js declares one",
            ),
            (
                "words.js",
                "export const say = await 1;\n",
                "words.js: waits outside any function",
            ),
            (
                "words.js",
                "import \"./main.js\";\nexport let tongue;\nexport function say() {}\n",
                "main.js -> words.js -> main.js",
            ),
            (
                "words.js",
                "export let tongue;\nexport default function say() {}\n",
                "words.js: has a default export",
            ),
            (
                "words.js",
                "export let tongue;\nexport * from \"./photos.js\";\n",
                "words.js: hands on",
            ),
            (
                "words.js",
                "export const say = import.meta.url, tongue = 1;\n",
                "words.js: asks for its own address",
            ),
            (
                "words.js",
                "export const say = () => import(\"./views/make.js\"), tongue = 1;\n",
                "words.js: views/make.js comes later",
            ),
            (
                "views/make.js",
                "import { say as tell } from \"../words.js\";\nexport const make = tell;\n",
                "views/make.js: `tell` is called `say` in words.js",
            ),
            (
                "views/make.js",
                "import { cry } from \"../words.js\";\nexport const make = cry;\n",
                "views/make.js: words.js exports no `cry`",
            ),
            (
                "views/make.js",
                "import * as words from \"../words.js\";\nexport const make = words;\n",
                "views/make.js: imports a whole module",
            ),
            (
                "views/make.js",
                "import \"../../words.js\";\nexport const make = 1;\n",
                "views/make.js: ../../words.js is outside",
            ),
            (
                "left.js",
                "const left = 1;\n",
                "left.js: no module imports it",
            ),
        ] {
            let problem = problem(&[(name, text)]);
            assert!(problem.contains(said), "{said}\n{problem}");
        }
    }

    #[test]
    fn waiting_inside_a_function_is_everyday() {
        let words = "export let tongue;\nexport const say = async () => { await 1; };\n";
        assert!(scripts(&mut site(&[("words.js", words)])).is_ok());
    }

    #[test]
    fn many_names_stay_apart() {
        let names: Vec<_> = (0..60).map(|n| format!("name{n}")).collect();
        let taken = BTreeMap::from([((0, 1), names.iter().map(String::as_str).collect())]);
        let short: BTreeSet<_> = short_names(&taken, 0).into_values().collect();
        assert_eq!(short.len(), 60);
        assert!(
            short.contains("a")
                && short.contains("z")
                && short.contains("a1")
                && short.contains("h2")
        );
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
        let mut elsewhere = files.clone();
        styles(&mut files).unwrap();
        assert_eq!(files.len(), 2);
        assert_eq!(
            files["styles/page.css"],
            b"a{b:c}\n@media print {\nd{e:f}\n}\n"
        );
        assert_eq!(files["index.html"], b"<title>x</title>\n<link rel=\"stylesheet\" href=\"./styles/page.css\">\n<main></main>\n");

        let sheet = elsewhere.remove("styles/print.css").unwrap();
        assert!(
            styles(&mut elsewhere.clone())
                .unwrap_err()
                .to_string()
                .contains("no styles/print.css")
        );
        elsewhere.insert("print.css".to_owned(), sheet);
        elsewhere.insert(
            "index.html".to_owned(),
            page.replace("styles/print", "print").into_bytes(),
        );
        assert!(
            styles(&mut elsewhere)
                .unwrap_err()
                .to_string()
                .contains("print.css does not lie beside")
        );
    }
}
