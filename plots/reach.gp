# SPDX-License-Identifier: GPL-3.0-or-later
# Length of each cable (or of one cable, for each rate) against its limit.
# $rows: length limit row mark;  rows, name[], shown[], low, high, is_log, x_unit
set lmargin at screen 0.03
set rmargin at screen 0.96
set tmargin at screen 1.0 - 4.0 / height
set bmargin at screen 126.0 / height
set yrange [rows + 0.6 : 0.5]
if (is_log) { set logscale x }
set xrange [low : high]
unset ytics
if (!is_log) { set xtics step(high - low, 4.0) }
set border 1
unset grid
set xlabel 'length and limit, ' . x_unit offset 0,0.8
set key at screen 0.02, screen 8.0 / height left bottom vertical Left reverse samplen 3 maxrows 2 width 1
do for [i = 1:rows] {
    set label i name[i] at graph 0, first i - 0.2 left textcolor rgb c_ink
    set label 1000 + i shown[i] at graph 1, first i - 0.2 right textcolor rgb c_ink
}
# The bar lies under the line of its name.
under(row) = row + 0.22
plot $rows using (low):(under($3)):(($2 > low ? $2 : low) - low):(0) with vectors nohead lw 9 dt solid lc rgb c_rule title 'up to the limit', \
     $rows using ($4 == 0 ? $1 : NaN):(under($3)) with points pt 7 ps 1.1 lc rgb c_series1 title 'length: holds', \
     $rows using ($4 == 1 ? $1 : NaN):(under($3)) with points pt 6 ps 1.1 lw 2 lc rgb c_series1 title 'length: tight', \
     $rows using ($4 == 2 ? $1 : NaN):(under($3)) with points pt 2 ps 1.1 lw 2 lc rgb c_series2 title 'length: fails'
