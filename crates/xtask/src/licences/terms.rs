//! Which licences we take, and what an expression of them allows: <https://spdx.github.io/spdx-spec/v2.3/SPDX-license-expressions/>.

/// Terms that ask no more than to be named, and are free of conditions on what it is built into.
const ALLOWED: [&str; 12] = [
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Tools of the tests, never shipped, under terms that ask more: what they are built into must stay open, and a test is built into nothing.
pub(super) const TOOLS: [(&str, &str); 1] = [("webdriver", "MPL-2.0")];

/// Whether we may use what is under these terms. A slash is how `OR` was once written.
pub(super) fn allow(expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = words.as_slice();
    any(&mut rest) == Some(true) && rest.is_empty()
}

/// Several, of which one may be chosen.
fn any(rest: &mut &[&str]) -> Option<bool> {
    let mut good = every(rest)?;
    while let ["OR", after @ ..] = rest {
        *rest = after;
        good |= every(rest)?;
    }
    Some(good)
}

/// Several that all hold.
fn every(rest: &mut &[&str]) -> Option<bool> {
    let mut good = one(rest)?;
    while let ["AND", after @ ..] = rest {
        *rest = after;
        good &= one(rest)?;
    }
    Some(good)
}

/// A licence, with an exception that allows more or without; or several in brackets.
fn one(rest: &mut &[&str]) -> Option<bool> {
    match rest {
        ["(", after @ ..] => {
            *rest = after;
            let good = any(rest)?;
            let [")", after @ ..] = rest else { return None };
            *rest = after;
            Some(good)
        }
        [name, "WITH", _, after @ ..] | [name, after @ ..] if !["OR", "AND", "WITH", ")"].contains(name) => {
            *rest = after;
            Some(ALLOWED.contains(name))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{ALLOWED, TOOLS, allow};

    #[test]
    fn the_list_is_the_same_for_the_tool_that_checks_it_too() {
        let file = std::fs::read_to_string(crate::shell::root().join("crates/deny.toml")).unwrap();
        let (_, after) = file.split_once("\nallow = [").unwrap();
        let listed: Vec<&str> = after.split_once(']').unwrap().0.split('"').skip(1).step_by(2).collect();
        assert_eq!(listed, ALLOWED);
        for (name, terms) in TOOLS {
            assert!(file.contains(&format!("{{ crate = \"{name}\", allow = [\"{terms}\"] }}")), "{name}");
        }
    }

    #[test]
    fn one_of_several_is_enough_and_each_of_those_that_hold_together_is_needed() {
        for good in [
            "MIT",
            "MIT/Apache-2.0",
            "GPL-3.0-only OR MIT",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR MIT",
        ] {
            assert!(allow(good), "{good}");
        }
        for bad in
            ["", "GPL-3.0-only", "MIT AND GPL-3.0-only", "(MIT OR Apache-2.0", "MIT OR", "OR MIT", "MIT Apache-2.0"]
        {
            assert!(!allow(bad), "{bad}");
        }
    }
}
