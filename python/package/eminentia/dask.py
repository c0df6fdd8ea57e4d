"""A study on a Dask cluster, into one table anywhere that fsspec writes.

    python -m eminentia.dask STUDY --scheduler tcp://…:8786 --out s3://bucket/table.parquet

The table has the bytes that :meth:`Study.write` gives on one machine. The study travels to the workers with all that it
names; where its base scene has files of casts, those have to be found by the same path there. Workers that are lost,
as spot instances are, cost the groups of rows that they had, and nothing else: these are computed again, by others,
and Dask takes workers that come later. The table appears under its name only once it is whole.

Groups of rows come back to this process, which writes them one after the other; a few are under way at a time, so that
its memory stays flat. It is what has to last: a run that is ended here is begun anew.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from eminentia._errors import Error, refused
from eminentia._native import CAUTION, Pieces, Study, __version__

if TYPE_CHECKING:
    from distributed import Client

__all__ = ["Stored", "main", "write"]

#: Groups under way for each thread of the cluster: one that is made, one that waits for its turn.
_AHEAD = 2

_Piece = tuple[bytes, bytes, int, int]


@dataclass(frozen=True)
class Stored:
    """What a run on a cluster came to.

    Attributes
    ----------
    address : str
        Where the table is, as it was given.
    rows : int
        Rows in it.
    with_reason : int
        Rows with a reason why something could not be measured.
    bytes : int
        Its size.
    """

    address: str
    rows: int
    with_reason: int
    bytes: int


def _study(study: Study, version: str) -> Study:
    """The study on a worker, which has to have the version of the one who asks: the same version, the same bytes."""
    if version != __version__:
        raise refused(f"a worker has eminentia {__version__}, and this is {version}; give all of them the same")
    return study


def _piece(study: Study, name: str, number: int) -> _Piece:
    """A group of rows, on a worker."""
    return Pieces(study, name).piece(number)


def _client(client: object) -> Any:
    try:
        from distributed import Client
    except ImportError as error:
        raise ImportError("a cluster needs Dask, which comes with: pip install 'dask[distributed]'") from error
    if not isinstance(client, Client):
        raise TypeError(f"client is {client!r}; give a distributed.Client")
    return client


def _pieces(client: Any, study: Study, name: str, *, ahead: int | None, retries: int) -> Iterator[_Piece]:
    """The groups in order. ``ahead`` of them are under way at a time."""
    from distributed import KilledWorker

    count = Pieces(study, name).count
    # A task like the groups, so that a worker that has the study may be lost too.
    there = client.submit(_study, study, __version__, key=f"study-{study.sha256}", retries=retries)
    begun = 0
    waiting: deque[Any] = deque()

    def send(number: int, attempt: int) -> Any:
        # The same group is the same work, whoever does it, and may be done again.
        key = f"rows-{study.sha256[:16]}-{name.rpartition('.')[2]}-{number}-{attempt}"
        return client.submit(_piece, there, name, number, key=key, retries=retries, priority=-number)

    try:
        while begun < count or waiting:
            threads = sum(client.nthreads().values())
            most = ahead if ahead is not None else max(2, _AHEAD * threads)
            while begun < count and len(waiting) < most:
                waiting.append(send(begun, 0))
                begun += 1
            number = begun - len(waiting)
            attempt = 0
            while True:
                try:
                    piece: _Piece = waiting[0].result()
                    break
                except KilledWorker:
                    # Dask gives up on what it was at when several workers went; those were not its fault.
                    attempt += 1
                    if attempt > retries:
                        raise
                    waiting[0] = send(number, attempt)
            waiting.popleft()
            yield piece
    finally:
        client.cancel(list(waiting))


def write(
    client: Client,
    study: Study,
    out: str,
    *,
    storage_options: Mapping[str, Any] | None = None,
    overwrite: bool = False,
    ahead: int | None = None,
    retries: int = 10,
    progress: Callable[[int, int], object] | None = None,
) -> Stored:
    """Runs a study on a cluster into one ``.parquet`` or ``.csv`` table.

    Parameters
    ----------
    client : distributed.Client
        Of the cluster, whose workers have this version of the package.
    study : Study
        What is run.
    out : str
        A path, or an address that fsspec writes to, as ``s3://bucket/table.parquet``.
    storage_options : mapping, optional
        For fsspec's file system, as ``{"endpoint_url": "http://…"}``.
    overwrite : bool
        Whether a table that is there already is written anew.
    ahead : int, optional
        Groups of rows under way at a time; twice the cluster's threads without it. A group has some 16 MB.
    retries : int
        How often a group is begun again whose workers were lost, or that failed.
    progress : callable, optional
        Is told the rows written and the rows in all, after each group.

    Raises
    ------
    Error
        For an ending that names no form, a table that is there already, and workers of another version.
    """
    from fsspec.core import url_to_fs  # type: ignore[import-untyped]

    cluster = _client(client)
    pieces = Pieces(study, out)
    files, path = url_to_fs(out, **dict(storage_options or {}))
    if files.exists(path) and not overwrite:
        raise refused(f"{out}: is already there; overwrite=True computes it anew")
    groups: list[tuple[int, bytes]] = []
    rows = with_reason = 0
    # All or nothing: what is not whole goes away with the transaction.
    with files.transaction:
        table = files.open(path, "wb")
        try:
            head = pieces.head()
            table.write(head)
            at = len(head)
            for body, note, own_rows, own_with_reason in _pieces(cluster, study, out, ahead=ahead, retries=retries):
                groups.append((at, note))
                table.write(body)
                at += len(body)
                rows += own_rows
                with_reason += own_with_reason
                if progress is not None:
                    progress(rows, study.row_count)
            tail = pieces.tail(groups)
            table.write(tail)
            at += len(tail)
        finally:
            table.close()
    return Stored(address=out, rows=rows, with_reason=with_reason, bytes=at)


class _Progress:
    """A line on standard error, some times a minute where nobody looks, and twice a second where somebody does."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._began = time.monotonic()
        self._told = self._began
        self._seen = sys.stderr.isatty()

    def __call__(self, rows: int, of: int) -> None:
        now = time.monotonic()
        if rows < of and now - self._told < (0.5 if self._seen else 15.0):
            return
        self._told = now
        rate = rows / max(now - self._began, 1e-9)
        left = (of - rows) / rate if rate else 0.0
        workers = len(self._client.nthreads())
        line = f"{rows:,} of {of:,} rows, {rate:,.0f} a second, {left:,.0f} s left, {workers} workers"
        print(f"\r\033[K{line}" if self._seen else line, end="\n" if rows == of or not self._seen else "", file=sys.stderr, flush=True)


