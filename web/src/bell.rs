//! Waiting until something happens, so that nothing is done while nothing does.

use std::cell::RefCell;
use std::future::poll_fn;
use std::task::{Poll, Waker};

use crate::page;

#[derive(Default)]
struct Bell {
    rung: bool,
    waiting: Option<Waker>,
}

thread_local! {
    static BELL: RefCell<Bell> = RefCell::default();
}

/// Rings: whoever waits goes on, now or when it next waits.
pub fn ring() {
    let waiting = BELL.with_borrow_mut(|bell| {
        bell.rung = true;
        bell.waiting.take()
    });
    if let Some(waiting) = waiting {
        waiting.wake();
    }
}

/// Waits until it rings, or for so many seconds.
pub async fn rung(seconds: Option<f64>) {
    /// What is farther off comes after something else has rung.
    const FAR: f64 = 3600.0;
    if let Some(seconds) = seconds.filter(|seconds| *seconds < FAR) {
        page::ring_in((seconds * 1000.0).max(0.0));
    }
    poll_fn(|context| {
        BELL.with_borrow_mut(|bell| {
            if std::mem::take(&mut bell.rung) {
                return Poll::Ready(());
            }
            bell.waiting = Some(context.waker().clone());
            Poll::Pending
        })
    })
    .await;
}

#[cfg(test)]
mod tests {
    use std::pin::pin;
    use std::task::Context;

    use super::*;

    #[test]
    fn it_waits_until_it_rings_and_a_ring_before_is_not_lost() {
        let mut context = Context::from_waker(Waker::noop());
        let mut waiting = pin!(rung(None));
        assert!(waiting.as_mut().poll(&mut context).is_pending());
        ring();
        assert!(waiting.as_mut().poll(&mut context).is_ready());
        ring();
        assert!(pin!(rung(None)).poll(&mut context).is_ready());
        assert!(pin!(rung(None)).poll(&mut context).is_pending());
    }
}
