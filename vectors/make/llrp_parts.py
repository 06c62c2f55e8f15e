"""Messages and parameters of LLRP as bytes, and as what they mean."""


def u(value, size):
    return value.to_bytes(size, "big", signed=value < 0)


def message(type_number, message_id, body=b"", version=1):
    return u(version * 1024 + type_number, 2) + u(10 + len(body), 4) + u(message_id, 4) + body


def tlv(type_number, body=b""):
    return u(type_number, 2) + u(4 + len(body), 2) + body


def tv(type_number, body):
    return u(0x80 + type_number, 1) + body


def node(name, values=None, parameters=()):
    return {"name": name, "values": values or {}, "parameters": list(parameters)}


def whole(name, message_id, values=None, parameters=(), version=1, skipped=()):
    return {**node(name, values, parameters), "version": version, "id": message_id, "skipped": list(skipped)}


ARRAYS = {"u1v": None, "u8v": 1, "utf8v": 1, "u16v": 2, "u32v": 4}


def part(number, name, fields="", values=(), children=()):
    """
    A parameter as (bytes, element). `fields`: `name:bits` in order, `_:bits` for reserved ones, `name:u16v` and the like
    for arrays; `values`: one for each named field; TV parameters have numbers below 128.
    """
    bits, data, shown, left = "", b"", {}, list(values)
    for word in fields.split():
        id, kind = word.split(":")
        value = 0 if id == "_" else left.pop(0)
        if id != "_":
            shown[id] = value
        if kind in ARRAYS:
            assert bits == "", name
            data += u(value["bits"] if kind == "u1v" else len(value) // (2 if kind == "u8v" else 1), 2)
            data += bytes.fromhex(value["hex"] if kind == "u1v" else value) if kind in ("u1v", "u8v") else array(kind, value)
            continue
        width = int(kind.lstrip("su"))
        bits += f"{int(value) % (1 << width):0{width}b}"
        if width == 64:
            shown[id] = str(value)
        if len(bits) % 8 == 0:
            data, bits = data + int(bits, 2).to_bytes(len(bits) // 8, "big"), ""
    assert not left and bits == "", name
    element = node(name, shown, [child for _, child in children])
    data += b"".join(child for child, _ in children)
    return (tv if number < 128 else tlv)(number, data), element


def array(kind, value):
    return value.encode("utf-8") if kind == "utf8v" else b"".join(u(item, ARRAYS[kind]) for item in value)
