# SPDX-License-Identifier: GPL-3.0-or-later
"""Cost of whole reports and of the program's start.

usage: python3 tests/bench/report.py PROGRAM BASELINE

Each example's report is held against gnuplot alone drawing the same figures: a stand-in keeps
what the report sends to gnuplot, which is then sent again. Times are of the processor, the
least of some rounds in turn, so other work on the machine hardly counts. Memory is the peak of
the program itself. BASELINE only links the program's libraries: see start_baseline.c.
"""
import os
import pathlib
import resource
import shutil
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parents[2]
EXAMPLES = ["lambing-shed", "sugar-house", "boathouse"]
ROUNDS = 3
START_ROUNDS = 20


def environment(**more):
    return dict(os.environ, FAREND_PROFILES=str(HERE / "profiles"), **more)


def processor_s(words, folder, **more):
    """User and system time of a run with all that it started and waited for."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(words, cwd=folder, check=True, stdout=subprocess.DEVNULL,
                   stderr=subprocess.DEVNULL, env=environment(), **more)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def report(program, name):
    return [program, "report", str(HERE / "examples" / f"{name}.ini"), "--html", "page.html"]


def figures_of(program, name, folder):
    """What the report sends to gnuplot, as a file."""
    kept = folder / f"{name}.commands"
    stand_in = folder / "bin"
    stand_in.mkdir(exist_ok=True)
    script = stand_in / "gnuplot"
    script.write_text(f"#!/bin/sh\ntee -a '{kept}' | '{shutil.which('gnuplot')}' \"$@\"\n")
    script.chmod(0o700)
    subprocess.run(report(program, name), cwd=folder, check=True, stdout=subprocess.DEVNULL,
                   env=environment(PATH=f"{stand_in}:{os.environ['PATH']}"))
    return kept


def peak_mb(words, folder):
    """Looked at until the end: what is reached in the last milliseconds may be missed."""
    peak_kb = 0
    process = subprocess.Popen(words, cwd=folder, stdout=subprocess.DEVNULL, env=environment())
    while process.poll() is None:
        try:
            status = pathlib.Path(f"/proc/{process.pid}/status").read_text()
        except OSError:
            break
        for line in status.splitlines():
            if line.startswith("VmHWM:"):
                peak_kb = max(peak_kb, int(line.split()[1]))
        time.sleep(0.002)
    process.wait()
    return peak_kb / 1024.0


def compare_report(program, name, folder):
    commands = figures_of(program, name, folder)
    whole_s = alone_s = 1e9
    for _ in range(ROUNDS):
        whole_s = min(whole_s, processor_s(report(program, name), folder))
        with open(commands, "rb") as stdin:
            alone_s = min(alone_s, processor_s(["gnuplot", "-d"], folder, stdin=stdin))
    print(f"report of {name}: {whole_s:.2f} s, gnuplot alone {alone_s:.2f} s, "
          f"ratio {whole_s / alone_s:.1f}; peak {peak_mb(report(program, name), folder):.0f} MB",
          flush=True)


def compare_start(program, baseline, folder):
    calc = [program, "calc", "free-space", "distance=150m", "frequency=2437MHz"]
    calc_s = base_s = 1e9
    for _ in range(START_ROUNDS):
        base_s = min(base_s, processor_s([baseline], folder))
        calc_s = min(calc_s, processor_s(calc, folder))
    print(f"start of calc: {1e3 * calc_s:.1f} ms, its libraries alone {1e3 * base_s:.1f} ms, "
          f"ratio {calc_s / base_s:.2f}", flush=True)


def main():
    program, baseline = (str(pathlib.Path(word).resolve()) for word in sys.argv[1:3])
    with tempfile.TemporaryDirectory() as folder:
        compare_start(program, baseline, pathlib.Path(folder))
        for name in EXAMPLES:
            compare_report(program, name, pathlib.Path(folder))


main()
