"""The edition of the set: every id ever given (ids.txt), the version (VERSION) and its digest (CHANGES.md)."""

import hashlib
import re

# Ids of vectors that are gone, with the reason; an id is not given again.
RETIRED = {"message-keep-alive-type-0b": "type 0Bh became kill"}


def digest_of(texts):
    """SHA-256 of the files one behind the other in the order of their names; `texts`: text by name."""
    return hashlib.sha256("".join(texts[name] for name in sorted(texts)).encode("utf-8")).hexdigest()


def ids_text(known, documents):
    """The list of ids with the new ones in it. `known`: the list as it stands. Stops when an id is gone without a reason."""
    listed = {line.split(" ")[0] for line in known.splitlines()}
    given = {vector["id"] for document in documents for vector in document["vectors"]}
    lost = sorted(listed - given - set(RETIRED))
    if lost or given & set(RETIRED):
        raise SystemExit(f"ids that are gone, or given again: {lost}, {sorted(given & set(RETIRED))}")
    lines = [f"{id} retired: {RETIRED[id]}" if id in RETIRED else id for id in sorted(listed | given | set(RETIRED))]
    return "\n".join(lines) + "\n"


def changes_text(changes, version, digest):
    """CHANGES.md with the digest of the newest version, which must be the one in VERSION."""
    found = re.search(r"^## (\S+)\n\nDigest: `[0-9a-f]*`$", changes, re.MULTILINE)
    if not found or found[1] != version:
        raise SystemExit(f"vectors/CHANGES.md does not begin with version {version}")
    return changes.replace(found[0], f"## {version}\n\nDigest: `{digest}`", 1)
