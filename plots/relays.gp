# SPDX-License-Identifier: GPL-3.0-or-later
# What more relays bring and take: rate above, margin of the weakest hop below.
# A number that is likely enough is filled: a margin of the median alone does not tell that.
# $points: relays rate margin likely;  rate_unit, needed, most, first, holding
set lmargin at screen 0.15
set rmargin at screen 0.96
set xrange [first - 0.4 : most + 0.4]
set xtics 1 offset 0,0.4
set grid noxtics ytics
unset key
set multiplot
set tmargin at screen 1.0 - 34.0 / height
set bmargin at screen 0.58
set yrange [0 : rate_top]
set ytics step(rate_top, 4.0)
set format x ''
set label 1 'rate, ' . rate_unit at graph 0, graph 1 offset 0,0.8 left textcolor rgb c_ink
if (needed > 0) {
    set arrow 1 from graph 0, first needed to graph 1, first needed nohead lw 2 dt (6,4) lc rgb c_ink
    set label 2 'needed' at graph 1, first needed offset 0,0.6 right textcolor rgb c_ink front
}
plot $points using 1:2 with linespoints linetype 1
unset label
unset arrow
set tmargin at screen 0.49
set bmargin at screen 70.0 / height
set format x '%g'
set ytics step(margin_high - margin_low, 4.0)
set yrange [margin_low : margin_high]
set xlabel 'relays' offset 0,0.8
set label 1 'margin of the weakest hop, dB' at graph 0, graph 1 offset 0,0.8 left textcolor rgb c_ink
set arrow 1 from graph 0, first 0 to graph 1, first 0 nohead lw 2 lc rgb c_ink
set label 2 (holding > 0 ? 'filled: holds' : 'none holds') at graph 1, graph 1 \
    offset 0,0.8 right textcolor rgb c_ink front
plot $points using 1:3 with linespoints linetype 2, \
     $points using ($4 > 0 ? $1 : NaN):3 with points pt 5 ps 1 lc rgb c_series2
unset multiplot