def _option(given: str) -> tuple[str, str]:
    name, equals, value = given.partition("=")
    if not equals or not name:
        raise argparse.ArgumentTypeError(f"{given!r} is no option; give it as name=value")
    return name, value


def _arguments() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m eminentia.dask",
        description="Runs a study on a Dask cluster into one table, with the bytes of a run on one machine.",
        epilog=CAUTION,
    )
    parser.add_argument("study", metavar="STUDY", help="study file (RON)")
    parser.add_argument("--out", required=True, metavar="TABLE", help="path or fsspec address, ending in .parquet or .csv")
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--scheduler", metavar="ADDRESS", help="of the cluster's scheduler, as tcp://host:8786")
    where.add_argument("--workers", type=int, default=2, metavar="N", help="processes of this machine, without --scheduler [2]")
    parser.add_argument("--storage", type=_option, action="append", default=[], metavar="NAME=VALUE",
                        help="option of the file system, as endpoint_url=http://…; may be repeated")
    parser.add_argument("--overwrite", action="store_true", help="write a table that is there already anew")
    parser.add_argument("--ahead", type=int, metavar="N", help="groups of rows under way at a time [twice the threads]")
    parser.add_argument("--retries", type=int, default=10, metavar="N", help="of a group whose workers were lost [10]")
    parser.add_argument("--quiet", action="store_true", help="tell no progress")
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """What ``python -m eminentia.dask`` does. Gives 0; 1 where the work failed or was ended; 2 for what was given wrongly."""
    asked = _arguments().parse_args(arguments)
    for name, least in [("workers", 1), ("ahead", 1), ("retries", 0)]:
        value = getattr(asked, name)
        if value is not None and value < least:
            print(f"error: --{name} is {value}; allowed are whole numbers, {least} or more", file=sys.stderr)
            return 2
    import distributed

    # Dask has no types of its own for these.
    client_of: Any = distributed.Client
    local: Any = distributed.LocalCluster
    try:
        study = Study.load(asked.study)
        for note in study.notes:
            print(f"note: {note}", file=sys.stderr)
        Pieces(study, asked.out)
        if asked.scheduler is None:
            at: Any = local(n_workers=asked.workers, threads_per_worker=1, dashboard_address=None)
        else:
            at = asked.scheduler
    except (Error, OSError) as error:
        print(f"error: {error}", file=sys.stderr)
        return 2
    try:
        with client_of(at) as client:
            written = write(
                client,
                study,
                asked.out,
                storage_options=dict(asked.storage),
                overwrite=asked.overwrite,
                ahead=asked.ahead,
                retries=asked.retries,
                progress=None if asked.quiet else _Progress(client),
            )
    except KeyboardInterrupt:
        print("\nstopped; nothing was written", file=sys.stderr)
        return 1
    except Error as error:
        print(f"error: {error}", file=sys.stderr)
        return 2
    except Exception as error:  # What a cluster or a store says is theirs; it is told, not shown as a trace.
        print(f"error: {type(error).__name__}: {error}", file=sys.stderr)
        return 1
    finally:
        if asked.scheduler is None:
            at.close()
    reasons = f", {written.with_reason:,} with a reason why something could not be measured" if written.with_reason else ""
    print(f"{asked.out}: {written.rows:,} rows{reasons}")
    print(CAUTION)
    return 0


if __name__ == "__main__":
    sys.exit(main())
