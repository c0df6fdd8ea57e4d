"""Studies: rows as arrays, in any order, by any thread, into files."""

from __future__ import annotations

import copy
import multiprocessing
import pickle
import subprocess
import sys
import threading
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import duckdb
import numpy as np
import pyarrow as pa
import pyarrow.dataset as ds
import pyarrow.parquet as pq
import pytest

import eminentia
from conftest import SCENES

STUDIES = ["inclination", "record_error"]


def study(name: str) -> eminentia.Study:
    return eminentia.Study.load(SCENES / "studies" / f"{name}.ron")


@pytest.mark.parametrize("name", STUDIES)
def test_rows_are_those_that_the_command_line_writes(name: str, by_command) -> None:
    own = study(name)
    written = pq.read_table(by_command(name))
    table = pa.table(own.rows())
    assert table.num_rows == own.row_count == written.num_rows
    assert table.schema.equals(written.schema, check_metadata=True)
    assert table.equals(written)


@pytest.mark.parametrize("name", STUDIES)
def test_duckdb_reads_the_command_lines_table_and_the_packages_rows_alike(name: str, by_command) -> None:
    own = study(name)
    rows = pa.table(own.rows())  # DuckDB finds it by its name
    measured = [column.name for column in own.columns if column.role == "measured" and column.kind == "number"]
    asked = ", ".join(f'sum("{column}"), min("{column}"), max("{column}"), count("{column}")' for column in measured)
    by_file = duckdb.sql(f"select {asked} from (select * from '{by_command(name)}' order by row)").fetchall()
    by_rows = duckdb.sql(f"select {asked} from (select * from rows order by row)").fetchall()
    # Sums are of numbers of millimetres, in an order that threads decide.
    np.testing.assert_allclose(np.array(by_file, float), np.array(by_rows, float), rtol=0, atol=1e-9)
    first = measured[0]
    (least,) = duckdb.sql(f'select min("{first}") from rows').fetchall()[0]
    assert least == np.nanmin(own.numbers()[:, number_columns(own).index(first)])


def test_a_filter_on_a_factor_passes_over_groups_that_cannot_hold_it(command: Path, tmp_path: Path) -> None:
    scene = (SCENES / "thirty_degree.ron").as_posix()
    levels = "Range(from: 10.0, to: 60.0, steps: 600)"
    (tmp_path / "grid.ron").write_text(
        f"""(title: "A grid of several groups (invented)", scene: "{scene}", plan: FullGrid,
        factors: [(setting: "horizontal_inclination_deg", values: {levels}),
            (setting: "anterior_guide.sagittal_inclination_deg", values: {levels})],
        record: (measures: [Separation], advances_mm: [3.0], cusps: ["36.mesiobuccal"]))"""
    )
    table = tmp_path / "grid.parquet"
    subprocess.run([command, "study", "run", tmp_path / "grid.ron", "--out", table], check=True, capture_output=True)
    file = pq.ParquetFile(table)
    factor = file.schema_arrow.get_field_index("horizontal_inclination_deg")
    groups = [file.metadata.row_group(number).column(factor).statistics for number in range(file.num_row_groups)]
    assert len(groups) >= 2 and all(statistics.has_min_max for statistics in groups)
    first = file.read_row_group(0, ["horizontal_inclination_deg"]).column(0).to_pylist()
    assert (groups[0].min, groups[0].max) == (min(first), max(first))
    (fragment,) = ds.dataset(table).get_fragments()
    steep = ds.field("horizontal_inclination_deg") > 40.0
    kept = fragment.split_by_row_group(steep)
    assert [group.row_groups[0].id for group in kept] == [
        number for number, statistics in enumerate(groups) if statistics.max > 40.0
    ]
    assert len(kept) < len(groups)
    assert ds.dataset(table).count_rows(filter=steep) == sum(group.count_rows(filter=steep) for group in kept)


def number_columns(own: eminentia.Study) -> list[str]:
    return [column.name for column in own.columns if column.kind == "number"]


