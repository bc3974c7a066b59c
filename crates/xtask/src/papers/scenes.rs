//! Scenes of the papers: the command run on the demo's book and a brief, each with what is changed in them.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};

use crate::shell::{cargo, root, run};

/// What a scene is, as `scenes.json` says it.
#[derive(Debug)]
struct Scene {
    /// The words of the command; `BOOK` and `BRIEF` stand for the files.
    run: Vec<String>,
    /// Where the files are, and what is changed in them, by JSON pointer (RFC 6901).
    files: BTreeMap<&'static str, (String, BTreeMap<String, Value>)>,
}

/// All scenes, each run once it is asked for.
#[derive(Debug)]
pub(super) struct Scenes {
    all: BTreeMap<String, Scene>,
    found: BTreeMap<String, Value>,
    /// Those that were asked for.
    used: RefCell<BTreeSet<String>>,
    scratch: PathBuf,
}

/// The files a scene may have, by the word that stands for them, and the demo's own.
const FILES: [(&str, &str, &str); 2] =
    [("BOOK", "book", "shared/books/demo-shop.json"), ("BRIEF", "brief", "shared/briefs/table-to-chicago.json")];

/// Reads `scenes.json`, and builds the command they are run with.
pub(super) fn read(file: &Path) -> Result<Scenes> {
    let text = fs::read_to_string(file).with_context(|| format!("{} can't be read", file.display()))?;
    let found: BTreeMap<String, Value> =
        serde_json::from_str(&text).with_context(|| format!("{} is not as it should be", file.display()))?;
    let all = found.into_iter().map(|(name, scene)| Ok((name.clone(), one(&name, &scene)?))).collect::<Result<_>>()?;
    run(cargo().args(["build", "--quiet", "--package", "scantling-cli"]))?;
    let scratch = root().join("target/papers-scratch");
    fs::create_dir_all(&scratch)?;
    Ok(Scenes { all, found: BTreeMap::new(), used: RefCell::default(), scratch })
}

fn one(name: &str, scene: &Value) -> Result<Scene> {
    let run = scene.get("run").and_then(Value::as_str).with_context(|| format!("the scene {name} says no run"))?;
    let mut files = BTreeMap::new();
    for (word, key, usual) in FILES {
        let path = scene.get(key).and_then(Value::as_str).unwrap_or(usual).to_owned();
        let changes = scene.get(format!("{key} with")).and_then(Value::as_object);
        let changes = changes.into_iter().flatten().map(|(place, value)| (place.clone(), value.clone())).collect();
        files.insert(word, (path, changes));
    }
    Ok(Scene { run: run.split_whitespace().map(str::to_owned).collect(), files })
}

impl Scenes {
    /// What the command prints for programs in this scene; after `.book` or `.brief`, the file it is run on.
    pub(super) fn json(&mut self, name: &str) -> Result<&Value> {
        if !self.found.contains_key(name) {
            let document = match name.split_once('.') {
                Some((scene, file)) => self.document(scene, file)?,
                None => serde_json::from_str(&self.run(name, &["--json"])?)?,
            };
            self.found.insert(name.to_owned(), document);
        }
        self.found.get(name).context("a scene that was run")
    }

    fn document(&self, scene: &str, file: &str) -> Result<Value> {
        let (word, ..) = FILES.iter().find(|(_, key, _)| *key == file).context("a scene has a book and a brief")?;
        let (path, changes) = self.scene(scene)?.files.get(word).context("a scene has its files")?;
        Ok(serde_json::from_str(&fs::read_to_string(root().join(self.file(scene, path, changes)?))?)?)
    }

    /// What the command prints for people.
    pub(super) fn text(&self, name: &str) -> Result<String> {
        self.run(name, &[])
    }

    /// The command as a reader would write it.
    pub(super) fn command(&self, name: &str) -> Result<String> {
        let scene = self.scene(name)?;
        let words = scene.run.iter().map(|word| scene.files.get(word.as_str()).map_or(word, |(path, _)| path).as_str());
        Ok(std::iter::once("scantling").chain(words).collect::<Vec<_>>().join(" "))
    }

    /// What stands after a word of the command, as the 4200 of `--budget 4200`.
    pub(super) fn asked(&self, name: &str, option: &str) -> Result<String> {
        let words = &self.scene(name)?.run;
        let after = words.iter().skip_while(|word| *word != option).nth(1);
        after.cloned().with_context(|| format!("the command of the scene {name} has no {option} with a word after it"))
    }

    /// Those that no paper has asked for.
    pub(super) fn unused(&self) -> impl Iterator<Item = String> {
        let used = self.used.borrow().clone();
        self.all.keys().filter(move |name| !used.contains(*name)).cloned()
    }

    fn scene(&self, name: &str) -> Result<&Scene> {
        self.used.borrow_mut().insert(name.to_owned());
        let known = || self.all.keys().cloned().collect::<Vec<_>>().join(", ");
        self.all.get(name).with_context(|| format!("there is no scene “{name}”; there are: {}", known()))
    }

    fn run(&self, name: &str, more: &[&str]) -> Result<String> {
        let scene = self.scene(name)?;
        let mut command = Command::new(root().join("target/debug/scantling"));
        command.current_dir(root());
        for word in &scene.run {
            match scene.files.get(word.as_str()) {
                Some((path, changes)) => command.arg(self.file(name, path, changes)?),
                None => command.arg(word),
            };
        }
        let output = command.args(more).output().context("the command can't be started")?;
        if !output.status.success() {
            let said = [output.stdout, output.stderr].concat();
            bail!("the scene {name} fails: {}", String::from_utf8_lossy(&said).trim());
        }
        Ok(String::from_utf8(output.stdout)?)
    }

    /// The file, or a copy of it with what is changed.
    fn file(&self, scene: &str, path: &str, changes: &BTreeMap<String, Value>) -> Result<PathBuf> {
        if changes.is_empty() {
            return Ok(path.into());
        }
        let text = fs::read_to_string(root().join(path)).with_context(|| format!("{path} can't be read"))?;
        let mut document: Value = serde_json::from_str(&text)?;
        for (place, value) in changes {
            put(&mut document, place, value).with_context(|| format!("the scene {scene}: {path} has no {place}"))?;
        }
        let name =
            Path::new(path).file_name().map_or_else(Default::default, |name| name.to_string_lossy().into_owned());
        let copy = self.scratch.join(format!("{scene}-{name}"));
        fs::write(&copy, document.to_string())?;
        Ok(copy)
    }
}

/// Puts a value at a place; nothing takes a key away, and only a key of a table may be new.
fn put(document: &mut Value, place: &str, value: &Value) -> Option<()> {
    let (above, key) = place.rsplit_once('/')?;
    let above = document.pointer_mut(above)?;
    if *value == json!(null) {
        above.as_object_mut()?.remove(key)?;
        return Some(());
    }
    match above {
        Value::Object(table) => drop(table.insert(key.replace("~1", "/"), value.clone())),
        Value::Array(rows) => *rows.get_mut(key.parse::<usize>().ok()?)? = value.clone(),
        _ => return None,
    }
    Some(())
}
