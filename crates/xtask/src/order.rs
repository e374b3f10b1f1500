//! The wasm written as packing likes it; it does the same. What a place in memory is a multiple of is not
//! said (engines take no note of it), functions that are the same to the byte are one, imports have short
//! names, and each function stands behind the one most like it, since the odds of LZMA learn and forget.

use std::cmp::Reverse;
use std::collections::HashMap;
use std::convert::Infallible;

use anyhow::{Context, Result, bail};
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasm_encoder::{CodeSection, FunctionSection, ImportSection, MemArg, Module};
use wasmparser::{
    CodeSectionReader, FunctionSectionReader, ImportSectionReader, Parser, Payload, TypeRef,
};

/// How many bytes must agree to count as alike; three to six do nearly as well.
const PIECE: usize = 4;

/// The same module as packing likes it, and the module around it, which asks for its imports by name.
///
/// # Errors
/// When it is no wasm.
pub(crate) fn for_packing(wasm: &[u8], around: &str) -> Result<(Vec<u8>, String)> {
    let (mut wasm, around) = short_imports(wasm, around)?;
    // What calls two that are now one may itself become like another.
    while let Some(mut fewer) = Ordered::without_copies(&wasm)? {
        wasm = written(&mut fewer, &wasm)?;
    }
    let (imported, _, bodies) = functions(&wasm)?;
    let order = beside_their_like(&bodies);
    // Imported functions come first in the count of all, and stay.
    let mut places: Vec<usize> = (0..imported + order.len()).collect();
    for (new, &old) in order.iter().enumerate() {
        places[imported + old] = imported + new;
    }
    let made = written(&mut Ordered { order, places }, &wasm)?;
    wasmparser::validate(&made).context("the wasm as packing likes it")?;
    Ok((made, around))
}

fn written(way: &mut impl Reencode<Error = Infallible>, wasm: &[u8]) -> Result<Vec<u8>> {
    let mut module = Module::new();
    if let Err(problem) = way.parse_core_module(&mut module, Parser::new(0), wasm) {
        bail!("the wasm as packing likes it: {problem}");
    }
    Ok(module.finish())
}

/// How many functions are imported; type and body of the others.
type Functions<'a> = (usize, Vec<u32>, Vec<&'a [u8]>);

fn functions(wasm: &[u8]) -> Result<Functions<'_>> {
    let (mut imported, mut types, mut bodies) = (0, Vec::new(), Vec::new());
    for payload in Parser::new(0).parse_all(wasm) {
        match payload? {
            Payload::ImportSection(section) => {
                for import in section.into_imports() {
                    imported += usize::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            }
            Payload::FunctionSection(section) => {
                for kind in section {
                    types.push(kind?);
                }
            }
            Payload::CodeSectionEntry(body) => bodies.push(&wasm[body.range()]),
            _ => {}
        }
    }
    Ok((imported, types, bodies))
}

/// Each import whose name stands once in the module around, as a key, is called by a number.
fn short_imports(wasm: &[u8], around: &str) -> Result<(Vec<u8>, String)> {
    let mut names = HashMap::new();
    let mut around = around.to_owned();
    for payload in Parser::new(0).parse_all(wasm) {
        let Payload::ImportSection(section) = payload? else {
            continue;
        };
        for import in section.into_imports() {
            let name = import?.name;
            let key = format!(" {name}: function(");
            if around.matches(&key).count() == 1 && around.matches(name).count() == 1 {
                let short = format!("i{}", names.len());
                around = around.replace(&key, &format!(" {short}: function("));
                names.insert(name.to_owned(), short);
            }
        }
    }
    Ok((written(&mut Named { names }, wasm)?, around))
}

struct Named {
    /// Short names by long ones.
    names: HashMap<String, String>,
}

impl Reencode for Named {
    type Error = Infallible;

    fn parse_import_section(
        &mut self,
        imports: &mut ImportSection,
        section: ImportSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        for import in section.into_imports() {
            let import = import?;
            let kind = utils::entity_type(self, import.ty)?;
            let name = self.names.get(import.name);
            let name = name.map_or(import.name, String::as_str);
            imports.import(import.module, name, kind);
        }
        Ok(())
    }
}

struct Ordered {
    /// The old place of each function that is kept and not imported, in the new order.
    order: Vec<usize>,
    /// The new place of every function, by its old one.
    places: Vec<usize>,
}

