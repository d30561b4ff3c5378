#!/usr/bin/env python3
"""Writes sky-cases.json: places of stars, the Sun and the Moon, and times of the Sun's events, by ERFA.

ERFA is Debian's python3-erfa (the IAU SOFA algorithms). Stars come from the list of 115 bright stars in Debian's
python3-ephem (Hipparcos 1997; a list that shares nothing with the project's own table), parallaxes of the nearest from
the Hipparcos Catalogue (ESA SP-1200, 1997; from memory). UTC is taken as UT1, polar motion and air are left out.  Run with Debian's python:  /usr/bin/python3 -W ignore make-sky-cases.py
"""
import json
import math
import random
import re
from datetime import datetime, timedelta, timezone

import ephem.stars
import erfa

random.seed(20270605)
RAD = math.pi / 180
TT_UTC = 69.184 / 86400


def times(at):
    """UTC and TT as two-part Julian dates, without the leap-second table's opinion of the future."""
    day = (at - datetime(2000, 1, 1, 12, tzinfo=timezone.utc)).total_seconds() / 86400
    return (2451545.0, day), (2451545.0, day + TT_UTC)


def astrom(at, lon, lat, height=0.0):
    (u1, u2), (t1, t2) = times(at)
    pv, pvb = erfa.epv00(t1, t2)
    x, y, s = erfa.xys06a(t1, t2)
    theta = erfa.era00(u1, u2)
    sp = erfa.sp00(t1, t2)
    return erfa.apco(t1, t2, pvb, pv["p"], x, y, s, theta, lon * RAD, lat * RAD, height, 0, 0, sp, 0, 0)


def observed(ri, di, a):
    az, zd, *_ = erfa.atioq(ri, di, a)
    return math.degrees(az), 90 - math.degrees(zd)


def stars():
    """name -> (ra, dec, pm_ra cos dec, pm_dec, magnitude), degrees and mas a year."""
    for line in ephem.stars.db.strip().splitlines():
        name, _, ra, dec, mag = line.split(",")[:5]
        (h, pmra), (d, pmdec) = (part.split("|") for part in (ra, dec))
        yield name, (float(h) * 15, float(d), float(pmra), float(pmdec), float(mag))


SITES = [(-62.3, 150.2), (-45.1, 167.3), (-32.4123, 20.8431), (-12.6, -69.2), (0.6, 37.2), (14.2, -90.5), (28.3, -16.6), (43.6, -8.1), (55.9, 12.3), (68.4, 17.4)]


def moment():
    return datetime(2026, 1, 1, tzinfo=timezone.utc) + timedelta(seconds=random.randrange(int(10.9 * 365.25 * 86400)))


# Arcseconds; ESA SP-1200, from memory. Others count as none.
PARALLAXES = {"Rigil Kentaurus": 0.74212, "Sirius": 0.37921, "Procyon": 0.28593, "Altair": 0.19444}


def star_cases():
    table = dict(stars())
    for i, name in enumerate(sorted(table)):
        if i % 2 and name not in ("Polaris", "Arcturus", "Sirius", "Vega"):
            continue
        ra, dec, pmra, pmdec, _ = table[name]
        at = moment()
        lat, lon = SITES[i % len(SITES)]
        a = astrom(at, lon, lat)
        ri, di = erfa.atciq(ra * RAD, dec * RAD, pmra / 3.6e6 * RAD / math.cos(dec * RAD), pmdec / 3.6e6 * RAD, PARALLAXES.get(name, 0), 0, a)
        az, alt = observed(ri, di, a)
        yield dict(name=name, at=at.isoformat().replace("+00:00", "Z"), latitude=lat, longitude=lon, azimuth=az, altitude=alt)


def sun_vector(at):
    """Apparent geocentric direction of the Sun, GCRS: light time and aberration by the Earth's velocity."""
    _, (t1, t2) = times(at)
    pv, pvb = erfa.epv00(t1, t2)
    for _ in range(2):
        distance = math.sqrt(sum(v * v for v in pv["p"]))
        light = distance * 499.004784 / 86400
        ph, pb = erfa.epv00(t1, t2 - light)
        sun = [b - h for b, h in zip(pb["p"], ph["p"])]
        vector = [s - e for s, e in zip(sun, pvb["p"])]
    return vector, pvb


