//! Several numbers in one argument.

/// So many finite numbers with commas between them.
pub(crate) fn numbers<const N: usize>(given: &str, example: &str) -> Result<[f64; N], String> {
    let needed = || format!("{N} numbers are needed, for example {example}");
    let numbers: Vec<f64> = given
        .split(',')
        .map(|number| number.trim().parse())
        .collect::<Result<_, _>>()
        .map_err(|_| needed())?;
    let numbers: [f64; N] = numbers.try_into().map_err(|_| needed())?;
    if numbers.iter().all(|number| number.is_finite()) { Ok(numbers) } else { Err(needed()) }
}
