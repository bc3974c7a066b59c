//! One edit of a document, and the edit that takes it back.

use scantling_pricing::book::document::Node;

use super::path::{Path, Step};

/// One edit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Puts a value at a place: over what stands there, or as a new key of its table, before the key at this index or last.
    Set(Path, Node, Option<usize>),
    /// Takes a key out of a table.
    Clear(Path),
    /// Puts a row into a list, before the one that stands at the index.
    Insert(Path, Node),
    /// Takes a row out of a list.
    Remove(Path),
}

impl Edit {
    /// A value at a place; a new key comes last in its table.
    #[must_use]
    pub const fn set(path: Path, value: Node) -> Self {
        Self::Set(path, value, None)
    }

    /// Where it is made.
    #[must_use]
    pub const fn place(&self) -> &Path {
        match self {
            Self::Set(path, ..) | Self::Clear(path) | Self::Insert(path, _) | Self::Remove(path) => path,
        }
    }

    /// Makes the edit and gives the one that takes it back; nothing, and no change, where it can't be made.
    pub(super) fn make(&self, root: &mut Node) -> Option<Self> {
        match self {
            Self::Set(path, value, at) => set(root, path, value, *at),
            Self::Clear(path) => clear(root, path),
            Self::Insert(path, row) => {
                let (list, index) = row_of(root, path)?;
                (index <= list.len()).then(|| list.insert(index, row.clone()))?;
                Some(Self::Remove(path.clone()))
            }
            Self::Remove(path) => {
                let (list, index) = row_of(root, path)?;
                let row = (index < list.len()).then(|| list.remove(index))?;
                Some(Self::Insert(path.clone(), row))
            }
        }
    }
}

fn set(root: &mut Node, path: &Path, value: &Node, at: Option<usize>) -> Option<Edit> {
    if let Some(held) = path.find_mut(root) {
        let before = std::mem::replace(held, value.clone());
        return Some(Edit::set(path.clone(), before));
    }
    let (parent, Step::Key(key)) = path.last()? else { return None };
    let Node::Table(entries) = parent.find_mut(root)? else { return None };
    let at = at.unwrap_or(entries.len()).min(entries.len());
    entries.insert(at, (key.clone(), value.clone()));
    Some(Edit::Clear(path.clone()))
}

fn clear(root: &mut Node, path: &Path) -> Option<Edit> {
    let (parent, Step::Key(key)) = path.last()? else { return None };
    let Node::Table(entries) = parent.find_mut(root)? else { return None };
    let at = entries.iter().position(|(known, _)| known == key)?;
    let (_, value) = entries.remove(at);
    Some(Edit::Set(path.clone(), value, Some(at)))
}

fn row_of<'n>(root: &'n mut Node, path: &Path) -> Option<(&'n mut Vec<Node>, usize)> {
    let (parent, Step::Index(index)) = path.last()? else { return None };
    let index = *index;
    match parent.find_mut(root)? {
        Node::List(items) => Some((items, index)),
        Node::Null | Node::Bool(_) | Node::Int(_) | Node::Float | Node::Text(_) | Node::Table(_) => None,
    }
}