def topocentric(vector, at, lon, lat, aberrate):
    (u1, u2), (t1, t2) = times(at)
    pv, pvb = erfa.epv00(t1, t2)
    rnpb = erfa.pnm06a(t1, t2)
    gast = erfa.gst06(u1, u2, t1, t2, rnpb)
    place = erfa.gd2gc(1, lon * RAD, lat * RAD, 0.0) / 149597870700.0
    c, s = math.cos(gast), math.sin(gast)
    here = [c * place[0] - s * place[1], s * place[0] + c * place[1], place[2]]
    if aberrate:
        length = math.sqrt(sum(v * v for v in vector))
        velocity = [v / 173.1446326846693 for v in pvb["v"]]
        shifted = [v / length + b for v, b in zip(vector, velocity)]
        norm = math.sqrt(sum(v * v for v in shifted))
        vector = [v / norm * length for v in shifted]
    date = [sum(rnpb[i][j] * vector[j] for j in range(3)) for i in range(3)]
    top = [d - h for d, h in zip(date, here)]
    lst = gast + lon * RAD
    x = math.cos(lst) * top[0] + math.sin(lst) * top[1]
    east = -math.sin(lst) * top[0] + math.cos(lst) * top[1]
    phi = lat * RAD
    north, up = -math.sin(phi) * x + math.cos(phi) * top[2], math.cos(phi) * x + math.sin(phi) * top[2]
    return math.degrees(math.atan2(east, north)) % 360, math.degrees(math.atan2(up, math.hypot(east, north)))


def sun_altitude(at, lon, lat):
    vector, _ = sun_vector(at)
    return topocentric(vector, at, lon, lat, True)


def sun_cases():
    for i in range(16):
        at = moment()
        lat, lon = SITES[i % len(SITES)]
        az, alt = sun_altitude(at, lon, lat)
        yield dict(at=at.isoformat().replace("+00:00", "Z"), latitude=lat, longitude=lon, azimuth=az, altitude=alt)


def event_cases():
    """Evening and morning crossings of -0.8333, -6, -12, -18 degrees between two noons, by bisection."""
    for i, (lat, lon) in enumerate(SITES):
        day = datetime(2026 + i % 5, 1 + (i * 5) % 12, 7 + i, tzinfo=timezone.utc)
        noon = day + timedelta(hours=12 - lon / 15)
        row = dict(date=day.date().isoformat(), latitude=lat, longitude=lon, noon=noon.isoformat().replace("+00:00", "Z"), events={})
        for name, level in (("sun", -50 / 60), ("civil", -6), ("nautical", -12), ("astronomical", -18)):
            f = lambda t: sun_altitude(t, lon, lat)[1] - level
            samples = [noon + timedelta(minutes=5 * k) for k in range(289)]
            values = [f(t) for t in samples]
            for a, b, fa, fb in zip(samples, samples[1:], values, values[1:]):
                if (fa < 0) == (fb < 0):
                    continue
                low, high = a, b
                while (high - low).total_seconds() > 0.05:
                    middle = low + (high - low) / 2
                    if (f(middle) < 0) == (fa < 0):
                        low = middle
                    else:
                        high = middle
                key = ("sunset" if fa > 0 else "sunrise") if name == "sun" else f"{name}-{'dusk' if fa > 0 else 'dawn'}"
                row["events"][key] = low.isoformat().replace("+00:00", "Z")
        yield row


def parallax_cases():
    """How the parallax moves a star, arcseconds east and north, by pmpx with and without one: every 30 days of a year."""
    table = dict(stars())
    for name, parallax in PARALLAXES.items():
        ra, dec, pmra, pmdec, _ = table[name]
        motion = (pmra / 3.6e6 * RAD / math.cos(dec * RAD), pmdec / 3.6e6 * RAD)
        east = (-math.sin(ra * RAD), math.cos(ra * RAD), 0)
        north = (-math.sin(dec * RAD) * math.cos(ra * RAD), -math.sin(dec * RAD) * math.sin(ra * RAD), math.cos(dec * RAD))
        for k in range(13):
            at = datetime(2027, 1, 4, tzinfo=timezone.utc) + timedelta(days=30 * k)
            _, (t1, t2) = times(at)
            _, pvb = erfa.epv00(t1, t2)
            seen, far = (erfa.pmpx(ra * RAD, dec * RAD, *motion, px, 0, t2 / 365.25, pvb["p"]) for px in (parallax, 0))
            moved = [(a - b) / RAD * 3600 for a, b in zip(seen, far)]
            yield dict(
                name=name,
                at=at.isoformat().replace("+00:00", "Z"),
                east=sum(a * b for a, b in zip(moved, east)),
                north=sum(a * b for a, b in zip(moved, north)),
            )


json.dump(
    dict(stars=list(star_cases()), sun=list(sun_cases()), events=list(event_cases()), parallax=list(parallax_cases())),
    open("sky-cases.json", "w"),
    indent=1,
)
