//! Runs a study of many rows and prints what it took, as one JSON object: rows, seconds, rows a second,
//! bytes, and the most memory that the process held.
//!
//!     cargo run --release -p study-run --example study_speed -- ROWS THREADS FILE [one-cusp]
//!
//! With `one-cusp` a row has three clearances rather than 24, so that 10⁸ rows take 7 GB.

#![allow(clippy::print_stdout, clippy::expect_used)]

use std::error::Error;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use study_run::{Destination, Existing, Options, Part, UnderWay, run};

#[path = "../benches/invented/mod.rs"]
mod invented;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let mut next = || arguments.next().ok_or("give ROWS THREADS FILE");
    let (rows, threads, file): (u64, usize, String) = (next()?.parse()?, next()?.parse()?, next()?);
    let of_one_cusp = next().is_ok_and(|word| word == "one-cusp");
    let study = if of_one_cusp { invented::study_of_one_cusp(rows) } else { invented::study(rows) };
    let loaded = files::study_from_text(&study, "invented.ron", Path::new(""))?;
    let options = Options {
        destination: Destination::File(file.into()),
        existing: Existing::Replaced,
        part: Part::WHOLE,
        threads,
        under_way: UnderWay::default(),
        free_space: study_run::FreeSpace::Ignored,
    };
    let began = Instant::now();
    let finished = run(&loaded, &options, &mut (), &AtomicBool::new(false))?;
    let seconds = began.elapsed().as_secs_f64();
    println!(
        "{{\"rows\": {rows}, \"threads\": {threads}, \"seconds\": {seconds:.3}, \"rows_per_second\": {:.0}, \
         \"bytes\": {}, \"most_memory_kb\": {}}}",
        rows as f64 / seconds,
        finished.bytes.unwrap_or_default(),
        most_memory_kb().unwrap_or_default(),
    );
    Ok(())
}

/// `VmHWM` of Linux; nothing elsewhere.
fn most_memory_kb() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse().ok()
}
