//! Timber, slabs, resin and the rest: what was really bought and paid.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::measure::{LengthUnit, Quantity};

use super::super::fields::{bare, field, text_of};
use super::super::little::options;
use super::super::measured::{in_unit, measured};
use super::super::scrolled::scrolled;
use super::cut_out::cut_out;
use crate::desk::Desk;
use crate::sheet::{Edit, Path};
use crate::slim::rows;

/// One kind of material: where it stands, what its two figures are.
struct Stuff {
    /// The list of the book that has them.
    list: &'static str,
    /// What they are called.
    title: &'static str,
    /// Their key in what was said.
    said: &'static str,
    /// The quantity: its key in what was said, and what it is called.
    quantity: (&'static str, &'static str),
    /// What it counts where the two systems count differently, and what it is called beside millimetres.
    metric: Option<(Quantity, &'static str)>,
    /// Where quantity and cost of one stand in the job.
    places: fn(&Path, &str) -> [Path; 2],
}

const STUFF: [Stuff; 3] = [
    Stuff {
        list: "timbers",
        title: "Timber",
        said: "timbers",
        quantity: ("board_feet", "Board feet bought"),
        metric: Some((Quantity::Timber, "Bought, m³")),
        places: |job, key| [job.key("bought").key(key), job.key("timber_paid").key(key)],
    },
    Stuff {
        list: "slabs",
        title: "Slabs",
        said: "slabs",
        quantity: ("share", "Share of its face, as 0.60"),
        metric: None,
        places: |job, key| {
            let own = job.key("slabs").key(key);
            [own.key("share"), own.key("cost")]
        },
    },
    Stuff {
        list: "resins",
        title: "Resin",
        said: "resins",
        quantity: ("cubic_inches", "Cubic inches mixed"),
        metric: Some((Quantity::Resin, "Mixed, l")),
        places: |job, key| {
            let own = job.key("resins").key(key);
            [own.key("cubic_inches"), own.key("cost")]
        },
    },
];

impl Stuff {
    /// What the quantity is called in the unit of the shop.
    const fn called(&self, unit: LengthUnit) -> &'static str {
        match (self.metric, unit) {
            (Some((_, metric)), LengthUnit::Millimetre) => metric,
            _ => self.quantity.1,
        }
    }

    /// So much of the book's as it is shown.
    fn shown(&self, held: &str, unit: LengthUnit) -> String {
        self.metric.map_or_else(|| held.to_owned(), |(quantity, _)| in_unit(held, quantity, unit))
    }

    /// The field of the quantity.
    fn field(&self, desk: &Desk, place: &Path, name: &str) -> AnyView {
        match self.metric {
            Some((quantity, _)) => measured(desk, place, quantity, name),
            None => bare(desk, place, name),
        }
    }
}

/// The form.
pub(super) fn taken(desk: &Desk, job: &Path) -> AnyView {
    let each = STUFF.iter().map(|stuff| kind(desk, job, stuff)).collect_view();
    view! {
        <fieldset tabindex="-1">
            <legend>{"What was bought and taken"}</legend>
            {each}
            <div class="fields">{field(desk, &job.key("materials"), "Other materials, all together")}</div>
        </fieldset>
    }
    .into_any()
}

fn kind(desk: &Desk, job: &Path, stuff: &'static Stuff) -> AnyView {
    let keys = {
        let (desk, job) = (desk.clone(), job.clone());
        Memo::new(move |_| keys(&desk, &job, stuff))
    };
    let table = {
        let (desk, job) = (desk.clone(), job.clone());
        move || {
            let keys = keys.get();
            (!keys.is_empty()).then(|| {
                let rows = keys.iter().map(|key| row(&desk, &job, stuff, key)).collect_view();
                let table = view! {
                        <table class="grid">
                            <caption>{stuff.title}</caption>
                            <thead>
                                <tr>
                                    <th scope="col">{"What"}</th>
                                    <th scope="col">{"Said"}</th>
                                    <th scope="col">{stuff.called(desk.length_unit())}</th>
                                    <th scope="col">{"Paid"}</th>
                                    <th scope="col">{"Row"}</th>
                                </tr>
                            </thead>
                            <tbody>{rows}</tbody>
                        </table>
                };
                scrolled(stuff.title, table)
            })
        }
    };
    let cuts = (stuff.list == "slabs").then(|| cut_out(desk, job));
    view! {
        {table}
        {cuts}
        {another(desk, job, stuff, keys)}
    }
    .into_any()
}

