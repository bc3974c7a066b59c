//! Keys pressed on the page as it has the focus, not into a field that a test has found: what a buyer without a pointer does.

use anyhow::Result;
use fantoccini::actions::{InputSource, KeyAction, KeyActions};

use crate::Page;

/// A key. Source of the numbers: W3C, `WebDriver`, "Keyboard actions", the table of normalised key values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    /// To the next field.
    Tab,
    /// To the one before.
    BackTab,
    /// One up.
    Up,
    /// One down.
    Down,
    /// What sends a form, as a rule.
    Enter,
    /// A letter, a digit, a mark.
    Letter(char),
}

/// Held down while another key is pressed.
const SHIFT: char = '\u{E008}';

impl Page {
    /// Presses a key and lets it go.
    ///
    /// # Errors
    /// When the driver can't.
    pub async fn press(&self, key: Key) -> Result<()> {
        let value = match key {
            Key::Tab | Key::BackTab => '\u{E004}',
            Key::Up => '\u{E013}',
            Key::Down => '\u{E015}',
            Key::Enter => '\u{E007}',
            Key::Letter(letter) => letter,
        };
        let mut keys = KeyActions::new("keyboard".to_owned());
        if key == Key::BackTab {
            keys = keys.then(KeyAction::Down { value: SHIFT });
        }
        keys = keys.then(KeyAction::Down { value }).then(KeyAction::Up { value });
        if key == Key::BackTab {
            keys = keys.then(KeyAction::Up { value: SHIFT });
        }
        Ok(self.client.perform_actions(keys).await?)
    }

    /// Presses the keys of a text, one after the other.
    ///
    /// # Errors
    /// When the driver can't.
    pub async fn press_text(&self, text: &str) -> Result<()> {
        for letter in text.chars() {
            self.press(Key::Letter(letter)).await?;
        }
        Ok(())
    }
}
