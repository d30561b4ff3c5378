"""Writes solver-cases.json: where an independent solver finds the middles of the frames of solver-scenes.ts.

The solver is astrometry.net 0.93 of Debian 12 with its Tycho-2 index files (apt-get install astrometry.net
astrometry-data-tycho2-10-19): its own detection of stars, catalogue, matching and fit (D. Lang and others,
The Astronomical Journal 139, 1782, 2010). A middle that is told by the stars around it is a J2000 place, as the log has
them: what the Earth's motion moves, it moves with its stars. Run from the project's root:

    python3 tests/frames/make-solver-cases.py
"""
import json
import math
import os
import subprocess
import sys
import tempfile

import numpy
from astropy.io import fits

def solved(path, frame):
    """Middle (RA, Dec) and direction of the top, degrees; none where the solver gives up."""
    pixel = math.degrees(math.atan(frame["sensorWidth"] / frame["width"] / frame["focal"])) * 3600
    told = subprocess.run(
        ["solve-field", "--no-plots", "--overwrite", "--crpix-center", "--tweak-order", "3", "--cpulimit", "60",
         "--scale-units", "arcsecperpix", "--scale-low", str(pixel * 0.9), "--scale-high", str(pixel * 1.1), path],
        capture_output=True, text=True)
    world = path.replace(".fits", ".wcs")
    if not os.path.exists(world):
        print(told.stdout[-300:], file=sys.stderr)
        return None
    head = fits.getheader(world)
    ra, dec = head["CRVAL1"], head["CRVAL2"]
    # Rows of the file go down the frame: a step up is one of fewer rows.
    east, north = -head["CD1_2"], -head["CD2_2"]
    return ra, dec, math.degrees(math.atan2(east, north))


def main():
    folder = tempfile.mkdtemp()
    bundle = os.path.join(folder, "scenes.mjs")
    subprocess.run(["node", "--input-type=module", "-e",
                    f"const {{ bundle }} = await import('./tests/bundle.mjs');"
                    f"await bundle('tests/frames/solver-scenes.ts', {json.dumps(bundle.replace('.mjs', '.cjs'))}, 'tests/frames/camera.ts');"],
                   check=True)
    subprocess.run(["node", bundle.replace(".mjs", ".cjs"), folder], check=True,
                   env={**os.environ, "LODEBOOK_WRITE_FRAMES": "1"})
    cases = []
    for i, frame in enumerate(json.load(open(os.path.join(folder, "frames.json")))):
        light = numpy.fromfile(os.path.join(folder, f"{i}.u16"), dtype="<u2").reshape(frame["height"], frame["width"])
        path = os.path.join(folder, f"{i}.fits")
        fits.writeto(path, light.astype(numpy.uint16), overwrite=True)
        found = solved(path, frame)
        case = {"name": frame["name"], "found": None}
        if found:
            ra, dec, angle = found
            case["found"] = {"rightAscension": round(ra % 360, 5), "declination": round(dec, 5), "positionAngle": round(angle, 4)}
        print(case, file=sys.stderr)
        cases.append(case)
    with open("tests/frames/solver-cases.json", "w") as out:
        out.write("[\n" + ",\n".join(json.dumps(case) for case in cases) + "\n]\n")


main()
