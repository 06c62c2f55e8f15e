/** What the kit's reader can be asked to do, and what it says of it. */
import type { Identity } from "../tag/memory.ts";
import type { Access, AccessResult } from "./singulated.ts";

/** One access on a tag, and the password it is done with. */
export interface PasswordedAccess {
  /** 0: none is given; the tag stays as secured as the access before left it. */
  readonly password: number;
  readonly access: Access;
}

/** One tag seen in one round. */
export interface Sighting {
  readonly timeUs: number;
  readonly identity: Identity;
  readonly rssiDbm: number;
  readonly frequencyKhz: number;
  /** One for each access. */
  readonly results: readonly AccessResult[];
}

export interface InventoryOrder {
  readonly periodUs: number;
  /** What is to be done on a tag just seen. */
  accesses(identity: Identity): readonly PasswordedAccess[];
  onSighting(sighting: Sighting): void;
}

export interface AccessOrder {
  readonly epc: readonly number[];
  readonly password: number;
  readonly access: Access;
  onDone(result: AccessResult, timeUs: number): void;
}
