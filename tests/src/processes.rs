//! The processes of one browser: what is started here and what those start in turn. None is left when this is dropped.
//!
//! A browser outlives a driver that is killed, and a hundred of them slow a machine until the next does not start. So each process
//! carries a mark of this browser alone in its environment, which its own children inherit, and those that carry it are ended by
//! their numbers. Where the system has no `/proc` to read it from, a browser ends by the driver's word only, when the page is closed.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use anyhow::{Context, Result};

/// The variable that holds the mark.
const MARK: &str = "SCANTLING_BROWSER";

/// How often what is left is looked for: a process may be just starting another.
const ROUNDS: u32 = 20;

/// Counts the browsers of this run.
static BROWSERS: AtomicU32 = AtomicU32::new(0);

/// The processes of one browser, and the folder they keep everything in.
#[derive(Debug)]
pub(crate) struct Processes {
    folder: PathBuf,
    children: Vec<Child>,
}

impl Processes {
    /// A fresh folder, and nothing started.
    pub(crate) fn new() -> Result<Self> {
        let number = BROWSERS.fetch_add(1, Ordering::Relaxed);
        let folder = std::env::temp_dir().join(format!("scantling-browser-{}-{number}", std::process::id()));
        fs::create_dir_all(&folder).with_context(|| format!("{} can't be made", folder.display()))?;
        Ok(Self { folder, children: Vec::new() })
    }

    /// The folder.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Starts a command, marked, with the folder for its home: nothing of the person at this machine reaches the browser, and
    /// nothing of the browser's stays.
    pub(crate) fn start(&mut self, command: &mut Command) -> Result<&mut Child> {
        command.stdin(Stdio::null()).stderr(Stdio::null()).env(MARK, &self.folder);
        for name in ["HOME", "TMPDIR", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"] {
            command.env(name, &self.folder);
        }
        self.children.push(command.spawn()?);
        self.children.last_mut().context("what was started is gone")
    }
}

impl Drop for Processes {
    fn drop(&mut self) {
        for child in &mut self.children {
            drop(child.kill());
        }
        for _ in 0..ROUNDS {
            let left = marked(&self.folder);
            if left.is_empty() {
                break;
            }
            // The shell's own command: the program of that name is not on every machine.
            drop(Command::new("sh").args(["-c", "kill -KILL \"$@\"", "sh"]).args(&left).stderr(Stdio::null()).status());
            std::thread::sleep(Duration::from_millis(20));
        }
        for child in &mut self.children {
            drop(child.wait());
        }
        drop(fs::remove_dir_all(&self.folder));
    }
}

/// The numbers of the processes that carry a mark.
fn marked(folder: &Path) -> Vec<String> {
    let wanted = format!("{MARK}={}", folder.display());
    let carries = |process: &Path| {
        fs::read(process.join("environ"))
            .is_ok_and(|all| all.split(|byte| *byte == 0).any(|one| one == wanted.as_bytes()))
    };
    let processes = fs::read_dir("/proc").into_iter().flatten().flatten().map(|entry| entry.path());
    let numbers = processes.filter(|process| carries(process));
    numbers.filter_map(|process| process.file_name()?.to_str().map(str::to_owned)).collect()
}

#[cfg(test)]
mod tests {
    use std::time::Instant;

    use super::*;

    #[test]
    fn none_is_left_of_what_was_started_or_of_what_that_started_and_left_behind() {
        let mut processes = Processes::new().unwrap();
        let folder = processes.folder().to_owned();
        // A shell that starts two others and goes, as a browser's helpers outlive what started them.
        processes.start(Command::new("sh").args(["-c", "sleep 600 & sleep 600 &"])).unwrap().wait().unwrap();
        let start = Instant::now();
        while marked(&folder).len() < 2 && start.elapsed() < Duration::from_secs(10) {
            std::thread::sleep(Duration::from_millis(10));
        }
        assert_eq!(marked(&folder).len(), 2);
        drop(processes);
        assert_eq!(marked(&folder), Vec::<String>::new());
        assert!(!folder.exists());
    }
}
