//! A study's summary, as an object.

use serde_json::{Value, json};
use sim_core::study::Column;
use sim_core::study::statistics::{BAND, Estimate, Moments};

use crate::output::exact;
use report::study::summary::{
    Numbers, Part, Reason, Sensitivity, Spread, StudySummary, coefficients_caution,
};

pub(super) fn object(summary: &StudySummary) -> Value {
    let factors = |spreads: &[Spread]| -> Vec<Value> { spreads.iter().map(spread).collect() };
    let flags = summary.flags.iter().map(|own| {
        let mut object = column(&own.column);
        object["true"] = json!(own.yes);
        object["false"] = json!(own.no);
        object["share"] = number(own.share());
        object["without_value"] = reasons(&own.missing);
        object
    });
    let words = summary.words.iter().map(|own| {
        let mut object = column(&own.column);
        let counts = own.counts.iter().map(|(word, rows)| json!({"word": word, "rows": rows}));
        object["words"] = counts.collect();
        object["without_value"] = reasons(&own.missing);
        object
    });
    let numbers = summary.numbers.iter().map(|own| numbers(own, &summary.factors));
    json!({
        "title": summary.title, "tables": summary.files, "study_sha256": summary.study_sha256,
        "version": summary.version, "plan": summary.plan_name, "plan_words": summary.plan,
        "rows": summary.rows, "rows_of_study": summary.study_rows, "whole_rows": summary.whole_rows(),
        "without_value": reasons(&summary.reasons), "warnings": summary.warnings, "notes": summary.notes,
        "resamples": summary.resamples, "seed": summary.seed,
        "factors": factors(&summary.factors), "derived": factors(&summary.derived),
        "measures": numbers.collect::<Vec<Value>>(), "flags": flags.collect::<Vec<Value>>(),
        "words": words.collect::<Vec<Value>>(),
    })
}

/// Null where there is none.
fn number(number: f64) -> Value {
    json!(number.is_finite().then(|| exact(number)))
}

fn column(column: &Column) -> Value {
    json!({"name": column.name, "words": column.words(), "unit": column.unit.map(|unit| unit.words())})
}

fn moments(object: &mut Value, moments: &Moments) {
    object["rows"] = json!(moments.count());
    object["mean"] = number(moments.mean());
    object["sd"] = number(if moments.count() == 0 { f64::NAN } else { moments.sd() });
    object["least"] = number(moments.least());
    object["greatest"] = number(moments.greatest());
}

fn spread(spread: &Spread) -> Value {
    let mut object = column(&spread.column);
    moments(&mut object, &spread.moments);
    object
}

fn reasons(reasons: &[Reason]) -> Value {
    reasons.iter().map(|own| json!({"reason": own.words, "rows": own.rows})).collect()
}

fn estimate(estimate: &Estimate) -> Value {
    json!({"value": number(estimate.value), "low": number(estimate.low), "high": number(estimate.high)})
}

fn part(part: Part) -> Value {
    json!({"value": number(part.measure), "factor": number(part.factor)})
}

fn numbers(numbers: &Numbers, factors: &[Spread]) -> Value {
    let mut object = column(&numbers.column);
    moments(&mut object, &numbers.moments);
    let quantiles = BAND.iter().zip(numbers.quantiles);
    object["quantiles"] = quantiles.map(|(part, at)| json!({"part": part, "at": number(at)})).collect();
    object["without_value"] = reasons(&numbers.missing);
    let name = |factor: usize| factors.get(factor).map_or("", |own| own.column.name.as_str());
    object["sensitivity"] = match &numbers.sensitivity {
        Ok(Sensitivity::Indices(found)) => {
            let of = found.factors.iter().enumerate().map(|(factor, own)| {
                json!({"factor": name(factor), "first_order": estimate(&own.first),
                    "total": estimate(&own.total)})
            });
            json!({"kind": "sobol_indices", "groups": found.groups, "groups_left_out": found.left_out,
                "variance": number(found.variance), "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Tornado { base, bars }) => {
            let of = bars.iter().map(|bar| {
                json!({"factor": name(bar.factor), "least": part(bar.least), "greatest": part(bar.greatest),
                    "levels_left_out": bar.left_out})
            });
            json!({"kind": "tornado", "base": number(*base), "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Coefficients(found)) => {
            let of = found.coefficients.iter().enumerate();
            let of = of.map(|(factor, value)| json!({"factor": name(factor), "coefficient": number(*value)}));
            json!({"kind": "standardised_coefficients", "r_squared": number(found.r_squared),
                "caution": coefficients_caution(found.r_squared), "rows": found.rows,
                "factors": of.collect::<Vec<Value>>()})
        }
        Err(untold) => json!({"kind": "not_told", "why": untold.to_string()}),
    };
    object
}
