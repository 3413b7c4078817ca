# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by tests/run.sh and examples/first-run.sh: the Debian packages, and how they come.

BUILD_PACKAGES="gcc make cmake pkg-config libc6-dev libgsl-dev libudunits2-dev libinih-dev libjansson-dev gnuplot-nox"
TEST_PACKAGES="libcmocka-dev libgdal-dev locales groff zsh fish"
BROWSER_PACKAGES="chromium nodejs npm"
FUZZ_PACKAGES="clang libclang-rt-14-dev"
COVERAGE_PACKAGES="gcovr"

# Any package that provides the program will do for gnuplot and npm.
is_installed() {
    dpkg-query -W -f '${Status}' "$1" 2>/dev/null | grep -q 'ok installed' && return 0
    case $1 in
    gnuplot-nox) command -v gnuplot >/dev/null 2>&1 ;;
    npm) command -v npm >/dev/null 2>&1 ;;
    *) return 1 ;;
    esac
}

# Says what it installs, asks nothing; as root or through sudo.
install_missing() {
    missing=
    for package in "$@"; do
        is_installed "$package" || missing="$missing $package"
    done
    mkdir -p "$here/.build"
    [ -z "$missing" ] && return 0
    echo "Installing Debian packages:$missing"
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null 2>&1 ||
            { echo "These packages need root: run as root or install sudo." >&2; exit 1; }
        as_root=sudo
    fi
    log="$here/.build/packages.log"
    { $as_root apt-get update &&
      $as_root env DEBIAN_FRONTEND=noninteractive apt-get install --yes --no-install-recommends $missing
    } >"$log" 2>&1 || { tail -n 20 "$log" >&2; exit 1; }
}
