# SPDX-License-Identifier: GPL-3.0-or-later
# Power left at a device against the length of the cable, a line for each class.
# $lineN: at watt;  lines, name[], x_unit, far, top, here, need
set lmargin at screen 0.15
set rmargin at screen 0.96
set tmargin at screen 1.0 - 34.0 / height
set bmargin at screen (72.0 + 25.0 * (lines + (need > 0))) / height
set xrange [0 : far]
set yrange [0 : top]
set xlabel 'length of the cable, ' . x_unit offset 0,0.8
set label 1 'power left at the device, W' at graph 0, graph 1 offset 0,0.8 left textcolor rgb c_ink
set arrow 1 from here, graph 0 to here, graph 1 nohead lw 2 dt (3,4) lc rgb c_ink
set label 2 'this cable' at here, graph 0.965 offset 0.5,0 left textcolor rgb c_ink front
set key at screen 0.02, screen 8.0 / height left bottom vertical Left reverse samplen 3 maxcols 1
set grid noxtics ytics
set xtics step(far, 5.0)
set ytics step(top, 5.0)
plot for [i = 1:lines] '$line' . i using 1:2 with linespoints linetype i pointinterval (every + i) title name[i], \
     (need > 0 ? need : NaN) with lines lw 2 dt (6,4) lc rgb c_ink title (need > 0 ? 'needed' : '')
