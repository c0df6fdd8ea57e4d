//! As a research object: what was made, by which program, of what, and when.

use serde_json::{Value, json};

use super::packed::{Package, PackedFile, RESEARCH_OBJECT, is_csv};

/// Of RO-Crate 1.1; the hash has a term of schema.org that its own list of terms lacks.
const CONTEXT: &str = "https://w3id.org/ro/crate/1.1/context";
const PROGRAM: &str = "#eminentia";
const RUN: &str = "#run";

pub(super) fn object(package: &Package<'_>) -> Value {
    let ids =
        |files: &[&PackedFile]| files.iter().map(|file| json!({"@id": file.name})).collect::<Vec<Value>>();
    let tables: Vec<&PackedFile> = package.tables.iter().collect();
    let all: Vec<&PackedFile> = tables.iter().copied().chain([&package.study]).collect();
    let license = package.facts.license.as_ref().map_or_else(
        || json!("No licence was said; whoever made the data decides."),
        |license| json!({"@id": license}),
    );
    let mut graph = vec![
        json!({"@id": RESEARCH_OBJECT, "@type": "CreativeWork", "about": {"@id": "./"},
            "conformsTo": {"@id": "https://w3id.org/ro/crate/1.1"}}),
        json!({"@id": "./", "@type": "Dataset", "name": package.title(), "description": package.description(),
            "datePublished": package.facts.day, "license": license, "hasPart": ids(&all), "mentions": {"@id": RUN}}),
    ];
    if let Some(license) = &package.facts.license {
        graph.push(json!({"@id": license, "@type": "CreativeWork", "name": license}));
    }
    graph.extend(tables.iter().map(|file| {
        let kind = if is_csv(&file.name) { "text/csv" } else { "application/vnd.apache.parquet" };
        of_file(file, kind, "Table of the study: a row a setting, columns as datapackage.json says")
    }));
    graph.push(of_file(&package.study, "text/plain", "The study in full, with its base scene (RON)"));
    let version = package.opened.metadata.version.as_deref();
    let program = package.origin.made_by(version).unwrap_or_else(|| "eminentia".to_owned());
    graph.push(
        json!({"@id": PROGRAM, "@type": "SoftwareApplication", "name": "eminentia", "description": program,
        "softwareVersion": version.or_else(|| Some(package.origin.runs.first()?.version.as_str()))}),
    );
    let mut run = json!({"@id": RUN, "@type": "CreateAction", "name": "The study was run",
        "instrument": {"@id": PROGRAM}, "object": ids(&[&package.study]), "result": ids(&tables)});
    if let Some(last) = package.origin.runs.iter().map(|run| &run.day).max() {
        run["endTime"] = json!(last);
    }
    if let Some(on) = package.origin.made_on() {
        run["description"] = json!(on);
    }
    graph.push(run);
    json!({"@context": [CONTEXT, {"sha256": "https://schema.org/sha256"}], "@graph": graph})
}

fn of_file(file: &PackedFile, kind: &str, what: &str) -> Value {
    json!({"@id": file.name, "@type": "File", "name": file.name, "description": what, "encodingFormat": kind,
        "contentSize": file.bytes.to_string(), "sha256": file.sha256})
}
