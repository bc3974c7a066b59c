//! The widget inside a browser: mounted into a shadow root, found by its labels, used, taken away.
#![cfg(target_arch = "wasm32")]
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::integer_division,
    reason = "a test stops where its own set-up fails"
)]

#[path = "../../pricing/tests/thousand/mod.rs"]
mod thousand;

use scantling_pricing::book::PriceBook;
use scantling_widget::store::{Browser, Store, StoreFault};
use scantling_widget::{Mounted, mount};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::{Document, Element, HtmlElement, HtmlInputElement, ShadowRoot, ShadowRootInit, ShadowRootMode};

wasm_bindgen_test_configure!(run_in_browser);

const BOOK: &str = include_str!("../../../public/price-book.json");

const ENGLISH: &str = include_str!("../element/words/en.json");
const GERMAN: &str = include_str!("../element/words/de.json");

fn document() -> Document {
    web_sys::window().unwrap().document().unwrap()
}

/// A widget on the test page.
struct Widget {
    root: ShadowRoot,
    host: HtmlElement,
    mounted: Option<Mounted>,
}

impl Widget {
    fn new(attributes: &[(&str, &str)], language: &str) -> Self {
        let host: HtmlElement = document().create_element("div").unwrap().unchecked_into();
        for (name, value) in attributes {
            host.set_attribute(name, value).unwrap();
        }
        document().body().unwrap().append_child(&host).unwrap();
        let root = host.attach_shadow(&ShadowRootInit::new(ShadowRootMode::Open)).unwrap();
        let words = if language.starts_with("de") { GERMAN } else { ENGLISH };
        let mounted =
            mount(&root, host.clone(), BOOK, language.to_owned(), words, js_sys::Function::new_no_args("")).ok();
        mounted.iter().for_each(Mounted::come_alive);
        Self { root, host, mounted }
    }

    fn find(&self, css: &str) -> Option<Element> {
        self.root.query_selector(css).unwrap()
    }

    fn text(&self, css: &str) -> String {
        self.find(css).map(|element| element.text_content().unwrap_or_default()).unwrap_or_default()
    }

    fn labelled(&self, label: &str) -> HtmlInputElement {
        let labels = self.root.query_selector_all("label").unwrap();
        let label = (0..labels.length())
            .filter_map(|i| labels.item(i)?.dyn_into::<Element>().ok())
            .find(|found| found.text_content().unwrap_or_default().trim().starts_with(label))
            .unwrap();
        self.root.get_element_by_id(&label.get_attribute("for").unwrap()).unwrap().unchecked_into()
    }

    fn type_into(&self, label: &str, text: &str) {
        let field = self.labelled(label);
        field.set_value(text);
        field.dispatch_event(&web_sys::Event::new("input").unwrap()).unwrap();
    }
}

impl Drop for Widget {
    fn drop(&mut self) {
        self.mounted = None;
        self.host.remove();
    }
}

/// Lets the page settle: what stands beside the price follows it in a frame of its own, and the lines a moment later.
async fn settled() {
    after(200).await;
}

async fn after(milliseconds: i32) {
    let later = js_sys::Promise::new(&mut |resolve, _| {
        let window = web_sys::window().unwrap();
        window.set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, milliseconds).unwrap();
    });
    wasm_bindgen_futures::JsFuture::from(later).await.unwrap();
}

#[wasm_bindgen_test]
async fn the_price_and_the_drawing_are_there_before_anything_can_be_changed() {
    let host: HtmlElement = document().create_element("div").unwrap().unchecked_into();
    document().body().unwrap().append_child(&host).unwrap();
    let root = host.attach_shadow(&ShadowRootInit::new(ShadowRootMode::Open)).unwrap();
    let mounted = mount(&root, host.clone(), BOOK, "en".into(), ENGLISH, js_sys::Function::new_no_args("")).unwrap();
    let mut widget = Widget { root, host, mounted: None };
    assert_eq!(widget.text(".span.workshop .range"), "$3,060 to $4,030");
    assert!(widget.text(".plot").contains("84 in"));
    assert!(widget.find("form, input, .handle, button:not([disabled], [hidden])").is_none());
    // What the page asks for meanwhile is priced, and stays when the form comes.
    mounted.set("design", "hall-bench");
    let bench = widget.text(".span.workshop .range");
    assert_ne!(bench, "$3,060 to $4,030");
    mounted.come_alive();
    widget.mounted = Some(mounted);
    settled().await;
    assert_eq!(widget.text(".span.workshop .range"), bench);
    assert!(widget.text(".sizes").contains("Seat height"));
}

