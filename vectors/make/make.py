"""
Writes every vectors/*.json, the list of ids and the digest of the set. `python3 vectors/make/make.py --check` writes
nothing, names stale files and exits 1. `--add ID REQUEST` keeps a question that `plyframe replay --rounds` printed in
found.txt first; its answer is worked in found.py.
"""

import importlib
import sys
from pathlib import Path

sys.dont_write_bytecode = True

from document import extended, text_of  # noqa: E402
from edition import changes_text, digest_of, ids_text  # noqa: E402

import found  # noqa: E402

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
    "writing.json": "writing",
    "refusals.json": "refusals",
    "llrp-stream.json": "llrp_stream",
}


def main(arguments):
    adding = arguments[:1] == ["--add"] and len(arguments) > 3
    if arguments not in ([], ["--check"]) and not adding:
        print("usage: make.py [--check | --add ID REQUEST]", file=sys.stderr)
        return 2
    if adding:
        keep(" ".join(arguments[1:]))
    documents = {name: importlib.import_module(module).build() for name, module in FILES.items()}
    for name, vector in found.entries():
        documents[name] = extended(documents[name], vector, found.FLAG, found.NOTE)
    vectors = {name: text_of(document) for name, document in documents.items()}
    texts = {
        **vectors,
        "ids.txt": ids_text(read("ids.txt"), documents.values()),
        "CHANGES.md": changes_text(read("CHANGES.md"), read("VERSION").strip(), digest_of(vectors)),
    }
    stale = [path.name for path in HOME.glob("*.json") if path.name not in FILES]
    stale += [name for name, text in texts.items() if read(name) != text]
    if arguments == ["--check"]:
        for name in stale:
            print(f"stale: vectors/{name}", file=sys.stderr)
        return 1 if stale else 0
    for name, text in texts.items():
        (HOME / name).write_text(text, encoding="utf-8", newline="\n")
    for name, document in documents.items():
        print(f"{name}: {document['counts']['good']} good, {document['counts']['bad']} bad")
    return 0


def keep(line):
    """Adds a line to found.txt; stops when no answer can be worked for it, or when its id is there already."""
    lines = found.TEXT.read_text(encoding="utf-8").splitlines()
    try:
        name, vector = found.vector_of(line)
    except (KeyError, ValueError) as refusal:
        raise SystemExit(f"make.py: this question cannot be kept: {refusal}") from refusal
    if vector["id"] in read("ids.txt").split():
        raise SystemExit(f"make.py: {vector['id']} is there already")
    found.TEXT.write_text("\n".join([*lines, line]) + "\n", encoding="utf-8", newline="\n")
    print(f"{vector['id']}: {vector['expected']['verdict']}, goes into {name}")


def read(name):
    path = HOME / name
    return path.read_text(encoding="utf-8") if path.exists() else ""


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
