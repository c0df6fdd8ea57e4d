//! The distributions as an object.

use serde_json::{Value, json};
use sim_core::study::{MEANS_ALONE, PUBLISHED};

use super::words::settings;

pub(super) fn object() -> Value {
    let published = PUBLISHED.iter().map(|published| {
        let range = published.figures.range();
        json!({"name": published.name, "what": published.what, "unit": published.unit.words(),
            "mean": published.figures.mean(), "sd": published.figures.sd(), "least": range.map(|range| range.0),
            "greatest": range.map(|range| range.1), "people": published.people,
            "stands_for": settings(published), "source": published.source})
    });
    let means = MEANS_ALONE.iter().map(|alone| {
        let means = alone.means.iter().map(|(whose, mean)| json!({"of": whose, "mean": mean}));
        json!({"stands_for": alone.stands_for.key(), "unit": alone.stands_for.facts().unit.words(),
            "means": means.collect::<Vec<Value>>(), "source": alone.source})
    });
    json!({"published": published.collect::<Vec<Value>>(), "means_alone": means.collect::<Vec<Value>>()})
}
