#!/usr/bin/env python3
"""Writes comet-cases.json: places of invented comets over 200 days around perihelion (Debian's python3-ephem and python3-erfa).

Two ways that share nothing with Lodebook and little with each other:
- astrometric places J2000 of PyEphem, which has formulas for ellipse and hyperbola of its own;
- bearing and altitude without refraction: Newton's law integrated step by step (Runge-Kutta, fourth order, steps that
  follow the distance from the Sun) from perihelion on, Earth by ERFA's epv00, the observer by pvtob, aberration and the
  rest by atco13. UT1 is taken as UTC, as Lodebook does. atco13 bends light of a star by the Sun: under 0.1" from 5 deg on.
"""
import json
import math
import ephem
import erfa
import numpy as np

K = 0.01720209895
D = math.pi / 180
EPS = 84381.448 / 3600 * D
SITES = [(51.2, 11.0), (-32.4123, -54.3622), (0.4, 37.3), (-64.0, 150.0)]

# name, perihelion (year, month, day), q, e, argument, node, inclination
COMETS = [
    ("short ellipse", (2027, 2, 10.1234), 0.336015, 0.848210, 187.2800, 334.0170, 11.3480),
    ("long ellipse", (2028, 7, 28.6500), 0.587100, 0.967300, 112.2500, 59.3900, 162.2500),
    ("almost round", (2027, 9, 3.5000), 1.200000, 0.050000, 33.0000, 300.0000, 20.0000),
    ("nearly a parabola, closed", (2027, 5, 20.4000), 0.412000, 0.999800, 80.0000, 230.0000, 60.0000),
    ("very nearly a parabola", (2026, 12, 24.2500), 0.700000, 0.999999, 15.0000, 100.0000, 95.0000),
    ("parabola", (2027, 6, 1.0000), 0.950000, 1.000000, 200.0000, 45.0000, 130.0000),
    ("nearly a parabola, open", (2028, 3, 3.3333), 0.250000, 1.000200, 310.0000, 170.0000, 35.0000),
    ("hyperbola", (2029, 1, 15.7500), 1.100000, 1.200000, 255.0000, 24.0000, 122.0000),
    ("from far outside", (2027, 10, 29.4800), 1.356000, 6.139600, 128.0000, 322.1500, 175.1100),
    ("grazes the Sun", (2027, 3, 18.8000), 0.012000, 0.999900, 69.0000, 347.0000, 144.5000),
]


def line(i, name, when, q, e, w, node, inc):
    y, m, d = when
    return "    CK27X%02d0  %4d %02d %07.4f %9.6f  %8.6f  %8.4f  %8.4f  %8.4f  %8s  %4.1f %4.1f  %-56s" % (
        i + 1, y, m, d, q, e, w, node, inc, "20270601", 8, 4, "C/2027 X%d (%s)" % (i + 1, name))


def turned(p, w, node, inc):
    """From the plane of the orbit to the equator J2000."""
    w, node, inc = w * D, node * D, inc * D
    x, y = p[0] * math.cos(w) - p[1] * math.sin(w), p[0] * math.sin(w) + p[1] * math.cos(w)
    X = x * math.cos(node) - y * math.sin(node) * math.cos(inc)
    Y = x * math.sin(node) + y * math.cos(node) * math.cos(inc)
    Z = y * math.sin(inc)
    return np.array([X, Y * math.cos(EPS) - Z * math.sin(EPS), Y * math.sin(EPS) + Z * math.cos(EPS)])


def orbit(q, e, days):
    """Places in the plane of the orbit at sorted days after (all >= 0) perihelion, by integration."""
    mu = K * K
    x, y, vx, vy = q, 0.0, 0.0, math.sqrt(mu * (1 + e) / q)
    t = 0.0
    out = []

    def f(x, y, vx, vy):
        r3 = (x * x + y * y) ** 1.5
        return vx, vy, -mu * x / r3, -mu * y / r3

    for want in days:
        while t < want:
            h = min(want - t, 0.02 * (x * x + y * y) ** 0.75)
            a = f(x, y, vx, vy)
            b = f(x + h / 2 * a[0], y + h / 2 * a[1], vx + h / 2 * a[2], vy + h / 2 * a[3])
            c = f(x + h / 2 * b[0], y + h / 2 * b[1], vx + h / 2 * b[2], vy + h / 2 * b[3])
            d = f(x + h * c[0], y + h * c[1], vx + h * c[2], vy + h * c[3])
            x += h / 6 * (a[0] + 2 * b[0] + 2 * c[0] + d[0])
            y += h / 6 * (a[1] + 2 * b[1] + 2 * c[1] + d[1])
            vx += h / 6 * (a[2] + 2 * b[2] + 2 * c[2] + d[2])
            vy += h / 6 * (a[3] + 2 * b[3] + 2 * c[3] + d[3])
            t += h
            if want - t < 1e-12:
                t = want
        out.append((x, y, vx, vy))
    return out


