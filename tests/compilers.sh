#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/compilers.sh
# Builds the program with GCC and Clang, without and with optimisation, and compares what the four
# answer to the example plans: see tests/numbers.py.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES clang python3

set --
for compiler in gcc clang; do
    for level in 0 2; do
        build="$here/.build/compilers/$compiler-O$level"
        mkdir -p "$build"
        { CC=$compiler cmake -S "$here" -B "$build" -DCMAKE_BUILD_TYPE=None \
            -DCMAKE_C_FLAGS="-O$level" -DFAREND_WERROR=ON -DFAREND_TESTS=OFF -DFAREND_GDAL=OFF &&
          cmake --build "$build" --parallel "$(nproc)" --target farend_program; } \
            >"$build.log" 2>&1 || { tail -n 30 "$build.log"; exit 1; }
        set -- "$@" "$build/farend"
    done
done
python3 "$here/tests/numbers.py" "$@"
