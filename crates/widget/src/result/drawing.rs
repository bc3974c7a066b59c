//! The measured drawing under the buyer's hands.

mod handles;
mod hands;

use std::rc::Rc;

use leptos::prelude::*;
use send_wrapper::SendWrapper;

use crate::first::Sheet;
use crate::ui::Ui;
use handles::Handles;
use hands::Listening;

/// Keeps a sheet as the form stands, and listens to it, as long as the widget is there.
pub(crate) fn drawing(ui: &Ui, sheet: &Rc<Sheet>) {
    let Some(handles) = Handles::new(ui.clone(), Rc::clone(sheet)).map(Rc::new) else { return };
    // What listens to the sheet lives as long as the effect does.
    let listening = SendWrapper::new(Listening::to(&handles));
    let handles = SendWrapper::new(handles);
    Effect::new(move |_| {
        let _heard = &listening;
        handles.show();
    });
}
