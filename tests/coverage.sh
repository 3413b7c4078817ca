#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/coverage.sh
# Runs every test but the browser's and that of the start's speed in a build with counters and
# prints the share of branches that were taken, room by room. Exit 1 where a room is below its
# gate. What was not taken stands in .build/coverage.txt, line by line. Nothing of ours is left
# out: branches that only an allocation or a call failing can take are taken by
# tests/test_memory*.c.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES $TEST_PACKAGES $COVERAGE_PACKAGES

build="$here/.build/coverage"
mkdir -p "$build"
{ cmake -S "$here" -B "$build" -DCMAKE_BUILD_TYPE=Debug -DFAREND_COVERAGE=ON &&
  cmake --build "$build" --parallel "$(nproc)"; } >"$build.log" 2>&1 || { tail -n 30 "$build.log"; exit 1; }
find "$build" -name '*.gcda' -delete
# What counters complain of on a full disk (tests/test_faults.c) is not the program's own message.
(cd "$build" && GCOV_ERROR_FILE="$build.counters" ctest --parallel "$(nproc)" --label-exclude browser \
    --exclude-regex test_libraries >"$build.tests.log" 2>&1) ||
    { tail -n 20 "$build.tests.log"; exit 1; }
(cd "$here" && gcovr --root . --object-directory "$build" --filter src/ \
    --exclude-throw-branches --exclude-unreachable-branches \
    --json "$build.json" "$build" >"$build.gcovr.log" 2>&1) || { tail -n 20 "$build.gcovr.log"; exit 1; }
(cd "$here" && gcovr --root . --add-tracefile "$build.json" --branches >"$build.txt")

# share ROOM...: per cent of the branches of these folders.
share() {
    filters=
    for room in "$@"; do
        filters="$filters --filter src/$room/"
    done
    (cd "$here" && gcovr --root . --add-tracefile "$build.json" $filters --print-summary) |
        sed -n 's/^branches: \([0-9.]*\)%.*/\1/p'
}

failed=0
# gate LEAST ROOM...
gate() {
    least=$1
    shift
    got=$(share "$@")
    echo "branches taken in $*: $got % (at least $least %)"
    awk "BEGIN { exit !($got >= $least) }" || failed=1
}
for room in base terrain plan decision report import app; do
    echo "branches taken in $room: $(share "$room") %"
done
gate 95 propagation
gate 95 wired
gate 85 base terrain plan decision report import app
exit "$failed"
