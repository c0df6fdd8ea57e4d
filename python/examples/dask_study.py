"""A study spread over the workers of a Dask cluster.

    python dask_study.py STUDY.ron TABLE.parquet [--workers 2] [--block-rows 65536]

Every block of rows is computed from the row numbers alone, so that a worker that is lost costs its blocks
and nothing else: Dask gives them to another, and the table is the same to the last bit. Workers read the
study file, and all that it names, by the same path.

Here the cluster is two processes on one machine; for a real one, put its scheduler's address into
``Client(...)`` and install the package on its workers.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
from dask.distributed import Client, LocalCluster

import eminentia


def block(path: str, sha256: str, start: int, stop: int) -> pa.RecordBatch:
    """Some rows of a study, on a worker."""
    study = eminentia.Study.load(path)
    if study.sha256 != sha256:
        raise ValueError(f"{path} is another study on this worker; give all of them the same files")
    return pa.record_batch(study.rows(start, stop))


def blocks(client: Client, path: str, block_rows: int, ahead: int = 8) -> Iterator[pa.RecordBatch]:
    """A study's rows in order, as batches. ``ahead`` blocks are under way at a time, so that memory stays
    flat however many rows there are."""
    study = eminentia.Study.load(path)
    starts = iter(range(0, study.row_count, block_rows))
    waiting = []

    def send() -> None:
        start = next(starts, None)
        if start is not None:
            stop = min(start + block_rows, study.row_count)
            # The same block is the same work, whoever does it, and may be done again.
            key = f"rows-{study.sha256[:16]}-{start}-{stop}"
            waiting.append(client.submit(block, path, study.sha256, start, stop, key=key, retries=3))

    for _ in range(ahead):
        send()
    while waiting:
        future = waiting.pop(0)
        batch = future.result()
        send()
        yield batch


def run(client: Client, path: str, out: str, block_rows: int) -> int:
    """Writes the table of a study; gives its number of rows."""
    schema = pa.schema(eminentia.Study.load(path))
    rows = 0
    with pq.ParquetWriter(out, schema) as writer:
        for batch in blocks(client, path, block_rows):
            writer.write_batch(batch)
            rows += batch.num_rows
    return rows


def main() -> None:
    parser = argparse.ArgumentParser(description="Runs a study on a Dask cluster of this machine.")
    parser.add_argument("study", type=Path)
    parser.add_argument("table", type=Path)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--block-rows", type=int, default=65_536)
    asked = parser.parse_args()
    with (
        LocalCluster(n_workers=asked.workers, threads_per_worker=1, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        rows = run(client, str(asked.study.resolve()), str(asked.table), asked.block_rows)
    print(f"{asked.table}: {rows} rows")
    print(eminentia.CAUTION)


if __name__ == "__main__":
    main()