def test_columns_carry_their_units_and_roles() -> None:
    own = study("inclination")
    schema = pa.schema(own)
    assert schema.names == ["row"] + [column.name for column in own.columns]
    assert schema.field("row").type == pa.uint64() and not schema.field("row").nullable
    kinds = {"number": pa.float64(), "text": pa.string(), "flag": pa.bool_()}
    for column in own.columns:
        field = schema.field(column.name)
        assert field.type == kinds[column.kind] and field.nullable
        assert field.metadata[b"role"].decode() == column.role
        assert field.metadata.get(b"unit", b"").decode() == (column.unit or "")
    assert schema.metadata[b"study_sha256"].decode() == own.sha256
    assert schema.metadata[b"caution"].decode() == eminentia.CAUTION
    assert {column.unit for column in own.columns if column.name.endswith("_deg")} == {"degrees"}


def test_rows_parts_and_streams_are_the_same_rows() -> None:
    own = study("record_error")
    whole = pa.table(own.rows())
    assert pa.record_batch(own.rows(100, 107)).equals(whole.slice(100, 7).combine_chunks().to_batches()[0])
    stream = own.stream(5, 5000, batch_rows=777)
    reader = pa.RecordBatchReader.from_stream(stream)
    batches = list(reader)
    assert [batch.num_rows for batch in batches] == [777] * 6 + [333]
    assert pa.Table.from_batches(batches).equals(whole.slice(5, 4995))
    assert pa.RecordBatchReader.from_stream(stream).read_all().num_rows == 4995, "it can be read again"
    assert pa.table(own.rows(3, 3)).num_rows == 0
    columns = number_columns(own)
    numbers = own.numbers(100, 107)
    assert numbers.shape == (7, len(columns)) and numbers.dtype == np.float64
    for place, name in enumerate(columns):
        theirs = whole.slice(100, 7).column(name).to_numpy()
        assert numbers[:, place].tobytes() == np.ascontiguousarray(theirs).tobytes(), name


def test_arrow_is_lent_the_rows_without_a_copy() -> None:
    rows = study("record_error").rows(0, 1000)
    # Two readers of the same rows look at the same memory.
    first, second = pa.record_batch(rows), pa.record_batch(rows)
    for one, other in zip(first.columns, second.columns, strict=True):
        addresses = [[buffer and buffer.address for buffer in column.buffers()] for column in (one, other)]
        assert addresses[0] == addresses[1]
    del rows, second
    assert first.column(0)[999].as_py() == 999, "what was lent outlives the lender"
    # And NumPy looks at Arrow's.
    column = first.column(1)
    view = column.to_numpy(zero_copy_only=True)
    assert view.__array_interface__["data"][0] == column.buffers()[1].address


def test_indices_are_read_in_place_and_say_what_they_cannot_take() -> None:
    own = study("record_error")
    factors = sum(column.role == "factor" for column in own.columns)
    numbers = own.numbers()
    column = number_columns(own).index("protrusive.3mm.36.mesiobuccal.clearance_mm")
    output = np.ascontiguousarray(numbers[:, column])
    found = eminentia.sobol_indices(output, factors=factors, resamples=50, seed=3)
    assert found.first.shape == found.total.shape == (factors, 3)
    # Jansen's estimator of the total index, written out: half the mean square of A less AB, over the variance.
    groups = output.reshape(-1, factors + 2)
    centred = groups - groups.mean()
    a, b, mixed = centred[:, 0], centred[:, -1], centred[:, 1:-1]
    both = np.concatenate([a, b])
    expected = ((a[:, None] - mixed) ** 2).mean(axis=0) / 2 / both.var()
    np.testing.assert_allclose(found.total[:, 0], expected, rtol=1e-9, atol=1e-12)
    assert np.all(found.first[:, 1] <= found.first[:, 2])
    # A column as it stands among the others, and numbers of other types.
    again = {"factors": factors, "resamples": 50, "seed": 3}
    assert eminentia.sobol_indices(numbers[:, column], **again) == found
    assert eminentia.sobol_indices(output.tolist(), **again) == found
    single = output.astype(np.float32)
    assert eminentia.sobol_indices(single, factors=factors) == eminentia.sobol_indices(
        single.astype(np.float64), factors=factors
    )
    whole = (output * 1000).astype(np.int64)
    assert eminentia.sobol_indices(whole, factors=factors).groups == found.groups
    for wrong, words in [(numbers, "shape"), (["a"], "no array of numbers"), (output + 1j, "no array of numbers")]:
        with pytest.raises(eminentia.Error, match=words):
            eminentia.sobol_indices(wrong, factors=factors)
    for asked in ({"resamples": 1}, {"resamples": 19}, {"resamples": 100_001}, {"resamples": -1}, {"seed": -1}):
        with pytest.raises(eminentia.Error, match="allowed are whole numbers"):
            eminentia.sobol_indices(output, factors=factors, **asked)
    assert pickle.loads(pickle.dumps(found)) == found
    with pytest.raises(eminentia.Error, match="whole number of groups"):
        eminentia.sobol_indices(output[:-1].copy(), factors=factors)


