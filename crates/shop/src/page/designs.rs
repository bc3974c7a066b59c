//! Designs: the forms of one beside its drawing, which follows every keystroke, with the proof that all its sizes can be built.

mod drawn;
mod parts;
mod proved;

pub(super) use drawn::{address, pictured};

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use scantling_pricing::book::check::DesignProof;
use scantling_pricing::book::document::Node;

use super::cell::AsTyped;
use super::little::options;
use super::record::labelled;
use crate::desk::Desk;
use crate::draft::{Draft, Said, Shown};
use crate::form::{Field, Kind};
use crate::rest::rested_for;
use crate::scaffold;
use crate::sheet::{Edit, Path};
use crate::slices::{Far, Slices};

/// How long typing rests before it is drawn: short enough to be seen while the hand is still on the keys.
const REST: Duration = Duration::from_millis(120);

/// A draft, or the first place of the book that keeps it from being drawn.
type Drafted = Arc<Result<Draft, (Path, String)>>;

/// A design on the bench.
#[derive(Clone)]
struct Bench {
    desk: Desk,
    /// Which design.
    index: RwSignal<usize>,
    /// Sizes as they were typed, by dimension.
    sizes: RwSignal<Vec<Said>>,
    /// What was chosen, by option.
    choices: RwSignal<Vec<Said>>,
    /// The view.
    shown: RwSignal<Shown>,
    /// What is drawn.
    drafted: RwSignal<Option<Drafted>>,
    /// The proof that was last brought to its end.
    proof: RwSignal<Option<Arc<DesignProof>>>,
    /// The room the drawing has.
    room: drawn::Room,
    slices: Slices,
}

/// The section.
pub(crate) fn section(desk: &Desk, field: &Field) -> AnyView {
    let Some(Kind::Table(fields)) = field.kind.rows() else { return ().into_any() };
    provide_context(AsTyped);
    let first = desk.row_gone_to(&Path::whole().key("designs")).unwrap_or(0);
    let bench = Bench {
        desk: desk.clone(),
        index: RwSignal::new(first),
        sizes: RwSignal::new(Vec::new()),
        choices: RwSignal::new(Vec::new()),
        shown: RwSignal::new(Shown::Measured),
        drafted: RwSignal::new(None),
        proof: RwSignal::new(None),
        room: drawn::Room::new(),
        slices: Slices::default(),
    };
    bench.follow();
    let forms = {
        let (bench, fields) = (bench.clone(), fields.clone());
        let there = {
            let bench = bench.clone();
            Memo::new(move |_| (bench.index.get() < bench.count()).then(|| bench.index.get()))
        };
        move || there.get().map(|index| forms(&bench.desk, &fields, index))
    };
    view! {
        <section aria-label=field.label.clone()>
            <h2>{field.label.clone()}</h2>
            {chooser(&bench)}
            <div class="bench">
                <div class="board" node_ref=bench.room.place>{drawn::board(&bench)} {proved::told(&bench)}</div>
                <div class="forms">{forms}</div>
            </div>
        </section>
    }
    .into_any()
}

impl Bench {
    /// Draws and proves the design now, and again whenever it rests after a change.
    fn follow(&self) {
        self.redraft();
        let room = self.room;
        Effect::new(move |_| {
            room.place.track();
            set_timeout(move || room.measure(), Duration::ZERO);
        });
        let (source, bench) = (self.clone(), self.clone());
        let past = {
            let desk = self.desk.clone();
            Memo::new(move |_| desk.past_jobs())
        };
        let changed = move || {
            source.index.track();
            past.track();
            source.desk.sheet.with(|_| Some(()))
        };
        rested_for(REST, changed, move |()| bench.redraft());
        let slices = self.slices.clone();
        on_cleanup(move || slices.end());
    }

