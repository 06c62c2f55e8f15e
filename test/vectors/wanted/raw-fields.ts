/** Raw integers of the records in vectors, read from their bytes. */
import { readSlice } from "../../../protocol/bytes/container.ts";
import { layout } from "../../../protocol/index.ts";
import { type CompiledField, type CompiledRecord, recordOf } from "../../../protocol/model/layout.ts";
import { bytesOf } from "../../support/vectors.ts";
import { type AnyVector, type AnyVectorFile, vectorsOfKind } from "./vector-set.ts";

/** A record in a vector; `bytes` begin at its first byte. */
export interface RecordSeen {
  readonly record: CompiledRecord;
  readonly bytes: Uint8Array;
  /** The same without the fault; empty for good vectors. */
  readonly repaired: Uint8Array;
  readonly vector: AnyVector;
}

const ENVELOPE_BYTES = recordOf(layout, "envelope").bytes;

/** Each vector is looked at by several groups, and its bytes are the same for all of them. */
const seen = new WeakMap<AnyVector, RecordSeen | null>();

function seenOnce(vector: AnyVector, see: (vector: AnyVector) => RecordSeen | null): RecordSeen[] {
  if (!seen.has(vector)) seen.set(vector, see(vector));
  const record = seen.get(vector);
  return record ? [record] : [];
}

/** The record of the memory that each vector is about. */
export function memoryRecords(files: readonly AnyVectorFile[]): RecordSeen[] {
  return vectorsOfKind(files, "record", "stored-crc").flatMap((vector) => seenOnce(vector, memoryRecord));
}

function memoryRecord(vector: AnyVector): RecordSeen | null {
  if (vector.hex === undefined) return null;
  return {
    record: recordOf(layout, (vector.record as string | undefined) ?? "epc"),
    bytes: bytesOf(vector.hex as string),
    repaired: bytesOf((vector.repaired as string | undefined) ?? ""),
    vector,
  };
}

/** The payload of each link message whose type the vector's sender may send. */
export function payloads(files: readonly AnyVectorFile[]): RecordSeen[] {
  return vectorsOfKind(files, "link-messages").flatMap((vector) => seenOnce(vector, payload));
}

function payload(vector: AnyVector): RecordSeen | null {
  const body = bytesOf(vector.body as string);
  const message = layout.messages.find(
    ({ code, direction }) => code === body[0] && direction === vector.direction && body.length >= ENVELOPE_BYTES,
  );
  if (!message) return null;
  return {
    record: recordOf(layout, message.record),
    bytes: body.subarray(ENVELOPE_BYTES),
    repaired: bytesOf((vector.repaired as string | undefined) ?? "").subarray(ENVELOPE_BYTES),
    vector,
  };
}

/** Raw integer of a field that arrived; undefined when its container did not. */
export function rawIn(bytes: Uint8Array, field: CompiledField): number | undefined {
  return field.byte + field.bytes <= bytes.length ? readSlice(bytes, 0, field) : undefined;
}
