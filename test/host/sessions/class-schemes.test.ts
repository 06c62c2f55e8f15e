/** Ranges of RAL-GZ 387, ENV 12718 and the British type as the facts of the schemes give them (secondary sources). */
import { describe, expect, it } from "vitest";
import { classTexts } from "../../../host/sessions/class-schemes.ts";

const [RAL, ENV, BRITISH] = [0, 1, 2] as const;

describe("a pressure beside the classes of hosiery", () => {
  it.each([
    [20, 0.3, RAL, "RAL-GZ 387: class I (18-21 mmHg)"],
    [22, 0.3, RAL, "RAL-GZ 387: between class I (18-21 mmHg) and class II (23-32 mmHg)"],
    [22.8, 0.3, RAL, "RAL-GZ 387: at the edge of class II (23-32 mmHg)"],
    [22, 1.2, RAL, "RAL-GZ 387: at the edge of class I (18-21 mmHg) or class II (23-32 mmHg)"],
    [31.9, 0.3, RAL, "RAL-GZ 387: at the edge of class II (23-32 mmHg)"],
    [47.5, 0.5, RAL, "RAL-GZ 387: between class III (34-46 mmHg) and class IV (49 mmHg and more)"],
    [70, 1, RAL, "RAL-GZ 387: class IV (49 mmHg and more)"],
    [10, 0.5, RAL, "RAL-GZ 387: below class I (18-21 mmHg)"],
    [12, 0.5, ENV, "ENV 12718: class A (10-14 mmHg)"],
    [12, 0.5, BRITISH, "British (BS 6612 type): below class I (14-17 mmHg)"],
    [40, 0.5, BRITISH, "British (BS 6612 type): above class III (25-35 mmHg)"],
  ])("%s ± %s mmHg", (mmhg, uncertainty, scheme, says) => {
    expect(classTexts(mmhg, uncertainty)[scheme]).toBe(says);
  });
});
