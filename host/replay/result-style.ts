/** Style of a result page: light or dark as the reader has it, and plain on paper. */
export const RESULT_STYLE = `
:root { color-scheme: light dark; --ink: #20262b; --soft: #566069; --rule: #ccd3d9; --page: #fff; --good: #1c6b35; --wrong: #a02c20; --shade: #f2f4f6; --link: #0b5394; }
@media (prefers-color-scheme: dark) { :root { --ink: #e6e9ec; --soft: #a5afb8; --rule: #424b54; --page: #14181c; --good: #7fd49a; --wrong: #ff9d8f; --shade: #1d2329; --link: #8ec3ff; } }
* { box-sizing: border-box; }
html { font-size: 15px; }
body { margin: 0; color: var(--ink); background: var(--page); font: 1rem/1.5 system-ui, "Liberation Sans", "DejaVu Sans", sans-serif; }
main { max-width: 62rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }
h1 { font-size: 1.5rem; margin: 0 0 .25rem; }
h2 { font-size: 1.15rem; margin: 2rem 0 .5rem; padding-bottom: .2rem; border-bottom: 1px solid var(--rule); }
h3 { font-size: 1rem; margin: 1.4rem 0 .2rem; font-family: ui-monospace, "Liberation Mono", "DejaVu Sans Mono", monospace; }
h4 { font-size: .95rem; margin: 0; overflow-wrap: anywhere; }
p { margin: .3rem 0; } a { color: var(--link); }
.soft { color: var(--soft); font-size: .85rem; }
.verdict { font-size: 1.1rem; font-weight: 600; } .good { color: var(--good); } .wrong, .level { color: var(--wrong); }
.count { font: .8rem system-ui, sans-serif; color: var(--soft); }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .1rem .9rem; margin: .6rem 0; font-size: .9rem; }
dt { color: var(--soft); } dd { margin: 0; min-width: 0; overflow-wrap: anywhere; }
code { font: .85rem ui-monospace, "Liberation Mono", "DejaVu Sans Mono", monospace; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; font-size: .9rem; }
th, td { padding: .2rem .6rem .2rem 0; border-bottom: 1px solid var(--rule); text-align: right; } th:first-child { text-align: left; }
tbody th { font-weight: 400; } tbody tr:last-child > * { font-weight: 600; border-bottom: 0; }
article { background: var(--shade); border-radius: 4px; padding: .5rem .8rem; margin: .6rem 0; }
@media (max-width: 32rem) { table { font-size: .75rem; } th, td { padding-right: .3rem; } }
@media print {
  @page { size: A4; margin: 14mm; }
  :root { color-scheme: light; --ink: #000; --soft: #444; --rule: #bbb; --page: #fff; --good: #000; --wrong: #000; --shade: #fff; --link: #000; }
  html { font-size: 10px; } main { max-width: none; padding: 0; }
  article { border: 1px solid var(--rule); } article, tr { break-inside: avoid; } h2, h3, h4 { break-after: avoid; }
}
`;
