#!/usr/bin/env python3
"""Stops long work on casts by Ctrl-C (INT) at random instants: the program is to end within 0.2 s and to leave nothing behind.

    python3 tests/faults/stops.py PROGRAM SCENES [STOPS]     (standard library only; 60 stops unless told otherwise)

PROGRAM is the command line, as target/release/eminentia; SCENES the folder scenes/. The casts are two invented sheets of
bumps of some 600,000 triangles each, so that reading, mending, searching and marking all take their time.
"""
import math
import os
import random
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import time

PROGRAM, SCENES = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
STOPS = int(sys.argv[3]) if len(sys.argv) > 3 else 60
ROWS, COLUMNS = 300, 1000
MOST_S = 0.2
# How long a run is let be at most before it is stopped.
LONGEST_S = 8.0
chance = random.Random(1)
# What is started in the background ignores INT, and would hand that on to what it starts.
signal.signal(signal.SIGINT, signal.default_int_handler)

WORK = [
    ["contacts", "casts.ron", "--out", "contacts.json", "--format", "json"],
    ["contacts", "casts.ron", "--marked-upper", "marked.ply", "--out", "contacts.txt"],
    ["excursion", "casts.ron", "--samples", "100", "--out", "rows.csv", "--format", "csv"],
    ["custom-table", "casts.ron", "--step", "0.2", "--print", "table.stl"],
    ["sheet", "casts.ron", "--out", "sheet.pdf"],
    ["contacts", "casts.ron"],
]


def sheet(path, lift):
    """A binary STL of bumps over an arch's size, seen from below where it is lifted."""
    def point(row, column):
        x, y = 45.0 + 50.0 * column / COLUMNS, -28.0 + 56.0 * row / ROWS
        return x, y, -40.0 + 1.2 * math.sin(x) * math.cos(y) + lift
    points = [[struct.pack("<3f", *point(row, column)) for column in range(COLUMNS + 1)] for row in range(ROWS + 1)]
    faces = []
    for row in range(ROWS):
        for column in range(COLUMNS):
            a, b = points[row][column], points[row][column + 1]
            c, d = points[row + 1][column], points[row + 1][column + 1]
            for p, q, r in ((a, b, d), (a, d, c)):
                faces.append(bytes(12) + (p + r + q if lift else p + q + r) + bytes(2))
    with open(path, "wb") as out:
        out.write(bytes(80) + struct.pack("<I", len(faces)) + b"".join(faces))


def made(folder):
    sheet(f"{folder}/upper.stl", 0.1)
    sheet(f"{folder}/lower.stl", 0.0)
    scene = open(f"{SCENES}/dentate_casts.ron").read()
    start = scene.index("invented_casts: (kind")
    end = scene.index("),", start) + 2
    casts = 'casts: (upper: "upper.stl", lower: "lower.stl", unit: Millimetre),'
    open(f"{folder}/casts.ron", "w").write(scene[:start] + casts + scene[end:])
    return set(os.listdir(folder))


def main():
    folder = tempfile.mkdtemp()
    wrong, took = [], []
    try:
        known = made(folder)
        for number in range(STOPS):
            args = WORK[number % len(WORK)]
            process = subprocess.Popen([PROGRAM, *args], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
            time.sleep(chance.uniform(0.05, LONGEST_S))
            if process.poll() is None:
                began = time.monotonic()
                process.send_signal(signal.SIGINT)
                process.wait()
                took.append(time.monotonic() - began)
                if took[-1] > MOST_S:
                    wrong.append(f"{number}: {' '.join(args)} took {took[-1]:.3f} s to end")
                left = set(os.listdir(folder)) - known
                if process.returncode != -signal.SIGINT or left:
                    wrong.append(f"{number}: {' '.join(args)} ended with {process.returncode} and left {sorted(left)}")
            elif process.returncode not in (0, 1):
                wrong.append(f"{number}: {' '.join(args)}: {process.stderr.read().decode()}")
            process.stderr.close()
            for entry in set(os.listdir(folder)) - known:
                os.remove(f"{folder}/{entry}")
    finally:
        shutil.rmtree(folder)
    took.sort()
    slowest = f"the slowest {took[-1] * 1e3:.0f} ms, half of them {took[len(took) // 2] * 1e3:.0f} ms" if took else "none"
    print(f"{len(took)} of {STOPS} runs stopped in their work: {slowest}; wrong: {len(wrong)}")
    print("\n".join(wrong[:20]))
    sys.exit(bool(wrong))


main()