rows = []
for i, (name, when, q, e, w, node, inc) in enumerate(COMETS):
    y, m, d = when
    T = sum(erfa.cal2jd(y, m, int(d))) + d - int(d)  # TT
    offsets = [float(o) + 0.37 for o in range(-100, 101, 8)]
    # The same curve before and after: in the plane of the orbit the sign of y turns.
    later = dict(zip(sorted(abs(o) for o in offsets), orbit(q, e, sorted(abs(o) for o in offsets))))
    places = []
    for n, off in enumerate(offsets):
        x, yy, vx, vy = later[abs(off)]
        s = 1 if off >= 0 else -1
        pos, vel = turned((x, s * yy), w, node, inc), turned((s * vx, vy), w, node, inc)
        # UTC to the whole second nearest to this TT.
        utc = round((T + off - 2451544.5) * 86400 - 32.184 - 37)
        jd1, jd2 = 2451544.5, utc / 86400
        tt = utc / 86400 + (32.184 + 37) / 86400 - (T + off - 2451544.5)  # days by which the moment is off, under half a second
        pos = pos + vel * tt
        h, b = erfa.epv00(jd1, jd2 + 69.184 / 86400)
        earth = np.array(h["p"])
        lat, lon = SITES[n % len(SITES)]
        # Observer in the celestial frame.
        t1, t2 = jd1, jd2 + 69.184 / 86400
        X, Y, S = erfa.xys06a(t1, t2)
        c2i = erfa.c2ixys(X, Y, S)
        pv = erfa.pvtob(lon * D, lat * D, 0, 0, 0, 0, erfa.era00(jd1, jd2))
        obs = c2i.T @ np.array(pv["p"]) / 149597870700.0
        place = pos
        for _ in range(4):
            dist = np.linalg.norm(place - earth - obs)
            tau = dist * 499.00478384 / 86400
            # Taylor's series for light time: third derivatives are of no account even at q.
            r3 = np.linalg.norm(pos) ** 3
            place = pos - vel * tau + (-K * K * pos / r3) * tau * tau / 2
        v = place - earth - obs
        ra, dec = math.atan2(v[1], v[0]), math.asin(v[2] / np.linalg.norm(v))
        az, zd = erfa.atco13(ra, dec, 0, 0, 0, 0, jd1, jd2, 0, lon * D, lat * D, 0, 0, 0, 0, 0, 0, 0.55)[:2]
        # PyEphem: xephem's lines for an ellipse, a parabola, a hyperbola.
        epoch = "%d/%s/%d" % (m, ("%.6f" % d), y)
        if e < 1:
            a = q / (1 - e)
            body = ephem.readdb("c,e,%f,%f,%f,%.9f,%.12f,%f,%.10f,%s,2000,g 8,4" % (inc, node, w, a, K / D / a ** 1.5, e, 0.0, epoch))
        else:
            # Its formula for a parabola is 20" off its own for a hyperbola of e = 1.0000001, which is taken instead.
            body = ephem.readdb("c,h,%s,%f,%f,%f,%.7f,%f,2000,8,4" % (epoch, inc, node, w, max(e, 1.0000001), q))
        when_ephem = ephem.Date((2451544.5 - 2415020) + utc / 86400)
        body.compute(when_ephem, epoch=ephem.J2000)
        places.append({
            "days": round(off, 2), "utc": int(utc), "latitude": lat, "longitude": lon,
            "azimuth": round(az / D, 6), "altitude": round(90 - zd / D, 6),
            "ephem": [round(float(body.a_ra) / D, 6), round(float(body.a_dec) / D, 6)],
        })
    rows.append({"line": line(i, name, when, q, e, w, node, inc).rstrip(), "places": places})
with open(__file__.replace("make-comet-cases.py", "comet-cases.json"), "w") as file:
    json.dump(rows, file, separators=(",", ":"))
    file.write("\n")
