/** Ends a tag for good: what can be known before, the confirmation, and what can be known afterwards. */
import type { Reader } from "../reader/reader.ts";
import { passwordWords, tried } from "../reader/tag-password.ts";
import { CommandError, EXIT } from "./exit.ts";
import type { ReaderPlace } from "./reader-place.ts";
import { say } from "./terminal.ts";
import { confirmed } from "./typed-confirmation.ts";
import { withReader } from "./with-reader.ts";

export interface KillOrder {
  readonly epc: string;
  /** 32 bits and not 0. */
  readonly killPassword: number;
  /** With it the tag's own kill password can be compared first; 0: not given. */
  readonly accessPassword: number;
  readonly dryRun: boolean;
}

/** Throws a CommandError for whatever does not end in a tag that said it is dead and is silent, or in a dry run. */
export async function killTag(place: ReaderPlace, order: KillOrder): Promise<void> {
  const { epc, killPassword, dryRun } = order;
  if (!dryRun) {
    await confirmed(`This ends tag ${epc} for good: it never answers again. Type its whole EPC to go on:`, epc);
  }
  await withReader(place, async (reader) => {
    await compare(reader, order);
    if (dryRun) return say("The tag was left alive (dry run).");
    const { result } = await reader.kill({ epc, password: killPassword });
    const alive = await answers(reader, epc);
    if (result === "done" && !alive) return say("The tag said that it is dead, and answers no more.");
    if (result === "done") throw failed(epc, "it said that it is dead, but it answers");
    if (alive) throw failed(epc, `it was not killed and still answers (${result})`);
    throw failed(epc, `it does not answer: it is dead, or out of the field (${result})`);
  });
}

async function compare(reader: Reader, { epc, killPassword, accessPassword }: KillOrder): Promise<void> {
  if (!(await answers(reader, epc))) throw failed(epc, "it does not answer; nothing was done");
  const place = { epc, bank: "reserved", word: 0, count: 2, password: accessPassword } as const;
  const { result, words } = await tried(() => reader.read(place));
  if (result !== "done") return say(`The tag's own kill password could not be compared (${result}).`);
  const own = words.join();
  if (own === passwordWords(0).join()) throw failed(epc, "its kill password is zero, so that it cannot be killed");
  if (own !== passwordWords(killPassword).join()) throw failed(epc, "its kill password is another; nothing was done");
  say("The kill password is the tag's own.");
}

async function answers(reader: Reader, epc: string): Promise<boolean> {
  return (await tried(() => reader.read({ epc, bank: "epc", word: 2, count: 1 }))).result === "done";
}

function failed(epc: string, what: string): CommandError {
  return new CommandError(EXIT.device, `tag ${epc}: ${what}`);
}
