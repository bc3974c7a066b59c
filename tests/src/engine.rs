//! The three engines that browsers are built on, and what starts each of them.
//!
//! Each is told that the desk wants no motion: a page that still moves is not where a driver clicks.

mod chromium;
mod firefox;
mod webkit;

use std::fmt;
use std::process::Command;

use anyhow::Result;
use serde_json::Value;

use crate::processes::Processes;

/// An engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// Blink, in Chromium.
    Chromium,
    /// Gecko, in Firefox.
    Firefox,
    /// `WebKit`, in the small browser that comes with its library for GTK.
    WebKit,
}

/// The colours that the desk asks pages for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scheme {
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
}

/// The size of the window, in CSS pixels.
pub(crate) const WINDOW: (u32, u32) = (1280, 1000);

/// A driver to start and the browser to ask it for.
#[derive(Debug)]
pub(crate) struct Start {
    /// The driver, told to listen on a port.
    pub(crate) driver: Command,
    /// The capabilities of the session.
    pub(crate) wanted: Value,
}

impl Engine {
    /// What starts a browser of this engine with these colours, its driver on a port, its files in the folder of its processes.
    pub(crate) fn start(self, port: u16, scheme: Scheme, processes: &mut Processes) -> Result<Start> {
        match self {
            Self::Chromium => Ok(chromium::start(port, scheme, processes.folder())),
            Self::Firefox => firefox::start(port, scheme),
            Self::WebKit => webkit::start(port, scheme, processes),
        }
    }
}

impl fmt::Display for Engine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Chromium => "Chromium",
            Self::Firefox => "Firefox",
            Self::WebKit => "WebKit",
        })
    }
}
