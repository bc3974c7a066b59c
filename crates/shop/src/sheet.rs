//! A document as it is edited: a tree that need not be sound at every keystroke, and every edit of it, to be undone and done again.

mod edit;
mod held;
mod path;

pub use edit::Edit;
pub use held::Held;
pub use path::{Path, Step};

use scantling_pricing::book::document::{DocumentError, Node};

/// A document and the edits that made it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    root: Node,
    /// What was done, oldest first: edits that belong together, undone together.
    done: Vec<Together>,
    /// What was undone, to be done again, newest last.
    undone: Vec<Together>,
    /// Why it is only looked at, if it is.
    held: Option<Held>,
}

/// Edits that belong together, with the words the maker is told.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Together {
    what: String,
    /// Each edit and the one that takes it back.
    edits: Vec<(Edit, Edit)>,
    /// The place that is still being typed at: what comes next there belongs to the same edit.
    typing: Option<Path>,
}

impl Sheet {
    /// Opens a document.
    ///
    /// # Errors
    /// When the text is no JSON, or too large.
    pub fn open(text: &str) -> Result<Self, DocumentError> {
        Ok(Self::of(Node::read(text)?))
    }

    /// A document that is a tree already.
    #[must_use]
    pub const fn of(root: Node) -> Self {
        Self { root, done: Vec::new(), undone: Vec::new(), held: None }
    }

    /// The document as it stands.
    #[must_use]
    pub const fn root(&self) -> &Node {
        &self.root
    }

    /// What stands at a place.
    #[must_use]
    pub fn at(&self, path: &Path) -> Option<&Node> {
        path.find(&self.root)
    }

    /// The document as text, as short as it goes.
    #[must_use]
    pub fn text(&self) -> String {
        // A tree of text, whole numbers, lists and tables can always be written.
        serde_json::to_string(&self.root).unwrap_or_default()
    }

    /// The document as text for a file that people may look into.
    #[must_use]
    pub fn laid_out(&self) -> String {
        serde_json::to_string_pretty(&self.root).unwrap_or_default()
    }

    /// Makes edits that belong together, in their order; says whether all could be made. Where one can't, none is.
    pub fn edit(&mut self, what: &str, edits: Vec<Edit>) -> bool {
        self.make(what, edits, None)
    }

    /// Makes the edits of one keystroke at a place. All keystrokes there until [`Sheet::typed`] are one edit, undone together.
    pub fn type_at(&mut self, what: &str, place: &Path, edits: Vec<Edit>) -> bool {
        self.make(what, edits, Some(place))
    }

    /// What is typed from here on is an edit of its own.
    pub fn typed(&mut self) {
        if let Some(last) = self.done.last_mut() {
            last.typing = None;
        }
    }

    fn make(&mut self, what: &str, edits: Vec<Edit>, typing: Option<&Path>) -> bool {
        if self.held.is_some() {
            return false;
        }
        let mut made: Vec<(Edit, Edit)> = Vec::with_capacity(edits.len());
        for edit in edits {
            let Some(back) = edit.make(&mut self.root) else {
                for (_, back) in made.iter().rev() {
                    back.make(&mut self.root);
                }
                return false;
            };
            // What changes nothing is not worth an undo.
            if edit != back {
                made.push((edit, back));
            }
        }
        if !made.is_empty() {
            self.undone.clear();
            match self.done.last_mut().filter(|last| typing.is_some() && last.typing.as_ref() == typing) {
                Some(last) => last.edits.extend(made),
                None => self.done.push(Together { what: what.to_owned(), edits: made, typing: typing.cloned() }),
            }
        }
        true
    }

    /// The edits that make this document another one, a part at a time.
    #[must_use]
    pub fn towards(&self, other: &Self) -> Vec<Edit> {
        let (Node::Table(now), Node::Table(then)) = (&self.root, &other.root) else { return Vec::new() };
        let place = |key: &str| Path::whole().key(key);
        let gone = now.iter().filter(|(key, _)| then.iter().all(|(other, _)| other != key));
        let gone = gone.map(|(key, _)| Edit::Clear(place(key)));
        let other = then.iter().filter(|entry| !now.contains(entry));
        gone.chain(other.map(|(key, value)| Edit::set(place(key), value.clone()))).collect()
    }

    /// Edits with the tables they lie in put before them, where those are not there yet.
    #[must_use]
    pub fn with_tables(&self, edits: Vec<Edit>) -> Vec<Edit> {
        let mut made: Vec<Path> = Vec::new();
        let mut all = Vec::with_capacity(edits.len());
        for edit in edits {
            let mut missing = Vec::new();
            let mut at = edit.place().last().map(|(above, _)| above);
            while let Some(above) = at.filter(|above| self.at(above).is_none() && !made.contains(above)) {
                at = above.last().map(|(higher, _)| higher);
                missing.push(above);
            }
            for place in missing.into_iter().rev() {
                all.push(Edit::set(place.clone(), Node::Table(Vec::new())));
                made.push(place);
            }
            all.push(edit);
        }
        all
    }

    /// What the next undo takes back.
    #[must_use]
    pub fn last_done(&self) -> Option<&str> {
        self.done.last().map(|together| together.what.as_str())
    }

    /// What the next redo does again.
    #[must_use]
    pub fn last_undone(&self) -> Option<&str> {
        self.undone.last().map(|together| together.what.as_str())
    }

    /// Takes the last edits back.
    pub fn undo(&mut self) {
        if let Some(mut together) = self.done.pop() {
            together.typing = None;
            for (_, back) in together.edits.iter().rev() {
                back.make(&mut self.root);
            }
            self.undone.push(together);
        }
    }

    /// Does the edits that were last taken back again.
    pub fn redo(&mut self) {
        if let Some(together) = self.undone.pop() {
            for (edit, _) in &together.edits {
                edit.make(&mut self.root);
            }
            self.done.push(together);
        }
    }
}
