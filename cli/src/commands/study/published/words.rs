//! Figures and uses in words.

use sim_core::study::Published;
use sim_core::units::Unit;

use words::number::as_given;

/// The settings that it may stand for.
pub(super) fn settings(published: &Published) -> Vec<String> {
    published.stands_for.iter().map(|setting| setting.key()).collect()
}

/// `mean 41.9°, sd 7.8°, from 26.1 to 61.8°`.
pub(super) fn figures(published: &Published) -> String {
    let figures = &published.figures;
    let mean = figures.mean().map(|mean| format!("mean {}", number(mean, published.unit)));
    let sd = figures.sd().map(|sd| format!("sd {}", number(sd, published.unit)));
    let range = figures
        .range()
        .map(|(least, most)| format!("from {} to {}", as_given(least), number(most, published.unit)));
    [mean, sd, range].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// As it was published, with its unit.
pub(super) fn number(number: f64, unit: Unit) -> String {
    format!("{}{}", as_given(number), unit.sign())
}
