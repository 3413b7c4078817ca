# SPDX-License-Identifier: GPL-3.0-or-later
# Length of each cable (or of one cable, for each rate) against its limit.
# $rows: length limit row mark;  rows, name[], shown[], low, high, is_log, x_unit, left
set lmargin at screen left
set rmargin at screen 0.80
set tmargin at screen 1.0 - 8.0 / height
set bmargin at screen 172.0 / height
set yrange [rows + 0.6 : 0.4]
if (is_log) { set logscale x }
set xrange [low : high]
unset ytics
if (!is_log) { set xtics step(high - low, 4.0) }
set border 1
set grid xtics noytics
set xlabel 'length and limit, ' . x_unit offset 0,0.8
set key at screen 0.02, screen 8.0 / height left bottom vertical Left reverse samplen 3 maxcols 1
do for [i = 1:rows] {
    set label i name[i] at graph -0.03, first i right textcolor rgb c_ink
    set label 1000 + i shown[i] at graph 1.03, first i left textcolor rgb c_ink
}
plot $rows using (low):3:(($2 > low ? $2 : low) - low):(0) with vectors nohead lw 7 dt solid lc rgb c_rule title 'within the limit', \
     $rows using ($4 == 0 ? $1 : NaN):3 with points pt 7 ps 1.1 lc rgb c_series1 title 'holds', \
     $rows using ($4 == 1 ? $1 : NaN):3 with points pt 6 ps 1.1 lw 2 lc rgb c_series1 title 'tight', \
     $rows using ($4 == 2 ? $1 : NaN):3 with points pt 2 ps 1.1 lw 2 lc rgb c_series2 title 'fails'
