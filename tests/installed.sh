#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs a build into an empty folder and uses what is there as a newcomer would:
# installed.sh CMAKE BUILD SOURCE FOLDER
set -eu
cmake=$1 build=$2 source=$3 folder=$4
rm -rf "$folder"
"$cmake" --install "$build" --prefix "$folder" >/dev/null
unset FAREND_IMPORT
export FAREND_PROFILES="$folder/share/farend"
cd "$folder"
# The raster needs farend-import, found from the program's own place.
bin/farend terrain --raster "$source/examples/byre.tif" --from 46.952747,7.689129 \
    --to 46.953753,7.690682 --output path.csv | grep "^length, level: 163 m"
bin/farend terrain --around "$source/examples/byre.ini" --raster "$source/examples/byre.tif" \
    --radius 60m --output map.tif | grep "^cells: "
test -s map.tif
bin/farend radio "$source/examples/byre.ini" | grep byre >/dev/null
test -f share/man/man1/farend.1
