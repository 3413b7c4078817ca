#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs a build into an empty folder and uses what is there as a newcomer would:
# installed.sh CMAKE BUILD SOURCE FOLDER
set -eu
cmake=$1 build=$2 source=$3 folder=$4
rm -rf "$folder"
"$cmake" --install "$build" --prefix "$folder" >/dev/null
unset FAREND_IMPORT FAREND_PROFILES FAREND_PLOTS
cd "$folder"
# Built for another prefix, it finds the catalogues that were installed with it: here they have
# a class that no other folder has, and the pictures a script that leaves its mark.
sed 's/^\[gear outdoor-access-point\]/[gear of-this-folder]/' \
    share/farend/gear/*.ini | sed -n '/^\[gear of-this-folder\]/,/^$/p' >share/farend/gear/own.ini
sed 's/^gear = .*/gear = of-this-folder/; s/^profile = .*/distance = 150 m/' \
    "$source/examples/byre.ini" >own.ini
bin/farend radio own.ini | grep "of this folder at both ends"
for script in share/farend/plots/*.gp; do echo 'set label 999 "drawn here" at screen 0,0' \
    | cat - "$script" >with-mark && mv with-mark "$script"; done
# The raster needs farend-import, found from the program's own place.
bin/farend terrain --raster "$source/examples/byre.tif" --from 46.952747,7.689129 \
    --to 46.953753,7.690682 --output path.csv | grep "^length, level: 163 m"
bin/farend terrain --around "$source/examples/byre.ini" --raster "$source/examples/byre.tif" \
    --radius 60m --output map.tif --plot map.svg | grep "^cells: "
test -s map.tif
grep "drawn here" map.svg >/dev/null
bin/farend radio "$source/examples/byre.ini" | grep byre >/dev/null
test -f share/man/man1/farend.1
