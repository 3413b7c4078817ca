# SPDX-License-Identifier: GPL-3.0-or-later
# What stands where, for the sheet that goes outdoors.
# $ground: at height;  $supports: at ground top;  $line: at height
# numbers, number[], number_at[], number_up[], from_name, to_name, x_unit, y_unit, far, bottom, top
# $crossing: from to;  crossings, name[], name_at[], name_row[];  has_top: bolt_text, supply_text,
# has_supply, post_text, slides
side = has_top ? 0.80 : 0.98
set lmargin at screen 0.05
set rmargin at screen side
set tmargin at screen 1.0 - 26.0 / height
set bmargin at screen 48.0 / height
set xrange [-0.01 * far : 1.01 * far]
set yrange [bottom : top]
# An axis title of its own would be dropped: it wants more room than this low sketch has.
set label 4 'from the mark, ' . x_unit at screen 0.5 * (0.05 + side), screen 9.0 / height center textcolor rgb c_ink
set label 1 y_unit at screen 0.005, screen 1.0 - 11.0 / height left textcolor rgb c_ink
set label 2 from_name at screen 0.05, screen 1.0 - 11.0 / height left textcolor rgb c_ink
set label 3 to_name at screen side, screen 1.0 - 11.0 / height right textcolor rgb c_ink
do for [i = 1:numbers] {
    set label 10 + i number[i] at first number_at[i], first number_up[i] offset 0,0.5 center textcolor rgb c_ink front
}
do for [i = 1:crossings] {
    set label 1000 + i name[i] at first name_at[i], graph 0.02 + 0.12 * (1 - name_row[i]) offset 0,0.35 center textcolor rgb c_ink front
}
if (has_top) { set multiplot }
unset key
set grid noxtics ytics
set xtics step(far, 10.0)
set ytics 0, step(top - bottom, 4.0)
plot $ground using 1:2 with filledcurves y1=bottom lc rgb c_ground, \
     $ground using 1:2 with lines lw 0.8 dt solid lc rgb c_soft, \
     $supports using 1:2:(0):($3 - $2) with vectors nohead lw 3 dt solid lc rgb c_ink, \
     $line using 1:2 with lines lw 1.6 dt solid lc rgb c_series1, \
     $crossing using 1:(bottom):($2 - $1):(0) with vectors nohead lw 6 dt solid lc rgb c_ink
if (has_top) {
    # Not to scale: the post's top with its bolt, seen along the ground; a grip is a thick stroke.
    unset label; unset tics; unset border; unset grid
    set lmargin at screen 0.82
    set rmargin at screen 0.995
    set tmargin at screen 0.98
    set bmargin at screen 0.03
    set xrange [0 : 1]
    set yrange [0 : 1]
    bolt = has_supply ? 0.42 : 0.62
    set object 1 rectangle from 0.42, 0 to 0.58, 0.86 front fillcolor rgb c_ground fillstyle solid border rgb c_ink
    set arrow 1 from 0, bolt + 0.10 to 0.25, bolt nohead lw 1.6 lc rgb c_series1 front
    set arrow 2 from 0.75, bolt to 1, bolt + 0.10 nohead lw 1.6 lc rgb c_series1 front
    set arrow 3 from 0.25, bolt to 0.40, bolt nohead lw (slides ? 1.6 : 5) lc rgb c_ink front
    set arrow 4 from 0.60, bolt to 0.75, bolt nohead lw (slides ? 1.6 : 5) lc rgb c_ink front
    set arrow 5 from 0.38, bolt to 0.62, bolt nohead lw 2 lc rgb c_ink front
    set arrow 6 from 0.65, 0.86 to 0.65, bolt heads size 0.03, 20 lw 1 lc rgb c_ink front
    set label 1 bolt_text at 0.68, bolt + 0.72 * (0.86 - bolt) left textcolor rgb c_ink front
    set label 2 'post ' . post_text at 0.5, 0.94 center textcolor rgb c_ink front
    set label 3 (slides ? 'clamp' : 'grip') at 0.30, bolt - 0.10 center textcolor rgb c_ink front
    set label 4 (slides ? '' : 'grip') at 0.70, bolt - 0.10 center textcolor rgb c_ink front
    if (has_supply) {
        set arrow 7 from 0, 0.84 to 0.38, 0.74 nohead lw 2.4 dt (6,3) lc rgb c_series2 front
        set arrow 8 from 0.62, 0.74 to 1, 0.84 nohead lw 2.4 dt (6,3) lc rgb c_series2 front
        set arrow 9 from 0.30, 0.74 to 0.30, bolt heads size 0.03, 20 lw 1 lc rgb c_ink front
        set label 5 supply_text at 0.27, 0.58 right textcolor rgb c_ink front
    }
    plot NaN notitle
    unset multiplot
}
