#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/ci-long.sh
# What takes long and tests no single module: the answers by two compilers, then every fuzz
# target for a minute. Changed physics (mutants) and coverage are run by hand.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
echo "== four builds by two compilers"
sh "$here/tests/compilers.sh"
echo "== fuzzing, a minute each"
sh "$here/tests/fuzz/run.sh" 60
