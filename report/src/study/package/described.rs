//! As a data package: every column with its unit and meaning.

use serde_json::{Map, Value, json};
use sim_core::study::{Column, ColumnKind};
use study_run::{ROW, role_name};

use super::packed::{Package, PackedFile, is_csv};
use words::name::column;

pub(super) fn object(package: &Package<'_>) -> Value {
    let columns = package.opened.study.prepared.columns();
    let tables = package.tables.iter().map(|file| table(file, columns));
    let study = resource(&package.study, "ron", "text/plain");
    let mut object = json!({
        "name": slug(package.title()),
        "title": package.title(),
        "description": package.description(),
        "created": format!("{}T00:00:00Z", package.facts.day),
        "study_sha256": package.opened.study_sha256(),
        "made_by": package.origin.made_by(package.opened.metadata.version.as_deref()),
        "made_on": package.origin.made_on(),
        "inputs": package.origin.inputs,
        "resources": tables.chain([study]).collect::<Vec<Value>>(),
    });
    if let Some(license) = &package.facts.license {
        object["licenses"] = json!([{"path": license}]);
    }
    object
}

fn resource(file: &PackedFile, format: &str, kind: &str) -> Value {
    json!({"name": slug(&file.name), "path": file.name, "format": format, "mediatype": kind, "encoding": "utf-8",
        "bytes": file.bytes, "hash": format!("sha256:{}", file.sha256)})
}

fn table(file: &PackedFile, columns: &[Column]) -> Value {
    let csv = is_csv(&file.name);
    let (format, kind) =
        if csv { ("csv", "text/csv") } else { ("parquet", "application/vnd.apache.parquet") };
    let mut object = resource(file, format, kind);
    object["type"] = json!("table");
    let row = json!({"name": ROW, "type": "integer", "title": "number of the row in the study, from 0",
        "constraints": {"required": true, "unique": true, "minimum": 0}});
    let fields = std::iter::once(row).chain(columns.iter().map(field));
    object["schema"] =
        json!({"fields": fields.collect::<Vec<Value>>(), "primaryKey": [ROW], "missingValues": [""]});
    if csv {
        // Its first line is the caution.
        object["dialect"] = json!({"commentChar": "#"});
    }
    object
}

fn field(of: &Column) -> Value {
    let kind = match of.kind {
        ColumnKind::Number => "number",
        ColumnKind::Text => "string",
        ColumnKind::Flag => "boolean",
    };
    let mut field = Map::new();
    field.insert("name".to_owned(), json!(of.name));
    field.insert("type".to_owned(), json!(kind));
    field.insert("title".to_owned(), json!(column::full(of)));
    field.insert("role".to_owned(), json!(role_name(of.role)));
    if let Some(unit) = of.unit {
        field.insert("unit".to_owned(), json!(unit.words()));
    }
    Value::Object(field)
}

/// A name of the letters that a data package takes: small ones, digits, and `.`, `-`, `_`.
fn slug(name: &str) -> String {
    let letter = |letter: char| {
        let small = letter.to_ascii_lowercase();
        if small.is_ascii_alphanumeric() || "._".contains(small) { small } else { '-' }
    };
    let mut slug: String = name.chars().map(letter).collect();
    while slug.contains("--") {
        slug = slug.replace("--", "-");
    }
    let slug = slug.trim_matches(['-', '.', '_']);
    if slug.is_empty() { "study".to_owned() } else { slug.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn any_title_makes_a_name() {
        assert_eq!(slug("Steeper guides (invented)"), "steeper-guides-invented");
        assert_eq!(slug("Öß – <b>"), "b");
        assert_eq!(slug("…"), "study");
    }
}
