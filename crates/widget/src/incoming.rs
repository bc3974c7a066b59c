//! Links to a brief: what is written behind `#`, and which of several widgets on a page it is for.
//!
//! `#scantling=…` is for the first widget; `#scantling.name=…` for the one with that id or, where none has it, in that place, from 1.

/// What every such fragment begins with.
const HEAD: &str = "scantling";

/// Which widget of its page one is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    /// Its id, where it has one.
    pub id: String,
    /// Its place among the widgets of the page, from 1; nothing where it can't be told.
    pub place: Option<u32>,
    /// The ids of all widgets of the page.
    pub ids: Vec<String>,
}

impl Address {
    /// The fragment of a link to this widget.
    #[must_use]
    pub fn fragment(&self, letters: &str) -> String {
        let plain =
            |id: &&str| !id.is_empty() && id.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_');
        match (Some(self.id.as_str()).filter(plain), self.place) {
            (_, Some(1)) | (None, None) => format!("{HEAD}={letters}"),
            (Some(id), _) => format!("{HEAD}.{id}={letters}"),
            (None, Some(place)) => format!("{HEAD}.{place}={letters}"),
        }
    }

    /// The letters of a fragment that is for this widget, with or without `#`.
    #[must_use]
    pub fn letters<'f>(&self, fragment: &'f str) -> Option<&'f str> {
        let fragment = fragment.strip_prefix('#').unwrap_or(fragment);
        let (name, letters) = fragment.strip_prefix(HEAD)?.split_once('=')?;
        let meant = match name.strip_prefix('.') {
            None => name.is_empty() && self.place.is_none_or(|place| place == 1),
            Some("") => false,
            Some(id) if self.ids.iter().any(|known| known == id) => self.id == id,
            Some(place) => place.parse().ok().is_some_and(|place: u32| self.place == Some(place)),
        };
        meant.then_some(letters)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(ids: &[&str]) -> Vec<Address> {
        let all: Vec<String> = ids.iter().map(|id| (*id).to_owned()).collect();
        (1..)
            .zip(ids)
            .map(|(place, id)| Address { id: (*id).to_owned(), place: Some(place), ids: all.clone() })
            .collect()
    }

    #[test]
    fn a_link_leads_to_the_widget_it_was_made_by_and_no_other() {
        for ids in [vec!["", ""], vec!["tables", "shelves"], vec!["", "a b", "3"], vec!["3", "2", "1"]] {
            let widgets = page(&ids);
            for widget in &widgets {
                let fragment = format!("#{}", widget.fragment("AbC-_9"));
                let meant: Vec<_> = widgets.iter().filter(|other| other.letters(&fragment) == Some("AbC-_9")).collect();
                assert_eq!(meant, [widget], "{fragment} of {ids:?}");
            }
        }
    }

    #[test]
    fn a_link_from_a_page_with_one_widget_opens_the_first_of_another_page() {
        let link = page(&["quote"])[0].fragment("x");
        assert_eq!(link, "scantling=x");
        let two = page(&["", ""]);
        assert_eq!((two[0].letters(&link), two[1].letters(&link)), (Some("x"), None));
        // An element whose place can't be told is alone as far as anyone knows.
        let alone = Address { id: String::new(), place: None, ids: Vec::new() };
        assert_eq!(alone.letters(&link), Some("x"));
    }

    #[test]
    fn other_fragments_are_left_to_the_page() {
        let widget = &page(&[""])[0];
        for other in [
            "",
            "#",
            "#estimate",
            "#scantling",
            "#scantlings=x",
            "#scantling.=x",
            "#scantling.2=x",
            "#Scantling=x",
            "#x&scantling=y",
        ] {
            assert_eq!(widget.letters(other), None, "{other}");
        }
    }
}
