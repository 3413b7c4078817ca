#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/fuzz/run.sh [SECONDS] [NAME]...
# Builds the fuzz targets with clang, address and undefined-behaviour sanitizers, and runs each
# (or the named ones) for SECONDS, 60 where none are given. What they find new stays under
# .build/fuzz; an input that crashes, leaks or takes too long is left there and is exit 1.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES $TEST_PACKAGES $FUZZ_PACKAGES

seconds=${1:-60}
[ $# -gt 0 ] && shift
build="$here/.build/fuzz"
mkdir -p "$build"
{ CC=clang cmake -S "$here" -B "$build" -DCMAKE_BUILD_TYPE=Debug -DFAREND_WERROR=ON \
    -DFAREND_SANITIZE=ON -DFAREND_FUZZ=ON -DFAREND_TESTS=OFF -DFAREND_GDAL=OFF &&
  cmake --build "$build" --parallel "$(nproc)"; } >"$build.log" 2>&1 || { cat "$build.log"; exit 1; }

# The words of plans and tables, so that they need not be guessed letter by letter.
dictionary="$build/words.dict"
grep -oh '"[a-z][a-z0-9_/ ]\{1,30\}"' "$here"/src/plan/*.c "$here"/src/terrain/*.c \
    "$here"/src/app/calc_*.c | sort -u >"$dictionary"

[ $# -gt 0 ] || set -- $(cd "$here/tests/fuzz/corpus" && echo *)
failed=0
for name in "$@"; do
    found="$build/corpus/$name"
    log="$build/$name.log"
    mkdir -p "$found"
    # Output of the program itself is closed (calc complains on stderr); reports still come.
    if "$build/tests/fuzz/fuzz_$name" -max_total_time="$seconds" -timeout=5 -rss_limit_mb=1024 \
        -max_len=4096 -close_fd_mask=3 -print_final_stats=1 -use_value_profile=1 \
        -dict="$dictionary" -artifact_prefix="$build/$name-" \
        "$found" "$here/tests/fuzz/corpus/$name" >"$log" 2>&1; then
        runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
        covered=$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$log" | tail -n 1)
        slowest=$(sed -n 's/^stat::slowest_unit_time_sec: *//p' "$log")
        echo "fuzz $name: $runs runs, $covered edges, slowest $slowest s"
    else
        failed=1
        echo "fuzz $name: FAILED"
        grep -E 'ERROR|SUMMARY|runtime error|Test unit written' "$log" || tail -n 20 "$log"
    fi
done
exit "$failed"
