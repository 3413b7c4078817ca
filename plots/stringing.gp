# SPDX-License-Identifier: GPL-3.0-or-later
# Sag of each span against the temperature of the air on the day of pulling.
# $lineN: temperature sag;  lines, span[]
set lmargin at screen 0.13
set rmargin at screen 0.97
set tmargin at screen 1.0 - 32.0 / height
set bmargin at screen (82.0 + 20.0 * ((lines + 1) / 2)) / height
set xrange [coldest : hottest]
set yrange [0 : top]
set xlabel 'air, ' . t_unit offset 0,0.8
set label 1000 'sag, ' . s_unit at screen 0.01, screen 1.0 - 13.0 / height left textcolor rgb c_ink
set key at screen 0.02, screen 8.0 / height left bottom vertical Left reverse samplen 3 maxrows ((lines + 1) / 2) width 1
set grid xtics ytics
set xtics step(hottest - coldest, 6.0)
set ytics step(top, 5.0)
plot for [i = 1:lines] '$line' . i using 1:2 with linespoints linetype i title span[i]
