//! What the page's unpacker is tried on: packed files with what they hold, and hostile ones.

use std::fs;
use std::path::Path;

use anyhow::Result;
use wasm_encoder::{
    BlockType, CodeSection, DataCountSection, DataSection, Function, FunctionSection, Ieee32,
    Ieee64, MemArg, MemorySection, MemoryType, Module, TypeSection, ValType,
};

use crate::pack;

/// Steps of Knuth's 64-bit linear congruential generator (MMIX).
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end
    }

    fn bytes(&mut self, count: usize) -> Vec<u8> {
        (0..count).map(|_| self.below(256) as u8).collect()
    }
}

/// Writes the samples into a folder: NAME.bin with NAME.raw beside it, `hostile-N.bin` with nothing.
///
/// # Errors
/// When they cannot be written.
pub(crate) fn write(folder: &Path) -> Result<()> {
    fs::create_dir_all(folder)?;
    let mut chance = Chance(6);
    let noise = chance.bytes(70_000);
    // One place far behind the other, short ones between, all lengths of a match.
    let far = [&noise, b"reef ".repeat(300_000).as_slice(), &noise[..9_000]].concat();
    let near: Vec<u8> = (0..3_000)
        .flat_map(|_| {
            let from = chance.below(900);
            noise[from..from + chance.below(400)].to_vec()
        })
        .collect();
    let held: [(&str, &[u8]); 6] = [
        ("empty", b""),
        ("one", b"7"),
        ("noughts", &[0; 300_000]),
        ("noise", &noise),
        ("far", &far),
        ("near", &near),
    ];
    for (name, bytes) in held {
        fs::write(folder.join(format!("{name}.raw")), bytes)?;
        fs::write(folder.join(format!("{name}.bin")), pack::whole(bytes)?)?;
    }
    let wasm = module();
    fs::write(folder.join("code.raw"), &wasm)?;
    fs::write(folder.join("code.bin"), pack::packed(&wasm)?)?;

    // Well packed, but what it holds is wrong in one to four places: its table, lengths, parts.
    let held = pack::held(&wasm)?;
    for number in 0..200 {
        let mut held = held.clone();
        for _ in 0..=chance.below(4) {
            let at = chance.below(held.len());
            held[at] = [chance.below(256) as u8, 0xff, 0, held[at] ^ 1][chance.below(4)];
        }
        held.truncate(held.len() - chance.below(3));
        fs::write(
            folder.join(format!("hostile-{number}.bin")),
            pack::lzma(&held)?,
        )?;
    }
    Ok(())
}

/// A module with an instruction of every kind that packing tells apart.
fn module() -> Vec<u8> {
    let mut types = TypeSection::new();
    types.ty().function([ValType::I32], [ValType::I32]);
    let mut functions = FunctionSection::new();
    let mut memory = MemorySection::new();
    memory.memory(MemoryType {
        minimum: 1,
        maximum: None,
        memory64: false,
        shared: false,
        page_size_log2: None,
    });
    let mut code = CodeSection::new();
    for round in 0..60 {
        functions.function(0);
        let mut body = Function::new([(2, ValType::F64), (1, ValType::I64), (3, ValType::I32)]);
        let at = MemArg {
            offset: 1 << (round % 30),
            align: 0,
            memory_index: 0,
        };
        let mut write = body.instructions();
        write
            .block(BlockType::Empty)
            .loop_(BlockType::Result(ValType::I32));
        write.local_get(0).br_table([0, 1], 1).end().drop().end();
        write.i64_const(-(1 << round)).local_set(3);
        write
            .f64_const(Ieee64::from(f64::from(round) / 7.0))
            .local_tee(1)
            .drop();
        write
            .f32_const(Ieee32::from(1.5))
            .i32_trunc_sat_f32_s()
            .local_set(4);
        write
            .local_get(4)
            .local_get(0)
            .i32_load8_u(at)
            .i32_store(at);
        write
            .i32_const(round - 30)
            .i32_const(1 << 29)
            .i32_const(9)
            .memory_copy(0, 0);
        write
            .i32_const(0)
            .i32_const(0)
            .memory_size(0)
            .memory_fill(0);
        write.local_get(0);
        // So that lengths of two and three bytes come up.
        for _ in 0..if round == 7 { 20_000 } else { round } {
            write.nop();
        }
        write.if_(BlockType::Empty).else_().end();
        write.i32_const(1).call(round.unsigned_abs()).end();
        code.function(&body);
    }
    let mut data = DataSection::new();
    data.passive(*b"reef, reef and reef again");
    let mut module = Module::new();
    module.section(&types).section(&functions).section(&memory);
    module.section(&DataCountSection { count: 1 });
    module.section(&code).section(&data);
    module.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sample_of_code_is_a_wasm_of_many_kinds() {
        wasmparser::validate(&module()).unwrap();
        assert!(module().len() > 20_000);
    }
}
