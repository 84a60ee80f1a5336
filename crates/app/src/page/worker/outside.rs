//! The page's side of the worker: it starts one, hands it questions one after the other, and tells of its death.

use app::work::queue::{Queue, Said, View};
use app::work::{Answer, Asked, Desk};
use js_sys::{Function, Object, Reflect};
use leptos::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Event, MessageEvent, Worker, WorkerOptions, WorkerType};

/// The element that knows where the worker's script is: its name changes with its content.
const PLACE: &str = "app";
const SCRIPT: &str = "data-worker";

/// How a question stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::page) struct Working {
    /// The last answer; it stays while a newer one is worked out.
    pub(in crate::page) answer: Option<Arc<Answer>>,
    /// Whether an answer is under way.
    pub(in crate::page) is_waiting: bool,
    /// What the worker died of, where it did.
    pub(in crate::page) died: Option<String>,
}

/// What a view hears.
enum Heard {
    Answer(Answer),
    Died(String),
}

type Listener = Rc<dyn Fn(Heard)>;

/// The one worker of the page, and who waits for it.
#[derive(Default)]
struct Office {
    worker: Option<Running>,
    queue: Queue,
    listeners: BTreeMap<View, Listener>,
    views: u32,
    started: u32,
    /// Set where the browser has no workers that run modules: the page then does the work itself.
    own_desk: Option<Desk>,
}

/// A worker with what hears it.
struct Running {
    worker: Worker,
    number: u32,
    is_ready: bool,
    _message: Closure<dyn FnMut(MessageEvent)>,
    _error: Closure<dyn FnMut(Event)>,
}

thread_local! {
    static OFFICE: RefCell<Office> = RefCell::default();
}

fn office<T>(act: impl FnOnce(&mut Office) -> T) -> T {
    OFFICE.with_borrow_mut(act)
}

/// The answer to a question, asked anew whenever it changes; `None` asks nothing. The second is called to ask once more.
pub(in crate::page) fn worked(
    question: impl Fn() -> Option<Asked> + Send + Sync + 'static,
) -> (ReadSignal<Working>, Callback<()>) {
    let (working, set) = signal(Working::default());
    let again = RwSignal::new(());
    let view = office(|office| {
        office.views += 1;
        View(office.views)
    });
    let listener: Listener = Rc::new(move |heard| {
        // A view that is gone has no signal any more.
        let _ = set.try_update(|working| match heard {
            Heard::Answer(answer) => {
                *working = Working {
                    answer: Some(Arc::new(answer)),
                    ..Working::default()
                };
            }
            Heard::Died(why) => {
                working.is_waiting = false;
                working.died = Some(why);
            }
        });
    });
    office(|office| office.listeners.insert(view, listener));
    let asked = Memo::new(move |_| question());
    Effect::new(move |_| {
        again.track();
        if let Some(asked) = asked.get() {
            set.update(|working| {
                working.is_waiting = true;
                working.died = None;
            });
            office(|office| office.queue.ask(view, asked));
            proceed();
        } else {
            // What still waits is wanted no more.
            office(|office| office.queue.leave(view));
        }
    });
    on_cleanup(move || {
        office(|office| {
            office.queue.leave(view);
            office.listeners.remove(&view);
        });
    });
    (working, Callback::new(move |()| again.notify()))
}

/// Hands the next question to the worker, which is started where there is none.
fn proceed() {
    if office(|office| office.own_desk.is_some()) {
        set_timeout(work_here, std::time::Duration::ZERO);
        return;
    }
    if office(|office| office.worker.is_none()) && !start() {
        office(|office| office.own_desk = Some(Desk::default()));
        proceed();
        return;
    }
    office(|office| {
        let Some(running) = office.worker.as_ref().filter(|running| running.is_ready) else {
            return;
        };
        let next = office.queue.next_question();
        if let Some(text) = next.and_then(|next| serde_json::to_string(&next).ok()) {
            // A text can always be sent.
            let _ = running.worker.post_message(&JsValue::from_str(&text));
        }
    });
}

/// Does the next question in the page.
fn work_here() {
    let done = office(|office| {
        let desk = office.own_desk.as_mut()?;
        let next = office.queue.next_question()?;
        Some((next.number, desk.answer(&next.asked)))
    });
    if let Some((number, answer)) = done {
        hand_over(number, answer);
        proceed();
    }
}

