#!/usr/bin/env python3
"""Ends the program at random instants and looks at what it leaves: the old file or the new one, never half of one, and
nothing that blocks the next run. Then a full disk, a folder that may not be written to, two writers, and files that
are removed, cut off or replaced while they are read.

    python3 tests/faults/kills.py PROGRAM SCENES [KILLS [SAVES]]     (standard library only; 1,000 kills unless told otherwise)

PROGRAM is the command line, as target/release/eminentia; SCENES the folder scenes/; SAVES the viewer's way of saving,
target/release/examples/saves (`cargo build --release -p viewer --example saves`), left out where it is not given. Half of
the kills are KILL, which no program can answer; the others INT, TERM and HUP, after which nothing of the command line's may
be left over at all. Each change under a reader is tried once for every ten kills.
"""
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM, SCENES = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
KILLS = int(sys.argv[3]) if len(sys.argv) > 3 else 1000
SAVES = os.path.abspath(sys.argv[4]) if len(sys.argv) > 4 else None
NOBODY = 65534
chance = random.Random(1)
# What is started in the background ignores INT and HUP, and would hand that on to what it starts.
signal.signal(signal.SIGINT, signal.default_int_handler)
signal.signal(signal.SIGHUP, signal.SIG_DFL)


def run(args, folder, program=PROGRAM, **more):
    return subprocess.run([program, *args], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, **more)


def read(path):
    with open(path, "rb") as file:
        return file.read()


def write(path, data):
    with open(path, "wb") as file:
        file.write(data if isinstance(data, bytes) else data.encode())


def strays(folder):
    return [entry for entry in os.listdir(folder) if entry.startswith(".eminentia-")]


def inputs(folder):
    text = read(f"{SCENES}/studies/inclination.ron").decode().replace("../thirty", f"{SCENES}/thirty")
    write(f"{folder}/study.ron", text.replace("List([0.0, 20.0, 40.0])", "Range(from: 0.0, to: 40.0, steps: 101)"))


# What is asked for, and the file that comes of it.
WORK = [
    (["study", "run", "study.ron", "--out", "t.csv", "--overwrite"], "t.csv"),
    (["study", "run", "study.ron", "--out", "t.parquet", "--overwrite"], "t.parquet"),
    (["sheet", f"{SCENES}/thirty_degree.ron", "--out", "sheet.pdf"], "sheet.pdf"),
    (["custom-table", "--to", "4", "--step", "2", "--print", "table.stl"], "table.stl"),
    (["excursion", f"{SCENES}/thirty_degree.ron", "--format", "csv", "--samples", "5000", "--out", "rows.csv"], "rows.csv"),
]


def whole_runs(folder):
    """What each file is when nothing disturbs the run, and how long the run takes."""
    known = []
    for args, name in WORK:
        start = time.monotonic()
        done = run(args, folder)
        took = time.monotonic() - start
        if done.returncode != 0:
            sys.exit(f"{args}: {done.stderr.decode()}")
        # A sheet carries the moment at which it was made.
        known.append((read(f"{folder}/{name}"), took))
    return known


