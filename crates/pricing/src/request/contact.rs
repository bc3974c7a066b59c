//! How to reach a buyer, checked as it is typed.

use serde::Serialize;

use crate::book::read::reads;
use crate::book::values::Text;

/// The longest name that is taken, in characters.
pub const LONGEST_NAME: usize = 200;

/// The longest mail address. Source: RFC 5321, section 4.5.3.1.3: a path is at most 256 octets, its two angle brackets included.
const LONGEST_MAIL: usize = 254;

/// How to reach a buyer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Contact {
    /// Their name.
    pub name: Text,
    /// Their mail address.
    pub mail: Text,
    /// What they add in their own words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub message: Option<Text>,
}

reads!(Contact { name, mail, message });

/// What is wrong with what a buyer typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ContactFault {
    /// No name.
    NoName,
    /// A name longer than [`LONGEST_NAME`].
    LongName,
    /// No mail address.
    NoMail,
    /// What stands there is no mail address.
    NotMail,
    /// A message of more than 2000 characters.
    LongMessage,
}

impl Contact {
    /// A contact from what was typed; a name is taken on one line, and control characters as spaces.
    ///
    /// # Errors
    /// Everything that is wrong, in the order of the fields.
    pub fn typed(name: &str, mail: &str, message: &str) -> Result<Self, Vec<ContactFault>> {
        let plain = |c: char| if c.is_control() { ' ' } else { c };
        let name: String = name.trim().chars().map(plain).collect();
        let message = message.trim().replace("\r\n", "\n");
        let message: String = message.chars().map(|c| if c == '\n' { c } else { plain(c) }).collect();
        let mail = mail.trim();
        let mut faults = Vec::new();
        let name = if name.chars().count() > LONGEST_NAME {
            faults.push(ContactFault::LongName);
            None
        } else {
            Text::new(&name).map_err(|_| faults.push(ContactFault::NoName)).ok()
        };
        let mail = match Text::new(mail) {
            Ok(mail) if is_mail(mail.as_str()) => Some(mail),
            Ok(_) => {
                faults.push(ContactFault::NotMail);
                None
            }
            Err(_) => {
                faults.push(if mail.is_empty() { ContactFault::NoMail } else { ContactFault::NotMail });
                None
            }
        };
        let message = if message.is_empty() {
            None
        } else {
            Text::new(&message).map_err(|_| faults.push(ContactFault::LongMessage)).ok()
        };
        match (name, mail) {
            (Some(name), Some(mail)) if faults.is_empty() => Ok(Self { name, mail, message }),
            _ => Err(faults),
        }
    }
}

/// Whether a text can be a mail address: what the HTML standard takes in a field for one, and letters beyond ASCII as RFC 6531 allows
/// them. Whether it reaches anyone, only a mail can tell.
fn is_mail(text: &str) -> bool {
    let Some((local, domain)) = text.rsplit_once('@') else { return false };
    let of_local = |c: char| c.is_alphanumeric() || ".!#$%&'*+/=?^_`{|}~-".contains(c);
    let of_label = |c: char| c.is_alphanumeric() || c == '-';
    let label = |label: &str| {
        !label.is_empty() && !label.starts_with('-') && !label.ends_with('-') && label.chars().all(of_label)
    };
    text.len() <= LONGEST_MAIL && !local.is_empty() && local.chars().all(of_local) && domain.split('.').all(label)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_as_the_html_standard_takes_them() {
        // Source: the HTML standard, "valid e-mail address": its production allows these; the last two are RFC 6531's.
        for mail in [
            "buyer@home.example",
            "a+b@c.example",
            "o'neil@x-y.example",
            "a@localhost",
            "jürgen@bücher.example",
            "用户@例子.example",
        ] {
            assert!(is_mail(mail), "{mail}");
        }
        for none in [
            "buyer",
            "@home.example",
            "buyer@",
            "a b@c.example",
            "a@b..example",
            "a@-b.example",
            "a@b@c.example",
            "<a@b.example>",
        ] {
            assert!(!is_mail(none), "{none}");
        }
        assert!(!is_mail(&format!("{}@home.example", "a".repeat(250))));
    }

    #[test]
    fn everything_wrong_is_told_at_once_in_the_order_of_the_fields() {
        let faults = Contact::typed(" ", "nobody", &"x".repeat(2001)).unwrap_err();
        assert_eq!(faults, [ContactFault::NoName, ContactFault::NotMail, ContactFault::LongMessage]);
        let faults = Contact::typed(&"x".repeat(201), "", "").unwrap_err();
        assert_eq!(faults, [ContactFault::LongName, ContactFault::NoMail]);
    }

    #[test]
    fn a_name_stays_on_its_line_and_a_message_keeps_its_lines() {
        let contact = Contact::typed(" A.\r\nBuyer ", " buyer@home.example ", "One\ttwo\r\nthree\n").unwrap();
        assert_eq!(contact.name.as_str(), "A.  Buyer");
        assert_eq!(contact.mail.as_str(), "buyer@home.example");
        assert_eq!(contact.message.unwrap().as_str(), "One two\nthree");
    }
}
