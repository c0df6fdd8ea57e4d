"""What goes to an archive: packages of data and the citation, held to the standards by their own libraries."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

import jsonschema
import pytest
import yaml
from frictionless import Package
from rocrate.rocrate import ROCrate

from conftest import ROOT, SCENES

LICENSE = "https://creativecommons.org/licenses/by/4.0/"


@pytest.fixture(scope="module", params=["csv", "parquet"])
def package(request: pytest.FixtureRequest, command: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder made of a table of a demo study."""
    folder = tmp_path_factory.mktemp("packages")
    study, table = SCENES / "studies" / "inclination.ron", folder / f"table.{request.param}"
    subprocess.run([command, "study", "run", study, "--out", table], check=True, capture_output=True)
    out = folder / "package"
    asked = ["study", "package", table, "--study", study, "--out", out, "--license", LICENSE]
    subprocess.run([command, *asked], check=True, capture_output=True)
    return out


def test_a_data_package_is_valid_and_so_is_every_row_of_its_csv(package: Path) -> None:
    described = Package(str(package / "datapackage.json"))
    assert not Package.validate_descriptor(described.to_descriptor()).errors
    table, study = described.resources
    assert study.path == "study.ron"
    if table.format == "csv":
        report = table.validate()
        assert report.valid, report.flatten(["rowNumber", "fieldName", "message"])
        assert table.stats.rows > 100
        assert [field.name for field in table.schema.fields] == table.read_rows()[0].field_names


def test_a_research_object_is_read_with_its_files_and_its_run(package: Path) -> None:
    crate = ROCrate(str(package))
    files = {entity.id for entity in crate.data_entities}
    assert files == {path.name for path in package.iterdir()} - {"datapackage.json", "ro-crate-metadata.json"}
    assert all((package / file).is_file() for file in files)
    run = crate.dereference("#run")
    assert run["instrument"].id == "#eminentia"
    assert {entity.id for entity in [*run["object"], *run["result"]]} == files
    assert crate.root_dataset["license"].id == LICENSE


def test_the_citation_is_one_by_its_schema_and_of_this_version() -> None:
    citation = yaml.safe_load((ROOT / "CITATION.cff").read_text())
    schema = json.loads((ROOT / "tests" / "outside" / "schemas" / "citation_file_format_1.2.0.json").read_text())
    jsonschema.validate(citation, schema)
    version = re.search(r'^version = "(.+)"$', (ROOT / "Cargo.toml").read_text(), re.MULTILINE)
    assert version and citation["version"] == version[1]