def test_a_table_that_does_not_fit_on_its_disk_is_refused_or_run_all_the_same(tmp_path: Path) -> None:
    own = groups_of("MonteCarlo(rows: 100000000000000, seed: 1)")
    with pytest.raises(eminentia.Error, match="are free on its disk"):
        own.write(tmp_path / "t.parquet")
    assert list(tmp_path.iterdir()) == []

    class Begun(Exception):
        pass

    def stop(saved: int, of: int) -> None:
        raise Begun

    with pytest.raises(Begun):
        own.write(tmp_path / "t.parquet", ignore_free_space=True, progress=stop)


def groups_of(plan: str) -> eminentia.Study:
    return eminentia.Study.from_text(
        f"""(title: "Three factors (invented)", scene: "thirty_degree.ron", factors: [
            (setting: "horizontal_inclination_deg", values: Normal(mean: 40.0, sd: 3.0)),
            (setting: "anterior_guide.sagittal_inclination_deg", values: Normal(mean: 35.0, sd: 3.0)),
            (setting: "occlusal_plane_inclination_deg", values: Normal(mean: 9.0, sd: 1.0)),
        ], plan: {plan}, record: (measures: [Clearance], advances_mm: [3.0], cusps: ["36.mesiobuccal"]))""",
        folder=SCENES,
    )


PROTRUSIVE = "protrusive.3mm.36.mesiobuccal.clearance_mm"


