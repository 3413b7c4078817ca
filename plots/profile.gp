# SPDX-License-Identifier: GPL-3.0-or-later
# What stands between two antennas.
# $section: at ground top sight low high free;  $trees: at ground top, one part each
# $antennas: at ground antenna;  from_name, to_name, x_unit, y_unit, has_trees, has_snow, top, bottom
set lmargin at screen 0.13
set rmargin at screen 0.97
set tmargin at screen 1.0 - 52.0 / height
set bmargin at screen 138.0 / height
set xrange [0 : far]
set yrange [bottom : top]
set xlabel 'along the path, ' . x_unit offset 0,0.8
set label 3 'height, ' . y_unit at screen 0.01, screen 1.0 - 13.0 / height left textcolor rgb c_ink
set key at screen 0.02, screen 8.0 / height left bottom vertical Left reverse samplen 2 maxrows 3 width 1
set label 1 from_name at graph 0, graph 1 offset 0,0.7 left textcolor rgb c_ink
set label 2 to_name at graph 1, graph 1 offset 0,0.7 right textcolor rgb c_ink
set grid noxtics ytics
set xtics step(far, 5.0)
set ytics step(top - bottom, 5.0)
# Strokes hang from the line of sight at even places, as far down as has to stay free.
next = far / 40.0
is_next(at) = at < next ? 0 : (next = next + far / 20.0, 1)
plot $trees using 1:2:3 with filledcurves lc rgb c_trees title (has_trees ? 'trees' : ''), \
     $section using 1:2:3 with filledcurves lc rgb c_snow title (has_snow ? 'snow' : ''), \
     $section using 1:3 with lines lw 1 dt solid lc rgb c_soft notitle, \
     $section using 1:2 with filledcurves y1=bottom lc rgb c_ground title 'ground', \
     $section using 1:2 with lines lw 0.8 dt solid lc rgb c_soft notitle, \
     $section using 1:5 with lines lw 1 dt solid lc rgb c_series1 title 'first zone', \
     $section using 1:6 with lines lw 1 dt solid lc rgb c_series1 notitle, \
     $section using 1:4:(0):(is_next($1) ? $7 - $4 : NaN) with vectors nohead lw 1.2 dt solid lc rgb c_series2 title 'to keep free', \
     $section using 1:4 with lines lw 2 dt solid lc rgb c_series1 title 'line of sight', \
     $antennas using 1:2:(0):($3 - $2) with vectors nohead lw 4 dt solid lc rgb c_ink notitle, \
     $antennas using 1:3 with points pt 7 ps 1 lc rgb c_ink notitle
