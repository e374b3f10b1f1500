//! The functions of the wasm in an order that gzip likes: each beside those most like it, since gzip
//! sees back 32 KB alone. Nothing else changes.

use std::cmp::Reverse;
use std::collections::{HashMap, VecDeque};
use std::convert::Infallible;

use anyhow::{Context, Result, bail};
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasm_encoder::{CodeSection, FunctionSection, Module};
use wasmparser::{CodeSectionReader, FunctionSectionReader, Parser, Payload, TypeRef};

/// How many bytes must agree to count as alike; five to eight do nearly as well.
const PIECE: usize = 6;

/// How far back functions are compared; all from a quarter of gzip's reach up do nearly as well.
const REACH: usize = 30_000;

/// The same module with its functions in another order.
///
/// # Errors
/// When it is no wasm.
pub(crate) fn for_gzip(wasm: &[u8]) -> Result<Vec<u8>> {
    let mut imported = 0;
    let mut bodies: Vec<&[u8]> = Vec::new();
    for payload in Parser::new(0).parse_all(wasm) {
        match payload? {
            Payload::ImportSection(section) => {
                for import in section.into_imports() {
                    imported += usize::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            }
            Payload::CodeSectionEntry(body) => bodies.push(&wasm[body.range()]),
            _ => {}
        }
    }
    let order = beside_their_like(&bodies);
    // Imported functions come first in the count of all, and stay.
    let mut places: Vec<usize> = (0..imported + order.len()).collect();
    for (new, &old) in order.iter().enumerate() {
        places[imported + old] = imported + new;
    }
    let mut module = Module::new();
    let mut ordered = Ordered { order, places };
    if let Err(problem) = ordered.parse_core_module(&mut module, Parser::new(0), wasm) {
        bail!("the wasm in another order: {problem}");
    }
    let made = module.finish();
    wasmparser::validate(&made).context("the wasm in another order")?;
    Ok(made)
}

struct Ordered {
    /// The old place of each function that is not imported, in the new order.
    order: Vec<usize>,
    /// The new place of every function, by its old one.
    places: Vec<usize>,
}

impl Reencode for Ordered {
    type Error = Infallible;

    fn function_index(&mut self, old: u32) -> Result<u32, Error<Infallible>> {
        Ok(u32::try_from(self.places[old as usize]).unwrap_or(old))
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

/// Begins with the longest; then always the one that shares most of itself with the last ones.
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

    let mut seen = vec![0_u32; holders.len()];
    let mut shared = vec![0_usize; bodies.len()];
    let mut last: VecDeque<usize> = VecDeque::new();
    let mut bytes = 0;
    let mut order = Vec::new();
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    while let Some((place, &at)) = left.iter().enumerate().max_by_key(|&(_, &at)| {
        // In millionths: integers order the same on every machine. Among equals the longest, then the first.
        let share = shared[at] * 1_000_000 / (pieces[at].len() + 1);
        (share, bodies[at].len(), Reverse(at))
    }) {
        left.swap_remove(place);
        order.push(at);
        last.push_back(at);
        bytes += bodies[at].len();
        for &piece in &pieces[at] {
            seen[piece] += 1;
            if seen[piece] == 1 {
                holders[piece].iter().for_each(|&at| shared[at] += 1);
            }
        }
        while bytes > REACH && last.len() > 1 {
            let Some(gone) = last.pop_front() else { break };
            bytes -= bodies[gone].len();
            for &piece in &pieces[gone] {
                seen[piece] -= 1;
                if seen[piece] == 0 {
                    holders[piece].iter().for_each(|&at| shared[at] -= 1);
                }
            }
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
        let now = told(&for_gzip(&before).unwrap());
        assert_ne!(was, now);
        assert_eq!(now[0].0, "b");
        was.sort();
        let mut sorted = now;
        sorted.sort();
        assert_eq!(was, sorted);
    }

    #[test]
    fn what_is_no_wasm_is_an_error() {
        assert!(for_gzip(b"page").is_err());
    }
}
