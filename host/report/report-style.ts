/** Style of a report: a page on the screen, light or dark, and two sheets of A4 on paper. */
export const REPORT_STYLE = `
:root { color-scheme: light dark; --ink: #1c2126; --soft: #5a646e; --rule: #c9d0d6; --page: #ffffff; --warn: #9a4a00; --warnpage: #fff4e6; --shade: #f3f5f7; }
@media (prefers-color-scheme: dark) { :root { --ink: #e7eaed; --soft: #a3adb7; --rule: #434c55; --page: #15191d; --warn: #ffb871; --warnpage: #33240f; --shade: #1f252b; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 22px; max-width: 820px; color: var(--ink); background: var(--page); font: 13px/1.42 "Helvetica Neue", Helvetica, Arial, "Liberation Sans", "DejaVu Sans", sans-serif; }
h1 { font-size: 21px; margin: 0 0 2px; }
h2 { font-size: 14px; margin: 15px 0 4px; border-bottom: 1px solid var(--rule); padding-bottom: 2px; }
p { margin: 4px 0; }
.soft, figcaption { color: var(--soft); font-size: 11px; }
.invented { display: inline-block; border: 1px solid var(--warn); color: var(--warn); border-radius: 3px; padding: 0 6px; font-size: 11px; font-weight: 600; letter-spacing: .02em; }
.caution { border-left: 3px solid var(--warn); background: var(--warnpage); padding: 5px 10px; margin: 9px 0; font-size: 11.5px; }
.caution p { margin: 2px 0; }
dl { display: grid; grid-template-columns: max-content 1fr max-content 1fr; gap: 1px 12px; margin: 8px 0; font-size: 12px; }
dt { color: var(--soft); } dd { margin: 0; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; font-size: 11.5px; font-variant-numeric: tabular-nums; }
th, td { text-align: left; padding: 2px 7px 2px 0; border-bottom: 1px solid var(--rule); vertical-align: top; }
thead th { color: var(--soft); font-weight: 500; }
figure { margin: 6px 0; } svg { display: block; width: 100%; height: auto; }
ul { margin: 4px 0; padding-left: 17px; font-size: 11.5px; } li { margin: 1px 0; overflow-wrap: anywhere; }
.small, .small li { font-size: 10.5px; color: var(--soft); }
.columns { columns: 2; column-gap: 20px; }
@media print {
  @page { size: A4; margin: 12mm 13mm; }
  :root { color-scheme: light; --ink: #000; --soft: #4a525a; --rule: #b9c0c6; --page: #fff; --warn: #7a3a00; --warnpage: #fff; --shade: #fff; }
  body { padding: 0; max-width: none; font-size: 11px; }
  .caution { border: 1px solid var(--warn); border-left-width: 3px; font-size: 10px; }
  h2 { margin-top: 9px; font-size: 12.5px; } dl, table, ul { font-size: 10px; } .small, .small li, figcaption { font-size: 8.6px; line-height: 1.3; }
  .columns { columns: 2; column-gap: 16px; } .columns li { break-inside: avoid; }
  .second { break-before: page; }
  figure, table, .caution { break-inside: avoid; } h2 { break-after: avoid; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`;
