#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/ci-long.sh [compilers|mutants|fuzzing|coverage]...
# What takes long and tests no single module: the answers by two compilers, changes of the physics
# that a test is known to notice, every fuzz target for a minute, the share of branches taken; all
# where none is named. Each part is run whatever the one before it found. The search for changes
# that no test notices (tests/mutants) takes a quarter of an hour and is run by hand.
set -u
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
failed=0
[ $# -gt 0 ] || set -- compilers mutants fuzzing coverage
for part in "$@"; do
    case $part in
    compilers) title="four builds by two compilers" script="compilers.sh" ;;
    mutants) title="changed physics, 90 % noticed" script="mutants/run.sh" ;;
    fuzzing) title="fuzzing, a minute each" script="fuzz/run.sh" ;;
    coverage) title="branches taken" script="coverage.sh" ;;
    *) echo "ci-long: $part is none of compilers, mutants, fuzzing, coverage" >&2; exit 2 ;;
    esac
    echo "== $title"
    start=$(date +%s)
    sh "$here/tests/$script" || { failed=1; echo "FAILED"; }
    echo "   $(($(date +%s) - start)) s"
done
exit "$failed"
