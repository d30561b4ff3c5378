#!/usr/bin/env python3
"""Writes arch-cases.json: the galactic equator in ERFA's horizontal frame, without refraction (Debian's python3-erfa).

Every 0.01 degree of galactic longitude goes through ERFA's own galactic frame (g2icrs) and atco13; the places where it
passes the horizon and its highest one are interpolated. UT1 is taken as UTC, as Lodebook does.
"""
import json
import erfa
import numpy as np

CASES = [(-32.4123, -54.3622, 2027, 6, 5, 23), (51.2, 11.0, 2027, 8, 4, 22), (37.5, -112.0, 2028, 4, 20, 10),
         (64.0, -20.0, 2026, 10, 10, 23), (-3.1, 37.3, 2027, 7, 1, 19), (-45.0, 170.0, 2029, 9, 1, 8), (28.0, -16.5, 2027, 3, 3, 5)]
D = np.pi / 180
rows = []
for lat, lon, *when, hour in CASES:
    a, b = erfa.dtf2d("UTC", *when, hour, 0, 0)
    l = np.arange(0, 36000) / 100
    ra, dec = erfa.g2icrs(l * D, 0)
    az, zd = erfa.atco13(ra, dec, 0, 0, 0, 0, a, b, 0, lon * D, lat * D, 0, 0, 0, 0, 0, 0, 0.55)[:2]
    alt = 90 - zd / D
    az = az / D
    i = int(alt.argmax())
    # Parabola through three places for the top.
    y0, y1, y2 = alt[i - 1], alt[i], alt[(i + 1) % len(alt)]
    t = (y0 - y2) / (2 * (y0 - 2 * y1 + y2))
    feet = []
    for j in np.nonzero((alt > 0) != np.roll(alt > 0, -1))[0]:
        k = (j + 1) % len(alt)
        s = alt[j] / (alt[j] - alt[k])
        feet.append(float((az[j] + s * ((az[k] - az[j] + 180) % 360 - 180)) % 360))
    # Left of the top: up to half a turn anticlockwise of it.
    top = float((az[i] + t * ((az[(i + 1) % len(alt)] - az[i] + 180) % 360 - 180)) % 360)
    feet.sort(key=lambda f: (f - top + 180) % 360)
    rows.append({"latitude": lat, "longitude": lon, "at": "%04d-%02d-%02dT%02d:00:00Z" % (*when, hour),
                 "left": round(feet[0], 4), "right": round(feet[1], 4), "top": [round(top, 4), round(float(y1 - (y0 - y2) * t / 4), 4)]})
with open(__file__.replace("make-arch-cases.py", "arch-cases.json"), "w") as file:
    json.dump(rows, file, indent="\t")
    file.write("\n")
