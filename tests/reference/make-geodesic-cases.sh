#!/bin/sh
# Writes geodesic-cases.txt: latitude, longitude of two points, then azimuth at the first (deg) and distance (m), by
# GeodSolve of Debian's geographiclib-tools (C. Karney), WGS 84. Points are drawn by a fixed generator.
awk 'BEGIN { srand(41); for (i = 0; i < 40; i++) { la = rand()*170-85; lo = rand()*360-180; d = (i%4==0) ? 40 : (i%4==1) ? 2 : 0.2; printf "%.6f %.6f %.6f %.6f\n", la, lo, la+(rand()-0.5)*d*(la>80?0.1:1), lo+(rand()-0.5)*d } }' > points.txt
GeodSolve -i -p 6 --input-file points.txt | awk '{ print $1, $3 }' | paste -d ' ' points.txt - > geodesic-cases.txt
rm points.txt