#[wasm_bindgen_test]
async fn prices_are_written_the_way_the_page_s_language_writes_them() {
    let english = Widget::new(&[], "en-US");
    let german = Widget::new(&[], "de-DE");
    settled().await;
    assert_eq!(english.text(".span.workshop .range"), "$3,060 to $4,030");
    // A no-break space and the sign behind, as the platform writes dollars in German.
    assert_eq!(german.text(".span.workshop .range"), "3.060\u{a0}$ bis 4.030\u{a0}$");
}

/// Waits until something is there; the neighbours of a brief are priced once typing rests.
async fn until(there: impl Fn() -> bool) {
    for _ in 0..200 {
        if there() {
            return;
        }
        after(25).await;
    }
    panic!("it did not come");
}

fn click(element: &Element) {
    element.unchecked_ref::<HtmlElement>().click();
}

#[wasm_bindgen_test]
async fn what_saves_most_is_taken_with_one_press_and_undone_with_another() {
    let widget = Widget::new(&[], "en");
    until(|| widget.find(".moves button").is_some()).await;
    let before = widget.text(".span.workshop .likely");
    // Of the demo's woods for the top, red oak saves most of what is told; its own figure is held by the engine's tests.
    assert_eq!(widget.text(".proposals .moves li:first-child"), "Top: Northern red oaksaves $695");
    // The same stands beside the wood itself, and nothing beside the one that is chosen.
    let red_oak = widget.labelled("Northern red oak").next_element_sibling().unwrap().text_content().unwrap();
    assert!(red_oak.ends_with("saves $695"), "{red_oak}");
    assert_eq!(widget.labelled("Black walnut").next_element_sibling().unwrap().query_selector(".by").unwrap(), None);
    click(&widget.find(".proposals .moves button").unwrap());
    until(|| widget.find(".undo").is_some()).await;
    assert_eq!(widget.text(".undo"), "Undo Top: Northern red oak");
    let after = widget.text(".span.workshop .likely");
    assert_eq!((before.as_str(), after.as_str()), ("likely $3,480", "likely $2,785"));
    click(&widget.find(".undo").unwrap());
    until(|| widget.find(".undo").is_none()).await;
    assert_eq!(widget.text(".span.workshop .likely"), before);
}

#[wasm_bindgen_test]
async fn what_was_typed_after_a_press_stays_when_that_is_undone() {
    let widget = Widget::new(&[], "en");
    until(|| widget.find(".moves button").is_some()).await;
    click(&widget.find(".proposals .moves button").unwrap());
    until(|| widget.find(".undo").is_some()).await;
    widget.type_into("Postal code", "98101");
    widget.type_into("Length", "100");
    click(&widget.find(".undo").unwrap());
    until(|| widget.find(".undo").is_none()).await;
    assert!(widget.labelled("Black walnut").checked(), "the wood before");
    assert_eq!(widget.labelled("Postal code").value(), "98101");
    assert_eq!(widget.labelled("Length").value(), "100");
    // Chosen again by hand, there is nothing left to undo.
    until(|| widget.find(".moves button").is_some()).await;
    click(&widget.find(".proposals .moves button").unwrap());
    until(|| widget.find(".undo").is_some()).await;
    widget.labelled("White oak").click();
    until(|| widget.find(".undo").is_none()).await;
}

