//! The rule that no figure of a paper is written by hand, be it in digits or in words.

/// Numbers as words. *One* and *two* are not among them: they stand for *a* and *both* far more often than for a figure.
const WORDS: [&str; 17] = [
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "twenty",
    "dozen",
    "hundred",
    "hundreds",
    "thousand",
    "thousands",
    "million",
];

/// A figure that stands in a line outside places, code, addresses of links and the numbers of a list. What stands between fences is
/// looked at like the rest: a reader takes it for true too.
pub(super) fn by_hand(line: &str) -> Option<String> {
    let bare = without(line, "{{", "}}");
    let code = bare.split('`').step_by(2).collect::<Vec<_>>().join(" ");
    let text = without(&code, "](", ")");
    let item = text.trim_start().split_once(". ").filter(|(number, _)| number.parse::<u32>().is_ok());
    let text = item.map_or(text.as_str(), |(_, rest)| rest);
    text.split_whitespace().find(|word| is_figure(word)).map(str::to_owned)
}

fn is_figure(word: &str) -> bool {
    let said = word.to_lowercase();
    let mut parts = said.split(|letter: char| !letter.is_alphabetic());
    word.chars().any(|letter| letter.is_ascii_digit()) || parts.any(|part| WORDS.contains(&part))
}

/// A text without what stands between these two.
fn without(text: &str, open: &str, close: &str) -> String {
    let (mut out, mut rest) = (String::new(), text);
    while let Some((before, after)) = rest.split_once(open) {
        out.push_str(before);
        rest = after.split_once(close).map_or("", |(_, after)| after);
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::by_hand;

    #[test]
    fn a_figure_written_by_hand_is_found() {
        for line in [
            "it costs 40 dollars",
            "the 3rd",
            "| a | 7 |",
            "{{money a:/b}} of 12",
            "`x` 5",
            "in six ways",
            "Eight jobs in ten",
            "a four-legged table",
            "scantling price --budget 4200",
        ] {
            assert!(by_hand(line).is_some(), "{line}");
        }
    }

    #[test]
    fn other_digits_and_words_are_let_be() {
        for line in [
            "{{money a:/b/0}}",
            "1. first",
            "`4/4` boards",
            "see [this](page.html#2)",
            "plain words, often attended to, none of one or two",
            "{{cited WCAG 2.2}}",
        ] {
            assert_eq!(by_hand(line), None, "{line}");
        }
    }
}
