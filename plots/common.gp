# SPDX-License-Identifier: GPL-3.0-or-later
# What all figures share. Sent before a figure's data; colours c_* are set before it.
set border 3 lc rgb c_soft lw 1
set tics nomirror out scale 0.5 textcolor rgb c_ink
set xtics offset 0,0.4
set format '%g'
set grid lc rgb c_rule lw 0.7 dt solid
set xlabel textcolor rgb c_ink
set ylabel textcolor rgb c_ink
set key textcolor rgb c_ink
set style fill solid 1.0 noborder
# A round step that cuts a range into about so many parts.
part(range, parts) = 10 ** floor(log10(range / parts))
step(range, parts) = part(range, parts) * rounded(range / parts / part(range, parts))
rounded(x) = x < 1.5 ? 1 : x < 3.5 ? 2 : x < 7.5 ? 5 : 10
# Six lines that can be told apart in black and white: dash, marker and lightness.
set linetype 1 lc rgb c_series1 lw 2 dt solid pt 7 ps 0.9
set linetype 2 lc rgb c_series2 lw 2 dt (12,5) pt 4 ps 0.9
set linetype 3 lc rgb c_series3 lw 2 dt (4,4) pt 8 ps 1.0
set linetype 4 lc rgb c_series4 lw 2 dt (14,4,3,4) pt 5 ps 0.9
set linetype 5 lc rgb c_series5 lw 2 dt (2,5) pt 12 ps 1.1
set linetype 6 lc rgb c_series6 lw 2 dt (16,4,3,4,3,4) pt 2 ps 1.0
