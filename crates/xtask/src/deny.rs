//! `cargo xtask deny`: licences and sources as another program sees them, what was withdrawn of what we build with, and what is known
//! against it.
//!
//! The public list of what is known lies on a host of its own: without it the command says so and fails. That a hit would be found is
//! proved each time without that host, by a list of one invented advisory.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::shell::{cargo, root, run};
use crate::tools;

/// What is checked, and how.
const CONFIG: &str = "crates/deny.toml";

/// Where a list in a folder is said to lie, since the checker wants a host in its address: a name that no host may have (RFC 2606, 2).
/// Git is told to look into the folder instead.
const STAND_IN: &str = "https://list.invalid/advisories";

/// A package we use, against which the invented advisory speaks.
const USED: &str = "rust_decimal";

/// One that nobody may publish, having a letter that no package's name may have: against us it says nothing.
const UNUSED: &str = "no.such.package";

/// The name of the invented advisory.
const INVENTED: &str = "INVENTED-2026-0001";

/// All of it; what is known by the public list, or by the one in this folder, a git repository with a branch `main`.
///
/// # Errors
/// Whatever is found, and that the public list can't be had.
pub(crate) fn deny(list: Option<&Path>) -> Result<()> {
    terms()?;
    proved()?;
    match list {
        Some(folder) => known_by(folder)?,
        None => known()?,
    }
    println!("nothing is known against the packages by that list");
    Ok(())
}

/// Licences, bans and sources.
///
/// # Errors
/// When one is not as it should be.
pub(crate) fn terms() -> Result<()> {
    run(checker(Path::new(CONFIG))?.args(["check", "licenses", "bans", "sources"]))
}

/// What is known by the public list.
///
/// # Errors
/// When it can't be had, or something is.
pub(crate) fn known() -> Result<()> {
    let checked = run(checker(Path::new(CONFIG))?.args(["check", "advisories"]));
    checked.context("what is known against the packages was not looked at, or something is: see above")
}

/// By an invented list: an advisory against a package of ours is found, one against another is not; and with the latter, that nothing we
/// build with has been withdrawn from the registry.
///
/// # Errors
/// When the check does not tell the two apart, or a package was withdrawn.
pub(crate) fn proved() -> Result<()> {
    let folder = scratch("invented")?;
    invented(&folder, USED)?;
    let output = listed(&folder)?.output().context("the checker can't be started")?;
    let said = String::from_utf8_lossy(&output.stderr);
    if output.status.success() || !said.contains(INVENTED) {
        bail!("an invented advisory against {USED} was not found: the check finds nothing\n{said}");
    }
    println!("an invented advisory against {USED} is found");
    // What the registry says today, not on the day the packages were fetched.
    run(cargo().args(["update", "--dry-run", "--quiet"])).context("the registry can't be asked what was withdrawn")?;
    let folder = scratch("invented")?;
    invented(&folder, UNUSED)?;
    let clean = run(&mut listed(&folder)?);
    clean.context("a package was withdrawn from the registry, or the check fails with nothing known: see above")?;
    println!("with nothing known it passes, and nothing we build with was withdrawn");
    Ok(())
}

/// What is known by the list in a folder.
fn known_by(folder: &Path) -> Result<()> {
    let folder = folder.canonicalize().with_context(|| format!("{} is no folder", folder.display()))?;
    let checked = run(&mut listed(&folder)?);
    checked.context("something is known against the packages by that list, or it can't be read: see above")
}

/// The check by the list in a folder. That the registry said nothing of a package counts as a fault too.
fn listed(folder: &Path) -> Result<Command> {
    let beside = scratch("list")?;
    let text = fs::read_to_string(root().join(CONFIG)).with_context(|| format!("{CONFIG} can't be read"))?;
    let config = beside.join("deny.toml");
    fs::write(&config, with_list(&text, &beside.join("fetched"))?)?;
    let mut checker = checker(&config)?;
    // Git's own settings stay as they are: this one lasts as long as the command.
    checker
        .env("GIT_CONFIG_COUNT", "1")
        .env("GIT_CONFIG_KEY_0", format!("url.file://{}.insteadOf", folder.display()))
        .env("GIT_CONFIG_VALUE_0", STAND_IN)
        .args(["check", "--deny", "index-failure", "advisories"]);
    Ok(checker)
}

/// The settings with the stand-in's address, and where what is fetched from there goes.
fn with_list(config: &str, fetched: &Path) -> Result<String> {
    const HEAD: &str = "[advisories]\n";
    let (before, after) = config.split_once(HEAD).with_context(|| format!("{CONFIG} has no {HEAD}"))?;
    let path = fetched.to_str().context("the folder's name is no text")?;
    Ok(format!("{before}{HEAD}db-urls = [{STAND_IN:?}]\ndb-path = {path:?}\n{after}"))
}

/// A list of one advisory against this package, in all its versions.
fn invented(folder: &Path, package: &str) -> Result<()> {
    let about = folder.join("crates").join(package);
    fs::create_dir_all(&about)?;
    fs::write(about.join(format!("{INVENTED}.md")), advisory(package))?;
    let git = |arguments: &[&str]| {
        let author = ["-c", "user.name=nobody", "-c", "user.email=nobody@list.invalid", "-c", "commit.gpgsign=false"];
        run(Command::new("git").arg("-C").arg(folder).args(author).args(arguments))
    };
    git(&["init", "--quiet", "--initial-branch=main"])?;
    git(&["add", "--all"])?;
    git(&["commit", "--quiet", "--message", "An invented advisory"])
}

/// An advisory as such lists have it.
fn advisory(package: &str) -> String {
    format!(
        "```toml\n[advisory]\nid = \"{INVENTED}\"\npackage = \"{package}\"\ndate = \"2026-01-01\"\n\n[versions]\npatched = []\n```\n\n\
         # Invented\n\nTo see that it is found. It says nothing about the package.\n"
    )
}

/// An empty folder for the length of a check.
fn scratch(name: &str) -> Result<PathBuf> {
    let folder = root().join("target/deny").join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    fs::create_dir_all(&folder)?;
    Ok(folder)
}

fn checker(config: &Path) -> Result<Command> {
    let mut checker = tools::denier()?;
    checker.arg("--config").arg(config);
    Ok(checker)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_settings_are_ours_with_another_list() {
        let ours = fs::read_to_string(root().join(CONFIG)).unwrap();
        let with = with_list(&ours, Path::new("/somewhere/fetched")).unwrap();
        let added: Vec<&str> = with.lines().filter(|line| !ours.lines().any(|own| own == *line)).collect();
        assert_eq!(added, ["db-urls = [\"https://list.invalid/advisories\"]", "db-path = \"/somewhere/fetched\""]);
        assert!(ours.lines().all(|line| with.lines().any(|other| other == line)));
        assert!(with_list("[graph]\n", Path::new("x")).is_err());
    }

    #[test]
    fn the_invented_advisory_is_against_a_package_we_do_use() {
        let lock = fs::read_to_string(root().join("Cargo.lock")).unwrap();
        assert!(lock.contains(&format!("name = \"{USED}\"")) && !lock.contains(UNUSED));
    }
}
