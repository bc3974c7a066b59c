//! A page of the papers: from Markdown to HTML, with what it links to and what can be linked to in it.

use std::collections::BTreeSet;

use pulldown_cmark::{CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, html};

/// A page that was read.
#[derive(Debug)]
pub(super) struct Page {
    pub(super) title: String,
    /// What can be linked to: the headings, as `of-their-words`.
    pub(super) anchors: BTreeSet<String>,
    /// Where its links lead, as they are written.
    pub(super) links: Vec<String>,
    /// The pictures it shows.
    pub(super) pictures: Vec<String>,
    body: String,
}

impl Page {
    /// Reads a page whose places are filled.
    pub(super) fn read(markdown: &str) -> Self {
        let mut events: Vec<Event<'_>> = Parser::new_ext(markdown, Options::ENABLE_TABLES).collect();
        let mut page = Self {
            title: String::new(),
            anchors: BTreeSet::new(),
            links: Vec::new(),
            pictures: Vec::new(),
            body: String::new(),
        };
        for at in 0..events.len() {
            let words = words_after(&events, at);
            match events.get_mut(at) {
                Some(Event::Start(Tag::Heading { level, id, .. })) => {
                    let anchor = anchor(&words);
                    *id = Some(anchor.clone().into());
                    page.anchors.insert(anchor);
                    if *level == HeadingLevel::H1 {
                        page.title = words;
                    }
                }
                Some(Event::Start(Tag::Link { dest_url, .. })) => {
                    page.links.push(dest_url.to_string());
                    *dest_url = CowStr::from(dest_url.replace(".md", ".html"));
                }
                Some(Event::Start(Tag::Image { dest_url, .. })) => page.pictures.push(dest_url.to_string()),
                _ => {}
            }
        }
        html::push_html(&mut page.body, events.into_iter());
        // A wide table scrolls by itself, and can be reached by the keyboard to be scrolled.
        let mut parts = page.body.split("<table>");
        let mut body = parts.next().unwrap_or_default().to_owned();
        for (number, part) in parts.enumerate().map(|(at, part)| (at + 1, part)) {
            body.push_str(&format!(
                "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"Table {number}\"><table>{part}"
            ));
        }
        page.body = body.replace("</table>", "</table></div>");
        page.body = page.body.replace("<pre>", "<pre tabindex=\"0\">");
        page
    }

    /// The whole page, with the list of all pages beside it.
    pub(super) fn html(&self, contents: &str) -> String {
        let title = escaped(&self.title);
        format!(
            "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n\
             <meta name=\"color-scheme\" content=\"light dark\">\n<link rel=\"icon\" href=\"data:,\">\n<title>{title}: papers of Scantling</title>\n\
             <link rel=\"stylesheet\" href=\"papers.css\">\n</head>\n<body>\n<a class=\"skip\" href=\"#paper\">To the paper</a>\n\
             <nav aria-label=\"Papers\">\n{contents}</nav>\n<main id=\"paper\" tabindex=\"-1\">\n{}<footer><p>All prices, slabs, jobs and names of the demo are invented. \
             Every figure was worked out by Scantling when this was built.</p></footer>\n</main>\n</body>\n</html>\n",
            self.body
        )
    }
}

/// The words of the heading that starts here, without its marks.
fn words_after(events: &[Event<'_>], at: usize) -> String {
    let inside = events.iter().skip(at + 1).take_while(|event| !matches!(event, Event::End(TagEnd::Heading(_))));
    let starts = matches!(events.get(at), Some(Event::Start(Tag::Heading { .. })));
    let words = inside.take(if starts { usize::MAX } else { 0 }).filter_map(|event| match event {
        Event::Text(text) | Event::Code(text) => Some(text.as_ref()),
        _ => None,
    });
    words.collect()
}

/// A heading as the end of an address: small letters, figures, and lines between the words.
pub(super) fn anchor(words: &str) -> String {
    let kept = words.trim().to_lowercase();
    let kept = kept.chars().filter(|letter| letter.is_alphanumeric() || matches!(letter, ' ' | '-' | '_'));
    kept.map(|letter| if letter == ' ' { '-' } else { letter }).collect()
}

/// Text inside HTML.
pub(crate) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_can_be_linked_to_and_links_lead_to_pages() {
        let page = Page::read("# What it *means*\n\nSee [there](other.md#a-b).\n\n![A table](pictures/a.svg)\n");
        assert_eq!(page.title, "What it means");
        assert!(page.anchors.contains("what-it-means"), "{:?}", page.anchors);
        assert_eq!(page.links, ["other.md#a-b"]);
        assert_eq!(page.pictures, ["pictures/a.svg"]);
        assert!(page.body.contains("<h1 id=\"what-it-means\">"), "{}", page.body);
        assert!(page.body.contains("href=\"other.html#a-b\""), "{}", page.body);
    }

    #[test]
    fn words_stay_words_in_html() {
        assert_eq!(escaped("a < b & \"c\""), "a &lt; b &amp; &quot;c&quot;");
        assert_eq!(anchor("Kept, linked & sent: how"), "kept-linked--sent-how");
    }
}
