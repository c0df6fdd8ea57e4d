//! A study's summary, as an object.

use serde_json::{Value, json};
use sim_core::study::Column;
use sim_core::study::statistics::{BAND, Estimate, Moments};

use crate::output::exact;
use report::study::summary::{
    Numbers, Reason, Sensitivity, Spread, StudySummary, TornadoEnd, coefficients_caution,
};

pub(super) fn object(summary: &StudySummary) -> Value {
    let factors = |spreads: &[Spread]| -> Vec<Value> { spreads.iter().map(spread).collect() };
    let flags = summary.flags.iter().map(|flag| {
        let mut object = column(&flag.column);
        object["true"] = json!(flag.yes);
        object["false"] = json!(flag.no);
        object["share"] = number(flag.share());
        object["without_value"] = reasons(&flag.missing);
        object
    });
    let words = summary.words.iter().map(|word| {
        let mut object = column(&word.column);
        let counts = word.counts.iter().map(|(word, rows)| json!({"word": word, "rows": rows}));
        object["words"] = counts.collect();
        object["without_value"] = reasons(&word.missing);
        object
    });
    let numbers = summary.numbers.iter().map(|measure| numbers(measure, &summary.factors));
    json!({
        "title": summary.title, "tables": summary.files, "study_sha256": summary.study_sha256,
        "version": summary.version, "commit": summary.origin.commit, "build": summary.origin.build,
        "inputs": summary.origin.inputs, "runs": summary.origin.runs, "plan": summary.plan_name, "plan_words": summary.plan,
        "rows": summary.rows, "rows_of_study": summary.study_rows, "whole_rows": summary.whole_rows(),
        "without_value": reasons(&summary.reasons), "noted": notes(&summary.noted), "warnings": summary.warnings, "notes": summary.notes,
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
    json!({"name": column.name, "words": words::name::column::full(column), "unit": column.unit.map(|unit| unit.words())})
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
    let mut whole = json!({});
    moments(&mut whole, &spread.in_whole_rows);
    object["in_whole_rows"] = whole;
    object
}

fn reasons(reasons: &[Reason]) -> Value {
    reasons.iter().map(|reason| json!({"reason": reason.words, "rows": reason.rows})).collect()
}

fn notes(notes: &[Reason]) -> Vec<Value> {
    notes.iter().map(|note| json!({"note": note.words, "rows": note.rows})).collect()
}

fn estimate(estimate: &Estimate) -> Value {
    json!({"value": number(estimate.value), "low": number(estimate.low), "high": number(estimate.high)})
}

fn part(part: TornadoEnd) -> Value {
    json!({"value": number(part.measure), "factor": number(part.factor)})
}

fn numbers(numbers: &Numbers, factors: &[Spread]) -> Value {
    let mut object = column(&numbers.column);
    moments(&mut object, &numbers.moments);
    let quantiles = BAND.iter().zip(numbers.quantiles);
    object["quantiles"] = quantiles.map(|(part, at)| json!({"part": part, "at": number(at)})).collect();
    object["without_value"] = reasons(&numbers.missing);
    let name = |place: usize| factors.get(place).map_or("", |factor| factor.column.name.as_str());
    object["sensitivity"] = match &numbers.sensitivity {
        Ok(Sensitivity::Indices(indices)) => {
            let of = indices.factors.iter().enumerate().map(|(factor, index)| {
                json!({"factor": name(factor), "first_order": estimate(&index.first),
                    "total": estimate(&index.total)})
            });
            json!({"kind": "sobol_indices", "groups": indices.groups, "groups_left_out": indices.left_out,
                "variance": number(indices.variance), "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Tornado { base, bars }) => {
            let of = bars.iter().map(|bar| {
                json!({"factor": name(bar.factor), "least": part(bar.least), "greatest": part(bar.greatest),
                    "levels_left_out": bar.left_out})
            });
            json!({"kind": "tornado", "base": number(*base), "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Coefficients(regression)) => {
            let of = regression.coefficients.iter().enumerate();
            let of = of.map(|(factor, value)| json!({"factor": name(factor), "coefficient": number(*value)}));
            json!({"kind": "standardised_coefficients", "r_squared": number(regression.r_squared),
                "caution": coefficients_caution(regression.r_squared), "rows": regression.rows,
                "factors": of.collect::<Vec<Value>>()})
        }
        Err(why) => json!({"kind": "not_told", "why": why.to_string()}),
    };
    object
}
