//! A study's summary, as an object.

use serde_json::{Value, json};
use sim_core::study::statistics::{BAND, CONFIDENCE, Estimate, Moments, Resampling, SobolIndices};
use sim_core::study::{Column, GroupSensitivity};

use crate::output::exact;
use report::study::summary::{
    Convergence, Numbers, Reason, Sensitivity, Spread, StudySummary, TornadoEnd, coefficients_caution,
};

pub(super) fn object(summary: &StudySummary) -> Value {
    let factors = |spreads: &[Spread]| -> Vec<Value> { spreads.iter().map(spread).collect() };
    let flags = summary.flags.iter().map(|flag| {
        let mut object = column(&flag.column);
        object["true"] = json!(flag.yes);
        object["false"] = json!(flag.no);
        object["share"] = number(flag.share.value);
        object["share_interval"] = interval(&flag.share);
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
        "intervals": {"confidence": CONFIDENCE, "of_spread": summary.intervals.of_spread,
            "of_sensitivity": summary.intervals.of_sensitivity},
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

/// The ends alone; null where there are none.
fn interval(estimate: &Estimate) -> Value {
    if estimate.has_interval() {
        json!({"low": number(estimate.low), "high": number(estimate.high)})
    } else {
        Value::Null
    }
}

fn quantiles(quantiles: &[Estimate; BAND.len()]) -> Value {
    let all = BAND.iter().zip(quantiles);
    all.map(|(part, at)| json!({"part": part, "at": number(at.value), "interval": interval(at)})).collect()
}

fn convergence(convergence: &Convergence, factors: &[Spread]) -> Value {
    let steps = convergence.steps.iter().map(|step| {
        json!({"rows": step.rows, "groups": step.groups, "mean": estimate(&step.mean),
            "quantiles": quantiles(&step.quantiles),
            "factors": step.factors.as_ref().map(|own| by_factor(own, factors))})
    });
    steps.collect()
}

fn name(factors: &[Spread], place: usize) -> &str {
    factors.get(place).map_or("", |factor| factor.column.name.as_str())
}

/// What says how much each factor matters.
fn by_factor(estimates: &[Estimate], factors: &[Spread]) -> Vec<Value> {
    let all = estimates.iter().enumerate();
    all.map(|(factor, own)| json!({"factor": name(factors, factor), "number": estimate(own)})).collect()
}

fn of_factors(indices: &SobolIndices, factors: &[Spread]) -> Vec<Value> {
    let all = indices.factors.iter().enumerate();
    all.map(|(factor, index)| {
        json!({"factor": name(factors, factor), "first_order": estimate(&index.first),
            "total": estimate(&index.total)})
    })
    .collect()
}

/// How the intervals of indices were made.
fn made(resampling: Resampling) -> Value {
    match resampling {
        Resampling::Bootstrap { resamples, seed } => {
            json!({"by": "bootstrap", "resamples": resamples, "seed": seed})
        }
        Resampling::Replicates { replicates, .. } => {
            json!({"by": "replicates", "replicates": replicates})
        }
    }
}

fn part(part: TornadoEnd) -> Value {
    json!({"value": number(part.measure), "factor": number(part.factor)})
}

fn numbers(numbers: &Numbers, factors: &[Spread]) -> Value {
    let mut object = column(&numbers.column);
    moments(&mut object, &numbers.moments);
    object["mean_interval"] = interval(&numbers.mean);
    object["quantiles"] = quantiles(&numbers.quantiles);
    object["below_zero"] = numbers.below_zero.as_ref().map(estimate).into();
    object["convergence"] = numbers.convergence.as_ref().map(|own| convergence(own, factors)).into();
    object["without_value"] = reasons(&numbers.missing);
    let name = |place: usize| name(factors, place);
    object["sensitivity"] = match &numbers.sensitivity {
        Ok(Sensitivity::Groups(GroupSensitivity::Indices(indices))) => {
            let pairs = indices.pairs.iter().map(|pair| {
                json!({"factors": [name(pair.factors.0), name(pair.factors.1)], "index": estimate(&pair.index)})
            });
            json!({"kind": "sobol_indices", "groups": indices.groups, "groups_left_out": indices.left_out,
                "variance": number(indices.variance), "intervals": made(indices.resampling),
                "factors": of_factors(indices, factors), "pairs": pairs.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Groups(GroupSensitivity::Shares(shares))) => {
            let of = shares.factors.iter().enumerate().map(|(factor, own)| {
                json!({"factor": name(factor), "share": estimate(&own.share), "known_alone": estimate(&own.alone),
                    "not_known_alone": estimate(&own.last)})
            });
            json!({"kind": "shapley_effects", "groups": shares.groups, "groups_left_out": shares.left_out,
                "variance": number(shares.variance), "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Groups(GroupSensitivity::Effects(effects))) => {
            let of = effects.factors.iter().enumerate().map(|(factor, own)| {
                json!({"factor": name(factor), "mean_size": estimate(&own.size), "mean": estimate(&own.mean),
                    "sd": estimate(&own.spread)})
            });
            json!({"kind": "elementary_effects", "trajectories": effects.trajectories,
                "trajectories_left_out": effects.left_out, "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Tornado { base, bars }) => {
            let of = bars.iter().map(|bar| {
                json!({"factor": name(bar.factor), "least": part(bar.least), "greatest": part(bar.greatest),
                    "levels_left_out": bar.left_out})
            });
            json!({"kind": "tornado", "base": number(*base), "factors": of.collect::<Vec<Value>>()})
        }
        Ok(Sensitivity::Coefficients(regression)) => {
            let of = regression.estimates.iter().enumerate();
            let of = of.map(|(factor, own)| {
                json!({"factor": name(factor), "coefficient": number(own.value), "interval": interval(own)})
            });
            json!({"kind": "standardised_coefficients", "r_squared": number(regression.r_squared),
                "caution": coefficients_caution(regression.r_squared), "rows": regression.rows,
                "factors": of.collect::<Vec<Value>>()})
        }
        Err(why) => json!({"kind": "not_told", "why": why.to_string()}),
    };
    object
}
