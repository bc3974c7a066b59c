//! The wasm-bindgen test runner, built from our own lock file: nothing is installed by hand, and it always fits the library.

fn main() -> anyhow::Result<()> {
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os())
}