#[wasm_bindgen_test]
async fn a_budget_is_met_by_the_fewest_changes_or_told_to_be_out_of_reach() {
    let widget = Widget::new(&[], "en");
    settled().await;
    let ask = |sum: &str| {
        widget.type_into("What you would spend", sum);
        click(&widget.find(".asked button").unwrap());
    };
    ask("a lot");
    until(|| widget.text(".budget .fault").contains("“a lot” is not a sum")).await;
    ask("$3,000");
    until(|| widget.find(".plans button").is_some()).await;
    click(&widget.find(".plans button").unwrap());
    settled().await;
    let likely: u32 =
        widget.text(".span.workshop .likely").chars().filter(char::is_ascii_digit).collect::<String>().parse().unwrap();
    assert!((2000..=3000).contains(&likely), "{likely}");
    ask("3000");
    until(|| widget.text(".budget").contains("It fits as it stands")).await;
    ask("100");
    until(|| widget.text(".budget").contains("The least it can be had for")).await;
}

#[wasm_bindgen_test]
async fn a_typed_size_changes_the_price_and_a_wrong_one_keeps_the_last() {
    let widget = Widget::new(&[("design", "hall-bench")], "en");
    settled().await;
    let before = widget.text(".span.workshop .range");
    widget.type_into("Length", "6 ft");
    settled().await;
    let longer = widget.text(".span.workshop .range");
    assert_ne!(longer, before);
    widget.type_into("Length", "6 furlongs");
    settled().await;
    assert_eq!(widget.text(".span.workshop .range"), longer);
    assert!(widget.find(".price.earlier").is_some());
    let field = widget.labelled("Length");
    assert_eq!(field.get_attribute("aria-invalid").as_deref(), Some("true"));
    let fault = field.get_attribute("aria-describedby").unwrap();
    let fault = widget.root.get_element_by_id(fault.split(' ').next().unwrap()).unwrap();
    assert!(fault.text_content().unwrap().contains("furlongs"));
    assert_eq!(field.value(), "6 furlongs", "what was typed is kept");
}

#[wasm_bindgen_test]
async fn attributes_choose_the_design_the_unit_and_the_place() {
    let widget = Widget::new(&[("design", "wall-shelf"), ("units", "metric"), ("postal-code", "54601")], "en");
    settled().await;
    assert_eq!(widget.labelled("Length").value(), "914.4 mm");
    assert!(widget.text(".ways").contains("The maker brings it"));
    assert!(widget.text(".details").contains("Wisconsin sales tax"));
    widget.mounted.as_ref().unwrap().set("units", "inch");
    widget.mounted.as_ref().unwrap().set("design", "no-such-design");
    settled().await;
    assert_eq!(widget.labelled("Length").value(), "36 in");
}

#[wasm_bindgen_test]
async fn a_german_page_is_answered_in_german() {
    let widget = Widget::new(&[("design", "wall-shelf"), ("units", "metric"), ("postal-code", "54601")], "de-AT");
    settled().await;
    assert_eq!(widget.find(".scantling").unwrap().get_attribute("lang").as_deref(), Some("de"));
    assert_eq!(widget.text(".price .span.delivered .name"), "Geliefert");
    // The book's own words stay the maker's; a size is written with the comma it is read with.
    assert_eq!(widget.labelled("Length").value(), "914,4 mm");
    assert!(widget.text(".sheet").contains("914,4 mm"));
    assert!(widget.text(".ways").contains("Einen Tag unterwegs."), "{}", widget.text(".ways"));
    assert!(widget.text(".details").contains("Preisstand 25. November 2026."), "{}", widget.text(".details"));
    assert!(widget.text(".cautions").contains("von selbst entzünden"));
    assert!(widget.find("option[value=CH]").unwrap().text_content().unwrap().contains("Schweiz"));
    widget.type_into("Length", "1,2 Ellen");
    settled().await;
    let fault = widget.text(".sizes .field .fault");
    assert!(fault.starts_with("„ellen“ ist keine Längeneinheit"), "{fault}");
    widget.type_into("Length", "1,2 m");
    settled().await;
    assert!(widget.text(".sizes .field .fault").is_empty());
    assert!(widget.text(".sheet").contains("1200 mm"));
}

