#!/usr/bin/env python3
"""Answers the requests of vectors/REPLAY.md, one line each, with the reader in the files beside this one.

    plyframe replay -- python3 vectors/kits/python/kit.py
"""

import sys

import epc
from link import Deframer, message
from reading import identify, reading
from records import FINGERPRINT, Bad, choose_slot, crc16, decode, encode, slice_of, write

CAN = (
    "decode.header,decode.frame,decode.counters,decode.calibration,decode.burst,decode.epc,"
    "encode.header,encode.frame,encode.counters,encode.calibration,encode.burst,"
    "write.header,write.frame,write.counters,write.calibration,write.burst,"
    "slots,header,reading,unframe,message.tag_report,message.ambient_report,epc,stored_crc,slice,places"
)


def text_of(value):
    if value is None:
        return "none"
    return ",".join(map(str, value)) if isinstance(value, list) else str(value)


def grouped(raws):
    """samples[0], samples[1], … as one list."""
    out = {}
    for name, raw in raws.items():
        array, bracket, _ = name.partition("[")
        if bracket:
            out.setdefault(array, []).append(raw)
        else:
            out[name] = raw
    return out


def spread(pairs):
    """The same backwards, from the text of a request."""
    raws = {}
    for name, text in pairs.items():
        if "," in text:
            raws |= {f"{name}[{i}]": number(element) for i, element in enumerate(text.split(","))}
        else:
            raws[name] = number(text)
    return raws


def number(text):
    if text == "none":
        return None
    return float(text) if "." in text else int(text)


def answer(verb, given):
    """Pairs of a good answer."""
    hex = bytes.fromhex
    if verb == "hello":
        return {"contract": 1, "name": "python-kit", "fingerprint": f"{FINGERPRINT:08x}", "can": CAN}
    if verb == "decode":
        return grouped(decode(given["record"], hex(given["bytes"])))
    if verb in ("encode", "write"):
        record = given.pop("record")
        return {"bytes": (encode if verb == "encode" else write)(record, spread(given)).hex()}
    if verb == "slots":
        slot, frame = choose_slot(hex(given["bytes"]))
        return {"slot": slot, "sequence": frame["sequence"]}
    if verb == "header":
        return identify(hex(given["bytes"]))
    if verb == "reading":
        memory, blocks = hex(given["memory"]), hex(given["calibration"])
        return reading(memory, blocks, number(given["ambient_raw"]), number(given["ambient_uncertainty_pa"]))
    if verb == "unframe":
        return unframe([hex(chunk) for chunk in given["chunks"].split(",")])
    if verb == "message":
        id, request, raws, tails = message(given["direction"], hex(given["body"]))
        return {"message": id, "request": request, **raws, **tails}
    if verb == "epc":
        return epc.parse(given["hex"])
    if verb == "stored_crc":
        return {"stored_crc": f"{crc16(hex(given['pc'] + given['epc']), 0xFFFF, 0xFFFF):04x}"}
    if verb == "slice":
        at, size, msb, lsb = (int(given[key]) for key in ("at", "container", "msb", "lsb"))
        signed = given["signed"] == "yes"
        return {"raw": slice_of(hex(given["bytes"]), at, size // 8, msb, lsb, signed, given["order"])}
    return None


def unframe(chunks):
    deframer = Deframer()
    for chunk in chunks:
        deframer.push(chunk)
    deframer.end()
    bodies = {"bodies": [body.hex() for body in deframer.bodies]}
    if not deframer.faults:
        return bodies
    if len(deframer.faults) > 1:
        bodies["faults"] = [reason for reason, _ in deframer.faults]
    reason, byte = deframer.faults[0]
    raise Bad(reason, byte, None, "link", bodies.items())


def main():
    for line in sys.stdin:
        id, verb, *words = line.split()
        try:
            pairs = answer(verb, dict(word.split("=", 1) for word in words))
            verdict = "unsupported" if pairs is None else "good"
        except Bad as bad:
            verdict = f"bad {bad.reason}"
            pairs = {"byte": bad.byte, "path": bad.path, "bit": bad.bit, **dict(bad.more)}
        print(id, verdict, *(f"{key}={text_of(value)}" for key, value in (pairs or {}).items()), flush=True)


if __name__ == "__main__":
    main()
