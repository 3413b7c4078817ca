#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/fuzz/run.sh [SECONDS] [NAME]...
# Builds the fuzz targets with clang, address and undefined-behaviour sanitizers, and runs each
# (or the named ones) for SECONDS, 60 where none are given, as many at a time as there are
# processors. Prints executions and edges covered of each. What they find new stays under
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
# fuzz NAME: its log in .build/fuzz/NAME.log, its exit code in NAME.code.
fuzz() {
    mkdir -p "$build/corpus/$1"
    # Output of the program itself is closed (calc complains on stderr); reports still come.
    code=0
    "$build/tests/fuzz/fuzz_$1" -max_total_time="$seconds" -timeout=5 -rss_limit_mb=1024 \
        -max_len=4096 -close_fd_mask=3 -print_final_stats=1 -use_value_profile=1 \
        -dict="$dictionary" -artifact_prefix="$build/$1-" \
        "$build/corpus/$1" "$here/tests/fuzz/corpus/$1" >"$build/$1.log" 2>&1 || code=$?
    echo "$code" >"$build/$1.code"
}

started=0
for name in "$@"; do
    rm -f "$build/$name.code"
    fuzz "$name" &
    started=$((started + 1))
    [ $((started % $(nproc))) -ne 0 ] || wait
done
wait

failed=0
for name in "$@"; do
    log="$build/$name.log"
    if [ "$(cat "$build/$name.code")" -eq 0 ]; then
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
