//! Runs damaged input through the readers and the solver: `cargo run -p fuzz -- [--inputs N | --seconds N] [--seed N]`.
//! What fails is saved in `fuzz/failures/`.

use std::env;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use fuzz::inputs;

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
    let start = Instant::now();
    let came = inputs(asked.seed, |number| match asked.seconds {
        Some(seconds) => start.elapsed() < Duration::from_secs(seconds),
        None => number < asked.inputs,
    })?;
    println!("{} inputs, {} of them read and solved, {} failed", came.inputs, came.read, came.failed);
    Ok(came.failed)
}