def kills(folder):
    known = whole_runs(folder)
    counted = {"old": 0, "new": 0, "finished before": 0, "left by KILL": 0}
    wrong = []
    for number in range(KILLS):
        which = number % len(WORK)
        (args, name), (whole, took) = WORK[which], known[which]
        path = f"{folder}/{name}"
        old = b"the old file"
        write(path, old)
        process = subprocess.Popen([PROGRAM, *args], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(chance.uniform(0.0, took))
        sent = chance.choice([signal.SIGKILL] * 3 + [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
        process.send_signal(sent)
        process.wait(timeout=300)
        left = read(path)
        if left == old:
            counted["old"] += 1
        elif left == whole or (name.endswith(".pdf") and abs(len(left) - len(whole)) < 64 and left.endswith(whole[-6:])):
            counted["new"] += 1
        else:
            wrong.append(f"{number}: {args[0]} after {sent.name}: {name} is neither the old nor the new file")
        counted["finished before"] += process.returncode == 0
        stray = strays(folder)
        if stray and sent != signal.SIGKILL:
            wrong.append(f"{number}: {args[0]} after {sent.name} left {stray}")
        counted["left by KILL"] += bool(stray)
        for entry in stray:
            os.remove(f"{folder}/{entry}")
        # What stays of a study is gone on with, to the very same table.
        if args[0] == "study" and number % 20 < 2:
            if os.path.exists(path):
                os.remove(path)
            again = run([word for word in args if word != "--overwrite"] + ["--resume"], folder)
            if again.returncode != 0 or read(path) != whole:
                wrong.append(f"{number}: {name} was not gone on with: {again.stderr.decode()}")
    return counted, wrong


def saves(folder):
    """Kills of the viewer's saving, which goes on without end; two texts take turns in the file."""
    # A set-up of some megabytes, so that writing it takes a while.
    scene = read(f"{SCENES}/curved_paths.ron").decode()
    scene = re.sub(r'title: "[^"]*"', lambda _: 'title: "' + "a long title " * 200_000 + '"', scene, count=1)
    write(f"{folder}/long.ron", scene)
    path = f"{folder}/saved.ron"
    texts = []
    for times in (1, 2):
        start = time.monotonic()
        done = run(["long.ron", "saved.ron", str(times)], folder, SAVES)
        took = time.monotonic() - start
        if done.returncode != 0:
            sys.exit(f"saves: {done.stderr.decode()}")
        texts.append(read(path))
    if texts[0] == texts[1]:
        sys.exit("saves: both texts are the same")
    old, wrong = b"the old file", []
    counted = {"old": 0, "new": 0, "left": 0}
    for number in range(KILLS):
        write(path, old)
        process = subprocess.Popen([SAVES, "long.ron", "saved.ron"], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        # Every other kill comes once it saves, the others while it starts, too.
        begun = time.monotonic()
        while number % 2 and os.path.getsize(path) == len(old) and time.monotonic() < begun + 60:
            time.sleep(0.0005)
        time.sleep(chance.uniform(0.0, took / 4 if number % 2 else took))
        sent = chance.choice([signal.SIGKILL] * 3 + [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
        process.send_signal(sent)
        process.wait(timeout=300)
        left = read(path)
        counted["old" if left == old else "new"] += 1
        if left != old and left not in texts:
            wrong.append(f"{number}: saving after {sent.name}: neither the old nor a new file")
        # The window answers INT as any program does: what was not whole may stay, beside the file.
        for entry in strays(folder):
            counted["left"] += 1
            os.remove(f"{folder}/{entry}")
    return counted, wrong


def full_disks(folder):
    wrong = []
    for args, name in WORK:
        path = f"{folder}/{name}"
        for entry in os.listdir(folder):
            if entry.startswith(("t.", ".eminentia-")):
                os.remove(f"{folder}/{entry}")
        write(path, "the old file")
        full = run(args, folder, preexec_fn=lambda: (
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN), resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))))
        if full.returncode == 0 or read(path) != b"the old file" or strays(folder):
            wrong.append(f"{name} on a full disk: status {full.returncode}, {strays(folder)}: {full.stderr.decode()}")
        again = run(args, folder)
        if again.returncode != 0:
            wrong.append(f"{name} after a full disk: {again.stderr.decode()}")
    return wrong


def read_only(folder):
    """A folder that may not be written to. Who may do everything becomes nobody for it."""
    may_all = os.geteuid() == 0
    become = (lambda: (os.setgroups([]), os.setgid(NOBODY), os.setuid(NOBODY))) if may_all else None
    locked = f"{folder}/locked"
    os.mkdir(locked)
    shutil.copy(f"{folder}/study.ron", locked)
    wrong = []
    for _, name in WORK:
        write(f"{locked}/{name}", "the old file")
        os.chmod(f"{locked}/{name}", 0o666)
    os.chmod(folder, 0o755)
    os.chmod(locked, 0o555)
    before = sorted(os.listdir(locked))
    for args, name in WORK:
        left = run(args, locked, preexec_fn=become)
        said = left.stderr.decode()
        if left.returncode not in (1, 2) or name not in said or "panicked" in said:
            wrong.append(f"{name} in a folder that may not be written to: status {left.returncode}: {said}")
        if sorted(os.listdir(locked)) != before or read(f"{locked}/{name}") != b"the old file":
            wrong.append(f"{name}: something was changed in a folder that may not be written to: {os.listdir(locked)}")
    os.chmod(locked, 0o755)
    return wrong


def two_writers(folder):
    wrong = []
    for args, name in WORK:
        both = [subprocess.Popen([PROGRAM, *args], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) for _ in range(2)]
        said = [process.communicate()[1].decode() for process in both]
        if all(process.returncode != 0 for process in both) or any("panicked" in text for text in said):
            wrong.append(f"two writers of {name}: {said}")
        if strays(folder):
            wrong.append(f"two writers of {name} left {strays(folder)}")
    gone = run(["study", "run", "study.ron", "--out", "no/such/t.csv"], folder)
    if gone.returncode != 2 or "no/such/t.csv" not in gone.stderr.decode():
        wrong.append(f"a folder that is not there: {gone.stderr.decode()}")
    return wrong


def readers(folder):
    """What is read, another that may stand in its place, and who reads it."""
    scene = read(f"{SCENES}/thirty_degree.ron").decode()
    made = run(["casts", "--upper", "upper.stl", "--lower", "lower.stl", "--scene-out", "scans.ron"], folder)
    made_too = run(["casts", "--upper", "other.stl", "--lower", "lower2.stl", "--with", "invented_casts.cusp_angle_deg=20"], folder)
    if made.returncode or made_too.returncode:
        sys.exit(f"casts: {(made.stderr + made_too.stderr).decode()}")
    text = read(f"{SCENES}/studies/inclination.ron").decode().replace("../thirty", f"{SCENES}/thirty")
    write(f"{folder}/column.ron", text.replace("List([0.0, 20.0, 40.0])", 'Column(file: "column.csv", column: "v")'))
    write(f"{folder}/column.csv", "v\n" + "".join(f"{20 + number / 1000}\n" for number in range(20_000)))
    write(f"{folder}/other.csv", "v\n" + "".join(f"{10 + number / 1000}\n" for number in range(20_000)))
    comment = "// " + "a remark " * 500_000 + "\n"
    write(f"{folder}/long.ron", comment + scene)
    write(f"{folder}/other.ron", comment + scene.replace("horizontal_inclination_deg: 30.0", "horizontal_inclination_deg: 31.0"))
    # Two tables of the same columns and factors.
    write(f"{folder}/small.ron", text)
    write(f"{folder}/steeper.ron", text.replace("thirty_degree", "steep_guides"))
    for study, table in (("small.ron", "sum.csv"), ("steeper.ron", "sum_other.csv")):
        run(["study", "run", study, "--out", table], folder)
    return [
        ("long.ron", "other.ron", ["excursion", "long.ron", "--format", "csv"]),
        ("upper.stl", "other.stl", ["excursion", "scans.ron", "--format", "csv", "--samples", "3"]),
        ("column.csv", "other.csv", ["study", "plan", "column.ron", "--format", "json"]),
        ("sum.csv", "sum_other.csv", ["study", "summary", "sum.csv", "--study", "small.ron", "--format", "json"]),
    ]


def under_the_reader(folder):
    """Removed, cut off, written over and replaced at a random instant: what was there is told of, or the other, or it is
    refused; never a mixture, never a part."""
    wrong, counted = [], {"told": 0, "refused": 0}
    for name, other, args in readers(folder):
        path = f"{folder}/{name}"

        def told():
            done = subprocess.run([PROGRAM, *args], cwd=folder, capture_output=True)
            # How fast this machine is, is no number of the study.
            return done.returncode, re.sub(rb'"[a-z_]*(seconds|rate|per_second|threads|free)[a-z_]*": *[^,\n]*', b"", done.stdout)

        first = read(path)
        second = read(f"{folder}/{other}")
        start = time.monotonic()
        right = [told()]
        took = time.monotonic() - start
        write(path, second)
        right.append(told())
        if any(status not in (0, 1) for status, _ in right):
            sys.exit(f"{args}: {[status for status, _ in right]}")
        by_chance = {"column.csv"}  # what is estimated of a study hangs on the machine
        for number in range(max(1, KILLS // 10)):
            for what in ("removed", "cut off", "written over", "replaced"):
                write(path, first)
                process = subprocess.Popen([PROGRAM, *args], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
                timer_end = time.monotonic() + chance.uniform(0.0, took)
                while time.monotonic() < timer_end and process.poll() is None:
                    time.sleep(0.0005)
                if what == "removed":
                    os.remove(path)
                elif what == "cut off":
                    os.truncate(path, len(first) // 2)
                elif what == "written over":
                    write(path, second)
                else:
                    write(f"{folder}/new", second)
                    os.replace(f"{folder}/new", path)
                out, said = process.communicate()
                out = re.sub(rb'"[a-z_]*(seconds|rate|per_second|threads|free)[a-z_]*": *[^,\n]*', b"", out)
                status = process.returncode
                if status == 2:
                    counted["refused"] += 1
                    if out or b"panicked" in said or name.encode() not in said:
                        wrong.append(f"{name} {what}: {said.decode()}")
                elif status in (0, 1):
                    counted["told"] += 1
                    # Half of a file of columns or of remarks is a file, too, where it was cut before it was opened.
                    if what != "cut off" and name not in by_chance and (status, out) not in right:
                        wrong.append(f"{name} {what}: status {status}, what is told is of neither file: {said.decode()}")
                else:
                    wrong.append(f"{name} {what}: status {status}: {said.decode()}")
    return counted, wrong


def listed(counted):
    return ", ".join(f"{what} {count}" for what, count in counted.items())


def main():
    folder = tempfile.mkdtemp()
    try:
        inputs(folder)
        counted, wrong = kills(folder)
        print(f"{KILLS} kills: {listed(counted)}; wrong: {len(wrong)}", flush=True)
        if SAVES:
            counted, more = saves(folder)
            print(f"{KILLS} kills of a save: {listed(counted)}; wrong: {len(more)}", flush=True)
            wrong += more
        for what in (full_disks, read_only, two_writers):
            more = what(folder)
            print(f"{what.__name__.replace('_', ' ')}: wrong: {len(more)}", flush=True)
            wrong += more
        counted, more = under_the_reader(folder)
        print(f"files changed under the reader: {listed(counted)}; wrong: {len(more)}", flush=True)
        wrong += more
    finally:
        shutil.rmtree(folder)
    print("\n".join(wrong[:20]))
    sys.exit(bool(wrong))


main()
