//! Keys pressed on the page as it has the focus, not into a field that a test has found: what a buyer without a pointer does.

use std::time::Duration;

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
    /// To the first.
    Home,
    /// What sends a form, as a rule.
    Enter,
    /// What steps out.
    Escape,
    /// A letter while Control is held down.
    Control(char),
    /// A letter, a digit, a mark.
    Letter(char),
}

/// Held down while another key is pressed.
const SHIFT: char = '\u{E008}';
const CONTROL: char = '\u{E009}';

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
            Key::Home => '\u{E011}',
            Key::Enter => '\u{E007}',
            Key::Escape => '\u{E00C}',
            Key::Letter(letter) | Key::Control(letter) => letter,
        };
        let held = match key {
            Key::BackTab => Some(SHIFT),
            Key::Control(_) => Some(CONTROL),
            _ => None,
        };
        let mut keys = KeyActions::new("keyboard".to_owned());
        if let Some(value) = held {
            keys = keys.then(KeyAction::Down { value });
        }
        keys = keys.then(KeyAction::Down { value }).then(KeyAction::Up { value });
        if let Some(value) = held {
            keys = keys.then(KeyAction::Up { value });
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

    /// Presses the keys of a text as a person types them, one every so often: the driver itself keeps the time between two of them.
    ///
    /// # Errors
    /// When the driver can't.
    pub async fn press_text_at(&self, text: &str, every: Duration) -> Result<()> {
        let mut keys = KeyActions::new("keyboard".to_owned());
        for value in text.chars() {
            keys = keys.then(KeyAction::Down { value }).then(KeyAction::Up { value });
            keys = keys.then(KeyAction::Pause { duration: every });
        }
        Ok(self.client.perform_actions(keys).await?)
    }
}
