import { describe, expect, it } from "vitest";
import { type Access, updateCalibration } from "../../../protocol/codec/calibration-update.ts";
import { layout } from "../../../protocol/index.ts";
import { recordOf } from "../../../protocol/model/layout.ts";
import { calibrationNew, calibrationOld } from "../../power-cut/images.ts";

const record = recordOf(layout, "calibration");
const COPY_1 = 40;
const COPY_2 = 56;
const torn = [0, ...calibrationOld.slice(1)];

/** Runs an update on a memory of 32 words; `fails` makes an access come to nothing. */
function run(
  copy1: readonly number[],
  copy2: readonly number[],
  fails: (access: Access, nth: number) => boolean = () => false,
) {
  const memory = [...copy1, ...copy2];
  const written: number[] = [];
  const accesses = updateCalibration(record, calibrationNew);
  let next = accesses.next();
  for (let nth = 0; !next.done; nth++) {
    const access = next.value;
    if (fails(access, nth)) next = accesses.next(null);
    else if (access.kind === "read") {
      next = accesses.next(memory.slice(access.word - COPY_1, access.word - COPY_1 + access.count));
    } else {
      expect(access.kind).toBe("write");
      memory[access.word - COPY_1] = access.value;
      written.push(access.word);
      next = accesses.next([]);
    }
  }
  return { done: next.value, written, copies: [memory.slice(0, 16), memory.slice(16)] };
}

/** Word 0, the data and the seal, word 1, word 0. */
const order = (copy: number) => [0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 1, 0].map((i) => copy + i);

describe("a calibration update", () => {
  it.each([
    ["two whole copies", calibrationOld, calibrationOld, [COPY_2, ...order(COPY_1), ...order(COPY_2)]],
    ["a torn first copy", torn, calibrationOld, [COPY_2, ...order(COPY_1), ...order(COPY_2)]],
    ["a torn second copy", calibrationOld, torn, [COPY_1, ...order(COPY_2), ...order(COPY_1)]],
    ["two torn copies", torn, torn, [...order(COPY_1), ...order(COPY_2)]],
    ["a first copy that is new already", calibrationNew, calibrationOld, [COPY_1, ...order(COPY_2)]],
    ["a first copy that is new beside a torn one", calibrationNew, torn, [COPY_1, ...order(COPY_2)]],
    ["a second copy that is new beside a torn one", torn, calibrationNew, [COPY_2, ...order(COPY_1)]],
    ["two copies that are new already", calibrationNew, calibrationNew, [COPY_1, COPY_2]],
  ])("of %s writes these words, in this order", (_, copy1, copy2, words) => {
    const { done, written, copies } = run(copy1, copy2);
    expect(done).toBe(true);
    expect(written).toEqual(words);
    expect(copies).toEqual([calibrationNew, calibrationNew]);
  });

  it("ends, and says so, at the first access that is not done", () => {
    const { written } = run(calibrationOld, calibrationOld);
    for (let failing = 0; failing < written.length + 3; failing++) {
      const { done, copies } = run(calibrationOld, calibrationOld, (_, nth) => nth === failing);
      expect(done).toBe(false);
      expect(
        copies.some((copy) => [calibrationOld, calibrationNew].some((block) => block.join() === copy.join())),
      ).toBe(true);
    }
  });

  it("does not go on to the second copy when the first does not read back as written", () => {
    let reads = 0;
    const memory = [...calibrationOld, ...calibrationOld];
    const accesses = updateCalibration(record, calibrationNew);
    const touched: number[] = [];
    for (let next = accesses.next(); ; ) {
      if (next.done) {
        expect(next.value).toBe(false);
        break;
      }
      const access = next.value;
      if (access.kind === "write") touched.push(access.word);
      next = accesses.next(access.kind === "read" ? (reads++ === 0 ? memory : [...calibrationNew.slice(1), 7]) : []);
    }
    expect(touched.filter((word) => word >= COPY_2)).toEqual([COPY_2]);
  });
});
