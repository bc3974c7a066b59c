//! The mouse's own pointer, moved and pressed as the machine would, not an element clicked: what a pull is made of.

use anyhow::Result;
use fantoccini::actions::{InputSource, MOUSE_BUTTON_LEFT, MouseActions, PointerAction};
use serde_json::json;

use crate::{Engine, Page};

/// What the pointer does at a point of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mouse {
    /// Goes there, with the button as it was left.
    Move,
    /// Presses the main button, and keeps it down.
    Press,
    /// Lets it go.
    Release,
}

impl Page {
    /// Does something with the mouse at a point, in CSS pixels from the window's top left corner. A point outside of it is an error.
    ///
    /// In Chromium by the browser's own command: of moves that its driver makes, those off an element that has captured the pointer
    /// arrived at the window and not at that element, as a mouse's do (seen in version 156).
    ///
    /// # Errors
    /// When the driver can't.
    pub async fn mouse(&self, deed: Mouse, (x, y): (f64, f64)) -> Result<()> {
        if self.engine == Engine::Chromium {
            let kind = match deed {
                Mouse::Move => "mouseMoved",
                Mouse::Press => "mousePressed",
                Mouse::Release => "mouseReleased",
            };
            let buttons = u8::from(deed != Mouse::Release);
            let event = json!({ "type": kind, "x": x, "y": y, "button": "left", "buttons": buttons, "clickCount": 1 });
            return self.tell_browser("Input.dispatchMouseEvent", event).await.map(drop);
        }
        let there = MouseActions::new("mouse".to_owned()).then(PointerAction::MoveTo { duration: None, x, y });
        let actions = match deed {
            Mouse::Move => there,
            Mouse::Press => there.then(PointerAction::Down { button: MOUSE_BUTTON_LEFT }),
            Mouse::Release => there.then(PointerAction::Up { button: MOUSE_BUTTON_LEFT }),
        };
        Ok(self.client.perform_actions(actions).await?)
    }
}
