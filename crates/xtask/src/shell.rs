//! Running other commands: where they run, what they print, what is wrong when they fail.

use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};
pub(crate) use xtask::root;

/// The cargo that runs this.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// Runs a command that must succeed; what it prints goes straight through.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let status = command.status().with_context(|| format!("{} can't be started", shown(command)))?;
    if !status.success() {
        bail!("{} failed ({status})", shown(command));
    }
    Ok(())
}

/// Runs a command for what it prints; nothing when it can't be started or fails.
pub(crate) fn said(command: &mut Command) -> Option<String> {
    let output = command.stderr(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// Runs a command, passes on each line it prints and hands it to `each`; says whether it succeeded.
pub(crate) fn follow(command: &mut Command, mut each: impl FnMut(&str)) -> Result<bool> {
    let mut child =
        command.stdout(Stdio::piped()).spawn().with_context(|| format!("{} can't be started", shown(command)))?;
    let output = child.stdout.take().context("its output can't be read")?;
    for line in BufReader::new(output).lines() {
        let line = line?;
        println!("{line}");
        each(&line);
    }
    Ok(child.wait()?.success())
}

/// Whether a program is on the path.
pub(crate) fn at_hand(program: &str) -> bool {
    said(Command::new(program).arg("--version")).is_some()
}

fn shown(command: &Command) -> String {
    let words: Vec<_> = std::iter::once(command.get_program()).chain(command.get_args()).collect();
    words.iter().map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" ")
}
