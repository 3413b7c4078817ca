#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds, runs the report on the first example and says where it is.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES

build="$here/.build/release"
echo "Building in .build/release"
cmake -S "$here" -B "$build" -DCMAKE_BUILD_TYPE=Release -DFAREND_TESTS=OFF \
    >"$here/.build/release.log" 2>&1 || { cat "$here/.build/release.log"; exit 1; }
cmake --build "$build" --parallel "$(nproc)" >"$here/.build/release.log" 2>&1 ||
    { cat "$here/.build/release.log"; exit 1; }

page="$here/.build/lambing-shed.html"
"$build/farend" report "$here/examples/lambing-shed.ini" --html "$page"
echo
echo "The report as a page: $page"
