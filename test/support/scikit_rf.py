"""Answers questions on standard input (one JSON object) with scikit-rf: the S-parameters of its own sample files, and power
transmission by its power waves. Debian's scikit-rf 0.15.4 uses names that numpy has dropped since; they are put back first."""
import glob
import json
import os
import sys
import tempfile
import warnings

import numpy as np

warnings.simplefilter("ignore")
for name, kind in (("complex", complex), ("float", float), ("int", int), ("bool", bool), ("object", object)):
    if name not in np.__dict__:
        setattr(np, name, kind)

import skrf as rf  # noqa: E402

asked = json.load(sys.stdin)
out = {}

if "samples" in asked:
    home = os.path.dirname(rf.__file__)
    out["samples"] = []
    for path in sorted(glob.glob(home + "/**/*.s1p", recursive=True)):
        network = rf.Network(path)
        out["samples"].append(
            {
                "path": path,
                "name": os.path.relpath(path, home),
                "frequencyHz": network.f.tolist(),
                "re": network.s[:, 0, 0].real.tolist(),
                "im": network.s[:, 0, 0].imag.tolist(),
            }
        )

if "texts" in asked:
    out["texts"] = []
    for text in asked["texts"]:
        with tempfile.NamedTemporaryFile("w", suffix=".s1p") as file:
            file.write(text)
            file.flush()
            network = rf.Network(file.name)
        out["texts"].append(
            {
                "frequencyHz": network.f.tolist(),
                "re": network.z[:, 0, 0].real.tolist(),
                "im": network.z[:, 0, 0].imag.tolist(),
            }
        )

if "pairs" in asked:
    # |s|^2 of a load seen from a source impedance, as power waves define it: what does not come back is taken.
    out["tau"] = []
    for source_re, source_im, load_re, load_im in asked["pairs"]:
        source = np.array([[complex(source_re, source_im)]])
        load = np.array([[[complex(load_re, load_im)]]])
        s = rf.z2s(load, z0=source, s_def="power")
        out["tau"].append(1 - abs(s[0, 0, 0]) ** 2)

if "inductors" in asked:
    # A coil in series before a load, by cascading two networks.
    out["inductors"] = []
    for henry, hertz, load_re, load_im in asked["inductors"]:
        frequency = rf.Frequency(hertz, hertz, 1, "hz")
        media = rf.media.DefinedGammaZ0(frequency, z0=50, gamma=1j)
        load = rf.Network(frequency=frequency, s=rf.z2s(np.array([[[complex(load_re, load_im)]]])), z0=50)
        z = (media.inductor(henry) ** load).z[0, 0, 0]
        out["inductors"].append([z.real, z.imag])

print(json.dumps(out))
