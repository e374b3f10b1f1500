//! Runs the wasm tests in a browser or in Node; cargo calls it with each test file.
//!
//! The tool is built from source with the workspace, so its version follows Cargo.lock and can
//! never differ from that of the `wasm-bindgen` the tests were compiled with.

fn main() -> std::process::ExitCode {
    match wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os()) {
        Ok(()) => std::process::ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error:?}");
            std::process::ExitCode::FAILURE
        }
    }
}
