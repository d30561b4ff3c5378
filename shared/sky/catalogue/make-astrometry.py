#!/usr/bin/env python3
"""Writes astrometry.csv: J2000 places and proper motions of the stars people point at.

Facts (not code) are read from sefstars.txt of Debian's package swe-basic-data 2.10.03 (CC0), which lists
Hipparcos astrometry (ESA 1997; van Leeuwen 2007) as given by SIMBAD, and are matched to the Hipparcos numbers of
d3-celestial's stars.6.json by place (within 1 arcsec). Run it only to renew the table:

    apt-get download swe-basic-data && dpkg -x swe-basic-data_*.deb unpacked
    python3 make-astrometry.py unpacked/usr/share/libswe/ephe/sefstars.txt node_modules/d3-celestial/data/stars.6.json

pm_ra includes cos(dec). Degrees and milliarcseconds a year; ICRS, epoch J2000.0.
"""
import json
import math
import sys

sefstars, d3_stars = sys.argv[1:3]


def rows():
    for line in open(sefstars, encoding="latin1"):
        field = [part.strip() for part in line.rstrip("\n").split(",")]
        if line.startswith("#") or len(field) < 14 or field[2] != "ICRS":
            continue
        ra = (float(field[3]) + float(field[4]) / 60 + float(field[5]) / 3600) * 15
        sign = -1 if field[6].startswith("-") else 1
        dec = sign * (abs(float(field[6])) + float(field[7]) / 60 + float(field[8]) / 3600)
        yield ra, dec, float(field[9]), float(field[10])


def separation(a, b, c, d):
    """Small-angle separation in arcseconds."""
    east = ((a - c + 180) % 360 - 180) * math.cos(math.radians(d))
    return math.hypot(east, b - d) * 3600


catalogue = list(rows())
print("# ICRS J2000.0 place (deg) and proper motion (mas/yr, ra times cos dec): Hipparcos (ESA 1997; van Leeuwen 2007)")
print("# by way of SIMBAD and sefstars.txt in Debian swe-basic-data 2.10.03 (CC0). Written by make-astrometry.py")
print("hip,ra,dec,pm_ra,pm_dec")
for star in sorted(json.load(open(d3_stars))["features"], key=lambda f: f["id"]):
    ra, dec = star["geometry"]["coordinates"]
    near = [(separation(r[0], r[1], ra, dec), r) for r in catalogue if abs(r[1] - dec) < 0.001]
    near = [pair for pair in near if pair[0] < 1]
    if near:
        row = min(near)[1]
        print(f"{star['id']},{row[0]:.7f},{row[1]:.7f},{row[2]:.2f},{row[3]:.2f}")
