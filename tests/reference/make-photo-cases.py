"""Attitudes of cameras from marks in photos, by SciPy: python3 make-photo-cases.py > photo-cases.json

Rotation.align_vectors (SciPy's solution of Wahba's problem) gives the attitude at a scale; where the scale is not known,
scipy.optimize.minimize_scalar finds the one with the smallest sum of squared chords. Marks have errors of some pixels.
"""
import json

import numpy as np
import scipy
from scipy.optimize import minimize_scalar
from scipy.spatial.transform import Rotation

rng = np.random.default_rng(20)
W, H = 6000, 4000


def ray(projection, scale, x, y):
    u, v = (x - W / 2) / scale, (y - H / 2) / scale
    if projection == "equirectangular":
        return np.array([np.cos(v) * np.sin(u), np.sin(v), np.cos(v) * np.cos(u)])
    r = np.hypot(u, v)
    theta = {"rectilinear": np.arctan(r), "equidistant": r, "equisolid": 2 * np.arcsin(min(1, r / 2))}[projection]
    return np.array([np.sin(theta) * u / r, np.sin(theta) * v / r, np.cos(theta)])


def sky(bearing, altitude):
    b, a = np.radians([bearing, altitude])
    return np.array([np.cos(a) * np.sin(b), np.cos(a) * np.cos(b), np.sin(a)])


def angles(v):
    return [float(np.degrees(np.arctan2(v[0], v[1])) % 360), float(np.degrees(np.arctan2(v[2], np.hypot(v[0], v[1]))))]


cases = []
for projection in ["rectilinear", "equidistant", "equisolid", "equirectangular"]:
    for free in [False, True]:
        if free and projection == "equirectangular":
            continue
        for count in range(3 if free else 2, 7):
            scale = W / (2 * np.pi) if projection == "equirectangular" else W * rng.uniform(0.5, 1.6)
            attitude = Rotation.random(random_state=rng)
            while True:
                xs, ys = rng.uniform(0.05, 0.95, count) * W, H / 2 + rng.uniform(-0.22, 0.22, count) * W
                if min(np.hypot(xs[i] - xs[j], ys[i] - ys[j]) for i in range(count) for j in range(i)) > 800:
                    break
            marks = []
            for x, y in zip(xs, ys):
                b, a = angles(attitude.apply(ray(projection, scale, x, y)))
                marks.append([float(x + rng.normal(0, 4)), float(y + rng.normal(0, 4)), b, a])
            directions = np.array([sky(b, a) for _, _, b, a in marks])

            def solved(s):
                rays = np.array([ray(projection, s, x, y) for x, y, _, _ in marks])
                return Rotation.align_vectors(directions, rays)

            best = scale
            if free:
                found = minimize_scalar(
                    lambda k: solved(scale * np.exp(k))[1] ** 2, bounds=(-0.3, 0.3), method="bounded",
                    options={"xatol": 1e-12},
                )
                best = scale * np.exp(found.x)
            rotation, _ = solved(best)
            probes = [[x, y, *angles(rotation.apply(ray(projection, best, x, y)))] for x, y in [(500, 700), (3100, 1900), (5400, 3300)]]
            cases.append(
                {"projection": projection, "scale": None if free else float(scale), "marks": marks,
                 "solvedScale": float(best), "probes": probes}
            )
print(json.dumps({"by": f"SciPy {scipy.__version__}", "width": W, "height": H, "cases": cases}, indent=1))
