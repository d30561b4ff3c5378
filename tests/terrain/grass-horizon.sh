#!/bin/sh
# Writes grass-horizon.csv: the horizon of a made landscape by GRASS GIS (r.horizon; Debian's grass-core), on a metric grid
# 30 m wide, without Earth's curvature. `horizon.test.ts` makes the same landscape as an elevation tile.
set -e
out=$(cd "$(dirname "$0")" && pwd)/grass-horizon.csv
work=$(mktemp -d)
cat > "$work/inside.sh" <<'INSIDE'
g.region n=12015 s=-12015 e=12015 w=-12015 res=30
r.mapcalc "d = sqrt(x()^2 + y()^2)"
r.mapcalc "b = 90 - atan(x(), y())"
# A plain of 500 m, and mountains from 4.5 to 9.5 km away.
r.mapcalc "ground = 500 + max(0, 1 - ((d - 7000) / 2500)^2) * (900 + 300 * sin(5 * b) + 150 * cos(9 * b + 57.29578) + 60 * sin(23 * b))"
r.horizon -d -c elevation=ground coordinates=0,0 step=2 maxdistance=11500 file="$OUT" --overwrite
INSIDE
OUT="$out" grass --tmp-location EPSG:32632 --exec sh "$work/inside.sh"
rm -r "$work"
