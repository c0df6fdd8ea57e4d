#!/usr/bin/env python3
"""Ends the program at random instants and looks at what it leaves: the old file or the new one, never half of one, and
nothing that blocks the next run.

    python3 tests/faults/kills.py PROGRAM SCENES [KILLS]     (standard library only; 1,000 kills unless told otherwise)

PROGRAM is the command line, as target/release/eminentia; SCENES the folder scenes/. Half of the kills are KILL, which no
program can answer; the others INT, TERM and HUP, after which nothing of ours may be left over at all.
"""
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM, SCENES = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
KILLS = int(sys.argv[3]) if len(sys.argv) > 3 else 1000
chance = random.Random(1)


def run(args, folder, **more):
    return subprocess.run([PROGRAM, *args], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, **more)


def study(folder):
    text = open(f"{SCENES}/studies/inclination.ron").read().replace("../thirty", f"{SCENES}/thirty")
    text = text.replace("List([0.0, 20.0, 40.0])", "Range(from: 0.0, to: 40.0, steps: 4001)")
    open(f"{folder}/study.ron", "w").write(text)


# What is asked for, the file that comes of it, and what makes a run of it go on.
WORK = [
    (["study", "run", "study.ron", "--out", "t.csv", "--overwrite"], "t.csv"),
    (["study", "run", "study.ron", "--out", "t.parquet", "--overwrite"], "t.parquet"),
    (["sheet", f"{SCENES}/thirty_degree.ron", "--out", "sheet.pdf"], "sheet.pdf"),
    (["custom-table", "--step", "1", "--print", "table.stl"], "table.stl"),
    (["excursion", f"{SCENES}/thirty_degree.ron", "--format", "csv", "--samples", "20000", "--out", "rows.csv"], "rows.csv"),
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
        known.append((open(f"{folder}/{name}", "rb").read(), took))
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
        open(path, "wb").write(old)
        process = subprocess.Popen([PROGRAM, *args], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(chance.uniform(0.0, took))
        sent = chance.choice([signal.SIGKILL] * 3 + [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
        process.send_signal(sent)
        process.wait()
        left = open(path, "rb").read()
        if left == old:
            counted["old"] += 1
        elif left == whole or (name.endswith(".pdf") and abs(len(left) - len(whole)) < 64 and left.endswith(whole[-6:])):
            counted["new"] += 1
        else:
            wrong.append(f"{number}: {args[0]} after {sent.name}: {name} is neither the old nor the new file")
        counted["finished before"] += process.returncode == 0
        stray = [entry for entry in os.listdir(folder) if entry.startswith(".eminentia-")]
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
            if again.returncode != 0 or open(path, "rb").read() != whole:
                wrong.append(f"{number}: {name} was not gone on with: {again.stderr.decode()}")
    return counted, wrong


def other_faults(folder):
    """A disk that is full, a folder that cannot be written, a file that goes away, and two writers."""
    wrong = []
    for args, name in WORK:
        path = f"{folder}/{name}"
        for entry in os.listdir(folder):
            if entry.startswith(("t.", ".eminentia-")):
                os.remove(f"{folder}/{entry}")
        open(path, "wb").write(b"the old file")
        full = run(args, folder, preexec_fn=lambda: (
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN), resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))))
        stray = [entry for entry in os.listdir(folder) if entry.startswith(".eminentia-")]
        if full.returncode == 0 or open(path, "rb").read() != b"the old file" or stray:
            wrong.append(f"{name} on a full disk: status {full.returncode}, {stray}: {full.stderr.decode()}")
        again = run(args, folder)
        if again.returncode != 0:
            wrong.append(f"{name} after a full disk: {again.stderr.decode()}")
    both = [subprocess.Popen([PROGRAM, *WORK[0][0]], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) for _ in range(2)]
    said = [process.communicate()[1].decode() for process in both]
    if all(process.returncode != 0 for process in both) or any("panicked" in text for text in said):
        wrong.append(f"two writers: {said}")
    gone = run(["study", "run", "study.ron", "--out", "no/such/t.csv"], folder)
    if gone.returncode != 2 or "no/such/t.csv" not in gone.stderr.decode():
        wrong.append(f"a folder that is not there: {gone.stderr.decode()}")
    return wrong


def main():
    folder = tempfile.mkdtemp()
    try:
        study(folder)
        counted, wrong = kills(folder)
        wrong += other_faults(folder)
    finally:
        shutil.rmtree(folder)
    print(f"{KILLS} kills: " + ", ".join(f"{what} {count}" for what, count in counted.items()) + f"; wrong: {len(wrong)}")
    print("\n".join(wrong[:20]))
    sys.exit(bool(wrong))


main()
