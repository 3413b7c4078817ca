#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds with sanitizers and warnings as errors, runs every test.
# Closes with ctest's summary. Arguments go to ctest, for example: sh tests/run.sh -L reference
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES $TEST_PACKAGES $BROWSER_PACKAGES
npm ci --prefix "$here/tests/browser" --ignore-scripts --no-audit --no-fund \
    >"$here/.build/npm.log" 2>&1 || { cat "$here/.build/npm.log"; exit 1; }

build="$here/.build/test"
cmake -S "$here" -B "$build" -DCMAKE_BUILD_TYPE=Debug -DFAREND_WERROR=ON -DFAREND_SANITIZE=ON \
    >"$here/.build/test.log" 2>&1 || { cat "$here/.build/test.log"; exit 1; }
cmake --build "$build" --parallel "$(nproc)" >"$here/.build/test.log" 2>&1 ||
    { cat "$here/.build/test.log"; exit 1; }
cd "$build"
# A leak or undefined behaviour anywhere is a failure.
ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1 \
    ctest --parallel "$(nproc)" --output-on-failure "$@"
