//! Reading JSON text into a tree, by RFC 8259 and no further: no comment, no comma too many, no key without quotes.
//!
//! By hand, since the serialisation library's own reader weighs ten kilobytes in a buyer's browser, and this a fifth of it. Tests hold
//! it against that library, which still writes all there is to write.

use super::document::Node;

/// Lists and tables may stand this deep in one another, so that no text can use up the stack.
const DEEPEST: u32 = 127;

/// What was expected, and how many bytes into the text something else stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotJson {
    /// What is missing or wrong there.
    pub what: &'static str,
    /// Bytes before the place.
    pub at: usize,
}

/// Reads a text that is one JSON value.
///
/// # Errors
/// The first place that is no JSON.
pub fn read_json(text: &str) -> Result<Node, NotJson> {
    let mut reader = Reader { text, at: 0, deep: 0 };
    let read = reader.value().and_then(|value| {
        reader.skip_spaces();
        if reader.peek().is_none() { Ok(value) } else { Err("the text goes on after its end") }
    });
    read.map_err(|what| NotJson { what, at: reader.at })
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    deep: u32,
}

type Read<T> = Result<T, &'static str>;

impl<'t> Reader<'t> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn step(&mut self) {
        self.at = self.at.saturating_add(1);
    }

    fn took(&mut self, wanted: u8) -> bool {
        let there = self.peek() == Some(wanted);
        if there {
            self.step();
        }
        there
    }

    fn skip_while(&mut self, wanted: impl Fn(u8) -> bool) -> &'t str {
        let from = self.at;
        while self.peek().is_some_and(&wanted) {
            self.step();
        }
        self.text.get(from..self.at).unwrap_or("")
    }

    fn skip_spaces(&mut self) {
        self.skip_while(|byte| matches!(byte, b' ' | b'\n' | b'\r' | b'\t'));
    }

    fn value(&mut self) -> Read<Node> {
        self.skip_spaces();
        match self.peek() {
            Some(b'{') => self.deeper(Self::table).map(Node::Table),
            Some(b'[') => self.deeper(Self::list).map(Node::List),
            Some(b'"') => self.words().map(Node::Text),
            Some(b'-' | b'0'..=b'9') => self.number(),
            Some(b'a'..=b'z') => match self.skip_while(|byte| byte.is_ascii_alphanumeric()) {
                "null" => Ok(Node::Null),
                "true" => Ok(Node::Bool(true)),
                "false" => Ok(Node::Bool(false)),
                _ => Err("this is no value; words stand in quotes"),
            },
            _ => Err("a value is missing"),
        }
    }

    /// What stands between brackets, which are opened here.
    fn deeper<T>(&mut self, inside: fn(&mut Self) -> Read<T>) -> Read<T> {
        if self.deep >= DEEPEST {
            return Err("lists and tables stand too deep in one another");
        }
        self.step();
        self.deep = self.deep.saturating_add(1);
        let read = inside(self);
        self.deep = self.deep.saturating_sub(1);
        read
    }

    /// Whether another entry follows; else the closing bracket was taken.
    fn another(&mut self, first: bool, close: u8) -> Read<bool> {
        self.skip_spaces();
        if self.took(close) {
            return Ok(false);
        }
        match (first, self.took(b',')) {
            (true, false) | (false, true) => Ok(true),
            _ => Err("a comma or a closing bracket is missing"),
        }
    }

    fn list(&mut self) -> Read<Vec<Node>> {
        let mut list = Vec::new();
        while self.another(list.is_empty(), b']')? {
            list.push(self.value()?);
        }
        Ok(list)
    }

    fn table(&mut self) -> Read<Vec<(String, Node)>> {
        let mut table = Vec::new();
        while self.another(table.is_empty(), b'}')? {
            self.skip_spaces();
            let key = self.words()?;
            self.skip_spaces();
            if !self.took(b':') {
                return Err("a colon is missing after the key");
            }
            table.push((key, self.value()?));
        }
        Ok(table)
    }

    fn words(&mut self) -> Read<String> {
        if !self.took(b'"') {
            return Err("words in quotes are missing");
        }
        let mut words = String::new();
        loop {
            words.push_str(self.skip_while(|byte| !matches!(byte, b'"' | b'\\' | 0..=0x1f)));
            match self.peek() {
                Some(b'"') => {
                    self.step();
                    return Ok(words);
                }
                Some(b'\\') => {
                    self.step();
                    words.push(self.escaped()?);
                }
                Some(_) => return Err("a line break or another control character stands within quotes"),
                None => return Err("quotes are not closed"),
            }
        }
    }

    fn escaped(&mut self) -> Read<char> {
        let sign = self.peek();
        self.step();
        Ok(match sign {
            Some(b'"') => '"',
            Some(b'\\') => '\\',
            Some(b'/') => '/',
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            Some(b'u') => return self.code_point().ok_or("four hex digits of a character are missing after \\u"),
            _ => return Err("there is no such sign after a backslash"),
        })
    }

    /// A character by its code, the upper planes by two codes of UTF-16.
    fn code_point(&mut self) -> Option<char> {
        let high = self.four_hex()?;
        if !(0xd800..0xdc00).contains(&high) {
            return char::from_u32(high);
        }
        let low = (self.took(b'\\') && self.took(b'u')).then(|| self.four_hex()).flatten()?;
        let low = low.checked_sub(0xdc00).filter(|low| *low < 0x400)?;
        let high = high.checked_sub(0xd800)?.checked_mul(0x400)?;
        char::from_u32(high.checked_add(low)?.checked_add(0x1_0000)?)
    }

    fn four_hex(&mut self) -> Option<u32> {
        let end = self.at.checked_add(4)?;
        let digits = self.text.get(self.at..end)?;
        self.at = end;
        digits.bytes().all(|byte| byte.is_ascii_hexdigit()).then(|| u32::from_str_radix(digits, 16).ok()).flatten()
    }

    /// A number; of one with decimals, or too large, only that it is one is kept, since no amount may pass through it.
    fn number(&mut self) -> Read<Node> {
        let negative = self.took(b'-');
        let whole = self.skip_while(|byte| byte.is_ascii_digit());
        if whole.is_empty() || (whole.len() > 1 && whole.starts_with('0')) {
            return Err("a number starts with one digit above zero, or is a zero alone");
        }
        let mut float = negative && whole == "0";
        if self.took(b'.') {
            float = true;
            if self.skip_while(|byte| byte.is_ascii_digit()).is_empty() {
                return Err("digits are missing after the point");
            }
        }
        if self.took(b'e') || self.took(b'E') {
            float = true;
            if !self.took(b'+') {
                self.took(b'-');
            }
            if self.skip_while(|byte| byte.is_ascii_digit()).is_empty() {
                return Err("digits of the exponent are missing");
            }
        }
        if float {
            return Ok(Node::Float);
        }
        // Below zero there is one more number than above it.
        let value = whole.bytes().try_fold(0_i64, |value, digit| {
            let digit = i64::from(digit.checked_sub(b'0')?);
            let more = value.checked_mul(10)?;
            if negative { more.checked_sub(digit) } else { more.checked_add(digit) }
        });
        Ok(value.map_or(Node::Float, Node::Int))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::Value;

    use super::*;

    /// The library's tree as ours. It keeps the last of repeated keys, and ours all of them.
    fn ours(value: &Value) -> Node {
        match value {
            Value::Null => Node::Null,
            Value::Bool(value) => Node::Bool(*value),
            Value::Number(number) => number.as_i64().map_or(Node::Float, Node::Int),
            Value::String(text) => Node::Text(text.clone()),
            Value::Array(items) => Node::List(items.iter().map(ours).collect()),
            Value::Object(entries) => {
                Node::Table(entries.iter().map(|(key, value)| (key.clone(), ours(value))).collect())
            }
        }
    }

    fn sorted(node: Node) -> Node {
        match node {
            Node::List(items) => Node::List(items.into_iter().map(sorted).collect()),
            Node::Table(entries) => {
                let entries: std::collections::BTreeMap<_, _> = entries.into_iter().collect();
                Node::Table(entries.into_iter().map(|(key, value)| (key, sorted(value))).collect())
            }
            other => other,
        }
    }

    /// Numbers too large for a float apart: the library refuses them, and ours only keeps that they are no whole numbers.
    fn alike(text: &str) {
        let library: Result<Value, _> = serde_json::from_str(text);
        let own = read_json(text);
        match (library, own) {
            (Ok(library), Ok(own)) => assert_eq!(sorted(own), sorted(ours(&library)), "{text}"),
            (Err(error), Ok(_)) => assert!(error.to_string().contains("number out of range"), "{text}: {error}"),
            (library, own) => assert_eq!(library.is_ok(), own.is_ok(), "{text}: {own:?}"),
        }
    }

    proptest! {
        #[test]
        fn what_is_json_and_what_is_not_is_as_the_library_has_it(text in r#"([\[\]{},:"\\ untrfalse0-9.eE+/-]|"k":|é|\\u00e9|\\ud83d|\\ude00|null|true|\n){0,14}"#) {
            alike(&text);
        }
    }

    #[test]
    fn documents_read_as_the_library_reads_them() {
        for text in [
            include_str!("../../../../public/price-book.json"),
            include_str!("../../../../shared/books/demo-shop.json"),
            r#" { "a" : [ 1 , -2 , 0 , 1.5 , 1e3 , -0 ] , "b" : "\u00e9\ud83d\ude00\n\/\"" , "c" : { } , "d" : [ ] } "#,
            "9223372036854775807",
            "-9223372036854775808",
            "\"\u{7f}\"",
        ] {
            alike(text);
            assert!(read_json(text).is_ok());
        }
        for text in [
            "01",
            "1.",
            ".5",
            "-",
            "+1",
            "1e",
            "[1,]",
            "{\"a\":1,}",
            "{a:1}",
            "'a'",
            "\"\t\"",
            "\"\\ud83d\"",
            "\"\\x\"",
            "nul",
            "[1 2]",
            "1 2",
            "\u{feff}1",
            "// a\n1",
        ] {
            alike(text);
            assert!(read_json(text).is_err(), "{text}");
        }
        assert_eq!(read_json("9223372036854775808"), Ok(Node::Float));
        assert!(read_json(&("[".repeat(127) + &"]".repeat(127))).is_ok());
        assert!(read_json(&("[".repeat(128) + &"]".repeat(128))).is_err());
    }

    #[test]
    fn the_place_is_where_it_stops_being_json() {
        assert_eq!(read_json("{\"a\": }"), Err(NotJson { what: "a value is missing", at: 6 }));
        assert_eq!(read_json("[1, 2"), Err(NotJson { what: "a comma or a closing bracket is missing", at: 6 - 1 }));
    }
}
