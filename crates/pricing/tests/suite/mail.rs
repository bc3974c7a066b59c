//! Requests inside mails: found again after what mail programs do to text.

use proptest::prelude::*;
use scantling_pricing::book::shop::Receiver;
use scantling_pricing::estimate::estimate;
use scantling_pricing::request::{Contact, Request};

use crate::random::{briefs, holds};
use crate::start::{brief, demo};

fn request(message: &str) -> Request {
    let (book, brief) = (demo(), brief(include_str!("../../../../shared/briefs/table-to-chicago.json")));
    let priced = estimate(&book, &brief).unwrap();
    let from = Contact::typed("Jürgen \"J\" O'Neil", "buyer@home.example", message).unwrap();
    Request { shop: Some(book.shop.name.clone()), ..Request::new(brief.spelled_out(&book), &priced, from).unwrap() }
}

const MESSAGE: &str =
    "It goes up two stairs, {both} narrow; \"77 cm\" at the turn \\ see the sketch.\nÜber den Hof – 木 🌳";

#[test]
fn the_block_is_plain_and_short_and_found_again() {
    let request = request(MESSAGE);
    let block = request.mail_block();
    assert!(block.is_ascii());
    let quoted_apart = block.lines().filter(|line| !line.contains("\"message\"") && !line.contains("It goes up"));
    assert!(quoted_apart.clone().count() > 5);
    // Source: RFC 5322, section 2.1.1: lines should be no more than 78 characters.
    assert!(quoted_apart.clone().all(|line| line.len() <= 78), "{block}");
    assert_eq!(Request::read_mail(&block), Ok(request.clone()));
    assert_eq!(
        Request::read_mail(&format!("Dear maker,\r\n\r\nsee below {{}}\r\n{block}\r\nKind regards")),
        Ok(request)
    );
}

/// Wraps lines at spaces, as mail programs do; `flowed` leaves the space before the break (RFC 3676).
fn wrapped(text: &str, width: usize, flowed: bool) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let mut column = 0;
        for (i, word) in line.split(' ').enumerate() {
            if i > 0 && column + word.len() > width {
                out.push_str(if flowed { " \r\n" } else { "\r\n" });
                column = 0;
            } else if i > 0 {
                out.push(' ');
            }
            out.push_str(word);
            column += word.len() + 1;
        }
        out.push_str("\r\n");
    }
    out
}

#[test]
fn wrapped_quoted_and_forwarded_it_is_still_found() {
    let request = request(MESSAGE);
    let mail = format!("Hello {{maker}},\n\n{MESSAGE}\n\n{}\n\nBye", request.mail_block());
    for width in [20, 40, 76] {
        for flowed in [false, true] {
            let once = wrapped(&mail, width, flowed);
            let quoted =
                |text: &str, mark: &str| text.lines().map(|line| format!("{mark}{line}\n")).collect::<String>();
            let twice = quoted(&quoted(&once, "> "), ">");
            let no_break = once.replace(' ', "\u{a0}");
            for text in [&once, &quoted(&once, "> "), &twice, &quoted(&once, "    "), &no_break] {
                assert_eq!(Request::read_mail(text).as_ref(), Ok(&request), "{text}");
            }
        }
    }
}

#[test]
fn random_requests_come_back_out_of_wrapped_mails() {
    let book = demo();
    let words = "[\\PC\\n]{0,300}";
    holds(200, &(briefs(), words), |(brief, message)| {
        let Ok(priced) = estimate(&book, &brief) else { return Ok(()) };
        // Runs of spaces are not kept by every mail program.
        let message = message.split_whitespace().collect::<Vec<_>>().join(" ");
        let from = Contact::typed("A. Buyer", "a@b.example", &message).unwrap();
        let request = Request::new(brief, &priced, from).unwrap();
        let text = wrapped(&request.mail_block(), 70, false);
        prop_assert_eq!(Request::read_mail(&text), Ok(request));
        Ok(())
    });
}

#[test]
fn without_a_whole_request_it_says_so() {
    let told = |text: &str| Request::read_mail(text).unwrap_err().to_string();
    assert!(told("Dear maker, what is a table?").contains("copy the whole mail"));
    let block = request("Hi").mail_block();
    assert!(told(block.strip_suffix('}').unwrap()).contains("does not read as JSON"));
    assert!(told(&block.replace("\"quantity\":1", "\"quantity\":1.5")).contains("brief.quantity"));
    assert!(told(&"{\"scantling_request\"".repeat(100_000)).contains("does not read as JSON"));
    // A broken one first does not hide a whole one behind it.
    let both = format!("{}\n\n{block}", block.get(..200).unwrap());
    assert!(Request::read_mail(&both).is_ok());
}

#[test]
fn addresses_that_take_requests() {
    for good in
        ["https://shop.example/requests", "https://shop.example:8443/a?b=c&d=%20", "/requests", "/", "/in.php?to=bench"]
    {
        assert!(Receiver::new(good).is_ok(), "{good}");
    }
    // Source: the URL standard: browsers take `\` for `/`, drop tabs and line ends, and read `user@` before a host.
    for bad in [
        "",
        "http://shop.example/",
        "//shop.example/",
        "/\\shop.example/",
        "/\t/shop.example",
        "https://",
        "https:///x",
        "https://user@shop.example/",
        "javascript:alert(1)",
        "requests",
        "data:text/plain,x",
        "https://shop.example/#part",
        "https://shop.example/a b",
        "/ü",
    ] {
        assert!(Receiver::new(bad).is_err(), "{bad}");
    }
    assert!(Receiver::new(&format!("/{}", "x".repeat(500))).is_err());
}
