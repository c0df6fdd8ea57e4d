//! The stated standard errors are those that scatter makes.

use super::Made;
use crate::tracing::{Leg, USUAL_RADIUS, examine};

/// Tracings made for each check.
const RUNS: usize = 400;
/// Ends of the interval in which the sum of 400 squared standard normal numbers lies but once in a
/// thousand checks: chi-square with 400 degrees of freedom, level 0.1 %, two-sided (Wilson and
/// Hilferty's approximation, computed for this test).
const CHI_SQUARE_400: (f64, f64) = (313.0, 499.0);
/// The same for the apex, whose two coordinates count together: 800 degrees of freedom.
const CHI_SQUARE_800: (f64, f64) = (674.0, 937.0);

#[test]
fn errors_are_as_large_as_their_standard_errors_say() {
    let made = Made { points: 90, ..Made::default() };
    let truth = examine(&Made { scatter_mm: 0.0, ..made }.tracing(0), USUAL_RADIUS).unwrap();
    let mut sums = std::collections::BTreeMap::<&str, f64>::new();
    for seed in 0..RUNS as u64 {
        let found = examine(&made.tracing(seed), USUAL_RADIUS).unwrap();
        let mut add =
            |name, error: f64, standard: f64| *sums.entry(name).or_default() += (error / standard).powi(2);
        // Along and across the axes of the ellipse.
        let apex = found.apex.ellipse;
        let (sin, cos) = apex.direction.sin_cos();
        let off = found.apex.at.vector() - truth.apex.at.vector();
        add("apex", cos * off.x + sin * off.y, apex.greater.mm());
        add("apex", cos * off.y - sin * off.x, apex.lesser.mm());
        let mut angle =
            |name, is: crate::tracing::Estimate<crate::units::Angle>, should_be: crate::units::Angle| {
                add(name, (is.value - should_be).degrees(), is.standard_error.degrees());
            };
        angle("apex angle", found.apex_angle, truth.apex_angle.value);
        angle("difference", found.asymmetry.difference, truth.asymmetry.difference.value);
        angle("middle", found.asymmetry.middle, truth.asymmetry.middle.value);
        for (leg, names) in Leg::ALL.into_iter().zip([
            ["tangent P", "chord P", "bend P"],
            ["tangent R", "chord R", "bend R"],
            ["tangent L", "chord L", "bend L"],
        ]) {
            let (is, should_be) = (found.leg(leg), truth.leg(leg));
            angle(names[0], is.tangent, should_be.tangent.value);
            angle(names[1], is.chord.unwrap(), should_be.chord.unwrap().value);
            angle(names[2], is.bend.unwrap(), should_be.bend.unwrap().value);
        }
        let miss = found.protrusive_misses_by;
        add("miss", miss.value.mm(), miss.standard_error.mm());
    }
    for (name, sum) in sums {
        let (low, high) = if name == "apex" { CHI_SQUARE_800 } else { CHI_SQUARE_400 };
        assert!((low..=high).contains(&sum), "{name}: chi-square {sum:.0} outside {low} to {high}");
    }
}

#[test]
fn the_stated_scatter_is_the_one_that_was_made() {
    let made = Made { points: 200, ..Made::default() };
    let mean = |leg: Leg| {
        let scatters =
            (0..40).map(|seed| examine(&made.tracing(seed), USUAL_RADIUS).unwrap().leg(leg).scatter.mm());
        scatters.sum::<f64>() / 40.0
    };
    // 200 points, 40 runs: standard error of the mean scatter 0.8 %; setting aside beyond 3.5
    // standard deviations takes another 0.3 %.
    for leg in Leg::ALL {
        assert!((mean(leg) / made.scatter_mm - 1.0).abs() < 0.025, "{leg}: {}", mean(leg));
    }
}

/// Chi-square does not see an interval that is right on the average of sharp and rounded ones:
/// here the 95 % interval of the radius is counted.
#[test]
fn the_interval_of_the_radius_holds_the_truth_as_often_as_it_says() {
    for radius_mm in [0.0, 1.2] {
        let made = Made { radius_mm, points: 90, ..Made::default() };
        let held = (0..200)
            .filter(|seed| {
                let (low, high) = examine(&made.tracing(*seed), USUAL_RADIUS).unwrap().roundness.interval;
                (low.mm()..=high.mm()).contains(&radius_mm)
            })
            .count();
        // 95 % of 200 is 190; 180 and 199 are 3.2 standard deviations below and 2.9 above. At
        // radius 0, an end of what is possible, the interval holds more.
        assert!((180..=200).contains(&held), "radius {radius_mm} mm: held {held} of 200");
    }
}
