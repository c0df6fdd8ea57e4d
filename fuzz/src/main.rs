//! Runs damaged input through the readers and the solver: `cargo run -p fuzz -- [--inputs N | --seconds N] [--seed N]`.
//! What fails is saved in `fuzz/failures/`.

use std::process::ExitCode;
use std::time::{Duration, Instant};
use std::{env, fs};

use fuzz::corpus::{self, Seed};
use fuzz::damage::damaged;
use fuzz::taken::{scenes, take};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// What is asked for.
struct Asked {
    inputs: u64,
    seconds: Option<u64>,
    seed: u64,
}

fn main() -> ExitCode {
    let asked = match asked() {
        Ok(asked) => asked,
        Err(why) => {
            eprintln!("{why}");
            return ExitCode::from(2);
        }
    };
    match run(&asked) {
        Ok(0) => ExitCode::SUCCESS,
        Ok(failed) => {
            eprintln!("{failed} inputs failed; they are in fuzz/failures/");
            ExitCode::FAILURE
        }
        Err(error) => {
            eprintln!("the corpus cannot be read, or a failure not be saved: {error}");
            ExitCode::FAILURE
        }
    }
}

fn asked() -> Result<Asked, String> {
    let mut asked = Asked { inputs: 3000, seconds: None, seed: 1 };
    let mut words = env::args().skip(1);
    while let Some(word) = words.next() {
        let mut number = || {
            words.next().and_then(|number| number.parse().ok()).ok_or(format!("{word} takes a whole number"))
        };
        match word.as_str() {
            "--inputs" => asked.inputs = number()?,
            "--seconds" => asked.seconds = Some(number()?),
            "--seed" => asked.seed = number()?,
            _ => return Err(format!("{word}: known are --inputs N, --seconds N and --seed N")),
        }
    }
    Ok(asked)
}

fn run(asked: &Asked) -> std::io::Result<u64> {
    let corpus = corpus::read()?;
    let others = scenes(&corpus);
    let start = Instant::now();
    let (mut number, mut failed, mut were_read) = (0, 0, 0_u64);
    let goes_on = |number| match asked.seconds {
        Some(seconds) => start.elapsed() < Duration::from_secs(seconds),
        None => number < asked.inputs,
    };
    while goes_on(number) {
        // Each input has a generator of its own, so that one can be made again alone.
        let mut random = ChaCha8Rng::seed_from_u64(asked.seed.wrapping_mul(1 << 32).wrapping_add(number));
        let seed = any(&corpus, &mut random);
        let bytes = damaged(&seed.bytes, &any(&corpus, &mut random).bytes, &mut random);
        match take(seed, &bytes, &others) {
            Ok(read) => were_read += u64::from(read),
            Err(failure) => {
                let folder = corpus::root().join("fuzz/failures");
                fs::create_dir_all(&folder)?;
                fs::write(folder.join(format!("{}-{number}-{}", asked.seed, seed.name)), &bytes)?;
                eprintln!("input {number} of seed {} ({}): {failure:?}", asked.seed, seed.name);
                failed += 1;
            }
        }
        number += 1;
    }
    println!("{number} inputs, {were_read} of them read and solved, {failed} failed");
    Ok(failed)
}

fn any<'c>(corpus: &'c [Seed], random: &mut ChaCha8Rng) -> &'c Seed {
    let index = usize::try_from(random.next_u64() % corpus.len().max(1) as u64).unwrap_or_default();
    &corpus[index]
}
