//! The words of one language, by key, and how that language writes numbers.
//!
//! The words come from a file beside the element's script (`element/words`), so that a buyer fetches one language and no other.
//! A text may have holes, as `{least}`; a counted text stands under a key for each form of the plural, `.one` and `.other`.

use scantling_pricing::book::document::{DocumentError, Node};
use scantling_pricing::book::values::Day;
use scantling_pricing::measure::{DecimalMark, Length, LengthUnit};
use scantling_pricing::money::Money;

use crate::platform;

/// A word or sentence without holes, by its key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Word(pub(crate) &'static str);

/// Everything said in one language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// Keys and texts. A hundred and some of them: looking one up goes through them in turn.
    texts: Vec<(String, Node)>,
    /// The language of the page, for numbers, amounts, dates and names of countries.
    locale: String,
    /// The mark that language puts before decimals.
    mark: DecimalMark,
}

impl Words {
    /// Reads a table of words, for a page in a language.
    ///
    /// # Errors
    /// When the text is no table.
    pub fn read(text: &str, locale: String) -> Result<Self, DocumentError> {
        let node = Node::read(text)?;
        let Node::Table(texts) = node else { return Err(node.wrong("a table of words")) };
        let mark = mark_of(&locale);
        Ok(Self { texts, locale, mark })
    }

    /// The language of the words, which is not the page's where there are none in it.
    #[must_use]
    pub fn language(&self) -> &str {
        self.text("language")
    }

    /// The mark before decimals.
    #[must_use]
    pub fn mark(&self) -> DecimalMark {
        self.mark
    }

    fn known(&self, wanted: &str) -> Option<&str> {
        self.texts.iter().find_map(|(key, text)| match text {
            Node::Text(text) if key == wanted => Some(text.as_str()),
            _ => None,
        })
    }

    /// A text by its key; a key that is in no table stands for itself, so that nothing is said rather than something wrong.
    fn text<'s>(&'s self, key: &'s str) -> &'s str {
        self.known(key).unwrap_or(key)
    }

    /// A text without holes.
    #[must_use]
    pub fn say(&self, word: Word) -> String {
        self.text(word.0).to_owned()
    }

    /// A text with its holes filled.
    pub(crate) fn fill(&self, key: &str, holes: &[(&str, &str)]) -> String {
        filled(self.text(key), holes)
    }

    /// A counted text with its holes filled, in the form of the plural the language has for this count.
    pub(crate) fn counted(&self, key: &str, count: &str, holes: &[(&str, &str)]) -> String {
        let form = platform::plural(self.language(), count);
        let of_form = |form: &str| self.known(&[key, form].join("."));
        filled(form.as_deref().and_then(of_form).or_else(|| of_form("other")).unwrap_or(key), holes)
    }

    /// A number that is written in digits with a decimal point.
    #[must_use]
    pub fn number(&self, digits: &str) -> String {
        platform::number(&self.locale, digits).unwrap_or_else(|| digits.to_owned())
    }

    /// An amount: whole where it has no cents, else to the minor unit.
    #[must_use]
    pub fn money(&self, amount: Money) -> String {
        platform::money(&self.locale, amount).unwrap_or_else(|| amount.to_string())
    }

    /// A day.
    #[must_use]
    pub fn day(&self, day: &Day) -> String {
        platform::day(&self.locale, day.as_str()).unwrap_or_else(|| day.as_str().to_owned())
    }

    /// A length as the language writes it, and as a field of ours reads it.
    #[must_use]
    pub fn length(&self, length: Length, unit: LengthUnit) -> String {
        marked(length.show(unit), self.mark)
    }

    /// The name of a country by its two letters.
    pub(crate) fn country(&self, code: &str) -> String {
        platform::country(&self.locale, code).unwrap_or_else(|| code.to_owned())
    }
}

/// A figure of a length with the decimal mark of a language.
pub(crate) fn marked(figure: String, mark: DecimalMark) -> String {
    match mark {
        DecimalMark::Point => figure,
        DecimalMark::Comma => figure.replace('.', ","),
    }
}

/// Fills the holes of a text. A hole that nothing fills is left as it stands: it shows what is missing.
fn filled(text: &str, holes: &[(&str, &str)]) -> String {
    let (mut out, mut rest) = (String::new(), text);
    while let Some((before, opened)) = rest.split_once('{') {
        out.push_str(before);
        let known = opened.split_once('}').and_then(|(name, after)| {
            let (_, value) = holes.iter().find(|(hole, _)| *hole == name)?;
            Some((*value, after))
        });
        let (value, after) = known.unwrap_or(("{", opened));
        out.push_str(value);
        rest = after;
    }
    out.push_str(rest);
    out
}

/// Languages that write a comma before decimals. Source: from memory of the Unicode locale data; both marks are read anyway,
/// and the choice only decides what `1,840` means and how a size is written.
fn mark_of(locale: &str) -> DecimalMark {
    const COMMA: &str = " bg cs da de el es et fi fr hu it lt lv nb nl pl pt ro sk sv ";
    let main = locale.split('-').next().unwrap_or("");
    let listed = main.len() == 2 && COMMA.split(' ').any(|language| language == main);
    if listed { DecimalMark::Comma } else { DecimalMark::Point }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_are_filled_by_name_and_nothing_else_is_read_into_a_text() {
        let holes = [("least", "1"), ("most", "{least}")];
        assert_eq!(
            filled("{most} down to {least}", &holes),
            "{least} down to 1",
            "what fills a hole is not read again"
        );
        assert_eq!(filled("{unknown} and {open and {least}", &holes), "{unknown} and {open and 1");
        assert_eq!(filled("", &holes), "");
    }

    #[test]
    fn a_size_is_written_with_the_mark_it_is_read_with() {
        let shelf = Length::from_nanometres(1_234_500_000);
        for (locale, written) in
            [("en-US", "1234.5 mm"), ("de-AT", "1234,5 mm"), ("es", "1234,5 mm"), ("ja", "1234.5 mm")]
        {
            let words = Words::read("{}", locale.into()).unwrap();
            assert_eq!(words.length(shelf, LengthUnit::Millimetre), written);
            let read = scantling_pricing::measure::read_length(written, LengthUnit::Inch, words.mark());
            assert_eq!(read, Ok(shelf), "{locale}");
        }
    }

    #[test]
    fn one_is_said_otherwise_than_two_and_a_key_that_is_missing_stands_for_itself() {
        let text = r#"{"days.one": "a day", "days.other": "{days} days", "odd.other": "{n} of it", "no-text": 3}"#;
        let words = Words::read(text, "en".into()).unwrap();
        assert_eq!(words.counted("days", "1", &[("days", "1")]), "a day");
        assert_eq!(words.counted("days", "1.5", &[("days", "1.5")]), "1.5 days");
        assert_eq!(
            words.counted("odd", "1", &[("n", "1")]),
            "1 of it",
            "a form the table lacks is said in the other one"
        );
        assert_eq!(words.counted("gone", "1", &[]), "gone");
        assert_eq!(words.say(Word("no-text")), "no-text");
    }

    #[test]
    fn what_is_no_table_of_words_is_refused() {
        assert!(Words::read("[]", "en".into()).is_err());
        assert!(Words::read("{", "en".into()).is_err());
    }
}
