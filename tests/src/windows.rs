//! Several windows of one browser, on the same host: what one keeps, the others find.

use anyhow::{Context, Result};
use fantoccini::wd::WindowHandle;

use crate::Page;

impl Page {
    /// The window that is driven now.
    ///
    /// # Errors
    /// When the driver does not say.
    pub async fn window(&self) -> Result<WindowHandle> {
        Ok(self.client.window().await?)
    }

    /// Opens a page of the same host in another window, and goes on there.
    ///
    /// # Errors
    /// When there is none to be had.
    pub async fn open_window(&self, path: &str) -> Result<WindowHandle> {
        let window = self.client.new_window(false).await?.handle;
        self.client.switch_to_window(window.clone()).await?;
        self.go(path).await?;
        Ok(window)
    }

    /// The window that was opened from this one, by the page itself.
    ///
    /// # Errors
    /// When there is none.
    pub async fn other_window(&self) -> Result<WindowHandle> {
        let here = self.window().await?;
        let other = self.client.windows().await?.into_iter().find(|window| *window != here);
        other.context("there is no other window")
    }

    /// Goes on in a window that is open.
    ///
    /// # Errors
    /// When it is not.
    pub async fn go_on_in(&self, window: &WindowHandle) -> Result<()> {
        Ok(self.client.switch_to_window(window.clone()).await?)
    }

    /// Closes the window that is driven now, and goes on in another.
    ///
    /// # Errors
    /// When either is not open.
    pub async fn close_window(&self, then: &WindowHandle) -> Result<()> {
        self.client.close_window().await?;
        self.go_on_in(then).await
    }
}