def test_what_a_study_tells_of_its_factors_goes_by_its_plan() -> None:
    own = groups_of("Indices(groups: 128, seed: 1, points: Sobol, second_order: true)")
    output = own.numbers(columns=[PROTRUSIVE])[:, 0]
    told = eminentia.sensitivity(own, output)
    assert isinstance(told, eminentia.SobolIndices)
    assert told.pairs == [(0, 1), (0, 2), (1, 2)] and told.second.shape == (3, 3)
    # Student's intervals over eight scramblings, shorter in all than of a bootstrap that takes points for independent.
    first = output.reshape(-1, 8)[:, [0, 1, 2, 3, 7]].reshape(-1)
    loose = eminentia.sobol_indices(first, factors=3)
    np.testing.assert_allclose(told.first[:, 0], loose.first[:, 0], atol=0.02)
    assert np.diff(told.first[:, 1:]).sum() < np.diff(loose.first[:, 1:]).sum()
    # A part that begins within a group.
    part = eminentia.sensitivity(own, output[3:], start=3)
    assert part.groups == 127

    own = groups_of("Shapley(groups: 128, seed: 1, points: Sobol)")
    output = own.numbers(columns=[PROTRUSIVE])[:, 0]
    shares = eminentia.sensitivity(own, output)
    assert isinstance(shares, eminentia.ShapleyEffects) and pickle.loads(pickle.dumps(shares)) == shares
    # Two orders of letting factors go, written out: what is left of the variance with each choice drawn anew.
    stays = ((output.reshape(-1, 8) - output.reshape(-1, 8)[:, :1]) ** 2).mean(axis=0) / 2
    np.testing.assert_allclose(shares.last[:, 0], stays[[1, 2, 4]] / stays[7], rtol=1e-12)
    np.testing.assert_allclose(shares.share[:, 0].sum(), 1.0, rtol=1e-12)
    assert shares.variance == pytest.approx(stays[7])

    own = groups_of("ElementaryEffects(trajectories: 20, seed: 1)")
    output = own.numbers(columns=[PROTRUSIVE])[:, 0]
    effects = eminentia.sensitivity(own, output)
    assert isinstance(effects, eminentia.ElementaryEffects) and effects.trajectories == 20
    # Of each trajectory of four rows the three steps, whichever factor takes them.
    steps = np.abs(np.diff(output.reshape(-1, 4))) / 0.5
    assert effects.size[:, 0].sum() == pytest.approx(steps.sum(axis=1).mean())

    with pytest.raises(eminentia.Error, match="rows that it has"):
        eminentia.sensitivity(own, output, start=1)
    with pytest.raises(eminentia.Error, match="the plans Indices, ElementaryEffects and Shapley have"):
        eminentia.sensitivity(groups_of("MonteCarlo(rows: 8, seed: 1)"), output[:8])


def test_other_threads_run_while_rows_are_computed() -> None:
    own = eminentia.Study.from_text(
        (SCENES / "studies" / "record_error.ron").read_text().replace("groups: 1024", "groups: 8192"),
        folder=SCENES / "studies",
    )
    began, ended = threading.Event(), threading.Event()

    def compute() -> None:
        began.set()
        own.rows()
        ended.set()

    # Python hands its lock on of itself only to a thread that asks for longer than this: with the lock held
    # while rows are computed, nothing below would run until they are.
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-4)
    try:
        worker = threading.Thread(target=compute)
        worker.start()
        began.wait()
        turns = 0
        while not ended.is_set():
            turns += 1
    finally:
        worker.join()
        sys.setswitchinterval(before)
    # Had computing kept the lock, the loop would have run a few turns before and after it.
    assert turns > 1000, turns


def test_a_study_written_in_parts_or_gone_on_with_has_the_same_rows(tmp_path: Path, by_command) -> None:
    own = study("record_error")
    whole = tmp_path / "whole.parquet"
    seen: list[tuple[int, int]] = []
    written = own.write(whole, progress=lambda rows, of: seen.append((rows, of)))
    assert whole.read_bytes() == by_command("record_error").read_bytes()
    assert (written.path, written.rows, written.bytes) == (whole, own.row_count, whole.stat().st_size)
    assert written.with_reason == 0 and seen[-1] == (own.row_count, own.row_count)
    parts = [own.write(tmp_path / "part.parquet", part=(number, 3), threads=1).path for number in (1, 2, 3)]
    assert len(set(parts)) == 3
    together = pa.concat_tables([pq.read_table(part) for part in parts])
    assert together.equals(pq.read_table(whole))
    with pytest.raises(eminentia.Error, match="already there; overwrite=True") as refused:
        own.write(whole)
    assert "--" not in str(refused.value)
    assert pickle.loads(pickle.dumps(written)) == written and written.path == whole
    assert own.write(whole, resume=True).rows_before == own.row_count
    assert own.write(whole, overwrite=True, threads=2).rows_before == 0
    assert whole.read_bytes() == by_command("record_error").read_bytes()


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"part": (4, 3)}, "the part is 4; allowed are whole numbers, 1 to 3"),
        ({"part": (-1, 3)}, "the part is -1"),
        ({"part": (1, 2**40)}, "the number of parts"),
        ({"threads": -1}, "threads is -1"),
        ({"resume": True, "overwrite": True}, "one of them"),
        ({"path": "table.xlsx"}, "xlsx"),
        ({"path": "no/such/folder/table.csv"}, "no/such/folder"),
    ],
)
def test_what_cannot_be_written_is_refused(asked: dict[str, object], words: str, tmp_path: Path) -> None:
    path = tmp_path / str(asked.pop("path", "table.parquet"))
    with pytest.raises(eminentia.Error, match=words):
        study("inclination").write(path, **asked)  # type: ignore[arg-type]
    assert not path.exists()


