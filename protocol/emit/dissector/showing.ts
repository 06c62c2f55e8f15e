/** Second half of the Lua that is the same for every specification: records, memory and messages are shown. */
export const showing = `
-- The tree ---------------------------------------------------------------------------------------------------------

local function add_number(tree, range, f, raw)
  local sentinel = f.sentinels and f.sentinels[raw]
  local item
  if sentinel and sentinel.means == "absent" then
    item = tree:add(range, f.name .. ": " .. sentinel.id)
  else
    local value = ((sentinel and f.max or raw) * f.num + f.add) / f.den
    if f.width > 32 then
      item = tree:add(f.shown.value, range, UInt64.new(value % 2 ^ 32, math.floor(value / 2 ^ 32)))
    else
      item = tree:add(f.shown.value, range, value)
    end
    if f.unit then item:append_text(" " .. f.unit) end
    if sentinel then item:append_text(" or more (" .. sentinel.id .. ")") end
  end
  if f.shown.raw then item:add(f.shown.raw, range, raw) end
  return item
end

local function add_field(tree, range, f, raw)
  if f.type == "number" then return add_number(tree, range, f, raw) end
  local item = tree:add(f.shown.value, range, raw)
  local set = {}
  for _, flag in ipairs(f.flags or {}) do
    local on = math.floor(raw / 2 ^ flag.bit) % 2 == 1
    item:add(f.shown.flags[flag.bit], range, on)
    if on then set[#set + 1] = flag.id end
  end
  if f.flags then item:append_text(" (" .. (#set > 0 and table.concat(set, ", ") or "none") .. ")") end
  return item
end

local function add_verdict(tree, fault, before)
  tree:add(own.verdict, fault and fault.code or "good"):set_generated()
  if not fault then return end
  tree:add(own.path, fault.path):set_generated()
  tree:add(own.byte, fault.byte + (before or 0)):set_generated()
  if fault.bit then tree:add(own.bit, fault.bit):set_generated() end
end

-- Adds the fields of the record at byte at of tvb that lie between first and stop. Returns its fault, raws and item.
local function add_record(tree, tvb, at, first, stop, record, title)
  local from = math.max(at, first)
  local item = tree:add(record.shown, tvb(from, math.min(stop, at + record.bytes) - from)):set_text(title or record.title)
  local raws, places = {}, {}
  for _, f in ipairs(record.fields) do
    if at + f.byte >= first and at + f.byte + f.bytes <= stop then raws[f.id] = read_raw(tvb, at, f) end
  end
  local fault = at < first and { code = "record-too-short", byte = 0, path = record.id }
    or fault_of(tvb, at, stop, record, raws)
  if not (fault and fault.code == "record-empty") then
    for _, f in ipairs(record.fields) do
      local raw = raws[f.id]
      if raw then
        local place = add_field(item, tvb(at + f.byte, f.bytes), f, raw)
        local covered = at >= first and stop - at >= record.bytes
        local code = covered and torn(tvb, at, f, raw) and "checksum-mismatch" or judge(f, raw)
        if code then place:add_proto_expert_info(experts[code]) end
      end
    end
  end
  if fault and not fault.field then item:add_proto_expert_info(experts[fault.code]) end
  if not fault and raws.fingerprint and raws.fingerprint ~= FINGERPRINT then
    item:add(own.note, "fingerprint-mismatch"):set_generated()
    item:add_proto_expert_info(experts["fingerprint-mismatch"])
  end
  local place = at + record.bytes
  for _, tail in ipairs(record.tails) do
    local bytes = raws[tail.count] and math.min(raws[tail.count] * tail.bytes, stop - place) or 0
    if bytes > 0 then places[tail.id] = { at = place, stop = place + bytes } end
    if bytes > 0 then item:add(tail.shown, tvb(place, bytes)) end
    place = place + math.max(bytes, 0)
  end
  return fault, raws, item, places
end

-- Memory -----------------------------------------------------------------------------------------------------------

local function note(tree, text)
  tree:add(own.note, text):set_generated()
  tree:add_proto_expert_info(experts.noticed, text)
end

local function same_bytes(tvb, one, other, bytes)
  return tvb(one, bytes):bytes() == tvb(other, bytes):bytes()
end

-- Which of two slots holds the newest whole frame: each is { at, fault, raws }.
local function choose_slot(tree, tvb, a, b, bytes)
  local item = tree:add(proto, "Choice of the slot"):set_generated()
  local notes = {}
  for id, slot in pairs({ a = a, b = b }) do
    if slot.fault then
      notes[#notes + 1] = "slot-" .. id .. (slot.fault.code == "record-empty" and "-empty" or "-bad")
    end
  end
  table.sort(notes)
  local chosen, code
  if a.fault and b.fault then code = "slots-both-bad"
  elseif a.fault then chosen = "b"
  elseif b.fault then chosen = "a"
  else
    local distance = (a.raws.sequence - b.raws.sequence) % 0x10000
    local same = distance == 0 and same_bytes(tvb, a.at, b.at, bytes)
    if distance == 0x8000 or (distance == 0 and not same) then code = "slots-contradict"
    else chosen = distance < 0x8000 and "a" or "b" end
    if same then notes[#notes + 1] = "slots-identical"
    elseif not code and distance ~= 1 and distance ~= 0xffff then notes[#notes + 1] = "sequence-gap" end
  end
  for _, text in ipairs(notes) do note(item, text) end
  item:add(own.choice, code or "good"):set_generated()
  if code then item:add_proto_expert_info(experts[code]) end
  if not chosen then return nil end
  local frame = chosen == "a" and a or b
  item:add(own.chosen, chosen):set_generated()
  item:add(own.sequence, frame.raws.sequence):set_generated()
  return string.format("slot %s, sequence %d", chosen, frame.raws.sequence)
end

local function choose_copy(tree, one, two)
  local item = tree:add(proto, "Copies of the calibration block"):set_generated()
  local copy = not one.fault and 1 or not two.fault and 2 or nil
  item:add(own.copies, copy and "good" or "copies-both-bad"):set_generated()
  if copy then item:add(own.copy, copy):set_generated() else item:add_proto_expert_info(experts["copies-both-bad"]) end
end

-- Adds what lies between at and stop of tvb, the words of a bank from a word address on. Returns a phrase or nil.
local function add_memory(tree, tvb, at, stop, bank, word, both)
  local found = {}
  for _, region in ipairs(bank.regions) do
    local from = at + (region.word - word) * 2
    local to = math.min(from + region.words * 2, stop)
    if region.record and to > at and from < stop then
      local fault, raws, item = add_record(tree, tvb, from, at, to, RECORDS[region.record], region.title)
      item:add(own.region, region.id):set_generated()
      add_verdict(item, fault)
      found[region.id] = { at = from, fault = fault, raws = raws }
    end
  end
  local phrase
  local missing = { fault = { code = "record-too-short" } }
  local a, b = found[SLOTS[1]], found[SLOTS[2]]
  if a and (b or both) then phrase = choose_slot(tree, tvb, a, b or missing, RECORDS.frame.bytes) end
  if found[COPIES[1]] and found[COPIES[2]] then choose_copy(tree, found[COPIES[1]], found[COPIES[2]]) end
  return phrase
end

-- Messages ---------------------------------------------------------------------------------------------------------

-- What a request asked for by its id, and by the number of the packet that answers it.
local asked, answered = {}, {}
function proto.init() asked, answered = {}, {} end

local function message_of(code, direction)
  for _, message in ipairs(MESSAGES) do
    local fits = direction == P2P_DIR_UNKNOWN or (message.to_kit == (direction == P2P_DIR_SENT))
    if message.code == code and fits then return message end
  end
end

local function place_of(message, raws, request, pinfo)
  if raws.bank and raws.pointer then return { bank = raws.bank, word = raws.pointer } end
  if not pinfo.visited then answered[pinfo.number] = asked[request] end
  return not message.to_kit and answered[pinfo.number] or nil
end

function proto.dissector(tvb, pinfo, tree)
  pinfo.cols.protocol = "plyframe"
  local root = tree:add(proto, tvb())
  local envelope = RECORDS.envelope
  local fault, head = add_record(root, tvb, 0, 0, math.min(tvb:len(), envelope.bytes), envelope)
  if fault then return add_verdict(root, fault) end
  local message = message_of(head.type, pinfo.p2p_dir)
  if not message then
    root:add_proto_expert_info(experts["message-unknown"])
    return add_verdict(root, { code = "message-unknown", byte = 0, bit = 0, path = "envelope.type" })
  end
  root:add(own.message, message.id):set_generated()
  root:append_text(", " .. message.id)
  local record = RECORDS[message.record]
  local fault, raws, item, places = add_record(root, tvb, envelope.bytes, envelope.bytes, tvb:len(), record)
  add_verdict(root, fault, envelope.bytes)
  local says = message.id .. (head.request > 0 and string.format(" %d", head.request) or "")
  local epc, words = places.epc, places.words
  if epc then says = says .. ", tag " .. tostring(tvb(epc.at, epc.stop - epc.at):bytes()):lower() end
  if fault then
    pinfo.cols.info = says .. " [" .. fault.code .. "]"
    return
  end
  if record.id == "error" then
    local code
    for name, reason in pairs(REASONS) do if reason.number == raws.reason then code = name end end
    item:add(own.note, code or string.format("reason %d", raws.reason)):set_generated()
    says = says .. ", " .. (code or string.format("reason %d", raws.reason))
  end
  if message.to_kit and raws.bank and raws.pointer then asked[head.request] = { bank = raws.bank, word = raws.pointer } end
  local place = place_of(message, raws, head.request, pinfo)
  if words and place and BANKS[place.bank] then
    local bank = BANKS[place.bank]
    local count = (words.stop - words.at) / 2
    says = says .. string.format(", %d words of %s from %d", count, bank.id, place.word)
    local memory = root:add(tvb(words.at, words.stop - words.at), string.format("%s from word %d", bank.title, place.word))
    local phrase = add_memory(memory, tvb, words.at, words.stop, bank, place.word, false)
    if phrase then says = says .. ", " .. phrase end
  end
  pinfo.cols.info = says
end

-- A record alone, and the two slots alone, for bytes that came another way: names for a table of user link types.
local function alone(name, title, dissect)
  local one = Proto("plyframe-" .. name, title)
  function one.dissector(tvb, pinfo, tree)
    pinfo.cols.protocol = "plyframe"
    pinfo.cols.info = title
    dissect(tvb, tree:add(proto, tvb(), title))
  end
end

for id, record in pairs(RECORDS) do
  if record.in_memory then
    alone(id, record.title, function(tvb, root)
      local fault, _, item = add_record(root, tvb, 0, 0, tvb:len(), record)
      add_verdict(item, fault)
    end)
  end
end

alone("slots", "Slot A and slot B", function(tvb, root)
  local bank
  for _, candidate in pairs(BANKS) do if candidate.id == "user" then bank = candidate end end
  for _, region in ipairs(bank.regions) do
    if region.id == SLOTS[1] then add_memory(root, tvb, 0, tvb:len(), bank, region.word, true) end
  end
end)

DissectorTable.get("wtap_encap"):add(wtap.USER0, proto)
`;
