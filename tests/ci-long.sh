#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/ci-long.sh
# What takes long and tests no single module: the answers by two compilers, every fuzz target
# for a minute, the share of branches taken. Each part is run whatever the one before it found.
# Changed physics (tests/mutants) takes an hour or two and is run by hand.
set -u
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
failed=0
# part TITLE COMMAND...
part() {
    echo "== $1"
    shift
    start=$(date +%s)
    sh "$@" || { failed=1; echo "FAILED"; }
    echo "   $(($(date +%s) - start)) s"
}
part "four builds by two compilers" "$here/tests/compilers.sh"
part "fuzzing, a minute each" "$here/tests/fuzz/run.sh" 60
part "branches taken" "$here/tests/coverage.sh"
exit "$failed"
