#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/bench/run.sh
# Builds for release and prints the speed table of DEVELOPERS.md. What counts are the ratios and
# the growth within this one run; seconds are those of this machine.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES $TEST_PACKAGES python3

build="$here/.build/release"
mkdir -p "$build"
{ cmake -S "$here" -B "$build" -DCMAKE_BUILD_TYPE=Release &&
  cmake --build "$build" --parallel "$(nproc)"; } >"$build.log" 2>&1 || { tail -n 30 "$build.log"; exit 1; }
export FAREND_PROFILES="$here/profiles"
cd "$build/tests"
python3 "$here/tests/bench/report.py" "$build/farend" "$build/tests/start_baseline"
for bench in bench_bullington bench_plan bench_pairs bench_placing bench_route bench_around; do
    "./$bench"
done