#[wasm_bindgen_test]
async fn cautions_follow_what_is_chosen() {
    let widget = Widget::new(&[("design", "wall-shelf")], "en");
    settled().await;
    assert!(widget.text(".cautions").contains("competent person"));
    assert!(widget.text(".cautions").contains("catch fire by themselves"));
    widget.labelled("Sprayed water-borne clear").click();
    settled().await;
    assert!(!widget.text(".cautions").contains("catch fire by themselves"));
}

#[wasm_bindgen_test]
async fn what_the_checks_warn_of_and_how_long_it_takes_is_told() {
    let widget = Widget::new(&[("design", "hall-bench")], "en");
    settled().await;
    assert!(!widget.text(".cautions").contains("bends"));
    assert!(widget.text(".details").contains("About 11 weeks from your order until you can collect it."));
    widget.type_into("Length", "84");
    settled().await;
    assert!(widget.text(".cautions").contains("Seat: bends 21/64 in under its load"), "{}", widget.text(".cautions"));
}

#[wasm_bindgen_test]
async fn a_book_that_can_t_be_used_is_refused_with_its_fault() {
    let host: HtmlElement = document().create_element("div").unwrap().unchecked_into();
    document().body().unwrap().append_child(&host).unwrap();
    let root = host.attach_shadow(&ShadowRootInit::new(ShadowRootMode::Open)).unwrap();
    let error = mount(
        &root,
        host.clone(),
        "{\"scantling_price_book\": 2}",
        "en".into(),
        ENGLISH,
        js_sys::Function::new_no_args(""),
    )
    .unwrap_err();
    let error: js_sys::Error = JsValue::from(error).unchecked_into();
    assert!(String::from(error.message()).contains("scantling check"));
    assert!(root.query_selector("*").unwrap().is_none(), "nothing is left in the root");
}

#[wasm_bindgen_test]
async fn the_drawing_speaks_the_page_s_language_and_unit_and_takes_keys_at_once() {
    let widget = Widget::new(&[("units", "metric")], "de-DE");
    settled().await;
    let height = widget.find(".handle[data-size='height']").unwrap();
    let spoken = || height.get_attribute("aria-valuetext").unwrap();
    assert_eq!(spoken(), "749,3 mm");
    // A number for machines, with a point.
    assert_eq!(height.get_attribute("aria-valuenow").as_deref(), Some("749.3"));
    assert!(widget.text(".plot text").contains("Draufsicht"), "{}", widget.text(".plot text"));
    assert!(widget.text(".plot desc").contains("Platz für 6 Personen an den Längsseiten, 609,6 mm für jede."));
    let key = web_sys::KeyboardEventInit::new();
    key.set_key("End");
    key.set_bubbles(true);
    height
        .dispatch_event(&web_sys::KeyboardEvent::new_with_keyboard_event_init_dict("keydown", &key).unwrap())
        .unwrap();
    settled().await;
    // Why that is a limit, the maker says in his own language.
    let most = "774,7 mm ist das größte Maß, das gebaut wird. Lower, knees meet the rail; higher, no usual chair fits.";
    assert_eq!(spoken(), most);
    assert_eq!(widget.labelled("Height").value(), "774,7 mm", "the book names its dimensions in its own language");
    assert_eq!(widget.text(".told"), most);
}

/// The lines of what is folded away, and whether each is open.
fn folded(widget: &Widget) -> Vec<(String, bool)> {
    let all = widget.root.query_selector_all(".folded").unwrap();
    let each = |i| {
        let details: Element = all.item(i)?.unchecked_into();
        let line = details.query_selector("summary").unwrap()?.text_content()?;
        Some((line, details.has_attribute("open")))
    };
    (0..all.length()).filter_map(each).collect()
}

