/** Where a frame stands in front of a delimiter: checksums by zlib's crc32 in Python, stuffing and places by hand. */
import { describe, expect, it } from "vitest";
import { parseHex } from "../../../protocol/bytes/hex.ts";
import { earliestFrame } from "../../../protocol/link/rewind.ts";

const bytes = (hex: string) => parseHex(hex) as Uint8Array;
const ONE = "06 01 a5 05 df 1b"; // the body 01h
const NINE = "0e 313233343536373839 cbf43926"; // the CRC catalogue's check text
const CUT = "07 010110 fa2f92"; // the body 01h 01h 10h; the last octet of its checksum is the zero that the next code stands for

describe("earliestFrame", () => {
  it.each([
    ["a frame and nothing else", ONE, 0, 6, 0],
    ["a frame behind noise", `09 11 22 ${ONE}`, 0, 9, 3],
    ["a frame at the place where the search begins", `${ONE} ${ONE}`, 6, 12, 6],
    ["no frame that begins before that place", ONE, 1, 6, -1],
    ["no frame that ends before the delimiter", `${ONE} 09`, 0, 7, -1],
    ["a frame in front of bytes that are behind the delimiter", `${ONE} 09`, 0, 6, 0],
    ["a body that is a zero", "ff ff 01 05 d2 02 ef 8d", 0, 8, 2],
    ["a body with a zero inside", "09 02 11 06 22 37 c5 51 b1", 0, 9, 1],
    ["a frame whose checksum ends in zero", `${CUT}01`, 0, 8, 0],
    ["no frame whose last code runs past the delimiter", `${CUT}02`, 0, 8, -1],
    ["no frame whose codes lead to one that runs past it", `${"09".repeat(20)} ${CUT} 01 ff`, 20, 29, -1],
    ["nothing in noise", "03 11 22 02 33 01", 0, 6, -1],
    ["nothing in nothing", "", 0, 0, -1],
  ])("finds %s", (_, hex, from, to, place) => {
    expect(earliestFrame(bytes(hex), from, to, 1024)).toBe(place);
  });

  it("takes 254 bytes without a zero for one code, with no zero behind them", () => {
    const body = "07".repeat(254);
    expect(earliestFrame(bytes(`05 ff ${body} 05 e3 54 72 1d`), 0, 261, 1024)).toBe(1);
  });

  it("takes a body of 1 to so many bytes as are allowed", () => {
    expect(earliestFrame(bytes(NINE), 0, 14, 9)).toBe(0);
    expect(earliestFrame(bytes(NINE), 0, 14, 8)).toBe(-1);
    // The checksum of no bytes is 00000000h: four zeros, stuffed.
    expect(earliestFrame(bytes("01 01 01 01 01"), 0, 5, 1024)).toBe(-1);
  });
});
