//! What cannot happen, stated with the reason; should it happen all the same, the work at hand ends and gives no answer.
//!
//! A value that must be there is taken with [`Hold::hold`]. Whoever can do without the answer to one question (the
//! program, a line of a batch, an editor's request) asks it through [`caught`] and tells the [`Fault`].

use std::any::Any;
use std::cell::Cell;
use std::fmt::{self, Display, Formatter};
use std::panic::{self, AssertUnwindSafe, Location};

/// A fault of the program itself: something that cannot be, and was met
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Fault {
    why: String,
    at: Option<String>,
}

impl Display for Fault {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        write!(out, "a fault in Pinboss, not in your file: {}", self.why)?;
        self.at.as_ref().map_or(Ok(()), |at| write!(out, " ({at})"))
    }
}

/// A value that is always there
pub trait Hold {
    /// What is held
    type Held;

    /// The value; `why` says why it is there, and ends up in the message should it not be
    #[track_caller]
    fn hold(self, why: &'static str) -> Self::Held;
}

impl<T> Hold for Option<T> {
    type Held = T;

    #[inline]
    #[track_caller]
    fn hold(self, why: &'static str) -> T {
        match self {
            Some(value) => value,
            None => broken(why),
        }
    }
}

impl<T, E> Hold for Result<T, E> {
    type Held = T;

    #[inline]
    #[track_caller]
    fn hold(self, why: &'static str) -> T {
        match self {
            Ok(value) => value,
            Err(_) => broken(why),
        }
    }
}

/// Goes on only where something is so; `why` says why it is
#[inline]
#[track_caller]
pub fn holds(is: bool, why: &'static str) {
    if !is {
        broken(why);
    }
}

/// Ends the work at hand: what cannot be has happened
#[cold]
#[track_caller]
#[expect(
    clippy::panic,
    reason = "the one place that gives up what cannot go on; `caught` stands at every border"
)]
pub fn broken(why: &'static str) -> ! {
    let at = Some(Location::caller().to_string());
    panic::panic_any(Fault { why: why.to_owned(), at })
}

thread_local! {
    /// Where this thread panicked last
    static LAST: Cell<Option<String>> = const { Cell::new(None) };
}

/// From now on panics are told by whoever catches them, and not by the standard library
pub fn quiet() {
    panic::set_hook(Box::new(|info| LAST.set(info.location().map(ToString::to_string))));
}

/// Does some work, which a fault of the program may end, also a panic of a library
///
/// # Errors
/// The fault. Whatever the work was changing must not be used any more then.
pub fn caught<T>(work: impl FnOnce() -> T) -> Result<T, Fault> {
    panic::catch_unwind(AssertUnwindSafe(work)).map_err(fault)
}

/// Goes on with a fault that was caught on another thread
pub fn again(fault: Fault) -> ! {
    panic::resume_unwind(Box::new(fault))
}

/// What a panic was about
fn fault(payload: Box<dyn Any + Send>) -> Fault {
    let at = LAST.take();
    let payload = match payload.downcast::<Fault>() {
        Ok(fault) => return *fault,
        Err(payload) => payload,
    };
    let literal = payload.downcast_ref::<&str>().copied();
    let words = literal.or_else(|| payload.downcast_ref::<String>().map(String::as_str));
    let words = words.unwrap_or("a panic without a message"); // else: it says nothing in words
    let words: Vec<&str> = words.split_whitespace().collect();
    Fault { why: words.join(" "), at }
}
