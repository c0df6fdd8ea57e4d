//! Seconds, and the most memory asked for.

use std::alloc::{GlobalAlloc, Layout, System};
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use std::time::Instant;

struct Counting;

static HELD: AtomicUsize = AtomicUsize::new(0);
static MOST: AtomicUsize = AtomicUsize::new(0);

// SAFETY: every call goes to the system's allocator as it came; only the sizes are added up beside it.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        let held = HELD.fetch_add(layout.size(), Relaxed) + layout.size();
        MOST.fetch_max(held, Relaxed);
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, memory: *mut u8, layout: Layout) {
        HELD.fetch_sub(layout.size(), Relaxed);
        unsafe { System.dealloc(memory, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

/// The shortest of several runs in milliseconds, the most memory of one in megabytes, and its result.
pub(crate) fn measured<T>(runs: usize, mut work: impl FnMut() -> T) -> (f64, f64, T) {
    let mut best = f64::INFINITY;
    let mut last = None;
    let mut most = 0.0_f64;
    for _ in 0..runs {
        drop(last.take());
        let before = HELD.load(Relaxed);
        MOST.store(before, Relaxed);
        let start = Instant::now();
        let result = work();
        best = best.min(start.elapsed().as_secs_f64() * 1e3);
        most = most.max((MOST.load(Relaxed) - before) as f64 / 1e6);
        last = Some(result);
    }
    (best, most, last.expect("at least one run"))
}

pub(crate) fn row(what: &str, who: &str, (milliseconds, megabytes): (f64, f64), note: &str) {
    println!("| {what} | {who} | {milliseconds:.2} ms | {megabytes:.1} MB | {note} |");
}
