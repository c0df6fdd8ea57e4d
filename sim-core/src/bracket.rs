//! A bracketed root search that always ends.

/// Steps after which the search gives what it has. Six steps halve the bracket at least once, and 50
/// halvings bring 100 mm below 1e-13 mm.
const MOST_STEPS: usize = 300;

/// The root of a function that changes sign between two ends, to within `tolerance` of its
/// argument: regula falsi in the Illinois form (Dowell and Jarratt, BIT 1971;11:168–174, from
/// memory), with a bisection wherever three steps have not halved the bracket.
///
/// `values` are the function at the `ends`. An error of the function ends the search.
pub(crate) fn root<E>(
    ends: (f64, f64),
    values: (f64, f64),
    tolerance: f64,
    mut function: impl FnMut(f64) -> Result<f64, E>,
) -> Result<f64, E> {
    let ((mut a, mut b), (mut fa, mut fb)) = (ends, values);
    if fa == 0.0 {
        return Ok(a);
    }
    let mut width = (b - a).abs();
    for step in 1..=MOST_STEPS {
        if fb == 0.0 || (b - a).abs() <= tolerance {
            break;
        }
        let halve = step % 3 == 0 && {
            let slow = (b - a).abs() > width / 2.0;
            width = (b - a).abs();
            slow
        };
        let x = if halve { f64::midpoint(a, b) } else { b - fb * (b - a) / (fb - fa) };
        let fx = function(x)?;
        if (fx < 0.0) == (fb < 0.0) {
            // The far end stays: weigh it down, or it would stay for good.
            fa /= 2.0;
        } else {
            (a, fa) = (b, fb);
        }
        (b, fb) = (x, fx);
        if fx.abs() < f64::MIN_POSITIVE {
            break;
        }
    }
    Ok(b)
}

#[cfg(test)]
mod tests {
    use super::root;

    fn search(ends: (f64, f64), function: impl Fn(f64) -> f64) -> f64 {
        root::<()>(ends, (function(ends.0), function(ends.1)), 1e-13, |x| Ok(function(x))).unwrap()
    }

    #[test]
    fn smooth_flat_and_kinked_functions_are_solved() {
        assert!((search((0.0, 2.0), |x| x * x - 2.0) - 2.0_f64.sqrt()).abs() < 1e-12);
        assert!((search((0.0, 3.0), |x| (x - 1.0).powi(3)) - 1.0).abs() < 1e-4);
        assert!((search((-1.0, 9.0), |x| if x < 4.0 { -1.0 } else { x - 3.0 }) - 4.0).abs() < 1e-12);
    }

    #[test]
    fn a_slope_that_jumps_a_thousandfold_at_the_root_is_solved_to_the_tolerance() {
        let bent = |x: f64| if x < 0.3 { x - 0.3 } else { 1e3 * (x - 0.3) };
        assert!((search((0.0, 1.0), bent) - 0.3).abs() <= 1e-13);
        assert!((search((0.0, 100.0), bent) - 0.3).abs() <= 1e-13);
    }

    #[test]
    fn an_error_of_the_function_is_handed_on() {
        assert_eq!(root((0.0, 1.0), (-1.0, 1.0), 1e-12, |_| Err("no pose")), Err("no pose"));
    }
}