/// Gives an answer to who waits for it.
fn hand_over(number: u32, answer: Answer) {
    let listener = office(|office| {
        let view = office.queue.done(number)?;
        office.listeners.get(&view).cloned()
    });
    if let Some(listener) = listener {
        listener(Heard::Answer(answer));
    }
}

/// Starts a worker; whether the browser has such.
fn start() -> bool {
    let place = document().get_element_by_id(PLACE);
    let script = place.and_then(|place| place.get_attribute(SCRIPT));
    let options = WorkerOptions::new();
    options.set_type(WorkerType::Module);
    let worker = script.map(|script| Worker::new_with_options(&script, &options));
    let Some(Ok(worker)) = worker else {
        return false;
    };
    let number = office(|office| {
        office.started += 1;
        office.started
    });
    let message = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let text = event.data().as_string().unwrap_or_default();
        if let Ok(said) = serde_json::from_str(&text) {
            heard(number, said);
        }
    });
    let error = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
        // It is told of in place.
        event.prevent_default();
        ended(number, "");
    });
    worker.set_onmessage(Some(message.as_ref().unchecked_ref()));
    worker.set_onerror(Some(error.as_ref().unchecked_ref()));
    let first = Object::new();
    let parts = [
        ("module", wasm_bindgen::module()),
        ("lock", JsValue::from_str(&lock_of(number))),
    ];
    for (key, value) in parts {
        // A new object takes any key.
        let _ = Reflect::set(&first, &key.into(), &value);
    }
    if worker.post_message(&first).is_err() {
        worker.terminate();
        return false;
    }
    let running = Running {
        worker,
        number,
        is_ready: false,
        _message: message,
        _error: error,
    };
    office(|office| office.worker = Some(running));
    true
}

/// The lock that a worker holds while it lives; another window has workers of its own.
fn lock_of(number: u32) -> String {
    thread_local! {
        static WINDOW: String = super::super::browser::new_id().0;
    }
    WINDOW.with(|window| format!("headwright work {window} {number}"))
}

/// Hears what a worker says.
fn heard(number: u32, said: Said) {
    match said {
        Said::Ready => {
            office(|office| {
                if let Some(running) = office.worker.as_mut().filter(|it| it.number == number) {
                    running.is_ready = true;
                }
            });
            watch(number);
        }
        Said::Done { number, answer } => hand_over(number, answer),
        Said::Stopped { why } => {
            ended(number, &why);
            return;
        }
    }
    proceed();
}

/// Waits until a worker lets go of its lock, which it never does of its own will.
fn watch(number: u32) {
    let locks = Reflect::get(&window().navigator(), &"locks".into());
    let request = locks
        .as_ref()
        .ok()
        .and_then(|locks| Reflect::get(locks, &"request".into()).ok())
        .and_then(|request| request.dyn_into::<Function>().ok());
    // Without locks what a browser ends in silence is not known.
    if let (Ok(locks), Some(request)) = (locks, request) {
        let free = Closure::once_into_js(move || ended(number, ""));
        let _ = request.call2(&locks, &lock_of(number).into(), &free);
    }
}

/// Tells of the end of a worker, and goes on with the next question in another one.
fn ended(number: u32, why: &str) {
    let gone = office(|office| {
        office
            .worker
            .take_if(|running| running.number == number)
            .map(|running| (running, office.queue.died()))
    });
    let Some((running, view)) = gone else {
        return;
    };
    running.worker.terminate();
    running.worker.set_onmessage(None);
    running.worker.set_onerror(None);
    // One that never came up will not come up the next time: the page does the work itself.
    if !running.is_ready {
        office(|office| office.own_desk = Some(Desk::default()));
    }
    // What hears the worker is running now: it goes after that.
    set_timeout(move || drop(running), std::time::Duration::ZERO);
    let listener = view.and_then(|view| office(|office| office.listeners.get(&view).cloned()));
    if let Some(listener) = listener {
        listener(Heard::Died(why.to_owned()));
    }
    if office(|office| !office.queue.is_empty()) {
        proceed();
    }
}
