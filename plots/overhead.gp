# SPDX-License-Identifier: GPL-3.0-or-later
# The overhead run in section: the cable where it hangs highest and lowest over ground and snow.
# $ground: at ground top;  $posts: at ground attachment;  $lineN: at height;  $crossings: from to
# level surface;  lines, season[], crossings, letter[], letter_row[], letter_rows, crossing[]
legend = (lines + 4) / 2
names = (crossings + 1) / 2
set lmargin at screen 0.13
set rmargin at screen 0.97
set tmargin at screen 1.0 - 32.0 / height
set bmargin at screen (82.0 + 20.0 * (legend + names)) / height
set xrange [near : far]
set yrange [bottom : top]
set xlabel 'along the run, ' . x_unit offset 0,0.8
set label 1000 'height, ' . y_unit at screen 0.01, screen 1.0 - 13.0 / height left textcolor rgb c_ink
set key at screen 0.02, screen (8.0 + 20.0 * names) / height left bottom vertical Left reverse samplen 3 maxrows legend width -8
set grid noxtics ytics
set xtics step(far - near, 5.0)
set ytics step(top - bottom, 5.0)
# Letters hang under the ground's lowest place, each left of a line from what it names; the words stand below.
rowed(i) = bottom + 0.075 * (top - bottom) * (letter_rows - letter_row[i] - 0.45)
middle(i) = 0.5 * (word($crossings[i], 1) + word($crossings[i], 2))
do for [i = 1:crossings] {
    set arrow i from first middle(i), first word($crossings[i], 4) + 0 to first middle(i), first rowed(i) - 0.02 * (top - bottom) nohead lw 1 dt solid lc rgb c_ink front
    set label i letter[i] at first middle(i), first rowed(i) offset -0.4,0 right textcolor rgb c_ink front
    set label 100 + i letter[i] . '  ' . crossing[i] at screen (i > names ? 0.52 : 0.03), screen (2.0 + 20.0 * (names - (i - 1) % names) - 6.0) / height left textcolor rgb c_ink
}
plot $ground using 1:2:3 with filledcurves lc rgb c_snow title (has_snow ? 'snow' : ''), \
     $ground using 1:2 with filledcurves y1=bottom lc rgb c_ground title 'ground', \
     $ground using 1:3 with lines lw 0.8 dt solid lc rgb c_soft notitle, \
     $ground using 1:2 with lines lw 0.8 dt solid lc rgb c_soft notitle, \
     $posts using 1:2:(0):($3 - $2) with vectors nohead lw 3 dt solid lc rgb c_soft notitle, \
     $crossings using 1:3:($2 - $1):(0) with vectors nohead lw 2.5 dt (3,3) lc rgb c_ink title (crossings ? 'clearance needed' : ''), \
     $crossings using 1:4:(0):($3 - $4) with vectors nohead lw 1 dt (3,3) lc rgb c_ink notitle, \
     $crossings using 2:4:(0):($3 - $4) with vectors nohead lw 1 dt (3,3) lc rgb c_ink notitle, \
     for [i = 1:lines] '$line' . i using 1:2 with lines linetype (i == 1 ? 1 : 3) title season[i]
