import { describe, expect, it } from "vitest";
import { commandWords } from "../../../host/transport/command-words.ts";

describe("commandWords", () => {
  it.each([
    { text: "plyframe kit --seed 7", words: ["plyframe", "kit", "--seed", "7"] },
    { text: "  a \t b\n", words: ["a", "b"] },
    { text: "", words: [] },
    { text: `'two words' "and three more"`, words: ["two words", "and three more"] },
    { text: `"a \\"quoted\\" \\\\ word" 'a "b"'`, words: [`a "quoted" \\ word`, `a "b"`] },
    { text: `--name='my kit'"!"`, words: ["--name=my kit!"] },
    { text: `'' ""`, words: ["", ""] },
    { text: "C:\\kit\\kit.exe $HOME * ; |", words: ["C:\\kit\\kit.exe", "$HOME", "*", ";", "|"] },
    { text: `"a\\n"`, words: ["a\\n"] },
  ])("splits $text", ({ text, words }) => {
    expect(commandWords(text)).toEqual(words);
  });

  it.each([`'open`, `a "b`, `"ends in \\"`, `a'b" c`])("does not guess where %s should end", (text) => {
    expect(commandWords(text)).toBeNull();
  });
});
