# SPDX-License-Identifier: GPL-3.0-or-later
# Voltage along the feed, as a share of the source's.
# $lineN: at percent;  lines, name[], x_unit, limit (percent, 0: none), bottom
set lmargin at screen 0.15
set rmargin at screen 0.96
set tmargin at screen 1.0 - 34.0 / height
set bmargin at screen (72.0 + 25.0 * (lines + (limit > 0))) / height
set xrange [0 : far]
set yrange [bottom : 100.5]
set xlabel 'along the feed, ' . x_unit offset 0,0.8
set label 1 'voltage, % of the source' at graph 0, graph 1 offset 0,0.8 left textcolor rgb c_ink
set key at screen 0.02, screen 8.0 / height left bottom vertical Left reverse samplen 3 maxcols 1
set grid noxtics ytics
set xtics step(far, 5.0)
set ytics step(100.5 - bottom, 5.0)
plot for [i = 1:lines] '$line' . i using 1:2 with linespoints linetype i pointinterval (every + i) title name[i], \
     (limit > 0 ? limit : NaN) with lines lw 2 dt (6,4) lc rgb c_ink title (limit > 0 ? 'lowest allowed' : '')
