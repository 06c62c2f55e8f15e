/** First half of the Lua that is the same for every specification: fields and experts are registered, bits read and judged. */
export const reading = `
-- Lua 5.2 has the first, later versions in Wireshark the second.
local bits = bit32 or bit

local proto = Proto("plyframe", "plyframe link message")

local own = {
  message = ProtoField.string("plyframe.message", "Message"),
  verdict = ProtoField.string("plyframe.verdict", "Verdict", base.ASCII, "good, or the reason code of the first fault"),
  path = ProtoField.string("plyframe.verdict.path", "Where", base.ASCII, "Record and field of the fault"),
  byte = ProtoField.uint32("plyframe.verdict.byte", "Byte", base.DEC, nil, nil, "From the first of the message or record"),
  bit = ProtoField.uint32("plyframe.verdict.bit", "Bit", base.DEC, nil, nil, "Of the container, 0 the least significant"),
  region = ProtoField.string("plyframe.region", "Region", base.ASCII, "Part of a bank, by the memory map"),
  note = ProtoField.string("plyframe.note", "Noticed", base.ASCII, "What is no fault of a record"),
  chosen = ProtoField.string("plyframe.slots.chosen", "Newest whole frame", base.ASCII, "Slot a or b, by RFC 1982"),
  sequence = ProtoField.uint32("plyframe.slots.sequence", "Its sequence"),
  choice = ProtoField.string("plyframe.slots.verdict", "Verdict on the slots"),
  copy = ProtoField.uint32("plyframe.copies.whole", "First whole copy of the calibration block"),
  copies = ProtoField.string("plyframe.copies.verdict", "Verdict on the copies"),
}

-- What is registered with Wireshark --------------------------------------------------------------------------------

local fields, experts = {}, {}
for _, field in pairs(own) do fields[#fields + 1] = field end

for code, reason in pairs(REASONS) do
  local severity = code == "record-empty" and expert.severity.NOTE or expert.severity.ERROR
  local group = code:find("checksum") and expert.group.CHECKSUM or expert.group.PROTOCOL
  experts[code] = ProtoExpert.new("plyframe.expert." .. code, reason.says, group, severity)
end
experts.noticed = ProtoExpert.new("plyframe.expert.noticed", "Noticed", expert.group.PROTOCOL, expert.severity.NOTE)

local function register(field)
  fields[#fields + 1] = field
  return field
end

local function integer(f, abbr, name, shown, names)
  if f.width > 32 then return register(ProtoField.uint64(abbr, name, shown, nil, nil, f.why)) end
  if f.signed then return register(ProtoField.int32(abbr, name, base.DEC, nil, nil, f.why)) end
  local uint = f.width <= 8 and ProtoField.uint8 or f.width <= 16 and ProtoField.uint16 or ProtoField.uint32
  return register(uint(abbr, name, shown, names, nil, f.why))
end

local function shown_as(f, abbr)
  local made = { flags = {} }
  local decimal = f.type == "number" or f.type == "enumeration" or f.type == "constant"
  if f.scaled then made.value = register(ProtoField.double(abbr, f.name, f.why))
  else made.value = integer(f, abbr, f.name, decimal and base.DEC or base.HEX, f.names) end
  if f.scaled or f.sentinels then made.raw = integer(f, abbr .. ".raw", f.name .. ", raw", base.DEC) end
  for _, flag in ipairs(f.flags or {}) do
    made.flags[flag.bit] = register(ProtoField.bool(abbr .. "." .. flag.id, flag.id, base.NONE, nil, nil, flag.why))
  end
  return made
end

for _, record in pairs(RECORDS) do
  local known = {}
  record.shown = register(ProtoField.none("plyframe." .. record.id, record.title))
  for _, f in ipairs(record.fields) do
    local abbr = "plyframe." .. record.id .. "." .. (f.array or f.id)
    -- The elements of an array share one field.
    known[abbr] = known[abbr] or shown_as(f, abbr)
    f.shown = known[abbr]
  end
  for _, tail in ipairs(record.tails) do
    tail.shown = register(ProtoField.bytes("plyframe." .. record.id .. "." .. tail.id, tail.name, base.NONE, tail.why))
  end
end

proto.fields = fields
proto.experts = experts

-- Bits, checksums, judgement ---------------------------------------------------------------------------------------

local function read_raw(tvb, at, f)
  local raw = 0
  if f.bytes <= 4 then
    local range = tvb(at + f.byte, f.bytes)
    local container = f.little and range:le_uint() or range:uint()
    raw = math.floor(container / 2 ^ f.shift) % 2 ^ f.width
  else
    for bit = f.shift + f.width - 1, f.shift, -1 do
      local octet = math.floor(bit / 8)
      local index = f.little and octet or f.bytes - 1 - octet
      raw = raw * 2 + math.floor(tvb(at + f.byte + index, 1):uint() / 2 ^ (bit % 8)) % 2
    end
  end
  if f.signed and raw >= 2 ^ (f.width - 1) then raw = raw - 2 ^ f.width end
  return raw
end

-- Unreflected, 16 bits wide.
local function checksum(tvb, from, to, parameters)
  local register = parameters.init
  for at = from, to do
    register = bits.bxor(register, bits.lshift(tvb(at, 1):uint(), 8))
    for _ = 1, 8 do
      local carry = register >= 0x8000
      register = bits.band(bits.lshift(register, 1), 0xffff)
      if carry then register = bits.bxor(register, parameters.poly) end
    end
  end
  return bits.bxor(register, parameters.xorout)
end

local function judge(f, raw)
  if f.type == "number" then
    if raw >= f.min and raw <= f.max or f.sentinels and f.sentinels[raw] then return nil end
    return "value-out-of-range"
  elseif f.type == "flags" then
    return bits.band(raw, bits.bnot(f.named)) ~= 0 and "reserved-bit-set" or nil
  elseif f.type == "reserved" then
    return raw ~= 0 and "reserved-bit-set" or nil
  elseif f.type == "enumeration" then
    return f.names[raw] == nil and "name-unknown" or nil
  elseif f.type == "constant" then
    return raw ~= f.raw and f.reason or nil
  end
end

local function torn(tvb, at, f, raw)
  return f.type == "checksum" and checksum(tvb, at + f.from, at + f.to, CHECKSUMS[f.algorithm]) ~= raw
end

-- Lowest bit to blame, in the container.
local function bad_bit(f, raw)
  local wrong = f.type == "reserved" and raw or f.type == "flags" and bits.band(raw, bits.bnot(f.named)) or 0
  for bit = 0, f.width - 1 do
    if math.floor(wrong / 2 ^ bit) % 2 == 1 then return f.shift + bit end
  end
  return f.shift
end

local function in_field(code, record, f, raw)
  local bit, path = bad_bit(f, raw), record.id .. "." .. f.id
  if f.type == "flags" then path = path .. string.format(".bit_%d", bit - f.shift) end
  return { code = code, byte = f.byte, bit = bit, path = path, field = f }
end

local function is_empty(tvb, at, bytes)
  for index = at, at + bytes - 1 do
    if tvb(index, 1):uint() ~= 0 then return false end
  end
  return true
end

-- The first fault in the order: length, never written, checksum, kind, layout, fields, counts. Nil when there is none.
local function fault_of(tvb, at, stop, record, raws)
  local span = stop - at
  if span < record.bytes then return { code = "record-too-short", byte = math.max(span, 0), path = record.id } end
  if record.sealed and is_empty(tvb, at, record.bytes) then return { code = "record-empty", byte = 0, path = record.id } end
  if #record.tails == 0 and span > record.bytes then
    return { code = "trailing-bytes", byte = record.bytes, path = record.id }
  end
  for _, f in ipairs(record.fields) do
    if torn(tvb, at, f, raws[f.id]) then return in_field("checksum-mismatch", record, f, raws[f.id]) end
  end
  for _, index in ipairs(record.order) do
    local f = record.fields[index]
    local code = judge(f, raws[f.id])
    if code then return in_field(code, record, f, raws[f.id]) end
  end
  local wanted, counted = record.bytes, nil
  for _, tail in ipairs(record.tails) do
    wanted, counted = wanted + raws[tail.count] * tail.bytes, tail.count
  end
  if counted and wanted ~= span then
    for _, f in ipairs(record.fields) do
      if f.id == counted then
        return { code = "count-mismatch", byte = f.byte, bit = f.shift, path = record.id .. "." .. f.id }
      end
    end
  end
end
`;
