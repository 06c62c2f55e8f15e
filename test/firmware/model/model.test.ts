import { describe, expect, it } from "vitest";
import { needs } from "../../support/outside.ts";
import { shapes, verify } from "./model.ts";

needs("spin", () =>
  needs("gcc", () =>
    describe("formal model of the commit", () => {
      for (const shape of shapes) {
        const says = shape.breaks === null ? "everything holds" : `${shape.breaks} is seen to break`;
        it(`${shape.name}: ${says}`, { timeout: 300_000 }, () => {
          const outcome = verify(shape);
          expect(outcome.broken).toBe(shape.breaks);
          if (shape.breaks === null) expect(outcome.complete).toBe(true);
          expect(outcome.states).toBeGreaterThan(50);
        });
      }
    }),
  ),
);
