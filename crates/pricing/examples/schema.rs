//! Writes the JSON Schema of every document into `shared/schema`; with `--check`, says which file there is not current.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let check = std::env::args().any(|argument| argument == "--check");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../shared/schema");
    let mut current = true;
    for (name, schema) in scantling_pricing::schemas::all() {
        let path = folder.join(format!("{name}.json"));
        let text = serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n";
        if fs::read_to_string(&path).ok().as_ref() == Some(&text) {
            continue;
        }
        current = false;
        if check {
            eprintln!("shared/schema/{name}.json is not what the readers say; run cargo xtask schema");
        } else if let Err(error) = fs::create_dir_all(&folder).and_then(|()| fs::write(&path, text)) {
            eprintln!("{} can't be written: {error}", path.display());
            return ExitCode::FAILURE;
        }
    }
    if check && !current { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}
