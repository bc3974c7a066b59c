//! Elements of one kind for the parts that are seldom built: whatever its tag, attributes and content, an element here is of one type.
//!
//! The library's own macro gives every element a type of its own, and a buyer's browser fetches the code of each: the panels for keeping
//! and sending weighed three times as much written that way (measured in DEVELOPERS.md). What is built at every keystroke is better
//! off with the macro.

use leptos::attr::Attribute;
use leptos::attr::any_attribute::{AnyAttribute, IntoAnyAttribute};
use leptos::attr::custom::custom_attribute;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use leptos::tachys::html::event::on;

/// A text that changes.
type LiveText = Box<dyn FnMut() -> String + Send>;
/// A part that changes.
type LivePart = Box<dyn FnMut() -> AnyView + Send>;

/// An element being put together.
pub(crate) struct El {
    tag: &'static str,
    attributes: Vec<AnyAttribute>,
    children: Vec<AnyView>,
}

/// An element.
pub(crate) fn el(tag: &'static str) -> El {
    El { tag, attributes: Vec::new(), children: Vec::new() }
}

/// A button.
pub(crate) fn button(words: String, press: impl Fn() + 'static) -> El {
    el("button").attr("type", "button").on_press(Box::new(press)).text(words)
}

/// A part that is built anew whenever what it reads changes.
pub(crate) fn live(part: impl FnMut() -> AnyView + Send + 'static) -> AnyView {
    let part: LivePart = Box::new(part);
    part.into_any()
}

/// Nothing.
pub(crate) fn nothing() -> AnyView {
    ().into_any()
}

impl El {
    fn with(mut self, attribute: impl Attribute) -> Self {
        self.attributes.push(attribute.into_any_attr());
        self
    }

    /// Its class.
    pub(crate) fn class(self, class: &str) -> Self {
        self.attr("class", class)
    }

    /// One of its attributes.
    pub(crate) fn attr(self, name: &'static str, value: &str) -> Self {
        self.with(custom_attribute(name, value.to_owned()))
    }

    /// One that changes.
    pub(crate) fn live_attr(self, name: &'static str, value: impl FnMut() -> String + Send + 'static) -> Self {
        let value: LiveText = Box::new(value);
        self.with(custom_attribute(name, value))
    }

    /// What a press of it does.
    pub(crate) fn on_press(self, press: Box<dyn Fn()>) -> Self {
        let press: Box<dyn FnMut(web_sys::MouseEvent)> = Box::new(move |_| press());
        self.with(on(ev::click, press))
    }

    /// What typing in it does.
    pub(crate) fn on_typing(self, typing: Box<dyn Fn()>) -> Self {
        let typing: Box<dyn FnMut(web_sys::Event)> = Box::new(move |_| typing());
        self.with(on(ev::input, typing))
    }

    /// Text in it.
    pub(crate) fn text(self, text: String) -> Self {
        self.child(text.into_any())
    }

    /// Text in it that changes.
    pub(crate) fn live_text(self, text: impl FnMut() -> String + Send + 'static) -> Self {
        let text: LiveText = Box::new(text);
        self.child(text.into_any())
    }

    /// Something in it.
    pub(crate) fn child(mut self, child: AnyView) -> Self {
        self.children.push(child);
        self
    }

    /// Another element in it.
    pub(crate) fn el(self, child: El) -> Self {
        self.child(child.view())
    }

    /// The element as a view.
    pub(crate) fn view(self) -> AnyView {
        html::custom(self.tag).add_any_attr(self.attributes).child(self.children).into_any()
    }
}