impl Ordered {
    /// Of functions that are the same the first; none where there are no two.
    fn without_copies(wasm: &[u8]) -> Result<Option<Self>> {
        let (imported, types, bodies) = functions(wasm)?;
        let mut firsts = HashMap::new();
        let mut order = Vec::new();
        let mut places: Vec<usize> = (0..imported).collect();
        for (old, same) in types.iter().zip(&bodies).enumerate() {
            let place = *firsts.entry(same).or_insert_with(|| {
                order.push(old);
                imported + order.len() - 1
            });
            places.push(place);
        }
        Ok((order.len() < bodies.len()).then_some(Self { order, places }))
    }
}

impl Reencode for Ordered {
    type Error = Infallible;

    fn function_index(&mut self, old: u32) -> Result<u32, Error<Infallible>> {
        Ok(u32::try_from(self.places[old as usize]).unwrap_or(old))
    }

    fn mem_arg(&mut self, arg: wasmparser::MemArg) -> Result<MemArg, Error<Infallible>> {
        let arg = utils::mem_arg(self, arg)?;
        Ok(MemArg { align: 0, ..arg })
    }

    fn parse_function_section(
        &mut self,
        functions: &mut FunctionSection,
        section: FunctionSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let types = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for &old in &self.order {
            functions.function(types[old]);
        }
        Ok(())
    }

    fn parse_code_section(
        &mut self,
        code: &mut CodeSection,
        section: CodeSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let bodies = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for old in self.order.clone() {
            utils::parse_function_body(self, code, bodies[old].clone())?;
        }
        Ok(())
    }
}

