//! The measured drawing: the piece seen whole, its three measured views on one sheet, and its title.

mod hands;
mod laid;
mod nodes;
mod sheet;

use std::rc::Rc;

use leptos::prelude::*;

use crate::ui::Ui;
use crate::wording;
use hands::Listening;
use sheet::Sheet;

/// The sheet. It is painted by hand, since it changes at every movement of a handle.
pub(crate) fn drawing(ui: Ui) -> impl IntoView {
    let section = NodeRef::new();
    let name = ui.say(wording::DRAWING);
    // The sheet and what listens to it live as long as the effect does.
    Effect::new(move |kept: Option<Option<(Rc<Sheet>, Listening)>>| {
        let (sheet, listening) = kept.flatten().or_else(|| {
            let section: web_sys::HtmlElement = section.get()?;
            let sheet = Rc::new(Sheet::new(ui.clone(), &section)?);
            sheet.measure();
            let listening = Listening::to(&sheet);
            Some((sheet, listening))
        })?;
        sheet.show();
        Some((sheet, listening))
    });
    view! { <section class="sheet" part="drawing" aria-label=name node_ref=section></section> }
}
