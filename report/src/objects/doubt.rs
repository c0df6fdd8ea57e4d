//! How far to trust a case, as an object.

use serde_json::{Value, json};
use sim_core::doubt::{DISCLUSION_ADVANCE_MM, Doubt, DoubtSource, PUBLISHED_ERROR_MM, QUANTILES, Spread};

use sim_core::record::program::Source;

use crate::rows::exact;

/// How far to trust a case's settings, drawn with that seed.
#[must_use]
pub fn doubt(title: &str, doubt: &Doubt, seed: u64) -> Value {
    let taken = &doubt.uncertainties;
    let settings = doubt.settings.iter().map(|one| {
        let mut object = spread(&one.spread);
        if one.from == Source::Rule {
            // Its spread would be that of the inclination alone.
            for key in ["mean", "sd", "quantiles", "alone_sd", "shares", "dominant"] {
                object[key] = Value::Null;
            }
        }
        object["source"] = json!(match one.from {
            Source::Record(_) => "record",
            Source::Rule => "rule",
        });
        object["side"] = json!(one.side.name());
        object["name"] = json!(one.setting.key);
        object["standard_error"] = json!(one.standard_error.map(|error| error.degrees()));
        object
    });
    let cusps = doubt.cusps.iter().map(|one| {
        json!({"excursion": one.movement.name(), "tooth": one.tooth.number(), "name": one.name,
            "disclusion_mm": spread(&one.spread)})
    });
    let axis = &doubt.axis;
    let molar: [f64; 3] = (*axis.second_molar.coords()).into();
    let closed_form = axis.closed_form.iter().map(|row| {
        json!({"axis_off_mm": row.axis_off.mm(), "record_mm": row.thickness.mm(),
            "measured_at": row.measured_at.replace(' ', "_"), "turn_deg": row.turn.degrees(),
            "error_mm": row.error.mm(), "published_mm": PUBLISHED_ERROR_MM})
    });
    let population = &axis.population;
    json!({
        "title": title, "draws": doubt.draws, "failed_draws": doubt.failed, "seed": seed,
        "disclusion_advance_mm": DISCLUSION_ADVANCE_MM,
        "uncertainties": {
            "landmark_sd_mm": taken.landmark_sd.mm(), "axis_sd_mm": taken.axis_sd.mm(),
            "reference_sd_mm": taken.reference_sd.mm(), "record_sd_mm": taken.record_sd.mm(),
            "scale_step_deg": taken.scale_step.degrees(),
        },
        "settings": settings.collect::<Vec<Value>>(),
        "cusps": cusps.collect::<Vec<Value>>(),
        "axis": {
            "second_molar_mm": molar.map(exact), "second_molar_of_the_case": axis.of_the_case,
            "closed_form": closed_form.collect::<Vec<Value>>(),
            "population": {
                "axis_sd_mm": population.axis_sd.mm(), "change_mm": population.change.mm(),
                "median_mm": population.median.mm(), "quantile_0.95_mm": population.most.mm(),
                "parts": parts(population.parts),
            },
        },
    })
}

fn parts([under, between, over]: [f64; 3]) -> Value {
    json!({"under_0.3_mm": exact(under), "0.3_to_0.5_mm": exact(between), "over_0.5_mm": exact(over)})
}

fn spread(spread: &Spread) -> Value {
    let quantiles =
        QUANTILES.iter().zip(spread.quantiles).map(|(part, at)| json!({"part": part, "at": exact(at)}));
    let by_source = |numbers: [f64; DoubtSource::ALL.len()]| -> Value {
        DoubtSource::ALL
            .into_iter()
            .zip(numbers)
            .map(|(source, number)| (source.name().to_owned(), json!(number)))
            .collect()
    };
    json!({
        "value": exact(spread.value), "mean": exact(spread.mean), "sd": spread.sd,
        "quantiles": quantiles.collect::<Vec<Value>>(), "alone_sd": by_source(spread.alone_sd),
        "shares": by_source(spread.shares), "dominant": spread.dominant().map(DoubtSource::name),
    })
}