/// What was said or taken, each once.
fn keys(desk: &Desk, job: &Path, stuff: &Stuff) -> Vec<String> {
    let in_job: &[&str] = if stuff.list == "timbers" { &["bought", "timber_paid"] } else { &[stuff.list] };
    let places = std::iter::once(job.key("said").key(stuff.said)).chain(in_job.iter().map(|key| job.key(key)));
    let mut keys: Vec<String> = desk.sheet.with(|sheet| {
        let each = places.filter_map(|place| match sheet.at(&place) {
            Some(Node::Table(entries)) => Some(entries.iter().map(|(key, _)| key.clone()).collect::<Vec<_>>()),
            _ => None,
        });
        each.flatten().collect()
    });
    keys.sort();
    keys.dedup();
    keys
}

/// What a material of the book is called.
fn name(desk: &Desk, list: &str, key: &str) -> String {
    let place = Path::whole().key(list);
    let found = desk.sheet.with(|sheet| match sheet.at(&place) {
        Some(Node::List(rows)) => {
            let own = rows.iter().find(|row| text_of(row, "key") == Some(key));
            own.and_then(|row| text_of(row, "name")).map(str::to_owned)
        }
        _ => None,
    });
    found.unwrap_or_else(|| key.to_owned())
}

fn row(desk: &Desk, job: &Path, stuff: &'static Stuff, key: &str) -> AnyView {
    let (of_said, unit) = (job.key("said").key(stuff.said).key(key), desk.length_unit());
    let said = {
        let (desk, place) = (desk.clone(), of_said);
        move || [desk.words_at(&place.key(stuff.quantity.0)), desk.words_at(&place.key("cost"))]
    };
    let told = {
        let said = said.clone();
        move || {
            let [much, cost] = said();
            if much.is_empty() { "nothing".to_owned() } else { format!("{}, {cost}", stuff.shown(&much, unit)) }
        }
    };
    let places = (stuff.places)(job, key);
    let words = untrack(|| name(desk, stuff.list, key));
    let [quantity, cost] = places.clone();
    // A slab's share and its cost are one row: a new one has both.
    let both = {
        let desk = desk.clone();
        let places = places.clone();
        let together = stuff.list != "timbers";
        Memo::new(move |_| !together || desk.sheet.with(|sheet| places.iter().all(|place| sheet.at(place).is_some())))
    };
    let (cells, own) = (desk.clone(), words.clone());
    let fields = move || {
        let there = both.get();
        let much = || stuff.field(&cells, &quantity, &format!("{}, {own}", stuff.called(unit)));
        let paid = || bare(&cells, &cost, &format!("Paid, {own}"));
        view! {
            <td>{there.then(much)}</td>
            <td>{there.then(paid)}</td>
        }
    };
    let fill = {
        let (desk, words) = (desk.clone(), words.clone());
        move |_| as_said(&desk, &words, &places, untrack(&said))
    };
    let label = format!("As said, {words}");
    view! {
        <tr>
            <th scope="row">{words}</th>
            <td class="figure">{told}</td>
            {fields}
            <td><button type="button" aria-label=label on:click=fill>{"As said"}</button></td>
        </tr>
    }
    .into_any()
}

/// Writes down what was said as what was taken, to be corrected where it was another.
fn as_said(desk: &Desk, words: &str, places: &[Path; 2], said: [String; 2]) {
    let mut edits = Vec::new();
    for (place, text) in places.iter().zip(said) {
        // Quantities may not be nothing; a share may.
        let text = if text.is_empty() { "1".to_owned() } else { text };
        edits.push(Edit::set(place.clone(), Node::Text(text)));
    }
    desk.edit_with_tables(&format!("{words} as said"), edits);
}

/// A material nothing was said of.
fn another(desk: &Desk, job: &Path, stuff: &'static Stuff, keys: Memo<Vec<String>>) -> AnyView {
    let wanted = RwSignal::new(String::new());
    let id = format!("another-{}", stuff.list);
    let source = desk.clone();
    let names = move || {
        let (held, place) = (keys.get(), Path::whole().key(stuff.list));
        source.sheet.with(|sheet| {
            let named = |row: &Node| Some((text_of(row, "key")?.to_owned(), text_of(row, "name")?.to_owned()));
            let all = sheet.at(&place).map_or(&[][..], rows).iter().filter_map(named);
            all.filter(|(key, _)| !held.contains(key)).collect()
        })
    };
    let options = options(names, move || wanted.get());
    let (desk, job) = (desk.clone(), job.clone());
    let add = move |_| {
        let key = wanted.get_untracked();
        if !key.is_empty() {
            let words = untrack(|| name(&desk, stuff.list, &key));
            as_said(&desk, &words, &(stuff.places)(&job, &key), [String::new(), "0".to_owned()]);
        }
    };
    view! {
        <div class="above">
            <label for=id.clone()>{format!("{} nothing was said of", stuff.title)}</label>
            <select id=id on:change=move |event| wanted.set(event_target_value(&event))>
                <option value="">{"(choose)"}</option>
                {options}
            </select>
            <button type="button" aria-label=format!("Add it to {}", stuff.title) on:click=add>{"Add it"}</button>
        </div>
    }
    .into_any()
}
