# SPDX-License-Identifier: GPL-3.0-or-later
# What stands where, for the sheet that goes outdoors.
# $ground: at height;  $supports: at ground top;  $line: at height
# numbers, number[], number_at[], number_up[], from_name, to_name, x_unit, y_unit, far, bottom, top
set lmargin at screen 0.05
set rmargin at screen 0.98
set tmargin at screen 1.0 - 26.0 / height
set bmargin at screen 48.0 / height
set xrange [-0.01 * far : 1.01 * far]
set yrange [bottom : top]
# An axis title of its own would be dropped: it wants more room than this low sketch has.
set label 4 'from the mark, ' . x_unit at screen 0.515, screen 9.0 / height center textcolor rgb c_ink
set label 1 y_unit at screen 0.005, screen 1.0 - 11.0 / height left textcolor rgb c_ink
set label 2 from_name at screen 0.05, screen 1.0 - 11.0 / height left textcolor rgb c_ink
set label 3 to_name at screen 0.98, screen 1.0 - 11.0 / height right textcolor rgb c_ink
do for [i = 1:numbers] {
    set label 10 + i number[i] at first number_at[i], first number_up[i] offset 0,0.5 center textcolor rgb c_ink front
}
unset key
set grid noxtics ytics
set xtics step(far, 10.0)
set ytics step(top - bottom, 4.0)
plot $ground using 1:2 with filledcurves y1=bottom lc rgb c_ground, \
     $ground using 1:2 with lines lw 0.8 dt solid lc rgb c_soft, \
     $supports using 1:2:(0):($3 - $2) with vectors nohead lw 3 dt solid lc rgb c_ink, \
     $line using 1:2 with lines lw 1.6 dt solid lc rgb c_series1