    fn redraft(&self) {
        let index = self.index.get_untracked();
        let past = untrack(|| self.desk.past_jobs());
        let drafted = Arc::new(self.desk.sheet.with_untracked(|sheet| Draft::of(sheet.root(), index, past)));
        self.drafted.set(Some(Arc::clone(&drafted)));
        let mut proof = DesignProof::default();
        let proved = self.proof;
        self.slices.run(move || {
            let far = drafted.as_ref().as_ref().ok().and_then(|draft| draft.prove(&mut proof));
            if far.is_none() {
                proved.set(Some(Arc::new(std::mem::take(&mut proof))));
            }
            far.map(|(done, all)| Far { done, all, of: "steps" })
        });
    }

    fn list() -> Path {
        Path::whole().key("designs")
    }

    fn count(&self) -> usize {
        self.desk.rows_at(&Self::list())
    }

    /// Turns to another design, as it starts.
    fn turn_to(&self, index: usize) {
        self.sizes.set(Vec::new());
        self.choices.set(Vec::new());
        self.proof.set(None);
        self.index.set(index);
        self.redraft();
    }

    /// Puts a design after this one and turns to it.
    fn put_in(&self, what: &str, design: Node) {
        let at = self.index.get_untracked().saturating_add(1).min(self.count());
        self.desk.edit(what, vec![Edit::Insert(Self::list().index(at), design)]);
        self.turn_to(at);
    }
}

/// Which design, and what is done with it whole.
fn chooser(bench: &Bench) -> impl IntoView + use<> {
    let index = bench.index;
    let names = {
        let bench = bench.clone();
        move || {
            let name = |at: usize| {
                let name = bench.desk.words_at(&Bench::list().index(at).key("name"));
                let name = if name.is_empty() { format!("Design {}", at.saturating_add(1)) } else { name };
                (at.to_string(), name)
            };
            (0..bench.count()).map(name).collect()
        }
    };
    let options = options(names, move || index.get().to_string());
    let (turn, copy, new, out) = (bench.clone(), bench.clone(), bench.clone(), bench.clone());
    let choose = move |event| {
        if let Ok(index) = event_target_value(&event).parse() {
            turn.turn_to(index);
        }
    };
    let copy = move |_| {
        let own = Bench::list().index(copy.index.get_untracked());
        let copied = copy.desk.sheet.with_untracked(|sheet| scaffold::copy(sheet.root(), &own));
        if let Some(design) = copied {
            copy.put_in("Copying a design", design);
            copy.desk.say("A copy is open: give it a name and a key of its own.");
        }
    };
    let new = move |_| {
        let design = new.desk.sheet.with_untracked(|sheet| scaffold::new(sheet.root()));
        new.put_in("A new design", design);
    };
    let out = move |_| {
        let index = out.index.get_untracked();
        out.desk.edit("Taking out a design", vec![Edit::Remove(Bench::list().index(index))]);
        out.turn_to(index.saturating_sub(1));
        out.desk.say("The design is taken out. Undo brings it back.");
    };
    view! {
        <div class="above">
            <label>{"Design "}<select on:change=choose>{options}</select></label>
            <button type="button" on:click=copy>{"Start one from it"}</button>
            <button type="button" on:click=new>{"Start a new one"}</button>
            <button type="button" on:click=out>{"Take this design out"}</button>
        </div>
    }
}

/// The forms of a design: what it is in the open, the rest folded away.
fn forms(desk: &Desk, fields: &[Field], index: usize) -> AnyView {
    let place = Bench::list().index(index);
    let order = [
        "key",
        "name",
        "summary",
        "purpose",
        "tip_tested",
        "dimensions",
        "roles",
        "parts",
        "options",
        "hardware",
        "work",
        "packs",
        "cautions",
    ];
    let mut fields: Vec<&Field> = fields.iter().collect();
    fields.sort_by_key(|field| order.iter().position(|key| *key == field.key).unwrap_or(order.len()));
    let one = |field: &&Field| {
        if field.key == "parts" { parts::parts(desk, &place, field) } else { labelled(desk, &place, field) }
    };
    fields.iter().map(one).collect_view().into_any()
}