/// Begins with the longest; then always the one that shares most of itself with the last.
fn beside_their_like(bodies: &[&[u8]]) -> Vec<usize> {
    let mut numbers: HashMap<&[u8], usize> = HashMap::new();
    let mut holders: Vec<Vec<usize>> = Vec::new();
    let mut pieces: Vec<Vec<usize>> = Vec::new();
    for (at, body) in bodies.iter().enumerate() {
        let number = |piece| {
            let next = numbers.len();
            *numbers.entry(piece).or_insert(next)
        };
        let mut own: Vec<usize> = body.windows(PIECE).map(number).collect();
        own.sort_unstable();
        own.dedup();
        holders.resize(numbers.len(), Vec::new());
        for &piece in &own {
            holders[piece].push(at);
        }
        pieces.push(own);
    }

    let mut shared = vec![0_usize; bodies.len()];
    let mut order = Vec::new();
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    while let Some((place, &at)) = left.iter().enumerate().max_by_key(|&(_, &at)| {
        // In millionths: integers order the same on every machine. Among equals the longest, then the first.
        let share = shared[at] * 1_000_000 / (pieces[at].len() + 1);
        (share, bodies[at].len(), Reverse(at))
    }) {
        left.swap_remove(place);
        order.push(at);
        shared.fill(0);
        for &piece in &pieces[at] {
            holders[piece].iter().for_each(|&at| shared[at] += 1);
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{
        EntityType, ExportKind, ExportSection, Function, ImportSection, TypeSection, ValType,
    };
    use wasmparser::Operator;

    #[test]
    fn like_stands_beside_like() {
        let long = b"abcdefghijklmnopqrstuvwxyz".as_slice();
        let other = b"0123456789012345".as_slice();
        let like = b"__bcdefghijklm".as_slice();
        assert_eq!(beside_their_like(&[other, long, like]), [1, 2, 0]);
        assert_eq!(beside_their_like(&[]), Vec::<usize>::new());
    }

    /// Functions a, b, c after an imported one. Each gives a number of its own after calling the one
    /// before it; b is the longest, so the order must change.
    fn module() -> Vec<u8> {
        let mut module = Module::new();
        let mut types = TypeSection::new();
        types.ty().function([], []);
        types.ty().function([], [ValType::I32]);
        module.section(&types);
        let mut imports = ImportSection::new();
        imports.import("page", "told", EntityType::Function(0));
        module.section(&imports);
        let mut functions = FunctionSection::new();
        let mut exports = ExportSection::new();
        let mut code = CodeSection::new();
        for (name, number, padding) in [("a", 7, 0), ("b", 8, 40), ("c", 9, 3)] {
            let place = functions.len() + 1;
            functions.function(1);
            exports.export(name, ExportKind::Func, place);
            let mut body = Function::new([]);
            let mut write = body.instructions();
            write.call(place - 1);
            if place > 1 {
                write.drop();
            }
            for _ in 0..padding {
                write.nop();
            }
            write.i32_const(number).end();
            code.function(&body);
        }
        module.section(&functions).section(&exports).section(&code);
        module.finish()
    }

    /// Exported name, number given, and the name of what is called.
    fn told(wasm: &[u8]) -> Vec<(String, i32, String)> {
        let mut names: HashMap<u32, String> = HashMap::from([(0, "told".to_owned())]);
        let mut found = Vec::new();
        let mut place = 1;
        for payload in Parser::new(0).parse_all(wasm) {
            match payload.unwrap() {
                Payload::ExportSection(section) => {
                    for export in section {
                        let export = export.unwrap();
                        names.insert(export.index, export.name.to_owned());
                    }
                }
                Payload::CodeSectionEntry(body) => {
                    let (mut number, mut called) = (0, 0);
                    for operator in body.get_operators_reader().unwrap() {
                        match operator.unwrap() {
                            Operator::I32Const { value } => number = value,
                            Operator::Call { function_index } => called = function_index,
                            _ => {}
                        }
                    }
                    found.push((place, number, called));
                    place += 1;
                }
                _ => {}
            }
        }
        let name = |place| names[&place].clone();
        found
            .into_iter()
            .map(|(place, number, called)| (name(place), number, name(called)))
            .collect()
    }

    #[test]
    fn functions_move_and_calls_and_exports_follow() {
        let before = module();
        let mut was = told(&before);
        let now = told(&for_packing(&before, "").unwrap().0);
        assert_ne!(was, now);
        assert_eq!(now[0].0, "b");
        was.sort();
        let mut sorted = now;
        sorted.sort();
        assert_eq!(was, sorted);
    }

    #[test]
    fn what_is_no_wasm_is_an_error() {
        assert!(for_packing(b"page", "").is_err());
    }

    /// Two functions alike, a third that calls one of them and a fourth that calls the other.
    fn copies() -> Vec<u8> {
        let mut module = Module::new();
        let mut types = TypeSection::new();
        types.ty().function([ValType::I32], [ValType::I32]);
        let mut imports = ImportSection::new();
        imports.import("page", "__wbg_told_12ab", EntityType::Function(0));
        let mut functions = FunctionSection::new();
        let mut exports = ExportSection::new();
        let mut code = CodeSection::new();
        for (name, called) in [("a", 0), ("b", 0), ("c", 1), ("d", 2)] {
            exports.export(name, ExportKind::Func, functions.len() + 1);
            functions.function(0);
            let mut body = Function::new([(1, ValType::F64), (2, ValType::I32)]);
            let mut write = body.instructions();
            write.local_get(0).local_set(2).local_get(2).local_tee(3);
            write.local_get(3).i32_add().local_set(3).local_get(3);
            write.call(called).end();
            code.function(&body);
        }
        module.section(&types).section(&imports).section(&functions);
        module.section(&exports).section(&code);
        module.finish()
    }

    #[test]
    fn copies_are_one_and_what_calls_them_too() {
        let (small, _) = for_packing(&copies(), "").unwrap();
        let (_, _, bodies) = functions(&small).unwrap();
        assert_eq!(bodies.len(), 2);
        let mut places = HashMap::new();
        for payload in Parser::new(0).parse_all(&small) {
            if let Payload::ExportSection(section) = payload.unwrap() {
                for export in section {
                    let export = export.unwrap();
                    places.insert(export.name.to_owned(), export.index);
                }
            }
        }
        assert_eq!((places["a"], places["c"]), (places["b"], places["d"]));
        assert_ne!(places["a"], places["c"]);
    }

    #[test]
    fn imports_are_called_alike_within_and_around() {
        let around = "return { __wbg_told_12ab: function(arg0) {} }";
        let (small, text) = for_packing(&copies(), around).unwrap();
        assert_eq!(text, "return { i0: function(arg0) {} }");
        let name =
            |wasm: &[u8], name: &str| wasm.windows(name.len()).any(|at| at == name.as_bytes());
        assert!(name(&small, "i0") && !name(&small, "__wbg_told"));
        // What stands there twice might be something else as well.
        let twice = format!("{around} __wbg_told_12ab");
        let (large, text) = for_packing(&copies(), &twice).unwrap();
        assert!(text == twice && name(&large, "__wbg_told_12ab"));
    }
}
