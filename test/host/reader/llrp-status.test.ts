/** A status other than success is an error that says which request was refused, and what the reader said. */
import { expect, it } from "vitest";
import { LlrpRequests } from "../../../host/reader/llrp-requests.ts";
import { decodeLlrp } from "../../../protocol/llrp/decode.ts";
import { ManualClock } from "../../support/manual-clock.ts";
import { bytesOf } from "../../support/vectors.ts";

/** Packed by hand from the standard's tables: version 1, message id 1, LLRPStatus 100 (a parameter's error). */
const PARAMETER_ERROR = "011f000800640000";
const ANSWERS = {
  "an answer": `0422000000120000000${1}${PARAMETER_ERROR}`,
  "an ERROR_MESSAGE": `0464000000120000000${1}${PARAMETER_ERROR}`,
};

it.each(Object.entries(ANSWERS))("in %s", async (_, wire) => {
  const requests = new LlrpRequests(new ManualClock(), 1000, () => undefined);
  const asked = requests.ask({ name: "ENABLE_ROSPEC", values: { ROSpecID: 1 }, parameters: [] });
  const message = decodeLlrp(bytesOf(wire));
  if ("code" in message) expect.fail(JSON.stringify(message));
  expect(requests.answer(message)).toBe(true);
  await expect(asked).rejects.toMatchObject({
    message: expect.stringMatching(/^the reader refused ENABLE_ROSPEC: /),
    fault: { code: "llrp-status", path: "ENABLE_ROSPEC" },
  });
});
