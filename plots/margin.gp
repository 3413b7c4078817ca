# SPDX-License-Identifier: GPL-3.0-or-later
# Margin of every band and season: middle build, and where 8 of 10 builds come out.
# $points: median low high row mark;  rows, points, name[], row[], shown[], band[], band_row[], bands
set lmargin at screen 0.35
set rmargin at screen 0.86
set tmargin at screen 1.0 - 8.0 / height
set bmargin at screen 98.0 / height
set yrange [rows + 0.6 : 0.4]
set xrange [low : high]
unset ytics
set xtics step(high - low, 4.0)
set border 1
set grid xtics noytics
set xlabel 'margin, dB' offset 0,0.8
set key at screen 0.5, screen 12.0 / height center bottom vertical Left reverse samplen 1 maxrows 1 width 2
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 2 lc rgb c_ink
do for [i = 1:points] {
    set label i name[i] at graph -0.03, first row[i] right textcolor rgb c_ink
    set label 1000 + i shown[i] at graph 1.03, first row[i] left textcolor rgb c_ink
}
do for [i = 1:bands] {
    set label 2000 + i band[i] at graph -0.66, first band_row[i] left textcolor rgb c_soft
}
plot $points using 2:4:($3 - $2):(0) with vectors nohead lw 2.5 dt solid lc rgb c_soft notitle, \
     $points using ($5 == 0 ? $1 : NaN):4 with points pt 7 ps 1.1 lc rgb c_series1 title 'holds', \
     $points using ($5 == 1 ? $1 : NaN):4 with points pt 6 ps 1.1 lw 2 lc rgb c_series1 title 'tight', \
     $points using ($5 == 2 ? $1 : NaN):4 with points pt 2 ps 1.1 lw 2 lc rgb c_series2 title 'fails'
