//! A request as a letter: words for the maker, a block for the maker's program, and the whole as a mail link.

use scantling_pricing::request::Request;

use crate::wording::{self, passing_on};
use crate::words::Words;

/// The longest mail link. Source: `shared/reference/delivery/request.md` section 1: programs cut them at about 2000 characters.
pub const LONGEST_URI: usize = 1900;

/// What a letter is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Letter {
    /// What it is about, on one line.
    pub subject: String,
    /// What is asked for, label by label.
    pub rows: Vec<(String, String)>,
    /// What the buyer was told it comes to.
    pub told: String,
    /// The request itself.
    pub request: Request,
}

/// A mail link, and whether the whole request is in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mailto {
    /// The link.
    pub uri: String,
    /// False when the text has to be pasted from elsewhere, since it is too long for a link.
    pub whole: bool,
}

impl Letter {
    /// The letter in full.
    #[must_use]
    pub fn text(&self, words: &Words) -> String {
        let mut text = format!("{}\n\n", words.say(passing_on::LETTER_OPENS));
        for (label, value) in &self.rows {
            text.push_str(&wording::role_of(words, label, value));
            text.push('\n');
        }
        text.push('\n');
        text.push_str(&self.close(words));
        text
    }

    /// What every letter that holds the request ends with.
    fn close(&self, words: &Words) -> String {
        let from = &self.request.from;
        let message = from.message.as_ref().map_or(String::new(), |message| format!("{message}\n\n"));
        let block = self.request.mail_block();
        format!(
            "{}\n\n{message}{}\n{}\n\n{}\n{block}\n",
            self.told,
            from.name,
            from.mail,
            words.say(passing_on::FOR_THE_PROGRAM)
        )
    }

    /// A mail link to an address with as much of the letter as it takes: all of it; without the labels, which the block repeats;
    /// or a note that the text is to be pasted.
    #[must_use]
    pub fn mailto(&self, words: &Words, address: &str) -> Mailto {
        let link = |body: &str| mailto(address, &self.subject, body);
        let fits = |uri: &String| uri.len() <= LONGEST_URI;
        if let Some(uri) = [self.text(words), self.close(words)].iter().map(|body| link(body)).find(fits) {
            return Mailto { uri, whole: true };
        }
        Mailto { uri: link(&words.say(passing_on::PASTE_HERE)), whole: false }
    }
}

/// A mail link. Source: RFC 6068, sections 2 and 5: UTF-8 in percent signs, line ends as `%0D%0A`, a space never as `+`.
fn mailto(address: &str, subject: &str, body: &str) -> String {
    let mut uri = "mailto:".to_owned();
    encode(address, &mut uri);
    uri.push_str("?subject=");
    // A line end in a subject could start a header of its own.
    encode(&subject.replace(char::is_control, " "), &mut uri);
    uri.push_str("&body=");
    encode(&body.replace('\n', "\r\n"), &mut uri);
    uri
}