#[wasm_bindgen_test]
async fn what_comes_second_is_folded_away_behind_what_is_chosen_there() {
    let widget = Widget::new(&[], "en");
    settled().await;
    let lines = |many: &str, finish: &str, ends: &str| {
        [
            format!("Lengths in: Inches · How many: {many}"),
            format!("Finish: {finish}"),
            format!("Ends of the top: {ends}"),
        ]
    };
    let (texts, open): (Vec<String>, Vec<bool>) = folded(&widget).into_iter().unzip();
    assert_eq!(texts, lines("1", "Hardwax oil", "Plain, edges eased"));
    assert_eq!(open, [false, false, false]);
    // What is chosen by other means is told and moves nothing; a field that can't be taken is shown, and not hidden.
    widget.labelled("Sprayed water-borne clear").click();
    widget.type_into("How many", "none");
    settled().await;
    let (texts, open): (Vec<String>, Vec<bool>) = folded(&widget).into_iter().unzip();
    assert_eq!(texts, lines("none", "Sprayed water-borne clear", "Plain, edges eased"));
    assert_eq!(open, [true, false, false]);
    click(&widget.find(".folded summary").unwrap());
    settled().await;
    assert!(folded(&widget)[0].1, "the fault stays in sight");
    widget.type_into("How many", "2");
    click(&widget.find(".folded summary").unwrap());
    settled().await;
    assert!(!folded(&widget)[0].1);
    // A piece without variants has no line for them.
    widget.mounted.as_ref().unwrap().set("design", "bookcase");
    settled().await;
    assert!(
        widget.root.query_selector_all(".folded").unwrap().item(2).unwrap().unchecked_into::<HtmlElement>().hidden()
    );
}

#[wasm_bindgen_test]
async fn a_limit_is_told_with_its_step_and_its_reason() {
    let widget = Widget::new(&[], "en");
    settled().await;
    let why = "Shorter, the trestles stand in each other's way; longer, it would take a third.";
    let field = widget.labelled("Length");
    let described = field.get_attribute("aria-describedby").unwrap();
    let told = |n: usize| {
        let id = described.split(' ').nth(n).unwrap();
        widget.root.get_element_by_id(id).unwrap().text_content().unwrap()
    };
    assert_eq!(told(1), format!("60 in to 108 in, by 1 in. {why}"));
    widget.type_into("Length", "20 ft");
    settled().await;
    assert!(told(0).ends_with(&format!("so choose a size between them. {why}")), "{}", told(0));
}

#[wasm_bindgen_test]
async fn a_finish_tells_what_it_stands_and_what_care_it_takes() {
    let widget = Widget::new(&[], "en");
    settled().await;
    let field = widget.labelled("Hardwax oil");
    let note = widget.root.get_element_by_id(&field.get_attribute("aria-describedby").unwrap()).unwrap();
    let note = note.text_content().unwrap();
    let lines: Vec<&str> = note.lines().collect();
    assert_eq!(lines.len(), 4, "{note}");
    assert!(lines[1].starts_with("Durability: Stands daily use"), "{note}");
    assert!(lines[2].starts_with("Care: Wipe it with a damp cloth."), "{note}");
}

#[wasm_bindgen_test]
async fn every_wood_tells_what_it_is_like_once_it_is_asked_to() {
    let widget = Widget::new(&[], "en");
    settled().await;
    let each = widget.find(".materials .each").unwrap();
    assert_eq!(each.get_attribute("aria-expanded").as_deref(), Some("false"));
    assert!(widget.find(".materials.telling").is_none());
    click(&each);
    settled().await;
    assert_eq!(each.get_attribute("aria-expanded").as_deref(), Some("true"));
    assert!(widget.find(".materials.telling").is_some());
}

#[wasm_bindgen_test]
async fn whom_it_has_room_for_and_why_it_is_a_range_is_told() {
    let widget = Widget::new(&[("postal-code", "60601")], "en");
    settled().await;
    let room = widget.text(".room-for");
    assert!(room.contains("6 places along its sides."), "{room}");
    assert!(room.contains("29 1/2 in high; 28 in to 30 in is usual for it."), "{room}");
    assert!(room.contains("it goes through a usual inside door of 30 in."), "{room}");
    let why = widget.text(".why-range");
    let named = why.split_once("Most of the doubt here: ").unwrap().1;
    let (first, second) = named.trim_end_matches('.').split_once(", then ").unwrap();
    assert_ne!(first, second);
    let table = widget.text(".details table");
    assert!(table.contains(first) && table.contains(second), "{first} and {second} are lines of the price");
}

