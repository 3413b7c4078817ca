# SPDX-License-Identifier: GPL-3.0-or-later
# Range against frequency by frequency alone, the known range, and the claim.
# $curves: frequency equal-gain equal-size beyond;  $marks: frequency range (known, claimed)
# range_unit, range_top, low, high, known_at, known_range, claim_at, claim_range, claim_right
set lmargin at screen 0.14
set rmargin at screen 0.96
set tmargin at screen 1.0 - 34.0 / height
set bmargin at screen 150.0 / height
set logscale x
set xrange [low : high]
set yrange [0 : range_top]
set xtics (0.4, 0.6, 0.9, 1.5, 2.4, 3.5, 5, 7, 10, 20, 40, 60, 100) nomirror offset 0,0.4
set ytics step(range_top, 5.0)
set grid noxtics ytics
set xlabel 'frequency, GHz' offset 0,0.8
set label 1 'range, ' . range_unit at graph 0, graph 1 offset 0,0.8 left textcolor rgb c_ink
# Under its point, but not on the numbers of the axis.
set label 2 'known' at known_at, known_range offset 0,(known_range > 0.15 * range_top ? -1.1 : 1.1) center textcolor rgb c_ink front
if (claim_right > 0) {
    set label 3 'claimed' at claim_at, claim_range offset -1.6,0 right textcolor rgb c_ink front
} else {
    set label 3 'claimed' at claim_at, claim_range offset 1.6,0 left textcolor rgb c_ink front
}
set key at screen 0.13, screen 78.0 / height left top vertical maxrows 3 samplen 3 spacing 1.15 Left reverse
plot $curves using 1:2 with lines linetype 1 title 'antennas of equal gain', \
     $curves using 1:3 with lines linetype 2 title 'antennas of equal size', \
     $curves using 1:4 with lines linetype 3 title 'far beyond the break-point', \
     $marks every ::0::0 using 1:2 with points pt 7 ps 1.3 lc rgb c_ink notitle, \
     $marks every ::1::1 using 1:2 with points pt 2 ps 1.8 lw 3 lc rgb c_ink notitle
