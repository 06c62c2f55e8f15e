/** Public entry of the specification side: the compiled layout and everything that reads or writes by it. */
import { layoutOf } from "./model/layout.ts";
import { specification } from "./spec/plyframe.ts";

/** The layout this package reads and writes. Whatever emits files from the specification checks it, so that no start has to. */
export const layout = layoutOf(specification);

export { formatHex, formatWords, type HexFault, parseHex } from "./bytes/hex.ts";
export {
  type Coefficients,
  calibratedAbsolute,
  calibratedGauge,
  divideRounded,
  GAUGE_LIMIT,
} from "./codec/compensate.ts";
export { checksumOf, type Decoder, makeDecoder, type Trace, type Verdict } from "./codec/decode.ts";
export { encode, isFault, type RawValues } from "./codec/encode.ts";
export { type ExplainedField, type Explanation, explain } from "./codec/explain.ts";
export { faultOf } from "./codec/fault.ts";
export { type IdentifiedHeader, identifyHeader } from "./codec/identify.ts";
export { namedRaws, namedValues } from "./codec/named.ts";
export { type DecodedRecord, decode, decoderOf, flagsOf, nameOf, physicalOf, rawOf } from "./codec/record.ts";
export { chooseSlot, compareSerial, type Slot, type SlotChoice, type SlotNote } from "./codec/slots.ts";
export { type RawsByRecord, type ValuesByRecord, words } from "./emitted/types.ts";
export { type EpcIdentity, parseEpc } from "./epc/identity.ts";
export { storedCrc } from "./epc/pc.ts";
export { encodeEpc } from "./epc/uri.ts";
export { Deframer, encodeFrame, type LinkCounts } from "./link/framing.ts";
export { decodeMessage, encodeMessage, type Message } from "./link/message.ts";
export { formatFingerprint } from "./model/canonical.ts";
export { type Change, type ChangeCode, changeRules } from "./model/change.ts";
export { compareLayouts } from "./model/compare.ts";
export {
  type CompiledField,
  type CompiledRecord,
  type CompiledTail,
  compile,
  fieldIndex,
  type Layout,
  recordOf,
} from "./model/layout.ts";
export { type Fault, type Reason, reasonByNumber, reasons, sentence } from "./model/reasons.ts";
export { toRaw, toValue } from "./model/scale.ts";
export type { BankSpec, MessageSpec, Region, Specification } from "./model/vocabulary.ts";
export { releasedLayouts } from "./spec/released.ts";