#[wasm_bindgen_test]
async fn a_page_may_ask_for_the_price_alone_and_for_another_country() {
    let widget = Widget::new(&[("detail", "price"), ("country", "de"), ("postal-code", "10115")], "en");
    settled().await;
    assert!(!widget.text(".span.workshop .range").is_empty());
    assert!(widget.find("form, input, .handle").is_none());
    assert!(widget.find(".actions").unwrap().has_attribute("hidden"));
    let button = widget.find(".waits button").unwrap();
    assert_eq!(button.text_content().as_deref(), Some("Change it"));
    click(&button);
    until(|| widget.find("form.form").is_some()).await;
    settled().await;
    let country: HtmlInputElement = widget.find(".destination select").unwrap().unchecked_into();
    assert_eq!(country.value(), "DE");
    assert!(widget.find(".actions:not([hidden]) button:not([disabled])").is_some());
    widget.mounted.as_ref().unwrap().set("country", "Atlantis");
    settled().await;
    assert_eq!(country.value(), "DE", "what is no country changes nothing");
}

#[wasm_bindgen_test]
async fn taken_away_it_leaves_nothing() {
    let mut widget = Widget::new(&[], "en");
    settled().await;
    assert!(widget.find(".widget").is_some());
    widget.mounted = None;
    assert!(widget.find("*").is_none());
}

#[wasm_bindgen_test]
fn the_browser_s_storage_keeps_gives_back_and_says_when_it_is_full() {
    let key = "scantling.test.1";
    Browser.put(key, "{\"é\":\"木\"}").unwrap();
    assert_eq!(Browser.get(key).unwrap().as_deref(), Some("{\"é\":\"木\"}"));
    assert!(Browser.keys().unwrap().iter().any(|known| known == key));
    // Source: the HTML standard leaves the room to the browser; none gives an origin 64 MiB.
    assert_eq!(Browser.put(key, &"x".repeat(64 * 1024 * 1024)), Err(StoreFault::Full));
    assert_eq!(Browser.get(key).unwrap().as_deref(), Some("{\"é\":\"木\"}"), "what was there is kept");
    Browser.remove(key).unwrap();
    assert_eq!(Browser.get(key), Ok(None));
}

#[wasm_bindgen_test]
async fn an_estimate_is_kept_opened_and_deleted() {
    let widget = Widget::new(&[("design", "hall-bench")], "en");
    settled().await;
    let press = |words: &str| {
        let buttons = widget.root.query_selector_all("button").unwrap();
        let found = (0..buttons.length()).filter_map(|i| buttons.item(i)?.dyn_into::<HtmlElement>().ok());
        found.filter(|button| button.text_content().unwrap_or_default() == words).last().unwrap().click();
    };
    press("Keep this estimate");
    settled().await;
    assert!(widget.text(".actions .said").contains("It is kept below"));
    let price = widget.text(".span.workshop .range");
    assert!(widget.text(".kept table").contains(&price));
    widget.type_into("Length", "6 ft");
    settled().await;
    assert_ne!(widget.text(".span.workshop .range"), price);
    press("Open");
    settled().await;
    assert_eq!(widget.text(".span.workshop .range"), price);
    press("Delete");
    settled().await;
    assert!(widget.find(".kept table").is_none());
    assert!(!Browser.keys().unwrap().iter().any(|key| key.starts_with("scantling.kept.")));
}

#[wasm_bindgen_test]
fn a_thousand_briefs_come_to_the_same_as_on_the_machine_that_built_this() {
    let (hash, _) = thousand::come_to(&PriceBook::read_published(BOOK).unwrap());
    assert_eq!(hash, thousand::COMMITTED.trim());
}
