/** What `decode --frames` found, for people and for programs. */
import type { Reason } from "../../protocol/index.ts";
import type { Account, Refusals } from "../bulk/account.ts";

/** Lines that add up: every line and every read is in exactly one count of each. */
export function accountLines(account: Account): string[] {
  const { lines, unread, unreadable } = account;
  const bad = sum(unreadable.values());
  const failed = [...unread].map(([reason, { count }]) => `${count} ${reason}`);
  return [
    `${lines.lines} lines: ${lines.headers} header, ${lines.read} read, ${lines.ambient} ambient, ${lines.blank} blank, ${bad} unreadable.`,
    `${lines.read} reads: ${account.frames} good frames, ${account.bursts} bursts, ${account.sighted + account.other} without a frame, ${failed.length > 0 ? failed.join(", ") : "none failed"}.`,
    `${account.fellBack} lines did not fit the learned order of members and were read one by one.`,
    ...reasonTable([...unreadable], "unreadable line"),
    ...reasonTable([...unread], "read"),
  ];
}

function reasonTable(refusals: readonly (readonly [Reason, Refusals])[], what: string): string[] {
  return refusals.map(([reason, { count, lines }]) => {
    const more = count > lines.length ? ", …" : "";
    return `  ${what}, ${reason}: ${count} (line${count > 1 ? "s" : ""} ${lines.join(", ")}${more})`;
  });
}

/** The same as one object. */
export function accountJson(account: Account): object {
  const { lines } = account;
  return {
    record: "account",
    bytes: lines.bytes,
    lines: lines.lines,
    headers: lines.headers,
    reads: lines.read,
    ambient: lines.ambient,
    blank: lines.blank,
    fell_back: account.fellBack,
    good_frames: account.frames,
    bursts: account.bursts,
    without_frame: account.sighted + account.other,
    rejected: account.rejected,
    unreadable_lines: byReason(account.unreadable),
    unread: byReason(account.unread),
  };
}

function byReason(refusals: ReadonlyMap<Reason, Refusals>): object {
  return Object.fromEntries([...refusals].map(([reason, { count, lines }]) => [reason, { count, first_lines: lines }]));
}

function sum(refusals: Iterable<Refusals>): number {
  let total = 0;
  for (const { count } of refusals) total += count;
  return total;
}
