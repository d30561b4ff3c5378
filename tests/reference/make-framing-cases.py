#!/usr/bin/env python3
"""Writes framing-cases.json: how targets lie in frames, and when the Moon lights the ground (Debian's python3-erfa, python3-ephem).

Frames: places of the sky by ERFA's atco13 with its own refraction; a camera held level on the target, carried about the
pole by composed rotations (rx, rz); the Milky Way's line by two places of equal galactic latitude (g2icrs), north by two
of equal hour angle (ae2hd, hd2ae), each seen through the tangent plane. Angles are degrees clockwise from the frame's top.

Moonlight: PyEphem's Moon and civil twilights, second by second where it changes.
"""
import json
import math
import ephem
import erfa
import numpy as np

D = math.pi / 180
SIDEREAL = 1.00273781191135448  # turns of Earth a day of UT1, IERS Conventions 2010
AIR = (1010.0, 10.0, 0.0, 0.55)
A, B = erfa.refco(*AIR)


def vector(az, alt):
    return np.array([math.sin(az) * math.cos(alt), math.cos(az) * math.cos(alt), math.sin(alt)])


def place(ra, dec, lat, lon, when):
    utc = erfa.dtf2d("UTC", *when[:3], when[3], when[4], when[5])
    az, zd = erfa.atco13(ra, dec, 0, 0, 0, 0, *utc, 0, lon * D, lat * D, 0, 0, 0, *AIR)[:2]
    return float(az), math.pi / 2 - float(zd)


def unrefracted(alt):
    z = math.pi / 2 - alt
    t = math.tan(z)
    return math.pi / 2 - (z + A * t + B * t**3)


def refracted(alt):
    seen = alt
    for _ in range(20):
        seen -= unrefracted(seen) - alt
    return seen


def seen_in(axes, az, alt):
    right, up, forward = axes
    v = vector(az, alt)
    return (v @ right) / (v @ forward), (v @ up) / (v @ forward)


def angle(a, b):
    return math.atan2(b[0] - a[0], b[1] - a[1]) / D


def lying(axes, ra, dec, lat, lon, when):
    l, b = erfa.icrs2g(ra, dec)
    step = 0.25 * D
    along = []
    for sign in (-1, 1):
        along.append(seen_in(axes, *place(*erfa.g2icrs(l + sign * step / math.cos(b), b), lat, lon, when)))
    milky = angle(*along)
    milky = milky - 180 if milky > 90 else milky + 180 if milky <= -90 else milky
    az, alt = place(ra, dec, lat, lon, when)
    ha, d = erfa.ae2hd(az, unrefracted(alt), lat * D)
    north = []
    for sign in (-1, 1):
        a, h = erfa.hd2ae(ha, d + sign * step, lat * D)
        north.append(seen_in(axes, float(a), refracted(float(h))))
    return {"milkyWay": milky, "north": angle(*north)}


frames = []
for lat, lon, when, ra, dec in [
    (-32.4, -54.4, (2027, 6, 5, 22, 30, 0), 266.417, -29.008),
    (37.5, -112.0, (2027, 7, 3, 5, 0, 0), 266.417, -29.008),
    (47.0, 8.0, (2027, 9, 4, 21, 0, 0), 310.36, 45.28),
    (-41.0, 172.0, (2027, 4, 8, 9, 0, 0), 186.65, -63.1),
    (5.0, 37.0, (2027, 1, 9, 18, 0, 0), 95.0, 10.0),
    (64.0, -20.0, (2027, 10, 1, 22, 0, 0), 30.0, 62.0),
]:
    seconds = 3600
    az, alt = place(ra * D, dec * D, lat, lon, when)
    level = (None, vector(az, alt + math.pi / 2), vector(az, alt))
    level = (np.cross(level[2], level[1]), level[1], level[2])
    phi = lat * D
    tilt = erfa.rx(-(math.pi / 2 - phi), np.eye(3))
    turn = tilt.T @ erfa.rz(seconds * SIDEREAL * 2 * math.pi / 86400, np.eye(3)) @ tilt
    carried = tuple(turn @ v for v in level)
    later = (*when[:3], when[3] + 1, *when[4:])
    frames.append(
        {
            "latitude": lat,
            "longitude": lon,
            "at": "%04d-%02d-%02dT%02d:%02d:00Z" % when[:5],
            "rightAscension": ra,
            "declination": dec,
            "start": lying(level, ra * D, dec * D, lat, lon, when),
            "end": {
                **lying(carried, ra * D, dec * D, lat, lon, later),
                "roll": math.atan2(-carried[0][2], carried[1][2]) / D,
            },
        }
    )


def side_of(bearing, facing):
    beside = (bearing - facing + 180) % 360 - 180
    if abs(beside) <= 45:
        return "ahead"
    if abs(beside) >= 135:
        return "behind"
    return "left" if beside < 0 else "right"


moonlight = []
for lat, lon, date, facing, side in [
    (-32.4, -54.4, "2027-06-11", 120, "left"),
    (-32.4, -54.4, "2027-06-14", 180, "right"),
    (47.0, 8.0, "2027-09-19", 200, "left"),
    (47.0, 8.0, "2027-09-10", 200, "right"),
    (37.5, -112.0, "2027-05-22", 160, None),
    (5.0, 37.0, "2027-01-20", 270, "behind"),
    (60.0, -20.0, "2027-11-15", 90, "behind"),
]:
    here = ephem.Observer()
    here.lat, here.lon, here.elevation = str(lat), str(lon), 0
    # Noon by the Sun before the evening.
    noon = ephem.Date(date.replace("-", "/") + " 12:00") - lon / 360
    here.pressure, here.horizon, here.date = 0, "-6", noon
    dusk = here.next_setting(ephem.Sun(), use_center=True)
    dawn = here.next_rising(ephem.Sun(), use_center=True, start=dusk)
    here.pressure, here.temp, here.horizon = 1010, 10, "0"

    def lit(at):
        here.date = at
        moon = ephem.Moon(here)
        return float(moon.alt) > 0 and (side is None or side_of(float(moon.az) / D, facing) == side)

    def unix(at):
        return round((float(at) - float(ephem.Date("1970/1/1"))) * 86400)

    step = ephem.second * 30
    times, before = [], False
    at = float(dusk)
    while at <= float(dawn):
        if lit(at) != before:
            times.append(unix(at))
            before = not before
        at += step
    if before:
        times.append(unix(dawn))
    moonlight.append(
        {
            "latitude": lat,
            "longitude": lon,
            "date": date,
            "facing": facing,
            "side": side,
            "lit": [times[i : i + 2] for i in range(0, len(times), 2)],
        }
    )

with open(__file__.replace("make-framing-cases.py", "framing-cases.json"), "w") as file:
    json.dump({"frames": frames, "moonlight": moonlight}, file, indent="\t")
    file.write("\n")
