import { describe, expect, it } from "vitest";
import { personalText } from "../../../host/sessions/pseudonym.ts";

describe("a subject id", () => {
  it.each(["S-017", "LEG-1", "p12", "0042", "A7F3", "study-3-arm-2", "5f1c9a7e-0d0b-4a51-9f61-2f3f0d6a11aa"])(
    "%s looks like a pseudonym",
    (id) => expect(personalText(id)).toBeNull(),
  );

  it.each([
    "Marie Mustermann",
    "Mustermann, M",
    "mustermann",
    "Mustermann",
    "J. Doe",
    "Łucja Wzór",
    "Doe John 3",
    "MUELLER, A12",
    "Ann",
  ])("%s looks like a name", (id) => expect(personalText(id)).toBe("looks like a name"));

  it.each(["1962-03-14", "14.03.1962", "03/14/1962", "S-19620314", "14031962", "14.3.62", "X 1962/03/14"])(
    "%s looks like a date of birth",
    (id) => expect(personalText(id)).toBe("looks like a date of birth"),
  );

  it("with a name and a year is named as such", () => {
    expect(personalText("mueller1962")).toBe("looks like a name with a year of birth");
  });
});
