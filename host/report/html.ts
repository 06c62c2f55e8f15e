/** Pieces of HTML from text that is not trusted. */

const ENTITIES: { readonly [character: string]: string } = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}

/** A table; cells are plain text, the first column names its row. */
export function htmlTable(head: readonly string[], rows: readonly (readonly string[])[], className = ""): string {
  const cells = (tag: "th" | "td", row: readonly string[]) =>
    row.map((cell, i) =>
      i === 0 ? `<th scope="row">${escapeHtml(cell)}</th>` : `<${tag}>${escapeHtml(cell)}</${tag}>`,
    );
  const top = head.map((cell) => `<th scope="col">${escapeHtml(cell)}</th>`).join("");
  const body = rows.map((row) => `<tr>${cells("td", row).join("")}</tr>`).join("\n");
  return `<table class="${className}"><thead><tr>${top}</tr></thead><tbody>\n${body}\n</tbody></table>`;
}

export function htmlList(items: readonly string[]): string {
  return `<ul>${items.map((item) => `<li>${escapeHtml(item)}</li>`).join("\n")}</ul>`;
}
