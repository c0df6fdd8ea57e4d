"""A study on a cluster, some of whose workers are lost, into files and a store of objects: the bytes of one machine."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import fsspec
import pyarrow.parquet as pq
import pytest
from distributed import Client, LocalCluster

import eminentia
import eminentia.dask
from conftest import SCENES

#: Rows of a scene with casts come in groups of 64; the pin guides, so that they are quick.
ROWS = 1000


@pytest.fixture(scope="module")
def study() -> eminentia.Study:
    text = eminentia.Scene.thirty_degree().to_text().rstrip().removesuffix(")").rstrip().removesuffix(",")
    scene = eminentia.Scene.from_text(f"{text}, invented_casts: (kind: Dentate, fineness_mm: 1.5))")
    return eminentia.Study.from_dict(
        {
            "title": "Groups for a cluster (invented)",
            "scene": scene,
            "factors": {"horizontal_inclination_deg": {"Normal": {"mean": 40, "sd": 25}}},
            "plan": {"MonteCarlo": {"rows": ROWS, "seed": 3}},
            "record": {"measures": ["Clearance", "Interference", "FirstInterference"], "advances_mm": [3]},
        }
    )


@pytest.fixture(scope="module", params=["parquet", "csv"])
def by_one_machine(request: pytest.FixtureRequest, study: eminentia.Study, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("one") / f"table.{request.param}"
    study.write(out)
    return out


@pytest.fixture(scope="module")
def cluster() -> Iterator[LocalCluster]:
    with LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as made:
        yield made


@pytest.fixture(scope="module")
def store() -> Iterator[dict[str, object]]:
    """A store of objects on this machine."""
    server = pytest.importorskip("moto.server").ThreadedMotoServer(port=0)
    server.start()
    host, port = server.get_host_and_port()
    options = {"endpoint_url": f"http://{host}:{port}", "key": "test", "secret": "test"}
    fsspec.filesystem("s3", **options).mkdir("tables")
    yield options
    server.stop()


def test_a_study_that_loses_workers_has_the_bytes_of_one_machine(
    cluster: LocalCluster, study: eminentia.Study, by_one_machine: Path, tmp_path: Path
) -> None:
    out = tmp_path / by_one_machine.name
    with Client(cluster) as client:
        client.wait_for_workers(2)
        lost: list[int] = []

        def progress(rows: int, of: int) -> None:
            # Groups are under way, and finished ones not yet fetched: both go with the worker.
            if len(lost) < 2 and rows >= (len(lost) + 1) * of // 4:
                there = [worker for worker in client.run(os.getpid).values() if worker not in lost]
                lost.append(there[0])
                os.kill(there[0], signal.SIGKILL)

        written = eminentia.dask.write(client, study, str(out), progress=progress)
    assert len(set(lost)) == 2
    assert out.read_bytes() == by_one_machine.read_bytes()
    assert (written.address, written.rows, written.bytes) == (str(out), ROWS, out.stat().st_size)
    reasons = pq.read_table(by_one_machine).column("reason").drop_null() if out.suffix == ".parquet" else None
    assert written.with_reason > 0
    assert reasons is None or len(reasons) == written.with_reason


def test_a_store_of_objects_gets_the_same_bytes(
    cluster: LocalCluster, study: eminentia.Study, by_one_machine: Path, store: dict[str, object]
) -> None:
    out = f"s3://tables/{by_one_machine.name}"
    with Client(cluster) as client:
        eminentia.dask.write(client, study, out, storage_options=store)
        with fsspec.open(out, "rb", **store) as table:
            assert table.read() == by_one_machine.read_bytes()
        with pytest.raises(eminentia.Error, match="already there; overwrite=True"):
            eminentia.dask.write(client, study, out, storage_options=store)
        eminentia.dask.write(client, study, out, storage_options=store, overwrite=True)


def test_what_is_not_whole_does_not_appear(
    cluster: LocalCluster, study: eminentia.Study, store: dict[str, object], tmp_path: Path
) -> None:
    class Enough(Exception):
        pass

    def progress(rows: int, of: int) -> None:
        if rows > of // 2:
            raise Enough

    for out, options in [(str(tmp_path / "table.parquet"), {}), ("s3://tables/partial.parquet", store)]:
        with Client(cluster) as client, pytest.raises(Enough):
            eminentia.dask.write(client, study, out, storage_options=options, progress=progress)
        assert not fsspec.core.url_to_fs(out, **options)[0].exists(out), out
    assert not list(tmp_path.iterdir())


def test_workers_of_another_version_are_refused() -> None:
    study = eminentia.Study.load(SCENES / "studies" / "inclination.ron")
    with pytest.raises(eminentia.Error, match="eminentia 0.0.1|this is 0.0.1"):
        eminentia.dask._study(study, "0.0.1")


def test_the_command_writes_the_command_lines_table(by_command, tmp_path: Path, cluster: LocalCluster) -> None:
    path, out = SCENES / "studies" / "record_error.ron", tmp_path / "table.parquet"
    asked = [sys.executable, "-m", "eminentia.dask", path, "--out", out]
    told = subprocess.run([*asked, "--scheduler", cluster.scheduler_address], capture_output=True, text=True)
    assert told.returncode == 0, told.stderr
    assert out.read_bytes() == by_command("record_error").read_bytes()
    assert "9,216 rows" in told.stdout and eminentia.CAUTION in told.stdout
    assert "9,216 of 9,216 rows" in told.stderr and "workers" in told.stderr
    again = subprocess.run([*asked, "--scheduler", cluster.scheduler_address], capture_output=True, text=True)
    assert again.returncode == 2 and "already there" in again.stderr and "Traceback" not in again.stderr
    for wrong, words in [
        (["no.ron", "--out", out], "no such file"),
        ([path, "--out", "table.xlsx"], "unknown file extension"),
        ([path, "--out", out, "--workers", "0"], "1 or more"),
        ([path, "--out", out, "--storage", "key"], "name=value"),
        ([path], "--out"),
    ]:
        refused = subprocess.run([sys.executable, "-m", "eminentia.dask", *map(str, wrong)], capture_output=True, text=True)
        assert refused.returncode == 2 and words in refused.stderr, refused.stderr
        assert "Traceback" not in refused.stderr


def test_workers_that_come_later_are_taken(study: eminentia.Study, tmp_path: Path) -> None:
    """The run is begun without any worker, and ends with one that comes."""
    with (
        LocalCluster(n_workers=0, threads_per_worker=1, processes=True, dashboard_address=None) as empty,
        Client(empty) as client,
    ):
        threading.Timer(0.5, empty.scale, [1]).start()
        written = eminentia.dask.write(client, study, str(tmp_path / "table.csv"))
    assert written.rows == ROWS