def test_rows_that_the_study_does_not_have_are_refused() -> None:
    own = study("inclination")
    for start, stop in [(0, 154), (5, 4), (154, None)]:
        with pytest.raises(eminentia.Error, match="the study has 153"):
            own.rows(start, stop)
        with pytest.raises(eminentia.Error, match="the study has 153"):
            own.numbers(start, stop)
    for rows in (lambda: own.rows(-1, 3), lambda: own.rows(0, -3), lambda: own.numbers(-1), lambda: own.rows(2**70)):
        with pytest.raises(eminentia.Error, match="allowed are whole numbers"):
            rows()
    with pytest.raises(TypeError, match="whole number"):
        own.rows(1.5)  # type: ignore[arg-type]
    assert len(own.rows(np.int64(1), np.uint8(3))) == 2
    for batch_rows in (0, -1):
        with pytest.raises(eminentia.Error, match="batch_rows"):
            own.stream(batch_rows=batch_rows)
    with pytest.raises(FileNotFoundError, match="no such file"):
        eminentia.Study.load("nothing_here.ron")
    text = (SCENES / "studies" / "inclination.ron").read_text()
    with pytest.raises(FileNotFoundError, match="base scene.*no such file"):
        eminentia.Study.from_text(text, folder="no/such/folder")
    with pytest.raises(eminentia.Error, match=r"study:\d+:\d+"):
        eminentia.Study.from_text("(title: 3)")


def test_a_row_without_a_pose_is_null_and_says_why() -> None:
    scene = eminentia.Scene.thirty_degree().to_text()
    own = eminentia.Study.from_text(
        f"""(
            title: "Guides too steep for some rows (invented)",
            scene: {scene},
            factors: [(setting: "horizontal_inclination_deg", values: Normal(mean: 40.0, sd: 25.0))],
            plan: MonteCarlo(rows: 200, seed: 3),
            record: (measures: [Clearance, Interference, Guidance], advances_mm: [2.0, 5.0]),
        )"""
    )
    table = pa.table(own.rows())
    reasons = table.column("reason").to_pylist()
    measured = [column.name for column in own.columns if column.role == "measured"]
    numbers = [column.name for column in own.columns if column.role == "measured" and column.kind == "number"]
    for index, reason in enumerate(reasons):
        nulls = [name for name in measured if table.column(name)[index].as_py() is None]
        assert bool(nulls) == bool(reason)
    assert 0 < sum(reason is not None for reason in reasons) < len(reasons)
    array = own.numbers()
    for name in numbers:
        theirs = table.column(name)
        place = number_columns(own).index(name)
        assert np.isnan(array[:, place]).sum() == theirs.null_count
        assert not np.isnan(theirs.drop_null().to_numpy()).any(), "nothing is null, never not a number"


def test_numbers_have_names_and_can_be_asked_for_by_them() -> None:
    own = study("inclination")
    assert own.number_columns == number_columns(own)
    wanted = [own.number_columns[7], own.number_columns[0]]
    both = own.numbers(10, 20, columns=wanted)
    np.testing.assert_array_equal(both, own.numbers(10, 20)[:, [7, 0]])
    assert both.flags.writeable, "it is the caller's own"
    with pytest.raises(eminentia.Error, match='"reason"'):
        own.numbers(columns=["reason"])


