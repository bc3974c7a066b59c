//! The other thread: the page's own script run once more as a worker, asked what the engine says of a book.
//!
//! Only the newest question is answered. Where a browser gives no worker, or it fails, the question is answered here.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use js_sys::{Array, JsString};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MessageEvent, Worker};

use crate::judge::{Answer, judge};
use crate::pack::packed;

/// Who is asked.
pub(crate) struct Judge {
    worker: Option<Worker>,
    asked: Rc<RefCell<Asked>>,
    /// What hears the worker, for as long as the page stands.
    _hears: Vec<Closure<dyn Fn(JsValue)>>,
}

/// The newest question.
#[derive(Default)]
struct Asked {
    number: u32,
    waiting: Option<Waiting>,
    /// The worker failed: it is not asked again.
    alone: bool,
}

struct Waiting {
    book: Arc<str>,
    take: Box<dyn FnOnce(Answer, String)>,
}

impl Judge {
    /// Asks this worker, where there is one.
    pub(crate) fn new(worker: Option<Worker>) -> Self {
        let asked = Rc::new(RefCell::new(Asked::default()));
        let mut hears = Vec::new();
        if let Some(worker) = &worker {
            let (answers, fails) = (Rc::clone(&asked), Rc::clone(&asked));
            let answered = Closure::new(move |event: JsValue| heard(&answers, &event));
            let failed = Closure::new(move |_| {
                fails.borrow_mut().alone = true;
                here(&fails);
            });
            worker.set_onmessage(Some(answered.as_ref().unchecked_ref()));
            worker.set_onerror(Some(failed.as_ref().unchecked_ref()));
            hears.extend([answered, failed]);
        }
        Self { worker, asked, _hears: hears }
    }

    /// Asks what the engine says of a book, and for the book as it is to be kept. An earlier question that waits still is given up: the book is another by now.
    pub(crate) fn ask(&self, book: Arc<str>, take: impl FnOnce(Answer, String) + 'static) {
        let message = |number: u32| Array::of2(&number.into(), &JsString::from(&*book));
        let posted = {
            let mut asked = self.asked.borrow_mut();
            asked.number = asked.number.wrapping_add(1);
            let worker = self.worker.as_ref().filter(|_| !asked.alone);
            let posted = worker.is_some_and(|worker| worker.post_message(&message(asked.number)).is_ok());
            asked.waiting = Some(Waiting { book, take: Box::new(take) });
            posted
        };
        if !posted {
            here(&self.asked);
        }
    }
}

/// The worker's answer: the number of the question, what the engine says, and the book as it is to be kept.
fn heard(asked: &RefCell<Asked>, event: &JsValue) {
    let Some(event) = event.dyn_ref::<MessageEvent>() else { return };
    let data = Array::from(&event.data());
    let newest = data.get(0).as_f64() == Some(f64::from(asked.borrow().number));
    if !newest {
        return;
    }
    let answer = data.get(1).as_string().and_then(|text| Answer::read(&text));
    match answer.zip(data.get(2).as_string()) {
        Some((answer, packed)) => {
            let waiting = asked.borrow_mut().waiting.take();
            if let Some(waiting) = waiting {
                (waiting.take)(answer, packed);
            }
        }
        None => here(asked),
    }
}

/// Answers what waits in this thread.
fn here(asked: &RefCell<Asked>) {
    let waiting = asked.borrow_mut().waiting.take();
    if let Some(waiting) = waiting {
        let answer = judge(&waiting.book);
        (waiting.take)(answer, packed(&waiting.book));
    }
}
