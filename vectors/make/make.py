"""Writes every vectors/*.json. `python3 vectors/make/make.py --check` writes nothing, names stale files and exits 1."""

import importlib
import sys
from pathlib import Path

sys.dont_write_bytecode = True

from document import text_of  # noqa: E402

HOME = Path(__file__).resolve().parent.parent

FILES = {
    "frames.json": "frames",
    "header.json": "header",
    "counters.json": "counters",
    "calibration.json": "calibration",
    "burst.json": "burst",
    "banks.json": "banks",
    "verdict-order.json": "verdict_order",
    "quantities.json": "quantities",
    "slots.json": "slots",
    "epc-identity.json": "epc_identity",
    "stored-crc.json": "stored_crc",
    "slices.json": "slices",
    "link-frames.json": "link_frames",
    "link-messages.json": "link_messages",
    "air.json": "air",
    "llrp.json": "llrp",
    "readings.json": "readings",
    "fingerprint.json": "fingerprint",
}


def main(arguments):
    if arguments not in ([], ["--check"]):
        print("usage: make.py [--check]", file=sys.stderr)
        return 2
    stale = [path.name for path in HOME.glob("*.json") if path.name not in FILES]
    for name, module in FILES.items():
        path = HOME / name
        document = importlib.import_module(module).build()
        text = text_of(document)
        if not arguments:
            path.write_text(text, encoding="utf-8", newline="\n")
            print(f"{name}: {document['counts']['good']} good, {document['counts']['bad']} bad")
        elif not path.exists() or path.read_text(encoding="utf-8") != text:
            stale.append(name)
    for name in stale:
        print(f"stale: vectors/{name}", file=sys.stderr)
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
