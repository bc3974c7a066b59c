//! Several shops side by side: which there are, and the way to each.

use std::cell::OnceCell;

use leptos::prelude::*;

use super::keeping::Whole;
use super::today::now as moment;
use crate::desk::{Desk, NOT_SAFE};
use crate::keep::{Keeping, Kept, NotKept, Told};
use crate::shops::{Of, Shop, Shops, opened, to_open};

thread_local! {
    /// The shop of this window: it stays the same until the page is loaded anew.
    static HERE: OnceCell<u32> = const { OnceCell::new() };
}

/// The number of the shop this window is of.
pub(crate) fn here() -> u32 {
    HERE.with(|here| {
        *here.get_or_init(|| {
            let hash = web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default();
            let number = to_open(&Whole, &hash);
            // A browser that keeps nothing opens the first shop the next time: that is said where nothing is kept.
            let _kept = opened(&mut Whole, number);
            number
        })
    })
}

/// Which shop this is, where there are several.
pub(super) fn which() -> impl IntoView {
    let shops = Shops::find(&Whole);
    let several = shops.all().iter().filter(|shop| !shop.put_away).count() > 1;
    let name = shops.of(here()).filter(|_| several).map(|shop| shop.name.clone());
    name.map(|name| view! { <p class="note which">{name}</p> })
}

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let shops = RwSignal::new(Shops::find(&Whole));
    let desk = desk.clone();
    let lines = {
        let desk = desk.clone();
        move || {
            let shops_now = shops.get();
            let used = shops_now.all().iter().filter(|shop| !shop.put_away);
            used.map(|shop| line(&desk, shops, shop)).collect_view()
        }
    };
    let away = {
        let desk = desk.clone();
        move || {
            let shops_now = shops.get();
            let rows: Vec<AnyView> =
                shops_now.all().iter().filter(|shop| shop.put_away).map(|shop| put_away(&desk, shops, shop)).collect();
            (!rows.is_empty()).then(|| view! { <h3>{"Put away"}</h3> <ul class="entries">{rows}</ul> })
        }
    };
    let start = move |_| add(&desk, shops, "New shop", crate::DEMO);
    view! {
        <section aria-label="Shops">
            <h2>{"Shops"}</h2>
            <p class="note">{"Each has a book and earlier states of its own, in this browser. Two can be open in two windows."}</p>
            <ul class="entries shops">{lines}</ul>
            <p><button type="button" on:click=start>{"Start a new shop from the demo's book"}</button></p>
            {away}
        </section>
    }
    .into_any()
}

/// Adds a shop that starts with a book.
fn add(desk: &Desk, shops: RwSignal<Shops>, name: &str, book: &str) {
    let mut now = shops.get_untracked();
    let kept = now.add_with(&mut Whole, name, &Keeping::new(book, Told::new(moment(), "Beginning the shop")));
    tell(desk, kept.map(drop), || format!("{name} is there. Open it when you like."));
    shops.set(now);
}

/// Says what was done, or why it was not kept.
fn tell(desk: &Desk, kept: Result<(), NotKept>, words: impl FnOnce() -> String) {
    desk.say(kept.map_or_else(|why| why.to_string(), |()| words()));
}

/// Opens a shop in this window.
fn open(desk: &Desk, number: u32) {
    if !desk.is_safe() {
        return desk.say(format!("The other shop is not opened: {NOT_SAFE}"));
    }
    if let Some(location) = web_sys::window().map(|window| window.location()) {
        // What can't be opened leaves this one open.
        let _gone = location.set_hash(&format!("shop={number}")).and_then(|()| location.reload());
    }
}

fn line(desk: &Desk, shops: RwSignal<Shops>, shop: &Shop) -> AnyView {
    let (number, is_here) = (shop.number, shop.number == here());
    let (rename, go, copy, out) = (desk.clone(), desk.clone(), desk.clone(), desk.clone());
    let (name, copied) = (shop.name.clone(), format!("{}, copy", shop.name));
    let rename = move |event| {
        let name = event_target_value(&event);
        let mut now = shops.get_untracked();
        let kept = now.change(&mut Whole, number, |shop| shop.name.clone_from(&name));
        tell(&rename, kept, || format!("It is called {name} now."));
        shops.set(now);
    };
    let copy = move |_| {
        let book =
            if is_here { Some(copy.text().to_string()) } else { Kept::find(&Of { store: &mut Whole, number }).1 };
        match book {
            Some(book) => add(&copy, shops, &copied, &book),
            None => copy.say("It has no state that can be copied."),
        }
    };
    let put = {
        let name = name.clone();
        move |_| {
            let mut now = shops.get_untracked();
            let kept = now.change(&mut Whole, number, |shop| shop.put_away = true);
            tell(&out, kept, || format!("{name} is put away, with all its states. Bring it back below."));
            shops.set(now);
        }
    };
    let id = format!("shop-{number}");
    let here = is_here.then(|| view! { <span class="key">{"open here"}</span> });
    let ways = (!is_here).then(|| {
        view! {
            <button type="button" on:click=move |_| open(&go, number)>{format!("Open {name}")}</button>
            <a href=format!("#shop={number}") target="_blank" rel="noopener">{format!("{name} in a window of its own")}</a>
            <button type="button" on:click=put>{format!("Put {name} away")}</button>
        }
    });
    view! {
        <li>
            <label for=id.clone()>{"Name "}</label>
            <input id=id type="text" autocomplete="off" prop:value=shop.name.clone() on:change=rename />
            {here}
            <button type="button" on:click=copy>{format!("Copy {}", shop.name)}</button>
            {ways}
        </li>
    }
    .into_any()
}

fn put_away(desk: &Desk, shops: RwSignal<Shops>, shop: &Shop) -> AnyView {
    let (number, name) = (shop.number, shop.name.clone());
    let (back, out) = (desk.clone(), desk.clone());
    let (back_name, out_name) = (name.clone(), name.clone());
    let back = move |_| {
        let mut now = shops.get_untracked();
        let kept = now.change(&mut Whole, number, |shop| shop.put_away = false);
        tell(&back, kept, || format!("{back_name} is back, as it was."));
        shops.set(now);
    };
    let throw = move |_| {
        let mut now = shops.get_untracked();
        let kept = now.throw_away(&mut Whole, number);
        tell(&out, kept, || format!("{out_name} is thrown away."));
        shops.set(now);
    };
    view! {
        <li>
            <span>{name.clone()}</span>
            <button type="button" on:click=back>{format!("Bring {name} back")}</button>
            <details class="inner">
                <summary>{format!("Throw {name} away")}</summary>
                <div class="inside">
                    <p>{"Its book and all its states go for good. Nothing brings them back."}</p>
                    <button type="button" on:click=throw>{format!("Throw {name} away for good")}</button>
                </div>
            </details>
        </li>
    }
    .into_any()
}