def test_studies_and_rows_are_compared_copied_and_pickled() -> None:
    own, other = study("record_error"), study("inclination")
    assert own == study("record_error") and own != other and hash(own) == hash(study("record_error"))
    for again in (copy.copy(own), copy.deepcopy(own), pickle.loads(pickle.dumps(own))):
        assert again == own and again.sha256 == own.sha256
    assert eminentia.Study.from_text(own.to_text()) == own
    rows = own.rows(5, 50)
    again = pickle.loads(pickle.dumps(rows))
    assert again == rows == own.rows(5, 50) and rows != own.rows(5, 51)
    assert pa.record_batch(again).schema.equals(pa.record_batch(rows).schema, check_metadata=True)
    stream = pickle.loads(pickle.dumps(own.stream(5, 50, batch_rows=20)))
    assert [len(batch) for batch in pa.RecordBatchReader.from_stream(stream)] == [20, 20, 5]
    for column in own.columns:
        assert pickle.loads(pickle.dumps(column)) == column


def test_a_study_can_be_given_to_processes() -> None:
    own = study("record_error")
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("spawn")) as pool:
        parts = list(pool.map(own.rows, [0, 100], [100, 300]))
    assert pa.concat_tables([pa.table(part) for part in parts]).equals(pa.table(own.rows(0, 300)))


INTERRUPTED = """
import os, signal, sys, eminentia
text = open(sys.argv[1]).read().replace("groups: 1024", "groups: 262144")
study = eminentia.Study.from_text(text, folder=os.path.dirname(sys.argv[1]))
def progress(rows, of):
    if rows > 0:
        os.kill(os.getpid(), signal.SIGINT)
try:
    study.write(sys.argv[2], progress=progress)
except KeyboardInterrupt:
    print("interrupted")
"""


def test_ctrl_c_ends_a_run_with_what_was_computed_safe(tmp_path: Path) -> None:
    out = tmp_path / "long.csv"
    source = SCENES / "studies" / "record_error.ron"
    told = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, source, out], capture_output=True, text=True, timeout=300
    )
    assert told.stdout.strip() == "interrupted", told.stderr
    assert not out.exists(), "a table that is not whole does not bear its name"
    (left,) = [path for path in tmp_path.iterdir() if path.suffix == ".csv"]
    caution, head, first, *_ = left.read_text()[:5000].splitlines()
    assert caution.startswith("# For teaching and research.")
    assert head.startswith("row,") and first.startswith("0,")


LONG = """
import os, signal, sys, threading, eminentia
scene = eminentia.Scene.thirty_degree()
study = eminentia.Study.from_text(
    f'(title: "t", scene: {scene.to_text()}, factors: [(setting: "lateral_angle_deg", '
    "values: Uniform(min: 0.0, max: 9.0))], plan: MonteCarlo(rows: 20000000, seed: 1), "
    'record: (measures: [FirstInterference], cusps: ["36.mesiobuccal"], excursions: [Protrusive(advance_mm: 6.0)]))'
)
begun = threading.Event()
def press():
    begun.wait()
    os.kill(os.getpid(), signal.SIGINT)
threading.Timer(0.5, press).start()
def work():
    begun.set()
    if sys.argv[1] == "rows":
        study.rows()
    elif sys.argv[1] == "numbers":
        study.numbers()
    elif sys.argv[1] == "sweep":
        import numpy as np
        eminentia.sweep(scene, {"lateral_angle_deg": np.linspace(0, 9, 4000000)}, measures=["FirstInterference"])
    else:
        import numpy as np
        eminentia.sobol_indices(np.sin(np.arange(3 << 18)), factors=1, resamples=100000)
try:
    work()
    print("came to its end")
except KeyboardInterrupt:
    print("interrupted")
"""


@pytest.mark.parametrize("what", ["rows", "numbers", "sweep", "statistics"])
def test_ctrl_c_ends_whatever_takes_long(what: str) -> None:
    """Each of them would take minutes: that it ends at all within the time says that it was ended."""
    told = subprocess.run([sys.executable, "-c", LONG, what], capture_output=True, text=True, timeout=300)
    assert told.stdout.strip() == "interrupted", told.stderr
