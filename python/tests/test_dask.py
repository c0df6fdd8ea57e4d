"""A study on a cluster of two processes, one of which is killed in mid-run."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
from dask.distributed import Client, LocalCluster

import eminentia
from conftest import ROOT, SCENES

sys.path.insert(0, str(ROOT / "python" / "examples"))
import dask_study  # noqa: E402


def test_a_study_that_loses_a_worker_has_the_table_of_one_machine(tmp_path: Path, by_command) -> None:
    path = str(SCENES / "studies" / "record_error.ron")
    study = eminentia.Study.load(path)
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        client.wait_for_workers(2)
        processes = client.run(os.getpid)
        assert len(set(processes.values())) == 2 and os.getpid() not in processes.values()
        victim = next(iter(processes.values()))
        batches = []
        for batch in dask_study.blocks(client, path, block_rows=256):
            batches.append(batch)
            if len(batches) == 5:
                # Blocks are under way and finished ones not yet fetched: both go with the worker.
                os.kill(victim, signal.SIGKILL)
        left = client.run(os.getpid)
        assert victim not in left.values(), "the worker is gone"
    table = pa.Table.from_batches(batches)
    assert table.num_rows == study.row_count > 5 * 256
    assert table.equals(pq.read_table(by_command("record_error")))


def test_the_example_writes_the_same_table(tmp_path: Path, by_command) -> None:
    out = tmp_path / "table.parquet"
    path = str(SCENES / "studies" / "inclination.ron")
    with (
        LocalCluster(n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        rows = dask_study.run(client, path, str(out), block_rows=40)
    written = pq.read_table(out)
    assert rows == written.num_rows
    expected = pq.read_table(by_command("inclination"))
    assert written.equals(expected) and written.schema.metadata == expected.schema.metadata
