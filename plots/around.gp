# SPDX-License-Identifier: GPL-3.0-or-later
# Margin on the land about one end: one hue, darker (on dark paper lighter) for more.
# $band1 .. $band7: left right bottom top, each over the one before;  $contours, $zero: x y dx dy
# $labels: x y level;  far, unit, end_name, bands, band_name
set lmargin at screen 60.0 / 480
set rmargin at screen 460.0 / 480
set tmargin at screen 1.0 - 30.0 / height
set bmargin at screen 1.0 - 430.0 / height
set xrange [-far : far]
set yrange [-far : far]
set xtics step(2 * far, 5.0)
set ytics step(2 * far, 5.0)
unset grid
set xlabel 'east of the end, ' . unit offset 0,0.8
set label 1 'north of the end, ' . unit at graph 0, graph 1 offset 0,0.8 left textcolor rgb c_ink
# Paper under each label, about as wide as its text.
wide(text) = (4.2 * strlen(text) + 3) / 400 * 2 * far
high = 9.0 / 400 * 2 * far
under = -18.0 / 400 * 2 * far
set label 2 end_name at 0, under center textcolor rgb c_ink front
text(level) = sprintf('%g dB', level)
set key at screen 0.03, screen 6.0 / height left bottom vertical maxrows 4 samplen 2 spacing 1.15 Left reverse
name(i) = i <= bands ? band_name[i] : ''
plot $band1 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map1 title name(1), \
     $band2 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map2 title name(2), \
     $band3 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map3 title name(3), \
     $band4 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map4 title name(4), \
     $band5 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map5 title name(5), \
     $band6 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map6 title name(6), \
     $band7 using (0):(0):1:2:3:4 with boxxyerror lc rgb c_map7 title name(7), \
     $contours using 1:2:3:4 with vectors nohead lw 0.7 dt solid lc rgb c_ink notitle, \
     $zero using 1:2:3:4 with vectors nohead lw 2 dt solid lc rgb c_ink notitle, \
     $labels using 1:2:($1 - wide(text($3))):($1 + wide(text($3))):($2 - high):($2 + high) with boxxyerror lc rgb c_paper notitle, \
     $labels using 1:2:(text($3)) with labels textcolor rgb c_ink notitle, \
     '+' using (0):(0):(-wide(end_name)):(wide(end_name)):(under - high):(under + high) every ::0::0 with boxxyerror lc rgb c_paper notitle, \
     '+' using (0):(0) every ::0::0 with points pt 7 ps 1.1 lc rgb c_ink notitle
