#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: sh tests/mutants/run.sh [COUNT [SHIFT] | again | known]
# Changes the physics in small ways and looks whether a test notices; what the words mean is said
# at the head of mutants.py. "known" where there is none.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
. "$here/tests/support/packages.sh"
install_missing $BUILD_PACKAGES $TEST_PACKAGES python3
[ $# -gt 0 ] || set -- known
exec python3 "$here/tests/mutants/mutants.py" "$@"
