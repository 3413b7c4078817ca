# SPDX-License-Identifier: GPL-3.0-or-later
# From the transmitter's power to what is left, step by step.
# $steps: from to row;  $joins: level row row;  rows, name[], shown[], needed, level, low, high
set lmargin at screen 0.46
set rmargin at screen 0.81
set tmargin at screen 1.0 - 8.0 / height
set bmargin at screen 98.0 / height
set yrange [rows + 0.6 : 0.4]
set xrange [low : high]
unset ytics
set xtics step(high - low, 3.0)
set border 1
set grid xtics noytics
set xlabel 'level, dBm' offset 0,0.8
set key at screen 0.5, screen 12.0 / height center bottom vertical Left reverse samplen 2 maxrows 1 width 1
do for [i = 1:rows] {
    set label i name[i] at graph -0.03, first i right textcolor rgb c_ink
    set label 1000 + i shown[i] at graph 1.03, first i left textcolor rgb c_ink
}
set style fill solid 1.0 border lc rgb c_series1
half = 0.28
plot $gains using 1:3:1:2:($3 - half):($3 + half) with boxxyerror lc rgb c_series1 dt solid fs solid 1.0 border lc rgb c_series1 title 'gain', \
     $losses using 1:3:1:2:($3 - half):($3 + half) with boxxyerror lc rgb c_series2 dt solid fs empty border lc rgb c_series2 title 'loss', \
     $joins using 1:2:(0):($3 - $2) with vectors nohead lw 1 dt solid lc rgb c_soft notitle, \
     $marks using 1:2 with points pt 7 ps 1 lc rgb c_ink notitle, \
     $margin using 1:3:1:2:($3 - half):($3 + half) with boxxyerror lc rgb c_ink dt solid fs solid 1.0 border lc rgb c_ink notitle, \
     $margin using 1:3:1:2:($3 - half):($3 + half) with boxxyerror lc rgb c_ink dt solid fs empty border lc rgb c_ink notitle, \
     $needed using 1:2 with lines lw 2 dt (6,4) lc rgb c_ink title 'needed'
