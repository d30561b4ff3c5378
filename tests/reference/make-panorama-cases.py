"""Panels of a tracked panorama by ERFA (ae2hd, hd2ae) and, for the roll, composed rotations: panorama-cases.json.

A panel that is laid out at (azimuth, altitude) is carried by the hour angle's growth of sidereal time; its roll is the
angle between its own up and the vertical after turning both about the pole with matrices (ERFA's rx, ry, rz).
"""
import json
import math
import erfa
import numpy as np

RAD = math.pi / 180
ACROSS = 2 * math.atan(18 / 24)
HIGH = 2 * math.atan(12 / 24)
SIDEREAL = 1.00273781191135448  # turns of Earth a day of UT1, IERS Conventions 2010

def vector(az, alt):
    return np.array([math.sin(az) * math.cos(alt), math.cos(az) * math.cos(alt), math.sin(alt)])

cases = []
for latitude, azimuth, altitude in [(50, 180, 30), (50, 20, 45), (-38, 120, 25), (-38, 350, 50), (5, 90, 20), (64, 250, 35)]:
    panels = []
    i = 0
    for row in range(2):
        h = altitude * RAD + (row - 0.5) * HIGH * 0.7
        step = min(ACROSS * 0.7 / math.cos(h), 2 * math.pi / 3)  # three never more than close the circle
        for column in range(3):
            a = azimuth * RAD + (column - 1) * step
            seconds = i * 620
            i += 1
            turned = seconds * SIDEREAL * 2 * math.pi / 86400
            phi = latitude * RAD
            ha, dec = erfa.ae2hd(a % (2 * math.pi), h, phi)
            az, alt = erfa.hd2ae(ha + turned, dec, phi)
            # East, north, up: the horizon's frame into the equator's, the turn, and back.
            tilt = erfa.rx(-(math.pi / 2 - phi), np.eye(3))
            turn = tilt.T @ erfa.rz(turned, np.eye(3)) @ tilt
            up = turn @ vector(a, h + math.pi / 2)
            forward = turn @ vector(a, h)
            right = np.cross(forward, up)
            assert np.allclose(forward, vector(az, alt), atol=1e-12), (forward, vector(az, alt))
            panels.append({"azimuth": az / RAD, "altitude": alt / RAD, "roll": math.atan2(-right[2], up[2]) / RAD})
    cases.append({"latitude": latitude, "azimuth": azimuth, "altitude": altitude, "panels": panels})
print(json.dumps(cases, indent="\t"))
