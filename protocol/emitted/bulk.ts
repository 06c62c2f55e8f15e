// Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit".

/** What every byte before the seal adds to it, by its position: the seal is their sum without carry. */
const table = /* @__PURE__ */ (() => {
  const table = new Uint16Array(14 * 256);
  for (let position = 13; position >= 0; position--) {
    for (let byte = 0; byte < 256; byte++) {
      let register = position === 13 ? byte << 8 : table[(position + 1) * 256 + byte]!;
      for (let bit = 0; bit < 8; bit++) {
        register = ((register << 1) ^ (register & 0x8000 ? 4129 : 0)) & 0xffff;
      }
      table[position * 256 + byte] = register;
    }
  }
  return table;
})();

function sealOf(a: number, b: number, c: number, d: number): number {
  return (
    47471 ^
    table[a >>> 24]! ^
    table[256 + ((a >>> 16) & 255)]! ^
    table[512 + ((a >>> 8) & 255)]! ^
    table[768 + (a & 255)]! ^
    table[1024 + (b >>> 24)]! ^
    table[1280 + ((b >>> 16) & 255)]! ^
    table[1536 + ((b >>> 8) & 255)]! ^
    table[1792 + (b & 255)]! ^
    table[2048 + (c >>> 24)]! ^
    table[2304 + ((c >>> 16) & 255)]! ^
    table[2560 + ((c >>> 8) & 255)]! ^
    table[2816 + (c & 255)]! ^
    table[3072 + (d >>> 24)]! ^
    table[3328 + ((d >>> 16) & 255)]!
  );
}

/** Verdict on the header in four big-endian words; `fingerprint-mismatch` for a whole one of another specification. */
export function judgeHeader(a: number, b: number, c: number, d: number): number {
  if ((a | b | c | d) === 0) return 1023; // record-empty
  if (sealOf(a, b, c, d) !== (d & 65535)) return 1032; // seal: checksum-mismatch
  if (((a >>> 20) & 15) !== 1) return 1281; // kind: kind-unexpected
  if (((a >>> 16) & 15) !== 1) return 1538; // layout: layout-unknown
  if ((a >>> 24) !== 0) return 1792; // dsfid: marker-mismatch
  if ((c >>> 16) < 10 || (c >>> 16) > 60000) return 2566; // sampling_period: value-out-of-range
  if ((((c << 16) | (d >>> 16)) >>> 0) < 1) return 2567; // sensor_serial: value-out-of-range
  if ((((a << 16) | (b >>> 16)) >>> 0) !== 42557863) return 2819; // fingerprint: fingerprint-mismatch
  return 0;
}

/** Verdict on the sensor frame in four big-endian words. */
export function judgeFrame(a: number, b: number, c: number, d: number): number {
  if ((a | b | c | d) === 0) return 1023; // record-empty
  if (sealOf(a, b, c, d) !== (d & 65535)) return 1033; // seal: checksum-mismatch
  if ((a >>> 28) !== 2) return 1280; // kind: kind-unexpected
  if (((a >>> 24) & 15) !== 1) return 1537; // layout: layout-unknown
  if ((b >>> 24) !== 0) return 2052; // reserved: reserved-bit-set
  if (((b & 16777215) < 3328000 || (b & 16777215) > 16128000) && (b & 16777215) !== 16777215) return 2565; // pressure: value-out-of-range
  if ((((c) >> 16) < -4000 || ((c) >> 16) > 12500) && ((c) >> 16) !== -32768) return 2566; // temperature: value-out-of-range
  return 0;
}

/** Verdict on the counters in four big-endian words. */
export function judgeCounters(a: number, b: number, c: number, d: number): number {
  if ((a | b | c | d) === 0) return 1023; // record-empty
  if (sealOf(a, b, c, d) !== (d & 65535)) return 1031; // seal: checksum-mismatch
  if ((a >>> 28) !== 3) return 1280; // kind: kind-unexpected
  if (((a >>> 24) & 15) !== 1) return 1537; // layout: layout-unknown
  return 0;
}

/** Columns of the frame, one element a frame, by the ids of the fields. */
export interface FrameFields {
  readonly [field: string]: Int32Array | Uint32Array;
  readonly status: Int32Array;
  readonly sequence: Int32Array;
  readonly pressure: Int32Array;
  readonly temperature: Int32Array;
  readonly supply: Int32Array;
  readonly uptime: Int32Array;
}

/** Sequence of a frame. */
export function sequenceOf(a: number): number {
  return (a & 65535);
}

/** Stores the raw values of a frame. */
export function storeFrame(to: FrameFields, row: number, a: number, b: number, c: number, d: number): void {
  to.status[row] = ((a >>> 16) & 255);
  to.sequence[row] = (a & 65535);
  to.pressure[row] = (b & 16777215);
  to.temperature[row] = ((c) >> 16);
  to.supply[row] = (((c << 16) | (d >>> 16)) >>> 20);
  to.uptime[row] = (((c << 16) | (d >>> 16)) & 1048575);
}