/// Text in the characters a mail link takes as they are, all others by their bytes. `+` and `/` are encoded too: some programs take
/// the one for a space, and the standard leaves out the other.
fn encode(text: &str, uri: &mut String) {
    const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
    let digit = |value: u8| DIGITS.get(usize::from(value)).copied().map_or('0', char::from);
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~!$'()*,;:@".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            uri.push('%');
            uri.push(digit(byte >> 4));
            uri.push(digit(byte & 15));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::summary;
    use mail_parser::MessageParser;
    use scantling_pricing::book::PriceBook;
    use scantling_pricing::book::values::Day;
    use scantling_pricing::brief::Brief;
    use scantling_pricing::estimate::estimate;
    use scantling_pricing::measure::LengthUnit;
    use scantling_pricing::request::Contact;

    fn words() -> Words {
        Words::read(include_str!("../element/words/en.json"), "en".into()).unwrap()
    }

    fn letter(message: &str) -> Letter {
        let book = PriceBook::read(include_str!("../../../public/price-book.json")).unwrap();
        let brief =
            Brief::read(include_str!("../../../shared/briefs/table-to-chicago.json")).unwrap().spelled_out(&book);
        let priced = estimate(&book, &brief).unwrap();
        let brief = Brief { delivery: priced.chosen, ..brief };
        let from = Contact::typed("Jürgen Ödön", "buyer+tables@home.example", message).unwrap();
        let rows = summary::rows(&words(), &book, &brief, &priced, LengthUnit::Inch);
        let request = Request {
            shop: Some(book.shop.name),
            written: Some(Day::new("2026-11-26").unwrap()),
            ..Request::new(brief, &priced, from).unwrap()
        };
        let told = passing_on::told(&words(), "$4,060", "$5,070", "$4,500", "2026-11-25");
        Letter {
            subject: passing_on::subject(&words(), "Trestle table", "84 in × 38 in × 29 1/2 in"),
            rows,
            told,
            request,
        }
    }

    /// What a mail program makes of a link, by the rules: the `url` library takes it apart, another writes the mail, a third reads it.
    fn sent(uri: &str) -> (String, String, String) {
        let link = url::Url::parse(uri).unwrap();
        assert_eq!(link.scheme(), "mailto");
        let field = |name: &str| link.query_pairs().find(|(key, _)| key == name).unwrap().1.into_owned();
        let to = url::form_urlencoded::parse(link.path().replace('+', "%2B").as_bytes()).next().unwrap().0.into_owned();
        let mail = mail_builder::MessageBuilder::new()
            .from("buyer@home.example")
            .to(to)
            .subject(field("subject"))
            .text_body(field("body"))
            .write_to_vec()
            .unwrap();
        let mail = MessageParser::default().parse(&mail).unwrap();
        let to = mail.to().unwrap().first().unwrap().address().unwrap().to_owned();
        (to, mail.subject().unwrap().to_owned(), mail.body_text(0).unwrap().into_owned())
    }

    #[test]
    fn links_are_written_as_the_standard_writes_them() {
        // Source: RFC 6068, sections 2, 5 and 6; the last two are its own examples, with the line end as section 5 asks.
        let of = |subject: &str, body: &str| mailto("bench@shop.example", subject, body);
        assert_eq!(
            of("Table 72×36 & bench", "50% + tax"),
            "mailto:bench@shop.example?subject=Table%2072%C3%9736%20%26%20bench&body=50%25%20%2B%20tax"
        );
        assert!(of("", "send current-issue\nsend index").ends_with("&body=send%20current-issue%0D%0Asend%20index"));
        assert!(of("café", "café").ends_with("?subject=caf%C3%A9&body=caf%C3%A9"));
        assert!(mailto("gorby%kremvax@example.com", "", "").starts_with("mailto:gorby%25kremvax@example.com?"));
        assert!(of("a\r\nBcc: x@y.example", "").contains("?subject=a%20%20Bcc:%20x@y.example&"));
    }

    #[test]
    fn a_letter_goes_through_a_mail_program_and_the_request_is_found_again() {
        for message in ["", "By spring?\n\nThere are two stairs – „steil“ & 70 cm wide; 50% + tax."] {
            let letter = letter(message);
            let link = letter.mailto(&words(), "bench@larkmoor.example");
            assert!(link.whole && link.uri.len() <= LONGEST_URI, "{} characters", link.uri.len());
            let (to, subject, body) = sent(&link.uri);
            assert_eq!(to, "bench@larkmoor.example");
            assert_eq!(subject, "Request: Trestle table, 84 in × 38 in × 29 1/2 in");
            let body = body.replace("\r\n", "\n");
            for said in ["$4,060 to $5,070", "Jürgen Ödön", message] {
                assert!(body.contains(said), "{said} in {body}");
            }
            // The labels are in as long as there is room.
            assert_eq!(body.contains("Top: Black walnut"), message.is_empty(), "{body}");
            assert_eq!(Request::read_mail(&body), Ok(letter.request));
        }
    }

    #[test]
    fn the_more_there_is_to_say_the_less_is_in_the_link_and_never_a_part_of_the_block() {
        let mut pasted = 0;
        for chairs in 0..38 {
            let letter = letter(&"zwölf Stühle ".repeat(chairs * 4));
            let link = letter.mailto(&words(), "bench@larkmoor.example");
            assert!(link.uri.len() <= LONGEST_URI);
            let (_, _, body) = sent(&link.uri);
            if link.whole {
                assert_eq!(Request::read_mail(&body), Ok(letter.request.clone()));
            } else {
                pasted += 1;
                assert!(body.contains("paste") && !body.contains("scantling_request"), "{body}");
            }
            // The text to copy always has it all.
            assert_eq!(Request::read_mail(&letter.text(&words())), Ok(letter.request));
        }
        assert!((20..38).contains(&pasted), "{pasted}");
    }
}
